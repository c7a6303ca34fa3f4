//! What we write, looked over by an independent program: ezdxf's audit and its own measures, where it is installed.
//! With PETITOILE_CI=1 it must be installed.

use std::process::Command;

use petitoile_core::LengthUnit;
use petitoile_exchange::dxf;

use crate::made::GARMENTS;

const SCRIPT: &str = "
import sys, ezdxf
from ezdxf import bbox
for file in sys.argv[1:]:
    doc = ezdxf.readfile(file)
    audit = doc.audit()
    for error in audit.errors + audit.fixes:
        print('error', error.code, error.message)
    for insert in doc.modelspace().query('INSERT'):
        block = doc.blocks[insert.dxf.name]
        lines = [e for e in block if e.dxf.layer == '1' and e.dxftype() == 'POLYLINE']
        box = bbox.extents(lines)
        print('piece', insert.dxf.name, len(lines), box.size.x, box.size.y, sep=';')
    print('units', doc.units)
";

#[test]
fn an_independent_program_finds_no_fault_and_the_same_sizes() {
    let folder = std::env::temp_dir().join(format!("petitoile-audit-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let mut files = Vec::new();
    let mut sizes = Vec::new();
    for (number, finished) in GARMENTS.iter().enumerate() {
        let pieces = dxf::piece::pieces(finished, LengthUnit::Millimetre);
        let file = folder.join(format!("{number}.dxf"));
        std::fs::write(&file, dxf::write::write("a garment", "a doll", &pieces)).unwrap();
        files.push(file);
        sizes.extend(
            pieces.iter().map(|piece| {
                petitoile_core::kurbo::Shape::bounding_box(&piece.lines[0].path).size()
            }),
        );
    }
    let python = std::env::var_os("PETITOILE_PYTHON").unwrap_or_else(|| "python3".into());
    let has_ezdxf = Command::new(&python)
        .args(["-c", "import ezdxf"])
        .output()
        .is_ok_and(|ran| ran.status.success());
    if !has_ezdxf {
        // Where everything is checked before a change is taken, a check left out would look like one that held.
        assert!(
            std::env::var_os("PETITOILE_CI").is_none_or(|value| value != "1"),
            "ezdxf cannot be run, so what we write was not checked from the outside; PETITOILE_CI=1 allows no check to be \
             left out: pip install ezdxf==1.4.5"
        );
        return;
    }
    let ran = Command::new(&python)
        .args(["-c", SCRIPT])
        .args(&files)
        .output()
        .unwrap();
    let said = String::from_utf8(ran.stdout).unwrap();
    assert!(
        ran.status.success(),
        "{}",
        String::from_utf8_lossy(&ran.stderr)
    );
    assert!(!said.contains("error"), "{said}");
    assert_eq!(said.matches("units 4").count(), GARMENTS.len(), "{said}");
    let rows: Vec<Vec<&str>> = said
        .lines()
        .filter(|row| row.starts_with("piece"))
        .map(|row| row.split(';').collect())
        .collect();
    assert_eq!(rows.len(), sizes.len());
    for (row, size) in rows.iter().zip(&sizes) {
        assert_eq!(row[2], "1", "{row:?}");
        let wide: f64 = row[3].parse().unwrap();
        let high: f64 = row[4].parse().unwrap();
        assert!(
            (wide - size.width).abs() < 0.01 && (high - size.height).abs() < 0.01,
            "{row:?} is not {size:?}"
        );
    }
    std::fs::remove_dir_all(&folder).unwrap();
}
