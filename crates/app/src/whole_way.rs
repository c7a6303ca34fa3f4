//! The nine steps from file to page, listed once; the window and the command line both come through here.
//!
//! ```text
//! 1 read    open       bytes    -> Project      4 finish  work    Filled   -> Finished
//! 2 adapt   work       Project  -> Adapted      5 check   work    Finished -> findings
//! 3 fill    work       Adapted  -> Filled       6 lay     work    Finished -> ToLay, plan checked
//! 7 sheet   drawn      Finished -> Sheet        8 tile    pages   Sheet    -> Pages       9 write  pdf, svg -> bytes
//! ```
//! No step reaches back: what a later step wants changed is a finding whose remedy is an edit of the project.

use std::sync::Arc;

use petitoile_core::adapt::{self, AdaptError, Adapted};
use petitoile_core::allowance::AllowancePlan;
use petitoile_core::bulk::{self, Bulk};
use petitoile_core::dressing::{self, Dressing};
use petitoile_core::finding::{Finding, Gravity};
use petitoile_core::finish::{self, Finished};
use petitoile_core::fit::Underneath;
use petitoile_core::fit::figure::{self, Figure};
use petitoile_core::fitting::Fitting;
use petitoile_core::fullness::{self, Filled};
use petitoile_core::garment::Garment;
use petitoile_core::laying::{self, LaySheet};
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{self, Order};
use petitoile_core::making_sheet::{self, Basis, MakingSheet};
use petitoile_core::paper::PaperSettings;
use petitoile_core::project::Project;
use petitoile_core::{LengthUnit, check};
use petitoile_exchange::drawing::Sheet;
use petitoile_exchange::png::{self, PngError};
use petitoile_exchange::project_file::{self, ProjectFileError};
use petitoile_exchange::tiling::{self, Pages};
use petitoile_exchange::{dxf, pdf, sheet, svg};

use crate::lay_work::{self, OnCloth};
use crate::worn::{self, WornIn};

mod compared;

pub use compared::{Compared, Other, compared};

/// A fitting taken from project to finished pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Worked {
    /// Step 2.
    pub adapted: Arc<Adapted>,
    /// Step 3.
    pub filled: Arc<Filled>,
    /// Step 4.
    pub finished: Arc<Finished>,
    /// What can only be said with the project around it.
    pub beyond: Arc<Beyond>,
    /// What steps 2 to 5 found, worst first; with what is beyond one fitting.
    pub findings: Vec<Finding>,
}

/// What can only be said with the project around a fitting: its machine, its outfits, the order of work.
///
/// One field a subject; each has its own function in the core. Findings of all of them join [`Worked::findings`].
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Beyond {
    /// Ease and measure figure, with what is worn underneath.
    pub fit: Figure,
    /// The order of work; by hand where the stacks are more than the machine takes.
    pub order: Order,
    /// The outfits that wear it, and what they do to it.
    pub layers: Vec<WornIn>,
    /// Stacks of cloth, what is turned, tight curves; against the maker's machine.
    pub bulk: Bulk,
    /// Does it go on: openings, closures, ties, sleeves over sleeves.
    pub dressing: Dressing,
    /// What the maker's machine takes.
    pub machine: Machine,
    /// Step 6, without a search: what is to be laid on cloth, and whether the plan that is kept still holds.
    pub cloth: Arc<OnCloth>,
}

/// Looks beyond the pieces of one fitting; a part of step 5. Gives the findings beside it.
fn beyond(project: &Project, finished: &Finished) -> (Beyond, Vec<Finding>) {
    let filled = &finished.filled;
    let adapted = &filled.adapted;
    let (made, fitting) = (&adapted.made, &adapted.fitting);
    let order = making_order::order(made, fitting, &project.machine, project.unit);
    let mut findings = order.findings.clone();
    let (layers, of_layers) = worn::look(project, adapted);
    findings.extend(of_layers);
    // Several outfits: by the first of them.
    let underneath = layers.first().map_or_else(
        || Underneath::of(fitting),
        |worn| Underneath::in_outfit(fitting, &worn.together.outfit, &worn.rooms),
    );
    let fit = figure::figure(filled, &underneath);
    let bulk = bulk::bulk(finished, Some(&order), &project.machine, project.unit);
    findings.extend(bulk::findings(
        &bulk,
        &fitting.name,
        &project.machine,
        project.unit,
    ));
    let order = bulk::heeded(order, &bulk, fitting, &project.machine, project.unit);
    let under = dressing::undersleeves(project, &fitting.name);
    let dressing = dressing::dressing(filled, &under);
    findings.extend(dressing::narrow_sleeves(&dressing));
    let (cloth, of_cloth) = lay_work::on_cloth(project, finished, &layers);
    findings.extend(of_cloth);
    let beyond = Beyond {
        fit,
        order,
        layers,
        bulk,
        dressing,
        machine: project.machine.clone(),
        cloth: Arc::new(cloth),
    };
    (beyond, findings)
}

impl Worked {
    /// Can everything be cut, sewn and worn?
    pub fn is_usable(&self) -> bool {
        self.findings
            .iter()
            .all(|finding| finding.gravity != Gravity::Unusable)
    }
}

/// Step 1: the project in the bytes of a file.
///
/// # Errors
/// [`ProjectFileError`] with line and column, or the format number of a newer file.
pub fn read(bytes: &[u8]) -> Result<Project, ProjectFileError> {
    project_file::read(bytes)
}

/// Steps 2 to 5 for a fitting of a project: adapt, fill, finish, check.
///
/// # Errors
/// [`AdaptError`] when the fitting or what it names is not there.
pub fn work(project: &Project, fitting: &str) -> Result<Worked, AdaptError> {
    Ok(finished(project, adapt::adapt(project, fitting)?))
}

/// Steps 2 to 5 for a fitting that does not stand in its project, or not yet.
///
/// # Errors
/// [`AdaptError`] when it names something that is not there.
pub fn work_on(
    project: &Project,
    garment: &Arc<Garment>,
    fitting: &Arc<Fitting>,
) -> Result<Worked, AdaptError> {
    Ok(finished(project, adapt::adapt_garment(garment, fitting)?))
}

/// A garment as it was drawn, on its own body: what hand work on the garment itself is done on.
///
/// # Errors
/// [`AdaptError`] when there is no such garment, or nothing in it yet.
pub fn work_as_drawn(project: &Project, garment: &str) -> Result<Worked, AdaptError> {
    let garment = project
        .garment(garment)
        .ok_or_else(|| AdaptError::NoGarment {
            fitting: format!("{garment} as drawn"),
            garment: garment.to_owned(),
        })?;
    let adapted = adapt::as_drawn(garment, &Arc::new(as_drawn(garment)))?;
    Ok(finished(project, adapted))
}

/// Step 4 on the pieces as they are when fullness is drawn in; `None` when they have none.
pub fn drawn_in(worked: &Worked) -> Option<Finished> {
    let has_fullness = worked.adapted.pieces.iter().any(|p| !p.fullness.is_empty());
    has_fullness.then(|| finish::finish(&Arc::new(fullness::drawn_in(&worked.adapted))).outcome)
}

/// Steps 3 to 5.
fn finished(project: &Project, adapted: Adapted) -> Worked {
    let adapted = Arc::new(adapted);
    let filled = fullness::fill(&adapted);
    let filled_value = Arc::new(filled.outcome);
    let finished = finish::finish(&filled_value);
    let finished_value = Arc::new(finished.outcome);
    let mut findings = adapted.findings.clone();
    findings.extend(filled.findings);
    findings.extend(finished.findings);
    findings.extend(check::check(&finished_value));
    let (beyond, more) = beyond(project, &finished_value);
    findings.extend(more);
    let mut findings: Vec<Finding> = findings
        .into_iter()
        .map(|finding| finding.said_in(project.unit))
        .collect();
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.gravity));
    Worked {
        adapted,
        filled: filled_value,
        finished: finished_value,
        beyond: Arc::new(beyond),
        findings,
    }
}

/// The fitting of a garment on the very body it was made for: what it is before anything is adapted.
pub fn as_drawn(garment: &Garment) -> Fitting {
    let name = format!("{} as drawn", garment.name);
    Fitting {
        cloths: garment.cloths.clone(),
        allowances: AllowancePlan::for_body(&garment.made_for),
        ..Fitting::new(name, garment.name.clone(), garment.made_for.clone())
    }
}

/// Step 7: the drawings.
pub fn drawn(worked: &Worked, unit: LengthUnit) -> Sheet {
    sheet::sheet(&worked.finished, unit)
}

/// Steps 7 and 8: the pages.
pub fn pages(worked: &Worked, unit: LengthUnit) -> Pages {
    tiling::tile(&drawn(worked, unit), &worked.adapted.fitting.paper)
}

/// The making sheet: steps in words and pictures, cutting list, curves, materials.
pub fn making_sheet(worked: &Worked, unit: LengthUnit) -> MakingSheet {
    let beyond = &worked.beyond;
    making_sheet::making_sheet(&Basis {
        finished: &worked.finished,
        order: &beyond.order,
        bulk: &beyond.bulk,
        dressing: &beyond.dressing,
        machine: &beyond.machine,
        unit,
    })
}

/// The making sheet on pages of the fitting's paper.
pub fn making_pages(worked: &Worked, unit: LengthUnit) -> Pages {
    let paper = &worked.adapted.fitting.paper;
    sheet::making_pages(&making_sheet(worked, unit), paper, unit)
}

/// The lay plan that is kept, as it is printed, with what is wrong with it; `None` when nothing was laid.
pub fn lay_sheet(worked: &Worked, unit: LengthUnit) -> Option<LaySheet> {
    let (adapted, cloth) = (&worked.adapted, &worked.beyond.cloth);
    let plan = adapted.fitting.lay_plan.as_ref()?;
    let title = format!("{} for {}", adapted.garment.name, adapted.fitting.body.name);
    let mut sheet = laying::lay_sheet(&cloth.to_lay, &cloth.offcuts, plan, &title);
    sheet.faults = cloth.faults.iter().map(|fault| fault.words(unit)).collect();
    Some(sheet)
}

/// The lay plan on pages of the fitting's paper, each offcut to scale.
pub fn lay_pages(worked: &Worked, plan: &LaySheet, unit: LengthUnit) -> Pages {
    sheet::lay_pages(plan, &worked.adapted.fitting.paper, unit)
}

/// The lay plan at true size on pages to be joined.
pub fn lay_true_size(worked: &Worked, plan: &LaySheet, unit: LengthUnit) -> Pages {
    tiling::tile(
        &sheet::lay_true_size(plan, unit),
        &worked.adapted.fitting.paper,
    )
}

/// The making sheet as PDF.
pub fn making_pdf(worked: &Worked, unit: LengthUnit) -> Vec<u8> {
    pdf(&making_pages(worked, unit))
}

/// Step 9: pages as PDF.
pub fn pdf(pages: &Pages) -> Vec<u8> {
    pdf::write_pages(pages)
}

/// Steps 7 to 9 for lines of figures: a page to print.
pub fn lines_pdf(title: &str, lines: &[String], paper: &PaperSettings) -> Vec<u8> {
    pdf(&tiling::tile(&sheet::lines(title, lines), paper))
}

/// Steps 7 and 9 without pages: all pieces on one sheet as large as they need, as PDF.
pub fn one_sheet_pdf(worked: &Worked, unit: LengthUnit) -> Vec<u8> {
    pdf::write_one_sheet(&sheet::one_drawing(&drawn(worked, unit)))
}

/// Steps 7 and 9 without pages: all pieces as DXF, in the layers of the open apparel practice ASTM D6673.
pub fn dxf(worked: &Worked, unit: LengthUnit) -> String {
    let adapted = &worked.adapted;
    let pieces = dxf::piece::pieces(&worked.finished, unit);
    dxf::write::write(&adapted.garment.name, &adapted.fitting.body.name, &pieces)
}

/// Steps 7 and 9 without pages: all pieces side by side, as a picture with so many pixels a mm.
///
/// # Errors
/// [`PngError`] when it would be too large.
pub fn png(worked: &Worked, unit: LengthUnit, pixels_per_mm: f64) -> Result<Vec<u8>, PngError> {
    png::write(&sheet::one_drawing(&drawn(worked, unit)), pixels_per_mm)
}

/// Steps 7 and 9 without pages: all pieces side by side, as SVG in real millimetres.
pub fn svg(worked: &Worked, unit: LengthUnit) -> String {
    svg::write(&sheet::one_drawing(&drawn(worked, unit)))
}
