//! What the tray says: reasons and roundings in the maker's unit, cloth that changes with the kind, layers, rows, and
//! requests that cannot be made.

use petitoile_core::LengthUnit;
use petitoile_core::project::Project;

use super::*;

fn in_inches() -> Project {
    let mut project = petitoile::demos::named("sunday-skirts").unwrap();
    project.unit = LengthUnit::Inch;
    project
}

/// A project in the Folds tray, with an edge chosen on the table.
fn folds_of(project: Project, piece: &str, edge: &str) -> Harness<'static, Window> {
    let mut harness = harness_of(window(project), egui::vec2(1280.0, 800.0));
    harness.key_press(Key::F4);
    harness.run();
    choose(&mut harness, piece, edge);
    harness
}

fn tells(harness: &Harness<'_, Window>, part: &str) -> bool {
    harness.query_all_by_label_contains(part).count() > 0
}

#[test]
fn a_maker_of_inches_reads_reasons_in_inches_and_what_is_rounded_in_full() {
    let mut harness = folds_of(in_inches(), "waistband", "waist edge");
    click(&mut harness, "Knife pleats");
    type_over(&mut harness, "Cloth length", "1 in");
    let why = said(&harness, "leaves nothing to fold");
    assert!(why.starts_with("1 in of cloth leaves nothing"), "{why}");
    assert!(!why.contains("mm"), "{why}");
    click(&mut harness, "Take the nearest");
    type_over(&mut harness, "Visible width", "3/4 in");
    let sewn = lengths(&harness, "waistband", "waist edge").0;
    let visible = sewn / (sewn / 19.05).round();
    assert!((visible - 19.05).abs() > 0.01, "it has to be adjusted");
    // The whole number of pleats that fills the edge, in decimals too: to a thousandth of an inch.
    let full = format!("({:.3} in), so that", visible / 25.4);
    let becomes = said(&harness, "Visible width becomes about ");
    assert!(becomes.contains(&full), "{becomes} tells {full}");
    assert!(tells(&harness, "Finished length: given; rounded, in full "));
    assert!(
        !tells(&harness, " mm folded from "),
        "the picture says inches"
    );
}

#[test]
fn a_kind_that_cannot_take_the_same_cloth_says_the_old_and_the_new_length() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Gathers");
    click(&mut harness, "Knife pleats");
    assert!(!tells(&harness, "of cloth as gathers"), "the same cloth");
    click(&mut harness, "Gathers");
    // As long as the edge: nothing is left to fold, so the pleats are full and take three times the length.
    type_over(&mut harness, "Times as long", "1");
    click(&mut harness, "Knife pleats");
    let (sewn, cloth) = lengths(&harness, "side", "waist");
    assert!(cloth > 2.0 * sewn);
    let unit = harness.state().session.shown().unit;
    let told = said(&harness, "of cloth as gathers");
    let both = format!(
        "Before {} of cloth as gathers, now {} of cloth as knife pleats.",
        unit.show_computed(Mm(sewn)),
        unit.show_computed(Mm(cloth))
    );
    assert!(told.starts_with(&both), "{told}");
    assert!(told.contains("leaves nothing to fold"), "{told}");
    // Something else is changed: it has been read.
    type_over(&mut harness, "How many", "3");
    assert!(!tells(&harness, "of cloth as gathers"));
}

#[test]
fn layers_and_their_height_are_always_told_with_the_band_and_the_cloth_that_is_assumed() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Knife pleats");
    type_over(&mut harness, "How many", "3");
    type_over(&mut harness, "Depth", "5 mm");
    let session = &harness.state().session;
    let cloth = session.fitting().unwrap().cloths.values().next().cloned();
    let thick = cloth.map_or(0.2, |cloth| cloth.thickness.0);
    let told = said(&harness, "Up to 3 layers, ");
    let unit = session.shown().unit;
    let height = unit.show_decimal(Mm(3.0 * thick));
    assert_eq!(told, format!("Up to 3 layers, {height} thick."));
    let band = said(&harness, "With both sides of waistband ");
    let with = unit.show_decimal(Mm(5.0 * thick));
    assert!(band.contains(&format!("{with} thick")), "{band}");
    // Without a cloth a thin one is taken, and that is said.
    let mut project = petitoile::demos::named("sunday-skirts").unwrap();
    for garment in &mut project.garments {
        std::sync::Arc::make_mut(garment).cloths.clear();
    }
    for fitting in &mut project.fittings {
        std::sync::Arc::make_mut(fitting).cloths.clear();
    }
    let mut harness = folds_of(project, "side", "waist");
    click(&mut harness, "Knife pleats");
    assert!(tells(
        &harness,
        "No cloth is chosen for the shell; 0.2 mm is assumed."
    ));
}

#[test]
fn every_kind_that_is_drawn_in_says_how_its_rows_are_stitched() {
    let mut harness = folds("side", "waist");
    click(&mut harness, "Gathers");
    click(&mut harness, "How it lies");
    assert!(tells(&harness, "2 rows of running stitch, "));
    click(&mut harness, "Shirring");
    assert!(tells(&harness, "3 rows of running stitch 6 mm apart"));
    click(&mut harness, "Ease");
    assert!(tells(&harness, "Eased in without a row"));
    click(&mut harness, "Cartridge pleats");
    let depth = op(&harness, "side").folded(Mm(lengths(&harness, "side", "waist").0));
    let unit = harness.state().session.shown().unit;
    let stitch = unit.show_computed(depth.pleats[0].depth);
    assert!(
        tells(&harness, &format!("every stitch {stitch} long")),
        "{stitch}"
    );
    // The label of the piece says so too.
    let worked = harness.state().session.work.done.clone().unwrap();
    let sheet = whole_way::drawn(&worked, unit);
    let side = sheet
        .pieces
        .iter()
        .find(|piece| piece.name == "side")
        .unwrap();
    let words: String = side
        .drawing
        .items
        .iter()
        .filter_map(|item| match &item.ink {
            petitoile_exchange::drawing::Ink::Text { words, .. } => {
                Some(words.replace('\u{a0}', " "))
            }
            _ => None,
        })
        .collect::<Vec<_>>()
        .join(" ");
    assert!(words.contains("every stitch"), "{words}");
}

#[test]
fn bindings_pipings_squares_and_tiers_that_cannot_be_made_say_why_and_take_the_nearest() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    click(&mut harness, "Strips for: Bias, binding, piping");
    type_over(&mut harness, "Width when sewn", "0");
    assert!(tells(
        &harness,
        "The width when sewn cannot be 0 mm; 1 mm is the least."
    ));
    assert!(tells(&harness, "Nearest: Cut the binding 2 mm wide."));
    click(&mut harness, "Take the nearest binding");
    assert!(!tells(&harness, "cannot be 0 mm"));
    assert!(
        harness
            .query_by_label("Cut the binding 2 mm wide.")
            .is_some()
    );
    type_over(&mut harness, "Girth of the cord", "0");
    click(&mut harness, "Take the nearest piping");
    assert!(
        harness
            .query_by_label("Cut the piping 11 mm wide.")
            .is_some()
    );
    type_over(&mut harness, "Width of the bias strip", "400 mm");
    assert!(tells(
        &harness,
        "A strip 400 mm wide does not lie slanting in cloth 200 mm wide"
    ));
    assert!(tells(
        &harness,
        "600 mm of a strip 400 mm wide does not lie slanting in a square"
    ));
    click(&mut harness, "Take the nearest piece of cloth");
    // 200 / sqrt 2
    let strip = harness
        .get_by_role_and_label(Role::TextInput, "Width of the bias strip")
        .value();
    assert_eq!(strip.as_deref(), Some("141.4 mm"));
    click(&mut harness, "Strips for: Tiers");
    type_over(&mut harness, "Times as long, tier by tier", "1.5; 0");
    assert!(tells(&harness, "Tier 2 cannot be 0 times as long"));
    assert!(
        harness.query_by_label("Strip of tier 1").is_none(),
        "no numbers"
    );
    click(&mut harness, "Take the nearest tiers");
    assert!(harness.query_by_label("Strip of tier 2").is_some());
    type_over(&mut harness, "Times as long, tier by tier", "full");
    let message = harness.state().session.message.clone().unwrap_or_default();
    assert!(message.contains("is no list of numbers"), "{message}");
}

#[test]
fn a_strip_with_no_width_left_says_why_and_takes_the_nearest() {
    let mut harness = folds("side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Width of the strip", "0");
    assert!(tells(
        &harness,
        "A strip with a finished width of 0 mm cannot be made"
    ));
    click(&mut harness, "Take the nearest strip");
    assert!(!tells(&harness, "cannot be made"));
    assert!(tells(&harness, "Finished 300 mm long, 1 mm wide"));
}

/// The tally as it stands on the screen of a maker of inches, read back and added up.
#[test]
fn the_tally_shown_in_inches_adds_up_as_it_stands() {
    let mut harness = folds_of(in_inches(), "side", "hem");
    click(&mut harness, "Work on: Joined strips");
    type_over(&mut harness, "Length of the strip", "307.3 mm");
    type_over(&mut harness, "Fullness of the strip", "1.83");
    type_over(&mut harness, "Allowance at a join", "4.7 mm");
    let line = said(&harness, " drawn in + ");
    let figures: Vec<f64> = line
        .trim_start_matches("Cut ")
        .split(['=', '+'])
        .map(|part| {
            let (figure, _) = part.trim().split_once(" in").unwrap();
            petitoile_core::units::read_length(figure, LengthUnit::Inch)
                .unwrap()
                .0
        })
        .collect();
    let [cut, uses @ ..] = figures.as_slice() else {
        panic!("{line}");
    };
    assert_eq!(uses.len(), 4, "{line}");
    assert!((cut - uses.iter().sum::<f64>()).abs() < 1e-9, "{line}");
    assert!(tells(
        &harness,
        "It adds up; figures are rounded to 1/32 in so that they do."
    ));
}
