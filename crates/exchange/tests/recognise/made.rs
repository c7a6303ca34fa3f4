//! Sheets for recognising, made of our own drawings: every name of a layer and every meaning taken off.

use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::LengthUnit;
use petitoile_core::adapt::adapt;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::fill;
use petitoile_core::kurbo::{Affine, BezPath, PathEl, Rect, Shape, Vec2};
use petitoile_exchange::bring_in::{FoundLine, FoundSheet, FoundText};
use petitoile_exchange::drawing::{Drawing, Ink};
use petitoile_exchange::sheet::{one_drawing, sheet};
use petitoile_exchange::{font, project_file};

/// The demo projects.
pub const PROJECTS: [&str; 4] = [
    "harbour-jacket.ron",
    "net-menders-smock.ron",
    "sunday-skirts.ron",
    "sunday-on-the-quay.ron",
];

/// The first fitting of every garment in a demo project, finished.
pub fn finished(file: &str) -> Vec<Finished> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-projects")
        .join(file);
    let project = project_file::read(&std::fs::read(path).unwrap()).unwrap();
    let mut seen: Vec<String> = Vec::new();
    let mut all = Vec::new();
    for fitting in &project.fittings {
        if seen.contains(&fitting.garment) {
            continue;
        }
        seen.push(fitting.garment.clone());
        let adapted = Arc::new(adapt(&project, &fitting.name).unwrap());
        let filled = Arc::new(fill(&adapted).outcome);
        all.push(finish(&filled).outcome);
    }
    all
}

/// The whole sheet of a garment as one found drawing.
pub fn found(finished: &Finished) -> FoundSheet {
    of_drawing(&one_drawing(&sheet(finished, LengthUnit::Millimetre)))
}

/// A drawing of ours as a reader would hand it over: sub-path by sub-path, without meanings and without layers.
pub fn of_drawing(drawing: &Drawing) -> FoundSheet {
    let mut found = FoundSheet {
        name: "sheet".to_owned(),
        bounds: drawing.bounds().unwrap_or(Rect::ZERO),
        ..FoundSheet::default()
    };
    for item in &drawing.items {
        match &item.ink {
            Ink::Stroke { path, width, dash } => {
                found.lines.extend(
                    subpaths(path)
                        .into_iter()
                        .map(|p| line(p, item.layer.colour(), *width, dash.clone(), false)),
                );
            }
            Ink::Fill(path) => {
                found.lines.extend(
                    subpaths(path)
                        .into_iter()
                        .map(|p| line(p, item.layer.colour(), 0.0, Vec::new(), true)),
                );
            }
            Ink::Text {
                at,
                size,
                turn,
                centred,
                words,
            } => {
                let along = Vec2::from_angle(turn.to_radians());
                let left = if *centred {
                    *at - along * (font::width(words, *size) / 2.0)
                } else {
                    *at
                };
                found.texts.push(FoundText {
                    at: left,
                    size: *size,
                    turn: *turn,
                    words: words.clone(),
                    layer: String::new(),
                    groups: vec![],
                    meaning: None,
                });
            }
        }
    }
    found
}

fn line(path: BezPath, colour: [u8; 3], width: f64, dash: Vec<f64>, filled: bool) -> FoundLine {
    let closed = matches!(path.elements().last(), Some(PathEl::ClosePath)) || filled;
    FoundLine {
        path,
        closed,
        layer: String::new(),
        groups: vec![],
        colour,
        width,
        dash,
        filled,
        meaning: None,
    }
}

/// A path, one for each of its moves.
pub fn subpaths(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    for el in path.elements() {
        if matches!(el, PathEl::MoveTo(_)) || all.is_empty() {
            all.push(BezPath::new());
        }
        all.last_mut().unwrap().push(*el);
    }
    all.retain(|p| p.segments().next().is_some());
    all
}

/// The same sheet moved as a whole.
pub fn moved(sheet: &FoundSheet, by: Affine) -> FoundSheet {
    let [a, b, ..] = by.as_coeffs();
    let turn = b.atan2(a).to_degrees();
    let mut moved = sheet.clone();
    for line in &mut moved.lines {
        line.path = by * line.path.clone();
    }
    for text in &mut moved.texts {
        text.at = by * text.at;
        text.turn += turn;
    }
    for point in &mut moved.points {
        point.at = by * point.at;
    }
    moved.bounds = moved
        .lines
        .iter()
        .map(|l| l.path.bounding_box())
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    moved
}
