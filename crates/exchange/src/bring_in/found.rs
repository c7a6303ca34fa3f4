//! What a reader found in a file: lines, texts and points, in mm, y up, with everything the file says about them.
//!
//! Unlike our own [`crate::drawing::Drawing`], which has our five layers, this one keeps the layers, colours and dashes of
//! whoever drew it, because they tell sizes and kinds of lines apart.

use petitoile_core::kurbo::{BezPath, Point, Rect};

/// What a reader found in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundDrawing {
    /// Name of the file, for messages.
    pub file: String,
    /// What kind of file it was.
    pub kind: Kind,
    /// Does the file say how long a mm is?
    pub scale: Scale,
    /// Its pages in their order; SVG and DXF have one.
    pub sheets: Vec<FoundSheet>,
    /// What was in the file and is not in here: nothing is dropped without a word.
    pub left: Vec<Left>,
}

impl FoundDrawing {
    /// This drawing with the sheets of another file after its own: several files of one garment.
    ///
    /// What both files left out stays said. A picture beside a drawing is a drawing too: its scale can be checked.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        if self.kind == Kind::Picture {
            self.kind = other.kind;
            self.scale = other.scale;
        }
        self.sheets.extend(other.sheets);
        self.left.extend(other.left);
        self
    }
}

/// One page, or the whole of a drawing without pages.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct FoundSheet {
    /// "page 3", or the file's own word.
    pub name: String,
    /// The page's own edge, where it has one, else the bounds of what is drawn.
    pub bounds: Rect,
    /// Every line, one unbroken stretch each.
    pub lines: Vec<FoundLine>,
    /// Every text.
    pub texts: Vec<FoundText>,
    /// Points that the file marks as such (notches and holes of a DXF).
    pub points: Vec<FoundPoint>,
}

/// One unbroken line: one sub-path, from one `move` to the next.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundLine {
    /// Where, mm.
    pub path: BezPath,
    /// Does the file close it? (A line may also come back to its start without being closed.)
    pub closed: bool,
    /// Its layer in the file; empty when it has none.
    pub layer: String,
    /// Group or block it belongs to, outermost first: often the name of the piece.
    pub groups: Vec<String>,
    /// Red, green, blue of the stroke (of the filling when there is no stroke).
    pub colour: [u8; 3],
    /// Width of the stroke, mm; 0 where only filled.
    pub width: f64,
    /// Dash and gap, mm; empty is solid.
    pub dash: Vec<f64>,
    /// Is it filled?
    pub filled: bool,
    /// What the file itself says it is, by an open standard.
    pub meaning: Option<Meaning>,
}

/// A line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundText {
    /// Left end of its base line, mm.
    pub at: Point,
    /// Height of its letters (the em), mm.
    pub size: f64,
    /// Turned counter-clockwise, degrees.
    pub turn: f64,
    /// The words.
    pub words: String,
    /// Its layer in the file.
    pub layer: String,
    /// Group or block it belongs to, outermost first.
    pub groups: Vec<String>,
    /// What the file itself says it is.
    pub meaning: Option<Meaning>,
}

/// A point that the file marks as such.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundPoint {
    /// Where, mm.
    pub at: Point,
    /// Its layer in the file.
    pub layer: String,
    /// Group or block it belongs to, outermost first.
    pub groups: Vec<String>,
    /// What the file itself says it is.
    pub meaning: Option<Meaning>,
}

/// What a file says a line, text or point is (an open standard's layers, or our own layer names coming in again).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Meaning {
    /// The outline along which the cloth is cut.
    CutLine,
    /// The line that is sewn.
    StitchLine,
    /// The line of symmetry: cut on the fold, or opened out along it.
    Fold,
    /// The warp.
    Grain,
    /// A match mark on the outline.
    Notch,
    /// Drawn inside and not cut.
    Inside,
    /// Cut inside the piece.
    CutOut,
    /// A punched mark inside the piece: a dot.
    Hole,
    /// A corner of an outline.
    Corner,
    /// A point of a curve.
    OnCurve,
    /// What the piece is called, how often it is cut, of which cloth.
    PieceText,
    /// Other words.
    Words,
    /// For stripes, checks or grading: no part of the piece.
    Reference,
}

/// Kind of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// SVG (W3C).
    Svg,
    /// DXF, text form.
    Dxf,
    /// PDF (ISO 32000).
    Pdf,
    /// PNG or JPEG.
    Picture,
}

/// Does a file say how long a mm is?
#[derive(Debug, Clone, PartialEq)]
pub enum Scale {
    /// Yes: it gives real lengths.
    Given,
    /// No: this was taken, for this reason; check it against something you can measure.
    Taken(String),
}

/// Something in a file that is not in the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    /// What and where: "page 2: a picture at 40, 120 mm".
    pub what: String,
    /// What to do about it, if anything.
    pub advice: String,
}

impl Kind {
    /// The kind of a file by its first bytes.
    pub fn of(bytes: &[u8]) -> Option<Self> {
        let start = bytes.get(..bytes.len().min(2048)).unwrap_or_default();
        let has = |word: &[u8]| start.windows(word.len()).any(|at| at == word);
        // An XML file may begin with a long comment or many entities.
        let head = bytes.get(..bytes.len().min(1 << 16)).unwrap_or_default();
        let is_xml =
            start.trim_ascii_start().starts_with(b"<") || start.starts_with(b"\xef\xbb\xbf<");
        let is_svg = has(b"<svg")
            || has(b"<!DOCTYPE svg")
            || (is_xml && head.windows(4).any(|at| at == b"<svg"));
        let is_wide = start.starts_with(b"\xff\xfe<\0") || start.starts_with(b"\xfe\xff\0<");
        if start.starts_with(b"\x89PNG") || start.starts_with(&[0xff, 0xd8]) {
            Some(Self::Picture)
        } else if has(b"%PDF-") {
            Some(Self::Pdf)
        } else if is_svg || is_wide || start.starts_with(&[0x1f, 0x8b]) {
            Some(Self::Svg)
        } else if start.starts_with(b"AutoCAD Binary DXF") || has(b"SECTION") {
            Some(Self::Dxf)
        } else {
            None
        }
    }
}
