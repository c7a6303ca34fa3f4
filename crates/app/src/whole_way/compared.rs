//! A fitting beside others: each of them goes through step 2 only.

use std::sync::Arc;

use petitoile_core::adapt;
use petitoile_core::body::Body;
use petitoile_core::fit::{self, Beside, Underneath};
use petitoile_core::project::Project;

use super::Worked;

/// What a fitting is put beside.
#[derive(Debug, Clone, PartialEq)]
pub enum Other {
    /// Another fitting of the project, by name.
    Fitting(String),
    /// Its own garment on another body.
    Body(Arc<Body>),
}

/// Ease tables beside each other, and what could not be put beside.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Compared {
    /// The fitting first, then the others as they were asked for.
    pub beside: Beside,
    /// One line for each that could not.
    pub troubles: Vec<String>,
}

/// Puts a fitting beside others.
pub fn compared(project: &Project, worked: &Worked, others: &[Other]) -> Compared {
    let mut tables = vec![worked.beyond.fit.table.clone()];
    let mut troubles = Vec::new();
    for other in others {
        let adapted = match other {
            Other::Fitting(name) => adapt::adapt(project, name),
            Other::Body(body) => {
                let there = Arc::new(fit::on_body(&worked.adapted.fitting, body));
                adapt::adapt_garment(&worked.adapted.garment, &there)
            }
        };
        match adapted {
            Ok(adapted) => {
                let underneath = Underneath::of(&adapted.fitting);
                tables.push(fit::ease_table(&adapted, &underneath));
            }
            Err(why) => troubles.push(why.to_string()),
        }
    }
    Compared {
        beside: fit::beside(&tables),
        troubles,
    }
}
