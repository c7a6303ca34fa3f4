//! Outfits: garments in order on one body; and the wardrobe, a file of its own.

use serde::{Deserialize, Serialize};
use std::sync::Arc;

use crate::body::Body;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::pad::Pad;
use crate::piece::Role;
use crate::units::Mm;

/// Fittings worn together on one body, innermost first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Outfit {
    /// Unique in its project.
    pub name: String,
    /// Names of the fittings, innermost first.
    pub layers: Vec<String>,
    /// Stuffed pieces worn between them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pads: Vec<WornPad>,
}

/// A stuffed piece in an outfit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WornPad {
    /// The pad.
    pub pad: Pad,
    /// Name of the fitting it is worn over; `None` for on the body.
    pub over: Option<String>,
}

/// Dolls and what they own; a file of its own that projects refer to.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct Wardrobe {
    /// The dolls.
    pub dolls: Vec<Arc<Body>>,
    /// Their outfits, each with the file of the project that holds its fittings.
    pub outfits: Vec<WardrobeOutfit>,
}

/// An outfit kept in a wardrobe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WardrobeOutfit {
    /// Name of the doll.
    pub doll: String,
    /// File of the project, relative to the wardrobe.
    pub project_file: String,
    /// The outfit.
    pub outfit: Outfit,
}

impl Outfit {
    /// Names of the fittings worn under this one, innermost first; none when it is not part of the outfit.
    pub fn under(&self, fitting: &str) -> &[String] {
        let at = self
            .layers
            .iter()
            .position(|layer| layer == fitting)
            .unwrap_or(0);
        self.layers.get(..at).unwrap_or_default()
    }

    /// Names of the fittings worn over this one, which cover it, from the inside outwards.
    pub fn over(&self, fitting: &str) -> &[String] {
        let after = self
            .layers
            .iter()
            .position(|layer| layer == fitting)
            .map_or(self.layers.len(), |at| at + 1);
        self.layers.get(after..).unwrap_or_default()
    }

    /// Thickness of every layer of cloth worn under this fitting, innermost first: what
    /// [`Fitting::worn_underneath`] should say.
    ///
    /// Each garment counts all its own layers (lining innermost); a layer without a doll-size cloth counts that of
    /// its garment, a garment without any cloth counts nothing. Garments need not overlap everywhere: this is the
    /// thickest place.
    pub fn thickness_under(
        &self,
        fitting: &str,
        fittings: &[Arc<Fitting>],
        garments: &[Arc<Garment>],
    ) -> Vec<Mm> {
        let worn = self
            .under(fitting)
            .iter()
            .filter_map(|name| fittings.iter().find(|f| f.name == *name));
        worn.flat_map(|fitting| layers_of(fitting, garments))
            .collect()
    }
}

/// Thickness of the layers of one fitting, innermost first.
fn layers_of(fitting: &Fitting, garments: &[Arc<Garment>]) -> Vec<Mm> {
    let garment = garments
        .iter()
        .find(|garment| garment.name == fitting.garment);
    let mut cloths = garment
        .map(|garment| garment.cloths.clone())
        .unwrap_or_default();
    cloths.extend(fitting.cloths.clone());
    let order = [
        Role::Lining,
        Role::Interlining,
        Role::FlatLined,
        Role::Shell,
    ];
    order
        .iter()
        .filter_map(|role| cloths.get(role))
        .map(|cloth| cloth.thickness)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::body::BodyKind;
    use crate::cloth::Cloth;

    fn cloth(thickness: f64) -> Cloth {
        Cloth {
            name: "cloth".to_owned(),
            thickness: Mm(thickness),
            source: String::new(),
        }
    }

    #[test]
    fn an_outfit_knows_what_is_worn_underneath_and_how_thick_it_is() {
        let body = Arc::new(Body::new("doll", BodyKind::Doll));
        let fitting = |name: &str, cloths: &[(Role, f64)]| {
            let mut fitting = Fitting::new(name, name, body.clone());
            fitting.cloths = cloths.iter().map(|(role, t)| (*role, cloth(*t))).collect();
            Arc::new(fitting)
        };
        let fittings = [
            fitting("shift", &[(Role::Shell, 0.15)]),
            fitting("stays", &[(Role::Shell, 0.3), (Role::Lining, 0.2)]),
            fitting("gown", &[(Role::Shell, 0.25)]),
        ];
        let outfit = Outfit {
            name: "Sunday".to_owned(),
            layers: vec!["shift".to_owned(), "stays".to_owned(), "gown".to_owned()],
            pads: Vec::new(),
        };
        assert_eq!(
            outfit.thickness_under("gown", &fittings, &[]),
            vec![Mm(0.15), Mm(0.2), Mm(0.3)]
        );
        assert_eq!(
            outfit.over("shift"),
            ["stays".to_owned(), "gown".to_owned()]
        );
        assert_eq!(
            (
                outfit.under("shift").len(),
                outfit.over("gown").len(),
                outfit.under("hat").len()
            ),
            (0, 0, 0)
        );
        assert_eq!(
            outfit.over("hat").len(),
            0,
            "what is not worn covers nothing"
        );
    }
}
