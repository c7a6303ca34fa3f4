//! Chooses a piece or an edge.

use egui::Key;

use crate::chalk::hand::Hand;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::{Chosen, Command};

/// Chooses a piece or an edge.
pub struct Choose;

impl Tool for Choose {
    fn name(&self) -> &'static str {
        "Choose"
    }

    fn tip(&self) -> &'static str {
        "Choose a piece or an edge"
    }

    fn group(&self) -> Group {
        Group::Hand
    }

    fn key(&self) -> Option<Key> {
        Some(Key::C)
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match hand.pointer.as_ref().map(|at| (&at.piece, &at.edge)) {
            Some((Some(piece), Some((edge, _)))) => format!("Click: choose {edge} of {piece}"),
            Some((Some(piece), None)) => format!("Click: choose {piece}"),
            _ => "Click a piece or an edge to choose it".to_owned(),
        }
    }

    fn gesture(&mut self, _hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if let Gesture::Click(at) = gesture {
            commands.push(Command::Choose(match (at.piece, at.edge) {
                (Some(piece), Some((edge, _))) => Chosen::edge(piece, edge),
                (Some(piece), None) => Chosen::piece(piece),
                (None, _) => Chosen::default(),
            }));
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }
}
