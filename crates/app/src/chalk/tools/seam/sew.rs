//! Sews: one edge (or several in a row, or from a place round to a place), then what it is sewn to. The likely mates
//! are proposed with the reason; one of them is taken, or another edge is picked.

use egui::{Key, Ui};
use petitoile_core::alteration::{Alteration, SeamChange};
use petitoile_core::edge::OutlinePoint;
use petitoile_core::mates::{Mate, mates};
use petitoile_core::piece::Role;
use petitoile_core::seams::{Relation, Seam, SeamKind, Stretch, Way, stretches_between};

use super::seam_list::relation_fields;
use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::on_edge::{OnEdge, pick_edge};
use crate::chalk::sides::{
    copy_of, is_mirrored, name_of, place_under, relation_of, stretch_of, turned, turned_round,
};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::chalk::which_seam::{KINDS, kind_words, paint_side, side_words};
use crate::command::{Chosen, Command};
use crate::fields::{name_field, one_of, pick};
use crate::wording;

/// How many mates are shown on the table.
const SHOWN: usize = 4;

/// How the sides are picked.
#[derive(Debug, Clone, Copy, PartialEq)]
enum By {
    Edges,
    Places,
}

/// Sews edges to each other.
pub struct Sew {
    by: By,
    way: Way,
    role: Role,
    a: Vec<Stretch>,
    b: Vec<Stretch>,
    /// Piece and place where a side starts that is picked from place to place.
    from: Option<(String, OutlinePoint)>,
    proposed: Vec<Mate>,
    name: String,
    kind: SeamKind,
    /// As chosen; `None` by the lengths.
    relation: Option<Relation>,
}

impl Default for Sew {
    fn default() -> Self {
        Self {
            by: By::Edges,
            way: Way::Shorter,
            role: Role::Shell,
            a: Vec::new(),
            b: Vec::new(),
            from: None,
            proposed: Vec::new(),
            name: String::new(),
            kind: SeamKind::Plain,
            relation: None,
        }
    }
}

impl Sew {
    /// The second side: as picked, else the likeliest mate.
    fn second(&self) -> &[Stretch] {
        if self.b.is_empty() {
            self.proposed
                .first()
                .map_or(&[], |mate| mate.stretches.as_slice())
        } else {
            &self.b
        }
    }

    fn propose(&mut self, hand: &Hand<'_>) {
        let found = hand.garment.map(|garment| mates(garment, &self.a));
        self.proposed = found.and_then(Result::ok).unwrap_or_default();
    }

    /// The seam as it would be sewn now.
    fn seam(&self, hand: &Hand<'_>) -> Option<Seam> {
        let (garment, b) = (hand.garment?, self.second());
        if self.a.is_empty() || b.is_empty() {
            return None;
        }
        let name = match self.name.trim() {
            "" => name_of(garment, &self.a, b),
            typed => typed.to_owned(),
        };
        Some(Seam {
            name,
            mirrored: is_mirrored(garment, &self.a, b),
            relation: self
                .relation
                .or_else(|| relation_of(garment, &self.a, b))
                .unwrap_or(Relation::Equal),
            kind: self.kind,
            inserts: Vec::new(),
            a: self.a.clone(),
            b: b.to_vec(),
        })
    }

    fn sew(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let Some(seam) = self.seam(hand) else {
            commands.push(Command::Say(
                "Click an edge first, then the one it is sewn to".to_owned(),
            ));
            return;
        };
        if alter(hand, Alteration::Seam(SeamChange::Sew(seam)), commands) {
            self.put_down();
        }
    }

    fn put_down(&mut self) {
        self.a.clear();
        self.b.clear();
        self.from = None;
        self.proposed.clear();
        self.name.clear();
        self.relation = None;
        self.kind = SeamKind::Plain;
        self.way = Way::Shorter;
    }

    /// Adds what was picked to the side that is picked now.
    fn add(&mut self, hand: &Hand<'_>, side: Vec<Stretch>, more: bool) {
        if self.a.is_empty() || more && self.b.is_empty() {
            self.a.extend(side);
            self.propose(hand);
        } else if more {
            self.b.extend(side);
        } else {
            self.b = side;
        }
    }

    fn edge(&mut self, hand: &Hand<'_>, place: &OnEdge, more: bool, commands: &mut Vec<Command>) {
        commands.push(Command::Choose(Chosen::edge(&place.piece, &place.edge)));
        let Some(stretch) = stretch_of(hand, place, self.role) else {
            commands.push(Command::Say(format!(
                "{} cannot be sewn: it is a fold, a dart leg, or finished otherwise over all its length",
                place.name()
            )));
            return;
        };
        let on_first = self.a.is_empty() || more && self.b.is_empty();
        let as_proposed = self.proposed.iter().find(|mate| {
            matches!(mate.stretches.as_slice(), [one] if one.piece == stretch.piece && one.edge == stretch.edge)
        });
        let side = match as_proposed {
            _ if on_first => vec![stretch],
            Some(mate) if !more => mate.stretches.clone(),
            // Mates are walked from opposite ends.
            _ => vec![turned(stretch)],
        };
        self.add(hand, side, more);
    }

    fn place(&mut self, hand: &Hand<'_>, at: &At, commands: &mut Vec<Command>) {
        let Some((piece, place)) = place_under(hand, at) else {
            commands.push(Command::Say("Click a dot or a place on an edge".to_owned()));
            return;
        };
        let start = self.from.take().filter(|(name, _)| *name == piece);
        let Some((_, from)) = start else {
            self.from = Some((piece, place));
            return;
        };
        let found = hand.piece(&piece).and_then(|found| {
            let copy = copy_of(found, self.role)?;
            Some(stretches_between(found, copy, &from, &place, self.way))
        });
        match found {
            Some(Ok(side)) => self.add(hand, side, hand.keys.shift),
            Some(Err(why)) => commands.push(Command::Say(why.to_string())),
            None => {}
        }
    }
}

impl Tool for Sew {
    fn name(&self) -> &'static str {
        "Sew"
    }

    fn tip(&self) -> &'static str {
        "Say which edge is sewn to which; the likely mates are proposed"
    }

    fn group(&self) -> Group {
        Group::Seams
    }

    fn key(&self) -> Option<Key> {
        Some(Key::S)
    }

    fn snaps(&self) -> bool {
        self.by == By::Places
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        let under = hand.pointer.as_ref().and_then(OnEdge::under);
        if self.by == By::Places && self.from.is_some() {
            return "Click where this side ends".to_owned();
        }
        if let Some(seam) = self.seam(hand) {
            let reason = self
                .proposed
                .iter()
                .find(|mate| mate.stretches == seam.b)
                .map_or(String::new(), |mate| format!(" ({})", mate.reason));
            return format!(
                "Enter sews {} to {}{reason}; or click another edge",
                side_words(&seam.a),
                side_words(&seam.b)
            );
        }
        match (self.by, under) {
            (By::Edges, Some(place)) => format!("Click: sew {}", place.name()),
            (By::Edges, None) => "Click the edge that is to be sewn".to_owned(),
            (By::Places, _) => "Click the dot or the place where sewing starts".to_owned(),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let Some(garment) = hand.garment else {
            return Vec::new();
        };
        let handle = |(number, mate): (usize, &Mate)| {
            let first = mate.stretches.first()?;
            let line = first.line(&garment.pieces)?;
            Some(Handle {
                id: format!("{number}"),
                at: hand.on_table(&first.piece, line.at(0.5)),
                label: format!("Mate: {}, {}", side_words(&mate.stretches), mate.reason),
                look: HandleLook::Edge,
                chosen: mate.stretches == self.second(),
            })
        };
        let shown = self.proposed.iter().take(SHOWN).enumerate();
        shown.filter_map(handle).collect()
    }

    fn takes_arrows(&self, _hand: &Hand<'_>) -> bool {
        false
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        match gesture {
            Gesture::Click(at) if self.by == By::Places => self.place(hand, &at, commands),
            Gesture::Click(at) => match OnEdge::under(&at) {
                Some(place) => self.edge(hand, &place, hand.keys.shift, commands),
                None => commands.push(Command::Choose(
                    at.piece.map(Chosen::piece).unwrap_or_default(),
                )),
            },
            Gesture::Take { handle, more } => {
                let taken = handle
                    .parse()
                    .ok()
                    .and_then(|n: usize| self.proposed.get(n));
                let Some(stretches) = taken.map(|mate| mate.stretches.clone()) else {
                    return;
                };
                match stretches.first() {
                    // With Shift the edge under the handle goes on with the row.
                    Some(first) if more => {
                        let place = OnEdge::new(&first.piece, &first.edge, first.from);
                        self.edge(hand, &place, true, commands);
                    }
                    _ => self.b = stretches,
                }
            }
            Gesture::Finish => self.sew(hand, commands),
            Gesture::Delete => self.b.clear(),
            _ => {}
        }
    }

    fn step_back(&mut self) -> bool {
        if self.from.take().is_some() {
            return true;
        }
        let side = if self.b.is_empty() {
            &mut self.a
        } else {
            &mut self.b
        };
        let was = side.pop().is_some();
        if self.a.is_empty() {
            self.proposed.clear();
        }
        was
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        let was = !self.a.is_empty() || self.from.is_some();
        self.put_down();
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.horizontal_wrapped(|ui| {
            let words = |by| match by {
                By::Edges => "whole edges",
                By::Places => "from place to place",
            };
            if let Some(by) = one_of(ui, "Sew", self.by, &[By::Edges, By::Places], words) {
                self.by = by;
                self.from = None;
            }
        });
        if self.by == By::Places {
            ui.horizontal_wrapped(|ui| {
                let words = |way| match way {
                    Way::Longer => "the longer way round",
                    _ => "the shorter way round",
                };
                let ways = [Way::Shorter, Way::Longer];
                if let Some(way) = one_of(ui, "Way round", self.way, &ways, words) {
                    self.way = way;
                }
            });
        }
        ui.horizontal(|ui| {
            ui.label("Layer");
            let roles = [
                Role::Shell,
                Role::Lining,
                Role::Interlining,
                Role::FlatLined,
            ];
            let words = |role: &Role| wording::role(*role).to_owned();
            if let Some(role) = pick(ui, "role", "Layer", &self.role, &roles, words) {
                self.role = role;
            }
        });
        pick_edge(ui, hand, commands);
        if let Some(place) = OnEdge::chosen(hand) {
            ui.horizontal_wrapped(|ui| {
                if ui.button(format!("Take {}", place.edge)).clicked() {
                    self.edge(hand, &place, false, commands);
                }
                if !self.a.is_empty() && ui.button("Add it in a row").clicked() {
                    self.edge(hand, &place, true, commands);
                }
            });
        }
        if !self.a.is_empty() {
            self.sides(ui, hand, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        paint_side(&self.a, hand, brush);
        let b = self.second();
        paint_side(b, hand, brush);
        let Some(garment) = hand.garment else {
            return;
        };
        let end = |stretch: Option<&Stretch>, at_start: bool| {
            let stretch = stretch?;
            let line = stretch.line(&garment.pieces)?;
            let at = if at_start { line.start() } else { line.end() };
            Some(hand.on_table(&stretch.piece, at))
        };
        for (mine, theirs) in [
            (end(self.a.first(), true), end(b.first(), true)),
            (end(self.a.last(), false), end(b.last(), false)),
        ] {
            if let Some((x, y)) = mine.zip(theirs) {
                brush.guide(x, y);
            }
        }
        if let Some((piece, place)) = &self.from
            && let Some(at) = hand.piece(piece).and_then(|found| found.point_at(place))
        {
            brush.dot(hand.on_table(piece, at));
        }
    }
}

impl Sew {
    /// Both sides, the proposals, and how it is sewn.
    fn sides(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.separator();
        ui.label(format!("First side: {}", side_words(&self.a)));
        if self.second().is_empty() {
            ui.label("No likely mate: click the edge it is sewn to.");
            return;
        }
        ui.label(format!("Second side: {}", side_words(self.second())));
        for (number, mate) in self.proposed.iter().enumerate() {
            let is_it = mate.stretches == self.second();
            let words = format!("{}: {}", side_words(&mate.stretches), mate.reason);
            let row = egui::Button::selectable(is_it, &words)
                .truncate()
                .min_size(egui::vec2(ui.available_width(), 24.0));
            let clicked = ui
                .push_id(number, |ui| ui.add(row).on_hover_text(&words).clicked())
                .inner;
            if clicked {
                self.b.clone_from(&mate.stretches);
                break;
            }
        }
        let Some(seam) = self.seam(hand) else {
            return;
        };
        ui.horizontal(|ui| {
            ui.label("Name");
            if let Some(name) = name_field(ui, "Name of the new seam", &seam.name) {
                self.name = name;
            }
        });
        if let Some(relation) = relation_fields(ui, hand, seam.relation) {
            self.relation = Some(relation);
        }
        ui.horizontal(|ui| {
            ui.label("Sewn as");
            let words = |kind: &SeamKind| kind_words(*kind).to_owned();
            let name = "Kind of the new seam";
            if let Some(kind) = pick(ui, "new kind", name, &self.kind, &KINDS, words) {
                self.kind = kind;
            }
        });
        ui.horizontal_wrapped(|ui| {
            if ui.button("Sew it").clicked() {
                self.sew(hand, commands);
            }
            if ui.button("Turn the second side round").clicked() {
                self.b = turned_round(self.second().to_vec());
            }
        });
    }
}
