//! Hems on the figure: how wide and how far down a skirt, sleeve or trouser leg ends.
//!
//! A skirt is drawn as a straight cone from the ring above to its hem: exact for a skirt cut as part of a circle. Cloth
//! that would stand out further than [`FLARE`] is said to fall in folds; how, is not drawn.

use std::collections::BTreeMap;
use std::f64::consts::TAU;

use kurbo::Point;

use super::body::BodyFigure;
use super::garment::GarmentRing;
use super::look::InSpace;
use super::solid::{Hoop, Limb};
use crate::edge::{Edge, EdgeRef, Finish, OutlinePoint};
use crate::finding::Place;
use crate::fullness::Filled;
use crate::garment::{Garment, times_on_tape};
use crate::layers::{Band, bands};
use crate::measure::{Level, Measure};
use crate::piece::{BodyLine, Frame, Piece, Placement, Role};
use crate::seams::{Stretch, side_length};
use crate::units::Mm;

/// A hem as a ring on the figure.
#[derive(Debug, Clone, PartialEq)]
pub struct Hem {
    /// Round what.
    pub limb: Limb,
    /// Where, and as wide as it stands.
    pub hoop: Hoop,
    /// Its whole length, all pieces together, overlaps not taken off.
    pub girth: Mm,
    /// The part of it that falls in folds.
    pub in_folds: Mm,
    /// Height above the floor.
    pub above_floor: Mm,
    /// Its edge on the first of its pieces, or on what is sewn on below.
    pub place: Place,
    /// The body line it was measured from, and how far down the cloth.
    pub from: (Level, Mm),
}

/// Sine of the steepest flare that is drawn: about 35 degrees from upright (for the picture, no source).
pub const FLARE: f64 = 0.57;

/// A hem so close to a ring of its own limb (share of the height) is that ring.
const SAME_PLACE: f64 = 0.02;

/// A hem edge of one piece.
struct Bottom {
    place: Place,
    frame: Frame,
    round: f64,
    level: Level,
    drop: f64,
}

/// The hems of the pieces as they are cut; limb by limb.
pub(super) fn hems(figure: &BodyFigure, filled: &Filled, rings: &[GarmentRing]) -> Vec<Hem> {
    let mut frames: BTreeMap<Frame, Vec<Bottom>> = BTreeMap::new();
    for piece in &filled.pieces {
        if let Some(bottom) = bottom(&filled.adapted.made, piece) {
            frames.entry(bottom.frame).or_default().push(bottom);
        }
    }
    frames
        .into_iter()
        .flat_map(|(frame, bottoms)| {
            let limbs: &[Limb] = match frame {
                Frame::Torso => &[Limb::Trunk],
                Frame::Arm => &[Limb::LeftArm, Limb::RightArm],
                Frame::Leg => &[Limb::LeftLeg, Limb::RightLeg],
                Frame::Head => &[],
            };
            limbs
                .iter()
                .filter_map(|limb| hem(figure, rings, *limb, &bottoms))
                .collect::<Vec<_>>()
        })
        .collect()
}

/// Levels of a frame round which a tape goes: what a hem is measured from.
fn ring_levels(frame: Frame) -> &'static [Level] {
    match frame {
        Frame::Torso => &[Level::Bust, Level::Waist, Level::Hip],
        Frame::Arm => &[Level::Underarm, Level::Elbow, Level::Wrist],
        Frame::Leg => &[Level::Crotch, Level::Knee, Level::Ankle],
        Frame::Head => &[],
    }
}

/// What is sewn on below an edge: ruffles, tiers, a band or cuff.
struct Tail {
    /// How far they reach down together.
    depth: f64,
    /// Length of the lowest edge, for one of the edge they hang from.
    wider: f64,
    /// That edge.
    place: Place,
}

/// Tiers sewn one below the other, no more than a skirt has.
const TIERS: usize = 12;

/// What hangs from an edge, tier by tier.
fn tail(garment: &Garment, at: &EdgeRef) -> Option<Tail> {
    let mut found: Option<Tail> = None;
    let mut edge = at.clone();
    for _ in 0..TIERS {
        let Some((band, sewn, wider)) = hung(garment, &edge) else {
            break;
        };
        let lower = lower_edge(&band, &sewn);
        let width = band.piece.outline.edge(&sewn).map(|e| e.line.length())?;
        let below = lower
            .filter(|_| !band.is_folded)
            .map_or(1.0, |edge| edge.line.length() / width.max(1e-9));
        let name = lower.map_or(sewn.as_str(), |edge| edge.name.as_str());
        let before = found.take();
        found = Some(Tail {
            depth: band.depth.0 + before.as_ref().map_or(0.0, |t| t.depth),
            wider: wider * below * before.as_ref().map_or(1.0, |t| t.wider),
            place: Place::edge(&band.piece.name, name),
        });
        if band.is_folded || lower.is_none() {
            break;
        }
        edge = EdgeRef::new(&band.piece.name, name);
    }
    found
}

/// The deepest piece that lies on no part of the body and is sewn to an edge, the edge of it that is sewn, and how much
/// longer its side of the seam is.
fn hung<'a>(garment: &'a Garment, at: &EdgeRef) -> Option<(Band<'a>, String, f64)> {
    let band = bands(garment, at)
        .into_iter()
        .filter(|band| band.piece.name != at.piece)
        .max_by(|a, b| a.depth.0.total_cmp(&b.depth.0))?;
    let name = band.piece.name.clone();
    let of = |side: &[Stretch]| {
        side.iter()
            .any(|s| s.piece == at.piece && s.edge == at.edge)
    };
    let own = |side: &[Stretch]| {
        let own = side.iter().find(|s| s.piece == name);
        own.map(|s| s.edge.clone())
    };
    let (sewn, longer) = garment.seams.iter().find_map(|seam| {
        let (upper, lower) = if of(&seam.a) {
            (&seam.a, &seam.b)
        } else if of(&seam.b) {
            (&seam.b, &seam.a)
        } else {
            return None;
        };
        let sewn = own(lower)?;
        let long = |side| side_length(side, &garment.pieces).ok();
        let (above, below) = (long(upper)?.0, long(lower)?.0);
        Some((sewn, below / above.max(1e-9)))
    })?;
    Some((band, sewn, longer))
}

/// The edge of a ruffle across from the one that is sewn on: the one whose middle lies farthest from it.
fn lower_edge<'a>(band: &Band<'a>, sewn: &str) -> Option<&'a Edge> {
    let middle = |edge: &Edge| edge.line.at(0.5);
    let from = middle(band.piece.outline.edge(sewn)?);
    let others = band.piece.outline.edges().iter();
    others
        .filter(|edge| edge.name != sewn && !edge.is_fold())
        .filter(|edge| is_along(edge, band.piece.outline.edge(sewn)))
        .max_by(|a, b| {
            let far = |edge: &Edge| (middle(edge) - from).hypot();
            far(a).total_cmp(&far(b))
        })
}

/// Does an edge run the same way as another, within 45 degrees between their ends?
fn is_along(edge: &Edge, other: Option<&Edge>) -> bool {
    let way = |edge: &Edge| edge.line.end() - edge.line.start();
    other.is_some_and(|other| {
        let (a, b) = (way(edge), way(other));
        let closed = a.hypot() < 1e-6 || b.hypot() < 1e-6;
        closed || a.dot(b).abs() > 0.7 * a.hypot() * b.hypot()
    })
}

/// The lowest hem edge of a piece, and how far below its lowest body line that a ring goes round; with the ruffles, tiers
/// or bands sewn on there.
fn bottom(garment: &Garment, piece: &Piece) -> Option<Bottom> {
    let Placement::Framed(frame) = piece.placement else {
        return None;
    };
    if piece.copies_in(Role::Shell) == 0 {
        return None;
    }
    let middle = |edge: &Edge| edge.line.at(0.5);
    let at_edge = |edge: &Edge| EdgeRef::new(&piece.name, &edge.name);
    let is_hung = |edge: &Edge| !bands(garment, &at_edge(edge)).is_empty();
    let lowest = piece
        .outline
        .edges()
        .iter()
        .filter(|edge| lies_across(edge) && (is_hem(edge) || is_hung(edge)))
        .min_by(|a, b| middle(a).y.total_cmp(&middle(b).y))?;
    let at = middle(lowest);
    let lines = || piece.body_lines.iter();
    let line = lines()
        .filter(|line| ring_levels(frame).contains(&line.level))
        .max_by_key(|line| line.level)
        .or_else(|| lines().max_by_key(|line| line.level))?;
    let one_limb = match frame {
        Frame::Arm => Measure::WristGirth,
        Frame::Leg => Measure::AnkleGirth,
        Frame::Torso | Frame::Head => Measure::HipGirth,
    };
    let tail = tail(garment, &at_edge(lowest));
    let (depth, wider) = tail.as_ref().map_or((0.0, 1.0), |t| (t.depth, t.wider));
    let place = tail.map_or_else(|| Place::edge(&piece.name, &lowest.name), |t| t.place);
    Some(Bottom {
        place,
        frame,
        round: times_on_tape(piece, one_limb) * lowest.line.length() * wider,
        level: line.level,
        drop: distance_down(piece, line, at)? + depth,
    })
}

fn is_hem(edge: &Edge) -> bool {
    edge.finish.iter().any(|stretch| {
        matches!(stretch.finish, Finish::Hem { .. }) && stretch.to - stretch.from > 0.5
    })
}

/// Does it run across the piece rather than down it? A hemmed front edge is no bottom.
fn lies_across(edge: &Edge) -> bool {
    let way = edge.line.end() - edge.line.start();
    way.x.abs() >= 0.5 * way.y.abs()
}

/// Points looked at on a body line that follows an edge.
const ON_EDGE: u32 = 32;

/// How far a point lies from a body line, below it positive. A line with both ends on one edge follows that edge.
fn distance_down(piece: &Piece, line: &BodyLine, at: Point) -> Option<f64> {
    let (from, to) = (piece.point_at(&line.from)?, piece.point_at(&line.to)?);
    let points: Vec<Point> = if line.from.edge == line.to.edge {
        (0..=ON_EDGE)
            .filter_map(|i| {
                let share = f64::from(i) / f64::from(ON_EDGE);
                let fraction = line.from.fraction + share * (line.to.fraction - line.from.fraction);
                piece.point_at(&OutlinePoint::new(line.from.edge.clone(), fraction))
            })
            .collect()
    } else {
        vec![from, to]
    };
    let nearest = points
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some(nearest_between(*a, *b, at)),
            _ => None,
        })
        .min_by(|a, b| (*a - at).hypot().total_cmp(&(*b - at).hypot()))?;
    let far = (nearest - at).hypot();
    Some(if at.y <= nearest.y { far } else { -far })
}

fn nearest_between(a: Point, b: Point, at: Point) -> Point {
    let way = b - a;
    let long = way.hypot2();
    if long <= 0.0 {
        return a;
    }
    a + ((at - a).dot(way) / long).clamp(0.0, 1.0) * way
}

/// Pieces whose hems lie this close (share of the height) share one hem; a peplum over a skirt is another edge.
const ONE_HEM: f64 = 0.06;

/// The lowest hem of a limb from the bottoms of its pieces.
fn hem(figure: &BodyFigure, rings: &[GarmentRing], limb: Limb, bottoms: &[Bottom]) -> Option<Hem> {
    let height = |bottom: &Bottom| Some(level_height(figure, limb, bottom.level)? - bottom.drop);
    let lowest = bottoms.iter().filter_map(height).min_by(f64::total_cmp)?;
    let same = lowest + ONE_HEM * figure.height.0;
    let shared: Vec<(&Bottom, f64)> = bottoms
        .iter()
        .filter_map(|bottom| Some((bottom, height(bottom)?)))
        .filter(|(_, height)| *height <= same)
        .collect();
    let girth: f64 = shared.iter().map(|(bottom, _)| bottom.round).sum();
    if girth <= 0.0 {
        return None;
    }
    let below = shared
        .iter()
        .map(|(b, height)| b.round * height)
        .sum::<f64>()
        / girth;
    let (first, _) = shared.first()?;
    let hem = if limb == Limb::Trunk {
        skirt(figure, rings, girth, below)
    } else {
        cuff(figure, rings, limb, girth, (first.level, below))
    };
    hem.map(|hem| Hem {
        place: first.place.clone(),
        from: (first.level, Mm(first.drop)),
        ..hem
    })
}

/// Height of a level above the floor; on an arm, down the arm.
fn level_height(figure: &BodyFigure, limb: Limb, level: Level) -> Option<f64> {
    let on_limb = || {
        let mut rings = figure.rings_of(level.girth()?);
        rings
            .find(|ring| ring.limb == limb)
            .map(|ring| ring.hoop.centre.y)
    };
    figure
        .height_of(level)
        .map(|height| height.0)
        .or_else(on_limb)
}

/// From the lowest ring above the hem (the waist of the body where the garment has none) straight down and out.
fn skirt(figure: &BodyFigure, rings: &[GarmentRing], girth: f64, below: f64) -> Option<Hem> {
    let on_trunk = || rings.iter().filter(|ring| ring.limb == Limb::Trunk);
    let near = SAME_PLACE * figure.height.0;
    // A hem right at a ring (a jacket that ends at the waist) is that ring.
    if on_trunk().any(|ring| (ring.hoop.centre.y - below).abs() < near) {
        return None;
    }
    let over = on_trunk()
        .filter(|ring| ring.hoop.centre.y > below)
        .min_by(|a, b| a.hoop.centre.y.total_cmp(&b.hoop.centre.y))
        .map(|ring| ring.hoop)
        .or_else(|| {
            let waist = figure.ring(Measure::WaistGirth).map(|ring| ring.hoop);
            waist.filter(|hoop| hoop.centre.y > below)
        })?;
    let down_the_cloth = over.centre.y - below;
    let out = (girth - over.girth().0) / TAU;
    let drawn_out = out.clamp(-FLARE * down_the_cloth, FLARE * down_the_cloth);
    let drawn = over.girth().0 + TAU * drawn_out;
    let straight_down =
        libm::sqrt((down_the_cloth * down_the_cloth - drawn_out * drawn_out).max(0.0));
    let height = over.centre.y - straight_down;
    let centre = InSpace::new(0.0, height, 0.0);
    Some(Hem {
        limb: Limb::Trunk,
        hoop: Hoop {
            centre,
            ..over.of_girth(Mm(drawn))
        },
        girth: Mm(girth),
        in_folds: Mm((girth - drawn).max(0.0)),
        above_floor: Mm(height),
        place: Place::default(),
        from: (Level::Waist, Mm(0.0)),
    })
}

/// A sleeve or trouser leg ends where its body line says; right at a ring it is that ring.
fn cuff(
    figure: &BodyFigure,
    rings: &[GarmentRing],
    limb: Limb,
    girth: f64,
    (level, below): (Level, f64),
) -> Option<Hem> {
    let base = figure
        .rings_of(level.girth()?)
        .find(|ring| ring.limb == limb)?
        .hoop;
    let way = InSpace::new(libm::sin(base.lean), -libm::cos(base.lean), 0.0);
    let centre = base.centre.plus(base.centre.y - below, way);
    let near = SAME_PLACE * figure.height.0;
    let is_ring = rings
        .iter()
        .any(|ring| ring.limb == limb && (ring.hoop.centre.y - centre.y).abs() < near);
    if is_ring {
        return None;
    }
    Some(Hem {
        limb,
        hoop: Hoop {
            centre,
            ..base.of_girth(Mm(girth))
        },
        girth: Mm(girth),
        in_folds: Mm(0.0),
        above_floor: Mm(centre.y),
        place: Place::default(),
        from: (level, Mm(0.0)),
    })
}
