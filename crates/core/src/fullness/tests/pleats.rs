//! The lines of a pleat, and folding on them.

use super::*;
use crate::units::LengthUnit;

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

/// Closed form: a double box pleat turns behind one and three depths from where its cloth begins, and as far from where
/// it ends.
#[test]
fn the_folds_behind_are_told_with_every_pleat() {
    let folded = |fullness| FoldedEdge::new(fullness, &Layout::default(), Mm(100.0));
    let knife = folded(Fullness::KnifePleats {
        count: 1,
        depth: Mm(8.0),
    });
    let (_, fold) = knife.folds().next().unwrap();
    assert_eq!(knife.pleats[0].behind(), [fold.on_cloth + Mm(8.0)]);
    let double = folded(Fullness::DoubleBoxPleats {
        count: 1,
        depth: Mm(8.0),
        inverted: false,
    });
    // 100 + 64 mm of cloth, the top of 16 mm in its middle; folds behind lie beside folds that are seen.
    let behind: Vec<f64> = double.pleats[0].behind().iter().map(|mm| mm.0).collect();
    assert_eq!(behind, [50.0, 66.0, 98.0, 114.0]);
    let words = double.pleats[0].behind_words(LengthUnit::Millimetre);
    assert_eq!(words, "50; 66; 98; 114 mm");
}

/// Closed form: a fold and the line that it is laid on, two depths apart, are stitched onto each other.
#[test]
fn pleats_stitched_down_are_stitched_along_fold_and_placement_as_far_as_asked() {
    let pleats = Fullness::KnifePleats {
        count: 3,
        depth: Mm(5.0),
    };
    let down = |deep: f64, fullness| {
        let mut op = op("waist", fullness, Some("hem"));
        op.layout.sewn_down = Some(Mm(deep));
        let (skirt, lines) = fill_one(strip(60.0, 40.0, vec![op])).outcome;
        let start = skirt.outline.edge("waist").unwrap().line.start();
        let stitches = lines.into_iter().filter(|l| l.kind == FillLineKind::Stitch);
        stitches
            .map(|l| {
                let (a, b) = (l.line.start() - start, l.line.end() - start);
                (a.x.abs(), a.y.abs(), b.x.abs(), b.y.abs())
            })
            .collect::<Vec<_>>()
    };
    let stitches = down(16.0, pleats);
    assert_eq!(
        stitches.len(),
        12,
        "a line and a bar at either side of three"
    );
    let (lines, bars): (Vec<_>, Vec<_>) = stitches.into_iter().partition(|l| l.1 < 1e-6);
    for ((x, _, to_x, to_y), at) in lines.iter().zip([10.0, 20.0, 40.0, 50.0, 70.0, 80.0]) {
        assert!(
            (x - at).abs() < 1e-6 && (to_x - at).abs() < 1e-6,
            "{x} for {at}"
        );
        assert!((to_y - 16.0).abs() < 1e-6, "{to_y}");
    }
    assert_eq!(bars.len(), 6);
    assert!(
        bars.iter()
            .all(|b| (b.1 - 16.0).abs() < 1e-6 && (b.3 - 16.0).abs() < 1e-6)
    );
    // Deeper than the piece: through it, and nowhere beyond.
    let through = down(90.0, pleats);
    assert_eq!(through.len(), 6);
    assert!(through.iter().all(|l| (l.3 - 40.0).abs() < 1e-6));
    // An inverted pleat: both folds meet on one line.
    let inverted = Fullness::BoxPleats {
        count: 1,
        depth: Mm(5.0),
        inverted: true,
    };
    assert_eq!(
        down(16.0, inverted).len(),
        6,
        "two folds and the line where they meet"
    );
    // What is drawn in has nothing to stitch down.
    assert!(down(16.0, DOUBLE).is_empty());
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
