//! Ease at every tape line, as `petitoile fit` tells it.

use petitoile_core::ease::EaseRow;
use petitoile_core::fit::{AlongBody, AlongPoint, Beside, BesideRow, FitRow, Sat, along_body};
use petitoile_core::measure::Measure;
use petitoile_core::project::Project;
use petitoile_core::tape::Hold;
use petitoile_core::{LengthUnit, Mm};
use serde::Serialize;

use crate::report::signed;
use crate::report::table::Table;
use crate::whole_way::Worked;

/// Ease at every tape line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Section {
    /// Thickness of each layer of cloth underneath, innermost first.
    pub layers_underneath: Vec<Mm>,
    /// The outfit that tells what is underneath, girth by girth; null when the fitting says it.
    pub outfit: Option<String>,
    /// One for each tape line.
    pub rows: Vec<Row>,
    /// Girths against height above the floor: trunk, arm, leg.
    pub along: Vec<AlongLimb>,
    /// Beside other fittings or bodies, where they were asked for.
    pub beside: Option<BesideTable>,
}

/// Girths of one limb from the top down.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlongLimb {
    /// "trunk", "left arm" or "left leg".
    pub limb: &'static str,
    /// Its girths.
    pub points: Vec<AlongRow>,
}

/// Girths at one height; null where there is none.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AlongRow {
    /// Measure, tape line, body line or "hem".
    pub name: String,
    /// Above the floor.
    pub height: Mm,
    /// The bare body.
    pub body: Option<Mm>,
    /// The body with what is worn underneath.
    pub dressed: Option<Mm>,
    /// The garment.
    pub garment: Option<Mm>,
}

/// Ease tables beside each other.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesideTable {
    /// This fitting first.
    pub columns: Vec<BesideColumn>,
    /// One for each place that any of them has.
    pub rows: Vec<BesidePlace>,
}

/// Whose figures stand in a column.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesideColumn {
    /// Name of the fitting.
    pub fitting: String,
    /// Name of the body.
    pub body: String,
}

/// One place in every column.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesidePlace {
    /// Name of the tape line.
    pub name: String,
    /// Measure of the body it answers to.
    pub measure: Measure,
    /// One for each column; null where that garment has no tape there.
    pub cells: Vec<Option<BesideCell>>,
}

/// One place of one fitting.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesideCell {
    /// The bare body.
    pub body: Mm,
    /// The body in percent of the body in the first column; null without one.
    pub body_percent: Option<f64>,
    /// The garment.
    pub garment: Mm,
    /// `garment - body`.
    pub ease: Mm,
    /// The ease in percent of the body.
    pub percent: f64,
    /// What is left of the ease when all cloth is in.
    pub room: Mm,
    /// As in the rows of the fitting.
    pub sits: &'static str,
}

impl From<&AlongBody> for AlongLimb {
    fn from(limb: &AlongBody) -> Self {
        let row = |point: &AlongPoint| AlongRow {
            name: point.name.clone(),
            height: point.height,
            body: point.body,
            dressed: point.dressed,
            garment: point.garment,
        };
        Self {
            limb: limb.limb.label(),
            points: limb.points.iter().map(row).collect(),
        }
    }
}

impl From<&Beside> for BesideTable {
    fn from(beside: &Beside) -> Self {
        let cell = |row: &BesideRow, column: usize, cell: &FitRow| BesideCell {
            body: cell.here.body,
            body_percent: row.body_percent(column),
            garment: cell.here.garment,
            ease: cell.here.ease(),
            percent: cell.here.percent(),
            room: cell.room(),
            sits: cell.sits.word(),
        };
        let place = |row: &BesideRow| BesidePlace {
            name: row.name.clone(),
            measure: row.measure,
            cells: row
                .cells
                .iter()
                .enumerate()
                .map(|(column, there)| there.as_ref().map(|there| cell(row, column, there)))
                .collect(),
        };
        let column = |(fitting, body): &(String, String)| BesideColumn {
            fitting: fitting.clone(),
            body: body.clone(),
        };
        Self {
            columns: beside.columns.iter().map(column).collect(),
            rows: beside.rows.iter().map(place).collect(),
        }
    }
}

/// Ease at one tape line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Row {
    /// Name of the tape line.
    pub name: String,
    /// Measure of the body it answers to.
    pub measure: Measure,
    /// The share of the measure it covers.
    pub share: f64,
    /// Girth (true) or length.
    pub girth: bool,
    /// "fitted" or "hanging".
    pub hold: &'static str,
    /// The bare body.
    pub body: Mm,
    /// How much larger what is worn underneath makes it.
    pub underneath: Mm,
    /// The garment.
    pub garment: Mm,
    /// `garment - body`.
    pub ease: Mm,
    /// The ease in percent of the body.
    pub percent: f64,
    /// Girth that the garment's own cloth takes up.
    pub own_cloth: Mm,
    /// `ease - underneath - own_cloth`: what is left between the layers.
    pub room: Mm,
    /// On the body it was made for.
    pub source: Source,
    /// "too tight", "close", "well", "loose", "hangs" or "not judged".
    pub sits: &'static str,
    /// By how much, where it is off.
    pub off_by: Option<Mm>,
    /// What handbooks give for this body.
    pub handbook: Vec<BookRow>,
    /// What handbooks give for the body it was made for.
    pub source_handbook: Vec<BookRow>,
}

/// Ease on the body a garment was made for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Source {
    /// The body.
    pub body: Mm,
    /// The garment.
    pub garment: Mm,
    /// `garment - body`.
    pub ease: Mm,
    /// The ease in percent of the body.
    pub percent: f64,
}

/// What a handbook gives.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BookRow {
    /// The garment it was given for.
    pub garment: &'static str,
    /// Least ease.
    pub least: Mm,
    /// Most ease.
    pub most: Mm,
    /// Is one thin layer of cloth in it?
    pub holds_cloth: bool,
    /// Where it comes from.
    pub source: &'static str,
}

impl From<&EaseRow> for BookRow {
    fn from(row: &EaseRow) -> Self {
        Self {
            garment: row.garment,
            least: row.least,
            most: row.most,
            holds_cloth: row.holds_cloth,
            source: row.source,
        }
    }
}

impl From<Sat> for Source {
    fn from(sat: Sat) -> Self {
        Self {
            body: sat.body,
            garment: sat.garment,
            ease: sat.ease(),
            percent: sat.percent(),
        }
    }
}

impl From<&FitRow> for Row {
    fn from(row: &FitRow) -> Self {
        let books =
            |rows: &[&'static EaseRow]| rows.iter().map(|row| BookRow::from(*row)).collect();
        Self {
            name: row.name.clone(),
            measure: row.measure,
            share: row.share,
            girth: row.is_girth,
            hold: if row.hold == Hold::Hanging {
                "hanging"
            } else {
                "fitted"
            },
            body: row.here.body,
            underneath: row.underneath,
            garment: row.here.garment,
            ease: row.here.ease(),
            percent: row.here.percent(),
            own_cloth: row.own_cloth,
            room: row.room(),
            source: row.source.into(),
            sits: row.sits.word(),
            off_by: row.sits.by(),
            handbook: books(&row.handbook),
            source_handbook: books(&row.source_handbook),
        }
    }
}

impl Section {
    /// The ease table of the fitting, with what is worn underneath.
    pub fn of(_project: &Project, worked: &Worked) -> Self {
        let figure = &worked.beyond.fit;
        Self {
            layers_underneath: figure.table.underneath.layers.clone(),
            outfit: figure.table.underneath.outfit.clone(),
            rows: figure.table.rows.iter().map(Row::from).collect(),
            along: along_body(figure).iter().map(AlongLimb::from).collect(),
            beside: None,
        }
    }

    /// For people, in the maker's unit.
    pub fn text(&self, unit: LengthUnit) -> String {
        if self.rows.is_empty() {
            return "Ease: this garment has no tape lines\n".to_owned();
        }
        let mut table = Table::new([
            "Ease",
            "body",
            "underneath",
            "garment",
            "ease",
            "%",
            "% on the source",
            "room",
            "",
        ]);
        for row in &self.rows {
            table.row([
                row.name.clone(),
                unit.show(row.body),
                unit.show(row.underneath),
                unit.show(row.garment),
                signed(row.ease, unit),
                percent(row.percent),
                percent(row.source.percent),
                signed(row.room, unit),
                row.verdict(unit),
            ]);
        }
        let books: String = self.rows.iter().map(|row| row.books(unit)).collect();
        let told = if books.is_empty() {
            "Handbooks give nothing for these places of this body\n".to_owned()
        } else {
            format!("Handbooks:\n{books}")
        };
        let beside = self
            .beside
            .as_ref()
            .map_or_else(String::new, |beside| format!("\n{}", beside.text(unit)));
        let outfit = self.outfit.as_ref().map_or_else(String::new, |outfit| {
            format!("Underneath: as worn in the outfit {outfit}.\n")
        });
        format!(
            "{}Room is what is left of the ease when all cloth is in.\n{outfit}{told}{beside}",
            table.text()
        )
    }
}

/// With its sign; nothing has none below it.
fn percent(share: f64) -> String {
    format!("{:+.1}", (10.0 * share).round() / 10.0 + 0.0)
}

impl BesideTable {
    /// One line for each place of each column.
    fn text(&self, unit: LengthUnit) -> String {
        let mut table = Table::new([
            "Beside",
            "body",
            "% of first",
            "garment",
            "ease",
            "%",
            "room",
            "",
        ]);
        for row in &self.rows {
            for (column, cell) in self.columns.iter().zip(&row.cells) {
                let Some(cell) = cell else { continue };
                table.row([
                    format!("{}: {}", row.name, column.fitting),
                    unit.show(cell.body),
                    cell.body_percent
                        .map_or_else(String::new, |share| format!("{share:.1}")),
                    unit.show(cell.garment),
                    signed(cell.ease, unit),
                    percent(cell.percent),
                    signed(cell.room, unit),
                    cell.sits.to_owned(),
                ]);
            }
        }
        table.text()
    }
}

impl Row {
    fn verdict(&self, unit: LengthUnit) -> String {
        self.off_by.map_or_else(
            || self.sits.to_owned(),
            |by| format!("{} by {}", self.sits, unit.show(by)),
        )
    }

    /// One line for each row of a handbook.
    fn books(&self, unit: LengthUnit) -> String {
        let line = |book: &BookRow| {
            format!(
                "  {}: {} to {}, {} ({})\n",
                self.name,
                unit.show(book.least),
                unit.show(book.most),
                book.garment,
                book.source
            )
        };
        self.handbook.iter().map(line).collect()
    }
}
