//! Pages in their places become one sheet.

use petitoile_core::kurbo::{Affine, Point, Rect, Shape};

use super::doubles::{self, From};
use super::places::PagePlaces;
use super::strand::{Side, Strand};
use super::strands::Seams;
use crate::bring_in::{
    BringInError, FoundDrawing, FoundLine, FoundPoint, FoundSheet, FoundText, Left, Pace,
};

/// Rounds of joining: where four pages meet, a line may need more than one.
const ROUNDS: usize = 5;

/// The pages as one sheet, and how well they met.
#[derive(Debug, Clone, PartialEq)]
pub struct Joined {
    /// Everything, mm, its lower left corner the origin.
    pub sheet: FoundSheet,
    /// How far apart lines were at the worst place where they were joined or shown twice, mm.
    pub worst_gap: f64,
    /// Places where the line of one page goes on on the next.
    pub joins: usize,
    /// Lines and words that two pages show and that are kept once.
    pub doubles: usize,
    /// What is not in the sheet, and lines that end at a seam and go on nowhere.
    pub left: Vec<Left>,
}

/// Joins pages that lie in their places: what two of them show is kept once, a line cut at an edge becomes one again
/// where its parts meet within a tolerance, mm.
///
/// # Errors
/// [`BringInError::Stopped`] when it is stopped from outside.
pub fn joined(
    drawing: &FoundDrawing,
    places: &PagePlaces,
    tolerance: f64,
    pace: &Pace<'_>,
) -> Result<Joined, BringInError> {
    let tolerance = tolerance.clamp(0.01, 5.0);
    let laid = Laid::out(drawing, places);
    let mut left = laid.left;
    let areas = laid.areas;
    let (lines, doubles) = doubles::lines(laid.lines, tolerance, &pace.part(0.0, 0.2))?;
    let (texts, double_texts) = doubles::texts(laid.texts);
    let strands = lines
        .iter()
        .enumerate()
        .map(|(number, line)| Strand::new(&line.thing, line.page, number))
        .collect();
    pace.at(0.2)?;
    let mut seams = Seams::new(strands, &areas, tolerance);
    let mut joined = Joined {
        sheet: FoundSheet {
            name: "joined pages".to_owned(),
            bounds: laid.bounds,
            lines: Vec::new(),
            texts,
            points: doubles::points(laid.points, tolerance),
        },
        worst_gap: doubles.off,
        joins: 0,
        doubles: doubles.count + double_texts,
        left: Vec::new(),
    };
    for number in 0..ROUNDS {
        // Most is done in the first of them.
        let pace = match number {
            0 => pace.part(0.3, 0.8),
            _ => pace.part(0.8, 0.9),
        };
        let round = seams.round(&pace)?;
        joined.joins += round.joins;
        joined.doubles += round.doubles;
        joined.worst_gap = joined.worst_gap.max(round.gap);
        if round.joins + round.doubles == 0 {
            break;
        }
    }
    pace.at(0.9)?;
    left.extend(loose(&seams));
    joined.sheet.lines = seams
        .strands
        .iter()
        .filter_map(|strand| {
            let line = lines.get(strand.line)?;
            Some(FoundLine {
                path: if strand.is_joined {
                    strand.path()
                } else {
                    line.thing.path.clone()
                },
                closed: strand.closed,
                ..line.thing.clone()
            })
        })
        .collect();
    joined.left = left;
    pace.at(1.0)?;
    Ok(joined)
}

/// Everything moved to its place.
struct Laid {
    lines: Vec<From<FoundLine>>,
    texts: Vec<From<FoundText>>,
    points: Vec<From<FoundPoint>>,
    areas: Vec<(usize, Rect)>,
    bounds: Rect,
    left: Vec<Left>,
}

impl Laid {
    fn out(drawing: &FoundDrawing, places: &PagePlaces) -> Self {
        let mut laid = Self {
            lines: Vec::new(),
            texts: Vec::new(),
            points: Vec::new(),
            areas: Vec::new(),
            bounds: Rect::ZERO,
            left: Vec::new(),
        };
        let mut all: Option<Rect> = None;
        let frames = super::frames::frames(drawing);
        if !frames.is_empty() {
            laid.left.push(Left {
                what: format!("{} frames, the same rectangle on every page", frames.len()),
                advice: String::new(),
            });
        }
        for (page, sheet) in drawing.sheets.iter().enumerate() {
            let (Some(area), Some(step)) = (places.area(page, sheet), places.step(page, sheet))
            else {
                laid.left.push(Left {
                    what: format!("{} is not part of the joined sheet", sheet.name),
                    advice: String::new(),
                });
                continue;
            };
            all = Some(all.map_or(area, |all| all.union(area)));
            laid.areas.push((page, area));
            let is_trimmed = |bounds: Rect| places.trim > 0.0 && apart(bounds, area);
            let to = Affine::translate(step);
            let mut trimmed = 0;
            let own = sheet.lines.iter().enumerate();
            for (_, line) in own.filter(|(at, _)| !frames.contains(&(page, *at))) {
                let moved = doubles::moved(line, to);
                if is_trimmed(moved.path.bounding_box()) {
                    trimmed += 1;
                } else {
                    laid.lines.push(From { page, thing: moved });
                }
            }
            for text in &sheet.texts {
                let at = text.at + step;
                if is_trimmed(Rect::from_points(at, at)) {
                    trimmed += 1;
                } else {
                    laid.texts.push(From {
                        page,
                        thing: FoundText { at, ..text.clone() },
                    });
                }
            }
            for point in &sheet.points {
                laid.points.push(From {
                    page,
                    thing: FoundPoint {
                        at: point.at + step,
                        ..point.clone()
                    },
                });
            }
            if trimmed > 0 {
                laid.left.push(Left {
                    what: format!(
                        "{}: {trimmed} lines and words in the edge that is cut off",
                        sheet.name
                    ),
                    advice: "give a smaller edge if something is missing".to_owned(),
                });
            }
        }
        laid.bounds = all.unwrap_or_default();
        laid
    }
}

fn apart(a: Rect, b: Rect) -> bool {
    a.x1 < b.x0 || b.x1 < a.x0 || a.y1 < b.y0 || b.y1 < a.y0
}

/// Ends at a seam that go on nowhere, one word for each page.
fn loose(seams: &Seams<'_>) -> Vec<Left> {
    let mut ends: Vec<(usize, Point)> = Vec::new();
    for strand in seams.strands.iter().filter(|strand| !strand.closed) {
        for (side, page) in [Side::Start, Side::End].into_iter().zip(strand.pages) {
            let Some((at, out)) = strand.end(side) else {
                continue;
            };
            // Cut off at the edge of its page while the next page shows what lies there.
            if seams.is_cut(at, out, page) {
                ends.push((page, at));
            }
        }
    }
    ends.sort_by_key(|(page, _)| *page);
    ends.chunk_by(|a, b| a.0 == b.0)
        .filter_map(|of_page| {
            let (page, at) = of_page.first()?;
            let count = of_page.len();
            let lines = if count == 1 {
                "1 line ends".to_owned()
            } else {
                format!("{count} lines end")
            };
            Some(Left {
                what: format!(
                    "page {}: {lines} at its edge and go on nowhere, one at {:.0}, {:.0} mm",
                    page + 1,
                    at.x,
                    at.y
                ),
                advice: "look whether the pages lie right there".to_owned(),
            })
        })
        .collect()
}
