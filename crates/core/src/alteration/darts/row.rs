//! Darts laid along an edge: one moved, or one divided into several side by side.

use kurbo::Point;

use super::legs::{Legs, NEAR, free, fresh, reaching, started_as};
use crate::alteration::moves::finite;
use crate::alteration::shape::edges::one_line;
use crate::alteration::shape::kept::Reshaped;
use crate::alteration::{AlterationError, Bit, Carried};
use crate::edge::{Edge, EdgeRef};
use crate::geometry::curve::Line;
use crate::piece::{Dart, Piece};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// Moves a dart along its edge: what lies before its mouth grows, what lies after it shrinks by as much.
pub(super) fn moved(piece: &Piece, name: &str, along: Mm) -> Result<Reshaped, AlterationError> {
    let along = finite(along.0)?;
    let legs = Legs::equal(piece, name)?;
    let row = Row::new(&legs)?;
    let mouth = (row.before + along, row.before + along + row.mouth);
    row.laid(&[mouth], &[name.to_owned()])
}

/// Divides a dart into several equal ones. Together they take up as much as it did, and the edge keeps its length.
pub(super) fn divided(
    piece: &Piece,
    name: &str,
    into: u32,
    apart: Mm,
) -> Result<Reshaped, AlterationError> {
    let apart = finite(apart.0)?;
    if !(2..=20).contains(&into) {
        return Err(AlterationError::Refused(format!(
            "{name} cannot be divided into {into}; choose 2 to 20"
        )));
    }
    let legs = Legs::equal(piece, name)?;
    let row = Row::new(&legs)?;
    let width = row.mouth / f64::from(into);
    if apart - width <= JOINING.0 {
        return Err(AlterationError::Refused(format!(
            "{into} darts of {width:.1} mm would lie over each other {apart:.1} mm apart; lay them more than {width:.1} mm apart"
        )));
    }
    let middle = row.before + row.mouth / 2.0;
    let first = middle - apart * f64::from(into - 1) / 2.0;
    let mouths = (0..into).map(|i| {
        let at = first + apart * f64::from(i);
        (at - width / 2.0, at + width / 2.0)
    });
    let names: Vec<String> = dart_names(piece, name, into);
    row.laid(&mouths.collect::<Vec<_>>(), &names)
}

fn dart_names(piece: &Piece, name: &str, into: u32) -> Vec<String> {
    let mut names = vec![name.to_owned()];
    let mut number = 2_u32;
    while names.len() < into as usize {
        let next = format!("{name} {number}");
        if piece.darts.iter().all(|dart| dart.name != next) {
            names.push(next);
        }
        number = number.saturating_add(1);
    }
    names
}

/// The edge before a dart, its mouth and the edge after it, as one way along which darts are laid.
struct Row<'a> {
    legs: &'a Legs<'a>,
    edges: (Edge, Edge),
    /// Length of the edge before, of the mouth, of the edge after.
    before: f64,
    mouth: f64,
    after: f64,
    way: Line,
    depth: f64,
}

impl<'a> Row<'a> {
    fn new(legs: &'a Legs<'a>) -> Result<Self, AlterationError> {
        let edges = legs.beside()?;
        let (first, last) = (&edges.0.line, &edges.1.line);
        let way = one_line(first, &legs.mouth()).and_then(|way| one_line(&way, last));
        let (before, after) = (first.length(), last.length());
        Ok(Self {
            legs,
            before,
            mouth: legs.width(),
            after,
            way: way.ok_or(AlterationError::NotFinite)?,
            depth: legs.depth().1,
            edges,
        })
    }

    fn length(&self) -> f64 {
        self.before + self.mouth + self.after
    }

    fn between(&self, from: f64, to: f64) -> Result<Line, AlterationError> {
        let whole = self.length();
        let part = self.way.between(from / whole, to / whole);
        part.ok_or(AlterationError::NotFinite)
    }

    /// Lays darts with these mouths, in order along the way; between them the edge runs on.
    fn laid(&self, mouths: &[(f64, f64)], names: &[String]) -> Result<Reshaped, AlterationError> {
        let (first, last) = (mouths.first(), mouths.last());
        let room = first.map_or(0.0, |(from, _)| *from);
        let beyond = last.map_or(0.0, |(_, to)| self.length() - to);
        let short = room.min(beyond);
        if short <= JOINING.0 {
            let edge = if room < beyond {
                &self.edges.0
            } else {
                &self.edges.1
            };
            return Err(AlterationError::Refused(format!(
                "{} is too short: {:.1} mm are missing; lay the darts closer together or elsewhere",
                edge.name,
                JOINING.0 - short
            )));
        }
        let piece = self.legs.piece;
        let mut laid: Vec<Edge> = Vec::new();
        let mut darts = Vec::new();
        let mut parts: Vec<(EdgeRef, f64)> = Vec::new();
        let mut from = 0.0;
        for (number, ((begin, end), name)) in mouths.iter().zip(names).enumerate() {
            let edge = if number == 0 {
                self.edges.0.name.clone()
            } else {
                fresh(piece, &laid, &self.edges.0.name)
            };
            parts.push((self.legs.own(&edge), begin - from));
            laid.push(Edge::seam(edge, self.between(from, *begin)?));
            let [into, out] = self.legs_at(*begin, *end)?;
            let [leg_in, leg_out] = self.leg_names(number, name, &laid);
            laid.push(Edge::seam(&leg_in, into));
            laid.push(Edge::seam(&leg_out, out));
            darts.push(Dart {
                name: name.clone(),
                leg_in,
                leg_out,
                pressed: self.legs.dart.pressed,
            });
            from = *end;
        }
        let after = &self.edges.1.name;
        parts.push((self.legs.own(after), self.length() - from));
        laid.push(Edge::seam(after, self.between(from, self.length())?));
        let carried = self.carried(&parts);
        self.reshaped(laid, darts, carried)
    }

    /// The legs of a dart with this mouth, as deep as the old one and square to its own mouth.
    fn legs_at(&self, begin: f64, end: f64) -> Result<[Line; 2], AlterationError> {
        let mouth = self.between(begin, end)?;
        let (from, to) = (mouth.start(), mouth.end());
        let along = (to - from) / (to - from).hypot().max(f64::MIN_POSITIVE);
        let tip: Point = from.midpoint(to) + along.turn_90() * self.depth;
        Ok([Line::straight(from, tip), Line::straight(tip, to)])
    }

    fn leg_names(&self, number: usize, dart: &str, laid: &[Edge]) -> [String; 2] {
        if number == 0 {
            return self.legs.names();
        }
        ["in", "out"].map(|leg| free(self.legs.piece, laid, &format!("{dart} {leg}")))
    }

    /// Where the two old edges went: their cloth lies along the new parts in the old order.
    fn carried(&self, parts: &[(EdgeRef, f64)]) -> Carried {
        let cloth: f64 = parts.iter().map(|(_, length)| length).sum();
        let old = [
            (&self.edges.0.name, 0.0, self.before),
            (&self.edges.1.name, cloth - self.after, cloth),
        ];
        let mut carried = Carried::default();
        for (name, begin, end) in old {
            let mut bits = Vec::new();
            let mut reached = 0.0;
            for (edge, length) in parts {
                let (from, to) = (begin.max(reached), end.min(reached + length));
                if (to - from) / (end - begin) > NEAR {
                    let share = |at: f64| ((at - begin) / (end - begin)).clamp(0.0, 1.0);
                    let on = |at: f64| ((at - reached) / length).clamp(0.0, 1.0);
                    bits.push(Bit::new(
                        (share(from), share(to)),
                        edge.clone(),
                        (on(from), on(to)),
                    ));
                }
                reached += length;
            }
            carried = carried.with_edge(self.legs.own(name), bits);
        }
        carried
    }

    fn reshaped(
        &self,
        laid: Vec<Edge>,
        darts: Vec<Dart>,
        carried: Carried,
    ) -> Result<Reshaped, AlterationError> {
        let piece = self.legs.piece;
        let others = self.legs.others();
        let kept = others.get(1..others.len().saturating_sub(1));
        let mut edges = laid;
        edges.extend(kept.unwrap_or_default().iter().cloned());
        let mut reshaped = Reshaped::with_edges(piece, started_as(piece, edges), carried)?;
        let mut all = Vec::new();
        for dart in &piece.darts {
            if dart == self.legs.dart {
                all.extend(darts.iter().cloned());
            } else {
                all.push(dart.clone());
            }
        }
        reshaped.darts = Some(all);
        Ok(reshaped)
    }
}

/// One edge that runs straight over the mouth of a dart, in place of its legs and the two edges beside it.
pub(super) fn over_mouth(legs: &Legs<'_>) -> Result<Reshaped, AlterationError> {
    let piece = legs.piece;
    let (before, after) = legs.beside()?;
    let name = before.name.clone();
    let way = one_line(&before.line, &legs.mouth()).and_then(|way| one_line(&way, &after.line));
    let way = way.ok_or(AlterationError::NotFinite)?;
    let lengths = [before.line.length(), legs.width(), after.line.length()];
    let whole: f64 = lengths.iter().sum();
    let [first, mouth, _] = lengths;
    let (begin, end) = (first / whole, (first + mouth) / whole);
    let middle = f64::midpoint(begin, end);
    let edge = legs.own(&name);
    let mut carried = Carried::default()
        .with_edge(edge.clone(), reaching(&edge, (0.0, begin), (0.0, middle)))
        .with_edge(
            legs.own(&after.name),
            reaching(&edge, (end, 1.0), (middle, 1.0)),
        );
    for leg in legs.names() {
        carried = carried.with_edge(legs.own(&leg), Vec::new());
    }
    let others = legs.others();
    let mut edges = vec![Edge::seam(name, way)];
    edges.extend(
        others
            .get(1..others.len().saturating_sub(1))
            .unwrap_or_default()
            .iter()
            .cloned(),
    );
    let mut reshaped = Reshaped::with_edges(piece, started_as(piece, edges), carried)?;
    let rest = piece.darts.iter().filter(|dart| *dart != legs.dart);
    reshaped.darts = Some(rest.cloned().collect());
    Ok(reshaped)
}
