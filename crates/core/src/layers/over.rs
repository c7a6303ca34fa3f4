//! What covers what: what of a layer shows beyond those over it, which of its seams and hems are hidden.

use super::ends::{EndKind, bands, necklines};
use super::height::{Half, OnBody, Part};
use super::{End, Together, Worn};
use crate::edge::{EdgeRef, Finish};
use crate::garment::Garment;
use crate::piece::{Piece, Role};
use crate::seams::{Relation, Stretch};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// Places along one stretch at which is looked whether something lies over it.
const LOOKS: u32 = 24;

/// What is seen of one layer of an outfit.
#[derive(Debug, Clone, PartialEq)]
pub struct Cover {
    /// Name of its fitting.
    pub layer: String,
    /// Where it ends against what lies over it.
    pub peeps: Vec<Peep>,
    /// Its seams and hems, with how much of each is covered.
    pub lines: Vec<Line>,
}

/// An end of a layer against the layer over it that reaches farthest there.
#[derive(Debug, Clone, PartialEq)]
pub struct Peep {
    /// Where the layer ends.
    pub end: End,
    /// The layer over it that reaches farthest.
    pub over: String,
    /// By how much the layer shows beyond it; below 0 it is covered by as much.
    pub by: Mm,
}

/// A seam or hem with how much of it lies under another layer.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Name of the seam, or "front, hem".
    pub name: String,
    /// Is it a hem?
    pub is_hem: bool,
    /// Its length, sewn once.
    pub length: Mm,
    /// How much of that is covered.
    pub covered: Mm,
}

impl Line {
    /// How much of it shows.
    pub fn showing(&self) -> Mm {
        self.length - self.covered
    }

    /// Is all of it covered? Then it may be pieced, or sewn by machine where the others are sewn by hand.
    pub fn is_hidden(&self) -> bool {
        self.length.0 > 0.0 && self.showing().0 < DRAWING.0
    }
}

/// What is seen of the layer at this place; `None` when there is none.
pub fn cover(together: &Together, place: usize) -> Option<Cover> {
    let worn = together.layers.get(place)?;
    let over: Vec<&Worn> = together
        .layers
        .iter()
        .skip(place + 1)
        .map(|worn| &**worn)
        .collect();
    Some(Cover {
        layer: worn.name().to_owned(),
        peeps: worn
            .ends
            .iter()
            .filter_map(|end| peep(end, &over))
            .collect(),
        lines: lines(worn, &over),
    })
}

fn peep(end: &End, over: &[&Worn]) -> Option<Peep> {
    let ends = over.iter().flat_map(|worn| {
        let same = |other: &&End| other.kind == end.kind && other.half.meets(end.half);
        worn.ends
            .iter()
            .filter(same)
            .map(|other| (worn.name(), other.height))
    });
    let upwards = end.kind == EndKind::Neckline;
    let sign = if upwards { 1.0 } else { -1.0 };
    let (name, height) = ends.max_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1)))?;
    Some(Peep {
        end: end.clone(),
        over: name.to_owned(),
        by: Mm(sign * (end.height - height)),
    })
}

fn lines(worn: &Worn, over: &[&Worn]) -> Vec<Line> {
    let garment = &worn.adapted.made;
    let seams = garment.seams.iter().map(|seam| {
        // The finished side: what is gathered in is longer before. A band lies where it is sewn on.
        let on_body = |side: &[Stretch]| side.iter().all(|s| placed(worn, &s.piece).is_some());
        let side = match seam.relation {
            Relation::Ratio(_) => &seam.b,
            _ if !on_body(&seam.a) && on_body(&seam.b) => &seam.b,
            _ => &seam.a,
        };
        let (length, covered) = side
            .iter()
            .map(|stretch| seen(worn, over, stretch))
            .fold((0.0, 0.0), |sum, (l, c)| (sum.0 + l, sum.1 + c));
        Line {
            name: seam.name.clone(),
            is_hem: false,
            length: Mm(length),
            covered: Mm(covered),
        }
    });
    let mut all: Vec<Line> = seams.collect();
    for piece in &garment.pieces {
        all.extend(hems(worn, over, piece));
    }
    all
}

/// Hems and casings of a piece.
fn hems(worn: &Worn, over: &[&Worn], piece: &Piece) -> Vec<Line> {
    let mut found = Vec::new();
    let Some(copy) = piece.copies.first() else {
        return found;
    };
    for edge in piece.outline.edges() {
        for part in &edge.finish {
            if !matches!(part.finish, Finish::Hem { .. } | Finish::Casing { .. }) {
                continue;
            }
            let stretch = Stretch {
                piece: piece.name.clone(),
                copy: *copy,
                edge: edge.name.clone(),
                from: part.from,
                to: part.to,
            };
            let (length, covered) = seen(worn, over, &stretch);
            found.push(Line {
                name: EdgeRef::new(&piece.name, &edge.name).to_string(),
                is_hem: true,
                length: Mm(length),
                covered: Mm(covered),
            });
        }
    }
    found
}

/// Length of a stretch, and how much of it lies under something; what is lining lies under its own shell.
pub(super) fn seen(worn: &Worn, over: &[&Worn], stretch: &Stretch) -> (f64, f64) {
    let garment = &worn.adapted.made;
    let Some(line) = stretch.line(&garment.pieces) else {
        return (0.0, 0.0);
    };
    let length = line.length();
    if matches!(stretch.copy.role, Role::Lining | Role::Interlining) && has_shell(garment) {
        return (length, length);
    }
    let Some(on) = placed(worn, &stretch.piece) else {
        let hidden = host(worn, stretch).map_or(0.0, |host| host.hidden(over));
        return (length, length * hidden);
    };
    // Round a neck nobody can say how far to the side a place lies: the lowest place of both necklines decides.
    let at = EdgeRef::new(&stretch.piece, &stretch.edge);
    if necklines(garment).contains(&at) {
        let hidden = reaches_neck(over, on.half, on.along(&line).0);
        return (length, if hidden { length } else { 0.0 });
    }
    if let Some(hidden) = all_or_nothing(worn, over, on, stretch) {
        return (length, if hidden { length } else { 0.0 });
    }
    let hidden = (0..LOOKS)
        .map(|i| on.height(line.at((f64::from(i) + 0.5) / f64::from(LOOKS))))
        .filter(|height| is_covered(over, on.part(), on.half, *height))
        .count();
    (length, length * hidden as f64 / f64::from(LOOKS))
}

/// Is an edge hidden from end to end, or nowhere? `None` where one has to look place by place.
fn all_or_nothing(worn: &Worn, over: &[&Worn], on: &OnBody, stretch: &Stretch) -> Option<bool> {
    let piece = worn.adapted.made.pieces.get(on.index)?;
    let edge = piece.outline.index_of(&stretch.edge)?;
    let (low, _, high) = *on.edges.get(edge)?;
    let pieces = || over.iter().flat_map(|worn| &worn.placed);
    let mut near = pieces().filter(|other| other.is_on(on.part()) && other.half.meets(on.half));
    // Between two looks a curve may reach a little further.
    let (low, high) = (low - DRAWING.0, high + DRAWING.0);
    if near.clone().any(|o| o.reach.0 <= low && high <= o.reach.1) {
        return Some(true);
    }
    let meets = near.any(|o| o.reach.0 <= high && low <= o.reach.1);
    (!meets).then_some(false)
}

fn has_shell(garment: &Garment) -> bool {
    garment
        .pieces
        .iter()
        .any(|piece| piece.copies_in(Role::Shell) > 0)
}

fn placed<'a>(worn: &'a Worn, piece: &str) -> Option<&'a OnBody> {
    let index = worn
        .adapted
        .made
        .pieces
        .iter()
        .position(|p| p.name == piece)?;
    worn.placed.iter().find(|on| on.index == index)
}

/// A band: it lies from the edge it is sewn to away from the piece.
struct Host<'a> {
    on: &'a OnBody,
    /// Height of the edge it is sewn to; at a neckline of its lowest place.
    height: f64,
    /// How far the band carries on: upwards above 0.
    by: f64,
    at_neck: bool,
}

impl Host<'_> {
    /// Which share of the way along the band lies under something.
    fn hidden(&self, over: &[&Worn]) -> f64 {
        let places = (0..LOOKS).map(|i| (f64::from(i) + 0.5) / f64::from(LOOKS));
        let hidden = places
            .map(|share| self.height + self.by * share)
            .filter(|height| {
                if self.at_neck {
                    reaches_neck(over, self.on.half, *height)
                } else {
                    is_covered(over, self.on.part(), self.on.half, *height)
                }
            })
            .count();
        hidden as f64 / f64::from(LOOKS)
    }
}

fn host<'a>(worn: &'a Worn, stretch: &Stretch) -> Option<Host<'a>> {
    let garment = &worn.adapted.made;
    let necks = necklines(garment);
    worn.placed.iter().find_map(|on| {
        let piece = garment.pieces.get(on.index)?;
        let mut edges = piece.outline.edges().iter().zip(&on.edges);
        edges.find_map(|(edge, (low, mean, _))| {
            let at = EdgeRef::new(&piece.name, &edge.name);
            let band = bands(garment, &at)
                .into_iter()
                .find(|band| band.piece.name == stretch.piece)?;
            let (low, mean) = (*low, *mean);
            // A folded band stands up from a neckline; a collar that is turned lies down over the garment.
            let at_neck = necks.contains(&at) && band.is_folded;
            let lies = necks.contains(&at) && !band.is_folded;
            let upwards = at_neck || !lies && mean > f64::midpoint(on.reach.0, on.reach.1);
            Some(Host {
                on,
                height: if at_neck || lies { low } else { mean },
                by: if upwards { band.depth.0 } else { -band.depth.0 },
                at_neck,
            })
        })
    })
}

/// Does something over it come up to this height at the neck?
fn reaches_neck(over: &[&Worn], half: Half, height: f64) -> bool {
    over.iter().flat_map(|worn| &worn.ends).any(|end| {
        end.kind == EndKind::Neckline && end.half.meets(half) && height <= end.height + DRAWING.0
    })
}

fn is_covered(over: &[&Worn], part: Part, half: Half, height: f64) -> bool {
    over.iter().any(|worn| worn.covers(part, half, height))
}
