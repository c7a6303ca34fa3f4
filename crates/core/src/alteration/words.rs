//! What an alteration is called: in the undo list with the maker's unit, in findings in mm.

use super::{Alteration, DartChange, ShapeChange};
use crate::units::{LengthUnit, Mm};

impl Alteration {
    /// What the undo step is called, lengths in `unit`.
    pub fn words(&self, unit: LengthUnit) -> String {
        let how = |by: &Mm, more: &str, less: &str| {
            format!(
                "{} {}",
                unit.show(Mm(by.0.abs())),
                if by.0 < 0.0 { less } else { more }
            )
        };
        match self {
            Self::MoveEdge { edge, outwards } => format!("{edge}: {}", how(outwards, "out", "in")),
            Self::MoveCorner { edge, right, up } => format!(
                "{edge}: corner {}, {}",
                how(right, "right", "left"),
                how(up, "up", "down")
            ),
            Self::LengthenAt { piece, level, by } => format!(
                "{piece}: {} at {}",
                how(by, "longer", "shorter"),
                level.label().to_lowercase()
            ),
            Self::Shape { piece, change } => format!("{piece}: {}", change.words(unit)),
            Self::Dart { piece, change } => format!("{piece}: {}", change.words(unit)),
            Self::Mark { piece, change } => format!("{piece}: {}", change.words(unit)),
            Self::Fullness { piece, fullness } => match fullness.len() {
                0 => format!("{piece}: no fullness"),
                1 => format!("{piece}: fullness on 1 edge"),
                many => format!("{piece}: fullness at {many} places"),
            },
            Self::Pieces(change) => change.words(unit),
            Self::Seam(change) => change.words(unit),
        }
    }
}

impl std::fmt::Display for Alteration {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::MoveEdge { edge, outwards } => {
                write!(f, "moving {} by {:.1} mm", edge.edge, outwards.0)
            }
            Self::MoveCorner { edge, right, up } => {
                write!(
                    f,
                    "moving the corner at the start of {} by {:.1} mm right and {:.1} mm up",
                    edge.edge, right.0, up.0
                )
            }
            Self::LengthenAt { level, by, .. } => write!(
                f,
                "lengthening at the {} line by {:.1} mm",
                format!("{level:?}").to_lowercase(),
                by.0
            ),
            other => write!(f, "\u{201c}{}\u{201d}", other.words(LengthUnit::Millimetre)),
        }
    }
}

impl ShapeChange {
    fn words(&self, _unit: LengthUnit) -> String {
        match self {
            Self::MovePoints { .. } => "move points",
            Self::MoveStretch { .. } => "move a stretch",
            Self::Redraw { .. } => "draw an edge anew",
            Self::Straighten { .. } => "straighten",
            Self::Smooth { .. } => "smooth a join",
            Self::AddPoint { .. } => "add a point",
            Self::RemovePoint { .. } => "take a point out",
            Self::SplitEdge { .. } => "split an edge",
            Self::JoinEdges { .. } => "join edges",
            Self::RenameEdge { .. } => "rename an edge",
            Self::SetLength { .. } => "set a length",
            Self::Lengthen { .. } => "lengthen",
            Self::Spread { .. } => "slash and spread",
            Self::Widen { .. } => "add width",
            Self::Mirror { .. } => "mirror",
            Self::Turn { .. } => "turn",
            Self::TurnToGrain => "turn to grain",
            Self::OpenOut => "open out",
        }
        .to_owned()
    }
}

impl DartChange {
    fn words(&self, _unit: LengthUnit) -> String {
        "change a dart".to_owned()
    }
}
