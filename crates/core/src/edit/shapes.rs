//! What a piece, a seam or a tape line may bring in: places on edges, counts, sizes.

use super::EditError;
use super::limits::{HEMS, THICKNESS, length, number};
use crate::edge::{Edge, Finish, OutlinePoint};
use crate::fullness::{Fullness, FullnessOp, Layout};
use crate::geometry::curve::Line;
use crate::piece::{Mark, Piece};
use crate::seams::{Relation, Seam};
use crate::tape::{TapeLine, TapePath};
use crate::units::Mm;

/// Where a piece may be drawn, mm: 100 m either way.
const TABLE: f64 = 100_000.0;
/// Copies cut of one piece.
const COPIES: f64 = 200.0;
/// Width of a channel, diameter of an eyelet.
const MARKS: (f64, f64) = (0.1, 500.0);
/// Folds, tucks or pleats on one edge.
const FOLDS: f64 = 2_000.0;

/// A piece whose points, places and sizes make sense.
pub(super) fn piece(piece: &Piece) -> Result<(), EditError> {
    let name = &piece.name;
    copies(name, piece.copies.len())?;
    piece
        .outline
        .edges()
        .iter()
        .try_for_each(|e| edge(name, e))?;
    for line in &piece.body_lines {
        place(name, &line.from)?;
        place(name, &line.to)?;
    }
    for notch in &piece.notches {
        fraction(
            &format!("{name}, {}: the place of a notch", notch.edge),
            notch.fraction,
        )?;
    }
    piece.marks.iter().try_for_each(|m| mark(name, m))?;
    for p in piece.grainline.iter().flat_map(|(a, b)| [*a, *b]) {
        point(&format!("{name}: a mark"), p)?;
    }
    piece.fullness.iter().try_for_each(|op| fullness(name, op))
}

/// How many copies are cut of a piece.
pub(super) fn copies(piece: &str, count: usize) -> Result<(), EditError> {
    number(
        format!("{piece}: the number of copies"),
        count as f64,
        1.0,
        COPIES,
    )
}

pub(super) fn mark(piece: &str, mark: &Mark) -> Result<(), EditError> {
    let of = format!("{piece}: the {} {}", mark.kind.noun(), mark.name);
    mark.kind
        .size()
        .map_or(Ok(()), |size| length(of, size, MARKS))?;
    let mut points = mark.kind.points().into_iter();
    points.try_for_each(|p| point(&format!("{piece}: a mark"), p))
}

pub(super) fn line(of: &str, line: &Line) -> Result<(), EditError> {
    line.points().iter().try_for_each(|p| point(of, *p))
}

fn edge(piece: &str, edge: &Edge) -> Result<(), EditError> {
    let of = format!("{piece}, {}", edge.name);
    line(&of, &edge.line)?;
    for stretch in &edge.finish {
        fraction(&format!("{of}: the start of a finish"), stretch.from)?;
        fraction(&format!("{of}: the end of a finish"), stretch.to)?;
        finish(&of, stretch.finish)?;
    }
    let own = edge.allowance;
    own.map_or(Ok(()), |w| {
        length(format!("the allowance of {of}"), w, HEMS)
    })
}

pub(super) fn finish(of: &str, finish: Finish) -> Result<(), EditError> {
    match finish {
        Finish::Hem { width, turns } => {
            number(
                format!("{of}: the turns of its hem"),
                f64::from(turns),
                1.0,
                2.0,
            )?;
            width.map_or(Ok(()), |w| length(format!("{of}: its hem"), w, HEMS))
        }
        Finish::Casing { width } => length(format!("{of}: its casing"), width, HEMS),
        Finish::Placket { width } => length(format!("{of}: its placket"), width, HEMS),
        Finish::Seam
        | Finish::Facing
        | Finish::Raw
        | Finish::Fold
        | Finish::Selvedge
        | Finish::Open
        | Finish::Slit => Ok(()),
    }
}

pub(super) fn fullness(piece: &str, op: &FullnessOp) -> Result<(), EditError> {
    let of = format!("{piece}, {}", op.edge);
    fraction(&format!("{of}: the start of its fullness"), op.from)?;
    fraction(&format!("{of}: the end of its fullness"), op.to)?;
    let folds = |count: u32, size: Mm| {
        number(
            format!("{of}: the number of folds"),
            f64::from(count),
            0.0,
            FOLDS,
        )?;
        length(format!("{of}: the size of a fold"), size, (0.0, 500.0))
    };
    let fuller = |ratio: f64| number(format!("{of}: the fullness"), ratio, 1.0, 20.0);
    laid(&of, &op.layout)?;
    match op.fullness {
        Fullness::Gathers { ratio } => fuller(ratio),
        Fullness::CartridgePleats { count, ratio } => {
            folds(count, Mm(1.0)).and_then(|()| fuller(ratio))
        }
        Fullness::Shirring { ratio, rows, apart } => {
            folds(rows, apart).and_then(|()| fuller(ratio))
        }
        Fullness::Ease { by } => length(format!("{of}: the ease"), by, (0.0, 1000.0)),
        Fullness::KnifePleats { count, depth }
        | Fullness::BoxPleats { count, depth, .. }
        | Fullness::DoubleBoxPleats { count, depth, .. } => folds(count, depth),
        Fullness::Tucks { count, width } => folds(count, width),
    }
}

/// A layout whose lengths and places make sense.
fn laid(of: &str, layout: &Layout) -> Result<(), EditError> {
    let groups = layout.groups.map(|g| g.gap);
    let panel = layout.plain.map(|p| p.width);
    let lengths = [
        layout.spacing,
        layout.margin,
        layout.top,
        groups,
        panel,
        layout.sewn_down,
    ];
    let keep_off = layout.keep_off.iter().map(|k| k.by);
    for size in lengths.into_iter().flatten().chain(keep_off) {
        length(format!("{of}: a length of its layout"), size, (0.0, TABLE))?;
    }
    for row in &layout.rows {
        length(format!("{of}: the place of a row"), *row, (-1000.0, 1000.0))?;
    }
    if let Some(groups) = layout.groups {
        number(
            format!("{of}: the pleats of a group"),
            f64::from(groups.each),
            1.0,
            FOLDS,
        )?;
    }
    let places = layout.keep_off.iter().map(|k| k.at);
    places
        .chain(layout.plain.map(|p| p.at))
        .try_for_each(|at| fraction(of, at))
}

/// A seam whose stretches lie on their edges.
pub(super) fn seam(seam: &Seam) -> Result<(), EditError> {
    for stretch in seam.a.iter().chain(&seam.b) {
        let of = format!(
            "seam {}: where it lies on {}, {}",
            seam.name, stretch.piece, stretch.edge
        );
        fraction(&of, stretch.from)?;
        fraction(&of, stretch.to)?;
    }
    for insert in &seam.inserts {
        let of = format!("seam {}: where {} lies", seam.name, insert.name);
        fraction(&of, insert.from)?;
        fraction(&of, insert.to)?;
        length(
            format!("seam {}: the thickness of {}", seam.name, insert.name),
            insert.thickness,
            THICKNESS,
        )?;
    }
    relation(&seam.name, seam.relation)
}

pub(super) fn relation(seam: &str, relation: Relation) -> Result<(), EditError> {
    match relation {
        Relation::Equal => Ok(()),
        Relation::Eased(by) => length(format!("seam {seam}: the ease"), by, (-1000.0, 1000.0)),
        Relation::Ratio(ratio) => number(format!("seam {seam}: the ratio"), ratio, 0.05, 20.0),
    }
}

/// A tape line that lies on its pieces and covers a sensible share of its measure.
pub(super) fn tape(tape: &TapeLine) -> Result<(), EditError> {
    let name = &tape.name;
    number(
        format!("tape line {name}: the share of its measure"),
        tape.share,
        0.001,
        10.0,
    )?;
    length(
        format!("tape line {name}: the overlap"),
        tape.overlap,
        (0.0, 1000.0),
    )?;
    length(
        format!("tape line {name}: the lacing gap"),
        tape.lacing_gap,
        (0.0, 1000.0),
    )?;
    for part in &tape.parts {
        match &part.path {
            TapePath::Along { edge, from, to } => {
                let of = format!("tape line {name}: where it lies on {}, {edge}", part.piece);
                fraction(&of, *from)?;
                fraction(&of, *to)?;
            }
            TapePath::Across(a, b) | TapePath::Upright(a, b) => {
                place(&part.piece, a)?;
                place(&part.piece, b)?;
            }
        }
    }
    Ok(())
}

fn place(piece: &str, at: &OutlinePoint) -> Result<(), EditError> {
    fraction(&format!("{piece}, {}: a place on it", at.edge), at.fraction)
}

/// A share of an edge; a last bit beyond its end does no harm.
pub(super) fn fraction(of: &str, value: f64) -> Result<(), EditError> {
    const HAIR: f64 = 1e-6;
    if (-HAIR..=1.0 + HAIR).contains(&value) {
        return Ok(());
    }
    number(of, value, 0.0, 1.0)
}

pub(super) fn point(of: &str, p: kurbo::Point) -> Result<(), EditError> {
    for value in [p.x, p.y] {
        length(format!("{of}: a point"), Mm(value), (-TABLE, TABLE))?;
    }
    Ok(())
}
