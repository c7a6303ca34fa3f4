//! What the undo step is called.

use super::*;
use crate::alteration::DartChange;
use crate::units::LengthUnit;

#[test]
fn an_undo_step_says_what_was_done_by_how_much_in_the_makers_unit() {
    let shapes = [
        ShapeChange::MovePoints {
            points: vec![PointRef::new("hem", 0)],
            right: Mm(4.0),
            up: Mm(-1.5),
            keep_smooth: true,
        },
        ShapeChange::Spread {
            from: place("hem", 0.5),
            to: place("waist", 0.5),
            by: Mm(12.7),
            how: Spreading::Hinged(HingeEnd::To),
        },
        ShapeChange::Widen {
            edge: "side seam".to_owned(),
            at_start: Mm(0.0),
            at_end: Mm(-4.0),
        },
        ShapeChange::Raise {
            edge: "waist".to_owned(),
            by: vec![Mm(0.0), Mm(4.0), Mm(9.0)],
        },
        ShapeChange::Lengthen {
            from: place("left", 0.5),
            to: place("right", 0.5),
            by: Mm(25.4),
        },
        ShapeChange::Turn { by: Degrees(-90.0) },
    ];
    let darts = [
        DartChange::Pivot {
            dart: "waist dart".to_owned(),
            to: place("shoulder", 0.5),
            share: 0.25,
            name: "shoulder dart".to_owned(),
        },
        DartChange::Divide {
            dart: "waist dart".to_owned(),
            into: 2,
            apart: Mm(15.0),
        },
    ];
    let mut said = Vec::new();
    for unit in [LengthUnit::Millimetre, LengthUnit::Inch] {
        said.extend(shapes.iter().map(|c| c.clone().of("Front").words(unit)));
        said.extend(darts.iter().map(|c| c.clone().of("Front").words(unit)));
    }
    insta::assert_snapshot!(said.join("\n"), @r#"
Front: point of hem 4 mm right, 1.5 mm down
Front: spread 12.7 mm at hem, hinged at waist
Front: side seam 0 mm out at its start, 4 mm in at its end
Front: waist raised by up to 9 mm
Front: 25.4 mm longer between left and right
Front: turned 90.0 degrees right
Front: 25 % of waist dart turned to shoulder at 50 % as shoulder dart
Front: waist dart in 2, 15 mm apart
Front: point of hem 5/32 in right, 1/16 in down
Front: spread 1/2 in at hem, hinged at waist
Front: side seam 0 in out at its start, 5/32 in in at its end
Front: waist raised by up to 11/32 in
Front: 1 in longer between left and right
Front: turned 90.0 degrees right
Front: 25 % of waist dart turned to shoulder at 50 % as shoulder dart
Front: waist dart in 2, 19/32 in apart
"#);
}
