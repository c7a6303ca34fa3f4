//! Pieces that could be set the wrong way round: pointed out, and given distinguishing notches with one click.

use egui::Ui;
use petitoile_core::alteration::{Alteration, SeamChange};
use petitoile_core::garment::Garment;

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::kept::Kept;
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::{Chosen, Command};

/// Tells the sides of pieces apart.
#[derive(Default)]
pub struct TellApart {
    alike: Kept<Vec<String>>,
}

fn notched(piece: &str) -> Alteration {
    Alteration::Seam(SeamChange::Distinguish {
        piece: piece.to_owned(),
    })
}

/// Pieces to which distinguishing notches can be given: those that could be mistaken.
fn alike(garment: &Garment) -> Vec<String> {
    let pieces = garment.pieces.iter();
    pieces
        .filter(|piece| notched(&piece.name).applied(garment).is_ok())
        .map(|piece| piece.name.clone())
        .collect()
}

impl TellApart {
    fn found(&self, hand: &Hand<'_>) -> Vec<String> {
        hand.garment
            .map_or(Vec::new(), |garment| self.alike.of(garment, alike).to_vec())
    }
}

impl Tool for TellApart {
    fn name(&self) -> &'static str {
        "Tell apart"
    }

    fn tip(&self) -> &'static str {
        "Distinguishing notches for pieces that could be set the wrong way round"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match self.found(hand).as_slice() {
            [] => "No piece can be set the wrong way round".to_owned(),
            [one] => format!("Click the handle on {one}: notches that tell its sides apart"),
            many => format!(
                "{} pieces could be set the wrong way round: click the handle on one",
                many.len()
            ),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let handle = |name: String| {
            let middle = hand.piece(&name)?.outline.bounds().center();
            Some(Handle {
                at: hand.on_table(&name, middle),
                label: format!("{name}: notches that tell its sides apart"),
                id: name,
                look: HandleLook::Mark,
                chosen: false,
            })
        };
        self.found(hand).into_iter().filter_map(handle).collect()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Take { handle, .. } => {
                alter(hand, notched(&handle), commands);
            }
            Gesture::Click(at) => commands.push(Command::Choose(
                at.piece.map(Chosen::piece).unwrap_or_default(),
            )),
            _ => {}
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        for name in self.found(hand) {
            ui.horizontal_wrapped(|ui| {
                ui.label(format!("{name} can be set the wrong way round"));
                let button = ui
                    .button("Notch it")
                    .accessible_name(format!("Notch {name} to tell its sides apart"));
                if button.clicked() {
                    alter(hand, notched(&name), commands);
                }
            });
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        for name in self.found(hand) {
            if let Some(piece) = hand.piece(&name) {
                let middle = hand.on_table(&name, piece.outline.bounds().center());
                brush.words(middle, "can be set the wrong way round");
            }
        }
    }
}
