//! Ease: how much more a garment measures than the body in it, cloth thickness included.

use serde::{Deserialize, Serialize};

use crate::body::{Body, BodyKind};
use crate::measure::Measure;
use crate::units::Mm;

mod table;

/// How the ease of the source garment is brought to the target body.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub enum EasePolicy {
    /// Source ease x target girth / source girth.
    #[default]
    InProportion,
    /// The same millimetres as on the source.
    Absolute,
    /// From the handbook table for the target's class; in proportion where the table is silent.
    FromTable,
}

/// Extra girth that layers of cloth worn underneath and the garment's own thickness take up.
///
/// `2 pi t` for every layer of thickness `t` underneath, `pi t` for the garment's own cloth, measured at mid-layer.
///
/// # Source
/// Geometry; the worked value 84 mm waist with two layers of 0.318 mm: outer girth 88.0 mm.
pub fn cloth_term(layers_underneath: &[Mm], own: Mm) -> Mm {
    let underneath: f64 = layers_underneath
        .iter()
        .map(|t| std::f64::consts::TAU * t.0)
        .sum();
    Mm(underneath + std::f64::consts::PI * own.0)
}

/// A row of the ease table: how much more a garment measures than the body, from least to most.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EaseRow {
    /// Whose it is.
    pub wearer: Wearer,
    /// Which garment it was given for.
    pub garment: &'static str,
    /// Where on the body.
    pub measure: Measure,
    /// Least ease.
    pub least: Mm,
    /// Most ease.
    pub most: Mm,
    /// Is the thickness of one thin layer of cloth already in it?
    pub holds_cloth: bool,
    /// Where the figures come from.
    pub source: &'static str,
}

/// Whose row of the ease table it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wearer {
    /// A grown person.
    Person(BodyKind),
    /// A doll class, by the key of its body: "play-45".
    DollClass(&'static str),
}

impl EaseRow {
    /// The middle of the row.
    pub fn middle(&self) -> Mm {
        Mm((self.least.0 + self.most.0) / 2.0)
    }

    /// Does an ease lie in the row?
    pub fn holds(&self, ease: Mm) -> bool {
        (self.least.0..=self.most.0).contains(&ease.0)
    }
}

/// What the table says about a measure of a body; `None` where it is silent (children; doll lengths and necks).
///
/// A doll of the maker's own takes the row of the class nearest in height and bust.
///
/// # Source
/// Each row names its own; the doll rows are a proposal of ours without a source.
pub fn handbook_range(measure: Measure, body: &Body) -> Option<&'static EaseRow> {
    handbook_rows(measure, body).next()
}

/// Every row for a measure of a body, for comparison.
pub fn handbook_rows(measure: Measure, body: &Body) -> impl Iterator<Item = &'static EaseRow> {
    let wearer = match body.kind {
        BodyKind::Doll => Wearer::DollClass(nearest_class(body)),
        person => Wearer::Person(person),
    };
    table::ROWS
        .iter()
        .filter(move |row| row.wearer == wearer && row.measure == measure)
}

/// The doll class of this key, else the nearest in the ratios of height and bust girth.
fn nearest_class(doll: &Body) -> &'static str {
    let (height, bust) = (doll.mm(Measure::Height).0, doll.mm(Measure::BustGirth).0);
    let far = |class: &table::DollClass| {
        libm::log(height / class.height).abs() + libm::log(bust / class.bust).abs()
    };
    let by_key = table::CLASSES.iter().find(|class| class.key == doll.key);
    let nearest = by_key.or_else(|| {
        table::CLASSES
            .iter()
            .min_by(|a, b| far(a).total_cmp(&far(b)))
    });
    nearest.map_or("", |class| class.key)
}

/// Thickness of the one thin layer that rows of the table with [`EaseRow::holds_cloth`] have in them, mm.
///
/// Common practice, no source: quilting cotton, 0.26 to 0.34 mm.
const THIN_LAYER: f64 = 0.3;

/// The part of a cloth term that a row of the table does not hold already.
pub fn cloth_beyond(row: &EaseRow, cloth_term: Mm) -> Mm {
    if row.holds_cloth {
        Mm((cloth_term.0 - std::f64::consts::PI * THIN_LAYER).max(0.0))
    } else {
        cloth_term
    }
}

/// What a garment must measure round the target body: body + style ease + cloth term.
///
/// In proportion, the style ease is source ease x target girth / source girth; absolute, the same mm; from the table,
/// the middle of the row, or in proportion where there is none. For the source ease without its own cloth, take the
/// source's [`cloth_term`] off `source_garment` first: then the same body gives the same garment back.
///
/// # Source
/// Rule of our own; the worked value 84 mm waist + 2 x 0.318 mm gives 88.0 mm.
pub fn target_girth(
    policy: EasePolicy,
    source_body: Mm,
    source_garment: Mm,
    target_body: Mm,
    table_row: Option<&EaseRow>,
    cloth_term: Mm,
) -> Mm {
    let cloth = match (policy, table_row) {
        (EasePolicy::FromTable, Some(row)) => cloth_beyond(row, cloth_term).0,
        _ => cloth_term.0,
    };
    Mm(target_length(policy, source_body, source_garment, target_body, table_row).0 + cloth)
}

/// What a garment must measure along the target body: as [`target_girth`], but cloth does not thicken a length.
pub fn target_length(
    policy: EasePolicy,
    source_body: Mm,
    source_garment: Mm,
    target_body: Mm,
    table_row: Option<&EaseRow>,
) -> Mm {
    let source_ease = source_garment.0 - source_body.0;
    // A source measure that is no length has no proportion.
    let in_proportion = if source_body.0 > 0.0 {
        source_ease * (target_body.0 / source_body.0)
    } else {
        source_ease
    };
    let style_ease = match policy {
        EasePolicy::InProportion => in_proportion,
        EasePolicy::Absolute => source_ease,
        EasePolicy::FromTable => table_row.map_or(in_proportion, |row| row.middle().0),
    };
    Mm(target_body.0 + style_ease)
}

/// How bust ease is shared out over half a body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BustEaseShares {
    /// To the back width.
    pub back: Mm,
    /// To the armscye.
    pub armscye: Mm,
    /// To the front width.
    pub front: Mm,
}

/// Shares bust ease over half a body: a fifth to the back, the rest to the armscye, none to the front.
///
/// # Source
/// Open online drafting lesson, dress block with darts (read): 80 mm of bust ease give 8, 32 and 0 mm.
pub fn share_bust_ease(bust_ease: Mm) -> BustEaseShares {
    let half = bust_ease.0 / 2.0;
    BustEaseShares {
        back: Mm(0.2 * half),
        armscye: Mm(0.8 * half),
        front: Mm(0.0),
    }
}

/// Least and most waist ease that go with a bust ease: 0.6 to 1 times.
///
/// # Source
/// The same lesson.
pub fn waist_ease_for(bust_ease: Mm) -> (Mm, Mm) {
    (Mm(0.6 * bust_ease.0), bust_ease)
}

/// Least and most hip ease that go with a bust ease: 0.4 to 0.6 times.
///
/// # Source
/// The same lesson.
pub fn hip_ease_for(bust_ease: Mm) -> (Mm, Mm) {
    (Mm(0.4 * bust_ease.0), Mm(0.6 * bust_ease.0))
}

#[cfg(test)]
#[path = "ease_tests.rs"]
mod tests;
