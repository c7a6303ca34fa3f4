//! What pieces and edges are called once they are read.

use super::kinds::Role;
use super::made::unique;
use super::plan::Plan;
use super::read::Read;
use super::sewing::Torso;
use super::sleeves::top_of;
use super::upright::{copies, layers};
use super::wearer::ends_at_waist;
use super::what::{What, is_generic};
use std::collections::BTreeMap;

use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::piece::{Copy, Piece};

/// Names of edges, by their place in the outline as it was drawn.
type EdgeNames = BTreeMap<usize, String>;

/// Names of a piece and its edges, and whether its outline runs the other way round now.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Naming {
    pub(super) piece: String,
    edges: EdgeNames,
    pub(super) reversed: bool,
    /// Was the proposal for the piece accepted?
    pub(super) taken: bool,
    /// Its copies, where they are proposed.
    pub(super) copies: Option<Vec<Copy>>,
}

impl Naming {
    pub(super) fn as_it_is(piece: &Piece) -> Self {
        Self {
            piece: piece.name.clone(),
            edges: piece
                .outline
                .edges()
                .iter()
                .map(|edge| edge.name.clone())
                .enumerate()
                .collect(),
            reversed: false,
            taken: false,
            copies: None,
        }
    }

    /// Name of the edge at this place of the outline as it was drawn.
    pub(super) fn edge(&self, at: usize) -> String {
        self.edges.get(&at).cloned().unwrap_or_default()
    }

    /// A fraction of an edge as it was drawn, on the edge as it runs now.
    pub(super) fn fraction(&self, at: f64) -> f64 {
        let at = at.clamp(0.0, 1.0);
        if self.reversed { 1.0 - at } else { at }
    }
}

/// Names for every piece. Names a maker gave are kept.
pub(super) fn namings(garment: &Garment, plan: &Plan, taken: &[bool]) -> Vec<Naming> {
    let is_taken = |i: usize| taken.get(i).copied().unwrap_or(false);
    let mut used: Vec<String> = garment
        .pieces
        .iter()
        .enumerate()
        .filter(|(i, piece)| !is_taken(*i) || !is_generic(&piece.name))
        .map(|(_, piece)| piece.name.clone())
        .collect();
    garment
        .pieces
        .iter()
        .enumerate()
        .map(|(i, piece)| {
            let Some(read) = plan.read(i).filter(|_| is_taken(i)) else {
                return Naming::as_it_is(piece);
            };
            let name = if is_generic(&piece.name) {
                let name = unique(read.what.name(), |name| {
                    used.iter().any(|other| other == name)
                });
                used.push(name.clone());
                name
            } else {
                piece.name.clone()
            };
            Naming {
                piece: name,
                edges: edge_names(piece, read, plan),
                reversed: read.mirrored,
                taken: true,
                copies: Some(copies(read.cut, &layers(piece))),
            }
        })
        .collect()
}

fn edge_names(piece: &Piece, read: &Read, plan: &Plan) -> EdgeNames {
    let mut names = EdgeNames::new();
    let edges = piece.outline.edges();
    let mut used: Vec<String> = Vec::new();
    for (i, edge) in edges.iter().enumerate() {
        if !is_generic(&edge.name) {
            used.push(edge.name.clone());
            names.insert(i, edge.name.clone());
        }
    }
    let mut name = |at: usize, wanted: &str| {
        if names.contains_key(&at) {
            return;
        }
        let name = unique(wanted, |name| used.iter().any(|other| other == name));
        used.push(name.clone());
        names.insert(at, name);
    };
    for (role, bits) in &read.roles {
        if *role == Role::Cap && bits.len() > 1 {
            continue;
        }
        let wanted = wanted(read, *role, plan);
        for bit in bits {
            // What of an edge is an extension, the rest being the neckline, is called by the larger part.
            let split = *role == Role::Extension && (bit.to - bit.from).abs() < 0.999;
            if !split {
                name(bit.edge, wanted);
            }
        }
    }
    for (edge, wanted) in caps(read) {
        name(edge, wanted);
    }
    for legs in &read.darts {
        for leg in legs {
            name(*leg, "dart leg");
        }
    }
    for i in 0..edges.len() {
        name(i, "edge");
    }
    names
}

fn wanted(read: &Read, role: Role, plan: &Plan) -> &'static str {
    let torso = Torso::of(&plan.reading);
    match (role, read.what) {
        (Role::Centre, What::Front) if read.roles.contains_key(&Role::Extension) => "front edge",
        (Role::Lower, What::Front) if ends_at_waist(torso, 0) => "waist",
        (Role::Lower, What::Back) if ends_at_waist(torso, 1) => "waist",
        (role, what) => what.edge(role),
    }
}

/// A cap of several edges: those before its top are the front's.
fn caps(read: &Read) -> Vec<(usize, &'static str)> {
    let bits = read.bits(Role::Cap);
    let lines: Vec<&Line> = read.lines.iter().collect();
    let Some((top, share)) = top_of(&lines, bits, kurbo::Vec2::new(0.0, 1.0)) else {
        return Vec::new();
    };
    bits.iter()
        .enumerate()
        .map(|(n, bit)| {
            let front = n < top || (n == top && share > 0.5);
            (bit.edge, if front { "cap front" } else { "cap back" })
        })
        .collect()
}
