//! Draws the records of a DXF: every insertion of a block each time it is drawn, within the budget.

use std::ops::Range;
use std::rc::Rc;

use petitoile_core::kurbo::{Affine, BezPath, Point, Shape, Vec2};

use super::lines;
use super::pairs::Record;
use super::tables::Tables;
use super::words;
use crate::bring_in::{
    BringInError, FoundLine, FoundPoint, FoundSheet, FoundText, Limits, Meaning, Tally, Watch,
};

/// What drawing a record counts of the budget: its values are looked for anew each time.
const RECORD: u64 = 4;

/// What drawing a block once more counts.
const INSERTION: u64 = 6;

/// Draws. Lengths are those of the file; [`super::units`] makes mm of them.
pub(super) struct Draw<'a> {
    pub records: &'a [Record<'a>],
    pub tables: &'a Tables<'a>,
    pub limits: &'a Limits,
    pub watch: &'a Watch<'a>,
    pub file: &'a str,
    /// What is drawn.
    pub sheet: FoundSheet,
    /// What is not.
    pub left: Tally,
    elements: u64,
    letters: u64,
    told: u64,
    /// Blocks that are being drawn, outermost first.
    inside: Vec<&'a str>,
    /// Blocks that were drawn at least once.
    pub drawn: std::collections::BTreeSet<&'a str>,
}

/// What a record takes over from the insertion of its block.
#[derive(Clone)]
pub(super) struct Around<'a> {
    pub to: Affine,
    /// Layer of what lies on layer 0.
    layer: &'a str,
    colour: [u8; 3],
    line_kind: &'a str,
    groups: Rc<Vec<String>>,
    /// Is it part of a dimension?
    is_reference: bool,
}

/// Layer, colour and so on of one record.
pub(super) struct Look<'a> {
    pub layer: &'a str,
    colour: [u8; 3],
    width: f64,
    dash: Vec<f64>,
}

pub(super) type Outcome = Result<(), BringInError>;

impl<'a> Draw<'a> {
    pub(super) fn new(
        records: &'a [Record<'a>],
        tables: &'a Tables<'a>,
        limits: &'a Limits,
        watch: &'a Watch<'a>,
        file: &'a str,
        left: Tally,
    ) -> Self {
        Self {
            records,
            tables,
            limits,
            watch,
            file,
            sheet: FoundSheet::default(),
            left,
            elements: 0,
            letters: 0,
            told: 0,
            inside: Vec::new(),
            drawn: std::collections::BTreeSet::new(),
        }
    }

    /// The drawing itself.
    pub(super) fn all(&mut self) -> Outcome {
        let around = Around {
            to: Affine::IDENTITY,
            layer: "0",
            colour: [0; 3],
            line_kind: "",
            groups: Rc::default(),
            is_reference: false,
        };
        self.range(self.tables.drawing.clone(), &around)?;
        let is_empty = self.sheet.lines.is_empty() && self.sheet.points.is_empty();
        let blocks: Vec<&'a str> = self.tables.blocks.keys().copied().collect();
        for name in blocks {
            if self.drawn.contains(name) || name.starts_with(['*', '$']) {
                continue;
            }
            if is_empty {
                // Some files hold pieces as blocks and never place them.
                self.block(name, &around, Affine::IDENTITY)?;
                continue;
            }
            let has_lines = self
                .tables
                .blocks
                .get(name)
                .is_some_and(|block| !block.records.is_empty());
            if has_lines {
                let what = format!("the block \"{}\", which is placed nowhere", short(name));
                self.left.add(
                    &what,
                    "place it in the drawing if it is a piece",
                    String::new,
                );
            }
        }
        Ok(())
    }

    /// So many more drawn elements.
    pub(super) fn count(&mut self, cost: u64) -> Outcome {
        self.elements = self.elements.saturating_add(cost);
        if self.limits.elements < self.elements {
            return Err(self
                .limits
                .error(self.file, self.limits.elements, "drawn elements"));
        }
        if self.told + 4096 < self.elements {
            self.told = self.elements;
            let share = self.elements as f64 / self.limits.elements.max(1) as f64;
            self.watch.at(0.3 + 0.6 * share, self.file)?;
        }
        Ok(())
    }

    pub(super) fn leave(&mut self, what: &str, advice: &'static str, record: &Record<'_>) {
        let line = record.line;
        self.left
            .add(what, advice, || format!("in line {line} of the file"));
    }

    fn range(&mut self, range: Range<usize>, around: &Around<'a>) -> Outcome {
        let all: &'a [Record<'a>] = self.records;
        let mut rest = all.get(range).unwrap_or_default();
        while let Some((record, after)) = rest.split_first() {
            rest = after;
            self.count(RECORD)?;
            let corners = if record.kind == "POLYLINE" {
                let end = after
                    .iter()
                    .position(|next| next.kind != "VERTEX")
                    .unwrap_or(after.len());
                rest = after.get(end..).unwrap_or_default();
                after.get(..end).unwrap_or_default()
            } else {
                &[]
            };
            if let Some(look) = self.look(record, around) {
                self.record(record, corners, &look, around)?;
            }
        }
        Ok(())
    }

    /// How a record looks; `None` and a word when it is not to be seen.
    fn look(&mut self, record: &Record<'a>, around: &Around<'a>) -> Option<Look<'a>> {
        if matches!(record.kind, "SEQEND" | "ATTDEF" | "VIEWPORT" | "ENDBLK") {
            return None;
        }
        let own = record.text(8).unwrap_or("0");
        let layer = if own == "0" { around.layer } else { own };
        if self.tables.is_hidden(own) {
            let what = format!("on the hidden layer \"{}\"", short(own));
            self.leave(
                &what,
                "switch the layer on if it belongs to the pieces",
                record,
            );
            return None;
        }
        if record.flag(60, 1) || (record.kind == "ATTRIB" && record.flag(70, 1)) {
            self.leave("hidden", "", record);
            return None;
        }
        if record.whole(67) == Some(1) {
            self.leave("on a sheet of paper beside the drawing", "", record);
            return None;
        }
        let hundredths = record.figure(370).filter(|width| 0.0 < *width);
        Some(Look {
            layer,
            colour: self.tables.colour(record, own, around.colour),
            width: hundredths.unwrap_or(0.0) / 100.0,
            dash: self.tables.dash(record, own, around.line_kind),
        })
    }

    fn record(
        &mut self,
        record: &Record<'a>,
        corners: &[Record<'a>],
        look: &Look<'a>,
        around: &Around<'a>,
    ) -> Outcome {
        match record.kind {
            "INSERT" => self.insert(record, look, around),
            "DIMENSION" => self.dimension(record, look, around),
            "POINT" => {
                match record.point(10) {
                    Some(at) => self.point(around.to * at, look, around),
                    None => self.odd(record),
                }
                Ok(())
            }
            "TEXT" | "ATTRIB" | "MTEXT" => self.text(record, look, around),
            _ => {
                let Some(drawn) = lines::drawn(record, corners) else {
                    self.unknown(record);
                    return Ok(());
                };
                match drawn {
                    Ok(line) => {
                        let to = around.to * self.plane(record);
                        let cost = line.path.elements().len() as u64;
                        self.count(cost)?;
                        self.line(to, line, look, around);
                    }
                    Err(lines::Odd) => self.odd(record),
                }
                Ok(())
            }
        }
    }

    fn odd(&mut self, record: &Record<'_>) {
        let what = format!("{} with figures that do not fit", short(record.kind));
        self.leave(
            &what,
            "look what is wrong with it where the file was made",
            record,
        );
    }

    fn unknown(&mut self, record: &Record<'_>) {
        let (what, advice) = match record.kind {
            "VERTEX" => return,
            "HATCH" => (
                "HATCH: a hatched area",
                "its edge is read only where it is drawn as a line too",
            ),
            "IMAGE" | "WIPEOUT" | "OLE2FRAME" | "OLEFRAME" => (
                "a picture",
                "bring the picture in by itself and trace it, if it shows pieces",
            ),
            other => {
                let what = format!("{}, which is not read", short(other));
                self.leave(&what, "turn it into lines where the file was made", record);
                return;
            }
        };
        self.leave(what, advice, record);
    }

    /// The plane of a record, seen from above. Only mirrored ones are common.
    fn plane(&mut self, record: &Record<'_>) -> Affine {
        if matches!(
            record.kind,
            "LINE" | "SPLINE" | "ELLIPSE" | "MTEXT" | "POINT"
        ) {
            return Affine::IDENTITY;
        }
        let normal = (|| {
            Some([
                record.figure(210)?,
                record.figure(220)?,
                record.figure(230)?,
            ])
        })();
        let Some([x, y, z]) = normal else {
            return Affine::IDENTITY;
        };
        if x == 0.0 && y == 0.0 {
            return if z < 0.0 {
                Affine::FLIP_X
            } else {
                Affine::IDENTITY
            };
        }
        self.leave(
            "drawn in a tilted plane: it is read as seen from above",
            "look whether its size is right",
            record,
        );
        tilted(x, y, z)
    }

    fn line(&mut self, to: Affine, line: lines::Drawn, look: &Look<'a>, around: &Around<'a>) {
        self.sheet.lines.push(FoundLine {
            path: to * line.path,
            closed: line.closed,
            layer: look.layer.to_owned(),
            groups: around.groups.to_vec(),
            colour: look.colour,
            width: look.width,
            dash: look.dash.clone(),
            filled: line.filled,
            meaning: around.is_reference.then_some(Meaning::Reference),
        });
    }

    fn point(&mut self, at: Point, look: &Look<'a>, around: &Around<'a>) {
        self.sheet.points.push(FoundPoint {
            at,
            layer: look.layer.to_owned(),
            groups: around.groups.to_vec(),
            meaning: None,
        });
    }

    fn text(&mut self, record: &Record<'a>, look: &Look<'a>, around: &Around<'a>) -> Outcome {
        let Some(lines) = words::lines(record) else {
            self.odd(record);
            return Ok(());
        };
        let to = around.to * self.plane(record);
        for line in lines {
            self.letters += line.words.chars().count() as u64;
            if self.limits.letters < self.letters {
                return Err(self.limits.error(self.file, self.limits.letters, "letters"));
            }
            let along = to * (line.at + Vec2::from_angle(line.turn)) - to * line.at;
            self.sheet.texts.push(FoundText {
                at: to * line.at,
                size: line.size * to.determinant().abs().sqrt(),
                turn: libm::atan2(along.y, along.x).to_degrees(),
                words: line.words,
                layer: look.layer.to_owned(),
                groups: around.groups.to_vec(),
                meaning: around.is_reference.then_some(Meaning::Reference),
            });
        }
        Ok(())
    }

    /// A block in one or many places.
    fn insert(&mut self, record: &Record<'a>, look: &Look<'a>, around: &Around<'a>) -> Outcome {
        let (Some(name), Some(at)) = (record.text(2), record.point(10)) else {
            self.odd(record);
            return Ok(());
        };
        let scale = |code| record.figure(code).unwrap_or(1.0);
        let turn = record.figure(50).unwrap_or(0.0).to_radians();
        let plane = around.to * self.plane(record);
        let turned = Affine::translate(at.to_vec2()) * Affine::rotate(turn);
        let sized = Affine::scale_non_uniform(scale(41), scale(42));
        let times = |code| record.whole(code).unwrap_or(1).max(1);
        let (across, up) = (times(70), times(71));
        self.afford(name, across.saturating_mul(up))?;
        let step = |code| record.figure(code).unwrap_or(0.0);
        let inner = Around {
            to: plane,
            layer: look.layer,
            colour: look.colour,
            line_kind: record.text(6).unwrap_or_default(),
            groups: Rc::clone(&around.groups),
            is_reference: around.is_reference,
        };
        for row in 0..up {
            for column in 0..across {
                self.count(INSERTION)?;
                let off = Vec2::new(column as f64 * step(44), row as f64 * step(45));
                self.block(name, &inner, turned * Affine::translate(off) * sized)?;
            }
        }
        Ok(())
    }

    /// Refuses a block in more places than the budget can pay for before the first of them is drawn.
    fn afford(&self, name: &str, places: i64) -> Outcome {
        // Inside of itself it is told and not drawn.
        let drawn = !self.inside.contains(&name);
        let block = self.tables.blocks.get(name).filter(|_| drawn);
        let block = block.map(|b| b.records.clone());
        let records = block.and_then(|range| self.records.get(range));
        let counted = records
            .unwrap_or_default()
            .iter()
            .filter(|record| record.kind != "VERTEX")
            .count() as u64;
        let each = INSERTION + RECORD * counted;
        let all = each.saturating_mul(places.unsigned_abs());
        if self.limits.elements < self.elements.saturating_add(all) {
            return Err(self
                .limits
                .error(self.file, self.limits.elements, "drawn elements"));
        }
        Ok(())
    }

    fn dimension(&mut self, record: &Record<'a>, look: &Look<'a>, around: &Around<'a>) -> Outcome {
        let Some(name) = record
            .text(2)
            .filter(|name| self.tables.blocks.contains_key(name))
        else {
            self.unknown(record);
            return Ok(());
        };
        let inner = Around {
            layer: look.layer,
            colour: look.colour,
            is_reference: true,
            ..around.clone()
        };
        self.block(name, &inner, Affine::IDENTITY)
    }

    fn block(&mut self, name: &'a str, around: &Around<'a>, to: Affine) -> Outcome {
        let Some(block) = self.tables.blocks.get(name) else {
            let what = format!("the block \"{}\", which is not in the file", short(name));
            self.left.add(&what, "", String::new);
            return Ok(());
        };
        if self.inside.contains(&name) {
            let what = format!("the block \"{}\" inside of itself", short(name));
            self.left.add(&what, "", String::new);
            return Ok(());
        }
        if self.limits.nesting <= self.inside.len() as u64 {
            return Err(self
                .limits
                .error(self.file, self.limits.nesting, "levels of nesting"));
        }
        let mut inner = around.clone();
        inner.to = around.to * to * Affine::translate(-block.base.to_vec2());
        if !name.starts_with('*') {
            Rc::make_mut(&mut inner.groups).push(short(name));
        }
        let records = block.records.clone();
        self.drawn.insert(name);
        self.inside.push(name);
        let outcome = self.range(records, &inner);
        self.inside.pop();
        outcome
    }
}

/// The plane square to a direction, by the rule of the format for its x axis, seen from above.
fn tilted(x: f64, y: f64, z: f64) -> Affine {
    let length = (x * x + y * y + z * z).sqrt();
    let n = [x / length, y / length, z / length];
    let cross = |a: [f64; 3], b: [f64; 3]| {
        let [ax, ay, az] = a;
        let [bx, by, bz] = b;
        [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx]
    };
    let [nx, ny, _] = n;
    let near = nx.abs() < 1.0 / 64.0 && ny.abs() < 1.0 / 64.0;
    let along = if near {
        cross([0.0, 1.0, 0.0], n)
    } else {
        cross([0.0, 0.0, 1.0], n)
    };
    let [ax, ay, az] = along;
    let size = (ax * ax + ay * ay + az * az).sqrt();
    let along = [ax / size, ay / size, az / size];
    let [ux, uy, _] = along;
    let [vx, vy, _] = cross(n, along);
    Affine::new([ux, uy, vx, vy, 0.0, 0.0])
}

/// At most forty letters.
pub(super) fn short(words: &str) -> String {
    words.chars().take(40).collect()
}

/// Longest side of a path.
pub(super) fn longest(path: &BezPath) -> f64 {
    let bounds = path.bounding_box();
    bounds.width().max(bounds.height())
}
