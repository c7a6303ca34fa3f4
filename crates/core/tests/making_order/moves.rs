//! Steps the maker moves: the order follows, and what breaks is said with rule and steps.

use petitoile_core::drafts::wardrobe::{harbour_jacket, net_menders_smock};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finding::Gravity;
use petitoile_core::making_order::{By, MovedStep, Work};

use super::demos::{made, sewn};

fn moved(step: &str, before: Option<&str>) -> MovedStep {
    MovedStep {
        step: step.to_owned(),
        before: before.map(str::to_owned),
    }
}

#[test]
fn a_step_moved_within_the_rules_comes_right_before_the_other() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    fitting.making.moved = vec![moved("sew shoulder, left", Some("sew shoulder, right"))];
    let order = sewn(&garment, &fitting);
    let at = |key: &str| order.steps.iter().position(|s| s.key == key).unwrap();
    assert_eq!(at("sew shoulder, left") + 1, at("sew shoulder, right"));
    assert!(order.broken.is_empty(), "{:?}", order.broken);
}

#[test]
fn a_sleeve_set_in_before_the_shoulder_is_told_with_the_rule() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    fitting.making.moved = vec![moved(
        "sew sleeve into armscye, right",
        Some("sew shoulder, right"),
    )];
    let order = sewn(&garment, &fitting);
    let at = |key: &str| order.steps.iter().position(|s| s.key == key).unwrap();
    assert_eq!(
        at("sew sleeve into armscye, right") + 1,
        at("sew shoulder, right")
    );
    let broken = &order.broken[0];
    assert_eq!(broken.rule, "crossed seam first");
    assert!(broken.by_move && order.is_feasible());
    let told = order
        .findings
        .iter()
        .find(|f| f.gravity == Gravity::Care)
        .unwrap();
    assert!(told.what.contains("sew shoulder, right"), "{}", told.what);
    assert!(
        told.what.contains("ends at another one is sewn before"),
        "{}",
        told.what
    );
    let back = Edit::Fitting {
        fitting: fitting.name.clone(),
        change: FittingEdit::ForgetMoves,
    };
    assert_eq!(told.remedy.as_ref(), Some(&back));
}

/// "Side seam closed early": the sleeve then goes into a ring.
#[test]
fn a_side_seam_moved_ahead_of_the_sleeve_closes_its_way_and_is_named() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    fitting.making.moved = vec![moved(
        "sew side seam, right",
        Some("sew sleeve into armscye, right"),
    )];
    let order = sewn(&garment, &fitting);
    assert!(order.broken.is_empty(), "no rule that must hold is broken");
    let sleeve = order.step("sew sleeve into armscye, right").unwrap();
    let girth = sleeve.girth.unwrap().0;
    assert!(girth < 180.0, "{girth}");
    assert_eq!(sleeve.by, By::Hand);
    let told = order
        .findings
        .iter()
        .find(|f| {
            f.what
                .contains("closes the way for \"sew sleeve into armscye, right\"")
        })
        .unwrap();
    assert!(
        told.what.contains("\"sew side seam, right\""),
        "{}",
        told.what
    );
    assert!(told.remedy.is_some());
}

/// "Hem turned to the wrong side".
#[test]
fn a_hem_sewn_before_the_lining_is_turned_would_lie_on_the_wrong_side() {
    let (garment, mut fitting) = made(harbour_jacket, 457.0);
    let hem = sewn(&garment, &fitting)
        .steps
        .into_iter()
        .find(|s| s.key.starts_with("hem"))
        .unwrap()
        .key;
    fitting.making.moved = vec![moved(&hem, Some("turn harbour jacket"))];
    let order = sewn(&garment, &fitting);
    let told = order
        .findings
        .iter()
        .find(|f| f.what.contains("wrong side"));
    assert!(told.is_some(), "{:?}", order.findings);
}

#[test]
fn a_move_of_a_step_that_is_gone_changes_nothing() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    let before = sewn(&garment, &fitting);
    fitting.making.moved = vec![
        moved("sew wings", Some("cut out")),
        moved("cut out", Some("sew wings")),
    ];
    assert_eq!(sewn(&garment, &fitting), before);
}

#[test]
fn a_step_can_be_put_last() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    fitting.making.moved = vec![moved("sew cuff inside, left", None)];
    let order = sewn(&garment, &fitting);
    assert_eq!(order.steps.last().unwrap().key, "sew cuff inside, left");
    assert!(order.broken.iter().all(|b| b.by_move));
}

#[test]
fn the_makers_choice_of_hand_or_machine_wins_and_the_other_is_told() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    fitting
        .making
        .by
        .insert("sew shoulder, left".to_owned(), By::Hand);
    let order = sewn(&garment, &fitting);
    let step = order.step("sew shoulder, left").unwrap();
    assert_eq!(step.by, By::Hand);
    assert!(
        step.by_why.contains("otherwise by machine"),
        "{}",
        step.by_why
    );
}

#[test]
fn gathers_drawn_in_after_their_seam_are_told_with_the_rule() {
    let (garment, mut fitting) = made(net_menders_smock, 457.0);
    let free = sewn(&garment, &fitting);
    let gather = free
        .steps
        .iter()
        .find(|step| matches!(step.work, Work::Gather { .. }))
        .unwrap();
    fitting.making.moved = vec![moved(&gather.key, None)];
    let order = sewn(&garment, &fitting);
    assert_eq!(order.steps.last().unwrap().key, gather.key);
    let broken = order.broken.iter().find(|b| b.rule == "draw in first");
    let broken = broken.unwrap_or_else(|| panic!("{:?}", order.broken));
    assert!(broken.by_move && (broken.first == gather.key || broken.then == gather.key));
}
