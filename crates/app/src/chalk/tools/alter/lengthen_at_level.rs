//! Lengthens or shortens a piece at one of its body lines.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::alteration::Alteration;
use petitoile_core::measure::Level;

use crate::chalk::hand::Hand;
use crate::chalk::job::Job;
use crate::chalk::spot::{Spot, Wants};
use crate::chalk::tool::Group;
use crate::chalk::typed;
use crate::command::Command;
use crate::fields::pick;

/// Lengthens or shortens a piece at one of its body lines.
pub struct LengthenAtLevel {
    level: Option<Level>,
    by: Mm,
}

impl Default for LengthenAtLevel {
    fn default() -> Self {
        Self {
            level: None,
            by: Mm(10.0),
        }
    }
}

impl Job for LengthenAtLevel {
    fn name(&self) -> &'static str {
        "Lengthen at level"
    }

    fn tip(&self) -> &'static str {
        "Lengthen or shorten a piece at one of its body lines: waist, hip, knee"
    }

    fn group(&self) -> Group {
        Group::Alter
    }

    fn wants(&self, picked: &[Spot]) -> Option<Wants> {
        picked.is_empty().then_some(Wants::Piece)
    }

    fn does(&self) -> Option<&'static str> {
        Some("Lengthen there")
    }

    fn asks(&self, _picked: &[Spot]) -> &'static str {
        "Click a piece, then say at which of its body lines"
    }

    fn begin(&mut self, hand: &Hand<'_>, picked: &[Spot]) {
        self.level = levels(hand, picked).first().copied();
    }

    fn alteration(&self, _hand: &Hand<'_>, picked: &[Spot]) -> Result<Alteration, String> {
        let [Spot::Piece(piece)] = picked else {
            return Err(self.asks(picked).to_owned());
        };
        Ok(Alteration::LengthenAt {
            piece: piece.clone(),
            level: self.level.ok_or("No body line crosses this piece")?,
            by: self.by,
        })
    }

    fn fields(
        &mut self,
        ui: &mut Ui,
        hand: &Hand<'_>,
        picked: &[Spot],
        commands: &mut Vec<Command>,
    ) -> bool {
        let mut changed = false;
        if let Some(now) = self.level {
            ui.horizontal(|ui| {
                ui.label("At");
                let words = |level: &Level| level.label().to_lowercase();
                let levels = levels(hand, picked);
                if let Some(level) = pick(ui, "level", "Body line", &now, &levels, words) {
                    self.level = Some(level);
                    changed = true;
                }
            });
        }
        typed::difference(ui, hand, "Longer by", &mut self.by, commands) | changed
    }
}

/// The body lines of the piece that was shown.
fn levels(hand: &Hand<'_>, picked: &[Spot]) -> Vec<Level> {
    let [Spot::Piece(piece)] = picked else {
        return Vec::new();
    };
    let lines = hand.piece(piece).map(|piece| &piece.body_lines);
    lines.into_iter().flatten().map(|line| line.level).collect()
}
