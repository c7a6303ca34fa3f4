//! Small garments for the tests: made of straight-sided pieces, by hand and by dice.

use petitoile_core as house;
use petitoile_core::edge::Finish;
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{Fullness, FullnessOp};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::piece::{Copy, Frame, Piece, Placement, Role, Side};
use petitoile_core::seams::{Relation, Seam, Stretch};

#[path = "../kit/small.rs"]
mod small;

pub use small::polygon;

pub const SHELL: Copy = small::WHOLE;
pub const LINING: Copy = Copy {
    side: Side::Whole,
    role: Role::Lining,
};

/// Four sides, counter-clockwise from below: hem, right, top, left.
pub fn panel(name: &str, width: f64, depth: f64) -> Piece {
    polygon(
        name,
        &[
            ("hem", (0.0, 0.0)),
            ("right", (width, 0.0)),
            ("top", (width, depth)),
            ("left", (0.0, depth)),
        ],
    )
}

/// The same piece with a finish on one edge.
pub fn with(piece: Piece, edge: &str, finish: Finish) -> Piece {
    small::finished_with(piece, edge, finish)
}

pub fn on(mut piece: Piece, frame: Frame) -> Piece {
    piece.placement = Placement::Framed(frame);
    piece
}

pub fn gathered(mut piece: Piece, edge: &str) -> Piece {
    piece
        .fullness
        .push(FullnessOp::new(edge, Fullness::Gathers { ratio: 1.5 }));
    piece
}

pub const HEM: Finish = Finish::Hem {
    width: None,
    turns: 1,
};

pub fn stretch(piece: &str, edge: &str) -> Stretch {
    small::stretch(piece, edge, 0.0, 1.0)
}

/// The same edge walked the other way.
pub fn back(stretch: Stretch) -> Stretch {
    Stretch {
        from: stretch.to,
        to: stretch.from,
        ..stretch
    }
}

pub fn of(stretch: Stretch, copy: Copy) -> Stretch {
    Stretch { copy, ..stretch }
}

pub fn seam(name: &str, a: Vec<Stretch>, b: Vec<Stretch>) -> Seam {
    small::seam(name, a, b, Relation::Equal)
}

pub fn garment(pieces: Vec<Piece>, seams: Vec<Seam>) -> Garment {
    Garment {
        name: "smock".to_owned(),
        ..small::garment(pieces, seams)
    }
}

pub fn fitting(garment: &Garment) -> Fitting {
    Fitting::new(
        "for the doll",
        garment.name.clone(),
        garment.made_for.clone(),
    )
}

/// Dice that fall the same way on every machine.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// One of `0..sides`.
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from((self.0 >> 11) % u64::try_from(sides.max(1)).unwrap()).unwrap()
    }

    pub fn length(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.roll(1000) as f64 / 1000.0
    }

    fn chance(&mut self, one_in: usize) -> bool {
        self.roll(one_in) == 0
    }
}

/// A garment of the dice: one of five kinds.
pub fn thrown(seed: u64) -> Garment {
    let mut dice = Dice::new(seed);
    match seed % 5 {
        0 => skirt(&mut dice),
        1 => smock(&mut dice),
        2 => pinwheel(&mut dice),
        3 => bag(&mut dice),
        _ => patchwork(&mut dice),
    }
}

/// Panels side by side, closed or open, hemmed below, gathered or not into a band above.
fn skirt(dice: &mut Dice) -> Garment {
    let count = 1 + dice.roll(4);
    let depth = dice.length(20.0, 150.0);
    let widths: Vec<f64> = (0..count).map(|_| dice.length(15.0, 120.0)).collect();
    let closed = !dice.chance(3);
    let hemmed = !dice.chance(4);
    let mut pieces: Vec<Piece> = widths
        .iter()
        .enumerate()
        .map(|(i, width)| {
            let mut piece = panel(&format!("panel {i}"), *width, depth);
            if hemmed {
                piece = with(piece, "hem", HEM);
            }
            if dice.chance(3) {
                piece = on(piece, Frame::Arm);
            }
            if dice.chance(3) {
                piece = gathered(piece, "top");
            }
            piece
        })
        .collect();
    let last = count - usize::from(!closed);
    let mut seams: Vec<Seam> = (0..last)
        .map(|i| {
            let next = (i + 1) % count;
            seam(
                &format!("seam {i}"),
                vec![stretch(&format!("panel {i}"), "right")],
                vec![back(stretch(&format!("panel {next}"), "left"))],
            )
        })
        .collect();
    if !dice.chance(3) {
        let whole = widths.iter().sum();
        pieces.push(panel("band", whole, 12.0));
        let along = (0..count)
            .map(|i| back(stretch(&format!("panel {i}"), "top")))
            .rev()
            .collect();
        seams.push(seam("band", vec![back(stretch("band", "hem"))], along));
        if closed && dice.chance(2) {
            seams.push(seam(
                "band ends",
                vec![stretch("band", "right")],
                vec![back(stretch("band", "left"))],
            ));
        }
    }
    garment(pieces, seams)
}

/// Front, back and two sleeves: shoulders, sleeves across them, side seams and underarms.
fn smock(dice: &mut Dice) -> Garment {
    let (width, depth) = (dice.length(30.0, 120.0), dice.length(40.0, 150.0));
    let (shoulder, armscye) = (0.3 * width, 0.4 * depth);
    // Seen from outside, the left side of a front lies to the right, that of a back to the left.
    let body = |name: &str, one: &str, other: &str| {
        let edge = |what: &str, side: &str| format!("{what} {side}");
        let corners = [
            ("hem".to_owned(), (0.0, 0.0)),
            (edge("side", one), (width, 0.0)),
            (edge("armscye", one), (width, depth - armscye)),
            (edge("shoulder", one), (width - 1.0, depth)),
            ("neckline".to_owned(), (width - shoulder, depth - 3.0)),
            (edge("shoulder", other), (shoulder, depth - 3.0)),
            (edge("armscye", other), (1.0, depth)),
            (edge("side", other), (0.0, depth - armscye)),
        ];
        let corners: Vec<(&str, (f64, f64))> =
            corners.iter().map(|(n, at)| (n.as_str(), *at)).collect();
        polygon(name, &corners)
    };
    let mut front = body("front", "left", "right");
    let mut rear = body("back", "right", "left");
    if !dice.chance(3) {
        front = with(front, "hem", HEM);
        rear = with(rear, "hem", HEM);
    }
    let mut pieces = vec![front, rear];
    let mut seams = Vec::new();
    for side in ["right", "left"] {
        let edge = |name: &str| format!("{name} {side}");
        let facing = |piece: &str, name: &str| stretch(piece, &edge(name));
        seams.push(seam(
            &edge("shoulder"),
            vec![facing("front", "shoulder")],
            vec![back(facing("back", "shoulder"))],
        ));
        if !dice.chance(5) {
            seams.push(seam(
                &edge("side seam"),
                vec![facing("front", "side")],
                vec![back(facing("back", "side"))],
            ));
        }
        if dice.chance(4) {
            continue;
        }
        let sleeve = edge("sleeve");
        let mut piece = on(
            panel(&sleeve, 2.0 * armscye, dice.length(15.0, 80.0)),
            Frame::Arm,
        );
        if dice.chance(2) {
            piece = with(piece, "hem", HEM);
        }
        if dice.chance(2) {
            piece = gathered(piece, "top");
        }
        pieces.push(piece);
        // Walked from the front armpit over the shoulder to the back armpit, or from the back one to the front.
        let over = if side == "right" {
            vec![
                back(facing("front", "armscye")),
                back(facing("back", "armscye")),
            ]
        } else {
            vec![
                back(facing("back", "armscye")),
                back(facing("front", "armscye")),
            ]
        };
        seams.push(seam(
            &edge("sleeve into armscye"),
            vec![stretch(&sleeve, "top")],
            over,
        ));
        if !dice.chance(4) {
            seams.push(seam(
                &edge("underarm"),
                vec![stretch(&sleeve, "right")],
                vec![back(stretch(&sleeve, "left"))],
            ));
        }
    }
    garment(pieces, seams)
}

/// Strips round a square, each running across the end of the one before: no seam can be the first.
fn pinwheel(dice: &mut Dice) -> Garment {
    let count = 4;
    let (square, deep) = (dice.length(20.0, 60.0), dice.length(10.0, 30.0));
    // One in four is left without its last strip: that can be sewn.
    let strips = if dice.chance(4) { 3 } else { 4 };
    let names = ["hem", "right", "top", "left"];
    let mut pieces = vec![panel("middle", square, square)];
    for i in 0..strips {
        pieces.push(panel(&format!("strip {i}"), square + deep, deep));
    }
    let mut seams = Vec::new();
    for i in 0..strips {
        let next = (i + 1) % count;
        let mut across = vec![stretch("middle", names[i])];
        if next < strips {
            across.push(stretch(&format!("strip {next}"), "left"));
        }
        let mut long = stretch(&format!("strip {i}"), "top");
        if strips <= next {
            // Nothing lies beyond the middle: the strip hangs over.
            long.from = deep / (square + deep);
        }
        seams.push(seam(&format!("round {i}"), vec![back(long)], across));
    }
    garment(pieces, seams)
}

/// Two panels sewn together all round, with or without a gap; of shell and lining, or of shell alone.
fn bag(dice: &mut Dice) -> Garment {
    let (width, depth) = (dice.length(20.0, 100.0), dice.length(20.0, 100.0));
    let lined = dice.chance(2);
    let (one, other) = if lined {
        ("bib", "bib")
    } else {
        ("one side", "other side")
    };
    let copy = if lined { LINING } else { SHELL };
    let mut pieces = vec![panel(one, width, depth)];
    if lined {
        pieces[0].copies = vec![SHELL, LINING];
    } else {
        pieces.push(panel(other, width, depth));
    }
    // Wide enough, too narrow, or none.
    let gap = match dice.roll(4) {
        0 => 0.6,
        1 => 0.02,
        _ => 0.0,
    };
    let mut seams = Vec::new();
    for edge in ["hem", "right", "top", "left"] {
        // Lining and shell are cut alike; two sides of a cushion lie mirrored.
        let (a, b) = (stretch(one, edge), of(stretch(other, edge), copy));
        if edge == "hem" && 0.0 < gap {
            let (low, high) = (0.5 - gap / 2.0, 0.5 + gap / 2.0);
            for piece in &mut pieces {
                open_between(piece, edge, low, high);
            }
            for (part, from, to) in [
                ("hem, first part", 0.0, low),
                ("hem, second part", high, 1.0),
            ] {
                let of_part = |s: &Stretch| Stretch {
                    from,
                    to,
                    ..s.clone()
                };
                seams.push(seam(part, vec![of_part(&a)], vec![of_part(&b)]));
            }
        } else {
            seams.push(seam(edge, vec![a], vec![b]));
        }
    }
    garment(pieces, seams)
}

fn open_between(piece: &mut Piece, edge: &str, low: f64, high: f64) {
    use petitoile_core::edge::FinishStretch;
    let edges = piece.outline.edges().iter().cloned().map(|mut e| {
        if e.name == edge {
            e.finish = vec![
                FinishStretch {
                    from: 0.0,
                    to: low,
                    finish: Finish::Seam,
                },
                FinishStretch {
                    from: low,
                    to: high,
                    finish: Finish::Open,
                },
                FinishStretch {
                    from: high,
                    to: 1.0,
                    finish: Finish::Seam,
                },
            ];
        }
        e
    });
    piece.outline = Outline::new(edges.collect()).unwrap();
}

/// Panels sewn together edge to edge as the dice fall.
fn patchwork(dice: &mut Dice) -> Garment {
    let count = 2 + dice.roll(5);
    let pieces: Vec<Piece> = (0..count)
        .map(|i| {
            panel(
                &format!("patch {i}"),
                dice.length(15.0, 90.0),
                dice.length(15.0, 90.0),
            )
        })
        .collect();
    let mut free: Vec<(usize, &str)> = (0..count)
        .flat_map(|i| ["hem", "right", "top", "left"].map(|edge| (i, edge)))
        .collect();
    let mut seams = Vec::new();
    for number in 0..1 + dice.roll(7) {
        if free.len() < 3 {
            break;
        }
        let (a, b) = (
            free.remove(dice.roll(free.len())),
            free.remove(dice.roll(free.len() - 1)),
        );
        seams.push(seam(
            &format!("seam {number}"),
            vec![stretch(&format!("patch {}", a.0), a.1)],
            vec![back(stretch(&format!("patch {}", b.0), b.1))],
        ));
    }
    garment(pieces, seams)
}
