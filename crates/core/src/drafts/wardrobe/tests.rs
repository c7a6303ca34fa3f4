//! What every garment of the wardrobe must be before anybody cuts it.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;
use std::sync::Arc;

use super::*;
use crate::body::{Body, BodyKind, Measured};
use crate::drafts::pen::crossing;
use crate::edge::{EdgeRef, Finish};
use crate::garment::{Garment, times_on_tape};
use crate::measure::Measure;
use crate::piece::{Placement, Role, Side};
use crate::project::Project;
use crate::seams::{Relation, Stretch};
use crate::tape::{TapeKind, TapePath};
use crate::units::Mm;

/// A woman with the survey's mean figures for these seven, the rest estimated from them.
fn woman(bust: f64, waist: f64) -> Arc<Body> {
    let figures = [
        (Measure::Height, 1628.0),
        (Measure::BustGirth, bust),
        (Measure::WaistGirth, waist),
        (Measure::HipGirth, bust + 90.0),
        (Measure::BackWaistLength, 421.9),
        (Measure::ShoulderWidth, 366.1),
        (Measure::UpperArmGirth, 298.9),
    ];
    let body = Body::new("a woman", BodyKind::Woman);
    Arc::new(figures.into_iter().fold(body, |body, (measure, value)| {
        body.with(measure, Measured::own_tape(Mm(value)))
    }))
}

fn doll(height: f64) -> Arc<Body> {
    Arc::new(
        Body::new(format!("{height} mm doll"), BodyKind::Doll)
            .with(Measure::Height, Measured::own_tape(Mm(height))),
    )
}

fn dolls() -> Dolls {
    Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    }
}

type Maker = fn(&Arc<Body>) -> Result<Garment, WardrobeError>;

fn garments() -> Vec<Garment> {
    let bodies = [
        woman(919.2, 829.9),
        woman(841.4, 753.8),
        woman(1038.0, 956.4),
        woman(880.0, 680.0),
    ];
    let makers: [Maker; 4] = [
        harbour_jacket,
        gored_sunday_skirt,
        half_circle_sunday_skirt,
        net_menders_smock,
    ];
    bodies
        .iter()
        .flat_map(|body| makers.iter().map(move |make| make(body).unwrap()))
        .collect()
}

fn stretch_length(garment: &Garment, s: &Stretch) -> f64 {
    let piece = garment
        .piece(&s.piece)
        .unwrap_or_else(|| panic!("no piece {}", s.piece));
    assert!(
        piece.copies.contains(&s.copy),
        "{}: {:?} is not cut",
        s.piece,
        s.copy
    );
    let edge = piece
        .outline
        .edge(&s.edge)
        .unwrap_or_else(|| panic!("no edge {} on {}", s.edge, s.piece));
    edge.line.between(s.from, s.to).unwrap().length()
}

#[test]
fn both_sides_of_every_seam_fit_as_they_are_meant_to() {
    for garment in garments() {
        for seam in &garment.seams {
            let sum = |side: &[Stretch]| {
                side.iter()
                    .map(|s| stretch_length(&garment, s))
                    .sum::<f64>()
            };
            let (a, b) = (sum(&seam.a), sum(&seam.b));
            let wanted = match seam.relation {
                Relation::Equal => b,
                Relation::Eased(ease) => b + ease.0,
                Relation::Ratio(ratio) => b * ratio,
            };
            assert!(
                (a - wanted).abs() < 0.01,
                "{}, {}: {a} to {b}",
                garment.name,
                seam.name
            );
            match seam.relation {
                Relation::Eased(ease) => assert!(
                    ease.0 > 0.0 && ease.0 < 0.08 * b,
                    "{}: {ease:?} on {b}",
                    seam.name
                ),
                Relation::Ratio(ratio) => {
                    assert!((1.1..2.5).contains(&ratio), "{}: {ratio}", seam.name)
                }
                Relation::Equal => {}
            }
        }
    }
}

#[test]
fn seams_walk_neighbours_the_opposite_way_round() {
    // Two pieces lying side by side, right sides up, have the seam run up on one and down on the other; a left copy is
    // the mirror image. Shell to lining and a band to itself lie face to face instead.
    for garment in garments() {
        for seam in &garment.seams {
            let runs = |s: &Stretch| (s.to > s.from) != (s.copy.side == Side::Left);
            let all: Vec<&Stretch> = seam.a.iter().chain(&seam.b).collect();
            let roles = all
                .iter()
                .map(|s| s.copy.role)
                .collect::<std::collections::BTreeSet<_>>()
                .len();
            let pieces = all
                .iter()
                .map(|s| &s.piece)
                .collect::<std::collections::BTreeSet<_>>()
                .len();
            let is_band = pieces == 1
                && matches!(
                    garment.piece(&all[0].piece).unwrap().placement,
                    Placement::Follows(_)
                );
            if roles > 1 || is_band {
                continue;
            }
            let a = runs(&seam.a[0]);
            assert!(
                seam.a.iter().all(|s| runs(s) == a),
                "{}, {}",
                garment.name,
                seam.name
            );
            assert!(
                seam.b.iter().all(|s| runs(s) != a),
                "{}, {}",
                garment.name,
                seam.name
            );
        }
    }
}

#[test]
fn stretches_follow_each_other_along_the_whole_seam() {
    // Every corner between two stretches is a corner where one seam meets the other: no stretch is left out or doubled.
    for garment in garments() {
        let mut covered: BTreeMap<(EdgeRef, crate::piece::Copy), Vec<(f64, f64)>> = BTreeMap::new();
        for seam in &garment.seams {
            for s in seam.a.iter().chain(&seam.b) {
                let span = (s.from.min(s.to), s.from.max(s.to));
                let copies = match s.copy.side {
                    Side::Right if seam.mirrored => vec![Side::Right, Side::Left],
                    side => vec![side],
                };
                for side in copies {
                    covered
                        .entry((
                            EdgeRef::new(&s.piece, &s.edge),
                            crate::piece::Copy { side, ..s.copy },
                        ))
                        .or_default()
                        .push(span);
                }
            }
        }
        for piece in &garment.pieces {
            for edge in piece.outline.edges() {
                if piece
                    .darts
                    .iter()
                    .any(|d| d.leg_in == edge.name || d.leg_out == edge.name)
                {
                    continue;
                }
                for copy in &piece.copies {
                    let spans = covered
                        .get(&(EdgeRef::new(&piece.name, &edge.name), *copy))
                        .cloned()
                        .unwrap_or_default();
                    for i in 0..=200 {
                        let fraction = (f64::from(i) + 0.5) / 201.0;
                        let sewn = spans
                            .iter()
                            .filter(|(from, to)| (*from..*to).contains(&fraction))
                            .count();
                        let is_seam = edge.finish_at(fraction) == Finish::Seam;
                        assert_eq!(
                            sewn > 0,
                            is_seam,
                            "{}: {}, {} at {fraction} on {copy:?}",
                            garment.name,
                            piece.name,
                            edge.name
                        );
                    }
                }
            }
        }
    }
}

#[test]
fn every_outline_is_simple_and_counter_clockwise() {
    for garment in garments() {
        for piece in &garment.pieces {
            assert!(
                piece.outline.area() > 0.0,
                "{}, {}",
                garment.name,
                piece.name
            );
            assert_eq!(
                crossing(piece.outline.edges()),
                None,
                "{}, {}",
                garment.name,
                piece.name
            );
        }
    }
}

#[test]
fn dart_legs_are_equal_and_meet_at_the_apex() {
    let mut darts = 0;
    for garment in garments() {
        for piece in &garment.pieces {
            for dart in &piece.darts {
                let leg = |name: &str| &piece.outline.edge(name).unwrap().line;
                assert!((leg(&dart.leg_in).length() - leg(&dart.leg_out).length()).abs() < 1e-9);
                assert!((leg(&dart.leg_in).end() - leg(&dart.leg_out).start()).hypot() < 1e-9);
                assert!(
                    leg(&dart.leg_in).start().y < leg(&dart.leg_in).end().y,
                    "the mouth lies at the waist"
                );
                darts += 1;
            }
        }
    }
    assert_eq!(darts, 4, "one in each jacket");
}

#[test]
fn everything_named_is_there() {
    for garment in garments() {
        for piece in &garment.pieces {
            for line in &piece.body_lines {
                for at in [&line.from, &line.to] {
                    assert!(
                        piece.point_at(at).is_some() && (0.0..=1.0).contains(&at.fraction),
                        "{}, {:?}",
                        piece.name,
                        line
                    );
                }
            }
            for notch in &piece.notches {
                assert!(
                    piece.outline.edge(&notch.edge).is_some()
                        && (0.0..1.0).contains(&notch.fraction),
                    "{}",
                    piece.name
                );
            }
            for op in &piece.fullness {
                assert!(
                    piece.outline.edge(&op.edge).is_some()
                        && op
                            .even_to
                            .as_ref()
                            .is_none_or(|e| piece.outline.edge(e).is_some())
                );
            }
        }
        for opening in &garment.openings {
            for edge in opening.hole.iter().chain(&opening.slit) {
                assert!(
                    garment
                        .piece(&edge.piece)
                        .unwrap()
                        .outline
                        .edge(&edge.edge)
                        .is_some(),
                    "{edge}"
                );
            }
        }
        for piece in &garment.pieces {
            for copy in &piece.copies {
                assert!(
                    garment.cloths.contains_key(&copy.role),
                    "{}: {copy:?} has no cloth",
                    garment.name
                );
            }
        }
    }
}

/// What a tape line measures on the source.
fn tape(garment: &Garment, name: &str) -> f64 {
    let tape = garment.tape_lines.iter().find(|t| t.name == name).unwrap();
    let sum: f64 = tape
        .parts
        .iter()
        .map(|part| {
            let piece = garment.piece(&part.piece).unwrap();
            let times = if tape.kind == TapeKind::Girth {
                times_on_tape(piece, tape.measure)
            } else {
                1.0
            };
            times
                * match &part.path {
                    TapePath::Along { edge, from, to } => piece
                        .outline
                        .edge(edge)
                        .unwrap()
                        .line
                        .between(*from, *to)
                        .unwrap()
                        .length(),
                    TapePath::Across(a, b) => {
                        (piece.point_at(a).unwrap().x - piece.point_at(b).unwrap().x).abs()
                    }
                    TapePath::Upright(a, b) => {
                        (piece.point_at(a).unwrap().y - piece.point_at(b).unwrap().y).abs()
                    }
                }
        })
        .sum();
    sum - tape.overlap.0
}

fn check_tape(garment: &Garment, name: &str, wanted: f64) {
    let got = tape(garment, name);
    assert!(
        (got - wanted).abs() < 0.01,
        "{}, {name}: {got}, wanted {wanted}",
        garment.name
    );
}

#[test]
fn the_jacket_measures_its_body_and_its_ease() {
    let body = woman(919.2, 829.9);
    let jacket = harbour_jacket(&body).unwrap();
    let m = crate::drafts::DraftMeasures::of(&body);
    let inch = 25.4 * 919.2 / 914.4;
    check_tape(&jacket, "bust", 919.2 + 4.0 * inch);
    check_tape(&jacket, "waist", 829.9 + 2.5 * inch);
    check_tape(&jacket, "shoulder", m.shoulder_length - 0.4 * inch);
    let ease = tape(&jacket, "neckline") - m.neck_base_girth;
    assert!(
        (10.0..30.0).contains(&ease),
        "a closed collar needs 10 to 20 mm and room for a blouse: {ease}"
    );
    check_tape(&jacket, "across front", m.width_of_front / 2.0);
    check_tape(&jacket, "across back", m.width_of_back / 2.0);
    check_tape(
        &jacket,
        "armscye depth",
        m.back_waist_length - m.underarm_length,
    );
    check_tape(&jacket, "centre front", m.front_waist_length);
    check_tape(&jacket, "centre back", m.back_waist_length);
    check_tape(&jacket, "sleeve, inside", m.inside_wrist);
    check_tape(&jacket, "upper arm", 1.28 * 298.9);
    check_tape(&jacket, "wrist", 1.2 * m.hand_girth);
}

#[test]
fn the_jacket_is_cut_sixteen_times() {
    let jacket = harbour_jacket(&woman(919.2, 829.9)).unwrap();
    assert_eq!(jacket.copy_count(), 16);
    assert_eq!(
        jacket
            .pieces
            .iter()
            .map(|p| p.copies_in(Role::Lining))
            .sum::<usize>(),
        8
    );
}

#[test]
fn the_skirts_measure_waist_hip_and_length() {
    let body = woman(919.2, 829.9);
    let m = crate::drafts::DraftMeasures::of(&body);
    let gored = gored_sunday_skirt(&body).unwrap();
    let waist = tape(&gored, "waist");
    assert!(
        (829.9..829.9 + 6.0).contains(&waist),
        "curved a little longer than the waist: {waist}"
    );
    let hip = tape(&gored, "hip");
    assert!(
        (m.hip_girth - 0.01..m.hip_girth + 15.0).contains(&hip),
        "{hip}"
    );
    check_tape(&gored, "centre front", m.skirt_front);
    check_tape(&gored, "centre back", 1.02 * m.skirt_front);
    let round = half_circle_sunday_skirt(&body).unwrap();
    check_tape(&round, "waist", 829.9 + 0.75 * 25.4 * 919.2 / 914.4);
    check_tape(&round, "centre front", m.skirt_front);
}

#[test]
fn every_project_fits_three_dolls_or_more_and_names_only_what_it_holds() {
    let (body, dolls) = (woman(919.2, 829.9), dolls());
    let projects: [Project; 3] = [
        harbour_jacket_project(&body, &dolls).unwrap(),
        sunday_skirts_project(&body, &dolls).unwrap(),
        net_menders_smock_project(&body, &dolls).unwrap(),
    ];
    for project in &projects {
        for garment in &project.garments {
            let fittings: Vec<_> = project
                .fittings
                .iter()
                .filter(|f| f.garment == garment.name)
                .collect();
            assert!(fittings.len() >= 3, "{}", garment.name);
            for fitting in fittings {
                assert!(fitting.allowances.seam.0 >= 3.0 && fitting.allowances.seam.0 <= 6.35);
                assert!(
                    fitting.cloths[&Role::Shell].thickness.0
                        < garment.cloths[&Role::Shell].thickness.0 + 1e-9
                );
                assert!(project.body(&fitting.body.name).is_some());
            }
        }
        let names: std::collections::BTreeSet<_> =
            project.fittings.iter().map(|f| &f.name).collect();
        assert_eq!(names.len(), project.fittings.len());
        assert!(
            project
                .outfits
                .iter()
                .flat_map(|o| &o.layers)
                .all(|layer| project.fitting(layer).is_some())
        );
    }
}
