//! What is needed besides the pattern: cloth, thread, ribbon, tape, elastic, bias binding, closures, with lengths and counts.
//!
//! Lengths in mm, taken from edges, casings, openings, closures and what is caught in seams.

mod closing;

use std::collections::BTreeMap;

use super::Basis;
use super::cutting::CutRow;
use super::side::role_word;
use super::stitches::{THREAD, sewn_length};
use super::words::meets_fold;
use crate::closure::Closure;
use crate::dressing::usual_bow;
use crate::edge::{EdgeRef, Finish};
use crate::finish::Finished;
use crate::making_order::{By, Order};
use crate::piece::{Piece, Role};
use crate::seams::{Insert, InsertKind, Seam, SeamKind, side_length};
use crate::strips::{PipingWanted, binding_width, piping_width};
use crate::units::{LengthUnit, Mm};

pub(super) use closing::{closed, of_opening, suggested};

/// Turned in at each end of a ribbon, binding or lace (common practice, no source).
pub const END: Mm = Mm(10.0);

/// Laid over each other where elastic is sewn into a ring (common practice, no source).
pub const ELASTIC_JOIN: Mm = Mm(10.0);

/// Thread is reckoned to the next 100 mm.
const TEN_CM: f64 = 100.0;

/// Cord in a piping: its girth where nothing says how thick it is (1 mm thick; *own*).
const PIPING_CORD: f64 = std::f64::consts::PI;

/// One thing that is needed.
#[derive(Debug, Clone, PartialEq)]
pub struct Material {
    /// What it is: "elastic", "snaps, 5 mm".
    pub what: String,
    /// How many, where they are counted.
    pub count: Option<usize>,
    /// How long each is, where it has a length.
    pub length: Option<Mm>,
    /// How wide it is cut, where that matters.
    pub width: Option<Mm>,
    /// Area, square mm, of cloth.
    pub area: Option<f64>,
    /// Where it goes, and the figures it rests on.
    pub why: String,
    /// Is it a small part that comes off and can be swallowed?
    pub is_small_part: bool,
    /// Is it a cord that hangs free?
    pub is_cord: bool,
}

impl Material {
    fn new(what: impl Into<String>, why: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            count: None,
            length: None,
            width: None,
            area: None,
            why: why.into(),
            is_small_part: false,
            is_cord: false,
        }
    }

    fn long(self, length: Mm) -> Self {
        Self {
            length: Some(length),
            ..self
        }
    }

    fn counted(self, count: usize) -> Self {
        Self {
            count: Some(count),
            ..self
        }
    }

    fn wide(self, width: Mm) -> Self {
        Self {
            width: Some(width),
            ..self
        }
    }

    /// "3 snaps, 5 mm", "elastic 162 mm".
    pub fn short(&self, unit: LengthUnit) -> String {
        match (self.count, self.length) {
            (Some(count), Some(length)) => {
                format!("{count} {} of {}", self.what, unit.show(length))
            }
            (Some(count), None) => format!("{count} {}", self.what),
            (None, Some(length)) => format!("{} {}", self.what, unit.show(length)),
            (None, None) => self.what.clone(),
        }
    }

    /// "elastic: 2 x 162 mm, cut 6 mm wide (sleeve hem; ...)".
    pub fn words(&self, unit: LengthUnit) -> String {
        let mut amount = match (self.count, self.length) {
            (Some(count), Some(length)) => format!("{count} x {}", unit.show(length)),
            (Some(count), None) => count.to_string(),
            (None, Some(length)) => unit.show(length),
            (None, None) => String::new(),
        };
        if let Some(width) = self.width {
            amount.push_str(&format!(", cut {} wide", unit.show_chosen(width)));
        }
        if let Some(area) = self.area {
            amount.push_str(&area_words(area, unit));
        }
        let why = if self.why.is_empty() {
            String::new()
        } else {
            format!(" ({})", self.why)
        };
        if amount.is_empty() {
            format!("{}{why}", self.what)
        } else {
            format!("{}: {amount}{why}", self.what)
        }
    }
}

/// "312 sq cm", "48.4 sq in".
fn area_words(area: f64, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Inch => format!("{:.1} sq in", area / (25.4 * 25.4)),
        LengthUnit::Millimetre | LengthUnit::Centimetre => format!("{:.0} sq cm", area / 100.0),
    }
}

/// Everything that is needed, cloth first.
pub(super) fn materials(basis: &Basis<'_>, cutting: &[CutRow]) -> Vec<Material> {
    let Basis {
        finished,
        order,
        unit,
        ..
    } = *basis;
    let mut all = cloths(cutting);
    let seams = &finished.filled.adapted.made.seams;
    all.extend(seams.iter().flat_map(|seam| of_seam(finished, seam, unit)));
    all.extend(facings(finished));
    for opening in &finished.filled.adapted.made.openings {
        all.extend(of_opening(basis, &opening.name));
    }
    all.extend(casings(basis));
    all.push(thread(order, unit));
    all
}

fn cloths(cutting: &[CutRow]) -> Vec<Material> {
    let mut by_role: BTreeMap<Role, (f64, &str)> = BTreeMap::new();
    for row in cutting {
        let entry = by_role.entry(row.role).or_insert((0.0, &row.cloth));
        // A piece on the fold is one whole when unfolded.
        entry.0 += row.area * row.count as f64;
    }
    by_role
        .into_iter()
        .map(|(role, (area, cloth))| {
            let what = if cloth.is_empty() {
                role_word(role).to_owned()
            } else {
                format!("{cloth} ({})", role_word(role))
            };
            Material {
                area: Some(area),
                ..Material::new(what, "the pieces alone, without what is lost between them")
            }
        })
        .collect()
}

fn thread(order: &Order, unit: LengthUnit) -> Material {
    let machine = sewn_length(order, By::Machine);
    let hand = sewn_length(order, By::Hand);
    let why = format!(
        "{THREAD} times {} of machine seams; {} are sewn by hand",
        unit.show(machine),
        unit.show(hand)
    );
    Material::new("thread for the machine", why)
        .long(Mm((machine.0 * THREAD / TEN_CM).ceil() * TEN_CM))
}

/// Binding, and what is caught in a seam.
fn of_seam(finished: &Finished, seam: &Seam, unit: LengthUnit) -> Vec<Material> {
    let pieces = &finished.filled.adapted.pieces;
    let (Ok(a), Ok(b)) = (side_length(&seam.a, pieces), side_length(&seam.b, pieces)) else {
        return Vec::new();
    };
    // Over the fold a side runs on into the other half, and the seam is then sewn once.
    let over_fold = seam.a.iter().chain(&seam.b).any(|stretch| {
        pieces
            .iter()
            .find(|piece| piece.name == stretch.piece)
            .is_some_and(|piece| meets_fold(piece, &stretch.edge))
    });
    let (times, halves) = match (over_fold, seam.mirrored) {
        (true, _) => (1, 2.0),
        (false, true) => (2, 1.0),
        (false, false) => (1, 1.0),
    };
    let long = Mm(a.0.min(b.0) * halves);
    let mut all = Vec::new();
    if seam.kind == SeamKind::Bound {
        let width = finished.filled.adapted.fitting.allowances.seam;
        let why = format!("binds the {}, {} at each end", seam.name, unit.show(END));
        // Both allowances wrapped together, the strip as wide on each side as half of them.
        all.push(Material {
            width: binding_width(Mm(width.0 / 2.0), true).ok(),
            ..Material::new("bias binding", why)
                .counted(times)
                .long(Mm(long.0 + 2.0 * END.0))
        });
    }
    for insert in &seam.inserts {
        all.push(of_insert(
            finished,
            seam,
            insert,
            (a.0 * halves, times),
            unit,
        ));
    }
    all
}

fn of_insert(
    finished: &Finished,
    seam: &Seam,
    insert: &Insert,
    (length, times): (f64, usize),
    unit: LengthUnit,
) -> Material {
    let own = Mm(length * (insert.to - insert.from).abs());
    let ends = format!(
        "caught in the {}: {} there, {} at each end",
        seam.name,
        unit.show(own),
        unit.show(END)
    );
    let with_ends = Mm(own.0 + 2.0 * END.0);
    match insert.kind {
        InsertKind::Tie => {
            let tie = usual_bow(&finished.filled.adapted.fitting.body, own).length();
            let why = format!(
                "caught in the {} over {}; {} hangs free, half a bow of 6 % of the height (own rule)",
                seam.name,
                unit.show(own),
                unit.show(tie)
            );
            Material {
                is_cord: true,
                ..Material::new(format!("ribbon for the {}", insert.name), why)
                    .counted(times)
                    .long(Mm(tie.0 + END.0))
            }
        }
        InsertKind::Ruffle => Material::new(insert.name.clone(), ends)
            .counted(times)
            .long(with_ends),
        InsertKind::Piping => {
            let asked = PipingWanted {
                cord: Mm(PIPING_CORD),
                allowance: finished.filled.adapted.fitting.allowances.seam,
            };
            Material {
                width: piping_width(asked).ok(),
                ..Material::new(format!("bias strip and cord for the {}", insert.name), ends)
                    .counted(times)
                    .long(with_ends)
            }
        }
        InsertKind::Lace => Material::new(insert.name.clone(), ends)
            .counted(times)
            .long(with_ends),
    }
}

/// How often an edge is there: copies in the shell (or in the layer the piece has), both halves of a fold counted when the edge
/// does not run over it.
fn copies_of(piece: &Piece) -> usize {
    let shell = piece.copies_in(Role::Shell);
    if shell > 0 { shell } else { piece.copies.len() }
}

/// Edges that are faced with no piece for it: a bias strip each.
fn facings(finished: &Finished) -> Vec<Material> {
    let adapted = &finished.filled.adapted;
    let sewn = |piece: &str, edge: &str| {
        adapted.made.seams.iter().any(|seam| {
            let sides = seam.a.iter().chain(&seam.b);
            sides
                .into_iter()
                .any(|s| s.piece == piece && s.edge == edge && s.copy.role != Role::Shell)
        })
    };
    let width = adapted.fitting.allowances.seam;
    let mut all = Vec::new();
    for piece in &adapted.pieces {
        for edge in piece.outline.edges() {
            let share: f64 = edge
                .finish
                .iter()
                .filter(|stretch| stretch.finish == Finish::Facing)
                .map(|stretch| (stretch.to - stretch.from).abs())
                .sum();
            if share <= 0.0 || sewn(&piece.name, &edge.name) {
                continue;
            }
            let over_fold = meets_fold(piece, &edge.name);
            let halves = if over_fold { 2.0 } else { 1.0 };
            let times = match (piece.fold_edge().is_some(), over_fold) {
                (true, false) => copies_of(piece) * 2,
                _ => copies_of(piece),
            };
            let long = Mm(edge.line.length() * share * halves + 2.0 * END.0);
            all.push(
                Material::new(
                    "bias strip as facing",
                    format!("{} of {}", edge.name, piece.name),
                )
                .counted(times)
                .long(long)
                // One allowance to sew it on, the facing as wide, one to turn under.
                .wide(Mm(width.0 * 3.0)),
            );
        }
    }
    all
}

/// Casings that no opening with elastic or cord accounts for: their whole length.
fn casings(basis: &Basis<'_>) -> Vec<Material> {
    let finished = basis.finished;
    let adapted = &finished.filled.adapted;
    let told = |at: &EdgeRef| {
        adapted.made.openings.iter().any(|opening| {
            let used = closed(basis, &opening.name).and_then(|(_, closing)| closing.used());
            let is_drawn = matches!(used, Some(Closure::Elastic { .. } | Closure::Drawstring));
            is_drawn && opening.hole.contains(at)
        })
    };
    let mut all = Vec::new();
    for piece in &finished.filled.pieces {
        for edge in piece.outline.edges() {
            let width = edge.finish.iter().find_map(|s| match s.finish {
                Finish::Casing { width } => Some(width),
                _ => None,
            });
            let Some(width) = width.filter(|_| !told(&EdgeRef::new(&piece.name, &edge.name)))
            else {
                continue;
            };
            let halves = if meets_fold(piece, &edge.name) {
                2.0
            } else {
                1.0
            };
            let casing = edge.line.length() * halves;
            all.push(
                Material::new(
                    "tape or elastic for a casing",
                    format!(
                        "{} of {}: as long as the casing; elastic is cut to the body",
                        edge.name, piece.name
                    ),
                )
                .counted(copies_of(piece))
                .long(Mm(casing))
                .wide(width),
            );
        }
    }
    all
}
