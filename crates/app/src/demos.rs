//! The demo projects, embedded: a maker needs no file to begin, and tests open every one.

use petitoile_core::project::Project;
use petitoile_exchange::project_file;

/// File name, without ending, of the project that `petitoile demo` works on.
pub const FIRST: &str = "harbour-jacket";

/// Every demo project: file name without ending, and what stands in the file.
pub const ALL: &[(&str, &str)] = &[
    (
        "harbour-jacket",
        include_str!("../../../demo-projects/harbour-jacket.ron"),
    ),
    (
        "net-menders-smock",
        include_str!("../../../demo-projects/net-menders-smock.ron"),
    ),
    (
        "sunday-on-the-quay",
        include_str!("../../../demo-projects/sunday-on-the-quay.ron"),
    ),
    (
        "sunday-skirts",
        include_str!("../../../demo-projects/sunday-skirts.ron"),
    ),
];

/// The demo of this file name.
///
/// # Errors
/// One line when there is none, or when it cannot be read (the tests make sure that each can).
pub fn named(name: &str) -> Result<Project, String> {
    let (_, text) = ALL
        .iter()
        .find(|(known, _)| *known == name)
        .ok_or_else(|| format!("there is no demo called {name}"))?;
    project_file::read(text.as_bytes())
        .map_err(|why| format!("the demo {name} inside this program: {why}"))
}

/// The demo that is shown first.
///
/// # Errors
/// As [`named`].
pub fn first() -> Result<Project, String> {
    named(FIRST)
}
