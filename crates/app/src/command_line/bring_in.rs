//! `petitoile bring-in FILE... --out PROJECT`: drawings, printed sheets and pictures become a garment; what is doubtful is said.

use std::path::PathBuf;
use std::sync::Arc;

use clap::{Args, ValueEnum};
use petitoile_core::Mm;
use petitoile_core::body::Body;
use petitoile_core::edit::Edit;
use petitoile_core::project::Project;
use petitoile_core::readying::{MADE_FOR, accept_all, made_for_way, propose};
use petitoile_core::units::{LengthUnit, read_length};
use petitoile_exchange::body_table;
use petitoile_exchange::bring_in::recognise::OneLine;
use petitoile_exchange::bring_in::sheets::{PagePlaces, Rows};
use petitoile_exchange::bring_in::{FoundDrawing, Limits, Pace, Watch, traced_drawing};
use petitoile_exchange::photo::straighten::{self, Bottom};
use petitoile_exchange::photo::{KnownRectangle, Picture, Wanted, find_sheet, trace};

use super::trouble::BadInput;
use super::{Outcome, which};
use crate::bring_in::reader::{Read, read};
use crate::bring_in::work::{Choices, Source, Worked, work};
use crate::report::bring_in::BroughtIn;
use crate::report::json;
use crate::{boxes, files};

/// Makes a garment of drawings, printed sheets or pictures of its pieces.
#[derive(Debug, Args)]
pub struct BringIn {
    /// SVG, DXF, PDF, PNG or JPEG files of one garment; told apart by what is in them
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// Project file to write; one that is there already gets the garment put into it
    #[arg(long, value_name = "PROJECT")]
    out: Option<PathBuf>,
    /// Name of the garment; the first file's name when left out
    #[arg(long)]
    name: Option<String>,
    /// The body it was made for, instead of the one that is proposed
    #[arg(long, value_name = "BODY")]
    made_for: Option<String>,
    /// Which of several sizes drawn on top of each other
    #[arg(long, value_name = "NAME")]
    size: Option<String>,
    /// What a piece drawn with one line shows
    #[arg(long, value_enum)]
    one_line: Option<Line>,
    /// Allowance in pieces drawn with their cut line only ("10 mm")
    #[arg(long, value_name = "WIDTH")]
    allowance: Option<String>,
    /// Makes everything so many times as large: what its own test square asks for
    #[arg(long, value_name = "FACTOR", default_value_t = 1.0)]
    larger: f64,
    /// Pages beside one another, where the pages do not tell it themselves
    #[arg(long, value_name = "N")]
    columns: Option<usize>,
    /// Strip that neighbouring pages share
    #[arg(
        long,
        value_name = "WIDTH",
        default_value = "0 mm",
        requires = "columns"
    )]
    overlap: String,
    /// Pages before the first of the sheet: a cover, instructions
    #[arg(long, value_name = "N", default_value_t = 0, requires = "columns")]
    skip: usize,
    /// What lies in a picture: A4, Letter, or the two sides of a sheet ("21 cm x 29.7 cm"); a scan's own scale when left out
    #[arg(long, value_name = "SHEET")]
    known: Option<String>,
    /// Accepts everything that is proposed to make it ready to adapt
    #[arg(long)]
    accept: bool,
    /// Report as JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

/// What the only line of a piece is.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Line {
    /// Its cut line
    Cut,
    /// Its stitch line
    Stitch,
}

impl BringIn {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let known = body_table::built_in();
        let source = Source::of(self.drawing()?, &Pace::default())?;
        let choices = self.choices(&source, &known)?;
        let worked = work(&source, &choices, &known, &Pace::default())?;
        let (worked, accepted) = self.accepted(&source, worked, &known)?;
        let unit = LengthUnit::default();
        let mut report = BroughtIn::of(&source.drawing, &worked, accepted, unit);
        if worked.recognised.pieces.is_empty() {
            let words = if self.json {
                json(&report)
            } else {
                report.text(unit)
            };
            return Ok(Outcome::of(words, false));
        }
        if let Some(out) = &self.out {
            save(out, &worked)?;
            report.saved = Some(out.display().to_string());
        }
        let words = if self.json {
            json(&report)
        } else {
            report.text(unit)
        };
        Ok(Outcome::of(words, true))
    }

    /// The drawing of all files: their sheets one after the other.
    fn drawing(&self) -> Result<FoundDrawing, BadInput> {
        let mut all: Option<FoundDrawing> = None;
        for file in &self.files {
            let read = read(file, &Limits::default(), &Watch::default());
            let drawing = match read.map_err(BadInput::new)? {
                Read::Drawing(drawing) => *drawing,
                Read::Picture(picture, name) => self.traced(&picture, &name)?,
            };
            all = Some(match all {
                None => drawing,
                Some(before) => before.and(drawing),
            });
        }
        all.ok_or_else(|| BadInput::new("name a file to bring in"))
    }

    /// What lies in a picture, as lines.
    fn traced(&self, picture: &Picture, name: &str) -> Result<FoundDrawing, BadInput> {
        let bad = |why: String| BadInput::new(format!("{name}: {why}"));
        let watch = Watch::default();
        let straight = match &self.known {
            Some(sheet) => {
                let sheet = known_sheet(sheet)?;
                let corners =
                    find_sheet(picture, &sheet, &watch).map_err(|e| bad(e.to_string()))?;
                let corners = corners.ok_or_else(|| {
                    bad(format!(
                        "no sheet of {} was made out in it; bring it in in the window and click its corners",
                        sheet.name
                    ))
                })?;
                straighten::by_rectangle(picture, corners, &sheet, Bottom::default())
                    .map_err(|e| bad(e.to_string()))?
            }
            None => straighten::by_density(picture).ok_or_else(|| {
                bad("the picture gives no scale; say what lies in it with --known A4".to_owned())
            })?,
        };
        let traced = trace(picture, &straight, &Wanted::all(&straight), &watch);
        let traced = traced.map_err(|e| BadInput::new(e.to_string()))?;
        Ok(traced_drawing(&traced, name))
    }

    fn choices(&self, source: &Source, known: &[Arc<Body>]) -> Result<Choices, BadInput> {
        let usual = boxes::usual_body(known);
        let made_for = match &self.made_for {
            Some(name) => which::body(&Project::default(), name)?,
            None => usual.ok_or_else(|| BadInput::new("no body comes with the program"))?,
        };
        let stem = self.files.first().and_then(|file| file.file_stem());
        let stem = stem.map_or_else(
            || "Garment".to_owned(),
            |s| s.to_string_lossy().into_owned(),
        );
        let name = self.name.clone().unwrap_or(stem);
        let mut choices = Choices::new(name.trim(), made_for);
        if !(0.1..=10.0).contains(&self.larger) {
            return Err(BadInput::new("--larger: type a factor from 0.1 to 10"));
        }
        choices.larger = (self.larger, self.larger);
        choices.pieces.size.clone_from(&self.size);
        choices.pieces.one_line = self.one_line.map(|line| match line {
            Line::Cut => OneLine::Cut,
            Line::Stitch => OneLine::Stitch,
        });
        choices.pieces.allowance = self
            .allowance
            .as_deref()
            .map(|width| length("--allowance", width))
            .transpose()?;
        if let Some(columns) = self.columns {
            let overlap = length("--overlap", &self.overlap)?;
            let rows = Rows {
                columns: columns.max(1),
                overlap: (overlap.0, overlap.0),
                skip: self.skip,
                ..Rows::default()
            };
            let places = PagePlaces::in_rows(&source.drawing, &rows);
            let matches = source.matches.as_ref();
            choices.places = Some(matches.map_or(places.clone(), |m| m.refined(&places)));
        }
        Ok(choices)
    }

    /// With everything accepted that is proposed, where that is asked; and how many confirmations that stands for.
    fn accepted(
        &self,
        source: &Source,
        worked: Worked,
        known: &[Arc<Body>],
    ) -> Result<(Worked, usize), BadInput> {
        if !self.accept {
            return Ok((worked, 0));
        }
        let proposal = propose(&worked.garment, known, &worked.choices.answers);
        let (mut answers, count) = accept_all(&proposal);
        if self.made_for.is_some() {
            answers.choose(MADE_FOR, &made_for_way(&worked.choices.made_for));
        }
        let choices = Choices {
            answers,
            ..worked.choices
        };
        Ok((work(source, &choices, known, &Pace::default())?, count))
    }
}

/// Puts the garment into the project of this file, or begins one.
fn save(out: &std::path::Path, worked: &Worked) -> Result<(), BadInput> {
    let (project, seal) = match files::open(out) {
        Ok(opened) => (opened.project, Some(opened.seal)),
        Err(files::FileError::Missing(_)) => {
            let begun = Project {
                name: worked.readied.name.clone(),
                ..Project::default()
            };
            (begun, None)
        }
        Err(why) => return Err(why.into()),
    };
    if project.garment(&worked.readied.name).is_some() {
        return Err(BadInput::new(format!(
            "{}: there is a garment called {} in it already; give another name with --name",
            out.display(),
            worked.readied.name
        )));
    }
    let edit: Edit = worked.edit();
    let next = project.edited(&edit).map_err(BadInput::from)?;
    files::save(out, &next, seal)?;
    Ok(())
}

fn length(option: &str, text: &str) -> Result<Mm, BadInput> {
    read_length(text, LengthUnit::Millimetre)
        .map_err(|why| BadInput::new(format!("{option}: {why}")))
}

/// "A4", "Letter", "21 cm x 29.7 cm".
fn known_sheet(text: &str) -> Result<KnownRectangle, BadInput> {
    match text.trim().to_lowercase().as_str() {
        "a4" => return Ok(KnownRectangle::a4()),
        "letter" => return Ok(KnownRectangle::letter()),
        _ => {}
    }
    let sides = text.split_once(['x', '\u{d7}']).ok_or_else(|| {
        BadInput::new("--known: say A4, Letter, or two sides such as \"21 cm x 29.7 cm\"")
    })?;
    let side = |text: &str| length("--known", text.trim());
    Ok(KnownRectangle::sheet(
        "the sheet",
        side(sides.0)?,
        side(sides.1)?,
    ))
}
