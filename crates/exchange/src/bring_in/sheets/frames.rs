//! The frames that many sheets draw round what each page shows: the same rectangle in the same place of every page. They
//! are no part of any piece.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::kurbo::Shape;

use crate::bring_in::FoundDrawing;

/// Share of a page that its frame holds at least.
const HOLDS: f64 = 0.4;

/// Share of the pages that have it.
const SHARE: f64 = 0.7;

/// Pages and lines that are frames.
pub(super) fn frames(drawing: &FoundDrawing) -> BTreeSet<(usize, usize)> {
    let mut seen: BTreeMap<[i64; 4], Vec<(usize, usize)>> = BTreeMap::new();
    for (page, sheet) in drawing.sheets.iter().enumerate() {
        let corner = sheet.bounds.origin().to_vec2();
        for (at, line) in sheet.lines.iter().enumerate().filter(|(_, l)| l.closed) {
            let bounds = line.path.bounding_box();
            let fills = (line.path.area().abs() - bounds.area()).abs() <= 0.01 * bounds.area();
            if fills && bounds.area() >= HOLDS * sheet.bounds.area() {
                let own = bounds - corner;
                // Half a millimetre, moved aside so that round figures are not parted.
                let figure = |v: f64| (v * 2.0 + 0.237).round() as i64;
                let key = [own.x0, own.y0, own.x1, own.y1].map(figure);
                seen.entry(key).or_default().push((page, at));
            }
        }
    }
    let least = (SHARE * drawing.sheets.len() as f64).ceil().max(2.0) as usize;
    let pages = |all: &Vec<(usize, usize)>| all.iter().map(|a| a.0).collect::<BTreeSet<_>>().len();
    seen.into_values()
        .filter(|all| pages(all) >= least)
        .flatten()
        .collect()
}
