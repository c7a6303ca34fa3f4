//! What every change of an outline must keep: it stays closed and simple, edges keep a length, folds stay on their
//! line, and what is marked on an edge stays at its place on the cloth.

use std::sync::Arc;

use kurbo::{ParamCurveArclen, Shape};

use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::{Edge, EdgeRef};
use crate::fullness::FullnessOp;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::geometry::simple::crosses_itself;
use crate::piece::{Dart, Piece};
use crate::tolerance::{JOINING, MEASURING};

/// How near two fractions lie that count as one.
pub(crate) const NEAR: f64 = 1e-9;

/// The least part of an edge that is taken for new cloth when it is stretched at one place.
const SLIVER: f64 = 1e-6;

/// A changed piece, and where its edges went.
pub(in crate::alteration) struct Reshaped {
    pub piece: Piece,
    pub carried: Carried,
    /// The darts it has now, where these are not the old ones that followed.
    pub darts: Option<Vec<Dart>>,
    /// Fullness it has besides that which followed.
    pub fullness: Vec<FullnessOp>,
}

impl Reshaped {
    /// The piece with other lines under the same edges; what is marked stays beside the same cubic.
    pub fn with_lines(old: &Piece, lines: Vec<Line>) -> Result<Self, AlterationError> {
        let carried = along_cubics(old, &lines);
        let edges = old.outline.edges().iter().zip(lines);
        let edges = edges.map(|(edge, line)| Edge {
            line,
            ..edge.clone()
        });
        Self::with_edges(old, edges.collect(), carried)
    }

    /// The piece with other edges.
    pub fn with_edges(
        old: &Piece,
        edges: Vec<Edge>,
        carried: Carried,
    ) -> Result<Self, AlterationError> {
        Ok(Self {
            piece: Piece {
                outline: closed(edges)?,
                ..old.clone()
            },
            carried,
            darts: None,
            fullness: Vec::new(),
        })
    }

    /// The garment with this piece in place of the old one, if its outline is sound and its fold has kept its line.
    pub fn in_place_of(self, old: &Piece, garment: &Garment) -> Result<Altered, AlterationError> {
        let altered = self.turned_in_place_of(old, garment)?;
        let piece = altered.garment.piece(&old.name);
        piece.map_or(Ok(()), |new| folds_kept(old, new))?;
        Ok(altered)
    }

    /// The same for a piece that was turned or mirrored as a whole, its fold with it.
    pub fn turned_in_place_of(
        self,
        old: &Piece,
        garment: &Garment,
    ) -> Result<Altered, AlterationError> {
        sound(old, &self.piece)?;
        let (darts, fullness) = (self.darts, self.fullness);
        let new = Arc::new(self.piece);
        let put = |piece: &Arc<Piece>| {
            if piece.name == old.name {
                new.clone()
            } else {
                piece.clone()
            }
        };
        let pieces = garment.pieces.iter().map(put).collect();
        let before = if darts.is_some() {
            without_darts(garment, &old.name)
        } else {
            garment.clone()
        };
        let mut altered = self.carried.altered(&before, pieces);
        let mut pieces = altered.garment.pieces.iter_mut();
        if let Some(piece) = pieces.find(|piece| piece.name == old.name) {
            let piece = Arc::make_mut(piece);
            piece.darts = darts.unwrap_or_else(|| std::mem::take(&mut piece.darts));
            piece.fullness.extend(fullness);
        }
        Ok(altered)
    }
}

/// The garment whose piece has no darts to follow: the change says itself what became of them.
fn without_darts(garment: &Garment, name: &str) -> Garment {
    let mut garment = garment.clone();
    for piece in garment.pieces.iter_mut().filter(|piece| piece.name == name) {
        Arc::make_mut(piece).darts.clear();
    }
    garment
}

/// The outline of these edges, if it still runs counter-clockwise.
pub(in crate::alteration) fn closed(edges: Vec<Edge>) -> Result<Outline, AlterationError> {
    let mut path = kurbo::BezPath::new();
    for cubic in edges.iter().flat_map(|edge| edge.line.cubics()) {
        if path.is_empty() {
            path.move_to(cubic.p0);
        }
        path.curve_to(cubic.p1, cubic.p2, cubic.p3);
    }
    path.close_path();
    let inside_out = path.area() <= 0.0;
    let outline = Outline::new(edges)?;
    if inside_out {
        return Err(AlterationError::Crosses);
    }
    Ok(outline)
}

/// Every edge has a length, and the outline does not cross itself (unless it did before: then every change may help).
pub(in crate::alteration) fn sound(old: &Piece, new: &Piece) -> Result<(), AlterationError> {
    let short = |edge: &&Edge| edge.line.length() <= MEASURING.0;
    if let Some(edge) = new.outline.edges().iter().find(short) {
        return Err(AlterationError::Refused(format!(
            "{} would have no length left; move it less, or join it to its neighbour first",
            edge.name
        )));
    }
    if crosses_itself(&new.outline).is_some() && crosses_itself(&old.outline).is_none() {
        return Err(AlterationError::Crosses);
    }
    Ok(())
}

/// Folds stay straight and keep their direction.
pub(in crate::alteration) fn folds_kept(old: &Piece, new: &Piece) -> Result<(), AlterationError> {
    for edge in new.outline.edges().iter().filter(|edge| edge.is_fold()) {
        let before = old.outline.edge(&edge.name).filter(|edge| edge.is_fold());
        let Some(before) = before.or_else(|| old.fold_edge()) else {
            continue;
        };
        let along = before.line.direction(0.5);
        let from = edge.line.start();
        let points = edge.line.points().iter();
        let off = points
            .map(|p| (*p - from).cross(along).abs())
            .fold(0.0, f64::max);
        if off > JOINING.0 {
            return Err(AlterationError::LeavesFold(off));
        }
    }
    Ok(())
}

/// The dart that has this edge as a leg.
pub(in crate::alteration) fn dart_of<'a>(piece: &'a Piece, edge: &str) -> Option<&'a Dart> {
    let leg = |dart: &&Dart| dart.leg_in == edge || dart.leg_out == edge;
    piece.darts.iter().find(leg)
}

/// An edge that must stay whole because it is a leg of a dart.
pub(in crate::alteration) fn no_leg(piece: &Piece, edge: &str) -> Result<(), AlterationError> {
    match dart_of(piece, edge) {
        None => Ok(()),
        Some(dart) => Err(AlterationError::Refused(format!(
            "{edge} is a leg of {}, and legs stay whole edges; choose a place on another edge, or take the dart out first",
            dart.name
        ))),
    }
}

/// Where everything on the edges went when every cubic of an edge stayed the same cubic.
fn along_cubics(old: &Piece, lines: &[Line]) -> Carried {
    let mut carried = Carried::default();
    for (edge, line) in old.outline.edges().iter().zip(lines) {
        if let Some(bits) = cubic_bits(&EdgeRef::new(&old.name, &edge.name), &edge.line, line) {
            carried = carried.with_edge(EdgeRef::new(&old.name, &edge.name), bits);
        }
    }
    carried
}

/// `None` where the number of cubics differs, or no place moves along the edge.
fn cubic_bits(at: &EdgeRef, old: &Line, new: &Line) -> Option<Vec<Bit>> {
    if old == new || old.points().len() != new.points().len() {
        return None;
    }
    let (before, after) = (reached(old)?, reached(new)?);
    let moved = before.iter().zip(&after).any(|(a, b)| (a - b).abs() > NEAR);
    if !moved {
        return None;
    }
    let steps = before.windows(2).zip(after.windows(2));
    let bits = steps.filter_map(|(old, new)| match (old, new) {
        ([from, to], [start, end]) if to - from > NEAR => {
            Some(Bit::new((*from, *to), at.clone(), (*start, *end)))
        }
        _ => None,
    });
    Some(bits.collect())
}

/// The fractions of a line where its cubics begin, and 1; `None` for a line without length.
pub(super) fn reached(line: &Line) -> Option<Vec<f64>> {
    let lengths = line
        .cubics()
        .map(|c| c.arclen(MEASURING.0 * 1e-6))
        .collect::<Vec<f64>>();
    let total: f64 = lengths.iter().sum();
    if total <= 0.0 {
        return None;
    }
    let mut sum = 0.0;
    let mut fractions = vec![0.0];
    for length in &lengths {
        sum += length;
        fractions.push(sum / total);
    }
    *fractions.last_mut()? = 1.0;
    Some(fractions)
}

/// Where an edge went that became longer or shorter at one place: what lies before keeps its distance from the start,
/// what lies beyond keeps its distance from the end. The place itself stays with what lies before it.
pub(super) fn stretched_at(edge: EdgeRef, place: f64, old: f64, new: f64) -> Vec<Bit> {
    let (from, to, start, end) = if new >= old {
        let to = (place + SLIVER).min(1.0);
        let from = to - SLIVER;
        (from, to, from * old / new, 1.0 - (1.0 - to) * old / new)
    } else {
        let gone = (old - new) / old;
        let from = (place - gone / 2.0).clamp(0.0, 1.0 - gone);
        let cut = from * old / new;
        (from, from + gone, cut - SLIVER / 2.0, cut + SLIVER / 2.0)
    };
    let (start, end) = (start.clamp(0.0, 1.0), end.clamp(0.0, 1.0));
    let bit = |old: (f64, f64), new: (f64, f64)| {
        (old.1 - old.0 > NEAR).then(|| Bit::new(old, edge.clone(), new))
    };
    [
        bit((0.0, from), (0.0, start)),
        bit((from, to), (start, end)),
        bit((to, 1.0), (end, 1.0)),
    ]
    .into_iter()
    .flatten()
    .collect()
}
