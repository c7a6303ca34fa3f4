//! A piece cut in two.

use super::*;

/// A half front on the fold at the left, sewn to a back at the right, bust line and tape across.
fn bodice() -> Garment {
    let mut front = finished_with(strip("Front", 100.0, 60.0), "left", Finish::Fold);
    front.body_lines = vec![BodyLine {
        level: Level::Bust,
        from: at("left", 0.5),
        to: at("right", 0.5),
    }];
    front.notches = vec![Notch {
        edge: "right".to_owned(),
        fraction: 0.25,
        kind: NotchKind::Single,
    }];
    let dot = |name: &str, x| Mark {
        name: name.to_owned(),
        kind: MarkKind::Dot(Point::new(x, 30.0)),
    };
    front.marks = vec![
        dot("inner", 10.0),
        dot("outer", 90.0),
        Mark {
            name: "pocket".to_owned(),
            kind: MarkKind::Line(Line::straight(
                Point::new(20.0, 20.0),
                Point::new(80.0, 20.0),
            )),
        },
    ];
    let side = seam(
        "side",
        vec![stretch("Front", "right", 0.0, 1.0)],
        vec![stretch("Back", "left", 1.0, 0.0)],
        Relation::Equal,
    );
    let mut bodice = garment(vec![front, strip("Back", 80.0, 60.0)], vec![side]);
    bodice.tape_lines = vec![girth(
        "bust",
        vec![
            ("Front", at("left", 0.5), at("right", 0.5)),
            ("Back", at("left", 0.5), at("right", 0.5)),
        ],
    )];
    bodice
}

fn princess() -> Altered {
    done(&bodice(), cut(at("hem", 0.4), at("waist", 0.6)))
}

#[test]
fn a_front_cut_from_hem_to_waist_is_two_pieces_whose_areas_add_up() {
    let cut = princess();
    let (inner, outer) = (the(&cut.garment, "Front"), the(&cut.garment, "Side front"));
    assert!(
        (inner.outline.area() - 2400.0).abs() < 1e-6
            && (outer.outline.area() - 3600.0).abs() < 1e-6
    );
    assert_eq!(names(inner), ["hem", "left", "princess", "waist"]);
    assert_eq!(names(outer), ["hem", "princess", "right", "waist"]);
}

#[test]
fn what_is_marked_goes_to_the_part_it_lies_on_and_a_line_over_the_cut_is_cut_with_it() {
    let cut = princess();
    let marks = |piece: &str| -> Vec<String> {
        let marks = &the(&cut.garment, piece).marks;
        marks.iter().map(|mark| mark.name.clone()).collect()
    };
    assert_eq!(marks("Front"), ["inner", "pocket"]);
    assert_eq!(marks("Side front"), ["outer", "pocket"]);
    let length = |piece: &str| {
        let line = the(&cut.garment, piece).marks[1].kind.line().unwrap();
        line.length()
    };
    assert!((length("Front") - 20.0).abs() < 1e-6 && (length("Side front") - 40.0).abs() < 1e-6);
    assert_eq!(the(&cut.garment, "Side front").notches.len(), 1);
    assert!(the(&cut.garment, "Front").notches.is_empty());
}

#[test]
fn the_tape_reads_after_the_cut_what_it_read_before() {
    let (before, cut) = (bodice(), princess());
    let read = |garment: &Garment| {
        tape_measure(&garment.tape_lines[0], &garment.pieces)
            .unwrap()
            .0
    };
    assert!(
        (read(&before) - read(&cut.garment)).abs() < 1e-6,
        "{} {}",
        read(&before),
        read(&cut.garment)
    );
    let lines = |piece: &str| the(&cut.garment, piece).body_lines.len();
    assert_eq!(
        (lines("Front"), lines("Side front")),
        (1, 1),
        "the bust line crosses both"
    );
}

#[test]
fn a_part_off_the_fold_is_cut_as_a_pair_and_its_seams_name_the_right_one() {
    let cut = princess();
    assert_eq!(the(&cut.garment, "Front").copies, vec![WHOLE]);
    assert!(the(&cut.garment, "Front").fold_edge().is_some());
    assert_eq!(the(&cut.garment, "Side front").copies, vec![RIGHT, LEFT]);
    let side = &cut.garment.seams[0].a[0];
    assert_eq!((side.piece.as_str(), side.copy), ("Side front", RIGHT));
    let new = cut.garment.seams.last().unwrap();
    assert_eq!((new.name.as_str(), new.mirrored), ("princess", true));
    assert_eq!((new.a[0].copy, new.b[0].copy), (WHOLE, RIGHT));
    assert!(new.difference(&cut.garment.pieces).unwrap().0.abs() < 1e-9);
}

#[test]
fn an_edge_cut_twice_keeps_its_name_once_and_its_seam_all_along() {
    let p = [(100.0, 15.0), (70.0, 20.0), (70.0, 40.0), (100.0, 45.0)].map(Point::from);
    let change = PiecesChange::Cut {
        piece: "Front".to_owned(),
        from: at("right", 0.25),
        to: at("right", 0.75),
        through: Some(Line::new(p.to_vec()).unwrap()),
        name: "Side front".to_owned(),
        seam: "princess".to_owned(),
    };
    let cut = done(&bodice(), change);
    assert_eq!(
        names(the(&cut.garment, "Front")),
        ["hem", "left", "princess", "right", "right 2", "waist"]
    );
    assert_eq!(
        names(the(&cut.garment, "Side front")),
        ["princess", "right"]
    );
    let side = &cut.garment.seams[0];
    assert_eq!(side.a.len(), 3);
    assert!(side.difference(&cut.garment.pieces).unwrap().0.abs() < 1e-9);
}

#[test]
fn lines_that_cannot_cut_are_refused() {
    let bodice = bodice();
    insta::assert_snapshot!(refused(&bodice, cut(at("hem", 0.4), at("hem", 0.4))), @"the line starts and ends at the same place; end it on another edge");
    insta::assert_snapshot!(refused(&bodice, cut(at("hem", 0.4), at("hem", 0.6))), @"the line runs along the edge; draw it across the piece");
    insta::assert_snapshot!(refused(&bodice, cut(at("hem", 0.4), at("waist", 1.2))), @"waist is 100.0 mm long, and the place lies 20.0 mm beyond its end");
    insta::assert_snapshot!(refused(&bodice, cut(at("hem", 0.4), at("armscye", 0.2))), @"the piece has no edge called armscye any more");
    let through = |points: &[(f64, f64)]| {
        let corners: Vec<Point> = points.iter().map(|p| Point::from(*p)).collect();
        PiecesChange::Cut {
            piece: "Front".to_owned(),
            from: at("hem", 0.4),
            to: at("waist", 0.6),
            through: Line::through_corners(&corners),
            name: "Side front".to_owned(),
            seam: "princess".to_owned(),
        }
    };
    insta::assert_snapshot!(refused(&bodice, through(&[(40.0, 0.0), (40.0, 52.0)])), @"the line ends 8.0 mm beside the outline; draw it from edge to edge");
    insta::assert_snapshot!(refused(&bodice, through(&[(40.0, 0.0), (120.0, 30.0), (40.0, 60.0)])), @"the line leaves the piece 64.1 mm from its start; draw it inside");
    let taken = PiecesChange::Cut {
        piece: "Front".to_owned(),
        from: at("hem", 0.4),
        to: at("waist", 0.6),
        through: None,
        name: "Back".to_owned(),
        seam: "side".to_owned(),
    };
    insta::assert_snapshot!(refused(&bodice, taken), @"another piece is called Back already; choose another name");
}

/// A strip with a dart from the middle of its hem, 10 wide, 30 deep.
fn darted() -> Piece {
    let p = [
        (0.0, 0.0),
        (45.0, 0.0),
        (50.0, 30.0),
        (55.0, 0.0),
        (100.0, 0.0),
        (100.0, 60.0),
        (0.0, 60.0),
    ]
    .map(Point::from);
    let names = [
        "hem left",
        "leg in",
        "leg out",
        "hem right",
        "right",
        "waist",
        "left",
    ];
    let edges = (0..7).map(|i| Edge::seam(names[i], Line::straight(p[i], p[(i + 1) % 7])));
    Piece {
        outline: Outline::new(edges.collect()).unwrap(),
        darts: vec![Dart {
            name: "waist dart".to_owned(),
            leg_in: "leg in".to_owned(),
            leg_out: "leg out".to_owned(),
            pressed: DartPress::Before,
        }],
        ..strip("Front", 1.0, 1.0)
    }
}

#[test]
fn a_dart_stays_whole_or_the_cut_is_refused() {
    let front = garment(vec![darted()], Vec::new());
    insta::assert_snapshot!(refused(&front, cut(at("leg out", 0.0), at("waist", 0.5))), @"the line ends at the tip of waist dart and would part its legs, 10.0 mm wide at the mouth; turn the dart into another edge first, or end the line beside it");
    insta::assert_snapshot!(refused(&front, cut(at("leg in", 0.5), at("waist", 0.9))), @"the line ends on a leg of waist dart, 15.2 mm from its mouth; end it beside the dart, or turn the dart first");
    let beside = done(&front, cut(at("hem right", 0.2), at("waist", 0.2)));
    assert_eq!(the(&beside.garment, "Front").darts.len(), 1);
    assert!(the(&beside.garment, "Side front").darts.is_empty());
    assert!(beside.notes.is_empty(), "{:?}", beside.notes);
}

#[test]
fn a_seam_over_a_cut_edge_lies_on_both_parts_in_sewing_order() {
    let cut = done(&bodice(), cut(at("right", 0.25), at("left", 0.5)));
    let side = &cut.garment.seams[0];
    let pieces: Vec<&str> = side.a.iter().map(|s| s.piece.as_str()).collect();
    assert_eq!(pieces, ["Front", "Side front"]);
    assert!(side.difference(&cut.garment.pieces).unwrap().0.abs() < 1e-9);
    assert!(
        the(&cut.garment, "Side front").fold_edge().is_some(),
        "both parts lie on the fold"
    );
    assert!(the(&cut.garment, "Front").fold_edge().is_some());
    assert_eq!(the(&cut.garment, "Side front").copies, vec![WHOLE]);
}

#[test]
fn a_lined_piece_is_sewn_together_again_in_both_layers() {
    let mut lined = bodice();
    let mut front = Piece::clone(&lined.pieces[0]);
    front.copies.push(crate::piece::Copy {
        role: crate::piece::Role::Lining,
        ..WHOLE
    });
    lined.pieces[0] = Arc::new(front);
    let cut = done(&lined, cut(at("hem", 0.4), at("waist", 0.6)));
    let new: Vec<&str> = cut
        .garment
        .seams
        .iter()
        .skip(1)
        .map(|s| s.name.as_str())
        .collect();
    assert_eq!(new, ["princess", "princess, lining"]);
    assert_eq!(the(&cut.garment, "Side front").copies.len(), 4);
}
