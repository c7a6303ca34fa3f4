//! Where the cloth of a joined strip goes.

use crate::units::Mm;

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

    /// Length that is not seen in the end, besides what is drawn in: ends and joins.
    pub fn lost(&self) -> Mm {
        self.ends + self.joins_take
    }
}
