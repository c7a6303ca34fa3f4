//! Gown with sleeves cut in one and a square gusset under the arm.

use kurbo::{Point, Vec2};

use super::loose_bodice::loose_bodice;
use super::pen::{
    curved, fold, hem, level_then_upright, must_have_length, on_ray, piece, straight, unit,
};
use super::{Constants, Draft, DraftError, DraftMeasures, DraftPiece, armscye_of};

/// A gown cut in one with its sleeves: pieces "front", "back" (each one quarter) and "gusset".
///
/// Edges: "centre fold", "neckline", "shoulder fold" (the source folds the cloth there), "sleeve opening",
/// "sleeve seam", "gusset sleeve", "gusset side", "side seam", "hem"; the gusset's "front sleeve", "back sleeve",
/// "back side", "front side".
///
/// # Errors
/// [`DraftError::NoLength`] when the gusset is longer than the sleeve seam, as it is on every doll with the inches as
/// printed; others naming piece and trouble.
///
/// # Source
/// *Clothing for Women*, Lippincott, 1916, "To draft gown (Fig. 60)". *Own*: sleeve opening sloped by 1 in, curves.
pub fn gown(measures: &DraftMeasures, constants: Constants) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let armscye = armscye_of(&loose_bodice(m, constants)?).unwrap_or(0.0);
    let front = quarter("front", m, inch, armscye, 4.5 * inch)?;
    let back = quarter("back", m, inch, armscye, 3.5 * inch)?;
    let pieces = vec![front, back, gusset(4.0 * inch)?];
    Ok(Draft {
        name: "gown",
        scale: constants.scale(m.bust_girth),
        pieces,
        doubts: Vec::new(),
    })
}

fn quarter(
    name: &'static str,
    m: &DraftMeasures,
    inch: f64,
    armscye: f64,
    neck_depth: f64,
) -> Result<DraftPiece, DraftError> {
    let a = Point::ORIGIN;
    let b = Point::new(0.0, -m.gown_length);
    let c = Point::new(0.0, -(armscye / 2.0 + 2.0 * inch));
    let d = Point::new(0.0, -neck_depth);
    let f = Point::new(5.5 * inch, 0.0);
    let g = Point::new(m.width_of_front + m.gown_sleeve_add, 0.0);
    let h = Point::new(m.bust_girth / 4.0 + 2.0 * inch, c.y);
    let i = Point::new(g.x - inch, c.y);
    let j = Point::new(m.gown_bottom / 4.0, -m.gown_length);
    let k = on_ray(h, j, c.y - b.y);
    let l = on_ray(h, j, 4.0 * inch);
    let q = Point::new(h.x + 4.0 * inch, h.y);
    must_have_length(name, "sleeve seam", i.x - q.x)?;
    must_have_length(name, "side seam", (k - l).dot(unit(j - h)))?;
    must_have_length(name, "shoulder fold", g.x - f.x)?;
    let neck = if name == "front" { "D" } else { "E" };
    let points = [
        ("A", a),
        ("B", b),
        ("C", c),
        (neck, d),
        ("F", f),
        ("G", g),
        ("H", h),
        ("I", i),
        ("J", j),
        ("K", k),
        ("L", l),
        ("M", q),
    ];
    piece(
        name,
        &points,
        vec![
            fold("centre fold", b, d),
            curved("neckline", &[level_then_upright(d, f)]),
            straight("shoulder fold", &[f, g]),
            straight("sleeve opening", &[g, i]),
            straight("sleeve seam", &[i, q]),
            straight("gusset sleeve", &[q, h]),
            straight("gusset side", &[h, l]),
            straight("side seam", &[l, k]),
            curved("hem", &[hem(j - h, k, b)]),
        ],
    )
}

fn gusset(side: f64) -> Result<DraftPiece, DraftError> {
    let a = Point::ORIGIN;
    let (b, c, d) = (
        a + Vec2::new(side, 0.0),
        a - Vec2::new(0.0, side),
        a + Vec2::new(side, -side),
    );
    piece(
        "gusset",
        &[("A", a), ("B", b), ("C", c), ("D", d)],
        vec![
            straight("front sleeve", &[a, b]),
            straight("back sleeve", &[b, d]),
            straight("back side", &[d, c]),
            straight("front side", &[c, a]),
        ],
    )
}
