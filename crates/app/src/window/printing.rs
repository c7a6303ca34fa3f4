//! What the window writes besides the project: pages, sheets, drawings.

use std::path::Path;

use super::Window;
use crate::command::Export;
use crate::files::{self, Product};
use crate::whole_way::{self, Worked};

/// Pixels of a picture for each mm: 254 an inch.
const PIXELS_PER_MM: f64 = 10.0;

impl Window {
    /// Writes a print or drawing to a file.
    pub(super) fn export_file(&mut self, export: Export, file: &Path) -> Result<(), String> {
        let unit = self.session.project().unit;
        let (product, bytes) = match export {
            Export::PagesPdf => {
                let pages = whole_way::pages(&self.to_print()?, unit);
                (Product::Pdf, whole_way::pdf(&pages))
            }
            Export::OneSheetPdf => {
                let pdf = whole_way::one_sheet_pdf(&self.to_print()?, unit);
                (Product::Pdf, pdf)
            }
            Export::Svg => {
                let svg = whole_way::svg(&self.to_print()?, unit);
                (Product::Svg, svg.into_bytes())
            }
            Export::Dxf => {
                let dxf = whole_way::dxf(&self.to_print()?, unit);
                (Product::Dxf, dxf.into_bytes())
            }
            Export::Png => {
                let png = whole_way::png(&self.to_print()?, unit, PIXELS_PER_MM);
                (Product::Png, png.map_err(|why| why.to_string())?)
            }
            Export::Lines => {
                let paper = self.session.fitting().map(|f| f.paper.clone());
                let (title, lines) = &self.lines;
                let pdf = whole_way::lines_pdf(title, lines, &paper.unwrap_or_default());
                (Product::Pdf, pdf)
            }
            Export::LayPlan | Export::LayPlanTrueSize => {
                let worked = self.to_print()?;
                let sheet = whole_way::lay_sheet(&worked, unit)
                    .ok_or("nothing is laid yet; lay it out in the Cloth tray first")?;
                let pages = match export {
                    Export::LayPlan => whole_way::lay_pages(&worked, &sheet, unit),
                    _ => whole_way::lay_true_size(&worked, &sheet, unit),
                };
                (Product::Pdf, whole_way::pdf(&pages))
            }
            Export::MakingSheet => (Product::Pdf, whole_way::making_pdf(&self.to_print()?, unit)),
        };
        files::put(file, product, &bytes).map_err(|trouble| trouble.to_string())?;
        self.session.message = Some(format!("Wrote {}", file.display()));
        Ok(())
    }

    /// The fitting that is printed, taken the whole way.
    fn to_print(&self) -> Result<Worked, String> {
        let fitting = self.session.fitting.as_deref();
        let fitting = fitting.ok_or("there is no fitting to print; open a project first")?;
        whole_way::work(self.session.project(), fitting).map_err(|trouble| trouble.to_string())
    }
}
