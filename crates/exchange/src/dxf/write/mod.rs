//! Writes pieces as DXF by ASTM D6673: a block a piece, inserted once.
//!
//! The oldest form that is still in use everywhere (R12), with handles, in mm. Curves are polylines whose chords lie within
//! 0.005 mm, with their turn points on layer 2 and their curve points on layer 3, as the practice has it: every program that
//! reads it knows polylines, and ours finds the smooth line again through the marked points.

mod chords;

use std::fmt::Write;

use petitoile_core::kurbo::{Point, Vec2};

use super::layers;
use super::piece::{DxfLine, DxfPiece};
use chords::{Chord, chords};

/// Room between pieces, mm.
const GAP: f64 = 20.0;

/// A row of pieces is not longer than this, mm, unless one piece is.
const ROW: f64 = 1000.0;

/// Writes pieces; `title` is the garment, `size` the body. The letters are ASCII.
///
/// # Example
/// ```
/// # use petitoile_exchange::dxf::{piece::{DxfLine, DxfPiece}, write::write};
/// # use petitoile_core::kurbo::{Rect, Shape};
/// let square = DxfLine { layer: 1, path: Rect::new(0.0, 0.0, 50.0, 50.0).to_path(0.1) };
/// let piece = DxfPiece { name: "Pocket".into(), lines: vec![square], ..DxfPiece::default() };
/// assert!(write("Apron", "45 cm play doll", &[piece]).contains("PIECE NAME: Pocket"));
/// ```
pub fn write(title: &str, size: &str, pieces: &[DxfPiece]) -> String {
    let names = block_names(pieces);
    let places = places(pieces);
    let mut out = Out::default();
    out.section("TABLES", tables);
    out.section("BLOCKS", |out| {
        for (piece, name) in pieces.iter().zip(&names) {
            block(out, piece, name);
        }
    });
    out.section("ENTITIES", |out| {
        for (name, at) in names.iter().zip(&places) {
            out.entity("INSERT", layers::OUTLINE);
            out.pair(2, name);
            out.point(10, at.to_point());
        }
        let about = [
            format!("STYLE NAME: {title}"),
            format!("SIZE: {size}"),
            "UNITS: METRIC".to_owned(),
        ];
        for (row, words) in (0..).zip(&about) {
            let at = Point::new(0.0, -10.0 - 5.0 * f64::from(row));
            text(out, layers::OUTLINE, at, 3.0, words);
        }
    });
    let body = out.words;
    let mut head = Out {
        handle: out.handle,
        ..Out::default()
    };
    head.section("HEADER", |head| header(head, pieces, &places));
    format!("{}{body}0\nEOF\n", head.words)
}

/// Where each piece is put: row by row, none over another.
fn places(pieces: &[DxfPiece]) -> Vec<Vec2> {
    let (mut x, mut y, mut row) = (0.0, 0.0, 0.0_f64);
    pieces
        .iter()
        .map(|piece| {
            let bounds = piece.bounds();
            if 0.0 < x && ROW < x + bounds.width() {
                (x, y, row) = (0.0, y + row + GAP, 0.0);
            }
            let at = Point::new(x, y) - bounds.origin();
            x += bounds.width() + GAP;
            row = row.max(bounds.height());
            at
        })
        .collect()
}

/// Names of blocks: capitals, figures and dashes, at most 31 of them, none twice.
fn block_names(pieces: &[DxfPiece]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for piece in pieces {
        let plain: String = piece
            .name
            .to_uppercase()
            .chars()
            .map(|letter| {
                if letter.is_ascii_alphanumeric() {
                    letter
                } else {
                    '_'
                }
            })
            .take(24)
            .collect();
        let plain = if plain.is_empty() {
            "PIECE".to_owned()
        } else {
            plain
        };
        let mut name = plain.clone();
        let mut number = 2;
        while names.contains(&name) {
            name = format!("{plain}_{number}");
            number += 1;
        }
        names.push(name);
    }
    names
}

/// The file as it grows.
#[derive(Default)]
struct Out {
    words: String,
    handle: u32,
}

impl Out {
    fn pair(&mut self, code: i32, value: &str) {
        // Writing to a text never fails.
        let _ = writeln!(self.words, "{code}");
        for letter in value.chars() {
            match letter {
                ' '..='~' => self.words.push(letter),
                control if control.is_control() => self.words.push(' '),
                other => {
                    let mut units = [0; 2];
                    for unit in other.encode_utf16(&mut units) {
                        let _ = write!(self.words, "\\U+{unit:04X}");
                    }
                }
            }
        }
        self.words.push('\n');
    }

    fn figure(&mut self, code: i32, value: f64) {
        let words = format!("{value:.6}");
        let words = words.trim_end_matches('0');
        let words = if words.ends_with('.') {
            format!("{words}0")
        } else {
            words.to_owned()
        };
        self.pair(code, if words == "-0.0" { "0.0" } else { &words });
    }

    fn point(&mut self, code: i32, at: Point) {
        self.figure(code, at.x);
        self.figure(code + 10, at.y);
        self.figure(code + 20, 0.0);
    }

    fn new_handle(&mut self) {
        self.handle += 1;
        let handle = format!("{:X}", self.handle);
        self.pair(5, &handle);
    }

    fn entity(&mut self, kind: &str, layer: u16) {
        self.pair(0, kind);
        self.new_handle();
        self.pair(8, &layer.to_string());
    }

    fn section(&mut self, name: &str, fill: impl FnOnce(&mut Self)) {
        self.pair(0, "SECTION");
        self.pair(2, name);
        fill(self);
        self.pair(0, "ENDSEC");
    }

    fn table(&mut self, name: &str, count: usize, fill: impl FnOnce(&mut Self)) {
        self.pair(0, "TABLE");
        self.pair(2, name);
        self.pair(70, &count.to_string());
        fill(self);
        self.pair(0, "ENDTAB");
    }
}

fn header(out: &mut Out, pieces: &[DxfPiece], places: &[Vec2]) {
    let drawn = pieces
        .iter()
        .zip(places)
        .map(|(piece, at)| piece.bounds() + *at)
        .reduce(|a, b| a.union(b))
        .unwrap_or_default();
    out.pair(9, "$ACADVER");
    out.pair(1, "AC1009");
    out.pair(9, "$DWGCODEPAGE");
    out.pair(3, "ANSI_1252");
    for (name, at) in [
        ("$INSBASE", Point::ZERO),
        ("$EXTMIN", drawn.origin()),
        ("$EXTMAX", Point::new(drawn.x1, drawn.y1)),
    ] {
        out.pair(9, name);
        out.point(10, at);
    }
    // 4 is mm. R12 did not know these two, those who read it later do.
    for (name, value) in [
        ("$INSUNITS", "4"),
        ("$MEASUREMENT", "1"),
        ("$HANDLING", "1"),
    ] {
        out.pair(9, name);
        out.pair(70, value);
    }
    out.pair(9, "$HANDSEED");
    out.pair(5, &format!("{:X}", out.handle + 1));
}

fn tables(out: &mut Out) {
    out.table("LTYPE", 1, |out| {
        out.pair(0, "LTYPE");
        out.pair(2, "CONTINUOUS");
        out.pair(70, "0");
        out.pair(3, "Solid line");
        out.pair(72, "65");
        out.pair(73, "0");
        out.figure(40, 0.0);
    });
    out.table("LAYER", layers::NAMES.len() + 1, |out| {
        let numbered = layers::NAMES.iter().map(|(number, _)| *number);
        for (colour, number) in (1..).zip(std::iter::once(0).chain(numbered)) {
            out.pair(0, "LAYER");
            out.pair(2, &number.to_string());
            out.pair(70, "0");
            // Seven colours are named; 7 is black on paper.
            let colour: usize = if number == 0 { 7 } else { colour % 7 + 1 };
            out.pair(62, &colour.to_string());
            out.pair(6, "CONTINUOUS");
        }
    });
    out.table("STYLE", 1, |out| {
        out.pair(0, "STYLE");
        out.pair(2, "STANDARD");
        out.pair(70, "0");
        out.figure(40, 0.0);
        out.figure(41, 1.0);
        out.figure(50, 0.0);
        out.pair(71, "0");
        out.figure(42, 2.5);
        out.pair(3, "txt");
        out.pair(4, "");
    });
    out.table("APPID", 1, |out| {
        out.pair(0, "APPID");
        out.pair(2, "ACAD");
        out.pair(70, "0");
    });
}

fn block(out: &mut Out, piece: &DxfPiece, name: &str) {
    out.entity("BLOCK", layers::OUTLINE);
    out.pair(2, name);
    out.pair(70, "0");
    out.point(10, Point::ZERO);
    out.pair(3, name);
    out.pair(1, "");
    for line in &piece.lines {
        drawn(out, line);
    }
    for point in &piece.points {
        out.entity("POINT", point.layer);
        out.point(10, point.at);
        if let Some(to) = point.to {
            // Depth and direction of a notch (from memory of the practice).
            let inwards = to - point.at;
            out.figure(39, inwards.hypot());
            let turn = -libm::atan2(inwards.y, inwards.x).to_degrees();
            out.figure(50, turn.rem_euclid(360.0));
        }
    }
    let mut has_name = false;
    for words in &piece.texts {
        has_name |= words.words.starts_with(PIECE_NAME);
        text(out, words.layer, words.at, words.height, &words.words);
    }
    if !has_name {
        let words = format!("{PIECE_NAME}{}", piece.name);
        text(out, layers::OUTLINE, piece.bounds().center(), 2.0, &words);
    }
    out.entity("ENDBLK", layers::OUTLINE);
}

/// What stands before the name of a piece (from memory of the practice).
pub(super) const PIECE_NAME: &str = "PIECE NAME: ";

fn text(out: &mut Out, layer: u16, at: Point, height: f64, words: &str) {
    out.entity("TEXT", layer);
    out.point(10, at);
    out.figure(40, height);
    out.pair(1, words);
}

/// A line as LINE or POLYLINE; the corners and curve points of polylines as points of their own.
fn drawn(out: &mut Out, line: &DxfLine) {
    for (chords, is_closed) in chords(&line.path) {
        if let ([from, to], false) = (chords.as_slice(), is_closed) {
            out.entity("LINE", line.layer);
            out.point(10, from.at);
            out.point(11, to.at);
            continue;
        }
        out.entity("POLYLINE", line.layer);
        out.pair(66, "1");
        out.point(10, Point::ZERO);
        out.pair(70, if is_closed { "1" } else { "0" });
        for chord in &chords {
            out.entity("VERTEX", line.layer);
            out.point(10, chord.at);
        }
        out.entity("SEQEND", line.layer);
        for Chord { at, is_turn } in chords {
            let layer = if is_turn {
                layers::TURN_POINTS
            } else {
                layers::CURVE_POINTS
            };
            out.entity("POINT", layer);
            out.point(10, at);
        }
    }
}
