//! The list of alterations of a fitting, and pieces on the clipboard.

use egui::Event;
use petitoile::command::{Chosen, Command};
use petitoile::session::On;
use petitoile_core::alteration::Alteration;
use petitoile_core::edit::{Edit, FittingEdit};

use crate::bench::{Bench, SMOCK, same};

fn straighten(bench: &mut Bench, edge: &str) {
    bench.take("Straighten", "front body");
    bench.press(&format!("{edge} of front body, edge"));
}

#[test]
fn a_fittings_alteration_is_made_again_on_another_body() {
    let mut bench = Bench::of(SMOCK, On::Fitting);
    straighten(&mut bench, "armscye");
    let length = bench.length("front body", "side seam");
    let bodies = petitoile_exchange::body_table::built_in();
    let other = bodies.iter().find(|body| body.name.contains("29 cm"));
    bench.ask(Command::Edit(Edit::Fitting {
        fitting: bench.fitting().name.clone(),
        change: FittingEdit::SetBody(other.expect("the table has a 29 cm doll").clone()),
    }));
    assert!(
        !same(bench.length("front body", "side seam"), length),
        "the piece is adapted anew"
    );
    assert!(
        bench
            .piece("front body")
            .outline
            .edge("armscye")
            .unwrap()
            .line
            .is_straight()
    );
    assert!(bench.shows("1. "), "it stands in the list");
}

#[test]
fn one_that_no_longer_applies_says_why_and_can_be_taken_out() {
    let mut bench = Bench::of(SMOCK, On::Fitting);
    straighten(&mut bench, "armscye");
    // Its edge gets another name on the garment... under the fitting's feet: by an alteration made earlier.
    bench.take("Rename edge", "front body");
    bench.press("armscye of front body, edge");
    bench.type_over("New name", "arm hole");
    bench.press("Rename the edge");
    bench.press("Later: step 1");
    assert!(
        bench.shows("was left out"),
        "the list and the findings say so"
    );
    bench.press("Take out: step 2");
    assert!(!bench.shows("was left out"));
    assert_eq!(bench.fitting().alterations.len(), 1);
    bench.undo_all();
    assert!(bench.fitting().alterations.is_empty());
}

#[test]
fn numbers_of_the_chosen_piece_are_listed() {
    let mut bench = Bench::of(SMOCK, On::Fitting);
    bench.ask(Command::Choose(Chosen::piece("cuff")));
    assert!(bench.shows("inner edge"));
}

fn copied(bench: &Bench) -> String {
    let output = bench.window.output();
    let texts = output
        .platform_output
        .commands
        .iter()
        .filter_map(|command| match command {
            egui::OutputCommand::CopyText(text) => Some(text.clone()),
            _ => None,
        });
    texts.fold(String::new(), |_, last| last)
}

#[test]
fn a_piece_is_copied_into_another_project_by_the_usual_keys() {
    let mut from = Bench::of(SMOCK, On::Garment);
    from.ask(Command::Choose(Chosen::piece("cuff")));
    from.window.event(Event::Copy);
    from.window.step();
    let text = copied(&from);
    assert!(text.starts_with("// Petitoile piece"), "{text}");
    for on in crate::bench::BOTH {
        let mut to = Bench::of(crate::bench::JACKET, on);
        to.window.event(Event::Paste(text.clone()));
        to.window.run();
        assert_eq!(to.steps(), 1, "{}", to.message());
        // The jacket has a cuff of its own.
        let pasted = to.piece("cuff 2");
        assert_eq!(pasted.outline, from.piece("cuff").outline);
        to.window.event(Event::Paste("a shopping list".to_owned()));
        to.window.run();
        assert_eq!(to.steps(), 1);
        assert!(to.message().contains("holds no piece"), "{}", to.message());
        to.undo_all();
        assert!(!to.has("cuff 2"));
    }
}

#[test]
fn a_cut_piece_is_copied_and_taken_out() {
    let mut bench = Bench::of(SMOCK, On::Garment);
    bench.ask(Command::Choose(Chosen::piece("neckband")));
    bench.window.event(Event::Cut);
    bench.window.step();
    assert!(copied(&bench).contains("neckband"));
    bench.window.run();
    assert!(!bench.has("neckband"), "{}", bench.message());
    bench.undo_all();
    assert!(bench.has("neckband"));
}

#[test]
fn escape_in_a_half_done_tool_changes_nothing() {
    let mut bench = Bench::of(SMOCK, On::Fitting);
    bench.take("Add width", "front body");
    bench.press("side seam of front body, edge");
    bench.type_over("Out at hem", "5 mm");
    assert!(bench.window.state().session.is_trying());
    bench.key(egui::Key::Escape);
    assert!(!bench.window.state().session.is_trying());
    assert_eq!(bench.steps(), 0);
    let none = bench
        .fitting()
        .alterations
        .iter()
        .filter(|a| matches!(a, Alteration::Shape { .. }))
        .count();
    assert_eq!(none, 0);
}
