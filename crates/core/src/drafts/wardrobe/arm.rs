//! Levels and tape lines of a sleeve whose edges are called cap, underarm and hem, front and back.

use super::places::At;
use super::table::Table;
use crate::drafts::DraftMeasures;
use crate::measure::{Level, Measure};
use crate::tape::Hold;

/// Cap top, underarm, elbow and wrist of the piece "sleeve"; the elbow by its share of the inside arm length.
pub(super) fn sleeve_levels(t: &mut Table, m: &DraftMeasures) {
    t.level(
        "sleeve",
        Level::CapTop,
        At::Corner("cap back", "cap front"),
        At::Corner("cap front", "cap back"),
    );
    t.level(
        "sleeve",
        Level::Underarm,
        At::Corner("underarm back", "cap back"),
        At::Corner("underarm front", "cap front"),
    );
    let elbow = m.inside_elbow / m.inside_wrist;
    let y = t.height_on("sleeve", "underarm front", "cap front", elbow);
    t.level(
        "sleeve",
        Level::Elbow,
        At::Height("underarm back", y),
        At::Height("underarm front", y),
    );
    t.level(
        "sleeve",
        Level::Wrist,
        At::Corner("hem", "underarm back"),
        At::Corner("hem", "underarm front"),
    );
}

/// Inside length and upper arm girth of the piece "sleeve".
pub(super) fn sleeve_tape_lines(t: &mut Table) {
    let parts = vec![t.along("sleeve", "underarm front")];
    t.measure("sleeve, inside", Measure::InsideArmLength, parts);
    let parts = vec![t.across(
        "sleeve",
        At::Corner("underarm back", "cap back"),
        At::Corner("underarm front", "cap front"),
    )];
    t.girth("upper arm", Measure::UpperArmGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
}
