//! The bodices and the flat sleeve, each with the tape lines its rule uses.

use std::sync::Arc;

use kurbo::Point;

use super::pieces::{along, at, garment, length, pair, part, piece, seam, whole};
use crate::drafts::{
    BOOK_BUST, Constants, Draft, DraftError, DraftMeasures, fitted_bodice, flat_sleeve,
    loose_bodice,
};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Dart, DartPress, Frame, Piece};
use crate::seams::{Relation, Seam};
use crate::tape::{Hold, TapeLine, TapePart, TapePath};
use crate::units::MM_PER_INCH;

pub(super) fn loose(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = loose_bodice(m, Constants::InProportion)?;
    let pieces = bodice_pieces(&draft);
    let tapes = loose_tapes(&pieces);
    Ok(garment("loose bodice", m, pieces, bodice_seams(), tapes))
}

pub(super) fn loose_with_sleeve(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let mut made = loose(m)?;
    let draft = flat_sleeve(m, Constants::InProportion)?;
    let sleeve = piece(
        &draft,
        "sleeve",
        Frame::Arm,
        pair(),
        &[
            (Level::CapTop, at("cap front", 1.0), at("cap back", 0.0)),
            (
                Level::Underarm,
                at("underarm front", 1.0),
                at("underarm back", 0.0),
            ),
            (Level::Wrist, at("hem front", 1.0), at("hem back", 0.0)),
        ],
    );
    made.pieces.extend(sleeve.map(Arc::new));
    // The rule takes the width from the upper arm or from the armscye, whichever is more: the upper arm on all bodies here.
    made.tape_lines.push(length(
        "upper arm",
        Measure::UpperArmGirth,
        1.0,
        vec![part(
            "sleeve",
            TapePath::Across(at("underarm back", 0.0), at("underarm front", 1.0)),
        )],
    ));
    made.tape_lines.push(length(
        "inside arm length",
        Measure::InsideArmLength,
        1.0,
        vec![along("sleeve", "underarm front")],
    ));
    made.tape_lines.push(length(
        "hand girth",
        Measure::HandGirth,
        1.0,
        vec![along("sleeve", "hem front"), along("sleeve", "hem back")],
    ));
    made.seams.push(seam(
        "underarm",
        &[("sleeve", ("underarm front", 1.0, 0.0))],
        &[("sleeve", ("underarm back", 0.0, 1.0))],
        Relation::Equal,
    ));
    made.seams.push(seam(
        "cap",
        &[
            ("sleeve", ("cap front", 0.0, 1.0)),
            ("sleeve", ("cap back", 0.0, 1.0)),
        ],
        &[
            ("front", ("armscye", 0.0, 1.0)),
            ("back", ("armscye", 0.0, 1.0)),
        ],
        Relation::Equal,
    ));
    Ok(made)
}

pub(super) fn fitted(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = fitted_bodice(m, Constants::InProportion)?;
    let mut pieces = bodice_pieces(&draft);
    for piece in pieces.iter_mut().filter(|p| p.name == "front") {
        let (a, b) = if piece.outline.index_of("dart leg side")
            < piece.outline.index_of("dart leg centre")
        {
            ("dart leg side", "dart leg centre")
        } else {
            ("dart leg centre", "dart leg side")
        };
        piece.darts = vec![Dart {
            name: "waist dart".to_owned(),
            leg_in: a.to_owned(),
            leg_out: b.to_owned(),
            pressed: DartPress::Before,
        }];
    }
    let tapes = fitted_tapes(&pieces);
    Ok(garment("fitted bodice", m, pieces, bodice_seams(), tapes))
}

/// Front and back of a bodice with their body lines.
fn bodice_pieces(draft: &Draft) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for (name, centre) in [("back", "centre back"), ("front", "centre front")] {
        let Some(outline) = draft.outline(name) else {
            continue;
        };
        let Some(side) = outline.edge("side seam").map(|e| e.line.clone()) else {
            continue;
        };
        let armpit = if side.start().y > side.end().y {
            (at("side seam", 0.0), side.start().y)
        } else {
            (at("side seam", 1.0), side.end().y)
        };
        let waist = if side.start().y > side.end().y {
            at("side seam", 1.0)
        } else {
            at("side seam", 0.0)
        };
        let level = |y: f64| on_edge_at(outline, centre, y);
        let top = outline
            .edge(centre)
            .map_or(0.0, |e| e.line.start().y.max(e.line.end().y));
        let across = draft
            .pieces
            .iter()
            .find(|p| p.name == name)
            .and_then(|p| p.point("G").or_else(|| p.point("g")))
            .unwrap_or_default();
        let bottom = outline.edge(centre).map_or(0.0, |e| {
            if e.line.start().y < e.line.end().y {
                0.0
            } else {
                1.0
            }
        });
        let mut lines = vec![
            (
                Level::Across,
                level(across.y),
                on_curve_near(outline, "armscye", across),
            ),
            (Level::Bust, level(armpit.1), armpit.0),
            (Level::Waist, at(centre, bottom), waist),
        ];
        if name == "back" {
            lines.insert(0, (Level::Nape, level(top), level(top)));
        }
        pieces.extend(
            piece(draft, name, Frame::Torso, whole(), &lines).and_then(|p| on_fold(p, centre)),
        );
    }
    pieces
}

fn bodice_seams() -> Vec<Seam> {
    vec![
        seam(
            "shoulder",
            &[("front", ("shoulder", 0.0, 1.0))],
            &[("back", ("shoulder", 0.0, 1.0))],
            Relation::Equal,
        ),
        seam(
            "side",
            &[("front", ("side seam", 0.0, 1.0))],
            &[("back", ("side seam", 0.0, 1.0))],
            Relation::Equal,
        ),
    ]
}

/// Demands of the loose bodice's rules.
fn loose_tapes(pieces: &[Piece]) -> Vec<TapeLine> {
    let mut tapes = shared_tapes(pieces);
    let across =
        |piece: &str, edge: &str| part(piece, TapePath::Across(at(edge, 0.0), at(edge, 1.0)));
    let neck = Measure::NeckBaseGirth;
    tapes.push(length(
        "back neck width",
        neck,
        1.0 / 6.0,
        vec![across("back", "neckline")],
    ));
    tapes.push(length(
        "front neck width",
        neck,
        1.0 / 6.0,
        vec![across("front", "neckline")],
    ));
    tapes.push(length(
        "front neck depth",
        neck,
        1.0 / 6.0,
        vec![part(
            "front",
            TapePath::Upright(at("neckline", 0.0), at("neckline", 1.0)),
        )],
    ));
    tapes.push(length(
        "back waist",
        Measure::WaistGirth,
        0.25,
        vec![across("back", "waist")],
    ));
    // The rule sets the shoulder point above the width line: by a sixth of the neck behind, of the back length in front.
    tapes.push(length(
        "back shoulder height",
        neck,
        1.0 / 6.0,
        rise(pieces, "back"),
    ));
    tapes.push(length(
        "front shoulder height",
        Measure::BackWaistLength,
        1.0 / 6.0,
        rise(pieces, "front"),
    ));
    tapes.push(length(
        "back shoulder point",
        Measure::AcrossBack,
        0.5,
        vec![part(
            "back",
            TapePath::Across(at("centre back", 1.0), at("shoulder", 0.0)),
        )],
    ));
    tapes.push(length(
        "front armscye depth",
        Measure::ArmscyeDepth,
        1.0,
        vec![part(
            "front",
            TapePath::Upright(at("neckline", 0.0), at("side seam", 1.0)),
        )],
    ));
    // The front hangs from the chest: its waist is drawn from the bust alone.
    tapes.push(TapeLine {
        hold: Hold::Hanging,
        ..length(
            "front waist",
            Measure::WaistGirth,
            0.25,
            vec![across("front", "waist")],
        )
    });
    tapes
}

/// Demands of the fitted bodice's rules.
fn fitted_tapes(pieces: &[Piece]) -> Vec<TapeLine> {
    let mut tapes = shared_tapes(pieces);
    tapes.retain(|tape| tape.name != "centre front");
    let chest = tapes.iter().find(|tape| tape.name == "bust").map(|tape| {
        tape.parts
            .iter()
            .filter(|p| p.piece == "back")
            .cloned()
            .collect()
    });
    tapes.push(length(
        "back chest",
        Measure::AcrossBack,
        0.5,
        chest.unwrap_or_default(),
    ));
    // What the rule takes as inches in proportion follows the bust: 2 1/2 in of 36 in.
    let inches = |n: f64| n * MM_PER_INCH / BOOK_BUST;
    tapes.push(length(
        "neck width",
        Measure::BustGirth,
        inches(2.5),
        vec![part(
            "front",
            TapePath::Across(at("neckline", 0.0), at("neckline", 1.0)),
        )],
    ));
    tapes.push(length(
        "neck depth",
        Measure::NeckBaseGirth,
        0.2,
        vec![part(
            "front",
            TapePath::Upright(at("neckline", 0.0), at("neckline", 1.0)),
        )],
    ));
    tapes.push(length(
        "centre front",
        Measure::FrontWaistLength,
        1.0,
        vec![part(
            "front",
            TapePath::Upright(at("centre front", 0.0), at("centre front", 1.0)),
        )],
    ));
    tapes.push(length(
        "centre front lean",
        Measure::BustGirth,
        inches(0.75),
        vec![part(
            "front",
            TapePath::Across(at("centre front", 0.0), at("centre front", 1.0)),
        )],
    ));
    tapes.push(length(
        "dart place",
        Measure::BustGirth,
        inches(2.5),
        vec![along("front", "waist centre")],
    ));
    tapes.push(length(
        "dart height",
        Measure::UnderarmLength,
        0.75,
        vec![part(
            "front",
            TapePath::Upright(at("waist centre", 0.0), at("dart leg centre", 1.0)),
        )],
    ));
    tapes.push(length(
        "back shoulder height",
        Measure::NeckBaseGirth,
        1.0 / 6.0,
        rise(pieces, "back"),
    ));
    tapes.push(length(
        "back neck width",
        Measure::NeckBaseGirth,
        1.0 / 6.0,
        vec![part(
            "back",
            TapePath::Across(at("neckline", 0.0), at("neckline", 1.0)),
        )],
    ));
    tapes.push(length(
        "shoulder length",
        Measure::ShoulderLength,
        1.0,
        vec![along("front", "shoulder")],
    ));
    tapes.push(length(
        "front waist",
        Measure::WaistGirth,
        0.25,
        vec![along("front", "waist side"), along("front", "waist centre")],
    ));
    // The rule makes the back waist no wider than the back's chest: there it follows the width of back.
    tapes.push(length(
        "back waist",
        Measure::AcrossBack,
        0.5,
        vec![along("back", "waist")],
    ));
    tapes
}

/// Demands both bodices share.
fn shared_tapes(pieces: &[Piece]) -> Vec<TapeLine> {
    let line = |name: &str, level: Level| {
        let found = pieces
            .iter()
            .find(|p| p.name == name)
            .and_then(|p| p.body_lines.iter().find(|l| l.level == level));
        found.map(|l| part(name, TapePath::Across(l.from.clone(), l.to.clone())))
    };
    let both = |level| {
        [line("back", level), line("front", level)]
            .into_iter()
            .flatten()
            .collect()
    };
    vec![
        length("bust", Measure::BustGirth, 0.5, both(Level::Bust)),
        length(
            "across back",
            Measure::AcrossBack,
            0.5,
            line("back", Level::Across).into_iter().collect(),
        ),
        length(
            "across front",
            Measure::AcrossFront,
            0.5,
            line("front", Level::Across).into_iter().collect(),
        ),
        length(
            "centre back",
            Measure::BackWaistLength,
            1.0,
            vec![along("back", "centre back")],
        ),
        length(
            "centre front",
            Measure::FrontWaistLength,
            1.0,
            vec![along("front", "centre front")],
        ),
        length(
            "underarm length",
            Measure::UnderarmLength,
            1.0,
            vec![along("front", "side seam")],
        ),
    ]
}

/// From the width line up to the shoulder point.
fn rise(pieces: &[Piece], name: &str) -> Vec<TapePart> {
    let across = pieces
        .iter()
        .find(|p| p.name == name)
        .and_then(|p| p.body_lines.iter().find(|l| l.level == Level::Across));
    // A hair beside the body line, so that it stays with the curve instead of sliding with the level.
    let beside = |l: &BodyLine| OutlinePoint {
        fraction: l.to.fraction - 1e-9,
        ..l.to.clone()
    };
    across
        .map(|l| part(name, TapePath::Upright(beside(l), at("shoulder", 0.0))))
        .into_iter()
        .collect()
}

/// The piece with its straight centre edge on the fold; unchanged where that edge bends.
fn on_fold(piece: Piece, centre: &str) -> Option<Piece> {
    let edges = piece.outline.edges().iter().map(|edge| {
        if edge.name == centre && edge.line.is_straight() {
            Edge::finished(centre, edge.line.clone(), Finish::Fold)
        } else {
            edge.clone()
        }
    });
    let outline = Outline::new(edges.collect()).ok()?;
    Some(Piece { outline, ..piece })
}

/// Where an upright edge crosses a height.
fn on_edge_at(outline: &Outline, edge: &str, y: f64) -> OutlinePoint {
    let Some(line) = outline.edge(edge).map(|e| &e.line) else {
        return at(edge, 0.0);
    };
    let (mut low, mut high) = (0.0, 1.0);
    let rising = line.end().y > line.start().y;
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if (line.at(middle).y < y) == rising {
            low = middle
        } else {
            high = middle
        }
    }
    at(edge, (low + high) / 2.0)
}

/// The place on an edge nearest to a point.
fn on_curve_near(outline: &Outline, edge: &str, p: Point) -> OutlinePoint {
    let Some(line) = outline.edge(edge).map(|e| &e.line) else {
        return at(edge, 0.0);
    };
    let far = |f: f64| (line.at(f) - p).hypot();
    let start = (0..=200)
        .map(|k| f64::from(k) / 200.0)
        .min_by(|a, b| far(*a).total_cmp(&far(*b)))
        .unwrap_or(0.5);
    let (mut low, mut high) = ((start - 0.005).max(0.0), (start + 0.005).min(1.0));
    for _ in 0..80 {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if far(a) < far(b) { high = b } else { low = a }
    }
    at(edge, (low + high) / 2.0)
}
