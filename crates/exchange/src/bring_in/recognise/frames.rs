//! What is drawn on a sheet and is no piece: test squares, page borders, frames of words and tables.

use petitoile_core::kurbo::{Point, Rect};

use super::loops::rectangle;
use super::pieces::Work;

/// Sides that test squares have, mm: metric, then inches.
const SIDES: [f64; 9] = [10.0, 20.0, 30.0, 40.0, 50.0, 100.0, 25.4, 50.8, 101.6];

/// A test square may be out of true by this share.
const OUT: f64 = 0.06;

/// Says of every closed line that is no outline what it is.
pub(super) fn set_apart(work: &mut Work<'_>) {
    for at in 0..work.loops.len() {
        let Some(l) = work.loops.get(at) else {
            continue;
        };
        if work.choices.is_piece(work.id_of(at)).is_some() {
            continue;
        }
        let stroke = l.stroke;
        if work.is_left(stroke) {
            continue;
        }
        if let Some(why) = frame(work, at) {
            work.leave(stroke, &why);
        }
    }
}

/// What a closed line is, when it is no piece.
fn frame(work: &Work<'_>, at: usize) -> Option<String> {
    let l = work.loops.get(at)?;
    let (wide, high) = rectangle(work.strokes.get(l.stroke)?)?;
    let inside: Vec<&str> = work
        .sheet
        .texts
        .iter()
        .filter(|t| l.bounds.inflate(3.0, 3.0).contains(t.at))
        .map(|t| t.words.as_str())
        .collect();
    let side = SIDES
        .iter()
        .filter(|s| (wide - *s).abs() <= OUT * *s && (high - *s).abs() <= OUT * *s)
        .min_by(|a, b| (wide - *a).abs().total_cmp(&(wide - *b).abs()));
    if let Some(side) = side
        && inside.iter().any(|words| names_a_length(words))
    {
        return Some(format!(
            "a test square of {side} mm: {wide:.2} by {high:.2} mm"
        ));
    }
    if is_border(work, at, l.bounds) {
        return Some(format!(
            "the border of the sheet, {wide:.0} by {high:.0} mm"
        ));
    }
    None
}

/// "50 mm", "2 in", "test square", "5cm".
fn names_a_length(words: &str) -> bool {
    let words = words.to_lowercase();
    let has_word = ["test", "scale", "control", "calibration", "square"]
        .iter()
        .any(|w| words.contains(w));
    let has_figure = words.chars().any(|c| c.is_ascii_digit());
    let mut parts = words.split(|c: char| !c.is_alphabetic());
    let has_unit = parts.any(|w| {
        matches!(
            w,
            "mm" | "cm" | "in" | "inch" | "inches" | "millimetre" | "millimetres" | "centimetres"
        )
    }) || words.contains('"');
    has_word || (has_figure && has_unit && words.len() <= 24)
}

/// A rectangle around all that is drawn, with several closed lines in it.
fn is_border(work: &Work<'_>, at: usize, bounds: Rect) -> bool {
    let sheet = work.sheet.bounds;
    let fills = sheet.area() > 0.0 && bounds.area() >= 0.75 * sheet.area();
    let children = work
        .loops
        .iter()
        .filter(|l| l.parent == Some(at) && l.area >= 400.0)
        .count();
    let around = |p: Point| bounds.inflate(1.0, 1.0).contains(p);
    let holds_all = work.strokes.iter().filter(|s| around(s.start())).count();
    children >= 2 && (fills || holds_all * 10 >= work.strokes.len() * 9)
}
