//! Ways to piece that are made from what the best plan leaves over: strips of bits, patches as deep as is missing.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::{LayPlan, Piecing, PiecingKind};
use petitoile_core::laying::{CopyToLay, NewSeams, PiecedWay, ToLay, parts};
use petitoile_core::piece::Side;
use petitoile_core::{Degrees, LengthUnit, Mm};
use petitoile_lay::{Job, JobOptions, better, check_plan, lying::shapes_of};

use crate::doll_set::points;
use crate::small::{self, rectangle};

/// One copy with this outline, gap 1 mm.
fn one(outline: Vec<Point>, new_seams: NewSeams) -> ToLay {
    let mut to_lay = small::to_lay();
    let mut copy = to_lay.copies.remove(2);
    copy.pieced.clear();
    copy.grain_tolerance = Degrees(0.0);
    copy.whole.outline = outline;
    copy.new_seams = Arc::new(new_seams);
    to_lay.copies = vec![copy];
    to_lay
}

/// Plain offcuts without margin.
fn offcuts(outlines: Vec<Vec<Point>>) -> Vec<Arc<Offcut>> {
    let made = outlines.into_iter().enumerate().map(|(i, outline)| {
        let mut offcut = small::offcut();
        offcut.name = format!("blue {i}");
        offcut.outline = outline;
        offcut.blemishes.clear();
        offcut.margin = Mm(0.0);
        Arc::new(offcut)
    });
    made.collect()
}

fn strips(lengths: &[f64]) -> Vec<Arc<Offcut>> {
    let outline = |length: &f64| rectangle(0.0, 0.0, *length, 21.0);
    offcuts(lengths.iter().map(outline).collect())
}

/// A ruffle of 200 by 20 mm as cut, offered in so many equal segments; the allowance at each side of a join is 5 mm.
fn ruffle(counts: &[usize]) -> ToLay {
    let mut to_lay = one(rectangle(0.0, 0.0, 200.0, 20.0), NewSeams::default());
    let copy = &mut to_lay.copies[0];
    copy.pieced = counts.iter().map(|count| equal(copy, *count)).collect();
    to_lay
}

fn equal(copy: &CopyToLay, count: usize) -> PiecedWay {
    let each = (200.0 + 10.0 * (count - 1) as f64) / count as f64;
    let at = |i: usize| i as f64 * (each - 10.0) + 5.0;
    let piecing = Piecing {
        of: copy.of.clone(),
        kind: PiecingKind::Strip,
        lines: (1..count)
            .map(|i| (Point::new(at(i), 0.0), Point::new(at(i), 20.0)))
            .collect(),
        allowance: Mm(5.0),
    };
    PiecedWay {
        parts: parts(&copy.whole, &piecing).unwrap(),
        piecing,
        cost: (count - 1) as u32,
        why: format!("joined of {count}"),
    }
}

fn laid(to_lay: &ToLay, offcuts: &[Arc<Offcut>], portions: &[u64]) -> Job {
    let mut job = Job::new(to_lay, offcuts, None, JobOptions { seed: 1 }).unwrap();
    for steps in portions {
        job.step(*steps);
    }
    assert_eq!(check_plan(to_lay, offcuts, &job.best()), []);
    job
}

/// Across and along of the parts of the only copy.
fn sizes(to_lay: &ToLay, plan: &LayPlan) -> Vec<(f64, f64)> {
    let shapes = shapes_of(&to_lay.copies[0], plan);
    let size = |outline: &[Point]| {
        let range = |of: fn(&Point) -> f64| {
            let at: Vec<f64> = outline.iter().map(of).collect();
            at.iter().fold(f64::NEG_INFINITY, |a, b| a.max(*b))
                - at.iter().fold(f64::INFINITY, |a, b| a.min(*b))
        };
        (range(|p| p.x), range(|p| p.y))
    };
    shapes.iter().map(|shape| size(&shape.outline)).collect()
}

#[test]
fn three_bits_make_a_ruffle_that_equal_segments_do_not() {
    // Two equal ones are 105 long, three 73.3, four 57.5 and so on: none of these lies on 95, 70 and 65. With two joins 220
    // are needed of the 230 there are.
    let (to_lay, cloth) = (ruffle(&[2, 3, 4, 5, 6]), strips(&[70.0, 95.0, 65.0]));
    let job = laid(&to_lay, &cloth, &[600]);
    let (progress, plan) = (job.progress(), job.best());
    assert!(progress.complete, "{progress:?}");
    assert_eq!(progress.seams_added, 2);
    let mut lengths: Vec<f64> = sizes(&to_lay, &plan).iter().map(|size| size.0).collect();
    lengths.sort_by(f64::total_cmp);
    for (length, bit) in lengths.iter().zip([65.0, 70.0, 95.0]) {
        assert!(*length <= bit, "{lengths:?}");
    }
    assert!((lengths.iter().sum::<f64>() - 220.0).abs() < 1e-6);
    // However the steps are dealt out.
    let again = laid(&to_lay, &cloth, &[1, 249, 1, 99, 250]);
    assert_eq!(again.best(), plan);
    // One bit too few stays too few.
    let too_few = laid(&to_lay, &strips(&[95.0, 70.0]), &[600]);
    assert!(!too_few.progress().complete);
}

#[test]
fn bits_between_other_pieces_and_on_the_bias_of_an_offcut_are_found() {
    // The grain of the offcuts is turned, so the strips lie aslant on the table.
    let (to_lay, cloth) = (ruffle(&[2, 3, 4, 5, 6]), strips(&[70.0, 95.0, 65.0]));
    let turned = |offcut: &Arc<Offcut>| {
        let mut turned = Offcut::clone(offcut);
        let by = petitoile_core::lay_plan::turned(Degrees(31.0));
        turned.outline = offcut.outline.iter().map(|p| by * *p).collect();
        turned.grain = Degrees(31.0);
        if offcut.name == "blue 1" {
            // Seen from behind, it is the mirror image.
            turned.face = petitoile_core::piece::Face::Wrong;
        }
        Arc::new(turned)
    };
    let cloth: Vec<Arc<Offcut>> = cloth.iter().map(turned).collect();
    assert!(laid(&to_lay, &cloth, &[600]).progress().complete);
}

#[test]
fn a_ruffle_that_lies_in_many_segments_is_joined_of_fewer() {
    // Three equal segments lie on 120, 95 and 80; 120 and 95 are enough with one join.
    let (to_lay, cloth) = (ruffle(&[3, 4, 5, 6]), strips(&[120.0, 95.0, 80.0]));
    let before = laid(&to_lay, &cloth, &[240]);
    assert_eq!(before.progress().seams_added, 2, "{:?}", before.progress());
    let after = laid(&to_lay, &cloth, &[300]);
    assert_eq!(after.progress().seams_added, 1);
    assert!(better(&to_lay, &cloth, &after.best(), &before.best()));
}

#[test]
fn no_join_of_bits_comes_to_the_centre_front() {
    let mut to_lay = ruffle(&[6]);
    let cloth = strips(&[125.0, 125.0]);
    let joined = |to_lay: &ToLay| {
        let plan = laid(to_lay, &cloth, &[500]).best();
        plan.piecings.first().map(|piecing| piecing.lines.clone())
    };
    assert_eq!(joined(&to_lay).unwrap().len(), 1);
    let heed = NewSeams {
        off_middle: Some(Mm(18.0)),
        ..NewSeams::default()
    };
    to_lay.copies[0].new_seams = Arc::new(heed);
    let lines = joined(&to_lay).unwrap();
    assert!((lines[0].0.x - 100.0).abs() >= 18.0 - 1e-6, "{lines:?}");
    // Where the bits allow none that is far enough, none is made.
    let heed = NewSeams {
        off_middle: Some(Mm(30.0)),
        ..NewSeams::default()
    };
    to_lay.copies[0].new_seams = Arc::new(heed);
    assert_eq!(joined(&to_lay), None);
}

#[test]
fn bits_for_a_strip_on_the_bias_are_as_wide_as_its_slanting_segments() {
    // The grain runs at 45 degrees to the ruffle, so do the joins; the offcuts' own grain is such that the strips lie along x.
    let mut to_lay = one(rectangle(0.0, 0.0, 200.0, 20.0), NewSeams::default());
    let copy = &mut to_lay.copies[0];
    copy.whole.grain = Degrees(-45.0);
    let lines =
        [40.0, 80.0, 120.0, 160.0].map(|x| (Point::new(x, 0.0), Point::new(x + 20.0, 20.0)));
    let piecing = Piecing {
        of: copy.of.clone(),
        kind: PiecingKind::Strip,
        lines: lines.to_vec(),
        allowance: Mm(4.0),
    };
    copy.pieced = vec![PiecedWay {
        parts: parts(&copy.whole, &piecing).unwrap(),
        piecing,
        cost: 4,
        why: "joined of 5, slanting".to_owned(),
    }];
    let wide = |across: f64| {
        let made = strips(&[140.0, 110.0]);
        let wider = |offcut: &Arc<Offcut>| {
            let mut wider = Offcut::clone(offcut);
            let long = offcut.outline[1].x;
            wider.outline = rectangle(0.0, 0.0, long, across);
            wider.grain = Degrees(-45.0);
            Arc::new(wider)
        };
        made.iter().map(wider).collect::<Vec<_>>()
    };
    // The ends of the allowances stick out by 2.8 mm on each side.
    let job = laid(&to_lay, &wide(27.0), &[500]);
    assert!(job.progress().complete, "{:?}", job.progress());
    assert_eq!(job.progress().seams_added, 1);
    assert!(!laid(&to_lay, &wide(21.0), &[500]).progress().complete);
}

fn patched() -> NewSeams {
    NewSeams {
        allowance: Mm(6.0),
        patch: Some(1),
        unit: LengthUnit::Millimetre,
        ..NewSeams::default()
    }
}

/// A square offcut with its upper right corner cut off slanting, and a piece of cloth for the patch.
fn without_a_corner(side: f64, cut: f64) -> Vec<Arc<Offcut>> {
    let corners = [
        (0.0, 0.0),
        (side, 0.0),
        (side, side - cut),
        (side - cut, side),
        (0.0, side),
    ];
    offcuts(vec![
        points(&corners, 1.0),
        rectangle(0.0, 0.0, 112.0, 40.0),
    ])
}

#[test]
fn a_square_on_an_offcut_that_lacks_a_corner_gets_a_patch_as_deep_as_is_missing() {
    // 101 mm with 20 off: at the height of 100 the cloth ends at 82. 18 are missing, and 6 for the allowance: 24. A slanting seam
    // would not do: the ends of its allowance would stick out over the edge.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let cloth = without_a_corner(101.0, 20.0);
    let mut standing = Offcut::clone(&cloth[1]);
    standing.outline = rectangle(0.0, 0.0, 112.0, 112.0);
    let mut both = cloth.clone();
    both[1] = Arc::new(standing);
    // The second offcut takes a patch either way round, but not the square: it is all holes but for its edges.
    let mut edges = Offcut::clone(&both[1]);
    edges.blemishes.push(petitoile_core::cloth::Blemish {
        outline: rectangle(40.0, 40.0, 112.0, 112.0),
        is_hole: true,
        good_for: petitoile_core::cloth::GoodFor::Inside,
    });
    both[1] = Arc::new(edges);
    let job = laid(&to_lay, &both, &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    let plan = job.best();
    let piecing = &plan.piecings[0];
    assert_eq!((piecing.kind, piecing.lines.len()), (PiecingKind::Patch, 1));
    let (a, b) = piecing.lines[0];
    let upright = (a.x - b.x).abs() < 1e-6;
    let depth = if upright { 100.0 - a.x } else { 100.0 - a.y };
    let depth = depth.min(100.0 - depth);
    assert!((24.0..24.5).contains(&depth), "{depth}: {a:?} {b:?}");
    let main = sizes(&to_lay, &plan)[0];
    assert!(
        (main.0.min(main.1) - (100.0 - depth + 6.0)).abs() < 1e-6,
        "{main:?}"
    );
}

#[test]
fn where_the_cloth_has_room_a_slanting_patch_takes_off_only_the_corner() {
    // 112 mm with 40 off: the corner of the square is 16 / sqrt 2 beyond the cloth, and 6 for the allowance: 17.3.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let cloth = without_a_corner(112.0, 40.0);
    let job = laid(&to_lay, &cloth, &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    let plan = job.best();
    let (a, b) = plan.piecings[0].lines[0];
    let depth = (a - b).hypot() / 2.0;
    let by_hand = 16.0 / 2.0_f64.sqrt() + 6.0;
    assert!(
        (by_hand..by_hand + 0.5).contains(&depth),
        "{depth} {by_hand}"
    );
    assert_eq!(job.progress().seams_added, 1);
}

#[test]
fn a_piece_that_is_a_little_too_wide_is_patched_along_its_side() {
    // 4 mm are missing, and 6 for the allowance.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let cloth = offcuts(vec![
        rectangle(0.0, 0.0, 96.0, 102.0),
        rectangle(0.0, 0.0, 30.0, 102.0),
    ]);
    let job = laid(&to_lay, &cloth, &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    let sizes = sizes(&to_lay, &job.best());
    assert!((95.8..96.0).contains(&sizes[0].0), "{sizes:?}");
    assert!((16.0..16.2).contains(&sizes[1].0), "{sizes:?}");
}

/// An offcut 112 mm square with both upper corners cut off slanting, and a piece of cloth for the patches.
fn without_both_corners(cut: f64) -> Vec<Arc<Offcut>> {
    let corners = [
        (0.0, 0.0),
        (112.0, 0.0),
        (112.0, 112.0 - cut),
        (112.0 - cut, 112.0),
        (cut, 112.0),
        (0.0, 112.0 - cut),
    ];
    offcuts(vec![
        points(&corners, 1.0),
        rectangle(0.0, 0.0, 112.0, 60.0),
    ])
}

#[test]
fn a_square_on_an_offcut_that_lacks_two_corners_gets_two_patches() {
    // The cuts are 48 mm wide: together 2 * 48 + 100 - 112 - 2 * 12 mm of the square are beyond them, wherever it lies across; that over
    // the root of 2, and 6 mm for each allowance. One seam over the whole upper edge would take off 36 % of the square.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let cloth = without_both_corners(48.0);
    let job = laid(&to_lay, &cloth, &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    assert_eq!(job.progress().seams_added, 2);
    let plan = job.best();
    assert_eq!(plan.piecings.len(), 1);
    assert_eq!(plan.piecings[0].lines.len(), 2);
    assert_eq!(plan.placed.len(), 3);
    let lines = plan.piecings[0].lines.iter();
    let depth: f64 = lines.map(|(a, b)| (*a - *b).hypot() / 2.0).sum();
    let by_hand = 60.0 / 2.0_f64.sqrt() + 2.0 * 6.0;
    assert!(
        (by_hand..by_hand + 0.5).contains(&depth),
        "{depth} {by_hand}"
    );
}

#[test]
fn where_one_seam_over_the_whole_edge_does_it_comes_before_two() {
    // Corners 40 mm wide: 22 mm are missing at each where the square lies in the middle, 28 with the allowance.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let job = laid(&to_lay, &without_both_corners(40.0), &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    assert_eq!(job.progress().seams_added, 1);
    assert_eq!(job.best().piecings[0].lines.len(), 1);
}

#[test]
fn both_sides_of_a_pair_that_miss_the_same_corner_get_the_same_patch() {
    let mut to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    let mut right = to_lay.copies.remove(0);
    right.of.copy.side = Side::Right;
    right.upside_down = false;
    let mut left = right.clone();
    left.of.copy.side = Side::Left;
    left.whole.mirrored = true;
    to_lay.copies = vec![right, left];
    // One offcut lacks its upper right corner, the other its upper left one.
    let mut cloth = without_a_corner(112.0, 40.0);
    let mut flipped = Offcut::clone(&cloth[0]);
    flipped.name = "blue 2".to_owned();
    for point in &mut flipped.outline {
        point.x = 112.0 - point.x;
    }
    cloth.push(Arc::new(flipped));
    let job = laid(&to_lay, &cloth, &[1000]);
    assert!(job.progress().complete, "{:?}", job.progress());
    assert_eq!(job.progress().seams_added, 2);
    let plan = job.best();
    let [one, other] = &plan.piecings[..] else {
        panic!("{:?}", plan.piecings)
    };
    assert_ne!(one.of, other.of);
    assert_eq!(one.lines, other.lines, "cut alike to the last digit");
    assert_eq!(one.lines.len(), 1);
}

#[test]
fn no_patch_is_made_where_none_is_allowed() {
    let heed = NewSeams {
        patch: None,
        ..patched()
    };
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), heed);
    let job = laid(&to_lay, &without_a_corner(112.0, 40.0), &[600]);
    assert!(!job.progress().complete);
    assert_eq!(job.best().piecings, []);
}

#[test]
fn the_deeper_the_corner_is_cut_off_the_deeper_is_the_patch() {
    // 24 mm of the cut are beyond the square; the rest slants, so it counts 1 / sqrt 2; and 6 for the allowance.
    let to_lay = one(rectangle(0.0, 0.0, 100.0, 100.0), patched());
    for cut in [30.0, 34.0, 42.0, 48.0] {
        let job = laid(&to_lay, &without_a_corner(112.0, cut), &[750]);
        assert!(job.progress().complete, "{cut}: {:?}", job.progress());
        let (a, b) = job.best().piecings[0].lines[0];
        let depth = (a - b).hypot() / 2.0;
        let by_hand = (cut - 24.0) / 2.0_f64.sqrt() + 6.0;
        assert!(
            (by_hand..by_hand + 0.5).contains(&depth),
            "{cut}: {depth} {by_hand}"
        );
    }
}

#[test]
fn a_job_is_settled_when_nothing_better_was_found_for_long() {
    let (to_lay, cloth) = (small::to_lay(), small::table());
    let mut job = Job::new(&to_lay, &cloth, None, JobOptions { seed: 1 }).unwrap();
    let mut settled_at = None;
    for _ in 0..30 {
        let progress = job.step(500);
        assert!(!progress.settled || progress.complete);
        if progress.settled {
            settled_at.get_or_insert(progress.steps);
        }
    }
    let settled_at = settled_at.expect("settled");
    assert!(settled_at > 3000);
    let mut again = Job::new(&to_lay, &cloth, None, JobOptions { seed: 1 }).unwrap();
    again.step(settled_at - 500);
    assert!(!again.progress().settled);
    assert!(again.step(500).settled);
    // A seam that might be saved is still looked for.
    let (ruffle, strips) = (ruffle(&[3]), strips(&[80.0, 80.0, 80.0]));
    let pieced = laid(&ruffle, &strips, &[5000]);
    assert!(pieced.progress().complete && !pieced.progress().settled);
}
