//! What is measured elsewhere and printed here: closures that suit their slit, stacks under the needle.

use super::*;
use crate::body::Measured;
use crate::cloth::Cloth;
use crate::dressing::how_many;
use crate::measure::Measure;
use crate::piece::Role;

/// The smock with a slit of 80 mm behind.
fn opened() -> Garment {
    let mut clothes = smock();
    clothes.openings.push(Opening {
        name: "back".into(),
        hole: vec![EdgeRef::new("front", "waist")],
        slit: vec![EdgeRef::new("back", "right")],
        passes: Passing::Head,
    });
    clothes
}

fn closed(body: Body, closure: Option<Closure>) -> MakingSheet {
    let finished = finished_on(opened(), body, |fitting| {
        if let Some(closure) = closure {
            fitting.closures.insert("back".into(), closure);
        }
    });
    let work = Work::Closure {
        opening: "back".into(),
    };
    let mut close = step("close back", work, &[("back", RIGHT)], &[("back", "right")]);
    close.by = By::Hand;
    sheet_of(&finished, &order(vec![close]))
}

fn play_doll() -> Body {
    doll("doll").with(Measure::Height, Measured::own_tape(Mm(457.0)))
}

/// Edge to edge nothing laps over: hooks. 80 mm at one to every 25 mm, as the Fit tray has it: 3.
#[test]
fn a_slit_for_which_nothing_was_chosen_is_closed_by_what_suits_it() {
    let sheet = closed(play_doll(), None);
    let hooks = sheet
        .materials
        .iter()
        .find(|row| row.is_small_part)
        .unwrap();
    assert_eq!(
        (hooks.what.as_str(), hooks.count),
        ("hooks and worked bars", Some(3))
    );
    insta::assert_snapshot!(sheet.steps[0].sentence, @"Sew 3 hooks and worked bars to the back opening by hand.");
    insta::assert_snapshot!(sheet.open_questions.join("\n"), @"What closes the back opening (slit 80 mm)? Here it is hooks, as suits this size; choose in the Fit tray, Dressing.");
    // What the maker chose is not asked again.
    let snaps = closed(play_doll(), Some(Closure::Snaps { diameter: Mm(5.0) }));
    assert!(snaps.open_questions.is_empty());
    assert!(snaps.steps[0].sentence.contains("3 snaps, 5 mm"));
}

#[test]
fn the_sheet_counts_closures_as_the_dressing_does() {
    let snaps = Closure::Snaps { diameter: Mm(5.0) };
    for body in [play_doll(), Body::new("woman", BodyKind::Woman)] {
        let (count, _) = how_many(&body, snaps, Mm(80.0));
        let sheet = closed(body, Some(snaps));
        let row = sheet
            .materials
            .iter()
            .find(|row| row.is_small_part)
            .unwrap();
        assert_eq!(row.count, Some(count as usize));
    }
}

#[test]
fn a_slit_sewn_shut_takes_nothing_and_is_sewn_on_the_doll() {
    let sheet = closed(play_doll(), Some(Closure::SewnShut));
    assert!(sheet.materials.iter().all(|row| !row.is_small_part));
    insta::assert_snapshot!(sheet.steps[0].sentence, @"Dress the body and sew the back opening shut.");
}

/// Loop and tail 6 % of 457 mm, 1 % of it wide: 3 x 27.42 + 4 x 4.57 = 100.54, and 10 mm turned in.
#[test]
fn ribbons_to_tie_are_as_long_as_the_bow_takes() {
    let sheet = closed(play_doll(), Some(Closure::Ties));
    let ties = sheet.materials.iter().find(|row| row.is_cord).unwrap();
    assert_eq!(ties.count, Some(6));
    assert!((ties.length.unwrap().0 - 110.54).abs() < 1e-9, "{ties:?}");
}

/// Two layers of 1 mm under the needle: 2 mm, three quarters of 2.67 mm. Felled or not does not count.
#[test]
fn the_needle_is_warned_of_by_what_lies_under_it() {
    let finished = finished_on(smock(), play_doll(), |fitting| {
        let cloth = Cloth {
            name: "felt".into(),
            thickness: Mm(1.0),
            source: String::new(),
        };
        fitting.cloths.insert(Role::Shell, cloth);
    });
    let cautions = |thickest: f64| {
        let machine = Machine {
            thickest: Mm(thickest),
            ..Machine::default()
        };
        let order = order(vec![side_step(LEFT)]);
        sheet_on(&finished, &order, &machine).steps[0]
            .cautions
            .join("\n")
    };
    assert_eq!(cautions(2.7), "");
    insta::assert_snapshot!(cautions(2.6), @"Needle: 2 layers, 2.00 mm, lie under it (the machine takes 2.60 mm): turn the wheel by hand, stop if the needle bends, eyes out of its line.");
}

/// The same seam by hand: no machine, no warning; and twice when two are cut alike.
#[test]
fn what_is_cut_twice_alike_is_sewn_twice_and_takes_twice_the_thread() {
    let finished = finished_on(smock(), play_doll(), |_| {});
    let thread = |times: usize| {
        let mut step = side_step(LEFT);
        (step.times, step.length) = (times, Mm(80.0));
        let sheet = sheet_of(&finished, &order(vec![step]));
        let row = sheet
            .materials
            .iter()
            .find(|row| row.what.contains("thread"));
        (row.unwrap().why.clone(), sheet.steps[0].notes[0].clone())
    };
    assert!(thread(1).0.contains("times 80 mm"), "{}", thread(1).0);
    assert!(thread(2).0.contains("times 160 mm"), "{}", thread(2).0);
    assert_eq!(thread(2).1, "2 times: 2 are cut alike.");
}
