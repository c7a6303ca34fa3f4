//! What the maker should know about a piece's allowances.

use kurbo::{CubicBez, ParamCurve};

use crate::allowance::{AllowancePlan, CutLine, Run, dart_legs, fraction_near};
use crate::edge::{EdgeRef, Finish};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::geometry::crossing::self_crossings;
use crate::geometry::parallel::{curvature, cusps};
use crate::piece::Piece;
use crate::tolerance::{DRAWING, MEASURING};
use crate::units::{LengthUnit, Mm};

/// Everything that is wrong with stitch line, darts, fold, curves and notches.
pub(super) fn about(
    piece: &Piece,
    plan: &AllowancePlan,
    fitting: &str,
    cut: &CutLine,
) -> Vec<Finding> {
    let mut findings = crossed(piece);
    findings.extend(broken_darts(piece));
    findings.extend(bent_fold(piece));
    findings.extend(tight_curves(piece, fitting, cut));
    findings.extend(long_notches(piece, plan, fitting, cut));
    findings
}

/// A stitch line that crosses itself.
fn crossed(piece: &Piece) -> Vec<Finding> {
    let edges = piece.outline.edges();
    let chain: Vec<(usize, CubicBez)> = edges
        .iter()
        .enumerate()
        .flat_map(|(i, e)| e.line.cubics().map(move |c| (i, c)))
        .collect();
    let cubics: Vec<CubicBez> = chain.iter().map(|(_, c)| *c).collect();
    let edge_of = |cubic: usize| chain.get(cubic).and_then(|(i, _)| edges.get(*i));
    let mut findings: Vec<Finding> = Vec::new();
    for c in self_crossings(&cubics) {
        let (Some(a), Some(b)) = (edge_of(c.first.cubic), edge_of(c.second.cubic)) else {
            continue;
        };
        let what = if a.name == b.name {
            "The stitch line of this edge crosses itself: the cloth would lie over itself."
                .to_owned()
        } else {
            format!(
                "The stitch line crosses the edge {}: the cloth would lie over itself.",
                b.name
            )
        };
        let place = Place {
            fraction: Some(fraction_near(&a.line, c.at)),
            ..Place::edge(&piece.name, &a.name)
        };
        if findings
            .iter()
            .any(|f| f.what == what && f.place.part == place.part)
        {
            continue;
        }
        let advice =
            "Draw the edges apart, or let the demands that pull them together give way.".to_owned();
        findings.push(Finding {
            gravity: Gravity::Unusable,
            place,
            what,
            advice,
            remedy: None,
        });
    }
    findings
}

/// Darts whose legs are not two edges in a row.
fn broken_darts(piece: &Piece) -> Vec<Finding> {
    let good = dart_legs(piece);
    piece
        .darts
        .iter()
        .filter(|dart| good.iter().all(|legs| legs.dart.name != dart.name))
        .map(|dart| Finding {
            gravity: Gravity::Unusable,
            place: Place::edge(&piece.name, &dart.name),
            what: format!(
                "The legs of this dart ({} and {}) are not two edges that follow each other.",
                dart.leg_in, dart.leg_out
            ),
            advice: "Name the two edges that meet at its point.".to_owned(),
            remedy: None,
        })
        .collect()
}

/// A fold that is not straight.
fn bent_fold(piece: &Piece) -> Option<Finding> {
    let edge = piece.fold_edge()?;
    let (a, d) = (edge.line.start(), edge.line.end() - edge.line.start());
    let length = d.hypot2().sqrt();
    let off = |c: CubicBez| {
        (0..=8)
            .map(move |i| ((c.eval(f64::from(i) / 8.0) - a).cross(d) / length).abs())
            .fold(0.0, f64::max)
    };
    let bend = edge.line.cubics().map(off).fold(0.0, f64::max);
    (length > 0.0 && bend > DRAWING.0).then(|| Finding {
        gravity: Gravity::Unusable,
        place: Place::edge(&piece.name, &edge.name),
        what: format!("The fold is not straight: it bends by {bend:.1} mm, and cloth folds only along a straight line."),
        advice: "Straighten the edge, or cut two pieces and sew them.".to_owned(),
        remedy: None,
    })
}

/// The tightest hollow place of an edge.
struct Tight<'a> {
    run: &'a Run,
    radius: f64,
    at: kurbo::Point,
}

/// Hollow curves tighter than their allowance; one finding per edge, at its tightest place.
fn tight_curves(piece: &Piece, fitting: &str, cut: &CutLine) -> Vec<Finding> {
    let mut worst: Vec<Tight<'_>> = Vec::new();
    for run in cut.runs.iter().filter(|run| run.width > 0.0) {
        for c in run.stitch.iter().filter(|c| {
            !cusps(c, run.width).is_empty() || 1.0 + curvature(c, 0.5) * run.width < 0.0
        }) {
            let (t, bend) = tightest(c);
            let found = Tight {
                run,
                radius: -1.0 / bend,
                at: c.eval(t),
            };
            match worst.iter_mut().find(|w| w.run.edge == run.edge) {
                Some(w) if w.radius <= found.radius => {}
                Some(w) => *w = found,
                None => worst.push(found),
            }
        }
    }
    worst
        .iter()
        .filter_map(|tight| tight_finding(piece, fitting, tight))
        .collect()
}

/// A seam allowance below this frays away before it is sewn, mm (an eighth of an inch is the least that was read, fact
/// sheet E1; that less is too little is common practice, no source).
const LEAST_SEAM: f64 = 3.0;

fn tight_finding(piece: &Piece, fitting: &str, tight: &Tight<'_>) -> Option<Finding> {
    let edge = piece.outline.edges().get(tight.run.edge)?;
    let turns = match tight.run.finish {
        // both turns of a slit together are one allowance
        Finish::Slit => 1.0,
        _ => tight.run.strips.len().max(1) as f64,
    };
    // rounded down to a tenth, so that the remedy is enough
    let usable = ((tight.radius - MEASURING.0) / turns * 10.0)
        .floor()
        .max(0.0)
        / 10.0;
    let casing = matches!(
        tight.run.finish,
        Finish::Casing { .. } | Finish::Placket { .. }
    );
    let name = EdgeRef::new(&piece.name, &edge.name);
    let clip_only = tight.run.strips.len() <= 1 && usable < LEAST_SEAM;
    let remedy = (!casing && !clip_only).then(|| Edit::Fitting {
        fitting: fitting.to_owned(),
        change: FittingEdit::SetSingleAllowance(name, Some(Mm(usable))),
    });
    let advice = if casing {
        format!(
            "Make the {} narrower ({} and turn-in together at most {:.1} mm), or the curve rounder.",
            if matches!(tight.run.finish, Finish::Casing { .. }) {
                "channel"
            } else {
                "placket"
            },
            tight.run.finish.noun(),
            tight.radius
        )
    } else if turns > 1.0 {
        format!(
            "Use a hem of at most {usable:.1} mm here ({:.0} turns; now {:.1} mm), turn it once, or face the edge.",
            turns,
            tight.run.width / turns
        )
    } else if clip_only {
        "Clip it to the stitch line when it is sewn, every few millimetres.".to_owned()
    } else {
        format!(
            "Use an allowance of at most {usable:.1} mm here, or clip it to the stitch line when it is sewn."
        )
    };
    let what = format!(
        "This hollow curve (radius {:.1} mm) is tighter than its allowance of {}, by {:.1} mm.",
        tight.radius,
        LengthUnit::Millimetre.show_chosen(Mm(tight.run.width)),
        tight.run.width - tight.radius
    );
    let place = Place {
        fraction: Some(fraction_near(&edge.line, tight.at)),
        ..Place::edge(&piece.name, &edge.name)
    };
    Some(Finding {
        gravity: if clip_only {
            Gravity::Note
        } else {
            Gravity::Care
        },
        place,
        what,
        advice,
        remedy,
    })
}

/// Where a cubic bends most to the right: parameter and curvature (negative).
fn tightest(c: &CubicBez) -> (f64, f64) {
    let bend = |t: f64| curvature(c, t);
    let rough = (0..=64)
        .map(|i| f64::from(i) / 64.0)
        .min_by(|a, b| bend(*a).total_cmp(&bend(*b)))
        .unwrap_or(0.5);
    let (mut lo, mut hi) = ((rough - 1.0 / 64.0).max(0.0), (rough + 1.0 / 64.0).min(1.0));
    for _ in 0..40 {
        let (a, b) = (lo + (hi - lo) / 3.0, hi - (hi - lo) / 3.0);
        if bend(a) < bend(b) {
            hi = b;
        } else {
            lo = a;
        }
    }
    let t = 0.5 * (lo + hi);
    (t, bend(t).min(-1e-9))
}

/// Notch strokes that would go through the stitch line; one finding per piece, for its narrowest notched allowance.
fn long_notches(
    piece: &Piece,
    plan: &AllowancePlan,
    fitting: &str,
    cut: &CutLine,
) -> Option<Finding> {
    let width = |edge: &str, fraction: f64| {
        let place = piece.outline.index_of(edge)?;
        let finish = piece.outline.edge(edge)?.finish_at(fraction);
        cut.runs
            .iter()
            .find(|run| run.edge == place && run.finish == finish)
            .map(|run| run.width)
    };
    let narrow = piece
        .notches
        .iter()
        .filter_map(|notch| Some((notch, width(&notch.edge, notch.fraction)?)))
        .filter(|(_, width)| *width > 0.0 && *width <= plan.notch_depth.0)
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (notch, width) = narrow;
    let half = (width * 5.0).floor() / 10.0;
    Some(Finding {
        gravity: Gravity::Care,
        place: Place {
            fraction: Some(notch.fraction),
            ..Place::edge(&piece.name, &notch.edge)
        },
        what: format!(
            "The notches are {:.1} mm long, the allowance here is {width:.1} mm: snipped so deep they would cut the seam.",
            plan.notch_depth.0
        ),
        advice: format!("Use notches of {half:.1} mm, half the allowance."),
        remedy: Some(Edit::Fitting {
            fitting: fitting.to_owned(),
            change: FittingEdit::SetNotchDepth(Mm(half)),
        }),
    })
}
