//! The garment on the figure: a ring at every girth tape and body line, and the line of its hems.

use kurbo::Point;

use super::body::BodyFigure;
use super::hem::{Hem, hems};
use super::solid::{Hoop, Limb, Solid};
use crate::adapt::Adapted;
use crate::finding::Place;
use crate::fit::{EaseTable, FitRow, Sits};
use crate::fullness::Filled;
use crate::garment::times_on_tape;
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece, Placement, Role};
use crate::tape::{TapeKind, TapeLine};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// A girth of the garment as a ring on the figure.
#[derive(Debug, Clone, PartialEq)]
pub struct GarmentRing {
    /// Tape line, or level of the body line it was measured on.
    pub name: String,
    /// Where the garment's girth comes from.
    pub taken: Taken,
    /// Where to look for it on the pieces.
    pub place: Place,
    /// The girth of the body there.
    pub measure: Measure,
    /// Round what.
    pub limb: Limb,
    /// Where and how large.
    pub hoop: Hoop,
    /// The bare body.
    pub body: Mm,
    /// The body with what is worn underneath.
    pub dressed: Mm,
    /// The garment, closed.
    pub garment: Mm,
    /// What of it laps over at the closure and is taken off; 0 for a tape line, which has its own.
    pub overlap: Mm,
    /// How it sits.
    pub sits: Sits,
}

impl GarmentRing {
    /// How much more the garment measures than the bare body.
    pub fn ease(&self) -> Mm {
        self.garment - self.body
    }
}

/// Where a girth of the garment comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// A tape line of the garment.
    Tape,
    /// The widths of its pieces on their body lines added up, less the closure's overlap.
    BodyLines,
}

/// A garment on a figure.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GarmentFigure {
    /// A ring at every girth.
    pub rings: Vec<GarmentRing>,
    /// Its hems: the outline of a skirt, of sleeves, of trouser legs.
    pub hems: Vec<Hem>,
    /// The cloth between rings and hems, limb by limb.
    pub cloth: Vec<Solid>,
}

/// Puts a garment on a figure; the rows of `table` are those of its ease table on this body.
pub fn garment_figure(
    figure: &BodyFigure,
    adapted: &Adapted,
    filled: &Filled,
    table: &EaseTable,
) -> GarmentFigure {
    let mut rings: Vec<GarmentRing> = table
        .rows
        .iter()
        .flat_map(|row| taped(figure, row))
        .collect();
    for level in Level::ALL {
        let lined = on_body_lines(figure, adapted, table, level, &rings);
        rings.extend(lined);
    }
    let hems = hems(figure, filled, &rings);
    let cloth = cloth(&rings, &hems);
    GarmentFigure { rings, hems, cloth }
}

/// The ring of a tape line that goes once round the body: the body's own ring, made as large as the garment.
fn taped(figure: &BodyFigure, row: &FitRow) -> Vec<GarmentRing> {
    if !row.is_girth || (row.share - 1.0).abs() > 1e-9 {
        return Vec::new();
    }
    figure
        .rings_of(row.measure)
        .map(|ring| GarmentRing {
            name: row.name.clone(),
            taken: Taken::Tape,
            place: Place::part(&row.name),
            measure: row.measure,
            limb: ring.limb,
            hoop: ring.hoop.of_girth(row.here.garment),
            body: row.here.body,
            dressed: row.dressed(),
            garment: row.here.garment,
            overlap: Mm(0.0),
            sits: row.sits,
        })
        .collect()
}

/// A level that no tape line is laid on.
fn on_body_lines(
    figure: &BodyFigure,
    adapted: &Adapted,
    table: &EaseTable,
    level: Level,
    taken: &[GarmentRing],
) -> Vec<GarmentRing> {
    let Some(measure) = level.girth() else {
        return Vec::new();
    };
    if taken.iter().any(|ring| ring.measure == measure) {
        return Vec::new();
    }
    let framed = |piece: &Piece| match piece.placement {
        Placement::Framed(frame) => rounds(frame, level),
        Placement::Follows(_) => false,
    };
    let widths: Vec<(&str, f64)> = adapted
        .pieces
        .iter()
        .filter(|piece| framed(piece) && piece.copies_in(Role::Shell) > 0)
        .filter_map(|piece| {
            let width = times_on_tape(piece, measure) * line_width(piece, level)?;
            Some((piece.name.as_str(), width))
        })
        .collect();
    let place = widths
        .first()
        .map_or_else(Place::default, |(piece, _)| Place::piece(*piece));
    let overlap = overlap(adapted, level, &widths);
    let garment = Mm(widths.iter().map(|(_, width)| width).sum()) - overlap;
    if garment.0 <= 0.0 {
        return Vec::new();
    }
    figure
        .rings_of(measure)
        .map(|ring| {
            let body = ring.hoop.girth();
            let dressed = body + table.underneath.adds(measure);
            let missing = dressed - garment;
            GarmentRing {
                name: level.label().to_lowercase(),
                taken: Taken::BodyLines,
                place: place.clone(),
                measure,
                limb: ring.limb,
                hoop: ring.hoop.of_girth(garment),
                body,
                dressed,
                garment,
                overlap,
                sits: if missing.0 > DRAWING.0 {
                    Sits::Tight { by: missing }
                } else {
                    Sits::Unjudged
                },
            }
        })
        .collect()
}

/// How far the closure laps over at a level without a tape line: as the girth tape nearest to it says that runs over the
/// same pieces; no more than the pieces measure.
fn overlap(adapted: &Adapted, level: Level, widths: &[(&str, f64)]) -> Mm {
    let height = |level: Level| adapted.fitting.body.height_of(level).0;
    let far = |tape: &&TapeLine| {
        let mut levels = Level::ALL.into_iter();
        let own = levels.find(|level| level.girth() == Some(tape.measure));
        own.map_or(f64::INFINITY, |own| (height(own) - height(level)).abs())
    };
    let laps = |tape: &&TapeLine| {
        let runs_over = |piece: &str| tape.parts.iter().any(|part| part.piece == piece);
        tape.kind == TapeKind::Girth
            && 0.0 < tape.overlap.0
            && widths.iter().any(|(piece, _)| runs_over(piece))
    };
    let tapes = adapted.tape_lines.iter().filter(laps);
    let nearest = tapes.min_by(|a, b| far(a).total_cmp(&far(b)));
    let all: f64 = widths.iter().map(|(_, width)| width).sum();
    nearest.map_or(Mm(0.0), |tape| Mm(tape.overlap.0.min(all)))
}

/// Do pieces of a frame go round the same as the girth of a level does? A skirt at the knee goes round both legs.
fn rounds(frame: Frame, level: Level) -> bool {
    match frame {
        Frame::Torso => matches!(level, Level::Bust | Level::Waist | Level::Hip),
        Frame::Arm => matches!(level, Level::Underarm | Level::Elbow | Level::Wrist),
        Frame::Leg => matches!(level, Level::Crotch | Level::Knee | Level::Ankle),
        Frame::Head => matches!(level, Level::Brow),
    }
}

/// Width of a piece on its body line, less the darts the line crosses; along the edge where the line follows one.
fn line_width(piece: &Piece, level: Level) -> Option<f64> {
    let line = piece.body_lines.iter().find(|line| line.level == level)?;
    if line.from.edge == line.to.edge {
        let edge = piece.outline.edge(&line.from.edge)?;
        return Some(edge.line.length() * (line.to.fraction - line.from.fraction).abs());
    }
    let (from, to) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
    let darts: f64 = piece
        .darts
        .iter()
        .filter_map(|dart| {
            let crossing = |leg: &str| {
                let edge = piece.outline.edge(leg)?;
                crossed(from, to, edge.line.start(), edge.line.end())
            };
            Some((crossing(&dart.leg_in)? - crossing(&dart.leg_out)?).hypot())
        })
        .sum();
    Some(((to - from).hypot() - darts).max(0.0))
}

/// Where the way from `a` to `b` crosses a straight dart leg.
fn crossed(a: Point, b: Point, from: Point, to: Point) -> Option<Point> {
    let (way, leg) = (b - a, to - from);
    let turn = way.cross(leg);
    if turn.abs() < 1e-12 {
        return None;
    }
    let (on_way, on_leg) = ((from - a).cross(leg) / turn, (from - a).cross(way) / turn);
    let inside = (0.0..=1.0).contains(&on_way) && (0.0..=1.0).contains(&on_leg);
    inside.then(|| a + on_way * way)
}

/// Rings and hems of each limb from the top down.
fn cloth(rings: &[GarmentRing], hems: &[Hem]) -> Vec<Solid> {
    let limbs = [
        Limb::Head,
        Limb::Trunk,
        Limb::LeftArm,
        Limb::RightArm,
        Limb::LeftLeg,
        Limb::RightLeg,
    ];
    limbs
        .into_iter()
        .filter_map(|limb| {
            let on_rings = rings.iter().filter(|r| r.limb == limb).map(|r| r.hoop);
            let on_hems = hems.iter().filter(|h| h.limb == limb).map(|h| h.hoop);
            let mut hoops: Vec<Hoop> = on_rings.chain(on_hems).collect();
            hoops.sort_by(|a, b| b.centre.y.total_cmp(&a.centre.y));
            (hoops.len() > 1).then_some(Solid { limb, hoops })
        })
        .collect()
}
