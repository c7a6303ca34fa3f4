//! Where the cloth of a joined strip goes.

use crate::units::{LengthUnit, Mm};

/// Where all the cloth of a joined strip goes: `cut = shown + drawn in + ends + joins`, and `cut + left = bits`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tally {
    /// Number of segments.
    pub segments: usize,
    /// Number of joins.
    pub joins: usize,
    /// Length that is cut in all.
    pub cut: Mm,
    /// Finished length.
    pub shown: Mm,
    /// Length that gathers or pleats take up.
    pub drawn_in: Mm,
    /// Length in the hems or allowances of the two ends.
    pub ends: Mm,
    /// Length lost in joins.
    pub joins_take: Mm,
    /// Length of the bits that are begun and not used up.
    pub left: Mm,
    /// Length of all bits that are begun.
    pub bits: Mm,
}

impl Tally {
    /// By how much the tally is out, mm: rounding only.
    pub fn out_by(&self) -> Mm {
        let uses = self.shown.0 + self.drawn_in.0 + self.ends.0 + self.joins_take.0;
        let of_cut = (self.cut.0 - uses).abs();
        Mm(of_cut.max((self.cut.0 + self.left.0 - self.bits.0).abs()))
    }

    /// What [`Self::out_by`] may be from rounding, mm; a tally that is out by more is wrong.
    pub const ROUNDING: Mm = Mm(1e-6);

    /// The same tally in figures of this unit that add up as they are shown; each within a step or two of what it is.
    pub fn shown_in(&self, unit: LengthUnit) -> Self {
        let terms = [self.shown, self.drawn_in, self.ends, self.joins_take];
        let (cut, terms) = unit.rounded_to_add_up(&terms);
        let [shown, drawn_in, ends, joins_take] = terms.as_slice() else {
            return *self;
        };
        let left = unit.rounded_to_add_up(&[self.left]).0;
        Self {
            cut,
            shown: *shown,
            drawn_in: *drawn_in,
            ends: *ends,
            joins_take: *joins_take,
            left,
            bits: cut + left,
            ..*self
        }
    }

    /// Is any figure of it rounded when it is shown in this unit?
    pub fn is_rounded(&self, unit: LengthUnit) -> bool {
        let all = [
            self.cut,
            self.shown,
            self.drawn_in,
            self.ends,
            self.joins_take,
            self.left,
            self.bits,
        ];
        all.into_iter().any(|length| unit.is_rounded(length))
    }

    /// Length that is not seen in the end, besides what is drawn in: ends and joins.
    pub fn lost(&self) -> Mm {
        self.ends + self.joins_take
    }
}
