//! How thick a garment is at a level of the body.

use super::ends::{bands, on_edge};
use super::height::{Half, OnBody, Part};
use super::{Together, Worn};
use crate::adapt::Adapted;
use crate::body::Body;
use crate::edge::{Edge, EdgeRef};
use crate::garment::Garment;
use crate::measure::{Level, Measure};
use crate::piece::{Piece, Role};
use crate::seams::Relation;
use crate::units::Mm;

/// How near to a level an edge must lie to count there, as a share of the back waist length: proposal of our own.
const NEAR: f64 = 0.02;

/// Where the underbust girth lies between bust and waist: proportion of our own, no source.
const UNDERBUST: f64 = 0.3;

/// How thick a garment is at a girth.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// Name of its fitting.
    pub layer: String,
    /// Mean thickness of all its cloth there, fullness counted with the cloth it takes.
    pub thickness: Mm,
}

/// Girths at which layers are reckoned, from the head down.
pub fn measures() -> impl Iterator<Item = Measure> {
    Measure::ALL
        .into_iter()
        .filter(|measure| measure.is_girth() && *measure != Measure::HeelGirth)
}

/// Part and height of the body at which a girth is taken; `None` where no garment lies.
pub(super) fn place_of(body: &Body, measure: Measure) -> Option<(Part, f64)> {
    let at = |level| body.height_of(level).0;
    Some(match measure {
        Measure::HeadGirth | Measure::HeadGirthWithWig => (Part::Head, at(Level::Brow)),
        Measure::NeckGirth | Measure::NeckBaseGirth => (Part::Trunk, at(Level::Nape)),
        Measure::BustGirth => (Part::Trunk, at(Level::Bust)),
        Measure::UnderbustGirth => {
            let (bust, waist) = (at(Level::Bust), at(Level::Waist));
            (Part::Trunk, bust + UNDERBUST * (waist - bust))
        }
        Measure::WaistGirth => (Part::Trunk, at(Level::Waist)),
        Measure::HipGirth => (Part::Trunk, at(Level::Hip)),
        Measure::ArmscyeGirth => (Part::Arm, at(Level::CapTop)),
        Measure::UpperArmGirth => (Part::Arm, at(Level::Underarm)),
        Measure::ElbowGirth => (Part::Arm, at(Level::Elbow)),
        Measure::WristGirth | Measure::HandGirth => (Part::Arm, at(Level::Wrist)),
        Measure::ThighGirth => (Part::Leg, at(Level::Crotch)),
        Measure::KneeGirth => (Part::Leg, at(Level::Knee)),
        Measure::CalfGirth => {
            let (knee, ankle) = (at(Level::Knee), at(Level::Ankle));
            (Part::Leg, f64::midpoint(knee, ankle))
        }
        Measure::AnkleGirth => (Part::Leg, at(Level::Ankle)),
        _ => return None,
    })
}

impl Worn {
    /// Mean thickness of all its cloth at a girth; 0 where none of its pieces lies.
    ///
    /// Every role that has a piece there counts once: lining, interlining, flat lining, shell. Where an edge at that level
    /// is gathered or pleated, its cloth counts as often as it lies on itself: cloth length / finished length. A band that
    /// is sewn on there counts with its own layers, two when it is folded.
    pub fn thickness_at(&self, measure: Measure) -> Mm {
        let adapted = &*self.adapted;
        let Some((part, height)) = place_of(&adapted.fitting.body, measure) else {
            return Mm(0.0);
        };
        let near = NEAR * adapted.fitting.body.mm(Measure::BackWaistLength).0;
        let there: Vec<&OnBody> = self
            .placed
            .iter()
            .filter(|on| on.covers(part, Half::Both, height, near))
            .collect();
        let cloth: f64 = ROLES
            .iter()
            .map(|role| role_at(adapted, &there, *role, (height, near)))
            .sum();
        Mm(cloth + bands_at(adapted, &there, (height, near)))
    }
}

impl Together {
    /// The stacks of the layers under one of them at a girth, innermost first; those without cloth there are left out.
    pub fn stacks_under(&self, place: usize, measure: Measure) -> Vec<Stack> {
        let under = self.layers.iter().take(place);
        under
            .map(|worn| Stack {
                layer: worn.name().to_owned(),
                thickness: worn.thickness_at(measure),
            })
            .filter(|stack| stack.thickness.0 > 0.0)
            .collect()
    }
}

const ROLES: [Role; 4] = [
    Role::Lining,
    Role::Interlining,
    Role::FlatLined,
    Role::Shell,
];

/// Thickness of the cloth of a role, at doll size where it is given.
fn thickness(adapted: &Adapted, role: Role) -> f64 {
    let own = adapted.fitting.cloths.get(&role);
    let cloth = own.or_else(|| adapted.made.cloths.get(&role));
    cloth.map_or(0.0, |cloth| cloth.thickness.0)
}

/// One role at a level: its cloth, as often as it lies on itself there on the mean of its pieces.
fn role_at(adapted: &Adapted, there: &[&OnBody], role: Role, at: (f64, f64)) -> f64 {
    let (mut width, mut cloth) = (0.0, 0.0);
    for on in there {
        let Some(piece) = adapted.made.pieces.get(on.index) else {
            continue;
        };
        let copies = piece.copies_in(role) as f64;
        if copies == 0.0 {
            continue;
        }
        let own = piece.outline.bounds().width() * copies;
        width += own;
        cloth += own * times_at(&adapted.made, on, piece, at);
    }
    if width > 0.0 {
        thickness(adapted, role) * cloth / width
    } else {
        0.0
    }
}

/// How often the cloth of a piece lies on itself at a level.
fn times_at(garment: &Garment, on: &OnBody, piece: &Piece, at: (f64, f64)) -> f64 {
    edges_at(on, piece, at)
        .map(|edge| let_in(piece, edge) * drawn_in(garment, &EdgeRef::new(&piece.name, &edge.name)))
        .fold(1.0, f64::max)
}

/// The edges of a piece that lie at a level.
fn edges_at<'a>(
    on: &'a OnBody,
    piece: &'a Piece,
    (height, near): (f64, f64),
) -> impl Iterator<Item = &'a Edge> {
    let edges = piece.outline.edges().iter().zip(&on.edges);
    edges
        .filter(move |(_, (_, mean, _))| (mean - height).abs() <= near)
        .map(|(edge, _)| edge)
}

/// Cloth length / finished length of the fullness on an edge.
fn let_in(piece: &Piece, edge: &Edge) -> f64 {
    let whole = edge.line.length();
    if whole <= 0.0 {
        return 1.0;
    }
    let taken = piece
        .fullness
        .iter()
        .filter(|op| op.edge == edge.name)
        .map(|op| {
            let finished = Mm(whole * (op.to - op.from).abs());
            op.fullness.taken_up(finished).0
        });
    1.0 + taken.sum::<f64>().max(0.0) / whole
}

/// How much longer an edge is than what it is gathered into by its seam.
fn drawn_in(garment: &Garment, at: &EdgeRef) -> f64 {
    let ratios = garment.seams.iter().filter_map(|seam| match seam.relation {
        Relation::Ratio(ratio) if on_edge(&seam.a, at) => Some(ratio),
        _ => None,
    });
    ratios.fold(1.0, f64::max)
}

/// Bands that are sewn to edges at a level.
fn bands_at(adapted: &Adapted, there: &[&OnBody], at: (f64, f64)) -> f64 {
    let garment = &adapted.made;
    let mut counted: Vec<&str> = Vec::new();
    let mut sum = 0.0;
    for on in there {
        let Some(piece) = garment.pieces.get(on.index) else {
            continue;
        };
        for edge in edges_at(on, piece, at) {
            for band in bands(garment, &EdgeRef::new(&piece.name, &edge.name)) {
                if counted.contains(&band.piece.name.as_str()) {
                    continue;
                }
                counted.push(&band.piece.name);
                let folds = if band.is_folded { 2.0 } else { 1.0 };
                let roles = ROLES.iter().filter(|role| band.piece.copies_in(**role) > 0);
                sum += folds * roles.map(|role| thickness(adapted, *role)).sum::<f64>();
            }
        }
    }
    sum
}
