//! The garments of the redraft benchmark: drafted pieces with body lines, seams and the tape lines their rules use.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::{Affine, Point};

use crate::body::{Body, BodyKind, Measured};
use crate::drafts::{
    BOOK_BUST, CircleShare, Constants, Draft, DraftError, DraftMeasures, circular_skirt,
    fitted_bodice, flat_sleeve, gored_skirt, loose_bodice,
};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::garment::Garment;
use crate::geometry::outline::Outline;
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Copy, Dart, DartPress, Frame, Piece, Placement, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::{MM_PER_INCH, Mm};

/// One draft of the benchmark.
pub struct Case {
    /// Name in the table.
    pub name: &'static str,
    /// The measures its rules use, as demanded.
    pub demands: &'static str,
    /// Builds its garment for a body.
    pub garment: fn(&DraftMeasures) -> Result<Garment, DraftError>,
    /// Measures whose ratios are used across and along by the makers' way, per piece name ("" for all others).
    across_along: &'static [(&'static str, Measure, Measure)],
}

/// All drafts of the benchmark.
pub const CASES: &[Case] = &[
    Case {
        name: "loose bodice",
        demands: "bust, across back, across front, neck width (1/6 neck base), centre back, front waist length, underarm length, back waist (W/4), shoulder heights (1/6 neck base, 1/6 back length); the front's waist hangs from the chest",
        garment: loose,
        across_along: &[("", Measure::BustGirth, Measure::BackWaistLength)],
    },
    Case {
        name: "loose bodice and flat sleeve",
        demands: "as the loose bodice; cap to armscye, upper arm, inside arm length, hand girth",
        garment: loose_with_sleeve,
        across_along: &[
            ("sleeve", Measure::UpperArmGirth, Measure::InsideArmLength),
            ("", Measure::BustGirth, Measure::BackWaistLength),
        ],
    },
    Case {
        name: "fitted bodice",
        demands: "bust, across front, across back, neck width (by the bust), neck depth (1/5 neck base), back neck width (1/6), shoulder length, front waist length, underarm length, centre back, front waist (W/4), back chest and waist (by the width of back), centre front lean and dart place (by the bust) and height (3/4 underarm)",
        garment: fitted,
        across_along: &[("", Measure::BustGirth, Measure::BackWaistLength)],
    },
    Case {
        name: "five-gored skirt",
        demands: "waist and its shares (1/8, 1/6), front and side hip (by the waist), back hip (by the hip, or by the waist where the rule does), front, side and back length",
        garment: gored,
        across_along: &[("", Measure::HipGirth, Measure::WaistToKnee)],
    },
    Case {
        name: "half-circle skirt",
        demands: "waist, length",
        garment: circular,
        across_along: &[("", Measure::WaistGirth, Measure::WaistToKnee)],
    },
];

impl Case {
    /// The body the source is drafted for: the 92 cm woman; for the gored skirt, whose rule has two branches, the 84 cm
    /// woman where the target is on her branch. (Adapting cannot turn one design into another.)
    pub(super) fn source(&self, to: &DraftMeasures) -> &'static DraftMeasures {
        let other_branch = self.name == "five-gored skirt" && !hip_follows_waist(to);
        match super::TARGETS.first() {
            Some((_, adult_84)) if other_branch => adult_84,
            _ => &DraftMeasures::ADULT_92,
        }
    }

    /// One factor for every piece: the ratio of the busts.
    pub(super) fn one_factor(
        &self,
        from: &DraftMeasures,
        to: &DraftMeasures,
    ) -> BTreeMap<String, (f64, f64)> {
        let factor = to.bust_girth / from.bust_girth;
        BTreeMap::from([(String::new(), (factor, factor))])
    }

    /// One factor across, another along, per piece.
    pub(super) fn across_along(
        &self,
        from: &DraftMeasures,
        to: &DraftMeasures,
    ) -> BTreeMap<String, (f64, f64)> {
        let (from, to) = (body(from), body(to));
        let ratio = |m| to.mm(m).0 / from.mm(m).0;
        self.across_along
            .iter()
            .map(|(piece, across, along)| ((*piece).to_owned(), (ratio(*across), ratio(*along))))
            .collect()
    }
}

/// Every piece of a garment scaled by its factors across and along.
pub(super) fn scaled(garment: &Garment, factors: &BTreeMap<String, (f64, f64)>) -> Garment {
    let pieces = garment
        .pieces
        .iter()
        .map(|piece| {
            let (x, y) = factors
                .get(&piece.name)
                .or_else(|| factors.get(""))
                .copied()
                .unwrap_or((1.0, 1.0));
            let map = Affine::new([x, 0.0, 0.0, y, 0.0, 0.0]);
            let lines = piece
                .outline
                .edges()
                .iter()
                .map(|e| e.line.mapped(|p| map * p))
                .collect();
            let outline = piece
                .outline
                .with_lines(lines)
                .unwrap_or_else(|_| piece.outline.clone());
            Arc::new(Piece {
                outline,
                ..Piece::clone(piece)
            })
        })
        .collect();
    Garment {
        pieces,
        ..garment.clone()
    }
}

/// The body sheet of a drafted body.
fn body(m: &DraftMeasures) -> Body {
    let figures = [
        (Measure::BustGirth, m.bust_girth),
        (Measure::WaistGirth, m.waist_girth),
        (Measure::HipGirth, m.hip_girth),
        (Measure::NeckBaseGirth, m.neck_base_girth),
        (Measure::ShoulderLength, m.shoulder_length),
        (Measure::AcrossBack, m.width_of_back),
        (Measure::AcrossFront, m.width_of_front),
        (Measure::ShoulderWidth, m.width_of_back / 0.88),
        (Measure::BackWaistLength, m.back_waist_length),
        (Measure::FrontWaistLength, m.front_waist_length),
        (Measure::UnderarmLength, m.underarm_length),
        (
            Measure::ArmscyeDepth,
            m.back_waist_length - m.underarm_length,
        ),
        (Measure::UpperArmGirth, m.upper_arm_girth),
        (Measure::ElbowGirth, m.elbow_girth),
        (Measure::HandGirth, m.hand_girth),
        (Measure::ShoulderToElbow, m.shoulder_elbow),
        (Measure::ArmLength, m.shoulder_elbow + m.elbow_wrist),
        (Measure::InsideArmLength, m.inside_wrist),
        (Measure::WaistToKnee, m.skirt_front),
        // The gored draft takes the hip 6 in (in proportion) below the waist, whatever the body.
        (
            Measure::WaistToHip,
            6.0 * MM_PER_INCH * Constants::InProportion.scale(m.bust_girth),
        ),
    ];
    let mut body = Body::new("redraft", BodyKind::Doll);
    for (measure, value) in figures {
        body.measures.insert(measure, Measured::own_tape(Mm(value)));
    }
    body
}

/// The same body sheet without the depth and across measures that makers seldom take.
pub(super) fn estimated(body: &Body) -> Body {
    let mut body = body.clone();
    for measure in [
        Measure::AcrossBack,
        Measure::AcrossFront,
        Measure::ArmscyeDepth,
        Measure::UnderarmLength,
        Measure::FrontWaistLength,
    ] {
        body.measures.remove(&measure);
    }
    body
}

fn garment(
    name: &str,
    m: &DraftMeasures,
    pieces: Vec<Piece>,
    seams: Vec<Seam>,
    tape_lines: Vec<TapeLine>,
) -> Garment {
    Garment {
        name: name.to_owned(),
        made_for: Arc::new(body(m)),
        pieces: pieces.into_iter().map(Arc::new).collect(),
        seams,
        tape_lines,
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    }
}

fn loose(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = loose_bodice(m, Constants::InProportion)?;
    let pieces = bodice_pieces(&draft);
    let tapes = loose_tapes(&pieces);
    Ok(garment("loose bodice", m, pieces, bodice_seams(), tapes))
}

fn loose_with_sleeve(m: &DraftMeasures) -> Result<Garment, DraftError> {
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

fn fitted(m: &DraftMeasures) -> Result<Garment, DraftError> {
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

fn gored(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = gored_skirt(m, Constants::InProportion)?;
    let waist_hip = 6.0 * MM_PER_INCH * Constants::InProportion.scale(m.bust_girth);
    let mut pieces = Vec::new();
    for (name, left, right, copies) in [
        ("front", "centre front", "front seam", whole()),
        ("side", "front seam", "back seam", pair()),
        ("back", "back seam", "centre back", pair()),
    ] {
        let Some(outline) = draft.outline(name) else {
            continue;
        };
        let down = |edge: &str, top: bool| -> OutlinePoint {
            // The end of the edge at the waist, or the place on it at hip level.
            let Some(line) = outline.edge(edge).map(|e| &e.line) else {
                return at(edge, 0.0);
            };
            let from_start = line.start().y > line.end().y;
            let height = (line.end().y - line.start().y).abs();
            let share = if top {
                0.0
            } else {
                (waist_hip / height).min(1.0)
            };
            at(edge, if from_start { share } else { 1.0 - share })
        };
        pieces.extend(piece(
            &draft,
            name,
            Frame::Torso,
            copies,
            &[
                (Level::Waist, down(left, true), down(right, true)),
                (Level::Hip, down(left, false), down(right, false)),
                (Level::Knee, at("hem", 0.0), at("hem", 1.0)),
            ],
        ));
    }
    let hip_line = |name: &str| {
        let line = pieces
            .iter()
            .find(|p| p.name == name)
            .and_then(|p| p.body_lines.iter().find(|l| l.level == Level::Hip))?;
        Some(part(
            name,
            TapePath::Across(line.from.clone(), line.to.clone()),
        ))
    };
    let guarded = hip_follows_waist(m);
    let hips: Vec<TapePart> = ["front", "side", "back"]
        .into_iter()
        .filter_map(hip_line)
        .collect();
    let seams = vec![
        seam(
            "front seam",
            &[("front", ("front seam", 0.0, 1.0))],
            &[("side", ("front seam", 0.0, 1.0))],
            Relation::Equal,
        ),
        seam(
            "back seam",
            &[("side", ("back seam", 0.0, 1.0))],
            &[("back", ("back seam", 0.0, 1.0))],
            Relation::Equal,
        ),
    ];
    let tapes = vec![
        length(
            "front waist",
            Measure::WaistGirth,
            1.0 / 8.0,
            vec![along("front", "waist")],
        ),
        length(
            "side waist",
            Measure::WaistGirth,
            1.0 / 6.0,
            vec![along("side", "waist")],
        ),
        length(
            "waist",
            Measure::WaistGirth,
            0.5,
            ["front", "side", "back"]
                .map(|p| along(p, "waist"))
                .to_vec(),
        ),
        length(
            "front hip",
            Measure::WaistGirth,
            1.0 / 8.0,
            hip_line("front").into_iter().collect(),
        ),
        length(
            "side hip",
            Measure::WaistGirth,
            1.0 / 4.0,
            hip_line("side").into_iter().collect(),
        ),
        if guarded {
            length(
                "back hip",
                Measure::WaistGirth,
                5.0 / 24.0,
                hip_line("back").into_iter().collect(),
            )
        } else {
            length("hip", Measure::HipGirth, 0.5, hips)
        },
        tape(
            "front length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("front", "centre front")],
        ),
        tape(
            "side length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("side", "back seam")],
        ),
        tape(
            "back length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along("back", "centre back")],
        ),
    ];
    Ok(garment("five-gored skirt", m, pieces, seams, tapes))
}

/// The gored rule holds the back gore at the hip no narrower than at the waist: where that acts, it follows the waist.
pub(super) fn hip_follows_waist(m: &DraftMeasures) -> bool {
    let Ok(draft) = gored_skirt(m, Constants::InProportion) else {
        return false;
    };
    let Some(back) = draft.pieces.iter().find(|p| p.name == "back") else {
        return false;
    };
    let (Some(waist), Some(hip), Some(top)) = (back.point("4"), back.point("5"), back.point("1"))
    else {
        return false;
    };
    (hip.x - (waist - top).hypot()).abs() < 0.01
}

fn circular(m: &DraftMeasures) -> Result<Garment, DraftError> {
    let draft = circular_skirt(m.waist_girth, m.skirt_front, CircleShare::Half)?;
    let pieces: Vec<Piece> = draft
        .outlines()
        .filter_map(|(name, _)| {
            piece(
                &draft,
                name,
                Frame::Torso,
                whole(),
                &[
                    (Level::Waist, at("waist", 0.0), at("waist", 1.0)),
                    (Level::Knee, at("hem", 0.0), at("hem", 1.0)),
                ],
            )
        })
        .collect();
    let name = pieces.first().map_or(String::new(), |p| p.name.clone());
    let tapes = vec![
        tape(
            "waist",
            Measure::WaistGirth,
            1.0,
            TapeKind::Girth,
            vec![along(&name, "waist")],
        ),
        tape(
            "front length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along(&name, "centre front")],
        ),
        tape(
            "back length",
            Measure::WaistToKnee,
            1.0,
            TapeKind::Length,
            vec![along(&name, "centre back")],
        ),
    ];
    Ok(garment("half-circle skirt", m, pieces, Vec::new(), tapes))
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
        "back shoulder height",
        Measure::NeckBaseGirth,
        1.0 / 6.0,
        rise(pieces, "back"),
    ));
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

fn part(piece: &str, path: TapePath) -> TapePart {
    TapePart {
        piece: piece.to_owned(),
        path,
    }
}

fn along(piece: &str, edge: &str) -> TapePart {
    part(
        piece,
        TapePath::Along {
            edge: edge.to_owned(),
            from: 0.0,
            to: 1.0,
        },
    )
}

fn length(name: &str, measure: Measure, share: f64, parts: Vec<TapePart>) -> TapeLine {
    tape(name, measure, share, TapeKind::Length, parts)
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

fn at(edge: &str, fraction: f64) -> OutlinePoint {
    OutlinePoint::new(edge, fraction)
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

fn tape(
    name: &str,
    measure: Measure,
    share: f64,
    kind: TapeKind,
    parts: Vec<TapePart>,
) -> TapeLine {
    TapeLine {
        name: name.to_owned(),
        measure,
        share,
        kind,
        parts,
        hold: Hold::Fitted,
        overlap: Mm(0.0),
        lacing_gap: Mm(0.0),
    }
}

fn whole() -> Vec<Copy> {
    vec![Copy {
        side: Side::Whole,
        role: Role::Shell,
    }]
}

fn pair() -> Vec<Copy> {
    [Side::Right, Side::Left]
        .map(|side| Copy {
            side,
            role: Role::Shell,
        })
        .to_vec()
}

fn piece(
    draft: &Draft,
    name: &str,
    frame: Frame,
    copies: Vec<Copy>,
    lines: &[(Level, OutlinePoint, OutlinePoint)],
) -> Option<Piece> {
    Some(Piece {
        name: name.to_owned(),
        outline: draft.outline(name)?.clone(),
        placement: Placement::Framed(frame),
        body_lines: lines
            .iter()
            .map(|(level, from, to)| BodyLine {
                level: *level,
                from: from.clone(),
                to: to.clone(),
            })
            .collect(),
        darts: Vec::new(),
        notches: Vec::new(),
        marks: Vec::new(),
        grainline: None,
        fullness: Vec::new(),
        copies,
    })
}

type Span = (&'static str, f64, f64);

fn seam(name: &str, a: &[(&str, Span)], b: &[(&str, Span)], relation: Relation) -> Seam {
    let side = |list: &[(&str, Span)]| {
        list.iter()
            .map(|(piece, (edge, from, to))| Stretch {
                piece: (*piece).to_owned(),
                copy: Copy {
                    side: Side::Right,
                    role: Role::Shell,
                },
                edge: (*edge).to_owned(),
                from: *from,
                to: *to,
            })
            .collect()
    };
    Seam {
        name: name.to_owned(),
        a: side(a),
        b: side(b),
        mirrored: true,
        relation,
        kind: SeamKind::Plain,
        inserts: Vec::new(),
    }
}
