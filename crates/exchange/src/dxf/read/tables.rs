//! What a DXF says before it draws: units, layers, kinds of lines, blocks.

use std::collections::BTreeMap;
use std::ops::Range;

use petitoile_core::kurbo::Point;

use super::colour::{BY_BLOCK, BY_LAYER, Colour};
use super::pairs::{Record, figure};
use crate::bring_in::Tally;

/// Parts of a dash pattern at most.
const DASHES: usize = 64;

/// What the head of a file says about lengths.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Head {
    /// `$INSUNITS`: 1 inches, 4 mm, ...
    pub units: Option<i64>,
    /// `$MEASUREMENT`: 0 inches, 1 metric.
    pub measurement: Option<i64>,
    /// `$LTSCALE`: dashes are this much longer.
    pub dash_scale: f64,
}

/// A layer.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layer<'a> {
    /// Colour of what has none of its own.
    pub colour: Colour,
    /// Kind of line of what has none of its own.
    pub line_kind: &'a str,
    /// Switched off or frozen.
    pub is_hidden: bool,
}

/// A block: drawn wherever it is inserted.
#[derive(Debug, Clone)]
pub(super) struct Block {
    /// What is laid on the place of insertion.
    pub base: Point,
    /// Its records.
    pub records: Range<usize>,
}

/// All of it.
#[derive(Debug, Default)]
pub(super) struct Tables<'a> {
    pub head: Head,
    pub layers: BTreeMap<&'a str, Layer<'a>>,
    /// Dash patterns: dashes above 0, gaps below, points 0.
    pub line_kinds: BTreeMap<String, Vec<f64>>,
    pub blocks: BTreeMap<&'a str, Block>,
    /// The records of the drawing itself.
    pub drawing: Range<usize>,
    /// Does the file end as it should?
    pub has_end: bool,
}

impl<'a> Tables<'a> {
    /// Reads what stands before the drawing.
    pub(super) fn of(records: &[Record<'a>], left: &mut Tally) -> Self {
        let mut tables = Self::default();
        tables.head.dash_scale = 1.0;
        let mut section = "";
        let mut block: Option<(&'a str, Point, usize)> = None;
        for (at, record) in records.iter().enumerate() {
            match (record.kind, section) {
                ("SECTION", _) => {
                    section = record.text(2).unwrap_or_default();
                    match section {
                        "HEADER" => tables.head = head(record),
                        "ENTITIES" => tables.drawing = at + 1..records.len(),
                        _ => {}
                    }
                }
                ("ENDSEC" | "EOF", _) => {
                    if section == "ENTITIES" {
                        tables.drawing.end = at;
                    }
                    section = "";
                    tables.has_end |= record.kind == "EOF";
                }
                ("LAYER", "TABLES") => tables.layer(record),
                ("LTYPE", "TABLES") => tables.line_kind(record),
                ("BLOCK", "BLOCKS") => {
                    let base = record.point(10).unwrap_or_default();
                    block = record.text(2).map(|name| (name, base, at + 1));
                }
                ("ENDBLK", "BLOCKS") => {
                    if let Some((name, base, from)) = block.take() {
                        let records = from..at;
                        if tables
                            .blocks
                            .insert(name, Block { base, records })
                            .is_some()
                        {
                            left.add("a second block of the same name", "", || {
                                format!("in line {} of the file", record.line)
                            });
                        }
                    }
                }
                _ => {}
            }
        }
        tables
    }

    fn layer(&mut self, record: &Record<'a>) {
        let Some(name) = record.text(2) else { return };
        let number = record.whole(62).unwrap_or(7);
        let layer = Layer {
            colour: record.whole(420).map_or(
                Colour::numbered(number.saturating_abs()),
                Colour::true_colour,
            ),
            line_kind: record.text(6).unwrap_or_default(),
            is_hidden: number < 0 || record.flag(70, 1),
        };
        self.layers.insert(name, layer);
    }

    fn line_kind(&mut self, record: &Record<'a>) {
        let Some(name) = record.text(2) else { return };
        let pattern = record
            .pairs()
            .filter(|(code, _)| *code == 49)
            .filter_map(|(_, value)| figure(value))
            .take(DASHES)
            .collect();
        self.line_kinds.insert(name.to_uppercase(), pattern);
    }

    /// Dash and gap of a record on a layer, in units of the file; empty is solid.
    pub(super) fn dash(&self, record: &Record<'a>, layer: &str, of_block: &str) -> Vec<f64> {
        let of_layer = || self.layers.get(layer).map_or("", |layer| layer.line_kind);
        let own = record.text(6).unwrap_or("BYLAYER").to_uppercase();
        let kind = match own.as_str() {
            "BYLAYER" => of_layer().to_uppercase(),
            "BYBLOCK" => of_block.to_uppercase(),
            _ => own,
        };
        let scale = self.head.dash_scale * record.figure(48).unwrap_or(1.0);
        match self.line_kinds.get(&kind) {
            Some(pattern) if 0.0 < scale => dashes(pattern, scale),
            _ => Vec::new(),
        }
    }

    /// Colour of a record on a layer.
    pub(super) fn colour(&self, record: &Record<'a>, layer: &str, of_block: [u8; 3]) -> [u8; 3] {
        if let Some(value) = record.whole(420) {
            return Colour::true_colour(value).0;
        }
        match record.whole(62).unwrap_or(BY_LAYER) {
            BY_LAYER => self
                .layers
                .get(layer)
                .map_or([0; 3], |layer| layer.colour.0),
            BY_BLOCK => of_block,
            number => Colour::numbered(number).0,
        }
    }

    /// Is a layer switched off or frozen?
    pub(super) fn is_hidden(&self, layer: &str) -> bool {
        self.layers.get(layer).is_some_and(|layer| layer.is_hidden)
    }
}

/// A pattern as dash, gap, dash, gap: like parts joined, a dash first.
fn dashes(pattern: &[f64], scale: f64) -> Vec<f64> {
    let mut out: Vec<f64> = Vec::new();
    for part in pattern {
        let is_dash = 0.0 <= *part;
        let next_is_dash = out.len().is_multiple_of(2);
        match out.last_mut() {
            Some(last) if is_dash != next_is_dash => *last += part.abs() * scale,
            None if !is_dash => {} // a gap at the start goes to the end
            _ => out.push(part.abs() * scale),
        }
    }
    let first_gap: f64 = pattern
        .iter()
        .take_while(|part| **part < 0.0)
        .map(|part| part.abs() * scale)
        .sum();
    if out.len().is_multiple_of(2) {
        if let Some(last) = out.last_mut() {
            *last += first_gap;
        }
    } else if 0.0 < first_gap {
        out.push(first_gap);
    }
    // One dash without a gap is a solid line.
    if out.len() < 2 { Vec::new() } else { out }
}

fn head(record: &Record<'_>) -> Head {
    let mut head = Head {
        dash_scale: 1.0,
        ..Head::default()
    };
    let mut variable = "";
    for (code, value) in record.pairs() {
        match (code, variable) {
            (9, _) => variable = value.trim(),
            (70, "$INSUNITS") => head.units = value.trim().parse().ok(),
            (70, "$MEASUREMENT") => head.measurement = value.trim().parse().ok(),
            (40, "$LTSCALE") => head.dash_scale = figure(value).unwrap_or(1.0),
            _ => {}
        }
    }
    head
}
