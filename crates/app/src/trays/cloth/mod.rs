//! The Cloth tray: offcuts, where the pieces lie on them, by search and by hand, what is cut.
//!
//! [`laid`] says what lies on the table and where, [`table`] listens to pointer and keys, [`hand`] holds one part,
//! [`pen`] draws cloth; the leaves are what stands in the tray beside it. Keeps only what is half typed, half drawn or in
//! the hand.

mod cut_leaf;
mod hand;
mod laid;
mod lay_leaf;
mod offcut_form;
mod offcuts_leaf;
mod paint;
mod pen;
mod photo;
mod photo_form;
mod piece_form;
mod seen;
mod stash_form;
mod table;
mod woven;

pub(crate) use pen::fresh_name;

use std::path::PathBuf;

use egui::{Context, Key, Modifiers, ScrollArea, Ui, Vec2};
use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::finding::Place;
use petitoile_core::lay_plan::PartRef;

use super::{faded, leaves};
use crate::canvas::view::View;
use crate::command::{Chosen, Command};
use crate::session::Session;
use hand::Lifted;
use laid::{Laid, Part};
use pen::{Drawing, Pen};
use seen::{Kept, Seen};

/// The Cloth tray.
#[derive(Default)]
pub struct ClothTray {
    leaf: Leaf,
    /// The chosen offcut.
    offcut: Option<String>,
    /// The chosen part, of the piece that is chosen on the table.
    part: Option<PartRef>,
    hand: Option<Lifted>,
    turning: bool,
    drawing: Option<Drawing>,
    /// A corner of the chosen offcut that is being dragged, and where it is.
    point: Option<(usize, Point)>,
    photo: photo::PhotoTable,
    offcuts: offcuts_leaf::Half,
    lay: lay_leaf::Half,
    woven: woven::Woven,
    kept: Kept,
    all_for: Option<(Vec2, View, kurbo::Rect)>,
    /// Had a field the keys when this frame began? Then Enter belongs to it.
    typing: bool,
}

/// The leaves of the tray.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
enum Leaf {
    /// The cloth that is there.
    #[default]
    Offcuts,
    /// How the pieces are laid.
    Lay,
    /// What is cut, and what is left.
    Cut,
}

impl Leaf {
    const ALL: [(Self, &str); 3] = [
        (Self::Offcuts, "Offcuts"),
        (Self::Lay, "Lay"),
        (Self::Cut, "Cut"),
    ];
}

impl ClothTray {
    /// Shows the tray.
    pub fn ui(&mut self, ui: &mut Ui, session: &Session, commands: &mut Vec<Command>) {
        self.typing = ui.ctx().text_edit_focused();
        // The worker wakes the window only at its end; how far it is, the window looks for itself.
        if session.laying.busy_with().is_some() {
            let soon = std::time::Duration::from_millis(120);
            ui.ctx().request_repaint_after(soon);
        }
        if session.fitting().is_none() {
            faded(ui, "No fitting yet. Open a project.");
            return;
        }
        leaves(ui, &Leaf::ALL, &mut self.leaf, 72.0);
        let seen = Seen::of(session);
        let laid = self.kept.of(&seen);
        ScrollArea::vertical().auto_shrink(false).show(ui, |ui| {
            match self.leaf {
                Leaf::Offcuts => self.offcuts_leaf(ui, session, &seen, &laid, commands),
                Leaf::Lay => self.lay_leaf(ui, session, &seen, &laid, commands),
                Leaf::Cut => self.cut_leaf(ui, session, &seen, &laid, commands),
            }
            ui.add_space(12.0);
        });
    }

    /// What the next click does, or what the hand holds; nothing when neither.
    pub fn says(&self, session: &Session) -> Option<String> {
        if let Some(drawing) = &self.drawing {
            return Some(drawing.says());
        }
        if let Some(hand) = &self.hand {
            let words = hand.words(session.shown().unit);
            return Some(if hand.by_pointer {
                words
            } else {
                format!("{words}. Enter sets it down, Escape puts it back")
            });
        }
        None
    }

    /// Keys that belong to what is half done: they come before those of the window.
    pub fn keys(&mut self, ctx: &Context, session: &Session, commands: &mut Vec<Command>) {
        if self.typing || ctx.text_edit_focused() {
            return;
        }
        let pressed = |key: Key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
        let undo = |ctx: &Context| ctx.input_mut(|i| i.consume_key(Modifiers::COMMAND, Key::Z));
        if self.hand.is_some() && (pressed(Key::Escape) || undo(ctx)) {
            self.hand = None;
            self.turning = false;
            return;
        }
        let Some(drawing) = &mut self.drawing else {
            return;
        };
        if pressed(Key::Escape) {
            self.drawing = None;
        } else if pressed(Key::Backspace) || (!drawing.points.is_empty() && undo(ctx)) {
            drawing.points.pop();
        } else if pressed(Key::Enter) {
            let pointing = Mm(2.0 / session.view.scale);
            self.close_drawing(session, pointing, commands);
        }
    }

    /// Puts a photo of cloth on the table.
    pub fn photo(&mut self, ctx: &Context, file: PathBuf) {
        self.leaf = Leaf::Offcuts;
        self.photo.open(ctx, file);
    }

    /// Goes to a place that a finding names, on the cloth.
    pub fn show_place(&mut self, session: &Session, place: &Place) -> Vec<Command> {
        let seen = Seen::of(session);
        let laid = self.kept.of(&seen);
        let name = place.piece.as_deref().unwrap_or("");
        let Some((part, bounds)) = laid.place_of(name) else {
            return vec![Command::ShowAll];
        };
        self.part = Some(part.part.clone());
        let room = 0.5 * bounds.width().max(bounds.height());
        vec![
            Command::Choose(Chosen::piece(part.part.of.piece.clone())),
            Command::ShowPart(bounds.inflate(room, room)),
        ]
    }

    fn choose_offcut(&mut self, name: &str) {
        self.offcut = Some(name.to_owned());
    }

    fn choose_part(&mut self, part: &Part, commands: &mut Vec<Command>) {
        self.part = Some(part.part.clone());
        commands.push(Command::Choose(Chosen::piece(part.part.of.piece.clone())));
    }

    /// Is it the chosen part?
    fn is_chosen(&self, session: &Session, part: &Part) -> bool {
        let piece = &part.part.of.piece;
        if session.chosen.piece.as_ref() != Some(piece) {
            return false;
        }
        match &self.part {
            Some(chosen) if chosen.of.piece == *piece => *chosen == part.part,
            // Chosen by its piece, in the list or in another tray: every copy of it.
            _ => true,
        }
    }

    /// The chosen part; where only a piece is chosen, its first.
    fn chosen_part<'a>(&self, session: &Session, laid: &'a Laid) -> Option<&'a Part> {
        laid.parts.iter().find(|part| self.is_chosen(session, part))
    }

    /// A place on the table in the coordinates of what is drawn on.
    fn in_frame(&self, laid: &Laid, p: Point) -> Point {
        p - self.frame_of(laid)
    }

    /// Where those coordinates lie on the table.
    fn frame_of(&self, laid: &Laid) -> kurbo::Vec2 {
        let drawing = self.drawing.as_ref();
        let on = drawing.and_then(|drawing| drawing.pen.offcut());
        match on.and_then(|name| laid.cloth(name)) {
            Some(cloth) => cloth.moved,
            None if self.photo.photo.is_some() => self.photo_corner(laid),
            None => kurbo::Vec2::ZERO,
        }
    }

    /// One more point; a stretch is finished by its second.
    fn draw_point(
        &mut self,
        session: &Session,
        point: Point,
        pointing: Mm,
        commands: &mut Vec<Command>,
    ) {
        let Some(drawing) = &mut self.drawing else {
            return;
        };
        if drawing.pen == Pen::KnownLength && drawing.points.len() >= 2 {
            drawing.points.clear();
        }
        drawing.points.push(point);
        if matches!(drawing.pen, Pen::Thread(_)) && drawing.points.len() == 2 {
            self.close_drawing(session, pointing, commands);
        }
    }

    /// Takes over what is drawn; what encloses no cloth stays in the hand, with the reason told.
    fn close_drawing(&mut self, session: &Session, pointing: Mm, commands: &mut Vec<Command>) {
        let Some(drawing) = &self.drawing else { return };
        let shown = session.shown();
        match &drawing.pen {
            Pen::KnownLength => {}
            Pen::Outline => {
                let name = pen::fresh_name(&shown.offcuts);
                let cloth = self.offcuts.cloth_for(session);
                match drawing.new_offcut(name.clone(), cloth) {
                    Ok(offcut) => {
                        if let Some(photo) = &mut self.photo.photo {
                            photo.of = Some(name.clone());
                        }
                        self.choose_offcut(&name);
                        commands.push(pen::put(offcut));
                        self.drawing = None;
                    }
                    Err(why) => commands.push(Command::Say(why.to_string())),
                }
            }
            Pen::Hole(name) | Pen::Blemish(name, _) | Pen::Thread(name) => {
                let Some(offcut) = shown.offcut(name) else {
                    self.drawing = None;
                    return;
                };
                // In a photo nobody points better than to a pixel.
                let photo = self.photo.photo.as_ref();
                let pixel = photo.filter(|photo| photo.of.as_deref() == Some(name));
                let pixel = pixel.map_or(0.0, |photo| photo.mm_per_pixel);
                let pointing = Mm(pointing.0.max(pixel));
                match drawing.on_offcut(offcut, pointing, shown.unit) {
                    Ok((next, words)) => {
                        commands.push(pen::put(next));
                        commands.extend(words.map(Command::Say));
                        self.drawing = None;
                    }
                    Err(why) => {
                        commands.push(Command::Say(why));
                        if drawing.pen.is_stretch() {
                            self.drawing = None;
                        }
                    }
                }
            }
        }
    }
}
