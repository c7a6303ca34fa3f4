//! Clips against closed forms, lengths by hand count, words and pictures of small garments.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use kurbo::Shape;

use super::*;
use crate::Mm;
use crate::body::{Body, BodyKind};
use crate::bulk::bulk;
use crate::check::samples::{
    LEFT, RIGHT, WHOLE, adapted, doll, finished_with, four, garment, seam, stretch, strip,
};
use crate::closure::Closure;
use crate::dressing::dressing;
use crate::edge::{EdgeRef, Finish};
use crate::finish::Finished;
use crate::fitting::Fitting;
use crate::fullness::{Fullness, FullnessOp};
use crate::garment::{Garment, Opening, Passing};
use crate::making_order::{Lies, Step};
use crate::notch::{Notch, NotchKind};
use crate::piece::{Copy, Face, Piece};
use crate::seams::{Insert, InsertKind, Relation, SeamKind};

mod suited;

/// A step by hand: only what a test is about.
fn step(key: &str, work: Work, copies: &[(&str, Copy)], edges: &[(&str, &str)]) -> Step {
    Step {
        key: key.to_owned(),
        work,
        copies: copies.iter().map(|(p, c)| ((*p).to_owned(), *c)).collect(),
        edges: edges.iter().map(|(p, e)| EdgeRef::new(*p, *e)).collect(),
        lies: Lies::Flat,
        girth: None,
        length: Mm(0.0),
        times: 1,
        goes_on: false,
        then_press: None,
        by: By::Machine,
        by_why: String::new(),
        rules: Vec::new(),
        after: Vec::new(),
    }
}

/// The sheet of these steps, with the stacks and openings the garment has.
fn sheet_of(finished: &Finished, order: &Order) -> MakingSheet {
    sheet_on(finished, order, &Machine::default())
}

fn sheet_on(finished: &Finished, order: &Order, machine: &Machine) -> MakingSheet {
    let unit = LengthUnit::Millimetre;
    making_sheet(&Basis {
        finished,
        order,
        bulk: &bulk(finished, Some(order), machine, unit),
        dressing: &dressing(&finished.filled, &[]),
        machine,
        unit,
    })
}

fn order(steps: Vec<Step>) -> Order {
    Order {
        steps,
        ..Order::default()
    }
}

fn finished_on(garment: Garment, body: Body, with: impl FnOnce(&mut Fitting)) -> Finished {
    let mut adapted = adapted(garment, body);
    let mut fitting = Fitting::clone(&adapted.fitting);
    with(&mut fitting);
    adapted.fitting = std::sync::Arc::new(fitting);
    crate::check::samples::finished(adapted)
}

fn finished(garment: Garment) -> Finished {
    finished_on(garment, doll("doll"), |_| {})
}

fn named(mut piece: Piece, copies: &[Copy]) -> Piece {
    piece.copies = copies.to_vec();
    piece
}

/// Front on the fold and a pair of backs, sewn at the side; the fold is the front's left edge.
fn smock() -> Garment {
    let front = finished_with(
        finished_with(strip("front", 60.0, 80.0), "left", Finish::Fold),
        "hem",
        Finish::Hem {
            width: Some(Mm(5.0)),
            turns: 2,
        },
    );
    let mut front = front;
    front.notches.push(Notch {
        edge: "right".into(),
        fraction: 0.25,
        kind: NotchKind::Single,
    });
    let back = named(strip("back", 55.0, 80.0), &[RIGHT, LEFT]);
    let mut side = seam(
        "side seam",
        vec![stretch("front", "right", 0.0, 1.0)],
        vec![crate::seams::Stretch {
            copy: RIGHT,
            ..stretch("back", "left", 1.0, 0.0)
        }],
        Relation::Equal,
    );
    side.mirrored = true;
    garment(vec![front, back], vec![side])
}

fn side_step(side: Copy) -> Step {
    step(
        "sew side seam",
        Work::Seam {
            seam: "side seam".into(),
        },
        &[("front", WHOLE), ("back", side)],
        &[("front", "right"), ("back", "left")],
    )
}

#[test]
fn the_cutting_list_unfolds_what_is_cut_on_the_fold_and_tells_mirrored_pairs() {
    let list = cutting_list(&finished(smock()));
    let words: Vec<String> = list
        .iter()
        .map(|row| {
            format!(
                "{}: {}; {}",
                row.piece,
                row.count_words(),
                row.size_words(LengthUnit::Millimetre)
            )
        })
        .collect();
    // Front: 2 x (60 + 6.35) wide, 80 + 10 + 6.35 long; back: 6.35 all round.
    insta::assert_snapshot!(words.join("\n"), @r"
front: 1 on the fold; 96.4 x 132.7 mm
back: 2, a mirrored pair; 92.7 x 67.7 mm
");
    let front = list.iter().find(|row| row.piece == "front").unwrap();
    assert!((front.area - front.along.0 * front.across.0).abs() < 1e-6);
}

#[test]
fn a_side_seam_is_told_with_its_side_its_allowance_its_notch_and_how_it_is_pressed() {
    let sheet = sheet_of(&finished(smock()), &order(vec![side_step(LEFT)]));
    let one = &sheet.steps[0];
    insta::assert_snapshot!(format!("{}\n{}", one.sentence, one.notes.join("\n")), @r"
Right sides together, sew front right to back left on the left.
Allowance 6.35 mm.
Match notches: single at 20 mm on front right.
Press as sewn, then open.
");
}

#[test]
fn right_sides_together_the_upper_piece_lies_wrong_side_up_with_its_edge_on_the_others_edge() {
    let mut clothes = smock();
    // A back that is longer by its hem, so that it hides the lower edge of the front.
    let hem = Finish::Hem {
        width: Some(Mm(10.0)),
        turns: 2,
    };
    let longer = finished_with(Piece::clone(&clothes.pieces[1]), "hem", hem);
    clothes.pieces[1] = std::sync::Arc::new(longer);
    let garment = finished(clothes);
    for copy in [RIGHT, LEFT] {
        let shown = picture(&garment, &side_step(copy)).unwrap();
        assert!(shown.on_top);
        let [below, above] = shown.pieces.as_slice() else {
            panic!("two pieces")
        };
        assert_eq!((below.up, above.up), (Face::Right, Face::Wrong));
        assert!(!above.shade.elements().is_empty() && below.shade.elements().is_empty());
        let (a, b) = (
            below.worked[0].bounding_box(),
            above.worked[0].bounding_box(),
        );
        assert!(
            (a.x0 - b.x0).abs() < 1e-6 && (a.y0 - b.y0).abs() < 1e-6 && (a.y1 - b.y1).abs() < 1e-6
        );
        // On the side of the body that is sewn: drawn half for the right, mirrored half for the left.
        assert!((a.x0 > 0.0) == (copy == RIGHT), "{a:?}");
        // The back lies on the front, not beside it.
        let inner = above.cut.bounding_box().intersect(below.cut.bounding_box());
        assert!(inner.area() > 0.9 * above.cut.bounding_box().area());
        // What it hides of the front is not drawn: of the lower edge, 127 mm, the half under the back.
        let length = |path: &kurbo::BezPath| path.perimeter(0.01);
        let hidden = length(&below.cut) - length(&below.seen);
        assert!((55.0..75.0).contains(&hidden), "{hidden}");
        let lid = above.cut.bounding_box().inset(-1.0);
        let is_seen_inside = below
            .seen
            .segments()
            .any(|part| lid.contains(kurbo::ParamCurve::eval(&part, 0.5)));
        assert!(!is_seen_inside);
    }
}

#[test]
fn the_shade_of_a_wrong_side_stays_inside_the_cut_line() {
    let hem = step("hem", Work::Hem, &[("front", WHOLE)], &[("front", "hem")]);
    let shown = picture(&finished(smock()), &hem).unwrap();
    let piece = &shown.pieces[0];
    assert_eq!(piece.up, Face::Wrong);
    let bounds = piece.cut.bounding_box();
    let shade = piece.shade.bounding_box();
    assert!(
        bounds.inflate(1e-6, 1e-6).contains_rect(shade),
        "{bounds:?} {shade:?}"
    );
    assert_eq!(piece.worked.len(), 2, "the hem of both halves");
}

#[test]
fn every_kind_of_work_is_one_short_sentence_with_a_full_stop() {
    let mut clothes = smock();
    let mut skirt = named(strip("skirt", 90.0, 40.0), &[WHOLE]);
    skirt
        .fullness
        .push(FullnessOp::new("waist", Fullness::Gathers { ratio: 2.0 }));
    skirt.fullness.push(FullnessOp::new(
        "hem",
        Fullness::KnifePleats {
            count: 3,
            depth: Mm(5.0),
        },
    ));
    clothes.pieces.push(std::sync::Arc::new(finished_with(
        skirt,
        "left",
        Finish::Casing { width: Mm(8.0) },
    )));
    clothes.openings.push(Opening {
        name: "back".into(),
        hole: vec![EdgeRef::new("front", "waist")],
        slit: vec![EdgeRef::new("back", "right")],
        passes: Passing::Head,
    });
    let finished = finished_on(clothes, doll("doll"), |fitting| {
        fitting
            .closures
            .insert("back".into(), Closure::Snaps { diameter: Mm(5.0) });
    });
    let on = |work: Work, piece: &str, edge: &str| {
        step("key", work, &[(piece, WHOLE)], &[(piece, edge)])
    };
    let edge = |e: &str| e.to_owned();
    let steps = vec![
        step("cut", Work::CutOut, &[], &[]),
        on(Work::FlatLine, "front", "hem"),
        on(
            Work::Dart {
                dart: edge("waist dart"),
            },
            "front",
            "waist",
        ),
        on(
            Work::Tucks {
                edge: edge("waist"),
            },
            "front",
            "waist",
        ),
        on(Work::Pleats { edge: edge("hem") }, "skirt", "hem"),
        on(
            Work::Gather {
                edge: edge("waist"),
            },
            "skirt",
            "waist",
        ),
        side_step(RIGHT),
        on(Work::Hem, "front", "hem"),
        on(Work::Casing, "skirt", "left"),
        on(Work::Face, "front", "waist"),
        on(Work::Slit, "back", "right"),
        on(Work::Neaten, "front", "waist"),
        on(
            Work::Turn {
                through: edge("gap in the hem"),
            },
            "front",
            "hem",
        ),
        on(Work::CloseGap, "front", "hem"),
        on(
            Work::Fell {
                at: edge("armscye"),
            },
            "front",
            "waist",
        ),
        step(
            "close",
            Work::Closure {
                opening: edge("back"),
            },
            &[("back", RIGHT)],
            &[("back", "right")],
        ),
        step("press", Work::Press, &[("front", WHOLE)], &[]),
        step("try", Work::TryOn, &[], &[]),
    ];
    let sheet = sheet_of(&finished, &order(steps));
    let sentences: Vec<&str> = sheet.steps.iter().map(|s| s.sentence.as_str()).collect();
    for sentence in &sentences {
        assert!(
            sentence.ends_with('.') && sentence.len() < 130,
            "{sentence}"
        );
        assert!(sentence.starts_with(char::is_uppercase), "{sentence}");
    }
    insta::assert_snapshot!(sentences.join("\n"), @r"
Cut out 4 pieces, mark notches, dots and stitch lines on the wrong side.
Lay the flat lining on the wrong side of front and baste them as one.
Fold front, right side inside, and sew the waist dart from the edge to the point.
Sew the tucks at the waist of front.
Fold and baste the pleats at the hem of skirt.
Gather the waist of skirt to 90 mm.
Right sides together, sew front right to back left on the right.
Turn the hem of front 5 mm twice to the wrong side and sew it down along the fold.
Turn the left of skirt 8 mm to the wrong side as a casing and sew it down.
Sew the facing to the waist of front, right sides together, and turn it to the wrong side.
Turn the right of back to the wrong side and sew it down.
Overcast the raw waist of front.
Turn it right side out through the gap in the hem; push the corners out with a blunt point.
Close the gap in the hem of front by hand.
Fell the lining by hand to the wrong side at the armscye.
Sew 3 snaps, 5 mm to the back opening.
Press front from the wrong side.
Try it on the body, right side out; mark with pins what must change.
");
}

#[test]
fn elastic_ribbon_and_binding_are_as_long_as_counted_by_hand() {
    let sleeve = finished_with(
        named(strip("sleeve", 100.0, 60.0), &[RIGHT, LEFT]),
        "hem",
        Finish::Casing { width: Mm(6.0) },
    );
    let mut clothes = garment(
        vec![sleeve, named(strip("band", 100.0, 20.0), &[WHOLE])],
        Vec::new(),
    );
    let mut bound = seam(
        "band seam",
        vec![stretch("band", "hem", 0.0, 1.0)],
        vec![stretch("band", "waist", 0.0, 1.0)],
        Relation::Equal,
    );
    bound.kind = SeamKind::Bound;
    bound.inserts.push(Insert {
        name: "lace".into(),
        kind: InsertKind::Lace,
        thickness: Mm(0.2),
        from: 0.25,
        to: 0.75,
    });
    clothes.seams.push(bound);
    clothes.openings.push(Opening {
        name: "wrist".into(),
        hole: vec![EdgeRef::new("sleeve", "hem")],
        slit: Vec::new(),
        passes: Passing::Hand,
    });
    let rows = |closure: Option<Closure>| {
        let finished = finished_on(clothes.clone(), doll("doll"), |fitting| {
            if let Some(closure) = closure {
                fitting.closures.insert("wrist".into(), closure);
            }
        });
        sheet_of(&finished, &order(Vec::new())).materials
    };
    let of = |rows: &[Material], what: &str| {
        let row = rows
            .iter()
            .find(|row| row.what == what)
            .unwrap_or_else(|| panic!("{what}: {rows:?}"));
        (row.count, row.length.unwrap().0)
    };
    let elastic = rows(Some(Closure::Elastic {
        relaxed: Mm(52.0),
        stretched: Mm(104.0),
    }));
    // Two wrists, a ring of 52 and 10 to join.
    assert_eq!(of(&elastic, "elastic"), (Some(2), 62.0));
    assert!(
        elastic
            .iter()
            .all(|row| row.what != "tape or elastic for a casing")
    );
    // Casing of 100, tails of 60 (more than 0.35 x 100) at each end.
    assert_eq!(
        of(&rows(Some(Closure::Drawstring)), "cord or ribbon"),
        (Some(2), 220.0)
    );
    // Nothing chosen: elastic a tenth shorter than the wrist of 54.3 mm, as the dressing suggests.
    let unchosen = rows(None);
    let (count, length) = of(&unchosen, "elastic");
    assert_eq!((count, length.round()), (Some(2), 59.0));
    // 100 and 10 at each end; half of it and 10 at each end.
    assert_eq!(of(&unchosen, "bias binding"), (Some(1), 120.0));
    assert_eq!(of(&unchosen, "lace"), (Some(1), 70.0));
}

#[test]
fn a_doll_is_kept_from_the_iron_and_a_small_child_from_small_parts_and_cords() {
    let sheet = |body: Body| sheet_of(&finished_on(smock(), body, |_| {}), &order(Vec::new()));
    let woman = sheet(Body::new("woman", BodyKind::Woman)).cautions;
    assert_eq!(woman.len(), 1);
    let doll = sheet(doll("doll")).cautions.join("\n");
    for word in [
        "16 CFR 1501",
        "EN 71-1",
        "220 mm",
        "380 mm",
        "vinyl",
        "where you live",
    ] {
        assert!(doll.contains(word), "{word}: {doll}");
    }
}

#[test]
fn a_ribbon_longer_than_a_small_child_may_have_is_told() {
    let mut clothes = smock();
    clothes.seams[0].inserts.push(Insert {
        name: "tie".into(),
        kind: InsertKind::Tie,
        thickness: Mm(0.3),
        from: 0.4,
        to: 0.5,
    });
    let said = |garment: Garment| {
        let sheet = sheet_of(&finished(garment), &order(Vec::new()));
        sheet.cautions.join("\n")
    };
    assert!(
        said(clothes.clone()).contains("The longest here is 124.3 mm."),
        "{}",
        said(clothes)
    );
    assert!(!said(smock()).contains("longest here"));
}

#[test]
fn a_doll_in_fine_cloth_gets_the_shortest_stitch() {
    let length = |body: Body, thickness: f64| {
        let finished = finished_on(smock(), body, |fitting| {
            let cloth = crate::cloth::Cloth {
                name: "cotton lawn".into(),
                thickness: Mm(thickness),
                source: String::new(),
            };
            fitting.cloths.insert(crate::piece::Role::Shell, cloth);
        });
        stitches(&finished).machine.0
    };
    let woman = || Body::new("woman", BodyKind::Woman);
    assert_eq!(
        [
            length(doll("d"), 0.165),
            length(doll("d"), 0.36),
            length(woman(), 0.165),
            length(woman(), 0.36)
        ],
        [1.5, 1.8, 2.0, 2.5]
    );
}

#[test]
fn a_corner_that_turns_inwards_is_clipped_into_and_french_seams_stay_whole() {
    let p = |x: f64, y: f64| (x, y);
    // The right edge leans in so that the waist corner is hollow: an arrow head.
    let piece = four(
        "yoke",
        [p(0.0, 0.0), p(60.0, 0.0), p(30.0, 20.0), p(0.0, 60.0)],
    );
    let cuts = curve_cuts(&finished(garment(vec![piece.clone()], Vec::new())));
    assert!(cuts.is_empty(), "{cuts:?}");
    let dented = four(
        "yoke",
        [p(0.0, 0.0), p(60.0, 0.0), p(15.0, 15.0), p(0.0, 60.0)],
    );
    let cuts = curve_cuts(&finished(garment(vec![dented.clone()], Vec::new())));
    assert_eq!(cuts.len(), 1);
    insta::assert_snapshot!(cuts[0].words(LengthUnit::Millimetre), @"yoke, waist: clip into the corner at the right, to 1 mm before the stitch line");
    let mut french = seam(
        "s",
        vec![stretch("yoke", "waist", 0.0, 1.0)],
        vec![stretch("yoke", "right", 0.0, 1.0)],
        Relation::Equal,
    );
    french.kind = SeamKind::French;
    assert!(curve_cuts(&finished(garment(vec![dented], vec![french]))).is_empty());
}

#[test]
fn ticked_steps_are_counted() {
    let finished = finished_on(smock(), doll("doll"), |fitting| {
        fitting.making.done.insert("sew side seam".into());
    });
    let steps = vec![side_step(RIGHT), step("try", Work::TryOn, &[], &[])];
    let sheet = sheet_of(&finished, &order(steps));
    assert_eq!(sheet.progress_words(), "1 of 2 done");
    assert!(sheet.steps[0].done && sheet.steps[1].try_on);
}
