//! Which crate may need which: the core is pure, exchange has no window, lay and exchange never meet.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::process::Command;

/// Everything a crate is built from, by name, itself included.
fn built_from(package: &str) -> Vec<String> {
    built_from_less(package, &[])
}

/// The same, less what only some of its dependencies are built from.
fn built_from_less(package: &str, pruned: &[&str]) -> Vec<String> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let tree = Command::new(cargo)
        .args([
            "tree",
            "--offline",
            "--locked",
            "--edges",
            "normal,build",
            "--prefix",
            "none",
            "--format",
            "{p}",
            "--package",
            package,
        ])
        .args(pruned.iter().flat_map(|name| ["--prune", name]))
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
        .output()
        .unwrap();
    assert!(
        tree.status.success(),
        "{}",
        String::from_utf8_lossy(&tree.stderr)
    );
    let mut names: Vec<String> = String::from_utf8(tree.stdout)
        .unwrap()
        .lines()
        .filter_map(|line| Some(line.split_whitespace().next()?.to_owned()))
        .collect();
    names.sort();
    names.dedup();
    assert!(
        names.iter().any(|name| name == package),
        "{package} is in its own tree: {names:?}"
    );
    names
}

fn check(package: &str, never: &[&str]) {
    check_names(package, built_from(package), never);
}

fn check_names(package: &str, names: Vec<String>, never: &[&str]) {
    for name in names {
        let found = never.iter().find(|forbidden| {
            name == **forbidden
                || name.starts_with(&format!("{forbidden}-"))
                || name.starts_with(&format!("{forbidden}_"))
        });
        assert_eq!(found, None, "{package} is built from {name}");
    }
}

const WINDOW: [&str; 8] = [
    "egui",
    "eframe",
    "epaint",
    "winit",
    "glow",
    "wgpu",
    "rfd",
    "accesskit",
];
const FORMATS: [&str; 9] = [
    "ron",
    "pdf",
    "hayro",
    "usvg",
    "subsetter",
    "ttf",
    "miniz",
    "serde_json",
    "png",
];
const OUTSIDE: [&str; 8] = [
    "clap",
    "rand",
    "getrandom",
    "chrono",
    "time",
    "tokio",
    "rustix",
    "libc",
];

#[test]
fn the_core_knows_no_window_no_file_format_no_clock_and_no_chance() {
    check(
        "petitoile-core",
        &[
            &WINDOW[..],
            &FORMATS,
            &OUTSIDE,
            &["petitoile-exchange", "petitoile-lay"],
        ]
        .concat(),
    );
}

#[test]
fn exchange_knows_no_window_and_no_laying() {
    check(
        "petitoile-exchange",
        &[&WINDOW[..], &OUTSIDE[..1], &["petitoile-lay", "lyon"]].concat(),
    );
}

#[test]
fn laying_knows_no_window_and_no_file_format() {
    check(
        "petitoile-lay",
        &[&WINDOW[..], &FORMATS, &["petitoile-exchange"]].concat(),
    );
    // The collision core itself has a clock and chance on board (for its example programs and for browsers); the search uses
    // neither, and nothing else that laying is built from has them. It also turns on chance in `geo`, which `check_plan` measures
    // with and does not use it either.
    let names = built_from_less("petitoile-lay", &["jagua-rs", "geo"]);
    assert!(
        names.iter().any(|name| name == "kurbo"),
        "the rest is still looked at: {names:?}"
    );
    check_names("petitoile-lay", names, &OUTSIDE);
}

#[test]
fn the_program_itself_has_a_window() {
    // So that the checks above look for names that exist.
    let names = built_from("petitoile");
    for name in ["egui", "eframe", "ron", "pdf-writer", "clap"] {
        assert!(names.iter().any(|known| known == name), "{name}");
    }
}
