//! A patch as deep as is missing: what sticks out over the cloth is cut off just inside of its edge, on the straight grain.

use kurbo::{Line, Point, Vec2};

use super::LEAST;
use super::patch::{LARGEST, NEAR_MARKS, distance, least_depth};
use super::strip::grain_direction;
use crate::geometry::closed::{area, sides, split};
use crate::lay_plan::{Piecing, PiecingKind};
use crate::laying::parts::parts;
use crate::laying::{CopyToLay, PiecedWay};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// A copy with everything that lies farther than `level` in the direction `out` cut off and made a patch of: `level` is where
/// the new seam runs, measured from the drawing's origin along `out`, mm.
///
/// The patch keeps the grain of its piece, the seam may slant. Where the patch would be too narrow to sew, the seam is moved
/// inwards. `None` where the copy may not be patched, where that is no corner or edge that one seam can take off, where the patch
/// would be more than 30 % of the copy, or where the seam would run through a dart, tuck or pleat.
pub fn patch_beyond(copy: &CopyToLay, out: Vec2, level: f64) -> Option<PiecedWay> {
    let heed = &copy.new_seams;
    let cost = heed.patch?;
    let outline = &copy.whole.outline;
    let is_place = level.is_finite() && out.hypot() > 0.0;
    let out = is_place.then(|| out / out.hypot())?;
    let far = |p: &Point| p.to_vec2().dot(out);
    let tip = outline.iter().max_by(|a, b| far(a).total_cmp(&far(b)))?;
    let depth = (far(tip) - level).max(least_depth(heed.allowance));
    let seam = chord(outline, out, far(tip) - depth)?;
    let split = split(outline, seam.midpoint(), seam.p1 - seam.p0)?;
    let holds_tip = |part: &[Point]| part.iter().any(|p| (*p - *tip).hypot() <= JOINING.0);
    let patch = if holds_tip(&split.left) {
        &split.left
    } else {
        &split.right
    };
    let length = (seam.p1 - seam.p0).hypot();
    let near = |strokes: &[Line]| {
        let stroke = |line: &Line| distance((seam.p0, seam.p1), (line.p0, line.p1));
        strokes.iter().any(|line| stroke(line) < heed.allowance.0)
    };
    if length < LEAST.0 || area(patch) > LARGEST * area(outline) || near(&heed.keep_off) {
        return None;
    }
    let piecing = Piecing {
        of: copy.of.clone(),
        kind: PiecingKind::Patch,
        lines: vec![(seam.p0, seam.p1)],
        allowance: heed.allowance,
    };
    let grain = grain_direction(copy.whole.grain.0);
    let slants = grain.dot(out).abs().min(grain.cross(out).abs()) > 1e-6;
    let at = heed
        .corners
        .iter()
        .min_by(|a, b| (a.0 - *tip).hypot().total_cmp(&(b.0 - *tip).hypot()))
        .map_or_else(String::new, |corner| format!(" at {}", corner.1));
    Some(PiecedWay {
        parts: parts(&copy.whole, &piecing).ok()?,
        cost: cost + if near(&heed.marks) { NEAR_MARKS } else { 0 },
        why: format!(
            "a {}patch {} deep{at}, as deep as is missing{}",
            if slants { "slanting " } else { "" },
            heed.unit.show(Mm(depth)),
            heed.seen
        ),
        piecing,
    })
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
