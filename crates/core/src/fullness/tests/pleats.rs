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

#[test]
fn folding_the_marked_pleats_gives_the_finished_length_back() {
    for (pleats, under) in [
        (
            Fullness::KnifePleats {
                count: 4,
                depth: Mm(6.0),
            },
            2.0,
        ),
        (
            Fullness::BoxPleats {
                count: 3,
                depth: Mm(5.0),
                inverted: false,
            },
            4.0,
        ),
        (
            Fullness::BoxPleats {
                count: 3,
                depth: Mm(5.0),
                inverted: true,
            },
            4.0,
        ),
        (
            Fullness::Tucks {
                count: 5,
                width: Mm(1.5),
            },
            2.0,
        ),
    ] {
        let Warned {
            outcome: (skirt, lines),
            ..
        } = fill_one(strip(120.0, 40.0, vec![op("waist", pleats, Some("hem"))]));
        let per_pleat = match pleats {
            Fullness::BoxPleats { .. } => 4,
            _ => 3,
        };
        let taken: f64 = lines
            .chunks(per_pleat)
            .map(|pleat| (pleat[0].line.start() - pleat[per_pleat - 1].line.start()).hypot())
            .sum();
        assert!(
            (length(&skirt, "waist") - taken - 120.0).abs() < 1e-6,
            "{pleats:?} takes {taken}, each {under} depths"
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
        (8, 0, 0)
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
