//! The ease table: body, layers underneath, garment and ease at every tape line, beside the source and the handbooks.

use crate::adapt::{Adapted, EaseRow};
use crate::ease::{self, cloth_beyond, handbook_rows};
use crate::measure::Measure;
use crate::tape::Hold;
use crate::tolerance::DRAWING;
use crate::units::Mm;

use super::Underneath;

/// Ease at every tape line of one fitting.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct EaseTable {
    /// Name of the fitting.
    pub fitting: String,
    /// Name of the garment.
    pub garment: String,
    /// Name of the body it was made for.
    pub made_for: String,
    /// Name of the body it is on.
    pub body: String,
    /// What is worn underneath.
    pub underneath: Underneath,
    /// One row for each tape line, in the garment's order.
    pub rows: Vec<FitRow>,
}

/// A body and a garment at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sat {
    /// What the body measures (its share of the measure).
    pub body: Mm,
    /// What the garment measures.
    pub garment: Mm,
}

impl Sat {
    /// How much more the garment measures than the bare body.
    pub fn ease(self) -> Mm {
        self.garment - self.body
    }

    /// The ease in percent of the body; 0 where the body has no length.
    pub fn percent(self) -> f64 {
        share(self.ease(), self.body)
    }
}

/// Percent; 0 of nothing.
fn share(part: Mm, whole: Mm) -> f64 {
    if whole.0 > 0.0 {
        100.0 * part.0 / whole.0
    } else {
        0.0
    }
}

/// How a garment sits at one tape line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Sits {
    /// A girth smaller than the body with all cloth in it, by so much.
    Tight {
        /// What is missing.
        by: Mm,
    },
    /// Less ease than the least a handbook gives, by so much.
    Close {
        /// Below the least.
        by: Mm,
    },
    /// Within a range of a handbook.
    Well,
    /// More ease than the most a handbook gives, by so much.
    Loose {
        /// Above the most.
        by: Mm,
    },
    /// It hangs free: no ease is expected.
    Hangs,
    /// No handbook has a figure for this place of this body.
    Unjudged,
}

impl Sits {
    /// One word for it: "too tight", "loose".
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tight { .. } => "too tight",
            Self::Close { .. } => "close",
            Self::Well => "well",
            Self::Loose { .. } => "loose",
            Self::Hangs => "hangs",
            Self::Unjudged => "not judged",
        }
    }

    /// By how much it is off, where it is.
    pub const fn by(self) -> Option<Mm> {
        match self {
            Self::Tight { by } | Self::Close { by } | Self::Loose { by } => Some(by),
            Self::Well | Self::Hangs | Self::Unjudged => None,
        }
    }
}

/// Ease at one tape line.
#[derive(Debug, Clone, PartialEq)]
pub struct FitRow {
    /// Name of the tape line.
    pub name: String,
    /// The measure it answers to.
    pub measure: Measure,
    /// The share of the measure it covers.
    pub share: f64,
    /// Is it a girth?
    pub is_girth: bool,
    /// Fitted or hanging (never `Auto`).
    pub hold: Hold,
    /// On the body it was made for.
    pub source: Sat,
    /// On the body it is fitted to.
    pub here: Sat,
    /// How much larger what is worn underneath makes the body.
    pub underneath: Mm,
    /// Girth that the garment's own cloth and lining take up.
    pub own_cloth: Mm,
    /// What handbooks give for this measure of this body.
    pub handbook: Vec<&'static ease::EaseRow>,
    /// What handbooks give for this measure of the body it was made for.
    pub source_handbook: Vec<&'static ease::EaseRow>,
    /// How it sits.
    pub sits: Sits,
}

impl FitRow {
    /// The body with what is worn underneath.
    pub fn dressed(&self) -> Mm {
        self.here.body + self.underneath
    }

    /// By how many percent what is worn underneath makes the body larger.
    pub fn dressed_percent(&self) -> f64 {
        share(self.underneath, self.here.body)
    }

    /// What is left between the dressed body and the inside of the garment: ease less all cloth. For a length: ease
    /// less what is worn underneath.
    pub fn room(&self) -> Mm {
        self.here.ease() - self.underneath - self.own_cloth
    }
}

/// The ease table of a fitting.
///
/// `underneath` is [`Underneath::of`] its fitting, or what an outfit knows better. The ease of a row is garment less
/// bare body, as handbooks give it; [`FitRow::room`] is what is left of it when all cloth is in.
pub fn ease_table(adapted: &Adapted, underneath: &Underneath) -> EaseTable {
    EaseTable {
        fitting: adapted.fitting.name.clone(),
        garment: adapted.garment.name.clone(),
        made_for: adapted.garment.made_for.name.clone(),
        body: adapted.fitting.body.name.clone(),
        underneath: underneath.clone(),
        rows: adapted
            .ease
            .iter()
            .map(|row| fit_row(adapted, underneath, row))
            .collect(),
    }
}

fn fit_row(adapted: &Adapted, underneath: &Underneath, row: &EaseRow) -> FitRow {
    let tape = adapted
        .garment
        .tape_lines
        .iter()
        .find(|tape| tape.name == row.name);
    let share = tape.map_or(1.0, |tape| tape.share);
    let counted = Underneath::of(&adapted.fitting);
    // What the solver reckoned with is the layers of the fitting and the garment's own cloth.
    let own_cloth = if row.is_girth {
        Mm((row.cloth.0 - share * counted.adds(row.measure).0).max(0.0))
    } else {
        Mm(0.0)
    };
    let rows_for = |body| -> Vec<&'static ease::EaseRow> {
        if row.is_girth && (share - 1.0).abs() < 1e-9 {
            handbook_rows(row.measure, body).collect()
        } else {
            Vec::new()
        }
    };
    let mut fit = FitRow {
        name: row.name.clone(),
        measure: row.measure,
        share,
        is_girth: row.is_girth,
        hold: row.hold,
        source: Sat {
            body: row.body.0,
            garment: row.garment.0,
        },
        here: Sat {
            body: row.body.1,
            garment: row.garment.1,
        },
        underneath: Mm(share * underneath.adds(row.measure).0),
        own_cloth,
        handbook: rows_for(&adapted.fitting.body),
        source_handbook: rows_for(&adapted.garment.made_for),
        sits: Sits::Unjudged,
    };
    fit.sits = sits(&fit);
    fit
}

/// Against the cloth first, then against the widest range that handbooks give.
fn sits(row: &FitRow) -> Sits {
    if !row.is_girth {
        return Sits::Unjudged;
    }
    if row.room().0 < -DRAWING.0 {
        return Sits::Tight { by: -row.room() };
    }
    if row.hold == Hold::Hanging {
        return Sits::Hangs;
    }
    let cloth = row.underneath + row.own_cloth;
    let off = |book: &&'static ease::EaseRow| {
        let style_ease = row.here.ease().0 - cloth_beyond(book, cloth).0;
        (book.least.0 - style_ease, style_ease - book.most.0)
    };
    let nearest = row
        .handbook
        .iter()
        .map(off)
        .min_by(|a, b| a.0.max(a.1).total_cmp(&b.0.max(b.1)));
    match nearest {
        None => Sits::Unjudged,
        Some((below, _)) if below > DRAWING.0 => Sits::Close { by: Mm(below) },
        Some((_, above)) if above > DRAWING.0 => Sits::Loose { by: Mm(above) },
        Some(_) => Sits::Well,
    }
}

#[cfg(test)]
#[path = "table_tests.rs"]
mod tests;
