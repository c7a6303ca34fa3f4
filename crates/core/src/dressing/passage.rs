//! An opening measured, and everything that has to pass through it.

use std::sync::Arc;

use super::closing::{self, Closing};
use super::slit;
use crate::adapt::Adapted;
use crate::alteration::Alteration;
use crate::body::Body;
use crate::closure::Closure;
use crate::ease::cloth_term;
use crate::edge::{EdgeRef, Finish};
use crate::fullness::Filled;
use crate::garment::{Garment, Opening, OpeningSize, Passing, TapeError};
use crate::measure::Measure;
use crate::piece::{Frame, Piece, Placement, Role};
use crate::tolerance::DRAWING;
use crate::units::Mm;

/// How a garment is put on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// Over head and shoulders.
    OverHead,
    /// Feet first, up over the hips.
    FeetFirst,
}

impl Way {
    /// "over the head", "feet first".
    pub fn words(self) -> &'static str {
        match self {
            Self::OverHead => "over the head",
            Self::FeetFirst => "feet first",
        }
    }

    /// The same with a capital letter.
    pub fn label(self) -> &'static str {
        match self {
            Self::OverHead => "Over the head",
            Self::FeetFirst => "Feet first",
        }
    }
}

/// What the head wears while it is dressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HeadDress {
    /// Its wig or hair.
    #[default]
    Wig,
    /// Nothing: the wig is put on afterwards.
    Bare,
}

impl HeadDress {
    /// "with its wig", "without its wig".
    pub fn words(self) -> &'static str {
        match self {
            Self::Wig => "with its wig",
            Self::Bare => "without its wig",
        }
    }
}

/// A part of the body that has to pass.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The head with its wig.
    Head,
    /// The head without a wig.
    BareHead,
    /// A hand.
    Hand,
    /// A foot over the heel, without its shoe.
    Foot,
    /// Both shoulders, arms hanging.
    Shoulders,
    /// The bust.
    Bust,
    /// The hips.
    Hips,
}

impl Part {
    /// "the head with its wig", "a hand".
    pub fn words(self) -> &'static str {
        match self {
            Self::Head => "the head with its wig",
            Self::BareHead => "the head without its wig",
            Self::Hand => "the hand",
            Self::Foot => "the foot over the heel",
            Self::Shoulders => "both shoulders, arms hanging,",
            Self::Bust => "the bust",
            Self::Hips => "the hips",
        }
    }

    /// "Head with wig", "Hand".
    pub fn label(self) -> &'static str {
        match self {
            Self::Head => "Head with wig",
            Self::BareHead => "Head without wig",
            Self::Hand => "Hand",
            Self::Foot => "Foot, no shoe",
            Self::Shoulders => "Shoulders",
            Self::Bust => "Bust",
            Self::Hips => "Hips",
        }
    }

    /// Its girth on a body, as it is.
    pub fn girth(self, body: &Body) -> Mm {
        match self {
            Self::Head => body.mm(Measure::HeadGirthWithWig),
            Self::BareHead => body.mm(Measure::HeadGirth),
            Self::Hand => body.mm(Measure::HandGirth),
            Self::Foot => body.mm(Measure::HeelGirth),
            Self::Shoulders => body.shoulder_girth(),
            Self::Bust => body.mm(Measure::BustGirth),
            Self::Hips => body.mm(Measure::HipGirth),
        }
    }

    /// Is it a part of the torso, which gives where it is stuffed?
    pub fn is_of_torso(self) -> bool {
        matches!(self, Self::Shoulders | Self::Bust | Self::Hips)
    }
}

/// One thing that has to pass an opening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Need {
    /// In which way of putting it on; `None` in both.
    pub way: Option<Way>,
    /// What has to pass.
    pub part: Part,
    /// Its girth as it is.
    pub body: Mm,
    /// How much of that a soft torso gives.
    pub give: Mm,
    /// What cloth takes up: the garment's own and, on the torso, what is worn underneath.
    pub cloth: Mm,
    /// Girth the opening must have: body - give + cloth.
    pub girth: Mm,
    /// How much more it opens than that; negative is too small.
    pub margin: Mm,
    /// The slit that lets it pass; 0 when the hole alone does.
    pub slit: Mm,
}

impl Need {
    /// Does it pass?
    pub fn passes(&self) -> bool {
        self.margin.0 >= -DRAWING.0
    }

    fn counts(&self, way: Way, head: HeadDress) -> bool {
        let is_head_worn = match self.part {
            Part::Head => head == HeadDress::Wig,
            Part::BareHead => head == HeadDress::Bare,
            _ => true,
        };
        is_head_worn && self.way.is_none_or(|own| own == way)
    }
}

/// An opening with everything that has to pass through it.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// Name of the opening.
    pub name: String,
    /// What it is for.
    pub passes: Passing,
    /// Girth of the hole when it is worn: drawn in by its tape or elastic.
    pub worn: Mm,
    /// Girth of the hole while it is put on, slit closed: let out as far as cloth and elastic go.
    pub hole: Mm,
    /// Length of the slit that is open.
    pub slit: Mm,
    /// Girth it opens to: hole + 2 slit.
    pub open: Mm,
    /// What has to pass.
    pub needs: Vec<Need>,
    /// What closes it; `None` where there is neither slit nor tape nor elastic.
    pub closing: Option<Closing>,
    /// Opens it far enough for the tightest need of the usual way, where one step of hand work does.
    pub longer: Option<Alteration>,
}

impl Passage {
    /// Does everything pass in this way?
    pub fn lets_in(&self, way: Way, head: HeadDress) -> bool {
        self.needs_of(way, head).all(Need::passes)
    }

    /// What has to pass in this way.
    pub fn needs_of(&self, way: Way, head: HeadDress) -> impl Iterator<Item = &Need> {
        self.needs.iter().filter(move |need| need.counts(way, head))
    }

    /// The tightest of them.
    pub fn tightest(&self, way: Way, head: HeadDress) -> Option<&Need> {
        self.needs_of(way, head)
            .min_by(|a, b| a.margin.0.total_cmp(&b.margin.0))
    }

    /// The slit that lets everything pass in this way.
    pub fn slit_needed(&self, way: Way, head: HeadDress) -> Mm {
        self.needs_of(way, head)
            .fold(Mm(0.0), |most, need| Mm(most.0.max(need.slit.0)))
    }
}

/// Ways in which a garment can be put on, the usual one first: over the head where it closes round the neck, feet first
/// where it hangs from the waist; a garment with legs never over the head.
pub(super) fn ways(garment: &Garment) -> Vec<Way> {
    let has_legs = garment
        .pieces
        .iter()
        .any(|piece| piece.placement == Placement::Framed(Frame::Leg));
    let has_neck = garment.openings.iter().any(|o| o.passes == Passing::Head);
    match (has_legs, has_neck) {
        (true, _) => vec![Way::FeetFirst],
        (false, true) => vec![Way::OverHead, Way::FeetFirst],
        (false, false) => vec![Way::FeetFirst, Way::OverHead],
    }
}

/// Measures an opening and what has to pass it.
///
/// # Source
/// Geometry; fact sheet J2: hole + 2 slit >= what passes + cloth.
pub(super) fn passage(filled: &Filled, opening: &Opening) -> Result<Passage, TapeError> {
    let adapted = &filled.adapted;
    let chosen = adapted.fitting.closures.get(&opening.name).copied();
    let sewn = opening.size(&adapted.pieces)?.hole;
    let let_out = opening.size(&opened(filled, opening, chosen))?.hole;
    let (worn, hole) = match chosen {
        Some(Closure::Elastic { relaxed, stretched }) => {
            (Mm(relaxed.0.min(let_out.0)), Mm(stretched.0.min(let_out.0)))
        }
        _ => (sewn, let_out),
    };
    let size = OpeningSize {
        hole,
        slit: slit::length(&adapted.made, opening),
    };
    let needs = needs(adapted, opening.passes, size);
    let mut passage = Passage {
        name: opening.name.clone(),
        passes: opening.passes,
        worn,
        hole,
        slit: size.slit,
        open: size.open(),
        needs,
        closing: closing::closing(adapted, opening, size.slit),
        longer: None,
    };
    let usual = ways(&adapted.made).first().copied();
    let needed = usual.map_or(Mm(0.0), |way| passage.slit_needed(way, HeadDress::Wig));
    if !slit::reaches(passage.slit, needed) {
        passage.longer = slit::longer(&adapted.made, opening, needed - passage.slit);
    }
    Ok(passage)
}

/// The waist of a garment that closes round the neck and names no opening there: as wide as its waist girth, opened as
/// far as the slit of the neck goes on below the waist. `None` without a waist girth among its tape lines.
pub(super) fn at_waist(adapted: &Adapted, neck: &Passage) -> Option<Passage> {
    let mut openings = adapted.made.openings.iter();
    if openings.any(|opening| opening.passes == Passing::Trunk) {
        return None;
    }
    let rows = adapted.ease.iter();
    let row = rows
        .filter(|row| row.is_girth && row.measure == Measure::WaistGirth)
        .min_by(|a, b| a.garment.1.0.total_cmp(&b.garment.1.0))?;
    let down = adapted.fitting.body.mm(Measure::BackWaistLength).0;
    let size = OpeningSize {
        hole: row.garment.1,
        slit: Mm((neck.slit.0 - down).max(0.0)),
    };
    let mut needs = needs(adapted, Passing::Trunk, size);
    for need in &mut needs {
        // Counted on the slit of the neck, which has to reach the waist first.
        if need.slit.0 > 0.0 {
            need.slit = Mm(need.slit.0 + down);
        }
    }
    needs.retain(|need| !matches!(need.part, Part::Head | Part::BareHead));
    Some(Passage {
        name: row.name.clone(),
        passes: Passing::Trunk,
        worn: size.hole,
        hole: size.hole,
        slit: size.slit,
        open: size.open(),
        needs,
        closing: None,
        longer: None,
    })
}

/// The pieces as they are when it is opened: let out to their cloth where a casing or an elastic draws them in.
fn opened(filled: &Filled, opening: &Opening, chosen: Option<Closure>) -> Vec<Arc<Piece>> {
    let draws_in = matches!(chosen, Some(Closure::Elastic { .. } | Closure::Drawstring));
    let is_casing = |piece: &Piece, at: &EdgeRef| {
        let edge = piece
            .outline
            .edge(&at.edge)
            .filter(|_| at.piece == piece.name);
        edge.is_some_and(|edge| {
            let mut finishes = edge.finish.iter();
            draws_in || finishes.any(|s| matches!(s.finish, Finish::Casing { .. }))
        })
    };
    let pieces = filled.adapted.pieces.iter().zip(&filled.pieces);
    let let_out = |piece: &Piece| opening.hole.iter().any(|at| is_casing(piece, at));
    pieces
        .map(|(sewn, cloth)| if let_out(sewn) { cloth } else { sewn }.clone())
        .collect()
}

/// What has to pass, and in which way of putting it on.
fn parts(garment: &Garment, passes: Passing) -> Vec<(Option<Way>, Part)> {
    let ways = ways(garment);
    let (over, feet) = (Some(Way::OverHead), Some(Way::FeetFirst));
    let list = match passes {
        // Stepped into, the neckline comes up over everything below it.
        Passing::Head => vec![
            (over, Part::Head),
            (over, Part::BareHead),
            (feet, Part::Hips),
            (feet, Part::Bust),
            (feet, Part::Shoulders),
        ],
        Passing::Trunk => vec![
            (feet, Part::Hips),
            (over, Part::Shoulders),
            (over, Part::Bust),
            (over, Part::Head),
            (over, Part::BareHead),
        ],
        Passing::Hand => vec![(None, Part::Hand)],
        Passing::Foot => vec![(None, Part::Foot)],
    };
    list.into_iter()
        .filter(|(way, _)| way.is_none_or(|way| ways.contains(&way)))
        .collect()
}

fn needs(adapted: &Adapted, passes: Passing, size: OpeningSize) -> Vec<Need> {
    let body = &adapted.fitting.body;
    parts(&adapted.made, passes)
        .into_iter()
        .map(|(way, part)| {
            let whole = over_pads(adapted, part);
            let give = if part.is_of_torso() {
                Mm(body.give().0.min(whole.0))
            } else {
                Mm(0.0)
            };
            let cloth = cloth(adapted, part);
            let girth = whole - give + cloth;
            Need {
                way,
                part,
                body: whole,
                give,
                cloth,
                girth,
                margin: size.open() - girth,
                slit: size.slit_for(girth),
            }
        })
        .collect()
}

/// A part as it is when this is put on: over the pads worn underneath.
pub(super) fn over_pads(adapted: &Adapted, part: Part) -> Mm {
    let bare = part.girth(&adapted.fitting.body);
    match part {
        Part::Hips => adapted.fitting.girth_over_pads(Measure::HipGirth),
        Part::Bust => adapted.fitting.girth_over_pads(Measure::BustGirth),
        _ => bare,
    }
}

/// What cloth takes up while a part passes: the garment's own, and on the torso what is worn there underneath.
pub(super) fn cloth(adapted: &Adapted, part: Part) -> Mm {
    let stack = match part {
        Part::Hips => adapted.fitting.stack_underneath(Measure::HipGirth),
        Part::Bust | Part::Shoulders => adapted.fitting.stack_underneath(Measure::BustGirth),
        Part::Head | Part::BareHead | Part::Hand | Part::Foot => Mm(0.0),
    };
    cloth_term(&[stack], own_cloth(adapted))
}

/// Thickness of the garment's own outer cloth.
pub(super) fn own_cloth(adapted: &Adapted) -> Mm {
    let fitting = adapted.fitting.cloths.get(&Role::Shell);
    fitting
        .or(adapted.made.cloths.get(&Role::Shell))
        .map_or(Mm(0.0), |cloth| cloth.thickness)
}
