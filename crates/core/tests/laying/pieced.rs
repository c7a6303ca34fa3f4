//! Which ways to piece are offered, in which order, and what they cost.

use std::collections::BTreeMap;

use petitoile_core::Mm;
use petitoile_core::edge::Finish;
use petitoile_core::fullness::{Fullness, FullnessOp};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::PiecingKind;
use petitoile_core::laying::{
    CopyToLay, Hidden, HiddenPiece, PieceLaying, PiecedWay, ToLay, joined_from, to_lay,
};
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{Copy, Follow, FollowRule, Piece, Placement, Role};
use petitoile_core::units::LengthUnit;

use super::samples::{WHOLE, allow, area, bounds, finished, on_fold, piece, rectangle, to_lay_of};

const SEAM: f64 = 6.0;

fn pieced(piece: Piece) -> CopyToLay {
    let name = piece.name.clone();
    let mut laid = to_lay_of(vec![piece], |fitting| {
        fitting.allowances.seam = Mm(SEAM);
        allow(fitting, &[&name]);
    });
    laid.copies.swap_remove(0)
}

fn of_kind(copy: &CopyToLay, kind: PiecingKind) -> Vec<&PiecedWay> {
    copy.pieced
        .iter()
        .filter(|way| way.piecing.kind == kind)
        .collect()
}

fn fold_way(laid: &ToLay, place: usize) -> (u32, &str) {
    let ways = of_kind(&laid.copies[place], PiecingKind::AlongFold);
    let [way] = ways.as_slice() else {
        panic!("{ways:?}")
    };
    (way.cost, way.why.as_str())
}

#[test]
fn a_seam_on_the_fold_costs_least_under_a_garment_then_behind_then_in_front() {
    let mut sleeve = on_fold("Sleeve", 42.0, 60.0);
    sleeve.placement = Placement::Framed(petitoile_core::piece::Frame::Arm);
    let mut front = on_fold("Front", 42.0, 60.0);
    front.copies.push(Copy {
        role: Role::Lining,
        ..WHOLE
    });
    let pieces = vec![
        front,
        on_fold("Back", 42.0, 60.0),
        sleeve,
        on_fold("Front skirt", 42.0, 60.0),
    ];
    let under = HiddenPiece {
        by: "Apron".to_owned(),
        whole: false,
    };
    let hidden = Hidden {
        pieces: BTreeMap::from([("Front skirt".to_owned(), under)]),
    };
    let finished = finished(pieces, |fitting| {
        fitting.allowances.seam = Mm(SEAM);
        allow(fitting, &["Front", "Back", "Sleeve", "Front skirt"]);
    });
    let laid = to_lay(&finished, &hidden, LengthUnit::Millimetre).outcome;
    let told: Vec<_> = (0..5).map(|i| fold_way(&laid, i)).collect();
    assert_eq!(
        told,
        [
            (8, "a seam at the centre front"),
            (1, "a seam along the former fold, seen from inside only"),
            (2, "a seam at the centre back"),
            (3, "a seam along the former fold"),
            (1, "a seam along the former fold, hidden under Apron"),
        ]
    );
}

#[test]
fn by_itself_a_new_seam_stands_only_where_nobody_sees_it_and_in_strips() {
    let mut front = on_fold("Front", 42.0, 60.0);
    front.copies.push(Copy {
        role: Role::Lining,
        ..WHOLE
    });
    let pieces = vec![front, on_fold("Apron skirt", 42.0, 60.0), band(288.0, 28.0)];
    let under = HiddenPiece {
        by: "Apron".to_owned(),
        whole: true,
    };
    let hidden = Hidden {
        pieces: BTreeMap::from([("Apron skirt".to_owned(), under)]),
    };
    let finished = finished(pieces, |fitting| fitting.allowances.seam = Mm(SEAM));
    let laid = to_lay(&finished, &hidden, LengthUnit::Millimetre).outcome;
    let offered = |place: usize| {
        let of = |kind| !of_kind(&laid.copies[place], kind).is_empty();
        (
            of(PiecingKind::AlongFold),
            of(PiecingKind::Patch),
            of(PiecingKind::Strip),
        )
    };
    assert_eq!(offered(0), (false, false, false), "the front shows");
    assert_eq!(offered(1), (true, true, false), "its lining does not");
    assert_eq!(
        offered(2),
        (true, true, false),
        "nor what lies under an apron"
    );
    assert_eq!(offered(3), (false, false, true), "a band is joined");
}

#[test]
fn the_maker_can_forbid_every_way() {
    let chosen = PieceLaying {
        seam_on_fold: Some(false),
        patch: Some(false),
        join: Some(false),
        ..PieceLaying::default()
    };
    let pieces = vec![on_fold("Front", 42.0, 60.0), rectangle("Band", 200.0, 20.0)];
    let laid = to_lay_of(pieces, |fitting| {
        for name in ["Front", "Band"] {
            fitting.laying.pieces.insert(name.to_owned(), chosen);
        }
    });
    assert!(laid.copies.iter().all(|copy| copy.pieced.is_empty()));
}

#[test]
fn a_patch_on_a_rectangle_is_a_rectangle_across_its_end() {
    let copy = pieced(rectangle("Panel", 100.0, 60.0));
    let patches = of_kind(&copy, PiecingKind::Patch);
    // With allowances the panel is 112 by 72: the least patch is 9 deep (6 + 3), square to the grain 112 long.
    let across: Vec<_> = patches
        .iter()
        .filter(|way| bounds(&way.parts[1].outline) == (-6.0, 57.0 - 6.0, 106.0, 66.0))
        .collect();
    let [way] = across.as_slice() else {
        panic!(
            "{:?}",
            patches
                .iter()
                .map(|w| bounds(&w.parts[1].outline))
                .collect::<Vec<_>>()
        )
    };
    assert!((area(&way.parts[1].outline) - 112.0 * (9.0 + SEAM)).abs() < 1e-9);
    assert!((area(&way.parts[0].outline) - 112.0 * (72.0 - 9.0 + SEAM)).abs() < 1e-9);
    assert_eq!(way.cost, 3);
}

/// A square that stands on a corner: its patches are triangles.
#[test]
fn a_patch_on_a_right_angled_corner_across_the_grain_is_a_triangle() {
    let raw = Finish::Raw;
    let kerchief = piece(
        "Kerchief",
        &[(0.0, 0.0), (100.0, 100.0), (0.0, 200.0), (-100.0, 100.0)],
        &[("a", raw), ("b", raw), ("c", raw), ("d", raw)],
    );
    let copy = pieced(kerchief);
    let patches = of_kind(&copy, PiecingKind::Patch);
    // Depths 9, 24 and 50 (12 and 25 % of 200) at four corners; a triangle of depth d has the area d2 and a seam of 2 d.
    let mut depths: Vec<f64> = Vec::new();
    for way in &patches {
        let (a, b) = way.piecing.lines[0];
        let depth = (b - a).hypot() / 2.0;
        depths.push(depth);
        let patch = area(&way.parts[1].outline);
        assert!(
            (patch - (depth * depth + SEAM * 2.0 * depth)).abs() < 1e-6,
            "{}",
            way.why
        );
        assert!(
            (a.x - b.x).abs() < 1e-9 || (a.y - b.y).abs() < 1e-9,
            "on the straight grain"
        );
    }
    depths.sort_by(f64::total_cmp);
    let asked = [[9.0; 4], [24.0; 4], [50.0; 4]].concat();
    assert_eq!(depths.len(), 12);
    for (depth, asked) in depths.iter().zip(asked) {
        assert!((depth - asked).abs() < 1e-6, "{depths:?}");
    }
}

#[test]
fn patches_follow_a_slanting_grain() {
    let mut panel = rectangle("Panel", 100.0, 100.0);
    panel.grainline = Some(((20.0, 20.0).into(), (80.0, 80.0).into()));
    let copy = pieced(panel);
    let patches = of_kind(&copy, PiecingKind::Patch);
    assert!(!patches.is_empty());
    for way in patches {
        let (a, b) = way.piecing.lines[0];
        let (dx, dy) = ((b.x - a.x).abs(), (b.y - a.y).abs());
        assert!((dx - dy).abs() < 1e-6, "{dx} {dy}: at 45 degrees");
    }
}

#[test]
fn a_patch_keeps_off_notches_at_a_price() {
    let cost_of = |notched: bool| {
        let mut panel = rectangle("Panel", 100.0, 60.0);
        if notched {
            // 3 mm inside the stitch line: where the least patch is sewn on.
            panel.notches.push(Notch {
                edge: "right".to_owned(),
                fraction: 57.0 / 60.0,
                kind: NotchKind::Single,
            });
        }
        let copy = pieced(panel);
        let at_waist = |way: &&&PiecedWay| {
            let (a, b): (Point, Point) = way.piecing.lines[0];
            (a.y - 57.0).abs() < 1e-9 && (b.y - 57.0).abs() < 1e-9
        };
        let ways = of_kind(&copy, PiecingKind::Patch);
        ways.iter().find(at_waist).unwrap().cost
    };
    assert_eq!((cost_of(false), cost_of(true)), (3, 4));
}

#[test]
fn a_piece_alike_on_both_sides_may_be_patched_on_both_at_twice_the_cost() {
    let raw = Finish::Raw;
    let back = piece(
        "Back",
        &[(0.0, 0.0), (60.0, 0.0), (40.0, 80.0), (0.0, 80.0)],
        &[
            ("hem", raw),
            ("side", raw),
            ("waist", raw),
            ("centre back", Finish::Fold),
        ],
    );
    let copy = pieced(back);
    let twins: Vec<_> = of_kind(&copy, PiecingKind::Patch)
        .into_iter()
        .filter(|way| way.piecing.lines.len() == 2)
        .collect();
    assert!(!twins.is_empty());
    for way in &twins {
        assert_eq!((way.cost, way.parts.len()), (4, 3), "{}", way.why);
        let (a, b) = (area(&way.parts[1].outline), area(&way.parts[2].outline));
        assert!((a - b).abs() < 1e-6);
    }
    assert_eq!(
        twins[0].words(),
        "a patch on both sides, 9 mm deep at hem and side; 2 seams, 3 parts"
    );
}

fn band(width: f64, height: f64) -> Piece {
    let mut band = rectangle("Band", width, height);
    let rule = FollowRule::Detail;
    band.placement = Placement::Follows(Follow {
        length: rule.clone(),
        depth: rule,
    });
    band
}

#[test]
fn a_band_is_joined_of_two_up_to_six_even_segments() {
    let copy = pieced(band(288.0, 28.0));
    let strips = of_kind(&copy, PiecingKind::Strip);
    let told: Vec<_> = strips
        .iter()
        .map(|way| (way.parts.len(), way.cost, way.why.as_str()))
        .collect();
    assert_eq!(
        told,
        [
            (2, 3, "joined of 2, straight"),
            (2, 3, "joined of 2, a long and a short one, straight"),
            (3, 6, "joined of 3, straight"),
            (4, 9, "joined of 4, straight"),
            (5, 12, "joined of 5, straight"),
            (6, 15, "joined of 6, straight"),
        ]
    );
    // 300 long as cut; three segments lose two allowances at each of two joins: 324 / 3.
    let lengths: Vec<f64> = strips[2]
        .parts
        .iter()
        .map(|part| bounds(&part.outline))
        .map(|b| b.2 - b.0)
        .collect();
    assert!(
        lengths.iter().all(|length| (length - 108.0).abs() < 1e-6),
        "{lengths:?}"
    );
    assert!(
        of_kind(&pieced(band(100.0, 28.0)), PiecingKind::Strip).is_empty(),
        "too short for a strip"
    );
}

#[test]
fn left_over_strips_make_a_band_where_they_reach() {
    let copy = pieced(band(288.0, 28.0));
    let from = |bits: &[f64]| {
        let bits: Vec<Mm> = bits.iter().map(|bit| Mm(*bit)).collect();
        joined_from(&copy, &bits)
    };
    // 300 long as cut: 140 + 120 + 75 less two allowances at each of two joins reach 311; 20 is too short to be worth joining.
    let way = from(&[75.0, 140.0, 120.0, 20.0]).unwrap();
    assert_eq!((way.parts.len(), way.cost), (3, 6));
    assert_eq!(
        way.words(),
        "joined of 3 left-over strips, straight; 2 seams, 3 parts"
    );
    let mut lengths: Vec<f64> = way
        .parts
        .iter()
        .map(|part| bounds(&part.outline))
        .map(|b| b.2 - b.0)
        .collect();
    lengths.sort_by(f64::total_cmp);
    for (length, bit) in lengths.iter().zip([75.0, 120.0, 140.0]) {
        assert!(*length <= bit + 1e-6, "{lengths:?}");
    }
    assert!((lengths.iter().sum::<f64>() - (300.0 + 24.0)).abs() < 1e-6);
    assert_eq!(from(&[150.0, 100.0]), None, "they do not reach");
    assert_eq!(from(&[400.0]), None, "one is enough");
    assert_eq!(
        joined_from(
            &pieced(rectangle("Panel", 100.0, 60.0)),
            &[Mm(80.0), Mm(80.0)]
        ),
        None
    );
}

#[test]
fn a_strip_on_the_bias_is_joined_along_the_grain() {
    let mut binding = band(288.0, 18.0);
    binding.grainline = Some(((20.0, 0.0).into(), (30.0, 10.0).into()));
    let copy = pieced(binding);
    let strips = of_kind(&copy, PiecingKind::Strip);
    assert_eq!(strips[0].why, "joined of 2, slanting");
    let (a, b) = strips[0].piecing.lines[0];
    assert!(
        ((b.x - a.x).abs() - (b.y - a.y).abs()).abs() < 1e-6,
        "{a:?} {b:?}"
    );
    assert!(
        ((b.y - a.y).abs() - 30.0).abs() < 1e-6,
        "from edge to edge: {a:?} {b:?}"
    );
}

#[test]
fn gathers_hide_the_joins_of_a_ruffle() {
    let mut ruffle = band(288.0, 28.0);
    ruffle.fullness.push(FullnessOp {
        edge: "waist".to_owned(),
        from: 0.0,
        to: 1.0,
        fullness: Fullness::Gathers { ratio: 1.5 },
        even_to: Some("hem".to_owned()),
        layout: Default::default(),
    });
    let copy = pieced(ruffle);
    let strips = of_kind(&copy, PiecingKind::Strip);
    assert_eq!(
        (strips[0].cost, strips[0].why.as_str()),
        (1, "joined of 2, straight, hidden in the gathers")
    );
}

#[test]
fn alike_copies_are_offered_the_same_ways_each_for_itself() {
    let mut cuff = rectangle("Cuff", 100.0, 60.0);
    cuff.copies = vec![
        WHOLE,
        WHOLE,
        Copy {
            side: petitoile_core::piece::Side::Left,
            role: Role::Shell,
        },
    ];
    let laid = to_lay_of(vec![cuff], |fitting| allow(fitting, &["Cuff"]));
    let lines = |copy: &CopyToLay| {
        copy.pieced
            .iter()
            .map(|w| w.piecing.lines.clone())
            .collect::<Vec<_>>()
    };
    for copy in &laid.copies {
        assert_eq!(lines(copy), lines(&laid.copies[0]));
        assert!(copy.pieced.iter().all(|way| way.piecing.of == copy.of));
        assert!(
            copy.pieced
                .iter()
                .flat_map(|way| &way.parts)
                .all(|part| part.mirrored == copy.whole.mirrored)
        );
    }
}
