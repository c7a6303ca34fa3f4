//! What a newly drawn piece is besides its outline: its name, its part of the body, how it is cut.

use std::sync::Arc;

use egui::Ui;
use petitoile_core::alteration::{Alteration, PiecesChange};
use petitoile_core::geometry::outline::Outline;
use petitoile_core::piece::{Copy, Follow, FollowRule, Frame, Piece, Placement, Role, Side};

use super::ask::alter;
use super::hand::Hand;
use super::tools::mark::steered::{FRAMES, part_words};
use crate::command::{Chosen, Command};
use crate::fields::{name_field, one_of};

/// What a newly drawn piece is besides its outline.
#[derive(Debug, Clone, Default)]
pub struct NewPiece {
    name: String,
    part: Option<Frame>,
    cut: Cut,
}

/// How often a new piece is cut.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
enum Cut {
    /// Once, or once on the fold.
    #[default]
    Once,
    /// One for each side.
    Pair,
}

impl NewPiece {
    /// The fields, in the tray.
    pub fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, on_fold: bool) {
        ui.horizontal(|ui| {
            ui.label("Name of the piece");
            let name = self.name_for(hand);
            if let Some(typed) = name_field(ui, "Name of the piece", &name) {
                self.name = typed;
            }
        });
        ui.horizontal_wrapped(|ui| {
            ui.label("Lies on");
            if let Some(part) = one_of(ui, "Part of the body", self.part, &FRAMES, part_words) {
                self.part = part;
            }
        });
        if !on_fold {
            ui.horizontal_wrapped(|ui| {
                ui.label("Cut");
                let words = |cut| match cut {
                    Cut::Once => "one",
                    Cut::Pair => "a pair",
                };
                if let Some(cut) = one_of(ui, "Cut", self.cut, &[Cut::Once, Cut::Pair], words) {
                    self.cut = cut;
                }
            });
        }
    }

    /// The typed name, else one that no piece has.
    fn name_for(&self, hand: &Hand<'_>) -> String {
        let typed = self.name.trim();
        if !typed.is_empty() {
            return typed.to_owned();
        }
        let mut number = 1;
        while hand.piece(&format!("Piece {number}")).is_some() {
            number += 1;
        }
        format!("Piece {number}")
    }

    /// Adds the piece where it was drawn. `false` when it was refused; then nothing is lost.
    pub fn add(&mut self, hand: &Hand<'_>, outline: Outline, commands: &mut Vec<Command>) -> bool {
        let name = self.name_for(hand);
        let on_fold = outline.edges().iter().any(|edge| edge.is_fold());
        let sides: &[Side] = if self.cut == Cut::Pair && !on_fold {
            &[Side::Right, Side::Left]
        } else {
            &[Side::Whole]
        };
        let copies = sides.iter().map(|side| Copy {
            side: *side,
            role: Role::Shell,
        });
        let piece = Piece {
            name: name.clone(),
            outline,
            placement: self.part.map_or(
                Placement::Follows(Follow {
                    length: FollowRule::Detail,
                    depth: FollowRule::Detail,
                }),
                Placement::Framed,
            ),
            body_lines: Vec::new(),
            darts: Vec::new(),
            notches: Vec::new(),
            marks: Vec::new(),
            grainline: None,
            fullness: Vec::new(),
            copies: copies.collect(),
            face: Default::default(),
        };
        commands.push(Command::LayNew(name.clone()));
        let added = alter(
            hand,
            Alteration::Pieces(PiecesChange::Add(Arc::new(piece))),
            commands,
        );
        if added {
            self.name.clear();
            commands.push(Command::Choose(Chosen::piece(name)));
        }
        added
    }
}
