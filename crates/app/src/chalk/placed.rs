//! Ready shapes that follow the hand until a click places them.

use egui::Ui;
use kurbo::Point;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::ready_shapes::{OnFold, ShapeError};

use super::brush::Brush;
use super::hand::Hand;
use super::new_piece::NewPiece;
use super::tool::Gesture;
use crate::command::Command;
use crate::fields::one_of;

/// How a shape lies at a place of the table.
pub type Shape<'a> = &'a dyn Fn(Point) -> Result<Outline, ShapeError>;

/// A click (or Enter) places the shape.
pub fn gesture(
    hand: &Hand<'_>,
    piece: &mut NewPiece,
    shape: Shape<'_>,
    gesture: Gesture,
    commands: &mut Vec<Command>,
) {
    let at = match gesture {
        Gesture::Click(at) => at.point,
        // Without a pointer: in the middle of what is seen.
        Gesture::Finish => hand.session.view.middle,
        _ => return,
    };
    place(hand, piece, shape, at, commands);
}

/// Adds the shape at a place.
pub fn place(
    hand: &Hand<'_>,
    piece: &mut NewPiece,
    shape: Shape<'_>,
    at: Point,
    commands: &mut Vec<Command>,
) {
    if hand.session.garment().is_none() {
        commands.push(Command::Say(
            "Start a garment first: Project, New garment".to_owned(),
        ));
        return;
    }
    match shape(at) {
        Ok(outline) => {
            piece.add(hand, outline, commands);
        }
        Err(trouble) => commands.push(Command::Say(trouble.to_string())),
    }
}

/// The shape under the hand.
pub fn paint(hand: &Hand<'_>, brush: &Brush<'_>, shape: Shape<'_>, words: &str) {
    let Some(at) = hand.pointer.as_ref().map(|at| at.point) else {
        return;
    };
    if let Ok(outline) = shape(at) {
        brush.line(&outline.path());
        if let Some(fold) = outline.edges().iter().find(|edge| edge.is_fold()) {
            let (a, b) = (fold.line.start(), fold.line.end());
            let other = petitoile_core::drawn::mirrored_about(a, b) * outline.path();
            brush.stroke(&other, egui::Stroke::new(2.0, brush.palette().chalk));
        }
        brush.words(at, words);
    }
}

/// Whole, or half on the fold.
pub fn fold_field(ui: &mut Ui, on_fold: &mut OnFold) {
    ui.horizontal_wrapped(|ui| {
        ui.label("Drawn");
        let words = |fold| match fold {
            OnFold::Whole => "whole",
            OnFold::Half => "half, on the fold",
        };
        let both = [OnFold::Whole, OnFold::Half];
        if let Some(next) = one_of(ui, "Drawn", *on_fold, &both, words) {
            *on_fold = next;
        }
    });
}
