//! The made-up set of pieces and offcuts: 14 pieces in sizes of a 29 cm doll on three offcuts, one with a hole and a stain.
//!
//! Made up for this project; mm. Offcuts are multiplied by a scale: 1.10 easy, 1.055 = 61.6 % density.

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::CopyRef;
use petitoile_core::laying::{CopyToLay, LayShape, ToLay};
use petitoile_core::piece::{Copy, Face, Role, Side};
use petitoile_core::{Degrees, Mm};

type Points = &'static [(f64, f64)];

/// Name, side, may it lie upside down, tolerance, may it lie on the stain, outline.
type Row = (&'static str, Side, bool, f64, bool, Points);

/// The copies, gap 1 mm.
pub fn to_lay() -> ToLay {
    let mut numbers = std::collections::BTreeMap::new();
    let copies = PIECES
        .iter()
        .map(|(name, side, half_turn, tolerance, on_stain, outline)| {
            let number = numbers
                .entry((*name, *side))
                .and_modify(|n| *n += 1)
                .or_insert(0_usize);
            CopyToLay {
                of: CopyRef {
                    piece: (*name).to_owned(),
                    copy: Copy {
                        side: *side,
                        role: Role::Shell,
                    },
                    number: *number,
                },
                whole: LayShape {
                    outline: points(outline, 1.0),
                    grain: Degrees(0.0),
                    mirrored: *side == Side::Left,
                    fold: None,
                },
                pieced: Vec::new(),
                new_seams: Default::default(),
                cloth: None,
                needs: if *on_stain {
                    GoodFor::Hidden
                } else {
                    GoodFor::Anything
                },
                priority: 2,
                grain_tolerance: Degrees(*tolerance),
                upside_down: *half_turn,
            }
        })
        .collect();
    ToLay {
        copies,
        gap: Mm(GAP),
    }
}

/// Room between pieces, mm: the trials laid them touching.
const GAP: f64 = 0.0;

/// The offcuts at a scale; no margin.
pub fn offcuts(scale: f64) -> Vec<Arc<Offcut>> {
    let blemish = |(is_hole, outline): &(bool, Points)| Blemish {
        outline: points(outline, scale),
        is_hole: *is_hole,
        good_for: GoodFor::Hidden,
    };
    OFFCUTS
        .iter()
        .map(|(name, outline, blemishes)| {
            Arc::new(Offcut {
                name: (*name).to_owned(),
                cloth: "cotton".to_owned(),
                outline: points(outline, scale),
                blemishes: blemishes.iter().map(blemish).collect(),
                grain: Degrees(0.0),
                grain_doubt: Degrees(0.0),
                face: Face::Right,
                sides_alike: false,
                nap: false,
                margin: Mm(0.0),
                thickness: None,
            })
        })
        .collect()
}

pub fn points(outline: &[(f64, f64)], scale: f64) -> Vec<Point> {
    outline
        .iter()
        .map(|(x, y)| Point::new(x * scale, y * scale))
        .collect()
}

const PIECES: &[Row] = &[
    (
        "front",
        Side::Whole,
        false,
        2.0,
        false,
        &[
            (0.0, 0.0),
            (30.0, 0.0),
            (40.0, 34.0),
            (33.4576, 37.7696),
            (28.8864, 42.4544),
            (26.2864, 48.0544),
            (25.6576, 54.5696),
            (27.0, 62.0),
            (14.0, 68.0),
            (14.08, 62.16),
            (12.72, 57.44),
            (9.92, 53.84),
            (5.68, 51.36),
            (0.0, 50.0),
            (-5.68, 51.36),
            (-9.92, 53.84),
            (-12.72, 57.44),
            (-14.08, 62.16),
            (-14.0, 68.0),
            (-27.0, 62.0),
            (-25.6576, 54.5696),
            (-26.2864, 48.0544),
            (-28.8864, 42.4544),
            (-33.4576, 37.7696),
            (-40.0, 34.0),
            (-30.0, 0.0),
        ],
    ),
    (
        "back",
        Side::Right,
        false,
        2.0,
        false,
        &[
            (0.0, 0.0),
            (32.0, 0.0),
            (42.0, 34.0),
            (36.016, 38.064),
            (31.824, 42.896),
            (29.424, 48.496),
            (28.816, 54.864),
            (30.0, 62.0),
            (16.0, 68.0),
            (11.4667, 63.8667),
            (6.1333, 61.8667),
            (0.0, 62.0),
        ],
    ),
    (
        "back",
        Side::Left,
        false,
        2.0,
        false,
        &[
            (0.0, 0.0),
            (32.0, 0.0),
            (42.0, 34.0),
            (36.016, 38.064),
            (31.824, 42.896),
            (29.424, 48.496),
            (28.816, 54.864),
            (30.0, 62.0),
            (16.0, 68.0),
            (11.4667, 63.8667),
            (6.1333, 61.8667),
            (0.0, 62.0),
        ],
    ),
    (
        "sleeve",
        Side::Right,
        true,
        3.0,
        false,
        &[
            (6.0, 0.0),
            (58.0, 0.0),
            (66.0, 34.0),
            (57.8496, 37.296),
            (50.7744, 41.744),
            (44.7744, 47.344),
            (39.8496, 54.096),
            (36.0, 62.0),
            (33.3333, 53.0),
            (29.3333, 45.6),
            (24.0, 39.8),
            (17.3333, 35.6),
            (9.3333, 33.0),
            (0.0, 32.0),
        ],
    ),
    (
        "sleeve",
        Side::Left,
        true,
        3.0,
        false,
        &[
            (6.0, 0.0),
            (58.0, 0.0),
            (66.0, 34.0),
            (57.8496, 37.296),
            (50.7744, 41.744),
            (44.7744, 47.344),
            (39.8496, 54.096),
            (36.0, 62.0),
            (33.3333, 53.0),
            (29.3333, 45.6),
            (24.0, 39.8),
            (17.3333, 35.6),
            (9.3333, 33.0),
            (0.0, 32.0),
        ],
    ),
    (
        "skirt",
        Side::Whole,
        true,
        3.0,
        false,
        &[
            (22.0, 88.0),
            (38.5, 86.515),
            (55.0, 86.02),
            (71.5, 86.515),
            (88.0, 88.0),
            (110.0, 4.0),
            (91.6667, 1.5556),
            (73.3333, 0.0889),
            (55.0, -0.4),
            (36.6667, 0.0889),
            (18.3333, 1.5556),
            (0.0, 4.0),
        ],
    ),
    (
        "skirt",
        Side::Whole,
        true,
        3.0,
        false,
        &[
            (22.0, 88.0),
            (38.5, 86.515),
            (55.0, 86.02),
            (71.5, 86.515),
            (88.0, 88.0),
            (110.0, 4.0),
            (91.6667, 1.5556),
            (73.3333, 0.0889),
            (55.0, -0.4),
            (36.6667, 0.0889),
            (18.3333, 1.5556),
            (0.0, 4.0),
        ],
    ),
    (
        "collar",
        Side::Right,
        true,
        5.0,
        false,
        &[
            (0.0, 0.0),
            (10.0, 5.3333),
            (20.0, 8.5333),
            (30.0, 9.6),
            (40.0, 8.5333),
            (50.0, 5.3333),
            (60.0, 0.0),
            (68.0, 14.0),
            (57.6049, 20.8098),
            (47.151, 25.4449),
            (36.6384, 27.9053),
            (26.0669, 28.191),
            (15.4367, 26.302),
            (4.7478, 22.2384),
            (-6.0, 16.0),
        ],
    ),
    (
        "collar",
        Side::Left,
        true,
        5.0,
        false,
        &[
            (0.0, 0.0),
            (10.0, 5.3333),
            (20.0, 8.5333),
            (30.0, 9.6),
            (40.0, 8.5333),
            (50.0, 5.3333),
            (60.0, 0.0),
            (68.0, 14.0),
            (57.6049, 20.8098),
            (47.151, 25.4449),
            (36.6384, 27.9053),
            (26.0669, 28.191),
            (15.4367, 26.302),
            (4.7478, 22.2384),
            (-6.0, 16.0),
        ],
    ),
    (
        "cuff",
        Side::Whole,
        true,
        3.0,
        true,
        &[(0.0, 0.0), (50.0, 0.0), (50.0, 16.0), (0.0, 16.0)],
    ),
    (
        "cuff",
        Side::Whole,
        true,
        3.0,
        true,
        &[(0.0, 0.0), (50.0, 0.0), (50.0, 16.0), (0.0, 16.0)],
    ),
    (
        "waistband",
        Side::Whole,
        true,
        3.0,
        true,
        &[(0.0, 0.0), (132.0, 0.0), (132.0, 15.0), (0.0, 15.0)],
    ),
    (
        "pocket",
        Side::Right,
        true,
        3.0,
        true,
        &[
            (0.0, 32.0),
            (0.0, 6.0),
            (5.6, 2.416),
            (11.2, 0.624),
            (16.8, 0.624),
            (22.4, 2.416),
            (28.0, 6.0),
            (28.0, 24.0),
            (16.0, 32.0),
        ],
    ),
    (
        "pocket",
        Side::Left,
        true,
        3.0,
        true,
        &[
            (0.0, 32.0),
            (0.0, 6.0),
            (5.6, 2.416),
            (11.2, 0.624),
            (16.8, 0.624),
            (22.4, 2.416),
            (28.0, 6.0),
            (28.0, 24.0),
            (16.0, 32.0),
        ],
    ),
];

/// Name, outline, blemishes: is it a hole, its outline.
type OffcutRow = (&'static str, Points, &'static [(bool, Points)]);

const OFFCUTS: &[OffcutRow] = &[
    (
        "A",
        &[
            (0.0, 8.0),
            (60.0, 0.0),
            (140.0, 6.0),
            (206.0, 0.0),
            (214.0, 60.0),
            (200.0, 118.0),
            (150.0, 150.0),
            (70.0, 142.0),
            (10.0, 150.0),
            (4.0, 80.0),
        ],
        &[
            (
                true,
                &[
                    (160.0, 66.0),
                    (159.2388, 68.6788),
                    (157.0711, 70.9497),
                    (153.8268, 72.4672),
                    (150.0, 73.0),
                    (146.1732, 72.4672),
                    (142.9289, 70.9497),
                    (140.7612, 68.6788),
                    (140.0, 66.0),
                    (140.7612, 63.3212),
                    (142.9289, 61.0503),
                    (146.1732, 59.5328),
                    (150.0, 59.0),
                    (153.8268, 59.5328),
                    (157.0711, 61.0503),
                    (159.2388, 63.3212),
                ],
            ),
            (
                false,
                &[
                    (46.0, 128.0),
                    (43.8564, 134.0),
                    (38.0, 138.3923),
                    (30.0, 140.0),
                    (22.0, 138.3923),
                    (16.1436, 134.0),
                    (14.0, 128.0),
                    (16.1436, 122.0),
                    (22.0, 117.6077),
                    (30.0, 116.0),
                    (38.0, 117.6077),
                    (43.8564, 122.0),
                ],
            ),
        ],
    ),
    (
        "B",
        &[
            (0.0, 0.0),
            (150.0, 4.0),
            (146.0, 70.0),
            (84.0, 74.0),
            (78.0, 150.0),
            (6.0, 144.0),
            (10.0, 60.0),
        ],
        &[],
    ),
    (
        "C",
        &[
            (0.0, 0.0),
            (236.0, 6.0),
            (230.0, 40.0),
            (120.0, 46.0),
            (4.0, 38.0),
        ],
        &[],
    ),
];
