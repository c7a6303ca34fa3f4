//! Loose bodice: a shirtwaist block that hangs from the chest.

use kurbo::Point;

use super::pen::{
    curved, level_both, level_then_upright, on_ray, other_leg, piece, square_then_upright,
    straight, upright_then_level,
};
use super::{Constants, Draft, DraftError, DraftMeasures, DraftPiece};

/// A loose bodice, pieces "back" and "front", both from the centre to the side seam.
///
/// Back shoulder and front shoulder are equally long, and so are the side seams (the underarm length).
/// Edges: "centre back" or "centre front", "neckline", "shoulder", "armscye", "side seam", "waist".
///
/// # Errors
/// [`DraftError`] naming the piece and what is wrong. An armscye that is not hollow is only a doubt.
///
/// # Source
/// *Clothing for Women*, Lippincott, 1916, chapter V, "To draft shirt". *Own*: the increase of the bust (5 in), all
/// curves, and the readings of points I, K1, front F, J.
pub fn loose_bodice(measures: &DraftMeasures, constants: Constants) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let back = back(m, inch)?;
    let shoulder = back
        .outline
        .edge("shoulder")
        .map_or(0.0, |e| (e.line.end() - e.line.start()).hypot());
    let back_chest = back.point("J").map_or(0.0, |p| p.x);
    let front = front(m, inch, shoulder, back_chest)?;
    let doubts = [&back, &front].into_iter().filter_map(not_hollow).collect();
    Ok(Draft {
        name: "loose bodice",
        scale: constants.scale(m.bust_girth),
        pieces: vec![back, front],
        doubts,
    })
}

fn back(m: &DraftMeasures, inch: f64) -> Result<DraftPiece, DraftError> {
    let (n, length) = (m.neck_base_girth, m.back_waist_length);
    let a = Point::ORIGIN;
    let b = Point::new(0.0, -length);
    let c = Point::new(0.0, -length / 2.0);
    let d = Point::new(0.0, -length / 4.0);
    let e = Point::new(n / 6.0, 0.0);
    let f = Point::new(n / 6.0, 0.75 * inch);
    let g = Point::new(m.width_of_back / 2.0 + 0.75 * inch, d.y);
    let h = Point::new(g.x, g.y + n / 6.0);
    let i = Point::new(h.x + 0.75 * inch, h.y);
    let j = Point::new((m.bust_girth + 5.0 * inch) / 4.0 - 2.0 * inch, c.y);
    let k = Point::new(m.waist_girth / 4.0 + 1.25 * inch, -length);
    let k1 = Point::new(k.x, k.y + 0.25 * inch);
    let l = on_ray(k1, j, m.underarm_length);
    let points = [
        ("A", a),
        ("B", b),
        ("C", c),
        ("D", d),
        ("E", e),
        ("F", f),
        ("G", g),
        ("H", h),
        ("I", i),
        ("J", j),
        ("K", k),
        ("K1", k1),
        ("L", l),
    ];
    piece(
        "back",
        &points,
        vec![
            straight("centre back", &[b, a]),
            curved("neckline", &[level_then_upright(a, f)]),
            straight("shoulder", &[f, i]),
            curved(
                "armscye",
                &[square_then_upright(f, i, g), upright_then_level(g, l)],
            ),
            straight("side seam", &[l, k1]),
            curved("waist", &[level_both(k1, b)]),
        ],
    )
}

fn front(
    m: &DraftMeasures,
    inch: f64,
    shoulder: f64,
    back_chest: f64,
) -> Result<DraftPiece, DraftError> {
    let (n, length) = (m.neck_base_girth, m.back_waist_length);
    let a = Point::ORIGIN;
    let c = Point::new(0.0, -length / 2.0);
    let d = Point::new(0.0, -length / 4.0);
    let e = Point::new(n / 6.0 + 0.375 * inch, 0.0);
    let f = Point::new(e.x, 0.25 * inch);
    let f1 = Point::new(0.0, -n / 6.0);
    let g = Point::new(m.width_of_front / 2.0 + 1.25 * inch, d.y);
    let h = Point::new(g.x, g.y + 2.0 / 3.0 * (length / 4.0));
    let i = Point::new(
        f.x + other_leg("front", "shoulder", shoulder, f.y - h.y)?,
        h.y,
    );
    let j = Point::new((m.bust_girth + 5.0 * inch) / 2.0 - back_chest, c.y);
    let k = Point::new(j.x, -length);
    let k1 = Point::new(k.x - inch, k.y);
    let l = on_ray(k1, j, m.underarm_length);
    let o = Point::new(0.0, f1.y - m.front_waist_length);
    let points = [
        ("A", a),
        ("E", e),
        ("F", f),
        ("F1", f1),
        ("D", d),
        ("C", c),
        ("G", g),
        ("H", h),
        ("I", i),
        ("J", j),
        ("K", k),
        ("K1", k1),
        ("L", l),
        ("O", o),
    ];
    piece(
        "front",
        &points,
        vec![
            straight("centre front", &[o, f1]),
            curved("neckline", &[level_then_upright(f1, f)]),
            straight("shoulder", &[f, i]),
            curved(
                "armscye",
                &[square_then_upright(f, i, g), upright_then_level(g, l)],
            ),
            straight("side seam", &[l, k1]),
            curved("waist", &[level_both(k1, o)]),
        ],
    )
}

/// An armscye is hollow when the side seam starts further out than the width line.
pub(super) fn not_hollow(piece: &DraftPiece) -> Option<DraftError> {
    let (width, side) = (piece.point("G")?, piece.point("L")?);
    (side.x <= width.x).then_some(DraftError::NotHollow {
        piece: piece.name,
        by: width.x - side.x,
    })
}
