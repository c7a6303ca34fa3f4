//! The lines of a pleat, and folding on them.

use super::*;

#[test]
fn knife_pleats_are_marked_with_fold_and_placement_two_depths_apart() {
    let pleats = Fullness::KnifePleats {
        count: 3,
        depth: Mm(5.0),
    };
    let Warned {
        outcome: (skirt, lines),
        ..
    } = fill_one(strip(60.0, 40.0, vec![op("waist", pleats, Some("hem"))]));
    assert!((length(&skirt, "waist") - 90.0).abs() < 1e-6);
    let at = |kind| -> Vec<f64> {
        let start = skirt.outline.edge("waist").unwrap().line.start();
        lines
            .iter()
            .filter(|l| l.kind == kind)
            .map(|l| (l.line.start() - start).hypot())
            .collect()
    };
    for (kind, wanted) in [
        (FillLineKind::Fold, [10.0, 40.0, 70.0]),
        (FillLineKind::Under, [15.0, 45.0, 75.0]),
        (FillLineKind::Placement, [20.0, 50.0, 80.0]),
    ] {
        assert!(
            at(kind)
                .iter()
                .zip(wanted)
                .all(|(got, want)| (got - want).abs() < 1e-6),
            "{kind:?}: {:?}",
            at(kind)
        );
    }
}

/// Walks along the cloth and turns round at every fold; the second stitch line of a tuck holds it down, so the cloth
/// goes on again from there.
fn folded_by_hand(places: impl Iterator<Item = (f64, FillLineKind)>, cloth: f64) -> f64 {
    let (mut at, mut finished, mut way, mut is_in_tuck) = (0.0, 0.0, 1.0, false);
    for (place, kind) in places {
        finished += way * (place - at);
        at = place;
        match kind {
            FillLineKind::Fold | FillLineKind::Under => way = -way,
            FillLineKind::Stitch if is_in_tuck => (way, is_in_tuck) = (1.0, false),
            FillLineKind::Stitch => is_in_tuck = true,
            FillLineKind::Placement | FillLineKind::Gather => {}
        }
    }
    assert_eq!(way, 1.0, "the cloth ends going on");
    finished + cloth - at
}

#[test]
fn folding_the_marked_pleats_gives_the_finished_length_back() {
    let (count, depth) = (3, Mm(5.0));
    let boxes = |inverted| Fullness::BoxPleats {
        count,
        depth,
        inverted,
    };
    let doubles = |inverted| Fullness::DoubleBoxPleats {
        count,
        depth,
        inverted,
    };
    for pleats in [
        Fullness::KnifePleats {
            count: 4,
            depth: Mm(6.0),
        },
        boxes(false),
        boxes(true),
        doubles(false),
        doubles(true),
        Fullness::Tucks {
            count: 5,
            width: Mm(1.5),
        },
    ] {
        let Warned {
            outcome: (skirt, lines),
            findings,
        } = fill_one(strip(120.0, 40.0, vec![op("waist", pleats, Some("hem"))]));
        assert_eq!(findings, Vec::new());
        let start = skirt.outline.edge("waist").unwrap().line.start();
        let places = lines
            .iter()
            .map(|line| ((line.line.start() - start).hypot(), line.kind));
        let finished = folded_by_hand(places, length(&skirt, "waist"));
        assert!(
            (finished - 120.0).abs() < 1e-6,
            "{pleats:?} folds to {finished}"
        );
    }
}

#[test]
fn an_arrow_leads_from_every_fold_to_the_place_it_is_laid_on() {
    let knife = Fullness::KnifePleats {
        count: 3,
        depth: Mm(5.0),
    };
    for (lies, way) in [(Lies::Left, -10.0), (Lies::Right, 10.0)] {
        let mut pleats = op("waist", knife, Some("hem"));
        pleats.layout.lies = lies;
        let lines = fill_one(strip(60.0, 40.0, vec![pleats])).outcome.1;
        let arrows: Vec<_> = lines.iter().filter_map(|line| line.arrow).collect();
        assert_eq!(arrows.len(), 3, "{lies:?}");
        // The waist is drawn at the top, so left is left.
        assert!(
            arrows.iter().all(|(a, b)| (b.x - a.x - way).abs() < 1e-6),
            "{arrows:?}"
        );
    }
}

#[test]
fn pleat_lines_are_drawn_on_the_finished_piece() {
    let lines_of = |fullness| {
        let skirt = strip(60.0, 40.0, vec![op("waist", fullness, Some("hem"))]);
        let adapted = samples::adapted(
            samples::garment(vec![skirt], Vec::new()),
            samples::doll("45 cm play doll"),
        );
        let piece = samples::finished(adapted).pieces[0].clone();
        (
            piece.fold_lines.len(),
            piece.sew_lines.len(),
            piece.piece.marks.len(),
        )
    };
    assert_eq!(
        lines_of(Fullness::KnifePleats {
            count: 3,
            depth: Mm(5.0)
        }),
        (6, 0, 3),
        "two folds and a placement each"
    );
    assert_eq!(
        lines_of(Fullness::BoxPleats {
            count: 2,
            depth: Mm(5.0),
            inverted: true
        }),
        (8, 0, 2),
        "four folds and the middle that they meet on"
    );
    assert_eq!(
        lines_of(Fullness::Tucks {
            count: 4,
            width: Mm(2.0)
        }),
        (4, 8, 0)
    );
    assert_eq!(lines_of(DOUBLE), (0, 2, 0), "two gathering rows");
}
