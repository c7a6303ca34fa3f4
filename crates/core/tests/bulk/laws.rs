//! Laws that hold for every cloth.

use std::sync::Arc;

use proptest::prelude::*;

use crate::small_garments::{garment, seam, stretch, strip};
use crate::{made, reckoned};
use petitoile_core::bulk::{Bulk, Judged, Stack};
use petitoile_core::finish::Finished;
use petitoile_core::fullness::{Fullness, FullnessOp};
use petitoile_core::garment::Garment;
use petitoile_core::piece::{Copy, Role, Side};
use petitoile_core::seams::{Relation, SeamKind};
use petitoile_core::units::Mm;

const KINDS: [SeamKind; 6] = petitoile_core::bulk::section::KINDS;

/// Front and back with a side seam, a band gathered or pleated on, its inside lapped.
fn skirt(side: SeamKind, waist: SeamKind, fullness: Fullness, lined: bool) -> Garment {
    let copies = |roles: &[Role]| {
        let copy = |role: &Role| Copy {
            side: Side::Whole,
            role: *role,
        };
        roles.iter().map(copy).collect::<Vec<_>>()
    };
    let roles: &[Role] = if lined {
        &[Role::Shell, Role::FlatLined]
    } else {
        &[Role::Shell]
    };
    let panel = |name| {
        let mut piece = strip(name, 90.0, 70.0);
        piece.copies = copies(roles);
        piece.fullness = vec![FullnessOp {
            from: 0.3,
            to: 0.7,
            ..FullnessOp::new("waist", fullness)
        }];
        piece
    };
    let mut side_seam = seam(
        "side seam",
        vec![stretch("Front", "right", 1.0, 0.0)],
        vec![stretch("Back", "left", 0.0, 1.0)],
        Relation::Equal,
    );
    side_seam.kind = side;
    let mut waist_seam = seam(
        "waist seam",
        vec![stretch("Band", "hem", 0.0, 1.0)],
        vec![
            stretch("Front", "waist", 1.0, 0.0),
            stretch("Back", "waist", 1.0, 0.0),
        ],
        Relation::Equal,
    );
    waist_seam.kind = waist;
    let mut inside = seam(
        "band inside",
        vec![stretch("Band", "waist", 1.0, 0.0)],
        vec![stretch("Band", "hem", 0.0, 1.0)],
        Relation::Equal,
    );
    inside.kind = SeamKind::Lapped;
    garment(
        vec![panel("Front"), panel("Back"), strip("Band", 180.0, 20.0)],
        vec![side_seam, waist_seam, inside],
    )
}

fn heights(bulk: &Bulk) -> Vec<(String, Vec<String>, Vec<f64>)> {
    let mut all: Vec<_> = bulk
        .stacks
        .iter()
        .map(|j| {
            let thick = |s: &Stack| s.heaps.iter().map(|h| h.thickness.0).collect();
            (j.stack.name.clone(), j.stack.meets.clone(), thick(&j.stack))
        })
        .collect();
    all.sort_by(|a, b| (&a.0, &a.1).cmp(&(&b.0, &b.1)));
    all
}

fn graded(mut finished: Finished, names: &[&str]) -> Finished {
    let filled = Arc::make_mut(&mut finished.filled);
    let adapted = Arc::make_mut(&mut filled.adapted);
    let fitting = Arc::make_mut(&mut adapted.fitting);
    fitting.making.graded = names.iter().map(ToString::to_string).collect();
    finished
}

fn kind() -> impl Strategy<Value = SeamKind> {
    (0..KINDS.len() - 1).prop_map(|i| KINDS[i])
}

fn fullness() -> impl Strategy<Value = Fullness> {
    prop_oneof![
        (1.0_f64..4.0).prop_map(|ratio| Fullness::Gathers { ratio }),
        (1_u32..6, 1.0_f64..6.0).prop_map(|(count, depth)| Fullness::KnifePleats {
            count,
            depth: Mm(depth)
        }),
        (1_u32..4, 1.0_f64..4.0, any::<bool>()).prop_map(|(count, depth, inverted)| {
            Fullness::BoxPleats {
                count,
                depth: Mm(depth),
                inverted,
            }
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn adding_a_lining_never_thins_a_stack(
        side in kind(), waist in kind(), full in fullness(),
        shell in 0.05_f64..1.0, lining in 0.0_f64..0.5,
    ) {
        let cloths = [(Role::Shell, shell), (Role::FlatLined, lining)];
        let bare = heights(&reckoned(&made(skirt(side, waist, full, false), &cloths)));
        let lined = heights(&reckoned(&made(skirt(side, waist, full, true), &cloths)));
        prop_assert_eq!(bare.len(), lined.len());
        for (bare, lined) in bare.iter().zip(&lined) {
            prop_assert_eq!((&bare.0, &bare.1), (&lined.0, &lined.1));
            for (without, with) in bare.2.iter().zip(&lined.2) {
                prop_assert!(with >= &(without - 1e-9), "{}: {without} to {with}", bare.0);
            }
        }
    }

    #[test]
    fn grading_never_thickens_a_stack_nor_raises_a_step(
        side in kind(), waist in kind(), full in fullness(), shell in 0.05_f64..1.0,
    ) {
        let plain = made(skirt(side, waist, full, false), &[(Role::Shell, shell)]);
        let before = reckoned(&plain);
        let after = reckoned(&graded(plain, &["side seam", "waist seam"]));
        // Where graded edges no longer reach each other a crossing may be none; none comes new.
        for now in &after.stacks {
            let same = |o: &&Judged| (&o.stack.name, &o.stack.meets) == (&now.stack.name, &now.stack.meets);
            let then = before.stacks.iter().find(same).unwrap();
            prop_assert!(now.stack.step.0 <= then.stack.step.0 + 1e-9);
            for (ungraded, graded) in then.stack.heaps.iter().zip(&now.stack.heaps) {
                prop_assert!(graded.thickness.0 <= ungraded.thickness.0 + 1e-9, "{}", now.stack.name);
            }
        }
    }

    #[test]
    fn a_stack_is_as_many_times_thicker_as_the_cloth(
        side in kind(), waist in kind(), full in fullness(),
        shell in 0.05_f64..1.0, times in 1.1_f64..5.0,
    ) {
        let of = |t: f64| {
            let cloths = [(Role::Shell, t), (Role::FlatLined, t / 3.0)];
            heights(&reckoned(&made(skirt(side, waist, full, true), &cloths)))
        };
        for (one, more) in of(shell).iter().zip(&of(shell * times)) {
            prop_assert_eq!((&one.0, &one.1), (&more.0, &more.1));
            for (thin, thick) in one.2.iter().zip(&more.2) {
                prop_assert!((thin * times - thick).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn the_layers_of_a_stack_add_up_to_its_thickness(
        side in kind(), waist in kind(), full in fullness(), shell in 0.05_f64..1.0,
    ) {
        let all = reckoned(&made(skirt(side, waist, full, true), &[(Role::Shell, shell), (Role::FlatLined, 0.1)]));
        for heap in all.stacks.iter().flat_map(|j| &j.stack.heaps) {
            let counted: Vec<_> = heap.layers.iter().filter(|l| l.counts).collect();
            let sum: f64 = counted.iter().map(|l| l.thickness.0).sum();
            prop_assert_eq!(counted.len() as u32, heap.count);
            prop_assert!((sum - heap.thickness.0).abs() < 1e-9);
        }
    }
}
