//! Patches as deep as is missing: what sticks out over the cloth is cut off just inside of its edge, on the straight grain.

use kurbo::{Line, Point, Vec2};

use super::LEAST;
use super::patch::{LARGEST, NEAR_MARKS, distance, least_depth};
use super::strip::grain_direction;
use crate::geometry::closed::{area, sides, split};
use crate::lay_plan::{Piecing, PiecingKind};
use crate::laying::parts::parts;
use crate::laying::{CopyToLay, NewSeams, PiecedWay};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Everything of a copy that lies farther than `level` in the direction `out` is to come off: `level` is where the new seam runs,
/// measured from the drawing's origin along `out`, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Beyond {
    /// Square to the seam, towards what comes off; how long it is does not matter.
    pub out: Vec2,
    /// Where the seam runs.
    pub level: f64,
}

/// A seam, and what comes off along it.
struct CutOff {
    seam: Line,
    /// The farthest point of what comes off, and how far it is from the seam, mm.
    tip: Point,
    depth: f64,
    /// Area of what comes off, mm2.
    area: f64,
    /// Does the seam run off the straight grain?
    slants: bool,
}

/// A copy with what lies beyond a seam, or beyond each of several, cut off and made a patch of.
///
/// Patches keep the grain of their piece, seams may slant. Where a patch would be too narrow to sew, its seam is moved inwards. `None`
/// where the copy may not be patched, where that is no corner or edge that one straight seam each can take off, where the patches
/// together would be more than 30 % of the copy, where two seams would come nearer to each other than can be sewn, or where one would run
/// through a dart, tuck or pleat.
pub fn patch_beyond(copy: &CopyToLay, beyond: &[Beyond]) -> Option<PiecedWay> {
    let heed = &copy.new_seams;
    let cost = heed.patch?;
    let cuts: Option<Vec<CutOff>> = beyond.iter().map(|one| cut_off(copy, one)).collect();
    let cuts = cuts.filter(|cuts| !cuts.is_empty())?;
    let patches: f64 = cuts.iter().map(|cut| cut.area).sum();
    if patches > LARGEST * area(&copy.whole.outline) || too_near(&cuts) {
        return None;
    }
    let piecing = Piecing {
        of: copy.of.clone(),
        kind: PiecingKind::Patch,
        lines: cuts.iter().map(|cut| (cut.seam.p0, cut.seam.p1)).collect(),
        allowance: heed.allowance,
    };
    let cost_of = |cut: &CutOff| {
        let at_mark = comes_near(heed, cut.seam, &heed.marks);
        cost + if at_mark { NEAR_MARKS } else { 0 }
    };
    Some(PiecedWay {
        parts: parts(&copy.whole, &piecing).ok()?,
        cost: cuts.iter().map(cost_of).sum(),
        why: words(heed, &cuts),
        piecing,
    })
}

/// One seam; `None` where it would not do.
fn cut_off(copy: &CopyToLay, beyond: &Beyond) -> Option<CutOff> {
    let heed = &copy.new_seams;
    let outline = &copy.whole.outline;
    let is_place = beyond.level.is_finite() && beyond.out.hypot() > 0.0;
    let out = is_place.then(|| beyond.out / beyond.out.hypot())?;
    let far = |p: &Point| p.to_vec2().dot(out);
    let tip = outline.iter().max_by(|a, b| far(a).total_cmp(&far(b)))?;
    let depth = (far(tip) - beyond.level).max(least_depth(heed.allowance));
    let seam = chord(outline, out, far(tip) - depth)?;
    let split = split(outline, seam.midpoint(), seam.p1 - seam.p0)?;
    let holds_tip = |part: &[Point]| part.iter().any(|p| (*p - *tip).hypot() <= JOINING.0);
    let patch = if holds_tip(&split.left) {
        &split.left
    } else {
        &split.right
    };
    let length = (seam.p1 - seam.p0).hypot();
    if length < LEAST.0 || comes_near(heed, seam, &heed.keep_off) {
        return None;
    }
    let grain = grain_direction(copy.whole.grain.0);
    Some(CutOff {
        seam,
        tip: *tip,
        depth,
        area: area(patch),
        slants: grain.dot(out).abs().min(grain.cross(out).abs()) > 1e-6,
    })
}

/// Does a seam come nearer to one of these than its allowance?
fn comes_near(heed: &NewSeams, seam: Line, strokes: &[Line]) -> bool {
    let off = |line: &Line| distance((seam.p0, seam.p1), (line.p0, line.p1));
    strokes.iter().any(|line| off(line) < heed.allowance.0)
}

/// Is there, between two of the seams, less left of the piece than can be sewn?
fn too_near(cuts: &[CutOff]) -> bool {
    let ends = |cut: &CutOff| (cut.seam.p0, cut.seam.p1);
    cuts.iter().enumerate().any(|(i, one)| {
        let mut others = cuts.iter().skip(i + 1);
        others.any(|other| distance(ends(one), ends(other)) < LEAST.0)
    })
}

/// "a slanting patch 20 mm deep at side and hem, as deep as is missing"; "2 patches, 20 mm deep at side
/// and hem, 24 mm deep at waist and side, as deep as is missing".
fn words(heed: &NewSeams, cuts: &[CutOff]) -> String {
    let one = |cut: &CutOff| {
        let far = |corner: &&(Point, String)| (corner.0 - cut.tip).hypot();
        let nearest = heed.corners.iter();
        let nearest = nearest.min_by(|a, b| far(a).total_cmp(&far(b)));
        let at = nearest.map_or_else(String::new, |corner| format!(" at {}", corner.1));
        format!("{} deep{at}", heed.unit.show(Mm(cut.depth)))
    };
    let all = match cuts {
        [cut] if cut.slants => format!("a slanting patch {}", one(cut)),
        [cut] => format!("a patch {}", one(cut)),
        _ => {
            let each: Vec<String> = cuts.iter().map(one).collect();
            let slanting = if cuts.iter().all(|cut| cut.slants) {
                "slanting "
            } else {
                ""
            };
            format!("{} {slanting}patches, {}", cuts.len(), each.join(", "))
        }
    };
    format!("{all}, as deep as is missing{}", heed.seen)
}

/// The only stretch of a straight line square to `out` that lies inside; `None` when there are several.
fn chord(outline: &[Point], out: Vec2, level: f64) -> Option<Line> {
    let above = |p: Point| p.to_vec2().dot(out) - level;
    let mut ends = sides(outline).filter_map(|(a, b)| {
        let (da, db) = (above(a), above(b));
        ((da <= 0.0) != (db <= 0.0)).then(|| a.lerp(b, da / (da - db)))
    });
    let (from, to) = (ends.next()?, ends.next()?);
    ends.next().is_none().then(|| Line::new(from, to))
}
