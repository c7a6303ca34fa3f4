//! Which fitting, garment or body a maker means.

use std::path::Path;
use std::sync::Arc;

use petitoile_core::body::Body;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::project::Project;
use petitoile_exchange::body_table;

use super::trouble::BadInput;
use crate::whole_way::as_drawn;

/// A fitting with its garment.
#[derive(Debug)]
pub struct Chosen {
    /// The garment.
    pub garment: Arc<Garment>,
    /// The fitting, in the project or made up for the garment as drawn.
    pub fitting: Arc<Fitting>,
    /// What the maker should be told about the choice: other fittings, or that there was none.
    pub remark: Option<String>,
}

/// The fitting of this name, or the first; a project without any gives its first garment as drawn.
pub fn fitting(project: &Project, name: Option<&str>) -> Result<Chosen, BadInput> {
    let names = || listed(project.fittings.iter().map(|fitting| fitting.name.as_str()));
    let found = match name {
        Some(name) => Some(
            project
                .fittings
                .iter()
                .find(|fitting| same(&fitting.name, name))
                .ok_or_else(|| {
                    BadInput::new(format!(
                        "there is no fitting called {name}; {}",
                        if_any(
                            "choose one of: ",
                            &names(),
                            "the file has none, make one with `petitoile adapt`"
                        )
                    ))
                })?,
        ),
        None => project.fittings.first(),
    };
    let Some(fitting) = found else {
        let garment = garment(project, None)?;
        let remark = format!(
            "No fitting in this file: {} as drawn, for {}.",
            garment.name, garment.made_for.name
        );
        return Ok(Chosen {
            fitting: Arc::new(as_drawn(&garment)),
            garment,
            remark: Some(remark),
        });
    };
    let garment = project.garment(&fitting.garment).ok_or_else(|| {
        BadInput::new(format!("the fitting {} is for a garment called {}, which is not in the file; open an older version of the file", fitting.name, fitting.garment))
    })?;
    let others = listed(
        project
            .fittings
            .iter()
            .filter(|other| other.name != fitting.name)
            .map(|other| other.name.as_str()),
    );
    let remark = (name.is_none() && !others.is_empty())
        .then(|| format!("Other fittings in this file (--fitting NAME): {others}"));
    Ok(Chosen {
        garment: garment.clone(),
        fitting: fitting.clone(),
        remark,
    })
}

/// The garment of this name, or the only one.
pub fn garment(project: &Project, name: Option<&str>) -> Result<Arc<Garment>, BadInput> {
    let names = listed(project.garments.iter().map(|garment| garment.name.as_str()));
    match (name, project.garments.as_slice()) {
        (_, []) => Err(BadInput::new(
            "there is no garment in this file; draw or bring in one first",
        )),
        (Some(name), garments) => garments
            .iter()
            .find(|garment| same(&garment.name, name))
            .cloned()
            .ok_or_else(|| {
                BadInput::new(format!(
                    "there is no garment called {name}; choose one of: {names}"
                ))
            }),
        (None, [only]) => Ok(only.clone()),
        (None, _) => Err(BadInput::new(format!(
            "there are several garments in this file; say which with --garment NAME: {names}"
        ))),
    }
}

/// A body by key or name: one of the project's own, one that comes with Petitoile, or one in a body file.
pub fn body(project: &Project, asked: &str) -> Result<Arc<Body>, BadInput> {
    let known: Vec<Arc<Body>> = project
        .bodies
        .iter()
        .cloned()
        .chain(body_table::built_in())
        .collect();
    if let Some(body) = known
        .iter()
        .find(|body| same(&body.key, asked) || same(&body.name, asked))
    {
        return Ok(body.clone());
    }
    let path = Path::new(asked);
    // A bare word is a slip in a key; only what looks like a path is looked for on the disk.
    if path.exists() || path.components().count() > 1 || path.extension().is_some() {
        return Ok(crate::files::open_body(path)?);
    }
    let close = closest(asked, known.iter().map(|body| body.key.as_str()));
    let hint = close.map_or(String::new(), |key| format!("did you mean {key}? "));
    Err(BadInput::new(format!(
        "there is no body called {asked}; {hint}`petitoile bodies` lists them, or name a body file"
    )))
}

/// Names are compared without regard to capitals and outer blanks.
pub fn same(a: &str, b: &str) -> bool {
    !a.is_empty() && a.trim().to_lowercase() == b.trim().to_lowercase()
}

fn listed<'a>(names: impl Iterator<Item = &'a str>) -> String {
    names.collect::<Vec<_>>().join("; ")
}

fn if_any(before: &str, names: &str, otherwise: &str) -> String {
    if names.is_empty() {
        otherwise.to_owned()
    } else {
        format!("{before}{names}")
    }
}

/// The key that shares the longest beginning with what was typed, three letters at least.
fn closest<'a>(typed: &str, keys: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let shared = |key: &str| {
        key.chars()
            .zip(typed.to_lowercase().chars())
            .take_while(|(a, b)| a == b)
            .count()
    };
    keys.map(|key| (shared(key), key))
        .filter(|(count, _)| 3 <= *count)
        .fold(None, |best: Option<(usize, &str)>, next| match best {
            Some(best) if next.0 <= best.0 => Some(best),
            _ => Some(next),
        })
        .map(|(_, key)| key)
}
