//! A dart left unsewn: its width gathered, or eased in, or simply let go.

use kurbo::{Affine, Shape, Vec2};

use super::legs::{Legs, first_moves, moved, path_of, started_as};
use super::row::over_mouth;
use crate::alteration::shape::edges::one_line;
use crate::alteration::shape::kept::{Reshaped, dart_of};
use crate::alteration::shape::slash::{move_marks, turned};
use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::Edge;
use crate::fullness::{Fullness, FullnessOp};
use crate::garment::Garment;
use crate::geometry::crossing::crossings;
use crate::geometry::curve::Line;
use crate::geometry::parallel::straight;
use crate::piece::Piece;
use crate::seams::{Relation, Seam, side_length};
use crate::tolerance::{JOINING, MEASURING};

/// Takes a dart out; the edge runs straight over its mouth.
pub(super) fn removed(piece: &Piece, name: &str) -> Result<Reshaped, AlterationError> {
    over_mouth(&Legs::find(piece, name)?)
}

/// Takes a dart out and eases its width into the seams that the edge is sewn in.
pub(super) fn eased(
    garment: &Garment,
    piece: &Piece,
    name: &str,
) -> Result<Altered, AlterationError> {
    let legs = Legs::find(piece, name)?;
    let (before, after) = legs.beside()?;
    let on_edge = |seam: &Seam| {
        seam.a.iter().chain(&seam.b).any(|stretch| {
            stretch.piece == piece.name
                && (stretch.edge == before.name || stretch.edge == after.name)
        })
    };
    if !garment.seams.iter().any(on_edge) {
        return Err(AlterationError::Refused(format!(
            "nothing is sewn to {} or {}, so there is nothing to ease {:.1} mm into; sew the edge first, or take the dart out",
            before.name,
            after.name,
            legs.width()
        )));
    }
    let mut altered = over_mouth(&legs)?.in_place_of(piece, garment)?;
    let pieces = altered.garment.pieces.clone();
    for seam in &mut altered.garment.seams {
        let old = garment.seams.iter().find(|old| old.name == seam.name);
        if let Some(relation) = old.and_then(|old| still_fitting(old, garment, seam, &pieces)) {
            seam.relation = relation;
        }
    }
    Ok(altered)
}

/// The relation with which a seam is off by as much as before, now that one of its sides is longer.
fn still_fitting(
    old: &Seam,
    before: &Garment,
    new: &Seam,
    pieces: &[std::sync::Arc<Piece>],
) -> Option<Relation> {
    let off = old.difference(&before.pieces).ok()?;
    let now = new.difference(pieces).ok()?;
    if (now.0 - off.0).abs() <= MEASURING.0 {
        return None;
    }
    let (a, b) = (
        side_length(&new.a, pieces).ok()?,
        side_length(&new.b, pieces).ok()?,
    );
    match new.relation {
        Relation::Equal | Relation::Eased(_) => Some(Relation::Eased(a - b - off)),
        Relation::Ratio(_) if b.0 > 0.0 => Some(Relation::Ratio((a - off).0 / b.0)),
        Relation::Ratio(_) => None,
    }
}

/// Takes a dart out and gathers its width: the piece is lapped along the dart's middle from its mouth to the edge it
/// points at, so that the edge is as short as it is sewn; the gathers let just as much in again.
pub(super) fn gathered(piece: &Piece, name: &str) -> Result<Reshaped, AlterationError> {
    let legs = Legs::equal(piece, name)?;
    let (before, after) = legs.beside()?;
    let cloth = before.line.length() + legs.width() + after.line.length();
    let (place, fraction) = opposite(&legs)?;
    let [first, second] = parts(&legs, place, fraction)?;
    let others = legs.others();
    let hinge = others.get(place).map(|edge| edge.line.at(fraction));
    let hinge = hinge.ok_or(AlterationError::NotFinite)?;
    let (begin, end) = (legs.begin - hinge, legs.end - hinge);
    let angle = libm::atan2(end.cross(begin), end.dot(begin));
    let path = path_of(legs.end, &first, hinge, legs.tip);
    let [first_with, second_with] = if first_moves(piece, [&first, &second], &path) {
        [turned(angle, hinge), Affine::IDENTITY]
    } else {
        [Affine::IDENTITY, turned(-angle, hinge)]
    };
    let first = moved(&first, first_with);
    let second = moved(&second, second_with);
    let edges = joined_round(
        first,
        second,
        (0.0..1.0).contains(&fraction) && fraction > 0.0,
    )?;
    let finished = edges.first().map_or(0.0, |edge| edge.line.length());
    let share = before.line.length() / finished;
    let edge = legs.own(&before.name);
    let mut carried = Carried::default()
        .with_edge(
            edge.clone(),
            vec![Bit::new((0.0, 1.0), edge.clone(), (0.0, share))],
        )
        .with_edge(
            legs.own(&after.name),
            vec![Bit::new((0.0, 1.0), edge, (share, 1.0))],
        );
    for leg in legs.names() {
        carried = carried.with_edge(legs.own(&leg), Vec::new());
    }
    let mut reshaped = Reshaped::with_edges(piece, started_as(piece, edges), carried)?;
    move_marks(&mut reshaped.piece, |p| {
        if path.contains(p) {
            first_with
        } else {
            second_with
        }
    });
    let rest = piece.darts.iter().filter(|dart| *dart != legs.dart);
    reshaped.darts = Some(rest.cloned().collect());
    let ratio = cloth / finished;
    let gathers = FullnessOp::new(before.name, Fullness::Gathers { ratio });
    reshaped.fullness.push(gathers);
    Ok(reshaped)
}

/// The edges after the mouth up to a place, and from there to the mouth; the edge of the place is in both where it is
/// not at a corner.
fn parts(legs: &Legs<'_>, place: usize, fraction: f64) -> Result<[Vec<Edge>; 2], AlterationError> {
    let (mut first, mut second) = (Vec::new(), Vec::new());
    for (i, edge) in legs.others().into_iter().enumerate() {
        if i < place || (i == place && fraction >= 1.0) {
            first.push(edge);
        } else if i > place || fraction <= 0.0 {
            second.push(edge);
        } else {
            let halves = edge
                .line
                .between(0.0, fraction)
                .zip(edge.line.between(fraction, 1.0));
            let (one, other) = halves.ok_or(AlterationError::NotFinite)?;
            first.push(Edge {
                line: one,
                ..edge.clone()
            });
            second.push(Edge {
                line: other,
                ..edge
            });
        }
    }
    Ok([first, second])
}

/// The edges of the closed piece, from the one over the mouth on.
fn joined_round(
    mut first: Vec<Edge>,
    mut second: Vec<Edge>,
    parted: bool,
) -> Result<Vec<Edge>, AlterationError> {
    let one = |before: &Line, after: &Line| {
        let gap = before.end() - after.start();
        let after = crate::alteration::moves::follow(after, gap, Vec2::ZERO);
        one_line(before, &after).ok_or(AlterationError::NotFinite)
    };
    if parted && let (Some(before), Some(after)) = (first.pop(), second.first_mut()) {
        after.line = one(&before.line, &after.line)?;
    }
    let over = second.pop();
    let after = (!first.is_empty()).then(|| first.remove(0));
    let (Some(before), Some(after)) = (over, after) else {
        return Err(AlterationError::NotFinite);
    };
    let mut edges = vec![Edge::seam(&before.name, one(&before.line, &after.line)?)];
    edges.extend(first);
    edges.extend(second);
    Ok(edges)
}

/// Where the middle of a dart, carried on beyond its tip, meets the outline.
fn opposite(legs: &Legs<'_>) -> Result<(usize, f64), AlterationError> {
    let middle = legs.begin.midpoint(legs.end);
    let along = legs.tip - middle;
    let reach = along.hypot().max(JOINING.0);
    let bounds = legs.piece.outline.bounds();
    let far = middle + along / reach * (reach + bounds.width() + bounds.height());
    let ray = [straight(legs.tip, far)];
    let mut met: Option<(f64, &Edge, f64)> = None;
    for edge in legs.piece.outline.edges() {
        let cubics: Vec<_> = edge.line.cubics().collect();
        for crossing in crossings(&ray, &cubics) {
            let away = (crossing.at - legs.tip).hypot();
            if away > JOINING.0 && met.as_ref().is_none_or(|(before, ..)| away < *before) {
                let fraction = crate::allowance::fraction_near(&edge.line, crossing.at);
                met = Some((away, edge, fraction));
            }
        }
    }
    let name = &legs.dart.name;
    let Some((_, edge, fraction)) = met else {
        return Err(AlterationError::Refused(format!(
            "{name} points at no edge; move its tip into the piece first"
        )));
    };
    if edge.is_fold() {
        return Err(AlterationError::Refused(format!(
            "{name} points at the fold, which would bend when {:.1} mm are lapped; turn the dart to another edge first, or ease its width in",
            legs.width()
        )));
    }
    let others = legs.others();
    let place = others.iter().position(|other| other.name == edge.name);
    let inner = place.filter(|place| *place > 0 && place + 1 < others.len());
    match inner {
        Some(place) if dart_of(legs.piece, &edge.name).is_none() => Ok((place, fraction)),
        _ => Err(AlterationError::Refused(format!(
            "{name} points at {}; turn it to another place first",
            edge.name
        ))),
    }
}
