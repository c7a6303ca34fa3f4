//! What an alteration is called: in the undo list with the maker's unit, in findings in mm.

use super::{Alteration, Axis, DartChange, HingeEnd, ShapeChange, Spreading};
use crate::edge::OutlinePoint;
use crate::piece::DartPress;
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
            Self::Fullness { piece, fullness } if fullness.is_empty() => {
                format!("{piece}: no fullness")
            }
            Self::Fullness { piece, fullness } => {
                let all: Vec<String> = fullness.iter().map(|op| op.words(unit)).collect();
                format!("{piece}, {}", all.join("; "))
            }
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
                level.label().to_lowercase(),
                by.0
            ),
            other => write!(f, "\u{201c}{}\u{201d}", other.words(LengthUnit::Millimetre)),
        }
    }
}

/// "4 mm right, 1 mm up"; what is 0 is left out.
fn way(right: Mm, up: Mm, unit: LengthUnit) -> String {
    let part = |by: Mm, more: &str, less: &str| {
        (by.0 != 0.0).then(|| {
            let word = if by.0 < 0.0 { less } else { more };
            format!("{} {word}", unit.show(Mm(by.0.abs())))
        })
    };
    let parts = [part(right, "right", "left"), part(up, "up", "down")];
    let words: Vec<String> = parts.into_iter().flatten().collect();
    if words.is_empty() {
        "not moved".to_owned()
    } else {
        words.join(", ")
    }
}

/// "4 mm wider", "4 mm narrower".
fn more(by: Mm, more: &str, less: &str, unit: LengthUnit) -> String {
    let word = if by.0 < 0.0 { less } else { more };
    format!("{} {word}", unit.show(Mm(by.0.abs())))
}

/// "25 %".
fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}

fn at(place: &OutlinePoint) -> String {
    format!("{} at {}", place.edge, percent(place.fraction))
}

impl ShapeChange {
    fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::MovePoints {
                points, right, up, ..
            } => match points.as_slice() {
                [one] => format!("point of {} {}", one.edge, way(*right, *up, unit)),
                many => format!("{} points {}", many.len(), way(*right, *up, unit)),
            },
            Self::MoveStretch {
                from,
                to,
                right,
                up,
            } => {
                format!("{} to {} {}", at(from), at(to), way(*right, *up, unit))
            }
            Self::Redraw { edge, line } => {
                format!("{edge} drawn anew, {}", unit.show(Mm(line.length())))
            }
            Self::Straighten { edge } => format!("{edge} straight"),
            Self::Smooth { point } => format!("smooth join at {}", point.edge),
            Self::AddPoint { at: place } => format!("point put into {}", at(place)),
            Self::RemovePoint { point } => format!("point taken out of {}", point.edge),
            Self::SplitEdge { at: place, name } => format!("{} split, {name}", at(place)),
            Self::JoinEdges { edge } => format!("{edge} joined to the next edge"),
            Self::RenameEdge { edge, name } => format!("call {edge} {name}"),
            Self::SetLength { edge, length } => format!("{edge} {}", unit.show(*length)),
            Self::Lengthen { from, to, by } => format!(
                "{} between {} and {}",
                more(*by, "longer", "shorter", unit),
                from.edge,
                to.edge
            ),
            Self::Spread { from, to, by, how } => spread(&from.edge, &to.edge, *by, *how, unit),
            Self::Widen {
                edge,
                at_start,
                at_end,
            } => format!(
                "{edge} {} at its start, {} at its end",
                more(*at_start, "out", "in", unit),
                more(*at_end, "out", "in", unit)
            ),
            Self::Raise { edge, by } => {
                let most = by
                    .iter()
                    .copied()
                    .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()))
                    .unwrap_or_default();
                let how = if most.0 < 0.0 { "lowered" } else { "raised" };
                format!("{edge} {how} by up to {}", unit.show(Mm(most.0.abs())))
            }
            Self::Mirror {
                axis: Axis::Upright,
            } => "mirrored, left to right".to_owned(),
            Self::Mirror { axis: Axis::Level } => "mirrored, top to bottom".to_owned(),
            Self::Turn { by } => format!(
                "turned {:.1} degrees {}",
                by.0.abs(),
                if by.0 < 0.0 { "right" } else { "left" }
            ),
            Self::TurnToGrain => "turned to its grain".to_owned(),
            Self::OpenOut => "opened out".to_owned(),
        }
    }
}

fn spread(from: &str, to: &str, by: Mm, how: Spreading, unit: LengthUnit) -> String {
    let word = if by.0 < 0.0 { "lapped" } else { "spread" };
    let size = unit.show(Mm(by.0.abs()));
    match how {
        Spreading::Even => format!("{word} {size} evenly from {from} to {to}"),
        Spreading::Hinged(HingeEnd::To) => format!("{word} {size} at {from}, hinged at {to}"),
        Spreading::Hinged(HingeEnd::From) => format!("{word} {size} at {to}, hinged at {from}"),
    }
}

impl DartChange {
    fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::Add {
                dart,
                at: place,
                width,
                ..
            } => {
                format!("{dart}, {} wide, at {}", unit.show(*width), at(place))
            }
            Self::Pivot {
                dart,
                to,
                share,
                name,
            } => {
                let part = if *share >= 1.0 {
                    String::new()
                } else {
                    format!("{} of ", percent(*share))
                };
                let named = if name == dart {
                    String::new()
                } else {
                    format!(" as {name}")
                };
                format!("{part}{dart} turned to {}{named}", at(to))
            }
            Self::Divide { dart, into, apart } => {
                format!("{dart} in {into}, {} apart", unit.show(*apart))
            }
            Self::Move { dart, along } => {
                format!("{dart} {}", more(*along, "onward", "back", unit))
            }
            Self::MoveTip { dart, right, up } => {
                format!("tip of {dart} {}", way(*right, *up, unit))
            }
            Self::Press {
                dart,
                to: DartPress::Before,
            } => format!("{dart} pressed to the edge before it"),
            Self::Press {
                dart,
                to: DartPress::After,
            } => format!("{dart} pressed to the edge after it"),
            Self::ToGathers { dart } => format!("{dart} made into gathers"),
            Self::ToEase { dart } => format!("{dart} eased in"),
            Self::Remove { dart } => format!("{dart} taken out"),
        }
    }
}
