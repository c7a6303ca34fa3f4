//! The hand on the cloth: what is hit, how deep, and where it would just touch.

use kurbo::{Point, Vec2};
use petitoile_lay::search::collision::{Obstacle, Table};
use petitoile_lay::search::{Item, Part, Placed, Problem, Room, Way, Zone};

fn rectangle(x: f64, y: f64, width: f64, height: f64) -> Vec<Point> {
    [
        (x, y),
        (x + width, y),
        (x + width, y + height),
        (x, y + height),
    ]
    .map(Point::from)
    .to_vec()
}

fn two_squares(gap: f64, margin: f64) -> Problem {
    let part = Part {
        outline: rectangle(0.0, 0.0, 20.0, 20.0),
        ..Part::default()
    };
    let item = Item {
        ways: vec![Way {
            parts: vec![part],
            cost: 0,
        }],
        priority: 0,
    };
    let room = Room {
        outline: rectangle(0.0, 0.0, 200.0, 100.0),
        holes: vec![rectangle(150.0, 40.0, 10.0, 10.0)],
        zones: vec![Zone {
            quality: 1,
            polygon: rectangle(100.0, 0.0, 10.0, 10.0),
        }],
        margin,
        ..Room::default()
    };
    Problem {
        rooms: vec![room],
        items: vec![item; 2],
        gap,
        fixed: vec![],
    }
}

fn at(item: usize, x: f64, y: f64) -> Placed {
    Placed {
        item,
        way: 0,
        part: 0,
        room: 0,
        turn_deg: 0.0,
        mirrored: false,
        x,
        y,
    }
}

#[test]
fn a_part_over_another_is_told_with_its_depth() {
    let problem = two_squares(0.0, 0.0);
    let lies = at(0, 40.0, 40.0);
    let table = Table::new(&problem, &[lies]);
    let hits = table.hits(&at(1, 57.0, 41.0));
    assert_eq!(hits.len(), 1);
    assert_eq!(hits[0].what, Obstacle::Part(lies));
    assert!((hits[0].by - 3.0).abs() < 1e-9, "3 mm deep: {}", hits[0].by);
    assert!(table.is_free(&at(1, 61.0, 41.0)));
    assert!(
        table.is_free(&at(0, 41.0, 41.0)),
        "a part is not in its own way"
    );
}

#[test]
fn what_is_missing_of_the_gap_is_told() {
    let problem = two_squares(2.0, 0.0);
    let table = Table::new(&problem, &[at(0, 40.0, 40.0)]);
    let hits = table.hits(&at(1, 60.5, 40.0));
    assert_eq!(hits.len(), 1);
    assert!(
        (hits[0].by - 1.5).abs() < 1e-9,
        "1.5 mm are missing: {}",
        hits[0].by
    );
}

#[test]
fn edge_hole_and_zone_are_told_with_their_depth() {
    let problem = two_squares(0.0, 5.0);
    let table = Table::new(&problem, &[]);
    let by = |placed: &Placed, what: Obstacle| {
        table
            .hits(placed)
            .iter()
            .find(|hit| hit.what == what)
            .map(|hit| hit.by)
    };
    assert_eq!(by(&at(0, 5.0, 50.0), Obstacle::Edge), None);
    let short = by(&at(0, 2.0, 50.0), Obstacle::Edge).unwrap();
    assert!(
        (short - 3.0).abs() < 1e-9,
        "3 mm of the margin are missing: {short}"
    );
    let out = by(&at(0, -7.0, 50.0), Obstacle::Edge).unwrap();
    assert!((out - 12.0).abs() < 1e-9, "7 mm out and 5 mm margin: {out}");
    assert!(by(&at(0, 145.0, 35.0), Obstacle::Hole(0)).unwrap() > 5.0);
    assert!(by(&at(0, 95.0, 8.0), Obstacle::Zone(0)).unwrap() > 1.9);
}

#[test]
fn a_part_snaps_to_touch_and_stays_free() {
    for gap in [0.0, 1.5] {
        let problem = two_squares(gap, 0.0);
        let table = Table::new(&problem, &[at(0, 40.0, 40.0)]);
        let touching = table
            .touch(&at(1, 90.0, 45.0), Vec2::new(-3.0, 0.0), 100.0)
            .unwrap();
        assert!(
            (touching.x - (60.0 + gap)).abs() < 1e-4,
            "gap {gap}: {}",
            touching.x
        );
        assert!(table.is_free(&touching));
        let edge = table
            .touch(&at(1, 90.0, 45.0), Vec2::new(0.0, 1.0), 100.0)
            .unwrap();
        assert!((edge.y - 80.0).abs() < 1e-4, "touches the edge: {}", edge.y);
        let pushed_out = table
            .touch(&at(1, 50.0, 45.0), Vec2::new(1.0, 0.0), 100.0)
            .unwrap();
        assert!(
            (pushed_out.x - (60.0 + gap)).abs() < 1e-4,
            "gap {gap}: {}",
            pushed_out.x
        );
        assert!(table.is_free(&pushed_out));
    }
}

#[test]
fn the_nearest_free_place_is_the_short_way_out() {
    let problem = two_squares(0.0, 0.0);
    let table = Table::new(&problem, &[at(0, 40.0, 40.0)]);
    let free = table.nearest_free(&at(1, 57.0, 40.0), 60.0).unwrap();
    assert!(
        (free.x - 60.0).abs() < 1e-3 && (free.y - 40.0).abs() < 1e-3,
        "3 mm to the right: {free:?}"
    );
    assert!(
        table.nearest_free(&at(1, 57.0, 40.0), 2.0).is_none(),
        "not within 2 mm"
    );
}
