//! The bench reads what it is given and says what is missing.

#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::expect_used,
    reason = "tests"
)]

use std::io::Write as _;
use std::path::PathBuf;

use petitoile_lay::search::{Mirror, Options, Search, StripSearch};
use petitoile_lay_bench::instance::{self, Instance, area, items_area, room_area};
use petitoile_lay_bench::measure::median;
use petitoile_lay_bench::request::Request;

fn request(words: &[&str]) -> Result<Request, String> {
    Request::read(words.iter().map(|word| (*word).to_owned()))
}

#[test]
fn a_folder_that_is_not_there_is_named() {
    let why = request(&["/no/such/folder"]).unwrap().files().unwrap_err();
    assert!(
        why.contains("the folder of instances is not there: /no/such/folder"),
        "{why}"
    );
}

#[test]
fn a_folder_without_instances_is_named() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/src");
    let why = request(&[folder]).unwrap().files().unwrap_err();
    assert!(why.contains("no instance (*.json) to measure in"), "{why}");
}

#[test]
fn several_seeds_and_every_bad_word() {
    let read = request(&["folder", "--seconds", "2.5", "--seed", "3", "--seed", "4"]).unwrap();
    assert_eq!((read.seconds, read.seeds), (2.5, vec![3, 4]));
    for (words, part) in [
        (&["--seed", "1"][..], "the folder is missing"),
        (&["a", "b"][..], "one folder only"),
        (&["a", "--seconds", "-1"][..], "no fitting number"),
        (&["a", "--seconds", "nan"][..], "no fitting number"),
        (&["a", "--seed", "x"][..], "no fitting number"),
        (&["a", "--seed"][..], "a value is missing"),
        (&["a", "--colour", "red"][..], "not known"),
    ] {
        let why = request(words).unwrap_err();
        assert!(
            why.contains(part) && why.contains("petitoile-lay-bench DIR"),
            "{words:?}: {why}"
        );
    }
}

#[test]
fn the_three_kinds_of_file_are_read() {
    let strip = r#"{"name":"s","strip_height":50,"items":[{"id":0,"demand":3,"dxf":"","allowed_orientations":[0.0,180.0],
        "shape":{"type":"simple_polygon","data":[[0,0],[10,0],[10,20],[0,0]]}}]}"#;
    let Instance::Strip(strip) = instance::parse(strip).unwrap() else {
        panic!("a strip")
    };
    assert_eq!((strip.items.len(), strip.width), (3, 50.0));
    assert_eq!(items_area(&strip.items), 300.0);
    assert_eq!(strip.items[0].ways[0].parts[0].turns, [0.0, 180.0]);
    assert_eq!(strip.items[0].ways[0].parts[0].tolerance_deg, 0.0);

    let bins = r#"{"name":"b","items":[{"id":0,"demand":1,"min_quality":1,"shape":{"type":"simple_polygon","data":[[0,0],[1,0],[1,1]]}}],
        "bins":[{"id":0,"cost":1,"stock":1,"shape":{"type":"polygon","data":{"outer":[[0,0],[9,0],[9,9],[0,9]],"inner":[[[1,1],[2,1],[2,2]]]}},
        "zones":[{"quality":2,"shape":{"type":"simple_polygon","data":[[5,5],[6,5],[6,6]]}}]},
        {"id":1,"cost":1,"stock":2,"shape":{"type":"simple_polygon","data":[[0,0],[20,0],[20,20],[0,20]]}}]}"#;
    let Instance::Rooms(problem) = instance::parse(bins).unwrap() else {
        panic!("bins")
    };
    assert_eq!(
        problem.rooms.iter().map(room_area).collect::<Vec<_>>(),
        [400.0, 400.0, 80.5],
        "the largest first"
    );
    assert_eq!(problem.rooms[2].zones[0].quality, 2);
    assert_eq!(
        problem.items[0].ways[0].parts[0].tolerance_deg, 180.0,
        "no turns named: any"
    );

    let why = instance::parse("{}").unwrap_err();
    assert!(
        why.contains("neither a strip, nor bins, nor pieces"),
        "{why}"
    );
}

#[test]
fn the_median_is_the_middle() {
    assert_eq!(median(&[3.0, 1.0, 2.0]), 2.0);
    assert_eq!(median(&[4.0, 1.0, 2.0, 3.0]), 2.5);
    assert_eq!(median(&[1.0, f64::INFINITY, 2.0]), 2.0);
}

/// The folder of instances beside the project, or the one named in `PETITOILE_PACKING`.
fn folder() -> Option<PathBuf> {
    let beside = concat!(env!("CARGO_MANIFEST_DIR"), "/../../../shared/data/packing");
    let folder =
        std::env::var_os("PETITOILE_PACKING").map_or_else(|| PathBuf::from(beside), PathBuf::from);
    if folder.is_dir() {
        return Some(folder);
    }
    let _ = writeln!(
        std::io::stderr(),
        "left out: the folder of instances is not there: {}",
        folder.display()
    );
    None
}

#[test]
fn the_instances_of_the_literature_are_laid() {
    let Some(folder) = folder() else { return };
    let files = request(&[folder.to_str().unwrap()])
        .unwrap()
        .files()
        .unwrap();
    assert!(
        files.iter().any(|file| file.ends_with("albano.json")),
        "{files:?}"
    );
    for file in files {
        match instance::read(&file).unwrap() {
            Instance::Strip(strip) => {
                let mut search = StripSearch::new(&strip, Options::default()).unwrap();
                let density = search.run_for(strip.items.len() as u64 + 200).density;
                assert!(
                    (0.45..1.0).contains(&density),
                    "{}: {density}",
                    file.display()
                );
            }
            Instance::Rooms(problem) => {
                let mut search = Search::new(&problem, Options::default()).unwrap();
                let mut steps = 0;
                while !search.run_for(100).complete {
                    steps += 100;
                    assert!(
                        steps < 30_000,
                        "{}: all rooms together take everything",
                        file.display()
                    );
                }
            }
            Instance::Offcuts(problem) => {
                assert_eq!(problem.items.len(), 14);
                assert!(
                    problem
                        .items
                        .iter()
                        .any(|item| item.ways[0].parts[0].mirror == Mirror::Always)
                );
                let wide = instance::scaled(&problem, 1.3);
                let grown = area(&wide.rooms[0].outline) / area(&problem.rooms[0].outline);
                assert!((grown - 1.69).abs() < 1e-9, "{grown}");
                let mut search = Search::new(&wide, Options::default()).unwrap();
                assert!(search.run_for(400).complete, "{}", file.display());
            }
        }
    }
}
