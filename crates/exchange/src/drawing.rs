//! The one neutral drawing that readers make and writers take: lines, fills and texts in mm, on named layers.

use petitoile_core::kurbo::{BezPath, Point, Rect};

/// Strokes, fills and texts. Lengths in mm, y up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// What it shows.
    pub title: String,
    /// Painted in this order.
    pub items: Vec<Item>,
}

/// One thing in a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its layer.
    pub layer: Layer,
    /// What is painted.
    pub ink: Ink,
}

/// Layers a maker can switch on and off in a viewer. Each has its own stroke and colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Fine indigo stroke.
    StitchLines,
    /// Heavier madder stroke.
    CutLines,
    /// Folds, hems, grain arrows, notches, dots.
    Marks,
    /// Names, counts, instructions.
    Text,
    /// Page borders, join marks, rulers, test squares, page map.
    Page,
}

/// What is painted.
#[derive(Debug, Clone, PartialEq)]
pub enum Ink {
    /// A line.
    Stroke {
        /// Where.
        path: BezPath,
        /// How thick, mm.
        width: f64,
        /// Dash and gap, mm; empty is solid.
        dash: Vec<f64>,
    },
    /// A filled area.
    Fill(BezPath),
    /// A line of text.
    Text {
        /// Left end of the base line, or its middle when `centred`.
        at: Point,
        /// Height of a capital letter times 1.4, mm.
        size: f64,
        /// Turned counter-clockwise, degrees.
        turn: f64,
        /// Is `at` the middle of the line?
        centred: bool,
        /// The words.
        words: String,
    },
}

/// Drawings of all pieces of one garment, each in its own place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    /// Garment and body.
    pub title: String,
    /// One drawing per piece, in the piece's own coordinates.
    pub pieces: Vec<PieceDrawing>,
}

/// One piece ready to be put on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceDrawing {
    /// Name of the piece.
    pub name: String,
    /// Everything that must be printed, inside this rectangle.
    pub bounds: Rect,
    /// The drawing.
    pub drawing: Drawing,
}
