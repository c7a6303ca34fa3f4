#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::alteration::Alteration;
use petitoile_core::body::{Body, BodyKind, Measured, Origin, Torso};
use petitoile_core::cloth::{Blemish, Cloth, Offcut};
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

use super::*;

fn body() -> Arc<Body> {
    let measured = Measured {
        value: Mm(0.1 + 0.2),
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
        p(-0.0, 5e300),
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
            leg_in: "a".into(),
            leg_out: "b".into(),
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
            }],
            grain: petitoile_core::Degrees(1.5),
            nap: true,
            margin: Mm(5.0),
        }],
    }
}

#[test]
fn a_project_reads_back_as_it_was() {
    let project = project();
    let text = write(&project).unwrap();
    assert_eq!(read(text.as_bytes()).unwrap(), project);
    assert_eq!(
        write(&read(text.as_bytes()).unwrap()).unwrap(),
        text,
        "written again, it is the same text"
    );
}

#[test]
fn a_stash_and_a_wardrobe_read_back_as_they_were() {
    assert_eq!(
        read_stash(write_stash(&stash()).unwrap().as_bytes()).unwrap(),
        stash()
    );
    let wardrobe = Wardrobe {
        dolls: vec![body()],
        outfits: vec![WardrobeOutfit {
            doll: "45 cm play doll".into(),
            project_file: "harbour.petitoile".into(),
            outfit: Outfit {
                name: "Sunday".into(),
                layers: vec![],
            },
        }],
    };
    assert_eq!(
        read_wardrobe(write_wardrobe(&wardrobe).unwrap().as_bytes()).unwrap(),
        wardrobe
    );
}

#[test]
fn every_figure_reads_back_to_the_last_bit() {
    // Worst cases of decimal printing: halfway values, subnormals, the ends of the range, negative zero.
    let mut figures = vec![
        0.0,
        -0.0,
        0.1,
        1.0 / 3.0,
        5e-324,
        f64::MIN_POSITIVE,
        f64::MAX,
        f64::MIN,
        9007199254740993.0,
        1e23,
        6.35,
    ];
    let mut chance = Chance(7);
    figures.extend(
        std::iter::repeat_with(|| f64::from_bits(chance.next()))
            .filter(|f| f.is_finite())
            .take(2_000),
    );
    for figure in figures {
        let mut stash = stash();
        stash.offcuts[0].margin = Mm(figure);
        let back = read_stash(write_stash(&stash).unwrap().as_bytes()).unwrap();
        assert_eq!(
            back.offcuts[0].margin.0.to_bits(),
            figure.to_bits(),
            "{figure:e}"
        );
    }
}

#[test]
fn the_points_of_a_line_stand_on_one_line_of_the_file() {
    let text = write(&project()).unwrap();
    assert!(text.starts_with("// Petitoile project: lengths in mm, x right, y up.\n(\n    petitoile: 1,\n    project: (\n"), "{text}");
    let line = text
        .lines()
        .find(|l| l.contains("line: [(60.0, 90.0)"))
        .expect("the top edge");
    assert!(line.trim_end().ends_with("(0.0, 90.0)],"), "{line}");
}

#[test]
fn a_newer_file_is_told_by_its_number_even_when_the_rest_is_unknown() {
    let newer = ProjectFileError::Newer {
        found: 2,
        known: FORMAT,
    };
    assert_eq!(
        read(b"(petitoile: 2, wholly (unlike [anything").unwrap_err(),
        newer
    );
    assert_eq!(read(b"// a remark\n(\n petitoile : 2}").unwrap_err(), newer);
    assert_eq!(read_stash(b"(petitoile: 2").unwrap_err(), newer);
    let far = ProjectFileError::Newer {
        found: u32::MAX,
        known: FORMAT,
    };
    assert_eq!(
        read(b"(petitoile: 99999999999999999999, project: ())").unwrap_err(),
        far
    );
    insta::assert_snapshot!(newer.to_string(), @"this file has format 2, this Petitoile reads up to 1; update Petitoile, the file is left as it is");
}

#[test]
fn a_broken_file_says_where_and_what_to_do() {
    let text = write(&project()).unwrap();
    let say = |text: &str| read(text.as_bytes()).unwrap_err().to_string();
    insta::assert_snapshot!(say(""), @"line 1, column 1: an opening bracket is missing; open the version before it (the file ending in .before)");
    insta::assert_snapshot!(say("%PDF-1.7"), @"line 1, column 1: an opening bracket is missing; open the version before it (the file ending in .before)");
    let spoil = |good: &str, bad: &str, what: &str| {
        let spoilt = text.replacen(good, bad, 1);
        let before = spoilt.split(bad).next().unwrap();
        let line = 1 + before.matches('\n').count();
        match read(spoilt.as_bytes()) {
            Err(ProjectFileError::Broken {
                line: found,
                what: said,
                ..
            }) => assert_eq!((found, said.as_str()), (line, what)),
            other => panic!("{other:?}"),
        }
    };
    spoil(
        "kind: Doll",
        "kind: Cat",
        "Cat stands where one of Woman, Man, Child, Doll was expected",
    );
    spoil(
        "value: 0.30000000000000004",
        "value: NaN",
        "NaN is not a size",
    );
    spoil(
        "value: 0.30000000000000004",
        "value: -1e999",
        "-1e999 is not a size",
    );
    spoil(
        "value: 0.30000000000000004",
        "value: \"wide\"",
        "expected float",
    );
    spoil("torso: Soft(", "torso: Soft(]", "this ] closes nothing");
    let cut = text.get(..text.len() / 2).unwrap();
    assert!(
        say(cut).contains("ends too early") || say(cut).contains("has no end"),
        "{}",
        say(cut)
    );
    assert_eq!(
        read(b"(petitoile: 1, project: (name: \"\xff\"))").unwrap_err(),
        ProjectFileError::Broken {
            line: 1,
            column: 33,
            what: "this is not text".into()
        }
    );
    let other = read(write_stash(&stash()).unwrap().as_bytes()).unwrap_err();
    assert_eq!(
        other.to_string(),
        "this is a stash file, a project file was asked for; open it as a stash"
    );
}

#[test]
fn a_figure_that_could_not_be_read_again_is_not_written() {
    let mut stash = stash();
    stash.cloths[0].thickness = Mm(f64::NAN);
    let error = write_stash(&stash).unwrap_err().to_string();
    assert_eq!(
        error,
        "this cannot be saved: NaN is not a size (thickness: NaN,); undo the last change and save again"
    );
}

#[test]
fn brackets_without_end_are_refused() {
    for open in [
        "(",
        "[",
        "{",
        "Some(",
        "project: (",
        "/*",
        "r#\"",
        "\"\\",
        "'",
        "a: [",
    ] {
        let text = format!("(petitoile: 1, project: {}", open.repeat(1_000_000));
        assert!(
            matches!(read(text.as_bytes()), Err(ProjectFileError::Broken { .. })),
            "{open}"
        );
        let text = format!("(petitoile: 1, project: (unknown: {}", open.repeat(99));
        assert!(
            matches!(read(text.as_bytes()), Err(ProjectFileError::Broken { .. })),
            "{open}"
        );
    }
    let nested = format!(
        "(petitoile: 1, project: (unknown: {}1{}))",
        "[".repeat(97),
        "]".repeat(97)
    );
    assert!(
        matches!(
            read(nested.as_bytes()),
            Err(ProjectFileError::Broken { .. })
        ),
        "as deep as it may be, and still no project"
    );
}

#[test]
fn a_file_that_is_far_too_long_is_refused() {
    let long = vec![b' '; MOST_BYTES + 1];
    assert_eq!(
        read(&long).unwrap_err(),
        ProjectFileError::TooLong {
            megabytes: 65,
            most: 64
        }
    );
}

#[test]
fn a_mark_in_front_of_the_text_is_skipped() {
    let text = format!("\u{feff}{}", write(&project()).unwrap());
    assert_eq!(read(text.as_bytes()).unwrap(), project());
}

/// Every cut-off file, and thousands with bytes changed, taken out, doubled: an answer each time, and what is read
/// as sound can be written and read again.
#[test]
fn no_damage_makes_reading_panic() {
    let whole = write(&project()).unwrap().into_bytes();
    for length in 0..whole.len() - 2 {
        assert!(
            read(&whole[..length]).is_err(),
            "cut off after {length} bytes"
        );
    }
    let mut chance = Chance(2);
    let mut read_all_the_same = 0;
    for _ in 0..6_000 {
        let mut bytes = whole.clone();
        for _ in 0..=chance.below(3) {
            damage(&mut bytes, &mut chance);
        }
        let _ = read_stash(&bytes);
        if let Ok(project) = read(&bytes) {
            read_all_the_same += 1;
            let again = write(&project).unwrap();
            assert_eq!(write(&read(again.as_bytes()).unwrap()).unwrap(), again);
        }
    }
    assert!(
        read_all_the_same > 100,
        "only {read_all_the_same} damaged files could still be read: the damage is too coarse to test much"
    );
}

fn damage(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let at = chance.below(bytes.len());
    match chance.below(6) {
        0 => bytes[at] = chance.next() as u8,
        1 => bytes[at] ^= 1 << chance.below(8),
        2 => drop(bytes.remove(at)),
        3 => bytes.insert(at, b"()[]{},:\"\\'/*#.-+e0naIN r"[chance.below(25)]),
        4 => {
            let end = (at + chance.below(40)).min(bytes.len());
            let part = bytes[at..end].to_vec();
            let to = chance.below(bytes.len());
            bytes.splice(to..to, part);
        }
        _ => drop(bytes.drain(at..(at + chance.below(40)).min(bytes.len()))),
    }
    if bytes.is_empty() {
        bytes.push(b'(');
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
