//! The drafts against the same rules run by an independent implementation in another language, for six bodies.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;

use serde::Deserialize;

use super::*;

/// Coordinates in the case files are rounded to a thousandth.
const COORDINATE: f64 = 0.002;
const LENGTH: f64 = 0.005;
/// Mated seams agree this well.
const MATED: f64 = 0.01;

#[derive(Deserialize)]
struct Case {
    body: String,
    constants: String,
    measures: DraftMeasures,
    problems: Vec<String>,
    drafts: BTreeMap<String, CaseDraft>,
    mates: Vec<(CaseEdgeName, CaseEdgeName, f64)>,
}

type CaseEdgeName = (String, String, String);

#[derive(Deserialize)]
struct CaseDraft {
    pieces: BTreeMap<String, CasePiece>,
}

#[derive(Deserialize)]
struct CasePiece {
    points: BTreeMap<String, (f64, f64)>,
    edges: Vec<CaseEdge>,
}

#[derive(Deserialize)]
struct CaseEdge {
    name: String,
    length: f64,
    points: Vec<(f64, f64)>,
}

macro_rules! cases {
    ($($file:literal),*) => { [$(include_str!(concat!("../../../../tests/cases/drafts/", $file, ".json"))),*] };
}

fn cases() -> Vec<Case> {
    cases![
        "adult84-in-proportion",
        "adult92-in-proportion",
        "adult104-in-proportion",
        "child6-in-proportion",
        "play45-in-proportion",
        "fashion29-in-proportion",
        "adult84-as-printed",
        "adult92-as-printed",
        "adult104-as-printed",
        "child6-as-printed",
        "play45-as-printed",
        "fashion29-as-printed"
    ]
    .iter()
    .map(|text| serde_json::from_str(text).unwrap())
    .collect()
}

type Rule = fn(&DraftMeasures, Constants) -> Result<Draft, DraftError>;

const RULES: [(&str, &str, Rule); 6] = [
    ("A", "loose bodice", loose_bodice),
    ("B", "fitted bodice", fitted_bodice),
    ("S", "gathered sleeve", gathered_sleeve),
    ("S2", "flat sleeve", flat_sleeve),
    ("K", "gown", gown),
    ("G", "five-gored skirt", gored_skirt),
];

impl Case {
    fn constants(&self) -> Constants {
        if self.constants == "Printed" {
            Constants::Printed
        } else {
            Constants::InProportion
        }
    }

    /// Does the independent implementation call this draft unusable (not only doubtful)?
    fn is_unusable(&self, letter: &str) -> bool {
        self.problems.iter().any(|p| {
            (p.starts_with(&format!("{letter}.")) || p.starts_with(&format!("{letter}:")))
                && !p.contains("not hollow")
        })
    }
}

#[test]
fn every_curve_of_every_draft_lies_where_the_rules_put_it() {
    let mut compared = 0;
    for case in cases() {
        for (letter, name, rule) in RULES {
            if case.is_unusable(letter) {
                continue;
            }
            let draft = rule(&case.measures, case.constants())
                .unwrap_or_else(|e| panic!("{} {}: {name}: {e}", case.body, case.constants));
            assert_eq!(draft.pieces.len(), case.drafts[name].pieces.len());
            for (piece, wanted) in &case.drafts[name].pieces {
                compared += check_piece(
                    &format!("{} {} {name}", case.body, case.constants),
                    &draft,
                    piece,
                    wanted,
                );
            }
        }
    }
    assert_eq!(
        compared,
        12 * 73 - (15 + 22) * 2,
        "edges compared, those of the two unusable drafts of both dolls left out"
    );
}

fn check_piece(what: &str, draft: &Draft, piece: &str, wanted: &CasePiece) -> usize {
    let drafted = draft.pieces.iter().find(|p| p.name == piece).unwrap();
    for (name, at) in &drafted.points {
        let (x, y) = wanted.points[*name];
        assert!(
            (at.x - x).abs() < COORDINATE && (at.y - y).abs() < COORDINATE,
            "{what} {piece}, point {name}: {at:?}, wanted {x} {y}"
        );
    }
    // The case files list the edges clockwise, an outline keeps them counter-clockwise.
    let names: Vec<&str> = drafted
        .outline
        .edges()
        .iter()
        .rev()
        .map(|e| e.name.as_str())
        .collect();
    assert_eq!(
        names,
        wanted
            .edges
            .iter()
            .map(|e| e.name.as_str())
            .collect::<Vec<_>>(),
        "{what} {piece}"
    );
    for edge in &wanted.edges {
        let line = drafted.outline.edge(&edge.name).unwrap().line.reversed();
        assert_eq!(
            line.points().len(),
            edge.points.len(),
            "{what} {piece}, {}",
            edge.name
        );
        for (at, (x, y)) in line.points().iter().zip(&edge.points) {
            assert!(
                (at.x - x).abs() < COORDINATE && (at.y - y).abs() < COORDINATE,
                "{what} {piece}, {}: {at:?}, wanted {x} {y}",
                edge.name
            );
        }
        assert!(
            (line.length() - edge.length).abs() < LENGTH,
            "{what} {piece}, {}: {} wanted {}",
            edge.name,
            line.length(),
            edge.length
        );
    }
    wanted.edges.len()
}

#[test]
fn mated_seams_of_every_draft_are_equally_long() {
    for case in cases() {
        let drafts: BTreeMap<&str, Draft> = RULES
            .iter()
            .filter_map(|(_, name, rule)| {
                Some((*name, rule(&case.measures, case.constants()).ok()?))
            })
            .collect();
        for ((draft, piece, edge), (_, mate_piece, mate_edge), length) in &case.mates {
            let Some(draft) = drafts.get(draft.as_str()) else {
                continue;
            };
            let (a, b) = (
                draft.length(piece, edge).unwrap(),
                draft.length(mate_piece, mate_edge).unwrap(),
            );
            assert!(
                (a - b).abs() < MATED && (a - length).abs() < MATED,
                "{} {piece} {edge}: {a} {b} {length}",
                case.body
            );
        }
    }
}

#[test]
fn a_flat_sleeve_cap_is_six_per_cent_longer_than_the_armscye() {
    for case in cases() {
        let armscye = armscye_of(&loose_bodice(&case.measures, case.constants()).unwrap()).unwrap();
        let sleeve = flat_sleeve(&case.measures, case.constants()).unwrap();
        let cap = sleeve.length("sleeve", "cap front").unwrap()
            + sleeve.length("sleeve", "cap back").unwrap();
        assert!(
            (cap / armscye - 1.06).abs() < 1e-6,
            "{}: {}",
            case.body,
            cap / armscye
        );
    }
}

#[test]
fn inches_as_printed_make_no_fitted_front_and_no_gown_for_a_doll() {
    for case in cases() {
        for (letter, name, rule) in RULES {
            assert_eq!(
                rule(&case.measures, case.constants()).is_err(),
                case.is_unusable(letter),
                "{} {} {name}",
                case.body,
                case.constants
            );
        }
    }
    let play = cases()
        .into_iter()
        .find(|c| c.body == "play45" && c.constants == "Printed")
        .unwrap();
    insta::assert_snapshot!(fitted_bodice(&play.measures, Constants::Printed).unwrap_err(), @"front, neckline: the neck is 63.5 mm wide but the shoulder ends at 31.3 mm; take the book's inches in proportion, or check the measures");
    insta::assert_snapshot!(gown(&play.measures, Constants::Printed).unwrap_err(), @"front, sleeve seam: it comes out -104.1 mm long; take the book's inches in proportion, or check the measures");
}

#[test]
fn an_armscye_that_is_not_hollow_is_a_doubt() {
    for case in cases() {
        let wanted = case.problems.iter().any(|p| p.contains("not hollow"));
        let draft = loose_bodice(&case.measures, case.constants()).unwrap();
        assert_eq!(
            !draft.doubts.is_empty(),
            wanted,
            "{} {}",
            case.body,
            case.constants
        );
    }
}

#[test]
fn a_draft_of_everything_twice_as_large_is_twice_as_large() {
    let once = DraftMeasures::ADULT_92;
    let text = serde_json::to_value(once).unwrap();
    let doubled: serde_json::Map<_, _> = text
        .as_object()
        .unwrap()
        .iter()
        .map(|(k, v)| (k.clone(), (v.as_f64().unwrap() * 2.0).into()))
        .collect();
    let twice: DraftMeasures = serde_json::from_value(doubled.into()).unwrap();
    for (_, name, rule) in RULES {
        let (small, large) = (
            rule(&once, Constants::InProportion).unwrap(),
            rule(&twice, Constants::InProportion).unwrap(),
        );
        for (a, b) in small.pieces.iter().zip(&large.pieces) {
            for (e, f) in a.outline.edges().iter().zip(b.outline.edges()) {
                let apart = e
                    .line
                    .points()
                    .iter()
                    .zip(f.line.points())
                    .map(|(p, q)| (p.to_vec2() * 2.0 - q.to_vec2()).hypot())
                    .fold(0.0, f64::max);
                assert!(apart < 1e-6, "{name} {}: {apart}", e.name);
            }
        }
    }
}

#[test]
fn a_circular_skirt_measures_its_waist_and_hangs_its_length() {
    use std::f64::consts::PI;
    for share in [CircleShare::Quarter, CircleShare::Half, CircleShare::Full] {
        for (waist, length) in [(700.0, 700.0), (290.0, 180.0), (84.0, 92.0)] {
            let draft = circular_skirt(waist, length, share).unwrap();
            let radius = waist / (2.0 * PI * share.share());
            let measured = |edge| draft.length("skirt", edge).unwrap();
            assert!(
                (2.0 * measured("waist") - waist).abs() < 0.001,
                "{share:?} {waist}: {}",
                measured("waist")
            );
            assert!(
                (2.0 * measured("hem") - 2.0 * PI * share.share() * (radius + length)).abs()
                    < 0.002
            );
            for edge in ["waist", "hem"] {
                let wanted = if edge == "waist" {
                    radius
                } else {
                    radius + length
                };
                let line = &draft.outline("skirt").unwrap().edge(edge).unwrap().line;
                for i in 0..=40 {
                    assert!(
                        (line.at(f64::from(i) / 40.0).to_vec2().hypot() - wanted).abs()
                            < 4e-7 * wanted
                    );
                }
            }
            let ring = PI * share.share() * ((radius + length).powi(2) - radius.powi(2)) / 2.0;
            assert!((draft.outline("skirt").unwrap().area() / ring - 1.0).abs() < 1e-6);
        }
    }
}

#[test]
fn a_measure_that_no_body_has_is_refused_by_name() {
    let measures = DraftMeasures {
        underarm_length: 0.0,
        ..DraftMeasures::ADULT_92
    };
    for (_, _, rule) in RULES {
        assert_eq!(
            rule(&measures, Constants::InProportion)
                .unwrap_err()
                .to_string(),
            "underarm length is 0.0 mm; it must be a length above 0, measure it again"
        );
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig::with_cases(200))]
    #[test]
    fn no_measure_makes_a_draft_panic(values in proptest::collection::vec(-10.0..3000.0_f64, 25)) {
        let names = serde_json::to_value(DraftMeasures::ADULT_92).unwrap();
        let map: serde_json::Map<_, _> = names.as_object().unwrap().keys().cloned().zip(values.iter().map(|v| (*v).into())).collect();
        let measures: DraftMeasures = serde_json::from_value(map.into()).unwrap();
        for (_, _, rule) in RULES {
            for constants in [Constants::Printed, Constants::InProportion] {
                let _ = rule(&measures, constants);
                let _ = rule(&DraftMeasures { bust_girth: measures.bust_girth.abs() + 1.0, ..DraftMeasures::ADULT_92 }, constants);
            }
        }
    }
}
