//! How folds lie on their piece: stitched down, off a placket, with the piece as it is sewn behind.

use super::*;

#[test]
fn pleats_stitched_down_show_their_stitches_on_the_table_and_say_so() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    type_over(&mut harness, "How many", "3");
    let stitched = |harness: &Harness<'_, Window>| -> Vec<f64> {
        let table = harness.state().session.work.table.clone();
        let side = table.piece("side").unwrap();
        let lines = side.sew_lines.iter();
        lines.map(|l| kurbo::Shape::perimeter(l, 1e-6)).collect()
    };
    assert!(stitched(&harness).is_empty());
    click(&mut harness, "How it lies");
    type_over(&mut harness, "Stitched down", "16 mm");
    let long = stitched(&harness);
    let down = long.iter().filter(|mm| (**mm - 16.0).abs() < 1e-3).count();
    assert_eq!(down, 6, "fold and placement of three pleats: {long:?}");
    let told = harness.query_all_by_label_contains("mm deep, stitched down 16 mm");
    assert_eq!(
        told.count(),
        2,
        "in the list of the garment, and as the last change"
    );
}

#[test]
fn pleats_keep_off_a_placket_that_is_offered_by_the_name_of_its_opening() {
    let mut harness = folds("back", "waist");
    click(&mut harness, "Knife pleats");
    click(&mut harness, "How it lies");
    click(&mut harness, "Keep off");
    click(&mut harness, "placket, centre back");
    let kept = op(&harness, "back").layout.keep_off;
    assert_eq!(kept.len(), 1);
    assert_eq!(kept[0].what, "placket, centre back");
    // At the end of the waist where the centre back begins or ends.
    let garment = harness.state().session.on_table().unwrap().clone();
    let outline = &garment.piece("back").unwrap().outline;
    let (waist, back) = (
        outline.edge("waist").unwrap(),
        outline.edge("centre back").unwrap(),
    );
    let at = waist.line.at(kept[0].at);
    let near = [back.line.start(), back.line.end()].map(|end| end.distance(at));
    assert!(near[0].min(near[1]) < 1e-6, "{near:?}");
    assert!(
        harness
            .query_by_label("Off placket, centre back by")
            .is_some()
    );
}

/// What lies behind a piece in the Folds tray is the same piece drawn in: painted at the size that it is sewn.
#[test]
fn the_piece_as_it_is_drawn_in_shows_behind_the_spread_one() {
    let mut harness = folds("side", "waist");
    let behind = |harness: &Harness<'_, Window>| -> Vec<egui::Rect> {
        // The broad stroke below the dashes of the ghost.
        let shapes = harness.output().shapes.iter();
        let broad = shapes.filter_map(|clipped| match &clipped.shape {
            egui::Shape::Path(path) if path.closed && path.stroke.width == 4.0 => {
                Some(egui::Rect::from_points(&path.points))
            }
            _ => None,
        });
        broad.collect()
    };
    assert!(behind(&harness).is_empty(), "nothing is folded yet");
    click(&mut harness, "Gathers");
    type_over(&mut harness, "Times as long", "3");
    let painted = behind(&harness);
    assert_eq!(painted.len(), 1);
    let session = &harness.state().session;
    let worked = session.work.done.clone().unwrap();
    let size = |pieces: &[std::sync::Arc<petitoile_core::piece::Piece>]| {
        let piece = pieces.iter().find(|p| p.name == "side").unwrap();
        kurbo::Shape::bounding_box(&piece.outline.path()).width() * session.view.scale
    };
    let (sewn, spread) = (size(&worked.adapted.pieces), size(&worked.filled.pieces));
    assert!(
        (f64::from(painted[0].width()) - sewn).abs() < 1.0,
        "{painted:?} for {sewn}"
    );
    assert!(spread > sewn + 10.0, "{spread} and {sewn}");
}
