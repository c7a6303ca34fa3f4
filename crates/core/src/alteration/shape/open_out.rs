//! A piece on the fold opened out into a whole one: the other half is drawn as the mirror image of the first.

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::{Affine, Vec2};

use super::edges::one_line;
use super::kept::{closed, sound};
use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::{Edge, EdgeRef, FinishStretch, OutlinePoint};
use crate::finding::{Finding, Gravity, Place};
use crate::garment::{Garment, Opening};
use crate::notch::Notch;
use crate::piece::{BodyLine, Dart, DartPress, FollowRule, Mark, Piece, Placement, Side};
use crate::seams::{Seam, Stretch};
use crate::tape::{TapeKind, TapeLine, TapePart, TapePath};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Edges whose directions at the fold differ by less than this (radians) run over it as one edge.
const RUNS_ON: f64 = 0.02;

/// Opens a piece out at its fold.
pub(super) fn open_out(piece: &Piece, garment: &Garment) -> Result<Altered, AlterationError> {
    let opened = Opened::new(piece)?;
    let whole = opened.piece()?;
    sound(piece, &whole)?;
    let whole = Arc::new(whole);
    let put = |old: &Arc<Piece>| {
        if old.name == piece.name {
            whole.clone()
        } else {
            old.clone()
        }
    };
    // what lies on the fold is said anew, so it has nothing to follow from
    let mut before = garment.clone();
    for old in before
        .pieces
        .iter_mut()
        .filter(|old| old.name == piece.name)
    {
        Arc::make_mut(old).body_lines.clear();
    }
    before.tape_lines.clear();
    before.openings.clear();
    let pieces = garment.pieces.iter().map(put).collect();
    let mut altered = opened.carried.clone().altered(&before, pieces);
    opened.stand_on(&mut altered.garment)?;
    altered.garment.tape_lines = opened.tapes(garment, &mut altered.notes);
    opened.sew(garment, &mut altered);
    altered.garment.openings = opened.openings(garment);
    opened.allow(&mut altered.garment);
    Ok(altered)
}

/// A half, and what its other half is.
struct Opened<'a> {
    piece: &'a Piece,
    fold: &'a Edge,
    /// Takes a point to its place in the other half.
    mirror: Affine,
    edges: Vec<Edge>,
    /// For every edge of the half, the bit of the whole that its mirror image is.
    images: BTreeMap<String, Bit>,
    carried: Carried,
}

impl<'a> Opened<'a> {
    fn new(piece: &'a Piece) -> Result<Self, AlterationError> {
        let missing = || {
            AlterationError::Refused(
                "it lies on no fold; finish an edge as the fold first, or copy the piece"
                    .to_owned(),
            )
        };
        let fold = piece.fold_edge().ok_or_else(missing)?;
        let all = piece.outline.edges();
        if all.len() < 3 || all.iter().filter(|edge| edge.is_fold()).count() != 1 {
            return Err(AlterationError::Refused(format!(
                "{} must be its one fold, with at least 2 edges beside it; split an edge first",
                fold.name
            )));
        }
        let (from, along) = (fold.line.start(), fold.line.direction(0.5));
        let bend = fold.line.points().iter();
        let bend = bend
            .map(|p| (*p - from).cross(along).abs())
            .fold(0.0, f64::max);
        if bend > JOINING.0 {
            return Err(AlterationError::Refused(format!(
                "the fold bends by {bend:.2} mm; straighten it first"
            )));
        }
        let mut opened = Self {
            piece,
            fold,
            mirror: Affine::reflect(from, along),
            edges: Vec::new(),
            images: BTreeMap::new(),
            carried: Carried::default(),
        };
        opened.lay_edges()?;
        Ok(opened)
    }

    fn own(&self, edge: &str) -> EdgeRef {
        EdgeRef::new(&self.piece.name, edge)
    }

    /// The edges of the half from the end of the fold on.
    fn half(&self) -> Vec<&'a Edge> {
        let all = self.piece.outline.edges();
        let fold = all.iter().position(|edge| edge.is_fold()).unwrap_or(0);
        let rest = (1..all.len()).map(|step| (fold + step) % all.len());
        rest.filter_map(|i| all.get(i)).collect()
    }

    fn image(&self, edge: &Edge) -> Edge {
        Edge {
            line: edge.line.mapped(|p| self.mirror * p),
            ..edge.clone()
        }
        .reversed()
    }

    fn lay_edges(&mut self) -> Result<(), AlterationError> {
        let half = self.half();
        let (Some(first), Some(last)) = (half.first(), half.last()) else {
            return Err(AlterationError::NotFinite);
        };
        let square = |edge: &Edge, way: Vec2| {
            let along = self.fold.line.direction(0.5);
            !edge.is_fold() && way.dot(along).abs() <= RUNS_ON
        };
        let join_last = square(last, last.line.direction(1.0));
        let join_first = square(first, first.line.direction(0.0));
        let mut carried = Carried::default().with_edge(self.own(&self.fold.name), Vec::new());
        let mut edges: Vec<Edge> = half.iter().map(|edge| (*edge).clone()).collect();
        let mut images = BTreeMap::new();
        for (i, edge) in half.iter().enumerate().rev() {
            let image = self.image(edge);
            if (i + 1 == half.len() && join_last) || (i == 0 && join_first) {
                let at_end = i + 1 == half.len() && join_last;
                let place = if at_end { edges.len() - 1 } else { 0 };
                let Some(there) = edges.get_mut(place) else {
                    continue;
                };
                *there = run_over(there, &image, at_end)?;
                let (own, other) = if at_end {
                    ((0.0, 0.5), (1.0, 0.5))
                } else {
                    ((0.5, 1.0), (0.5, 0.0))
                };
                let at = EdgeRef::new(&self.piece.name, &edge.name);
                carried =
                    carried.with_edge(at.clone(), vec![Bit::new((0.0, 1.0), at.clone(), own)]);
                images.insert(edge.name.clone(), Bit::new((0.0, 1.0), at, other));
            } else {
                let name = crate::alteration::darts::fresh_edge(self.piece, &edges, &edge.name);
                let at = EdgeRef::new(&self.piece.name, &name);
                images.insert(edge.name.clone(), Bit::new((0.0, 1.0), at, (1.0, 0.0)));
                edges.push(Edge { name, ..image });
            }
        }
        (self.edges, self.images, self.carried) = (edges, images, carried);
        Ok(())
    }

    fn piece(&self) -> Result<Piece, AlterationError> {
        let mut marks: Vec<Mark> = self.piece.marks.clone();
        for mark in &self.piece.marks {
            let middle = mark.kind.middle();
            if (self.mirror * middle - middle).hypot() > JOINING.0 {
                marks.push(Mark {
                    kind: mark.kind.mapped(|p| self.mirror * p),
                    ..mark.clone()
                });
            }
        }
        let line = &self.fold.line;
        Ok(Piece {
            outline: closed(self.edges.clone())?,
            grainline: Some((line.at(0.25), line.at(0.75))),
            marks,
            placement: self.placement(),
            ..self.piece.clone()
        })
    }

    /// A share of a girth or a typed size across the fold is twice as large now.
    fn placement(&self) -> Placement {
        let double = |rule: &FollowRule| match rule {
            FollowRule::ShareOfGirth { measure, share } => FollowRule::ShareOfGirth {
                measure: *measure,
                share: share * 2.0,
            },
            FollowRule::Typed(size) => FollowRule::Typed(Mm(size.0 * 2.0)),
            other => other.clone(),
        };
        let mut placement = self.piece.placement.clone();
        if let Placement::Follows(follow) = &mut placement {
            let along = self.fold.line.direction(0.5);
            let rule = if along.y.abs() > along.x.abs() {
                &mut follow.length
            } else {
                &mut follow.depth
            };
            *rule = double(rule);
        }
        placement
    }

    /// Where a place of the half lies in the other half.
    fn image_of(&self, at: &OutlinePoint) -> Option<OutlinePoint> {
        let bit = self.images.get(&at.edge)?;
        Some(OutlinePoint::new(&bit.edge.edge, bit.at(at.fraction)))
    }

    /// Where a place of the half is now; the two ends of the fold are places of the edges beside it.
    fn now(&self, at: &OutlinePoint) -> Option<OutlinePoint> {
        if at.edge != self.fold.name {
            return Some(self.carried.point(&self.piece.name, at)?.1);
        }
        let half = self.half();
        let beside = if at.fraction <= 1e-6 {
            OutlinePoint::new(&half.last()?.name, 1.0)
        } else if at.fraction >= 1.0 - 1e-6 {
            OutlinePoint::new(&half.first()?.name, 0.0)
        } else {
            return None;
        };
        Some(self.carried.point(&self.piece.name, &beside)?.1)
    }

    /// Both ends of a line over the half, as they lie over the whole.
    fn over(&self, from: &OutlinePoint, to: &OutlinePoint) -> Option<(OutlinePoint, OutlinePoint)> {
        match (from.edge == self.fold.name, to.edge == self.fold.name) {
            (true, false) => Some((self.image_of(to)?, self.now(to)?)),
            (false, true) => Some((self.now(from)?, self.image_of(from)?)),
            _ => Some((self.now(from)?, self.now(to)?)),
        }
    }

    /// Notches, body lines, darts, fullness and finishes of the other half.
    fn stand_on(&self, garment: &mut Garment) -> Result<(), AlterationError> {
        let mut pieces = garment.pieces.iter_mut();
        let Some(piece) = pieces.find(|piece| piece.name == self.piece.name) else {
            return Ok(());
        };
        let piece = Arc::make_mut(piece);
        piece.outline = closed(self.edges.clone())?;
        for notch in &self.piece.notches {
            let at = OutlinePoint::new(&notch.edge, notch.fraction);
            if let Some(at) = self.image_of(&at) {
                piece.notches.push(Notch {
                    edge: at.edge,
                    fraction: at.fraction,
                    kind: notch.kind,
                });
            }
        }
        for line in &self.piece.body_lines {
            if let Some((from, to)) = self.over(&line.from, &line.to) {
                piece.body_lines.push(BodyLine {
                    level: line.level,
                    from,
                    to,
                });
            }
        }
        for dart in &self.piece.darts {
            let leg = |name: &str| Some(self.images.get(name)?.edge.edge.clone());
            let Some((leg_in, leg_out)) = leg(&dart.leg_out).zip(leg(&dart.leg_in)) else {
                continue;
            };
            piece.darts.push(Dart {
                name: format!("{}, other half", dart.name),
                leg_in,
                leg_out,
                pressed: match dart.pressed {
                    DartPress::Before => DartPress::After,
                    DartPress::After => DartPress::Before,
                },
            });
        }
        for op in &self.piece.fullness {
            let Some(bit) = self.images.get(&op.edge) else {
                continue;
            };
            let mut other = op.clone();
            other.edge.clone_from(&bit.edge.edge);
            (other.from, other.to) = (bit.at(op.to), bit.at(op.from));
            other.layout = op.layout.mirrored();
            let even_to = op.even_to.as_ref().and_then(|edge| self.images.get(edge));
            other.even_to = even_to.map(|bit| bit.edge.edge.clone());
            piece.fullness.push(other);
        }
        Ok(())
    }

    fn tapes(&self, before: &Garment, notes: &mut Vec<Finding>) -> Vec<TapeLine> {
        let mut tapes = Vec::new();
        for tape in &before.tape_lines {
            let mut parts = Vec::new();
            for part in &tape.parts {
                if part.piece != self.piece.name {
                    parts.push(part.clone());
                    continue;
                }
                let paths = self.paths(&part.path, tape.kind);
                if paths.is_empty() {
                    notes.push(note(
                        &tape.name,
                        format!(
                            "its part on {} lay on the fold and could not follow.",
                            part.piece
                        ),
                        "Lay the tape anew, so that the garment can be adapted by it.",
                    ));
                }
                parts.extend(paths.into_iter().map(|path| TapePart {
                    piece: part.piece.clone(),
                    path,
                }));
            }
            if !parts.is_empty() || tape.parts.is_empty() {
                tapes.push(TapeLine {
                    parts,
                    ..tape.clone()
                });
            }
        }
        tapes
    }

    /// How a tape lies on the whole: round both halves for a girth, as it lay for a length.
    fn paths(&self, path: &TapePath, kind: TapeKind) -> Vec<TapePath> {
        let both = kind == TapeKind::Girth;
        match path {
            TapePath::Along { edge, from, to } if *edge == self.fold.name => {
                let ends = [from, to].map(|at| self.now(&OutlinePoint::new(edge, *at)));
                let upright = self.fold.line.direction(0.5).x.abs() <= RUNS_ON;
                match ends {
                    [Some(a), Some(b)] if upright => vec![TapePath::Upright(a, b)],
                    [Some(a), Some(b)] => vec![TapePath::Across(a, b)],
                    _ => Vec::new(),
                }
            }
            TapePath::Along { edge, from, to } => {
                let along = |bit: &Bit| TapePath::Along {
                    edge: bit.edge.edge.clone(),
                    from: bit.at(*from),
                    to: bit.at(*to),
                };
                let own = self.carried.bits(&self.own(edge));
                let image = self.images.get(edge).filter(|_| both);
                own.iter().chain(image).map(along).collect()
            }
            TapePath::Across(a, b) => {
                let on_fold = [a, b].map(|at| at.edge == self.fold.name);
                if !both && on_fold != [false, false] {
                    let ends = self.now(a).zip(self.now(b));
                    return ends
                        .map(|(a, b)| TapePath::Across(a, b))
                        .into_iter()
                        .collect();
                }
                let mut paths: Vec<TapePath> = self
                    .over(a, b)
                    .map(|(a, b)| TapePath::Across(a, b))
                    .into_iter()
                    .collect();
                if both && on_fold == [false, false] {
                    let image = self.image_of(a).zip(self.image_of(b));
                    paths.extend(image.map(|(a, b)| TapePath::Across(a, b)));
                }
                paths
            }
            TapePath::Upright(a, b) => {
                let ends = self.now(a).zip(self.now(b));
                ends.map(|(a, b)| TapePath::Upright(a, b))
                    .into_iter()
                    .collect()
            }
        }
    }

    /// What the half was sewn to, the other half is sewn to on the other side of the body.
    fn sew(&self, before: &Garment, altered: &mut Altered) {
        let touches = |seam: &&Seam| {
            let mut sides = seam.a.iter().chain(&seam.b);
            sides.any(|stretch| stretch.piece == self.piece.name)
        };
        for seam in before.seams.iter().filter(touches) {
            let sides = [&seam.a, &seam.b].map(|side| {
                let other = side.iter().map(|stretch| self.other_side(before, stretch));
                other.collect::<Option<Vec<Stretch>>>()
            });
            let [Some(a), Some(b)] = sides else {
                altered.notes.push(note(
                    &seam.name,
                    format!(
                        "the other half of {} is sewn to nothing yet.",
                        self.piece.name
                    ),
                    "Say what it is sewn to.",
                ));
                continue;
            };
            let seams = &mut altered.garment.seams;
            for own in seams.iter_mut().filter(|own| own.name == seam.name) {
                own.mirrored = false;
            }
            let mut name = format!("{}, other half", seam.name);
            while seams.iter().any(|other| other.name == name) {
                name.push_str(" 2");
            }
            seams.push(Seam {
                name,
                a,
                b,
                mirrored: false,
                ..seam.clone()
            });
        }
    }

    /// The same stretch on the other side of the body; `None` where that is not known.
    fn other_side(&self, garment: &Garment, stretch: &Stretch) -> Option<Stretch> {
        let mut other = stretch.clone();
        if stretch.piece == self.piece.name {
            let bit = self.images.get(&stretch.edge)?;
            other.edge.clone_from(&bit.edge.edge);
            (other.from, other.to) = (bit.at(stretch.from), bit.at(stretch.to));
            return Some(other);
        }
        let folded = garment.piece(&stretch.piece)?.fold_edge().is_some();
        other.copy.side = match stretch.copy.side {
            Side::Right => Side::Left,
            Side::Left => Side::Right,
            Side::Whole if folded => Side::Whole,
            Side::Whole => return None,
        };
        Some(other)
    }

    /// The girth of a hole goes round both halves; a slit stays where it is.
    fn openings(&self, before: &Garment) -> Vec<Opening> {
        let is_fold = |edge: &EdgeRef| *edge == self.own(&self.fold.name);
        let image = |edge: &EdgeRef| {
            let image = self.images.get(&edge.edge);
            image
                .filter(|_| edge.piece == self.piece.name)
                .map(|bit| bit.edge.clone())
        };
        let mut openings = Vec::new();
        for opening in &before.openings {
            let mut hole: Vec<EdgeRef> = Vec::new();
            for edge in opening.hole.iter().filter(|edge| !is_fold(edge)) {
                for edge in [Some(edge.clone()), image(edge)].into_iter().flatten() {
                    if !hole.contains(&edge) {
                        hole.push(edge);
                    }
                }
            }
            let slit = opening.slit.iter().filter(|edge| !is_fold(edge));
            openings.push(Opening {
                hole,
                slit: slit.cloned().collect(),
                ..opening.clone()
            });
        }
        openings
    }

    /// Allowances that were drawn in are on both halves.
    fn allow(&self, garment: &mut Garment) {
        for edge in self.half() {
            let width = garment
                .included_allowance
                .get(&self.own(&edge.name))
                .copied();
            if let Some((width, bit)) = width.zip(self.images.get(&edge.name)) {
                garment.included_allowance.insert(bit.edge.clone(), width);
            }
        }
    }
}

/// An edge and its mirror image as one edge over the fold.
fn run_over(edge: &Edge, image: &Edge, at_end: bool) -> Result<Edge, AlterationError> {
    let (first, second) = if at_end { (edge, image) } else { (image, edge) };
    let line = one_line(&first.line, &second.line).ok_or(AlterationError::NotFinite)?;
    let part = |edge: &Edge, start: f64| {
        let halved = edge.finish.iter().map(move |s| FinishStretch {
            from: start + s.from / 2.0,
            to: start + s.to / 2.0,
            finish: s.finish,
        });
        halved.collect::<Vec<_>>()
    };
    let mut finish = part(first, 0.0);
    for stretch in part(second, 0.5) {
        match finish.last_mut() {
            Some(last) if last.finish == stretch.finish && last.to >= stretch.from - 1e-9 => {
                last.to = stretch.to;
            }
            _ => finish.push(stretch),
        }
    }
    Ok(Edge {
        name: edge.name.clone(),
        line,
        finish,
        allowance: edge.allowance,
    })
}

fn note(place: &str, what: String, advice: &str) -> Finding {
    Finding {
        gravity: Gravity::Care,
        place: Place::part(place),
        what,
        advice: advice.to_owned(),
        remedy: None,
    }
}
