//! Rows H01 and H02 of the fact sheet, run as data; `cases/cloth_facts.csv` is copied from its table.

use petitoile_core::Mm;
use petitoile_core::alteration::{round_an_edge, turn_of_cloth};
use petitoile_core::ease::cloth_term;
use serde_json::Value;

const TABLE: &str = include_str!("../cases/cloth_facts.csv");

/// Number, what is given, what is expected, the note.
fn rows() -> Vec<(String, Value, Value, String)> {
    TABLE.lines().skip(1).map(row).collect()
}

fn row(line: &str) -> (String, Value, Value, String) {
    // Quoted fields hold commas and doubled quotes.
    let mut fields = vec![String::new()];
    let mut quoted = false;
    let mut chars = line.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            '"' if quoted && chars.peek() == Some(&'"') => {
                chars.next();
                fields.last_mut().unwrap().push('"');
            }
            '"' => quoted = !quoted,
            ',' if !quoted => fields.push(String::new()),
            c => fields.last_mut().unwrap().push(c),
        }
    }
    assert_eq!(fields.len(), 8, "{line}");
    let json = |i: usize| serde_json::from_str(&fields[i]).unwrap();
    (fields[0].clone(), json(2), json(3), fields[7].clone())
}

fn number(of: &Value, key: &str) -> f64 {
    of.get(key)
        .and_then(Value::as_f64)
        .unwrap_or_else(|| panic!("{key} in {of}"))
}

#[test]
fn cloth_in_a_girth_and_round_a_fold_is_as_long_as_the_fact_sheet_says() {
    let rows = rows();
    assert_eq!(rows.len(), 2);
    for (id, given, expected, note) in rows {
        let t = number(&given, "t_mm");
        match id.as_str() {
            "H01" => {
                let (girth, layers) = (number(&given, "girth_mm"), number(&given, "layers"));
                let under = vec![Mm(t); layers as usize];
                let outer = girth + cloth_term(&under, Mm(0.0)).0;
                let middle = girth + cloth_term(&[], Mm(layers * t)).0;
                assert!(
                    (outer - number(&expected, "outer_girth_mm")).abs() < 0.05,
                    "{outer}"
                );
                assert!(
                    (middle - number(&expected, "mid_girth_mm")).abs() < 0.05,
                    "{middle}"
                );
                // "+4.8 % on the doll"
                assert!(note.contains("+4.8 %"), "{note}");
                assert!(((outer / girth - 1.0) * 100.0 - 4.8).abs() < 0.05);
            }
            "H02" => {
                let turn = turn_of_cloth(Mm(t), 2).0;
                assert!((turn - number(&expected, "outer_minus_inner_mm")).abs() < 5e-4);
                let round = round_an_edge(Mm(number(&given, "enclosed_mm")), Mm(t)).0;
                assert!(note.contains("2.356"), "{note}");
                assert!((round - 2.356).abs() < 5e-4, "{round}");
            }
            other => panic!("no such row: {other}"),
        }
    }
}
