//! The making sheet on paper: text, little pictures and boxes to tick, laid out on pages of the fitting's paper.
//!
//! Says nothing of its own: every word and figure comes from [`MakingSheet`]. True to scale is nothing here; the printer
//! correction is left out.

pub(super) mod blocks;
pub(super) mod flow;
mod picture;

use petitoile_core::LengthUnit;
use petitoile_core::making_sheet::MakingSheet;
use petitoile_core::paper::PaperSettings;

use crate::tiling::Pages;
use blocks::Block;
use flow::Flow;

/// Size of plain text, mm.
pub(super) const TEXT: f64 = 2.7;
/// Size of notes, mm.
pub(super) const SMALL: f64 = 2.25;
/// Size of headings, mm.
pub(super) const HEADING: f64 = 3.6;
/// Size of the title, mm.
pub(super) const TITLE: f64 = 5.0;
/// Two columns from this width on, mm.
pub(super) const TWO_COLUMNS: f64 = 150.0;
/// Room between columns, mm.
pub(super) const GUTTER: f64 = 7.0;

/// Lays the making sheet out on pages of this paper: title, cautions, materials, cutting list, curves, then the steps.
pub fn making_pages(sheet: &MakingSheet, paper: &PaperSettings, unit: LengthUnit) -> Pages {
    let paper = paper.clamped();
    let (width, height) = paper.page();
    let margin = paper.margin.0;
    let inner = width - 2.0 * margin;
    let columns = if inner >= TWO_COLUMNS { 2 } else { 1 };
    let column = (inner - GUTTER * f64::from(columns - 1)) / f64::from(columns);
    let title = format!("Making sheet: {}", sheet.title);
    let mut flow = Flow::new(&title, (width, height), margin, columns, column);
    flow.put_across(&blocks::title(&title, sheet, inner));
    let all: [Vec<Block>; 5] = [
        blocks::list("Take care", &sheet.cautions, column),
        blocks::list("Still to choose", &sheet.open_questions, column),
        blocks::materials(sheet, column, unit),
        blocks::cutting(sheet, column, unit),
        blocks::curves(sheet, column, unit),
    ];
    for section in &all {
        flow.put_section(section);
    }
    flow.put_section(&blocks::steps(sheet, column));
    flow.pages()
}
