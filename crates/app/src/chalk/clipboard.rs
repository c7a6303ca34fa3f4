//! Pieces on the clipboard, as text of our own that any project can read: copied, cut and pasted by the usual keys.

use std::sync::Arc;

use egui::{Context, Event};
use petitoile_core::alteration::{Alteration, PiecesChange};
use petitoile_core::piece::Piece;
use petitoile_exchange::project_file::{read_piece, write_piece};

use super::ask;
use super::hand::Hand;
use super::made::piece_name;
use crate::command::{Chosen, Command};

/// Copies, cuts and pastes when the keys for it are pressed and no field has them.
pub fn keys(ctx: &Context, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    let events = ctx.input(|i| i.events.clone());
    for event in events {
        match event {
            Event::Copy => {
                copy(ctx, hand, commands);
            }
            Event::Cut => cut(ctx, hand, commands),
            Event::Paste(text) => paste(hand, &text, commands),
            _ => {}
        }
    }
}

fn chosen<'a>(hand: &'a Hand<'_>) -> Option<&'a Arc<Piece>> {
    hand.piece(hand.session.chosen.piece.as_deref()?)
}

/// Copies the chosen piece. Gives whether it could be written.
pub fn copy(ctx: &Context, hand: &Hand<'_>, commands: &mut Vec<Command>) -> bool {
    let Some(piece) = chosen(hand) else {
        commands.push(Command::Say("Choose the piece to copy first".to_owned()));
        return false;
    };
    match write_piece(piece) {
        Ok(text) => {
            ctx.copy_text(text);
            commands.push(Command::Say(format!(
                "Copied {}: paste it here or in another project",
                piece.name
            )));
            true
        }
        Err(why) => {
            commands.push(Command::Say(why.to_string()));
            false
        }
    }
}

/// Copies the chosen piece and takes it out.
pub fn cut(ctx: &Context, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    if !copy(ctx, hand, commands) {
        return;
    }
    if let Some(piece) = chosen(hand) {
        let change = PiecesChange::Remove {
            piece: piece.name.clone(),
        };
        ask::alter(hand, Alteration::Pieces(change), commands);
    }
}

/// Adds the piece that stands in a text, under a name that is free.
pub fn paste(hand: &Hand<'_>, text: &str, commands: &mut Vec<Command>) {
    match read_piece(text.as_bytes()) {
        Ok(piece) => {
            let name = piece_name(hand, &piece.name);
            let piece = Piece {
                name: name.clone(),
                ..piece
            };
            let change = PiecesChange::Add(Arc::new(piece));
            if ask::alter(hand, Alteration::Pieces(change), commands) {
                commands.push(Command::Choose(Chosen::piece(name)));
            }
        }
        Err(why) => commands.push(Command::Say(format!(
            "The clipboard holds no piece ({why}). Copy one with the copy key first."
        ))),
    }
}
