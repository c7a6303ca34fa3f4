//! The stash file: offcuts that last over projects.

use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::cloth::Stash;
use petitoile_core::edit::Edit;

use super::Window;
use crate::command::{Command, InStash};
use crate::{files, lay_work};

/// The name of a stash that is begun beside a project.
const NAME: &str = "cloth.stash";

impl Window {
    /// Runs one command that concerns the stash file.
    pub(super) fn stash(&mut self, ask: &InStash) -> Result<(), String> {
        match ask {
            InStash::Look => {
                let stash = files::open_stash(&self.stash_path()?);
                self.session.stash = Some(Arc::new(stash.map_err(|why| why.to_string())?));
                Ok(())
            }
            InStash::Keep(name) => self.keep_in_stash(name),
            InStash::TakeOut(name) => self.take_out_of_stash(name),
            InStash::KeepRests(name) => self.keep_rests(name),
        }
    }

    /// Where the stash lies.
    fn stash_path(&self) -> Result<PathBuf, String> {
        let file =
            self.session.file.as_deref().ok_or(
                "save the project first: the stash lies beside it and is remembered by it",
            )?;
        let name = self.session.project().stash_file.as_deref();
        Ok(files::writing::folder_of(file).join(name.unwrap_or(NAME)))
    }

    /// The file keeps the cloth before the project gives it away, so that it is never lost.
    fn keep_in_stash(&mut self, name: &str) -> Result<(), String> {
        let path = self.stash_path()?;
        let project = self.session.project().clone();
        let offcut = project
            .offcut(name)
            .ok_or_else(|| format!("there is no offcut called {name}"))?;
        project
            .edited(&Edit::RemoveOffcut(name.to_owned()))
            .map_err(|why| why.to_string())?;
        let cloths: Vec<_> = lay_work::cloth_named(&project, &offcut.cloth)
            .into_iter()
            .collect();
        let kept = [petitoile_core::cloth::Offcut::clone(offcut)];
        let after = files::change_stash(&path, |stash| stash.with(&kept, &cloths))
            .map_err(|why| why.to_string())?;
        self.session.stash = Some(Arc::new(after));
        self.remember_stash();
        let gone = Edit::RemoveOffcut(name.to_owned());
        self.session.apply(Command::Edit(gone));
        self.session.message = Some(format!("{name} is kept in {}", path.display()));
        Ok(())
    }

    /// The project has the cloth before the file gives it away.
    fn take_out_of_stash(&mut self, name: &str) -> Result<(), String> {
        let path = self.stash_path()?;
        let stash = files::open_stash(&path).map_err(|why| why.to_string())?;
        let (_, taken) = stash.taken(&[name]).map_err(|why| why.to_string())?;
        let offcut = taken
            .first()
            .ok_or("the stash has changed; look into it again")?;
        if self.session.project().offcut(name).is_some() {
            return Err(format!(
                "there is an offcut called {name} on the table already; give it another name first"
            ));
        }
        let put = Edit::PutOffcut(Arc::new(offcut.clone()));
        self.session
            .project()
            .edited(&put)
            .map_err(|why| why.to_string())?;
        let without = |stash: &Stash| stash.taken(&[name]).map_or(stash.clone(), |(rest, _)| rest);
        let after = files::change_stash(&path, without).map_err(|why| why.to_string())?;
        self.session.stash = Some(Arc::new(after));
        self.remember_stash();
        self.session.apply(Command::Edit(put));
        Ok(())
    }

    fn keep_rests(&mut self, name: &str) -> Result<(), String> {
        let path = self.stash_path()?;
        let project = self.session.project().clone();
        let rests = lay_work::rests_of(&project, name)?;
        if rests.offcuts.is_empty() {
            return Err(format!("nothing of {name} is left that is worth keeping"));
        }
        let offcut = project.offcut(name);
        let cloths: Vec<_> = offcut
            .and_then(|offcut| lay_work::cloth_named(&project, &offcut.cloth))
            .into_iter()
            .collect();
        let after = files::change_stash(&path, |stash| stash.with(&rests.offcuts, &cloths))
            .map_err(|why| why.to_string())?;
        self.session.stash = Some(Arc::new(after));
        self.remember_stash();
        self.session.message = Some(format!(
            "{} of {name} kept in {}",
            crate::wording::count(rests.offcuts.len(), "rest", "rests"),
            path.display()
        ));
        Ok(())
    }

    fn remember_stash(&mut self) {
        if self.session.project().stash_file.is_none() {
            let named = Edit::SetStashFile(Some(NAME.to_owned()));
            self.session.apply(Command::Edit(named));
        }
    }
}
