//! The outcome of laying as one value, as text and as JSON.

use std::path::Path;

use petitoile_core::finding::Gravity;
use petitoile_core::lay_plan::{CopyRef, LayPlan};
use petitoile_core::laying::{lay_sheet, words};
use petitoile_core::units::LengthUnit;
use petitoile_core::{Degrees, Mm};
use petitoile_lay::{Bolt, LengthJob, PlanFault, lies, seams_added};
use serde::Serialize;

use super::FindingRow;
use super::table::Table;
use crate::lay_work::Why;
use crate::whole_way::Worked;
use crate::wording::count;

/// What `lay` found.
#[derive(Debug, Clone, Serialize)]
pub struct LayReport {
    /// Fitting, garment, body.
    pub fitting: String,
    /// Its garment.
    pub garment: String,
    /// Its body.
    pub body: String,
    /// Seed of the search.
    pub seed: u64,
    /// Steps it made.
    pub steps: u64,
    /// Copies that lie, all parts of them.
    pub placed: usize,
    /// Copies to lay.
    pub of: usize,
    /// Does everything lie, and is nothing wrong with the plan?
    pub complete: bool,
    /// Seams that piecing adds.
    pub seams_added: usize,
    /// Offcuts that something lies on.
    pub offcuts: Vec<OffcutRow>,
    /// What lies where, in the order of cutting.
    pub parts: Vec<PartRow>,
    /// Copies that do not lie.
    pub not_laid: Vec<String>,
    /// Why not, and what would help; null when everything lies or no trials were asked for.
    pub why: Option<WhyRows>,
    /// What is wrong with the plan (pinned or cut parts), and with the pieces.
    pub findings: Vec<FindingRow>,
    /// Where it was saved.
    pub saved: Option<Saved>,
    /// What the maker reads, not the unit of these numbers.
    pub unit: &'static str,
}

/// One offcut that is used.
#[derive(Debug, Clone, Serialize)]
pub struct OffcutRow {
    /// Its name.
    pub name: String,
    /// Its cloth.
    pub cloth: String,
    /// Parts on it.
    pub parts: usize,
}

/// One part where it lies.
#[derive(Debug, Clone, Serialize)]
pub struct PartRow {
    /// Its place in the order of cutting; 0 when it is cut already.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Its offcut.
    pub offcut: String,
    /// Measures to the edge across and along the grain.
    pub across: Option<Mm>,
    /// See `across`.
    pub along: Option<Mm>,
    /// Turned off the grain, counter-clockwise, degrees.
    pub off_grain: Degrees,
    /// Is the pattern laid face down?
    pub face_down: bool,
    /// The same in words.
    #[serde(skip)]
    words: String,
}

/// Why not everything fits.
#[derive(Debug, Clone, Serialize)]
pub struct WhyRows {
    /// A proof, or "not found in so many steps".
    pub verdict: String,
    /// What does not lie, and by how much it misses the best place found.
    pub misses: Vec<String>,
    /// What would help.
    pub concessions: Vec<ConcessionRow>,
    /// What was tried in vain.
    pub in_vain: Vec<String>,
}

/// Something to give in on.
#[derive(Debug, Clone, Serialize)]
pub struct ConcessionRow {
    /// In words.
    pub words: String,
    /// Can the window make that change by itself?
    pub one_change: bool,
}

/// A project that was written.
#[derive(Debug, Clone, Serialize)]
pub struct Saved {
    /// The file.
    pub file: String,
    /// The fitting that has the plan.
    pub fitting: String,
}

impl Saved {
    /// Written there.
    pub fn of(file: &Path, fitting: &str) -> Self {
        Self {
            file: file.display().to_string(),
            fitting: fitting.to_owned(),
        }
    }
}

impl LayReport {
    /// The outcome of a plan that was laid for a fitting.
    pub fn of(worked: &Worked, plan: &LayPlan, faults: &[PlanFault], unit: LengthUnit) -> Self {
        let (cloth, fitting) = (&worked.beyond.cloth, &worked.adapted.fitting);
        let sheet = lay_sheet(&cloth.to_lay, &cloth.offcuts, plan, &fitting.name);
        let lies = |of: &CopyRef| lies(&cloth.to_lay, plan, of);
        let copies = &cloth.to_lay.copies;
        let placed = copies.iter().filter(|copy| lies(&copy.of)).count();
        let parts = sheet.offcuts.iter().flat_map(|on| {
            on.parts.iter().map(|part| {
                let measured = |along: bool| {
                    let mut of_it = part.measures.iter();
                    of_it.find(|m| m.along == along).map(|m| m.length)
                };
                PartRow {
                    number: part.number,
                    name: part.name.clone(),
                    offcut: on.offcut.name.clone(),
                    across: measured(false),
                    along: measured(true),
                    off_grain: part.off_grain,
                    face_down: part.face_down,
                    words: part.words(unit),
                }
            })
        });
        let of_pieces = worked
            .findings
            .iter()
            .filter(|finding| finding.gravity == Gravity::Unusable)
            .map(FindingRow::from);
        let of_plan = faults
            .iter()
            .map(|fault| FindingRow::from(&fault.finding(&fitting.name, unit)));
        Self {
            fitting: fitting.name.clone(),
            garment: worked.adapted.garment.name.clone(),
            body: fitting.body.name.clone(),
            seed: plan.seed,
            steps: plan.steps,
            placed,
            of: copies.len(),
            complete: placed == copies.len() && faults.is_empty(),
            seams_added: seams_added(plan),
            offcuts: sheet
                .offcuts
                .iter()
                .map(|on| OffcutRow {
                    name: on.offcut.name.clone(),
                    cloth: on.offcut.cloth.clone(),
                    parts: on.parts.len(),
                })
                .collect(),
            parts: parts.collect(),
            not_laid: copies
                .iter()
                .filter(|copy| !lies(&copy.of))
                .map(|copy| words::copy(&copy.of))
                .collect(),
            why: None,
            findings: of_plan.chain(of_pieces).collect(),
            saved: None,
            unit: unit.suffix(),
        }
    }

    /// Puts in why not everything lies.
    pub fn put_why(&mut self, why: &Why) {
        self.why = Some(WhyRows {
            verdict: why.verdict.clone(),
            misses: why.not_laid.clone(),
            concessions: why
                .concessions
                .iter()
                .map(|one| ConcessionRow {
                    words: one.words.clone(),
                    one_change: one.remedy.is_some(),
                })
                .collect(),
            in_vain: why.in_vain.clone(),
        });
    }

    /// For people; the unit is already in the words.
    pub fn text(&self, _unit: LengthUnit) -> String {
        let mut text = format!(
            "Lay plan of {} for {}: {} of {} lie on {}, {} added; seed {}, {} steps.\n",
            self.garment,
            self.body,
            self.placed,
            self.of,
            count(self.offcuts.len(), "offcut", "offcuts"),
            count(self.seams_added, "seam", "seams"),
            self.seed,
            self.steps
        );
        let mut on = "";
        for part in &self.parts {
            if part.offcut != on {
                text.push_str(&format!("\n{}\n", part.offcut));
                on = &part.offcut;
            }
            text.push_str(&format!("  {}\n", part.words));
        }
        if !self.not_laid.is_empty() {
            text.push_str(&format!("\nDo not lie: {}.\n", self.not_laid.join("; ")));
        }
        if let Some(why) = &self.why {
            text.push_str(&why.text());
        }
        for finding in &self.findings {
            text.push('\n');
            text.push_str(&finding.text());
        }
        if let Some(saved) = &self.saved {
            text.push_str(&format!("\nSaved in {}.\n", saved.file));
        }
        text
    }
}

impl WhyRows {
    fn text(&self) -> String {
        let mut text = format!("\n{}\n", self.verdict);
        for miss in &self.misses {
            text.push_str(&format!("  {miss}\n"));
        }
        for one in &self.concessions {
            text.push_str(&format!("  {}\n", one.words));
        }
        if !self.in_vain.is_empty() {
            text.push_str(&format!("  In vain: {}.\n", self.in_vain.join("; ")));
        }
        text
    }
}

/// How much cloth to buy.
#[derive(Debug, Clone, Serialize)]
pub struct NeededReport {
    /// Fitting, garment, body.
    pub fitting: String,
    /// Its garment.
    pub garment: String,
    /// Its body.
    pub body: String,
    /// Which cloth; null: everything is cut from it.
    pub cloth: Option<String>,
    /// Width of the cloth.
    pub width: Mm,
    /// Strip along its edges that is not used.
    pub margin: Mm,
    /// Length to buy; null when none was found.
    pub length: Option<Mm>,
    /// Copies laid on it.
    pub copies: usize,
    /// Copies wider than the cloth, and by how much.
    pub too_wide: Vec<TooWide>,
    /// Copies whose outlines cannot be laid; the length does not count them.
    pub left_out: Vec<String>,
    /// Seed of the search.
    pub seed: u64,
    /// Steps it made.
    pub steps: u64,
    /// What the maker reads, not the unit of these numbers.
    pub unit: &'static str,
}

/// A copy that is wider than the cloth.
#[derive(Debug, Clone, Serialize)]
pub struct TooWide {
    /// Its name.
    pub name: String,
    /// By how much.
    pub by: Mm,
}

impl NeededReport {
    /// The outcome of a search for a length.
    pub fn of(worked: &Worked, bolt: &Bolt, job: &LengthJob, unit: LengthUnit) -> Self {
        let fitting = &worked.adapted.fitting;
        Self {
            fitting: fitting.name.clone(),
            garment: worked.adapted.garment.name.clone(),
            body: fitting.body.name.clone(),
            cloth: bolt.cloth.clone(),
            width: bolt.width,
            margin: bolt.margin,
            length: job.best().map(|best| best.length),
            copies: job.to_lay().copies.len(),
            too_wide: job
                .too_wide()
                .into_iter()
                .map(|(of, by)| TooWide {
                    name: words::copy(&of),
                    by,
                })
                .collect(),
            left_out: job
                .unusable()
                .iter()
                .map(|one| format!("{}: {}", words::copy(&one.of), one.why))
                .collect(),
            seed: bolt.seed,
            steps: job.progress().steps,
            unit: unit.suffix(),
        }
    }

    /// For people.
    pub fn text(&self, unit: LengthUnit) -> String {
        let mut table = Table::new(["Cloth", "wide", "to buy", "free along the edges", "copies"]);
        table.row([
            self.cloth.clone().unwrap_or_else(|| "any".to_owned()),
            unit.show(self.width),
            self.length
                .map_or_else(|| "none found".to_owned(), |length| unit.show(length)),
            unit.show(self.margin),
            self.copies.to_string(),
        ]);
        let mut text = format!(
            "Cloth for {} for {}; seed {}, {} steps: the least found, not proved the least there is.\n\n{}",
            self.garment,
            self.body,
            self.seed,
            self.steps,
            table.text()
        );
        for one in &self.too_wide {
            text.push_str(&format!(
                "\n{} is {} wider than the cloth allows; take a wider cloth, or piece it.\n",
                one.name,
                unit.show(one.by)
            ));
        }
        for one in &self.left_out {
            text.push_str(&format!("\nNot counted: {one}.\n"));
        }
        text
    }
}
