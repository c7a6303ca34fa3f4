//! What is turned to the right side, and what is sewn in the round: tubes, bagged pieces, folded bands.
//!
//! ```text
//!  a tube laid flat, inside out        its flat width must hold the allowances side by side and the
//!  |<------- girth / 2 ------->|       seam's own stack, or nothing passes through it:
//!  |=====aaaaa|bbbbb===========|
//!  |===========================|       girth > 2 x (allowance + allowance + stack)
//! ```
//!
//! # Source
//! The rule is *own*, geometry. Read beside it: a wrist 7 mm wide with seams of 6.35 mm is "almost impossible to turn"
//! (fact sheet J3.6, key J09); the rule asks for 12.7 mm and the stack.

use super::ground::{Ground, is_bag};
use super::section::{Work, sections};
use crate::edge::{Edge, EdgeRef, Finish};
use crate::finding::Place;
use crate::garment::is_of_one_limb;
use crate::machine::Machine;
use crate::piece::Piece;
use crate::seams::{Seam, Stretch};
use crate::units::Mm;

/// How something is closed and turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// A tube: turned through its end.
    Tube,
    /// A bag of two layers, turned through a long edge that is still open.
    Bag,
    /// A band folded lengthwise, its ends sewn and turned.
    Band,
}

impl Way {
    /// In the maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Self::Tube => "tube",
            Self::Bag => "turned piece",
            Self::Band => "folded band",
        }
    }
}

/// Something that is closed and turned.
#[derive(Debug, Clone, PartialEq)]
pub struct Turned {
    /// Its piece, or the tape line for a limb of several pieces.
    pub name: String,
    /// Where.
    pub place: Place,
    /// How it is turned.
    pub way: Way,
    /// Its width laid flat where it is narrowest: half the girth of a tube.
    pub flat: Mm,
    /// How long it is.
    pub length: Mm,
    /// Allowances that lie beside each other across its width.
    pub allowance: Mm,
    /// Thickness of its seam as it lies.
    pub stack: Mm,
    /// How much wider it would have to be to be turned; 0 where it can.
    pub too_narrow: Mm,
    /// How much smaller its girth is than the machine reaches round; 0 where it does, and for what is sewn flat.
    pub out_of_reach: Mm,
    /// Edges whose allowance counts, so that it may be chosen smaller.
    pub edges: Vec<EdgeRef>,
}

impl Turned {
    /// Flat width that can be turned: allowances and stack.
    pub fn needed(&self) -> Mm {
        self.allowance + self.stack
    }

    /// Length over flat width above which a tube is turned with a cord sewn to its end (common practice, no source).
    pub const LONG: f64 = 6.0;

    /// Is it so long that a cord helps?
    pub fn wants_cord(&self) -> bool {
        self.way == Way::Tube && self.length.0 > Self::LONG * self.flat.0
    }

    /// An allowance for each of its edges with which it can be turned, to the half millimetre below; `None` under
    /// 1.5 mm, where nothing holds (common practice, no source).
    pub fn good(&self) -> Option<Mm> {
        let edges = self.edges.len().max(1) as f64;
        let room = (self.flat.0 - self.stack.0) / edges;
        // Strictly narrower than the room there is.
        let good = ((room - 1e-6) * 2.0).floor() / 2.0;
        (good >= 1.5).then_some(Mm(good))
    }
}

/// Everything that is turned, the tightest first.
pub(super) fn turned(ground: &Ground<'_>, machine: &Machine) -> Vec<Turned> {
    let mut all: Vec<Turned> = Vec::new();
    for seam in ground.seams().iter().filter(|s| !ground.falls_away(s)) {
        let found = tube(ground, seam, machine).or_else(|| band(ground, seam));
        if let Some(found) =
            found.filter(|f| !all.iter().any(|o| o.name == f.name && o.way == f.way))
        {
            all.push(found);
        }
    }
    all.extend(ground.adapted.pieces.iter().filter_map(|p| bag(ground, p)));
    if !all.iter().any(|one| one.way == Way::Tube) {
        all.extend(limbs(ground, machine));
    }
    let room = |one: &Turned| one.flat.0 - one.needed().0;
    all.sort_by(|a, b| room(a).total_cmp(&room(b)));
    all
}

fn judged(mut one: Turned, machine: Option<&Machine>) -> Turned {
    one.too_narrow = Mm((one.needed().0 - one.flat.0).max(0.0));
    let girth = 2.0 * one.flat.0;
    one.out_of_reach = Mm(machine.map_or(0.0, |m| (m.tube.0 - girth).max(0.0)));
    one
}

/// Thickness of a seam as it lies, where it meets nothing.
fn lying(ground: &Ground<'_>, seam: &Seam) -> f64 {
    let (work, widths) = ground.work(seam);
    let pile = |side: &[Stretch]| {
        let sheets = side
            .first()
            .and_then(|s| Some(ground.sheets(ground.number(&s.piece)?, s.copy.role)));
        sheets.map_or(0.0, |all| all.iter().map(|s| s.thickness).sum())
    };
    let last = sections(work, widths).pop();
    last.and_then(|(_, section)| section.thickest(pile(&seam.a), pile(&seam.b), 0.0))
        .map_or(0.0, |(_, high)| high)
}

/// One piece whose two edges are sewn to each other.
fn own_edges(seam: &Seam) -> Option<(&Stretch, &Stretch)> {
    let ([a], [b]) = (seam.a.as_slice(), seam.b.as_slice()) else {
        return None;
    };
    (a.piece == b.piece && a.copy == b.copy && a.edge != b.edge).then_some((a, b))
}

/// Lengths of the outline between two edges, on either way round.
fn ends(piece: &Piece, a: &str, b: &str) -> Option<(f64, f64)> {
    let (first, second) = (piece.outline.index_of(a)?, piece.outline.index_of(b)?);
    let (low, high) = (first.min(second), first.max(second));
    let edges = piece.outline.edges();
    let length =
        |edges: &mut dyn Iterator<Item = &Edge>| edges.map(|e| e.line.length()).sum::<f64>();
    let between = length(&mut edges.iter().take(high).skip(low + 1));
    let around = length(&mut edges.iter().skip(high + 1).chain(edges.iter().take(low)));
    (between > 0.0 && around > 0.0).then_some((between, around))
}

/// A seam that closes one piece to a tube.
fn tube(ground: &Ground<'_>, seam: &Seam, machine: &Machine) -> Option<Turned> {
    let (a, b) = own_edges(seam)?;
    let piece = ground.piece(ground.number(&a.piece)?)?;
    if is_band(ground, a) || is_band(ground, b) {
        return None;
    }
    let (between, around) = ends(piece, &a.edge, &b.edge)?;
    let (work, widths) = ground.work(seam);
    if work == Work::BoundEdge {
        return None;
    }
    let one = Turned {
        name: piece.name.clone(),
        place: Place {
            piece: Some(piece.name.clone()),
            ..Place::part(&seam.name)
        },
        way: Way::Tube,
        flat: Mm(between.min(around) / 2.0),
        length: Mm(ground.length(&seam.a)),
        allowance: Mm(widths.a + widths.b),
        stack: Mm(lying(ground, seam)),
        too_narrow: Mm(0.0),
        out_of_reach: Mm(0.0),
        edges: vec![
            EdgeRef::new(&a.piece, &a.edge),
            EdgeRef::new(&b.piece, &b.edge),
        ],
    };
    Some(judged(one, Some(machine)))
}

/// Is this edge of a piece sewn to another piece as well: the long edge of a band?
fn is_band(ground: &Ground<'_>, s: &Stretch) -> bool {
    let Some(number) = ground.number(&s.piece) else {
        return false;
    };
    let holds = |edge: &str| {
        ground.uses(number, s.copy.role, edge).iter().any(|used| {
            let seam = ground.seams().get(used.seam);
            seam.is_some_and(|seam| used.end.other().of(seam).iter().any(|o| o.piece != s.piece))
        })
    };
    let piece = ground.piece(number);
    // Its ends are closed beside the seam: both halves of them lie on the same end.
    let laps = piece.is_some_and(|piece| {
        piece.outline.edges().iter().any(|edge| {
            edge.name != s.edge
                && ground
                    .uses(number, s.copy.role, &edge.name)
                    .iter()
                    .any(|used| {
                        let seam = ground.seams().get(used.seam);
                        seam.and_then(own_edges)
                            .is_some_and(|(a, b)| ends(piece, &a.edge, &b.edge).is_none())
                    })
        })
    });
    holds(&s.edge) || laps
}

/// A band folded lengthwise whose two half ends are sewn to each other.
fn band(ground: &Ground<'_>, seam: &Seam) -> Option<Turned> {
    let (a, b) = own_edges(seam)?;
    let piece = ground.piece(ground.number(&a.piece)?)?;
    if ends(piece, &a.edge, &b.edge).is_some() {
        return None;
    }
    let half = ground.edge(a)?.line.length();
    let edges = piece.outline.edges();
    let long = edges
        .iter()
        .max_by(|x, y| x.line.length().total_cmp(&y.line.length()))?;
    let wide: f64 = ground
        .strips(&piece.name, &long.name, long.finish_at(0.5))
        .iter()
        .sum();
    let one = Turned {
        name: piece.name.clone(),
        place: Place::edge(&piece.name, &long.name),
        way: Way::Band,
        flat: Mm(half),
        length: Mm(long.line.length()),
        allowance: Mm(wide),
        stack: Mm(lying(ground, seam)),
        too_narrow: Mm(0.0),
        out_of_reach: Mm(0.0),
        edges: vec![EdgeRef::new(&piece.name, &long.name)],
    };
    Some(judged(one, None))
}

/// An edge this long against the longest is one of the long edges.
const LONG_EDGE: f64 = 0.6;

/// A piece sewn to its own lining along its edges, and turned.
fn bag(ground: &Ground<'_>, piece: &Piece) -> Option<Turned> {
    let bagged = |edge: &Edge| {
        ground.seams().iter().find(|seam| {
            is_bag(seam)
                && seam
                    .a
                    .iter()
                    .any(|s| s.piece == piece.name && s.edge == edge.name)
        })
    };
    let edges: Vec<&Edge> = piece
        .outline
        .edges()
        .iter()
        .filter(|e| !e.is_fold())
        .collect();
    let longest = edges.iter().map(|e| e.line.length()).fold(0.0, f64::max);
    let long: Vec<(&Edge, &Seam)> = edges
        .iter()
        .filter(|edge| edge.line.length() >= LONG_EDGE * longest)
        .filter_map(|edge| Some((*edge, bagged(edge)?)))
        .collect();
    let (first, seam) = long.first()?;
    let flat = piece.outline.area().abs() / longest;
    let both = long.len() > 1;
    // A body piece bagged along one edge is open everywhere else.
    if !both && matches!(piece.placement, crate::piece::Placement::Framed(_)) {
        return None;
    }
    let width = |edge: &Edge| {
        let finish = edge.finish_at(0.5);
        match finish {
            Finish::Fold => 0.0,
            _ => ground
                .strips(&piece.name, &edge.name, finish)
                .iter()
                .sum::<f64>(),
        }
    };
    let one = Turned {
        name: piece.name.clone(),
        place: Place::edge(&piece.name, &first.name),
        way: if both { Way::Tube } else { Way::Bag },
        flat: Mm(flat),
        length: Mm(longest),
        allowance: Mm(long.iter().map(|(edge, _)| width(edge)).sum()),
        stack: Mm(lying(ground, seam)),
        too_narrow: Mm(0.0),
        out_of_reach: Mm(0.0),
        edges: long
            .iter()
            .map(|(edge, _)| EdgeRef::new(&piece.name, &edge.name))
            .collect(),
    };
    Some(judged(one, None))
}

/// Sleeves and trouser legs of more than one piece, known by their tape lines; two seams with the fitting's allowance.
fn limbs(ground: &Ground<'_>, machine: &Machine) -> Vec<Turned> {
    let seam = ground.adapted.fitting.allowances.seam.0.max(0.0);
    let rows = ground.adapted.ease.iter();
    rows.filter(|row| row.is_girth && is_of_one_limb(row.measure) && row.garment.1.0 > 0.0)
        .map(|row| {
            let one = Turned {
                name: row.name.clone(),
                place: Place::part(&row.name),
                way: Way::Tube,
                flat: Mm(row.garment.1.0 / 2.0),
                length: Mm(0.0),
                allowance: Mm(2.0 * seam),
                stack: Mm(2.0 * ground.thickness(crate::piece::Role::Shell)),
                too_narrow: Mm(0.0),
                out_of_reach: Mm(0.0),
                edges: Vec::new(),
            };
            judged(one, Some(machine))
        })
        .collect()
}
