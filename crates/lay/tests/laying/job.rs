//! A job lays everything on cloth that is enough, keeps what is pinned and cut, and gives the same plan for the same seed.

use std::sync::Arc;

use petitoile_core::cloth::{GoodFor, Offcut};
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::ToLay;
use petitoile_core::piece::{Face, Side};
use petitoile_core::{Degrees, Mm};
use petitoile_lay::{Job, JobOptions, LayError, check_plan, cloth_left};

use crate::doll_set;
use crate::small::{self, copy, part, placed, rectangle};

/// Runs until everything lies, at most so many steps.
fn laid(
    to_lay: &ToLay,
    offcuts: &[Arc<Offcut>],
    before: Option<&LayPlan>,
    seed: u64,
    steps: u64,
) -> Job {
    let mut job = Job::new(to_lay, offcuts, before, JobOptions { seed }).unwrap();
    while !job.progress().complete && job.progress().steps < steps {
        job.step(20);
    }
    job
}

#[test]
fn the_made_up_set_lies_complete_at_an_easy_scale() {
    let (to_lay, offcuts) = (doll_set::to_lay(), doll_set::offcuts(1.15));
    let job = laid(&to_lay, &offcuts, None, 1, 3000);
    let (plan, progress) = (job.best(), job.progress());
    assert_eq!(
        progress.words().split(',').next(),
        Some("14 of 14 lie"),
        "{progress:?}"
    );
    assert!(progress.complete);
    assert_eq!(plan.placed.len(), 14);
    assert_eq!(check_plan(&to_lay, &offcuts, &plan), []);
    assert_eq!(plan.steps, progress.steps);
    assert!(progress.usable_left_mm2 > 0.0 && progress.offcuts_opened == 3);
}

#[test]
fn same_seed_and_steps_give_the_same_plan_however_they_are_dealt_out() {
    let (to_lay, offcuts) = (doll_set::to_lay(), doll_set::offcuts(1.2));
    let plan = |steps: &[u64]| {
        let mut job = Job::new(&to_lay, &offcuts, None, JobOptions { seed: 5 }).unwrap();
        for steps in steps {
            job.step(*steps);
        }
        job.best()
    };
    let once = plan(&[60]);
    assert!(!once.placed.is_empty());
    assert_eq!(once, plan(&[1, 29, 30]));
}

#[test]
fn what_is_pinned_stays_and_the_rest_is_laid_around_it() {
    let mut before = small::plan();
    before.placed.truncate(1);
    before.placed[0].pinned = true;
    before.placed[0].moved = (45.37, 31.11);
    let job = laid(&small::to_lay(), &small::table(), Some(&before), 1, 2000);
    let plan = job.best();
    assert!(job.progress().complete, "{:?}", job.progress());
    assert_eq!(
        plan.placed(&part("sleeve", Side::Right)),
        Some(&before.placed[0])
    );
    assert_eq!(check_plan(&small::to_lay(), &small::table(), &plan), []);
}

#[test]
fn what_is_cut_stays_as_it_was_cut_and_its_cloth_is_gone() {
    let mut before = small::plan();
    before.placed.drain(..2);
    // A band that was cut larger than it is now.
    before.placed[0].as_cut = Some(rectangle(6.0, 50.0, 94.0, 66.0));
    let job = laid(&small::to_lay(), &small::table(), Some(&before), 1, 2000);
    let plan = job.best();
    assert!(job.progress().complete);
    assert_eq!(
        plan.placed(&part("band", Side::Whole)),
        Some(&before.placed[0])
    );
    let faults = check_plan(&small::to_lay(), &small::table(), &plan);
    assert_eq!(
        faults.len(),
        1,
        "only that it was cut otherwise: {faults:?}"
    );
    assert_eq!(job.progress().offcuts_opened, 0, "it is cut into already");
}

#[test]
fn what_was_cut_and_is_no_longer_wanted_stays_in_the_way() {
    let mut before = small::plan();
    before.placed = vec![before.placed[2].clone()];
    before.placed[0].as_cut = Some(rectangle(6.0, 6.0, 94.0, 55.0));
    let mut to_lay = small::to_lay();
    to_lay.copies.truncate(2);
    let job = laid(&to_lay, &small::table(), Some(&before), 1, 400);
    let plan = job.best();
    assert_eq!(
        plan.placed(&part("band", Side::Whole)),
        Some(&before.placed[0])
    );
    assert_eq!(check_plan(&to_lay, &small::table(), &plan), []);
    assert!(job.progress().complete && job.progress().of == 2);
}

#[test]
fn a_pin_that_is_wrong_stays_and_what_it_overlaps_does_not_lie_there() {
    let mut before = small::plan();
    before.placed.truncate(1);
    before.placed[0].pinned = true;
    before.placed[0].moved = (-5.0, 10.0);
    let job = laid(&small::to_lay(), &small::table(), Some(&before), 1, 2000);
    let plan = job.best();
    assert_eq!(
        plan.placed(&part("sleeve", Side::Right)),
        Some(&before.placed[0])
    );
    let faults = check_plan(&small::to_lay(), &small::table(), &plan);
    assert!(
        faults
            .iter()
            .all(|fault| fault.part == part("sleeve", Side::Right))
    );
    assert_eq!(faults.len(), 1, "{faults:?}");
}

#[test]
fn cloth_that_shows_its_wrong_side_turns_the_pair_round() {
    for (face, alike) in [
        (Face::Wrong, false),
        (Face::Wrong, true),
        (Face::Right, true),
    ] {
        let mut offcut = small::offcut();
        offcut.face = face;
        offcut.sides_alike = alike;
        offcut.outline =
            doll_set::points(&[(0.0, 0.0), (90.0, 0.0), (120.0, 80.0), (10.0, 70.0)], 1.0);
        offcut.grain = Degrees(-20.0);
        let offcuts = [Arc::new(offcut)];
        let job = laid(&small::to_lay(), &offcuts, None, 3, 2000);
        assert!(job.progress().complete, "{face:?} {alike}");
        assert_eq!(check_plan(&small::to_lay(), &offcuts, &job.best()), []);
    }
}

#[test]
fn a_grainline_drawn_aslant_is_laid_along_the_warp() {
    let mut to_lay = small::to_lay();
    for (copy, grain) in to_lay.copies.iter_mut().zip([45.0, 45.0, -90.0]) {
        copy.whole.grain = Degrees(grain);
    }
    let mut behind = small::offcut();
    behind.face = Face::Wrong;
    behind.grain = Degrees(170.0);
    for offcut in [small::offcut(), behind] {
        let offcuts = [Arc::new(offcut)];
        let job = laid(&to_lay, &offcuts, None, 1, 3000);
        assert!(job.progress().complete, "{:?}", job.progress());
        assert_eq!(check_plan(&to_lay, &offcuts, &job.best()), []);
        // A second job around the pinned first finds the same places.
        let mut pinned = job.best();
        pinned
            .placed
            .iter_mut()
            .for_each(|placed| placed.pinned = true);
        let again = laid(&to_lay, &offcuts, Some(&pinned), 1, 10);
        assert_eq!(again.best().placed, pinned.placed);
    }
}

#[test]
fn cloths_and_blemishes_are_kept_apart() {
    let mut lining = small::offcut();
    lining.name = "white".to_owned();
    lining.cloth = "lawn".to_owned();
    lining.outline = rectangle(0.0, 0.0, 60.0, 40.0);
    lining.blemishes.clear();
    lining.blemishes.push(petitoile_core::cloth::Blemish {
        outline: rectangle(0.0, 0.0, 60.0, 40.0),
        is_hole: false,
        good_for: GoodFor::Hidden,
    });
    let offcuts = [Arc::new(small::offcut()), Arc::new(lining)];
    let mut to_lay = small::to_lay();
    to_lay.copies[2].cloth = Some("lawn".to_owned());
    let job = laid(&to_lay, &offcuts, None, 1, 1000);
    assert!(job.progress().complete);
    assert_eq!(
        job.best()
            .placed(&part("band", Side::Whole))
            .unwrap()
            .offcut,
        "white"
    );
    // Needing clean cloth, there is no place for it.
    to_lay.copies[2].needs = GoodFor::Anything;
    let job = laid(&to_lay, &offcuts, None, 1, 300);
    assert_eq!(job.progress().placed, 2);
    assert_eq!(job.progress().words(), "2 of 3 lie, 1 offcut opened");
}

#[test]
fn the_doubt_of_the_grain_widens_what_is_allowed() {
    let mut to_lay = small::to_lay();
    to_lay.copies.drain(..2);
    to_lay.copies[0].pieced.clear();
    let mut offcut = small::offcut();
    offcut.blemishes.clear();
    offcut.margin = Mm(0.0);
    // A strip aslant by 8 degrees, 11 mm wide: the band of 40 by 10 lies in it only when it is turned with it.
    let (sin, cos) = 8.0_f64.to_radians().sin_cos();
    let at = |x: f64, y: f64| (cos * x - sin * y, sin * x + cos * y);
    offcut.outline = doll_set::points(
        &[at(0.0, 0.0), at(41.0, 0.0), at(41.0, 10.5), at(0.0, 10.5)],
        1.0,
    );
    let offcuts = |doubt: f64| {
        let mut offcut = offcut.clone();
        offcut.grain_doubt = Degrees(doubt);
        [Arc::new(offcut)]
    };
    assert_eq!(
        laid(&to_lay, &offcuts(0.0), None, 1, 500).progress().placed,
        0
    );
    let job = laid(&to_lay, &offcuts(7.0), None, 1, 3000);
    assert!(job.progress().complete);
    assert_eq!(check_plan(&to_lay, &offcuts(7.0), &job.best()), []);
}

#[test]
fn what_cannot_be_laid_is_told_by_name() {
    let job = |to_lay: &ToLay, offcuts: &[Arc<Offcut>]| {
        Job::new(to_lay, offcuts, None, JobOptions::default())
    };
    assert_eq!(
        job(&ToLay::default(), &small::table()).unwrap_err(),
        LayError::NothingToLay
    );
    assert_eq!(job(&small::to_lay(), &[]).unwrap_err(), LayError::NoCloth);
    let mut crossed = small::offcut();
    crossed.outline.swap(1, 2);
    let error = job(&small::to_lay(), &[Arc::new(crossed)]).unwrap_err();
    assert_eq!(
        error.to_string(),
        "blue A, its outline: it crosses or touches itself; draw it anew"
    );
    let mut to_lay = small::to_lay();
    to_lay.copies[0].whole.outline.swap(1, 2);
    let mut job = job(&to_lay, &small::table()).unwrap();
    job.step(100);
    assert_eq!(job.progress().placed, 2);
    assert_eq!(job.unusable().len(), 1);
    assert_eq!(job.unusable()[0].of, copy("sleeve", Side::Right));
}

#[test]
fn what_other_fittings_have_cut_is_a_hole() {
    use petitoile_core::project::Project;
    let mut project = Project {
        offcuts: small::table(),
        ..Project::default()
    };
    assert_eq!(cloth_left(&project, "Sunday"), small::table());
    let wanted = placed(&copy("band", Side::Whole), 10.0, 50.0);
    let mut cut = wanted.clone();
    cut.as_cut = Some(rectangle(10.0, 50.0, 50.0, 60.0));
    let body = petitoile_core::body::Body::new("doll", petitoile_core::body::BodyKind::Doll);
    let mut fitting = petitoile_core::fitting::Fitting::new("harbour", "coat", Arc::new(body));
    fitting.lay_plan = Some(LayPlan {
        placed: vec![cut],
        ..LayPlan::default()
    });
    project.fittings.push(Arc::new(fitting));
    let left = cloth_left(&project, "Sunday");
    assert_eq!(left[0].blemishes.len(), 3);
    assert!(left[0].blemishes[2].is_hole);
    assert_eq!(cloth_left(&project, "harbour"), small::table());
}

#[test]
fn a_copy_that_fits_only_in_parts_is_pieced_and_the_seam_is_counted() {
    let mut offcut = small::offcut();
    offcut.blemishes.clear();
    offcut.outline = rectangle(0.0, 0.0, 42.0, 40.0);
    let mut to_lay = small::to_lay();
    to_lay.copies.drain(..2);
    let offcuts = [Arc::new(offcut)];
    let job = laid(&to_lay, &offcuts, None, 1, 3000);
    let (plan, progress) = (job.best(), job.progress());
    assert!(progress.complete, "{progress:?}");
    assert_eq!((progress.seams_added, plan.placed.len()), (1, 2));
    assert_eq!(plan.piecings, [small::piecing()]);
    assert_eq!(check_plan(&to_lay, &offcuts, &plan), []);
    assert_eq!(
        progress.words(),
        "1 of 1 lie, 1 seam added, 1 offcut opened"
    );
    // On cloth that takes it whole no seam is added.
    let job = laid(&small::to_lay(), &small::table(), None, 1, 3000);
    assert_eq!(job.progress().seams_added, 0);
}
