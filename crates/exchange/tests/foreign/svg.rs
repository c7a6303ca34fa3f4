//! SVG written by hand, with lengths worked out by hand.

use petitoile_core::kurbo::{Point, Rect, Shape};
use petitoile_exchange::bring_in::{
    BringInError, FoundDrawing, FoundLine, Limits, Scale, Watch, read,
};

const MM_PX: f64 = 25.4 / 96.0;

fn svg(head: &str, body: &str) -> String {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" {head}>{body}</svg>"
    )
}

fn found(head: &str, body: &str) -> FoundDrawing {
    read(
        svg(head, body).as_bytes(),
        "a.svg",
        &Limits::default(),
        &Watch::default(),
    )
    .unwrap()
}

fn refused(text: &str) -> BringInError {
    read(
        text.as_bytes(),
        "a.svg",
        &Limits::default(),
        &Watch::default(),
    )
    .unwrap_err()
}

fn lines(found: &FoundDrawing) -> &[FoundLine] {
    &found.sheets[0].lines
}

#[track_caller]
fn close(rect: Rect, truth: [f64; 4]) {
    let is = [rect.x0, rect.y0, rect.x1, rect.y1];
    for (a, b) in is.iter().zip(truth) {
        assert!((a - b).abs() < 0.001, "{is:?} is not {truth:?}");
    }
}

const RECT: &str = "<rect x=\"10\" y=\"20\" width=\"30\" height=\"40\" fill=\"none\" stroke=\"#c44840\" stroke-width=\"0.5\"/>";

#[test]
fn one_unit_is_one_mm_where_the_view_box_says_so() {
    let found = found(
        "width=\"200mm\" height=\"100mm\" viewBox=\"0 0 200 100\"",
        RECT,
    );
    let line = &lines(&found)[0];
    close(line.path.bounding_box(), [10.0, 40.0, 40.0, 80.0]);
    close(found.sheets[0].bounds, [0.0, 0.0, 200.0, 100.0]);
    assert_eq!(found.scale, Scale::Given);
    assert!(line.closed && !line.filled);
    assert_eq!(line.colour, [0xc4, 0x48, 0x40]);
    assert!((line.width - 0.5).abs() < 1e-5);
    assert_eq!(found.left, []);
}

#[test]
fn inches_and_centimetres_are_real_lengths() {
    let inches = found("width=\"4in\" height=\"2in\" viewBox=\"0 0 400 200\"", RECT);
    close(
        lines(&inches)[0].path.bounding_box(),
        [2.54, 35.56, 10.16, 45.72],
    );
    let cm = found(
        "width=\"20cm\" height=\"10cm\" viewBox=\"0 0 20 10\"",
        "<path d=\"M1,1h5v3\" stroke=\"black\" fill=\"none\"/>",
    );
    close(lines(&cm)[0].path.bounding_box(), [10.0, 60.0, 60.0, 90.0]);
    assert_eq!((inches.scale, cm.scale), (Scale::Given, Scale::Given));
    let points = found(
        "width=\"72pt\" height=\"6pc\"",
        "<line x2=\"1cm\" y2=\"10mm\" stroke=\"black\"/>",
    );
    close(
        lines(&points)[0].path.bounding_box(),
        [0.0, 15.4, 10.0, 25.4],
    );
    let quarters = found(
        "width=\"80Q\" height=\"40Q\" viewBox=\"0 0 2 1\"",
        "<path d=\"M0 0H2\" stroke=\"black\"/>",
    );
    close(
        lines(&quarters)[0].path.bounding_box(),
        [0.0, 10.0, 20.0, 10.0],
    );
}

#[test]
fn px_and_shares_of_the_screen_are_taken_and_told() {
    let px = found(
        "width=\"960\" height=\"480px\"",
        "<path d=\"M96 96H192\" stroke=\"black\"/>",
    );
    close(
        lines(&px)[0].path.bounding_box(),
        [25.4, 101.6, 50.8, 101.6],
    );
    assert!(
        matches!(&px.scale, Scale::Taken(why) if why.contains("px")),
        "{:?}",
        px.scale
    );
    let share = found(
        "width=\"100%\" height=\"100%\" viewBox=\"0 0 96 96\"",
        "<path d=\"M0 0H96\" stroke=\"black\"/>",
    );
    close(
        lines(&share)[0].path.bounding_box(),
        [0.0, 25.4, 25.4, 25.4],
    );
    assert!(matches!(&share.scale, Scale::Taken(why) if why.contains("screen")));
    let none = found("", "<path d=\"M0 0H96\" stroke=\"black\"/>");
    assert!((lines(&none)[0].path.bounding_box().width() - 25.4).abs() < 1e-4);
    assert!(matches!(&none.scale, Scale::Taken(why) if why.contains("no size")));
}

#[test]
fn shares_inside_are_shares_of_the_view_box() {
    let found = found(
        "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 1000 500\"",
        "<rect x=\"10%\" y=\"10%\" width=\"50%\" height=\"20%\" stroke=\"black\"/>",
    );
    close(
        lines(&found)[0].path.bounding_box(),
        [10.0, 35.0, 60.0, 45.0],
    );
}

#[test]
fn a_drawing_within_a_drawing_has_its_own_measure() {
    // The inner one is 40 by 20 mm at (50, 10), its box 0 0 8 8 fits in by height: 2.5 mm a unit, 10 mm to either side.
    let found = found(
        "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\"",
        "<svg x=\"50\" y=\"10\" width=\"40\" height=\"20\" viewBox=\"0 0 8 8\"><rect x=\"1\" y=\"1\" width=\"2\" height=\"4\" stroke=\"black\"/></svg>",
    );
    close(
        lines(&found)[0].path.bounding_box(),
        [62.5, 27.5, 67.5, 37.5],
    );
    let spread = self::found(
        "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\"",
        "<svg x=\"50\" y=\"10\" width=\"40\" height=\"20\" viewBox=\"0 0 8 8\" preserveAspectRatio=\"none\"><rect x=\"1\" y=\"1\" width=\"2\" height=\"4\" stroke=\"black\"/></svg>",
    );
    close(
        lines(&spread)[0].path.bounding_box(),
        [55.0, 27.5, 65.0, 37.5],
    );
    let left = self::found(
        "width=\"100mm\" height=\"50mm\" viewBox=\"0 0 50 50\" preserveAspectRatio=\"xMinYMin\"",
        "<path d=\"M0 0H50\" stroke=\"black\"/>",
    );
    close(lines(&left)[0].path.bounding_box(), [0.0, 50.0, 50.0, 50.0]);
}

#[test]
fn transforms_turn_move_and_widen_strokes_and_dashes() {
    let found = found(
        "width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\"",
        "<g transform=\"translate(50 50) rotate(90) scale(2)\"><path d=\"M0 0H10\" stroke=\"black\" stroke-width=\".3\" stroke-dasharray=\"3 1.5\"/></g>",
    );
    let line = &lines(&found)[0];
    close(line.path.bounding_box(), [50.0, 30.0, 50.0, 50.0]);
    assert!((line.width - 0.6).abs() < 1e-5);
    assert!((line.dash[0] - 6.0).abs() < 1e-5 && (line.dash[1] - 3.0).abs() < 1e-5);
}

#[test]
fn groups_name_their_lines_by_title_label_or_id() {
    let found = found(
        "width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 10\" xmlns:p=\"urn:p\"",
        "<g p:label=\"Size 34\"><g id=\"g12\"><g id=\"front\"><title>Bodice  front</title><path id=\"path7\" d=\"M0 0h1\" stroke=\"red\"/></g>\
         <path id=\"collar\" d=\"M0 0h1\" stroke=\"red\"/></g></g>",
    );
    assert_eq!(lines(&found)[0].layer, "Size 34");
    assert_eq!(lines(&found)[0].groups, ["Size 34", "Bodice front"]);
    assert_eq!(lines(&found)[1].groups, ["Size 34", "collar"]);
}

#[test]
fn every_use_is_drawn_with_its_place_and_keeps_the_names_within() {
    let found = found(
        "width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\"",
        "<defs><g id=\"cuff\"><rect width=\"10\" height=\"5\" stroke=\"black\"/></g>\
         <symbol id=\"patch\" viewBox=\"0 0 2 2\"><circle cx=\"1\" cy=\"1\" r=\"1\" stroke=\"black\"/></symbol></defs>\
         <use xlink:href=\"#cuff\" x=\"20\" y=\"10mm\"/><use href=\"#patch\" x=\"50\" y=\"50\" width=\"20\" height=\"20\"/>",
    );
    // 10 mm inside are 37.795 units, as everywhere in SVG.
    close(
        lines(&found)[0].path.bounding_box(),
        [20.0, 100.0 - 10.0 / MM_PX - 5.0, 30.0, 100.0 - 10.0 / MM_PX],
    );
    assert_eq!(lines(&found)[0].groups, ["cuff"]);
    let round = lines(&found)[1].path.bounding_box();
    assert!(
        (round.width() - 20.0).abs() < 0.01 && (round.x0 - 50.0).abs() < 0.005,
        "{round:?}"
    );
    assert_eq!(lines(&found)[1].groups, ["patch"]);
}

#[test]
fn style_sheets_hide_paint_and_dash() {
    let found = found(
        "width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 10\"",
        "<style>.fold{stroke-dasharray:2 1;stroke:#00f} #gone,g.off{display:none} path{stroke:red !important;fill:none}</style>\
         <path class=\"fold\" d=\"M0 0h5\"/><path id=\"gone\" d=\"M0 0h5\"/><g class=\"off\"><title>Lining</title><path d=\"M0 0h5\"/></g>",
    );
    assert_eq!(lines(&found).len(), 1);
    assert_eq!(lines(&found)[0].colour, [255, 0, 0]);
    assert_eq!(lines(&found)[0].dash.len(), 2);
    let told: Vec<&str> = found.left.iter().map(|left| left.what.as_str()).collect();
    assert_eq!(
        told,
        [
            "hidden: g \"Lining\" (in line 1 of the file)",
            "hidden: path \"gone\" (in line 1 of the file)"
        ]
    );
}

#[test]
fn words_come_with_place_size_and_turn() {
    let found = found(
        "width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\"",
        "<text x=\"10\" y=\"20\" font-size=\"5\" font-family=\"Nobody's Sans\">Front <tspan fill=\"red\">cut 2</tspan><tspan x=\"10\" dy=\"6\">lining</tspan></text>\
         <text transform=\"translate(50 50) rotate(-90)\" font-size=\"4\">Sleeve</text>\
         <text x=\"80\" y=\"80\" text-anchor=\"middle\" font-size=\"4\">ii</text>",
    );
    let texts = &found.sheets[0].texts;
    let words: Vec<&str> = texts.iter().map(|text| text.words.as_str()).collect();
    assert_eq!(words, ["Front cut 2", "lining", "Sleeve", "ii"]);
    let near = |at: Point, x: f64, y: f64| at.distance(Point::new(x, y)) < 0.001;
    assert!(near(texts[0].at, 10.0, 80.0), "{:?}", texts[0].at);
    assert!(near(texts[1].at, 10.0, 74.0), "{:?}", texts[1].at);
    assert!(near(texts[2].at, 50.0, 50.0), "{:?}", texts[2].at);
    assert!((texts[0].size - 5.0).abs() < 1e-4 && texts[0].turn.abs() < 1e-4);
    assert!((texts[2].turn - 90.0).abs() < 1e-3, "{}", texts[2].turn);
    assert!(texts[3].at.x < 79.5 && 77.0 < texts[3].at.x);
}

#[test]
fn arrow_heads_that_are_markers_are_drawn() {
    let found = found(
        "width=\"100mm\" height=\"100mm\" viewBox=\"0 0 100 100\"",
        "<defs><marker id=\"head\" orient=\"auto\" markerUnits=\"userSpaceOnUse\" markerWidth=\"4\" markerHeight=\"4\" refX=\"2\" refY=\"1\"><path d=\"M0 0L2 1L0 2Z\"/></marker></defs>\
         <g id=\"grain\"><path d=\"M10 50H90\" stroke=\"black\" marker-end=\"url(#head)\"/></g>",
    );
    assert_eq!(lines(&found).len(), 2);
    close(
        lines(&found)[1].path.bounding_box(),
        [88.0, 49.0, 90.0, 51.0],
    );
    assert_eq!(lines(&found)[1].groups, ["grain"]);
}

#[test]
fn circles_and_arcs_are_round() {
    let found = found(
        "width=\"200mm\" height=\"200mm\" viewBox=\"0 0 200 200\"",
        "<circle cx=\"100\" cy=\"100\" r=\"80\" stroke=\"black\"/><path d=\"M20 100A80 80 0 0 1 180 100\" stroke=\"black\"/>",
    );
    for line in lines(&found) {
        for segment in line.path.segments() {
            for i in 0..=20 {
                let at = petitoile_core::kurbo::ParamCurve::eval(&segment, f64::from(i) / 20.0);
                let off = at.distance(Point::new(100.0, 100.0)) - 80.0;
                assert!(off.abs() < 0.0005, "{off}");
            }
        }
    }
}

#[test]
fn nothing_is_left_out_without_a_word() {
    let found = found(
        "width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 10\"",
        "<path d=\"M0 0h1\" stroke=\"red\"/><image href=\"http://example.org/a.png\" width=\"5\" height=\"5\"/>\
         <path d=\"M0 0h1\" fill=\"none\"/><rect width=\"0\" height=\"1\" stroke=\"red\"/><foreignObject/>\
         <use href=\"other.svg#a\"/><use href=\"#nobody\"/><path d=\"M0 0h1 L bad\" stroke=\"red\"/>\
         <g clip-path=\"url(#c)\"><path d=\"M0 0h1\" stroke=\"url(#grad) blue\"/></g><clipPath id=\"c\"><rect width=\"1\" height=\"1\"/></clipPath>\
         <path d=\"M0 0H1e30\" stroke=\"red\"/><path d=\"M0 0H1e8\" stroke=\"red\"/>",
    );
    let told = found
        .left
        .iter()
        .map(|left| left.what.clone())
        .collect::<Vec<_>>()
        .join("\n");
    for kind in [
        "a picture",
        "without stroke and filling",
        "draws nothing",
        "foreignObject",
        "another file",
        "\"nobody\"",
        "data are broken",
        "clip path",
        "beyond all measure",
        "further out than 1000 m",
    ] {
        assert!(told.contains(kind), "{kind} in:\n{told}");
    }
    assert_eq!(lines(&found).last().unwrap().colour, [0, 0, 255]);
}

#[test]
fn a_packed_file_is_unpacked_and_never_to_more_than_the_limit() {
    let zip = |bytes: &[u8]| {
        let mut packed = vec![0x1f, 0x8b, 8, 8, 0, 0, 0, 0, 0, 3];
        packed.extend(b"a.svg\0");
        packed.extend(miniz_oxide::deflate::compress_to_vec(bytes, 6));
        packed.extend([0; 8]);
        packed
    };
    let text = svg("width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 10\"", RECT);
    let read_it = |bytes: &[u8]| read(bytes, "a.svgz", &Limits::default(), &Watch::default());
    assert_eq!(lines(&read_it(&zip(text.as_bytes())).unwrap()).len(), 1);
    let bomb = zip(&vec![b' '; 80 << 20]);
    assert!(matches!(read_it(&bomb), Err(BringInError::Limit { .. })));
}

#[test]
fn bombs_are_refused_before_they_burst() {
    let mut nested = String::from("<g id=\"a0\"><path d=\"M0 0h1\" stroke=\"red\"/></g>");
    for i in 0..30 {
        nested.push_str(&format!(
            "<g id=\"a{}\"><use href=\"#a{i}\"/><use href=\"#a{i}\"/></g>",
            i + 1
        ));
    }
    let bomb = svg(
        "width=\"10mm\" height=\"10mm\"",
        &format!("<defs>{nested}</defs><use href=\"#a9\"/><use href=\"#a30\"/>"),
    );
    assert!(matches!(refused(&bomb), BringInError::Limit { .. }));
    let deep = svg(
        "",
        &format!("{}{}", "<g>".repeat(100_000), "</g>".repeat(100_000)),
    );
    assert!(matches!(
        refused(&deep),
        BringInError::Limit { limit: 48, .. }
    ));
    let attributes: String = (0..100_000).map(|i| format!(" a{i}=\"\"")).collect();
    assert!(matches!(
        refused(&svg(&attributes, RECT)),
        BringInError::Limit { .. }
    ));
    let big = "x".repeat(100_000);
    let entity = format!(
        "<!DOCTYPE svg [<!ENTITY b \"{big}\">]>{}",
        svg("", &format!("<desc>{}</desc>", "&b;".repeat(100_000)))
    );
    assert!(matches!(refused(&entity), BringInError::Limit { .. }));
    let laughs = format!("<!DOCTYPE svg [<!ENTITY b \"<g/>\">]>{}", svg("", "&b;"));
    assert!(matches!(refused(&laughs), BringInError::NotRead { .. }));
    let markers = svg(
        "",
        &format!(
            "<marker id=\"m\"><path d=\"M0 0{}\"/></marker><path marker-mid=\"url(#m)\" d=\"M0 0{}\" stroke=\"red\"/>",
            "h1".repeat(3000),
            "h1".repeat(3000)
        ),
    );
    assert!(matches!(refused(&markers), BringInError::Limit { .. }));
    let segments = svg("", &format!("<path d=\"M0 0{}\"/>", "h1".repeat(2_000_000)));
    assert!(matches!(refused(&segments), BringInError::Limit { .. }));
    let letters = svg("", &format!("<text>{}</text>", "a".repeat(200_000)));
    assert!(matches!(refused(&letters), BringInError::Limit { .. }));
}

#[test]
fn a_use_of_itself_is_told_and_the_rest_is_read() {
    let found = found(
        "width=\"10mm\" height=\"10mm\"",
        "<g id=\"a\"><path d=\"M0 0h1\" stroke=\"red\"/><use href=\"#b\"/></g><g id=\"b\"><use href=\"#a\"/></g>",
    );
    assert!(
        found
            .left
            .iter()
            .any(|left| left.what.contains("inside of itself"))
    );
    assert_eq!(lines(&found).len(), 2);
}

#[test]
fn the_deepest_nesting_that_is_allowed_fits_a_small_stack() {
    let deep = |n: usize| {
        svg(
            "width=\"10mm\" height=\"10mm\"",
            &format!(
                "{}<path d=\"M0 0h1\" stroke=\"red\"/>{}",
                "<g transform=\"scale(1.01)\">".repeat(n),
                "</g>".repeat(n)
            ),
        )
    };
    let worker = std::thread::Builder::new().stack_size(1 << 20);
    let read_it = move || {
        let text = deep(46);
        read(
            text.as_bytes(),
            "a.svg",
            &Limits::default(),
            &Watch::default(),
        )
        .map(|found| found.sheets[0].lines.len())
    };
    assert_eq!(worker.spawn(read_it).unwrap().join().unwrap(), Ok(1));
    // A chain of uses becomes two elements a level.
    let mut chain = String::from("<path id=\"a0\" d=\"M0 0h1\" stroke=\"red\"/>");
    for i in 0..22 {
        chain.push_str(&format!(
            "<g id=\"a{}\" transform=\"scale(.9)\"><use href=\"#a{i}\" x=\"1mm\"/></g>",
            i + 1
        ));
    }
    let chain = svg("", &format!("<defs>{chain}</defs><use href=\"#a22\"/>"));
    let worker = std::thread::Builder::new().stack_size(1 << 20);
    let read_it = move || {
        read(
            chain.as_bytes(),
            "a.svg",
            &Limits::default(),
            &Watch::default(),
        )
        .map(|found| found.sheets[0].lines.len())
    };
    assert_eq!(worker.spawn(read_it).unwrap().join().unwrap(), Ok(1));
}

#[test]
fn arcs_beyond_all_measure_do_not_keep_the_reader_busy() {
    let found = found(
        "width=\"10mm\" height=\"10mm\"",
        "<path d=\"M0 0h1\" stroke=\"red\"/><path d=\"M0 0A1e39 1e39 0 0 1 5 5\" stroke=\"red\"/><circle r=\"1e39\" stroke=\"red\"/>\
         <circle r=\"1e-320\" stroke=\"red\"/><path d=\"M0 0A1e-320 1 0 0 1 1e-321 5\" stroke=\"red\"/><rect width=\"1e38\" height=\"1e38\" rx=\"1e38\" stroke=\"red\"/>\
         <ellipse rx=\"1e39mm\" ry=\"3\" stroke=\"red\"/><ellipse rx=\"9\" ry=\"3\" style=\"stroke:red;stroke-width:2147483647mm\"/>",
    );
    assert!(
        found
            .left
            .iter()
            .any(|left| left.what.contains("width of a stroke"))
    );
    assert!(found.left.iter().any(|left| {
        left.what
            .starts_with("a shape with a figure beyond all measure: 4")
    }));
}

#[test]
fn a_text_without_end_is_read_in_part_and_told() {
    let found = found(
        "width=\"10mm\" height=\"10mm\"",
        &format!("<text>{}</text>", "ab ".repeat(2000)),
    );
    assert!(found.left[0].what.contains("more than 4000 letters"));
    assert!((3900..=4000).contains(&found.sheets[0].texts[0].words.len()));
}

#[test]
fn an_svg_is_known_by_its_bytes_in_any_dress() {
    let text = svg("width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 10\"", RECT);
    let read_it = |bytes: &[u8]| read(bytes, "a", &Limits::default(), &Watch::default()).unwrap();
    let long = format!("<?xml version=\"1.0\"?><!--{}-->{text}", "x".repeat(9000));
    assert_eq!(lines(&read_it(long.as_bytes())).len(), 1);
    let wide: Vec<u8> = format!("\u{feff}{text}")
        .encode_utf16()
        .flat_map(u16::to_le_bytes)
        .collect();
    assert_eq!(lines(&read_it(&wide)).len(), 1);
    let mut western = b"<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><!-- \xe4 -->".to_vec();
    western.extend(text.bytes());
    assert_eq!(lines(&read_it(&western)).len(), 1);
}
