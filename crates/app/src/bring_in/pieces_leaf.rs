//! What lines and words are taken for: sizes, the pieces, every guess with its doubt, what is in no piece.

use std::collections::BTreeMap;

use egui::{RichText, Ui};
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_exchange::bring_in::recognise::{
    ALLOWANCE, Choices, Correction, Drawn, Guess, OneLine, PieceId, RecognisedPiece, Taken, Thing,
};

use super::leaves::{doubt, left_by_reader};
use super::work::Worked;
use super::{BringIn, Mark};
use crate::command::Command;
use crate::fields::{Typed, length_field, name_field, one_of, pick};
use crate::session::Session;
use crate::trays::{faded, heading};
use crate::wording;

/// What a maker may say that a line, text or point is.
const ALL_TAKEN: [(Taken, &str); 17] = [
    (Taken::CutLine, "cut line"),
    (Taken::StitchLine, "stitch line"),
    (Taken::FoldEdge, "fold of the piece"),
    (Taken::Grain, "grainline"),
    (Taken::Notch(NotchKind::Single), "notch"),
    (Taken::Notch(NotchKind::Double), "double notch"),
    (Taken::Notch(NotchKind::Triple), "triple notch"),
    (Taken::Dot, "dot"),
    (Taken::Eyelet, "eyelet"),
    (Taken::Buttonhole, "buttonhole"),
    (Taken::FoldMark, "fold line inside"),
    (Taken::StitchMark, "stitching line inside"),
    (Taken::Placement, "placement line"),
    (Taken::Name, "name of the piece"),
    (Taken::CutCount, "how often it is cut"),
    (Taken::Words, "other words"),
    (Taken::NoPart, "no part of a piece"),
];

impl BringIn {
    pub(super) fn pieces_leaf(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        commands: &mut Vec<Command>,
    ) {
        let Some(worked) = self.worked.clone() else {
            faded(ui, "Looking at the lines\u{2026}");
            return;
        };
        self.sizes(ui, &worked);
        self.one_line(ui, session, &worked, commands);
        self.chosen_thing(ui, &worked);
        heading(ui, "Pieces");
        if worked.recognised.pieces.is_empty() {
            ui.label("No closed line was found. Choose a line on the table and say what it is.");
        }
        for piece in &worked.recognised.pieces {
            self.piece_row(ui, piece);
        }
        self.guesses(ui, &worked);
        self.left_over(ui, &worked);
        if let Some(source) = &self.source {
            left_by_reader(ui, &source.drawing.left);
        }
    }

    /// Puts something right: one undo step.
    fn correct(&mut self, ui: &Ui, correction: Correction) {
        self.choose(ui.ctx(), |choices| {
            choices.pieces.corrections.push(correction)
        });
    }

    fn pieces_choice(&mut self, ui: &Ui, change: impl FnOnce(&mut Choices)) {
        self.choose(ui.ctx(), |choices| change(&mut choices.pieces));
    }

    fn sizes(&mut self, ui: &mut Ui, worked: &Worked) {
        let recognised = &worked.recognised;
        if recognised.sizes.is_empty() {
            return;
        }
        heading(ui, "Sizes");
        let now = recognised.size.clone().unwrap_or_default();
        for size in &recognised.sizes {
            let chosen = size.name == now;
            let words = format!("{}: {}", size.name, size.told_by);
            let row = egui::Button::selectable(chosen, &words).min_size(egui::vec2(0.0, 28.0));
            let row = ui.add(row);
            row.widget_info(|| {
                egui::WidgetInfo::selected(egui::Role::RadioButton, true, chosen, &words)
            });
            if row.clicked() && !chosen {
                self.pieces_choice(ui, |choices| choices.size = Some(size.name.clone()));
            }
        }
    }

    /// Where a piece is drawn with one line only: which it is, and the allowance that is to be taken off.
    fn one_line(
        &mut self,
        ui: &mut Ui,
        session: &Session,
        worked: &Worked,
        commands: &mut Vec<Command>,
    ) {
        let pieces = &worked.recognised.pieces;
        let with_one = pieces.iter().filter(|piece| piece.drawn != Drawn::Both);
        let cut = with_one.clone().any(|piece| piece.drawn == Drawn::CutOnly);
        let count = with_one.count();
        if count == 0 {
            return;
        }
        let count = wording::count(count, "piece is", "pieces are");
        ui.label(format!("{count} drawn with one line. It is"));
        ui.horizontal_wrapped(|ui| {
            let now = if cut { OneLine::Cut } else { OneLine::Stitch };
            let words = |is: OneLine| match is {
                OneLine::Stitch => "the stitch line",
                OneLine::Cut => "the cut line",
            };
            let all = [OneLine::Stitch, OneLine::Cut];
            if let Some(is) = one_of(ui, "The only line", now, &all, words) {
                self.pieces_choice(ui, |choices| choices.one_line = Some(is));
            }
        });
        if cut {
            ui.horizontal(|ui| {
                ui.label("Allowance in it");
                let now = worked.choices.pieces.allowance.unwrap_or(ALLOWANCE);
                let unit = session.project().unit;
                let name = "Allowance in the only line";
                match length_field(ui, name, Some(now), "", unit, 76.0).typed {
                    Typed::Length(width) => {
                        self.pieces_choice(ui, |choices| choices.allowance = Some(width));
                    }
                    Typed::Cleared => self.pieces_choice(ui, |choices| choices.allowance = None),
                    Typed::Trouble(why) => commands.push(Command::Say(why)),
                    Typed::Nothing => {}
                }
            });
        }
    }

    /// The chosen line, text or point, and what else it may be.
    fn chosen_thing(&mut self, ui: &mut Ui, worked: &Worked) {
        let Some(Mark::Thing(thing)) = self.chosen else {
            return;
        };
        heading(ui, "Chosen on the table");
        ui.add(egui::Label::new(thing_words(worked, thing)).wrap());
        ui.horizontal(|ui| {
            ui.label("It is");
            let none = (None, "as it was taken");
            let all: Vec<(Option<Taken>, &str)> = std::iter::once(none)
                .chain(ALL_TAKEN.iter().map(|(taken, words)| (Some(*taken), *words)))
                .collect();
            let said = said_of(worked, thing);
            let now = all.iter().find(|(taken, _)| *taken == said).copied();
            let words = |one: &(Option<Taken>, &str)| one.1.to_owned();
            let asked = pick(ui, "thing", "What the chosen line is", &now.unwrap_or(none), &all, words);
            match asked {
                Some((Some(taken), _)) => self.correct(ui, Correction::Is { thing, taken }),
                Some((None, _)) => self.pieces_choice(ui, |choices| {
                    let is_it = |c: &Correction| matches!(c, Correction::Is { thing: of, .. } if *of == thing);
                    choices.corrections.retain(|c| !is_it(c));
                }),
                None => {}
            }
        });
        if let Thing::Line(line) = thing {
            let is_one = worked
                .recognised
                .pieces
                .iter()
                .any(|p| p.id == PieceId(line));
            let (words, is_piece) = if is_one {
                ("It is no piece", false)
            } else {
                ("It is the outline of a piece", true)
            };
            if ui.button(words).clicked() {
                let piece = PieceId(line);
                self.correct(ui, Correction::IsPiece { piece, is_piece });
            }
        }
    }

    fn piece_row(&mut self, ui: &mut Ui, piece: &RecognisedPiece) {
        let chosen = self.chosen == Some(Mark::Piece(piece.id));
        let words = format!("{}: {}", piece.piece.name, wording::to_cut(&piece.piece));
        let row = egui::Button::selectable(chosen, &words)
            .wrap()
            .min_size(egui::vec2(ui.available_width(), 28.0));
        let row = ui.add(row);
        row.widget_info(|| egui::WidgetInfo::selected(egui::Role::ListItem, true, chosen, &words));
        if row.clicked() {
            self.chosen = (!chosen).then_some(Mark::Piece(piece.id));
        }
        if chosen {
            ui.indent(("piece", piece.id.0), |ui| self.piece_form(ui, piece));
        }
    }

    fn piece_form(&mut self, ui: &mut Ui, piece: &RecognisedPiece) {
        let id = piece.id;
        ui.horizontal(|ui| {
            ui.label("Name");
            if let Some(name) = name_field(ui, "Name of the piece", &piece.piece.name) {
                self.correct(ui, Correction::Name { piece: id, name });
            }
        });
        ui.horizontal_wrapped(|ui| {
            ui.label("Cut");
            let shell = |side| Copy {
                side,
                role: Role::Shell,
            };
            for (words, copies) in [
                ("1", vec![shell(Side::Whole)]),
                ("2, a pair", vec![shell(Side::Right), shell(Side::Left)]),
            ] {
                let is_now = piece.piece.copies == copies;
                let button = ui.add(egui::Button::selectable(is_now, words));
                button.widget_info(|| {
                    let name = format!("Cut {words}");
                    egui::WidgetInfo::selected(egui::Role::RadioButton, true, is_now, name)
                });
                if button.clicked() && !is_now {
                    self.correct(ui, Correction::Copies { piece: id, copies });
                }
            }
        });
        ui.horizontal(|ui| {
            ui.label("Fold");
            let names: Vec<Option<usize>> = std::iter::once(None)
                .chain((0..piece.piece.outline.edges().len()).map(Some))
                .collect();
            let edges = piece.piece.outline.edges();
            let now = edges.iter().position(petitoile_core::edge::Edge::is_fold);
            let words = |edge: &Option<usize>| match edge.and_then(|e| edges.get(e)) {
                None => "not on a fold".to_owned(),
                Some(edge) => edge.name.clone(),
            };
            if let Some(edge) = pick(ui, id.0, "Fold of the piece", &now, &names, words) {
                self.correct(ui, Correction::Fold { piece: id, edge });
            }
        });
        if ui.button("It is no piece").clicked() {
            self.correct(
                ui,
                Correction::IsPiece {
                    piece: id,
                    is_piece: false,
                },
            );
            self.chosen = None;
        }
    }

    /// Guesses of the chosen piece, else all that are in doubt, the least sure first.
    fn guesses(&mut self, ui: &mut Ui, worked: &Worked) {
        let of_piece = match self.chosen {
            Some(Mark::Piece(id)) => Some(id),
            _ => None,
        };
        let mut guesses: Vec<&Guess> = worked
            .recognised
            .guesses
            .iter()
            .filter(|guess| match of_piece {
                Some(id) => guess.piece == Some(id),
                None => guess.certainty < 0.95,
            })
            .collect();
        guesses.sort_by(|a, b| a.certainty.total_cmp(&b.certainty));
        heading(ui, "Guesses");
        if guesses.is_empty() {
            faded(ui, "Nothing is in doubt.");
        } else if of_piece.is_none() {
            faded(ui, "The least sure first. Choose a piece to see all of it.");
        }
        for guess in guesses {
            let named = guess.piece.and_then(|id| name_of(worked, id));
            let words = match named.filter(|_| of_piece.is_none()) {
                Some(name) => format!("{name}: {}", guess.words),
                None => guess.words.clone(),
            };
            ui.add(egui::Label::new(RichText::new(words).strong()).wrap());
            doubt(ui, guess.certainty, &guess.rests_on);
            ui.horizontal_wrapped(|ui| {
                let is_shown = self.place == Some(guess.at);
                let show = ui.add(egui::Button::selectable(is_shown, "Show me"));
                if show.on_hover_text("A ring round it on the table").clicked() {
                    self.place = (!is_shown).then_some(guess.at);
                }
                for other in &guess.alternatives {
                    let button = ui.button(wording::sentence(&other.words));
                    if button.clicked() {
                        self.correct(ui, other.correction.clone());
                    }
                }
            });
            ui.add_space(4.0);
        }
    }

    fn left_over(&mut self, ui: &mut Ui, worked: &Worked) {
        let left = &worked.recognised.left;
        if left.is_empty() {
            return;
        }
        let count = wording::count(left.len(), "thing is", "things are");
        ui.collapsing(format!("{count} in no piece"), |ui| {
            // A drawing may hold thousands: what is alike stands once, a click goes from one to the next.
            let mut kinds: BTreeMap<&str, Vec<Thing>> = BTreeMap::new();
            for one in left {
                kinds.entry(&one.what).or_default().push(one.thing);
            }
            for (what, things) in &kinds {
                let at = things
                    .iter()
                    .position(|thing| self.chosen == Some(Mark::Thing(*thing)));
                let times = wording::count(things.len(), "time", "times");
                let words = match things.len() {
                    1 => (*what).to_owned(),
                    _ => format!("{what}, {times}"),
                };
                let row = egui::Button::selectable(at.is_some(), words).wrap();
                if ui.add(row).clicked() {
                    let next = at.map_or(0, |at| at + 1);
                    self.chosen = things.get(next).map(|thing| Mark::Thing(*thing));
                }
            }
        });
    }
}

fn name_of(worked: &Worked, id: PieceId) -> Option<&str> {
    let pieces = worked.recognised.pieces.iter();
    let mut pieces = pieces.filter(|piece| piece.id == id);
    pieces.next().map(|piece| piece.piece.name.as_str())
}

/// What the maker said of a thing, if anything.
fn said_of(worked: &Worked, thing: Thing) -> Option<Taken> {
    let corrections = worked.choices.pieces.corrections.iter().rev();
    corrections
        .filter_map(|c| match c {
            Correction::Is { thing: of, taken } if *of == thing => Some(*taken),
            _ => None,
        })
        .next()
}

/// What a thing on the sheet is, as far as the program knows.
pub(super) fn thing_words(worked: &Worked, thing: Thing) -> String {
    let left = worked.recognised.left.iter();
    if let Some(left) = left.clone().find(|left| left.thing == thing) {
        return format!("In no piece: {}", left.what);
    }
    let sheet = worked.sheet();
    let what = match thing {
        Thing::Line(i) => match sheet.lines.get(i) {
            Some(line) if !line.layer.is_empty() => format!("a line of the layer {}", line.layer),
            _ => "a line".to_owned(),
        },
        Thing::Text(i) => sheet.texts.get(i).map_or_else(
            || "words".to_owned(),
            |text| format!("the words \u{201c}{}\u{201d}", text.words),
        ),
        Thing::Point(_) => "a point".to_owned(),
    };
    let pieces = worked.recognised.pieces.iter();
    let mut of = pieces.filter(|piece| piece.made_of.contains(&thing));
    match of.next() {
        Some(piece) => format!("Of {}: {what}", piece.piece.name),
        None => what,
    }
}
