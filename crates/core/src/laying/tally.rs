//! Before the first cut: every copy of every piece and every part of it accounted for.

use super::parts::{PartsError, parts};
use super::rests::cut_outline;
use super::{CopyToLay, LayShape, ToLay, words};
use crate::finding::{Finding, Gravity, Place};
use crate::geometry::closed::{off_stroke, sides};
use crate::lay_plan::{CopyRef, LayPlan, PartRef, Placed};
use crate::piece::Role;
use crate::tolerance::DRAWING;
use crate::units::{LengthUnit, Mm};
use kurbo::Point;

/// What is to be cut, and what of it lies there.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Tally {
    /// One for each piece and layer, in the order of the pieces.
    pub rows: Vec<TallyRow>,
    /// What lies there and should not.
    pub strays: Vec<Stray>,
    /// Copies that can no longer be cut in the parts that were chosen; they are counted as whole.
    pub unpieced: Vec<(CopyRef, PartsError)>,
}

/// All copies of one piece in one layer.
#[derive(Debug, Clone, PartialEq)]
pub struct TallyRow {
    /// Name of the piece.
    pub piece: String,
    /// Which layer.
    pub role: Role,
    /// Name of the cloth; `None`: any.
    pub cloth: Option<String>,
    /// Is it drawn as a half on the fold, and cut opened out (or on folded cloth)?
    pub on_fold: bool,
    /// How many copies.
    pub copies: usize,
    /// How many of them are cut in parts.
    pub pieced: usize,
    /// How many parts are to be cut in all; a whole copy is one.
    pub parts: usize,
    /// How many of them lie on cloth, cut ones included.
    pub lying: usize,
    /// How many are cut.
    pub cut: usize,
    /// Those that lie nowhere.
    pub missing: Vec<PartRef>,
}

/// Something that lies on cloth and should not, or was cut by another outline.
#[derive(Debug, Clone, PartialEq)]
pub struct Stray {
    /// What it says it is.
    pub part: PartRef,
    /// The offcut it lies on.
    pub offcut: String,
    /// Is it cut already?
    pub is_cut: bool,
    /// What is wrong.
    pub why: StrayWhy,
}

/// What is wrong with something that lies on cloth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum StrayWhy {
    /// No piece of that name is cut: it was renamed or taken out, or cannot be laid.
    NoPiece,
    /// The piece is cut, but not this copy of it.
    NoCopy,
    /// The copy is cut in this many parts, and this is not one of them.
    NoPart(usize),
    /// It lies there more than once.
    Twice,
    /// It was cut by another outline: by how much they differ.
    OtherOutline(Mm),
}

/// What is to be cut and what of it lies there; without a plan nothing does.
pub fn tally(to_lay: &ToLay, plan: Option<&LayPlan>) -> Tally {
    let empty = LayPlan::default();
    let plan = plan.unwrap_or(&empty);
    let mut tally = Tally::default();
    let mut asked: Vec<(PartRef, LayShape)> = Vec::new();
    for copy in &to_lay.copies {
        let shapes = shapes(copy, plan, &mut tally.unpieced);
        let row = tally.row(copy);
        row.copies += 1;
        row.pieced += usize::from(shapes.len() > 1);
        for (part, shape) in shapes.into_iter().enumerate() {
            let part = PartRef {
                of: copy.of.clone(),
                part,
            };
            row.parts += 1;
            match plan.placed(&part) {
                Some(placed) => {
                    row.lying += 1;
                    row.cut += usize::from(placed.as_cut.is_some());
                }
                None => row.missing.push(part.clone()),
            }
            asked.push((part, shape));
        }
    }
    for (i, placed) in plan.placed.iter().enumerate() {
        let before = plan.placed.get(..i).unwrap_or_default();
        if let Some(why) = stray(placed, before, &asked) {
            tally.strays.push(Stray {
                part: placed.part_ref(),
                offcut: placed.offcut.clone(),
                is_cut: placed.as_cut.is_some(),
                why,
            });
        }
    }
    tally
}

/// What a copy is cut as: its parts, or it as a whole.
fn shapes(
    copy: &CopyToLay,
    plan: &LayPlan,
    unpieced: &mut Vec<(CopyRef, PartsError)>,
) -> Vec<LayShape> {
    let Some(piecing) = plan.piecing(&copy.of) else {
        return vec![copy.whole.clone()];
    };
    parts(&copy.whole, piecing).unwrap_or_else(|why| {
        unpieced.push((copy.of.clone(), why));
        vec![copy.whole.clone()]
    })
}

fn stray(placed: &Placed, before: &[Placed], asked: &[(PartRef, LayShape)]) -> Option<StrayWhy> {
    let part = placed.part_ref();
    if before.iter().any(|other| other.part_ref() == part) {
        return Some(StrayWhy::Twice);
    }
    if let Some((_, shape)) = asked.iter().find(|(asked, _)| *asked == part) {
        let cut = placed.as_cut.as_ref()?;
        let apart = apart(cut, &cut_outline(placed, shape));
        return (apart > 2.0 * DRAWING.0).then_some(StrayWhy::OtherOutline(Mm(apart)));
    }
    let parts = asked.iter().filter(|(asked, _)| asked.of == part.of);
    let parts = parts.count();
    if parts > 0 {
        return Some(StrayWhy::NoPart(parts));
    }
    let same_piece = |(asked, _): &(PartRef, LayShape)| asked.of.piece == part.of.piece;
    Some(if asked.iter().any(same_piece) {
        StrayWhy::NoCopy
    } else {
        StrayWhy::NoPiece
    })
}

/// How far the corners of two outlines lie off each other at most.
fn apart(a: &[Point], b: &[Point]) -> f64 {
    let off = |corners: &[Point], outline: &[Point]| {
        let far = corners.iter().map(|p| {
            sides(outline)
                .map(|(from, to)| off_stroke(*p, from, to))
                .fold(f64::INFINITY, f64::min)
        });
        far.fold(0.0, f64::max)
    };
    off(a, b).max(off(b, a))
}

impl Tally {
    fn row(&mut self, copy: &CopyToLay) -> &mut TallyRow {
        let (piece, role) = (&copy.of.piece, copy.of.copy.role);
        let found = self
            .rows
            .iter()
            .position(|row| row.piece == *piece && row.role == role);
        let place = found.unwrap_or_else(|| {
            self.rows.push(TallyRow {
                piece: piece.clone(),
                role,
                cloth: copy.cloth.clone(),
                on_fold: copy.whole.fold.is_some(),
                copies: 0,
                pieced: 0,
                parts: 0,
                lying: 0,
                cut: 0,
                missing: Vec::new(),
            });
            self.rows.len() - 1
        });
        #[allow(clippy::indexing_slicing, reason = "found, or just put there")]
        &mut self.rows[place]
    }

    /// Is everything there, and nothing else?
    pub fn is_complete(&self) -> bool {
        self.strays.is_empty()
            && self.unpieced.is_empty()
            && self.rows.iter().all(|row| row.missing.is_empty())
    }

    /// Is everything cut?
    pub fn is_all_cut(&self) -> bool {
        self.is_complete() && self.rows.iter().all(|row| row.cut == row.parts)
    }

    /// Parts to cut, those that lie on cloth, those that are cut.
    pub fn sums(&self) -> (usize, usize, usize) {
        self.rows.iter().fold((0, 0, 0), |sum, row| {
            (sum.0 + row.parts, sum.1 + row.lying, sum.2 + row.cut)
        })
    }

    /// "14 to cut: 12 lie on cloth, 3 of them cut, 2 missing".
    pub fn words(&self) -> String {
        let (parts, lying, cut) = self.sums();
        let mut words = format!("{parts} to cut: {lying} on cloth");
        if cut > 0 {
            words += &format!(", {cut} of them cut");
        }
        if parts > lying {
            words += &format!(", {} missing", parts - lying);
        }
        words
    }

    /// What lies there and should not, what is cut otherwise, what can no longer be pieced. What is merely missing is in
    /// the rows.
    pub fn findings(&self, plan: Option<&LayPlan>, unit: LengthUnit) -> Vec<Finding> {
        let strays = self.strays.iter().map(|stray| {
            let piecing = plan.and_then(|plan| plan.piecing(&stray.part.of));
            let name = words::part(&stray.part, piecing);
            stray.finding(&name, unit)
        });
        let unpieced = self.unpieced.iter().map(|(of, why)| Finding {
            gravity: Gravity::Care,
            place: Place::piece(&of.piece),
            what: format!(
                "{} cannot be cut in the parts chosen: {why}.",
                words::copy(of)
            ),
            advice: "Cut it whole, or choose again how it is cut.".to_owned(),
            remedy: None,
        });
        strays.chain(unpieced).collect()
    }
}

impl TallyRow {
    /// "Cuff, lining: 4 of 4 copies lie on cloth", "Back: 2 parts of 1 copy, opened out, 1 missing".
    pub fn words(&self) -> String {
        let role = match self.role {
            Role::Shell => "",
            Role::Lining => ", lining",
            Role::Interlining => ", interlining",
            Role::FlatLined => ", flat lining",
        };
        let ies = |n: usize| if n == 1 { "copy" } else { "copies" };
        let mut words = format!("{}{role}: {} {}", self.piece, self.copies, ies(self.copies));
        if self.on_fold {
            words += if self.copies == 1 {
                ", the half opened out"
            } else {
                ", each half opened out"
            };
        }
        if self.parts > self.copies {
            words += &format!(", in {} parts", self.parts);
        }
        words += &format!("; {} on cloth", self.lying);
        if self.cut > 0 {
            words += &format!(", {} cut", self.cut);
        }
        if !self.missing.is_empty() {
            words += &format!(", {} missing", self.missing.len());
        }
        words
    }
}

impl Stray {
    fn finding(&self, name: &str, unit: LengthUnit) -> Finding {
        let on = &self.offcut;
        let lies = if self.is_cut {
            "was cut from"
        } else {
            "lies on"
        };
        let (gravity, what, advice) = match self.why {
            StrayWhy::NoPiece => (
                Gravity::Care,
                format!("{name} {lies} {on}, but no piece of that name is to be cut."),
                "Take it off the cloth; if the piece was renamed, lay it anew.",
            ),
            StrayWhy::NoCopy => (
                Gravity::Care,
                format!("{name} {lies} {on}, but this copy is not asked for."),
                "Take it off the cloth.",
            ),
            StrayWhy::NoPart(parts) => (
                Gravity::Care,
                format!(
                    "{name} {lies} {on}, but the copy is cut in {parts} now, and this is none of them."
                ),
                "Take it off the cloth.",
            ),
            StrayWhy::Twice => (
                Gravity::Care,
                format!("{name} {lies} {on} and lies there before already."),
                "Take one of them off the cloth.",
            ),
            StrayWhy::OtherOutline(by) => (
                Gravity::Care,
                format!(
                    "{name} was cut from {on} by another outline: they differ by {}.",
                    unit.show(by)
                ),
                "Lay the new pattern on the cut piece; cut it anew where it is too small.",
            ),
        };
        Finding {
            gravity,
            place: Place::piece(&self.part.of.piece),
            what,
            advice: advice.to_owned(),
            remedy: None,
        }
    }
}
