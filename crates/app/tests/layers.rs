//! The Layers leaf of the Fit tray: outfits, what is underneath, pads, what shows, the wardrobe. Every step by its label.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use std::path::PathBuf;

use common::{harness, type_over};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use petitoile::command::Command;
use petitoile::window::Window;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, ShapeChange};
use petitoile_core::fitting::Fitting;
use petitoile_core::measure::Measure;
use petitoile_core::outfit::Outfit;

const SUNDAY: &str = "Sunday on the quay";

/// The demo on its Layers leaf, this fitting chosen, in a window tall enough for all of it.
fn leaf(fitting: &str) -> Harness<'static, Window> {
    let project = petitoile::demos::named("sunday-on-the-quay").unwrap();
    let mut harness = common::harness_of(common::window(project), egui::vec2(1280.0, 2400.0));
    harness
        .state_mut()
        .ask(Command::ChooseFitting(fitting.to_owned()));
    harness.key_press(egui::Key::F3);
    harness.run();
    harness.get_by_label("Layers leaf").click();
    harness.run();
    harness
}

fn outfit(harness: &Harness<'_, Window>, name: &str) -> Outfit {
    let project = harness.state().session.project();
    let found = project.outfits.iter().find(|o| o.name == name);
    found.unwrap_or_else(|| panic!("no outfit {name}")).clone()
}

fn fitting(harness: &Harness<'_, Window>) -> Fitting {
    Fitting::clone(harness.state().session.fitting().unwrap())
}

fn undo(harness: &mut Harness<'_, Window>) {
    harness.state_mut().ask(Command::Undo);
    harness.run();
}

#[test]
fn a_garment_is_fitted_as_worn_with_one_click_and_undone_with_another() {
    let mut harness = leaf("jacket");
    let words = format!("Fit it as worn in {SUNDAY}");
    harness.get_by_label(&words).click();
    harness.run();
    let worn = fitting(&harness).as_worn.expect("as worn");
    assert_eq!(worn.outfit, SUNDAY);
    assert!(worn.stacks[&Measure::WaistGirth].0 > worn.stacks[&Measure::BustGirth].0);
    assert_eq!(fitting(&harness).pads_underneath.len(), 1);
    assert!(harness.query_by_label(&words).is_none());
    undo(&mut harness);
    assert_eq!(fitting(&harness).as_worn, None);
    assert_eq!(harness.state().session.history.steps(), 0);
}

#[test]
fn a_layer_is_left_out_to_look_and_nothing_of_the_project_changes() {
    let mut harness = leaf("jacket");
    let before = harness.state().session.project().clone();
    assert!(
        harness
            .query_by_label_contains("waist: room without")
            .is_none()
    );
    harness.get_by_label("Sunday skirt is worn").click();
    harness.run();
    let without = harness.query_by_label_contains("waist: room without");
    assert!(without.is_some(), "a second column");
    assert_eq!(**harness.state().session.project(), *before);
    harness.get_by_label("Sunday skirt is worn").click();
    harness.run();
    assert!(
        harness
            .query_by_label_contains("waist: room without")
            .is_none()
    );
}

#[test]
fn layers_are_put_in_another_order_taken_off_and_added() {
    let mut harness = leaf("jacket");
    harness.get_by_label("underskirt further out").click();
    harness.run();
    assert_eq!(
        outfit(&harness, SUNDAY).layers,
        ["smock", "Sunday skirt", "underskirt", "jacket"]
    );
    harness.get_by_label("Take smock off").click();
    harness.run();
    let less = outfit(&harness, SUNDAY);
    assert_eq!(less.layers, ["Sunday skirt", "underskirt", "jacket"]);
    assert_eq!(less.pads[0].over, None, "the roll now lies on the body");
    let adds = egui::accesskit::Role::ComboBox;
    harness.get_by_role_and_label(adds, "Add a layer").click();
    harness.run();
    harness
        .get_by_label("smock (fitted, worn in 1 outfit)")
        .click();
    harness.run();
    assert_eq!(outfit(&harness, SUNDAY).layers.last().unwrap(), "smock");
    for _ in 0..3 {
        undo(&mut harness);
    }
    assert_eq!(
        outfit(&harness, SUNDAY).layers,
        ["smock", "underskirt", "Sunday skirt", "jacket"]
    );
}

#[test]
fn a_pad_is_changed_and_the_skirt_over_it_levelled() {
    let mut harness = leaf("Sunday skirt");
    type_over(&mut harness, "hip roll stands off", "25 mm");
    type_over(&mut harness, "hip roll below the waist", "30 mm");
    let pad = &outfit(&harness, SUNDAY).pads[0].pad;
    assert_eq!((pad.projection, pad.below_waist), (Mm(25.0), Mm(30.0)));
    // The fact of the issue: 9.05 mm, shown to a tenth.
    assert!(
        harness
            .query_by_label_contains("skirt 9.1 mm longer")
            .is_some()
    );
    harness.get_by_label("Raise the waist edge").click();
    harness.run();
    let raised: Vec<f64> = fitting(&harness)
        .alterations
        .iter()
        .filter_map(|step| match step {
            Alteration::Shape {
                change: ShapeChange::Raise { by, .. },
                ..
            } => Some(by.iter().map(|by| by.0).fold(0.0, f64::max)),
            _ => None,
        })
        .collect();
    let most = raised.iter().copied().fold(0.0, f64::max);
    assert!((most - 9.05).abs() < 0.01, "{raised:?}");
    undo(&mut harness);
    assert!(fitting(&harness).alterations.is_empty());
}

#[test]
fn an_outfit_is_begun_named_and_taken_out() {
    let mut harness = leaf("underskirt");
    harness.get_by_label("New outfit").click();
    harness.run();
    assert_eq!(outfit(&harness, "Outfit 1").layers, ["underskirt"]);
    type_over(&mut harness, "Name of the outfit", "At home");
    assert_eq!(outfit(&harness, "At home").layers, ["underskirt"]);
    harness.get_by_label("Take the outfit out").click();
    harness.run();
    let names = &harness.state().session.project().outfits;
    assert!(names.iter().all(|outfit| outfit.name != "At home"));
}

/// A folder of this test alone, taken away afterwards.
struct Folder(PathBuf);

impl Folder {
    fn new(name: &str) -> Self {
        let path = std::env::temp_dir().join(format!("petitoile-{name}-{}", std::process::id()));
        std::fs::create_dir_all(&path).unwrap();
        Self(path)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        std::fs::remove_dir_all(&self.0).ok();
    }
}

#[test]
fn an_outfit_is_kept_in_the_wardrobe_and_its_project_opened_from_there() {
    let folder = Folder::new("wardrobe");
    let file = folder.0.join("quay.petitoile");
    let mut harness = leaf("jacket");
    let before_saving = harness.query_by_label_contains("Save the project first");
    assert!(before_saving.is_some());
    harness.state_mut().ask(Command::SaveFile(file.clone()));
    harness.run();
    harness
        .get_by_label(&format!("Keep {SUNDAY} in it"))
        .click();
    harness.run();
    let session = &harness.state().session;
    assert_eq!(
        session.project().wardrobe_file.as_deref(),
        Some("dolls.wardrobe")
    );
    let kept = petitoile::files::open_wardrobe(&folder.0.join("dolls.wardrobe")).unwrap();
    assert_eq!(kept.outfits.len(), 1);
    assert_eq!(kept.outfits[0].project_file, "quay.petitoile");
    assert_eq!(kept.dolls[0].name, session.fitting().unwrap().body.name);
    // Kept twice it is still one.
    harness
        .get_by_label(&format!("Keep {SUNDAY} in it"))
        .click();
    harness.run();
    let kept = petitoile::files::open_wardrobe(&folder.0.join("dolls.wardrobe")).unwrap();
    assert_eq!(kept.outfits.len(), 1);
    // From another project in the same folder.
    let other = petitoile::demos::named("net-menders-smock").unwrap();
    let other = petitoile_core::project::Project {
        wardrobe_file: Some("dolls.wardrobe".to_owned()),
        ..other
    };
    let path = folder.0.join("smock.petitoile");
    petitoile::files::save(&path, &other, None).unwrap();
    harness.state_mut().ask(Command::OpenFile(path));
    harness.run();
    harness.get_by_label("Look into it").click();
    harness.run();
    harness.get_by_label(&format!("Open {SUNDAY}")).click();
    harness.run();
    let session = &harness.state().session;
    assert_eq!(session.project().name, "Sunday on the quay");
    assert_eq!(session.fitting.as_deref(), Some("jacket"));
    harness
        .get_by_label(&format!("Take {SUNDAY} out of the wardrobe"))
        .click();
    harness.run();
    let kept = petitoile::files::open_wardrobe(&folder.0.join("dolls.wardrobe")).unwrap();
    assert!(kept.outfits.is_empty() && kept.dolls.len() == 1);
}

#[test]
fn what_is_no_wardrobe_is_not_overwritten() {
    let folder = Folder::new("no-wardrobe");
    let path = folder.0.join("dolls.wardrobe");
    std::fs::write(&path, "a shopping list").unwrap();
    let refused = petitoile::files::change_wardrobe(&path, Clone::clone);
    assert!(refused.is_err());
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "a shopping list");
}

#[test]
fn the_leaf_says_what_shows_and_goes_to_a_seam() {
    let mut harness = leaf("smock");
    assert!(harness.query_by_label_contains("smock, wrist").is_some());
    let seams = harness.get_by_label_contains("seams and hems are hidden");
    seams.click();
    harness.run();
    harness.get_by_label("centre back seam: hidden").click();
    harness.run();
    assert!(harness.state().session.chosen.piece.is_some());
}

#[test]
fn a_fitting_in_no_outfit_says_so() {
    let mut harness = harness(common::project());
    harness.key_press(egui::Key::F3);
    harness.run();
    harness.get_by_label("Layers leaf").click();
    harness.run();
    assert!(
        harness
            .query_by_label_contains("No outfit wears this fitting")
            .is_some()
    );
}
