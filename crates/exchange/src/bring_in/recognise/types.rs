//! What recognising takes and gives: choices, pieces, guesses, and what is in no piece.

use petitoile_core::Mm;
use petitoile_core::kurbo::{Point, Rect};
use petitoile_core::notch::NotchKind;
use petitoile_core::piece::{Copy, Piece};

/// What the maker has chosen and put right. The same sheet with the same choices always gives the same outcome.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Choices {
    /// Which of several nested sizes, by its [`FoundSize::name`]; `None` takes the smallest.
    pub size: Option<String>,
    /// What a piece drawn with one line only shows, where the sheet does not say; `None` takes the stitch line.
    pub one_line: Option<OneLine>,
    /// The allowance in outlines of which only the cut line is drawn, where the sheet does not say; `None` takes
    /// [`ALLOWANCE`].
    pub allowance: Option<Mm>,
    /// Corrections, in the order they were made: a later one goes before an earlier one.
    pub corrections: Vec<Correction>,
}

/// Allowance taken for a single cut line when nobody tells one: 10 mm (common practice, no source).
pub const ALLOWANCE: Mm = Mm(10.0);

/// What the only outline of a piece is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OneLine {
    /// The cut line: its allowance is included and has to be taken off.
    Cut,
    /// The stitch line: the piece is finished as drawn.
    Stitch,
}

/// Something on the sheet, by its place in the sheet's lists.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Thing {
    /// A line.
    Line(usize),
    /// A text.
    Text(usize),
    /// A point.
    Point(usize),
}

/// A piece, by the first line of its outer outline: it stays the same while guesses are put right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct PieceId(pub usize);

/// What something on the sheet is taken for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// Part of the line along which a piece is cut.
    CutLine,
    /// Part of the line that is sewn.
    StitchLine,
    /// A fold on the outline.
    FoldEdge,
    /// The grainline.
    Grain,
    /// A notch of so many strokes.
    Notch(NotchKind),
    /// A dot.
    Dot,
    /// A round hole with a rim.
    Eyelet,
    /// A buttonhole.
    Buttonhole,
    /// A line along which the cloth is folded, inside the piece.
    FoldMark,
    /// A line that is sewn, inside the piece.
    StitchMark,
    /// A line to place something on.
    Placement,
    /// The piece's name.
    Name,
    /// How often and of what it is cut.
    CutCount,
    /// Other words, kept on the piece.
    Words,
    /// No part of any piece.
    NoPart,
}

/// A guess put right.
#[derive(Debug, Clone, PartialEq)]
pub enum Correction {
    /// A line, text or point is something else than was taken.
    Is {
        /// Which.
        thing: Thing,
        /// What it is.
        taken: Taken,
    },
    /// The piece's name.
    Name {
        /// Which piece.
        piece: PieceId,
        /// Its name; made unique when another piece has it.
        name: String,
    },
    /// The copies that are cut.
    Copies {
        /// Which piece.
        piece: PieceId,
        /// Every copy.
        copies: Vec<Copy>,
    },
    /// The edge on which the cloth is folded, by its place in the outline; `None`: it is not cut on a fold.
    Fold {
        /// Which piece.
        piece: PieceId,
        /// Which edge.
        edge: Option<usize>,
    },
    /// An edge is a hem, or is not.
    Hem {
        /// Which piece.
        piece: PieceId,
        /// Which edge, by its place in the outline.
        edge: usize,
        /// Is it?
        is_hem: bool,
    },
    /// The only outline of a piece is its cut or its stitch line.
    OneLine {
        /// Which piece.
        piece: PieceId,
        /// What it is.
        is: OneLine,
    },
    /// The allowance of an edge that is included in the only outline.
    Allowance {
        /// Which piece.
        piece: PieceId,
        /// Which edge, by its place in the outline; `None`: all that are no fold.
        edge: Option<usize>,
        /// How wide.
        width: Mm,
    },
    /// A V in the outline is a dart, or just corners.
    Dart {
        /// Which piece.
        piece: PieceId,
        /// The edge from its mouth to its point, by its place in the outline.
        leg: usize,
        /// Is it?
        is_dart: bool,
    },
    /// A V cut into a closed line is a notch, or part of the outline.
    Cut {
        /// Which line.
        line: usize,
        /// Which V along it.
        number: usize,
        /// Is it a notch?
        is_notch: bool,
    },
    /// A closed line that was left out is a piece, or one that was taken for a piece is none.
    IsPiece {
        /// Which closed line.
        piece: PieceId,
        /// Is it?
        is_piece: bool,
    },
}

/// What was made of a sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Recognised {
    /// The pieces, in the order of their names on the sheet: top row first, then from the left.
    pub pieces: Vec<RecognisedPiece>,
    /// Sizes told apart, smallest first; empty when there is one only.
    pub sizes: Vec<FoundSize>,
    /// The size the pieces are of, where there are several.
    pub size: Option<String>,
    /// Every guess with its doubt, piece by piece.
    pub guesses: Vec<Guess>,
    /// Every line, text and point that is in no piece.
    pub left: Vec<LeftOver>,
}

/// A piece that was recognised.
#[derive(Debug, Clone, PartialEq)]
pub struct RecognisedPiece {
    /// By which corrections name it.
    pub id: PieceId,
    /// The piece, lying where it lies on the sheet.
    pub piece: Piece,
    /// Which of its lines were drawn.
    pub drawn: Drawn,
    /// The allowance of every edge, in order.
    pub allowances: Vec<FoundAllowance>,
    /// Where it lies on the sheet.
    pub at: Rect,
    /// How far to turn it counter-clockwise, degrees, for its words or its grain to stand upright; `None` when nothing
    /// tells.
    pub upright: Option<f64>,
    /// What it was made of.
    pub made_of: Vec<Thing>,
}

/// Which outlines of a piece were drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawn {
    /// Both: allowances are measured.
    Both,
    /// The cut line only: [`RecognisedPiece::piece`] has it for its outline, the allowances are still to be taken off.
    CutOnly,
    /// The stitch line only.
    StitchOnly,
}

/// The allowance along an edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FoundAllowance {
    /// How wide.
    pub width: Mm,
    /// By how much it varies along the edge.
    pub spread: Mm,
    /// Was it measured between two lines?
    pub measured: bool,
}

/// One of several sizes drawn on top of each other.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundSize {
    /// Its label on the sheet, else "size 1" from the smallest.
    pub name: String,
    /// What tells it: "dash 3 and 1 mm", "colour 196, 72, 64", "layer Size 10".
    pub told_by: String,
    /// How many outlines of this size there are.
    pub outlines: usize,
}

/// A guess, with its doubt.
#[derive(Debug, Clone, PartialEq)]
pub struct Guess {
    /// The same as long as the same thing is guessed of the same part of the sheet.
    pub id: String,
    /// Which piece it is about.
    pub piece: Option<PieceId>,
    /// What sort of guess.
    pub kind: GuessKind,
    /// Where on the sheet.
    pub at: Point,
    /// What was guessed, in the maker's words.
    pub words: String,
    /// What it rests on, with its figure.
    pub rests_on: String,
    /// 0 to 1; 1 where the file or the maker says so.
    pub certainty: f64,
    /// What else it may be.
    pub alternatives: Vec<Alternative>,
}

/// What else a guess may be.
#[derive(Debug, Clone, PartialEq)]
pub struct Alternative {
    /// In the maker's words: "it is the cut line".
    pub words: String,
    /// The correction that makes it so.
    pub correction: Correction,
}

/// Sorts of guesses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum GuessKind {
    /// A closed line is a piece.
    Outline,
    /// Ends that do not meet are joined.
    Gap,
    /// An inner line is the stitch line; the allowances.
    Allowance,
    /// The only line is the stitch or the cut line.
    OneLine,
    /// An edge lies on a fold.
    Fold,
    /// An edge is a hem.
    Hem,
    /// A notch.
    Notch,
    /// A dart.
    Dart,
    /// The grainline.
    Grain,
    /// A dot, an eyelet or a buttonhole.
    Dot,
    /// A line inside a piece.
    Inside,
    /// A piece's name.
    Name,
    /// How often it is cut.
    CutCount,
    /// Sizes told apart.
    Sizes,
    /// Words that are kept on a piece, or said nothing that is known here.
    Words,
}

/// Something on the sheet that is in no piece.
#[derive(Debug, Clone, PartialEq)]
pub struct LeftOver {
    /// Which.
    pub thing: Thing,
    /// What it is taken for: "test square of 50 mm", "a line of 34 mm".
    pub what: String,
    /// Where on the sheet.
    pub at: Rect,
}

impl GuessKind {
    /// Its name.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Outline => "outline",
            Self::Gap => "gap",
            Self::Allowance => "allowance",
            Self::OneLine => "one line",
            Self::Fold => "fold",
            Self::Hem => "hem",
            Self::Notch => "notch",
            Self::Dart => "dart",
            Self::Grain => "grain",
            Self::Dot => "dot",
            Self::Inside => "inner line",
            Self::Name => "name",
            Self::CutCount => "cut count",
            Self::Sizes => "sizes",
            Self::Words => "words",
        }
    }
}

impl Choices {
    /// What the maker says a thing is, if anything: the last word counts.
    pub(super) fn taken(&self, thing: Thing) -> Option<Taken> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Is { thing: of, taken } if *of == thing => Some(*taken),
            _ => None,
        })
    }

    /// Does the maker say that this closed line is a piece, or none?
    pub(super) fn is_piece(&self, id: PieceId) -> Option<bool> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::IsPiece { piece, is_piece } if *piece == id => Some(*is_piece),
            _ => None,
        })
    }

    /// What the maker calls the piece.
    pub(super) fn name(&self, id: PieceId) -> Option<&str> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Name { piece, name } if *piece == id => Some(name.as_str()),
            _ => None,
        })
    }

    /// Which copies the maker wants.
    pub(super) fn copies(&self, id: PieceId) -> Option<&[Copy]> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Copies { piece, copies } if *piece == id => Some(copies.as_slice()),
            _ => None,
        })
    }

    /// Which edge the maker says is the fold.
    pub(super) fn fold(&self, id: PieceId) -> Option<Option<usize>> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Fold { piece, edge } if *piece == id => Some(*edge),
            _ => None,
        })
    }

    /// Whether the maker says that an edge is a hem.
    pub(super) fn hem(&self, id: PieceId, at: usize) -> Option<bool> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Hem {
                piece,
                edge,
                is_hem,
            } if *piece == id && *edge == at => Some(*is_hem),
            _ => None,
        })
    }

    /// What the maker says the only outline is.
    pub(super) fn one_line(&self, id: PieceId) -> Option<OneLine> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::OneLine { piece, is } if *piece == id => Some(*is),
            _ => None,
        })
    }

    /// The allowance the maker gives an edge.
    pub(super) fn allowance(&self, id: PieceId, at: usize) -> Option<Mm> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Allowance { piece, edge, width }
                if *piece == id && edge.is_none_or(|e| e == at) =>
            {
                Some(*width)
            }
            _ => None,
        })
    }

    /// Whether the maker says that a V cut into a line is a notch.
    pub(super) fn cut(&self, of: usize, at: usize) -> Option<bool> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Cut {
                line,
                number,
                is_notch,
            } if *line == of && *number == at => Some(*is_notch),
            _ => None,
        })
    }

    /// Whether the maker says that a V is a dart.
    pub(super) fn dart(&self, id: PieceId, at: usize) -> Option<bool> {
        self.corrections.iter().rev().find_map(|c| match c {
            Correction::Dart {
                piece,
                leg,
                is_dart,
            } if *piece == id && *leg == at => Some(*is_dart),
            _ => None,
        })
    }
}
