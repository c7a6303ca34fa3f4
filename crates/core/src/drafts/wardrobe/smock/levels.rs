//! Where the levels of the body lie on the pieces, and which tapes they keep.

use crate::drafts::wardrobe::arm::{sleeve_levels, sleeve_tape_lines};
use crate::drafts::wardrobe::needle::at;
use crate::drafts::wardrobe::places::At;
use crate::drafts::wardrobe::table::Table;
use crate::drafts::{DraftMeasures, DraftPiece};
use crate::measure::{Level, Measure};
use crate::tape::Hold;

pub(super) fn levels(t: &mut Table, front: &DraftPiece, back: &DraftPiece, m: &DraftMeasures) {
    for (yoke, body, centre, draft) in [
        ("front yoke", "front body", "centre front", front),
        ("back yoke", "back body", "centre back", back),
    ] {
        // The waist lies the underarm length below the armpit.
        let armpit = at(draft, "L").y;
        let waist = armpit - m.underarm_length;
        if centre == "centre back" {
            t.level(
                yoke,
                Level::Nape,
                At::Corner(centre, "neckline"),
                At::Height("shoulder", 0.0),
            );
            t.level(
                yoke,
                Level::ShoulderPoint,
                At::Height(centre, at(draft, "I").y),
                At::Corner("shoulder", "armscye"),
            );
        } else {
            t.level(
                yoke,
                Level::ShoulderPoint,
                At::Height("neckline", at(draft, "I").y),
                At::Corner("shoulder", "armscye"),
            );
        }
        t.level(
            yoke,
            Level::Across,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        );
        t.level(
            body,
            Level::Across,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        );
        t.level(
            body,
            Level::Bust,
            At::Height(centre, armpit),
            At::Corner("armscye", "side seam"),
        );
        t.level(
            body,
            Level::Waist,
            At::Height(centre, waist),
            At::Height("side seam", waist),
        );
    }
    sleeve_levels(t, m);
}

pub(super) fn tape_lines(t: &mut Table, front: &DraftPiece, back: &DraftPiece) {
    let parts = vec![
        t.across(
            "front body",
            At::Height("centre front", at(front, "L").y),
            At::Corner("armscye", "side seam"),
        ),
        t.across(
            "back body",
            At::Height("centre back", at(back, "L").y),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.girth("bust", Measure::BustGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    let parts = vec![
        t.along("front yoke", "neckline"),
        t.along("back yoke", "neckline"),
    ];
    t.girth("neckline", Measure::NeckBaseGirth, parts);
    let parts = vec![t.along("back yoke", "shoulder")];
    t.measure("shoulder", Measure::ShoulderLength, parts);
    for (name, piece, centre, measure) in [
        (
            "across front",
            "front yoke",
            "centre front",
            Measure::AcrossFront,
        ),
        (
            "across back",
            "back yoke",
            "centre back",
            Measure::AcrossBack,
        ),
    ] {
        let parts = vec![t.across(
            piece,
            At::Corner(centre, "yoke seam"),
            At::Corner("armscye", "yoke seam"),
        )];
        t.measure(name, measure, parts);
        t.last_tape(|tape| tape.share = 0.5);
    }
    let parts = vec![
        t.along("back yoke", "centre back"),
        t.upright(
            "back body",
            At::Corner("centre back", "yoke seam"),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.measure("armscye depth", Measure::ArmscyeDepth, parts);
    let parts = vec![
        t.along("back yoke", "centre back"),
        t.along("back body", "centre back"),
    ];
    t.measure("length at the back", Measure::BackWaistLength, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
    sleeve_tape_lines(t);
    let parts = vec![t.along("cuff", "sleeve edge")];
    t.girth("cuff", Measure::HandGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
}
