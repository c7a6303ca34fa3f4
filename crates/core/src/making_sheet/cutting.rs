//! The cutting list: every piece with its cloth, its copies and its size.

use kurbo::Shape;

use super::picture::{turned_by, whole_cut};
use super::side::role_word;
use crate::cloth::Cloth;
use crate::finish::{Finished, FinishedPiece};
use crate::lay_plan::Piecing;
use crate::piece::{Role, Side};
use crate::units::{LengthUnit, Mm};

/// Every role, in the order it is listed.
const ROLES: [Role; 4] = [
    Role::Shell,
    Role::Lining,
    Role::Interlining,
    Role::FlatLined,
];

/// One line of the cutting list.
#[derive(Debug, Clone, PartialEq)]
pub struct CutRow {
    /// Name of the piece.
    pub piece: String,
    /// Layer it is cut for.
    pub role: Role,
    /// Name of the cloth; empty when nobody chose one.
    pub cloth: String,
    /// Copies cut in this layer.
    pub count: usize,
    /// Of these for the left side: cut with the piece turned over.
    pub left: usize,
    /// Of these for the right side.
    pub right: usize,
    /// Is it cut on the fold?
    pub on_fold: bool,
    /// Parts cut in all: a copy that is pieced together is cut in several.
    pub parts: usize,
    /// How many of the copies are cut in parts.
    pub pieced: usize,
    /// Size along the grain with allowances, unfolded.
    pub along: Mm,
    /// Size across the grain with allowances, unfolded.
    pub across: Mm,
    /// Area of one copy inside its cut line, unfolded, square mm.
    pub area: f64,
}

impl CutRow {
    /// "2, a mirrored pair", "1 on the fold", "3", "1 in 2 parts".
    pub fn count_words(&self) -> String {
        let fold = match (self.on_fold, self.pieced) {
            (true, 0) => " on the fold",
            (true, pieced) if pieced < self.count => " on the fold",
            _ => "",
        };
        let sides = match (self.left, self.right) {
            (0, 0) => String::new(),
            (left, right) if left == right && left == 1 => ", a mirrored pair".to_owned(),
            (left, right) if left == right => format!(", {left} mirrored pairs"),
            (left, right) => format!(", {left} left and {right} right"),
        };
        format!("{}{fold}{sides}{}", self.count, self.parts_words())
    }

    /// " in 2 parts", ", 1 of them in parts: 5 in all"; nothing when every copy is cut whole.
    fn parts_words(&self) -> String {
        match self.pieced {
            0 => String::new(),
            pieced if pieced == self.count => format!(" in {} parts", self.parts),
            pieced => format!(", {pieced} of them in parts: {} in all", self.parts),
        }
    }

    /// "96.5 x 120 mm", along the grain first.
    pub fn size_words(&self, unit: LengthUnit) -> String {
        format!(
            "{} x {}",
            unit.show_bare(self.along),
            unit.show(self.across)
        )
    }

    /// "shell: cotton lawn".
    pub fn cloth_words(&self) -> String {
        if self.cloth.is_empty() {
            role_word(self.role).to_owned()
        } else {
            format!("{}: {}", role_word(self.role), self.cloth)
        }
    }
}

/// The cloth of a layer: the fitting's own before that of the garment.
pub(super) fn cloth_of(finished: &Finished, role: Role) -> Option<&Cloth> {
    let adapted = &finished.filled.adapted;
    let own = adapted.fitting.cloths.get(&role);
    own.or_else(|| adapted.made.cloths.get(&role))
}

/// Every piece in every cloth it is cut from, the shell first.
pub fn cutting_list(finished: &Finished) -> Vec<CutRow> {
    ROLES
        .into_iter()
        .flat_map(|role| {
            finished
                .pieces
                .iter()
                .filter_map(move |piece| row(finished, piece, role))
        })
        .collect()
}

fn row(finished: &Finished, piece: &FinishedPiece, role: Role) -> Option<CutRow> {
    let count = piece.piece.copies_in(role);
    if count == 0 {
        return None;
    }
    let of = |side| {
        let copies = piece.piece.copies.iter();
        copies
            .filter(|copy| copy.role == role && copy.side == side)
            .count()
    };
    let piecings: Vec<&Piecing> = piecings(finished, piece, role);
    let whole = whole_cut(piece);
    let grain = piece.grain.p1 - piece.grain.p0;
    // The grain upright, then measured with a set square.
    let upright = turned_by(std::f64::consts::FRAC_PI_2 - libm::atan2(grain.y, grain.x));
    let size = (upright * whole.clone()).bounding_box();
    Some(CutRow {
        piece: piece.piece.name.clone(),
        role,
        cloth: cloth_of(finished, role).map_or_else(String::new, |cloth| cloth.name.clone()),
        count,
        left: of(Side::Left),
        right: of(Side::Right),
        on_fold: piece.piece.fold_edge().is_some(),
        parts: count
            + piecings
                .iter()
                .map(|piecing| piecing.lines.len())
                .sum::<usize>(),
        pieced: piecings.len(),
        along: Mm(size.height()),
        across: Mm(size.width()),
        area: whole.area().abs(),
    })
}

/// How copies of this piece in this layer are cut in parts, each copy once.
fn piecings<'a>(finished: &'a Finished, piece: &FinishedPiece, role: Role) -> Vec<&'a Piecing> {
    let plan = finished.filled.adapted.fitting.lay_plan.as_ref();
    let copies = &piece.piece.copies;
    let is_cut = |piecing: &&Piecing| {
        let of = &piecing.of;
        let alike = copies.iter().filter(|copy| **copy == of.copy).count();
        of.piece == piece.piece.name
            && of.copy.role == role
            && of.number < alike
            && !piecing.lines.is_empty()
    };
    let all = plan.into_iter().flat_map(|plan| &plan.piecings);
    all.filter(is_cut).collect()
}
