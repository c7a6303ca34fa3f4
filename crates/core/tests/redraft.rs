//! The redraft benchmark holds what the README says of it.
#![allow(missing_docs, clippy::unwrap_used, reason = "tests")]

use std::sync::LazyLock;

use petitoile_core::redraft::{self, RedraftRow};

static TABLE: LazyLock<Vec<RedraftRow>> = LazyLock::new(|| redraft::table().unwrap());

#[test]
fn adapting_misses_no_demand_and_is_never_worse_than_across_and_along() {
    for row in TABLE.iter() {
        let name = format!("{}, {}", row.case, row.target);
        assert!(
            row.adapted.missed <= 0.01,
            "{name}: {} missed by {} mm",
            row.adapted.missed_demand,
            row.adapted.missed
        );
        assert!(
            row.adapted.worst.max <= row.across_along.worst.max + 0.01,
            "{name}: {:.2} mm, across/along {:.2} mm",
            row.adapted.worst.max,
            row.across_along.worst.max
        );
    }
}

#[test]
fn circular_skirts_come_within_a_thousandth_of_the_bust() {
    for row in redraft::table()
        .unwrap()
        .iter()
        .filter(|r| r.case == "half-circle skirt")
    {
        assert!(row.adapted.worst.max < 0.001 * row.bust, "{}", row.target);
    }
}

#[test]
fn scaling_misses_what_a_maker_needs() {
    // One factor and across/along miss a girth, a length or a seam by more than 3 mm somewhere in every draft.
    for case in redraft::CASES {
        let worst = |pick: fn(&RedraftRow) -> f64| {
            TABLE
                .iter()
                .filter(|r| r.case == case.name)
                .map(pick)
                .fold(0.0, f64::max)
        };
        assert!(worst(|r| r.one_factor.missed) > 3.0, "{}", case.name);
        assert!(worst(|r| r.across_along.missed) > 3.0, "{}", case.name);
    }
}
