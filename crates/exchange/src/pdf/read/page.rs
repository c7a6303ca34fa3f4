//! A page's size and the way it lies.

use hayro_syntax::page::{Page, Rotation};
use petitoile_core::kurbo::{Affine, Rect};

/// One PDF point, mm: 72 to the inch (ISO 32000-1, 8.3.2.3).
const MM: f64 = 25.4 / 72.0;

/// Longest page side that is believed, mm. Our own limit, no source.
const LONGEST: f64 = 1e5;

/// Where a page lies: mm, y up, origin at the lower left corner of what is seen of it.
pub(super) struct Frame {
    /// From the page's own points.
    pub mm_from_page: Affine,
    /// What is seen.
    pub bounds: Rect,
}

impl Frame {
    /// The visible box of a page as it is shown: turned, in its own unit. `None` when its size cannot be.
    pub fn of(page: &Page<'_>) -> Option<Self> {
        // ISO 32000-1, table 30: the size of one unit in 1/72 inch. The reading crate leaves it out.
        let user = page
            .raw()
            .get::<f64>(b"UserUnit".as_ref())
            .filter(|unit| unit.is_finite() && *unit > 0.0)
            .unwrap_or(1.0);
        let unit = MM * user;
        let seen = page.intersected_crop_box();
        let (base_width, base_height) = page.base_dimensions();
        let is_sound = seen.width() >= 1.0 && seen.height() >= 1.0;
        let (width, height) = if is_sound {
            (seen.width(), seen.height())
        } else {
            (f64::from(base_width), f64::from(base_height))
        };
        // Clockwise, as ISO 32000-1, table 30, turns pages.
        let turned = match page.rotation() {
            Rotation::None => Affine::IDENTITY,
            Rotation::Horizontal => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, width]),
            Rotation::Flipped => Affine::new([-1.0, 0.0, 0.0, -1.0, width, height]),
            Rotation::FlippedHorizontal => Affine::new([0.0, 1.0, -1.0, 0.0, height, 0.0]),
        };
        let mm_from_page = Affine::scale(unit) * turned * Affine::translate((-seen.x0, -seen.y0));
        let bounds =
            (Affine::scale(unit) * turned).transform_rect_bbox(Rect::new(0.0, 0.0, width, height));
        let can_be = mm_from_page.is_finite()
            && bounds.is_finite()
            && bounds.width() <= LONGEST
            && bounds.height() <= LONGEST;
        can_be.then_some(Self {
            mm_from_page,
            bounds,
        })
    }
}
