//! `petitoile measure FILE`: edges, seams, girths and ease, on the source and on the target.

use std::sync::Arc;

use clap::Args;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;
use petitoile_core::seams::{Relation, Seam, SeamError, side_length};
use petitoile_core::tolerance::JOINING;
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use super::trouble::BadInput;
use super::{Asked, Outcome, check, which};
use crate::files;
use crate::report::table::Table;
use crate::report::{EaseLine, Report, json, signed};
use crate::whole_way::{self, Worked};

/// Measures edges, seams, girths and ease.
#[derive(Debug, Args)]
pub struct MeasureJob {
    #[command(flatten)]
    asked: Asked,
}

/// What `measure --json` prints.
#[derive(Debug, Serialize)]
struct Measures {
    fitting: String,
    garment: String,
    made_for: String,
    body: String,
    edges: Vec<EdgeRow>,
    seams: Vec<SeamRow>,
    /// Girths and lengths with their ease.
    ease: Vec<EaseLine>,
    unit: &'static str,
}

/// Finished length of one edge. Edges that were made by hand on the fitting have none on the source.
#[derive(Debug, Serialize)]
struct EdgeRow {
    piece: String,
    edge: String,
    source: Option<Mm>,
    target: Mm,
}

/// Both sides of one seam.
#[derive(Debug, Serialize)]
struct SeamRow {
    name: String,
    /// Side `a`, side `b` and `a - b` on the source; none for a seam that was sewn by hand on the fitting.
    source: Option<Sides>,
    /// The same on the target.
    target: Sides,
    /// "equal", "eased" (a is longer by a length) or "ratio" (a is so many times as long).
    relation: &'static str,
}

#[derive(Debug, Clone, Copy, Serialize)]
struct Sides {
    a: Mm,
    b: Mm,
    difference: Mm,
}

impl MeasureJob {
    pub(super) fn run(&self) -> Result<Outcome, BadInput> {
        let file = &self.asked.file;
        let project = files::open(file)?.project;
        let chosen = which::fitting(&project, self.asked.fitting.as_deref())
            .map_err(|bad| bad.in_file(file))?;
        let worked = whole_way::work_on(&project, &chosen.garment, &chosen.fitting)
            .map_err(|error| BadInput::from(error).in_file(file))?;
        let measures = Measures::of(&worked, project.unit).map_err(|bad| bad.in_file(file))?;
        let words = if self.asked.json {
            json(&measures)
        } else {
            check::with_remark(measures.text(project.unit), chosen.remark.as_deref())
        };
        Ok(Outcome::of(words, worked.is_usable()))
    }
}

impl Measures {
    fn of(worked: &Worked, unit: LengthUnit) -> Result<Self, BadInput> {
        let (garment, made) = (&worked.adapted.garment, &worked.adapted.made);
        let report = Report::of(worked, None, unit);
        let seam_row = |seam: &Seam| {
            SeamRow::of(seam, garment, &made.pieces).map_err(|error| {
                BadInput::new(format!(
                    "seam {}: {error}; open an older version of the file",
                    seam.name
                ))
            })
        };
        Ok(Self {
            edges: made
                .pieces
                .iter()
                .flat_map(|piece| edge_rows(garment.piece(&piece.name).map(|p| &**p), piece))
                .collect(),
            seams: made.seams.iter().map(seam_row).collect::<Result<_, _>>()?,
            fitting: report.fitting,
            garment: report.garment,
            made_for: report.made_for,
            body: report.body,
            ease: report.ease,
            unit: unit.suffix(),
        })
    }

    fn text(&self, unit: LengthUnit) -> String {
        let mut edges = Table::new(["Edges (stitch line)", "source", "target", ""]);
        for row in &self.edges {
            edges.row([
                format!("{}, {}", row.piece, row.edge),
                row.source
                    .map_or_else(String::new, |length| unit.show(length)),
                unit.show(row.target),
                String::new(),
            ]);
        }
        let mut seams = Table::new([
            "Seams",
            "side a",
            "side b",
            "a longer by",
            "on the source",
            "",
        ]);
        for row in &self.seams {
            seams.row([
                row.name.clone(),
                unit.show(row.target.a),
                unit.show(row.target.b),
                difference(row.target.difference, unit),
                row.source
                    .map_or_else(String::new, |source| difference(source.difference, unit)),
                row.relation.to_owned(),
            ]);
        }
        let mut girths = Table::new([
            "Girths and lengths",
            "target body",
            "garment",
            "ease",
            "ease on the source",
            "",
        ]);
        for row in &self.ease {
            girths.row([
                row.name.clone(),
                unit.show(row.target.body),
                unit.show(row.target.garment),
                signed(row.target.ease, unit),
                signed(row.source.ease, unit),
                row.hold.to_owned(),
            ]);
        }
        format!(
            "{}, made for {}, adapted to {}\n\n{}\n{}\n{}",
            self.garment,
            self.made_for,
            self.body,
            edges.text(),
            seams.text(),
            girths.text()
        )
    }
}

/// Differences below what counts as joined read as nothing.
fn difference(length: Mm, unit: LengthUnit) -> String {
    if length.0.abs() <= JOINING.0 {
        "0".to_owned()
    } else {
        signed(length, unit)
    }
}

/// The edges of a piece as it is made, each beside the edge of its name on the source.
fn edge_rows(source: Option<&Piece>, made: &Piece) -> Vec<EdgeRow> {
    let on_source = |name: &str| {
        let edge = source?.outline.edge(name)?;
        Some(Mm(edge.line.length()))
    };
    let edges = made.outline.edges().iter();
    edges
        .map(|edge| EdgeRow {
            piece: made.name.clone(),
            edge: edge.name.clone(),
            source: on_source(&edge.name),
            target: Mm(edge.line.length()),
        })
        .collect()
}

impl SeamRow {
    fn of(seam: &Seam, source: &Garment, target: &[Arc<Piece>]) -> Result<Self, SeamError> {
        let sides = |seam: &Seam, pieces: &[Arc<Piece>]| {
            let (a, b) = (side_length(&seam.a, pieces)?, side_length(&seam.b, pieces)?);
            Ok::<_, SeamError>(Sides {
                a,
                b,
                difference: a - b,
            })
        };
        let before = source.seams.iter().find(|old| old.name == seam.name);
        let relation = match seam.relation {
            Relation::Equal => "equal",
            Relation::Eased(_) => "eased",
            Relation::Ratio(_) => "ratio",
        };
        Ok(Self {
            name: seam.name.clone(),
            source: before.map(|old| sides(old, &source.pieces)).transpose()?,
            target: sides(seam, target)?,
            relation,
        })
    }
}
