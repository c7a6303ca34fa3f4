#![allow(clippy::unwrap_used, clippy::panic, reason = "tests")]

use proptest::prelude::*;

use super::*;

fn check(typed: &str, unit: LengthUnit, mm: f64) {
    let read = read_length(typed, unit).unwrap_or_else(|error| panic!("{typed}: {error}"));
    assert!(
        (read.0 - mm).abs() < 1e-9,
        "{typed}: {} against {mm}",
        read.0
    );
}

/// International inch of 1959: exactly 25.4 mm; all values worked by hand.
#[test]
fn lengths_are_read_as_makers_write_them() {
    use LengthUnit::{Centimetre, Inch, Millimetre};
    let same = [
        "2 3/4 in",
        "2.75\"",
        "2 3/4″",
        "2-3/4 in",
        "2¾ in",
        "2 ¾\"",
        "2,75 in",
        "  2  3/4  inches ",
        "2 3⁄4 IN.",
        "2\u{a0}3/4''",
        "+2.75 inch",
        "2 - 3/4 in",
        "11/4 in",
    ];
    for typed in same {
        check(typed, Millimetre, 69.85);
    }
    for typed in [
        "70 mm",
        "7 cm",
        "70",
        "7,0cm",
        "70.0",
        "70 Millimetres",
        "7. cm",
    ] {
        check(typed, Millimetre, 70.0);
    }
    check("1/8", Inch, 3.175);
    check("1/8", Millimetre, 0.125);
    check("⅛", Inch, 3.175);
    check(".5", Inch, 12.7);
    check("7,5", Centimetre, 75.0);
    check("0", Inch, 0.0);
    check("1⅓", Centimetre, 40.0 / 3.0);
    check("1 in", Millimetre, 25.4);
}

#[test]
fn what_is_no_length_is_refused_with_advice() {
    let refused = [
        "wide",
        "2 3/4 3/4 in",
        "3/",
        "/4",
        "1/2/3",
        "1.5/2",
        "2 3",
        "1,000.5",
        "1.2.3",
        "in",
        "mm",
        "--3",
        "+-3",
        "inf",
        "nan",
        "NaN mm",
        "1e3",
        "0x10",
        "2 3/4 ft",
        "-",
        "½½",
        "1/2½",
        "١٢",
        "9999999999/2",
    ];
    for typed in refused {
        let error = read_signed_length(typed, LengthUnit::Millimetre).unwrap_err();
        assert!(
            matches!(error, LengthError::NotALength { .. }),
            "{typed}: {error:?}"
        );
        assert!(error.to_string().contains("type it like"));
    }
    assert_eq!(read_length(" ", LengthUnit::Inch), Err(LengthError::Empty));
    assert!(matches!(
        read_length("1/0 in", LengthUnit::Inch),
        Err(LengthError::DividesByZero { .. })
    ));
    assert!(matches!(
        read_length("-3", LengthUnit::Inch),
        Err(LengthError::BelowZero { .. })
    ));
    assert!(matches!(
        read_length("100001", LengthUnit::Millimetre),
        Err(LengthError::TooLong { .. })
    ));
    assert!(matches!(
        read_length(&"9".repeat(400), LengthUnit::Millimetre),
        Err(LengthError::TooLong { .. })
    ));
}

#[test]
fn a_minus_is_read_where_it_is_allowed() {
    for typed in ["-2 3/4 in", "\u{2212}2.75 in", "- 2¾\""] {
        assert!(
            (read_signed_length(typed, LengthUnit::Millimetre).unwrap().0 + 69.85).abs() < 1e-9,
            "{typed}"
        );
    }
    assert_eq!(
        read_length("-0", LengthUnit::Millimetre)
            .unwrap()
            .0
            .to_bits(),
        0.0_f64.to_bits()
    );
}

#[test]
fn lengths_are_shown_as_on_a_tape() {
    let show = |unit: LengthUnit, mm: f64| unit.show(Mm(mm));
    assert_eq!(show(LengthUnit::Millimetre, 70.0), "70 mm");
    assert_eq!(show(LengthUnit::Millimetre, 70.04), "70 mm");
    assert_eq!(show(LengthUnit::Millimetre, 70.06), "70.1 mm");
    assert_eq!(show(LengthUnit::Millimetre, -0.04), "0 mm");
    assert_eq!(show(LengthUnit::Millimetre, 6.35), "6.4 mm");
    assert_eq!(show(LengthUnit::Centimetre, 6.35), "0.64 cm");
    assert_eq!(show(LengthUnit::Millimetre, 100.0), "100 mm");
    assert_eq!(show(LengthUnit::Centimetre, 70.5), "7.05 cm");
    assert_eq!(show(LengthUnit::Centimetre, 100.0), "10 cm");
    assert_eq!(show(LengthUnit::Inch, 69.85), "2 3/4 in");
    assert_eq!(show(LengthUnit::Inch, 25.4), "1 in");
    assert_eq!(show(LengthUnit::Inch, 6.35), "1/4 in");
    assert_eq!(show(LengthUnit::Inch, 25.4 / 32.0), "1/32 in");
    assert_eq!(show(LengthUnit::Inch, -12.7), "-1/2 in");
    assert_eq!(show(LengthUnit::Inch, -0.1), "0 in");
    assert_eq!(show(LengthUnit::Inch, 25.39), "1 in");
    assert_eq!(LengthUnit::Inch.show_bare(Mm(69.85)), "2 3/4");
    assert_eq!(LengthUnit::Inch.show_bare(Mm(f64::NAN)), "?");
}

fn any_unit() -> impl Strategy<Value = LengthUnit> {
    prop::sample::select(LengthUnit::ALL.to_vec())
}

proptest! {
    #[test]
    fn shown_and_read_again_a_length_is_the_same_within_half_a_step(
        mm in -50_000.0_f64..50_000.0, unit in any_unit(), other in any_unit(),
    ) {
        let shown = unit.show(Mm(mm));
        let read = read_signed_length(&shown, other).unwrap();
        prop_assert!((read.0 - mm).abs() <= unit.finest_step().0 / 2.0 + 1e-9, "{} {}", shown, read.0);
        prop_assert_eq!(unit.show(read), shown);
        prop_assert_eq!(read_signed_length(&unit.show_bare(Mm(mm)), unit).unwrap(), read);
    }

    #[test]
    fn inches_and_back_is_the_same_length(mm in 0.0_f64..5000.0) {
        prop_assert!((Mm::from_inches(Mm(mm).inches()).0 - mm).abs() < 1e-12 * (1.0 + mm));
    }

    #[test]
    fn nothing_typed_makes_the_reader_stumble(typed in ".{0,20}", unit in any_unit()) {
        if let Ok(length) = read_length(&typed, unit) {
            prop_assert!((0.0..=LONGEST).contains(&length.0));
        }
    }

    #[test]
    fn nothing_like_a_length_makes_the_reader_stumble(typed in "[-+0-9/., ½inmc\"]{0,12}", unit in any_unit()) {
        if let Ok(length) = read_signed_length(&typed, unit) {
            prop_assert!(length.0.abs() <= LONGEST);
        }
    }
}

#[test]
fn a_place_is_told_as_it_is_marked_with_a_rule() {
    let shown = |mm, unit: LengthUnit| unit.show_on_rule(Mm(mm));
    assert_eq!(shown(51.11, LengthUnit::Millimetre), "51 mm");
    assert_eq!(shown(51.25, LengthUnit::Millimetre), "51.5 mm");
    assert_eq!(shown(51.3, LengthUnit::Centimetre), "5.15 cm");
    // 2.0122 in is nearer to 2 than to 2 1/16.
    assert_eq!(shown(51.11, LengthUnit::Inch), "2 in");
    assert_eq!(shown(52.0, LengthUnit::Inch), "2 1/16 in");
    assert_eq!(shown(-0.1, LengthUnit::Inch), "0 in");
}

#[test]
fn a_figure_that_is_rounded_says_so_and_one_that_is_not_does_not() {
    let told = |mm, unit: LengthUnit| unit.show_computed(Mm(mm));
    // 920 mm in 18 pleats: each shows 51.11 mm (handbook named in `fullness::cloth_length`).
    let pleat = 920.0 / 18.0;
    assert_eq!(told(pleat, LengthUnit::Millimetre), "51.11 mm");
    assert_eq!(
        told(pleat, LengthUnit::Centimetre),
        "about 5.11 cm (5.111 cm)"
    );
    assert_eq!(told(pleat, LengthUnit::Inch), "about 2 in (2.012 in)");
    assert_eq!(told(50.8, LengthUnit::Inch), "2 in");
    assert_eq!(told(7.1, LengthUnit::Centimetre), "0.71 cm");
    // What is told in full is read again as it was.
    let read = read_length("2.012 in", LengthUnit::Inch).unwrap();
    assert!((read.0 - pleat).abs() < 0.0005 * 25.4 + 1e-9, "{}", read.0);
}

proptest! {
    #[test]
    fn what_is_shown_of_a_sum_adds_up(
        terms in proptest::collection::vec(0.0_f64..2000.0, 1..8), unit in any_unit(),
    ) {
        let terms: Vec<Mm> = terms.into_iter().map(Mm).collect();
        let (sum, shown) = unit.rounded_to_add_up(&terms);
        // Read from what stands on paper, in the unit's own figures.
        let read = |mm: Mm| read_length(&unit.show_chosen(mm), unit).unwrap().0;
        let added: f64 = shown.iter().map(|mm| read(*mm)).sum();
        prop_assert!((added - read(sum)).abs() < 1e-6, "{added} against {}", read(sum));
        let step = unit.chosen_step();
        let true_sum: f64 = terms.iter().map(|mm| mm.0).sum();
        prop_assert!((sum.0 - true_sum).abs() <= step / 2.0 + 1e-6);
        for (term, shown) in terms.iter().zip(&shown) {
            prop_assert!((term.0 - shown.0).abs() <= step + 1e-6, "{} as {}", term.0, shown.0);
        }
    }
}
