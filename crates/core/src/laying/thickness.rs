//! Cloth that is thicker or thinner than the fitting reckons with.

use crate::cloth::{Cloth, Offcut};
use crate::edit::{Edit, FittingEdit};
use crate::finding::{Finding, Gravity, Place};
use crate::fitting::Fitting;
use crate::piece::Role;
use crate::units::{LengthUnit, Mm};

/// Thicknesses that differ by less are the same: as well as cloth can be measured at home. Own figure.
const SAME: Mm = Mm(0.03);

/// Where offcuts of a layer's cloth were measured otherwise than the fitting reckons: the thickest of them, with the change
/// that reckons with it. The ease for the cloth, the turn of cloth and every stack rest on that figure.
pub fn thickness_told<'a>(
    fitting: &Fitting,
    offcuts: impl IntoIterator<Item = &'a Offcut> + Clone,
    unit: LengthUnit,
) -> Vec<Finding> {
    let of_layer = |(role, cloth): (&Role, &Cloth)| {
        let of_it = offcuts
            .clone()
            .into_iter()
            .filter(|offcut| offcut.cloth == cloth.name);
        let measured = of_it.filter_map(|offcut| Some((offcut, offcut.thickness?)));
        let (offcut, thick) = measured.max_by(|a, b| a.1.0.total_cmp(&b.1.0))?;
        let differs = (thick - cloth.thickness).0.abs() > SAME.0;
        differs.then(|| finding(fitting, *role, cloth, offcut, thick, unit))
    };
    fitting.cloths.iter().filter_map(of_layer).collect()
}

fn finding(
    fitting: &Fitting,
    role: Role,
    cloth: &Cloth,
    offcut: &Offcut,
    thick: Mm,
    unit: LengthUnit,
) -> Finding {
    let reckoned = Cloth {
        thickness: thick,
        source: format!("measured on {}", offcut.name),
        ..cloth.clone()
    };
    Finding {
        gravity: Gravity::Note,
        place: Place::default(),
        what: format!(
            "{} is {} thick; the fitting reckons with {} of {}.",
            offcut.name,
            unit.show_decimal(thick),
            unit.show_decimal(cloth.thickness),
            cloth.name
        ),
        advice: "Reckon with the cloth that is there, or correct what was measured.".to_owned(),
        remedy: Some(Edit::Fitting {
            fitting: fitting.name.clone(),
            change: FittingEdit::SetCloth(role, Some(reckoned)),
        }),
    }
}
