#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use super::*;
use crate::adapt::adapt_garment;
use crate::body::BodyKind;
use crate::drafts::DraftMeasures;
use crate::ease::EasePolicy;
use crate::fit::{Underneath, ease_table};
use crate::redraft::{CASES, TARGETS};
use crate::tape::{Hold, TapeKind};

fn table(fitting: &str, rows: &[(&str, Measure, f64)]) -> EaseTable {
    let rows = rows
        .iter()
        .map(|(name, measure, body)| FitRow {
            name: (*name).to_owned(),
            measure: *measure,
            share: 1.0,
            is_girth: measure.is_girth(),
            hold: Hold::Fitted,
            source: super::super::Sat {
                body: Mm(900.0),
                garment: Mm(990.0),
            },
            here: super::super::Sat {
                body: Mm(*body),
                garment: Mm(1.1 * body),
            },
            underneath: Mm(0.0),
            own_cloth: Mm(0.0),
            handbook: Vec::new(),
            source_handbook: Vec::new(),
            sits: super::super::Sits::Unjudged,
        })
        .collect();
    EaseTable {
        fitting: fitting.to_owned(),
        garment: "garment".to_owned(),
        made_for: "woman".to_owned(),
        body: "doll".to_owned(),
        underneath: Underneath::default(),
        rows,
    }
}

#[test]
fn garments_meet_where_their_tapes_answer_to_the_same_measure() {
    use Measure::{BustGirth, HipGirth, WaistGirth};
    let jacket = table(
        "jacket",
        &[("bust", BustGirth, 280.0), ("waist", WaistGirth, 260.0)],
    );
    let skirt = table(
        "skirt",
        &[("waistline", WaistGirth, 260.0), ("hip", HipGirth, 300.0)],
    );
    let both = beside(&[jacket, skirt]);
    let told: Vec<(&str, bool, bool)> = both
        .rows
        .iter()
        .map(|row| {
            (
                row.name.as_str(),
                row.cells[0].is_some(),
                row.cells[1].is_some(),
            )
        })
        .collect();
    assert_eq!(
        told,
        [
            ("bust", true, false),
            ("waist", true, true),
            ("hip", false, true)
        ]
    );
}

#[test]
fn two_tapes_at_one_measure_meet_by_their_names() {
    use Measure::WaistToKnee;
    let one = table(
        "one",
        &[("front", WaistToKnee, 100.0), ("back", WaistToKnee, 101.0)],
    );
    let other = table(
        "other",
        &[("back", WaistToKnee, 102.0), ("front", WaistToKnee, 99.0)],
    );
    let both = beside(&[one, other]);
    assert_eq!(both.rows.len(), 2);
    for row in &both.rows {
        assert_eq!(row.cells[1].as_ref().unwrap().name, row.name);
    }
}

/// Row S01 of `pleat_examples.csv`: doll-making tools page (S23), read.
#[test]
fn from_12_to_18_inches_is_150_percent() {
    let uniform = uniform(Mm::from_inches(12.0), Mm::from_inches(18.0));
    assert!((uniform.unwrap() - 150.0).abs() < 1e-9);
    let small = table("small", &[("height", Measure::Height, 304.8)]);
    let tall = table("tall", &[("height", Measure::Height, 457.2)]);
    let both = beside(&[small, tall]);
    assert!((both.rows[0].body_percent(1).unwrap() - 150.0).abs() < 1e-9);
    assert_eq!(super::uniform(Mm(0.0), Mm(10.0)), None);
}

/// One pattern on two dolls: in proportion, the ease of a fitted girth is the same share of both bodies, wherever the
/// demand was met.
#[test]
fn one_pattern_on_two_dolls_keeps_its_share_of_ease() {
    let mut compared = 0;
    for case in CASES {
        let garment = Arc::new((case.garment)(&DraftMeasures::ADULT_92).unwrap());
        let first = (case.garment)(&TARGETS[0].1).unwrap().made_for;
        let mut fitting = Fitting::new("trial", garment.name.clone(), first);
        fitting.ease = EasePolicy::InProportion;
        for tape in garment
            .tape_lines
            .iter()
            .filter(|tape| tape.kind == TapeKind::Girth)
        {
            let choice = DemandChoice {
                hold: Some(Hold::Fitted),
                ..DemandChoice::default()
            };
            fitting.demands.insert(tape.name.clone(), choice);
        }
        let mut gave_way = Vec::new();
        let tables: Vec<EaseTable> = [0, 3]
            .iter()
            .map(|target| {
                let body = (case.garment)(&TARGETS[*target].1).unwrap().made_for;
                let there = Arc::new(on_body(&fitting, &body));
                let adapted = adapt_garment(&garment, &there).unwrap();
                let missed = adapted.demands.iter().filter(|demand| demand.gave_way);
                gave_way.extend(missed.map(|demand| demand.name.clone()));
                ease_table(&adapted, &Underneath::default())
            })
            .collect();
        for row in beside(&tables).rows {
            let cells: Vec<&FitRow> = row.cells.iter().flatten().collect();
            if !cells.iter().all(|cell| cell.is_girth) || gave_way.contains(&row.name) {
                continue;
            }
            assert_eq!(cells.len(), 2);
            let (one, other) = (cells[0].here.percent(), cells[1].here.percent());
            assert!(
                (one - other).abs() < 0.01,
                "{}, {}: {one} and {other}",
                case.name,
                row.name
            );
            compared += 1;
        }
    }
    assert!(compared > 0);
}

#[test]
fn what_was_typed_in_mm_for_one_body_is_left_out_on_another() {
    let first = Arc::new(Body::new("first", BodyKind::Doll));
    let other = Arc::new(Body::new("other", BodyKind::Doll));
    let mut fitting = Fitting::new("trial", "skirt", first);
    let typed = DemandChoice {
        hold: Some(Hold::Hanging),
        measure: Some(Mm(123.0)),
        ease: Some(Mm(4.0)),
        rank: Some(9),
    };
    fitting.demands.insert("hip".to_owned(), typed);
    let there = on_body(&fitting, &other);
    assert_eq!(there.body.name, "other");
    let kept = there.demands["hip"];
    assert_eq!((kept.measure, kept.ease), (None, None));
    assert_eq!((kept.hold, kept.rank), (Some(Hold::Hanging), Some(9)));
}
