//! The nine steps through the library, on every demo project: what goes in at one end comes out at the other.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use petitoile::whole_way::{self, Worked};
use petitoile::{demos, report::Report};
use petitoile_core::project::Project;
use petitoile_exchange::project_file;

fn every_fitting(check: impl Fn(&Project, &Worked)) {
    for (name, text) in demos::ALL {
        let project = whole_way::read(text.as_bytes()).unwrap();
        assert!(!project.fittings.is_empty(), "{name}");
        for fitting in &project.fittings {
            let worked = whole_way::work(&project, &fitting.name).unwrap();
            check(&project, &worked);
        }
    }
}

#[test]
fn every_step_keeps_every_piece_in_its_place() {
    every_fitting(|project, worked| {
        let garment = project.garment(&worked.adapted.fitting.garment).unwrap();
        let names: Vec<&str> = garment.pieces.iter().map(|p| p.name.as_str()).collect();
        let of = |pieces: &[std::sync::Arc<petitoile_core::piece::Piece>]| -> Vec<String> {
            pieces.iter().map(|p| p.name.clone()).collect()
        };
        assert_eq!(of(&worked.adapted.pieces), names);
        assert_eq!(of(&worked.filled.pieces), names);
        let finished: Vec<&str> = worked
            .finished
            .pieces
            .iter()
            .map(|p| p.piece.name.as_str())
            .collect();
        assert_eq!(finished, names);
        let sheet = whole_way::drawn(worked, project.unit);
        for name in names {
            assert!(
                sheet.pieces.iter().any(|p| p.name == name),
                "{name} is on the sheet"
            );
        }
    });
}

#[test]
fn the_same_project_gives_the_same_bytes() {
    every_fitting(|project, worked| {
        let fitting = &worked.adapted.fitting.name;
        let again = whole_way::work(project, fitting).unwrap();
        let bytes = |worked: &Worked| {
            (
                whole_way::pdf(&whole_way::pages(worked, project.unit)),
                whole_way::one_sheet_pdf(worked, project.unit),
                whole_way::svg(worked, project.unit),
                Report::of(worked, None, project.unit).text(),
            )
        };
        assert!(bytes(worked) == bytes(&again), "{fitting}");
    });
}

#[test]
fn a_fitting_comes_out_the_same_in_its_project_and_by_itself() {
    every_fitting(|project, worked| {
        let fitting = &worked.adapted.fitting;
        let garment = project.garment(&fitting.garment).unwrap();
        assert!(
            whole_way::work_on(project, garment, fitting).unwrap() == *worked,
            "{}",
            fitting.name
        );
    });
}

#[test]
fn a_demo_that_was_saved_and_opened_gives_the_same_pieces() {
    every_fitting(|project, worked| {
        let saved = project_file::write(project).unwrap();
        let opened = whole_way::read(saved.as_bytes()).unwrap();
        let again = whole_way::work(&opened, &worked.adapted.fitting.name).unwrap();
        assert!(
            again.finished == worked.finished,
            "{}",
            worked.adapted.fitting.name
        );
    });
}

#[test]
fn what_the_report_counts_as_met_is_met() {
    every_fitting(|project, worked| {
        let report = Report::of(worked, None, project.unit);
        assert_eq!(report.demands.len(), worked.adapted.demands.len());
        for row in &report.demands {
            assert_eq!(
                row.met,
                (row.got.0 - row.wanted.0).abs() <= 0.01,
                "{}",
                row.name
            );
            assert!(
                row.met || row.gave_way,
                "{} of {} is off and says nothing",
                row.name,
                report.fitting
            );
        }
        assert_eq!(
            report.usable,
            report.findings.iter().all(|row| row.gravity != "unusable")
        );
    });
}

#[test]
fn the_finished_tape_reads_what_was_demanded() {
    every_fitting(|_, worked| {
        let adapted = &worked.adapted;
        for row in &adapted.ease {
            let Some(demand) = adapted.demands.iter().find(|d| d.name == row.name) else {
                continue;
            };
            let off = (row.garment.1.0 - demand.got.0).abs();
            assert!(
                off < 0.02,
                "{}, {}: the tape reads {:.2}, demanded {:.2}",
                adapted.fitting.name,
                row.name,
                row.garment.1.0,
                demand.wanted.0
            );
        }
    });
}

#[test]
fn a_maker_who_measures_in_inches_reads_no_millimetres() {
    use petitoile_core::LengthUnit;
    let mut said = 0;
    for (name, text) in demos::ALL {
        let mut project = whole_way::read(text.as_bytes()).unwrap();
        project.unit = LengthUnit::Inch;
        for fitting in &project.fittings {
            let worked = whole_way::work(&project, &fitting.name).unwrap();
            for finding in &worked.findings {
                for words in [&finding.what, &finding.advice] {
                    let in_mm = words
                        .split(' ')
                        .any(|word| word.trim_matches(|c: char| !c.is_alphanumeric()) == "mm");
                    assert!(!in_mm, "{name}: {words}");
                    said += usize::from(words.contains(" in"));
                }
            }
        }
    }
    assert!(said > 0, "no finding of any demo has a length in it");
}
