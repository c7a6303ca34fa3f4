//! Offcuts as a maker draws them: a rectangle, points clicked one after the other, a photo with a known length in it,
//! a pulled thread. What is drawn becomes an [`Offcut`] or says why not.

use kurbo::{Point, Rect, Vec2};

use crate::cloth::{Blemish, GoodFor, Offcut};
use crate::geometry::polygon::Polygon;
use crate::piece::Face;
use crate::tolerance::JOINING;
use crate::units::{Degrees, Mm};

/// Why what was drawn is no outline, in words that stand alone.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum DrawnError {
    /// Fewer than three points.
    #[error("an outline needs three points at least; {0} are there")]
    TooFew(usize),
    /// It crosses itself.
    #[error("the outline crosses itself near {0:.0}, {1:.0} mm; move a point")]
    Crossed(f64, f64),
    /// It has no area to speak of.
    #[error("the points lie in one line; there is no cloth between them")]
    Flat,
    /// Two points that should be apart are the same.
    #[error("both points are the same; put them further apart")]
    SamePoints,
    /// A hole or stain beside the cloth.
    #[error("this place lies outside {0}")]
    Outside(String),
    /// A size that is none.
    #[error("the size must be more than nothing")]
    NoSize,
}

/// Points as they were clicked, as an outline: doubled points left out, counter-clockwise.
///
/// # Errors
/// [`DrawnError`] when they do not enclose cloth.
pub fn outline(points: &[Point]) -> Result<Vec<Point>, DrawnError> {
    let mut corners: Vec<Point> = Vec::new();
    for p in points {
        if corners.last().is_none_or(|last| apart(*last, *p)) {
            corners.push(*p);
        }
    }
    while let [first, .., last] = corners.as_slice()
        && !apart(*first, *last)
    {
        corners.pop();
    }
    if corners.len() < 3 {
        return Err(DrawnError::TooFew(corners.len()));
    }
    if let Some(p) = crossing(&corners) {
        return Err(DrawnError::Crossed(p.x, p.y));
    }
    let area = Polygon::new(corners.clone()).area();
    if area.abs() < JOINING.0 {
        return Err(DrawnError::Flat);
    }
    if area < 0.0 {
        corners.reverse();
    }
    Ok(corners)
}

fn apart(a: Point, b: Point) -> bool {
    (a - b).hypot() > JOINING.0
}

/// Where a closed line crosses or touches itself away from its corners.
fn crossing(corners: &[Point]) -> Option<Point> {
    let sides: Vec<(Point, Point)> = corners
        .iter()
        .zip(corners.iter().cycle().skip(1))
        .map(|(a, b)| (*a, *b))
        .collect();
    sides.iter().enumerate().find_map(|(i, first)| {
        let others = sides.iter().enumerate().skip(i + 1);
        others
            .filter(|(j, _)| *j != i + 1 && !(i == 0 && *j + 1 == sides.len()))
            .find_map(|(_, second)| meet(*first, *second))
    })
}

/// Where two strokes meet.
fn meet((a, b): (Point, Point), (c, d): (Point, Point)) -> Option<Point> {
    let (first, second) = (b - a, d - c);
    let cross = first.cross(second);
    if cross.abs() < f64::EPSILON {
        return None;
    }
    let (t, u) = ((c - a).cross(second) / cross, (c - a).cross(first) / cross);
    let within = |share: f64| (0.0..=1.0).contains(&share);
    (within(t) && within(u)).then(|| a.lerp(b, t))
}

/// The grain that a pulled thread shows, and how far it may be wrong.
///
/// Both ends are pointed to within `pointing`; the worst is one end off to the left by it and the other to the right:
/// `atan(2 pointing / length)`.
///
/// # Errors
/// [`DrawnError::SamePoints`] when the thread has no length.
pub fn thread(from: Point, to: Point, pointing: Mm) -> Result<(Degrees, Degrees), DrawnError> {
    let along = to - from;
    if along.hypot() <= JOINING.0 {
        return Err(DrawnError::SamePoints);
    }
    let doubt = (2.0 * pointing.0).atan2(along.hypot()).to_degrees();
    Ok((Degrees(against_y(along)), Degrees(doubt)))
}

/// Of both directions of a thread the one that is nearer to the grain as it was known: on cloth with nap, which way up the
/// cloth lies is the arrow of the maker, and a thread shows none.
pub fn towards(thread: Degrees, known: Degrees) -> Degrees {
    let off = libm::remainder(thread.0 - known.0, 180.0);
    Degrees(libm::remainder(known.0 + off, 360.0))
}

/// Direction of a thread against y, counter-clockwise, between -90 and 90 degrees: a thread has no beginning.
fn against_y(along: Vec2) -> f64 {
    let angle = (-along.x).atan2(along.y).to_degrees();
    if angle > 90.0 {
        angle - 180.0
    } else if angle <= -90.0 {
        angle + 180.0
    } else {
        angle
    }
}

/// How many mm one pixel of a photo is, from two points a known length apart.
///
/// # Errors
/// [`DrawnError`] when the points are the same, or the length is nothing.
pub fn photo_scale(from: Point, to: Point, length: Mm) -> Result<f64, DrawnError> {
    let pixels = (to - from).hypot();
    if pixels <= f64::EPSILON {
        return Err(DrawnError::SamePoints);
    }
    if !(length.0 > 0.0 && length.0.is_finite()) {
        return Err(DrawnError::NoSize);
    }
    Ok(length.0 / pixels)
}

impl Offcut {
    /// A piece of cloth with this outline: warp upright, right side up, no nap, no margin.
    pub fn drawn(name: impl Into<String>, cloth: impl Into<String>, outline: Vec<Point>) -> Self {
        Self {
            name: name.into(),
            cloth: cloth.into(),
            outline,
            blemishes: Vec::new(),
            grain: Degrees(0.0),
            grain_doubt: Degrees(0.0),
            face: Face::Right,
            sides_alike: false,
            nap: false,
            margin: Mm(0.0),
            thickness: None,
        }
    }

    /// A rectangle with its lower left corner at the origin.
    ///
    /// # Errors
    /// [`DrawnError::NoSize`] when a side is nothing.
    pub fn rectangle(
        name: impl Into<String>,
        cloth: impl Into<String>,
        width: Mm,
        height: Mm,
    ) -> Result<Self, DrawnError> {
        let is_length = |mm: Mm| mm.0.is_finite() && mm.0 > JOINING.0;
        if !is_length(width) || !is_length(height) {
            return Err(DrawnError::NoSize);
        }
        let corner = |x, y| Point::new(x, y);
        let outline = vec![
            corner(0.0, 0.0),
            corner(width.0, 0.0),
            corner(width.0, height.0),
            corner(0.0, height.0),
        ];
        Ok(Self::drawn(name, cloth, outline))
    }

    /// The same cloth with another outline.
    ///
    /// # Errors
    /// [`DrawnError`] when the points do not enclose cloth.
    pub fn with_outline(&self, points: &[Point]) -> Result<Self, DrawnError> {
        Ok(Self {
            outline: outline(points)?,
            ..self.clone()
        })
    }

    /// The same cloth with one more hole (`None`) or place of lesser quality.
    ///
    /// # Errors
    /// [`DrawnError`] when the points enclose nothing, or nothing of this cloth.
    pub fn with_blemish(
        &self,
        points: &[Point],
        good_for: Option<GoodFor>,
    ) -> Result<Self, DrawnError> {
        let place = outline(points)?;
        let own = Polygon::new(self.outline.clone());
        let touches = place.iter().any(|p| own.winding(*p) != 0)
            || own.corners().iter().any(|p| {
                let place = Polygon::new(place.clone());
                place.winding(*p) != 0
            });
        if !touches {
            return Err(DrawnError::Outside(self.name.clone()));
        }
        let mut next = self.clone();
        next.blemishes.push(Blemish {
            outline: place,
            is_hole: good_for.is_none(),
            good_for: good_for.unwrap_or_default(),
        });
        Ok(next)
    }

    /// The same cloth without one of its holes and blemishes.
    #[must_use]
    pub fn without_blemish(&self, number: usize) -> Self {
        let mut next = self.clone();
        if number < next.blemishes.len() {
            next.blemishes.remove(number);
        }
        next
    }

    /// Area inside the outline less its holes, mm2. Holes that overlap are counted twice.
    pub fn area(&self) -> f64 {
        let of = |outline: &[Point]| Polygon::new(outline.to_vec()).area().abs();
        let holes = self.blemishes.iter().filter(|blemish| blemish.is_hole);
        (of(&self.outline) - holes.map(|hole| of(&hole.outline)).sum::<f64>()).max(0.0)
    }

    /// Smallest upright rectangle around it.
    pub fn bounds(&self) -> Rect {
        Polygon::new(self.outline.clone()).bounds()
    }
}

impl Blemish {
    /// "hole", or what it is still good for.
    pub fn words(&self) -> String {
        if self.is_hole {
            "hole".to_owned()
        } else {
            format!("good for {}", self.good_for.words())
        }
    }
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]
mod tests {
    use super::*;

    fn points(all: &[(f64, f64)]) -> Vec<Point> {
        all.iter().map(|p| Point::from(*p)).collect()
    }

    #[test]
    fn a_rectangle_has_its_area_and_a_hole_takes_its_own_off() {
        let cloth = Offcut::rectangle("Rest", "linen", Mm(300.0), Mm(200.0)).unwrap();
        assert!((cloth.area() - 60_000.0).abs() < 1e-9);
        let hole = points(&[(10.0, 10.0), (30.0, 10.0), (30.0, 40.0), (10.0, 40.0)]);
        let holed = cloth.with_blemish(&hole, None).unwrap();
        assert!((holed.area() - 59_400.0).abs() < 1e-9);
        let stained = cloth.with_blemish(&hole, Some(GoodFor::Inside)).unwrap();
        assert!((stained.area() - 60_000.0).abs() < 1e-9);
        assert_eq!(stained.without_blemish(0), cloth);
        assert_eq!(
            Offcut::rectangle("Rest", "linen", Mm(0.0), Mm(200.0)),
            Err(DrawnError::NoSize)
        );
    }

    #[test]
    fn points_clicked_clockwise_and_twice_become_one_outline_the_right_way_round() {
        let clicked = points(&[
            (0.0, 0.0),
            (0.0, 50.0),
            (0.0, 50.0),
            (80.0, 50.0),
            (80.0, 0.0),
            (0.0, 0.001),
        ]);
        let outline = outline(&clicked).unwrap();
        assert_eq!(outline.len(), 4);
        assert!((Polygon::new(outline).area() - 4000.0).abs() < 0.1);
    }

    #[test]
    fn what_encloses_no_cloth_is_refused_with_the_reason() {
        let of = |all: &[(f64, f64)]| outline(&points(all));
        assert_eq!(of(&[(0.0, 0.0), (5.0, 0.0)]), Err(DrawnError::TooFew(2)));
        assert_eq!(
            of(&[(0.0, 0.0), (5.0, 0.0), (10.0, 0.0)]),
            Err(DrawnError::Flat)
        );
        let bow = of(&[(0.0, 0.0), (100.0, 100.0), (100.0, 0.0), (0.0, 100.0)]);
        assert_eq!(bow, Err(DrawnError::Crossed(50.0, 50.0)));
    }

    #[test]
    fn a_stain_beside_the_cloth_is_refused() {
        let cloth = Offcut::rectangle("Rest", "linen", Mm(30.0), Mm(20.0)).unwrap();
        let beside = points(&[(40.0, 0.0), (50.0, 0.0), (50.0, 9.0)]);
        let refused = cloth.with_blemish(&beside, None).unwrap_err();
        assert_eq!(refused.to_string(), "this place lies outside Rest");
    }

    #[test]
    fn the_doubt_of_a_pulled_thread_is_the_angle_of_its_pointing_error() {
        // 3-4-5: a thread that runs 30 to the left and 40 up.
        let (grain, doubt) = thread(Point::ZERO, Point::new(-30.0, 40.0), Mm(0.5)).unwrap();
        assert!((grain.0 - (30.0_f64 / 40.0).atan().to_degrees()).abs() < 1e-9);
        assert!((doubt.0 - (1.0_f64 / 50.0).atan().to_degrees()).abs() < 1e-9);
        // Pulled from the other end it is the same thread, and a longer one is surer.
        let (back, _) = thread(Point::new(-30.0, 40.0), Point::ZERO, Mm(0.5)).unwrap();
        assert!((back.0 - grain.0).abs() < 1e-9);
        let (_, surer) = thread(Point::ZERO, Point::new(-60.0, 80.0), Mm(0.5)).unwrap();
        assert!(surer.0 < doubt.0);
        assert_eq!(
            thread(Point::ZERO, Point::ZERO, Mm(0.5)),
            Err(DrawnError::SamePoints)
        );
    }

    #[test]
    fn a_thread_keeps_the_way_up_that_the_nap_of_the_cloth_had() {
        // Grain 170, the thread shows 168: that is -12 as a thread, and must not turn the nap over.
        let (seen, _) = thread(
            Point::ZERO,
            Point::new(
                libm::sin(12_f64.to_radians()),
                libm::cos(12_f64.to_radians()),
            ),
            Mm(0.5),
        )
        .unwrap();
        assert!((seen.0 + 12.0).abs() < 1e-9);
        assert!((towards(seen, Degrees(170.0)).0 - 168.0).abs() < 1e-9);
        assert!((towards(seen, Degrees(0.0)).0 + 12.0).abs() < 1e-9);
        assert!((towards(Degrees(88.0), Degrees(-90.0)).0 + 92.0).abs() < 1e-9);
        assert!((towards(Degrees(12.0), Degrees(-170.0)).0 + 168.0).abs() < 1e-9);
    }

    #[test]
    fn a_ruler_in_a_photo_gives_its_scale() {
        let (a, b) = (Point::new(100.0, 100.0), Point::new(400.0, 500.0));
        assert!((photo_scale(a, b, Mm(100.0)).unwrap() - 0.2).abs() < 1e-12);
        assert_eq!(photo_scale(a, a, Mm(100.0)), Err(DrawnError::SamePoints));
        assert_eq!(photo_scale(a, b, Mm(0.0)), Err(DrawnError::NoSize));
    }
}
