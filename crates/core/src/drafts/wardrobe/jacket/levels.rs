//! Where the levels of the body lie on the pieces, and which tapes they keep.

use super::{Shape, flipped, front_levels};
use crate::drafts::wardrobe::arm::{sleeve_levels, sleeve_tape_lines};
use crate::drafts::wardrobe::needle::at;
use crate::drafts::wardrobe::places::At;
use crate::drafts::wardrobe::table::Table;
use crate::drafts::{DraftMeasures, DraftPiece};
use crate::measure::{Level, Measure};
use crate::tape::Hold;
use crate::units::Mm;

pub(super) fn levels(
    table: &mut Table,
    front: &DraftPiece,
    back: &DraftPiece,
    shape: &Shape,
    m: &DraftMeasures,
) {
    let (bust, _) = front_levels(front, shape);
    let (width, shoulder) = (at(front, "g"), at(front, "9s"));
    let t = table;
    t.level(
        "front",
        Level::ShoulderPoint,
        At::Corner("shoulder", "armscye"),
        At::Height("neckline", shoulder.y),
    );
    t.level(
        "front",
        Level::Across,
        At::Near("armscye", flipped(width)),
        At::Height("front edge", width.y),
    );
    t.level(
        "front",
        Level::Bust,
        At::Corner("armscye", "side seam"),
        At::Height("front edge", bust),
    );
    t.level(
        "front",
        Level::Waist,
        At::Corner("waist side", "side seam"),
        At::Corner("waist centre", "front edge"),
    );
    let (width, shoulder) = (at(back, "G"), at(back, "I"));
    let armpit = -shape.back_length + shape.underarm;
    t.level(
        "back",
        Level::Nape,
        At::Corner("centre back", "neckline"),
        At::Height("shoulder", 0.0),
    );
    t.level(
        "back",
        Level::ShoulderPoint,
        At::Height("centre back", shoulder.y),
        At::Corner("shoulder", "armscye"),
    );
    t.level(
        "back",
        Level::Across,
        At::Height("centre back", width.y),
        At::Near("armscye", width),
    );
    t.level(
        "back",
        Level::Bust,
        At::Height("centre back", armpit),
        At::Corner("armscye", "side seam"),
    );
    t.level(
        "back",
        Level::Waist,
        At::Corner("centre back", "waist"),
        At::Corner("side seam", "waist"),
    );
    sleeve_levels(t, m);
}

pub(super) fn tape_lines(t: &mut Table, front: &DraftPiece, back: &DraftPiece, shape: &Shape) {
    let (bust, _) = front_levels(front, shape);
    let armpit = -shape.back_length + shape.underarm;
    let overlap = Mm(2.0 * shape.overlap);
    let parts = vec![
        t.across(
            "front",
            At::Corner("armscye", "side seam"),
            At::Height("front edge", bust),
        ),
        t.across(
            "back",
            At::Height("centre back", armpit),
            At::Corner("armscye", "side seam"),
        ),
    ];
    t.girth("bust", Measure::BustGirth, parts);
    t.last_tape(|tape| (tape.overlap, tape.hold) = (overlap, Hold::Fitted));
    let parts = vec![
        t.along("front", "waist side"),
        t.along("front", "waist centre"),
        t.along("back", "waist"),
    ];
    t.girth("waist", Measure::WaistGirth, parts);
    t.last_tape(|tape| (tape.overlap, tape.hold) = (overlap, Hold::Fitted));
    let parts = vec![t.along("front", "neckline"), t.along("back", "neckline")];
    t.girth("neckline", Measure::NeckBaseGirth, parts);
    let parts = vec![t.along("front", "shoulder")];
    t.measure("shoulder", Measure::ShoulderLength, parts);
    let parts = vec![t.across(
        "front",
        At::Corner("neckline", "neck extension"),
        At::Near("armscye", flipped(at(front, "g"))),
    )];
    t.measure("across front", Measure::AcrossFront, parts);
    t.last_tape(|tape| tape.share = 0.5);
    let width = at(back, "G");
    let parts = vec![t.across(
        "back",
        At::Height("centre back", width.y),
        At::Near("armscye", width),
    )];
    t.measure("across back", Measure::AcrossBack, parts);
    t.last_tape(|tape| tape.share = 0.5);
    let parts = vec![t.upright(
        "back",
        At::Corner("centre back", "neckline"),
        At::Corner("armscye", "side seam"),
    )];
    t.measure("armscye depth", Measure::ArmscyeDepth, parts);
    let parts = vec![t.upright(
        "front",
        At::Corner("neckline", "neck extension"),
        At::Corner("waist centre", "front edge"),
    )];
    t.measure("centre front", Measure::FrontWaistLength, parts);
    let parts = vec![t.along("back", "centre back")];
    t.measure("centre back", Measure::BackWaistLength, parts);
    sleeve_tape_lines(t);
    let parts = vec![t.along("sleeve", "hem")];
    t.girth("wrist", Measure::WristGirth, parts);
    t.last_tape(|tape| tape.hold = Hold::Fitted);
}
