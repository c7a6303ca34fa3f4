//! What is printed of a lay plan, as one value: where every part lies on its offcut with measures from the edges, in which
//! order it is cut, the cutting list, the tally. Laid out in `exchange/sheet/lay`.

use std::sync::Arc;

use kurbo::{Line, Point, Vec2};

use super::parts::parts;
use super::{CopyToLay, LayShape, ToLay, cut_outline, tally, words};
use crate::cloth::Offcut;
use crate::geometry::closed::{area, sides};
use crate::geometry::polygon::Polygon;
use crate::lay_plan::{LayPlan, PiecingKind, Placed};
use crate::piece::Face;
use crate::units::{Degrees, LengthUnit, Mm};

/// A lay plan as it is printed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LaySheet {
    /// Garment and body.
    pub title: String,
    /// What is wrong with the plan, so that it must not be cut like this; put in by whoever checked it.
    pub faults: Vec<String>,
    /// Offcuts on which something lies.
    pub offcuts: Vec<OffcutSheet>,
    /// What does not lie: "Cuff, left".
    pub not_laid: Vec<String>,
    /// Seams that piecing adds; they are sewn first.
    pub seams: Vec<String>,
    /// Every piece: how many are to be cut, lie on cloth, are cut.
    pub tally: Vec<String>,
    /// "14 to cut: 12 on cloth, 2 missing".
    pub tally_words: String,
    /// The usual cautions.
    pub cautions: Vec<String>,
}

/// One offcut with what lies on it.
#[derive(Debug, Clone, PartialEq)]
pub struct OffcutSheet {
    /// The cloth.
    pub offcut: Arc<Offcut>,
    /// In the order of cutting; what is cut already comes last.
    pub parts: Vec<PartOnSheet>,
}

/// One part where it lies.
#[derive(Debug, Clone, PartialEq)]
pub struct PartOnSheet {
    /// Its place in the order of cutting over all offcuts, from 1; 0 when it is cut already.
    pub number: usize,
    /// "Back, left part".
    pub name: String,
    /// Its cut line on the offcut, counter-clockwise.
    pub outline: Vec<Point>,
    /// Deep inside, for its name.
    pub middle: Point,
    /// Direction of its grainline on the offcut, unit vector.
    pub grain: Vec2,
    /// Where the cloth may be folded instead, on the offcut.
    pub fold: Option<Line>,
    /// From the part to the edge of the offcut, across and along its grain.
    pub measures: Vec<Measured>,
    /// How far it is turned off the grain of the offcut, counter-clockwise; about 180 is upside down.
    pub off_grain: Degrees,
    /// Is the drawing laid with its face down?
    pub face_down: bool,
}

/// A measure that tells where a part lies.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// From the outermost point of the part to the edge of the offcut.
    pub line: Line,
    /// How long it is.
    pub length: Mm,
    /// Along the grain of the offcut, or across it?
    pub along: bool,
}

/// A turn that is told, degrees: less than that is true to the grain for a hand.
const TOLD: f64 = 0.25;

/// Makes the sheet of a plan; what has no shape any more is left out. Numbers run in the order of the offcuts; on one offcut the
/// pieces that come first, then the larger ones first, so that a slip of the blade can still be mended from what is left
/// (common practice, no source).
pub fn lay_sheet(to_lay: &ToLay, offcuts: &[Arc<Offcut>], plan: &LayPlan, title: &str) -> LaySheet {
    let mut number = 0;
    let mut sheets = Vec::new();
    for offcut in offcuts {
        let parts = parts_on(to_lay, plan, offcut, &mut number);
        if !parts.is_empty() {
            sheets.push(OffcutSheet {
                offcut: Arc::clone(offcut),
                parts,
            });
        }
    }
    let tally = tally(to_lay, Some(plan));
    let missing = tally.rows.iter().flat_map(|row| &row.missing);
    LaySheet {
        title: title.to_owned(),
        faults: Vec::new(),
        offcuts: sheets,
        not_laid: missing
            .map(|part| words::part(part, plan.piecing(&part.of)))
            .collect(),
        seams: plan.piecings.iter().map(seam_words).collect(),
        tally: tally.rows.iter().map(super::TallyRow::words).collect(),
        tally_words: tally.words(),
        cautions: vec![CAUTION.to_owned()],
    }
}

/// Source: common practice (fact sheet H); the same as at the first step of the making sheet.
const CAUTION: &str = "Blades: close the cutter after each cut, cut away from the hand, use a rule with a rim. \
    Keep pins and blades away from small children; follow the rules of your place.";

fn seam_words(piecing: &crate::lay_plan::Piecing) -> String {
    let seams = piecing.lines.len();
    let kind = match piecing.kind {
        PiecingKind::AlongFold => "along the former fold",
        PiecingKind::Patch => "at a patch",
        PiecingKind::Strip => "across the strip",
    };
    let s = if seams == 1 { "" } else { "s" };
    format!(
        "{}: {seams} seam{s} {kind}, sewn first",
        words::copy(&piecing.of)
    )
}

fn parts_on(
    to_lay: &ToLay,
    plan: &LayPlan,
    offcut: &Offcut,
    number: &mut usize,
) -> Vec<PartOnSheet> {
    let mut found: Vec<(bool, u8, f64, PartOnSheet)> = plan
        .placed
        .iter()
        .filter(|placed| placed.offcut == offcut.name)
        .filter_map(|placed| {
            let copy = to_lay.copies.iter().find(|copy| copy.of == placed.of());
            let shape = copy.and_then(|copy| shape_of(copy, plan, placed.part));
            let part = part_on(plan, offcut, placed, shape.as_ref())?;
            let size = area(&part.outline).abs();
            let priority = copy.map_or(u8::MAX, |copy| copy.priority);
            Some((placed.as_cut.is_some(), priority, size, part))
        })
        .collect();
    found.sort_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)).then(b.2.total_cmp(&a.2)));
    found
        .into_iter()
        .map(|(is_cut, _, _, mut part)| {
            if !is_cut {
                *number += 1;
                part.number = *number;
            }
            part
        })
        .collect()
}

fn shape_of(copy: &CopyToLay, plan: &LayPlan, part: usize) -> Option<LayShape> {
    match plan.piecing(&copy.of) {
        None => (part == 0).then(|| copy.whole.clone()),
        // Where the piecing no longer works, it is cut whole; the tally tells it.
        Some(piecing) => match parts(&copy.whole, piecing) {
            Ok(parts) => parts.get(part).cloned(),
            Err(_) => (part == 0).then(|| copy.whole.clone()),
        },
    }
}

fn part_on(
    plan: &LayPlan,
    offcut: &Offcut,
    placed: &Placed,
    shape: Option<&LayShape>,
) -> Option<PartOnSheet> {
    let offcut_from_piece = placed.offcut_from_piece();
    let outline = match (&placed.as_cut, shape) {
        (Some(cut), _) => cut.clone(),
        (None, Some(shape)) => cut_outline(placed, shape),
        (None, None) => return None,
    };
    if outline.len() < 3 {
        return None;
    }
    let [a, b, c, d, ..] = offcut_from_piece.as_coeffs();
    let grain = shape.map_or(Degrees(0.0), |shape| shape.grain);
    let (sin, cos) = libm::sincos(grain.0.to_radians());
    let grain = Vec2::new(-a * sin + c * cos, -b * sin + d * cos);
    let measures = if placed.as_cut.is_some() {
        Vec::new()
    } else {
        measures(&outline, offcut)
    };
    Some(PartOnSheet {
        number: 0,
        name: words::part(&placed.part_ref(), plan.piecing(&placed.of())),
        middle: Polygon::new(outline.clone()).deepest(),
        grain,
        fold: shape
            .and_then(|shape| shape.fold)
            .map(|fold| Line::new(offcut_from_piece * fold.p0, offcut_from_piece * fold.p1)),
        measures,
        off_grain: off(grain, offcut),
        face_down: placed.mirrored,
        outline,
    })
}

/// Turn from the grain of the offcut to that of the part.
fn off(grain: Vec2, offcut: &Offcut) -> Degrees {
    let turn = libm::atan2(grain.y, grain.x).to_degrees() - 90.0 - offcut.grain.0;
    Degrees(libm::remainder(turn, 360.0))
}

/// The shorter way to the edge, across the grain and along it.
fn measures(outline: &[Point], offcut: &Offcut) -> Vec<Measured> {
    let (sin, cos) = libm::sincos(offcut.grain.0.to_radians());
    let (across, along) = (Vec2::new(cos, sin), Vec2::new(-sin, cos));
    [(across, false), (along, true)]
        .into_iter()
        .filter_map(|(way, along)| {
            let both = [-way, way].map(|way| to_edge(outline, offcut, way));
            let line = both
                .into_iter()
                .flatten()
                .min_by(|a, b| length(a).total_cmp(&length(b)))?;
            Some(Measured {
                length: Mm(length(&line)),
                line,
                along,
            })
        })
        .collect()
}

fn length(line: &Line) -> f64 {
    (line.p1 - line.p0).hypot()
}

/// From the point of an outline that lies farthest that way, on to the edge.
fn to_edge(outline: &[Point], offcut: &Offcut, way: Vec2) -> Option<Line> {
    let from = outline
        .iter()
        .copied()
        .max_by(|a, b| a.to_vec2().dot(way).total_cmp(&b.to_vec2().dot(way)))?;
    let far = sides(&offcut.outline)
        .filter_map(|(a, b)| {
            let (da, db) = (way.cross(a - from), way.cross(b - from));
            if (da <= 0.0) == (db <= 0.0) {
                return None;
            }
            let reach = (a.lerp(b, da / (da - db)) - from).dot(way);
            (reach >= 0.0).then_some(reach)
        })
        .fold(f64::INFINITY, f64::min);
    far.is_finite().then(|| Line::new(from, from + way * far))
}

impl OffcutSheet {
    /// "Blue A: cotton, 214 x 150 mm, right side up, with nap".
    pub fn words(&self, unit: LengthUnit) -> String {
        let bounds = crate::geometry::closed::bounds(&self.offcut.outline);
        let mut words = self.offcut.name.clone();
        words.push_str(": ");
        if !self.offcut.cloth.is_empty() {
            words.push_str(&self.offcut.cloth);
            words.push_str(", ");
        }
        words.push_str(&format!(
            "{} by {}, ",
            unit.show(Mm(bounds.width())),
            unit.show(Mm(bounds.height()))
        ));
        words.push_str(match (self.offcut.sides_alike, self.offcut.face) {
            (true, _) => "both sides alike",
            (false, Face::Right) => "right side up",
            (false, Face::Wrong) => "wrong side up",
        });
        if self.offcut.nap {
            words.push_str(", with nap");
        }
        words
    }
}

impl PartOnSheet {
    /// Is it cut already?
    pub fn is_cut(&self) -> bool {
        self.number == 0
    }

    /// "12 mm to the edge across the grain, 30 mm along it; 1.5 degrees off the grain, counter-clockwise; face down".
    pub fn words(&self, unit: LengthUnit) -> String {
        if self.is_cut() {
            return format!("{}: cut already", self.name);
        }
        let mut said: Vec<String> = self
            .measures
            .iter()
            .map(|measured| {
                let way = if measured.along { "along" } else { "across" };
                format!("{} to the edge {way} the grain", unit.show(measured.length))
            })
            .collect();
        said.extend(self.turn_words());
        if self.face_down {
            said.push("pattern face down".to_owned());
        }
        if self.fold.is_some() {
            said.push("fold here: or cut the half on folded cloth".to_owned());
        }
        format!("{}. {}: {}", self.number, self.name, said.join("; "))
    }

    fn turn_words(&self) -> Option<String> {
        let over = self.off_grain.0.abs() > 90.0;
        let off = if over {
            (self.off_grain.0 - 180.0_f64.copysign(self.off_grain.0)).abs()
        } else {
            self.off_grain.0.abs()
        };
        let off = (off >= TOLD).then(|| format!("{off:.1}\u{b0} off the grain"));
        match (over, off) {
            (false, off) => off,
            (true, None) => Some("upside down".to_owned()),
            (true, Some(off)) => Some(format!("upside down, {off}")),
        }
    }
}
