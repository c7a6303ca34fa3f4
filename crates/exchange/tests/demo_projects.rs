//! The demo projects are stored as the builders make them. `PETITOILE_UPDATE=1` writes them anew.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::body::Body;
use petitoile_core::drafts::wardrobe::{
    Dolls, WardrobeError, harbour_jacket_project, net_menders_smock_project,
    sunday_on_the_quay_project, sunday_skirts_project,
};
use petitoile_core::project::Project;
use petitoile_exchange::{body_table, project_file};

fn body(key: &str) -> Arc<Body> {
    body_table::find(key).unwrap_or_else(|| panic!("no body {key}"))
}

fn check(file: &str, build: fn(&Arc<Body>, &Dolls) -> Result<Project, WardrobeError>) {
    let dolls = Dolls {
        play_45: body("play-45"),
        play_36: body("play-36"),
        fashion_29: body("fashion-29-slim"),
        jointed_60: body("jointed-60"),
        twelfth: body("mini-12"),
    };
    let project = build(&body("woman-92"), &dolls).unwrap();
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-projects")
        .join(file);
    if std::env::var_os("PETITOILE_UPDATE").is_some_and(|value| value == "1") {
        std::fs::write(&path, project_file::write(&project).unwrap()).unwrap();
    }
    let stored = project_file::read(&std::fs::read(&path).unwrap()).unwrap();
    assert_eq!(
        stored, project,
        "{file} is not what its builder makes; set PETITOILE_UPDATE=1 to write it anew"
    );
}

#[test]
fn the_harbour_jacket_is_stored_as_it_is_built() {
    check("harbour-jacket.ron", harbour_jacket_project);
}

#[test]
fn the_sunday_skirts_are_stored_as_they_are_built() {
    check("sunday-skirts.ron", sunday_skirts_project);
}

#[test]
fn the_net_menders_smock_is_stored_as_it_is_built() {
    check("net-menders-smock.ron", net_menders_smock_project);
}

#[test]
fn the_sunday_on_the_quay_is_stored_as_it_is_built() {
    check("sunday-on-the-quay.ron", sunday_on_the_quay_project);
}
