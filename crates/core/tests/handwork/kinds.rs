//! Every kind of hand work, by the names that stand in a saved step.

use super::*;

/// Every kind of hand work there is.
pub(super) const KINDS: [&str; 63] = [
    "MoveEdge",
    "MoveCorner",
    "LengthenAt",
    "Shape/MovePoints",
    "Shape/MoveStretch",
    "Shape/Redraw",
    "Shape/Straighten",
    "Shape/Smooth",
    "Shape/AddPoint",
    "Shape/RemovePoint",
    "Shape/SplitEdge",
    "Shape/JoinEdges",
    "Shape/RenameEdge",
    "Shape/SetLength",
    "Shape/Lengthen",
    "Shape/Spread",
    "Shape/Widen",
    "Shape/Raise",
    "Shape/Mirror",
    "Shape/Turn",
    "Shape/TurnToGrain",
    "Shape/OpenOut",
    "Dart/Add",
    "Dart/Pivot",
    "Dart/Divide",
    "Dart/Move",
    "Dart/MoveTip",
    "Dart/Press",
    "Dart/ToGathers",
    "Dart/ToEase",
    "Dart/Remove",
    "Mark/AddNotch",
    "Mark/SetNotch",
    "Mark/RemoveNotch",
    "Mark/SetGrain",
    "Mark/AddMark",
    "Mark/SetMark",
    "Mark/RemoveMark",
    "Mark/SetCopies",
    "Mark/SetFinish",
    "Mark/SetBodyLine",
    "Mark/RemoveBodyLine",
    "Mark/SetFace",
    "Mark/SetPlacement",
    "Fullness",
    "Pieces/Add",
    "Pieces/Remove",
    "Pieces/Rename",
    "Pieces/Cut",
    "Pieces/Join",
    "Pieces/Facing",
    "Pieces/Lining",
    "Pieces/Gusset",
    "Pieces/Binding",
    "Seam/Sew",
    "Seam/Unpick",
    "Seam/Rename",
    "Seam/SetRelation",
    "Seam/SetKind",
    "Seam/MatchNotch",
    "Seam/MoveLine",
    "Seam/True",
    "Seam/Distinguish",
];

/// Which of [`KINDS`] a change is: its names as they stand in a saved step.
pub(super) fn kind_of(alteration: &Alteration) -> String {
    let name = |value: &serde_json::Value| match value {
        serde_json::Value::String(name) => Some(name.clone()),
        serde_json::Value::Object(map) => map.keys().next().cloned(),
        _ => None,
    };
    let saved = serde_json::to_value(alteration).unwrap();
    let group = name(&saved).unwrap();
    let inner = saved.get(&group).unwrap();
    match group.as_str() {
        "Shape" | "Dart" | "Mark" => format!("{group}/{}", name(&inner["change"]).unwrap()),
        "Pieces" | "Seam" => format!("{group}/{}", name(inner).unwrap()),
        _ => group,
    }
}

/// The hand work in an edit.
pub(super) fn alteration_of(edit: &Edit) -> Option<&Alteration> {
    match edit {
        Edit::Alter { alteration, .. }
        | Edit::Fitting {
            change:
                FittingEdit::AddAlteration(alteration) | FittingEdit::SetAlteration(_, alteration),
            ..
        } => Some(alteration),
        _ => None,
    }
}

/// How often each kind was made on a garment.
pub(super) type Taken = BTreeMap<String, usize>;
