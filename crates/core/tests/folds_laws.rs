//! Laws of folded edges and joined strips, over random requests, possible and impossible.
//!
//! The cloth is folded here a second time by a simulator that shares no code with the program: a walk along the cloth in
//! one dimension that turns round at every fold line.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile_core::Mm;
use petitoile_core::fullness::{
    Depth, FillLineKind, Groups, KeepOff, Kind, Layout, Leftover, Lies, PlainPanel, Quantity, Rest,
    Solved, Unsolved, Wanted, solve,
};
use petitoile_core::strips::{
    Ends, Hidden, Hiding, JoinedStrip, LongEdge, Make, Size, Slant, Source, StripError,
    StripWanted, gathered_instead, joined, pleated_instead,
};
use proptest::prelude::*;

const CASES: u32 = 10_000;

/// Where every marked line comes to lie when the cloth is folded along the marks, and where the cloth ends.
fn fold_by_hand(marks: &[(f64, FillLineKind)], cloth: f64) -> (Vec<f64>, f64) {
    let (mut place, mut finished, mut way, mut in_tuck) = (0.0, 0.0, 1.0, false);
    let mut places = Vec::new();
    for (mark, kind) in marks {
        finished += way * (mark - place);
        place = *mark;
        places.push(finished);
        match kind {
            FillLineKind::Fold | FillLineKind::Under => way = -way,
            FillLineKind::Stitch => {
                // The first stitch line begins a tuck; its second lies on the first and the cloth goes on.
                if in_tuck {
                    way = 1.0;
                }
                in_tuck = !in_tuck;
            }
            FillLineKind::Placement | FillLineKind::Gather => {}
        }
    }
    assert!(way > 0.0 && !in_tuck, "the cloth ends going on");
    (places, finished + way * (cloth - place))
}

fn near(a: f64, b: f64, scale: f64) -> bool {
    (a - b).abs() <= 1e-7 * scale.abs().max(1.0)
}

/// Everything that holds for numbers that can be sewn.
fn holds(solved: &Solved) -> Result<(), TestCaseError> {
    let folded = &solved.folded;
    let scale = solved.cloth.0;
    prop_assert!(solved.finished.0 > 0.0 && scale.is_finite() && scale >= solved.finished.0 - 1e-9);
    prop_assert!(
        near(folded.finished.0, solved.finished.0, scale) && near(folded.cloth.0, scale, scale)
    );
    prop_assert!(near(solved.ratio, scale / solved.finished.0, 1.0));
    prop_assert!(solved.fullness.checked().is_ok());
    for size in [solved.visible, solved.depth, solved.spacing, solved.marks]
        .into_iter()
        .flatten()
    {
        prop_assert!(size.0.is_finite() && size.0 > 0.0, "{size:?}");
    }
    prop_assert_eq!(
        folded.pleats.len(),
        solved.count.unwrap_or(0) as usize,
        "counts are whole"
    );
    // The spans are the whole cloth, end to end.
    let mut at = (0.0, 0.0);
    for span in &folded.spans {
        prop_assert!(near(span.cloth.0.0, at.0, scale) && near(span.edge.0.0, at.1, scale));
        prop_assert!(
            span.cloth.1.0 >= span.cloth.0.0 - 1e-9 * scale,
            "cloth runs on"
        );
        let flat = solved.kind.depths_taken().is_some();
        let (long, wide) = (span.cloth.1.0 - at.0, (span.edge.1.0 - at.1).abs());
        prop_assert!(
            !flat || near(long, wide, scale),
            "folded cloth is neither stretched nor eased"
        );
        at = (span.cloth.1.0, span.edge.1.0);
    }
    prop_assert!(near(at.0, scale, scale) && near(at.1, solved.finished.0, scale));
    if solved.kind.depths_taken().is_none() {
        return Ok(());
    }
    let marks: Vec<(f64, FillLineKind)> = folded
        .folds()
        .map(|(_, f)| (f.on_cloth.0, f.kind))
        .collect();
    let turns: Vec<(f64, FillLineKind)> = marks
        .iter()
        .copied()
        .filter(|(_, kind)| *kind != FillLineKind::Placement)
        .collect();
    prop_assert!(
        turns.windows(2).all(|w| w[1].0 >= w[0].0 - 1e-9 * scale),
        "folds follow each other"
    );
    let (places, finished) = fold_by_hand(&turns, scale);
    prop_assert!(
        near(finished, solved.finished.0, scale),
        "{finished} and {:?}",
        solved.finished
    );
    let said = folded
        .folds()
        .filter(|(_, f)| f.kind != FillLineKind::Placement);
    for ((number, fold), by_hand) in said.zip(&places) {
        if solved.kind.is_tuck() && fold.kind == FillLineKind::Fold {
            // A stitched tuck may be pressed to either side: its fold lies its own width from the stitches.
            let tuck = &folded.pleats[number as usize - 1];
            prop_assert!(near((fold.on_edge - tuck.at).0.abs(), tuck.depth.0, scale));
        } else {
            prop_assert!(
                near(fold.on_edge.0, *by_hand, scale),
                "{fold:?}, by hand {by_hand}"
            );
        }
    }
    // Marks add up: cloth before, inside and between pleats is all of it.
    let inside: f64 = folded.pleats.iter().map(|p| (p.to - p.from).0).sum();
    let first = folded.pleats.first().unwrap().from.0;
    let last = scale - folded.pleats.last().unwrap().to.0;
    let between: f64 = folded
        .pleats
        .windows(2)
        .map(|w| (w[1].from - w[0].to).0)
        .sum();
    prop_assert!(near(first + inside + between + last, scale, scale));
    Ok(())
}

/// What was given as a length of the whole or as a count is kept.
fn keeps(wanted: &Wanted, solved: &Solved) -> Result<(), TestCaseError> {
    for what in [Quantity::Finished, Quantity::Cloth, Quantity::Count] {
        prop_assert!(
            !solved.changed(what),
            "{what:?} of {wanted:?} changed: {:?}",
            solved.adjusted
        );
    }
    // Loops, gathers and ease run on evenly: there is no fold to move.
    let places = solved
        .layout
        .keep_off
        .iter()
        .filter(|_| solved.kind.depths_taken().is_some());
    for place in places {
        let at = place.at * solved.finished.0;
        let folds = solved
            .folded
            .folds()
            .filter(|(_, f)| f.kind != FillLineKind::Placement);
        for (number, fold) in folds {
            let far = (fold.on_edge.0 - at).abs();
            prop_assert!(
                far >= place.by.0 - 1e-6,
                "pleat {number} is {far} mm from {place:?}"
            );
        }
    }
    Ok(())
}

fn kind() -> impl Strategy<Value = Kind> {
    proptest::sample::select(Kind::ALL.to_vec())
}

fn length(most: f64) -> impl Strategy<Value = Mm> {
    prop_oneof![
        12 => (0.5..most).prop_map(Mm),
        1 => proptest::sample::select(vec![0.0, -3.0, f64::NAN, f64::INFINITY, 1e9, 1e-9]).prop_map(Mm),
    ]
}

fn layout() -> impl Strategy<Value = Layout> {
    let lies = proptest::sample::select(vec![
        Lies::Left,
        Lies::Right,
        Lies::ToCentre,
        Lies::FromCentre,
    ]);
    let rest = proptest::sample::select(vec![Rest::Ends, Rest::Start, Rest::End, Rest::Middle]);
    let maybe = |most: f64| proptest::option::weighted(0.3, length(most));
    let groups = proptest::option::weighted(0.2, (0u32..6, 0.0..30.0_f64));
    let plain = proptest::option::weighted(0.2, (0.0..1.0_f64, 0.0..80.0_f64));
    let keep_off = proptest::collection::vec((0.0..1.0_f64, 0.0..8.0_f64), 0..3);
    let keep_off = prop_oneof![3 => Just(Vec::new()), 1 => keep_off];
    (
        lies,
        rest,
        maybe(30.0),
        maybe(40.0),
        groups,
        plain,
        keep_off,
    )
        .prop_map(
            |(lies, rest, margin, top, groups, plain, keep_off)| Layout {
                lies,
                rest,
                margin,
                top,
                groups: groups.map(|(each, gap)| Groups { each, gap: Mm(gap) }),
                plain: plain.map(|(at, width)| PlainPanel {
                    at,
                    width: Mm(width),
                }),
                keep_off: keep_off
                    .into_iter()
                    .map(|(at, by)| KeepOff {
                        what: "seam".to_owned(),
                        at,
                        by: Mm(by),
                    })
                    .collect(),
                ..Layout::default()
            },
        )
}

fn wanted() -> impl Strategy<Value = Wanted> {
    let maybe = |share: f64, most: f64| proptest::option::weighted(share, length(most));
    let depth = prop_oneof![
        4 => length(60.0).prop_map(Depth::Of),
        1 => Just(Depth::Full),
        1 => (-0.5..3.0_f64).prop_map(Depth::Share),
    ];
    let layout = prop_oneof![1 => Just(Layout::default()), 1 => layout()];
    let leftover = proptest::sample::select(vec![Leftover::Spread, Leftover::Plain]);
    let numbers = (
        maybe(0.6, 900.0),
        maybe(0.4, 2500.0),
        proptest::option::weighted(0.35, 0u32..70),
        maybe(0.35, 80.0),
        proptest::option::weighted(0.4, depth),
        maybe(0.15, 80.0),
        maybe(0.1, 200.0),
        proptest::option::weighted(0.15, 0.5..6.0_f64),
    );
    (kind(), numbers, leftover, layout).prop_map(|(kind, n, leftover, layout)| Wanted {
        finished: n.0,
        cloth: n.1,
        count: n.2,
        visible: n.3,
        depth: n.4,
        spacing: n.5,
        marks: n.6,
        ratio: n.7,
        leftover,
        layout,
        ..Wanted::new(kind)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn folding_the_computed_cloth_gives_the_finished_length_and_the_impossible_gets_a_reason(wanted in wanted()) {
        let told = |e: TestCaseError| TestCaseError::fail(format!("{e}; asked: {wanted:?}"));
        match solve(&wanted) {
            Ok(solved) => {
                holds(&solved).map_err(told)?;
                keeps(&wanted, &solved).map_err(told)?;
            }
            Err(Unsolved::Impossible { why, nearest }) => {
                prop_assert!(why.len() > 20 && why.ends_with('.'), "{why}");
                holds(&nearest).map_err(told)?;
            }
            Err(Unsolved::Open { ask }) => prop_assert!(ask.contains("ive "), "{ask}"),
        }
    }

    #[test]
    fn what_is_solved_is_found_again_from_the_fullness_it_gives(wanted in wanted()) {
        if let Ok(solved) = solve(&wanted) {
            let again = solve(&Wanted::of(solved.fullness, &solved.layout, solved.finished)).unwrap();
            prop_assert!(near(again.cloth.0, solved.cloth.0, solved.cloth.0));
            prop_assert_eq!(again.count, solved.count);
            let places = |s: &Solved| -> Vec<f64> { s.folded.pleats.iter().map(|p| p.from.0).collect() };
            for (a, b) in places(&again).iter().zip(places(&solved)) {
                prop_assert!(near(*a, b, solved.cloth.0), "{a} and {b}");
            }
        }
    }

    #[test]
    fn gathers_become_knife_pleats_for_the_same_cloth_and_back(
        finished in 20.0..900.0_f64, ratio in 1.05..5.0_f64, visible in 1.0..60.0_f64,
    ) {
        let gathers = petitoile_core::fullness::Fullness::Gathers { ratio };
        let pleats = pleated_instead(gathers, &Layout::default(), Mm(finished), Mm(visible)).unwrap();
        holds(&pleats)?;
        prop_assert!(near(pleats.cloth.0, finished * ratio, finished * ratio));
        let back = gathered_instead(pleats.fullness, &pleats.layout, Mm(finished)).unwrap();
        prop_assert!(near(back.ratio, ratio, 1.0));
    }
}

fn long_edge() -> impl Strategy<Value = LongEdge> {
    prop_oneof![
        Just(LongEdge::Raw),
        (0.0..12.0_f64).prop_map(|a| LongEdge::Seam(Mm(a))),
        (1.0..8.0_f64, 1u8..3).prop_map(|(w, turns)| LongEdge::Hem {
            width: Mm(w),
            turns
        }),
    ]
}

fn strip_wanted() -> impl Strategy<Value = StripWanted> {
    let size = |most: f64| {
        let length = length(most);
        (any::<bool>(), length)
            .prop_map(|(cut, m)| if cut { Size::Cut(m) } else { Size::Finished(m) })
    };
    let make = prop_oneof![
        (long_edge(), long_edge()).prop_map(|(upper, lower)| Make::Single { upper, lower }),
        (0.0..10.0_f64).prop_map(|a| Make::Double { allowance: Mm(a) }),
    ];
    let ends = prop_oneof![1 => Just(Ends::Ring), 2 => long_edge().prop_map(Ends::Open)];
    let slant = proptest::sample::select(vec![Slant::Straight, Slant::Bias]);
    let keep_off = proptest::collection::vec((0.0..1.0_f64, 0.0..40.0_f64), 0..3);
    let hiding = proptest::sample::select(vec![Hiding::Nowhere, Hiding::InGathers]);
    let numbers = (1.0..4.0_f64, 0.0..15.0_f64, 0.0..120.0_f64);
    (
        size(4000.0),
        size(120.0),
        make,
        ends,
        numbers,
        slant,
        keep_off,
        hiding,
    )
        .prop_map(
            |(length, width, make, ends, (ratio, allowance, shortest), slant, keep_off, hiding)| {
                StripWanted {
                    make,
                    ends,
                    ratio,
                    slant,
                    allowance: Mm(allowance),
                    shortest: Mm(shortest),
                    keep_off: keep_off
                        .into_iter()
                        .map(|(at, by)| KeepOff {
                            what: "centre front".to_owned(),
                            at,
                            by: Mm(by),
                        })
                        .collect(),
                    hiding,
                    ..StripWanted::new(length, width)
                }
            },
        )
}

fn source() -> impl Strategy<Value = Source> {
    prop_oneof![
        length(1500.0).prop_map(Source::Every),
        proptest::collection::vec(length(1200.0), 0..9).prop_map(Source::Bits),
        proptest::collection::vec((40.0..1200.0_f64).prop_map(Mm), 3..9).prop_map(Source::Bits),
    ]
}

/// Sews the segments end to end with their allowances and gives the length of the strip: bias joins lose the width.
fn sewn(strip: &JoinedStrip, wanted: &StripWanted) -> f64 {
    let cut: f64 = strip.segments.iter().map(|s| s.cut.0).sum();
    let joins = strip.segments.len() - usize::from(wanted.ends != Ends::Ring);
    let each = match wanted.slant {
        Slant::Straight => wanted.allowance.0 * 2.0,
        Slant::Bias => strip.cut_width.0,
    };
    cut - each * joins as f64
}

fn strip_holds(
    strip: &JoinedStrip,
    wanted: &StripWanted,
    bits: Option<&[Mm]>,
) -> Result<(), TestCaseError> {
    let scale = strip.cloth.0;
    prop_assert!(
        near(sewn(strip, wanted), scale, scale),
        "joined strips cover the length exactly after allowances"
    );
    let by_parts = strip.finished.0 * wanted.ratio + strip.tally.ends.0;
    prop_assert!(near(by_parts, scale, scale));
    prop_assert!(
        strip.tally.out_by().0 <= 1e-7 * scale.max(1.0),
        "the tally adds up: {:?}",
        strip.tally
    );
    let mut used = Vec::new();
    let mut at = 0.0;
    for segment in &strip.segments {
        prop_assert!(near(segment.covers.0.0, at, scale) && segment.covers.1.0 > at);
        at = segment.covers.1.0;
        prop_assert!(
            segment.cut.0 <= segment.of.0 + 1e-6,
            "no segment is longer than its bit"
        );
        let alone = strip.segments.len() as f64;
        let worth = wanted.shortest.0.min(strip.tally.cut.0 / alone);
        prop_assert!(
            segment.cut.0 >= worth - 1e-6,
            "no segment is too short to be worth joining"
        );
        if let Some(bits) = bits {
            prop_assert!(!used.contains(&segment.bit), "every bit is used once");
            prop_assert_eq!(bits[segment.bit], segment.of);
            used.push(segment.bit);
        }
    }
    prop_assert!(near(at, scale, scale));
    prop_assert_eq!(
        strip.joins.len(),
        strip.segments.len() - usize::from(wanted.ends != Ends::Ring)
    );
    Ok(())
}

/// The fewest bits, by trying every choice of them.
fn fewest(wanted: &StripWanted, bits: &[Mm]) -> Option<usize> {
    let need = wanted.lengths().0.0;
    let loss = wanted.lost_in_join().0;
    (1..1u32 << bits.len())
        .filter_map(|choice| {
            let chosen: Vec<f64> = (0..bits.len())
                .filter(|i| choice >> i & 1 == 1)
                .map(|i| bits[i].0)
                .collect();
            let joins = chosen.len() - usize::from(wanted.ends != Ends::Ring);
            let worth = chosen
                .iter()
                .all(|b| *b >= wanted.shortest.0.min(need) - 1e-7 && *b > 0.0);
            let enough = chosen.iter().sum::<f64>() >= need + loss * joins as f64 - 1e-7;
            (worth && enough).then_some(chosen.len())
        })
        .min()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn joined_strips_cover_their_length_exactly_and_take_the_fewest_segments(
        wanted in strip_wanted(), source in source(),
    ) {
        let bits = match &source {
            Source::Bits(bits) => Some(bits.as_slice()),
            Source::Every(_) => None,
        };
        let told = |e: TestCaseError| TestCaseError::fail(format!("{e}; asked: {wanted:?} from {source:?}"));
        match joined(&wanted, &source) {
            Ok(strip) => {
                strip_holds(&strip, &wanted, bits).map_err(told)?;
                // A ring is closed where it starts, whatever lies there.
                let inner = strip.segments.len() - 1;
                let is_free = strip.joins.iter().take(inner).all(|j| j.too_near.is_none());
                if let Some(bits) = bits {
                    let least = fewest(&wanted, bits).unwrap();
                    prop_assert!(strip.segments.len() >= least);
                    // More are taken only to keep joins off places, and then they do.
                    let wants_more = !wanted.keep_off.is_empty() && is_free;
                    prop_assert!(strip.segments.len() == least || wants_more, "{least} do: {strip:?}");
                } else if let Source::Every(each) = source {
                    let loss = wanted.lost_in_join().0;
                    let joins = strip.joins.len() as f64;
                    let fewer = (strip.segments.len() - 1) as f64 * each.0 - loss * (joins - 1.0).max(0.0);
                    let wants_more = !wanted.keep_off.is_empty() && is_free;
                    prop_assert!(fewer < strip.cloth.0 || wants_more, "one less would do: {strip:?}");
                }
            }
            Err(StripError::TooShort { needed, got, nearest, .. }) => {
                prop_assert!(got.0 < needed.0);
                if let Some(bits) = bits {
                    prop_assert_eq!(fewest(&wanted, bits), None);
                }
                if let Some(nearest) = nearest {
                    let shorter = StripWanted { length: Size::Cut(nearest.cloth), hiding: Hiding::Nowhere, ..wanted.clone() };
                    strip_holds(&nearest, &shorter, bits).map_err(told)?;
                    prop_assert!(nearest.finished.0 < wanted.lengths().1.0);
                }
            }
            Err(why @ StripError::Unsound(_)) => prop_assert!(why.to_string().len() > 20),
        }
    }

    #[test]
    fn joins_under_pleats_lie_in_their_undersides(
        finished in 100.0..900.0_f64, count in 4u32..40, depth in 6.0..30.0_f64, every in 250.0..900.0_f64,
        kind in proptest::sample::select(vec![Kind::Knife, Kind::Box, Kind::Inverted, Kind::DoubleBox]),
    ) {
        let solved = solve(&Wanted {
            finished: Some(Mm(finished)),
            count: Some(count),
            depth: Some(Depth::Of(Mm(depth))),
            ..Wanted::new(kind)
        }).unwrap();
        let wanted = StripWanted {
            ratio: solved.ratio.min(20.0),
            hiding: Hiding::UnderPleats(Box::new(solved.folded.clone())),
            ends: Ends::Open(LongEdge::Seam(Mm(5.0))),
            ..StripWanted::new(Size::Finished(Mm(finished)), Size::Finished(Mm(40.0)))
        };
        prop_assume!(solved.ratio <= 20.0);
        let strip = joined(&wanted, &Source::Every(Mm(every))).unwrap();
        strip_holds(&strip, &wanted, None)?;
        for join in &strip.joins {
            if let Hidden::UnderPleat(number) = join.hidden {
                let pleat = &solved.folded.pleats[number as usize - 1];
                let on_cloth = join.on_cloth.0 - 5.0;
                prop_assert!(pleat.from.0 - 1e-6 <= on_cloth && on_cloth <= pleat.to.0 + 1e-6);
                // What shows at that place is other cloth.
                let shown = solved.folded.cloth_at(join.on_finished).0;
                prop_assert!((shown - on_cloth).abs() > 1e-6, "{join:?} shows");
            }
        }
        // With segments as long as four full pleats there is always an underside within reach.
        let within = every >= 4.0 * solved.marks.unwrap().0 && depth <= solved.spacing.unwrap().0;
        prop_assert!(!within || strip.joins.iter().all(|j| matches!(j.hidden, Hidden::UnderPleat(_))), "{:?}", strip.joins);
    }
}
