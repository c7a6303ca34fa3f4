//! How a tool asks for an alteration: only one that applies is recorded, and what moved besides is said.

use std::sync::Arc;

use petitoile_core::alteration::Alteration;
use petitoile_core::garment::Garment;

use super::hand::Hand;
use crate::command::Command;
use crate::session::On;

/// Alters by hand, and says what moved besides what was asked; where it does not apply, says why, and nothing is
/// recorded. Gives whether it was asked for.
pub fn alter(hand: &Hand<'_>, alteration: Alteration, commands: &mut Vec<Command>) -> bool {
    let Some(before) = untried(hand) else {
        commands.push(Command::Alter(alteration));
        return true;
    };
    match alteration.applied(&before) {
        Ok(altered) => {
            let said: Vec<String> = altered.notes.iter().map(ToString::to_string).collect();
            commands.push(Command::Alter(alteration));
            if !said.is_empty() {
                commands.push(Command::Say(said.join(" ")));
            }
            true
        }
        Err(why) => {
            let place = alteration.place().to_string();
            commands.push(Command::StopTrying);
            commands.push(Command::Say(if place.is_empty() {
                why.to_string()
            } else {
                format!("{place}: {why}")
            }));
            false
        }
    }
}

/// Shows an alteration while the hand moves; where it does not apply, says why.
pub fn try_alter(hand: &Hand<'_>, alteration: Alteration, commands: &mut Vec<Command>) {
    let why = untried(hand).and_then(|before| alteration.applied(&before).err());
    match why {
        None => commands.push(Command::TryAlter(alteration)),
        Some(why) => commands.push(Command::Say(why.to_string())),
    }
}

/// The garment under the hand without what is being tried. `None` where only the worker knows it: a fitting while
/// something is tried on it.
fn untried(hand: &Hand<'_>) -> Option<Arc<Garment>> {
    let session = hand.session;
    match session.on() {
        _ if !session.is_trying() => session.on_table().cloned(),
        On::Garment => {
            let name = &session.garment()?.name;
            session.project().garment(name).cloned()
        }
        On::Fitting => None,
    }
}
