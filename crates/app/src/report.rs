//! What fits and what does not, once as text in the maker's unit and once as JSON, from the same value.
//!
//! In JSON every length is in millimetres and every key keeps its name and meaning; new keys may come.
//! The shape is described in DEVELOPERS.md, "What --json prints".

use petitoile_core::adapt::{DemandOutcome, EaseRow};
use petitoile_core::finding::{Finding, Gravity};
use petitoile_core::measure::Measure;
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::tape::Hold;
use petitoile_core::tolerance::JOINING;
use petitoile_core::{LengthUnit, Mm};
use petitoile_exchange::tiling::Pages;
use serde::Serialize;

use crate::whole_way::Worked;
use crate::wording::count;

pub mod bring_in;
pub mod fit;
pub mod lay;
pub mod table;

use table::Table;

/// How every text report starts.
pub const FIRST_WORDS: &str = "Petitoile report";

/// What became of one fitting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Report {
    /// Name of the fitting.
    pub fitting: String,
    /// Name of the garment.
    pub garment: String,
    /// Name of the body the garment was made for.
    pub made_for: String,
    /// Name of the body it was adapted to.
    pub body: String,
    /// Can everything be cut, sewn and worn?
    pub usable: bool,
    /// Pieces that are drawn.
    pub pieces: usize,
    /// Copies that are cut.
    pub copies: usize,
    /// The print, when pages were made.
    pub print: Option<PrintRow>,
    /// Seam allowance where the edge has none of its own.
    pub seam_allowance: Mm,
    /// Finished hem where the edge has none of its own.
    pub hem: Mm,
    /// Every demand and how it came out: those that gave way first, then by rank.
    pub demands: Vec<DemandRow>,
    /// Ease at every tape line.
    pub ease: Vec<EaseLine>,
    /// What the maker should know, worst first.
    pub findings: Vec<FindingRow>,
    /// The unit the maker reads; lengths in this value are mm all the same.
    pub unit: &'static str,
    #[serde(skip)]
    length_unit: LengthUnit,
}

/// The pages of a print.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PrintRow {
    /// "A4" or "Letter".
    pub paper: &'static str,
    /// "portrait" or "landscape".
    pub turn: &'static str,
    /// How many.
    pub pages: usize,
}

/// One demand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DemandRow {
    /// Tape line, seam or rule it comes from.
    pub name: String,
    /// 1 is kept longest.
    pub rank: u8,
    /// What it should measure (a seam: 0 difference).
    pub wanted: Mm,
    /// What it measures.
    pub got: Mm,
    /// `got - wanted`.
    pub difference: Mm,
    /// Within 0.01 mm?
    pub met: bool,
    /// Did it give way to a demand of a better rank?
    pub gave_way: bool,
}

/// Ease at one tape line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EaseLine {
    /// Name of the tape line.
    pub name: String,
    /// Measure of the body it answers to.
    pub measure: Measure,
    /// "fitted" or "hanging".
    pub hold: &'static str,
    /// Girth (true) or length.
    pub girth: bool,
    /// On the body it was made for.
    pub source: Taken,
    /// On the body it was adapted to.
    pub target: Taken,
    /// Cloth thickness that is part of the target's ease.
    pub cloth: Mm,
}

/// Body and garment at one tape line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Taken {
    /// What the body measures.
    pub body: Mm,
    /// What the garment measures.
    pub garment: Mm,
    /// `garment - body`.
    pub ease: Mm,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FindingRow {
    /// "unusable", "care" or "note".
    pub gravity: &'static str,
    /// Where, in words.
    pub place: String,
    /// Name of the piece, if it is about one.
    pub piece: Option<String>,
    /// Name of the edge, seam, tape line or opening, if it is about one.
    pub part: Option<String>,
    /// Fraction along that edge, where known.
    pub fraction: Option<f64>,
    /// What is wrong and by how much.
    pub what: String,
    /// What to do about it.
    pub remedy: String,
    /// Can the window make that change by itself?
    pub one_change: bool,
}

impl From<&DemandOutcome> for DemandRow {
    fn from(demand: &DemandOutcome) -> Self {
        let difference = demand.got - demand.wanted;
        Self {
            name: demand.name.clone(),
            rank: demand.rank,
            wanted: demand.wanted,
            got: demand.got,
            difference,
            met: difference.0.abs() <= JOINING.0,
            gave_way: demand.gave_way,
        }
    }
}

impl From<&EaseRow> for EaseLine {
    fn from(row: &EaseRow) -> Self {
        let taken = |body: Mm, garment: Mm| Taken {
            body,
            garment,
            ease: garment - body,
        };
        Self {
            name: row.name.clone(),
            measure: row.measure,
            hold: if row.hold == Hold::Hanging {
                "hanging"
            } else {
                "fitted"
            },
            girth: row.is_girth,
            source: taken(row.body.0, row.garment.0),
            target: taken(row.body.1, row.garment.1),
            cloth: row.cloth,
        }
    }
}

impl From<&Finding> for FindingRow {
    fn from(finding: &Finding) -> Self {
        Self {
            gravity: gravity_key(finding.gravity),
            place: finding.place.to_string(),
            piece: finding.place.piece.clone(),
            part: finding.place.part.clone(),
            fraction: finding.place.fraction,
            what: finding.what.clone(),
            remedy: finding.advice.clone(),
            one_change: finding.remedy.is_some(),
        }
    }
}

fn gravity_key(gravity: Gravity) -> &'static str {
    match gravity {
        Gravity::Unusable => "unusable",
        Gravity::Care => "care",
        Gravity::Note => "note",
    }
}

/// "A4" or "Letter".
pub fn paper_name(size: PaperSize) -> &'static str {
    match size {
        PaperSize::A4 => "A4",
        PaperSize::Letter => "Letter",
    }
}

/// "portrait" or "landscape".
pub fn turn_name(turn: PaperTurn) -> &'static str {
    match turn {
        PaperTurn::Portrait => "portrait",
        PaperTurn::Landscape => "landscape",
    }
}

impl PrintRow {
    /// Pages on this paper.
    pub fn of(pages: &Pages, paper: &PaperSettings) -> Self {
        Self {
            paper: paper_name(paper.size),
            turn: turn_name(paper.turn),
            pages: pages.pages.len(),
        }
    }

    /// "1 page A4, portrait".
    pub fn words(&self) -> String {
        let pages = count(self.pages, "page", "pages");
        format!("{pages} {}, {}", self.paper, self.turn)
    }
}

impl Report {
    /// What became of a fitting; with its print, when pages were made.
    pub fn of(worked: &Worked, pages: Option<&Pages>, unit: LengthUnit) -> Self {
        let (garment, fitting) = (&worked.adapted.garment, &worked.adapted.fitting);
        let made = &worked.adapted.made;
        let mut demands: Vec<DemandRow> =
            worked.adapted.demands.iter().map(DemandRow::from).collect();
        demands.sort_by_key(|row| (row.met && !row.gave_way, row.rank));
        Self {
            fitting: fitting.name.clone(),
            garment: garment.name.clone(),
            made_for: garment.made_for.name.clone(),
            body: fitting.body.name.clone(),
            usable: worked.is_usable(),
            pieces: made.pieces.len(),
            copies: made.copy_count(),
            print: pages.map(|pages| PrintRow::of(pages, &fitting.paper)),
            seam_allowance: fitting.allowances.seam,
            hem: fitting.allowances.hem,
            demands,
            ease: worked.adapted.ease.iter().map(EaseLine::from).collect(),
            findings: worked.findings.iter().map(FindingRow::from).collect(),
            unit: unit.suffix(),
            length_unit: unit,
        }
    }

    /// The report for people, in the maker's unit. Ends with a line end.
    pub fn text(&self) -> String {
        [
            self.head(),
            self.demand_text(),
            self.ease_text(),
            self.finding_text(),
        ]
        .join("\n")
    }

    fn head(&self) -> String {
        let unit = self.length_unit;
        let print = self
            .print
            .as_ref()
            .map_or(String::new(), |print| format!("Print: {}\n", print.words()));
        format!(
            "{FIRST_WORDS}: {}\nResult: {}\nFitting: {}\nMade for: {}\nAdapted to: {}\nTo cut: {} of {}; seam allowance {}, hem {}\n{print}",
            self.garment,
            self.result(),
            self.fitting,
            self.made_for,
            self.body,
            count(self.copies, "copy", "copies"),
            count(self.pieces, "piece", "pieces"),
            unit.show_chosen(self.seam_allowance),
            unit.show_chosen(self.hem),
        )
    }

    /// What a maker wants to know first. The demands may all be met and the work impossible nevertheless.
    fn result(&self) -> String {
        let is_unusable = |row: &&FindingRow| row.gravity == gravity_key(Gravity::Unusable);
        match self.findings.iter().filter(is_unusable).count() {
            0 => "can be sewn as it is".to_owned(),
            things => format!(
                "{} must be changed first (see findings)",
                count(things, "thing", "things")
            ),
        }
    }

    fn demand_text(&self) -> String {
        let missed: Vec<&DemandRow> = self
            .demands
            .iter()
            .filter(|row| !row.met || row.gave_way)
            .collect();
        let mut text = format!(
            "Demands: {} of {} met within 0.01 mm\n",
            self.demands.len() - missed.len(),
            self.demands.len()
        );
        if missed.is_empty() {
            return text;
        }
        text.push_str("Not met:\n");
        let mut table = Table::new(["", "wanted", "is", "off by", ""]);
        for row in missed {
            let why = if row.gave_way {
                "gave way to a demand of a better rank"
            } else {
                ""
            };
            // Differences stay in mm with two decimals: rounded to 1/32 in they would all read 0.
            let off = format!("{:+.2} mm", row.difference.0);
            table.row([
                row.name.clone(),
                self.length_unit.show(row.wanted),
                self.length_unit.show(row.got),
                off,
                why.to_owned(),
            ]);
        }
        text.push_str(&table.text());
        text
    }

    fn ease_text(&self) -> String {
        if self.ease.is_empty() {
            return "Ease: this garment has no tape lines\n".to_owned();
        }
        let unit = self.length_unit;
        let mut table = Table::new([
            "Ease",
            "source body",
            "garment",
            "ease",
            "target body",
            "garment",
            "ease",
            "of it cloth",
            "",
        ]);
        for row in &self.ease {
            table.row([
                row.name.clone(),
                unit.show(row.source.body),
                unit.show(row.source.garment),
                signed(row.source.ease, unit),
                unit.show(row.target.body),
                unit.show(row.target.garment),
                signed(row.target.ease, unit),
                unit.show(row.cloth),
                row.hold.to_owned(),
            ]);
        }
        table.text()
    }

    fn finding_text(&self) -> String {
        finding_text(&self.findings)
    }
}

/// Findings for people, or that there are none.
fn finding_text(findings: &[FindingRow]) -> String {
    if findings.is_empty() {
        return "Findings: none\n".to_owned();
    }
    let mut text = "Findings, worst first:\n".to_owned();
    for row in findings {
        text.push_str(&row.text());
    }
    text
}

impl FindingRow {
    /// One line for people.
    pub fn text(&self) -> String {
        let gravity = match self.gravity {
            "unusable" => "UNUSABLE",
            "care" => "care",
            _ => "note",
        };
        format!(
            "  {gravity}: {}: {} {}\n",
            self.place, self.what, self.remedy
        )
    }
}

/// A length with its sign always written.
pub fn signed(length: Mm, unit: LengthUnit) -> String {
    let words = unit.show(length);
    if words.starts_with('-') {
        words
    } else {
        format!("+{words}")
    }
}

/// Any value as indented JSON, with a line end.
pub fn json<T: Serialize>(value: &T) -> String {
    // Our own structs have string keys and no other way to fail; should one ever, the caller sees a JSON error object.
    let mut text = serde_json::to_string_pretty(value)
        .unwrap_or_else(|error| format!("{{\"error\": {:?}}}", error.to_string()));
    text.push('\n');
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_print_of_one_page_is_one_page() {
        let print = |pages| PrintRow {
            paper: paper_name(PaperSize::A4),
            turn: turn_name(PaperTurn::Portrait),
            pages,
        };
        assert_eq!(print(1).words(), "1 page A4, portrait");
        assert_eq!(print(4).words(), "4 pages A4, portrait");
    }
}
