//! A rectangle by its sizes: typed and placed with a click, or dragged from corner to corner.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::ready_shapes::{OnFold, rectangle};

use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::new_piece::NewPiece;
use crate::chalk::placed;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::Command;
use crate::fields::{Typed, length_field};
use crate::wording;

/// A rectangle by its sizes.
pub struct Rectangle {
    width: Mm,
    height: Mm,
    on_fold: OnFold,
    piece: NewPiece,
}

impl Default for Rectangle {
    fn default() -> Self {
        Self {
            width: Mm(200.0),
            height: Mm(50.0),
            on_fold: OnFold::Whole,
            piece: NewPiece::default(),
        }
    }
}

impl Rectangle {
    fn sizes(&self, hand: &Hand<'_>) -> String {
        let words = |mm| wording::length(mm, hand.unit);
        format!("{} wide, {} high", words(self.width), words(self.height))
    }
}

impl Tool for Rectangle {
    fn name(&self) -> &'static str {
        "Rectangle"
    }

    fn tip(&self) -> &'static str {
        "A band, a ruffle, a pocket: a rectangle by its sizes"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        format!(
            "Click: lower left corner of a rectangle {}. Drag: another size",
            self.sizes(hand)
        )
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        let (width, height, on_fold) = (self.width, self.height, self.on_fold);
        match gesture {
            Gesture::Drag(from, to) | Gesture::Drop(from, to) if from.point == to.point => {}
            Gesture::Drag(from, to) => {
                let times = if on_fold == OnFold::Half { 2.0 } else { 1.0 };
                self.width = Mm((to.point.x - from.point.x).abs() * times);
                self.height = Mm((to.point.y - from.point.y).abs());
            }
            Gesture::Drop(from, to) => {
                let corner = kurbo::Rect::from_points(from.point, to.point).origin();
                let shape = move |at| rectangle(at, width, height, on_fold);
                placed::place(hand, &mut self.piece, &shape, corner, commands);
            }
            other => {
                let shape = move |at| rectangle(at, width, height, on_fold);
                placed::gesture(hand, &mut self.piece, &shape, other, commands);
            }
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, _commands: &mut Vec<Command>) {
        for (name, size) in [("Width", &mut self.width), ("Height", &mut self.height)] {
            ui.horizontal(|ui| {
                ui.label(name);
                if let Typed::Length(mm) =
                    length_field(ui, name, Some(*size), "", hand.unit, 90.0).typed
                {
                    *size = mm;
                }
            });
        }
        placed::fold_field(ui, &mut self.on_fold);
        self.piece.fields(ui, hand, self.on_fold == OnFold::Half);
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let shape = |at| rectangle(at, self.width, self.height, self.on_fold);
        placed::paint(hand, brush, &shape, &self.sizes(hand));
    }
}
