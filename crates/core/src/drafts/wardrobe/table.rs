//! The cutting table: a garment grows on it, seam by seam.
//!
//! Seams are written by corners ("the shoulder, from the neckline"), so nobody counts directions by hand.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::WardrobeError;
use super::needle::{LEFT, RIGHT};
use super::places::At;
use crate::body::Body;
use crate::edge::{EdgeRef, OutlinePoint};
use crate::garment::{Garment, Opening, Passing};
use crate::measure::{Level, Measure};
use crate::notch::{Notch, NotchKind};
use crate::piece::{BodyLine, Copy, Dart, DartPress, Piece, Role, Side};
use crate::seams::{Relation, Seam, SeamKind, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::tolerance::MEASURING;
use crate::units::Mm;

/// A stretch of an edge, counted from the corner with a neighbour.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bit<'a> {
    piece: &'a str,
    side: Side,
    edge: &'a str,
    corner: &'a str,
    from: f64,
    to: f64,
}

/// A whole edge, walked from the corner it shares with `corner`.
pub(super) fn bit<'a>(piece: &'a str, side: Side, edge: &'a str, corner: &'a str) -> Bit<'a> {
    Bit {
        piece,
        side,
        edge,
        corner,
        from: 0.0,
        to: 1.0,
    }
}

impl Bit<'_> {
    /// Part of the edge, fractions counted from the corner.
    pub(super) fn part(self, from: f64, to: f64) -> Self {
        Self { from, to, ..self }
    }
}

/// How two sides of a seam are brought together; the figures are measured on the pieces.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Join {
    /// Equally long.
    Equal,
    /// The first side is eased in.
    Eased,
    /// The first side is gathered in.
    Gathered,
}

/// A garment on the table, growing seam by seam.
#[derive(Debug)]
pub(super) struct Table {
    name: String,
    pieces: Vec<Piece>,
    seams: Vec<Seam>,
    tape_lines: Vec<TapeLine>,
    openings: Vec<Opening>,
    trouble: Option<String>,
}

impl Table {
    pub(super) fn new(name: &str, pieces: Vec<Piece>) -> Self {
        Self {
            name: name.to_owned(),
            pieces,
            seams: Vec::new(),
            tape_lines: Vec::new(),
            openings: Vec::new(),
            trouble: None,
        }
    }

    /// Remembers the first thing that is missing; [`Self::garment`] refuses with it.
    fn missing<T>(&mut self, found: Option<T>, what: impl FnOnce() -> String) -> Option<T> {
        if found.is_none() && self.trouble.is_none() {
            self.trouble = Some(what());
        }
        found
    }

    fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.name == name)
    }

    fn place(&mut self, piece: &str, at: At) -> OutlinePoint {
        let found = self.piece(piece).and_then(|p| match at {
            At::Corner(edge, neighbour) => p.corner(edge, neighbour),
            At::Height(edge, y) => p.at_height(edge, y),
            At::Near(edge, point) => p.on(edge, point),
        });
        self.missing(found, || format!("place {at:?} on {piece}"))
            .unwrap_or_else(|| OutlinePoint::new("", 0.0))
    }

    fn change(&mut self, piece: &str, change: impl FnOnce(&mut Piece)) {
        let found = self.pieces.iter_mut().find(|p| p.name == piece).map(change);
        self.missing(found, || format!("piece {piece}"));
    }

    /// A level of the body across a piece.
    pub(super) fn level(&mut self, piece: &str, level: Level, from: At, to: At) {
        let line = BodyLine {
            level,
            from: self.place(piece, from),
            to: self.place(piece, to),
        };
        self.change(piece, |p| p.body_lines.push(line));
    }

    /// A notch at a fraction of an edge, counted from the corner with a neighbour.
    pub(super) fn notch(
        &mut self,
        piece: &str,
        edge: &str,
        corner: &str,
        fraction: f64,
        kind: NotchKind,
    ) {
        let start = self.place(piece, At::Corner(edge, corner)).fraction;
        let fraction = if start > 0.5 {
            1.0 - fraction
        } else {
            fraction
        };
        self.change(piece, |p| {
            p.notches.push(Notch {
                edge: edge.to_owned(),
                fraction,
                kind,
            })
        });
    }

    /// A dart with these two legs, in whichever order the outline runs.
    pub(super) fn dart(&mut self, piece: &str, name: &str, legs: [&str; 2], pressed: DartPress) {
        let [one, other] = legs;
        let in_order = self
            .piece(piece)
            .and_then(|p| p.corner(one, other))
            .map(|corner| corner.fraction > 0.5);
        let in_order = self
            .missing(in_order, || format!("dart {name} on {piece}"))
            .unwrap_or(true);
        let (leg_in, leg_out) = if in_order { (one, other) } else { (other, one) };
        let dart = Dart {
            name: name.to_owned(),
            leg_in: leg_in.to_owned(),
            leg_out: leg_out.to_owned(),
            pressed,
        };
        self.change(piece, |p| p.darts.push(dart));
    }

    fn stretch(&mut self, bit: Bit, role: Role) -> Stretch {
        let start = self
            .place(bit.piece, At::Corner(bit.edge, bit.corner))
            .fraction;
        let along = |fraction: f64| {
            if start > 0.5 {
                1.0 - fraction
            } else {
                fraction
            }
        };
        Stretch {
            piece: bit.piece.to_owned(),
            copy: Copy {
                side: bit.side,
                role,
            },
            edge: bit.edge.to_owned(),
            from: along(bit.from),
            to: along(bit.to),
        }
    }

    fn length(&self, stretches: &[Stretch]) -> f64 {
        let one = |s: &Stretch| {
            let edge = self.piece(&s.piece)?.outline.edge(&s.edge)?;
            Some(edge.line.length() * (s.to - s.from).abs())
        };
        stretches.iter().filter_map(one).sum()
    }

    /// A seam in one layer, sewn on both sides of the body.
    pub(super) fn sew(&mut self, name: &str, role: Role, a: &[Bit], b: &[Bit], join: Join) {
        let name = layer_name(name, role);
        self.sew_roles(&name, (role, a), (role, b), join);
    }

    /// The same seam in shell and lining.
    pub(super) fn sew_both(&mut self, name: &str, a: &[Bit], b: &[Bit], join: Join) {
        self.sew(name, Role::Shell, a, b, join);
        self.sew(name, Role::Lining, a, b, join);
    }

    /// The shell's edge sewn to the same edge of the lining.
    pub(super) fn bag_out(&mut self, name: &str, bit: Bit) {
        self.sew_roles(
            name,
            (Role::Shell, &[bit]),
            (Role::Lining, &[bit]),
            Join::Equal,
        );
    }

    fn sew_roles(&mut self, name: &str, a: (Role, &[Bit]), b: (Role, &[Bit]), join: Join) {
        let a: Vec<Stretch> = a.1.iter().map(|bit| self.stretch(*bit, a.0)).collect();
        let b: Vec<Stretch> = b.1.iter().map(|bit| self.stretch(*bit, b.0)).collect();
        let (long, short) = (self.length(&a), self.length(&b));
        let relation = match join {
            Join::Equal => Relation::Equal,
            Join::Eased => Relation::Eased(Mm(long - short)),
            Join::Gathered => Relation::Ratio(long / short.max(MEASURING.0)),
        };
        // A seam between the right and the left half lies on the middle of the body and is sewn once.
        let mirrored =
            !(a.iter().any(|s| s.copy.side == RIGHT) && b.iter().any(|s| s.copy.side == LEFT));
        self.seams.push(Seam {
            name: name.to_owned(),
            a,
            b,
            mirrored,
            relation,
            kind: SeamKind::Plain,
            inserts: Vec::new(),
        });
    }

    /// Changes the seam sewn last.
    pub(super) fn last_seam(&mut self, change: impl FnOnce(&mut Seam)) {
        if let Some(seam) = self.seams.last_mut() {
            change(seam);
        }
    }

    /// A tape round the body.
    pub(super) fn girth(&mut self, name: &str, measure: Measure, parts: Vec<TapePart>) {
        self.tape(name, measure, TapeKind::Girth, parts);
    }

    /// A tape along the body.
    pub(super) fn measure(&mut self, name: &str, measure: Measure, parts: Vec<TapePart>) {
        self.tape(name, measure, TapeKind::Length, parts);
    }

    fn tape(&mut self, name: &str, measure: Measure, kind: TapeKind, parts: Vec<TapePart>) {
        self.tape_lines.push(TapeLine {
            name: name.to_owned(),
            measure,
            share: 1.0,
            kind,
            parts,
            hold: Hold::Auto,
            overlap: Mm(0.0),
            lacing_gap: Mm(0.0),
        });
    }

    /// Changes the tape line laid last.
    pub(super) fn last_tape(&mut self, change: impl FnOnce(&mut TapeLine)) {
        if let Some(tape) = self.tape_lines.last_mut() {
            change(tape);
        }
    }

    /// A tape along a whole edge.
    pub(super) fn along(&mut self, piece: &str, edge: &str) -> TapePart {
        let found = self
            .piece(piece)
            .and_then(|p| p.outline.edge(edge))
            .map(|_| ());
        self.missing(found, || format!("edge {edge} on {piece}"));
        TapePart {
            piece: piece.to_owned(),
            path: TapePath::Along {
                edge: edge.to_owned(),
                from: 0.0,
                to: 1.0,
            },
        }
    }

    /// A tape straight across, measured along x.
    pub(super) fn across(&mut self, piece: &str, from: At, to: At) -> TapePart {
        TapePart {
            piece: piece.to_owned(),
            path: TapePath::Across(self.place(piece, from), self.place(piece, to)),
        }
    }

    /// A tape straight up, measured along y.
    pub(super) fn upright(&mut self, piece: &str, from: At, to: At) -> TapePart {
        TapePart {
            piece: piece.to_owned(),
            path: TapePath::Upright(self.place(piece, from), self.place(piece, to)),
        }
    }

    /// Where it opens.
    pub(super) fn opening(
        &mut self,
        name: &str,
        passes: Passing,
        hole: &[(&str, &str)],
        slit: &[(&str, &str)],
    ) {
        let refs = |edges: &[(&str, &str)]| {
            edges
                .iter()
                .map(|(piece, edge)| EdgeRef::new(*piece, *edge))
                .collect()
        };
        self.openings.push(Opening {
            name: name.to_owned(),
            hole: refs(hole),
            slit: refs(slit),
            passes,
        });
    }

    /// Length of an edge on the table, mm.
    pub(super) fn edge_length(&self, piece: &str, edge: &str) -> f64 {
        self.piece(piece)
            .and_then(|p| p.outline.edge(edge))
            .map_or(0.0, |e| e.line.length())
    }

    /// Height at a fraction of an edge, counted from the corner with a neighbour, mm.
    pub(super) fn height_on(
        &mut self,
        piece: &str,
        edge: &str,
        corner: &str,
        fraction: f64,
    ) -> f64 {
        let start = self.place(piece, At::Corner(edge, corner)).fraction;
        let fraction = if start > 0.5 {
            1.0 - fraction
        } else {
            fraction
        };
        self.piece(piece)
            .and_then(|p| p.outline.edge(edge))
            .map_or(0.0, |e| e.line.at(fraction).y)
    }

    /// The finished garment.
    ///
    /// # Errors
    /// [`WardrobeError::Missing`] when a seam, tape line or level named something that is not there.
    pub(super) fn garment(
        self,
        made_for: &Arc<Body>,
        cloths: BTreeMap<Role, crate::cloth::Cloth>,
    ) -> Result<Garment, WardrobeError> {
        if let Some(what) = self.trouble {
            return Err(WardrobeError::Missing {
                garment: self.name,
                what,
            });
        }
        Ok(Garment {
            name: self.name,
            made_for: made_for.clone(),
            pieces: self.pieces.into_iter().map(Arc::new).collect(),
            seams: self.seams,
            tape_lines: self.tape_lines,
            openings: self.openings,
            cloths,
            included_allowance: BTreeMap::new(),
        })
    }
}

fn layer_name(name: &str, role: Role) -> String {
    match role {
        Role::Shell => name.to_owned(),
        Role::Lining => format!("{name}, lining"),
        Role::Interlining => format!("{name}, interlining"),
        Role::FlatLined => format!("{name}, flat lining"),
    }
}
