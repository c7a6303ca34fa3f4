//! Cases whose result can be written down.

use kurbo::{CubicBez, Point};

use super::*;
use crate::edge::Edge;
use crate::geometry::curve::Line;
use crate::measure::Level;
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Mark, MarkKind};

fn spread(from: (&str, f64), to: (&str, f64), by: f64, how: Spreading) -> ShapeChange {
    ShapeChange::Spread {
        from: place(from.0, from.1),
        to: place(to.0, to.1),
        by: Mm(by),
        how,
    }
}

fn notched(mut piece: Piece, edge: &str, fraction: f64) -> Piece {
    piece.notches.push(Notch {
        edge: edge.to_owned(),
        fraction,
        kind: NotchKind::Single,
    });
    piece
}

fn near(a: Point, b: (f64, f64)) -> bool {
    (a - Point::from(b)).hypot() < 1e-6
}

#[test]
fn a_strip_spread_evenly_is_wider_by_just_that_at_hem_and_waist() {
    let strip = notched(strip("Front", 100.0, 60.0), "hem", 0.8);
    for by in [7.0, -7.0] {
        let wider = after(
            strip.clone(),
            spread(("hem", 0.3), ("waist", 0.7), by, Spreading::Even),
        );
        assert!((length(&wider, "hem") - 100.0 - by).abs() < 1e-9);
        assert!((length(&wider, "waist") - 100.0 - by).abs() < 1e-9);
        assert!((length(&wider, "left") - 60.0).abs() < 1e-9);
        let hem = &wider.outline.edge("hem").unwrap().line;
        assert!(hem.is_straight() && hem.points().len() == 4);
        let notch = hem.at(wider.notches[0].fraction);
        let from_side = (wider.outline.edge("right").unwrap().line.start() - notch).hypot();
        assert!((from_side - 20.0).abs() < 1e-3, "{from_side}");
    }
}

#[test]
fn a_strip_hinged_at_the_waist_opens_at_the_hem_and_keeps_its_waist() {
    let opened = after(
        strip("Front", 100.0, 60.0),
        spread(
            ("hem", 0.5),
            ("waist", 0.5),
            8.0,
            Spreading::Hinged(HingeEnd::To),
        ),
    );
    assert!((length(&opened, "hem") - 108.0).abs() < 1e-9);
    assert!((length(&opened, "waist") - 100.0).abs() < 1e-9);
    let hem = opened.outline.edge("hem").unwrap().line.points();
    let gap = (hem[6] - hem[3]).hypot();
    assert!((gap - 8.0).abs() < 1e-9, "the slash stands {gap} mm open");
    let at_the_waist = after(
        strip("Front", 100.0, 60.0),
        spread(
            ("hem", 0.5),
            ("waist", 0.5),
            8.0,
            Spreading::Hinged(HingeEnd::From),
        ),
    );
    assert!((length(&at_the_waist, "waist") - 108.0).abs() < 1e-9);
    assert!((length(&at_the_waist, "hem") - 100.0).abs() < 1e-9);
}

#[test]
fn a_slash_to_a_corner_puts_its_cloth_on_the_edge_it_was_said_of() {
    let wider = after(
        strip("Front", 100.0, 60.0),
        spread(("hem", 0.0), ("waist", 1.0), 5.0, Spreading::Even),
    );
    assert!((length(&wider, "hem") - 105.0).abs() < 1e-9);
    assert!((length(&wider, "waist") - 105.0).abs() < 1e-9);
    assert!((length(&wider, "left") - 60.0).abs() < 1e-9);
}

#[test]
fn a_half_on_the_fold_is_spread_away_from_its_fold() {
    let half = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    let wider = after(
        half.clone(),
        spread(("hem", 0.5), ("waist", 0.5), 8.0, Spreading::Even),
    );
    let fold = &wider.fold_edge().unwrap().line;
    assert!(near(fold.start(), (0.0, 60.0)) && near(fold.end(), (0.0, 0.0)));
    assert!((wider.outline.bounds().width() - 108.0).abs() < 1e-9);
    let across = spread(("left", 0.5), ("right", 0.5), 8.0, Spreading::Even);
    let longer = after(half.clone(), across);
    assert!(longer.fold_edge().unwrap().line.is_straight());
    assert!((length(&longer, "left") - 68.0).abs() < 1e-9);
    let bent = spread(
        ("left", 0.5),
        ("right", 0.5),
        8.0,
        Spreading::Hinged(HingeEnd::To),
    );
    insta::assert_snapshot!(refused(half, bent), @"the corner would leave the fold of the cloth by 2.7 mm");
}

#[test]
fn lengthening_at_a_line_moves_what_lies_right_of_it_and_keeps_marks_on_their_cloth() {
    let mut skirt = four(
        "Front",
        [(-30.0, 0.0), (130.0, 0.0), (100.0, 60.0), (0.0, 60.0)],
    );
    skirt.marks = vec![
        Mark {
            name: "pocket".to_owned(),
            kind: MarkKind::Dot(Point::new(50.0, 10.0)),
        },
        Mark {
            name: "button".to_owned(),
            kind: MarkKind::Dot(Point::new(50.0, 50.0)),
        },
    ];
    skirt.body_lines = vec![BodyLine {
        level: Level::Hip,
        from: place("left", 1.0 / 6.0),
        to: place("right", 5.0 / 6.0),
    }];
    let line = ShapeChange::Lengthen {
        from: place("right", 0.5),
        to: place("left", 0.5),
        by: Mm(-12.0),
    };
    // walked from right to left, what lies above is on the right
    let shorter = after(skirt.clone(), line);
    assert!((shorter.outline.bounds().height() - 48.0).abs() < 1e-9);
    assert!(
        shorter
            .outline
            .edges()
            .iter()
            .all(|edge| edge.line.is_straight())
    );
    assert_eq!(shorter.marks[0], skirt.marks[0]);
    assert_eq!(shorter.marks[1].kind, MarkKind::Dot(Point::new(50.0, 38.0)));
    let line = ShapeChange::Lengthen {
        from: place("left", 0.5),
        to: place("right", 0.5),
        by: Mm(12.0),
    };
    let longer = after(skirt.clone(), line);
    assert!((longer.outline.bounds().y0 + 12.0).abs() < 1e-9);
    let hip = &longer.body_lines[0];
    let (a, b) = (
        longer.point_at(&hip.from).unwrap(),
        longer.point_at(&hip.to).unwrap(),
    );
    assert!(
        (a.y - b.y).abs() < 1e-3 && (a.y - 50.0).abs() < 0.5,
        "{a:?} {b:?}"
    );
}

#[test]
fn width_at_a_side_tapers_to_nothing_at_the_waist() {
    let change = ShapeChange::Widen {
        edge: "right".to_owned(),
        at_start: Mm(10.0),
        at_end: Mm(0.0),
    };
    let flared = after(strip("Front", 100.0, 60.0), change);
    assert!((length(&flared, "hem") - 110.0).abs() < 1e-9);
    assert!((length(&flared, "waist") - 100.0).abs() < 1e-9);
    assert!(flared.outline.edge("right").unwrap().line.is_straight());
}

#[test]
fn a_raised_waist_leaves_the_hem_where_it_is() {
    let raise = |by: &[f64]| ShapeChange::Raise {
        edge: "waist".to_owned(),
        by: by.iter().map(|by| Mm(*by)).collect(),
    };
    let level = after(strip("Back", 100.0, 60.0), raise(&[9.0, 9.0, 9.0]));
    assert!((level.outline.area() - 100.0 * 69.0).abs() < 1e-6);
    // The waist runs from right to left: raised at its end, the left side.
    let sloped = after(strip("Back", 100.0, 60.0), raise(&[0.0, 0.0, 4.5, 9.0]));
    assert!((length(&sloped, "hem") - 100.0).abs() < 1e-9);
    assert!((length(&sloped, "right") - 60.0).abs() < 1e-9);
    assert!((length(&sloped, "left") - 69.0).abs() < 1e-9);
    assert!(sloped.outline.edge("left").unwrap().line.is_straight());
}

#[test]
fn a_round_waist_raised_evenly_stays_round() {
    // A quarter ring of radii 60 and 200: raised by 9 mm all along, its waist has the radius 51.
    let quarter = |r: f64, from: f64, to: f64| {
        let k = 0.552_284_749_830_793_4 * r;
        let (a, b) = (
            Point::new(r * from.cos(), r * from.sin()),
            Point::new(r * to.cos(), r * to.sin()),
        );
        let turn = (to - from).signum();
        let along = |t: f64| kurbo::Vec2::new(-t.sin(), t.cos()) * k * turn;
        Line::from_cubics(&[CubicBez::new(a, a + along(from), b - along(to), b)]).unwrap()
    };
    let right = std::f64::consts::FRAC_PI_2;
    let (waist, hem) = (
        quarter(60.0, -right, -2.0 * right),
        quarter(200.0, -2.0 * right, -right),
    );
    let sides = (
        Line::straight(waist.end(), hem.start()),
        Line::straight(hem.end(), waist.start()),
    );
    let edges = vec![
        Edge::seam("waist", waist),
        Edge::seam("left", sides.0),
        Edge::seam("hem", hem),
        Edge::seam("right", sides.1),
    ];
    let piece = Piece {
        outline: Outline::new(edges).unwrap(),
        ..strip("Quarter", 10.0, 10.0)
    };
    let raised = after(
        piece,
        ShapeChange::Raise {
            edge: "waist".to_owned(),
            by: vec![Mm(9.0); 13],
        },
    );
    let waist = &raised.outline.edge("waist").unwrap().line;
    for i in 0..=40 {
        let far = waist.at(f64::from(i) / 40.0).to_vec2().hypot();
        // The one cubic of the source is round to 0.03 % of its radius.
        assert!((far - 51.0).abs() < 0.05, "{far}");
    }
    assert!((length(&raised, "hem") - right * 200.0).abs() < 0.1);
}

#[test]
fn an_edge_brought_to_a_length_ends_there_and_its_neighbour_follows() {
    let to = |length: f64| ShapeChange::SetLength {
        edge: "hem".to_owned(),
        length: Mm(length),
    };
    let strip = notched(strip("Front", 100.0, 60.0), "hem", 0.5);
    for wanted in [80.0, 125.0] {
        let set = after(strip.clone(), to(wanted));
        assert!((length(&set, "hem") - wanted).abs() < 1e-9);
        let right = &set.outline.edge("right").unwrap().line;
        assert!(near(right.start(), (wanted, 0.0)) && near(right.end(), (100.0, 60.0)));
        let at = set
            .outline
            .edge("hem")
            .unwrap()
            .line
            .at(set.notches[0].fraction);
        assert!(
            (at.x - 50.0).abs() < 1e-3,
            "the notch keeps its place: {at:?}"
        );
    }
    insta::assert_snapshot!(refused(strip, to(-3.0)), @"hem cannot be -3.00 mm long; type a length above 0.001 mm, or join it to its neighbour");
}

#[test]
fn a_moved_corner_keeps_straight_edges_straight_and_a_moved_steering_point_turns_its_mate() {
    let points = |points: &[(&str, usize)], right: f64, up: f64, keep_smooth: bool| {
        ShapeChange::MovePoints {
            points: points.iter().map(|(e, n)| PointRef::new(*e, *n)).collect(),
            right: Mm(right),
            up: Mm(up),
            keep_smooth,
        }
    };
    let moved = after(
        strip("Front", 100.0, 60.0),
        points(&[("hem", 3)], 6.0, -4.0, true),
    );
    for edge in ["hem", "right"] {
        assert!(moved.outline.edge(edge).unwrap().line.is_straight());
    }
    assert!(near(
        moved.outline.edge("right").unwrap().line.start(),
        (106.0, -4.0)
    ));
    // a side with a point in its middle, bent there by its steering points
    let halved = after(
        strip("Front", 100.0, 60.0),
        ShapeChange::AddPoint {
            at: place("right", 0.5),
        },
    );
    let bent = after(
        halved,
        points(&[("right", 2), ("right", 4)], 8.0, 0.0, true),
    );
    assert_eq!(length(&bent, "hem"), 100.0);
    let pulled = after(bent.clone(), points(&[("right", 2)], 5.0, 0.0, true));
    let line = pulled.outline.edge("right").unwrap().line.points();
    let (before, after_it) = (line[2] - line[3], line[4] - line[3]);
    assert!(before.cross(after_it).abs() < 1e-9 * before.hypot() * after_it.hypot() + 1e-9);
    let broken = after(bent, points(&[("right", 2)], 5.0, 0.0, false));
    let line = broken.outline.edge("right").unwrap().line.points();
    assert!(near(line[4], (108.0, 40.0)), "{:?}", line[4]);
}

#[test]
fn a_stretch_moves_as_a_whole_and_what_is_beside_it_follows_evenly() {
    let change = |from, to| ShapeChange::MoveStretch {
        from,
        to,
        right: Mm(0.0),
        up: Mm(-6.0),
    };
    let dipped = after(
        strip("Front", 100.0, 60.0),
        change(place("hem", 0.25), place("hem", 0.75)),
    );
    let hem = &dipped.outline.edge("hem").unwrap().line;
    let on: Vec<Point> = hem.points().iter().step_by(3).copied().collect();
    for (p, wanted) in on
        .iter()
        .zip([(0.0, 0.0), (25.0, -6.0), (75.0, -6.0), (100.0, 0.0)])
    {
        assert!(near(*p, wanted), "{p:?}");
    }
    // from corner to corner: the hem itself, sides follow
    let down = after(
        strip("Front", 100.0, 60.0),
        change(place("hem", 0.0), place("hem", 1.0)),
    );
    assert!((length(&down, "left") - 66.0).abs() < 1e-9);
    assert!(
        down.outline
            .edges()
            .iter()
            .all(|edge| edge.line.is_straight())
    );
    // everything but the waist
    let most = after(
        strip("Front", 100.0, 60.0),
        change(place("left", 0.0), place("right", 1.0)),
    );
    assert!(
        (most.outline.bounds().y1 - 54.0).abs() < 1e-9,
        "the waist goes with its ends"
    );
}

#[test]
fn a_corner_made_smooth_lets_the_curve_go_on_in_the_direction_of_the_straight_edge() {
    let curve = Line::new(
        [(100.0, 60.0), (90.0, 90.0), (60.0, 80.0), (0.0, 60.0)]
            .map(Point::from)
            .to_vec(),
    )
    .unwrap();
    let mut piece = strip("Front", 100.0, 60.0);
    let lines = piece.outline.edges().iter().map(|edge| {
        if edge.name == "waist" {
            curve.clone()
        } else {
            edge.line.clone()
        }
    });
    piece.outline = piece.outline.with_lines(lines.collect()).unwrap();
    let smooth = after(
        piece,
        ShapeChange::Smooth {
            point: PointRef::new("waist", 0),
        },
    );
    let line = smooth.outline.edge("waist").unwrap().line.points();
    assert!((line[1].x - 100.0).abs() < 1e-9 && line[1].y > 60.0);
    assert!(smooth.outline.edge("right").unwrap().line.is_straight());
    insta::assert_snapshot!(refused(smooth, ShapeChange::Smooth { point: PointRef::new("waist", 1) }), @"point 1 of waist steers the curve; choose a point that lies on the line");
}

#[test]
fn an_edge_is_drawn_anew_between_its_corners_and_on_another_body_it_is_fitted_in() {
    let arc = |scale: f64| {
        Line::new(
            [(100.0, 60.0), (80.0, 70.0), (20.0, 70.0), (0.0, 60.0)]
                .map(|(x, y)| Point::new(x * scale, y * scale))
                .to_vec(),
        )
        .unwrap()
    };
    let redraw = |line: Line| ShapeChange::Redraw {
        edge: "waist".to_owned(),
        line,
    };
    let drawn = after(strip("Front", 100.0, 60.0), redraw(arc(1.0)));
    assert_eq!(drawn.outline.edge("waist").unwrap().line, arc(1.0));
    let smaller = after(strip("Front", 60.0, 36.0), redraw(arc(1.0)));
    for (p, q) in smaller
        .outline
        .edge("waist")
        .unwrap()
        .line
        .points()
        .iter()
        .zip(arc(0.6).points())
    {
        assert!((*p - *q).hypot() < 1e-9);
    }
    insta::assert_snapshot!(refused(strip("Front", 20.0, 60.0), redraw(arc(1.0))), @"the new line of waist ends 80.0 mm away from its corner; draw it from corner to corner");
    let straight = ShapeChange::Straighten {
        edge: "waist".to_owned(),
    };
    assert!((length(&after(drawn, straight), "waist") - 100.0).abs() < 1e-9);
}

#[test]
fn a_piece_turned_to_its_grain_stands_upright() {
    let mut piece = strip("Front", 100.0, 60.0);
    piece.grainline = Some((Point::new(30.0, 30.0), Point::new(60.0, 30.0)));
    let upright = after(piece.clone(), ShapeChange::TurnToGrain);
    let (a, b) = upright.grainline.unwrap();
    assert!((a.x - b.x).abs() < 1e-9 && (b.y - a.y - 30.0).abs() < 1e-9);
    assert!((upright.outline.bounds().height() - 100.0).abs() < 1e-9);
    insta::assert_snapshot!(refused(upright, ShapeChange::TurnToGrain), @"its grainline stands upright already; there is nothing to turn");
    let turn = ShapeChange::Turn { by: Degrees(90.0) };
    let on_its_side = after(strip("Front", 100.0, 60.0), turn);
    let (a, b) = on_its_side.grainline.unwrap();
    assert!(
        (a.y - b.y).abs() < 1e-9,
        "what stood upright lies level now"
    );
}

#[test]
fn what_cannot_be_said_with_the_edge_or_the_mm_is_refused_with_a_remedy() {
    let plain = || strip("Front", 100.0, 60.0);
    let split = |at: OutlinePoint, name: &str| ShapeChange::SplitEdge {
        at,
        name: name.to_owned(),
    };
    insta::assert_snapshot!(refused(plain(), split(place("hem", 0.00001), "hem 2")), @"hem would be split 0.00 mm from its end; choose a place at least 0.01 mm inside");
    insta::assert_snapshot!(refused(plain(), split(place("hem", 0.5), "waist")), @"another edge is called waist already; choose another name");
    insta::assert_snapshot!(refused(plain(), split(place("neck", 0.5), "neck 2")), @"the piece has no edge called neck any more");
    let half = finished_with(plain(), "left", Finish::Fold);
    insta::assert_snapshot!(refused(half.clone(), split(place("left", 0.5), "left 2")), @"left is the fold, which stays one edge; open the piece out first");
    let join = ShapeChange::JoinEdges {
        edge: "waist".to_owned(),
    };
    insta::assert_snapshot!(refused(half.clone(), join), @"only one of waist and left lies on the fold; they cannot be one edge");
    let off_fold = ShapeChange::MovePoints {
        points: vec![PointRef::new("left", 0)],
        right: Mm(3.0),
        up: Mm(0.0),
        keep_smooth: true,
    };
    insta::assert_snapshot!(refused(half, off_fold), @"the corner would leave the fold of the cloth by 3.0 mm");
    let onto = ShapeChange::MovePoints {
        points: vec![PointRef::new("hem", 0)],
        right: Mm(100.0),
        up: Mm(0.0),
        keep_smooth: true,
    };
    insta::assert_snapshot!(refused(plain(), onto), @"hem would have no length left; move it less, or join it to its neighbour first");
    let along_nothing = spread(("hem", 0.5), ("hem", 0.5), 4.0, Spreading::Even);
    insta::assert_snapshot!(refused(plain(), along_nothing), @"the line would be 0.00 mm long; lay it across the piece, from one edge to another");
    let wide = spread(
        ("hem", 0.5),
        ("waist", 0.5),
        90.0,
        Spreading::Hinged(HingeEnd::To),
    );
    insta::assert_snapshot!(refused(plain(), wide), @"a slash of 60.0 mm opens by 60.0 mm at most; slash at several places for more");
    let lapped = spread(("hem", 0.1), ("waist", 0.9), -30.0, Spreading::Even);
    insta::assert_snapshot!(refused(plain(), lapped), @"hem is too short to be lapped by 30.0 mm here; lap less, or lay the line elsewhere");
}
