//! The making sheet on paper: everything that is said is printed, inside the margins, no line over another.

#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod common;

use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::LengthUnit;
use petitoile_core::adapt::adapt;
use petitoile_core::bulk::{bulk, heeded};
use petitoile_core::dressing::dressing;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finish::finish;
use petitoile_core::fullness::fill;
use petitoile_core::kurbo::Rect;
use petitoile_core::making_order::{By, order};
use petitoile_core::making_sheet::{Basis, MakingSheet, making_sheet};
use petitoile_core::paper::{PaperSettings, PaperSize, PaperTurn};
use petitoile_core::project::Project;
use petitoile_exchange::drawing::Ink;
use petitoile_exchange::pdf::write_pages;
use petitoile_exchange::project_file;
use petitoile_exchange::sheet::making_pages;

const DEMOS: [&str; 3] = ["harbour-jacket", "sunday-skirts", "net-menders-smock"];

fn demo(name: &str) -> Project {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../../demo-projects")
        .join(format!("{name}.ron"));
    project_file::read(&std::fs::read(path).unwrap()).unwrap()
}

fn sheet_of(project: &Project, unit: LengthUnit) -> MakingSheet {
    let fitting = &project.fittings[0];
    let adapted = adapt(project, &fitting.name).unwrap();
    let filled = fill(&Arc::new(adapted)).outcome;
    let finished = finish(&Arc::new(filled)).outcome;
    let adapted = &finished.filled.adapted;
    let machine = &project.machine;
    let order = order(&adapted.made, &adapted.fitting, machine, unit);
    let bulk = bulk(&finished, Some(&order), machine, unit);
    making_sheet(&Basis {
        finished: &finished,
        order: &heeded(order, &bulk, &adapted.fitting, machine, unit),
        bulk: &bulk,
        dressing: &dressing(&finished.filled, &[]),
        machine,
        unit,
    })
}

/// Every word in a row, so that broken lines compare with whole sentences.
fn plain(words: &str) -> String {
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn every_paper() -> Vec<PaperSettings> {
    let mut all = Vec::new();
    for size in [PaperSize::A4, PaperSize::Letter] {
        for turn in [PaperTurn::Portrait, PaperTurn::Landscape] {
            all.push(PaperSettings {
                size,
                turn,
                ..PaperSettings::default()
            });
        }
    }
    all
}

#[test]
fn every_sentence_note_and_material_can_be_read_in_the_pdf() {
    let sheet = sheet_of(&demo("net-menders-smock"), LengthUnit::Inch);
    assert!(sheet.steps.len() > 10);
    for paper in every_paper() {
        let pages = making_pages(&sheet, &paper, LengthUnit::Inch);
        let read = common::read::pdf(&write_pages(&pages));
        assert_eq!(read.sizes.len(), pages.pages.len());
        let all: Vec<String> = (0..pages.pages.len())
            .map(|p| plain(&read.words_on(p)))
            .collect();
        let said = |words: &str| all.iter().any(|page| page.contains(&plain(words)));
        for step in &sheet.steps {
            assert!(
                said(&format!("{}. {}", step.number, step.sentence)),
                "{}",
                step.sentence
            );
            for note in step.notes.iter().chain(&step.cautions) {
                assert!(said(note), "{note}");
            }
        }
        for material in &sheet.materials {
            assert!(said(&material.words(LengthUnit::Inch)), "{material:?}");
        }
        for curve in &sheet.curves {
            assert!(said(&curve.words(LengthUnit::Inch)), "{curve:?}");
        }
        for row in &sheet.cutting {
            assert!(said(&row.size_words(LengthUnit::Inch)), "{row:?}");
        }
        for caution in &sheet.cautions {
            assert!(said(caution), "{caution}");
        }
        for (i, page) in all.iter().enumerate() {
            assert!(page.contains(&format!("page {} of {}", i + 1, all.len())));
        }
    }
}

#[test]
fn nothing_leaves_the_margins_and_no_line_of_text_runs_over_another() {
    for name in DEMOS {
        let sheet = sheet_of(&demo(name), LengthUnit::Millimetre);
        for paper in every_paper() {
            let pages = making_pages(&sheet, &paper, LengthUnit::Millimetre);
            let (width, height) = pages.size;
            let margin = paper.margin.0;
            let room = Rect::new(margin, margin, width - margin, height - margin).inflate(0.6, 1.0);
            for page in &pages.pages {
                let mut lines: Vec<(Rect, String)> = Vec::new();
                for item in &page.items {
                    let bounds = item.bounds();
                    assert!(room.contains_rect(bounds), "{name}, {paper:?}: {item:?}");
                    // Names inside little pictures are centred; they may lie on lines but not on text beside them.
                    if let Ink::Text { words, size, .. } = &item.ink {
                        let tight = bounds.inset((0.0, -size * 0.25));
                        for (other, before) in &lines {
                            let both = tight.intersect(*other);
                            assert!(
                                both.width() <= 0.05 || both.height() <= 0.05,
                                "{name}, {}: {words:?} over {before:?}",
                                page.title
                            );
                        }
                        lines.push((tight, words.clone()));
                    }
                }
            }
        }
    }
}

#[test]
fn as_many_boxes_are_ticked_as_steps_are_done() {
    let mut project = demo("net-menders-smock");
    let fitting = project.fittings[0].name.clone();
    let keys: Vec<String> = sheet_of(&project, LengthUnit::Millimetre)
        .steps
        .iter()
        .take(3)
        .map(|step| step.key.clone())
        .collect();
    let ticks = |project: &Project| {
        let sheet = sheet_of(project, LengthUnit::Millimetre);
        let pages = making_pages(&sheet, &PaperSettings::default(), LengthUnit::Millimetre);
        let read = common::read::pdf(&write_pages(&pages));
        // The stroke of a tick; nothing else on the sheet is as wide.
        let strokes = read
            .paths
            .iter()
            .filter(|p| !p.filled && (p.width - 0.6).abs() < 1e-3);
        (strokes.count(), sheet.progress().0)
    };
    assert_eq!(ticks(&project), (0, 0));
    for key in keys {
        let change = FittingEdit::Tick(key, true);
        project = project
            .edited(&Edit::Fitting {
                fitting: fitting.clone(),
                change,
            })
            .unwrap();
    }
    assert_eq!(ticks(&project), (3, 3));
    // And the ticks are in the file.
    let bytes = project_file::write(&project).unwrap();
    assert_eq!(
        ticks(&project_file::read(bytes.as_bytes()).unwrap()),
        (3, 3)
    );
}

/// Everything the sheet says, line by line. Sentences are sorted: which comes first is the business of the order's own tests.
fn text(sheet: &MakingSheet) -> String {
    let unit = LengthUnit::Millimetre;
    let mut text = format!(
        "{}\n\nTake care\n{}\n",
        sheet.title,
        sheet.cautions.join("\n")
    );
    text.push_str("\nCutting list\n");
    for row in &sheet.cutting {
        text.push_str(&format!(
            "{}; {}; {}; {}\n",
            row.cloth_words(),
            row.piece,
            row.count_words(),
            row.size_words(unit)
        ));
    }
    text.push_str("\nWhat you need\n");
    for material in sheet
        .materials
        .iter()
        .filter(|m| !m.what.starts_with("thread"))
    {
        text.push_str(&format!("{}\n", material.words(unit)));
    }
    text.push_str(&format!("{}\n\nCurves\n", sheet.stitches.words(unit)));
    for curve in &sheet.curves {
        text.push_str(&format!("{}\n", curve.words(unit)));
    }
    text.push_str("\nStill to be chosen\n");
    for question in &sheet.open_questions {
        text.push_str(&format!("{question}\n"));
    }
    text.push_str("\nSteps, sorted\n");
    let mut steps: Vec<String> = sheet
        .steps
        .iter()
        .map(|step| {
            let picture = step
                .picture
                .as_ref()
                .map_or("none".to_owned(), |p| p.words());
            let by = match step.by {
                By::Hand => "by hand",
                By::Machine => "by machine",
            };
            let mut words = format!("{}\n    {by}: {}\n", step.sentence, step.by_why);
            for said in [&step.notes, &step.cautions] {
                if !said.is_empty() {
                    words.push_str(&format!("    {}\n", said.join(" ")));
                }
            }
            format!("{words}    picture: {picture}\n")
        })
        .collect();
    steps.sort();
    text.push_str(&steps.concat());
    text
}

#[test]
fn the_sheet_of_the_smock_reads_as_it_was_reviewed() {
    let path =
        PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/expected/making_sheet_smock.txt");
    let now = text(&sheet_of(
        &demo("net-menders-smock"),
        LengthUnit::Millimetre,
    ));
    if std::env::var_os("PETITOILE_UPDATE").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(&path, &now).unwrap();
    }
    let before = std::fs::read_to_string(&path).unwrap();
    for (i, (a, b)) in before.lines().zip(now.lines()).enumerate() {
        assert_eq!(
            a,
            b,
            "line {} (PETITOILE_UPDATE=1 writes the file anew)",
            i + 1
        );
    }
    assert_eq!(before.lines().count(), now.lines().count());
}
