//! What closes an opening: how far one side laps over the other for it, and which closure suits the size.
//!
//! # Source
//! That hooks need the least overlap and hook-and-loop tape the most, and that worked buttonholes are too small for a
//! doll, so that a button is sewn over a snap: makers' practice, read (fact sheet J1, J07). Every number in mm here is
//! common practice, no source.

use crate::adapt::Adapted;
use crate::body::{Body, BodyKind};
use crate::closure::Closure;
use crate::edge::{EdgeRef, Finish};
use crate::garment::{Opening, Passing};
use crate::measure::Measure;
use crate::tape::{TapeKind, TapeLine, TapePath};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// The smallest button whose hole can still be worked neatly. Common practice, no source.
pub const SMALLEST_WORKED_BUTTON: Mm = Mm(9.0);

/// How far a snap, button or tape stands back from both edges together. Common practice, no source.
const ROUND_A_SNAP: f64 = 2.0;
const ROUND_A_BUTTON: f64 = 3.0;
const ROUND_A_TAPE: f64 = 3.0;

impl Closure {
    /// How far one side must lap over the other: hooks least, hook-and-loop tape most.
    ///
    /// Hooks with an eye, lacing, ties, drawstrings and elastic need none; a snap its diameter + 2 mm, a button its
    /// diameter + 3 mm, hook-and-loop tape its width + 3 mm.
    ///
    /// # Source
    /// The order: makers' practice, read (fact sheet J07). The mm: common practice, no source.
    pub fn overlap(self) -> Mm {
        match self {
            Self::Snaps { diameter } | Self::ButtonsOverSnaps { diameter } => {
                Mm(diameter.0 + ROUND_A_SNAP)
            }
            Self::Buttons { diameter } => Mm(diameter.0 + ROUND_A_BUTTON),
            Self::HookAndLoop { width } => Mm(width.0 + ROUND_A_TAPE),
            Self::Hooks
            | Self::Lacing { .. }
            | Self::Ties
            | Self::Drawstring
            | Self::Elastic { .. }
            | Self::SewnShut => Mm(0.0),
        }
    }

    /// The same with one of its sizes changed, by the name [`Self::sizes`] gives it.
    #[must_use]
    pub fn with_size(mut self, name: &str, size: Mm) -> Self {
        match (&mut self, name) {
            (
                Self::Snaps { diameter }
                | Self::Buttons { diameter }
                | Self::ButtonsOverSnaps { diameter },
                "diameter",
            ) => *diameter = size,
            (Self::HookAndLoop { width }, "width") => *width = size,
            (Self::Lacing { gap }, "gap") => *gap = size,
            (Self::Elastic { relaxed, .. }, "relaxed") => *relaxed = size,
            (Self::Elastic { stretched, .. }, "stretched") => *stretched = size,
            _ => {}
        }
        self
    }

    /// Has it hard parts small enough to be swallowed by a small child?
    pub fn has_small_parts(self) -> bool {
        matches!(
            self,
            Self::Hooks | Self::Snaps { .. } | Self::Buttons { .. } | Self::ButtonsOverSnaps { .. }
        )
    }

    /// Has it a cord or loop?
    pub fn has_cords(self) -> bool {
        matches!(self, Self::Lacing { .. } | Self::Ties | Self::Drawstring)
    }
}

/// A closure that can be had in a size that suits the body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suited {
    /// What it is.
    pub closure: Closure,
    /// How far one side must lap over the other.
    pub overlap: Mm,
    /// Is so much there?
    pub fits: bool,
    /// How many along the slit; 1 for a strip of tape.
    pub count: u32,
}

/// What closes an opening.
#[derive(Debug, Clone, PartialEq)]
pub struct Closing {
    /// What the maker chose.
    pub chosen: Option<Closure>,
    /// How far one side laps over the other on the garment.
    pub overlap: Mm,
    /// Where that overlap comes from: "placket", "tape line waist"; empty when there is none.
    pub from: String,
    /// Closures that suit the size, the one to take first.
    pub suited: Vec<Suited>,
}

impl Closing {
    /// The closure that is used: the maker's, else the one that suits best.
    pub fn used(&self) -> Option<Closure> {
        self.chosen
            .or(self.suited.first().map(|suited| suited.closure))
    }

    /// How long each of a pair of ties must be where the edges meet, for a bow; `None` where it is closed otherwise.
    pub fn tie_length(&self, body: &Body) -> Option<Mm> {
        let bow = || super::usual_bow(body, tie_width(body)).length();
        matches!(self.used(), Some(Closure::Ties)).then(bow)
    }

    /// How much more overlap the chosen closure needs than there is; `None` when it is enough.
    pub fn short(&self) -> Option<Mm> {
        let needed = self.chosen?.overlap();
        let short = needed.0 - self.overlap.0;
        (short > DRAWING.0).then_some(Mm(short))
    }
}

/// How wide ties at an opening are: 1 % of the body's height. Own.
pub fn tie_width(body: &Body) -> Mm {
    Mm(0.01 * body.mm(Measure::Height).0)
}

/// What closes an opening with a slit of this length; `None` where there is nothing to close.
pub(super) fn closing(adapted: &Adapted, opening: &Opening, slit: Mm) -> Option<Closing> {
    let fitting = &adapted.fitting;
    let chosen = fitting.closures.get(&opening.name).copied();
    let is_drawn_in = opening.hole.iter().any(|at| has_casing(adapted, at));
    if slit.0 <= DRAWING.0 && chosen.is_none() && !is_drawn_in {
        return None;
    }
    let (overlap, from) = overlap_there(adapted, opening);
    let suited = if slit.0 > DRAWING.0 {
        closures_for(&fitting.body, slit, overlap)
    } else {
        drawn_in_by(&fitting.body, opening.passes)
    };
    Some(Closing {
        chosen,
        overlap,
        from,
        suited,
    })
}

fn has_casing(adapted: &Adapted, at: &EdgeRef) -> bool {
    let piece = adapted.made.piece(&at.piece);
    let edge = piece.and_then(|piece| piece.outline.edge(&at.edge));
    edge.is_some_and(|edge| {
        let mut finishes = edge.finish.iter();
        finishes.any(|s| matches!(s.finish, Finish::Casing { .. }))
    })
}

/// A hole without a slit is drawn in: elastic a tenth shorter than the body, stretched to twice its length. Both
/// numbers are common practice, no source.
fn drawn_in_by(body: &Body, passes: Passing) -> Vec<Suited> {
    let girth = body.mm(super::slit::girth_of(passes)).0;
    let elastic = Closure::Elastic {
        relaxed: Mm(0.9 * girth),
        stretched: Mm(1.8 * girth),
    };
    [elastic, Closure::Drawstring]
        .into_iter()
        .map(|closure| Suited {
            closure,
            overlap: closure.overlap(),
            fits: true,
            count: 1,
        })
        .collect()
}

/// Closures that suit a body, for a slit of this length where one side laps over the other by `overlap`: those that fit
/// the overlap first, then those sewn most easily at this size.
///
/// # Source
/// Sizes and distances: common practice, no source. Which needs more overlap: fact sheet J07.
///
/// # Example
/// ```
/// # use petitoile_core::{Mm, body::{Body, BodyKind, Measured}, closure::Closure, dressing::closures_for, measure::Measure};
/// let doll = Body::new("play doll", BodyKind::Doll).with(Measure::Height, Measured::own_tape(Mm(457.0)));
/// let edge_to_edge = closures_for(&doll, Mm(90.0), Mm(0.0));
/// assert_eq!(edge_to_edge[0].closure, Closure::Hooks);
/// ```
pub fn closures_for(body: &Body, slit: Mm, overlap: Mm) -> Vec<Suited> {
    let (kinds, apart) = sizes(body);
    let mut list: Vec<Suited> = kinds
        .into_iter()
        .map(|closure| Suited {
            closure,
            overlap: closure.overlap(),
            fits: closure.overlap().0 <= overlap.0 + DRAWING.0,
            count: count(closure, slit, apart),
        })
        .collect();
    list.sort_by_key(|suited| !suited.fits);
    list
}

/// How many of a closure go along a slit on this body, and how far apart they are sewn at the most; 1 for what is one strip.
///
/// # Source
/// Distances: common practice, no source.
pub fn how_many(body: &Body, closure: Closure, slit: Mm) -> (u32, Mm) {
    let (_, apart) = sizes(body);
    (count(closure, slit, apart), Mm(apart))
}

/// How many along a slit: one near the hole, then one for each further distance.
fn count(closure: Closure, slit: Mm, apart: f64) -> u32 {
    match closure {
        Closure::HookAndLoop { .. } | Closure::SewnShut | Closure::Lacing { .. } => 1,
        // A slit is never longer than a bolt of cloth, so the number stays small.
        _ => (slit.0 / apart).round().clamp(1.0, 1000.0) as u32,
    }
}

/// Closures of a size that suits a body, easiest first, and how far apart they are sewn. Common practice, no source.
fn sizes(body: &Body) -> (Vec<Closure>, f64) {
    let snaps = |mm| Closure::Snaps { diameter: Mm(mm) };
    let buttons = |mm| Closure::Buttons { diameter: Mm(mm) };
    let over = |mm| Closure::ButtonsOverSnaps { diameter: Mm(mm) };
    let tape = |mm| Closure::HookAndLoop { width: Mm(mm) };
    let (hooks, ties, shut) = (Closure::Hooks, Closure::Ties, Closure::SewnShut);
    let height = body.mm(Measure::Height).0;
    if body.kind != BodyKind::Doll {
        return (
            vec![buttons(12.0), hooks, snaps(9.0), ties, tape(20.0)],
            70.0,
        );
    }
    if height < 200.0 {
        // The smallest snap is about 5 mm wide: too large for a miniature.
        (vec![shut, hooks, ties], 8.0)
    } else if height < 340.0 {
        (vec![snaps(5.0), over(5.0), hooks, ties, tape(6.0)], 15.0)
    } else if height < 520.0 {
        (vec![snaps(6.0), over(7.0), hooks, tape(10.0), ties], 25.0)
    } else {
        (
            vec![
                snaps(7.0),
                over(9.0),
                buttons(10.0),
                hooks,
                tape(12.0),
                ties,
            ],
            35.0,
        )
    }
}

/// Every kind of closure in a size for a body, to choose from at an opening: those that suit it first.
pub fn every_closure(body: &Body, passes: Passing) -> Vec<Closure> {
    let (mut list, _) = sizes(body);
    let small = Mm(0.01 * body.mm(Measure::Height).0);
    let others = [
        Closure::Buttons {
            diameter: SMALLEST_WORKED_BUTTON,
        },
        Closure::Lacing { gap: small },
    ];
    let drawn = drawn_in_by(body, passes).into_iter().map(|s| s.closure);
    for other in others.into_iter().chain(drawn).chain([Closure::SewnShut]) {
        let is_there = |known: &Closure| known.noun() == other.noun();
        if !list.iter().any(is_there) {
            list.push(other);
        }
    }
    list
}

/// How far one side laps over the other, and what says so: the widest of its plackets and of the closure overlap of a
/// girth that runs over the pieces of the opening.
fn overlap_there(adapted: &Adapted, opening: &Opening) -> (Mm, String) {
    let mut best = (Mm(0.0), String::new());
    let mut keep = |width: Mm, from: String| {
        if width.0 > best.0.0 {
            best = (width, from);
        }
    };
    let beside = super::slit::beside(&adapted.made, opening);
    let edges = opening
        .slit
        .iter()
        .chain(beside.iter().map(|side| &side.at));
    for at in edges {
        let piece = adapted.made.piece(&at.piece);
        let edge = piece.and_then(|piece| piece.outline.edge(&at.edge));
        for stretch in edge.into_iter().flat_map(|edge| &edge.finish) {
            if let Finish::Placket { width } = stretch.finish {
                keep(width, format!("placket of {at}"));
            }
        }
    }
    let girths = adapted
        .tape_lines
        .iter()
        .filter(|tape| tape.kind == TapeKind::Girth);
    for tape in girths.filter(|tape| runs_over(tape, opening)) {
        keep(tape.overlap, format!("tape line {}", tape.name));
    }
    best
}

/// Does a tape line run along the hole, or across a piece that is slit?
fn runs_over(tape: &TapeLine, opening: &Opening) -> bool {
    tape.parts.iter().any(|part| {
        let slit = opening.slit.iter().any(|at| at.piece == part.piece);
        let along = match &part.path {
            TapePath::Along { edge, .. } => opening.hole.contains(&EdgeRef::new(&part.piece, edge)),
            TapePath::Across(..) | TapePath::Upright(..) => false,
        };
        slit || along
    })
}
