//! What is drawn on a sheet and is no piece: test squares, page borders, frames of words and tables.

use petitoile_core::kurbo::{Point, Rect};

use super::loops::rectangle;
use super::pieces::Work;
use super::{counts, words};

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
    if is_own(work, at) {
        return None;
    }
    let across = crossed(work, l.bounds, l.stroke);
    if across >= 4 {
        return Some(format!(
            "a table or a strip of marks, {wide:.0} by {high:.0} mm, {across} lines across it"
        ));
    }
    let letters: usize = inside.iter().map(|w| w.chars().count()).sum();
    if inside.len() >= 4 && letters > 80 {
        return Some(format!("a frame of words, {wide:.0} by {high:.0} mm"));
    }
    None
}

/// Does something speak for a piece: words on its cutting, or a closed line of some size in it?
fn is_own(work: &Work<'_>, at: usize) -> bool {
    let Some(l) = work.loops.get(at) else {
        return true;
    };
    let says = work.sheet.texts.iter().any(|t| {
        l.bounds.contains(t.at)
            && (!counts::counts(&t.words).is_empty()
                || words::name(&t.words).is_some_and(|n| n.1)
                || words::on_fold(&t.words))
    });
    let is_told = work
        .strokes
        .get(l.stroke)
        .is_some_and(|s| s.meaning.is_some());
    let holds = work
        .loops
        .iter()
        .any(|c| c.parent == Some(at) && c.area >= 0.2 * l.area);
    let lies_in = l
        .parent
        .and_then(|p| work.loops.get(p))
        .is_some_and(|p| l.area >= 0.2 * p.area);
    says || is_told || holds || lies_in
}

/// How many straight lines run across a rectangle from side to side.
fn crossed(work: &Work<'_>, bounds: Rect, own: usize) -> usize {
    let on_side = |p: Point| {
        let near = |a: f64, b: f64| (a - b).abs() <= 0.3;
        near(p.x, bounds.x0) || near(p.x, bounds.x1) || near(p.y, bounds.y0) || near(p.y, bounds.y1)
    };
    let around = bounds.inflate(0.3, 0.3);
    work.strokes
        .iter()
        .enumerate()
        .filter(|(i, s)| *i != own && !s.closed && around.contains(s.start()))
        .filter(|(_, s)| around.contains(s.end()) && on_side(s.start()) && on_side(s.end()))
        .filter(|(_, s)| {
            let d = s.end() - s.start();
            s.is_straight(0.05)
                && (d.x.abs() >= 0.98 * bounds.width() || d.y.abs() >= 0.98 * bounds.height())
        })
        .count()
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
