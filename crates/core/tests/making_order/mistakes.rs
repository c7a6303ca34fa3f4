//! A mistake was made: as few seams as can be are unpicked, and the other ways are compared.

use petitoile_core::LengthUnit;
use petitoile_core::drafts::wardrobe::net_menders_smock;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::machine::Machine;
use petitoile_core::making_order::{Mistake, MistakeError, Way, WayBack, ways_back};
use petitoile_core::piece::{Copy, Role, Side};

use super::demos::{made, sewn};

/// The smock, sewn up to and with this step.
fn sewn_up_to(step: &str) -> (Garment, Fitting) {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    let order = sewn(&garment, &fitting);
    let last = order.steps.iter().position(|s| s.key == step).unwrap();
    fitting.making.done = order.steps[..=last].iter().map(|s| s.key.clone()).collect();
    (garment, fitting)
}

fn ways(garment: &Garment, fitting: &Fitting, mistake: &Mistake) -> Vec<WayBack> {
    ways_back(
        garment,
        fitting,
        &Machine::default(),
        LengthUnit::Millimetre,
        mistake,
    )
    .unwrap()
}

fn way(ways: &[WayBack], wanted: Way) -> &WayBack {
    ways.iter().find(|w| w.way == wanted).unwrap()
}

const SLEEVE: &str = "sew sleeve into armscye, right";

#[test]
fn a_sleeve_set_in_inside_out_is_unpicked_alone_while_nothing_crosses_it() {
    let (garment, fitting) = sewn_up_to(SLEEVE);
    let ways = ways(&garment, &fitting, &Mistake::SewnWrong(SLEEVE.to_owned()));
    let fewest = &ways[0];
    assert_eq!(fewest.way, Way::Fewest);
    assert_eq!(fewest.unpick, [SLEEVE]);
    let length = sewn(&garment, &fitting).step(SLEEVE).unwrap().length;
    assert!((fewest.length.0 - length.0).abs() < 1e-9);
    assert!(fewest.next.contains(&SLEEVE.to_owned()), "it is sewn again");
}

#[test]
fn a_wrong_shoulder_takes_the_sleeve_across_it_along_but_not_the_other_side() {
    let (garment, fitting) = sewn_up_to("try on");
    let wrong = Mistake::SewnWrong("sew shoulder, right".to_owned());
    let ways = ways(&garment, &fitting, &wrong);
    let fewest = way(&ways, Way::Fewest);
    assert!(fewest.unpick.contains(&SLEEVE.to_owned()), "{fewest:?}");
    assert!(
        fewest.unpick.iter().all(|s| !s.contains("left")),
        "{fewest:?}"
    );
    // By hand less is unpicked, and more trouble follows or the seam is sewn in a ring; everything after it is the most.
    let (hand, all) = (way(&ways, Way::ByHand), way(&ways, Way::AllAfter));
    assert_eq!(hand.unpick, ["sew shoulder, right"]);
    assert!(!hand.open.is_empty());
    assert!(hand.length < fewest.length && fewest.length < all.length);
    assert!(fewest.trouble <= hand.trouble);
}

/// What is unpicked besides either holds something that is unpicked, or would close the way of what is sewn again.
#[test]
fn nothing_is_unpicked_without_need() {
    let (garment, fitting) = sewn_up_to("try on");
    let order = sewn(&garment, &fitting);
    for step in order.steps.iter().filter(|s| s.key.starts_with("sew ")) {
        if !fitting.making.done.contains(&step.key) {
            continue;
        }
        let ways = ways(&garment, &fitting, &Mistake::SewnWrong(step.key.clone()));
        let fewest = way(&ways, Way::Fewest);
        assert!(fewest.unpick.contains(&step.key));
        // Sewn again, everything lies as it did the first time.
        for again in &fewest.unpick {
            let before = order.step(again).unwrap().girth;
            let now = fewest.in_the_round.iter().find(|(key, _)| key == again);
            let narrow = before.filter(|g| g.0 < 180.0);
            assert_eq!(now.is_some(), narrow.is_some(), "{}: {again}", step.key);
        }
        let all = ways.iter().find(|w| w.way == Way::AllAfter);
        assert!(
            all.is_none_or(|all| fewest.length <= all.length),
            "{}",
            step.key
        );
    }
}

#[test]
fn a_side_seam_closed_early_is_unpicked_or_left_with_the_sleeve_in_a_ring() {
    let (garment, mut fitting) = sewn_up_to("sew back yoke seam, left");
    let side = "sew side seam, right".to_owned();
    fitting.making.done.insert(side.clone());
    let ways = ways(&garment, &fitting, &Mistake::TooEarly(side.clone()));
    let (fewest, leave) = (way(&ways, Way::Fewest), way(&ways, Way::Leave));
    assert_eq!(fewest.unpick, [side]);
    assert!(leave.unpick.is_empty());
    assert_eq!(leave.length.0, 0.0);
    assert!(fewest.trouble < leave.trouble);
    assert!(
        leave
            .in_the_round
            .iter()
            .any(|(s, girth)| s == SLEEVE && girth.0 < 180.0)
    );
}

#[test]
fn two_sleeves_taken_for_each_other_come_off_both() {
    let (garment, fitting) = sewn_up_to("sew sleeve into armscye, left");
    let sleeve = |side| {
        let copy = Copy {
            side,
            role: Role::Shell,
        };
        ("sleeve".to_owned(), copy)
    };
    let swapped = Mistake::Swapped(sleeve(Side::Right), sleeve(Side::Left));
    let ways = ways(&garment, &fitting, &swapped);
    let mut unpick = way(&ways, Way::Fewest).unpick.clone();
    unpick.sort();
    assert_eq!(unpick, ["sew sleeve into armscye, left", SLEEVE]);
}

#[test]
fn what_is_not_sewn_need_not_be_unpicked() {
    let (garment, fitting) = made(net_menders_smock, 457.0);
    let ask = |mistake| {
        ways_back(
            &garment,
            &fitting,
            &Machine::default(),
            LengthUnit::Millimetre,
            &mistake,
        )
    };
    let not_done = ask(Mistake::SewnWrong(SLEEVE.to_owned())).unwrap_err();
    assert_eq!(not_done, MistakeError::NotDone(SLEEVE.to_owned()));
    let no_step = ask(Mistake::TooEarly("sew wings".to_owned())).unwrap_err();
    assert_eq!(no_step, MistakeError::NoStep("sew wings".to_owned()));
}
