//! `petitoile export FILE --out X.svg`, `.dxf` or `.png`: the pieces as a drawing in real millimetres, or as a picture.

use std::path::PathBuf;

use clap::Args;
use petitoile_core::LengthUnit;

use super::print::told;
use super::trouble::BadInput;
use super::{Asked, Outcome, which};
use crate::files::Product;
use crate::report::Report;
use crate::whole_way::Worked;
use crate::{files, whole_way};

/// Writes the pieces as a drawing in real millimetres (SVG, DXF), or as a picture (PNG).
#[derive(Debug, Args)]
pub struct Export {
    #[command(flatten)]
    asked: Asked,
    /// File to write; its ending says what: .svg, .dxf or .png
    #[arg(long, value_name = "X.svg")]
    out: PathBuf,
    /// Pixels a millimetre of a picture
    #[arg(long, value_name = "N", default_value_t = 10.0)]
    pixels: f64,
}

impl Export {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let (product, bytes) = self.drawn(&worked, project.unit)?;
        files::put(&self.out, product, &bytes)?;
        let report = Report::of(&worked, None, project.unit);
        Ok(told(
            &self.out,
            report,
            self.asked.json,
            chosen.remark.as_deref(),
        ))
    }

    /// What the ending of the file asks for.
    fn drawn(&self, worked: &Worked, unit: LengthUnit) -> Result<(Product, Vec<u8>), BadInput> {
        let ending = self.out.extension().and_then(|ending| ending.to_str());
        match ending.map(str::to_lowercase).as_deref() {
            Some("svg") => Ok((Product::Svg, whole_way::svg(worked, unit).into_bytes())),
            Some("dxf") => Ok((Product::Dxf, whole_way::dxf(worked, unit).into_bytes())),
            Some("png") => whole_way::png(worked, unit, self.pixels)
                .map(|png| (Product::Png, png))
                .map_err(|why| BadInput::new(format!("{}: {why}", self.out.display()))),
            _ => Err(BadInput::new(format!(
                "{}: the ending says what is written; use .svg, .dxf or .png",
                self.out.display()
            ))),
        }
    }
}
