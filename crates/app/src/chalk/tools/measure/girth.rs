//! The girth at any height, over all pieces: a level line that is dragged up and down, the body's own girth beside it.

use egui::Ui;
use petitoile_core::Mm;
use petitoile_core::body::Body;
use petitoile_core::measure::{Level, Measure};
use petitoile_core::measuring::{Measurement, Reading};

use crate::chalk::brush::Brush;
use crate::chalk::hand::Hand;
use crate::chalk::pinned::{body, paint_reading, pin_it, read};
use crate::chalk::tool::{Gesture, Group, Handle, HandleLook, Tool};
use crate::command::Command;
use crate::fields::{Typed, difference_field, pick};
use crate::wording;

/// How near to a level of the body its own girth is shown, mm.
const SAME_HEIGHT: f64 = 0.5;

/// Measures girths.
pub struct TakeGirth {
    level: Level,
    below: Mm,
    /// Where the line was taken hold of on the table, and how far below the level it was then.
    held: Option<(f64, Mm)>,
}

impl Default for TakeGirth {
    fn default() -> Self {
        Self {
            level: Level::Waist,
            below: Mm(0.0),
            held: None,
        }
    }
}

impl TakeGirth {
    fn measurement(&self) -> Measurement {
        Measurement::Girth {
            level: self.level,
            below: self.below,
        }
    }

    fn reading(&self, hand: &Hand<'_>) -> Option<Result<Reading, String>> {
        let read = read(hand.session, &self.measurement())?;
        Some(read.map_err(|why| why.to_string()))
    }

    /// "Girth 20 mm below the waist: 312 mm; body 275 mm at the waist, ease +37 mm".
    fn told(&self, hand: &Hand<'_>) -> String {
        let show = |mm| wording::length(mm, hand.unit);
        match self.reading(hand) {
            Some(Ok(reading)) => {
                let body = body(hand.session).and_then(|body| self.of_body(body));
                let beside = body.map_or(String::new(), |(measure, girth)| {
                    format!(
                        "; {} of the body {}, ease {}",
                        measure.label().to_lowercase(),
                        show(girth),
                        wording::difference(reading.length - girth, hand.unit)
                    )
                });
                format!("{}: {}{beside}", self.height(hand), show(reading.length))
            }
            Some(Err(why)) => why,
            None => String::new(),
        }
    }

    fn height(&self, hand: &Hand<'_>) -> String {
        let level = self.level.label().to_lowercase();
        let by = wording::length(Mm(self.below.0.abs()), hand.unit);
        match self.below.0 {
            off if off.abs() < 0.05 => format!("Girth at the {level}"),
            off if off < 0.0 => format!("Girth {by} above the {level}"),
            _ => format!("Girth {by} below the {level}"),
        }
    }

    /// The girth of the body at this height, where it has one.
    fn of_body(&self, body: &Body) -> Option<(Measure, Mm)> {
        let height = body.height_of(self.level).0 - self.below.0;
        let own = std::iter::once(self.level).chain(Level::ALL);
        let near = |level: &Level| (body.height_of(*level).0 - height).abs() <= SAME_HEIGHT;
        let same_part = |level: &Level| is_of_arm(*level) == is_of_arm(self.level);
        let mut girths = own.filter(near).filter(same_part).filter_map(Level::girth);
        let measure = girths.next()?;
        Some((measure, body.measure(measure).value))
    }
}

fn is_of_arm(level: Level) -> bool {
    matches!(
        level,
        Level::CapTop | Level::Underarm | Level::Elbow | Level::Wrist
    )
}

impl Tool for TakeGirth {
    fn name(&self) -> &'static str {
        "Girth"
    }

    fn tip(&self) -> &'static str {
        "The girth at any height over all pieces, beside that of the body"
    }

    fn group(&self) -> Group {
        Group::Measure
    }

    fn snaps(&self) -> bool {
        false
    }

    fn says(&self, hand: &Hand<'_>) -> String {
        format!("{}. Drag the line up or down", self.told(hand))
    }

    fn handles(&self, hand: &Hand<'_>) -> Vec<Handle> {
        let Some(Ok(reading)) = self.reading(hand) else {
            return Vec::new();
        };
        let parts = reading.parts.iter().enumerate();
        parts
            .map(|(number, part)| Handle {
                id: format!("{number}"),
                at: hand.on_table(&part.piece, part.line.at(0.5)),
                label: format!(
                    "{}, {} on {}",
                    self.height(hand),
                    wording::length(part.length, hand.unit),
                    part.piece
                ),
                look: HandleLook::Point,
                chosen: number == 0,
            })
            .collect()
    }

    fn gesture(&mut self, hand: &Hand<'_>, gesture: Gesture, _commands: &mut Vec<Command>) {
        match gesture {
            Gesture::DragHandle(handle, at) => {
                let handles = self.handles(hand);
                let start = handles.iter().find(|h| h.id == handle).map(|h| h.at.y);
                let held = self.held.or(start.map(|y| (y, self.below)));
                self.held = held;
                if let Some((y, below)) = held {
                    self.below = Mm(below.0 + y - at.pointer.y);
                }
            }
            Gesture::DropHandle(..) => self.held = None,
            Gesture::Nudge(by) => self.below = Mm(self.below.0 - by.y),
            _ => {}
        }
    }

    fn takes_arrows(&self, hand: &Hand<'_>) -> bool {
        !self.handles(hand).is_empty()
    }

    fn cancel(&mut self, _commands: &mut Vec<Command>) -> bool {
        match self.held.take() {
            Some((_, below)) => {
                self.below = below;
                true
            }
            None => false,
        }
    }

    fn fields(&mut self, ui: &mut Ui, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        ui.horizontal(|ui| {
            ui.label("Counted from");
            let words = |level: &Level| level.label().to_owned();
            let name = "Girth counted from";
            if let Some(level) = pick(ui, "girth", name, &self.level, &Level::ALL, words) {
                self.level = level;
                self.below = Mm(0.0);
            }
        });
        ui.horizontal(|ui| {
            ui.label("So far below it");
            let name = "Below the level";
            let field = difference_field(ui, name, Some(self.below), "", hand.unit, 76.0);
            match field.typed {
                Typed::Length(below) => self.below = below,
                Typed::Cleared => self.below = Mm(0.0),
                Typed::Trouble(why) => commands.push(Command::Say(why)),
                Typed::Nothing => {}
            }
        });
        ui.label(self.told(hand));
        if let Some(Ok(reading)) = self.reading(hand) {
            for part in &reading.parts {
                ui.label(format!(
                    "{}: {} \u{d7} {:.0}",
                    part.piece,
                    wording::length(part.length, hand.unit),
                    part.times
                ));
            }
            if ui.button("Pin it").clicked() {
                pin_it(hand.session, self.measurement(), commands);
            }
        }
    }

    fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        if let Some(Ok(reading)) = self.reading(hand) {
            paint_reading(hand, brush, &reading, Some("girth"));
        }
    }
}
