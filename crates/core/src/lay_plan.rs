//! Which piece lies where on which offcut: a value that `petitoile-lay` makes and the project keeps.
//!
//! Everything on cloth is laid opened out, in the coordinates of its piece's drawing: a piece on the fold as the half and
//! its mirror image. Where the cloth is folded instead is an instruction, not another shape.

use kurbo::Point;
use serde::{Deserialize, Serialize};

use crate::piece::Copy;
use crate::units::{Degrees, Mm};

/// Where every placed copy lies.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct LayPlan {
    /// Seed the search was given.
    pub seed: u64,
    /// Steps it ran, so that a stopped search can be repeated.
    pub steps: u64,
    /// What lies on cloth.
    pub placed: Vec<Placed>,
    /// Copies that are cut in parts and pieced together; the seams this adds are sewn first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub piecings: Vec<Piecing>,
    /// Copies whose piecing the maker chose; the search keeps it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub chosen: Vec<CopyRef>,
}

/// One copy that is cut: which piece, which copy, and which of those that are alike.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct CopyRef {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// Which of those that are alike (two whole cuffs), from 0.
    #[serde(default, skip_serializing_if = "is_none")]
    pub number: usize,
}

/// One copy, or one part of it, on an offcut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Placed {
    /// Name of the piece.
    pub piece: String,
    /// Which copy of it.
    pub copy: Copy,
    /// Which of those that are alike, from 0.
    #[serde(default, skip_serializing_if = "is_none")]
    pub number: usize,
    /// Which part of its piecing, from 0; 0 for a copy that is cut whole.
    #[serde(default, skip_serializing_if = "is_none")]
    pub part: usize,
    /// Name of the offcut.
    pub offcut: String,
    /// Turn against the drawing, about the drawing's origin, counter-clockwise, after mirroring, before it is moved.
    pub turn: Degrees,
    /// Then moved by x, y, mm.
    pub moved: (f64, f64),
    /// Mirrored first, left to right, about the drawing's y axis?
    pub mirrored: bool,
    /// Did the maker pin it here? The search lays around it.
    #[serde(default, skip_serializing_if = "is_false")]
    pub pinned: bool,
    /// Its outline on the offcut as it was cut, once it is cut. That cloth is gone, whatever changes later.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub as_cut: Option<Vec<Point>>,
}

/// A copy that is cut in parts: by these lines, each part with an allowance along them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Piecing {
    /// Which copy.
    pub of: CopyRef,
    /// Why.
    pub kind: PiecingKind,
    /// The new seams: straight lines across the opened-out cut outline, in the piece's drawing.
    pub lines: Vec<(Point, Point)>,
    /// Allowance on each side of them.
    pub allowance: Mm,
}

/// What a piecing does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PiecingKind {
    /// A seam where the cloth would be folded.
    AlongFold,
    /// A patch on the straight grain at a corner.
    Patch,
    /// A strip joined of several.
    Strip,
}

/// A change by hand to where things lie.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub enum LayChange {
    /// Puts a copy (or part) on an offcut, or moves it.
    Put(Placed),
    /// Takes a copy (or part) off the cloth.
    TakeUp(PartRef),
    /// Pins it where it lies, or lets go of it.
    Pin(PartRef, bool),
    /// Cuts a copy in parts; `None` makes it whole again. What lay there of it is taken up.
    Piece(CopyRef, Option<Piecing>),
    /// Marks what lies there as cut, with its outlines on the offcut; it can no longer be moved.
    Cut(Vec<(PartRef, Vec<Point>)>),
    /// Takes the mark away: it was not cut after all.
    NotCut(PartRef),
}

/// One copy, or one part of it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct PartRef {
    /// Which copy.
    pub of: CopyRef,
    /// Which part of its piecing, from 0.
    pub part: usize,
}

impl Placed {
    /// Which copy it is.
    pub fn of(&self) -> CopyRef {
        CopyRef {
            piece: self.piece.clone(),
            copy: self.copy,
            number: self.number,
        }
    }

    /// Which part of which copy it is.
    pub fn part_ref(&self) -> PartRef {
        PartRef {
            of: self.of(),
            part: self.part,
        }
    }

    /// From the piece's drawing to the offcut.
    pub fn offcut_from_piece(&self) -> kurbo::Affine {
        let mirrored = if self.mirrored {
            kurbo::Affine::scale_non_uniform(-1.0, 1.0)
        } else {
            kurbo::Affine::IDENTITY
        };
        kurbo::Affine::translate(self.moved) * turned(self.turn) * mirrored
    }
}

/// A turn about the origin, counter-clockwise, the same to the last bit on every machine.
pub fn turned(by: Degrees) -> kurbo::Affine {
    let (sin, cos) = libm::sincos(by.0.to_radians());
    kurbo::Affine::new([cos, sin, -sin, cos, 0.0, 0.0])
}

impl LayPlan {
    /// What lies there of this part, if it does.
    pub fn placed(&self, part: &PartRef) -> Option<&Placed> {
        self.placed.iter().find(|placed| placed.part_ref() == *part)
    }

    /// How this copy is pieced, if it is.
    pub fn piecing(&self, of: &CopyRef) -> Option<&Piecing> {
        self.piecings.iter().find(|piecing| piecing.of == *of)
    }

    /// How this copy is pieced, if the maker chose that.
    pub fn chosen(&self, of: &CopyRef) -> Option<&Piecing> {
        self.piecing(of).filter(|_| self.chosen.contains(of))
    }

    /// The plan after a change by hand; `Err` says why not, in words that follow "cannot".
    ///
    /// # Errors
    /// When it would move or piece what is cut already, or names a part that does not lie there.
    pub fn changed(&self, change: &LayChange) -> Result<Self, String> {
        let mut next = self.clone();
        match change {
            LayChange::Put(placed) => {
                next.refuse_cut(|other| other.part_ref() == placed.part_ref())?;
                next.placed
                    .retain(|other| other.part_ref() != placed.part_ref());
                next.placed.push(placed.clone());
            }
            LayChange::TakeUp(part) => {
                next.there(part)?;
                next.refuse_cut(|other| other.part_ref() == *part)?;
                next.placed.retain(|other| other.part_ref() != *part);
            }
            LayChange::Pin(part, pinned) => next.there(part)?.pinned = *pinned,
            LayChange::Piece(of, piecing) => {
                next.refuse_cut(|other| other.of() == *of)?;
                next.placed.retain(|other| other.of() != *of);
                next.piecings.retain(|other| other.of != *of);
                next.chosen.retain(|other| other != of);
                next.chosen
                    .extend(piecing.iter().map(|piecing| piecing.of.clone()));
                next.piecings.extend(piecing.clone());
            }
            LayChange::Cut(parts) => {
                for (part, outline) in parts {
                    next.there(part)?.as_cut = Some(outline.clone());
                }
            }
            LayChange::NotCut(part) => next.there(part)?.as_cut = None,
        }
        Ok(next)
    }

    fn there(&mut self, part: &PartRef) -> Result<&mut Placed, String> {
        self.placed
            .iter_mut()
            .find(|placed| placed.part_ref() == *part)
            .ok_or_else(|| {
                format!(
                    "change {}: it lies on no cloth; lay it first",
                    part.of.piece
                )
            })
    }

    fn refuse_cut(&self, is: impl Fn(&Placed) -> bool) -> Result<(), String> {
        let cut = |placed: &&Placed| is(placed) && placed.as_cut.is_some();
        self.placed.iter().find(cut).map_or(Ok(()), |placed| {
            Err(format!(
                "move {}: it is cut already; take the mark away first",
                placed.piece
            ))
        })
    }
}

fn is_none(number: &usize) -> bool {
    *number == 0
}

fn is_false(flag: &bool) -> bool {
    !flag
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "tests")]
mod tests {
    use super::*;
    use crate::piece::{Role, Side};

    #[test]
    fn a_turn_is_that_of_the_portable_sine_to_the_last_bit() {
        for degrees in [-170.3, -33.3, 0.0, 1.7, 90.0, 123.456] {
            let (sin, cos) = libm::sincos(f64::to_radians(degrees));
            let exact = [cos, sin, -sin, cos, 0.0, 0.0];
            assert_eq!(
                turned(Degrees(degrees)).as_coeffs().map(f64::to_bits),
                exact.map(f64::to_bits)
            );
        }
        let up = turned(Degrees(90.0)) * Point::new(2.0, 0.0);
        assert!((up - Point::new(0.0, 2.0)).hypot() < 1e-12);
    }

    #[test]
    fn a_piecing_by_hand_is_the_choice_of_the_maker_until_the_piece_is_whole_again() {
        let of = CopyRef {
            piece: "back".to_owned(),
            copy: Copy {
                side: Side::Whole,
                role: Role::Shell,
            },
            number: 0,
        };
        let piecing = Piecing {
            of: of.clone(),
            kind: PiecingKind::AlongFold,
            lines: Vec::new(),
            allowance: crate::units::Mm(6.0),
        };
        let by_search = LayPlan {
            piecings: vec![piecing.clone()],
            ..LayPlan::default()
        };
        assert_eq!(by_search.chosen(&of), None);
        let chosen = LayChange::Piece(of.clone(), Some(piecing.clone()));
        let chosen = by_search.changed(&chosen).unwrap();
        assert_eq!(chosen.chosen(&of), Some(&piecing));
        let whole = chosen.changed(&LayChange::Piece(of.clone(), None)).unwrap();
        assert_eq!(whole, LayPlan::default());
    }
}
