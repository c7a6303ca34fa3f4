//! How many of a piece are cut, of which layer, as a pair or alike; and which side of the cloth the drawing shows.

use egui::Ui;
use petitoile_core::alteration::MarkChange;
use petitoile_core::piece::{Copy, Face, Piece, Role, Side};

use crate::chalk::ask::alter;
use crate::chalk::hand::Hand;
use crate::chalk::on_edge::pick_piece;
use crate::chalk::tool::{Gesture, Group, Tool};
use crate::command::{Chosen, Command};
use crate::fields::one_of;
use crate::wording;

/// Says what is cut.
#[derive(Default)]
pub struct SayCopies;

const ROLES: [Role; 4] = [
    Role::Shell,
    Role::Lining,
    Role::Interlining,
    Role::FlatLined,
];

/// How many pairs and how many single ones of a layer are cut.
fn counted(piece: &Piece, role: Role) -> (usize, usize) {
    let on = |side| {
        let of = |copy: &&Copy| copy.role == role && copy.side == side;
        piece.copies.iter().filter(of).count()
    };
    let (right, left) = (on(Side::Right), on(Side::Left));
    let pairs = right.min(left);
    (pairs, right + left - 2 * pairs + on(Side::Whole))
}

/// The copies with a pair or a single one more or fewer of a layer.
fn changed(piece: &Piece, role: Role, pair: bool, more: bool) -> Vec<Copy> {
    let mut copies = piece.copies.clone();
    let sides: &[Side] = if pair {
        &[Side::Right, Side::Left]
    } else {
        &[Side::Whole]
    };
    if more {
        copies.extend(sides.iter().map(|side| Copy { side: *side, role }));
        return copies;
    }
    let (pairs, _) = counted(piece, role);
    let spare = |side: Side| {
        let of = piece
            .copies
            .iter()
            .filter(|c| c.role == role && c.side == side)
            .count();
        of > pairs
    };
    // A single one is one that lies across both sides, or a right or left one without its mate.
    let single = [Side::Whole, Side::Right, Side::Left]
        .into_iter()
        .find(|side| *side == Side::Whole && counted_whole(piece, role) > 0 || spare(*side));
    let out: Vec<Side> = if pair {
        sides.to_vec()
    } else {
        single.into_iter().collect()
    };
    for side in out {
        let at = copies
            .iter()
            .rposition(|copy| copy.role == role && copy.side == side);
        if let Some(at) = at {
            copies.remove(at);
        }
    }
    copies
}

fn counted_whole(piece: &Piece, role: Role) -> usize {
    let whole = |copy: &&Copy| copy.role == role && copy.side == Side::Whole;
    piece.copies.iter().filter(whole).count()
}

impl Tool for SayCopies {
    fn name(&self) -> &'static str {
        "Cutting"
    }

    fn tip(&self) -> &'static str {
        "How many are cut, of which layer, as a pair; which side of the cloth is drawn"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let under = hand.pointer.as_ref().and_then(|at| at.piece.as_deref());
        match under.and_then(|name| hand.piece(name)) {
            Some(piece) => format!("Click: {}, {}", piece.name, wording::to_cut(piece)),
            None => "Click a piece, then say in the tray how many are cut".to_owned(),
        }
    }

    fn gesture(&mut self, _hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if let Gesture::Click(at) = gesture {
            commands.push(Command::Choose(
                at.piece.map(Chosen::piece).unwrap_or_default(),
            ));
        }
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        false
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        pick_piece(ui, hand, commands);
        let chosen = hand.session.chosen.piece.as_deref();
        let Some(piece) = chosen.and_then(|name| hand.piece(name)) else {
            return;
        };
        ui.label(wording::sentence(&wording::to_cut(piece)));
        let mut asked = None;
        egui::Grid::new("copies").show(ui, |ui| {
            for role in ROLES {
                let (pairs, singles) = counted(piece, role);
                ui.label(wording::sentence(wording::role(role)));
                for (pair, count, one, many) in [
                    (true, pairs, "pair", "pairs"),
                    (false, singles, "single", "singles"),
                ] {
                    ui.horizontal(|ui| {
                        for (sign, more, words) in
                            [("\u{2212}", false, "fewer"), ("+", true, "more")]
                        {
                            let name = format!("{}: one {one} {words}", wording::role(role));
                            let button = egui::Button::new(sign).min_size(egui::vec2(26.0, 26.0));
                            let response = ui
                                .add_enabled(more || count > 0, button)
                                .on_hover_text(&name);
                            if response.accessible_name(&name).clicked() {
                                asked = Some(changed(piece, role, pair, more));
                            }
                        }
                        ui.label(wording::count(count, one, many));
                    });
                }
                ui.end_row();
            }
        });
        if let Some(copies) = asked {
            alter(
                hand,
                MarkChange::SetCopies(copies).of(&piece.name),
                commands,
            );
        }
        ui.horizontal_wrapped(|ui| {
            ui.label("Drawn is the");
            let faces = [Face::Right, Face::Wrong];
            if let Some(face) = one_of(ui, "Drawn side", piece.face, &faces, Face::words) {
                alter(hand, MarkChange::SetFace(face).of(&piece.name), commands);
            }
        });
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "tests")]
    use super::*;

    fn piece(sides: &[Side]) -> Piece {
        let project = crate::demos::named("harbour-jacket").unwrap();
        let mut piece = (**project.garments.first().unwrap().pieces.first().unwrap()).clone();
        piece.copies = sides
            .iter()
            .map(|side| Copy {
                side: *side,
                role: Role::Shell,
            })
            .collect();
        piece
    }

    #[test]
    fn a_pair_is_a_right_and_a_left_one_and_what_is_left_over_is_single() {
        use Side::{Left, Right, Whole};
        let counts = |sides: &[Side]| counted(&piece(sides), Role::Shell);
        assert_eq!(counts(&[Right, Left]), (1, 0));
        assert_eq!(counts(&[Right, Left, Right, Whole]), (1, 2));
        assert_eq!(counts(&[]), (0, 0));
    }

    #[test]
    fn a_single_one_less_leaves_the_pair_alone() {
        use Side::{Left, Right, Whole};
        let left = |sides: &[Side]| {
            let now = changed(&piece(sides), Role::Shell, false, false);
            now.iter().map(|copy| copy.side).collect::<Vec<_>>()
        };
        assert_eq!(left(&[Right, Left, Whole]), [Right, Left]);
        assert_eq!(left(&[Right, Left, Left]), [Right, Left]);
        assert_eq!(left(&[Right]), []);
    }
}
