//! The shape of the cut line at a corner, chosen from the two finishes that meet there.

use kurbo::{CubicBez, Point, Vec2};

use super::AllowancePlan;
use super::cut::{DartMouth, Run};
use super::is_turned;
use crate::edge::Finish;
use crate::geometry::corner::{End, Joined, Reach, Shape, Side, cut_at_line, join, point};
use crate::geometry::parallel::{SMOOTH, mirrored, right_of, straight, turned_round};
use crate::piece::DartPress;

/// What the cut line does at a corner.
///
/// "Plain" is a seam, facing, raw edge or selvedge; "turned" a hem or casing. A corner is outer where the piece is
/// narrower than straight there, inner where it is wider.
///
/// | first edge, second edge | outer corner | inner corner | nearly straight on |
/// |---|---|---|---|
/// | plain, plain | [`Mitred`](Self::Mitred); beyond the limit [`SquaredOff`](Self::SquaredOff) | [`Trimmed`](Self::Trimmed) | [`Smooth`](Self::Smooth), or [`Stepped`](Self::Stepped) between two widths |
/// | turned, plain | [`Mirrored`](Self::Mirrored); beyond the limit as plain, plain | [`Trimmed`](Self::Trimmed) | [`Stepped`](Self::Stepped) |
/// | turned, turned | [`HemMitre`](Self::HemMitre) for corners of 40 to 150 degrees, else as plain, plain | [`Trimmed`](Self::Trimmed) | [`Smooth`](Self::Smooth) or [`Stepped`](Self::Stepped) |
/// | fold, any but fold | [`AtFold`](Self::AtFold) | [`AtFold`](Self::AtFold) | [`AtFold`](Self::AtFold) |
/// | either side of a dart's mouth | [`DartCap`](Self::DartCap) | [`DartCap`](Self::DartCap) | [`DartCap`](Self::DartCap) |
///
/// # Source
/// Common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CornerKind {
    /// Both cut lines run on smoothly.
    Smooth,
    /// Both cut lines are carried on until they meet.
    Mitred,
    /// The mitre would run out further than the limit: cut straight across there.
    SquaredOff,
    /// The wider allowance stops square, and the cut line steps to the narrower one.
    Stepped,
    /// The cut lines cross and are cut where they do.
    Trimmed,
    /// The end of the turned-up cloth is the mirror image of the neighbour's cut line, once more for each turn, so that
    /// it lies on the neighbour when turned.
    Mirrored,
    /// Two turned edges meet: each is cut along the line in which they meet when turned, plus a seam allowance for that
    /// line (half the narrower turn at most).
    HemMitre,
    /// The neighbour's cut line is cut by the fold line, so that the opened-out piece has one unbroken cut line.
    AtFold,
    /// The mouth of a dart is closed so that the sewn and pressed dart ends in the cut line.
    DartCap,
}

impl From<Shape> for CornerKind {
    fn from(shape: Shape) -> Self {
        match shape {
            Shape::Smooth => Self::Smooth,
            Shape::Mitred => Self::Mitred,
            Shape::SquaredOff => Self::SquaredOff,
            Shape::Stepped => Self::Stepped,
            Shape::Trimmed | Shape::Through => Self::Trimmed,
        }
    }
}

/// How the cut line goes round the corner between two runs.
pub(super) fn corner_between(
    before: &Run,
    after: &Run,
    mouth: Option<&DartMouth>,
    plan: &AllowancePlan,
) -> Joined<CornerKind> {
    let (comes, leaves) = (before.side(End::Comes), after.side(End::Leaves));
    if let Some(mouth) = mouth {
        return dart_cap(&comes, &leaves, mouth);
    }
    let times = if plan.corner_limit.is_finite() {
        plan.corner_limit.max(1.0)
    } else {
        3.0
    };
    let limit = times * before.width.max(after.width);
    let outer = comes.along.cross(leaves.along) > SMOOTH;
    let special = match (
        before.finish == Finish::Fold,
        after.finish == Finish::Fold,
        is_turned(before.finish),
        is_turned(after.finish),
    ) {
        (true, false, _, _) => Some(at_fold(&leaves, &comes, limit)),
        (false, true, _, _) => Some(at_fold(&comes, &leaves, limit)),
        _ if before.edge == after.edge || !outer => None,
        (_, _, true, false) => mirrored_hem(&comes, &before.strips, &leaves, times),
        (_, _, false, true) => mirrored_hem(&leaves, &after.strips, &comes, times),
        (_, _, true, true) => {
            hem_mitre(&comes, &before.strips, &leaves, &after.strips, plan.seam.0)
        }
        _ => None,
    };
    special.unwrap_or_else(|| {
        let Joined {
            shape,
            before,
            way,
            after,
        } = join(&comes, &leaves, limit);
        Joined {
            shape: shape.into(),
            before,
            way,
            after,
        }
    })
}

/// Puts a join together from a line that is followed away from the other one.
fn joined(
    kind: CornerKind,
    from: (&Side<'_>, &Reach),
    way: Vec<CubicBez>,
    to: &Reach,
) -> Joined<CornerKind> {
    match from.0.end {
        End::Comes => Joined {
            shape: kind,
            before: from.1.spot,
            way,
            after: to.spot,
        },
        End::Leaves => Joined {
            shape: kind,
            before: to.spot,
            way: turned_round(&way),
            after: from.1.spot,
        },
    }
}

/// The neighbour of a fold is cut, or carried on, exactly to the fold line; too sharp a point is squared off across the fold.
fn at_fold(side: &Side<'_>, fold: &Side<'_>, limit: f64) -> Joined<CornerKind> {
    let (corner, along) = (fold.corner, fold.ahead());
    let meets = side
        .reach(corner, right_of(along), limit)
        .filter(|reach| (reach.at - corner).dot(along) <= limit.max(1e-6) + 1e-9);
    let (reach, way) = if let Some(reach) = meets {
        // on the line exactly, whatever the root left over
        let on_fold = corner + along * (reach.at - corner).dot(along);
        (reach, vec![point(on_fold)])
    } else {
        let stop = corner + along * limit;
        let reach = side.reach(stop, along, 100.0 * limit).unwrap_or(Reach {
            spot: None,
            at: side.tip(),
        });
        (reach, vec![straight(reach.at, stop)])
    };
    let end = way.last().map_or(corner, |c| c.p3);
    let back = (end - corner).dot(along) < 0.0;
    let fold_reach = if back {
        fold.reach(end, along, 0.0)
    } else {
        None
    };
    joined(
        CornerKind::AtFold,
        (side, &reach),
        way,
        &fold_reach.unwrap_or(Reach {
            spot: None,
            at: end,
        }),
    )
}

/// The turned cloth of a hem ends in the mirror image of its neighbour's cut line; every further turn mirrors it back.
///
/// A curved hem is mirrored in its tangent at the corner. `None` when the image would run out too far, or the neighbour
/// does not come to the hem line.
fn mirrored_hem(
    hem: &Side<'_>,
    strips: &[f64],
    plain: &Side<'_>,
    times: f64,
) -> Option<Joined<CornerKind>> {
    let (corner, along) = (hem.corner, hem.along);
    let out = right_of(along);
    let first = *strips.first()?;
    if first <= 0.0 {
        return None;
    }
    let reach = plain.reach(corner, out, times * plain.width + 1e-6)?;
    if (reach.at - corner).hypot2().sqrt() > times * plain.width + 1e-6 {
        return None;
    }
    let mut depth = 0.0;
    let mut last = mirrored(
        &cut_at_line(
            &plain.away_from(&reach),
            corner - out * first,
            out,
            2.0 * times * first,
        )?,
        corner,
        along,
    );
    let runs_out = ((last.last()?.p3 - reach.at).dot(along)).abs();
    if runs_out > times * first {
        return None;
    }
    let mut way = last.clone();
    for pair in strips.windows(2) {
        let [this, next] = pair else { continue };
        depth += *this;
        let back = cut_at_line(
            &turned_round(&last),
            corner + out * (depth - *next),
            out,
            1e-6,
        )?;
        last = mirrored(&back, corner + out * depth, along);
        way.extend_from_slice(&last);
    }
    let end = way.last()?.p3;
    let total: f64 = strips.iter().sum();
    let hem_reach = hem.reach(end, along, times * total + times * plain.width)?;
    way.push(point(hem_reach.at));
    Some(joined(
        CornerKind::Mirrored,
        (plain, &reach),
        way,
        &hem_reach,
    ))
}

/// Two turned edges, each cut along the image of the line in which they meet when turned, plus a seam allowance.
///
/// That line runs from the corner to where the inner edges of the two turns cross.
fn hem_mitre(
    comes: &Side<'_>,
    first: &[f64],
    leaves: &Side<'_>,
    second: &[f64],
    seam: f64,
) -> Option<Joined<CornerKind>> {
    // turn of 30 to 140 degrees
    const STRAIGHTEST: f64 = 0.866;
    const SHARPEST: f64 = -0.766;
    let bend = comes.along.dot(leaves.along);
    let (wa, wb) = (*first.first()?, *second.first()?);
    if !(SHARPEST..=STRAIGHTEST).contains(&bend) || wa <= 0.0 || wb <= 0.0 {
        return None;
    }
    let (n1, n2) = (right_of(comes.along), right_of(leaves.along));
    let inner = crossing_of(n1, -wa, n2, -wb)?;
    let spare = seam.max(0.0).min(wa / 2.0).min(wb / 2.0);
    let a = MitreSide::new(comes, n1, wa, inner, spare);
    let b = MitreSide::new(leaves, n2, wb, inner, spare);
    // both mitre lines, carried outwards past the corner, meet at the tip
    let (la, lb) = (right_of(a.line), right_of(b.line));
    // (at a square corner they are one line, and there is none)
    let tip = crossing_of(la, a.at(0.0).dot(la), lb, b.at(0.0).dot(lb));
    if tip.is_some_and(|tip| {
        tip.dot(n1) >= wa || tip.dot(n2) >= wb || tip.hypot2().sqrt() > 3.0 * (wa.max(wb) + spare)
    }) {
        return None;
    }
    let corner = comes.corner;
    let (pa, pb) = (a.points(first), b.points(second));
    let reach = |side: &Side<'_>, points: &[Vec2]| {
        side.reach(corner + *points.last()?, side.along, 3.0 * side.width)
    };
    let (ra, rb) = (reach(comes, &pa)?, reach(leaves, &pb)?);
    let mut corners: Vec<Point> = vec![ra.at];
    corners.extend(pa.iter().rev().map(|v| corner + *v));
    corners.extend(tip.map(|tip| corner + tip));
    corners.extend(pb.iter().map(|v| corner + *v));
    corners.push(rb.at);
    Some(Joined {
        shape: CornerKind::HemMitre,
        before: ra.spot,
        way: corners.into_iter().map(point).collect(),
        after: rb.spot,
    })
}

/// One turned edge at a mitred corner; all places relative to the corner.
struct MitreSide {
    /// Away from the corner, along the edge.
    away: Vec2,
    /// Outwards.
    out: Vec2,
    /// How far the mitre runs in along the edge per mm of depth.
    run: f64,
    /// How far the cut is moved outwards, along the edge, for the mitre's own seam.
    shift: f64,
    /// Direction of the mitre line.
    line: Vec2,
}

impl MitreSide {
    fn new(side: &Side<'_>, out: Vec2, width: f64, inner: Vec2, spare: f64) -> Self {
        let away = -side.ahead();
        let run = inner.dot(away) / width;
        Self {
            away,
            out,
            run,
            shift: spare * (1.0 + run * run).sqrt(),
            line: away * run + out,
        }
    }

    /// On the first strip, at a depth from the stitch line.
    fn at(&self, depth: f64) -> Vec2 {
        self.away * (depth * self.run - self.shift) + self.out * depth
    }

    /// At the outer edge of every strip: in, then back out, and so on.
    fn points(&self, strips: &[f64]) -> Vec<Vec2> {
        let (mut depth, mut in_by, mut sign) = (0.0, 0.0, 1.0);
        strips
            .iter()
            .map(|strip| {
                depth += strip;
                in_by += sign * strip;
                sign = -sign;
                self.away * (in_by * self.run - self.shift) + self.out * depth
            })
            .collect()
    }
}

/// The vector v with v . n1 = c1 and v . n2 = c2.
fn crossing_of(n1: Vec2, c1: f64, n2: Vec2, c2: f64) -> Option<Vec2> {
    let det = n1.cross(n2);
    (det.abs() > 1e-9).then(|| Vec2::new(c1 * n2.y - c2 * n1.y, n1.x * c2 - n2.x * c1) / det)
}

/// Closes a dart's mouth: the cut line of the edge on the pressed side, mirrored in the leg up to the dart's middle, and
/// that mirrored in the middle.
///
/// A curved leg is mirrored in its tangent at the mouth. Where the neighbour's cut line does not come to the leg or the
/// middle, the mouth is closed straight.
fn dart_cap(comes: &Side<'_>, leaves: &Side<'_>, mouth: &DartMouth) -> Joined<CornerKind> {
    let capped = match mouth.pressed {
        DartPress::Before => {
            half_cap(comes, mouth.before, mouth.before_leg, mouth).and_then(|(reach, half)| {
                let way = both_halves(half, mouth);
                let to = leaves.reach(mouth.after, right_of(mouth.after_leg), mouth.most)?;
                let end = point(to.at);
                Some(joined(
                    CornerKind::DartCap,
                    (comes, &reach),
                    [way, vec![end]].concat(),
                    &to,
                ))
            })
        }
        DartPress::After => {
            half_cap(leaves, mouth.after, mouth.after_leg, mouth).and_then(|(reach, half)| {
                let way = both_halves(half, mouth);
                let to = comes.reach(mouth.before, right_of(mouth.before_leg), mouth.most)?;
                let end = point(to.at);
                Some(joined(
                    CornerKind::DartCap,
                    (leaves, &reach),
                    [way, vec![end]].concat(),
                    &to,
                ))
            })
        }
    };
    capped.unwrap_or(Joined {
        shape: CornerKind::DartCap,
        before: None,
        way: Vec::new(),
        after: None,
    })
}

fn both_halves(half: Vec<CubicBez>, mouth: &DartMouth) -> Vec<CubicBez> {
    let other = turned_round(&mirrored(&half, mouth.apex, mouth.middle));
    [half, other].concat()
}

/// From where the neighbour's cut line meets the leg to the middle of the dart.
fn half_cap(
    side: &Side<'_>,
    at: Point,
    leg: Vec2,
    mouth: &DartMouth,
) -> Option<(Reach, Vec<CubicBez>)> {
    let reach = side.reach(at, right_of(leg), mouth.most)?;
    let image = mirrored(&side.away_from(&reach), at, leg);
    let half = cut_at_line(&image, mouth.apex, right_of(mouth.middle), mouth.most)?;
    // the middle must be met in front of the mouth, not behind the apex
    let peak = half.last()?.p3;
    ((peak - mouth.apex).dot(mouth.middle) > 0.0).then_some((reach, half))
}
