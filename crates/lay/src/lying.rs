//! Where the parts of a plan lie: their shapes in the coordinates of the offcut. Neither the search nor the check.

use std::borrow::Cow;

use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{CopyRef, LayPlan, PartRef, Placed};
use petitoile_core::laying::{CopyToLay, LayShape, PartsError, ToLay, parts, words};

/// The copy of this name, if it is to be laid.
pub fn copy_of<'a>(to_lay: &'a ToLay, of: &CopyRef) -> Option<&'a CopyToLay> {
    to_lay.copies.iter().find(|copy| copy.of == *of)
}

/// The shapes a copy is cut in by this plan: the whole one, or its parts. Where its piecing no longer works the copy
/// counts as whole; [`broken_piecing`] says why.
pub fn shapes_of<'a>(copy: &'a CopyToLay, plan: &LayPlan) -> Cow<'a, [LayShape]> {
    let Some(piecing) = plan.piecing(&copy.of) else {
        return Cow::Borrowed(std::slice::from_ref(&copy.whole));
    };
    match copy.pieced.iter().find(|way| way.piecing == *piecing) {
        Some(way) => Cow::Borrowed(&way.parts),
        None => match parts(&copy.whole, piecing) {
            Ok(parts) => Cow::Owned(parts),
            Err(_) => Cow::Borrowed(std::slice::from_ref(&copy.whole)),
        },
    }
}

/// Why the piecing that a plan has for a copy makes no parts of it any more; `None` when it does, or when it has none.
pub fn broken_piecing(copy: &CopyToLay, plan: &LayPlan) -> Option<PartsError> {
    let piecing = plan.piecing(&copy.of)?;
    if copy.pieced.iter().any(|way| way.piecing == *piecing) {
        return None;
    }
    parts(&copy.whole, piecing).err()
}

/// The shape of one part, in the drawing of its piece. `None` when there is no such copy or part.
pub fn shape_of(to_lay: &ToLay, plan: &LayPlan, part: &PartRef) -> Option<LayShape> {
    shapes_of(copy_of(to_lay, &part.of)?, plan)
        .get(part.part)
        .cloned()
}

/// The outline of a placed part on its offcut, as it was cut if it is cut. `None` when there is no such copy or part.
pub fn outline_on_offcut(to_lay: &ToLay, plan: &LayPlan, placed: &Placed) -> Option<Vec<Point>> {
    if let Some(cut) = &placed.as_cut {
        return Some(cut.clone());
    }
    let shape = shape_of(to_lay, plan, &placed.part_ref())?;
    Some(moved(placed, &shape.outline))
}

/// Points of the drawing of a piece, moved to where it lies on the offcut.
pub fn moved(placed: &Placed, points: &[Point]) -> Vec<Point> {
    let offcut_from_piece = placed.offcut_from_piece();
    points
        .iter()
        .map(|point| offcut_from_piece * *point)
        .collect()
}

/// Which copy: "Cuff, left".
pub fn copy_name(of: &CopyRef) -> String {
    words::copy(of)
}
