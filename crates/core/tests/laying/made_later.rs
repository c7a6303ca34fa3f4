//! Ways to piece that are only made once it is known what cloth is left: patches as deep as is missing, strips of bits.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::kurbo::{Line, Vec2};
use petitoile_core::lay_plan::PiecingKind;
use petitoile_core::laying::{
    Beyond, CopyToLay, NewSeams, PiecedWay, joined_from, patch_beyond, strip_shape,
};
use petitoile_core::piece::{Follow, FollowRule, Piece, Placement};

use super::samples::{allow, area, bounds, on_fold, piece, rectangle, to_lay_of};

const SEAM: f64 = 6.0;

fn one_patch(copy: &CopyToLay, out: Vec2, level: f64) -> Option<PiecedWay> {
    patch_beyond(copy, &[Beyond { out, level }])
}

fn laid(piece: Piece, allowed: bool) -> CopyToLay {
    let name = piece.name.clone();
    let mut laid = to_lay_of(vec![piece], |fitting| {
        fitting.allowances.seam = Mm(SEAM);
        if allowed {
            allow(fitting, &[&name]);
        }
    });
    laid.copies.swap_remove(0)
}

/// 100 mm square as cut, from -6 to 94 both ways.
fn square() -> CopyToLay {
    laid(rectangle("Panel", 88.0, 88.0), true)
}

fn size(way: &PiecedWay, part: usize) -> (f64, f64) {
    let b = bounds(&way.parts[part].outline);
    (b.2 - b.0, b.3 - b.1)
}

#[test]
fn a_patch_is_as_deep_as_what_sticks_out_and_the_allowance() {
    // A corner of the cloth is cut off 20 mm: upright cloth ends at 74, and the allowance of 6 has to lie on it.
    let way = one_patch(&square(), Vec2::new(1.0, 0.0), 74.0 - SEAM).unwrap();
    assert_eq!(way.piecing.kind, PiecingKind::Patch);
    assert_eq!(way.piecing.lines.len(), 1);
    let (main, patch) = (size(&way, 0), size(&way, 1));
    for (is, should) in [
        (main.0, 80.0),
        (main.1, 100.0),
        (patch.0, 32.0),
        (patch.1, 100.0),
    ] {
        assert!((is - should).abs() < 1e-9, "{main:?} {patch:?}");
    }
    assert!(
        way.why.starts_with("a patch 26 mm deep at ")
            && way.why.ends_with(", as deep as is missing"),
        "{}",
        way.why
    );
    let offered = square();
    let offered = offered.pieced.iter();
    let least = offered
        .filter(|way| way.piecing.kind == PiecingKind::Patch)
        .map(|way| way.cost)
        .min();
    assert_eq!(Some(way.cost), least, "as much as any patch");
}

#[test]
fn a_slanting_patch_takes_off_a_wedge() {
    // The corner cut off slants: 20 / sqrt 2 from the corner to the cloth, and 6 of allowance.
    let out = Vec2::new(1.0, 1.0) / 2.0_f64.sqrt();
    let corner = 94.0 * 2.0_f64.sqrt();
    let depth = 20.0 / 2.0_f64.sqrt() + SEAM;
    let way = one_patch(&square(), out, corner - depth).unwrap();
    let (a, b) = way.piecing.lines[0];
    assert!(
        ((b - a).hypot() - 2.0 * depth).abs() < 1e-9,
        "twice as long as deep"
    );
    let patch = area(&way.parts[1].outline);
    assert!((patch - (depth * depth + SEAM * 2.0 * depth)).abs() < 1e-6);
    assert!(
        way.why
            .starts_with("a slanting patch 20.1 mm deep at waist and right")
            || way
                .why
                .starts_with("a slanting patch 20.1 mm deep at right and waist"),
        "{}",
        way.why
    );
    // Its grain is that of the piece.
    assert_eq!(way.parts[1].grain, way.parts[0].grain);
}

#[test]
fn a_patch_is_neither_too_narrow_to_sew_nor_most_of_the_piece() {
    let right = Vec2::new(1.0, 0.0);
    // 1 mm is missing: 9 mm are cut off, so that 3 show beyond both allowances.
    let narrow = one_patch(&square(), right, 93.0).unwrap();
    assert!((size(&narrow, 1).0 - 15.0).abs() < 1e-9);
    assert!(
        narrow.why.starts_with("a patch 9 mm deep"),
        "{}",
        narrow.why
    );
    assert!(one_patch(&square(), right, 94.0 - 30.0).is_some());
    assert_eq!(one_patch(&square(), right, 94.0 - 30.1), None);
    assert_eq!(one_patch(&square(), right, -200.0), None);
    assert_eq!(one_patch(&square(), Vec2::ZERO, 70.0), None);
    assert_eq!(one_patch(&square(), right, f64::NAN), None);
}

#[test]
fn no_patch_where_it_is_not_allowed_or_would_cut_a_dart() {
    let right = Vec2::new(1.0, 0.0);
    let shows = laid(rectangle("Panel", 88.0, 88.0), false);
    assert_eq!(shows.new_seams.patch, None);
    assert_eq!(one_patch(&shows, right, 70.0), None);
    let with = |change: &dyn Fn(&mut NewSeams)| {
        let mut copy = square();
        change(Arc::make_mut(&mut copy.new_seams));
        one_patch(&copy, right, 70.0)
    };
    let (near, far) = (
        Line::new((64.1, 0.0), (64.1, 20.0)),
        Line::new((63.9, 0.0), (63.9, 20.0)),
    );
    assert_eq!(with(&|heed| heed.keep_off.push(near)), None);
    let free = with(&|heed| heed.keep_off.push(far)).unwrap();
    let marked = with(&|heed| heed.marks.push(near)).unwrap();
    assert_eq!(marked.cost, free.cost + 1);
}

#[test]
fn one_seam_takes_off_one_corner_and_no_more() {
    // Two legs stick out to the right: one straight seam would cut both.
    let seam = petitoile_core::edge::Finish::Seam;
    let corners = [
        (0.0, 0.0),
        (88.0, 0.0),
        (88.0, 20.0),
        (40.0, 20.0),
        (40.0, 68.0),
        (88.0, 68.0),
        (88.0, 88.0),
        (0.0, 88.0),
    ];
    let names = ["a", "b", "c", "d", "e", "f", "g", "h"];
    let edges: Vec<_> = names.iter().map(|name| (*name, seam)).collect();
    let legs = laid(piece("Legs", &corners, &edges), true);
    assert_eq!(one_patch(&legs, Vec2::new(1.0, 0.0), 70.0), None);
    assert!(one_patch(&legs, Vec2::new(0.0, 1.0), 74.0).is_some());
}

fn both_sides(left: f64, right: f64) -> Option<PiecedWay> {
    let beyond = [
        Beyond {
            out: Vec2::new(1.0, 0.0),
            level: 94.0 - right,
        },
        Beyond {
            out: Vec2::new(-2.0, 0.0),
            level: 6.0 - left,
        },
    ];
    patch_beyond(&square(), &beyond)
}

#[test]
fn both_ends_of_a_piece_are_patched() {
    let one = one_patch(&square(), Vec2::new(1.0, 0.0), 80.0).unwrap();
    let two = both_sides(12.0, 14.0).unwrap();
    assert_eq!(two.piecing.kind, PiecingKind::Patch);
    assert_eq!((two.piecing.lines.len(), two.parts.len()), (2, 3));
    // Of 100 mm 26 come off; every part has 6 mm of allowance at each of its seams. The main part comes first, then the patches in
    // the order asked for.
    let widths = [100.0 - 26.0 + 2.0 * SEAM, 14.0 + SEAM, 12.0 + SEAM];
    for (part, width) in widths.into_iter().enumerate() {
        let is = size(&two, part);
        assert!((is.0 - width).abs() < 1e-9, "{part}: {is:?}");
        assert!((is.1 - 100.0).abs() < 1e-9, "{part}: {is:?}");
    }
    assert_eq!(two.cost, 2 * one.cost, "each seam counts");
    assert!(
        two.why.starts_with("2 patches, 14 mm deep at ")
            && two.why.contains(", 12 mm deep at ")
            && two.why.ends_with(", as deep as is missing"),
        "{}",
        two.why
    );
}

#[test]
fn patches_together_are_not_most_of_the_piece_and_do_not_meet() {
    assert!(both_sides(15.0, 15.0).is_some());
    assert_eq!(both_sides(15.1, 15.0), None);
    assert_eq!(patch_beyond(&square(), &[]), None);
    // Two seams that cross.
    let beyond = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)].map(|out| Beyond { out, level: 80.0 });
    assert_eq!(patch_beyond(&square(), &beyond), None);
    // Both upper corners: of the upper edge, 100 mm long, each seam takes its depth times the root of 2; 12 mm have to stay.
    let root = 2.0_f64.sqrt();
    let corners = |depth: f64| {
        let corner = |x: f64| {
            let out = Vec2::new(x, 1.0);
            Beyond {
                out,
                level: if x > 0.0 { 94.0 * root } else { 100.0 / root } - depth,
            }
        };
        patch_beyond(&square(), &[corner(1.0), corner(-1.0)])
    };
    let most = 44.0 / root;
    let made = corners(most - 0.01).unwrap();
    assert!(made.why.starts_with("2 slanting patches, "), "{}", made.why);
    assert_eq!(corners(most + 0.01), None);
}

#[test]
fn darts_and_marks_of_both_halves_are_heeded() {
    let mut front = on_fold("Front", 42.0, 60.0);
    front.notches = vec![petitoile_core::notch::Notch {
        edge: "right".to_owned(),
        fraction: 0.5,
        kind: petitoile_core::notch::NotchKind::Single,
    }];
    let heed = laid(front, true).new_seams;
    let sides: Vec<f64> = heed.marks.iter().map(|line| line.p0.x.signum()).collect();
    assert!(
        sides.contains(&1.0) && sides.contains(&-1.0),
        "{:?}",
        heed.marks
    );
    let at_hem = heed
        .corners
        .iter()
        .filter(|corner| corner.1.contains("hem"));
    assert!(at_hem.count() >= 2, "{:?}", heed.corners);
    assert_eq!(heed.allowance, Mm(SEAM));
}

#[test]
fn bits_of_strips_are_not_joined_at_the_centre_front() {
    // 300 long as cut, joins keep 18 off its middle.
    let rule = FollowRule::Detail;
    let mut band = on_fold("Front band", 144.0, 28.0);
    band.placement = Placement::Follows(Follow {
        length: rule.clone(),
        depth: rule,
    });
    let mut copy = laid(band, true);
    assert!(strip_shape(&copy).is_some());
    Arc::make_mut(&mut copy.new_seams).off_middle = Some(Mm(18.0));
    let from = |bits: &[f64]| {
        let bits: Vec<Mm> = bits.iter().map(|bit| Mm(*bit)).collect();
        joined_from(&copy, &bits)
    };
    assert_eq!(from(&[170.0, 170.0]), None, "only 14 off the middle");
    let way = from(&[200.0, 150.0]).unwrap();
    let (a, _) = way.piecing.lines[0];
    assert!(a.x.abs() >= 18.0 - 1e-6, "{a:?}");
}

#[test]
fn a_strip_says_how_it_is_cut() {
    let mut copy = laid(rectangle("Band", 288.0, 28.0), true);
    let shape = strip_shape(&copy).unwrap();
    assert!((shape.length.0 - 300.0).abs() < 1e-9 && (shape.width.0 - 40.0).abs() < 1e-9);
    assert!(!shape.slants && shape.along.y.abs() < 1e-12);
    copy.pieced.clear();
    assert_eq!(strip_shape(&copy), None, "it may not be joined");
}
