//! One-piece sleeves: gathered into the armscye, or set in flat.

use kurbo::{CubicBez, Point, Vec2};

use super::loose_bodice::loose_bodice;
use super::pen::{curved, level_then_upright, on_ray, other_leg, piece, straight, unit};
use super::{Constants, Draft, DraftError, DraftMeasures};
use crate::geometry::curve::Line;

/// Armscye of a drafted bodice in mm, front and back together, one side of the body. `None` when it has none.
pub fn armscye_of(bodice: &Draft) -> Option<f64> {
    Some(bodice.length("front", "armscye")? + bodice.length("back", "armscye")?)
}

/// The gathered sleeve for the [`loose_bodice`] of the same measures.
///
/// # Errors
/// [`DraftError`] of the bodice or of the sleeve.
///
/// # Source
/// As [`gathered_sleeve_for`]; the book says of the armscye "measure on the draft".
pub fn gathered_sleeve(
    measures: &DraftMeasures,
    constants: Constants,
) -> Result<Draft, DraftError> {
    gathered_sleeve_for(measures, constants, loose_armscye(measures, constants)?)
}

/// The flat-set sleeve for the [`loose_bodice`] of the same measures.
///
/// # Errors
/// [`DraftError`] of the bodice or of the sleeve.
///
/// # Source
/// As [`flat_sleeve_for`].
pub fn flat_sleeve(measures: &DraftMeasures, constants: Constants) -> Result<Draft, DraftError> {
    flat_sleeve_for(measures, constants, loose_armscye(measures, constants)?)
}

fn loose_armscye(measures: &DraftMeasures, constants: Constants) -> Result<f64, DraftError> {
    let bodice = loose_bodice(measures, constants)?;
    armscye_of(&bodice).ok_or(DraftError::NoLength {
        piece: "bodice",
        edge: "armscye",
        length: 0.0,
    })
}

/// A one-piece sleeve drafted on a folded sheet: the right half is the upper, the left half the under arm.
///
/// Its cap measures a third to a half more than the armscye: it is gathered in. Edges: "cap upper", "underarm upper",
/// "hem upper", "hem under", "underarm under", "cap under".
///
/// # Errors
/// [`DraftError`] naming what is wrong.
///
/// # Source
/// *Text-Book on Domestic Art*, Foster & ten Bosch, 1911, "Sleeve draft". *Own*: all curves.
pub fn gathered_sleeve_for(
    measures: &DraftMeasures,
    constants: Constants,
    armscye: f64,
) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let a = Point::ORIGIN;
    let p1 = Point::new(0.0, -inch);
    let p2 = Point::new(0.0, p1.y - m.shoulder_elbow);
    let p3 = Point::new(0.0, p2.y - m.elbow_wrist);
    let p4 = Point::new(0.0, p2.y + m.inside_elbow);
    let p5 = Point::new(armscye / 2.0 + 0.5 * inch, p4.y);
    let p6 = Point::new(m.elbow_girth / 2.0 + 0.5 * inch, p2.y);
    let p7 = Point::new(m.hand_girth / 2.0, p3.y);
    let p8 = Point::new(armscye / 3.0, p1.y);
    let p9 = a.midpoint(p5);
    let down = |distance: f64| {
        let upper = (p6 - p5).hypot();
        if distance <= upper {
            on_ray(p5, p6, distance)
        } else {
            on_ray(p6, p7, distance - upper)
        }
    };
    let (p10, p11) = (down(m.inside_elbow), down(m.inside_wrist));
    let underarm = if m.inside_wrist <= (p6 - p5).hypot() {
        vec![p5, p11]
    } else {
        vec![p5, p6, p11]
    };
    let chord = unit(p5 - a);
    let upper_cap = [
        CubicBez {
            p2: p8 - chord * ((p8 - a).hypot() / 3.0),
            ..level_then_upright(a, p8)
        },
        CubicBez::new(
            p8,
            p8 + chord * ((p5 - p8).hypot() / 3.0),
            p5 - (p5 - p8) / 3.0,
            p5,
        ),
    ];
    let hem = CubicBez::new(
        p11,
        Point::new(p11.x * 2.0 / 3.0, p11.y),
        Point::new(p11.x / 3.0, p3.y),
        p3,
    );
    let points = [
        ("A", a),
        ("1", p1),
        ("2", p2),
        ("3", p3),
        ("4", p4),
        ("5", p5),
        ("6", p6),
        ("7", p7),
        ("8", p8),
        ("9", p9),
        ("10", p10),
        ("11", p11),
    ];
    let under: Vec<Point> = underarm.iter().rev().map(|p| mirrored(*p)).collect();
    let sleeve = piece(
        "sleeve",
        &points,
        vec![
            curved("cap upper", &upper_cap),
            straight("underarm upper", &underarm),
            curved("hem upper", &[hem]),
            curved("hem under", &back_again(&[hem])),
            straight("underarm under", &under),
            curved("cap under", &back_again(&hollow_cap(p5))),
        ],
    )?;
    Ok(Draft {
        name: "gathered sleeve",
        scale: constants.scale(m.bust_girth),
        pieces: vec![sleeve],
        doubts: Vec::new(),
    })
}

/// Cap length / armscye of the flat-set sleeve. *Own.*
const CAP_TO_ARMSCYE: f64 = 1.06;

/// A one-piece sleeve, the same front and back, whose cap is 6 % longer than the armscye: eased in flat.
///
/// Edges: "cap front", "underarm front", "hem front", "hem back", "underarm back", "cap back".
///
/// # Errors
/// [`DraftError`] naming what is wrong.
///
/// # Source
/// *Own*, not published: half-width the larger of 0.575 upper arm girth and 0.37 armscye; cap height found by halving;
/// hem half-width half the hand and a quarter inch; underarm seam = armpit to wrist.
pub fn flat_sleeve_for(
    measures: &DraftMeasures,
    constants: Constants,
    armscye: f64,
) -> Result<Draft, DraftError> {
    let m = measures.checked()?;
    let inch = constants.inch(m);
    let half_width = (0.575 * m.upper_arm_girth).max(0.37 * armscye);
    let a = Point::ORIGIN;
    let p5 = Point::new(
        half_width,
        -cap_height(half_width, CAP_TO_ARMSCYE * armscye / 2.0)?,
    );
    let wrist = m.hand_girth / 2.0 + 0.25 * inch;
    let p11 = Point::new(
        wrist,
        p5.y - other_leg("sleeve", "underarm", m.inside_wrist, half_width - wrist)?,
    );
    let p3 = Point::new(0.0, p11.y);
    let points = [
        ("A", a),
        ("5", p5),
        ("9", a.midpoint(p5)),
        ("11", p11),
        ("3", p3),
    ];
    let cap = hollow_cap(p5);
    let sleeve = piece(
        "sleeve",
        &points,
        vec![
            curved("cap front", &cap),
            straight("underarm front", &[p5, p11]),
            straight("hem front", &[p11, p3]),
            straight("hem back", &[p3, mirrored(p11)]),
            straight("underarm back", &[mirrored(p11), mirrored(p5)]),
            curved("cap back", &back_again(&cap)),
        ],
    )?;
    Ok(Draft {
        name: "flat sleeve",
        scale: constants.scale(m.bust_girth),
        pieces: vec![sleeve],
        doubts: Vec::new(),
    })
}

/// The half cap from its top (the origin) to the underarm point: round above, hollow below.
pub(super) fn hollow_cap(underarm: Point) -> [CubicBez; 2] {
    let top = Point::ORIGIN;
    let middle = top.midpoint(underarm);
    let third = (middle - top).hypot() / 3.0;
    let (sin, cos) = (
        libm::sin(-10_f64.to_radians()),
        libm::cos(10_f64.to_radians()),
    );
    let t = unit(underarm - top);
    let u = Vec2::new(t.x * cos - t.y * sin, t.x * sin + t.y * cos);
    [
        CubicBez::new(top, top + Vec2::new(third, 0.0), middle - u * third, middle),
        CubicBez::new(
            middle,
            middle + u * third,
            underarm - Vec2::new(third, 0.0),
            underarm,
        ),
    ]
}

/// Height of the half cap that is so long.
fn cap_height(half_width: f64, half_cap: f64) -> Result<f64, DraftError> {
    let length = |height: f64| {
        Line::from_cubics(&hollow_cap(Point::new(half_width, -height)))
            .map_or(0.0, |line| line.length())
    };
    if half_cap <= length(0.0) {
        return Err(DraftError::OutOfReach {
            piece: "sleeve",
            edge: "half cap",
            length: half_cap,
            distance: length(0.0),
        });
    }
    // A cap is longer than it is high, so the wanted length is an upper bound of its height.
    let (mut low, mut high) = (0.0, half_cap);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if length(middle) < half_cap {
            low = middle
        } else {
            high = middle
        }
    }
    Ok(f64::midpoint(low, high))
}

fn mirrored(p: Point) -> Point {
    Point::new(-p.x, p.y)
}

/// The mirror image on the other side of x = 0, walked back.
pub(super) fn back_again(cubics: &[CubicBez]) -> Vec<CubicBez> {
    cubics
        .iter()
        .rev()
        .map(|c| {
            CubicBez::new(
                mirrored(c.p3),
                mirrored(c.p2),
                mirrored(c.p1),
                mirrored(c.p0),
            )
        })
        .collect()
}
