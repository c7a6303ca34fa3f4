//! Why it does not fit: proofs, nearest places, and what would help.

use std::sync::Arc;

use petitoile_core::cloth::Offcut;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::{Laying, ToLay};
use petitoile_core::piece::Side;
use petitoile_core::{Degrees, LengthUnit, Mm};
use petitoile_lay::why_not::{
    Answer, Change, Impossible, Question, WhyNot, larger_offcut, why_not,
};
use petitoile_lay::{Job, JobOptions, check_plan};

use crate::doll_set::points;
use crate::small::{self, copy, rectangle};

const MM: LengthUnit = LengthUnit::Millimetre;

/// Two bands of 40 by 10 mm and nothing else, on a plain offcut of this size; gap 1 mm, no margin.
fn bands(across: f64, along: f64) -> (ToLay, Vec<Arc<Offcut>>) {
    let mut to_lay = small::to_lay();
    let mut band = to_lay.copies.remove(2);
    band.pieced.clear();
    band.grain_tolerance = Degrees(2.0);
    let mut second = band.clone();
    second.of.number = 1;
    to_lay.copies = vec![band, second];
    let mut offcut = small::offcut();
    offcut.outline = rectangle(0.0, 0.0, across, along);
    offcut.blemishes.clear();
    offcut.margin = Mm(0.0);
    (to_lay, vec![Arc::new(offcut)])
}

fn asked(to_lay: &ToLay, offcuts: &[Arc<Offcut>], steps: u64) -> Question {
    let mut job = Job::new(to_lay, offcuts, None, JobOptions { seed: 1 }).unwrap();
    job.step(steps);
    Question {
        fitting: "Sunday".to_owned(),
        to_lay: to_lay.clone(),
        offcuts: offcuts.to_vec(),
        plan: job.best(),
        laying: Laying::default(),
        allowance: Mm(6.0),
        steps,
        seed: 1,
    }
}

/// What is to be laid after a change, for bands whose allowance stands on all four sides.
fn remade(to_lay: &ToLay) -> petitoile_lay::why_not::Remade {
    let now = to_lay.clone();
    Box::new(move |edit| {
        let mut next = now.clone();
        match edit {
            FittingEdit::SetLayGap(gap) => next.gap = *gap,
            FittingEdit::SetGrainTolerance(tolerance) => {
                for copy in &mut next.copies {
                    copy.grain_tolerance = *tolerance;
                }
            }
            FittingEdit::SetSeamAllowance(to) => {
                let less = 6.0 - to.0;
                for copy in &mut next.copies {
                    copy.whole.outline = rectangle(less, less, 40.0 - less, 10.0 - less);
                }
            }
            FittingEdit::SetPieceLaying(_, Some(laying)) if laying.join == Some(true) => {
                for copy in &mut next.copies {
                    copy.pieced = small::to_lay().copies[2].pieced.clone();
                    for way in &mut copy.pieced {
                        way.piecing.of = copy.of.clone();
                    }
                }
            }
            _ => {}
        }
        Some(next)
    })
}

fn answer(to_lay: &ToLay, offcuts: &[Arc<Offcut>]) -> Answer {
    why_not(asked(to_lay, offcuts, 300), remade(to_lay))
}

#[track_caller]
fn concession(
    answer: &Answer,
    of: impl Fn(&Change) -> bool,
) -> &petitoile_lay::why_not::Concession {
    answer
        .concessions
        .iter()
        .find(|concession| of(&concession.change))
        .unwrap_or_else(|| panic!("{:?}", answer.concessions))
}

#[test]
fn everything_that_lies_needs_no_concession() {
    let (to_lay, offcuts) = bands(50.0, 30.0);
    let answer = answer(&to_lay, &offcuts);
    assert!(answer.everything_lies());
    assert_eq!(answer.verdict(MM), "Everything lies.");
    assert!(answer.concessions.is_empty());
}

#[test]
fn half_a_millimetre_too_little_is_told_with_what_would_help() {
    // 20.5 mm along for twice 10 and a gap of 1: half a millimetre is missing.
    let (to_lay, offcuts) = bands(42.0, 20.5);
    let answer = answer(&to_lay, &offcuts);
    assert_eq!(answer.not_laid.len(), 1);
    let nearest = answer.not_laid[0].nearest.as_ref().unwrap();
    // The one that lies may lie in the middle; then it is 5.75 mm at the worst.
    assert!((0.2..6.0).contains(&nearest.by.0), "{nearest:?}");
    assert!(answer.impossible.is_empty());
    assert!(answer.verdict(MM).starts_with("Not found in 300 steps"));
    let gap = concession(&answer, |change| matches!(change, Change::Gap { .. }));
    assert_eq!(
        gap.words(MM),
        "fits with 0 mm between pieces instead of 1 mm"
    );
    let allowance = concession(&answer, |change| matches!(change, Change::Allowance { .. }));
    assert_eq!(
        allowance.words(MM),
        "fits if allowances shrink from 6 mm to 5 mm"
    );
    assert_eq!(
        allowance.remedy,
        Some(Edit::Fitting {
            fitting: "Sunday".to_owned(),
            change: FittingEdit::SetSeamAllowance(Mm(5.0)),
        })
    );
    let larger = concession(&answer, |change| matches!(change, Change::LargerOffcuts(_)));
    assert_eq!(larger.words(MM), "fits with every offcut 3 % larger");
    let Change::LargerOffcuts(percent) = larger.change else {
        panic!("{:?}", larger.change)
    };
    let cloth = offcuts
        .iter()
        .map(|one| Arc::new(larger_offcut(one, percent)));
    let cloth: Vec<_> = cloth.collect();
    assert_eq!(check_plan(&to_lay, &cloth, &larger.plan), []);
    assert_ne!(check_plan(&to_lay, &offcuts, &larger.plan), []);
    let extra = concession(&answer, |change| matches!(change, Change::Extra(_)));
    assert_eq!(
        extra.words(MM),
        "fits with one more piece of cloth, 41 mm across and 11 mm along the grain"
    );
    let Some(Edit::PutOffcut(offcut)) = &extra.remedy else {
        panic!("{:?}", extra.remedy);
    };
    let both = [offcuts[0].clone(), offcut.clone()];
    assert_eq!(check_plan(&to_lay, &both, &extra.plan), []);
    assert_eq!(extra.plan.placed.len(), 2);
    // Turning does not help, and that is told, too.
    assert!(
        answer
            .in_vain
            .iter()
            .any(|change| matches!(change, Change::Grain { .. }))
    );
}

#[test]
fn what_cannot_be_is_proved() {
    // Larger than the only offcut, by 3 mm less what turning saves: nothing across.
    let (to_lay, offcuts) = bands(37.0, 30.0);
    let large = answer(&to_lay, &offcuts);
    let Some(Impossible::TooLarge { of, by }) = large.impossible.first() else {
        panic!("{:?}", large.impossible);
    };
    assert_eq!(*of, copy("band", Side::Whole));
    // 40 cos 2 + 10 sin 2 is more than 40, so it is narrowest when true.
    assert!((2.95..=3.0).contains(&by.0), "{by:?}");
    assert!(
        large
            .verdict(MM)
            .starts_with("Impossible: band is at least")
    );
    // Not enough cloth.
    let (to_lay, offcuts) = bands(45.0, 15.0);
    let little = answer(&to_lay, &offcuts);
    assert!(
        matches!(little.impossible[0], Impossible::TooLittle { pieces_mm2, cloth_mm2, .. }
            if (pieces_mm2 - 800.0).abs() < 1e-6 && (cloth_mm2 - 675.0).abs() < 1e-6),
        "{:?}",
        little.impossible
    );
    assert_eq!(
        little.verdict(MM),
        "Impossible: the pieces of cotton measure 8 cm\u{b2}, the cloth 6 cm\u{b2}."
    );
    // No cloth of the name.
    let (mut to_lay, offcuts) = bands(45.0, 45.0);
    to_lay.copies[1].cloth = Some("silk".to_owned());
    let none = answer(&to_lay, &offcuts);
    assert_eq!(none.not_laid[0].nearest, None);
    assert_eq!(
        none.not_laid[0].words(MM),
        "band, 2nd: there is no cloth for it"
    );
    assert_eq!(
        none.verdict(MM),
        "Impossible: band, 2nd is to be of silk, and there is no offcut of it."
    );
}

#[test]
fn a_hole_takes_its_area_off_the_cloth_once() {
    let (to_lay, mut offcuts) = bands(42.0, 21.0);
    let mut holed = Offcut::clone(&offcuts[0]);
    for _ in 0..2 {
        holed.blemishes.push(petitoile_core::cloth::Blemish {
            outline: points(&[(0.0, 0.0), (42.0, 0.0), (42.0, 2.1), (0.0, 2.1)], 1.0),
            is_hole: true,
            good_for: petitoile_core::cloth::GoodFor::Inside,
        });
    }
    offcuts[0] = Arc::new(holed);
    let answer = answer(&to_lay, &offcuts);
    let Some(Impossible::TooLittle { cloth_mm2, .. }) = answer.impossible.first() else {
        panic!("{:?}", answer.impossible);
    };
    assert!((cloth_mm2 - 42.0 * 18.9).abs() < 0.01, "{cloth_mm2}");
}

#[test]
fn trials_come_step_by_step_and_end() {
    let (to_lay, offcuts) = bands(42.0, 20.5);
    let mut trials = WhyNot::new(asked(&to_lay, &offcuts, 200), remade(&to_lay));
    assert_eq!(trials.progress().done, 0);
    let mut rounds = 0;
    while trials.progress().now.is_some() {
        let progress = trials.step(60);
        assert!(progress.done <= progress.of);
        rounds += 1;
        assert!(rounds < 500);
    }
    let at_once = why_not(asked(&to_lay, &offcuts, 200), remade(&to_lay));
    assert_eq!(*trials.answer(), at_once);
}

#[test]
fn what_lies_is_not_asked_again_after_a_plan_is_empty() {
    let (to_lay, offcuts) = bands(50.0, 30.0);
    let question = Question {
        plan: LayPlan::default(),
        ..asked(&to_lay, &offcuts, 50)
    };
    let answer = why_not(question, remade(&to_lay));
    assert_eq!(answer.not_laid.len(), 2, "nothing lies in an empty plan");
    assert!(
        answer
            .not_laid
            .iter()
            .all(|left| left.nearest.as_ref().unwrap().by.0 < 1e-3)
    );
}

#[test]
fn a_seam_that_makes_it_fit_is_named() {
    // One offcut takes a band, the other only halves.
    let (to_lay, mut offcuts) = bands(42.0, 11.0);
    let mut second = Offcut::clone(&offcuts[0]);
    second.name = "blue B".to_owned();
    second.outline = rectangle(0.0, 0.0, 25.0, 23.0);
    offcuts.push(Arc::new(second));
    let answer = answer(&to_lay, &offcuts);
    let pieced = concession(&answer, |change| matches!(change, Change::Joined(_)));
    assert_eq!(pieced.words(MM), "fits with band joined of several strips");
    assert!(pieced.remedy.is_some());
    assert_eq!(pieced.plan.piecings.len(), 1);
    assert!(
        !answer
            .concessions
            .iter()
            .any(|one| matches!(one.change, Change::Pieced(_))),
        "one way is enough"
    );
}

#[test]
fn an_extra_piece_of_one_cloth_is_not_said_to_take_what_is_of_another() {
    let (mut to_lay, offcuts) = bands(42.0, 11.0);
    let mut silk = to_lay.copies[0].clone();
    silk.of.number = 2;
    silk.cloth = Some("silk".to_owned());
    to_lay.copies.push(silk);
    let answer = answer(&to_lay, &offcuts);
    assert_eq!(answer.not_laid.len(), 2);
    let extra = concession(&answer, |change| matches!(change, Change::Extra(_)));
    assert_eq!(extra.placed, (2, 3));
    assert!(
        extra
            .words(MM)
            .starts_with("2 of 3 lie with one more piece")
    );
    let Some(Edit::PutOffcut(offcut)) = &extra.remedy else {
        panic!("{:?}", extra.remedy);
    };
    let both = [offcuts[0].clone(), offcut.clone()];
    assert_eq!(check_plan(&to_lay, &both, &extra.plan), []);
}

#[test]
fn what_is_cut_or_pinned_takes_the_cloth_it_lies_on_and_no_more() {
    let with = |to_lay: &ToLay, offcuts: &[Arc<Offcut>], placed| Question {
        plan: LayPlan {
            placed: vec![placed],
            ..LayPlan::default()
        },
        steps: 1,
        ..asked(to_lay, offcuts, 1)
    };
    let first = |offcut: &str| petitoile_core::lay_plan::Placed {
        offcut: offcut.to_owned(),
        pinned: true,
        ..small::placed(&copy("band", Side::Whole), 1.0, 1.0)
    };
    // Cut 10 mm wide; since then bands are 30 mm wide. 400 and 1200 mm2 of 1764.
    let (mut to_lay, offcuts) = bands(42.0, 42.0);
    for copy in &mut to_lay.copies {
        copy.whole.outline = rectangle(0.0, 0.0, 40.0, 30.0);
    }
    let mut cut = first("blue A");
    cut.as_cut = Some(rectangle(1.0, 1.0, 41.0, 11.0));
    let trials = WhyNot::new(with(&to_lay, &offcuts, cut), remade(&to_lay));
    assert_eq!(trials.answer().impossible, []);
    // 800 mm2 of cotton do not come from 630, but one band is pinned on silk.
    let (to_lay, mut offcuts) = bands(42.0, 15.0);
    let mut silk = Offcut::clone(&offcuts[0]);
    silk.name = "silk A".to_owned();
    silk.cloth = "silk".to_owned();
    offcuts.push(Arc::new(silk));
    let trials = WhyNot::new(with(&to_lay, &offcuts, first("silk A")), remade(&to_lay));
    assert_eq!(trials.answer().impossible, []);
    let trials = WhyNot::new(with(&to_lay, &offcuts, first("blue A")), remade(&to_lay));
    assert_eq!(trials.answer().impossible.len(), 1, "both of cotton");
}

#[test]
fn a_larger_offcut_keeps_its_middle_and_what_was_cut_from_it() {
    let near = |is: &[Point], should: Vec<Point>| {
        let mut off = is.iter().zip(&should).map(|(a, b)| (*a - *b).hypot());
        is.len() == should.len() && off.all(|off| off < 1e-9)
    };
    let offcut = small::offcut();
    let larger = larger_offcut(&offcut, 4.0);
    // 100 mm square about (50, 50); the stain grows with it, the hole that is no cloth at all stays.
    assert!(near(&larger.outline, rectangle(-2.0, -2.0, 102.0, 102.0)));
    assert_eq!(larger.blemishes[0], offcut.blemishes[0]);
    assert!(near(
        &larger.blemishes[1].outline,
        rectangle(60.4, 8.4, 70.8, 18.8)
    ));
    assert_eq!(larger_offcut(&offcut, 0.0), offcut);
}
