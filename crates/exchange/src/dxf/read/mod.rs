//! Reads DXF, text form: our own small reader of group codes, for what pieces are drawn with.
//!
//! Steps: pairs to records (`pairs`), what stands before the drawing (`tables`), the drawing with every insertion drawn out
//! (`draw`), its unit (`units`), and for files of the apparel practice what everything is (`pieces`). No count that a file
//! claims is believed: nothing is set aside for it, everything is counted as it comes.

mod colour;
mod curves;
mod draw;
mod lines;
mod pairs;
mod pieces;
mod tables;
mod units;
mod words;

use petitoile_core::kurbo::{Affine, PathEl, Point, Rect, Shape};

use self::draw::Draw;
use self::tables::Tables;
use crate::bring_in::{BringInError, FoundDrawing, FoundSheet, Kind, Limits, Tally, Watch};

/// Reads a DXF.
///
/// Arcs come out within a millionth of their radius, splines within a millionth of their size; splines up to degree 3
/// without weights lose nothing. Height above the plane is not read.
///
/// # Errors
/// [`BringInError`]: binary, broken, beyond a limit, stopped, or nothing drawn in it.
pub fn read(
    bytes: &[u8],
    name: &str,
    limits: &Limits,
    watch: &Watch<'_>,
) -> Result<FoundDrawing, BringInError> {
    limits.admit(bytes, name)?;
    if bytes.starts_with(b"AutoCAD Binary DXF") {
        return Err(BringInError::NotRead {
            file: name.to_owned(),
            what: "a binary DXF".to_owned(),
            remedy: "save it as a text DXF".to_owned(),
        });
    }
    let text = text(bytes);
    watch.at(0.1, name)?;
    let records = pairs::records(&text, limits, name)?;
    let mut left = Tally::default();
    let tables = Tables::of(&records, &mut left);
    watch.at(0.3, name)?;
    let mut draw = Draw::new(&records, &tables, limits, watch, name, left);
    draw.all()?;
    let (mut sheet, mut left) = (draw.sheet, draw.left);
    if !tables.has_end {
        left.add(
            "the end of the file: it has no end mark and may have been cut off",
            "save it anew where it was made",
            String::new,
        );
    }
    let (mm, scale) = units::unit(tables.head, &sheet);
    scaled(&mut sheet, mm, limits, &mut left);
    if sheet.lines.is_empty() && sheet.texts.is_empty() && sheet.points.is_empty() {
        return Err(BringInError::Empty {
            file: name.to_owned(),
        });
    }
    if pieces::is_of_practice(&sheet) {
        pieces::tell(&mut sheet);
    }
    sheet.bounds = bounds(&sheet);
    watch.at(1.0, name)?;
    Ok(FoundDrawing {
        file: name.to_owned(),
        kind: Kind::Dxf,
        scale,
        sheets: vec![sheet],
        left: left.into_left(),
    })
}

/// The letters of a file: UTF-8, else the old western code page.
fn text(bytes: &[u8]) -> String {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.to_owned(),
        Err(_) => bytes.iter().map(|byte| char::from(*byte)).collect(),
    };
    // Old systems ended lines with a carriage return alone.
    if text.contains('\n') {
        text
    } else {
        text.replace('\r', "\n")
    }
}

/// Makes mm of units of the file; what lies too far out goes.
fn scaled(sheet: &mut FoundSheet, mm: f64, limits: &Limits, left: &mut Tally) {
    let to = Affine::scale(mm);
    let reach = limits.reach as f64;
    let is_near = |at: Point| at.x.abs() <= reach && at.y.abs() <= reach;
    let mut far = 0;
    sheet.lines.retain_mut(|line| {
        line.path = to * std::mem::take(&mut line.path);
        for part in &mut line.dash {
            *part *= mm;
        }
        let keep = line.path.elements().iter().all(|element| match *element {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => is_near(p),
            PathEl::QuadTo(a, p) => is_near(a) && is_near(p),
            PathEl::CurveTo(a, b, p) => is_near(a) && is_near(b) && is_near(p),
            PathEl::ClosePath => true,
        });
        far += u64::from(!keep);
        keep
    });
    sheet.texts.retain_mut(|text| {
        text.at = to * text.at;
        text.size *= mm;
        let keep = is_near(text.at) && text.size.is_finite() && text.turn.is_finite();
        far += u64::from(!keep);
        keep
    });
    sheet.points.retain_mut(|point| {
        point.at = to * point.at;
        let keep = is_near(point.at);
        far += u64::from(!keep);
        keep
    });
    if 0 < far {
        let metres = limits.reach / 1000;
        left.add_times(
            &format!("something further out than {metres} m"),
            far,
            "look whether a number in the file is wrong",
            String::new,
        );
    }
}

fn bounds(sheet: &FoundSheet) -> Rect {
    let lines = sheet.lines.iter().map(|line| line.path.bounding_box());
    let points = sheet.points.iter().map(|point| point.at);
    let texts = sheet.texts.iter().map(|text| text.at);
    let single = points.chain(texts).map(|at| Rect::from_points(at, at));
    lines
        .chain(single)
        .reduce(|a, b| a.union(b))
        .unwrap_or_default()
}
