//! Everything that is drawn on a piece, and what the maker is told.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use kurbo::{CubicBez, PathEl, Shape};

use crate::allowance::AllowancePlan;
use crate::edge::{Edge, Finish};
use crate::edit::{Edit, FittingEdit};
use crate::finding::Gravity;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::notch::{Notch, NotchKind};
use crate::piece::{Dart, DartPress, Follow, FollowRule, Placement};

fn piece(edges: Vec<Edge>) -> Piece {
    let rule = FollowRule::Detail;
    Piece {
        name: "skirt front".into(),
        outline: Outline::new(edges).unwrap(),
        placement: Placement::Follows(Follow {
            length: rule.clone(),
            depth: rule,
        }),
        body_lines: vec![],
        darts: vec![],
        notches: vec![],
        marks: vec![],
        grainline: None,
        face: Default::default(),
        fullness: vec![],
        copies: vec![],
    }
}

fn straight(name: &str, a: (f64, f64), b: (f64, f64), finish: Finish) -> Edge {
    Edge::finished(name, Line::straight(a.into(), b.into()), finish)
}

/// Half a skirt front: fold on the left, double hem below, a dart in the waist.
fn skirt() -> Piece {
    let mut skirt = piece(vec![
        straight(
            "hem",
            (0.0, 0.0),
            (80.0, 0.0),
            Finish::Hem {
                width: Some(Mm(10.0)),
                turns: 2,
            },
        ),
        straight("side", (80.0, 0.0), (70.0, 120.0), Finish::Seam),
        straight("waist side", (70.0, 120.0), (40.0, 118.0), Finish::Seam),
        straight("dart in", (40.0, 118.0), (36.0, 90.0), Finish::Seam),
        straight("dart out", (36.0, 90.0), (32.0, 118.0), Finish::Seam),
        straight("waist front", (32.0, 118.0), (0.0, 117.0), Finish::Seam),
        straight("centre front", (0.0, 117.0), (0.0, 0.0), Finish::Fold),
    ]);
    skirt.darts.push(Dart {
        name: "waist dart".into(),
        leg_in: "dart in".into(),
        leg_out: "dart out".into(),
        pressed: DartPress::After,
    });
    skirt
}

fn finished(piece: Piece, plan: &AllowancePlan) -> Warned<FinishedPiece> {
    finish_piece(&Arc::new(piece), plan, "play doll")
}

fn ends(path: &BezPath) -> (Point, Point) {
    let last = path.elements().last().and_then(PathEl::end_point).unwrap();
    (path.elements()[0].end_point().unwrap(), last)
}

#[test]
fn a_skirt_half_is_drawn_with_fold_hem_turns_dart_and_widths() {
    let Warned { outcome, findings } = finished(
        skirt(),
        &AllowancePlan {
            seam: Mm(6.0),
            ..AllowancePlan::default()
        },
    );
    assert_eq!(findings, []);
    let widths: Vec<f64> = outcome.allowances.iter().map(|w| w.0).collect();
    assert_eq!(widths, [20.0, 6.0, 6.0, 0.0, 0.0, 6.0, 0.0]);
    let fold = outcome.fold.unwrap();
    assert!(
        (fold.p1.y - -20.0).abs() < 1e-9 && fold.p0.y > 123.0,
        "from the waist's cut line to the hem's: {fold:?}"
    );
    assert_eq!(
        outcome.fold_lines.len(),
        3,
        "two turns and the dart's middle"
    );
    let (a, b) = ends(&outcome.fold_lines[0]);
    assert!(a.x.abs() < 1e-6 && a.y.abs() < 1e-9, "{a:?}");
    // the side leans by 10 in 120: its cut line meets the hem line 6 mm square from the seam
    assert!(
        (b.x - (80.0 + 6.0 * (10.0_f64.hypot(120.0) / 120.0))).abs() < 1e-6,
        "{b:?}"
    );
    assert!((ends(&outcome.fold_lines[1]).0.y - -10.0).abs() < 1e-9);
    let (apex, tip) = ends(&outcome.fold_lines[2]);
    assert_eq!(apex, Point::new(36.0, 90.0));
    assert!(tip.y > 124.0, "up to the cap: {tip:?}");
    assert_eq!(outcome.sew_lines.len(), 2);
    assert!(outcome.stitch.contains(outcome.label_at));
    assert!(outcome.stitch.contains(outcome.grain.p0) && outcome.stitch.contains(outcome.grain.p1));
    assert!(
        (outcome.grain.p0.x - outcome.grain.p1.x).abs() < 1e-9,
        "upright without a grainline"
    );
}

#[test]
fn the_grain_arrow_follows_the_grainline_and_stays_inside() {
    let mut bias = skirt();
    bias.darts.clear();
    bias.grainline = Some((Point::new(10.0, 30.0), Point::new(50.0, 70.0)));
    let outcome = finished(bias, &AllowancePlan::default()).outcome;
    let d = outcome.grain.p1 - outcome.grain.p0;
    assert!((d.x - d.y).abs() < 1e-9 && d.x > 20.0);
    assert!(outcome.stitch.contains(outcome.grain.p0) && outcome.stitch.contains(outcome.grain.p1));
}

#[test]
fn notch_strokes_stand_square_on_the_cut_line() {
    let mut skirt = skirt();
    for (edge, fraction, kind) in [
        ("side", 0.5, NotchKind::Double),
        ("hem", 0.25, NotchKind::Single),
        ("waist front", 0.5, NotchKind::Triple),
    ] {
        skirt.notches.push(Notch {
            edge: edge.into(),
            fraction,
            kind,
        });
    }
    let plan = AllowancePlan {
        seam: Mm(6.0),
        notch_depth: Mm(3.0),
        ..AllowancePlan::default()
    };
    let outcome = finished(skirt, &plan).outcome;
    assert_eq!(outcome.notches.len(), 6);
    for stroke in &outcome.notches {
        assert!((stroke.length() - 3.0).abs() < 1e-9);
    }
    let side = Point::new(75.0, 60.0);
    let middle = outcome.notches[0].p0.midpoint(outcome.notches[1].p0);
    assert!(((middle - side).hypot() - 6.0).abs() < 1e-6);
    let along = (Point::new(70.0, 120.0) - Point::new(80.0, 0.0)).normalize();
    assert!(
        (outcome.notches[0].p1 - outcome.notches[0].p0)
            .dot(along)
            .abs()
            < 1e-9,
        "square to the side"
    );
    assert!(
        ((outcome.notches[0].p0 - outcome.notches[1].p0).hypot() - 2.0).abs() < 1e-6,
        "two thirds of the stroke apart"
    );
    let hem = outcome.notches[2];
    assert!(
        (hem.p0 - Point::new(20.0, -20.0)).hypot() < 1e-5
            && (hem.p1 - Point::new(20.0, -17.0)).hypot() < 1e-5,
        "{hem:?}"
    );
}

#[test]
fn a_notch_at_a_dart_mouth_lies_on_the_cap_and_one_inside_is_told_of() {
    let mut skirt = skirt();
    skirt.notches.push(Notch {
        edge: "dart in".into(),
        fraction: 0.0,
        kind: NotchKind::Single,
    });
    skirt.notches.push(Notch {
        edge: "dart out".into(),
        fraction: 0.5,
        kind: NotchKind::Single,
    });
    skirt.notches.push(Notch {
        edge: "yoke".into(),
        fraction: 0.5,
        kind: NotchKind::Single,
    });
    let Warned { outcome, findings } = finished(skirt, &AllowancePlan::default());
    assert_eq!(outcome.notches.len(), 1);
    assert!(outcome.notches[0].p0.y > 118.0);
    insta::assert_snapshot!(findings.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"), @r"
    skirt front, dart out: The notch 14.1 mm inside the dart leg lies where no cloth is cut. Mark it with chalk or thread instead, or put a dot there.
    skirt front, yoke: A notch is on an edge called yoke, which this piece does not have. Put the notch on one of the piece's edges.
    ");
}

fn hollow(radius: f64, finish: Finish) -> Piece {
    let k = 0.552_284_749_8 * radius;
    let (l, r, y) = (40.0 - radius, 40.0 + radius, 50.0);
    let curve = Line::from_cubics(&[
        CubicBez::new(
            (r, y),
            (r, y - k),
            (40.0 + k, y - radius),
            (40.0, y - radius),
        ),
        CubicBez::new(
            (40.0, y - radius),
            (40.0 - k, y - radius),
            (l, y - k),
            (l, y),
        ),
    ]);
    piece(vec![
        straight("hem", (0.0, 0.0), (80.0, 0.0), Finish::Seam),
        straight("side", (80.0, 0.0), (80.0, y), Finish::Seam),
        straight("shoulder", (80.0, y), (r, y), Finish::Seam),
        Edge::finished("neckline", curve.unwrap(), finish),
        straight("other shoulder", (l, y), (0.0, y), Finish::Seam),
        straight("other side", (0.0, y), (0.0, 0.0), Finish::Seam),
    ])
}

#[test]
fn a_curve_tighter_than_its_allowance_is_told_with_radius_and_remedy() {
    let plan = AllowancePlan {
        seam: Mm(6.0),
        ..AllowancePlan::default()
    };
    assert_eq!(finished(hollow(8.0, Finish::Seam), &plan).findings, []);
    let findings = finished(hollow(4.0, Finish::Seam), &plan).findings;
    assert_eq!(findings.len(), 1);
    assert_eq!(findings[0].gravity, Gravity::Care);
    insta::assert_snapshot!(findings[0].to_string(), @"skirt front, neckline: This hollow curve (radius 4.0 mm) is tighter than its allowance of 6 mm, by 2.0 mm. Use an allowance of at most 3.9 mm here, or clip it to the stitch line when it is sewn.");
    let Some(Edit::Fitting {
        fitting,
        change: FittingEdit::SetSingleAllowance(edge, Some(width)),
    }) = &findings[0].remedy
    else {
        panic!("no remedy")
    };
    assert_eq!(
        (fitting.as_str(), edge.edge.as_str(), width.0),
        ("play doll", "neckline", 3.9)
    );
    // the remedy helps
    let mut narrow = plan.clone();
    narrow.single.insert(edge.clone(), *width);
    assert_eq!(finished(hollow(4.0, Finish::Seam), &narrow).findings, []);
    // nobody sews with a seam allowance of 1 mm
    let tiny = finished(hollow(1.2, Finish::Seam), &plan).findings;
    assert_eq!((tiny[0].gravity, &tiny[0].remedy), (Gravity::Note, &None));
    assert!(tiny[0].advice.starts_with("Clip it"), "{}", tiny[0].advice);
    // a double hem counts with both turns
    let hem = finished(
        hollow(
            8.0,
            Finish::Hem {
                width: Some(Mm(5.0)),
                turns: 2,
            },
        ),
        &plan,
    )
    .findings;
    assert!(
        hem[0].advice.contains("at most 3.9 mm"),
        "{}",
        hem[0].advice
    );
}

#[test]
fn a_stitch_line_that_crosses_itself_is_unusable_and_still_gives_a_cut_line() {
    let crossed = piece(vec![
        straight("hem", (0.0, 0.0), (60.0, 0.0), Finish::Seam),
        straight("side", (60.0, 0.0), (10.0, 50.0), Finish::Seam),
        straight("top", (10.0, 50.0), (50.0, 50.0), Finish::Seam),
        straight("other side", (50.0, 50.0), (0.0, 0.0), Finish::Seam),
    ]);
    let Warned { outcome, findings } = finished(crossed, &AllowancePlan::default());
    assert_eq!(findings[0].gravity, Gravity::Unusable);
    insta::assert_snapshot!(findings[0].to_string(), @"skirt front, side: The stitch line crosses the edge other side: the cloth would lie over itself. Draw the edges apart, or let the demands that pull them together give way.");
    assert!(outcome.cut.area() > 0.0);
}

#[test]
fn a_bent_fold_and_a_dart_that_is_none_are_unusable() {
    let mut bent = skirt();
    bent.darts[0].leg_out = "side".into();
    let edges: Vec<Edge> = bent
        .outline
        .edges()
        .iter()
        .map(|e| {
            if e.name == "centre front" {
                Edge {
                    line: Line::new(
                        [(0.0, 117.0), (-2.0, 80.0), (-2.0, 40.0), (0.0, 0.0)]
                            .map(Point::from)
                            .to_vec(),
                    )
                    .unwrap(),
                    ..e.clone()
                }
            } else {
                e.clone()
            }
        })
        .collect();
    bent.outline = Outline::new(edges).unwrap();
    let findings = finished(bent, &AllowancePlan::default()).findings;
    assert_eq!(
        findings
            .iter()
            .filter(|f| f.gravity == Gravity::Unusable)
            .count(),
        2
    );
    assert!(
        findings.iter().any(|f| f.what.contains("bends by 1.5 mm")),
        "{findings:?}"
    );
}

#[test]
fn notches_longer_than_the_allowance_are_told_of() {
    let mut skirt = skirt();
    skirt.notches.push(Notch {
        edge: "side".into(),
        fraction: 0.5,
        kind: NotchKind::Single,
    });
    let findings = finished(
        skirt,
        &AllowancePlan {
            seam: Mm(3.0),
            notch_depth: Mm(4.0),
            ..AllowancePlan::default()
        },
    )
    .findings;
    insta::assert_snapshot!(findings[0].to_string(), @"skirt front, side: The notches are 4.0 mm long, the allowance here is 3.0 mm: snipped so deep they would cut the seam. Use notches of 1.5 mm, half the allowance.");
}
