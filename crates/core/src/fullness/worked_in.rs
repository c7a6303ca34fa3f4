//! The cloth a piece is worked in, and the band its folded edge is sewn to.
//!
//! Lengths in mm. Limits without a source are common practice and say so.

use super::Stack;
use crate::cloth::Cloth;
use crate::garment::Garment;
use crate::piece::{Piece, Role};
use crate::seams::Stretch;
use crate::units::{LengthUnit, Mm};

/// Cloth is taken to be as thick as this where nobody said, mm (a lawn or habotai; common practice, no source).
pub const THIN_CLOTH: Mm = Mm(0.2);

/// Share of the depth of a band that the stack sewn to it may be thick (common practice, no source).
const BAND_TAKES: f64 = 1.0 / 3.0;

/// A mate this many times as long as it is deep is a band (common practice, no source).
const BAND_IS_LONG: f64 = 6.0;

/// The cloth of a piece, or that nobody chose one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkedIn<'a> {
    /// The layer it is cut in: the one of the thickest cloth, where it is cut in several.
    pub role: Role,
    /// Its cloth.
    pub cloth: Option<&'a Cloth>,
}

impl<'a> WorkedIn<'a> {
    /// The cloth of a piece, by the layers it is cut in; `cloth` says which cloth a layer has.
    pub fn of(piece: &Piece, cloth: impl Fn(Role) -> Option<&'a Cloth>) -> Self {
        let first = piece.copies.first().map_or(Role::Shell, |copy| copy.role);
        let known = piece.copies.iter().filter_map(|copy| {
            let role = copy.role;
            cloth(role).map(|cloth| (role, cloth))
        });
        let thickest = known.max_by(|a, b| a.1.thickness.0.total_cmp(&b.1.thickness.0));
        match thickest {
            Some((role, cloth)) => Self {
                role,
                cloth: Some(cloth),
            },
            // A piece that is cut in no layer yet is shell.
            None => Self {
                role: first,
                cloth: cloth(first),
            },
        }
    }

    /// How thick it is; [`THIN_CLOTH`] where nobody said.
    pub fn thickness(&self) -> Mm {
        self.cloth.map_or(THIN_CLOTH, |cloth| cloth.thickness)
    }

    /// Its name, for what is known by name; empty where none was chosen.
    pub fn name(&self) -> &'a str {
        self.cloth.map_or("", |cloth| cloth.name.as_str())
    }

    /// "lawn (0.1 mm)", or what is assumed.
    pub fn words(&self, unit: LengthUnit) -> String {
        let thick = unit.show_decimal(self.thickness());
        match self.cloth {
            Some(cloth) => format!("{} ({thick})", cloth.name),
            None => format!("cloth of {thick} (assumed, none is chosen)"),
        }
    }
}

/// A band that an edge is sewn to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band<'a> {
    /// Its piece.
    pub piece: &'a str,
    /// How deep it is.
    pub depth: Mm,
}

impl<'a> Band<'a> {
    /// The band this edge is sewn to; `None` where it is sewn to nothing long and narrow.
    pub fn of(garment: &'a Garment, piece: &str, edge: &str) -> Option<Self> {
        let is_mine = |s: &Stretch| s.piece == piece && s.edge == edge;
        let others = garment.seams.iter().filter_map(|seam| {
            if seam.a.iter().any(is_mine) {
                Some(&seam.b)
            } else {
                seam.b.iter().any(is_mine).then_some(&seam.a)
            }
        });
        others.flatten().find_map(|mate| {
            let band = garment.piece(&mate.piece)?;
            let long = band.outline.edge(&mate.edge)?.line.length();
            let depth = band.outline.area().abs() / long;
            let is_band = band.name != piece && long > BAND_IS_LONG * depth;
            is_band.then_some(Self {
                piece: band.name.as_str(),
                depth: Mm(depth),
            })
        })
    }

    /// How thick a stack it takes.
    pub fn takes(&self) -> Mm {
        Mm(self.depth.0 * BAND_TAKES)
    }

    /// How thick a stack is with the band, which lies on both sides of it.
    pub fn height_with(stack: &Stack, thickness: Mm) -> Mm {
        Mm(stack.height.0 + 2.0 * thickness.0)
    }

    /// How many layers of cloth this thick it takes between its two sides; below 1 none.
    pub fn layers_in(&self, thickness: Mm) -> f64 {
        self.takes().0 / thickness.0.max(f64::MIN_POSITIVE) - 2.0
    }
}
