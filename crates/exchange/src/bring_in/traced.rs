//! What was traced in a picture, as a drawing: so that it goes the same way as every other.

use petitoile_core::kurbo::{BezPath, Rect, Shape};

use super::{FoundDrawing, FoundLine, FoundSheet, Kind, Left, Meaning, Scale};
use crate::photo::{Traced, Trust};

/// Width in which traced lines are drawn, mm.
const WIDTH: f64 = 0.3;

/// Outlines traced in a picture as one sheet of closed lines; holes are cut out of them. An outline that cannot be trusted
/// is drawn all the same, and told in [`FoundDrawing::left`].
pub fn traced_drawing(traced: &[Traced], file: &str) -> FoundDrawing {
    let mut sheet = FoundSheet {
        name: file.to_owned(),
        ..FoundSheet::default()
    };
    for one in traced {
        sheet.lines.push(line(&one.outline, None));
        let holes = one.holes.iter();
        sheet
            .lines
            .extend(holes.map(|hole| line(&hole.outline, Some(Meaning::CutOut))));
    }
    let bounds = sheet.lines.iter().map(|line| line.path.bounding_box());
    sheet.bounds = bounds.reduce(|a, b| a.union(b)).unwrap_or(Rect::ZERO);
    FoundDrawing {
        file: file.to_owned(),
        kind: Kind::Picture,
        scale: Scale::Taken("from something of known size in the picture".to_owned()),
        sheets: vec![sheet],
        left: traced.iter().enumerate().filter_map(doubt).collect(),
    }
}

fn line(path: &BezPath, meaning: Option<Meaning>) -> FoundLine {
    FoundLine {
        path: path.clone(),
        closed: true,
        layer: String::new(),
        groups: Vec::new(),
        colour: [0, 0, 0],
        width: WIDTH,
        dash: Vec::new(),
        filled: false,
        meaning,
    }
}

fn doubt((number, traced): (usize, &Traced)) -> Option<Left> {
    let number = number + 1;
    let what = match traced.trust {
        Trust::Good => return None,
        Trust::Look => format!("outline {number}: parts of its edge could not be made out"),
        Trust::TooLittleContrast => {
            format!("outline {number}: too little contrast to the table, it cannot be trusted")
        }
    };
    Some(Left {
        what,
        advice: "Look it over, or take the picture again on a ground of another colour.".to_owned(),
    })
}
