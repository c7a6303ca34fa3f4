//! What is to be laid: every copy as it is cut, opened out; the parts of pieced copies; what each needs of the cloth.
//!
//! Knows no search: `petitoile-lay` turns [`ToLay`] and offcuts into a [`crate::lay_plan::LayPlan`].

mod added;
mod ends;
mod hidden;
mod lay_sheet;
mod new_seams;
mod opened;
mod parts;
mod pieced;
mod rests;
mod seen;
mod tally;
mod thickness;
mod to_lay;
pub mod words;

use std::collections::BTreeMap;
use std::sync::Arc;

use kurbo::{Line, Point};
use serde::{Deserialize, Serialize};

use crate::cloth::GoodFor;
use crate::lay_plan::{CopyRef, Piecing};
use crate::units::{Degrees, Mm};

pub use added::{AddedSeam, added_seams};
pub(crate) use ends::seam_ends;
pub use hidden::{Hidden, HiddenPiece};
pub use lay_sheet::{LaySheet, Measured, OffcutSheet, PartOnSheet, lay_sheet};
pub use new_seams::NewSeams;
pub use parts::{PartsError, parts, seam_lines};
pub use pieced::{Beyond, LEAST, StripShape, joined_from, patch_beyond, strip_shape};
pub use rests::{Dropped, Rests, USEFUL, cut_outline, rests};
pub use seen::Seen;
pub use tally::{Stray, StrayWhy, Tally, TallyRow, tally};
pub use thickness::thickness_told;
pub use to_lay::{to_lay, to_lay_whole};

/// How a fitting's pieces are laid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Laying {
    /// Room between two cut lines.
    pub gap: Mm,
    /// How far a piece may be turned off the grain, where nothing else is chosen for it.
    pub grain_tolerance: Degrees,
    /// Choices about single pieces.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub pieces: BTreeMap<String, PieceLaying>,
}

impl Default for Laying {
    /// 1 mm between pieces, 2 degrees off the grain (common practice, no source).
    fn default() -> Self {
        Self {
            gap: Mm(1.0),
            grain_tolerance: Degrees(2.0),
            pieces: BTreeMap::new(),
        }
    }
}

/// How one piece is laid, where the maker chose otherwise than the program.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
pub struct PieceLaying {
    /// How far it may be turned off the grain.
    pub grain_tolerance: Option<Degrees>,
    /// May it lie upside down? By itself: on cloth without nap.
    pub upside_down: Option<bool>,
    /// 1 is laid before all others; by itself 2 for the shell and 3 for the inside.
    pub priority: Option<u8>,
    /// What cloth it needs; by itself clean cloth for the shell, hidden where an outfit covers it, anything inside.
    pub needs: Option<GoodFor>,
    /// May a seam stand where the cloth would be folded? By itself only where nobody sees it.
    pub seam_on_fold: Option<bool>,
    /// May a corner be patched? By itself only where nobody sees it.
    pub patch: Option<bool>,
    /// May a strip be joined of several? By itself it may.
    pub join: Option<bool>,
}

/// Everything that is to be laid for one fitting.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct ToLay {
    /// Every copy, in the order of the pieces.
    pub copies: Vec<CopyToLay>,
    /// Room between two cut lines.
    pub gap: Mm,
}

/// One copy, the ways it can be cut, and what it needs of the cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct CopyToLay {
    /// Which.
    pub of: CopyRef,
    /// Cut in one.
    pub whole: LayShape,
    /// Cut in parts; the least concession first.
    pub pieced: Vec<PiecedWay>,
    /// What ways have to heed that are made once it is known what cloth is left.
    pub new_seams: Arc<NewSeams>,
    /// Name of the cloth it is of; `None`: any cloth.
    pub cloth: Option<String>,
    /// What a place must be good for.
    pub needs: GoodFor,
    /// 1 is laid before all others.
    pub priority: u8,
    /// How far it may be turned off the grain.
    pub grain_tolerance: Degrees,
    /// May it lie upside down, where the cloth has no nap?
    pub upside_down: bool,
}

/// A way to cut a copy in parts.
#[derive(Debug, Clone, PartialEq)]
pub struct PiecedWay {
    /// Where.
    pub piecing: Piecing,
    /// The parts, with their allowances.
    pub parts: Vec<LayShape>,
    /// What it costs: one for each seam, more where it shows more.
    pub cost: u32,
    /// "a seam at the centre back, hidden under the apron".
    pub why: String,
}

/// A shape that is cut from one place of the cloth, in the coordinates of its piece's drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct LayShape {
    /// The cut line, straight between the points, counter-clockwise, closed by itself.
    pub outline: Vec<Point>,
    /// Direction of its grainline against y, counter-clockwise, in the drawing.
    pub grain: Degrees,
    /// Is it laid mirrored on cloth that shows its right side?
    pub mirrored: bool,
    /// Where the cloth may be folded instead: the former fold, inside the opened-out outline.
    pub fold: Option<Line>,
}
