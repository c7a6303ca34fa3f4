//! Does the body fit into the garment?

use crate::adapt::{Adapted, EaseRow};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fitting::DemandChoice;
use crate::measure::Measure;
use crate::tolerance::DRAWING;
use crate::units::Mm;

use super::finding;

/// Girths smaller than the body cannot be worn; ease below what the cloth itself takes up is tight.
pub(super) fn findings(adapted: &Adapted) -> Vec<Finding> {
    adapted
        .ease
        .iter()
        .filter(|row| row.is_girth)
        .filter_map(|row| too_small(adapted, row))
        .collect()
}

fn too_small(adapted: &Adapted, row: &EaseRow) -> Option<Finding> {
    let (body, garment) = (row.body.1, row.garment.1);
    let give = if is_of_trunk(row.measure) {
        adapted.fitting.body.give()
    } else {
        Mm(0.0)
    };
    let ease = garment - body;
    let place = Place::part(&row.name);
    if ease.0 < -give.0 - DRAWING.0 {
        let what = format!(
            "the garment measures {:.1} mm round, the body {:.1} mm{}: {:.1} mm too small to close.",
            garment.0,
            body.0,
            if give.0 > 0.0 {
                format!(" and gives {:.1} mm", give.0)
            } else {
                String::new()
            },
            -(ease + give).0
        );
        return Some(finding(
            Gravity::Unusable,
            place,
            what,
            "Give it ease here, or measure the body again.".to_owned(),
            Some(with_ease(adapted, row)),
        ));
    }
    if ease.0 < row.cloth.0 - DRAWING.0 {
        let what = format!(
            "the ease is {:.1} mm, but the cloth alone takes up {:.1} mm: it will sit tight.",
            ease.0, row.cloth.0
        );
        return Some(finding(
            Gravity::Care,
            place,
            what,
            "Give it a little ease, or use thinner cloth.".to_owned(),
            Some(with_ease(adapted, row)),
        ));
    }
    None
}

/// No ease on the body beyond the cloth, which is added anyway; other choices about this place are kept.
fn with_ease(adapted: &Adapted, row: &EaseRow) -> Edit {
    let before = adapted
        .fitting
        .demands
        .get(&row.name)
        .copied()
        .unwrap_or_default();
    let choice = DemandChoice {
        ease: Some(Mm(0.0)),
        measure: None,
        ..before
    };
    Edit::Fitting {
        fitting: adapted.fitting.name.clone(),
        change: FittingEdit::SetDemand(row.name.clone(), Some(choice)),
    }
}

/// Girths that a soft torso lets press in.
fn is_of_trunk(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::BustGirth | Measure::UnderbustGirth | Measure::WaistGirth | Measure::HipGirth
    )
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::body::Torso;
    use crate::check::samples;
    use crate::tape::Hold;

    /// Findings at a waist of 84 mm.
    fn at_waist(garment: f64, cloth: f64, torso: Torso) -> Vec<Finding> {
        let mut body = samples::doll("29 cm fashion doll");
        body.torso = torso;
        let mut adapted = samples::adapted(samples::garment(Vec::new(), Vec::new()), body);
        adapted.ease = vec![EaseRow {
            name: "waist".to_owned(),
            hold: Hold::Fitted,
            measure: Measure::WaistGirth,
            is_girth: true,
            body: (Mm(700.0), Mm(84.0)),
            garment: (Mm(720.0), Mm(garment)),
            cloth: Mm(cloth),
        }];
        findings(&adapted)
    }

    #[test]
    fn a_waist_smaller_than_the_body_cannot_be_worn() {
        let found = at_waist(81.0, 1.0, Torso::Rigid);
        assert_eq!(found[0].gravity, Gravity::Unusable);
        insta::assert_snapshot!(found[0], @"waist: the garment measures 81.0 mm round, the body 84.0 mm: 3.0 mm too small to close. Give it ease here, or measure the body again.");
        let Some(Edit::Fitting {
            change: FittingEdit::SetDemand(name, Some(choice)),
            ..
        }) = &found[0].remedy
        else {
            unreachable!()
        };
        assert_eq!((name.as_str(), choice.ease), ("waist", Some(Mm(0.0))));
    }

    #[test]
    fn a_soft_torso_lets_the_waist_be_pressed_in_as_far_as_it_gives() {
        let soft = Torso::Soft { give: Mm(5.0) };
        assert_eq!(
            at_waist(81.0, 0.0, soft)[0].gravity,
            Gravity::Care,
            "-3 mm is tight but goes on"
        );
        insta::assert_snapshot!(at_waist(78.0, 0.0, soft)[0], @"waist: the garment measures 78.0 mm round, the body 84.0 mm and gives 5.0 mm: 1.0 mm too small to close. Give it ease here, or measure the body again.");
    }

    /// Two layers of 0.318 mm underneath take up 4.0 mm (fact sheet D2: outer girth of 84 mm becomes 88.0 mm).
    #[test]
    fn ease_that_the_cloth_takes_up_is_tight() {
        let cloth = crate::ease::cloth_term(&[Mm(318.0 / 1000.0); 2], Mm(0.0)).0;
        let found = at_waist(86.0, cloth, Torso::Rigid);
        assert_eq!(found[0].gravity, Gravity::Care);
        insta::assert_snapshot!(found[0], @"waist: the ease is 2.0 mm, but the cloth alone takes up 4.0 mm: it will sit tight. Give it a little ease, or use thinner cloth.");
        assert_eq!(at_waist(88.0, cloth, Torso::Rigid), Vec::new());
    }
}
