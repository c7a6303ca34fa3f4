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

impl Wardrobe {
    /// Outfits of this doll, each with its place in the list.
    pub fn of_doll<'a>(
        &'a self,
        doll: &'a str,
    ) -> impl Iterator<Item = (usize, &'a WardrobeOutfit)> {
        let all = self.outfits.iter().enumerate();
        all.filter(move |(_, kept)| kept.doll == doll)
    }

    /// The same with an outfit of this doll, in place of the one of that name from the same project file; the doll with
    /// the figures it has now.
    #[must_use]
    pub fn with(&self, doll: &Arc<Body>, project_file: &str, outfit: &Outfit) -> Self {
        let mut next = self.clone();
        match next.dolls.iter_mut().find(|other| other.name == doll.name) {
            Some(other) => *other = doll.clone(),
            None => next.dolls.push(doll.clone()),
        }
        let kept = WardrobeOutfit {
            doll: doll.name.clone(),
            project_file: project_file.to_owned(),
            outfit: outfit.clone(),
        };
        let same = |other: &&mut WardrobeOutfit| {
            other.doll == kept.doll
                && other.project_file == kept.project_file
                && other.outfit.name == outfit.name
        };
        match next.outfits.iter_mut().find(same) {
            Some(other) => *other = kept,
            None => next.outfits.push(kept),
        }
        next
    }

    /// The same without the outfit at this place; a doll without outfits stays.
    #[must_use]
    pub fn without(&self, place: usize) -> Self {
        let mut next = self.clone();
        if place < next.outfits.len() {
            next.outfits.remove(place);
        }
        next
    }
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

    /// The same with one more fitting, outermost; one that is worn already stays where it is.
    #[must_use]
    pub fn with(&self, fitting: &str) -> Self {
        let mut next = self.clone();
        if !next.layers.iter().any(|layer| layer == fitting) {
            next.layers.push(fitting.to_owned());
        }
        next
    }

    /// The same without one fitting; a pad worn over it comes to lie over the layer below.
    #[must_use]
    pub fn without(&self, fitting: &str) -> Self {
        let mut next = self.clone();
        let below = self.under(fitting).last().cloned();
        for worn in &mut next.pads {
            if worn.over.as_deref() == Some(fitting) {
                worn.over.clone_from(&below);
            }
        }
        next.layers.retain(|layer| layer != fitting);
        next
    }

    /// The same with one fitting one place further out, or further in.
    #[must_use]
    pub fn moved(&self, fitting: &str, outwards: bool) -> Self {
        let mut next = self.clone();
        let Some(at) = next.layers.iter().position(|layer| layer == fitting) else {
            return next;
        };
        let to = if outwards {
            at + 1
        } else {
            at.saturating_sub(1)
        };
        if to < next.layers.len() {
            next.layers.swap(at, to);
        }
        next
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
