//! The stash: offcuts that last over projects. Taken out for a project, put back as what is left of them.

use std::sync::Arc;

use crate::cloth::{Cloth, Offcut, Stash};
use crate::laying::{Dropped, rests};
use crate::project::Project;
use crate::units::Mm;

/// Why the stash cannot give or take an offcut.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StashError {
    /// It is not there.
    #[error("there is no offcut called {0} in the stash; another project may have taken it")]
    Missing(String),
}

/// What is left of a project's offcuts once its pieces are cut.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LeftOver {
    /// Whole offcuts nothing was cut from, and rests that are still useful.
    pub offcuts: Vec<Offcut>,
    /// Rests too small to keep, with the offcut they were left of.
    pub dropped: Vec<(String, Dropped)>,
}

impl Stash {
    /// The offcut of this name.
    pub fn offcut(&self, name: &str) -> Option<&Offcut> {
        self.offcuts.iter().find(|offcut| offcut.name == name)
    }

    /// Takes offcuts out for a project: the stash without them, and the offcuts. A name asked for twice counts once.
    ///
    /// # Errors
    /// [`StashError::Missing`] when one of them is not there; then nothing is taken.
    pub fn taken(&self, names: &[&str]) -> Result<(Self, Vec<Offcut>), StashError> {
        let mut next = self.clone();
        let mut taken: Vec<Offcut> = Vec::new();
        for name in names {
            if taken.iter().any(|offcut| offcut.name == *name) {
                continue;
            }
            let place = next.offcuts.iter().position(|offcut| offcut.name == *name);
            let place = place.ok_or_else(|| StashError::Missing((*name).to_owned()))?;
            let mut offcut = next.offcuts.remove(place);
            // What is known of its cloth goes with it: the project has no list of the stash's cloths.
            let cloth = next.cloths.iter().find(|cloth| cloth.name == offcut.cloth);
            offcut.thickness = offcut.thickness.or(cloth.map(|cloth| cloth.thickness));
            taken.push(offcut);
        }
        Ok((next, taken))
    }

    /// The stash with these offcuts put in: a name that is given already gets a number behind it. Cloths it does not know
    /// yet are added from `cloths`.
    #[must_use]
    pub fn with(&self, offcuts: &[Offcut], cloths: &[Cloth]) -> Self {
        let mut next = self.clone();
        for offcut in offcuts {
            let name = next.free_name(&offcut.name);
            next.offcuts.push(Offcut {
                name,
                ..offcut.clone()
            });
            let known = next.cloths.iter().any(|cloth| cloth.name == offcut.cloth);
            if let Some(cloth) = cloths
                .iter()
                .find(|cloth| !known && cloth.name == offcut.cloth)
            {
                next.cloths.push(cloth.clone());
            }
        }
        next
    }

    fn free_name(&self, name: &str) -> String {
        if self.offcut(name).is_none() {
            return name.to_owned();
        }
        let numbered = |number: usize| format!("{name} ({number})");
        let free = (2..=self.offcuts.len() + 2).find(|n| self.offcut(&numbered(*n)).is_none());
        numbered(free.unwrap_or(2))
    }
}

/// What is left of the offcuts of a project: without everything any of its fittings has marked as cut. Rests narrower than
/// `useful` everywhere are dropped.
///
/// A copy that was cut keeps its outline as it was cut, so what changed in the garment since makes no difference.
pub fn left_over(project: &Project, useful: Mm) -> LeftOver {
    let mut left = LeftOver::default();
    let placed = project
        .fittings
        .iter()
        .filter_map(|fitting| fitting.lay_plan.as_ref())
        .flat_map(|plan| &plan.placed);
    let placed: Vec<_> = placed.collect();
    for offcut in &project.offcuts {
        let on_it = placed.iter().filter(|placed| placed.offcut == offcut.name);
        let cut: Vec<_> = on_it.filter_map(|placed| placed.as_cut.clone()).collect();
        if cut.is_empty() {
            left.offcuts.push(Offcut::clone(offcut));
            continue;
        }
        let names = project
            .offcuts
            .iter()
            .map(|offcut: &Arc<Offcut>| offcut.name.as_str());
        let names: Vec<String> = names
            .map(str::to_owned)
            .chain(left.offcuts.iter().map(|offcut| offcut.name.clone()))
            .collect();
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let rests = rests(offcut, &cut, useful, &names);
        left.offcuts.extend(rests.offcuts);
        let dropped = rests.dropped.into_iter();
        left.dropped
            .extend(dropped.map(|dropped| (offcut.name.clone(), dropped)));
    }
    left
}
