//! The wardrobe file: outfits of a doll, kept over projects.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use petitoile_core::edit::Edit;

use super::Window;
use crate::command::{Command, InWardrobe};
use crate::files;

/// The name of a wardrobe that is begun beside a project.
const NAME: &str = "dolls.wardrobe";

impl Window {
    /// Runs one command that concerns the wardrobe file.
    pub(super) fn wardrobe(&mut self, ask: &InWardrobe) -> Result<(), String> {
        match ask {
            InWardrobe::Look => self.look_into_wardrobe(),
            InWardrobe::Keep(outfit) => self.keep_in_wardrobe(outfit),
            InWardrobe::TakeOut(place) => {
                let (path, _) = self.wardrobe_path()?;
                let after = files::change_wardrobe(&path, |wardrobe| wardrobe.without(*place))
                    .map_err(|trouble| trouble.to_string())?;
                self.session.wardrobe = Some(Arc::new(after));
                Ok(())
            }
            InWardrobe::Open(place) => self.open_kept(*place),
        }
    }

    /// Where the wardrobe lies, and the folder of the project.
    fn wardrobe_path(&self) -> Result<(PathBuf, PathBuf), String> {
        let file =
            self.session.file.as_deref().ok_or(
                "save the project first: the wardrobe lies beside it and remembers its file",
            )?;
        let folder = files::writing::folder_of(file);
        let name = self.session.project().wardrobe_file.as_deref();
        Ok((folder.join(name.unwrap_or(NAME)), folder))
    }

    fn look_into_wardrobe(&mut self) -> Result<(), String> {
        let (path, _) = self.wardrobe_path()?;
        let wardrobe = files::open_wardrobe(&path).map_err(|trouble| trouble.to_string())?;
        self.session.wardrobe = Some(Arc::new(wardrobe));
        Ok(())
    }

    fn keep_in_wardrobe(&mut self, name: &str) -> Result<(), String> {
        let (path, _) = self.wardrobe_path()?;
        let project = self.session.project().clone();
        let outfit = project
            .outfits
            .iter()
            .find(|outfit| outfit.name == name)
            .ok_or_else(|| format!("there is no outfit called {name}"))?;
        let worn = outfit
            .layers
            .first()
            .and_then(|layer| project.fitting(layer));
        let doll = &worn
            .ok_or_else(|| format!("{name} has no garment yet; add one first"))?
            .body;
        let file = self.session.file.clone().unwrap_or_default();
        let from = files::writing::folder_of(&path);
        let project_file = relative(&file, &from);
        let after =
            files::change_wardrobe(&path, |wardrobe| wardrobe.with(doll, &project_file, outfit))
                .map_err(|trouble| trouble.to_string())?;
        self.session.wardrobe = Some(Arc::new(after));
        if project.wardrobe_file.is_none() {
            let named = Edit::SetWardrobeFile(Some(NAME.to_owned()));
            self.session.apply(Command::Edit(named));
        }
        self.session.message = Some(format!("{name} is kept in {}", path.display()));
        Ok(())
    }

    fn open_kept(&mut self, place: usize) -> Result<(), String> {
        let (path, _) = self.wardrobe_path()?;
        let kept = self
            .session
            .wardrobe
            .as_ref()
            .and_then(|wardrobe| wardrobe.outfits.get(place).cloned())
            .ok_or("the wardrobe has changed; look into it again")?;
        let file = files::writing::folder_of(&path).join(&kept.project_file);
        let same = self
            .session
            .file
            .as_deref()
            .is_some_and(|open| is_same(open, &file));
        if !same {
            self.open_file(&file)?;
        }
        let first = kept.outfit.layers.last().cloned();
        let there = first.filter(|name| self.session.project().fitting(name).is_some());
        if let Some(name) = there {
            self.session.apply(Command::ChooseFitting(name));
        }
        // The outfits stay in sight.
        self.look_into_wardrobe().ok();
        Ok(())
    }
}

fn is_same(a: &Path, b: &Path) -> bool {
    match (a.canonicalize(), b.canonicalize()) {
        (Ok(a), Ok(b)) => a == b,
        _ => a == b,
    }
}

/// The file as it is found from a folder: below it by its way there, elsewhere by its whole path.
fn relative(file: &Path, from: &Path) -> String {
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let (file, from) = (whole(file), whole(from));
    file.strip_prefix(&from)
        .unwrap_or(&file)
        .to_string_lossy()
        .into_owned()
}
