//! What the worker beside the window is asked, and what it answers.

use std::collections::BTreeSet;
use std::sync::Arc;

use petitoile_core::making_sheet::MakingSheet;
use petitoile_core::project::Project;
use petitoile_exchange::tiling::Pages;

use super::{Session, Tray};
use crate::canvas::shown::Table;
use crate::settings::Ghost;
use crate::whole_way::{self, Compared, Other, Worked};

/// What the worker is asked: a project, what of it, how the source shows, whether pages and the making sheet are
/// wanted, whether fullness shows drawn in, the table before, whose pieces stay where they lie, and what the fitting is
/// put beside.
pub struct Question {
    pub(super) project: Arc<Project>,
    pub(super) of: Of,
    pub(super) ghost: Ghost,
    pub(super) pages: bool,
    pub(super) making: bool,
    pub(super) drawn_in: bool,
    pub(super) before: Option<Arc<Table>>,
    pub(super) lie_as_drawn: BTreeSet<String>,
    pub(super) beside: Vec<Other>,
}

impl Session {
    /// What the fitting is put beside, while that is looked at.
    pub(super) fn others(&self) -> Vec<Other> {
        if self.tray == Tray::Fit {
            self.beside.clone()
        } else {
            Vec::new()
        }
    }
}

/// A fitting, or a garment as it was drawn, by name.
pub(super) enum Of {
    Fitting(String),
    Garment(String),
}

/// What the worker answers.
pub struct Answer {
    pub(super) worked: Result<(Arc<Worked>, Arc<Table>), String>,
    pub(super) pages: Option<Arc<Pages>>,
    pub(super) compared: Option<Arc<Compared>>,
    pub(super) making: Option<Arc<MakingSheet>>,
}

/// Steps 2 to 5, what lies on the table, and steps 7 and 8 when the pages are looked at.
pub(super) fn answer(question: Question) -> Answer {
    let worked = match &question.of {
        Of::Fitting(name) => whole_way::work(&question.project, name),
        Of::Garment(name) => whole_way::work_as_drawn(&question.project, name),
    };
    match worked {
        Ok(worked) => {
            let unit = question.project.unit;
            let pages = question
                .pages
                .then(|| Arc::new(whole_way::pages(&worked, unit)));
            let making = question
                .making
                .then(|| Arc::new(whole_way::making_sheet(&worked, unit)));
            let drawn_in = question
                .drawn_in
                .then(|| whole_way::drawn_in(&worked))
                .flatten();
            let compared = (!question.beside.is_empty()).then(|| {
                let others = &question.beside;
                Arc::new(whole_way::compared(&question.project, &worked, others))
            });
            let table = Table::of(&worked, drawn_in.as_ref(), question.ghost, unit);
            let table = Arc::new(match &question.before {
                Some(before) => table.where_it_lay(before, &question.lie_as_drawn),
                None => table,
            });
            Answer {
                worked: Ok((Arc::new(worked), table)),
                pages,
                compared,
                making,
            }
        }
        Err(trouble) => Answer {
            worked: Err(trouble.to_string()),
            pages: None,
            compared: None,
            making: None,
        },
    }
}
