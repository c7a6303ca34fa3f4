//! How much a new seam would be seen.

use super::Hidden;
use crate::garment::Garment;
use crate::layers::{Half, half_of};
use crate::piece::{Frame, Piece, Placement, Role};

/// How much a new seam is seen, from not at all to most.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Seen {
    /// In a lining, interlining or facing.
    Inside,
    /// Under another garment: its fitting's name.
    Hidden(String),
    /// Behind.
    Back,
    /// At the side, at a sleeve, or nobody can tell.
    Side,
    /// In front.
    Front,
    /// Down the middle of the front.
    CentreFront,
}

/// Is a copy of this piece seen from inside only: a lining, an interlining, what is mounted, a facing? That a piece is a
/// facing is told by its name.
pub(super) fn is_inside(piece: &Piece, role: Role) -> bool {
    role != Role::Shell || piece.name.to_lowercase().contains("facing")
}

impl Seen {
    /// What one seam costs there, in seams that nobody sees.
    ///
    /// The order is the trade's (under another garment, back, side, front, front centre last); the figures are our own.
    pub fn cost(&self) -> u32 {
        match self {
            Self::Inside | Self::Hidden(_) => 1,
            Self::Back => 2,
            Self::Side => 3,
            Self::Front => 4,
            Self::CentreFront => 8,
        }
    }

    /// ", hidden under Apron", ", inside"; nothing where it shows.
    pub fn words(&self) -> String {
        match self {
            Self::Inside => ", seen from inside only".to_owned(),
            Self::Hidden(by) => format!(", hidden under {by}"),
            Self::Back | Self::Side | Self::Front | Self::CentreFront => String::new(),
        }
    }

    /// How much a seam along the fold of a piece is seen.
    pub(super) fn along_fold(
        garment: &Garment,
        piece: &Piece,
        role: Role,
        hidden: &Hidden,
    ) -> Self {
        if is_inside(piece, role) {
            return Self::Inside;
        }
        if let Some(by) = hidden.fold(&piece.name) {
            return Self::Hidden(by.to_owned());
        }
        let fold = piece.fold_edge().map(|edge| edge.name.to_lowercase());
        let named = |word: &str| fold.as_ref().is_some_and(|name| name.contains(word));
        if named("front") {
            return Self::CentreFront;
        }
        if named("back") {
            return Self::Back;
        }
        match (half_of(garment, piece), &piece.placement) {
            (_, Placement::Framed(Frame::Arm | Frame::Leg)) => Self::Side,
            (Half::Front, _) => Self::CentreFront,
            (Half::Back, _) | (_, Placement::Framed(Frame::Head)) => Self::Back,
            // One piece round the body: its fold may be in front.
            (Half::Both, Placement::Framed(_)) => Self::Front,
            (Half::Both, Placement::Follows(_)) => Self::Side,
        }
    }

    /// How much a seam elsewhere on a piece is seen.
    pub(super) fn on(garment: &Garment, piece: &Piece, role: Role, hidden: &Hidden) -> Self {
        if is_inside(piece, role) {
            return Self::Inside;
        }
        if let Some(by) = hidden.whole(&piece.name) {
            return Self::Hidden(by.to_owned());
        }
        match half_of(garment, piece) {
            Half::Front => Self::Front,
            Half::Back => Self::Back,
            Half::Both => Self::Side,
        }
    }
}
