//! What would help is tried one thing at a time, and nothing that the maker has refused.

use std::sync::{Arc, Mutex};

use petitoile_core::cloth::Offcut;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::kurbo::{Line, Point};
use petitoile_core::lay_plan::{Piecing, PiecingKind};
use petitoile_core::laying::{CopyToLay, Laying, PieceLaying, PiecedWay, ToLay, parts};
use petitoile_core::{Degrees, LengthUnit, Mm};
use petitoile_lay::why_not::{Answer, Change, Question, WhyNot, why_not};
use petitoile_lay::{Job, JobOptions, check_plan};

use crate::small::{self, rectangle};

const MM: LengthUnit = LengthUnit::Millimetre;

/// Bands of 40 by 10 mm with a fold in the middle; gap 1 mm.
fn bands(count: usize) -> ToLay {
    let mut to_lay = small::to_lay();
    let mut band = to_lay.copies.remove(2);
    band.pieced.clear();
    band.grain_tolerance = Degrees(0.0);
    band.whole.fold = Some(Line::new((20.0, 0.0), (20.0, 10.0)));
    to_lay.copies = (0..count)
        .map(|number| {
            let mut band = band.clone();
            band.of.number = number;
            band
        })
        .collect();
    to_lay
}

/// Plain offcuts, across and along, no margin.
fn offcuts(sizes: &[(f64, f64)]) -> Vec<Arc<Offcut>> {
    let made = sizes.iter().enumerate().map(|(i, (across, along))| {
        let mut offcut = small::offcut();
        offcut.name = format!("blue {i}");
        offcut.outline = rectangle(0.0, 0.0, *across, *along);
        offcut.blemishes.clear();
        offcut.margin = Mm(0.0);
        Arc::new(offcut)
    });
    made.collect()
}

fn way(copy: &CopyToLay, kind: PiecingKind, allowance: f64, at: &[f64]) -> PiecedWay {
    let piecing = Piecing {
        of: copy.of.clone(),
        kind,
        lines: at
            .iter()
            .map(|x| (Point::new(*x, 0.0), Point::new(*x, 10.0)))
            .collect(),
        allowance: Mm(allowance),
    };
    PiecedWay {
        parts: parts(&copy.whole, &piecing).unwrap(),
        piecing,
        cost: 1,
        why: "a seam".to_owned(),
    }
}

/// What is asked for bands, with what the maker chose for them; every edit that is tried is written down.
fn asked(
    to_lay: &ToLay,
    offcuts: &[Arc<Offcut>],
    chosen: PieceLaying,
    steps: u64,
) -> (Answer, Vec<PieceLaying>) {
    let mut job = Job::new(to_lay, offcuts, None, JobOptions { seed: 1 }).unwrap();
    job.step(steps);
    let mut laying = Laying::default();
    laying.pieces.insert("band".to_owned(), chosen);
    let question = Question {
        fitting: "Sunday".to_owned(),
        to_lay: to_lay.clone(),
        offcuts: offcuts.to_vec(),
        plan: job.best(),
        laying,
        allowance: Mm(2.0),
        steps,
        seed: 1,
    };
    let tried = Arc::new(Mutex::new(Vec::new()));
    let (now, seen) = (to_lay.clone(), Arc::clone(&tried));
    let remade = move |edit: &FittingEdit| {
        let mut next = now.clone();
        if let FittingEdit::SetPieceLaying(_, Some(laying)) = edit {
            seen.lock().unwrap().push(*laying);
            for copy in &mut next.copies {
                if laying.seam_on_fold == Some(true) {
                    let split = way(copy, PiecingKind::AlongFold, 6.0, &[20.0]);
                    copy.pieced.push(split);
                }
                if laying.join == Some(true) {
                    let joined = way(copy, PiecingKind::Strip, 2.0, &[12.0, 28.0]);
                    copy.pieced.push(joined);
                }
            }
        }
        Some(next)
    };
    let answer = why_not(question, Box::new(remade));
    let tried = tried.lock().unwrap().clone();
    (answer, tried)
}

#[track_caller]
fn found(answer: &Answer, of: impl Fn(&Change) -> bool) -> &petitoile_lay::why_not::Concession {
    let mut all = answer.concessions.iter();
    all.find(|one| of(&one.change))
        .unwrap_or_else(|| panic!("{:?} {:?}", answer.concessions, answer.in_vain))
}

#[test]
fn a_piece_wider_than_every_offcut_fits_split_along_its_fold() {
    // 40 wide on 37; halves are 20 and an allowance of 6 wide.
    let (to_lay, offcuts) = (bands(1), offcuts(&[(37.0, 22.0)]));
    let (answer, tried) = asked(&to_lay, &offcuts, PieceLaying::default(), 200);
    assert!(
        answer
            .verdict(MM)
            .starts_with("Impossible: band is at least")
    );
    let split = found(&answer, |change| matches!(change, Change::Split(_)));
    assert_eq!(split.words(MM), "fits with band split along its fold");
    let Some(Edit::Fitting { change, .. }) = &split.remedy else {
        panic!("{:?}", split.remedy)
    };
    let only = PieceLaying {
        seam_on_fold: Some(true),
        ..PieceLaying::default()
    };
    assert_eq!(
        *change,
        FittingEdit::SetPieceLaying("band".to_owned(), Some(only))
    );
    assert_eq!(
        split.remedy.as_ref().unwrap().words(MM),
        "band: may be split along its fold"
    );
    // Each trial allowed one thing.
    for laying in &tried {
        let allowed = [laying.seam_on_fold, laying.patch, laying.join];
        assert!(
            allowed.iter().filter(|one| one.is_some()).count() <= 1,
            "{laying:?}"
        );
    }
}

#[test]
fn two_ways_to_piece_are_allowed_together_only_when_neither_is_enough() {
    // Split, a band needs two places 26 wide; joined, it needs 14, 20 and 14.
    let sizes = [
        (21.0, 11.0),
        (15.0, 11.0),
        (15.0, 11.0),
        (27.0, 11.0),
        (27.0, 11.0),
    ];
    let (to_lay, cloth) = (bands(2), offcuts(&sizes));
    let (answer, tried) = asked(&to_lay, &cloth, PieceLaying::default(), 1200);
    let split = found(&answer, |change| matches!(change, Change::Split(_)));
    let joined = found(&answer, |change| matches!(change, Change::Joined(_)));
    let both = found(&answer, |change| matches!(change, Change::Pieced(_)));
    assert_eq!((split.placed, joined.placed), ((1, 2), (1, 2)));
    assert!(both.is_enough(), "{:?}", both.placed);
    assert_eq!(both.words(MM), "fits with band pieced in more than one way");
    let last = tried.last().unwrap();
    assert_eq!(
        (last.seam_on_fold, last.join),
        (Some(true), Some(true)),
        "last of all"
    );
    let laid = (both.plan.clone(), both.plan.piecings.len());
    assert_eq!(laid.1, 2);
    let mut allowed = to_lay.clone();
    for copy in &mut allowed.copies {
        copy.pieced = both.plan.piecing(&copy.of).map_or(Vec::new(), |piecing| {
            vec![way(
                copy,
                piecing.kind,
                piecing.allowance.0,
                &piecing
                    .lines
                    .iter()
                    .map(|line| line.0.x)
                    .collect::<Vec<_>>(),
            )]
        });
    }
    assert_eq!(check_plan(&allowed, &cloth, &laid.0), []);
}

#[test]
fn what_the_maker_has_refused_is_never_tried() {
    let (to_lay, offcuts) = (bands(1), offcuts(&[(37.0, 22.0)]));
    let refused = PieceLaying {
        seam_on_fold: Some(false),
        upside_down: Some(false),
        ..PieceLaying::default()
    };
    let (answer, tried) = asked(&to_lay, &offcuts, refused, 100);
    assert!(!tried.is_empty(), "a join was not refused");
    for laying in &tried {
        assert_eq!(
            (laying.seam_on_fold, laying.upside_down),
            (Some(false), Some(false)),
            "{laying:?}"
        );
    }
    let all = answer.concessions.iter().map(|one| &one.change);
    let all: Vec<&Change> = all.chain(&answer.in_vain).collect();
    assert!(
        !all.iter()
            .any(|change| matches!(change, Change::Split(_) | Change::UpsideDown(_))),
        "{all:?}"
    );
    let everything = PieceLaying {
        patch: Some(false),
        join: Some(false),
        ..refused
    };
    let (_, tried) = asked(&to_lay, &offcuts, everything, 50);
    assert_eq!(tried, []);
}

#[test]
fn larger_offcuts_are_told_with_the_least_whole_percent() {
    // Twice 10 and the gap are 21: 20.1 mm must grow by 4.48 %, 19.3 by 8.8 %.
    for (along, percent) in [(20.1, 5.0), (19.3, 9.0)] {
        let (to_lay, offcuts) = (bands(2), offcuts(&[(42.0, along)]));
        let (answer, _) = asked(&to_lay, &offcuts, PieceLaying::default(), 150);
        let larger = found(&answer, |change| matches!(change, Change::LargerOffcuts(_)));
        assert_eq!(larger.change, Change::LargerOffcuts(percent));
        // One click: the same as a change of the project.
        assert_eq!(larger.remedy, Some(Edit::GrowOffcuts(percent)));
        assert!(larger.is_enough());
        let grown: Vec<Arc<Offcut>> = offcuts
            .iter()
            .map(|offcut| Arc::new(offcut.grown(percent, |_| false)))
            .collect();
        assert_eq!(check_plan(&to_lay, &grown, &larger.plan), []);
        assert!(
            !answer
                .in_vain
                .iter()
                .any(|change| matches!(change, Change::LargerOffcuts(_)))
        );
        // What can be got instead has its click, too.
        let extra = found(&answer, |change| matches!(change, Change::Extra(_)));
        assert!(extra.remedy.is_some());
    }
}

#[test]
fn trials_that_look_closer_are_counted() {
    let (to_lay, offcuts) = (bands(2), offcuts(&[(42.0, 19.3)]));
    let question = Question {
        fitting: "Sunday".to_owned(),
        to_lay: to_lay.clone(),
        offcuts,
        plan: petitoile_core::lay_plan::LayPlan::default(),
        laying: Laying::default(),
        allowance: Mm(2.0),
        steps: 100,
        seed: 1,
    };
    let mut trials = WhyNot::new(question, Box::new(move |_| Some(to_lay.clone())));
    while trials.progress().now.is_some() {
        let progress = trials.step(40);
        assert!(progress.done <= progress.of);
    }
    let progress = trials.progress();
    assert_eq!(progress.done, progress.of);
}
