#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::sync::Arc;

use kurbo::Point;

use super::*;
use crate::alteration::{Alteration, Altered, PointRef, ShapeChange};
use crate::check::samples::{doll, finished_with, four, garment, seam, stretch, strip};
use crate::edge::{Edge, Finish, FinishStretch};
use crate::fitting::{DetailRule, Fitting, Shaping};
use crate::fullness::{Fullness, FullnessOp};
use crate::garment::{Garment, Opening, Passing};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::measure::{Level, Measure};
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Dart, DartPress, Piece};
use crate::seams::Relation;
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Mm;

fn front(edge: &str) -> EdgeRef {
    EdgeRef::new("Front", edge)
}

fn notch(edge: &str, fraction: f64) -> Notch {
    Notch {
        edge: edge.to_owned(),
        fraction,
        kind: NotchKind::Single,
    }
}

fn tape(name: &str, paths: Vec<(&str, TapePath)>) -> TapeLine {
    let part = |(piece, path): (&str, TapePath)| TapePart {
        piece: piece.to_owned(),
        path,
    };
    TapeLine {
        name: name.to_owned(),
        measure: Measure::HipGirth,
        share: 1.0,
        kind: TapeKind::Length,
        parts: paths.into_iter().map(part).collect(),
        hold: Hold::Auto,
        overlap: Mm(0.0),
        lacing_gap: Mm(0.0),
    }
}

/// A strip of 100 x 60 whose right side is hemmed below a slit, notched, gathered at the waist; a back sewn to its
/// right side; a tape along, one across.
fn smock() -> Garment {
    let mut piece = finished_with(strip("Front", 100.0, 60.0), "hem", Finish::Raw);
    let edges = piece.outline.edges().iter().cloned().map(|mut edge| {
        if edge.name == "right" {
            edge.finish = vec![FinishStretch {
                from: 0.0,
                to: 0.4,
                finish: Finish::Hem {
                    width: None,
                    turns: 1,
                },
            }];
        }
        edge
    });
    piece.outline = Outline::new(edges.collect()).unwrap();
    piece.notches = vec![notch("right", 0.25), notch("right", 0.9)];
    piece.body_lines = vec![BodyLine {
        level: Level::Hip,
        from: OutlinePoint::new("left", 0.5),
        to: OutlinePoint::new("right", 0.5),
    }];
    piece.fullness = vec![FullnessOp {
        edge: "waist".to_owned(),
        from: 0.0,
        to: 1.0,
        fullness: Fullness::KnifePleats {
            count: 6,
            depth: Mm(2.0),
        },
        even_to: Some("hem".to_owned()),
        layout: Default::default(),
    }];
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.4, 1.0)],
        vec![stretch("Back", "left", 0.6, 0.0)],
        Relation::Equal,
    );
    let mut smock = garment(vec![piece, strip("Back", 100.0, 60.0)], vec![side]);
    smock.tape_lines = vec![
        tape(
            "down the side",
            vec![(
                "Front",
                TapePath::Along {
                    edge: "right".to_owned(),
                    from: 1.0,
                    to: 0.0,
                },
            )],
        ),
        tape(
            "across",
            vec![(
                "Front",
                TapePath::Across(
                    OutlinePoint::new("left", 0.5),
                    OutlinePoint::new("right", 0.5),
                ),
            )],
        ),
    ];
    smock.openings = vec![Opening {
        name: "side slit".to_owned(),
        hole: vec![front("waist")],
        slit: vec![front("right")],
        passes: Passing::Trunk,
    }];
    smock.included_allowance.insert(front("right"), Mm(4.0));
    smock
}

/// The front's right side in two at 40 % from below.
fn side_in_two(before: &Garment) -> Altered {
    let piece = before.piece("Front").unwrap();
    let mut edges = Vec::new();
    for edge in piece.outline.edges() {
        if edge.name == "right" {
            edges.push(Edge::seam("right", edge.line.between(0.0, 0.4).unwrap()));
            edges.push(Edge::seam("above", edge.line.between(0.4, 1.0).unwrap()));
        } else {
            edges.push(edge.clone());
        }
    }
    let split = Piece {
        outline: Outline::new(edges).unwrap(),
        ..Piece::clone(piece)
    };
    Carried::default()
        .with_edge(
            front("right"),
            vec![
                Bit::new((0.0, 0.4), front("right"), (0.0, 1.0)),
                Bit::new((0.4, 1.0), front("above"), (0.0, 1.0)),
            ],
        )
        .altered(before, vec![Arc::new(split), before.pieces[1].clone()])
}

#[test]
fn everything_on_a_split_side_follows_to_its_two_parts() {
    let before = smock();
    let Altered { garment, notes, .. } = side_in_two(&before);
    assert_eq!(garment.check_references(), Ok(()));
    let piece = garment.piece("Front").unwrap();
    let at = |notch: &Notch| piece.point_at(&OutlinePoint::new(&notch.edge, notch.fraction));
    let heights: Vec<f64> = piece.notches.iter().map(|n| at(n).unwrap().y).collect();
    assert!((heights[0] - 15.0).abs() < 1e-9 && (heights[1] - 54.0).abs() < 1e-9);
    let hip = &piece.body_lines[0].to;
    assert_eq!(
        (hip.edge.as_str(), (hip.fraction * 6.0).round()),
        ("above", 1.0)
    );
    let side = &garment.seams[0];
    assert_eq!(side.a, vec![stretch("Front", "above", 0.0, 1.0)]);
    assert!(side.difference(&garment.pieces).unwrap().0.abs() < 1e-9);
    let names: Vec<_> = garment.tape_lines[0]
        .parts
        .iter()
        .map(|p| &p.path)
        .collect();
    let along = |edge: &str| TapePath::Along {
        edge: edge.to_owned(),
        from: 1.0,
        to: 0.0,
    };
    assert_eq!(
        names,
        [&along("above"), &along("right")],
        "walked downwards"
    );
    assert_eq!(garment.openings[0].slit, [front("right"), front("above")]);
    assert_eq!(garment.included_allowance.len(), 2);
    let finish = |edge: &str| piece.outline.edge(edge).unwrap().finish.len();
    assert_eq!(
        (finish("right"), finish("above")),
        (1, 0),
        "the hem stays on the lower part, the upper is a seam"
    );
    assert_eq!(notes, Vec::new());
}

#[test]
fn a_side_split_and_joined_again_is_the_one_before() {
    let before = smock();
    let split = side_in_two(&before);
    let whole = Carried::default()
        .with_edge(
            front("right"),
            vec![Bit::new((0.0, 1.0), front("right"), (0.0, 0.4))],
        )
        .with_edge(
            front("above"),
            vec![Bit::new((0.0, 1.0), front("right"), (0.4, 1.0))],
        );
    let pieces = before.pieces.clone();
    let again = whole.clone().altered(&split.garment, pieces);
    assert_eq!(again.notes, Vec::new());
    let piece = again.garment.piece("Front").unwrap();
    assert!((piece.notches[1].fraction - 0.9).abs() < 1e-9);
    let finish = &piece.outline.edge("right").unwrap().finish;
    assert_eq!(
        finish[0],
        before.pieces[0].outline.edge("right").unwrap().finish[0]
    );
    assert_eq!(again.garment.seams, before.seams);
    assert_eq!(again.garment.openings, before.openings);
    let both = split.carried.then(&whole);
    assert_eq!(both.bits(&front("right")), vec![Bit::whole(front("right"))]);
}

#[test]
fn what_lay_on_an_edge_that_is_gone_is_said_and_not_kept() {
    let before = smock();
    let mut piece = Piece::clone(&before.pieces[0]);
    let corners = [(0.0, 0.0), (100.0, 0.0), (0.0, 60.0)].map(Point::from);
    let edge =
        |name: &str, a: usize, b: usize| Edge::seam(name, Line::straight(corners[a], corners[b]));
    piece.outline = Outline::new(vec![
        edge("hem", 0, 1),
        edge("waist", 1, 2),
        edge("left", 2, 0),
    ])
    .unwrap();
    let gone = Carried::default().with_edge(front("right"), Vec::new());
    let Altered {
        garment,
        carried,
        notes,
    } = gone.altered(&before, vec![Arc::new(piece), before.pieces[1].clone()]);
    assert_eq!(garment.check_references(), Ok(()));
    assert!(garment.seams.is_empty() && carried.seam("side").is_empty());
    let said: Vec<String> = notes.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"), @r"
    Front, right: the notch here is gone with its part of the edge. Mark it anew where it is needed.
    Front, right: the notch here is gone with its part of the edge. Mark it anew where it is needed.
    Front: its hip line could not follow. Lay it anew, so that the piece can be adapted by it.
    side: one of its sides is gone with its edge, so the seam is gone. Say anew what is sewn to what.
    down the side: its part on Front could not follow. Lay the tape anew, so that the garment can be adapted by it.
    across: its part on Front could not follow. Lay the tape anew, so that the garment can be adapted by it.
    side slit: its edges are no longer the same stretch of the outline. Look whether it still opens where it should.
    ");
}

#[test]
fn a_mirrored_piece_keeps_its_dart_and_turns_its_seam_round() {
    let corners = [
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 60.0),
        (60.0, 60.0),
        (50.0, 30.0),
        (40.0, 60.0),
        (0.0, 60.0),
    ]
    .map(Point::from);
    let names = ["hem", "right", "waist side", "in", "out", "waist", "left"];
    let edges = |mirror: f64| -> Vec<Edge> {
        let p: Vec<Point> = corners
            .iter()
            .map(|p| Point::new(mirror * p.x, p.y))
            .collect();
        names
            .iter()
            .enumerate()
            .map(|(i, name)| Edge::seam(*name, Line::straight(p[i], p[(i + 1) % 7])))
            .collect()
    };
    let mut piece = four("Front", [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]);
    piece.outline = Outline::new(edges(1.0)).unwrap();
    piece.darts = vec![Dart {
        name: "waist dart".to_owned(),
        leg_in: "in".to_owned(),
        leg_out: "out".to_owned(),
        pressed: DartPress::Before,
    }];
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 0.8)],
        vec![stretch("Back", "left", 1.0, 0.2)],
        Relation::Equal,
    );
    let before = garment(vec![piece.clone(), strip("Back", 100.0, 60.0)], vec![side]);
    piece.outline = Outline::new(edges(-1.0)).unwrap();
    let turned = names.iter().fold(Carried::default(), |carried, name| {
        carried.with_edge(front(name), vec![Bit::turned(front(name))])
    });
    let after = turned.altered(&before, vec![Arc::new(piece), before.pieces[1].clone()]);
    let dart = &after.garment.pieces[0].darts[0];
    assert_eq!(
        (dart.leg_in.as_str(), dart.leg_out.as_str(), dart.pressed),
        ("out", "in", DartPress::After)
    );
    assert_eq!(
        after.garment.seams[0].a,
        vec![stretch("Front", "right", 1.0, 1.0 - 0.8)]
    );
}

/// The front cut in two upright at 40 mm from its left side.
fn cut_in_two(before: &Garment) -> Altered {
    let old = Piece::clone(&before.pieces[0]);
    let part = |name: &str, from: f64, to: f64| Piece {
        outline: strip(name, 1.0, 1.0)
            .outline
            .with_lines(
                four(name, [(from, 0.0), (to, 0.0), (to, 60.0), (from, 60.0)])
                    .outline
                    .edges()
                    .iter()
                    .map(|edge| edge.line.clone())
                    .collect(),
            )
            .unwrap(),
        name: name.to_owned(),
        ..old.clone()
    };
    let side = |edge: &str| EdgeRef::new("Side", edge);
    Carried::default()
        .with_piece("Front", &["Front", "Side"])
        .with_edge(front("left"), vec![Bit::whole(front("left"))])
        .with_edge(front("right"), vec![Bit::whole(side("right"))])
        .with_edge(
            front("hem"),
            vec![
                Bit::new((0.0, 0.4), front("hem"), (0.0, 1.0)),
                Bit::new((0.4, 1.0), side("hem"), (0.0, 1.0)),
            ],
        )
        .with_edge(
            front("waist"),
            vec![
                Bit::new((0.0, 0.6), side("waist"), (0.0, 1.0)),
                Bit::new((0.6, 1.0), front("waist"), (0.0, 1.0)),
            ],
        )
        .altered(
            before,
            vec![
                Arc::new(part("Front", 0.0, 40.0)),
                Arc::new(part("Side", 40.0, 100.0)),
                before.pieces[1].clone(),
            ],
        )
}

#[test]
fn body_line_and_tape_across_a_cut_piece_go_on_over_both_parts() {
    let before = smock();
    let Altered { garment, notes, .. } = cut_in_two(&before);
    assert_eq!(garment.check_references(), Ok(()));
    for (name, from, to) in [("Front", 0.0, 40.0), ("Side", 40.0, 100.0)] {
        let piece = garment.piece(name).unwrap();
        let hip = &piece.body_lines[0];
        let (a, b) = (piece.point_at(&hip.from), piece.point_at(&hip.to));
        assert!(
            (a.unwrap() - Point::new(from, 30.0)).hypot() < 1e-6,
            "{name}"
        );
        assert!((b.unwrap() - Point::new(to, 30.0)).hypot() < 1e-6, "{name}");
        assert_eq!(piece.fullness.len(), 1);
    }
    let across = crate::garment::tape_measure(&garment.tape_lines[1], &garment.pieces).unwrap();
    assert!((across.0 - 100.0).abs() < 1e-6, "{across:?}");
    let folds: Vec<_> = ["Side", "Front"]
        .map(|name| garment.piece(name).unwrap().fullness[0].fullness)
        .to_vec();
    let pleats = |count| Fullness::KnifePleats {
        count,
        depth: Mm(2.0),
    };
    assert_eq!(
        folds,
        [pleats(4), pleats(2)],
        "dealt out by length, none lost"
    );
    let said: Vec<String> = notes.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(said.join("\n"), @"Front, waist: the fullness here now lies on 2 edges. Look at its folds and what it is spread to.");
}

#[test]
fn a_fitting_follows_with_its_choices_and_its_own_work() {
    let before = smock();
    let cut = cut_in_two(&before).carried;
    let mut fitting = Fitting::new("for the doll", "Smock", Arc::new(doll("doll")));
    fitting
        .shaping
        .insert("Front".to_owned(), Shaping::FollowBody);
    fitting
        .detail_of
        .insert("Back".to_owned(), DetailRule::Girth);
    fitting.allowances.single.insert(front("hem"), Mm(8.0));
    fitting.alterations = vec![
        Alteration::MoveEdge {
            edge: front("right"),
            outwards: Mm(3.0),
        },
        ShapeChange::MovePoints {
            points: vec![PointRef::new("right", 0)],
            right: Mm(1.0),
            up: Mm(0.0),
            keep_smooth: true,
        }
        .of("Front"),
        ShapeChange::SplitEdge {
            at: OutlinePoint::new("hem", 0.7),
            name: "hem 2".to_owned(),
        }
        .of("Front"),
    ];
    let next = cut.fitting(&fitting).unwrap();
    assert_eq!(next.shaping.len(), 2);
    let hems = [front("hem"), EdgeRef::new("Side", "hem")];
    assert!(next.allowances.single.keys().eq(&hems));
    assert_eq!(next.alterations[0].piece(), "Side");
    assert_eq!(next.alterations[1].piece(), "Side");
    let Alteration::Shape {
        piece,
        change: ShapeChange::SplitEdge { at, .. },
    } = &next.alterations[2]
    else {
        panic!("{:?}", next.alterations[2]);
    };
    assert!(piece == "Side" && (at.fraction - 0.5).abs() < 1e-9);
    assert_eq!(Carried::default().fitting(&fitting), None);
    let seam = Carried::default().with_seam("side", &["flank"]);
    assert_eq!(seam.fitting(&fitting), None, "nothing was chosen about it");
}

#[test]
fn a_step_may_be_about_what_an_earlier_step_made_and_allowances_follow() {
    use crate::edit::{Edit, FittingEdit};
    use crate::project::Project;

    let mut fitting = Fitting::new("for the doll", "Smock", Arc::new(doll("doll")));
    fitting.allowances.single.insert(front("hem"), Mm(8.0));
    let project = Project {
        garments: vec![Arc::new(smock())],
        fittings: vec![Arc::new(fitting)],
        ..Project::default()
    };
    let with = |project: &Project, change: FittingEdit| {
        project.edited(&Edit::Fitting {
            fitting: "for the doll".to_owned(),
            change,
        })
    };
    let split = ShapeChange::SplitEdge {
        at: OutlinePoint::new("hem", 0.3),
        name: "hem by the slit".to_owned(),
    };
    let split = with(&project, FittingEdit::AddAlteration(split.of("Front"))).unwrap();
    let own = FittingEdit::SetSingleAllowance(front("hem by the slit"), Some(Mm(3.0)));
    assert!(with(&project, own.clone()).is_err(), "no such edge yet");
    let widths = |project: &Project| {
        let fitting = project.fitting("for the doll").unwrap();
        let garment = project.garment("Smock").unwrap();
        let adapted = crate::adapt::as_drawn(garment, fitting).unwrap();
        let made =
            crate::alteration::replayed(Garment::clone(&adapted.garment), &fitting.alterations, "");
        let single = &fitting.allowances.single;
        let widths = made.0.carried.made_widths(single, garment);
        [front("hem"), front("hem by the slit")].map(|edge| widths.get(&edge).copied())
    };
    assert_eq!(widths(&split), [Some(Mm(8.0)), Some(Mm(8.0))]);
    let chosen = with(&split, own).unwrap();
    assert_eq!(widths(&chosen), [Some(Mm(8.0)), Some(Mm(3.0))]);
    assert_eq!(chosen.waiting_choices(), Vec::new());
    assert_eq!(chosen.check(), Ok(()));
}
