//! Pieces of the garment that are wrapped and tied: are they long enough, are they too long?

use std::sync::Arc;

use super::mended::resized;
use super::slit::sewn;
use super::ties::{Bow, band_behind, band_returned, kerchief_long_edge, longest, sash, usual_bow};
use crate::adapt::Adapted;
use crate::alteration::Alteration;
use crate::edge::EdgeRef;
use crate::measure::Measure;
use crate::piece::{Piece, Placement};
use crate::seams::{InsertKind, side_length};
use crate::tolerance::{DRAWING, JOINING};
use crate::units::Mm;

/// Words that call a piece a tie; in any name of a piece.
const TIES: [&str; 4] = ["tie", "ties", "string", "strings"];
const SASHES: [&str; 3] = ["sash", "girdle", "cravat"];
const KERCHIEFS: [&str; 5] = ["kerchief", "neckerchief", "shawl", "fichu", "scarf"];
/// A free band is one when it is at least this many times as long as wide. Own.
const BAND: f64 = 8.0;

/// What kind of wrap a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TieKind {
    /// Two ends sewn to the garment, each a piece.
    Ties,
    /// One band that goes all the way round.
    Sash,
    /// A square, or half of one, folded corner to corner.
    Kerchief,
}

/// What it goes round.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Round {
    /// The neck.
    Neck,
    /// The waist.
    Waist,
    /// A wrist.
    Wrist,
    /// The head.
    Head,
}

impl Round {
    /// The girth it goes round.
    pub fn measure(self) -> Measure {
        match self {
            Self::Neck => Measure::NeckBaseGirth,
            Self::Waist => Measure::WaistGirth,
            Self::Wrist => Measure::WristGirth,
            Self::Head => Measure::HeadGirthWithWig,
        }
    }

    /// "the neck", "the waist".
    pub fn words(self) -> &'static str {
        match self {
            Self::Neck => "the neck",
            Self::Waist => "the waist",
            Self::Wrist => "the wrist",
            Self::Head => "the head",
        }
    }

    /// Every one, in the order of a menu.
    pub const ALL: [Self; 4] = [Self::Neck, Self::Waist, Self::Wrist, Self::Head];
}

/// One way of tying it, and the length that takes.
#[derive(Debug, Clone, PartialEq)]
pub struct TieWay {
    /// "meeting behind, bow".
    pub words: &'static str,
    /// Length of the piece it takes (each part of a pair; the long edge of a kerchief).
    pub length: Mm,
    /// Is the piece long enough?
    pub reaches: bool,
}

/// A piece that is wrapped and tied.
#[derive(Debug, Clone, PartialEq)]
pub struct Tied {
    /// Name of the piece.
    pub piece: String,
    /// What kind.
    pub kind: TieKind,
    /// What it goes round.
    pub round: Round,
    /// The girth there: the garment's where a tape line says it, else the body's.
    pub girth: Mm,
    /// Length of the piece as it is (each part; the long edge of a kerchief).
    pub length: Mm,
    /// Width as it is worn.
    pub width: Mm,
    /// The ways of tying it, shortest first.
    pub ways: Vec<TieWay>,
    /// The longest it may be before its ends hang too low.
    pub most: Mm,
    /// What its ends then hang down to: "the waist", "the knee".
    pub down_to: &'static str,
    /// Makes it as long as the shortest way that holds takes, or as short as the longest that may hang; empty where it is right,
    /// or no hand work does.
    pub mended: Vec<Alteration>,
}

impl Tied {
    /// How much it is too short to be tied at all.
    pub fn short(&self) -> Option<Mm> {
        let least = self.ways.first()?.length;
        let short = least.0 - self.length.0;
        (short > DRAWING.0).then_some(Mm(short))
    }

    /// How much it is too long. A kerchief that can be crossed over and tied behind is not.
    pub fn long(&self) -> Option<Mm> {
        let is_wrapped = self.ways.last().is_some_and(|way| way.reaches);
        if self.kind == TieKind::Kerchief && self.ways.len() > 1 && is_wrapped {
            return None;
        }
        let long = self.length.0 - self.most.0;
        (long > DRAWING.0).then_some(Mm(long))
    }
}

/// A tie caught in a seam: drawn only where it is caught, so its length is not known to the garment.
#[derive(Debug, Clone, PartialEq)]
pub struct CaughtTie {
    /// The seam it is caught in.
    pub seam: String,
    /// What it is called.
    pub name: String,
    /// Its width: the stretch of the seam it takes.
    pub width: Mm,
    /// Length beyond the seam for a bow with its mate.
    pub bow: Mm,
    /// The same for a plain knot.
    pub knot: Mm,
}

/// Ties caught in the seams of the garment, and how long they must be where the edges they close meet.
pub(super) fn caught(adapted: &Adapted) -> Vec<CaughtTie> {
    let body = &adapted.fitting.body;
    let mut list = Vec::new();
    for seam in &adapted.made.seams {
        let Ok(whole) = side_length(&seam.a, &adapted.pieces) else {
            continue;
        };
        for insert in seam.inserts.iter().filter(|i| i.kind == InsertKind::Tie) {
            let width = Mm((insert.to - insert.from).abs() * whole.0);
            let bow = usual_bow(body, width);
            list.push(CaughtTie {
                seam: seam.name.clone(),
                name: insert.name.clone(),
                width,
                bow: bow.length(),
                knot: bow.knotted().length(),
            });
        }
    }
    list
}

/// Every piece of the garment that is wrapped and tied, by its name or by its shape.
pub(super) fn tied(adapted: &Adapted) -> Vec<Tied> {
    let pieces = adapted.pieces.iter();
    pieces
        .filter_map(|piece| of_piece(adapted, piece))
        .collect()
}

fn has_word(name: &str, words: &[&str]) -> bool {
    let lower = name.to_lowercase();
    lower
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| words.contains(&word))
}

/// By its name; a free band or square without a telling name by its shape.
fn kind(adapted: &Adapted, piece: &Piece, (length, width): (f64, f64)) -> Option<TieKind> {
    if matches!(piece.placement, Placement::Framed(_)) {
        return None;
    }
    let pair = piece.copies.len() == 2;
    if has_word(&piece.name, &KERCHIEFS) {
        return Some(TieKind::Kerchief);
    }
    if has_word(&piece.name, &SASHES) {
        return Some(TieKind::Sash);
    }
    if has_word(&piece.name, &TIES) {
        return Some(if pair { TieKind::Ties } else { TieKind::Sash });
    }
    let edges = piece.outline.edges();
    let is_free = edges.iter().all(|edge| {
        edge.is_fold() || sewn(&adapted.made, &EdgeRef::new(&piece.name, &edge.name)).is_empty()
    });
    (is_free && edges.len() == 4 && length >= BAND * width && !is_named_in_a_seam(adapted, piece))
        .then_some(TieKind::Sash)
}

fn is_named_in_a_seam(adapted: &Adapted, piece: &Piece) -> bool {
    let seams = adapted.made.seams.iter();
    seams
        .flat_map(|seam| seam.a.iter().chain(&seam.b))
        .any(|stretch| stretch.piece == piece.name)
}

/// Length and width of the piece as it is opened out: along its longest side, and what is across that.
fn size(piece: &Piece, kerchief: bool) -> (f64, f64) {
    let longest = piece
        .outline
        .edges()
        .iter()
        .max_by(|a, b| a.line.length().total_cmp(&b.line.length()));
    let Some(edge) = longest else {
        return (0.0, 0.0);
    };
    let along = edge.line.end() - edge.line.start();
    let unit = along / along.hypot().max(JOINING.0);
    let extent = |way: kurbo::Vec2| {
        let places = piece.outline.edges().iter().flat_map(|e| e.line.points());
        let (low, high) = places.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            let at = p.to_vec2().dot(way);
            (low.min(at), high.max(at))
        });
        high - low
    };
    let (mut length, mut width) = (extent(unit), extent(kurbo::Vec2::new(-unit.y, unit.x)));
    if let Some(fold) = piece.fold_edge() {
        let across = fold.line.end() - fold.line.start();
        if across.dot(unit).abs() > 0.7 * across.hypot() {
            width *= 2.0;
        } else {
            length *= 2.0;
        }
    }
    // A square is folded corner to corner.
    if kerchief && piece.outline.edges().len() == 4 && (length - width).abs() < 0.2 * length {
        return (kerchief_long_edge(Mm(length)).0, width / 2.0);
    }
    if length >= width {
        (length, width)
    } else {
        (width, length)
    }
}

fn round(adapted: &Adapted, piece: &Piece, kind: TieKind) -> Round {
    let name = piece.name.to_lowercase();
    for (words, round) in [
        (&["neck", "collar", "throat"][..], Round::Neck),
        (&["wrist", "cuff", "sleeve"][..], Round::Wrist),
        (&["head", "bonnet", "hat", "cap", "hood"][..], Round::Head),
        (&["waist", "apron", "skirt"][..], Round::Waist),
    ] {
        if words.iter().any(|word| name.contains(word)) {
            return round;
        }
    }
    let sewn_to = |word: &str| {
        let seams = adapted.made.seams.iter();
        seams
            .filter(|seam| {
                let mut all = seam.a.iter().chain(&seam.b);
                all.any(|stretch| stretch.piece == piece.name)
            })
            .flat_map(|seam| seam.a.iter().chain(&seam.b))
            .any(|stretch| stretch.piece.contains(word) || stretch.edge.contains(word))
    };
    if kind == TieKind::Kerchief || sewn_to("neck") || sewn_to("collar") {
        Round::Neck
    } else if sewn_to("cuff") || sewn_to("sleeve") {
        Round::Wrist
    } else {
        Round::Waist
    }
}

/// Girth it goes round: the widest that a tape line of the garment gives there, else the body's.
fn girth(adapted: &Adapted, round: Round) -> Mm {
    let near: &[Measure] = match round {
        Round::Neck => &[Measure::NeckBaseGirth, Measure::NeckGirth],
        Round::Waist => &[Measure::WaistGirth],
        Round::Wrist => &[Measure::WristGirth],
        Round::Head => &[Measure::HeadGirthWithWig, Measure::HeadGirth],
    };
    let rows = adapted
        .ease
        .iter()
        .filter(|row| row.is_girth && near.contains(&row.measure));
    // A sash draws in what hangs wide: never more than a quarter over the body.
    let body = adapted.fitting.body.mm(round.measure());
    let worn = rows.fold(body.0, |most, row| most.max(row.garment.1.0));
    Mm(worn.min(1.25 * body.0))
}

/// How far ends may hang below the knot, and down to where.
fn drop(adapted: &Adapted, round: Round) -> (Mm, &'static str) {
    let mm = |measure| adapted.fitting.body.mm(measure);
    match round {
        Round::Neck => (mm(Measure::FrontWaistLength), "the waist"),
        Round::Waist => (mm(Measure::WaistToFloor), "the floor"),
        Round::Wrist => (Mm(mm(Measure::ArmLength).0 / 3.0), "a third of the arm"),
        Round::Head => (mm(Measure::FrontWaistLength), "the waist"),
    }
}

fn of_piece(adapted: &Adapted, piece: &Arc<Piece>) -> Option<Tied> {
    let is_kerchief = has_word(&piece.name, &KERCHIEFS);
    let (length, width) = size(piece, is_kerchief);
    let kind = kind(adapted, piece, (length, width))?;
    let round = round(adapted, piece, kind);
    let girth = girth(adapted, round);
    let body = &adapted.fitting.body;
    // A kerchief is rolled or folded where it is knotted: about a tenth of its depth.
    let tied_width = if kind == TieKind::Kerchief {
        0.1 * width
    } else {
        width
    };
    let bow = usual_bow(body, Mm(tied_width));
    let (drop, down_to) = drop(adapted, round);
    let mut ways = ways(adapted, kind, round, girth, bow);
    for way in &mut ways {
        way.reaches = length >= way.length.0 - DRAWING.0;
    }
    let most = match kind {
        TieKind::Ties => band_returned(girth, Mm(bow.length().0 + drop.0)),
        TieKind::Sash => longest(Mm(2.0 * girth.0), bow, drop),
        TieKind::Kerchief => longest(girth, bow.knotted(), drop),
    };
    let mut tied = Tied {
        piece: piece.name.clone(),
        kind,
        round,
        girth,
        length: Mm(length),
        width: Mm(width),
        ways,
        most,
        down_to,
        mended: Vec::new(),
    };
    let least = tied.ways.first().map_or(0.0, |way| way.length.0);
    let (limit, round) = match (tied.short(), tied.long()) {
        (Some(_), _) => (least, girth.0 + 2.0 * bow.tail.0),
        (None, Some(_)) => (tied.most.0, girth.0 + 2.0 * drop.0),
        (None, None) => return Some(tied),
    };
    // A larger kerchief is thicker in its knot: what the knot takes grows with it, what it goes round does not.
    let knot = (limit - round) / length.max(f64::MIN_POSITIVE);
    let wanted = match kind {
        TieKind::Kerchief if knot < 1.0 => round / (1.0 - knot),
        _ => limit,
    };
    let times = wanted / length.max(f64::MIN_POSITIVE);
    tied.mended = resized(adapted, piece, kind, wanted - length, times);
    Some(tied)
}

fn ways(adapted: &Adapted, kind: TieKind, round: Round, girth: Mm, bow: Bow) -> Vec<TieWay> {
    let way = |words, length| TieWay {
        words,
        length,
        reaches: false,
    };
    let (knot, bow) = (bow.knotted().length(), bow.length());
    match kind {
        TieKind::Ties => vec![
            way("meeting behind, knotted", band_behind(girth, knot)),
            way("meeting behind, bow", band_behind(girth, bow)),
            way(
                "crossed and back to the front, bow",
                band_returned(girth, bow),
            ),
        ],
        TieKind::Sash => vec![
            way("once round, knotted", sash(girth, 1, knot)),
            way("once round, bow", sash(girth, 1, bow)),
            way("twice round, bow", sash(girth, 2, bow)),
        ],
        TieKind::Kerchief => {
            let mut list = vec![way("knotted in front", sash(girth, 1, knot))];
            if round == Round::Neck {
                // From the nape over the shoulders, down across the front to the other side, behind and tied there.
                let body = &adapted.fitting.body;
                let front = body.mm(Measure::FrontWaistLength).0;
                let across = body.mm(Measure::WaistGirth).0 / 4.0;
                let half = girth.0 / 4.0 + front.hypot(across) + across + knot.0;
                list.push(way("crossed over and tied behind", Mm(2.0 * half)));
            }
            list
        }
    }
}
