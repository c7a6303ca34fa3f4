//! Cloth drawn by hand: points one after the other, clicked or typed, on the bare table, on an offcut or over a photo.

use std::sync::Arc;

use kurbo::Point;
use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::cloth_drawn::{self, DrawnError};
use petitoile_core::edit::Edit;
use petitoile_core::{LengthUnit, Mm};

use crate::command::Command;

/// What is drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pen {
    /// The outline of a new offcut.
    Outline,
    /// A hole of this offcut.
    Hole(String),
    /// A place on this offcut that is not good for everything.
    Blemish(String, GoodFor),
    /// A pulled thread of this offcut.
    Thread(String),
    /// Two points a known length apart in the photo.
    KnownLength,
}

/// What is half drawn, in the coordinates of the offcut or the photo.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawing {
    /// With what.
    pub pen: Pen,
    /// The points so far.
    pub points: Vec<Point>,
}

impl Pen {
    /// The offcut it draws on.
    pub fn offcut(&self) -> Option<&str> {
        match self {
            Self::Hole(name) | Self::Blemish(name, _) | Self::Thread(name) => Some(name),
            Self::Outline | Self::KnownLength => None,
        }
    }

    /// Is it closed when it is done?
    pub fn closes(&self) -> bool {
        !self.is_stretch()
    }

    /// Are two points all of it?
    pub fn is_stretch(&self) -> bool {
        matches!(self, Self::Thread(_) | Self::KnownLength)
    }
}

impl Drawing {
    /// A pen in the hand, nothing drawn.
    pub fn new(pen: Pen) -> Self {
        Self {
            pen,
            points: Vec::new(),
        }
    }

    /// What the next click or key does.
    pub fn says(&self) -> String {
        let left = 3_usize.saturating_sub(self.points.len());
        match &self.pen {
            Pen::KnownLength if self.points.len() < 2 => {
                "Click both ends of a length you know: a ruler in the photo".to_owned()
            }
            Pen::KnownLength => "Type how long that is".to_owned(),
            Pen::Thread(_) if self.points.is_empty() => {
                "Click one end of the pulled thread".to_owned()
            }
            Pen::Thread(_) => "Click its other end".to_owned(),
            _ if left > 0 => format!(
                "Click the corners one after the other; {left} more at least. Backspace takes one back, Escape gives up"
            ),
            _ => "Enter closes the outline. Backspace takes one back, Escape gives up".to_owned(),
        }
    }

    /// The new offcut, once its outline is closed.
    ///
    /// # Errors
    /// [`DrawnError`] when the points enclose no cloth.
    pub fn new_offcut(&self, name: String, cloth: String) -> Result<Offcut, DrawnError> {
        Ok(Offcut::drawn(
            name,
            cloth,
            cloth_drawn::outline(&self.points)?,
        ))
    }

    /// The offcut with what was drawn on it; and what is to be said of it. `pointing` is how sure the hand is, mm.
    ///
    /// # Errors
    /// Why not, in words.
    pub fn on_offcut(
        &self,
        offcut: &Offcut,
        pointing: Mm,
        unit: LengthUnit,
    ) -> Result<(Offcut, Option<String>), String> {
        let told = |why: DrawnError| why.to_string();
        match &self.pen {
            Pen::Hole(_) => Ok((offcut.with_blemish(&self.points, None).map_err(told)?, None)),
            Pen::Blemish(_, good_for) => {
                let good_for = Some(*good_for);
                Ok((
                    offcut.with_blemish(&self.points, good_for).map_err(told)?,
                    None,
                ))
            }
            Pen::Thread(_) => {
                let [from, to] = self.points.as_slice() else {
                    return Err("a thread has two ends".to_owned());
                };
                let (grain, doubt) = cloth_drawn::thread(*from, *to, pointing).map_err(told)?;
                let grain = cloth_drawn::towards(grain, offcut.grain);
                let words = format!(
                    "A thread of {}, pointed to within {}: the grain runs at {:.1}\u{b0}, {:.1}\u{b0} more or less",
                    unit.show(Mm((*to - *from).hypot())),
                    unit.show_chosen(Mm((pointing.0 * 100.0).round() / 100.0)),
                    grain.0,
                    doubt.0
                );
                let next = Offcut {
                    grain,
                    grain_doubt: doubt,
                    ..offcut.clone()
                };
                Ok((next, Some(words)))
            }
            Pen::Outline | Pen::KnownLength => Err("this is not drawn on an offcut".to_owned()),
        }
    }
}

/// Puts an offcut into the project.
pub fn put(offcut: Offcut) -> Command {
    Command::Edit(Edit::PutOffcut(Arc::new(offcut)))
}

/// "Offcut 3": a name that no offcut has yet.
pub fn fresh_name(offcuts: &[Arc<Offcut>]) -> String {
    (1..)
        .map(|number: usize| format!("Offcut {number}"))
        .find(|name| offcuts.iter().all(|offcut| offcut.name != *name))
        .unwrap_or_default()
}
