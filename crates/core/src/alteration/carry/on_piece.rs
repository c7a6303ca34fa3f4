//! What stands on the pieces follows their edges: finishes, notches, body lines, darts, fullness.

use std::sync::Arc;

use kurbo::{ParamCurve, Point};

use super::{Bit, Carried, NEAR};
use crate::edge::{Edge, EdgeRef, Finish, FinishStretch, OutlinePoint};
use crate::finding::{Finding, Gravity, Place};
use crate::fullness::{Fullness, FullnessOp};
use crate::geometry::crossing::crossings;
use crate::geometry::outline::Outline;
use crate::geometry::parallel::straight;
use crate::piece::{BodyLine, Dart, DartPress, Piece};
use crate::tolerance::JOINING;

/// Lets everything that stands on an old piece follow to the new ones.
pub(super) fn follow(
    carried: &Carried,
    old: &Piece,
    new: &mut [Arc<Piece>],
    notes: &mut Vec<Finding>,
) {
    for notch in &old.notches {
        let edge = EdgeRef::new(&old.name, &notch.edge);
        let moved = carried.place(&edge, notch.fraction).and_then(|(at, to)| {
            let mut moved = notch.clone();
            (moved.edge, moved.fraction) = (at.edge, to);
            on(new, &at.piece).map(|piece| piece.notches.push(moved))
        });
        if moved.is_none() {
            let what = "the notch here is gone with its part of the edge.";
            notes.push(lost(
                Place::edge(&old.name, &notch.edge),
                what.to_owned(),
                "Mark it anew where it is needed.",
            ));
        }
    }
    for line in &old.body_lines {
        if !body_line(carried, old, line, new) {
            let what = format!(
                "its {} line could not follow.",
                line.level.label().to_lowercase()
            );
            notes.push(lost(
                Place::piece(&old.name),
                what,
                "Lay it anew, so that the piece can be adapted by it.",
            ));
        }
    }
    for dart in &old.darts {
        if !follow_dart(carried, &old.name, dart, new) {
            let what = format!(
                "{} is no dart any more: its legs are no longer two whole edges.",
                dart.name
            );
            notes.push(lost(Place::piece(&old.name), what, "Cut it anew."));
        }
    }
    for op in &old.fullness {
        fullness(carried, &old.name, op, new, notes);
    }
}

pub(super) fn lost(place: Place, what: String, advice: &str) -> Finding {
    Finding {
        gravity: Gravity::Care,
        place,
        what,
        advice: advice.to_owned(),
        remedy: None,
    }
}

fn on<'a>(pieces: &'a mut [Arc<Piece>], name: &str) -> Option<&'a mut Piece> {
    let found = pieces.iter_mut().find(|piece| piece.name == name);
    found.map(Arc::make_mut)
}

/// A body line goes to the piece that has both its ends; where a piece was cut across it, each part keeps its share.
fn body_line(carried: &Carried, old: &Piece, line: &BodyLine, new: &mut [Arc<Piece>]) -> bool {
    let ends = [&line.from, &line.to];
    let moved = ends.map(|end| carried.point(&old.name, end));
    let [Some((from_piece, from)), Some((to_piece, to))] = moved else {
        return false;
    };
    if from_piece == to_piece {
        let whole = BodyLine {
            level: line.level,
            from,
            to,
        };
        return on(new, &from_piece)
            .map(|piece| piece.body_lines.push(whole))
            .is_some();
    }
    let Some(chord) = old.point_at(&line.from).zip(old.point_at(&line.to)) else {
        return false;
    };
    let shares = [
        share_of_chord(new, &from_piece, &from, chord),
        share_of_chord(new, &to_piece, &to, (chord.1, chord.0)),
    ];
    let [Some(first), Some(second)] = shares else {
        return false;
    };
    let halves = [(from_piece, from, first), (to_piece, second, to)];
    for (name, from, to) in halves {
        if let Some(piece) = on(new, &name) {
            piece.body_lines.push(BodyLine {
                level: line.level,
                from,
                to,
            });
        }
    }
    true
}

/// Where a straight line that starts at a place of a new piece leaves it; `None` when the piece has moved away.
pub(super) fn share_of_chord(
    pieces: &[Arc<Piece>],
    name: &str,
    start: &OutlinePoint,
    (from, to): (Point, Point),
) -> Option<OutlinePoint> {
    let piece = pieces.iter().find(|piece| piece.name == name)?;
    if (piece.point_at(start)? - from).hypot() > JOINING.0 {
        return None;
    }
    let line = [straight(from, to)];
    let reach = (to - from).hypot();
    let mut met: Option<(f64, OutlinePoint)> = None;
    for edge in piece.outline.edges() {
        let cubics: Vec<_> = edge.line.cubics().collect();
        for crossing in crossings(&line, &cubics) {
            let along = crossing.first.t * reach;
            let nearer = met.as_ref().is_none_or(|(before, _)| along < *before);
            if along > JOINING.0 && nearer {
                let at = cubics.get(crossing.second.cubic)?;
                let fraction =
                    crate::allowance::fraction_near(&edge.line, at.eval(crossing.second.t));
                met = Some((along, OutlinePoint::new(&edge.name, fraction)));
            }
        }
    }
    met.map(|(_, at)| at)
}

/// A dart stays one while each of its legs is one whole edge. When its piece is mirrored, its legs change places.
fn follow_dart(carried: &Carried, piece: &str, dart: &Dart, new: &mut [Arc<Piece>]) -> bool {
    let leg = |name: &str| carried.whole_edge(&EdgeRef::new(piece, name));
    let Some(((first, turned), (second, too))) = leg(&dart.leg_in).zip(leg(&dart.leg_out)) else {
        return false;
    };
    if first.piece != second.piece || turned != too {
        return false;
    }
    let Some(piece) = on(new, &first.piece) else {
        return false;
    };
    let (leg_in, leg_out) = if turned {
        (second.edge, first.edge)
    } else {
        (first.edge, second.edge)
    };
    let pressed = match (dart.pressed, turned) {
        (DartPress::Before, true) => DartPress::After,
        (DartPress::After, true) => DartPress::Before,
        (as_it_was, false) => as_it_was,
    };
    piece.darts.push(Dart {
        leg_in,
        leg_out,
        pressed,
        ..dart.clone()
    });
    true
}

fn fullness(
    carried: &Carried,
    piece: &str,
    op: &FullnessOp,
    new: &mut [Arc<Piece>],
    notes: &mut Vec<Finding>,
) {
    let edge = EdgeRef::new(piece, &op.edge);
    let parts = carried.range(&edge, op.from, op.to);
    let kept: Vec<f64> = shares(carried, &edge, op);
    let opposite = op.even_to.as_ref().map(|name| {
        let bits = carried.bits(&EdgeRef::new(piece, name));
        bits.into_iter()
            .max_by(|a, b| (a.to - a.from).total_cmp(&(b.to - b.from)))
    });
    let split = parts.len() != 1;
    if split || opposite == Some(None) {
        let what = match parts.len() {
            0 => "the fullness here is gone with its part of the edge.".to_owned(),
            1 => "the edge it is spread even to is gone.".to_owned(),
            many => format!("the fullness here now lies on {many} edges."),
        };
        notes.push(lost(
            Place::edge(piece, &op.edge),
            what,
            "Look at its folds and what it is spread to.",
        ));
    }
    let counts = shared_out(&op.fullness, &kept);
    for (part, fullness) in parts.into_iter().zip(counts) {
        let Some(fullness) = fullness else { continue };
        let even_to = opposite
            .clone()
            .flatten()
            .filter(|bit| bit.edge.piece == part.edge.piece)
            .map(|bit| bit.edge.edge);
        if let Some(target) = on(new, &part.edge.piece) {
            let mut moved = op.clone();
            moved.edge = part.edge.edge;
            (moved.from, moved.to) = (part.from.min(part.to), part.from.max(part.to));
            (moved.fullness, moved.even_to) = (fullness, even_to);
            if part.from > part.to {
                moved.layout = moved.layout.mirrored();
            }
            target.fullness.push(moved);
        }
    }
}

/// What share of a fullness lies on each part it became, of 1.
fn shares(carried: &Carried, edge: &EdgeRef, op: &FullnessOp) -> Vec<f64> {
    let bits = carried.bits(edge);
    let mut shares: Vec<(EdgeRef, f64)> = Vec::new();
    for bit in bits {
        let shared = (op.to.min(bit.to) - op.from.max(bit.from)) / (op.to - op.from);
        if shared <= NEAR {
            continue;
        }
        match shares.last_mut() {
            Some((last, sum)) if *last == bit.edge => *sum += shared,
            _ => shares.push((bit.edge, shared)),
        }
    }
    shares.into_iter().map(|(_, share)| share).collect()
}

/// The fullness of each part: gathers keep their ratio, folds are dealt out by length; `None` for a part without one.
fn shared_out(fullness: &Fullness, shares: &[f64]) -> Vec<Option<Fullness>> {
    let Some(count) = fullness.count() else {
        return shares
            .iter()
            .map(|share| Some(fullness.shared(*share)))
            .collect();
    };
    let mut dealt = 0;
    let mut reached = 0.0;
    let mut parts = Vec::new();
    for share in shares {
        reached += share;
        let upto = (f64::from(count) * reached.min(1.0)).round() as u32;
        let own = upto.saturating_sub(dealt);
        parts.push((own > 0).then(|| fullness.with_count(own)));
        dealt = upto;
    }
    parts
}

/// Finishes of the new edges that old listed edges went to.
pub(super) fn finishes(carried: &Carried, before: &[Arc<Piece>], new: &mut [Arc<Piece>]) {
    let mut parts: Vec<(EdgeRef, Vec<Finished>)> = Vec::new();
    for (at, bits) in &carried.edges {
        let old = before.iter().find(|piece| piece.name == at.piece);
        let Some(old) = old.and_then(|piece| piece.outline.edge(&at.edge)) else {
            continue;
        };
        for bit in bits {
            let own = on_bit(old, bit);
            match parts.iter_mut().find(|(edge, _)| *edge == bit.edge) {
                Some((_, all)) => all.extend(own),
                None => parts.push((bit.edge.clone(), own)),
            }
        }
    }
    for piece in new.iter_mut() {
        let mut changed = false;
        let edges: Vec<Edge> = piece
            .outline
            .edges()
            .iter()
            .map(|edge| {
                let is = |at: &EdgeRef| at.piece == piece.name && at.edge == edge.name;
                let Some((_, own)) = parts.iter().find(|(at, _)| is(at)) else {
                    return edge.clone();
                };
                let finish = put_together(own.clone());
                changed |= finish != edge.finish;
                Edge {
                    finish,
                    ..edge.clone()
                }
            })
            .collect();
        if changed && let Ok(outline) = Outline::new(edges) {
            Arc::make_mut(piece).outline = outline;
        }
    }
}

/// A finish between two fractions of a new edge; `None` where the old edge said nothing.
#[derive(Debug, Clone, PartialEq)]
struct Finished {
    from: f64,
    to: f64,
    finish: Option<Finish>,
}

/// What an old edge's finishes become on one bit of it.
fn on_bit(old: &Edge, bit: &Bit) -> Vec<Finished> {
    let put = |from: f64, to: f64, finish: Option<Finish>| {
        let (from, to) = (from.max(bit.from), to.min(bit.to));
        (to - from > NEAR).then(|| {
            let (a, b) = (bit.at(from), bit.at(to));
            Finished {
                from: a.min(b),
                to: a.max(b),
                finish,
            }
        })
    };
    let mut own = Vec::new();
    let mut reached = 0.0;
    for s in &old.finish {
        own.extend(put(reached, s.from, None));
        own.extend(put(s.from, s.to, Some(s.finish)));
        reached = s.to.max(reached);
    }
    own.extend(put(reached, 1.0, None));
    own
}

/// Finishes in order; those that follow each other and say the same become one.
fn put_together(mut parts: Vec<Finished>) -> Vec<FinishStretch> {
    if parts.iter().all(|part| part.finish.is_none()) {
        return Vec::new();
    }
    parts.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut whole: Vec<FinishStretch> = Vec::new();
    let mut put = |from: f64, to: f64, finish: Finish| match whole.last_mut() {
        Some(last) if last.finish == finish && (last.to - from).abs() <= NEAR => last.to = to,
        _ => whole.push(FinishStretch { from, to, finish }),
    };
    let mut reached = 0.0;
    for part in parts {
        if part.from - reached > NEAR {
            put(reached, part.from, Finish::Seam);
        }
        put(part.from, part.to, part.finish.unwrap_or(Finish::Seam));
        reached = part.to.max(reached);
    }
    if 1.0 - reached > NEAR {
        put(reached, 1.0, Finish::Seam);
    }
    whole
}
