//! Shapes a drafter starts from: rectangle, circle, ring sector by waist and length.
//!
//! Lengths in mm, x right, y up. Each gives an outline of named edges, net, without allowance. The curve through given
//! points is [`crate::geometry::spline::through`].

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use kurbo::{CubicBez, Point, Vec2};

use crate::edge::{Edge, Finish};
use crate::geometry::arc::arc;
use crate::geometry::curve::Line;
use crate::geometry::outline::{Outline, OutlineError};
use crate::units::Mm;

/// Largest share of a circle that one flat piece can have without overlapping itself.
const MOST_FLAT: f64 = 0.995;

/// Why a shape cannot be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ShapeError {
    /// A size that is no length.
    #[error("{what} is {value:.1} mm; it must be above 0")]
    NoLength {
        /// "width", "waist".
        what: &'static str,
        /// What was asked, mm.
        value: f64,
    },
    /// A share of a circle that no flat piece has.
    #[error(
        "{share:.2} of a circle does not lie flat in one piece; lay it on the fold, or take a smaller share and cut it more than once"
    )]
    NotFlat {
        /// The share that was asked.
        share: f64,
    },
    /// Edges that make no outline.
    #[error("{0}")]
    Outline(#[from] OutlineError),
}

/// Does a shape lie on the fold of the cloth?
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum OnFold {
    /// It is drawn whole.
    #[default]
    Whole,
    /// Its left edge is the fold; one half is drawn.
    Half,
}

/// A ring sector: what a circular skirt, a flounce or a cape is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Length of the inner edge of the whole, seam to seam.
    pub waist: Mm,
    /// From the inner to the outer edge.
    pub length: Mm,
    /// How much of a full circle the whole takes: 1 is a full circle, 0.5 half of one.
    pub share: f64,
    /// Drawn whole, or half of it on the fold.
    pub on_fold: OnFold,
}

impl Ring {
    /// Radius of the inner edge, mm: waist / (2 pi share).
    ///
    /// # Source
    /// Closed form; worked example in the fact sheet (E2): waist 25 in, full circle, radius 3.98 in.
    pub fn radius(&self) -> f64 {
        self.waist.0 / (TAU * self.share)
    }

    /// The outline, its upper left corner at `at`; on the fold the fold hangs down from there.
    ///
    /// Edges: "waist", "hem", and "centre front" (the fold) with "centre back", or "left side" with "right side".
    ///
    /// # Errors
    /// [`ShapeError`] for sizes that are no lengths, and for a share that does not lie flat.
    pub fn outline(&self, at: Point) -> Result<Outline, ShapeError> {
        above_zero("the waist", self.waist.0)?;
        above_zero("the length", self.length.0)?;
        let most = if self.on_fold == OnFold::Half {
            1.0
        } else {
            MOST_FLAT
        };
        if !(self.share > 0.0 && self.share <= most) {
            return Err(ShapeError::NotFlat { share: self.share });
        }
        let (inner, outer) = (self.radius(), self.radius() + self.length.0);
        // On the fold from straight down to the right; else to both sides of straight down.
        let half = PI * self.share;
        let (from, to) = match self.on_fold {
            OnFold::Half => (-FRAC_PI_2, -FRAC_PI_2 + half),
            OnFold::Whole => (-FRAC_PI_2 - half, -FRAC_PI_2 + half),
        };
        let on = |radius: f64, angle: f64| {
            Point::ORIGIN + Vec2::new(libm::cos(angle), libm::sin(angle)) * radius
        };
        let by = at - on(inner, from);
        let moved = |line: Line| line.mapped(|p| p + by);
        let left = moved(Line::straight(on(inner, from), on(outer, from)));
        let right = moved(Line::straight(on(outer, to), on(inner, to)));
        let (left, right) = match self.on_fold {
            OnFold::Half => (
                Edge::finished("centre front", left, Finish::Fold),
                Edge::seam("centre back", right),
            ),
            OnFold::Whole => (
                Edge::seam("left side", left),
                Edge::seam("right side", right),
            ),
        };
        let hem = Edge::finished(
            "hem",
            moved(curve(arc(Point::ORIGIN, outer, from, to))?),
            HEM,
        );
        let waist = Edge::seam("waist", moved(curve(arc(Point::ORIGIN, inner, to, from))?));
        Ok(Outline::new(vec![left, hem, right, waist])?)
    }
}

const HEM: Finish = Finish::Hem {
    width: None,
    turns: 2,
};

/// A rectangle, its lower left corner at `at`; edges "bottom", "right side", "top", and "left side" or "fold".
///
/// `width` is the width of the whole: on the fold, half of it is drawn.
///
/// # Errors
/// [`ShapeError::NoLength`] for sizes that are not above 0.
///
/// # Example
/// ```
/// # use petitoile_core::{Mm, kurbo::Point, ready_shapes::{OnFold, rectangle}};
/// let band = rectangle(Point::ORIGIN, Mm(300.0), Mm(40.0), OnFold::Half)?;
/// assert_eq!((band.bounds().width(), band.bounds().height()), (150.0, 40.0));
/// # Ok::<(), petitoile_core::ready_shapes::ShapeError>(())
/// ```
pub fn rectangle(at: Point, width: Mm, height: Mm, on_fold: OnFold) -> Result<Outline, ShapeError> {
    above_zero("the width", width.0)?;
    above_zero("the height", height.0)?;
    let drawn = match on_fold {
        OnFold::Whole => width.0,
        OnFold::Half => width.0 / 2.0,
    };
    let corner = |x: f64, y: f64| at + Vec2::new(x, y);
    let (a, b) = (at, corner(drawn, 0.0));
    let (c, d) = (corner(drawn, height.0), corner(0.0, height.0));
    let left = match on_fold {
        OnFold::Whole => Edge::seam("left side", Line::straight(d, a)),
        OnFold::Half => Edge::finished("fold", Line::straight(d, a), Finish::Fold),
    };
    Ok(Outline::new(vec![
        Edge::seam("bottom", Line::straight(a, b)),
        Edge::seam("right side", Line::straight(b, c)),
        Edge::seam("top", Line::straight(c, d)),
        left,
    ])?)
}

/// A circle about `at`, as "lower edge" and "upper edge"; on the fold its right half, with one "edge" and the "fold".
///
/// # Errors
/// [`ShapeError::NoLength`] for a radius that is not above 0.
pub fn circle(at: Point, radius: Mm, on_fold: OnFold) -> Result<Outline, ShapeError> {
    above_zero("the radius", radius.0)?;
    let edges = match on_fold {
        OnFold::Whole => vec![
            Edge::seam("lower edge", curve(arc(at, radius.0, -PI, 0.0))?),
            Edge::seam("upper edge", curve(arc(at, radius.0, 0.0, PI))?),
        ],
        OnFold::Half => {
            let edge = curve(arc(at, radius.0, -FRAC_PI_2, FRAC_PI_2))?;
            let fold = Line::straight(edge.end(), edge.start());
            vec![
                Edge::seam("edge", edge),
                Edge::finished("fold", fold, Finish::Fold),
            ]
        }
    };
    Ok(Outline::new(edges)?)
}

fn curve(cubics: Vec<CubicBez>) -> Result<Line, ShapeError> {
    Line::from_cubics(&cubics).ok_or(ShapeError::Outline(OutlineError::Empty))
}

fn above_zero(what: &'static str, value: f64) -> Result<(), ShapeError> {
    if value.is_finite() && value > crate::tolerance::JOINING.0 {
        Ok(())
    } else {
        Err(ShapeError::NoLength { what, value })
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::drafts::{CircleShare, circular_skirt};
    use proptest::prelude::*;

    fn length(outline: &Outline, edge: &str) -> f64 {
        outline.edge(edge).unwrap().line.length()
    }

    /// Fact sheet E2 (`pleat_examples.csv`, kind C): a circle for a waist of 25 in has a radius of 3.98 in.
    #[test]
    fn a_full_circle_for_a_waist_of_25_in_has_the_radius_of_the_fact_sheet() {
        let ring = Ring {
            waist: Mm::from_inches(25.0),
            length: Mm::from_inches(20.0),
            share: 1.0,
            on_fold: OnFold::Half,
        };
        assert!((Mm(ring.radius()).inches() - 3.98).abs() < 0.005);
        let outline = ring.outline(Point::ORIGIN).unwrap();
        assert!((2.0 * length(&outline, "waist") - 635.0).abs() < 1e-3);
    }

    /// The other way: the published draft's own circular skirt.
    #[test]
    fn on_the_fold_it_is_the_circular_skirt_of_the_drafts() {
        for (share, of) in [
            (0.25, CircleShare::Quarter),
            (0.5, CircleShare::Half),
            (1.0, CircleShare::Full),
        ] {
            let ring = Ring {
                waist: Mm(290.0),
                length: Mm(180.0),
                share,
                on_fold: OnFold::Half,
            };
            let draft = circular_skirt(290.0, 180.0, of).unwrap();
            let drafted = draft.outline("skirt").unwrap();
            let top = drafted.edge("centre front").unwrap().line.points().to_vec();
            let drawn = ring.outline(Point::new(0.0, -ring.radius())).unwrap();
            assert!(
                top.iter()
                    .any(|p| (*p - Point::new(0.0, -ring.radius())).hypot() < 1e-9)
            );
            for edge in ["centre front", "hem", "centre back", "waist"] {
                let (a, b) = (
                    &drafted.edge(edge).unwrap().line,
                    &drawn.edge(edge).unwrap().line,
                );
                for i in 0..=20 {
                    let at = f64::from(i) / 20.0;
                    assert!((a.at(at) - b.at(at)).hypot() < 1e-6, "{edge} {share}");
                }
            }
        }
    }

    #[test]
    fn what_does_not_lie_flat_is_refused_with_advice() {
        let ring = |share, on_fold| Ring {
            waist: Mm(300.0),
            length: Mm(100.0),
            share,
            on_fold,
        };
        let refused = ring(1.0, OnFold::Whole).outline(Point::ORIGIN).unwrap_err();
        assert!(refused.to_string().contains("on the fold"), "{refused}");
        assert!(ring(1.5, OnFold::Half).outline(Point::ORIGIN).is_err());
        assert!(ring(f64::NAN, OnFold::Half).outline(Point::ORIGIN).is_err());
        assert!(rectangle(Point::ORIGIN, Mm(0.0), Mm(5.0), OnFold::Whole).is_err());
        assert!(circle(Point::ORIGIN, Mm(f64::INFINITY), OnFold::Whole).is_err());
    }

    #[test]
    fn a_circle_goes_round_its_middle() {
        let crown = circle(Point::new(10.0, 20.0), Mm(45.0), OnFold::Whole).unwrap();
        let round = length(&crown, "lower edge") + length(&crown, "upper edge");
        assert!((round - TAU * 45.0).abs() < 1e-3);
        let half = circle(Point::new(10.0, 20.0), Mm(45.0), OnFold::Half).unwrap();
        assert!((2.0 * half.area() - crown.area()).abs() < 1e-3);
    }

    proptest! {
        /// Law: waist and hem are as long as the formula says, r = waist / (2 pi share).
        #[test]
        fn a_ring_measures_its_waist_and_hangs_its_length(
            waist in 20.0..1500.0_f64, hangs in 5.0..1200.0_f64, share in 0.05..0.99_f64, x in -500.0..500.0_f64,
        ) {
            for on_fold in [OnFold::Whole, OnFold::Half] {
                let ring = Ring { waist: Mm(waist), length: Mm(hangs), share, on_fold };
                let outline = ring.outline(Point::new(x, -x)).unwrap();
                let times = if on_fold == OnFold::Half { 2.0 } else { 1.0 };
                prop_assert!((times * length(&outline, "waist") - waist).abs() < 0.002);
                let hem = TAU * share * (ring.radius() + hangs);
                prop_assert!((times * length(&outline, "hem") - hem).abs() < 0.005);
                let area = PI * share * ((ring.radius() + hangs).powi(2) - ring.radius().powi(2));
                prop_assert!((times * outline.area() / area - 1.0).abs() < 1e-5);
            }
        }
    }
}
