//! The part of an offcut that is used.

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;

use crate::search::inset;

/// Lines within the margin of an offcut, as the search keeps to them: none when the margin leaves nothing, several when it
/// leaves parts. Holes are not taken off. Empty for an outline that cannot be laid on.
pub fn usable(offcut: &Offcut) -> Vec<Vec<Point>> {
    if !offcut.margin.0.is_finite() {
        return Vec::new();
    }
    inset(&offcut.outline, offcut.margin.0)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use petitoile_core::Mm;

    use super::*;

    #[test]
    fn the_margin_is_taken_off_all_round() {
        let mut offcut = Offcut::rectangle("rest", "linen", Mm(100.0), Mm(60.0)).unwrap();
        offcut.margin = Mm(10.0);
        let inside = usable(&offcut);
        assert_eq!(inside.len(), 1);
        let (low, high) = inside[0]
            .iter()
            .fold((f64::MAX, f64::MIN), |(low, high), p| {
                (low.min(p.x), high.max(p.x))
            });
        assert!(
            (low - 10.0).abs() < 0.01 && (high - 90.0).abs() < 0.01,
            "{low} {high}"
        );
        offcut.margin = Mm(31.0);
        assert!(usable(&offcut).is_empty());
        offcut.outline.truncate(2);
        assert!(usable(&offcut).is_empty());
    }
}
