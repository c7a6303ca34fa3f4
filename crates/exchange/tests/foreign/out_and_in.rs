//! What goes out comes in again: every piece of every demo project as SVG and as DXF.

use petitoile_core::LengthUnit;
use petitoile_core::kurbo::{
    Affine, BezPath, ParamCurve, ParamCurveNearest, PathEl, PathSeg, Point, Rect, Shape, Vec2,
};
use petitoile_exchange::bring_in::{
    FoundDrawing, FoundLine, FoundText, Limits, Meaning, Scale, Watch, read,
};
use petitoile_exchange::drawing::{Drawing, Ink, Item, Layer};
use petitoile_exchange::dxf;
use petitoile_exchange::dxf::piece::DxfPiece;
use petitoile_exchange::{font, sheet, svg};

use crate::made::GARMENTS;

fn found(bytes: &[u8]) -> FoundDrawing {
    read(bytes, "ours", &Limits::default(), &Watch::default()).unwrap()
}

/// The unbroken stretches of a path.
fn stretches(path: &BezPath) -> Vec<BezPath> {
    let mut all: Vec<BezPath> = Vec::new();
    for element in path.elements() {
        if matches!(element, PathEl::MoveTo(_)) {
            all.push(BezPath::new());
        }
        all.last_mut().unwrap().push(*element);
    }
    all
}

fn points(path: &BezPath) -> Vec<Point> {
    path.elements()
        .iter()
        .flat_map(|element| match *element {
            PathEl::MoveTo(p) | PathEl::LineTo(p) => vec![p],
            PathEl::QuadTo(a, p) => vec![a, p],
            PathEl::CurveTo(a, b, p) => vec![a, b, p],
            PathEl::ClosePath => vec![],
        })
        .collect()
}

/// In the order in which they are written: layer by layer.
fn in_order(drawing: &Drawing) -> Vec<&Item> {
    Layer::ALL
        .iter()
        .flat_map(|layer| {
            drawing
                .items
                .iter()
                .filter(move |item| item.layer == *layer)
        })
        .collect()
}

fn check_line(item: &Item, path: &BezPath, line: &FoundLine, move_by: Affine) {
    let (is, truth) = (points(&(move_by * line.path.clone())), points(path));
    assert_eq!(is.len(), truth.len(), "{path:?} is {line:?}");
    for (a, b) in is.iter().zip(&truth) {
        assert!(a.distance(*b) < 0.001, "{a:?} is not {b:?}");
    }
    let meaning = match item.layer {
        Layer::CutLines => Some(Meaning::CutLine),
        Layer::StitchLines => Some(Meaning::StitchLine),
        Layer::Marks => None,
        Layer::Text | Layer::Page => Some(Meaning::Reference),
    };
    assert_eq!((line.meaning, line.colour), (meaning, item.layer.colour()));
    assert_eq!(line.layer, svg::id(item.layer));
    match &item.ink {
        Ink::Stroke { width, dash, .. } => {
            assert!((line.width - width).abs() < 1e-3 && !line.filled);
            assert_eq!(line.dash.len(), dash.len());
            for (is, truth) in line.dash.iter().zip(dash) {
                assert!((is - truth).abs() < 1e-3);
            }
        }
        Ink::Fill(_) => assert!(line.filled),
        Ink::Text { .. } => panic!("no line"),
    }
}

fn check_text(item: &Item, text: &FoundText, move_by: Affine) {
    let Ink::Text {
        at,
        size,
        turn,
        centred,
        words,
    } = &item.ink
    else {
        panic!("no text")
    };
    let plain = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(plain(&text.words), plain(words));
    assert!((text.size - font::em(*size)).abs() < 0.001);
    let turned = (text.turn - turn + 540.0).rem_euclid(360.0) - 180.0;
    assert!(turned.abs() < 0.01, "{} is not {turn}", text.turn);
    let back = if *centred {
        font::width(words, *size) / 2.0
    } else {
        0.0
    };
    let start = *at - Vec2::from_angle(turn.to_radians()) * back;
    // Kerning moves a centred text a little.
    let off = (move_by * text.at).distance(start);
    assert!(off < if *centred { 0.5 } else { 0.01 }, "{words}: {off}");
}

#[test]
fn every_piece_comes_in_again_from_svg() {
    let mut pieces = 0;
    for finished in GARMENTS.iter() {
        for piece in &sheet::sheet(finished, LengthUnit::Millimetre).pieces {
            let found = found(svg::write(&piece.drawing).as_bytes());
            assert_eq!(found.scale, Scale::Given);
            assert_eq!(found.left, [], "{}", piece.name);
            let again = &found.sheets[0];
            assert_eq!(again.name, piece.drawing.title);
            let bounds = piece.drawing.bounds().unwrap().inflate(5.0, 5.0);
            let move_by = Affine::translate(bounds.origin().to_vec2());
            let (mut lines, mut texts) = (again.lines.iter(), again.texts.iter());
            for item in in_order(&piece.drawing) {
                match &item.ink {
                    Ink::Stroke { path, .. } | Ink::Fill(path) => {
                        for part in stretches(path) {
                            check_line(item, &part, lines.next().unwrap(), move_by);
                        }
                    }
                    Ink::Text { .. } => check_text(item, texts.next().unwrap(), move_by),
                }
            }
            assert!(lines.next().is_none() && texts.next().is_none());
            pieces += 1;
        }
    }
    assert!(30 <= pieces, "{pieces}");
}

/// Largest distance of points along one path from the other.
fn off(from: &BezPath, to: &BezPath) -> f64 {
    let parts: Vec<(Rect, PathSeg)> = to
        .segments()
        .map(|part| (part.bounding_box().inflate(0.02, 0.02), part))
        .collect();
    let mut worst: f64 = 0.0;
    for part in from.segments() {
        for i in 0..4 {
            let at = part.eval(f64::from(i) / 4.0);
            let near = parts
                .iter()
                .filter(|(around, _)| around.contains(at))
                .map(|(_, other)| other.nearest(at, 1e-4).distance_sq.sqrt())
                .fold(f64::INFINITY, f64::min);
            worst = worst.max(near);
        }
    }
    worst
}

/// A piece that was written and what was found of it.
fn check_piece(piece: &DxfPiece, found: &FoundDrawing) -> f64 {
    let sheet = &found.sheets[0];
    let mine = |groups: &[String]| groups == [piece.name.clone()];
    let lines: Vec<&FoundLine> = sheet
        .lines
        .iter()
        .filter(|line| mine(&line.groups))
        .collect();
    let truth: Vec<(u16, BezPath)> = piece
        .lines
        .iter()
        .flat_map(|line| {
            stretches(&line.path)
                .into_iter()
                .map(|part| (line.layer, part))
        })
        .collect();
    assert_eq!(lines.len(), truth.len(), "{}", piece.name);
    let move_by = truth[0].1.bounding_box().origin() - lines[0].path.bounding_box().origin();
    let mut worst: f64 = 0.0;
    for ((layer, truth), line) in truth.iter().zip(&lines) {
        assert_eq!(line.meaning, dxf::layers::of_line(*layer));
        let moved = Affine::translate(move_by) * line.path.clone();
        worst = worst.max(off(&moved, truth)).max(off(truth, &moved));
    }
    let points: Vec<_> = sheet
        .points
        .iter()
        .filter(|point| mine(&point.groups))
        .filter(|point| matches!(point.meaning, Some(Meaning::Notch | Meaning::Hole)))
        .collect();
    assert_eq!(points.len(), piece.points.len());
    for (is, truth) in points.iter().zip(&piece.points) {
        assert_eq!(is.meaning, dxf::layers::of_point(truth.layer));
        worst = worst.max((is.at + move_by).distance(truth.at));
    }
    let texts: Vec<&str> = sheet
        .texts
        .iter()
        .filter(|text| mine(&text.groups))
        .map(|text| text.words.as_str())
        .collect();
    let truth: Vec<&str> = piece.texts.iter().map(|text| text.words.trim()).collect();
    assert_eq!(texts, truth);
    worst
}

#[test]
fn every_piece_comes_in_again_from_dxf() {
    let mut worst: f64 = 0.0;
    for finished in GARMENTS.iter() {
        let pieces = dxf::piece::pieces(finished, LengthUnit::Millimetre);
        let title = &finished.filled.adapted.garment.name;
        let text = dxf::write::write(title, "a doll", &pieces);
        assert!(text.is_ascii());
        let found = found(text.as_bytes());
        assert_eq!(found.scale, Scale::Given);
        assert_eq!(found.left, []);
        for piece in &pieces {
            let off = check_piece(piece, &found);
            assert!(off < 0.01, "{title}, {}: {off} mm", piece.name);
            worst = worst.max(off);
        }
    }
    assert!(worst < 0.01, "{worst}");
}

#[test]
fn names_of_any_letters_come_in_again_from_dxf() {
    let named = |name: &str| DxfPiece {
        name: name.to_owned(),
        lines: vec![dxf::piece::DxfLine {
            layer: 1,
            path: Rect::new(0.0, 0.0, 30.0, 20.0).to_path(0.1),
        }],
        ..DxfPiece::default()
    };
    let names = [
        "Ärmel, \u{4e2d} \u{1f9f5}",
        "Ärmel/2",
        "Ärmel 2",
        "",
        "Very long name of a facing of the left front",
    ];
    let pieces: Vec<DxfPiece> = names.map(named).to_vec();
    let found = found(dxf::write::write("Jacke", "Puppe", &pieces).as_bytes());
    let again: Vec<&str> = found.sheets[0]
        .lines
        .iter()
        .map(|line| line.groups[0].as_str())
        .collect();
    assert_eq!(again[..3], names[..3]);
    assert_eq!(again[3..], ["PIECE", names[4]]);
}
