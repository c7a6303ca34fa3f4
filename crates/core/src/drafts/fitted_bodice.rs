//! Fitted bodice: front with one waist dart, back without.

use kurbo::Point;

use super::pen::{
    curved, level_then_upright, must_have_length, on_ray, other_leg, piece, square_then_upright,
    straight, unit, upright_then_level,
};
use super::{Constants, Draft, DraftError, DraftMeasures, DraftPiece};

/// A fitted bodice to the waist, pieces "back" and "front", the front with one waist dart.
///
/// Edges: "centre back" or "centre front", "neckline", "shoulder", "armscye", "side seam", "waist"; the front's waist
/// is cut by the dart into "waist side", "dart leg side", "dart leg centre", "waist centre".
///
/// # Errors
/// [`DraftError`] naming the piece and what is wrong: with the inches as printed the neck of a doll is wider than her
/// shoulder.
///
/// # Source
/// Front: *Text-Book on Domestic Art*, Foster & ten Bosch, 1911, "French lining draft"; the 3/4 in at the side from the
/// same book's blouse draft. *Own*: the back, the apex over the middle of the dart (both legs equal), all curves.
pub fn fitted_bodice(measures: &DraftMeasures, constants: Constants) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let pieces = vec![back(m, inch)?, front(m, inch)?];
    Ok(Draft {
        name: "fitted bodice",
        scale: constants.scale(m.bust_girth),
        pieces,
        doubts: Vec::new(),
    })
}

fn front(m: &DraftMeasures, inch: f64) -> Result<DraftPiece, DraftError> {
    let top = Point::ORIGIN;
    let p1 = Point::new(0.0, -(m.neck_base_girth / 5.0 + 0.25 * inch));
    let p2 = Point::new(0.0, p1.y - m.armscye_depth_front);
    let p3 = Point::new(0.0, p1.y - m.front_waist_length);
    let p5 = Point::new(0.75 * inch, p3.y);
    let p7 = Point::new(2.5 * inch, 0.0);
    let p8 = Point::new(m.width_of_front / 2.0, p1.y);
    let p9 = Point::new(p8.x, p8.y + inch);
    let p9s = on_ray(p7, p9, m.shoulder_length);
    if p9s.x <= p7.x {
        return Err(DraftError::NeckTooWide {
            piece: "front",
            neck: p7.x,
            shoulder: p9s.x,
        });
    }
    let p10 = Point::new(p8.x, p2.y);
    let p11 = Point::new((m.bust_girth - m.width_of_back) / 2.0 + 0.75 * inch, p2.y);
    let p12 = Point::new(p11.x, p11.y - m.underarm_length);
    // The waist line runs from 5 to 12, which need not be level.
    let waist = unit(p12 - p5);
    let p17 = p5 + waist * (2.5 * inch);
    let p20 = p12 - waist * (m.waist_girth / 4.0 - 2.5 * inch);
    must_have_length("front", "waist side", (p12 - p20).dot(waist))?;
    must_have_length("front", "mouth of the dart", (p20 - p17).dot(waist))?;
    let apex = p17.midpoint(p20) + kurbo::Vec2::new(0.0, m.dart_height);
    let g = Point::new(p8.x, p8.y.midpoint(p10.y));
    let points = [
        ("A", top),
        ("1", p1),
        ("2", p2),
        ("3", p3),
        ("5", p5),
        ("7", p7),
        ("8", p8),
        ("9", p9),
        ("9s", p9s),
        ("10", p10),
        ("11", p11),
        ("12", p12),
        ("17", p17),
        ("20", p20),
        ("19t", apex),
        ("g", g),
    ];
    piece(
        "front",
        &points,
        vec![
            straight("centre front", &[p5, p2, p1]),
            curved("neckline", &[level_then_upright(p1, p7)]),
            straight("shoulder", &[p7, p9s]),
            curved(
                "armscye",
                &[square_then_upright(p7, p9s, g), upright_then_level(g, p11)],
            ),
            straight("side seam", &[p11, p12]),
            straight("waist side", &[p12, p20]),
            straight("dart leg side", &[p20, apex]),
            straight("dart leg centre", &[apex, p17]),
            straight("waist centre", &[p17, p5]),
        ],
    )
}

fn back(m: &DraftMeasures, inch: f64) -> Result<DraftPiece, DraftError> {
    let (n, length) = (m.neck_base_girth, m.back_waist_length);
    let a = Point::ORIGIN;
    let b = Point::new(0.0, -length);
    let f = Point::new(n / 6.0, 0.75 * inch);
    let g = Point::new(m.width_of_back / 2.0, -length / 4.0);
    let h = Point::new(g.x, g.y + n / 6.0);
    let hs = Point::new(h.x + 0.5 * inch, h.y);
    let i = on_ray(f, hs, m.shoulder_length);
    let jx = m.width_of_back / 2.0 + 0.75 * inch;
    let k = Point::new((m.waist_girth / 4.0).clamp(jx / 2.0, jx), -length);
    let j = Point::new(
        jx,
        -length + other_leg("back", "side seam", m.underarm_length, jx - k.x)?,
    );
    let points = [
        ("A", a),
        ("B", b),
        ("F", f),
        ("G", g),
        ("H", h),
        ("Hs", hs),
        ("I", i),
        ("K", k),
        ("J", j),
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
                &[square_then_upright(f, i, g), upright_then_level(g, j)],
            ),
            straight("side seam", &[j, k]),
            straight("waist", &[k, b]),
        ],
    )
}
