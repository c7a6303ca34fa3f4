//! Requests that cannot be made give no numbers but the nearest that can, and why.

#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use proptest::prelude::*;

use super::*;
use crate::strips::{
    BiasCloth, BiasWanted, LongEdge, Make, PipingWanted, Size, Source, StripError, StripWanted,
    Tally, TiersWanted, bias_length, bias_square, binding_width, continuous_bias, joined,
    piping_width, tiers,
};

const MM: LengthUnit = LengthUnit::Millimetre;

#[test]
fn a_binding_of_nothing_is_refused_with_the_narrowest_that_is_sewn() {
    for none in [0.0, -4.0, f64::NAN] {
        let unmade = binding_width(Mm(none), true).unwrap_err();
        assert_eq!((unmade.nearest, unmade.gives), (NARROWEST, Mm(4.0)));
    }
    let unmade = binding_width(Mm(0.0), false).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"The width when sewn cannot be 0 mm; 1 mm is the least.");
    assert_eq!(binding_width(Mm(12.7), true), Ok(Mm(50.8)));
}

#[test]
fn a_piping_without_cord_or_allowance_is_refused_with_both_reasons() {
    let unmade = piping_width(PipingWanted {
        cord: Mm(0.0),
        allowance: Mm(-2.0),
    })
    .unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"The girth of the cord cannot be 0 mm; 1 mm is the least. The allowance cannot be -2 mm; 1 mm is the least.");
    assert_eq!(unmade.gives, Mm(3.0));
}

/// Geometry: a strip lies slanting in a square whose diagonal is at least twice its width; such a square gives a length
/// of twice the width by the rule of areas.
#[test]
fn a_bias_strip_shorter_than_twice_its_width_gets_the_least_that_a_square_gives() {
    let asked = BiasWanted {
        length: Mm(20.0),
        strip: Mm(16.0),
        seam: Mm(6.0),
    };
    let unmade = bias_square(asked, Mm(10.0)).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"20 mm of a strip 16 mm wide does not lie slanting in a square; 32 mm is the least.");
    assert!((unmade.gives.side.0 - 16.0 * 2.0_f64.sqrt()).abs() < 1e-9);
    assert_eq!(continuous_bias(asked).unwrap_err().gives.length, Mm(32.0));
}

#[test]
fn a_strip_too_wide_for_its_cloth_gets_the_widest_that_lies_on_the_bias() {
    let cloth = |wide: f64, strip: f64| BiasCloth {
        long: Mm(300.0),
        wide: Mm(wide),
        strip: Mm(strip),
    };
    let unmade = bias_length(cloth(20.0, 40.0)).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"A strip 40 mm wide does not lie slanting in cloth 20 mm wide; 14.14 mm is the most.");
    let in_inches = bias_length(cloth(25.4, 50.8)).unwrap_err();
    insta::assert_snapshot!(in_inches.words(LengthUnit::Inch), @"A strip 2 in wide does not lie slanting in cloth 1 in wide; about 23/32 in (0.707 in) is the most.");
    assert_eq!(bias_length(cloth(200.0, 16.0)), Ok(Mm(3750.0)));
}

#[test]
fn more_bias_than_a_square_of_woven_cloth_gives_is_refused() {
    let asked = BiasWanted {
        length: Mm(100_000.0),
        strip: Mm(400.0),
        seam: Mm(500.0),
    };
    let unmade = continuous_bias(asked).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"The seam of the tube cannot be 500 mm; 400 mm is the most. 100000 mm takes a square of 7588.23 mm, wider than cloth is woven (3000 mm; common practice, no source); 7200 mm is the most.");
    assert!(unmade.gives.side.0 <= WIDEST_CLOTH.0);
}

#[test]
fn a_tier_shorter_than_what_it_is_sewn_to_is_refused() {
    let asked = |edge: f64, ratios: &[f64]| TiersWanted {
        edge: Mm(edge),
        ratios: ratios.to_vec(),
    };
    let unmade = tiers(&asked(265.0, &[1.5, 0.5])).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"Tier 2 cannot be 0.5 times as long as what it is sewn to; 1 to 20 times can, 1 is the nearest.");
    assert_eq!(unmade.nearest.ratios, [1.5, 1.0]);
    // 265 mm x 20 x 20 = 106 m.
    let unmade = tiers(&asked(265.0, &[20.0, 20.0, 2.0])).unwrap_err();
    insta::assert_snapshot!(unmade.words(MM), @"Tier 2 would take 106000 mm of cloth; 100000 mm is the most.");
    assert_eq!(unmade.gives.len(), 1);
    assert!(tiers(&asked(0.0, &[2.0])).is_err(), "no edge");
}

#[test]
fn a_strip_of_no_width_is_refused_with_the_nearest_that_can_be_made() {
    let hem = LongEdge::Hem {
        width: Mm(5.0),
        turns: 2,
    };
    // Cut 20 mm wide, both edges turned twice by 5 mm: nothing is left (w + 4h, computed).
    let wanted = StripWanted {
        make: Make::Single {
            upper: hem,
            lower: hem,
        },
        ..StripWanted::new(Size::Finished(Mm(300.0)), Size::Cut(Mm(20.0)))
    };
    let Err(StripError::Unsound(unsound)) = joined(&wanted, &Source::Every(Mm(400.0))) else {
        panic!("nothing is left of it")
    };
    insta::assert_snapshot!(unsound.wrong.words(LengthUnit::Inch), @"a strip with a finished width of 0 in cannot be made; look at its hems and allowances");
    let nearest = unsound.nearest.unwrap();
    assert_eq!(nearest.widths(), (Mm(21.0), NARROWEST));
    assert!(joined(&nearest, &Source::Every(Mm(400.0))).is_ok());
}

#[test]
fn bits_that_do_not_reach_are_told_in_inches_to_a_maker_of_inches() {
    let inches = |n: f64| Mm::from_inches(n);
    let wanted = StripWanted {
        allowance: inches(0.25),
        ..StripWanted::new(Size::Finished(inches(20.0)), Size::Cut(inches(2.0)))
    };
    let why = joined(&wanted, &Source::Bits(vec![inches(8.0); 2])).unwrap_err();
    insta::assert_snapshot!(why.words(LengthUnit::Inch), @"the bits give 15 1/2 in joined, 4 1/2 in less than the 20 in needed; find more cloth, or make the strip shorter or less full");
    insta::assert_snapshot!(why, @"the bits give 393.7 mm joined, 114.3 mm less than the 508 mm needed; find more cloth, or make the strip shorter or less full");
}

fn any_size() -> impl Strategy<Value = f64> {
    prop_oneof![
        6 => -10.0_f64..3000.0,
        1 => Just(0.0),
        1 => Just(f64::NAN),
        1 => Just(f64::INFINITY),
        1 => 1.0e4_f64..1.0e9,
    ]
}

/// Numbers where there are some; else a reason, and a nearest request that gives the numbers beside it.
fn held<R: Clone, G: PartialEq + std::fmt::Debug>(
    outcome: Result<G, Unmade<R, G>>,
    again: impl Fn(&R) -> Result<G, Unmade<R, G>>,
    is_some: impl Fn(&G) -> bool,
) -> Result<(), TestCaseError> {
    match outcome {
        Ok(gives) => prop_assert!(is_some(&gives), "{:?}", gives),
        Err(unmade) => {
            prop_assert!(!unmade.why.is_empty());
            prop_assert!(unmade.words(LengthUnit::Inch).len() > 20);
            prop_assert!(is_some(&unmade.gives), "{:?}", unmade.gives);
            let Ok(nearest) = again(&unmade.nearest) else {
                return Err(TestCaseError::fail("the nearest cannot be made either"));
            };
            prop_assert_eq!(nearest, unmade.gives);
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(10_000))]
    #[test]
    fn what_cannot_be_made_of_bias_gets_reasons_and_the_nearest_that_can(
        a in any_size(), b in any_size(), c in any_size(), folded in any::<bool>(),
        ratios in proptest::collection::vec(-1.0_f64..30.0, 1..6),
    ) {
        let is_length = |mm: &Mm| mm.0.is_finite() && mm.0 > 0.0;
        held(binding_width(Mm(a), folded), |near| binding_width(*near, folded), is_length)?;
        let piping = PipingWanted { cord: Mm(a), allowance: Mm(b) };
        held(piping_width(piping), |near| piping_width(*near), is_length)?;
        let cloth = BiasCloth { long: Mm(a), wide: Mm(b), strip: Mm(c) };
        held(bias_length(cloth), |near| bias_length(*near), is_length)?;
        let wanted = BiasWanted { length: Mm(a), strip: Mm(b), seam: Mm(c) };
        held(
            bias_square(wanted, Mm(10.0)),
            |near| bias_square(*near, Mm(10.0)),
            |square| is_length(&square.side) && square.side.0 <= square.cut_side.0 + 1e-6,
        )?;
        held(continuous_bias(wanted), |near| continuous_bias(*near), |tube| {
            is_length(&tube.side) && tube.side.0 <= WIDEST_CLOTH.0 + 1e-6 && tube.strips > 0
        })?;
        let asked = TiersWanted { edge: Mm(a), ratios };
        held(tiers(&asked), tiers, |all| {
            all.iter().all(|tier| is_length(&tier.finished) && tier.cloth.0 >= tier.finished.0)
        })?;
    }

    #[test]
    fn a_tally_shown_in_any_unit_adds_up_as_it_stands_there(
        parts in proptest::array::uniform5(0.0_f64..900.0),
        unit in proptest::sample::select(LengthUnit::ALL.to_vec()),
    ) {
        let [shown, drawn_in, ends, joins_take, left] = parts.map(Mm);
        let cut = Mm(shown.0 + drawn_in.0 + ends.0 + joins_take.0);
        let tally = Tally {
            segments: 3, joins: 2, cut, shown, drawn_in, ends, joins_take, left, bits: cut + left,
        };
        prop_assert!(tally.out_by().0 < Tally::ROUNDING.0);
        let told = tally.shown_in(unit);
        let read = |mm: Mm| crate::units::read_length(&unit.show_chosen(mm), unit).unwrap().0;
        let uses = read(told.shown) + read(told.drawn_in) + read(told.ends) + read(told.joins_take);
        prop_assert!((read(told.cut) - uses).abs() < 1e-6);
        prop_assert!((read(told.cut) + read(told.left) - read(told.bits)).abs() < 1e-6);
        prop_assert!((read(told.lost()) - read(told.ends) - read(told.joins_take)).abs() < 1e-6);
        prop_assert!((told.cut.0 - cut.0).abs() <= unit.finest_step().0);
    }
}
