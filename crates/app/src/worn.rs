//! A fitting in the outfits that wear it: the other layers are adapted once and kept while they stay the same.

use std::cell::RefCell;
use std::sync::Arc;

use petitoile_core::adapt::{self, Adapted};
use petitoile_core::finding::Finding;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::layers::{
    Cover, Levelled, Room, Together, Under, Worn, cover, findings, levelled, rooms, underneath,
};
use petitoile_core::outfit::Outfit;
use petitoile_core::project::Project;

/// A fitting in one outfit.
#[derive(Debug, Clone)]
pub struct WornIn {
    /// The layers, as they lie over one another.
    pub together: Arc<Together>,
    /// Its place among them.
    pub place: usize,
    /// What lies underneath.
    pub under: Under,
    /// Ease at its girths over that.
    pub rooms: Vec<Room>,
    /// What is seen of every layer, innermost first.
    pub covers: Vec<Cover>,
    /// How it is levelled over pads.
    pub levelled: Option<Levelled>,
}

impl PartialEq for WornIn {
    /// The same garments worn in the same order give the same in everything else.
    fn eq(&self, other: &Self) -> bool {
        self.place == other.place
            && self.under == other.under
            && self.rooms == other.rooms
            && self.covers == other.covers
            && self.levelled == other.levelled
    }
}

/// The fitting in every outfit of the project that wears it, and what the maker should know about that.
pub fn look(project: &Project, adapted: &Arc<Adapted>) -> (Vec<WornIn>, Vec<Finding>) {
    let fitting = &adapted.fitting.name;
    let wears = |outfit: &&Outfit| outfit.layers.iter().any(|layer| layer == fitting);
    let outfits: Vec<&Outfit> = project.outfits.iter().filter(wears).collect();
    if outfits.is_empty() {
        return (Vec::new(), Vec::new());
    }
    let own = Arc::new(Worn::new(adapted.clone()));
    let togethers: Vec<Together> = outfits
        .iter()
        .map(|outfit| {
            Together::new(outfit, |layer| {
                if layer == fitting {
                    Ok(own.clone())
                } else {
                    worn(project, layer)
                }
            })
        })
        .collect();
    let found = findings(&togethers, fitting, &project.machine, project.unit);
    let looks = togethers
        .into_iter()
        .filter_map(|together| worn_in(together, fitting));
    (looks.collect(), found)
}

fn worn_in(together: Together, fitting: &str) -> Option<WornIn> {
    let place = together.place_of(fitting)?;
    let under = underneath(&together, place);
    let worn = together.layers.get(place)?;
    Some(WornIn {
        levelled: levelled(worn, &under.pads),
        rooms: rooms(&together, place),
        covers: (0..together.layers.len())
            .filter_map(|layer| cover(&together, layer))
            .collect(),
        together: Arc::new(together),
        place,
        under,
    })
}

/// How many layers are kept: more than any outfit has.
const KEPT: usize = 48;

struct KeptLayer {
    garment: Arc<Garment>,
    fitting: Arc<Fitting>,
    worn: Result<Arc<Worn>, String>,
}

thread_local! {
    /// What this thread has worked out, the last used at the end.
    static LAYERS: RefCell<Vec<KeptLayer>> = const { RefCell::new(Vec::new()) };
}

/// One layer, adapted and laid on its body; taken from what is kept when garment and fitting are the very same.
fn worn(project: &Project, name: &str) -> Result<Arc<Worn>, String> {
    let fitting = project
        .fitting(name)
        .ok_or_else(|| format!("there is no fitting called {name}"))?;
    let garment = project
        .garment(&fitting.garment)
        .ok_or_else(|| format!("there is no garment called {}", fitting.garment))?;
    LAYERS.with_borrow_mut(|kept| {
        let same = |layer: &KeptLayer| {
            Arc::ptr_eq(&layer.garment, garment) && Arc::ptr_eq(&layer.fitting, fitting)
        };
        let layer = match kept.iter().position(same) {
            Some(at) => kept.remove(at),
            None => KeptLayer {
                garment: garment.clone(),
                fitting: fitting.clone(),
                worn: adapt::adapt_garment(garment, fitting)
                    .map(|adapted| Arc::new(Worn::new(Arc::new(adapted))))
                    .map_err(|why| why.to_string()),
            },
        };
        let worn = layer.worn.clone();
        if kept.len() >= KEPT {
            kept.remove(0);
        }
        kept.push(layer);
        worn
    })
}

/// The layers of an outfit without regard to a fitting that is being worked on: for the command line.
pub fn together(project: &Project, outfit: &Outfit) -> Together {
    Together::new(outfit, |layer| worn(project, layer))
}
