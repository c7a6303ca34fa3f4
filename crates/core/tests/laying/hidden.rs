//! What an outfit hides of a garment: closed forms on panels that hang from a waist, and a Sunday on the quay.

use std::sync::Arc;

use petitoile_core::Mm;
use petitoile_core::adapt::adapt;
use petitoile_core::body::Measured;
use petitoile_core::edge::OutlinePoint;
use petitoile_core::lay_plan::PiecingKind;
use petitoile_core::layers::{Together, Worn, hidden};
use petitoile_core::laying::{Hidden, Seen, to_lay};
use petitoile_core::measure::{Level, Measure};
use petitoile_core::piece::BodyLine;
use petitoile_core::units::LengthUnit;

use super::demos::{all, projects};
use super::samples::{adapted, on_fold};

/// A front panel that hangs from the waist, this long, on the fold.
fn hanging(fitting: &str, long: f64) -> Arc<Worn> {
    let mut panel = on_fold("Front", 42.0, long);
    panel.body_lines.push(BodyLine {
        level: Level::Waist,
        from: OutlinePoint::new("waist", 1.0),
        to: OutlinePoint::new("waist", 0.0),
    });
    let adapted = adapted(vec![panel], |own| {
        own.name = fitting.to_owned();
        let doll = (*own.body).clone();
        own.body = Arc::new(doll.with(Measure::Height, Measured::own_tape(Mm(450.0))));
    });
    Arc::new(Worn::new(Arc::new(adapted)))
}

fn hidden_under(layers: &[(&str, f64)]) -> Hidden {
    let together = Together {
        outfit: "Sunday".to_owned(),
        layers: layers
            .iter()
            .map(|(name, long)| hanging(name, *long))
            .collect(),
        ..Together::default()
    };
    hidden(&together, 0)
}

#[test]
fn a_panel_is_hidden_under_a_longer_one_and_shows_under_a_shorter_one() {
    let under_long = hidden_under(&[("petticoat", 80.0), ("skirt", 100.0)]);
    assert_eq!(under_long.whole("Front"), Some("skirt"));
    let under_short = hidden_under(&[("petticoat", 100.0), ("peplum", 30.0)]);
    assert_eq!(
        (under_short.whole("Front"), under_short.fold("Front")),
        (None, None)
    );
    assert_eq!(hidden_under(&[("petticoat", 80.0)]), Hidden::default());
}

#[test]
fn of_several_layers_over_it_the_one_that_covers_most_is_named() {
    let hidden = hidden_under(&[("petticoat", 80.0), ("peplum", 30.0), ("skirt", 100.0)]);
    assert_eq!(hidden.whole("Front"), Some("skirt"));
}

/// Nobody sees the underskirt on a Sunday; the jacket is outermost.
#[test]
fn on_a_sunday_only_what_lies_under_may_be_pieced_for_nothing() {
    let project = projects().swap_remove(2);
    let outfit = &project.outfits[0];
    let together = Together::new(outfit, |name| {
        let adapted = adapt(&project, name).map_err(|why| why.to_string())?;
        Ok(Arc::new(Worn::new(Arc::new(adapted))))
    });
    let place = |name: &str| together.place_of(name).unwrap();
    assert_eq!(hidden(&together, place("jacket")), Hidden::default());
    let under = hidden(&together, place("underskirt"));
    let finished = all()
        .into_iter()
        .find(|finished| finished.filled.adapted.fitting.name == "underskirt")
        .unwrap();
    let cost = |hidden: &Hidden| {
        let to_lay = to_lay(&finished, hidden, LengthUnit::Millimetre).outcome;
        let ways = to_lay.copies.into_iter().flat_map(|copy| copy.pieced);
        ways.filter(|way| way.piecing.kind == PiecingKind::AlongFold)
            .map(|way| way.cost)
            .min()
    };
    let seen = cost(&Hidden::default()).unwrap();
    assert!(seen > Seen::Hidden(String::new()).cost(), "{seen}");
    assert_eq!(cost(&under), Some(1), "{under:?}");
}
