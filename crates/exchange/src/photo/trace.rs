//! From a picture to outlines in mm: the table is found small, the edges at full size, the curves on the table.

use petitoile_core::Mm;
use petitoile_core::kurbo::Point;

use super::contour::{Blob, Lines, SMALLEST_BLOB, area, blobs_of, is_inside};
use super::fit::fit;
use super::ground::{Small, ground_of};
use super::level::Light;
use super::picture::Picture;
use super::ring::FitPoint;
use super::snap::{EdgePoint, snap};
use super::straighten::Straightened;
use super::traced::{Loop, Traced};
use crate::bring_in::{BringInError, Pace, Watch};

/// Most pieces that are traced in one picture.
const MOST_PIECES: usize = 60;

/// What is to be traced.
#[derive(Debug, Clone, PartialEq)]
pub struct Wanted {
    /// A point in the piece, pixels; `None` traces all that lies there.
    pub at: Option<Point>,
    /// What the pieces lie on.
    pub ground: Ground,
    /// What is smaller than this across is left out (crumbs, pins). Default: 10 mm.
    pub smallest: Mm,
}

/// What pieces lie on.
#[derive(Debug, Clone, PartialEq)]
pub enum Ground {
    /// The table round the rim of the picture; these other things on it (pixels) are no pieces.
    Table {
        /// Corners of what is left out, such as the known sheet.
        left_out: Vec<[Point; 4]>,
    },
    /// Within these four corners, such as on the known sheet.
    Within([Point; 4]),
}

impl Wanted {
    /// The piece at a point. On the known sheet, the sheet is what it lies on; beside it, the sheet is left out.
    pub fn at(point: Point, straight: &Straightened) -> Self {
        let sheet = straight.corners_px.filter(|_| straight.is_sheet);
        let ground = match sheet {
            Some(corners) if is_inside(&corners, point) => Ground::Within(corners),
            sheet => Ground::Table {
                left_out: sheet.into_iter().collect(),
            },
        };
        Self {
            at: Some(point),
            ground,
            smallest: Mm(10.0),
        }
    }

    /// All that lies on the table beside the known sheet.
    pub fn all(straight: &Straightened) -> Self {
        let sheet = straight.corners_px.filter(|_| straight.is_sheet);
        Self {
            at: None,
            ground: Ground::Table {
                left_out: sheet.into_iter().collect(),
            },
            smallest: Mm(10.0),
        }
    }
}

/// Why nothing was traced: what is wrong and what to do.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TraceError {
    /// The maker stopped it.
    #[error(transparent)]
    Stopped(#[from] BringInError),
    /// Nothing stands out at the point.
    #[error(
        "{file}: at this point nothing stands out from the table; point at the piece itself. If you did, it has too little contrast: lay it on a ground of another colour"
    )]
    OnTheTable {
        /// Name of the file.
        file: String,
    },
    /// Nothing stands out at all.
    #[error(
        "{file}: nothing stands out from the table; lay the pieces on a ground of another colour, with some table to be seen all round"
    )]
    Nothing {
        /// Name of the file.
        file: String,
    },
    /// The picture is too small to find anything.
    #[error("{file}: the picture is too small to trace anything in it")]
    TooSmall {
        /// Name of the file.
        file: String,
    },
    /// Part of the piece lies beyond the horizon of the straightened table.
    #[error(
        "{file}: seen so much aslant the piece has no size; take the picture from higher above"
    )]
    BeyondHorizon {
        /// Name of the file.
        file: String,
    },
    /// The edge is too short or too torn to make curves of it.
    #[error("{file}: no clear edge was found round this piece; light it evenly and trace it again")]
    NoEdge {
        /// Name of the file.
        file: String,
    },
}

/// Traces pieces of paper or cloth in a picture; the largest first.
///
/// # Errors
/// [`TraceError`]: stopped, or nothing can be made out, and what to do then.
pub fn trace(
    picture: &Picture,
    straight: &Straightened,
    wanted: &Wanted,
    watch: &Watch<'_>,
) -> Result<Vec<Traced>, TraceError> {
    let pace = Pace::new(watch, &picture.file);
    let file = || picture.file.clone();
    if picture.width.min(picture.height) < 24 {
        return Err(TraceError::TooSmall { file: file() });
    }
    let mut small = Small::of(picture, &pace.part(0.0, 0.2))?;
    let mut left_out = Vec::new();
    match &wanted.ground {
        Ground::Table { left_out: others } => {
            let by = 4.0 + 2.0 * small.by as f64;
            left_out.extend(others.iter().map(|corners| widened(corners, by)));
        }
        Ground::Within(corners) => {
            let within = widened(corners, -4.0 - 2.0 * small.by as f64);
            small.within = (0..small.pixels.len())
                .map(|i| {
                    let (x, y) = small.place(i);
                    is_inside(&within, small.in_picture(x as f64, y as f64))
                })
                .collect();
        }
    }
    let ground = ground_of(&small, &pace.part(0.2, 0.5))?;
    let blobs = blobs_of(&small, &ground, |p| {
        left_out.iter().any(|corners| is_inside(corners, p))
    });
    pace.at(0.55)?;
    let mut chosen: Vec<&Blob> = match wanted.at {
        Some(at) => blobs.at(&small, at).into_iter().collect(),
        None => blobs.all.iter().filter(|blob| !blob.at_rim).collect(),
    };
    if chosen.is_empty() && wanted.at.is_some() {
        return Err(TraceError::OnTheTable { file: file() });
    }
    chosen.retain(|blob| blob.size >= SMALLEST_BLOB);
    chosen.sort_by_key(|blob| std::cmp::Reverse(blob.size));
    chosen.truncate(MOST_PIECES);
    let light = Light::of(picture);
    let part = 0.45 / chosen.len().max(1) as f64;
    let mut traced = Vec::new();
    for (n, blob) in chosen.iter().enumerate() {
        let pace = pace.part(0.55 + part * n as f64, 0.55 + part * (n + 1) as f64);
        let Some(lines) = blobs.lines(&small, &ground, blob) else {
            continue;
        };
        let one = Piece {
            light: &light,
            straight,
            by: small.by,
            file: &picture.file,
        };
        match one.trace(&lines, &pace) {
            Ok(piece) if wanted.at.is_none() && piece.across() < wanted.smallest.0 => {}
            Ok(piece) => traced.push(piece.with_rim(blob.at_rim)),
            Err(TraceError::NoEdge { .. }) if wanted.at.is_none() => {}
            Err(why) => return Err(why),
        }
    }
    pace.at(1.0)?;
    if traced.is_empty() {
        return Err(TraceError::Nothing { file: file() });
    }
    Ok(traced)
}

/// Four corners moved away from their middle.
fn widened(corners: &[Point; 4], by: f64) -> [Point; 4] {
    let middle = corners
        .iter()
        .map(|p| p.to_vec2())
        .sum::<petitoile_core::kurbo::Vec2>()
        / 4.0;
    corners.map(|p| {
        let out = p - middle.to_point();
        // Both sides of the corner move by as much.
        p + out * (by * std::f64::consts::SQRT_2 / out.hypot().max(1.0))
    })
}

/// What one piece is traced with.
struct Piece<'a> {
    light: &'a Light<'a>,
    straight: &'a Straightened,
    by: usize,
    file: &'a str,
}

impl Piece<'_> {
    fn trace(&self, lines: &Lines, pace: &Pace<'_>) -> Result<Traced, TraceError> {
        let outer = self.one_loop(&lines.outer, &pace.part(0.0, 0.6))?;
        let mut holes = Vec::new();
        let part = 0.4 / lines.holes.len().max(1) as f64;
        for (n, hole) in lines.holes.iter().enumerate() {
            let pace = pace.part(0.6 + part * n as f64, 0.6 + part * (n + 1) as f64);
            match self.one_loop(hole, &pace) {
                Ok(hole) => holes.push(hole),
                // A speck, no hole.
                Err(TraceError::NoEdge { .. }) => {}
                Err(why) => return Err(why),
            }
        }
        let none = || TraceError::NoEdge {
            file: self.file.to_owned(),
        };
        let traced = Traced::of(outer, holes, self.straight).ok_or_else(none)?;
        Ok(traced.with_more_holes(lines.more))
    }

    fn one_loop(&self, rough: &[Point], pace: &Pace<'_>) -> Result<Loop, TraceError> {
        let edge = snap(self.light, rough, self.by, &pace.part(0.0, 0.8))?;
        let horizon = || TraceError::BeyondHorizon {
            file: self.file.to_owned(),
        };
        let mut points = Vec::with_capacity(edge.len());
        let mut pixel = 0.0_f64;
        for p in &edge {
            let at = self.straight.mm_from_px.apply(p.at).ok_or_else(horizon)?;
            let (_, most) = self
                .straight
                .mm_from_px
                .scale_near(p.at)
                .ok_or_else(horizon)?;
            pixel = pixel.max(most);
            points.push(FitPoint {
                at,
                is_clear: p.is_clear,
            });
        }
        let mm: Vec<Point> = points.iter().map(|p| p.at).collect();
        let mut edge: Vec<EdgePoint> = edge;
        if area(&mm) < 0.0 {
            points.reverse();
            edge.reverse();
        }
        pace.at(0.85)?;
        let fitted = fit(&points, pixel).ok_or_else(|| TraceError::NoEdge {
            file: self.file.to_owned(),
        })?;
        Ok(Loop {
            fitted,
            edge,
            pixel,
        })
    }
}
