//! The demo projects, finished: one fitting of each garment.

use std::path::PathBuf;
use std::sync::{Arc, LazyLock};

use petitoile_core::adapt::adapt;
use petitoile_core::finish::{Finished, finish};
use petitoile_core::fullness::fill;
use petitoile_exchange::project_file;

/// Every garment of every demo project on the first of its bodies.
pub static GARMENTS: LazyLock<Vec<Finished>> = LazyLock::new(|| {
    let files = [
        "harbour-jacket.ron",
        "net-menders-smock.ron",
        "sunday-on-the-quay.ron",
        "sunday-skirts.ron",
    ];
    files.iter().flat_map(|file| garments(file)).collect()
});

fn garments(file: &str) -> Vec<Finished> {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-projects")
        .join(file);
    let project = project_file::read(&std::fs::read(path).unwrap()).unwrap();
    let mut done: Vec<&str> = Vec::new();
    let mut all = Vec::new();
    for fitting in &project.fittings {
        if !done.contains(&fitting.garment.as_str()) {
            done.push(&fitting.garment);
            let adapted = adapt(&project, &fitting.name).unwrap();
            let filled = fill(&Arc::new(adapted)).outcome;
            all.push(finish(&Arc::new(filled)).outcome);
        }
    }
    all
}
