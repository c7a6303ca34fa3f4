//! A piece cut in two along a line; the cut becomes a seam.

use std::sync::Arc;

use kurbo::{CubicBez, Point};

use super::naming::{
    free_piece, free_seam, in_layer, opened_copies, piece_of, refuse, roles, seam_name, told_by,
};
use super::round::{Spot, Way, round, spot};
use crate::allowance::dart_legs;
use crate::alteration::marks::fresh;
use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::{Edge, EdgeRef, OutlinePoint};
use crate::garment::Garment;
use crate::geometry::crossing::crossings;
use crate::geometry::curve::Line;
use crate::geometry::outline::{Outline, OutlineError};
use crate::geometry::polygon::Polygon;
use crate::geometry::simple::crosses_itself;
use crate::piece::{Copy, Mark, Piece, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tolerance::{DRAWING, JOINING};

/// What is asked: see [`super::PiecesChange::Cut`].
pub(super) struct Cut<'a> {
    pub piece: &'a str,
    pub from: &'a OutlinePoint,
    pub to: &'a OutlinePoint,
    pub through: Option<&'a Line>,
    pub name: &'a str,
    pub seam: &'a str,
}

/// One of the two parts before anything but its outline has followed.
struct Part {
    piece: Piece,
    /// Name of the cut edge in it.
    cut: String,
    /// Old edge, fractions of it, name of the new edge.
    bits: Vec<(usize, f64, f64, String)>,
}

pub(super) fn cut(garment: &Garment, asked: &Cut<'_>) -> Result<Altered, AlterationError> {
    let piece = piece_of(garment, asked.piece)?;
    free_piece(garment, asked.name, &[])?;
    free_seam(garment, asked.seam)?;
    let (from, to) = (spot(piece, asked.from)?, spot(piece, asked.to)?);
    let line = cut_line(piece, from, to, asked.through)?;
    darts_stay_whole(piece, from)?;
    darts_stay_whole(piece, to)?;
    lies_inside(piece, &line)?;
    let left = part(piece, asked.piece, asked.seam, &line, (to, from))?;
    let right = part(piece, asked.name, asked.seam, &line.reversed(), (from, to))?;
    let parts = [left, right];
    let mut carried = Carried::default().with_piece(asked.piece, &[asked.piece, asked.name]);
    for (number, edge) in piece.outline.edges().iter().enumerate() {
        carried = carried.with_edge(
            EdgeRef::new(asked.piece, &edge.name),
            bits_of(&parts, number),
        );
    }
    let [mut left, mut right] = parts;
    deal_marks(piece, &mut left.piece, &mut right.piece);
    let names = (left.cut.clone(), right.cut.clone());
    let pieces = put(garment, asked.piece, [left.piece, right.piece]);
    let mut altered = carried.altered(garment, pieces);
    copies_follow(&mut altered.garment, piece, [asked.piece, asked.name]);
    sew(&mut altered.garment, asked, names);
    Ok(altered)
}

/// The line of the cut, its ends exactly on the outline.
fn cut_line(
    piece: &Piece,
    from: Spot,
    to: Spot,
    through: Option<&Line>,
) -> Result<Line, AlterationError> {
    let at = |spot: Spot| {
        let edge = piece.outline.edges().get(spot.edge);
        edge.map_or(Point::ZERO, |edge| edge.line.at(spot.at))
    };
    let (a, b) = (at(from), at(to));
    if (b - a).hypot() <= JOINING.0 && through.is_none() {
        return refuse("the line starts and ends at the same place; end it on another edge".into());
    }
    let Some(through) = through else {
        return Ok(Line::straight(a, b));
    };
    let off = (through.start() - a)
        .hypot()
        .max((through.end() - b).hypot());
    if off > DRAWING.0 {
        return refuse(format!(
            "the line ends {off:.1} mm beside the outline; draw it from edge to edge"
        ));
    }
    let mut points = through.points().to_vec();
    if let (Some(first), Some(last)) = (points.first().copied(), points.last().copied()) {
        let (start, end) = (a - first, b - last);
        let count = points.len();
        for (i, p) in points.iter_mut().enumerate() {
            if i < 2 {
                *p += start;
            }
            if i + 2 >= count {
                *p += end;
            }
        }
    }
    Line::new(points).map_err(|_| AlterationError::NotFinite)
}

/// Refuses a line that ends on a dart leg or at a dart's tip.
fn darts_stay_whole(piece: &Piece, at: Spot) -> Result<(), AlterationError> {
    for legs in dart_legs(piece) {
        let edges = piece.outline.edges();
        let (Some(first), Some(second)) = (edges.get(legs.first), edges.get(legs.second)) else {
            continue;
        };
        let dart = &legs.dart.name;
        if at.edge == legs.second && at.at <= 0.0 {
            let wide = (second.line.end() - first.line.start()).hypot();
            return refuse(format!(
                "the line ends at the tip of {dart} and would part its legs, {wide:.1} mm wide at the mouth; turn the dart into another edge first, or end the line beside it"
            ));
        }
        let leg = [legs.first, legs.second]
            .into_iter()
            .find(|leg| *leg == at.edge && at.at > 0.0);
        if let Some(leg) = leg {
            let length = edges.get(leg).map_or(0.0, |edge| edge.line.length());
            let from_mouth = if leg == legs.first {
                at.at * length
            } else {
                (1.0 - at.at) * length
            };
            return refuse(format!(
                "the line ends on a leg of {dart}, {from_mouth:.1} mm from its mouth; end it beside the dart, or turn the dart first"
            ));
        }
    }
    Ok(())
}

/// Refuses a line that leaves the piece.
fn lies_inside(piece: &Piece, line: &Line) -> Result<(), AlterationError> {
    let own: Vec<CubicBez> = line.cubics().collect();
    let ends = [line.start(), line.end()];
    let at_end = |p: Point| ends.iter().any(|end| (*end - p).hypot() <= JOINING.0);
    let mut leaves: Option<f64> = None;
    for edge in piece.outline.edges() {
        let cubics: Vec<CubicBez> = edge.line.cubics().collect();
        for met in crossings(&own, &cubics) {
            let Some(cubic) = own.get(met.first.cubic) else {
                continue;
            };
            let p = kurbo::ParamCurve::eval(cubic, met.first.t);
            if !at_end(p) {
                let far = (p - line.start()).hypot();
                leaves = Some(leaves.map_or(far, |before: f64| before.min(far)));
            }
        }
    }
    let outside = (1..16)
        .map(|i| line.at(f64::from(i) / 16.0))
        .find(|p| !piece.outline.contains(*p));
    match (leaves, outside) {
        (None, None) => Ok(()),
        (Some(far), _) => refuse(format!(
            "the line leaves the piece {far:.1} mm from its start; draw it inside"
        )),
        (None, Some(_)) => {
            refuse("the line runs along the edge or outside; draw it across the piece".into())
        }
    }
}

/// The part left of a line, from the end of the line round to its start.
fn part(
    piece: &Piece,
    name: &str,
    seam: &str,
    line: &Line,
    (from, to): (Spot, Spot),
) -> Result<Part, AlterationError> {
    let ways = round(&piece.outline, from, to);
    let old = |way: &Way| {
        let edge = piece.outline.edges().get(way.edge);
        edge.map_or_else(String::new, |edge| edge.name.clone())
    };
    // The bit that lies first along an old edge keeps its name.
    let mut order: Vec<usize> = (0..ways.len()).collect();
    order.sort_by(|a, b| {
        let key = |i: &usize| ways.get(*i).map_or((0, 0.0), |way| (way.edge, way.from));
        let (a, b) = (key(a), key(b));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let mut names: Vec<String> = vec![String::new(); ways.len()];
    for i in &order {
        let (Some(way), own) = (ways.get(*i), &names) else {
            continue;
        };
        let taken = own.iter().map(String::as_str);
        let chosen = fresh(&old(way), taken);
        if let Some(slot) = names.get_mut(*i) {
            *slot = chosen;
        }
    }
    let cut = fresh(seam, names.iter().map(String::as_str));
    let mut edges: Vec<Edge> = ways
        .iter()
        .zip(&names)
        .map(|(way, name)| Edge::seam(name, way.line.clone()))
        .collect();
    edges.push(Edge::seam(&cut, line.clone()));
    let first = order.first().copied().unwrap_or_default();
    edges.rotate_left(first);
    let outline = match Outline::new(edges) {
        Err(OutlineError::Flat) => {
            return refuse("the line runs along the edge; draw it across the piece".into());
        }
        other => other?,
    };
    let turned = outline.edge(&cut).is_none_or(|edge| edge.line != *line);
    if turned || crosses_itself(&outline).is_some() {
        return Err(AlterationError::Crosses);
    }
    let bits = ways
        .iter()
        .zip(names)
        .map(|(way, name)| (way.edge, way.from, way.to, name))
        .collect();
    Ok(Part {
        piece: Piece {
            name: name.to_owned(),
            marks: Vec::new(),
            grainline: grain_on(piece, &outline),
            outline,
            ..piece.clone()
        },
        cut,
        bits,
    })
}

fn bits_of(parts: &[Part; 2], edge: usize) -> Vec<Bit> {
    let mut bits: Vec<Bit> = Vec::new();
    for part in parts {
        let own = part.bits.iter().filter(|bit| bit.0 == edge);
        bits.extend(own.map(|(_, from, to, name)| {
            Bit::new(
                (*from, *to),
                EdgeRef::new(&part.piece.name, name),
                (0.0, 1.0),
            )
        }));
    }
    bits.sort_by(|a, b| a.from.total_cmp(&b.from));
    bits
}

/// Deals the marks of a piece out to its two parts; a line that crosses the cut is cut with the cloth.
fn deal_marks(piece: &Piece, left: &mut Piece, right: &mut Piece) {
    let polygons = [polygon(&left.outline), polygon(&right.outline)];
    // Beside both, in the allowance or beyond, it goes to the part that is nearer.
    let is_left = |p: Point| {
        let [left, right] = &polygons;
        left.depth(p) >= right.depth(p)
    };
    for mark in &piece.marks {
        let Some(line) = mark.kind.line() else {
            let part = if is_left(mark.kind.middle()) {
                &mut *left
            } else {
                &mut *right
            };
            part.marks.push(mark.clone());
            continue;
        };
        let stops = stops(line, [&left.outline, &right.outline]);
        for (own, from, to) in dealt(line, &stops, is_left) {
            let bit = if from <= 0.0 && to >= 1.0 {
                Some(line.clone())
            } else {
                line.between(from, to)
            };
            let part = if own { &mut *left } else { &mut *right };
            part.marks.extend(bit.map(|bit| Mark {
                name: mark.name.clone(),
                kind: mark.kind.with_line(bit),
            }));
        }
    }
}

fn polygon(outline: &Outline) -> Polygon {
    let cubics: Vec<CubicBez> = outline
        .edges()
        .iter()
        .flat_map(|edge| edge.line.cubics())
        .collect();
    Polygon::from_chain(&cubics, DRAWING.0)
}

/// Fractions of a line where it meets an outline, and its ends, in order.
fn stops(line: &Line, outlines: [&Outline; 2]) -> Vec<f64> {
    let own: Vec<CubicBez> = line.cubics().collect();
    let mut stops = vec![0.0, 1.0];
    for edge in outlines.into_iter().flat_map(|outline| outline.edges()) {
        let cubics: Vec<CubicBez> = edge.line.cubics().collect();
        for met in crossings(&own, &cubics) {
            if let Some(cubic) = own.get(met.first.cubic) {
                let p = kurbo::ParamCurve::eval(cubic, met.first.t);
                stops.push(crate::allowance::fraction_near(line, p));
            }
        }
    }
    stops.sort_by(f64::total_cmp);
    stops
}

/// Stretches of a line between its stops, by the part they lie on; neighbours on one part are one stretch.
fn dealt(line: &Line, stops: &[f64], is_left: impl Fn(Point) -> bool) -> Vec<(bool, f64, f64)> {
    let shortest = JOINING.0 / line.length().max(JOINING.0);
    let mut list: Vec<(bool, f64, f64)> = Vec::new();
    for pair in stops.windows(2) {
        let [a, b] = pair else { continue };
        if b - a <= shortest {
            continue;
        }
        let own = is_left(line.at((a + b) / 2.0));
        match list.last_mut() {
            Some(last) if last.0 == own => last.2 = *b,
            _ => list.push((own, *a, *b)),
        }
    }
    if let Some(first) = list.first_mut() {
        first.1 = 0.0;
    }
    if let Some(last) = list.last_mut() {
        last.2 = 1.0;
    }
    list
}

/// The grainline of a part: the same direction, moved onto the part where it lay on the other.
pub(super) fn grain_on(piece: &Piece, outline: &Outline) -> Option<(Point, Point)> {
    piece.grainline.map(|(a, b)| {
        if outline.contains(a.midpoint(b)) {
            return (a, b);
        }
        let by = polygon(outline).deepest() - a.midpoint(b);
        (a + by, b + by)
    })
}

/// The pieces of a garment with the two parts in place of one.
fn put(garment: &Garment, name: &str, parts: [Piece; 2]) -> Vec<Arc<Piece>> {
    let mut pieces = Vec::new();
    let mut parts = Some(parts);
    for piece in &garment.pieces {
        if piece.name == name {
            pieces.extend(parts.take().into_iter().flatten().map(Arc::new));
        } else {
            pieces.push(piece.clone());
        }
    }
    pieces
}

/// A part without the fold of its piece is cut as a pair; seams name its right copy.
fn copies_follow(garment: &mut Garment, old: &Piece, names: [&str; 2]) {
    if old.fold_edge().is_none() {
        return;
    }
    for name in names {
        let Some(slot) = garment.pieces.iter_mut().find(|piece| piece.name == name) else {
            continue;
        };
        if slot.fold_edge().is_some() {
            continue;
        }
        Arc::make_mut(slot).copies = opened_copies(&old.copies);
        for seam in &mut garment.seams {
            let own = seam.a.iter_mut().chain(&mut seam.b);
            for stretch in own.filter(|stretch| stretch.piece == name) {
                if stretch.copy.side == Side::Whole {
                    stretch.copy.side = Side::Right;
                }
            }
        }
    }
}

/// Sews the two parts together again, in every layer.
fn sew(garment: &mut Garment, asked: &Cut<'_>, (left, right): (String, String)) {
    let (Some(first), Some(second)) = (
        garment.piece(asked.piece).cloned(),
        garment.piece(asked.name).cloned(),
    ) else {
        return;
    };
    for role in roles(&first) {
        let (Some((a, mirrored)), Some((b, other))) =
            (told_by(&first, role), told_by(&second, role))
        else {
            continue;
        };
        let stretch = |piece: &str, copy: Copy, edge: &str, from: f64, to: f64| Stretch {
            piece: piece.to_owned(),
            copy,
            edge: edge.to_owned(),
            from,
            to,
        };
        let seam = Seam {
            name: seam_name(garment, &in_layer(asked.seam, role)),
            a: vec![stretch(asked.piece, a, &left, 0.0, 1.0)],
            b: vec![stretch(asked.name, b, &right, 1.0, 0.0)],
            mirrored: mirrored || other,
            relation: Relation::Equal,
            kind: SeamKind::Plain,
            inserts: Vec::new(),
        };
        garment.seams.push(seam);
    }
}
