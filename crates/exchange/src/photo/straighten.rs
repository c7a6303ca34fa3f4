//! How a picture lies against the table: four corners of something of known size, two points a known length apart, or
//! the scale that a scan claims.
//!
//! Afterwards the picture looks as before, but in mm and y up: what was up in it is still up. With a known rectangle the
//! lower left corner of it is the origin.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;
use petitoile_core::units::LengthUnit;

use super::corners;
use super::homography::Homography;
use super::picture::Picture;

/// How far off a hand points, pixels: common practice, no source.
const POINTING: f64 = 2.0;
/// Shortest side of a known rectangle in the picture, pixels: below it a tenth of a pixel is a quarter percent.
const SHORTEST: f64 = 40.0;
/// Smallest sine between two sides that still counts as a corner: 8 degrees.
const FLATTEST: f64 = 0.14;

/// Something of known size that lies on the table.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownRectangle {
    /// What it is, in the maker's words.
    pub name: String,
    /// Its first side.
    pub width: Mm,
    /// Its other side.
    pub height: Mm,
    /// Is it a sheet that hides the table? (A square of a cutting mat is not.)
    pub is_sheet: bool,
}

impl KnownRectangle {
    /// A sheet of A4 (ISO 216: 210 x 297 mm).
    pub fn a4() -> Self {
        Self::named("A4", 210.0, 297.0, true)
    }

    /// A sheet of Letter (ANSI/ASME Y14.1: 8 1/2 x 11 in).
    pub fn letter() -> Self {
        Self::named("Letter", 215.9, 279.4, true)
    }

    /// A square of the lines on a cutting mat.
    pub fn square_of_mat(side: Mm) -> Self {
        Self::named("square of the mat", side.0, side.0, false)
    }

    /// Another sheet whose sides were measured.
    pub fn sheet(name: &str, width: Mm, height: Mm) -> Self {
        Self::named(name, width.0, height.0, true)
    }

    fn named(name: &str, width: f64, height: f64, is_sheet: bool) -> Self {
        Self {
            name: name.to_owned(),
            width: Mm(width),
            height: Mm(height),
            is_sheet,
        }
    }

    fn check(&self) -> Result<(), StraightenError> {
        let is_length = |mm: Mm| mm.0.is_finite() && mm.0 >= 1.0;
        if is_length(self.width) && is_length(self.height) {
            Ok(())
        } else {
            Err(StraightenError::NoSize)
        }
    }
}

/// Which side of the known rectangle runs along the bottom of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Bottom {
    /// The longer one where it looks longer. Right unless it is seen very much aslant.
    #[default]
    AsItLooks,
    /// Its width.
    Width,
    /// Its height.
    Height,
}

/// Why a picture could not be straightened: what is wrong and what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StraightenError {
    /// Two corners are the same, or a side is too short to be exact.
    #[error(
        "a side between two corners is only {0:.0} pixels long; it needs {SHORTEST:.0}: take the picture from nearer or point at the true corners"
    )]
    TooSmall(f64),
    /// The sides cross.
    #[error(
        "the sides between the corners cross; point at the corners one after the other, round the sheet"
    )]
    Crossed,
    /// A corner lies inside the triangle of the others.
    #[error(
        "corner {0} lies inside the triangle of the others; move it to its corner of the sheet"
    )]
    Inside(usize),
    /// Three corners in a line.
    #[error(
        "corner {0} lies in a line with its neighbours; move it, or take the picture from higher above"
    )]
    InLine(usize),
    /// The sizes given are none.
    #[error("the known length must be 1 mm at least")]
    NoSize,
    /// A corner lies outside the picture.
    #[error("point {0} lies outside the picture; the whole sheet must be in it")]
    Outside(usize),
}

/// How a picture lies against the table.
#[derive(Debug, Clone, PartialEq)]
pub struct Straightened {
    /// From pixels (y down) to mm (y up).
    pub mm_from_px: Homography,
    /// The known rectangle in the picture, pixels: lower left, lower right, upper right, upper left.
    pub corners_px: Option<[Point; 4]>,
    /// Is the known rectangle a sheet that hides the table?
    pub is_sheet: bool,
    /// How many pixels a mm has at the worst place of the picture, crosswise to the worst direction.
    pub px_per_mm: f64,
    /// How far off each corner (or point) may be, pixels (standard error).
    pub corner_error_px: f64,
    /// How much the sides of the sheet bow between their corners, pixels: a lens that bends lines.
    pub bow_px: f64,
    /// Which sides of the sheet (bottom, right, top, left) were found in the picture.
    pub sides_seen: [bool; 4],
    /// The scale that the file claims, where that was used.
    pub claimed: Option<String>,
    /// The same map with each corner moved by its error, right and down.
    doubts: Vec<Homography>,
}

/// Straightens by four corners of something of known size. The corners are pointed at in any order round it; they are
/// then moved to where its sides meet, where those can be seen.
///
/// # Errors
/// [`StraightenError`] when the corners make no rectangle seen aslant, or the sizes are none.
pub fn by_rectangle(
    picture: &Picture,
    clicks: [Point; 4],
    known: &KnownRectangle,
    bottom: Bottom,
) -> Result<Straightened, StraightenError> {
    if let Some(outside) = clicks.iter().position(|p| !picture.contains(*p)) {
        return Err(StraightenError::Outside(outside + 1));
    }
    known.check()?;
    let clicked = in_order(clicks)?;
    let refined = corners::refine(picture, clicked);
    // Corners that were led astray are worse than those that were pointed at.
    let sound = in_order(refined.corners).is_ok();
    let corners = if sound { refined.corners } else { clicked };
    let map = map_of(corners, known, bottom)?;
    let error = if sound { refined.error_px } else { POINTING };
    let seen = refined.seen.map(|seen| seen && sound);
    let moved = |i: usize, by: (f64, f64)| {
        let mut moved = corners;
        if let Some(corner) = moved.get_mut(i) {
            *corner += by;
        }
        map_of(moved, known, bottom).ok()
    };
    let doubts = (0..4)
        .flat_map(|i| [(i, (error, 0.0)), (i, (0.0, error))])
        .filter_map(|(i, by)| moved(i, by))
        .collect();
    let px_per_mm = worst_scale(picture, &map, &corners);
    Ok(Straightened {
        mm_from_px: map,
        corners_px: Some(corners),
        is_sheet: known.is_sheet,
        px_per_mm,
        corner_error_px: error,
        bow_px: refined.bow_px,
        sides_seen: seen,
        claimed: None,
        doubts,
    })
}

/// Scales a scan, or a photo taken from straight above, by two points a known length apart.
///
/// # Errors
/// [`StraightenError`] when the points are too near each other or the length is none.
pub fn by_two_points(
    picture: &Picture,
    from: Point,
    to: Point,
    length: Mm,
) -> Result<Straightened, StraightenError> {
    if let Some(outside) = [from, to].iter().position(|p| !picture.contains(*p)) {
        return Err(StraightenError::Outside(outside + 1));
    }
    if !(length.0.is_finite() && length.0 >= 1.0) {
        return Err(StraightenError::NoSize);
    }
    let pixels = (to - from).hypot();
    if pixels < SHORTEST {
        return Err(StraightenError::TooSmall(pixels));
    }
    // Two ends, each off by a standard error of one pixel along the line.
    let error = 1.0;
    let scale = length.0 / pixels;
    let longer = length.0 / (pixels - error * std::f64::consts::SQRT_2);
    Ok(Straightened {
        doubts: vec![upright(picture, longer, longer)],
        corner_error_px: error,
        ..plain(picture, scale, scale)
    })
}

/// The scale that a scan claims, as a proposal: `None` when the file claims none.
pub fn by_density(picture: &Picture) -> Option<Straightened> {
    let density = picture.density?;
    let (across, down) = (25.4 / density.across, 25.4 / density.down);
    Some(Straightened {
        // A scanner's drive is off by two thousandths: common practice, no source.
        doubts: vec![upright(picture, across * 1.002, down * 1.002)],
        claimed: Some(density.words()),
        ..plain(picture, across, down)
    })
}

fn plain(picture: &Picture, across: f64, down: f64) -> Straightened {
    Straightened {
        mm_from_px: upright(picture, across, down),
        corners_px: None,
        is_sheet: false,
        px_per_mm: 1.0 / across.max(down),
        corner_error_px: 0.0,
        bow_px: 0.0,
        sides_seen: [false; 4],
        claimed: None,
        doubts: Vec::new(),
    }
}

/// Lower left corner of the picture at the origin.
fn upright(picture: &Picture, across: f64, down: f64) -> Homography {
    let height = picture.height as f64 * down;
    Homography::affine([across, 0.0, 0.0], [0.0, -down, height])
}

/// The corners as they follow each other from the lower left one to the lower right one and on.
pub(super) fn in_order(clicks: [Point; 4]) -> Result<[Point; 4], StraightenError> {
    let [a, b, c, d] = clicks;
    let sides = [b - a, c - b, d - c, a - d];
    let shortest = sides.iter().map(|s| s.hypot()).fold(f64::MAX, f64::min);
    if shortest < SHORTEST {
        return Err(StraightenError::TooSmall(shortest));
    }
    // Sine of the turn at each corner, to the left as the picture is looked at (its y points down).
    let [ab, bc, cd, da] = sides;
    let turns = [(da, ab), (ab, bc), (bc, cd), (cd, da)]
        .map(|(from, to)| -from.cross(to) / (from.hypot() * to.hypot()));
    let left = turns.iter().filter(|turn| **turn > 0.0).count();
    if left == 2 {
        return Err(StraightenError::Crossed);
    }
    if let Some(flat) = turns.iter().position(|turn| turn.abs() < FLATTEST) {
        return Err(StraightenError::InLine(flat + 1));
    }
    if left == 1 || left == 3 {
        let odd = turns.iter().position(|turn| (*turn > 0.0) == (left == 1));
        return Err(StraightenError::Inside(odd.unwrap_or_default() + 1));
    }
    let mut round = if left == 4 {
        [a, b, c, d]
    } else {
        [d, c, b, a]
    };
    let lower_left = |p: &Point| p.x - p.y;
    let first = round
        .iter()
        .enumerate()
        .min_by(|(_, p), (_, q)| lower_left(p).total_cmp(&lower_left(q)))
        .map_or(0, |(i, _)| i);
    round.rotate_left(first);
    Ok(round)
}

fn map_of(
    corners: [Point; 4],
    known: &KnownRectangle,
    bottom: Bottom,
) -> Result<Homography, StraightenError> {
    let (across, up) = sides_on_table(&corners, known, bottom);
    let table = [(0.0, 0.0), (across, 0.0), (across, up), (0.0, up)].map(Point::from);
    Homography::between(corners, table).ok_or(StraightenError::InLine(1))
}

/// Length of the bottom and of the side of the known rectangle, as it lies in the picture.
pub(super) fn sides_on_table(
    [a, b, c, d]: &[Point; 4],
    known: &KnownRectangle,
    bottom: Bottom,
) -> (f64, f64) {
    let (width, height) = (known.width.0, known.height.0);
    let across = (*b - *a).hypot() + (*d - *c).hypot();
    let up = (*c - *b).hypot() + (*a - *d).hypot();
    let as_given = match bottom {
        Bottom::AsItLooks => (across < up) == (width < height),
        Bottom::Width => true,
        Bottom::Height => false,
    };
    if as_given {
        (width, height)
    } else {
        (height, width)
    }
}

/// Pixels a mm where they are fewest, looked for on a grid over the picture; what lies near the horizon is left out.
fn worst_scale(picture: &Picture, map: &Homography, corners: &[Point; 4]) -> f64 {
    let (w, h) = (picture.width as f64, picture.height as f64);
    let grid = (0..=8).flat_map(|i| (0..=8).map(move |j| (f64::from(i) / 8.0, f64::from(j) / 8.0)));
    let of = |p: Point| map.scale_near(p).map(|(_, most)| 1.0 / most);
    let at_sheet = corners
        .iter()
        .filter_map(|p| of(*p))
        .fold(f64::MAX, f64::min);
    grid.filter_map(|(x, y)| of(Point::new(x * w, y * h)))
        .filter(|scale| *scale > at_sheet / 8.0)
        .fold(at_sheet, f64::min)
}

impl Straightened {
    /// How far off a place may be because the corners are, mm (standard error).
    pub fn error_at(&self, px: Point) -> f64 {
        let Some(at) = self.mm_from_px.apply(px) else {
            return 0.0;
        };
        let moved = self.doubts.iter().filter_map(|map| map.apply(px));
        moved.map(|p| (p - at).hypot2()).sum::<f64>().sqrt()
    }

    /// What the maker should know, lengths in the maker's unit.
    pub fn words(&self, unit: LengthUnit) -> Vec<String> {
        let mut words = Vec::new();
        if let Some(claimed) = &self.claimed {
            words.push(format!(
                "{claimed}; check it against something you can measure"
            ));
        }
        if self.corners_px.is_some() {
            let names = ["lower", "right", "upper", "left"];
            let unseen = names.iter().zip(self.sides_seen).filter(|(_, seen)| !seen);
            for (name, _) in unseen {
                words.push(format!(
                    "the {name} side of the sheet could not be made out; its corners stay where you pointed"
                ));
            }
            let bow = self.bow_px / self.px_per_mm;
            if self.bow_px > 1.0 {
                words.push(format!(
                    "straight sides bow by {} in this picture: take it from farther away and draw it nearer with the lens",
                    unit.show(Mm(bow))
                ));
            }
        }
        if self.px_per_mm < 4.0 {
            words.push(format!(
                "where it is seen smallest a mm has only {:.1} pixels; 4 are needed for an outline within 0.1 mm",
                self.px_per_mm
            ));
        }
        words
    }
}
