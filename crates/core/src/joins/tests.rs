#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use proptest::prelude::*;

use super::*;
use crate::alteration::Altered;
use crate::check::samples::{LEFT, RIGHT, finished_with, four, garment, seam, stretch, strip};
use crate::drafts::wardrobe::{gored_sunday_skirt, harbour_jacket, net_menders_smock};
use crate::edge::{Edge, Finish};
use crate::geometry::curve::Line;
use crate::geometry::outline::Outline;
use crate::piece::Dart;
use crate::project::Project;
use crate::seams::{Relation, side_length};

/// Two gores, each flaring by `front` and `back` mm at the seam between them, sewn from the waist down.
fn gores(front: f64, back: f64) -> Garment {
    garment(
        vec![
            four(
                "Front",
                [(0.0, 0.0), (100.0 + front, 0.0), (100.0, 60.0), (0.0, 60.0)],
            ),
            four(
                "Back",
                [(-back, 0.0), (80.0, 0.0), (80.0, 60.0), (0.0, 60.0)],
            ),
        ],
        vec![seam(
            "side",
            vec![stretch("Front", "right", 1.0, 0.0)],
            vec![stretch("Back", "left", 0.0, 1.0)],
            Relation::Equal,
        )],
    )
}

fn join(garment: &Garment, at_start: bool) -> Join {
    Join::at(garment, &garment.seams[0], at_start).unwrap()
}

fn trued(garment: &Garment, at_start: bool, to: TrueTo) -> Altered {
    SeamChange::True {
        seam: "side".to_owned(),
        at_start,
        to,
    }
    .applied(garment)
    .unwrap()
}

#[test]
fn two_flared_gores_make_a_point_at_the_hem() {
    let hem = join(&gores(10.0, 10.0), false);
    let angle = 60.0_f64.atan2(10.0).to_degrees();
    assert!((hem.a.angle - angle).abs() < 1e-9 && (hem.b.angle - angle).abs() < 1e-9);
    assert!((hem.off - (2.0 * angle - 180.0)).abs() < 1e-9);
    // 20 mm along the hem the point stands out by 20 mm times the sine of half the turn.
    assert!((hem.off_by.0 - 20.0 * (90.0 - angle).to_radians().sin()).abs() < 1e-9);
    assert_eq!(hem.wanted, TrueTo::Straight);
    let found = untrue_joins(&gores(10.0, 10.0));
    let told: Vec<String> = found.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(told.join("\n"), @r"
side: where Front, waist runs on into Back, waist the corners make 99.5 and 99.5 degrees, 198.9 together instead of 180: a dip of 3.3 mm. Draw it straight over the seam.
side: where Front, hem runs on into Back, hem the corners make 80.5 and 80.5 degrees, 161.1 together instead of 180: a point of 3.3 mm. Draw it straight over the seam.
");
}

#[test]
fn its_remedy_trues_the_join_on_the_garment_and_on_a_fitting() {
    let gores = gores(10.0, 10.0);
    let found = untrue_joins(&gores);
    let mut project = Project {
        garments: vec![std::sync::Arc::new(gores.clone())],
        ..Project::default()
    };
    for finding in found {
        project = project.edited(&finding.remedy.unwrap()).unwrap();
    }
    assert_eq!(untrue_joins(&project.garments[0]), Vec::new());
    let on_fitting = untrue_joins_on(&gores, "skirt for the doll");
    assert!(on_fitting.iter().all(|finding| matches!(
        &finding.remedy,
        Some(Edit::Fitting { fitting, change: FittingEdit::AddAlteration(_) }) if fitting == "skirt for the doll"
    )));
}

#[test]
fn a_straight_hem_is_trued_by_sliding_both_corners_along_the_seam() {
    let before = gores(10.0, 10.0);
    let after = trued(&before, false, TrueTo::Straight);
    let hem = join(&after.garment, false);
    assert!((hem.a.angle + hem.b.angle - 180.0).abs() < 1e-6);
    let length =
        |garment: &Garment, side: &[Stretch]| side_length(side, &garment.pieces).unwrap().0;
    let side = &after.garment.seams[0];
    let (a, b) = (
        length(&after.garment, &side.a),
        length(&after.garment, &side.b),
    );
    assert!((a - b).abs() < 1e-9, "the seam still fits: {a} {b}");
    // A line from far corner to far corner cuts the point off where the gores, laid together, say.
    assert!(a < length(&before, &before.seams[0].a) - 10.0);
    for piece in &after.garment.pieces {
        assert!(piece.outline.edge("hem").unwrap().line.is_straight());
    }
    let told: Vec<String> = after.notes.iter().map(ToString::to_string).collect();
    insta::assert_snapshot!(told.join("\n"), @r"
side: Front, hem moved by up to 16.3 mm and is 1.5 mm shorter. Walk the seams it belongs to.
side: Front, right moved by up to 16.3 mm and is 16.3 mm shorter. Walk the seams it belongs to.
side: Back, hem moved by up to 16.3 mm and is 1.2 mm shorter. Walk the seams it belongs to.
side: Back, left moved by up to 16.3 mm and is 16.3 mm shorter. Walk the seams it belongs to.
");
}

#[test]
fn a_seam_between_mirror_images_wants_square_corners() {
    let half = |copy| Stretch {
        copy,
        ..stretch("Back", "left", 0.0, 1.0)
    };
    let back = four(
        "Back",
        [(-6.0, 0.0), (80.0, 0.0), (80.0, 60.0), (0.0, 60.0)],
    );
    let centre = garment(
        vec![back],
        vec![seam(
            "side",
            vec![half(RIGHT)],
            vec![half(LEFT)],
            Relation::Equal,
        )],
    );
    let hem = join(&centre, false);
    assert_eq!(hem.wanted, TrueTo::Square);
    let after = trued(&centre, false, TrueTo::Square);
    assert!((join(&after.garment, false).a.angle - 90.0).abs() < 1e-6);
    let again = trued(&after.garment, false, TrueTo::Square);
    assert_eq!(again.garment, after.garment);
    insta::assert_snapshot!(again.notes[0], @"side: its corners are true already; nothing moved. Nothing to do.");
}

#[test]
fn where_there_is_nothing_to_true_the_reason_is_given() {
    let why = |garment: &Garment| {
        SeamChange::True {
            seam: "side".to_owned(),
            at_start: false,
            to: TrueTo::Smooth,
        }
        .applied(garment)
        .unwrap_err()
        .to_string()
    };
    let mut inside = gores(10.0, 10.0);
    inside.seams[0].a[0].to = 0.3;
    insta::assert_snapshot!(why(&inside), @"the seam ends inside Front, right, not at a corner; there is nothing to true there");
    let mut folded = gores(10.0, 10.0);
    folded.pieces[1] = std::sync::Arc::new(finished_with(
        Piece::clone(&folded.pieces[1]),
        "hem",
        Finish::Fold,
    ));
    insta::assert_snapshot!(why(&folded), @"Back, hem is the fold of the cloth and runs over no seam; square the other edge to the fold");
    let mut dart = gores(10.0, 10.0);
    std::sync::Arc::make_mut(&mut dart.pieces[0])
        .darts
        .push(Dart {
            name: "dart".to_owned(),
            leg_in: "left".to_owned(),
            leg_out: "hem".to_owned(),
            pressed: crate::piece::DartPress::Before,
        });
    insta::assert_snapshot!(why(&dart), @"Front, hem is a leg of a dart, which is closed first; close or move the dart before truing there");
    let mut gone = gores(10.0, 10.0);
    gone.seams.clear();
    insta::assert_snapshot!(why(&gone), @"there is no seam called side any more");
    let steep = garment(
        vec![
            four(
                "Front",
                [(0.0, 0.0), (100.0, 60.0), (100.0, 80.0), (0.0, 80.0)],
            ),
            four(
                "Back",
                [(0.0, 60.0), (80.0, 60.0), (80.0, 80.0), (0.0, 80.0)],
            ),
        ],
        gores(0.0, 0.0).seams,
    );
    let straight = SeamChange::True {
        seam: "side".to_owned(),
        at_start: false,
        to: TrueTo::Straight,
    };
    insta::assert_snapshot!(straight.applied(&steep).unwrap_err(), @"a straight line there would move the end of the seam by 26.7 mm, more than half of its 20.0 mm; run it smoothly instead, or move the corners first");
}

#[test]
fn corners_where_two_seams_only_cross_are_no_joins() {
    // Sleeve and armscye: the underarm seam and the side seam need not run into each other.
    let mut blouse = gores(10.0, 10.0);
    blouse
        .pieces
        .push(std::sync::Arc::new(strip("Yoke", 100.0, 30.0)));
    blouse.seams.push(seam(
        "yoke",
        vec![stretch("Yoke", "hem", 0.0, 1.0)],
        vec![stretch("Front", "waist", 1.0, 0.0)],
        Relation::Equal,
    ));
    let at: Vec<(String, bool)> = joins(&blouse)
        .into_iter()
        .map(|join| (join.seam, join.at_start))
        .collect();
    assert_eq!(
        at,
        [("side".to_owned(), false), ("yoke".to_owned(), true)],
        "at the waist the front is sewn to the yoke, the back is not"
    );
}

/// What the published drafts need: told here, so that a change of the rules shows.
#[test]
fn the_joins_of_the_wardrobe_are_found() {
    let woman = crate::check::samples::doll("a woman");
    let woman = std::sync::Arc::new(woman.with(
        crate::measure::Measure::Height,
        crate::body::Measured::own_tape(Mm(1628.0)),
    ));
    let told: Vec<String> = [
        harbour_jacket(&woman).unwrap(),
        gored_sunday_skirt(&woman).unwrap(),
        net_menders_smock(&woman).unwrap(),
    ]
    .iter()
    .flat_map(|garment| {
        let all = format!("{}: {} joins", garment.name, joins(garment).len());
        std::iter::once(all).chain(
            untrue_joins(garment)
                .into_iter()
                .map(|finding| finding.to_string()),
        )
    })
    .collect();
    insta::assert_snapshot!(told.join("\n"), @r"
harbour jacket: 12 joins
shoulder: where front, neckline runs on into back, neckline the corners make 59.2 and 90.0 degrees, 149.2 together instead of 180: a point of 5.3 mm. Draw it smoothly over the seam.
side seam: where front, waist side runs on into back, waist the corners make 95.8 and 95.8 degrees, 191.6 together instead of 180: a dip of 2.0 mm. Draw it straight over the seam.
underarm: where sleeve, hem runs on into sleeve, hem the corners make 94.2 and 94.2 degrees, 188.5 together instead of 180: a dip of 1.5 mm. Draw it smoothly over the seam.
cuff ends: where cuff, sleeve edge runs on into cuff, sleeve edge the corners make 96.2 and 96.2 degrees, 192.5 together instead of 180: a dip of 2.2 mm. Draw it smoothly over the seam.
cuff ends: where cuff, outer edge runs on into cuff, outer edge the corners make 83.8 and 83.8 degrees, 167.5 together instead of 180: a point of 2.2 mm. Draw it smoothly over the seam.
five-gored Sunday skirt: 5 joins
front seam: where front, waist runs on into side, waist the corners make 99.5 and 90.0 degrees, 189.5 together instead of 180: a dip of 1.7 mm. Draw it smoothly over the seam.
front seam: where front, hem runs on into side, hem the corners make 80.5 and 90.0 degrees, 170.5 together instead of 180: a point of 1.7 mm. Draw it smoothly over the seam.
back seam: where side, waist runs on into back, waist the corners make 112.7 and 90.0 degrees, 202.7 together instead of 180: a dip of 3.9 mm. Draw it smoothly over the seam.
net mender's smock: 12 joins
shoulder: where front yoke, neckline runs on into back yoke, neckline the corners make 74.3 and 90.0 degrees, 164.3 together instead of 180: a point of 2.7 mm. Draw it smoothly over the seam.
side seam: where front body, hem runs on into back body, hem the corners make 85.4 and 85.4 degrees, 170.9 together instead of 180: a point of 1.6 mm. Draw it smoothly over the seam.
underarm: where sleeve, hem runs on into sleeve, hem the corners make 79.7 and 79.7 degrees, 159.3 together instead of 180: a point of 3.6 mm. Draw it smoothly over the seam.
");
}

fn curved(from: Point, to: Point, bend: (f64, f64)) -> Line {
    let way = to - from;
    let out = Vec2::new(-way.y, way.x);
    Line::new(vec![
        from,
        from + way / 3.0 + out * bend.0,
        from + way * (2.0 / 3.0) + out * bend.1,
        to,
    ])
    .unwrap()
}

use kurbo::Point;

/// A gore with any flare, its hem and its seam curved in any way.
fn gore(
    name: &str,
    mirrored: bool,
    flare: f64,
    seam_bend: (f64, f64),
    hem_bend: (f64, f64),
) -> Piece {
    let p = |x: f64, y: f64| Point::new(if mirrored { -x } else { x }, y);
    let (foot, side, top, middle) = (
        p(0.0, 0.0),
        p(100.0 + flare, 0.0),
        p(100.0, 60.0),
        p(0.0, 60.0),
    );
    let edges = vec![
        Edge::seam("hem", curved(foot, side, hem_bend)),
        Edge::seam("side", curved(side, top, seam_bend)),
        Edge::seam("waist", Line::straight(top, middle)),
        Edge::seam("centre", Line::straight(middle, foot)),
    ];
    Piece {
        outline: Outline::new(edges).unwrap(),
        ..strip(name, 1.0, 1.0)
    }
}

fn any_bend() -> impl Strategy<Value = (f64, f64)> {
    prop_oneof![Just((0.0, 0.0)), (-0.15..0.15_f64, -0.15..0.15_f64),]
}

proptest! {
    #[test]
    fn trued_corners_make_exactly_a_straight_or_a_square(
        flares in (-12.0..25.0_f64, -12.0..25.0_f64),
        seams in any_bend(),
        hems in (any_bend(), any_bend()),
        which in 0..3_usize,
    ) {
        let front = gore("Front", false, flares.0, seams, hems.0);
        let back = gore("Back", true, flares.1, seams, hems.1);
        let ends = |piece: &Piece| {
            let down = piece.outline.edge("side").unwrap().line.start().y > 30.0;
            if down { (0.0, 1.0) } else { (1.0, 0.0) }
        };
        let ((a0, a1), (b0, b1)) = (ends(&front), ends(&back));
        let skirt = garment(
            vec![front, back],
            vec![seam(
                "side",
                vec![stretch("Front", "side", a0, a1)],
                vec![stretch("Back", "side", b0, b1)],
                Relation::Equal,
            )],
        );
        let before = skirt.seams[0].difference(&skirt.pieces).unwrap().0;
        let to = [TrueTo::Straight, TrueTo::Smooth, TrueTo::Square][which];
        let change = SeamChange::True { seam: "side".to_owned(), at_start: false, to };
        let Ok(after) = change.applied(&skirt) else {
            // A straight line may lie too far off; bending never does here.
            prop_assert_eq!(to, TrueTo::Straight);
            return Ok(());
        };
        let hem = join(&after.garment, false);
        prop_assert!((hem.a.angle + hem.b.angle - 180.0).abs() < 1e-6, "{:?}", hem);
        if to == TrueTo::Square {
            prop_assert!((hem.a.angle - 90.0).abs() < 1e-6);
        }
        let now = after.garment.seams[0].difference(&after.garment.pieces).unwrap().0;
        prop_assert!((now - before).abs() < 1e-6, "the seam fits as it did: {before} {now}");
        prop_assert_eq!(&after.garment.seams, &skirt.seams);
    }
}
