//! What is found in the cloth that is left: free strips; and ways that are added while a search runs.

use kurbo::Point;
use petitoile_lay::search::free_strips::{FreeStrip, StripsAsked, free_strips};
use petitoile_lay::search::{
    Item, Options, Part, Placed, Problem, ProblemError, Room, Search, Way, Zone,
};

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Vec<Point> {
    [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        .map(Point::from)
        .to_vec()
}

fn way(outlines: &[Vec<Point>], cost: u32) -> Way {
    let part = |outline: &Vec<Point>| Part {
        outline: outline.clone(),
        turns: vec![0.0],
        ..Part::default()
    };
    Way {
        parts: outlines.iter().map(part).collect(),
        cost,
    }
}

fn asked(width: f64, least: f64) -> StripsAsked<'static> {
    StripsAsked {
        rooms: None,
        min_quality: None,
        direction_deg: 0.0,
        width,
        least,
        most: 9,
    }
}

/// 100 by 60 mm, margin 2, gap 1; a square of 30 in the lower left corner, a hole from 60 to 70 and 20 to 30.
fn table() -> (Problem, Vec<Placed>) {
    let room = Room {
        outline: rectangle(0.0, 0.0, 100.0, 60.0),
        holes: vec![rectangle(60.0, 20.0, 70.0, 30.0)],
        margin: 2.0,
        ..Room::default()
    };
    let item = Item {
        ways: vec![way(&[rectangle(0.0, 0.0, 30.0, 30.0)], 0)],
        priority: 0,
    };
    let placed = Placed {
        item: 0,
        way: 0,
        part: 0,
        room: 0,
        turn_deg: 0.0,
        mirrored: false,
        x: 0.0,
        y: 0.0,
    };
    let problem = Problem {
        rooms: vec![room],
        items: vec![item],
        gap: 1.0,
        fixed: vec![],
    };
    (problem, vec![placed])
}

#[test]
fn free_strips_are_as_long_as_reckoned_by_hand() {
    let (problem, placed) = table();
    let lengths = |asked: &StripsAsked<'_>| -> Vec<f64> {
        let found = free_strips(&problem, &placed, asked);
        found.iter().map(|strip| strip.length).collect()
    };
    // Above all: 2 to 98. Below the hole: 31 to 98. Between the square and the hole, 2 off it: 31 to 58; beside it 72 to 98.
    let found = lengths(&asked(15.0, 20.0));
    for (length, by_hand) in found.iter().zip([96.0, 67.0, 27.0, 26.0]) {
        assert!((by_hand - 0.1..=by_hand).contains(length), "{found:?}");
    }
    assert_eq!(found.len(), 4);
    assert_eq!(lengths(&asked(15.0, 26.5)).len(), 3);
    // Across the table: 56 along y.
    let upright = StripsAsked {
        direction_deg: 90.0,
        ..asked(15.0, 50.0)
    };
    let upright = lengths(&upright);
    assert!((55.9..=56.0).contains(&upright[0]), "{upright:?}");
    assert!(lengths(&asked(80.0, 1.0)).is_empty());
    assert!(lengths(&asked(f64::NAN, 1.0)).is_empty());
}

#[test]
fn free_strips_keep_off_everything_and_off_each_other() {
    let (mut problem, placed) = table();
    problem.rooms[0].grain.angle_deg = 12.0;
    problem.rooms[0].zones.push(Zone {
        quality: 1,
        polygon: rectangle(80.0, 40.0, 90.0, 50.0),
    });
    let found = free_strips(&problem, &placed, &asked(9.0, 12.0));
    assert!(found.len() > 3, "{found:?}");
    let corners = |strip: &FreeStrip| {
        let way = |along: f64, left: f64| strip.start + strip.way(along, left);
        [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)]
            .map(|(along, left)| way(along * strip.length, left * 9.0))
    };
    // Points all over each strip: off the edge by the margin, off the others by the gap.
    let within = |p: Point, x0: f64, y0: f64, x1: f64, y1: f64, by: f64| {
        p.x > x0 - by && p.x < x1 + by && p.y > y0 - by && p.y < y1 + by
    };
    let mut all: Vec<Vec<Point>> = Vec::new();
    for strip in &found {
        assert!((strip.angle_deg - 12.0).abs() < 1e-12);
        let mut points = Vec::new();
        for i in 0..=40 {
            for j in 0..=10 {
                let way = strip.way(
                    strip.length * f64::from(i) / 40.0,
                    9.0 * f64::from(j) / 10.0,
                );
                points.push(strip.start + way);
            }
        }
        for p in &points {
            assert!(within(*p, 2.0, 2.0, 98.0, 58.0, 0.0), "{p:?}");
            assert!(!within(*p, 0.0, 0.0, 30.0, 30.0, 0.7), "{p:?}");
            assert!(!within(*p, 60.0, 20.0, 70.0, 30.0, 1.4), "{p:?}");
            assert!(!within(*p, 80.0, 40.0, 90.0, 50.0, 0.7), "{p:?}");
        }
        for other in &all {
            let near = points
                .iter()
                .flat_map(|p| other.iter().map(move |q| (*p - *q).hypot()))
                .fold(f64::INFINITY, f64::min);
            assert!(near >= 1.0 - 1e-9, "{near}");
        }
        all.push(points);
        assert!(corners(strip).iter().all(|p| p.is_finite()));
    }
    // Poor cloth is good enough for some.
    let inside = StripsAsked {
        min_quality: Some(1),
        ..asked(9.0, 12.0)
    };
    let sum = |strips: &[FreeStrip]| strips.iter().map(|strip| strip.length).sum::<f64>();
    assert!(sum(&free_strips(&problem, &placed, &inside)) > sum(&found));
}

/// A square of 30 on two rooms that each take only a half of it.
fn halves() -> Problem {
    let room = |height: f64| Room {
        outline: rectangle(0.0, 0.0, 32.0, height),
        ..Room::default()
    };
    Problem {
        rooms: vec![room(20.0), room(20.0)],
        items: vec![Item {
            ways: vec![way(&[rectangle(0.0, 0.0, 30.0, 30.0)], 0)],
            priority: 0,
        }],
        gap: 0.0,
        fixed: vec![],
    }
}

#[test]
fn a_way_that_is_added_is_offered_at_a_place_or_found_by_the_search() {
    let half = rectangle(0.0, 0.0, 30.0, 18.0);
    let split = way(&[half.clone(), half], 1);
    let new = || {
        let mut search = Search::new(&halves(), Options::default()).unwrap();
        search.run_for(40);
        assert!(!search.progress().complete);
        let number = search.add_way(0, &split).unwrap();
        assert_eq!(number, 1);
        search
    };
    let mut offered = new();
    let at = |room: usize, x: f64| {
        Some(Placed {
            item: 0,
            way: 0,
            part: 0,
            room,
            turn_deg: 0.0,
            mirrored: false,
            x,
            y: 1.0,
        })
    };
    assert!(
        !offered.offer_places(0, 1, &[at(0, 1.0), at(0, 1.0)]),
        "on each other"
    );
    assert!(
        !offered.offer_places(0, 1, &[at(0, 5.0), None]),
        "over the edge"
    );
    assert!(!offered.progress().complete);
    assert!(offered.offer_places(0, 1, &[at(1, 1.5), None]));
    assert!(offered.progress().complete);
    let first = offered.best().placed[0];
    assert_eq!((first.room, first.way, first.part), (1, 1, 0));
    assert!((first.x - 1.5).abs() < 1e-4 && (first.y - 1.0).abs() < 1e-4);
    offered.run_for(500);
    assert!(offered.progress().complete);
    // The search finds it by itself, too, and the same each time.
    let run = || {
        let mut search = new();
        search.run_for(3000);
        search.best().clone()
    };
    let found = run();
    assert!(found.not_placed.is_empty());
    assert_eq!(found, run());
}

#[test]
fn a_way_that_cannot_be_used_changes_nothing() {
    let mut search = Search::new(&halves(), Options::default()).unwrap();
    let crossed = [(0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0)].map(Point::from);
    let good = rectangle(0.0, 0.0, 3.0, 3.0);
    let refused = search.add_way(0, &way(&[good, crossed.to_vec()], 0));
    assert!(matches!(refused, Err(ProblemError::Outline { .. })));
    assert!(search.add_way(7, &Way::default()).is_err());
    assert!(!search.offer_places(0, 1, &[]));
    assert!(!search.offer_places(7, 0, &[]));
    search.run_for(100);
    assert_eq!(search.problem().items[0].ways.len(), 1);
}
