//! Dots, eyelets and words: one click each; moved, renamed, taken out.

use egui::{Key, Ui};
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::alteration::MarkChange;
use petitoile_core::piece::{Mark, MarkKind};

use crate::chalk::ask::alter;
use crate::chalk::brush::Brush;
use crate::chalk::hand::{At, Hand};
use crate::chalk::marked::{self, Grip};
use crate::chalk::near::nearest_edge;
use crate::chalk::on_edge::OnEdge;
use crate::chalk::tool::{Gesture, Group, Handle, Tool};
use crate::command::{Chosen, Command};
use crate::fields::{Typed, length_field, name_field, one_of};
use crate::wording;

/// What one click sets.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Sort {
    Dot,
    Eyelet,
    Words,
}

/// Sets marks that are one place.
pub struct SetDots {
    sort: Sort,
    name: String,
    diameter: Mm,
    grip: Option<Grip>,
}

impl Default for SetDots {
    fn default() -> Self {
        Self {
            sort: Sort::Dot,
            name: String::new(),
            // Common practice for doll clothes, no source.
            diameter: Mm(2.0),
            grip: None,
        }
    }
}

impl Sort {
    fn words(self) -> &'static str {
        match self {
            Self::Dot => "Dot",
            Self::Eyelet => "Eyelet",
            Self::Words => "Words",
        }
    }
}

fn is_place(kind: &MarkKind) -> bool {
    matches!(
        kind,
        MarkKind::Dot(_) | MarkKind::Eyelet { .. } | MarkKind::Text(_)
    )
}

impl SetDots {
    /// Where a click sets the mark, in the piece: a dot near the outline lies on it.
    fn place(&self, hand: &Hand<'_>, at: &At) -> Option<(String, Point)> {
        let piece = at.piece.clone()?;
        let on_outline = OnEdge::drawn_to(hand, at)
            .filter(|_| self.sort == Sort::Dot && at.snapped.is_none())
            .and_then(|(place, _)| place.on_table(hand));
        let point = hand.in_piece(&piece, on_outline.unwrap_or(at.point));
        Some((piece, point))
    }

    fn kind(&self, at: Point) -> MarkKind {
        match self.sort {
            Sort::Dot => MarkKind::Dot(at),
            Sort::Eyelet => MarkKind::Eyelet {
                at,
                diameter: self.diameter,
            },
            Sort::Words => MarkKind::Text(at),
        }
    }

    fn set(&mut self, hand: &Hand<'_>, piece: &str, at: Point, commands: &mut Vec<Command>) {
        commands.push(Command::Choose(Chosen::piece(piece)));
        let name = match (self.name.trim(), self.sort) {
            ("", Sort::Words) => {
                commands.push(Command::Say("Type the words first, then click".to_owned()));
                return;
            }
            ("", sort) => marked::fresh_name(hand, piece, &sort.words().to_lowercase()),
            (typed, _) => typed.to_owned(),
        };
        let kind = self.kind(at);
        if alter(
            hand,
            MarkChange::AddMark(Mark { name, kind }).of(piece),
            commands,
        ) {
            self.name.clear();
        }
    }
}

/// "12 mm from side".
fn off_edge(hand: &Hand<'_>, piece: &str, at: Point) -> String {
    hand.piece(piece)
        .and_then(|piece| nearest_edge(piece, at))
        .map_or(String::new(), |(edge, _, off)| {
            format!("{} from {edge}", wording::length(Mm(off), hand.unit))
        })
}

impl Tool for SetDots {
    fn name(&self) -> &'static str {
        "Dot"
    }

    fn tip(&self) -> &'static str {
        "Set a dot, an eyelet or words with one click"
    }

    fn group(&self) -> Group {
        Group::Mark
    }

    fn key(&self) -> Option<Key> {
        Some(Key::D)
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        if let Some((grip, mark)) = self.grip.as_ref().and_then(|g| Some((g, g.mark(hand)?))) {
            let off = off_edge(hand, grip.piece(), grip.place(hand, mark));
            return format!(
                "{} {} of {}, {off}: drag it, or Delete takes it out",
                wording::sentence(mark.kind.noun()),
                mark.name,
                grip.piece()
            );
        }
        let place = hand.pointer.as_ref().and_then(|at| self.place(hand, at));
        let sort = self.sort.words().to_lowercase();
        match place {
            Some((piece, at)) => {
                format!("Click: {sort} on {piece}, {}", off_edge(hand, &piece, at))
            }
            None => format!("Click a piece to set {sort} on it, or a mark to change it"),
        }
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        marked::handles(hand, self.grip.as_ref(), is_place)
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, commands: &mut Vec<Command>) {
        if marked::gesture(&mut self.grip, hand, &gesture, commands) {
            return;
        }
        if let Gesture::Click(at) = gesture {
            self.grip = None;
            match self.place(hand, &at) {
                Some((piece, point)) => self.set(hand, &piece, point, commands),
                None => commands.push(Command::Choose(Chosen::default())),
            }
        }
    }

    fn cancel(&mut self, commands: &mut Vec<Command>) -> bool {
        let was = self.grip.take().is_some();
        if was {
            commands.push(Command::StopTrying);
        }
        was
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        if marked::fields(&mut self.grip, ui, hand, commands) {
            return;
        }
        let sorts = [Sort::Dot, Sort::Eyelet, Sort::Words];
        ui.horizontal_wrapped(|ui| {
            if let Some(sort) = one_of(ui, "Set", self.sort, &sorts, Sort::words) {
                self.sort = sort;
            }
        });
        let words = if self.sort == Sort::Words {
            "Words to write"
        } else {
            "Name of the next one"
        };
        ui.horizontal(|ui| {
            ui.label(words);
            if let Some(name) = name_field(ui, words, &self.name) {
                self.name = name;
            }
        });
        if self.sort == Sort::Eyelet {
            ui.horizontal(|ui| {
                ui.label("Diameter");
                let now = Some(self.diameter);
                let field = length_field(ui, "Diameter of the eyelet", now, "", hand.unit, 76.0);
                if let Typed::Length(size) = field.typed {
                    self.diameter = size;
                }
            });
        }
        crate::chalk::on_edge::pick_piece(ui, hand, commands);
        let middle = hand
            .session
            .chosen
            .piece
            .clone()
            .and_then(|name| Some((hand.piece(&name)?.outline.bounds().center(), name)));
        if let Some((middle, piece)) = middle
            && ui.button("Set it in the middle of the piece").clicked()
        {
            self.set(hand, &piece, middle, commands);
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let place = hand
            .pointer
            .as_ref()
            .filter(|_| self.grip.is_none())
            .and_then(|at| self.place(hand, at));
        if let Some((piece, at)) = place {
            brush.dot(hand.on_table(&piece, at));
        }
    }
}
