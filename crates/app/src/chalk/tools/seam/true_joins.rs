//! Trues joins: the corners that meet at the end of a seam are laid together, and one click makes the edge run on.

use egui::{Key, Ui};
use kurbo::{Affine, Point};
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, SeamChange, TrueTo};
use petitoile_core::joins::{Join, JoinCorner, joins};

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::kept::Kept;
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::chalk::which_seam::both_pieces;
use crate::command::{Chosen, Command};
use crate::fields::one_of;
use crate::wording;

/// Trues joins.
#[derive(Default)]
pub struct TrueJoins {
    joins: Kept<Vec<Join>>,
    /// Seam, and whether at its start.
    chosen: Option<(String, bool)>,
    all: bool,
}

/// Where a corner lies in the drawing of its piece.
fn corner_at(hand: &Hand<'_>, corner: &JoinCorner) -> Option<Point> {
    let edge = hand.piece(&corner.piece)?.outline.edge(&corner.seam_edge)?;
    Some(if corner.at_seam_edge_start {
        edge.line.start()
    } else {
        edge.line.end()
    })
}

/// "side seam, hem: a dip of 2 mm".
fn short(join: &Join, hand: &Hand<'_>) -> String {
    let shape = if join.off > 0.0 { "dip" } else { "point" };
    format!(
        "{}, {}: {shape} of {}, {:.1}\u{b0}",
        join.seam,
        join.a.run_edge,
        wording::length(Mm(join.off_by.0.abs()), hand.unit),
        join.off.abs()
    )
}

impl TrueJoins {
    /// The joins of the garment, worst first; those that are true already only when all are asked for.
    fn list(&self, hand: &Hand<'_>) -> Vec<Join> {
        let Some(garment) = hand.garment else {
            return Vec::new();
        };
        let mut list: Vec<Join> = self
            .joins
            .of(garment, joins)
            .iter()
            .filter(|join| self.all || join.needs_truing())
            .cloned()
            .collect();
        // Shell and lining are cut by one outline: listed once.
        let mut seen: Vec<(JoinCorner, JoinCorner)> = Vec::new();
        list.retain(|join| {
            let corners = (join.a.clone(), join.b.clone());
            let is_new = !seen.contains(&corners);
            seen.push(corners);
            is_new
        });
        list.sort_by(|x, y| y.off_by.0.abs().total_cmp(&x.off_by.0.abs()));
        list
    }

    fn chosen(&self, hand: &Hand<'_>) -> Option<Join> {
        let (seam, at_start) = self.chosen.as_ref()?;
        let all = self.joins.of(hand.garment?, joins);
        let found = all
            .iter()
            .find(|join| join.seam == *seam && join.at_start == *at_start);
        found.cloned()
    }

    fn choose(&mut self, join: &Join, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if let Some(both) = both_pieces(hand, &join.a.piece, &join.b.piece, &[join.a_from_b]) {
            commands.push(Command::ShowPart(both));
        }
        self.chosen = Some((join.seam.clone(), join.at_start));
        commands.push(Command::Choose(Chosen::edge(
            &join.a.piece,
            &join.a.run_edge,
        )));
    }
}

fn make_true(hand: &Hand<'_>, join: &Join, to: TrueTo, commands: &mut Vec<Command>) {
    let change = SeamChange::True {
        seam: join.seam.clone(),
        at_start: join.at_start,
        to,
    };
    alter(hand, Alteration::Seam(change), commands);
}

/// What is wrong with one join, and the buttons that true it.
fn one(ui: &mut Ui, hand: &Hand<'_>, join: &Join, commands: &mut Vec<Command>) {
    ui.label(wording::sentence(&join.told()));
    if ui.button("True this join").clicked() {
        make_true(hand, join, join.wanted, commands);
    }
    ui.horizontal_wrapped(|ui| {
        ui.label("or make it");
        let ways = [TrueTo::Straight, TrueTo::Square, TrueTo::Smooth];
        let words = |to| match to {
            TrueTo::Straight => "straight",
            TrueTo::Square => "square",
            TrueTo::Smooth => "smooth",
        };
        if let Some(to) = one_of(ui, "True to", join.wanted, &ways, words) {
            make_true(hand, join, to, commands);
        }
    });
}

impl Tool for TrueJoins {
    fn name(&self) -> &'static str {
        "True"
    }

    fn tip(&self) -> &'static str {
        "True the corners where a seam ends, so that hem or neckline runs on"
    }

    fn group(&self) -> Group {
        Group::Seams
    }

    fn key(&self) -> Option<Key> {
        Some(Key::T)
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        match self.chosen(hand) {
            Some(join) => format!("{} Enter trues it", wording::sentence(&join.told())),
            None if self.list(hand).is_empty() => "All joins are true".to_owned(),
            None => "Click a corner that is not true, or choose it from the list".to_owned(),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let list = self.list(hand);
        let handle = |join: &Join| {
            let at = corner_at(hand, &join.a)?;
            let is_it = |(seam, at_start): &(String, bool)| {
                *seam == join.seam && *at_start == join.at_start
            };
            Some(Handle {
                id: format!("{}/{}", join.seam, join.at_start),
                at: hand.on_table(&join.a.piece, at),
                label: short(join, hand),
                look: HandleLook::Corner,
                chosen: self.chosen.as_ref().is_some_and(is_it),
            })
        };
        list.iter().filter_map(handle).collect()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Take { handle, .. } => {
                let list = self.list(hand);
                let taken = list
                    .iter()
                    .find(|join| format!("{}/{}", join.seam, join.at_start) == handle);
                if let Some(join) = taken {
                    self.choose(join, hand, commands);
                }
            }
            Gesture::Click(at) => {
                self.chosen = None;
                commands.push(Command::Choose(
                    at.piece.map(Chosen::piece).unwrap_or_default(),
                ));
            }
            Gesture::Finish => {
                if let Some(join) = self.chosen(hand) {
                    make_true(hand, &join, join.wanted, commands);
                }
            }
            _ => {}
        }
    }

    fn takes_arrows(&self, _hand: &Hand<'_>) -> bool {
        false
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        self.chosen.take().is_some()
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.checkbox(&mut self.all, "Show those that are true, too");
        let list = self.list(hand);
        if list.is_empty() {
            ui.label("Every hem, neckline and waist runs on over its seams.");
        }
        for (number, join) in list.iter().enumerate() {
            let is_it = self
                .chosen
                .as_ref()
                .is_some_and(|(seam, start)| *seam == join.seam && *start == join.at_start);
            ui.push_id(number, |ui| {
                let row = egui::Button::selectable(is_it, short(join, hand))
                    .truncate()
                    .min_size(egui::vec2(ui.available_width(), 26.0));
                if ui.add(row).clicked() {
                    self.choose(join, hand, commands);
                }
                if is_it {
                    ui.indent("join", |ui| one(ui, hand, join, commands));
                }
            });
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some(join) = self.chosen(hand) else {
            return;
        };
        let (a, b) = (&join.a.piece, &join.b.piece);
        let Some((still, laid)) = hand.piece(a).zip(hand.piece(b)) else {
            return;
        };
        let table_from_a = Affine::translate(hand.moved(a));
        let table_from_b = table_from_a * join.a_from_b;
        let stroke = egui::Stroke::new(1.5, brush.palette().chosen);
        brush.stroke(&(table_from_b * laid.outline.path()), stroke);
        for (piece, corner, place) in [
            (still, &join.a, table_from_a),
            (laid, &join.b, table_from_b),
        ] {
            if let Some(edge) = piece.outline.edge(&corner.run_edge) {
                brush.line(&(place * edge.line.to_path()));
            }
        }
        brush.words(table_from_b * laid.outline.bounds().center(), b);
        if let Some(at) = corner_at(hand, &join.a) {
            brush.words(
                table_from_a * at,
                &format!("{:.1}\u{b0} + {:.1}\u{b0}", join.a.angle, join.b.angle),
            );
        }
    }
}
