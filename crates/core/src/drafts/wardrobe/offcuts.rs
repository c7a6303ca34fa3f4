//! The cloth that is left for the lamp keeper's jacket. *Own scenario.*

use std::sync::Arc;

use kurbo::Point;

use crate::cloth::{Blemish, GoodFor, Offcut};
use crate::piece::Face;
use crate::units::{Degrees, Mm};

/// Points of a round place.
const ROUND: u32 = 16;

/// What is left for the jacket on the 45 cm play doll: of a skirt of wool challis a panel with a moth hole and a corner cut on
/// the bias; of an old petticoat a piece of cotton lawn with a stain.
pub(super) fn of_the_jacket() -> Vec<Arc<Offcut>> {
    let panel = [
        (0.0, 12.0),
        (180.0, 0.0),
        (352.0, 8.0),
        (340.0, 180.0),
        (352.0, 300.0),
        (150.0, 322.0),
        (0.0, 310.0),
    ];
    let corner = [
        (0.0, 0.0),
        (320.0, 6.0),
        (316.0, 150.0),
        (200.0, 262.0),
        (6.0, 256.0),
    ];
    let petticoat = [
        (0.0, 0.0),
        (430.0, 4.0),
        (426.0, 250.0),
        (300.0, 420.0),
        (0.0, 416.0),
    ];
    let hole = place((250.0, 205.0), 9.0, None);
    let stain = place((70.0, 340.0), 28.0, Some(GoodFor::Inside));
    vec![
        Arc::new(Offcut {
            blemishes: vec![hole],
            ..offcut("challis, skirt panel", "wool challis", &panel)
        }),
        Arc::new(Offcut {
            // No selvedge is left: read off a pulled thread.
            grain_doubt: Degrees(0.6),
            ..offcut("challis, corner", "wool challis", &corner)
        }),
        Arc::new(Offcut {
            blemishes: vec![stain],
            sides_alike: true,
            ..offcut("lawn, old petticoat", "cotton lawn", &petticoat)
        }),
    ]
}

fn offcut(name: &str, cloth: &str, outline: &[(f64, f64)]) -> Offcut {
    Offcut {
        name: name.to_owned(),
        cloth: cloth.to_owned(),
        outline: outline.iter().copied().map(Point::from).collect(),
        blemishes: Vec::new(),
        grain: Degrees(0.0),
        grain_doubt: Degrees(0.0),
        face: Face::Right,
        sides_alike: false,
        nap: false,
        margin: Mm(3.0),
        thickness: None,
    }
}

/// A round place: a hole, or what it is still good for. Points to the tenth of a millimetre, so that files stay readable.
fn place(middle: (f64, f64), radius: f64, good_for: Option<GoodFor>) -> Blemish {
    let tenth = |x: f64| (x * 10.0).round() / 10.0;
    let outline = (0..ROUND)
        .map(|i| {
            let angle = std::f64::consts::TAU * f64::from(i) / f64::from(ROUND);
            let (sin, cos) = libm::sincos(angle);
            Point::new(
                tenth(middle.0 + radius * cos),
                tenth(middle.1 + radius * sin),
            )
        })
        .collect();
    Blemish {
        outline,
        is_hole: good_for.is_none(),
        good_for: good_for.unwrap_or_default(),
    }
}
