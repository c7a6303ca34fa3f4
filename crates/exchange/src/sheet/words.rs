//! What the label of a piece says, in the trade's words.

use std::collections::BTreeMap;

use petitoile_core::edge::Finish;
use petitoile_core::finish::{Finished, FinishedPiece};
use petitoile_core::piece::{Face, Piece, Role, Side};
use petitoile_core::{LengthUnit, Mm};

use super::{folds, gathers, openings};
use crate::font::TIED;

/// What stands on a piece.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Label {
    /// "3 of 8".
    pub number: String,
    /// Name of the piece.
    pub name: String,
    /// The rest, one matter per entry, the most needful first.
    pub lines: Vec<String>,
}

const ROLES: [(Role, &str); 4] = [
    (Role::Shell, "shell"),
    (Role::Lining, "lining"),
    (Role::Interlining, "interlining"),
    (Role::FlatLined, "flat lining"),
];

/// Everything the label of a piece says.
pub(crate) fn label(
    finished: &Finished,
    number: usize,
    piece: &FinishedPiece,
    unit: LengthUnit,
) -> Label {
    let adapted = &finished.filled.adapted;
    let mut lines = vec![cut(&piece.piece)];
    lines.extend(cloth(finished, &piece.piece));
    lines.push(allowance(piece, unit));
    lines.extend(openings::words(piece, unit));
    lines.extend(drawn_in(finished, piece, unit));
    lines.extend(folds::told(finished, &piece.piece.name, unit));
    lines.push(right_side(&piece.piece).into());
    lines.push("grain along the arrow".into());
    lines.push(format!(
        "{} for {}",
        adapted.garment.name, adapted.fitting.body.name
    ));
    let number = format!("{number} of {}", finished.pieces.len());
    Label {
        number: tied(&number),
        name: piece.piece.name.clone(),
        lines: lines.iter().map(|line| tied(line)).collect(),
    }
}

/// Figures stay with what they count: no line is broken after a figure.
fn tied(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    let mut last = "";
    for word in words.split(' ') {
        if !out.is_empty() {
            let figure = last.trim_start_matches('(');
            let is_figure =
                figure.starts_with(|c: char| c.is_ascii_digit()) && !figure.ends_with([',', ';']);
            out.push(if is_figure { TIED } else { ' ' });
        }
        out.push_str(word);
        last = word;
    }
    out
}

/// "cut 2 shell, 2 lining (1 left, 1 right)".
fn cut(piece: &Piece) -> String {
    let mut counts = Vec::new();
    for (role, name) in ROLES {
        let of = |side| {
            piece
                .copies
                .iter()
                .filter(|copy| copy.role == role && copy.side == side)
                .count()
        };
        let (whole, left, right) = (of(Side::Whole), of(Side::Left), of(Side::Right));
        if whole + left + right > 0 {
            counts.push((
                format!("{} {name}", whole + left + right),
                sides(left, right),
            ));
        }
    }
    let alike = counts
        .windows(2)
        .all(|pair| matches!(pair, [a, b] if a.1 == b.1));
    let mut words: Vec<String> = Vec::new();
    let last = counts.len().saturating_sub(1);
    for (i, (count, sides)) in counts.into_iter().enumerate() {
        words.push(if sides.is_empty() || (alike && i < last) {
            count
        } else {
            format!("{count} ({sides})")
        });
    }
    let fold = piece
        .fold_edge()
        .map_or_else(String::new, |edge| format!(", {} on the fold", edge.name));
    if words.is_empty() {
        format!("cut none{fold}")
    } else {
        format!("cut {}{fold}", words.join(", "))
    }
}

fn sides(left: usize, right: usize) -> String {
    match (left, right) {
        (0, 0) => String::new(),
        (left, 0) => format!("{left} left"),
        (0, right) => format!("{right} right"),
        (left, right) => format!("{left} left, {right} right"),
    }
}

/// The cloth of every layer, where it is known; doll-size cloth before that of the source.
fn cloth(finished: &Finished, piece: &Piece) -> Option<String> {
    let adapted = &finished.filled.adapted;
    let known: Vec<(&str, &str)> = ROLES
        .into_iter()
        .filter(|(role, _)| piece.copies_in(*role) > 0)
        .filter_map(|(role, name)| {
            let cloth = adapted
                .fitting
                .cloths
                .get(&role)
                .or_else(|| adapted.made.cloths.get(&role))?;
            Some((name, cloth.name.as_str()))
        })
        .filter(|(_, cloth)| !cloth.is_empty())
        .collect();
    match known.as_slice() {
        [] => None,
        [(_, cloth)] => Some(format!("cloth: {cloth}")),
        several => Some(
            several
                .iter()
                .map(|(role, cloth)| format!("{role}: {cloth}"))
                .collect::<Vec<_>>()
                .join(", "),
        ),
    }
}

/// Which side of the cloth is up. The drawing is the right copy; a left one is its mirror image.
fn right_side(piece: &Piece) -> &'static str {
    let has = |side| piece.copies.iter().any(|copy| copy.side == side);
    let left = has(Side::Left);
    match (left, has(Side::Right) || has(Side::Whole), piece.face) {
        (true, true, Face::Right) => {
            "printed side is the right side; turn over for\u{a0}the\u{a0}left"
        }
        (true, true, Face::Wrong) => {
            "printed side is the wrong side; turn over for\u{a0}the\u{a0}left"
        }
        // One that is turned over shows its other side.
        (true, false, Face::Right) => "turn over: the blank side is the right side",
        (true, false, Face::Wrong) => "turn over: the blank side is the wrong side",
        (false, _, Face::Right) => "printed side is the right side",
        (false, _, Face::Wrong) => "printed side is the wrong side",
    }
}

/// "gather hem to 124.3 mm; ease cap back and cap front to 152 mm": what the maker draws in before she sews.
fn drawn_in(finished: &Finished, piece: &FinishedPiece, unit: LengthUnit) -> Option<String> {
    let words: Vec<String> = gathers::drawn_in(finished, piece)
        .iter()
        .map(|told| {
            let verb = if told.is_gathered { "gather" } else { "ease" };
            // Nobody gathers to less than a tenth of a millimetre.
            let to = Mm((told.to.0 * 10.0).round() / 10.0);
            let over = if told.is_over_fold {
                " from side to side"
            } else {
                ""
            };
            format!("{verb} {} to {}{over}", told.edges, unit.show_chosen(to))
        })
        .collect();
    (!words.is_empty()).then(|| words.join("; "))
}

/// A hem as the maker turns it: its finished width, and how often.
fn hem_words(total: f64, turns: u8, unit: LengthUnit) -> String {
    if turns < 2 {
        return unit.show_chosen(Mm(total));
    }
    format!("{} turned twice", unit.show_chosen(Mm(total / 2.0)))
}

/// "allowance 6.35 mm; hem 8 mm turned twice": the width of most of the outline, then what differs.
fn allowance(piece: &FinishedPiece, unit: LengthUnit) -> String {
    // What it is called, what is printed, how wide, how long.
    let edges: Vec<(String, String, f64, f64)> = piece
        .piece
        .outline
        .edges()
        .iter()
        .zip(&piece.allowances)
        .filter(|(edge, _)| !edge.is_fold() && !is_dart_leg(&piece.piece, &edge.name))
        .map(|(edge, width)| {
            let plain = unit.show_chosen(*width);
            let (name, printed) = match edge.finish_at(0.5) {
                Finish::Hem { turns, .. } => ("hem".to_owned(), hem_words(width.0, turns, unit)),
                Finish::Casing { .. } => ("casing".to_owned(), plain),
                Finish::Placket { .. } => ("placket".to_owned(), plain),
                Finish::Slit => ("slit".to_owned(), hem_words(width.0, 2, unit)),
                Finish::Seam
                | Finish::Facing
                | Finish::Raw
                | Finish::Fold
                | Finish::Selvedge
                | Finish::Open => (edge.name.clone(), plain),
            };
            (name, printed, width.0, edge.line.length())
        })
        .collect();
    // Widths are told apart by what is printed, so that rounding never lists one twice.
    let mut shares: BTreeMap<String, f64> = BTreeMap::new();
    for (_, printed, _, length) in &edges {
        *shares.entry(printed.clone()).or_default() += length;
    }
    let Some((usual, _)) = shares.iter().reduce(|a, b| if a.1 < b.1 { b } else { a }) else {
        return "no allowance".into();
    };
    let mut words = vec![format!("allowance {usual}")];
    for (name, printed, width, _) in &edges {
        let entry = if *width == 0.0 {
            format!("{name} none")
        } else {
            format!("{name} {printed}")
        };
        if printed != usual && !words.contains(&entry) {
            words.push(entry);
        }
    }
    if words.len() > 5 {
        let widths = || edges.iter().map(|e| e.2);
        let (least, most) = (
            widths().fold(f64::INFINITY, f64::min),
            widths().fold(0.0, f64::max),
        );
        return format!(
            "allowance {} to {}, as drawn",
            unit.show_chosen(Mm(least)),
            unit.show_chosen(Mm(most))
        );
    }
    words.join("; ")
}

/// A dart's legs lie inside the cloth: nothing is cut along them.
fn is_dart_leg(piece: &Piece, edge: &str) -> bool {
    piece
        .darts
        .iter()
        .any(|dart| dart.leg_in == edge || dart.leg_out == edge)
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;
    use petitoile_core::edge::Edge;
    use petitoile_core::geometry::curve::Line;
    use petitoile_core::geometry::outline::Outline;
    use petitoile_core::kurbo::Point;
    use petitoile_core::piece::{Copy, Frame, Placement};

    fn piece(copies: &[(Side, Role)]) -> Piece {
        let p = Point::new;
        let corners = [p(0.0, 0.0), p(40.0, 0.0), p(40.0, 60.0), p(0.0, 60.0)];
        let names = ["hem", "side", "top", "centre"];
        let edges = (0..4)
            .map(|i| Edge::seam(names[i], Line::straight(corners[i], corners[(i + 1) % 4])))
            .collect();
        Piece {
            name: "front".into(),
            outline: Outline::new(edges).unwrap(),
            placement: Placement::Framed(Frame::Torso),
            body_lines: vec![],
            darts: vec![],
            notches: vec![],
            marks: vec![],
            grainline: None,
            face: Default::default(),
            fullness: vec![],
            copies: copies
                .iter()
                .map(|(side, role)| Copy {
                    side: *side,
                    role: *role,
                })
                .collect(),
        }
    }

    #[test]
    fn cut_counts_name_every_layer_and_both_sides() {
        use Role::{Interlining, Lining, Shell};
        use Side::{Left, Right, Whole};
        let words = |copies: &[(Side, Role)]| cut(&piece(copies));
        assert_eq!(words(&[(Whole, Shell)]), "cut 1 shell");
        assert_eq!(
            words(&[
                (Right, Shell),
                (Left, Shell),
                (Right, Lining),
                (Left, Lining)
            ]),
            "cut 2 shell, 2 lining (1 left, 1 right)"
        );
        assert_eq!(
            words(&[(Right, Shell), (Left, Shell), (Right, Lining)]),
            "cut 2 shell (1 left, 1 right), 1 lining (1 right)"
        );
        assert_eq!(
            words(&[(Whole, Shell), (Whole, Shell), (Whole, Interlining)]),
            "cut 2 shell, 1 interlining"
        );
    }

    #[test]
    fn the_right_side_of_a_mirrored_pair_is_told() {
        assert_eq!(
            right_side(&piece(&[(Side::Left, Role::Shell)])),
            "turn over: the blank side is the right side"
        );
        assert!(
            right_side(&piece(&[
                (Side::Left, Role::Shell),
                (Side::Right, Role::Shell)
            ]))
            .ends_with("turn over for\u{a0}the\u{a0}left")
        );
    }

    #[test]
    fn figures_stay_with_what_they_count() {
        let spaced = tied("cut 2 shell, 2 lining (1 left, 1 right)").replace(TIED, "_");
        assert_eq!(spaced, "cut 2_shell, 2_lining (1_left, 1_right)");
        assert_eq!(
            tied("allowance 2 3/4 in; hem 1 in").replace(TIED, "_"),
            "allowance 2_3/4_in; hem 1_in"
        );
    }

    #[test]
    fn lengths_read_as_a_maker_says_them() {
        let inch = |mm| LengthUnit::Inch.show_chosen(Mm(mm));
        assert_eq!(
            [inch(6.35), inch(15.875), inch(69.85), inch(0.0)],
            ["1/4 in", "5/8 in", "2 3/4 in", "0 in"]
        );
        assert_eq!(LengthUnit::Millimetre.show_chosen(Mm(6.35)), "6.35 mm");
        assert_eq!(LengthUnit::Millimetre.show_chosen(Mm(16.0)), "16 mm");
        assert_eq!(LengthUnit::Centimetre.show_chosen(Mm(16.0)), "1.6 cm");
        assert_eq!(LengthUnit::Millimetre.show_chosen(Mm(100.0)), "100 mm");
    }
}
