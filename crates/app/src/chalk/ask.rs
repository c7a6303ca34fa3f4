//! How a tool asks for an alteration: only one that applies is recorded, and what moved besides is said.

use petitoile_core::alteration::Alteration;

use super::hand::Hand;
use crate::command::Command;

/// Alters by hand, and says what moved besides what was asked; where it does not apply, says why, and nothing is
/// recorded. Gives whether it was asked for.
pub fn alter(hand: &Hand<'_>, alteration: Alteration, commands: &mut Vec<Command>) -> bool {
    let Some(before) = hand.garment else {
        commands.push(Command::Alter(alteration));
        return true;
    };
    match alteration.applied(before) {
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
    let why = hand
        .garment
        .and_then(|before| alteration.applied(before).err());
    match why {
        None => commands.push(Command::TryAlter(alteration)),
        Some(why) => commands.push(Command::Say(why.to_string())),
    }
}
