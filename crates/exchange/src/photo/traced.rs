//! What was traced, how exact it is and whether it can be trusted; made into an outline of a piece or an offcut.

use petitoile_core::Mm;
use petitoile_core::cloth::Offcut;
use petitoile_core::cloth_drawn::DrawnError;
use petitoile_core::edge::Edge;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::{Outline, OutlineError};
use petitoile_core::geometry::simple::crosses_itself;
use petitoile_core::kurbo::{BezPath, PathEl, Point, Shape};
use petitoile_core::tolerance::DRAWING;
use petitoile_core::units::LengthUnit;

use super::fit::Fitted;
use super::level::median;
use super::snap::EdgePoint;
use super::straighten::Straightened;

/// A piece or an offcut traced in a picture.
#[derive(Debug, Clone, PartialEq)]
pub struct Traced {
    /// Its outline, mm, y up, counter-clockwise, closed.
    pub outline: BezPath,
    /// Its stretches from corner to corner, in order; a single closed one when there is no corner.
    pub edges: Vec<Line>,
    /// Its corners in the order of the outline.
    pub corners: Vec<Point>,
    /// Its holes, the largest ones.
    pub holes: Vec<TracedHole>,
    /// How many more small holes are to be seen that were not traced (lace, eyelets).
    pub more_holes: usize,
    /// How exact it is.
    pub exactness: Exactness,
    /// Can it be trusted?
    pub trust: Trust,
    /// Pixels a mm where the piece is seen smallest.
    pub px_per_mm: f64,
    /// How many times the step of light at its edge is above the noise beside it.
    pub over_noise: f64,
    /// Step of coded light at its edge, 0 to 255: what the eye sees as contrast.
    pub contrast: f64,
    /// How much of its edge could be made out, 0 to 1.
    pub clear: f64,
    /// Does it run out of the picture (or off the sheet it lies on)?
    pub at_rim: bool,
}

/// A hole in a traced piece.
#[derive(Debug, Clone, PartialEq)]
pub struct TracedHole {
    /// Its outline, mm, y up, counter-clockwise, closed.
    pub outline: BezPath,
    /// Its corners.
    pub corners: Vec<Point>,
}

/// How far a traced outline lies off the true one, as reckoned from the sharpness of the edge, noise, the size of a pixel
/// and the corners of the known sheet. What cannot be seen in the picture is not in it: a lens that bends lines beside
/// the sheet, cloth that does not lie flat, a sheet that is not as large as its name says, a program that blurred or shrank
/// the picture after its light was coded.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exactness {
    /// On the mean.
    pub mean: Mm,
    /// At the worst place.
    pub worst: Mm,
}

/// Can a traced outline be trusted?
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Trust {
    /// Yes, as exactly as said.
    Good,
    /// Look it over: parts of the edge could not be made out.
    Look,
    /// No: it has too little contrast to the table.
    TooLittleContrast,
}

/// Share of clear edge, step over noise and contrast that are needed to be good, and to be worth a look. The first two are
/// measured on drawn photographs. Contrast of less than 10 in 255 is what a crease, a knot in the weave or the shade of a
/// hand makes (common practice, no source): an edge may then be seen sharply and still be that of something else.
const GOOD: [f64; 3] = [0.97, 9.0, 18.0];
const LOOK: [f64; 3] = [0.85, 6.0, 10.0];

/// How far off an edge may be by the grid of pixels, pixels. Measured on drawn photographs, with room.
const GRID: f64 = 0.03;
/// Cameras have tones of their own on top of those of sRGB, which move the middle of a soft edge: by this share of what
/// sRGB itself moves it. Common practice, no source.
const TONE: f64 = 0.25;

/// One closed line with what is known of its edge.
pub(super) struct Loop {
    pub fitted: Fitted,
    pub edge: Vec<EdgePoint>,
    /// Size of a pixel where it is greatest, mm.
    pub pixel: f64,
}

impl Traced {
    /// Puts together what was traced.
    pub(super) fn of(outer: Loop, holes: Vec<Loop>, straight: &Straightened) -> Option<Self> {
        let loops: Vec<&Loop> = std::iter::once(&outer).chain(&holes).collect();
        let edge = || loops.iter().flat_map(|l| &l.edge);
        let count = edge().count().max(1) as f64;
        let clear = edge().filter(|p| p.is_clear).count() as f64 / count;
        let usual = |of: fn(&EdgePoint) -> f64| median(&mut edge().map(of).collect::<Vec<f64>>());
        let (over_noise, contrast) = (usual(|p| p.over_noise), usual(|p| p.contrast));
        let pixel = loops.iter().map(|l| l.pixel).fold(0.0, f64::max);
        let exactness = exactness(&loops, straight, clear, pixel);
        let mut edges = Vec::with_capacity(outer.fitted.stretches.len());
        for stretch in &outer.fitted.stretches {
            edges.push(Line::from_cubics(stretch)?);
        }
        let at_least = |[share, noise, step]: [f64; 3]| {
            clear >= share && over_noise >= noise && contrast >= step
        };
        let trust = if at_least(GOOD) {
            Trust::Good
        } else if at_least(LOOK) {
            Trust::Look
        } else {
            Trust::TooLittleContrast
        };
        let mut traced = Self {
            outline: outer.fitted.path,
            edges,
            corners: outer.fitted.corners,
            holes: holes
                .into_iter()
                .map(|hole| TracedHole {
                    outline: hole.fitted.path,
                    corners: hole.fitted.corners,
                })
                .collect(),
            more_holes: 0,
            exactness,
            trust,
            px_per_mm: 1.0 / pixel,
            over_noise,
            contrast,
            clear,
            at_rim: false,
        };
        let crosses =
            as_outline(&traced).map_or(true, |outline| crosses_itself(&outline).is_some());
        if crosses {
            traced.trust = traced.trust.max(Trust::Look);
        }
        Some(traced)
    }

    pub(super) fn with_rim(self, at_rim: bool) -> Self {
        let least = if at_rim { Trust::Look } else { Trust::Good };
        Self {
            at_rim,
            trust: self.trust.max(least),
            ..self
        }
    }

    pub(super) fn with_more_holes(self, more_holes: usize) -> Self {
        Self { more_holes, ..self }
    }

    /// The longer side of the upright rectangle round it, mm.
    pub fn across(&self) -> f64 {
        let bounds = self.outline.bounding_box();
        bounds.width().max(bounds.height())
    }

    /// What the maker should know, lengths in the maker's unit.
    pub fn words(&self, unit: LengthUnit) -> Vec<String> {
        let mut words = vec![match self.trust {
            Trust::TooLittleContrast => {
                "too little contrast to the table: this outline cannot be trusted; lay the piece on a ground of another colour and take the picture again".to_owned()
            }
            Trust::Good | Trust::Look => format!(
                "exact within {} on the mean, within {} at the worst place, if it lay flat and the lens bends no lines",
                unit.show(Mm((self.exactness.mean.0 * 100.0).ceil() / 100.0)),
                unit.show(Mm((self.exactness.worst.0 * 10.0).ceil() / 10.0)),
            ),
        }];
        if self.at_rim {
            words.push(
                "it runs out of the picture; take one with some table to be seen all round"
                    .to_owned(),
            );
        }
        if self.more_holes > 0 {
            words.push(format!(
                "{} more small holes were not traced",
                self.more_holes
            ));
        }
        if self.clear < GOOD[0] {
            words.push(format!(
                "{:.0} percent of its edge could not be made out; look the outline over",
                (1.0 - self.clear) * 100.0
            ));
        }
        if self.trust == Trust::Look && self.contrast < GOOD[2] {
            words.push("there is little contrast to the table; look the outline over".to_owned());
        }
        if self.px_per_mm < 4.0 {
            words.push(format!(
                "it has only {:.1} pixels a mm; 4 are needed for an outline within 0.1 mm: go nearer",
                self.px_per_mm
            ));
        }
        words
    }
}

fn exactness(loops: &[&Loop], straight: &Straightened, clear: f64, pixel: f64) -> Exactness {
    let edge = || loops.iter().flat_map(|l| &l.edge);
    let median_of = |of: fn(&EdgePoint) -> f64| {
        median(&mut edge().filter(|p| p.is_clear).map(of).collect::<Vec<f64>>())
    };
    let single = median_of(|p| p.error) * pixel;
    let scatter = loops.iter().map(|l| l.fitted.scatter).fold(0.0, f64::max);
    let single = single.max(scatter);
    let (numbers, points) = loops.iter().fold((0, 0), |(a, b), l| {
        (a + l.fitted.numbers.0, b + l.fitted.numbers.1)
    });
    // Each curve is steered across by half of its numbers; neighbouring points share pixels, so two count as one.
    let random = single * (numbers as f64 / points.max(1) as f64).min(1.0).sqrt();
    let tone = (GRID + TONE * median_of(|p| p.tone)) * pixel;
    let off = loops.iter().map(|l| l.fitted.off).fold(0.0, f64::max);
    let step = (edge().count() / 64).max(1);
    let places: Vec<f64> = edge()
        .step_by(step)
        .map(|p| straight.error_at(p.at))
        .collect();
    let place = places.iter().sum::<f64>() / places.len().max(1) as f64;
    let unclear = (1.0 - clear) * 1.5 * pixel;
    let mean = tone + 0.3 * off + random.hypot(place) + unclear;
    let farthest = places.iter().copied().fold(0.0, f64::max);
    let worst = 2.0 * tone
        + off
        + 3.0 * random.hypot(farthest)
        + pixel * if clear < 1.0 { 1.5 } else { 0.5 };
    Exactness {
        mean: Mm(mean),
        worst: Mm(worst.max(2.0 * mean)),
    }
}

/// The outline of a piece, its edges from corner to corner called "edge 1" and on, each a seam.
///
/// # Errors
/// [`OutlineError`] when it holds no area.
pub fn as_outline(traced: &Traced) -> Result<Outline, OutlineError> {
    let edge = |(n, line): (usize, &Line)| Edge::seam(format!("edge {}", n + 1), line.clone());
    Outline::new(traced.edges.iter().enumerate().map(edge).collect())
}

/// An offcut with its holes, straight between points within [`DRAWING`] of the curves; where it lay in the picture.
///
/// # Errors
/// [`DrawnError`] when the outline crosses itself or holds no cloth.
pub fn as_offcut(traced: &Traced, name: &str, cloth: &str) -> Result<Offcut, DrawnError> {
    let outline = petitoile_core::cloth_drawn::outline(&points_of(&traced.outline))?;
    let mut offcut = Offcut::drawn(name, cloth, outline);
    for hole in &traced.holes {
        offcut = offcut.with_blemish(&points_of(&hole.outline), None)?;
    }
    Ok(offcut)
}

fn points_of(path: &BezPath) -> Vec<Point> {
    let mut points = Vec::new();
    petitoile_core::kurbo::flatten(path, DRAWING.0, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push(p);
        }
    });
    points
}
