#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::fullness::{Fullness, Kind, Layout};

/// A plain strip, as it is cut, joined straight with 5 mm on each side of a join.
fn band(long: f64) -> StripWanted {
    StripWanted::new(Size::Finished(Mm(long)), Size::Finished(Mm(30.0)))
}

fn made(wanted: &StripWanted, each: f64) -> JoinedStrip {
    joined(wanted, &Source::Every(Mm(each))).unwrap()
}

fn near(a: Mm, b: f64) -> bool {
    (a.0 - b).abs() < 1e-6
}

/// Computed: w + 4h for two double hems, 2w + 2a folded double, and back from the cut width.
#[test]
fn widths_are_those_of_the_rule_both_ways() {
    let hem = LongEdge::Hem {
        width: Mm(5.0),
        turns: 2,
    };
    let hemmed = Make::Single {
        upper: hem,
        lower: hem,
    };
    let double = Make::Double { allowance: Mm(6.0) };
    for (make, finished, cut) in [(hemmed, 40.0, 60.0), (double, 40.0, 92.0)] {
        for width in [Size::Finished(Mm(finished)), Size::Cut(Mm(cut))] {
            let strip = StripWanted {
                make,
                width,
                ..band(100.0)
            };
            let (got_cut, got_finished) = strip.widths();
            assert!(
                near(got_cut, cut) && near(got_finished, finished),
                "{make:?} {width:?}"
            );
        }
    }
}

/// A straight join takes both allowances, a slanting one over a square the width of the strip (geometry).
#[test]
fn a_join_takes_its_allowances_or_the_width_when_it_slants() {
    assert!(near(band(500.0).lost_in_join(), 10.0));
    let slanting = StripWanted {
        slant: Slant::Bias,
        ..band(500.0)
    };
    assert!(near(slanting.lost_in_join(), 30.0));
}

#[test]
fn a_ring_has_as_many_joins_as_segments_and_an_open_strip_one_less() {
    for (ends, joins) in [(Ends::Open(LongEdge::Raw), 2), (Ends::Ring, 3)] {
        let strip = made(
            &StripWanted {
                ends,
                ..band(700.0)
            },
            250.0,
        );
        assert_eq!((strip.segments.len(), strip.joins.len()), (3, joins));
        // Cut = length + joins x 10 (geometry).
        assert!(near(strip.tally.cut, 700.0 + 10.0 * joins as f64));
        assert!(strip.tally.out_by().0 < 1e-6);
    }
}

/// 600 mm from two bits of 400 mm: the join may lie from 205 to 395 mm (a bit less half a join's cloth).
#[test]
fn a_join_keeps_off_every_place_and_says_when_it_cannot() {
    let off = |places: &[(f64, f64)]| {
        let keep_off = places.iter().map(|(at, by)| KeepOff {
            what: format!("place at {at}"),
            at: at / 600.0,
            by: Mm(*by),
        });
        let wanted = StripWanted {
            keep_off: keep_off.collect(),
            ..band(600.0)
        };
        joined(&wanted, &Source::Bits(vec![Mm(400.0); 2])).unwrap()
    };
    assert!(near(off(&[]).joins[0].on_finished, 300.0), "in the middle");
    let kept = off(&[(300.0, 25.0), (340.0, 20.0)]);
    assert!(near(kept.joins[0].on_finished, 275.0), "{:?}", kept.joins);
    assert_eq!(kept.joins[0].too_near, None);
    let shut = off(&[(220.0, 100.0), (390.0, 100.0)]);
    assert_eq!(shut.segments.len(), 2);
    let (what, got) = shut.joins[0].too_near.clone().unwrap();
    assert!(
        what.starts_with("place at ") && got.0 < 100.0,
        "{what} {got:?}"
    );
}

#[test]
fn joins_lie_in_the_undersides_of_pleats() {
    let gathers = Fullness::Gathers { ratio: 2.0 };
    let pleats = pleated_instead(gathers, &Layout::default(), Mm(300.0), Mm(15.0)).unwrap();
    let strip = StripWanted {
        ratio: 2.0,
        hiding: Hiding::UnderPleats(Box::new(pleats.folded.clone())),
        ..band(300.0)
    };
    let strip = made(&strip, 250.0);
    assert_eq!(strip.segments.len(), 3, "600 mm and two joins of 10 mm");
    for join in &strip.joins {
        let Hidden::UnderPleat(number) = join.hidden else {
            panic!("{join:?}");
        };
        let pleat = &pleats.folded.pleats[number as usize - 1];
        assert!(
            pleat.from.0 < join.on_cloth.0 && join.on_cloth.0 < pleat.to.0,
            "{join:?}"
        );
    }
}

#[test]
fn bits_too_short_to_be_worth_joining_are_left_out_and_told() {
    let wanted = StripWanted {
        shortest: Mm(60.0),
        ..band(500.0)
    };
    let bits = [300.0, 50.0, 220.0, 55.0].map(Mm).to_vec();
    let strip = joined(&wanted, &Source::Bits(bits)).unwrap();
    let mut used: Vec<usize> = strip.segments.iter().map(|s| s.bit).collect();
    used.sort_unstable();
    assert_eq!(used, [0, 2]);
    let few = [300.0, 50.0, 55.0].map(Mm).to_vec();
    let Err(StripError::TooShort {
        left_out,
        got,
        nearest,
        ..
    }) = joined(&wanted, &Source::Bits(few))
    else {
        panic!("300 mm do not give 500 mm");
    };
    assert_eq!(left_out, 2);
    assert!(near(got, 300.0));
    assert!((nearest.unwrap().finished.0 - 300.0).abs() < 0.01);
}

#[test]
fn pleats_and_gathers_take_the_same_cloth_and_the_layout_comes_back() {
    let layout = Layout {
        margin: Some(Mm(4.0)),
        ..Layout::default()
    };
    let gathers = Fullness::Gathers { ratio: 2.5 };
    let pleats = pleated_instead(gathers, &layout, Mm(200.0), Mm(10.0)).unwrap();
    assert_eq!((pleats.kind, pleats.count), (Kind::Knife, Some(20)));
    // knife: cloth = finished + 2 x count x depth (handbook named in `fullness::cloth_length`)
    assert!(near(pleats.cloth, 500.0) && near(pleats.depth.unwrap(), 7.5));
    let back = gathered_instead(pleats.fullness, &pleats.layout, Mm(200.0)).unwrap();
    assert!((back.ratio - 2.5).abs() < 1e-9);
    assert_eq!(back.layout.margin, Some(Mm(4.0)));
    // The same cloth as the edge is no fullness to gather.
    assert!(gathered_instead(Fullness::Gathers { ratio: 0.5 }, &layout, Mm(200.0)).is_err());
}

/// Twice the cloth in pleats of this visible width: each is half as deep (2 x depth = visible), six layers at the least.
#[test]
fn pleats_are_wide_enough_to_be_six_layers_deep() {
    let wide = pleats_wide(2.0, Mm(0.5));
    let gathers = Fullness::Gathers { ratio: 2.0 };
    let many = Mm(wide.0 * 20.0);
    let pleats = pleated_instead(gathers, &Layout::default(), many, wide).unwrap();
    assert!(near(pleats.depth.unwrap(), 6.0 * 0.5), "{pleats:?}");
    assert_eq!(pleats_wide(3.0, Mm(0.05)), Mm(4.0), "never narrower");
}
