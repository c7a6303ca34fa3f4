//! Does the cloth take its pleats, tucks and gathers at this size?
//!
//! Lengths in mm. Limits without a source say so in [`crate::fullness`]; remedies alter the fitting, never the garment.

use crate::adapt::Adapted;
use crate::alteration::Alteration;
use crate::body::BodyKind;
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fullness::{
    Band, DOLL_STITCH, EASED_UP_TO, FULL_STITCH, FoldedEdge, Fullness, FullnessOp, Hand, Kind,
    Layout, Pressable, WorkedIn, fullest_gathers, hand, pressable, stack,
};
use crate::piece::{Piece, Role};
use crate::units::{LengthUnit, Mm};

use super::finding;
use instead::{Way, advice, thinner};

mod instead;

/// Gathers fuller than this lump in cloth thicker than [`THICK`] (common practice, fact sheet E2).
const FULL: f64 = 2.0;

/// See [`FULL`].
const THICK: f64 = 0.2;

/// Gathers this much fuller or less full than the cloth is known for are told (common practice, no source).
const UNUSUAL: f64 = 1.0;

/// One fullness of a piece, finished to a length, in its cloth.
struct Case<'a> {
    adapted: &'a Adapted,
    piece: &'a Piece,
    number: usize,
    op: &'a FullnessOp,
    finished: Mm,
    cloth: WorkedIn<'a>,
}

/// Folds too small or too thick, gathers too full, ease too great; at most one finding for each fullness and its band.
pub(super) fn findings(adapted: &Adapted) -> Vec<Finding> {
    let cloths = (&adapted.fitting.cloths, &adapted.made.cloths);
    let of = |role: Role| cloths.0.get(&role).or(cloths.1.get(&role));
    let mut findings = Vec::new();
    for piece in &adapted.pieces {
        for (number, op) in piece.fullness.iter().enumerate() {
            let edge = piece.outline.edge(&op.edge);
            let length = edge.map_or(0.0, |e| e.line.length() * (op.to - op.from));
            if op.fullness.checked().is_err() || length <= 0.0 {
                continue;
            }
            let case = Case {
                adapted,
                piece,
                number,
                op,
                finished: Mm(length),
                cloth: WorkedIn::of(piece, of),
            };
            findings.extend(case.own_trouble().or_else(|| case.missed()));
            findings.extend(case.band_trouble());
        }
    }
    findings
}

impl Case<'_> {
    fn thickness(&self) -> Mm {
        self.cloth.thickness()
    }

    /// "lawn (0.1 mm)", or what is assumed.
    fn in_cloth(&self) -> String {
        self.cloth.words(LengthUnit::Millimetre)
    }

    /// Stitch of a gathering row at this size.
    fn stitch(&self) -> Mm {
        let is_doll = self.adapted.fitting.body.kind == BodyKind::Doll;
        Mm(if is_doll { DOLL_STITCH } else { FULL_STITCH })
    }

    /// The same gathers or shirring so many times as full.
    fn gathered(&self, ratio: f64) -> Fullness {
        match self.op.fullness {
            Fullness::Shirring { rows, apart, .. } => Fullness::Shirring { ratio, rows, apart },
            _ => Fullness::Gathers { ratio },
        }
    }

    fn care(&self, what: String, advice: String, instead: Option<Fullness>) -> Finding {
        let place = Place::edge(&self.piece.name, &self.op.edge);
        let remedy = instead.map(|fullness| self.remedy(fullness));
        finding(Gravity::Care, place, what, advice, remedy)
    }

    /// The fitting with another fullness here. Kept in one step, where the last step said what this piece has.
    fn remedy(&self, fullness: Fullness) -> Edit {
        let mut all = self.piece.fullness.clone();
        let before = f64::from(self.op.fullness.count().unwrap_or(1));
        let times = before / f64::from(fullness.count().unwrap_or(1).max(1));
        if let Some(op) = all.get_mut(self.number) {
            op.fullness = fullness;
            op.layout.spacing = op.layout.spacing.map(|m| Mm(m.0 * times));
        }
        let alteration = Alteration::Fullness {
            piece: self.piece.name.clone(),
            fullness: all,
        };
        let steps = &self.adapted.fitting.alterations;
        let last = steps.len().checked_sub(1);
        let is_same = |step: &Alteration| matches!(step, Alteration::Fullness { piece, .. } if *piece == self.piece.name);
        let change = match last.filter(|_| steps.last().is_some_and(is_same)) {
            Some(last) => FittingEdit::SetAlteration(last, alteration),
            None => FittingEdit::AddAlteration(alteration),
        };
        Edit::Fitting {
            fitting: self.adapted.fitting.name.clone(),
            change,
        }
    }

    fn own_trouble(&self) -> Option<Finding> {
        match self.op.fullness {
            Fullness::Gathers { ratio } | Fullness::Shirring { ratio, .. } => self.gathers(ratio),
            Fullness::Ease { by } => self.ease(by),
            _ => pressable(
                self.op.fullness,
                &self.op.layout,
                self.finished,
                self.thickness(),
            )
            .map(|found| self.too_small(&found)),
        }
    }

    /// Pleats that cannot be pressed, with fewer and larger ones for the same cloth.
    fn too_small(&self, found: &Pressable) -> Finding {
        let kind = found.before.kind();
        let count = found.before.count().unwrap_or(0);
        let depth = |fullness: Fullness| {
            let folded = FoldedEdge::new(fullness, &Layout::default(), self.finished);
            folded.pleats.first().map_or(0.0, |pleat| pleat.depth.0)
        };
        let mut what = format!(
            "{} {:.1} mm apart and {:.1} mm deep cannot be pressed in {}; {:.1} mm apart and {:.1} mm deep is the least (common practice, no source).",
            kind.counted(count),
            found.spacing.0,
            depth(found.before),
            self.in_cloth(),
            found.narrowest.0,
            found.shallowest.0
        );
        what.push_str(&self.as_made(kind).unwrap_or_default());
        let mut ways = Vec::new();
        if let Some(fewer) = found.instead.count().filter(|fewer| *fewer < count) {
            ways.push(Way {
                words: format!(
                    "make {fewer} instead of {count}, {:.1} mm apart and {:.1} mm deep: the same cloth in the same proportion",
                    self.finished.0 / f64::from(fewer),
                    depth(found.instead)
                ),
                instead: Some(found.instead),
            });
        }
        ways.extend(self.drawn_in_instead());
        let (spacing, deep) = (found.spacing, Mm(depth(found.before)));
        ways.extend(self.cloth_to_press(kind, spacing, deep));
        let instead = ways.iter().find_map(|way| way.instead);
        self.care(what, advice(&ways), instead)
    }

    /// What they are on the garment as it was made.
    fn as_made(&self, kind: Kind) -> Option<String> {
        let source = self.adapted.garment.piece(&self.piece.name)?;
        let op = source
            .fullness
            .iter()
            .find(|op| op.edge == self.op.edge && op.fullness.kind() == kind)?;
        let length = source.outline.edge(&op.edge)?.line.length() * (op.to - op.from);
        let count = op.fullness.count().filter(|n| *n > 0)?;
        let is_smaller = self.finished.0 < 0.95 * length;
        let apart = length / f64::from(count);
        is_smaller.then(|| {
            format!(
                " As the garment was made for {} there are {count}, {apart:.1} mm apart.",
                self.adapted.garment.made_for.name
            )
        })
    }

    fn gathers(&self, ratio: f64) -> Option<Finding> {
        let thickness = self.thickness();
        let stitch = self.stitch();
        let fullest = fullest_gathers(thickness, stitch);
        let less = |fits: f64| Way {
            words: format!("gather {fits:.1} times"),
            instead: Some(self.gathered(fits)),
        };
        let mended = |fits: f64, cloth: f64| {
            let mut ways = vec![less(fits)];
            ways.extend(thinner(cloth));
            ways.extend(self.pleated_instead());
            ways
        };
        if ratio > fullest {
            let fits = ((fullest * 10.0).floor() / 10.0).max(1.0);
            let what = format!(
                "gathers of {ratio:.1} times do not go on {:.0} mm: folds of {} as deep as a stitch of {:.1} mm fill it at {fullest:.1} times.",
                self.finished.0,
                self.in_cloth(),
                stitch.0
            );
            let ways = mended(fits, stitch.0 / ratio);
            return Some(self.care(what, advice(&ways), Some(self.gathered(fits))));
        }
        if ratio > FULL && thickness.0 > THICK {
            let what = format!(
                "gathers of {ratio:.1} times lump in {}; {FULL:.1} times or less does not (common practice, no source).",
                self.in_cloth()
            );
            let ways = mended(FULL, THICK);
            return Some(self.care(what, advice(&ways), Some(self.gathered(FULL))));
        }
        let cloth = self.cloth.name();
        let hand = hand(cloth)?;
        let usual = hand.gathers();
        let (what, like) = match hand {
            Hand::Crisp if ratio > usual + UNUSUAL => ("stand off in crisp", "taffeta"),
            Hand::Soft if ratio < usual - UNUSUAL => ("look skimpy in soft", "chiffon"),
            _ => return None,
        };
        let what = format!(
            "gathers of {ratio:.1} times {what} {cloth}; {usual:.0} times is usual (so for {like} in The New Dressmaker, 1921)."
        );
        let fits = usual.min((fullest * 10.0).floor() / 10.0);
        let mut note = self.care(
            what,
            format!("Gather {fits:.1} times."),
            Some(self.gathered(fits)),
        );
        note.gravity = Gravity::Note;
        Some(note)
    }

    fn ease(&self, by: Mm) -> Option<Finding> {
        let share = by.0 / self.finished.0;
        if 1.0 + share <= EASED_UP_TO {
            return None;
        }
        let what = format!(
            "{:.1} mm of ease on {:.1} mm is {:.0} %; about {:.0} % goes in without folds (common practice, no source).",
            by.0,
            self.finished.0,
            share * 100.0,
            (EASED_UP_TO - 1.0) * 100.0
        );
        let advice = format!(
            "Ease in {:.1} mm or less, gather it, or take a dart.",
            self.finished.0 * (EASED_UP_TO - 1.0)
        );
        Some(self.care(what, advice, Some(Fullness::Gathers { ratio: 1.0 + share })))
    }

    /// A fold nearer to a seam, placket or centre than asked.
    fn missed(&self) -> Option<Finding> {
        let folded = self.op.folded(self.finished);
        let miss = folded.misses.first()?;
        let what = format!(
            "a fold comes {:.1} mm from the {}, {:.1} mm are asked for.",
            miss.got.0, miss.what, miss.asked.0
        );
        let advice = "Make fewer pleats, or let them come nearer.".to_owned();
        let count = self.op.fullness.count()?;
        let fewer = (1..count)
            .rev()
            .take(12)
            .map(|n| self.op.fullness.with_count(n));
        let keeps_off = |fullness: &Fullness| {
            FoldedEdge::new(*fullness, &self.op.layout, self.finished)
                .misses
                .is_empty()
        };
        Some(self.care(what, advice, fewer.into_iter().find(keeps_off)))
    }

    /// A stack too thick for the band it is sewn into.
    fn band_trouble(&self) -> Option<Finding> {
        let made = &self.adapted.made;
        let band = Band::of(made, &self.piece.name, &self.op.edge)?;
        let thickness = self.thickness();
        let stack = stack(&self.op.folded(self.finished), thickness);
        let height = Band::height_with(&stack, thickness);
        if height.0 <= band.takes().0 {
            return None;
        }
        let assumed = match self.cloth.cloth {
            Some(_) => String::new(),
            None => format!(" in {}", self.in_cloth()),
        };
        let what = format!(
            "{:.0} layers and the band{assumed} are {:.1} mm thick; {} is {:.1} mm deep and takes a third of that, {:.1} mm (common practice, no source).",
            stack.layers.ceil(),
            height.0,
            band.piece,
            band.depth.0,
            band.takes().0
        );
        let ways = self.for_band(&band);
        let instead = ways.iter().find_map(|way| way.instead);
        Some(self.care(what, advice(&ways), instead))
    }
}

#[cfg(test)]
mod tests;
