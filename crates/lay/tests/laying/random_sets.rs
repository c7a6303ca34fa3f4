//! 300 thrown sets in the style of the made-up one: every plan passes the check, at every moment that is looked at.

use std::sync::Arc;

use petitoile_core::cloth::{Blemish, GoodFor, Offcut};
use petitoile_core::kurbo::Point;
use petitoile_core::lay_plan::LayPlan;
use petitoile_core::laying::ToLay;
use petitoile_core::piece::{Face, Side};
use petitoile_core::{Degrees, Mm};
use petitoile_lay::{FaultKind, Job, JobOptions, check_plan};

use crate::doll_set;

/// Sets.
const SETS: u64 = 300;

/// Steps of each; looked at after each third.
const STEPS: u64 = 36;

/// Numbers from 0 to 1, the same every time.
struct Thrown(u64);

impl Thrown {
    fn number(&mut self) -> f64 {
        // The generator of Steele, Lea, Flood 2014 (SplitMix64).
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.number()
    }

    fn one_in(&mut self, n: f64) -> bool {
        self.number() * n < 1.0
    }
}

fn to_lay(thrown: &mut Thrown) -> ToLay {
    let mut to_lay = doll_set::to_lay();
    to_lay.gap = Mm([0.0, 0.5, 1.0, 3.0][(thrown.number() * 4.0) as usize]);
    to_lay.copies.retain(|_| !thrown.one_in(4.0));
    for copy in &mut to_lay.copies {
        let (wide, long) = (thrown.between(0.7, 1.3), thrown.between(0.7, 1.3));
        for p in &mut copy.whole.outline {
            *p = Point::new(p.x * wide, p.y * long);
        }
        copy.whole.grain = Degrees(if thrown.one_in(4.0) {
            thrown.between(-90.0, 90.0)
        } else {
            0.0
        });
        copy.grain_tolerance = Degrees(thrown.between(0.0, 6.0) - 1.0).max_zero();
        copy.needs = GoodFor::ALL[(thrown.number() * 3.0) as usize];
        copy.priority = 1 + (thrown.number() * 3.0) as u8;
        copy.upside_down = thrown.one_in(2.0);
        copy.cloth = thrown.one_in(3.0).then(|| "cotton".to_owned());
    }
    to_lay
}

trait MaxZero {
    fn max_zero(self) -> Self;
}

impl MaxZero for Degrees {
    fn max_zero(self) -> Self {
        Self(self.0.max(0.0))
    }
}

fn offcuts(thrown: &mut Thrown) -> Vec<Arc<Offcut>> {
    let scale = thrown.between(0.9, 1.6);
    let mut offcuts = doll_set::offcuts(scale);
    for offcut in &mut offcuts {
        let offcut = Arc::make_mut(offcut);
        for p in &mut offcut.outline {
            *p += petitoile_core::kurbo::Vec2::new(
                thrown.between(-6.0, 6.0),
                thrown.between(-6.0, 6.0),
            );
        }
        offcut.grain = Degrees(if thrown.one_in(2.0) {
            0.0
        } else {
            thrown.between(-180.0, 180.0)
        });
        offcut.grain_doubt = Degrees(if thrown.one_in(3.0) {
            thrown.between(0.0, 4.0)
        } else {
            0.0
        });
        offcut.face = if thrown.one_in(3.0) {
            Face::Wrong
        } else {
            Face::Right
        };
        offcut.sides_alike = thrown.one_in(4.0);
        offcut.nap = thrown.one_in(4.0);
        offcut.margin = Mm(if thrown.one_in(2.0) {
            thrown.between(0.0, 8.0)
        } else {
            0.0
        });
        if thrown.one_in(5.0) {
            offcut.cloth = "lawn".to_owned();
        }
        for _ in 0..(thrown.number() * 3.0) as usize {
            offcut.blemishes.push(blemish(thrown));
        }
    }
    offcuts
}

fn blemish(thrown: &mut Thrown) -> Blemish {
    let (x, y) = (thrown.between(10.0, 180.0), thrown.between(10.0, 130.0));
    let outline = (0..7)
        .map(|i| {
            let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / 7.0).sin_cos();
            let radius = thrown.between(2.0, 12.0);
            Point::new(x + radius * cos, y + radius * sin)
        })
        .collect();
    Blemish {
        outline,
        is_hole: thrown.one_in(2.0),
        good_for: GoodFor::ALL[(thrown.number() * 3.0) as usize],
    }
}

/// Pins what lies there now, or marks it as cut.
fn held(thrown: &mut Thrown, to_lay: &ToLay, mut plan: LayPlan) -> LayPlan {
    let whole = plan.clone();
    for placed in &mut plan.placed {
        if thrown.one_in(3.0) {
            placed.pinned = true;
        } else if thrown.one_in(3.0) {
            placed.as_cut = petitoile_lay::lying::outline_on_offcut(to_lay, &whole, placed);
        }
    }
    plan
}

#[test]
fn every_plan_of_thrown_sets_passes_the_check() {
    let (mut laid, mut complete, mut taken_off) = (0, 0, 0);
    for set in 0..SETS {
        let thrown = &mut Thrown(set);
        let (to_lay, offcuts) = (to_lay(thrown), offcuts(thrown));
        let mut job = Job::new(&to_lay, &offcuts, None, JobOptions { seed: set }).unwrap();
        for _ in 0..3 {
            job.step(STEPS / 3);
            let plan = job.best();
            assert_eq!(check_plan(&to_lay, &offcuts, &plan), [], "set {set}");
        }
        let plan = job.best();
        laid += plan.placed.len();
        complete += usize::from(job.progress().complete);
        taken_off += job.taken_off();
        // Again around what is pinned and cut.
        let before = held(thrown, &to_lay, plan);
        let mut again =
            Job::new(&to_lay, &offcuts, Some(&before), JobOptions { seed: set }).unwrap();
        again.step(STEPS / 3);
        let plan = again.best();
        assert_eq!(
            check_plan(&to_lay, &offcuts, &plan),
            [],
            "set {set}, around what is pinned"
        );
        for placed in before
            .placed
            .iter()
            .filter(|placed| placed.pinned || placed.as_cut.is_some())
        {
            assert_eq!(plan.placed(&placed.part_ref()), Some(placed), "set {set}");
        }
    }
    // So that the sets do not become too easy or too hard to say anything.
    assert!(laid > 2000, "{laid} laid");
    assert!((20..290).contains(&complete), "{complete} complete");
    // What the search believed and the check took off again.
    assert_eq!(taken_off, 0);
}

#[test]
fn copies_that_are_mirrored_pairs_lie_as_pairs() {
    let (to_lay, offcuts) = (doll_set::to_lay(), doll_set::offcuts(1.3));
    let mut job = Job::new(&to_lay, &offcuts, None, JobOptions { seed: 2 }).unwrap();
    job.step(300);
    let mut plan = job.best();
    for placed in &plan.placed {
        assert_eq!(placed.mirrored, placed.copy.side == Side::Left);
    }
    plan.placed[0].mirrored = !plan.placed[0].mirrored;
    let faults = check_plan(&to_lay, &offcuts, &plan);
    assert!(
        faults
            .iter()
            .any(|fault| fault.kind == FaultKind::WrongSide)
    );
}
