//! How long one unit of a DXF is.

use super::draw::longest;
use super::tables::Head;
use crate::bring_in::{FoundSheet, Scale};

/// Below this a drawing without units is taken for inches: our own choice, no source. A piece for a doll is 20 mm long or
/// more, one for a person seldom more than 60 inches.
const LONGEST_IN_INCHES: f64 = 24.0;

/// One unit in mm, and whether the file says so.
pub(super) fn unit(head: Head, sheet: &FoundSheet) -> (f64, Scale) {
    let known = match head.units.unwrap_or(0) {
        1 => Some(25.4),
        2 => Some(304.8),
        4 => Some(1.0),
        5 => Some(10.0),
        6 => Some(1000.0),
        8 => Some(25.4e-6),
        9 => Some(0.0254),
        10 => Some(914.4),
        13 => Some(0.001),
        14 => Some(100.0),
        _ => None,
    };
    if let Some(mm) = known.or_else(|| told_in_words(sheet)) {
        return (mm, Scale::Given);
    }
    let size = sheet
        .lines
        .iter()
        .map(|line| longest(&line.path))
        .fold(0.0, f64::max);
    match head.measurement {
        Some(0) => (
            25.4,
            Scale::Taken("it says that it is in inches, but not that one unit is one".to_owned()),
        ),
        Some(1) => (
            1.0,
            Scale::Taken("it says that it is metric; one unit was taken as 1 mm".to_owned()),
        ),
        _ if size < LONGEST_IN_INCHES => (
            25.4,
            Scale::Taken(format!(
                "it names no unit; its longest line is {size:.1} long, so one unit was taken as an inch"
            )),
        ),
        _ => (
            1.0,
            Scale::Taken(format!(
                "it names no unit; its longest line is {size:.0} long, so one unit was taken as 1 mm"
            )),
        ),
    }
}

/// Files of the apparel practice carry their unit as words: "UNITS: METRIC" or "UNITS: ENGLISH" (from memory).
fn told_in_words(sheet: &FoundSheet) -> Option<f64> {
    sheet.texts.iter().find_map(|text| {
        let words = text.words.to_uppercase();
        let unit = words.strip_prefix("UNITS")?.trim_start_matches([':', ' ']);
        match unit.split_whitespace().next()? {
            "METRIC" | "MM" => Some(1.0),
            "ENGLISH" | "INCH" | "INCHES" | "IMPERIAL" => Some(25.4),
            _ => None,
        }
    })
}
