//! The length of a cloth to buy.

use petitoile_core::piece::Side;
use petitoile_core::{LengthUnit, Mm};
use petitoile_lay::{Bolt, LayError, LengthJob, check_plan};

use crate::small::{self, copy, rectangle};

/// Four squares of 30 mm, no gap, on cloth of 60 mm with no margin: two by two.
#[test]
fn four_squares_on_cloth_two_wide_need_two() {
    let mut to_lay = small::to_lay();
    to_lay.gap = Mm(0.0);
    let mut square = to_lay.copies.remove(2);
    square.whole.outline = rectangle(0.0, 0.0, 30.0, 30.0);
    square.grain_tolerance = petitoile_core::Degrees(0.0);
    to_lay.copies = (0..4)
        .map(|number| {
            let mut one = square.clone();
            one.of.number = number;
            one
        })
        .collect();
    let bolt = Bolt {
        margin: Mm(0.0),
        ..Bolt::of_width(Mm(60.02))
    };
    let mut job = LengthJob::new(&to_lay, &bolt).unwrap();
    assert_eq!(job.progress().length, None);
    let mut best = f64::INFINITY;
    for _ in 0..40 {
        let length = job.step(50).length.map_or(f64::INFINITY, |length| length.0);
        assert!(length <= best, "it never grows");
        best = length;
    }
    assert!((60.0..61.0).contains(&best), "{best}");
}

#[test]
fn the_plan_lies_on_the_length_with_its_margins() {
    let mut job = LengthJob::new(&small::to_lay(), &Bolt::of_width(Mm(80.0))).unwrap();
    job.step(600);
    let needed = job.best().unwrap();
    assert_eq!(needed.plan.placed.len(), 3);
    assert_eq!(
        check_plan(
            job.to_lay(),
            std::slice::from_ref(&needed.offcut),
            &needed.plan
        ),
        []
    );
    let area: f64 = 2.0 * 550.0 + 400.0;
    assert!(
        needed.length.0 > area / 60.0 + 20.0,
        "{}",
        LengthUnit::Millimetre.show(needed.length)
    );
    assert_eq!(needed.offcut.margin, Mm(10.0));
    // Same seed and steps, same length.
    let mut again = LengthJob::new(&small::to_lay(), &Bolt::of_width(Mm(80.0))).unwrap();
    again.step(300);
    again.step(300);
    assert_eq!(again.best(), job.best());
}

#[test]
fn only_what_is_of_the_cloth_is_counted() {
    let mut to_lay = small::to_lay();
    to_lay.copies[2].cloth = Some("lawn".to_owned());
    let bolt = Bolt {
        cloth: Some("lawn".to_owned()),
        ..Bolt::of_width(Mm(90.0))
    };
    let mut job = LengthJob::new(&to_lay, &bolt).unwrap();
    job.step(200);
    let needed = job.best().unwrap();
    assert_eq!(needed.plan.placed.len(), 1);
    assert_eq!(needed.offcut.name, "lawn to buy");
    let silk = Bolt {
        cloth: Some("silk".to_owned()),
        ..bolt
    };
    assert_eq!(
        LengthJob::new(&to_lay, &silk).unwrap_err(),
        LayError::NothingToLay
    );
}

#[test]
fn what_is_wider_than_the_cloth_is_named_with_the_missing_mm() {
    // 40 mm across the grain, 50 mm of cloth less 10 mm margin at each side: 30 mm.
    let mut job = LengthJob::new(&small::to_lay(), &Bolt::of_width(Mm(50.0))).unwrap();
    job.step(100);
    assert_eq!(job.best(), None);
    let wide = job.too_wide();
    assert_eq!(wide.len(), 1);
    assert_eq!(wide[0].0, copy("band", Side::Whole));
    assert!((wide[0].1.0 - 10.0).abs() < 0.05, "{:?}", wide[0].1);
    let error = LengthJob::new(&small::to_lay(), &Bolt::of_width(Mm(15.0))).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the width of the cloth is no usable number; type it again"
    );
}
