//! A circular skirt, cape or flounce by waist and length: a sector of a ring.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::ready_shapes::{OnFold, Ring};

use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::new_piece::NewPiece;
use crate::chalk::placed;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::Command;
use crate::fields::{Asked, Typed, length_field, one_of, share_field};
use crate::wording;

/// A sector of a ring by waist and length.
pub struct CircularSkirt {
    ring: Ring,
    piece: NewPiece,
}

impl Default for CircularSkirt {
    fn default() -> Self {
        Self {
            ring: Ring {
                waist: Mm(265.0),
                length: Mm(150.0),
                share: 0.5,
                on_fold: OnFold::Half,
            },
            piece: NewPiece::default(),
        }
    }
}

/// Shares of a circle that have names; the trade counts in quarters.
const SHARES: [f64; 4] = [0.25, 0.5, 0.75, 1.0];

impl Tool for CircularSkirt {
    fn name(&self) -> &'static str {
        "Circular skirt"
    }

    fn tip(&self) -> &'static str {
        "A circular skirt, cape or flounce by waist and length"
    }

    fn group(&self) -> Group {
        Group::Draw
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let words = |mm| wording::length(mm, hand.unit);
        format!(
            "Click: upper left corner, waist {}, length {}, radius {}",
            words(self.ring.waist),
            words(self.ring.length),
            words(Mm(self.ring.radius()))
        )
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        let ring = self.ring;
        let shape = move |at| ring.outline(at);
        placed::gesture(hand, &mut self.piece, &shape, gesture, commands);
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, _commands: &mut Vec<Command>) {
        let ring = &mut self.ring;
        for (name, size) in [
            ("Waist", &mut ring.waist),
            ("Length of skirt", &mut ring.length),
        ] {
            ui.horizontal(|ui| {
                ui.label(name);
                if let Typed::Length(mm) =
                    length_field(ui, name, Some(*size), "", hand.unit, 90.0).typed
                {
                    *size = mm;
                }
            });
        }
        ui.horizontal_wrapped(|ui| {
            ui.label("Of a circle");
            let words = |share: f64| match share {
                s if s <= 0.25 => "a quarter",
                s if s <= 0.5 => "half",
                s if s <= 0.75 => "three quarters",
                _ => "all",
            };
            if let Some(share) = one_of(ui, "Of a circle", ring.share, &SHARES, words) {
                ring.share = share;
            }
            if let Asked::Done(share) = share_field(ui, "Share of a circle", Some(ring.share)) {
                ring.share = share;
            }
        });
        placed::fold_field(ui, &mut self.ring.on_fold);
        self.piece
            .fields(ui, hand, self.ring.on_fold == OnFold::Half);
        let radius = wording::length(Mm(self.ring.radius()), hand.unit);
        ui.label(format!("Radius at the waist {radius}"));
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let shape = |at| self.ring.outline(at);
        let radius = wording::length(Mm(self.ring.radius()), hand.unit);
        placed::paint(hand, brush, &shape, &format!("radius {radius}"));
    }
}
