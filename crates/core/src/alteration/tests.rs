#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]

use kurbo::Point;

use super::*;
use crate::check::samples::{finished_with, four, garment, strip};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::BodyLine;

fn move_edge(edge: &str, by: f64) -> Alteration {
    Alteration::MoveEdge {
        edge: EdgeRef::new("Front", edge),
        outwards: Mm(by),
    }
}

fn move_corner(edge: &str, right: f64, up: f64) -> Alteration {
    Alteration::MoveCorner {
        edge: EdgeRef::new("Front", edge),
        right: Mm(right),
        up: Mm(up),
    }
}

fn altered(piece: Piece, alterations: &[Alteration]) -> Arc<Piece> {
    let Warned { outcome, findings } = replay(
        garment(vec![piece], Vec::new()),
        alterations,
        "Smock for the doll",
    );
    assert_eq!(findings, Vec::new());
    outcome.pieces[0].clone()
}

fn said(piece: Piece, alteration: Alteration) -> String {
    let before = piece.clone();
    let Warned { outcome, findings } = replay(
        garment(vec![piece], Vec::new()),
        &[move_edge("hem", 0.0), alteration],
        "Smock for the doll",
    );
    assert_eq!(
        outcome.pieces[0].outline, before.outline,
        "what does not apply changes nothing"
    );
    let remove = FittingEdit::RemoveAlteration(1);
    assert_eq!(
        findings[0].remedy,
        Some(Edit::Fitting {
            fitting: "Smock for the doll".to_owned(),
            change: remove
        })
    );
    findings[0].to_string()
}

#[test]
fn a_hem_let_down_slides_along_the_slanting_side_seams() {
    let skirt = four(
        "Front",
        [(-30.0, 0.0), (130.0, 0.0), (100.0, 60.0), (0.0, 60.0)],
    );
    let longer = altered(skirt, &[move_edge("hem", 20.0)]);
    let hem = &longer.outline.edge("hem").unwrap().line;
    assert!(
        (hem.start() - Point::new(-40.0, -20.0)).hypot() < 1e-9
            && (hem.end() - Point::new(140.0, -20.0)).hypot() < 1e-9
    );
    assert!(
        longer
            .outline
            .edges()
            .iter()
            .all(|edge| edge.line.is_straight())
    );
}

#[test]
fn a_curved_armscye_moves_sideways_and_stays_smooth() {
    let p = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)].map(Point::from);
    let bend = Line::new(vec![
        p[1],
        Point::new(90.0, 10.0),
        Point::new(85.0, 20.0),
        Point::new(85.0, 30.0),
        Point::new(85.0, 40.0),
        Point::new(90.0, 50.0),
        p[2],
    ])
    .unwrap();
    let edges = vec![
        Edge::seam("hem", Line::straight(p[0], p[1])),
        Edge::seam("right", bend.clone()),
        Edge::seam("waist", Line::straight(p[2], p[3])),
        Edge::seam("left", Line::straight(p[3], p[0])),
    ];
    let front = Piece {
        outline: Outline::new(edges).unwrap(),
        ..strip("Front", 1.0, 1.0)
    };
    let moved = altered(front, &[move_edge("right", -4.0)]);
    let line = &moved.outline.edge("right").unwrap().line;
    assert!(
        (line.at(0.5).x - 81.0).abs() < 1e-6,
        "the middle moves in by 4 mm: {:?}",
        line.at(0.5)
    );
    let (a, b) = (
        line.points()[3] - line.points()[2],
        line.points()[4] - line.points()[3],
    );
    assert!(
        (a.cross(b) / (a.hypot() * b.hypot())).abs() < 1e-9,
        "no kink at the joint"
    );
    assert!(
        (line.start().y).abs() < 1e-9 && (line.end().y - 60.0).abs() < 1e-9,
        "corners stay on hem and waist"
    );
}

#[test]
fn a_moved_corner_takes_both_edges_along() {
    let front = altered(
        strip("Front", 100.0, 60.0),
        &[move_corner("waist", 5.0, 3.0)],
    );
    for (edge, end) in [("right", 1), ("waist", 0)] {
        let line = &front.outline.edge(edge).unwrap().line;
        let corner = if end == 1 { line.end() } else { line.start() };
        assert!((corner - Point::new(105.0, 63.0)).hypot() < 1e-9);
        assert!(line.is_straight());
    }
}

fn with_waistline(mut piece: Piece, fraction: f64) -> Piece {
    piece.body_lines.push(BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("left", fraction),
        to: OutlinePoint::new("right", 1.0 - fraction),
    });
    piece
}

#[test]
fn lengthening_at_the_waist_moves_only_what_hangs_below() {
    let front = with_waistline(strip("Front", 100.0, 60.0), 0.4);
    let longer = altered(
        front,
        &[Alteration::LengthenAt {
            piece: "Front".to_owned(),
            level: Level::Waist,
            by: Mm(8.0),
        }],
    );
    assert!(
        (longer.outline.bounds().y1 - 60.0).abs() < 1e-9
            && (longer.outline.bounds().y0 + 8.0).abs() < 1e-9
    );
}

#[test]
fn lengthening_at_a_line_on_the_lower_edge_lets_that_edge_down() {
    let bodice = with_waistline(strip("Front", 100.0, 60.0), 1.0);
    let longer = altered(
        bodice,
        &[Alteration::LengthenAt {
            piece: "Front".to_owned(),
            level: Level::Waist,
            by: Mm(8.0),
        }],
    );
    assert!(
        (longer.outline.bounds().height() - 68.0).abs() < 1e-9
            && (longer.outline.bounds().y1 - 60.0).abs() < 1e-9
    );
}

#[test]
fn a_lengthened_half_keeps_its_fold_on_the_fold() {
    let half = finished_with(
        with_waistline(strip("Front", 100.0, 60.0), 0.5),
        "left",
        Finish::Fold,
    );
    let longer = altered(
        half,
        &[Alteration::LengthenAt {
            piece: "Front".to_owned(),
            level: Level::Waist,
            by: Mm(8.0),
        }],
    );
    let fold = &longer.fold_edge().unwrap().line;
    assert!(fold.start().x.abs() < 1e-9 && fold.end().x.abs() < 1e-9 && fold.is_straight());
}

#[test]
fn what_no_longer_applies_is_said_and_not_lost() {
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), move_edge("armscye", 2.0)), @"Front, armscye: moving armscye by 2.0 mm was left out: the piece has no edge called armscye any more. Make it again in another way, or take it off the list.");
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), move_edge("waist", -70.0)), @"Front, waist: moving waist by -70.0 mm was left out: the outline would cross itself; -59.9 mm of the -70.0 mm is as far as it goes. Make it again in another way, or take it off the list.");
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), move_corner("hem", f64::NAN, 0.0)), @"Front, hem: moving the corner at the start of hem by NaN mm right and 0.0 mm up was left out: its distance is not a number. Make it again in another way, or take it off the list.");
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), move_corner("hem", 140.0, 20.0)), @"Front, hem: moving the corner at the start of hem by 140.0 mm right and 20.0 mm up was left out: the outline would cross itself; 100.9 mm of the 141.4 mm is as far as it goes. Make it again in another way, or take it off the list.");
    let level = Alteration::LengthenAt {
        piece: "Front".to_owned(),
        level: Level::Knee,
        by: Mm(5.0),
    };
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), level), @"Front: lengthening at the knee line by 5.0 mm was left out: no knee line crosses the piece any more. Make it again in another way, or take it off the list.");
    let folded = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    insta::assert_snapshot!(said(folded, move_corner("left", 4.0, 0.0)), @"Front, left: moving the corner at the start of left by 4.0 mm right and 0.0 mm up was left out: the corner would leave the fold of the cloth by 4.0 mm. Make it again in another way, or take it off the list.");
    let stray = Alteration::LengthenAt {
        piece: "Yoke".to_owned(),
        level: Level::Knee,
        by: Mm(5.0),
    };
    insta::assert_snapshot!(said(strip("Front", 100.0, 60.0), stray), @"Yoke: lengthening at the knee line by 5.0 mm was left out: there is no piece called Yoke any more. Make it again in another way, or take it off the list.");
}

/// Every edge of real drafts, let out and taken in: closed, simple, straight edges straight, neighbours meeting.
#[test]
fn every_edge_of_the_published_drafts_can_be_moved_and_moved_back() {
    use crate::drafts::{
        CircleShare, Constants, DraftMeasures, circular_skirt, fitted_bodice, flat_sleeve,
        gored_skirt, loose_bodice,
    };
    let m = DraftMeasures::ADULT_92;
    let drafts = [
        loose_bodice(&m, Constants::Printed).unwrap(),
        fitted_bodice(&m, Constants::Printed).unwrap(),
        flat_sleeve(&m, Constants::Printed).unwrap(),
        gored_skirt(&m, Constants::Printed).unwrap(),
        circular_skirt(700.0, 600.0, CircleShare::Half).unwrap(),
    ];
    let mut moved = 0;
    for (name, outline) in drafts.iter().flat_map(|draft| draft.outlines()) {
        let piece = Piece {
            outline: outline.clone(),
            ..strip("Front", 1.0, 1.0)
        };
        for edge in outline.edges() {
            for by in [4.0, -4.0] {
                let there = altered(piece.clone(), &[move_edge(&edge.name, by)]);
                let back = altered(
                    piece.clone(),
                    &[move_edge(&edge.name, by), move_edge(&edge.name, -by)],
                );
                for (old, (new, again)) in outline
                    .edges()
                    .iter()
                    .zip(there.outline.edges().iter().zip(back.outline.edges()))
                {
                    assert_eq!(
                        old.line.is_straight(),
                        new.line.is_straight(),
                        "{name}, {} when {} moves",
                        old.name,
                        edge.name
                    );
                    let off = (0..=8)
                        .map(|i| {
                            (old.line.at(f64::from(i) / 8.0) - again.line.at(f64::from(i) / 8.0))
                                .hypot()
                        })
                        .fold(0.0, f64::max);
                    assert!(
                        off < 1.0,
                        "{name}, {} comes back {off} mm off when {} moves",
                        old.name,
                        edge.name
                    );
                }
                moved += 1;
            }
        }
    }
    assert!(moved > 40, "{moved}");
}
