//! Five-gored skirt.

use kurbo::Point;

use super::pen::{curved, fold, hem, level_both, on_ray, piece, straight};
use super::{Constants, Draft, DraftError, DraftMeasures, DraftPiece};

/// A five-gored skirt: "front" (half, on a fold), "side" and "back" (two of each).
///
/// Edges: front "centre front" (the fold), "waist", "front seam", "hem"; side "front seam", "waist", "back seam", "hem";
/// back "back seam", "waist", "centre back", "hem". Each gore's left edge lies on the straight grain.
///
/// # Errors
/// [`DraftError`] naming the piece and what is wrong.
///
/// # Source
/// *Text-Book on Domestic Art*, Foster & ten Bosch, 1911, "Five-gored underskirt draft" and "proportions"; the lower
/// part of the back gore by analogy. *Own*: the back gore's hip never less than its waist; curves; no gathers at the
/// centre back.
pub fn gored_skirt(measures: &DraftMeasures, constants: Constants) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let front = front(m, inch)?;
    let at = |piece: &DraftPiece, name| piece.point(name).unwrap_or_default();
    let waist = |piece: &DraftPiece| (at(piece, "4") - at(piece, "1")).hypot();
    let side = side(m, inch, (at(&front, "6") - at(&front, "4")).hypot())?;
    let waist_left = m.waist_girth / 2.0 - waist(&front) - waist(&side);
    let hip_left = m.hip_girth / 2.0 - at(&front, "5").x - at(&side, "5").x;
    let back = back(m, inch, waist_left, hip_left)?;
    Ok(Draft {
        name: "five-gored skirt",
        scale: constants.scale(m.bust_girth),
        pieces: vec![front, side, back],
        doubts: Vec::new(),
    })
}

fn front(m: &DraftMeasures, inch: f64) -> Result<DraftPiece, DraftError> {
    let a = Point::ORIGIN;
    let p1 = Point::new(0.0, m.skirt_front);
    let p3 = Point::new(m.waist_girth / 8.0, p1.y);
    let p4 = Point::new(p3.x, p3.y + 0.25 * inch);
    let p5 = Point::new((p4 - p1).hypot() + inch, p4.y - 6.0 * inch);
    let p6 = p4 + (p5 - p4) * (p4.y / (p4.y - p5.y));
    piece(
        "front",
        &[
            ("A", a),
            ("1", p1),
            ("3", p3),
            ("4", p4),
            ("5", p5),
            ("6", p6),
        ],
        vec![
            fold("centre front", a, p1),
            curved("waist", &[level_both(p1, p4)]),
            straight("front seam", &[p4, p6]),
            straight("hem", &[p6, a]),
        ],
    )
}

fn side(m: &DraftMeasures, inch: f64, front_seam: f64) -> Result<DraftPiece, DraftError> {
    let a = Point::ORIGIN;
    let p1 = Point::new(0.0, front_seam);
    let p3 = Point::new(m.waist_girth / 6.0, p1.y);
    let p4 = Point::new(p3.x, p3.y + 0.5 * inch);
    let p5 = Point::new(1.5 * (p4 - p1).hypot(), p4.y - 6.0 * inch);
    let p6 = on_ray(p4, p5, m.skirt_side);
    piece(
        "side",
        &[
            ("A", a),
            ("1", p1),
            ("3", p3),
            ("4", p4),
            ("5", p5),
            ("6", p6),
        ],
        vec![
            straight("front seam", &[a, p1]),
            curved("waist", &[level_both(p1, p4)]),
            straight("back seam", &[p4, p6]),
            curved("hem", &[hem(p5 - p4, p6, a)]),
        ],
    )
}

fn back(m: &DraftMeasures, inch: f64, waist: f64, hip: f64) -> Result<DraftPiece, DraftError> {
    if waist <= 0.0 {
        return Err(DraftError::NoLength {
            piece: "back",
            edge: "waist",
            length: waist,
        });
    }
    let a = Point::ORIGIN;
    let p1 = Point::new(0.0, m.skirt_side);
    let p3 = Point::new(waist, p1.y);
    let p4 = Point::new(p3.x, p3.y + 0.75 * inch);
    let p5 = Point::new(hip.max((p4 - p1).hypot()), p4.y - 6.0 * inch);
    let p6 = on_ray(p4, p5, m.skirt_back);
    piece(
        "back",
        &[
            ("A", a),
            ("1", p1),
            ("3", p3),
            ("4", p4),
            ("5", p5),
            ("6", p6),
        ],
        vec![
            straight("back seam", &[a, p1]),
            curved("waist", &[level_both(p1, p4)]),
            straight("centre back", &[p4, p6]),
            curved("hem", &[hem(p5 - p4, p6, a)]),
        ],
    )
}
