//! A dart turned about its tip to another place.

use kurbo::{Affine, Point, Shape};

use super::legs::{Legs, NEAR, first_moves, free, fresh, moved, path_of, started_as};
use crate::alteration::moves::{finite, index_of};
use crate::alteration::shape::kept::{Reshaped, no_leg};
use crate::alteration::shape::slash::{move_marks, turned};
use crate::alteration::{AlterationError, Bit, Carried};
use crate::edge::{Edge, OutlinePoint};
use crate::geometry::crossing::crossings;
use crate::geometry::curve::Line;
use crate::geometry::parallel::straight;
use crate::piece::{Dart, Piece};
use crate::tolerance::JOINING;

/// Turns a dart about its tip: closes a share of it and opens as much at another place. Its angle stays, and so does
/// the length of every edge; the edge of the new mouth becomes two.
pub(super) fn pivot(
    piece: &Piece,
    name: &str,
    to: &OutlinePoint,
    share: f64,
    new_name: &str,
) -> Result<Reshaped, AlterationError> {
    let share = finite(share)?;
    if !(share > 0.0 && share <= 1.0) {
        return Err(AlterationError::Refused(format!(
            "{:.0} % of {name} cannot be turned; choose more than 0 and at most 100 %",
            share * 100.0
        )));
    }
    let legs = Legs::equal(piece, name)?;
    let whole = share >= 1.0 - NEAR;
    free_dart_name(piece, new_name, whole.then_some(name))?;
    let turning = Turning::new(&legs, to)?;
    turning.pivoted(if whole { 1.0 } else { share }, new_name)
}

/// A name no other dart of the piece has.
pub(super) fn free_dart_name(
    piece: &Piece,
    name: &str,
    except: Option<&str>,
) -> Result<(), AlterationError> {
    if name.trim().is_empty() {
        return Err(AlterationError::Refused(
            "a dart needs a name; type one".to_owned(),
        ));
    }
    let taken = piece.darts.iter().any(|dart| dart.name == name);
    if taken && except != Some(name) {
        return Err(AlterationError::Taken {
            what: "dart",
            name: name.to_owned(),
        });
    }
    Ok(())
}

/// A piece slashed from a new mouth to the tip of a dart: it falls into two parts, both with their corner at the tip.
struct Turning<'a> {
    legs: &'a Legs<'a>,
    /// Edges after the mouth up to the slash, and from there to the mouth.
    parts: [Vec<Edge>; 2],
    /// Where the slash starts.
    at: Point,
    carried: Carried,
}

impl<'a> Turning<'a> {
    fn new(legs: &'a Legs<'a>, to: &OutlinePoint) -> Result<Self, AlterationError> {
        let piece = legs.piece;
        index_of(piece, &to.edge)?;
        no_leg(piece, &to.edge)?;
        let fraction = finite(to.fraction)?.clamp(0.0, 1.0);
        let others = legs.others();
        let place = others.iter().position(|edge| edge.name == to.edge);
        let (Some(place), Some(edge)) = (place, place.and_then(|i| others.get(i))) else {
            return Err(AlterationError::NoEdge(to.edge.clone()));
        };
        if edge.is_fold() && (NEAR..=1.0 - NEAR).contains(&fraction) {
            return Err(AlterationError::Refused(format!(
                "{} cannot open on the fold {}; choose a place on another edge",
                legs.dart.name, to.edge
            )));
        }
        let length = edge.line.length();
        let reach = JOINING.0 / length.max(JOINING.0);
        let fraction = if fraction <= reach {
            0.0
        } else if fraction >= 1.0 - reach {
            1.0
        } else {
            fraction
        };
        let at = edge.line.at(fraction);
        let mouth = [legs.begin, legs.end].map(|p| (p - at).hypot());
        if mouth.iter().any(|far| *far <= JOINING.0) || (at - legs.tip).hypot() <= JOINING.0 {
            return Err(AlterationError::Refused(format!(
                "{} opens there already; choose a place farther from its mouth",
                legs.dart.name
            )));
        }
        let mut turning = Self {
            legs,
            parts: [Vec::new(), Vec::new()],
            at,
            carried: Carried::default(),
        };
        turning.on_cloth()?;
        turning.part(others, place, fraction)?;
        Ok(turning)
    }

    /// Refuses a slash that leaves the cloth on its way to the tip.
    fn on_cloth(&self) -> Result<(), AlterationError> {
        let tip = self.legs.tip;
        let line = [straight(self.at, tip)];
        let reach = (tip - self.at).hypot();
        for edge in self.legs.piece.outline.edges() {
            let cubics: Vec<_> = edge.line.cubics().collect();
            for crossing in crossings(&line, &cubics) {
                let along = crossing.first.t * reach;
                if along > JOINING.0 && reach - along > JOINING.0 {
                    return Err(AlterationError::Refused(format!(
                        "the way from there to the tip of {} runs over {} after {along:.1} mm; choose a place from which the tip can be seen",
                        self.legs.dart.name, edge.name
                    )));
                }
            }
        }
        Ok(())
    }

    fn part(
        &mut self,
        others: Vec<Edge>,
        place: usize,
        fraction: f64,
    ) -> Result<(), AlterationError> {
        let piece = self.legs.piece;
        let [first, second] = &mut self.parts;
        for (i, edge) in others.into_iter().enumerate() {
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
                let name = fresh(piece, &[], &edge.name);
                let own = |name: &str| crate::edge::EdgeRef::new(&piece.name, name);
                let bits = vec![
                    Bit::new((0.0, fraction), own(&edge.name), (0.0, 1.0)),
                    Bit::new((fraction, 1.0), own(&name), (0.0, 1.0)),
                ];
                self.carried = std::mem::take(&mut self.carried).with_edge(own(&edge.name), bits);
                first.push(Edge::seam(&edge.name, one));
                second.push(Edge::seam(name, other));
            }
        }
        Ok(())
    }

    fn pivoted(&self, share: f64, name: &str) -> Result<Reshaped, AlterationError> {
        let (legs, piece) = (self.legs, self.legs.piece);
        let angle = legs.closing() * share;
        let [first, second] = &self.parts;
        let part = path_of(legs.end, first, self.at, legs.tip);
        let [first_with, second_with] = if first_moves(piece, [first, second], &part) {
            [turned(angle, legs.tip), Affine::IDENTITY]
        } else {
            [Affine::IDENTITY, turned(-angle, legs.tip)]
        };
        let mut edges = moved(first, first_with);
        let whole = share >= 1.0;
        let names = if whole {
            legs.names()
        } else {
            ["in", "out"].map(|leg| free(piece, &edges, &format!("{name} {leg}")))
        };
        let [leg_in, leg_out] = names;
        let mouth = [first_with * self.at, second_with * self.at];
        edges.push(Edge::seam(&leg_in, Line::straight(mouth[0], legs.tip)));
        edges.push(Edge::seam(&leg_out, Line::straight(legs.tip, mouth[1])));
        edges.extend(moved(second, second_with));
        if !whole {
            let old = piece.outline.edges();
            let leg = |index: usize| old.get(index).cloned().into_iter().collect::<Vec<_>>();
            edges.extend(moved(&leg(legs.first), second_with));
            edges.extend(moved(&leg(legs.second), first_with));
        }
        close_mouth(&mut edges);
        let dart = Dart {
            name: name.to_owned(),
            leg_in,
            leg_out,
            pressed: legs.dart.pressed,
        };
        let mut reshaped =
            Reshaped::with_edges(piece, started_as(piece, edges), self.carried.clone())?;
        move_marks(&mut reshaped.piece, |p| {
            if part.contains(p) {
                first_with
            } else {
                second_with
            }
        });
        reshaped.darts = Some(darts_after(piece, legs.dart, dart, whole));
        Ok(reshaped)
    }
}

/// Edges that meet where a mouth was closed meet to the last bit.
fn close_mouth(edges: &mut [Edge]) {
    let last = edges.last().map(|edge| edge.line.end());
    let mut before = last;
    for edge in edges.iter_mut() {
        if let Some(end) = before
            && edge.line.start() != end
            && (edge.line.start() - end).hypot() <= crate::tolerance::DRAWING.0 * 1.5
        {
            let shift = end - edge.line.start();
            edge.line = crate::alteration::moves::follow(&edge.line, shift, kurbo::Vec2::ZERO);
        }
        before = Some(edge.line.end());
    }
}

/// All darts of the piece when one was turned, whole or in part.
fn darts_after(piece: &Piece, old: &Dart, new: Dart, whole: bool) -> Vec<Dart> {
    let mut darts = Vec::new();
    for dart in &piece.darts {
        match (dart == old, whole) {
            (true, true) => darts.push(new.clone()),
            (true, false) => darts.extend([dart.clone(), new.clone()]),
            (false, _) => darts.push(dart.clone()),
        }
    }
    darts
}
