//! Can darts and hems be sewn at this size?

use kurbo::ParamCurveCurvature;

use crate::adapt::Adapted;
use crate::edge::{Edge, EdgeRef, Finish};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::finish::Finished;
use crate::geometry::curve::Line;
use crate::piece::{Dart, Piece};
use crate::units::Mm;

use super::finding;

/// Narrowest dart that a machine follows (common practice, no source).
const NARROWEST_DART: f64 = 3.0;

/// Widest dart against its length, before it no longer presses flat (common practice, no source).
const WIDEST_DART: f64 = 0.8;

/// How far dart legs may differ before the ends no longer meet.
const LEGS_MEET: f64 = 0.5;

/// Share by which the edge of a turned hem may be longer or shorter than the line it is sewn to (common practice, no
/// source).
const HEM_CAN_BE_EASED: f64 = 0.15;

/// Darts and hems that are too small, too wide or too tight.
pub(super) fn findings(finished: &Finished) -> Vec<Finding> {
    let adapted = &finished.filled.adapted;
    let mut findings = Vec::new();
    for piece in &adapted.pieces {
        findings.extend(
            piece
                .darts
                .iter()
                .filter_map(|dart| dart_trouble(piece, dart)),
        );
    }
    for piece in &finished.filled.pieces {
        findings.extend(
            piece
                .outline
                .edges()
                .iter()
                .filter_map(|edge| hem_trouble(adapted, piece, edge)),
        );
    }
    findings
}

fn dart_trouble(piece: &Piece, dart: &Dart) -> Option<Finding> {
    let (leg_in, leg_out) = piece
        .outline
        .edge(&dart.leg_in)
        .zip(piece.outline.edge(&dart.leg_out))?;
    let take_up = (leg_in.line.start() - leg_out.line.end()).hypot();
    let (long_in, long_out) = (leg_in.line.length(), leg_out.line.length());
    let place = Place::edge(&piece.name, &dart.name);
    let care = |what: String, advice: &str| {
        Some(finding(
            Gravity::Care,
            place.clone(),
            what,
            advice.to_owned(),
            None,
        ))
    };
    if (long_in - long_out).abs() > LEGS_MEET {
        let what = format!(
            "the dart legs are {long_in:.1} mm and {long_out:.1} mm long and end {:.1} mm apart.",
            (long_in - long_out).abs()
        );
        return care(what, "True the legs to one length before cutting.");
    }
    if take_up < NARROWEST_DART {
        let what = format!(
            "the dart takes up only {take_up:.1} mm, less than the {NARROWEST_DART:.0} mm a machine can follow."
        );
        return care(
            what,
            "Leave it unsewn and ease or gather its width into the seam.",
        );
    }
    if take_up > WIDEST_DART * long_in {
        let what = format!(
            "the dart is {take_up:.1} mm wide and only {long_in:.1} mm long: it will not press flat."
        );
        return care(
            what,
            "Divide it into two darts, or move part of it into a seam.",
        );
    }
    None
}

fn hem_trouble(adapted: &Adapted, piece: &Piece, edge: &Edge) -> Option<Finding> {
    let at = EdgeRef::new(&piece.name, &edge.name);
    let typed = adapted.fitting.allowances.single.get(&at);
    let width = edge
        .finish
        .iter()
        .find_map(|stretch| match stretch.finish {
            Finish::Hem { width, .. } => Some(
                typed
                    .copied()
                    .or(width)
                    .unwrap_or(adapted.fitting.allowances.hem),
            ),
            _ => None,
        })?;
    let Bend { radius, hollow } = tightest_bend(&edge.line)?;
    // A hollow tighter than the whole hem is a finding of the allowances already.
    let told_before = hollow && radius <= width.0;
    if width.0 <= HEM_CAN_BE_EASED * radius || told_before {
        return None;
    }
    // Rounded down to half a millimetre; a hair of rounding in the radius does not count.
    let good = (HEM_CAN_BE_EASED * radius * 2.0 + 0.01).floor() / 2.0;
    let what = format!(
        "a hem of {:.1} mm on a curve of radius {radius:.1} mm is {:.0} % out of length when turned, {:.0} % can be eased.",
        width.0,
        width.0 / radius * 100.0,
        HEM_CAN_BE_EASED * 100.0
    );
    let fitting = adapted.fitting.name.clone();
    let (advice, remedy) = if good >= 1.0 {
        (
            format!("Make the hem {good:.1} mm, or face the edge."),
            Some(Edit::Fitting {
                fitting,
                change: FittingEdit::SetSingleAllowance(at, Some(Mm(good))),
            }),
        )
    } else {
        ("Face the edge, or bind it.".to_owned(), None)
    };
    Some(finding(
        Gravity::Care,
        Place::edge(&piece.name, &edge.name),
        what,
        advice,
        remedy,
    ))
}

/// A bend of an edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bend {
    pub radius: f64,
    /// Does it bend into the piece, like a neckline?
    pub hollow: bool,
}

/// The tightest bend of an edge, pieces shorter than a millimetre left out; `None` for a straight one.
pub(crate) fn tightest_bend(line: &Line) -> Option<Bend> {
    const SAMPLES: u32 = 8;
    const LONG_ENOUGH: f64 = 1.0;
    const STRAIGHT: f64 = 1e-6;
    let bends = line
        .cubics()
        .filter(|c| (c.p3 - c.p0).hypot() > LONG_ENOUGH)
        .flat_map(|c| {
            (0..SAMPLES).map(move |i| {
                let at =
                    |i: u32| c.curvature((f64::from(i) / f64::from(SAMPLES)).clamp(0.02, 0.98));
                // The gentler of two neighbours: a single sharp point is a corner, not a bend.
                let (from, to) = (at(i), at(i + 1));
                if from.abs() < to.abs() { from } else { to }
            })
        });
    let tightest = bends
        .filter(|bend| bend.is_finite())
        .max_by(|x, y| x.abs().total_cmp(&y.abs()))?;
    // Outlines run counter-clockwise, so an edge that turns right is hollow; kurbo counts right as positive.
    (tightest.abs() > STRAIGHT).then(|| Bend {
        radius: 1.0 / tightest.abs(),
        hollow: tightest > 0.0,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use kurbo::Point;

    use super::*;
    use crate::check::samples;
    use crate::cloth::Cloth;
    use crate::edge::FinishStretch;
    use crate::geometry::outline::Outline;
    use crate::piece::{DartPress, Role};

    fn found(piece: Piece, thickness: f64) -> Vec<Finding> {
        let mut garment = samples::garment(vec![piece], Vec::new());
        garment.cloths.insert(
            Role::Shell,
            Cloth {
                name: "quilting cotton".to_owned(),
                thickness: Mm(thickness),
                source: String::new(),
            },
        );
        findings(&samples::finished(samples::adapted(
            garment,
            samples::doll("doll"),
        )))
    }

    /// A waist with a dart of this width and these leg lengths.
    fn darted(width: f64, long_in: f64, long_out: f64) -> Piece {
        let (a, b) = (Point::new(60.0, 60.0), Point::new(60.0 - width, 60.0));
        // Where circles of both lengths around the mouth meet.
        let along = (width * width + long_in * long_in - long_out * long_out) / (2.0 * width);
        let apex = Point::new(
            a.x - along,
            a.y - (long_in * long_in - along * along).sqrt(),
        );
        let p = [(0.0, 0.0), (100.0, 0.0), (100.0, 60.0), (0.0, 60.0)].map(Point::from);
        let side = |name: &str, a, b| Edge::seam(name, Line::straight(a, b));
        let edges = vec![
            side("hem", p[0], p[1]),
            side("right", p[1], p[2]),
            side("waist right", p[2], a),
            side("leg in", a, apex),
            side("leg out", apex, b),
            side("waist left", b, p[3]),
            side("left", p[3], p[0]),
        ];
        let dart = Dart {
            name: "waist dart".to_owned(),
            leg_in: "leg in".to_owned(),
            leg_out: "leg out".to_owned(),
            pressed: DartPress::Before,
        };
        Piece {
            outline: Outline::new(edges).unwrap(),
            darts: vec![dart],
            ..samples::strip("Front", 1.0, 1.0)
        }
    }

    #[test]
    fn a_dart_that_can_be_sewn_says_nothing() {
        assert_eq!(found(darted(8.0, 30.0, 30.0), 0.15), Vec::new());
    }

    #[test]
    fn darts_too_narrow_too_wide_or_with_unequal_legs_are_told() {
        insta::assert_snapshot!(found(darted(2.2, 30.0, 30.0), 0.15)[0], @"Front, waist dart: the dart takes up only 2.2 mm, less than the 3 mm a machine can follow. Leave it unsewn and ease or gather its width into the seam.");
        insta::assert_snapshot!(found(darted(30.0, 25.0, 25.0), 0.15)[0], @"Front, waist dart: the dart is 30.0 mm wide and only 25.0 mm long: it will not press flat. Divide it into two darts, or move part of it into a seam.");
        insta::assert_snapshot!(found(darted(8.0, 30.0, 32.0), 0.15)[0], @"Front, waist dart: the dart legs are 30.0 mm and 32.0 mm long and end 2.0 mm apart. True the legs to one length before cutting.");
    }

    /// A quarter of a ring with a hem along its inner or outer round of this radius.
    fn round_hem(radius: f64) -> Piece {
        let arc = |r: f64, from: f64, sweep: f64| {
            let arc = kurbo::Arc::new((0.0, 0.0), (r, r), from, sweep, 0.0);
            Line::from_cubics(
                &kurbo::Shape::path_segments(&arc, 1e-6)
                    .map(|s| s.to_cubic())
                    .collect::<Vec<_>>(),
            )
            .unwrap()
        };
        let quarter = std::f64::consts::FRAC_PI_2;
        let (outer, inner) = (
            arc(radius, 0.0, quarter),
            arc(radius / 2.0, quarter, -quarter),
        );
        let (up, down) = (
            Line::straight(outer.end(), inner.start()),
            Line::straight(inner.end(), outer.start()),
        );
        let edges = vec![
            Edge::seam("hem", outer),
            Edge::seam("up", up),
            Edge::seam("waist", inner),
            Edge::seam("down", down),
        ];
        let piece = Piece {
            outline: Outline::new(edges).unwrap(),
            ..samples::strip("Skirt", 1.0, 1.0)
        };
        samples::finished_with(
            piece,
            "hem",
            Finish::Hem {
                width: Some(Mm(8.0)),
                turns: 1,
            },
        )
    }

    #[test]
    fn a_hem_too_wide_for_its_curve_is_told_with_one_that_fits() {
        assert_eq!(found(round_hem(200.0), 0.15), Vec::new());
        let tight = found(round_hem(40.0), 0.15);
        insta::assert_snapshot!(tight[0], @"Skirt, hem: a hem of 8.0 mm on a curve of radius 40.0 mm is 20 % out of length when turned, 15 % can be eased. Make the hem 6.0 mm, or face the edge.");
        let Some(Edit::Fitting {
            change: FittingEdit::SetSingleAllowance(at, Some(width)),
            ..
        }) = &tight[0].remedy
        else {
            unreachable!()
        };
        assert_eq!((at.edge.as_str(), *width), ("hem", Mm(6.0)));
    }

    /// The hem along the inner round of a ring, radius 40 mm: hollow.
    #[test]
    fn a_hollow_tighter_than_its_hem_is_left_to_the_allowances() {
        let hollow = |width: f64| {
            let piece = round_hem(80.0);
            let piece = samples::finished_with(
                samples::finished_with(piece, "hem", Finish::Raw),
                "waist",
                Finish::Hem {
                    width: Some(Mm(width)),
                    turns: 1,
                },
            );
            found(piece, 0.15).len()
        };
        assert_eq!((hollow(5.0), hollow(12.0), hollow(41.0)), (0, 1, 0));
    }

    #[test]
    fn a_straight_hem_may_be_as_wide_as_it_likes() {
        let wide = FinishStretch {
            from: 0.0,
            to: 1.0,
            finish: Finish::Hem {
                width: Some(Mm(40.0)),
                turns: 1,
            },
        };
        assert_eq!(
            found(
                samples::finished_with(samples::strip("Skirt", 100.0, 60.0), "hem", wide.finish),
                0.15
            ),
            Vec::new()
        );
    }
}
