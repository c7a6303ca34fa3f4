//! Laying by search: the plan, the best kept, what would help, what to buy.

use super::*;
use petitoile::chooser::Chooser;
use petitoile::command::LayAsk;
use petitoile::session::Session;
use petitoile::settings::Settings;

#[test]
fn everything_is_laid_by_search_and_undo_is_one_step() {
    let mut harness = cloth(with_cloth(700.0, 500.0));
    let copies = harness.state().session.work.done.as_ref().unwrap();
    let copies = copies.beyond.cloth.to_lay.copies.len();
    assert!(copies >= 4);
    lay_out(&mut harness, "400");
    let laid = plan(&harness);
    assert_eq!(laid.placed.len(), copies);
    assert_eq!((laid.seed, laid.steps > 0), (1, true));
    assert!(told(&harness, "Everything lies"));
    let done = harness.state().session.work.done.clone().unwrap();
    assert_eq!(done.beyond.cloth.faults, []);
    undo(&mut harness);
    assert_eq!(plan(&harness), LayPlan::default());
    assert_eq!(harness.state().session.history.steps(), 0);
}

#[test]
fn the_same_seed_and_steps_give_the_same_plan_and_are_kept() {
    let mut harness = cloth(with_cloth(420.0, 330.0));
    click(&mut harness, "Lay leaf");
    type_over(&mut harness, "Seed of the search", "7");
    lay_out(&mut harness, "300");
    let first = plan(&harness);
    assert_eq!(first.seed, 7);
    assert!(told(&harness, "seed 7"));
    undo(&mut harness);
    click(&mut harness, "Lay out");
    assert_eq!(plan(&harness), first);
}

#[test]
fn cloth_to_buy_is_told_for_every_cloth_of_the_garment() {
    let mut project = with_cloth(100.0, 100.0);
    let of_name = |name: &str| Cloth {
        name: name.to_owned(),
        thickness: Mm(0.3),
        source: String::new(),
    };
    let fitting = Arc::make_mut(&mut project.fittings[0]);
    fitting.cloths.insert(Role::Shell, of_name("linen"));
    let mut harness = cloth(project);
    click(&mut harness, "Lay leaf");
    type_over(&mut harness, "Width of the cloth to buy", "700 mm");
    click(&mut harness, "How long?");
    let needed = harness.state().session.laying.needed.clone().unwrap();
    assert_eq!(needed.width, Mm(700.0));
    let of: Vec<_> = needed.cloths.iter().map(|c| c.cloth.as_deref()).collect();
    assert_eq!(of, [Some("linen")]);
    let length = needed.cloths[0].length.unwrap();
    // No shorter than the cloth the pieces take, no longer than laid one behind the other.
    assert!(length.0 > 50.0 && length.0 < 2000.0, "{length:?}");
    assert!(told(&harness, "linen: "), "named");
    click(&mut harness, "How long?");
    let again = harness.state().session.laying.needed.clone().unwrap();
    assert_eq!(again, needed, "it counts steps, not seconds");
}

#[test]
fn what_would_help_is_one_click_and_lays_everything_out_again() {
    // Too small for everything: something is told, with a button.
    let mut harness = cloth(with_cloth(230.0, 130.0));
    lay_out(&mut harness, "200");
    let ended = harness.state().session.laying.ended.clone();
    let why = harness.state().session.laying.why.clone();
    let why = why.unwrap_or_else(|| panic!("not everything fits: {ended:?}"));
    assert!(!why.not_laid.is_empty());
    let all_click = why.concessions.iter().all(|one| one.remedy.is_some());
    assert!(all_click, "each remedy is one click: {why:?}");
    assert!(told(&harness, "Why not?"));
    assert!(told(&harness, &why.verdict));
    let (button, edit) = why
        .concessions
        .iter()
        .find_map(|one| one.remedy.clone())
        .unwrap_or_else(|| panic!("a remedy: {why:?}"));
    let before = harness.state().session.project().clone();
    let wanted = before.edited(&edit).unwrap();
    let laid_before = plan(&harness).placed.len();
    click(&mut harness, &button);
    harness.run();
    let after = harness.state().session.project().clone();
    assert_ne!(*after, *before);
    assert_eq!(after.offcuts, wanted.offcuts, "the change was made");
    assert!(plan(&harness).placed.len() >= laid_before, "and laid again");
    assert!(harness.state().session.laying.busy_with().is_none());
}

/// Frames until something holds; a real worker needs its time.
fn until(harness: &mut Harness<'_, Window>, what: &str, holds: impl Fn(&Window) -> bool) {
    for _ in 0..2000 {
        harness.step();
        if holds(harness.state()) {
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    panic!("never: {what}");
}

#[test]
fn a_search_beside_the_window_is_held_goes_on_and_is_stopped_with_the_best_kept() {
    let project = with_cloth(700.0, 500.0);
    let session = Session::new(project, None, Settings::default(), || {});
    let window = Window::new(session, Chooser::inside_the_window(), None);
    let mut harness = common::harness_of_busy(window, egui::vec2(1280.0, 1700.0));
    until(&mut harness, "the pieces are fitted", |window| {
        window.session.work.done.is_some()
    });
    harness.key_press(Key::F5);
    harness.step();
    harness.step();
    let press = |harness: &mut Harness<'_, Window>, label: &str| {
        harness.get_by_label(label).click();
        harness.step();
        harness.step();
    };
    press(&mut harness, "Lay leaf");
    harness.state_mut().ask(Command::Lay(LayAsk::LayOut {
        seed: 1,
        steps: 50_000_000,
    }));
    until(&mut harness, "it works", |window| {
        let now = window.session.laying.now(FITTING);
        now.is_some_and(|now| now.progress.steps > 10)
    });
    harness.step();
    press(&mut harness, "Pause");
    assert!(harness.state().session.laying.is_held());
    let steps = |window: &Window| {
        window
            .session
            .laying
            .now(FITTING)
            .map(|now| now.progress.steps)
    };
    // The chunk that was begun is ended; after that nothing moves.
    std::thread::sleep(std::time::Duration::from_millis(400));
    let held = steps(harness.state());
    std::thread::sleep(std::time::Duration::from_millis(200));
    assert_eq!(steps(harness.state()), held);
    harness.step();
    press(&mut harness, "Go on");
    until(&mut harness, "it goes on", |window| steps(window) > held);
    press(&mut harness, "Stop");
    until(&mut harness, "it has ended", |window| {
        window.session.laying.busy_with().is_none()
    });
    let ended = harness.state().session.laying.ended.clone().unwrap();
    assert!(ended.progress.steps < 50_000_000);
    assert!(!plan(&harness).placed.is_empty(), "the best is kept");
}

#[test]
fn cloth_to_buy_is_told_for_a_width() {
    let mut harness = cloth(with_cloth(100.0, 100.0));
    click(&mut harness, "Lay leaf");
    type_over(&mut harness, "Width of the cloth to buy", "20 mm");
    click(&mut harness, "How long?");
    assert!(
        told(&harness, "too wide for a cloth of 20 mm") || says(&harness).contains("width"),
        "{}",
        says(&harness)
    );
}
