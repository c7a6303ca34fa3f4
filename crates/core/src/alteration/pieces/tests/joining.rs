//! Two pieces joined; cutting and joining again.

use super::*;
use proptest::prelude::*;

fn join(name: &str) -> PiecesChange {
    PiecesChange::Join {
        seam: "princess".to_owned(),
        name: name.to_owned(),
    }
}

/// A front with a curved armscye-like right side, a fold at the left, three body lines' worth of marks.
fn front(lean: f64, bulge: f64, on_fold: bool) -> Garment {
    let p = [(0.0, 0.0), (100.0 + lean, 4.0), (96.0, 70.0), (0.0, 64.0)].map(Point::from);
    let curve = Line::new(vec![
        p[1],
        Point::new(100.0 + lean - bulge, 25.0),
        Point::new(90.0 - bulge, 50.0),
        p[2],
    ])
    .unwrap();
    let edges = vec![
        Edge::seam("hem", Line::straight(p[0], p[1])),
        Edge::seam("right", curve),
        Edge::seam("waist", Line::straight(p[2], p[3])),
        Edge::seam("left", Line::straight(p[3], p[0])),
    ];
    let mut piece = Piece {
        outline: Outline::new(edges).unwrap(),
        ..strip("Front", 1.0, 1.0)
    };
    piece.body_lines = vec![BodyLine {
        level: Level::Bust,
        from: at("left", 0.5),
        to: at("right", 0.5),
    }];
    piece.notches = vec![Notch {
        edge: "right".to_owned(),
        fraction: 0.6,
        kind: NotchKind::Double,
    }];
    if on_fold {
        piece = finished_with(piece, "left", Finish::Fold);
    }
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        Relation::Ratio(1.1),
    );
    let mut all = garment(vec![piece, strip("Back", 80.0, 60.0)], vec![side]);
    all.tape_lines = vec![girth(
        "bust",
        vec![("Front", at("left", 0.5), at("right", 0.5))],
    )];
    all
}

proptest! {
    #[test]
    fn cutting_and_joining_again_gives_the_same_piece(
        lean in -10.0..10.0_f64,
        bulge in -12.0..12.0_f64,
        from_edge in 0..4_usize,
        way in 1..4_usize,
        from in 0.05..0.95_f64,
        to in 0.05..0.95_f64,
        bend in -3.0..3.0_f64,
        on_fold in any::<bool>(),
    ) {
        let whole = front(lean, bulge, on_fold);
        let edges = ["hem", "right", "waist", "left"];
        let (start, end) = (at(edges[from_edge], from), at(edges[(from_edge + way) % 4], to));
        let old = the(&whole, "Front").clone();
        let (a, b) = (old.point_at(&start).unwrap(), old.point_at(&end).unwrap());
        let side = kurbo::Vec2::new(a.y - b.y, b.x - a.x) / (b - a).hypot() * bend;
        let through = Line::new(vec![a, a.lerp(b, 1.0 / 3.0) + side, a.lerp(b, 2.0 / 3.0) + side, b]).unwrap();
        let change = PiecesChange::Cut {
            piece: "Front".to_owned(),
            from: start,
            to: end,
            through: Some(through),
            name: "Side front".to_owned(),
            seam: "princess".to_owned(),
        };
        // Near a corner the bent line may leave the piece.
        let parts = change.applied(&whole);
        prop_assume!(parts.is_ok());
        let parts = parts.unwrap();
        let (left, right) = (the(&parts.garment, "Front"), the(&parts.garment, "Side front"));
        prop_assert!((left.outline.area() + right.outline.area() - old.outline.area()).abs() < 1e-6);
        let read = |garment: &Garment| tape_measure(&garment.tape_lines[0], &garment.pieces).unwrap().0;
        if bend == 0.0 {
            prop_assert!((read(&parts.garment) - read(&whole)).abs() < 1e-6);
        }
        let again = join("Front").applied(&parts.garment);
        let again = match again {
            Ok(again) => again,
            Err(why) => return Err(TestCaseError::fail(format!("{why}"))),
        };
        let new = the(&again.garment, "Front");
        prop_assert!(apart(&new.outline, &old.outline) < 1e-6);
        prop_assert!(apart(&old.outline, &new.outline) < 1e-6);
        prop_assert_eq!(names(new), names(&old));
        prop_assert_eq!(&new.copies, &old.copies);
        prop_assert_eq!(new.fold_edge().is_some(), on_fold);
        prop_assert_eq!(again.garment.seams.len(), whole.seams.len());
        prop_assert!((again.garment.seams[0].difference(&again.garment.pieces).unwrap().0
            - whole.seams[0].difference(&whole.pieces).unwrap().0).abs() < 1e-6);
        prop_assert_eq!(new.notches.len(), 1);
        prop_assert!((new.notches[0].fraction - 0.6).abs() < 1e-6);
        prop_assert_eq!(again.garment.seams[0].a.len(), 1, "{:?}", again.garment.seams[0].a);
        prop_assert_eq!(again.garment.seams[0].a[0].copy, whole.seams[0].a[0].copy);
    }
}

#[test]
fn the_bust_line_and_its_tape_run_from_side_to_side_again() {
    let whole = front(5.0, 3.0, true);
    let parts = done(&whole, cut(at("hem", 0.4), at("waist", 0.6)));
    let again = done(&parts.garment, join("Front"));
    assert!(again.notes.is_empty(), "{:?}", again.notes);
    assert_eq!(
        the(&again.garment, "Front").body_lines,
        the(&whole, "Front").body_lines
    );
    assert_eq!(again.garment.tape_lines, whole.tape_lines);
}

/// Two panels drawn anywhere, sewn along a slanting line, the second turned by 70 degrees and moved.
fn panels(stretched: f64) -> Garment {
    let one = four("One", [(0.0, 0.0), (50.0, 0.0), (60.0, 80.0), (0.0, 80.0)]);
    let turn =
        kurbo::Affine::translate((300.0, -40.0)) * kurbo::Affine::rotate(70.0_f64.to_radians());
    let corner = |x: f64, y: f64| {
        let p = turn * Point::new(x, y);
        (p.x, p.y)
    };
    let two = four(
        "Two",
        [
            corner(50.0, 0.0),
            corner(90.0, 0.0),
            corner(90.0, 80.0),
            corner(60.0, 80.0 + stretched),
        ],
    );
    let sewn = seam(
        "princess",
        vec![stretch("One", "right", 0.0, 1.0)],
        vec![stretch("Two", "left", 1.0, 0.0)],
        Relation::Equal,
    );
    garment(vec![one, two], vec![sewn])
}

#[test]
fn a_piece_drawn_elsewhere_is_turned_and_moved_to_its_mate() {
    let joined = done(&panels(0.0), join("Whole"));
    assert_eq!(joined.garment.pieces.len(), 1);
    let whole = the(&joined.garment, "Whole");
    assert!((whole.outline.area() - 90.0 * 80.0).abs() < 1e-6);
    assert_eq!(
        names(whole),
        ["hem", "left", "right", "waist"],
        "hems and waists run on as one"
    );
    let hem = &whole.outline.edge("hem").unwrap().line;
    assert!(hem.is_straight() && (hem.length() - 90.0).abs() < 1e-6);
    assert_eq!(joined.carried.pieces["Two"], ["Whole"]);
    let notes: Vec<String> = joined.notes.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(notes.join("\n"), @"Whole: what was Two lies 70 degrees off its grain now. Look whether it may hang so; else turn the grain of the joined piece.");
}

#[test]
fn a_mate_drawn_mirrored_is_turned_over() {
    let mut pair = panels(0.0);
    let mirror = |p: Point| Point::new(-p.x, p.y);
    let two = Piece::clone(&pair.pieces[1]);
    let edges = two
        .outline
        .edges()
        .iter()
        .rev()
        .map(|e| Edge::seam(&e.name, e.line.reversed().mapped(mirror)));
    pair.pieces[1] = Arc::new(Piece {
        outline: Outline::new(edges.collect()).unwrap(),
        ..two
    });
    // Its edges run the other way round now.
    pair.seams[0].b = vec![stretch("Two", "left", 0.0, 1.0)];
    let joined = done(&pair, join("Whole"));
    assert!((the(&joined.garment, "Whole").outline.area() - 7200.0).abs() < 1e-6);
    assert!(
        joined
            .notes
            .iter()
            .any(|note| note.what.contains("turned over"))
    );
}

#[test]
fn sides_that_differ_are_refused_with_the_gap() {
    insta::assert_snapshot!(refused(&panels(3.0), join("Whole")), @"its two sides lie 1.5 mm apart at their worst place (80.6 mm long against 83.6 mm); draw one like the other first");
    let mut pair = panels(0.0);
    let two = Piece {
        copies: vec![RIGHT, LEFT],
        ..Piece::clone(&pair.pieces[1])
    };
    pair.pieces[1] = Arc::new(two);
    insta::assert_snapshot!(refused(&pair, join("Whole")), @"One is cut once and Two twice; have both cut alike first");
    let mut split = panels(0.0);
    split.pieces.push(Arc::new(strip("Three", 50.0, 40.0)));
    split.seams[0].b.push(stretch("Three", "left", 1.0, 0.0));
    insta::assert_snapshot!(refused(&split, join("Whole")), @"one side of princess lies on Two and Three; join those two first");
    let missing = PiecesChange::Join {
        seam: "side".to_owned(),
        name: "Whole".to_owned(),
    };
    insta::assert_snapshot!(refused(&panels(0.0), missing), @"there is no seam called side any more");
}
