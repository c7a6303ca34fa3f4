//! A circle by its radius: a crown, a kerchief, a collar to start from.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::ready_shapes::{OnFold, circle};

use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::new_piece::NewPiece;
use crate::chalk::placed;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::wording;

/// A circle by its radius.
pub struct Circle {
    radius: Mm,
    on_fold: OnFold,
    piece: NewPiece,
}

impl Default for Circle {
    fn default() -> Self {
        Self {
            radius: Mm(50.0),
            on_fold: OnFold::Whole,
            piece: NewPiece::default(),
        }
    }
}

impl Tool for Circle {
    fn name(&self) -> &'static str {
        "Circle"
    }

    fn tip(&self) -> &'static str {
        "A crown or a round cloth: a circle by its radius"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let radius = wording::length(self.radius, hand.unit);
        format!("Click: middle of a circle, radius {radius}")
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        let (radius, on_fold) = (self.radius, self.on_fold);
        let shape = move |at| circle(at, radius, on_fold);
        placed::gesture(hand, &mut self.piece, &shape, gesture, commands);
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, _commands: &mut Vec<Command>) {
        ui.horizontal(|ui| {
            ui.label("Radius");
            let field = length_field(ui, "Radius", Some(self.radius), "", hand.unit, 90.0);
            if let Typed::Length(mm) = field.typed {
                self.radius = mm;
            }
        });
        placed::fold_field(ui, &mut self.on_fold);
        self.piece.fields(ui, hand, self.on_fold == OnFold::Half);
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let shape = |at| circle(at, self.radius, self.on_fold);
        placed::paint(
            hand,
            brush,
            &shape,
            &wording::length(self.radius, hand.unit),
        );
    }
}
