//! DXF made by an independent program, and by hand.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{Affine, ParamCurve, Point, Rect, Shape};
use petitoile_exchange::bring_in::{
    BringInError, FoundDrawing, Kind, Limits, Meaning, Scale, Watch, read,
};

/// `code\nvalue\n` for each pair.
pub fn pairs(list: &[(i32, &str)]) -> String {
    list.iter()
        .map(|(code, value)| format!("{code}\n{value}\n"))
        .collect()
}

/// A drawing with blocks and entities.
pub fn file(blocks: &str, entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn line(layer: &str, a: (f64, f64), b: (f64, f64)) -> String {
    format!(
        "0\nLINE\n8\n{layer}\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n",
        a.0, a.1, b.0, b.1
    )
}

fn try_read(text: &str) -> Result<FoundDrawing, BringInError> {
    // A twentieth of the usual budget: bombs burst sooner.
    let limits = Limits {
        elements: 100_000,
        ..Limits::default()
    };
    read(text.as_bytes(), "a.dxf", &limits, &Watch::default())
}

fn told(found: &FoundDrawing) -> String {
    found
        .left
        .iter()
        .map(|left| left.what.clone())
        .collect::<Vec<_>>()
        .join("\n")
}

fn sample(name: &str) -> FoundDrawing {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/samples/dxf")
        .join(name);
    read(
        &std::fs::read(path).unwrap(),
        name,
        &Limits::default(),
        &Watch::default(),
    )
    .unwrap()
}

fn bounds_by_layer(found: &FoundDrawing) -> BTreeMap<&str, Rect> {
    let mut all: BTreeMap<&str, Rect> = BTreeMap::new();
    for line in &found.sheets[0].lines {
        let bounds = line.path.bounding_box();
        all.entry(line.layer.as_str())
            .and_modify(|rect| *rect = rect.union(bounds))
            .or_insert(bounds);
    }
    all
}

#[test]
fn files_of_an_independent_program_come_in_true_to_size() {
    let expected = include_str!("../samples/dxf/expected.csv");
    let mut checked = 0;
    for (name, mm) in [
        ("r12.dxf", 1.0),
        ("r2000_mm.dxf", 1.0),
        ("r2010_inches.dxf", 25.4),
    ] {
        let found = sample(name);
        assert_eq!(found.kind, Kind::Dxf);
        let by_layer = bounds_by_layer(&found);
        for row in expected.lines().filter(|row| row.starts_with(name)) {
            let cells: Vec<&str> = row.split(',').collect();
            let truth: Vec<f64> = cells[2..]
                .iter()
                .map(|cell| cell.parse::<f64>().unwrap() * mm)
                .collect();
            let rect = by_layer
                .get(cells[1])
                .unwrap_or_else(|| panic!("{row}: nothing on the layer"));
            let is = [rect.x0, rect.y0, rect.x1, rect.y1];
            let off = is
                .iter()
                .zip(&truth)
                .map(|(a, b)| (a - b).abs())
                .fold(0.0, f64::max);
            assert!(off < 0.001, "{row}: {is:?} is {off} mm off");
            checked += 1;
        }
    }
    assert_eq!(checked, 14 + 2 * 21);
}

#[test]
fn blocks_in_pulled_blocks_are_sheared_as_matrices_say() {
    let placed = |x: f64, y: f64, turn: f64, sx: f64, sy: f64| {
        Affine::translate((x, y))
            * Affine::rotate(turn.to_radians())
            * Affine::scale_non_uniform(sx, sy)
    };
    let to = placed(-60.0, 10.0, 45.0, 1.2, 0.7)
        * placed(3.0, 4.0, 30.0, 2.0, 0.5)
        * Affine::translate((-5.0, 0.0));
    let found = sample("r2000_mm.dxf");
    let cuff = found.sheets[0]
        .lines
        .iter()
        .find(|line| line.layer == "sheared" && line.groups.len() == 2 && line.closed)
        .unwrap();
    let corners: Vec<Point> = cuff.path.segments().map(|part| part.start()).collect();
    for corner in [(5.0, 0.0), (45.0, 0.0), (45.0, 12.0), (5.0, 12.0)] {
        let truth = to * Point::from(corner);
        assert!(
            corners.iter().any(|is| is.distance(truth) < 1e-9),
            "{truth:?} in {corners:?}"
        );
    }
}

#[test]
fn their_units_colours_dashes_words_and_names_come_in_too() {
    let inches = sample("r2010_inches.dxf");
    assert_eq!(inches.scale, Scale::Given);
    assert_eq!(sample("r2000_mm.dxf").scale, Scale::Given);
    let old = sample("r12.dxf");
    assert!(matches!(&old.scale, Scale::Taken(why) if why.contains("no unit")));
    // R12 knows no scale of dashes.
    for (found, mm, dashes) in [(&inches, 25.4, 2.0 * 25.4), (&old, 1.0, 1.0)] {
        let sheet = &found.sheets[0];
        let on = |layer: &str| sheet.lines.iter().find(|line| line.layer == layer).unwrap();
        assert_eq!(on("dashed").colour, [255, 0, 0]);
        let dash = &on("dashed").dash;
        assert!((dash[0] - 3.0 * dashes).abs() < 1e-9 && (dash[1] - 1.5 * dashes).abs() < 1e-9);
        assert_eq!(on("nested").groups, ["sleeve", "cuff"]);
        assert!(on("solid").filled && on("solid").closed);
        let text = |layer: &str| sheet.texts.iter().find(|text| text.layer == layer).unwrap();
        assert_eq!(text("text").words, "Front 50\u{b0} \u{fc}");
        assert!(text("text").at.distance(Point::new(12.0 * mm, 13.0 * mm)) < 1e-6);
        assert!((text("text").turn - 30.0).abs() < 1e-6);
        assert!((text("text").size - 5.0 * mm / 0.729).abs() < 0.01 * mm);
        assert!(text("text_right").at.x < 45.0 * mm);
        assert!(sheet.texts.iter().any(|text| text.words == "Cuff left"));
        let point = sheet
            .points
            .iter()
            .find(|point| point.layer == "point")
            .unwrap();
        assert!(point.at.distance(Point::new(7.0 * mm, 8.0 * mm)) < 1e-9);
        assert!(told(found).contains("hidden layer \"hidden\""));
        assert!(!bounds_by_layer(found).contains_key("hidden"));
    }
    let sheet = &inches.sheets[0];
    let back: Vec<&str> = sheet
        .texts
        .iter()
        .filter(|text| text.layer == "mtext")
        .map(|text| text.words.as_str())
        .collect();
    assert_eq!(back, ["Back", "cut 1 on fold"]);
    let told = told(&inches);
    for kind in ["HATCH", "MLINE, which is not read", "hidden"] {
        assert!(told.contains(kind), "{kind} in:\n{told}");
    }
    let blue = sheet
        .lines
        .iter()
        .find(|line| line.layer == "true_colour")
        .unwrap();
    assert_eq!(blue.colour, [0x12, 0x34, 0x56]);
    // Only pins are given: the curve runs through them.
    let pinned = sheet
        .lines
        .iter()
        .find(|line| line.layer == "pinned")
        .unwrap();
    let middle = Point::new(254.0, 127.0);
    let near = pinned
        .path
        .segments()
        .map(|s| s.eval(1.0).distance(middle))
        .fold(f64::INFINITY, f64::min);
    assert!(near < 1e-6);
}

#[test]
fn units_are_read_or_guessed_and_the_guess_is_told() {
    let with_head = |head: &[(i32, &str)], long: f64| {
        let text = format!(
            "0\nSECTION\n2\nHEADER\n{}0\nENDSEC\n{}",
            pairs(head),
            file("", &line("a", (0.0, 0.0), (long, 0.0)))
        );
        let found = try_read(&text).unwrap();
        (found.sheets[0].bounds.width(), found.scale)
    };
    let given = |code: &str| with_head(&[(9, "$INSUNITS"), (70, code)], 2.0);
    assert_eq!(given("1"), (50.8, Scale::Given));
    assert_eq!(given("4"), (2.0, Scale::Given));
    assert_eq!(given("5"), (20.0, Scale::Given));
    assert_eq!(given("6"), (2000.0, Scale::Given));
    let (wide, scale) = with_head(&[(9, "$MEASUREMENT"), (70, "1")], 2.0);
    assert!(wide == 2.0 && matches!(scale, Scale::Taken(why) if why.contains("metric")));
    let (wide, scale) = with_head(&[], 10.0);
    assert!(
        (wide - 254.0).abs() < 1e-9 && matches!(scale, Scale::Taken(why) if why.contains("inch"))
    );
    let (wide, _) = with_head(&[], 300.0);
    assert!((wide - 300.0).abs() < 1e-9);
}

/// A piece of the practice: 100 by 50 mm, its right side an arc given by points.
fn practice() -> String {
    let mut outline: Vec<(f64, f64, i32)> = vec![(0.0, 0.0, 2), (100.0, 0.0, 2)];
    for i in 1..8 {
        let angle = f64::from(i) * std::f64::consts::PI / 8.0 - std::f64::consts::FRAC_PI_2;
        outline.push((100.0 + 25.0 * angle.cos(), 25.0 + 25.0 * angle.sin(), 3));
    }
    outline.extend([(100.0, 50.0, 2), (0.0, 50.0, 2)]);
    let mut block = pairs(&[
        (0, "BLOCK"),
        (8, "1"),
        (2, "FRONT"),
        (70, "0"),
        (10, "0"),
        (20, "0"),
    ]);
    block += &pairs(&[(0, "POLYLINE"), (8, "1"), (66, "1"), (70, "1")]);
    for (x, y, _) in &outline {
        block += &format!("0\nVERTEX\n8\n1\n10\n{x}\n20\n{y}\n");
    }
    block += "0\nSEQEND\n";
    for (x, y, layer) in &outline {
        block += &format!("0\nPOINT\n8\n{layer}\n10\n{x}\n20\n{y}\n");
    }
    block += "0\nPOINT\n8\n4\n10\n50\n20\n0\n0\nPOINT\n8\n13\n10\n50\n20\n25\n";
    block += &line("7", (20.0, 10.0), (20.0, 40.0));
    block += &line("6", (0.0, 0.0), (0.0, 50.0));
    block += &line("8", (10.0, 10.0), (15.0, 40.0));
    block += "0\nTEXT\n8\n1\n10\n10\n20\n20\n40\n3\n1\nPIECE NAME: FRONT\n0\nTEXT\n8\n1\n10\n10\n20\n15\n40\n3\n1\nUNITS: METRIC\n";
    block += "0\nENDBLK\n8\n1\n";
    file(&block, "0\nINSERT\n8\n1\n2\nFRONT\n10\n0\n20\n0\n")
}

#[test]
fn a_file_of_the_apparel_practice_says_what_everything_is() {
    let found = try_read(&practice()).unwrap();
    let sheet = &found.sheets[0];
    assert_eq!(found.scale, Scale::Given);
    let line = |meaning| {
        let mut all = sheet
            .lines
            .iter()
            .filter(|line| line.meaning == Some(meaning));
        let first = all.next().unwrap();
        assert!(all.next().is_none());
        first
    };
    let outline = line(Meaning::CutLine);
    assert_eq!(outline.groups, ["FRONT"]);
    assert!(outline.closed);
    let _ = (
        line(Meaning::Fold),
        line(Meaning::Grain),
        line(Meaning::Inside),
    );
    let count = |meaning| {
        sheet
            .points
            .iter()
            .filter(|point| point.meaning == Some(meaning))
            .count()
    };
    assert_eq!(
        [
            Meaning::Corner,
            Meaning::OnCurve,
            Meaning::Notch,
            Meaning::Hole
        ]
        .map(count),
        [4, 7, 1, 1]
    );
    assert!(
        sheet
            .texts
            .iter()
            .all(|text| text.meaning == Some(Meaning::PieceText))
    );
    // Straight sides stay straight; the arc is smooth and within 0.06 mm of the circle though its chords are 0.48 mm off.
    let mut worst: f64 = 0.0;
    for segment in outline.path.segments() {
        for i in 0..=10 {
            let at = segment.eval(f64::from(i) / 10.0);
            if at.x > 100.0 + 1e-9 {
                worst = worst.max((at.distance(Point::new(100.0, 25.0)) - 25.0).abs());
            } else {
                assert!(at.x > -1e-9 && (at.x < 1e-9 || at.y < 1e-9 || at.y > 50.0 - 1e-9));
            }
        }
    }
    assert!(worst < 0.06, "{worst}");
}

#[test]
fn a_smooth_ring_of_curve_points_has_no_corner() {
    let at = |i: i32| {
        let angle = f64::from(i) * std::f64::consts::TAU / 24.0;
        (30.0 * angle.cos(), 30.0 * angle.sin())
    };
    let mut block = "0\nBLOCK\n8\n1\n2\nDISC\n10\n0\n20\n0\n0\nPOLYLINE\n8\n1\n70\n1\n".to_owned();
    for i in 0..24 {
        let (x, y) = at(i);
        block += &format!("0\nVERTEX\n8\n1\n10\n{x}\n20\n{y}\n");
    }
    block += "0\nSEQEND\n8\n1\n";
    for i in 0..24 {
        let (x, y) = at(i);
        block += &format!("0\nPOINT\n8\n3\n10\n{x}\n20\n{y}\n");
    }
    block += "0\nENDBLK\n8\n1\n";
    let found = try_read(&file(&block, "0\nINSERT\n8\n1\n2\nDISC\n10\n5\n20\n5\n")).unwrap();
    let disc = &found.sheets[0].lines[0];
    for segment in disc.path.segments() {
        for i in 0..=10 {
            let off = segment
                .eval(f64::from(i) / 10.0)
                .distance(Point::new(5.0, 5.0))
                - 30.0;
            assert!(off.abs() < 0.002, "{off}");
        }
    }
}

#[test]
fn bombs_are_refused_and_odd_figures_told() {
    let limit = |text: &str| match try_read(text) {
        Err(BringInError::Limit { of, .. }) => of,
        other => panic!("{other:?}"),
    };
    let a = line("0", (0.0, 0.0), (1.0, 1.0));
    // A grid of 10^9 in one insertion.
    let block = format!("0\nBLOCK\n2\na\n10\n0\n20\n0\n{a}0\nENDBLK\n");
    let grid = "0\nINSERT\n2\na\n10\n0\n20\n0\n70\n1000000000\n71\n1000000000\n44\n1\n45\n1\n";
    assert_eq!(limit(&file(&block, grid)), "drawn elements");
    let empty = "0\nBLOCK\n2\na\n10\n0\n20\n0\n0\nENDBLK\n";
    assert_eq!(limit(&file(empty, grid)), "drawn elements");
    // Thirty blocks, each with two of the one before.
    let mut blocks = block.clone();
    for i in 0..30 {
        let inner = if i == 0 {
            "a".to_owned()
        } else {
            format!("b{i}")
        };
        let two = format!("0\nINSERT\n2\n{inner}\n10\n0\n20\n0\n").repeat(2);
        blocks += &format!("0\nBLOCK\n2\nb{}\n10\n0\n20\n0\n{two}0\nENDBLK\n", i + 1);
    }
    assert_eq!(
        limit(&file(&blocks, "0\nINSERT\n2\nb30\n10\n0\n20\n0\n")),
        "drawn elements"
    );
    // Sixty blocks, each with the one before.
    let mut deep = block;
    for i in 0..60 {
        let inner = if i == 0 {
            "a".to_owned()
        } else {
            format!("b{i}")
        };
        deep += &format!(
            "0\nBLOCK\n2\nb{}\n10\n0\n20\n0\n0\nINSERT\n2\n{inner}\n10\n0\n20\n0\n0\nENDBLK\n",
            i + 1
        );
    }
    assert_eq!(
        limit(&file(&deep, "0\nINSERT\n2\nb60\n10\n0\n20\n0\n")),
        "levels of nesting"
    );
    // A block inside of itself, odd figures, sizes that are claimed.
    let own = "0\nBLOCK\n2\nme\n10\n0\n20\n0\n0\nINSERT\n2\nme\n10\n0\n20\n0\n0\nENDBLK\n";
    let odd = format!(
        "{a}0\nINSERT\n2\nme\n10\n0\n20\n0\n{}{}{}{}{}{}",
        pairs(&[(0, "LINE"), (10, "nan"), (20, "0"), (11, "1"), (21, "1")]),
        pairs(&[(0, "LINE"), (10, "1e300"), (20, "0"), (11, "1"), (21, "1")]),
        pairs(&[(0, "CIRCLE"), (10, "0"), (20, "0"), (40, "-3")]),
        pairs(&[(0, "CIRCLE"), (10, "0"), (20, "0"), (40, "1e90")]),
        pairs(&[
            (0, "SPLINE"),
            (71, "3"),
            (72, "2000000000"),
            (73, "2000000000"),
            (10, "0"),
            (20, "0")
        ]),
        pairs(&[
            (0, "LWPOLYLINE"),
            (90, "4000000000"),
            (10, &"9".repeat(1_000_000)),
            (20, "0"),
            (10, "1"),
            (20, "1")
        ]),
    );
    let head = pairs(&[
        (0, "SECTION"),
        (2, "HEADER"),
        (9, "$TDCREATE"),
        (40, "1e308"),
        (9, "$TDINDWG"),
        (40, "99999999999999999999"),
    ]) + "0\nENDSEC\n";
    let found = try_read(&(head + &file(own, &odd))).unwrap();
    let told = told(&found);
    assert_eq!(found.sheets[0].lines.len(), 1);
    for kind in [
        "inside of itself",
        "LINE with figures that do not fit: 2",
        "SPLINE with figures",
        "LWPOLYLINE with figures",
        "CIRCLE with figures",
        "further out",
    ] {
        assert!(told.contains(kind), "{kind} in:\n{told}");
    }
    // A spline that would keep the reader busy: 60,000 points of degree 15.
    let mut busy = "0\nSPLINE\n71\n15\n".to_owned();
    for i in 0..60_016 {
        busy += &format!("40\n{i}\n");
    }
    busy += &"10\n1\n20\n2\n".repeat(60_000);
    assert!(
        self::told(&try_read(&file("", &(a.clone() + &busy))).unwrap())
            .contains("SPLINE with figures")
    );
    // More letters than are read.
    let text = "0\nTEXT\n10\n0\n20\n0\n40\n1\n1\n".to_owned() + &"a".repeat(1_000_001) + "\n";
    assert_eq!(limit(&file("", &text)), "letters");
}

#[test]
fn broken_cut_binary_and_empty_files_are_told_apart() {
    let binary = b"AutoCAD Binary DXF\r\n\x1a\x00";
    assert!(matches!(
        read(binary, "a.dxf", &Limits::default(), &Watch::default()),
        Err(BringInError::NotRead { .. })
    ));
    let broken = "0\nSECTION\n2\nENTITIES\n0\nLINE\nten\n5\n";
    assert!(
        matches!(try_read(broken), Err(BringInError::Broken { why, .. }) if why.contains("line 7"))
    );
    assert!(matches!(
        try_read(&file("", "")),
        Err(BringInError::Empty { .. })
    ));
    let whole = file("", &line("a", (0.0, 0.0), (40.0, 0.0)));
    let cut = whole.replace("0\nENDSEC\n0\nEOF\n", "0\nLINE\n10\n");
    assert!(told(&try_read(&cut).unwrap()).contains("no end mark"));
    // Lines that end as on old systems.
    for end in ["\r\n", "\r"] {
        assert!(try_read(&whole.replace('\n', end)).is_ok(), "{end:?}");
    }
}

#[test]
fn the_deepest_blocks_that_are_allowed_fit_a_small_stack() {
    let mut blocks = format!(
        "0\nBLOCK\n2\nb0\n10\n0\n20\n0\n{}0\nENDBLK\n",
        line("0", (0.0, 0.0), (1.0, 1.0))
    );
    for i in 0..47 {
        blocks += &format!(
            "0\nBLOCK\n2\nb{}\n10\n0\n20\n0\n0\nINSERT\n2\nb{i}\n10\n0\n20\n0\n0\nENDBLK\n",
            i + 1
        );
    }
    let text = file(&blocks, "0\nINSERT\n2\nb47\n10\n0\n20\n0\n");
    let worker = std::thread::Builder::new().stack_size(1 << 20);
    let read_it = move || try_read(&text).map(|found| found.sheets[0].lines.len());
    assert_eq!(worker.spawn(read_it).unwrap().join().unwrap(), Ok(1));
}
