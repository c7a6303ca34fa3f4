//! Our prints opened by pikepdf (QPDF), where it is installed: page count and box sizes. With PETITOILE_CI=1 it must be.

use std::process::Command;

use super::*;
use petitoile_core::LengthUnit;
use petitoile_core::paper::{PaperSettings, PaperSize};
use petitoile_exchange::pdf::{write_one_sheet, write_pages};
use petitoile_exchange::sheet::{one_drawing, sheet};
use petitoile_exchange::tiling::tile;

const SCRIPT: &str = "
import sys, pikepdf
for file in sys.argv[1:]:
    with pikepdf.open(file) as pdf:
        faults = list(pdf.check_pdf_syntax())
        assert not faults, faults
        for page in pdf.pages:
            box = [float(v) for v in page.mediabox]
            unit = float(page.obj.get('/UserUnit', 1)) * 25.4 / 72
            print('page', (box[2] - box[0]) * unit, (box[3] - box[1]) * unit)
        print('layers', len(pdf.Root.OCProperties.OCGs))
";

#[test]
fn an_independent_program_opens_our_prints_and_finds_as_many_pages_of_the_same_size() {
    let python = std::env::var_os("PETITOILE_PYTHON").unwrap_or_else(|| "python3".into());
    let has_pikepdf = Command::new(&python)
        .args(["-c", "import pikepdf"])
        .output()
        .is_ok_and(|ran| ran.status.success());
    if !has_pikepdf {
        // Where everything is checked before a change is taken, a check left out would look like one that held.
        assert!(
            std::env::var_os("PETITOILE_CI").is_none_or(|value| value != "1"),
            "pikepdf cannot be run, so our prints were not checked from the outside; PETITOILE_CI=1 allows no check to be \
             left out: pip install pikepdf==10.18.0"
        );
        println!("skipped: pikepdf cannot be run here");
        return;
    }
    let folder = std::env::temp_dir().join(format!("petitoile-pikepdf-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let (mut files, mut sizes) = (Vec::new(), Vec::new());
    let mut put = |name: &str, bytes: Vec<u8>| {
        let found = bring_in(&bytes, name).unwrap();
        sizes.extend(found.sheets.iter().map(|sheet| sheet.bounds.size()));
        let file = folder.join(name);
        std::fs::write(&file, bytes).unwrap();
        files.push(file);
    };
    for (name, garment) in [
        ("jacket", common::doll_jacket()),
        ("dress", common::adult_dress()),
    ] {
        let whole = sheet(&garment, LengthUnit::Millimetre);
        for size in [PaperSize::A4, PaperSize::Letter] {
            let settings = PaperSettings {
                size,
                ..PaperSettings::default()
            };
            put(
                &format!("{name}-{size:?}.pdf"),
                write_pages(&tile(&whole, &settings)),
            );
        }
        put(
            &format!("{name}-one.pdf"),
            write_one_sheet(&one_drawing(&whole)),
        );
    }
    let ran = Command::new(&python)
        .args(["-c", SCRIPT])
        .args(&files)
        .output()
        .unwrap();
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    let said = String::from_utf8(ran.stdout).unwrap();
    let pages: Vec<Vec<f64>> = said
        .lines()
        .filter_map(|row| row.strip_prefix("page "))
        .map(|row| {
            row.split(' ')
                .map(|figure| figure.parse().unwrap())
                .collect()
        })
        .collect();
    assert_eq!(pages.len(), sizes.len());
    for (page, size) in pages.iter().zip(&sizes) {
        assert!(
            (page[0] - size.width).abs() < 0.01 && (page[1] - size.height).abs() < 0.01,
            "{page:?} is not {size:?}"
        );
    }
    assert_eq!(said.matches("layers 5").count(), files.len(), "{said}");
    std::fs::remove_dir_all(&folder).unwrap();
}
