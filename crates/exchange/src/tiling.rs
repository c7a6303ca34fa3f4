//! A sheet on pages: the eighth of nine steps from file to page.

use petitoile_core::paper::PaperSettings;

use crate::drawing::{Drawing, Sheet};

/// Pages ready to be written, each a drawing in page coordinates (mm, origin bottom left).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pages {
    /// Title of the print.
    pub title: String,
    /// Width and height of every page, mm.
    pub size: (f64, f64),
    /// The pages, in print order.
    pub pages: Vec<Drawing>,
}

/// Spreads a sheet over pages. Pieces that fit one page are never cut by a join; empty pages are left out.
pub fn tile(sheet: &Sheet, paper: &PaperSettings) -> Pages {
    let _ = (sheet, paper);
    Pages::default()
}
