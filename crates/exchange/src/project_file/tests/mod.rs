#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod damaged;
mod there_and_back;

use super::*;
use petitoile_core::Mm;
use petitoile_core::alteration::Alteration;
use petitoile_core::body::{Body, BodyKind, Measured, Origin, Torso};
use petitoile_core::cloth::{Blemish, Cloth, GoodFor, Offcut};
use petitoile_core::edge::{Edge, EdgeRef, Finish, FinishStretch, OutlinePoint};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Fullness, FullnessOp};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::Point;
use petitoile_core::measure::{Level, Measure};
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::outfit::{Outfit, WardrobeOutfit};
use petitoile_core::piece::{
    BodyLine, Copy, Dart, DartPress, Frame, Mark, MarkKind, Piece, Placement, Role, Side,
};
use petitoile_core::seams::{Insert, InsertKind, Relation, Seam, SeamKind, Stretch};
use petitoile_core::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use std::collections::BTreeMap;
use std::sync::Arc;

fn body() -> Arc<Body> {
    let measured = Measured {
        value: Mm(1.1 + 2.2),
        origin: Origin::Typical,
        source: "a tape, \"by hand\"\nat home".into(),
    };
    Arc::new(Body {
        key: "play-45".into(),
        name: "45 cm play doll".into(),
        kind: BodyKind::Doll,
        measures: BTreeMap::from([
            (Measure::BustGirth, measured.clone()),
            (Measure::WaistGirth, measured),
        ]),
        torso: Torso::Soft { give: Mm(12.0) },
        note: "typical (measure your own) // not a remark".into(),
    })
}

fn piece() -> Piece {
    let p = Point::new;
    let curve = Line::new(vec![
        p(60.0, 0.0),
        p(61.0 / 3.0, 1e-17),
        p(-0.0, 90.00000000000001),
        p(60.0, 90.0),
    ])
    .unwrap();
    let edges = vec![
        Edge::finished(
            "hem",
            Line::straight(p(0.0, 0.0), p(60.0, 0.0)),
            Finish::Hem {
                width: Some(Mm(8.0)),
                turns: 2,
            },
        ),
        Edge {
            name: "side".into(),
            line: curve.mapped(|q| {
                if q.y > 1e9 {
                    p(70.0, 60.0 + 1.0 / 3.0)
                } else {
                    q
                }
            }),
            finish: vec![
                FinishStretch {
                    from: 0.0,
                    to: 1.0 / 3.0,
                    finish: Finish::Seam,
                },
                FinishStretch {
                    from: 1.0 / 3.0,
                    to: 1.0,
                    finish: Finish::Casing { width: Mm(4.0) },
                },
            ],
            allowance: Some(Mm(2.5)),
        },
        Edge::seam("top", Line::straight(p(60.0, 90.0), p(0.0, 90.0))),
        Edge::finished(
            "centre",
            Line::straight(p(0.0, 90.0), p(0.0, 0.0)),
            Finish::Fold,
        ),
    ];
    Piece {
        name: "front".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Framed(Frame::Torso),
        body_lines: vec![BodyLine {
            level: Level::Bust,
            from: OutlinePoint::new("side", 0.25),
            to: OutlinePoint::new("centre", 0.75),
        }],
        darts: vec![Dart {
            name: "waist".into(),
            leg_in: "side".into(),
            leg_out: "top".into(),
            pressed: DartPress::After,
        }],
        notches: vec![Notch {
            edge: "side".into(),
            fraction: 0.1,
            kind: NotchKind::Double,
        }],
        marks: vec![Mark {
            name: "button".into(),
            kind: MarkKind::Dot(p(5.0, 5.0)),
        }],
        grainline: Some((p(1.0, 2.0), p(1.0, 80.0))),
        face: Default::default(),
        fullness: vec![FullnessOp {
            edge: "top".into(),
            from: 0.0,
            to: 1.0,
            fullness: Fullness::BoxPleats {
                count: 3,
                depth: Mm(5.0),
                inverted: true,
            },
            even_to: Some("hem".into()),
            layout: Default::default(),
        }],
        copies: vec![
            Copy {
                side: Side::Whole,
                role: Role::Shell,
            },
            Copy {
                side: Side::Left,
                role: Role::Lining,
            },
        ],
    }
}

fn project() -> Project {
    let stretch = |edge: &str| Stretch {
        piece: "front".into(),
        copy: Copy {
            side: Side::Whole,
            role: Role::Shell,
        },
        edge: edge.into(),
        from: 0.0,
        to: 1.0,
    };
    let garment = Garment {
        name: "smock".into(),
        made_for: body(),
        pieces: vec![Arc::new(piece())],
        seams: vec![Seam {
            name: "side seam".into(),
            a: vec![stretch("side")],
            b: vec![stretch("top")],
            mirrored: true,
            relation: Relation::Eased(Mm(1.5)),
            kind: SeamKind::French,
            inserts: vec![Insert {
                name: "tie".into(),
                kind: InsertKind::Tie,
                thickness: Mm(0.4),
                from: 0.4,
                to: 0.5,
            }],
        }],
        tape_lines: vec![TapeLine {
            name: "bust".into(),
            measure: Measure::BustGirth,
            share: 1.0,
            kind: TapeKind::Girth,
            parts: vec![TapePart {
                piece: "front".into(),
                path: TapePath::Across(
                    OutlinePoint::new("side", 0.3),
                    OutlinePoint::new("centre", 0.7),
                ),
            }],
            hold: Hold::Fitted,
            overlap: Mm(0.0),
            lacing_gap: Mm(0.0),
        }],
        openings: Vec::new(),
        cloths: BTreeMap::from([(Role::Shell, cloth())]),
        included_allowance: BTreeMap::from([(EdgeRef::new("front", "side"), Mm(15.0))]),
    };
    let mut fitting = Fitting::new("smock on the play doll", "smock", body());
    fitting.alterations.push(Alteration::LengthenAt {
        piece: "front".into(),
        level: Level::Waist,
        by: Mm(-3.25),
    });
    fitting
        .allowances
        .single
        .insert(EdgeRef::new("front", "top"), Mm(4.0));
    fitting.making.done.insert("side seam".into());
    Project {
        name: "Harbour town, \u{201e}Hafen\u{201c} \\ 1913".into(),
        garments: vec![Arc::new(garment)],
        bodies: vec![body()],
        fittings: vec![Arc::new(fitting)],
        outfits: vec![Outfit {
            name: "Sunday".into(),
            layers: vec!["smock on the play doll".into()],
            pads: Vec::new(),
        }],
        stash_file: Some("my stash.ron".into()),
        ..Project::default()
    }
}

fn cloth() -> Cloth {
    Cloth {
        name: "batiste".into(),
        thickness: Mm(0.18),
        source: String::new(),
    }
}

fn stash() -> Stash {
    let p = Point::new;
    Stash {
        cloths: vec![cloth()],
        offcuts: vec![Offcut {
            name: "corner".into(),
            cloth: "batiste".into(),
            outline: vec![p(0.0, 0.0), p(200.0, 0.0), p(0.0, 133.3)],
            blemishes: vec![Blemish {
                outline: vec![p(1.0, 1.0), p(2.0, 1.0), p(1.0, 2.0)],
                is_hole: true,
                good_for: GoodFor::Hidden,
            }],
            grain: petitoile_core::Degrees(1.5),
            nap: true,
            grain_doubt: petitoile_core::Degrees(0.5),
            face: petitoile_core::piece::Face::Wrong,
            sides_alike: true,
            margin: Mm(5.0),
            thickness: None,
        }],
    }
}

/// A repeatable stream of numbers (splitmix64, public domain constants, from memory).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, most: usize) -> usize {
        (self.next() % most as u64) as usize
    }
}
