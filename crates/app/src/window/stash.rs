//! The stash file: offcuts that last over projects.

use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::cloth::{Cloth, Offcut, Stash};
use petitoile_core::edit::Edit;

use super::Window;
use crate::command::{Command, InStash};
use crate::session::StashMove;
use crate::{files, lay_work};

/// The name of a stash that is begun beside a project.
const NAME: &str = "cloth.stash";

impl Window {
    /// Runs one command that concerns the stash file.
    pub(super) fn stash(&mut self, ask: &InStash) -> Result<(), String> {
        match ask {
            InStash::Look => {
                let stash = files::open_stash(&self.stash_path()?);
                self.show_stash(&stash.map_err(|why| why.to_string())?);
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
        let kept = [Offcut::clone(offcut)];
        let after = self.put_in_file(name, &kept, &cloths, false)?;
        let gone = Edit::RemoveOffcut(name.to_owned());
        self.session.apply(Command::Edit(gone));
        self.show_stash(&after);
        self.session.message = Some(format!("{name} is kept in {}", path.display()));
        Ok(())
    }

    /// Writes cloth into the stash file, and notes that it was this offcut of the project.
    fn put_in_file(
        &mut self,
        name: &str,
        cloth: &[Offcut],
        cloths: &[Cloth],
        is_rest: bool,
    ) -> Result<Stash, String> {
        let path = self.stash_path()?;
        let mut before = Vec::new();
        let after = files::change_stash(&path, |stash| {
            before = names(stash);
            stash.with(cloth, cloths)
        })
        .map_err(|why| why.to_string())?;
        let new = names(&after)
            .into_iter()
            .filter(|name| !before.contains(name));
        self.session.stash_moves.push(StashMove {
            offcut: name.to_owned(),
            in_file: new.collect(),
            is_rest,
        });
        self.remember_stash();
        Ok(after)
    }

    /// The stash as it is shown: without what has gone to the table.
    fn show_stash(&mut self, stash: &Stash) {
        let gone = self.on_table();
        let gone: Vec<&str> = gone
            .iter()
            .map(String::as_str)
            .filter(|name| stash.offcut(name).is_some())
            .collect();
        let shown = stash
            .taken(&gone)
            .map_or_else(|_| stash.clone(), |(rest, _)| rest);
        self.session.stash = Some(Arc::new(shown));
    }

    /// Names in the file of cloth that the project has on the table.
    fn on_table(&self) -> Vec<String> {
        let project = self.session.project();
        let there = |moved: &&StashMove| moved.is_with(project);
        let moves = self.session.stash_moves.iter().filter(there);
        moves.flat_map(|moved| moved.in_file.clone()).collect()
    }

    /// Takes out of the stash file what the saved project has on the table.
    pub(super) fn settle_stash(&mut self) -> Result<(), String> {
        let gone = self.on_table();
        self.session.stash_moves.clear();
        if gone.is_empty() {
            return Ok(());
        }
        let without = |stash: &Stash| {
            let gone = gone.iter().map(String::as_str);
            let gone: Vec<&str> = gone.filter(|name| stash.offcut(name).is_some()).collect();
            stash
                .taken(&gone)
                .map_or_else(|_| stash.clone(), |(rest, _)| rest)
        };
        let after =
            files::change_stash(&self.stash_path()?, without).map_err(|why| why.to_string())?;
        self.session.stash = self.session.stash.take().map(|_| Arc::new(after));
        Ok(())
    }

    /// The cloth stays in the file until the project that has it is saved.
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
        self.remember_stash();
        self.session.apply(Command::Edit(put));
        self.session.stash_moves.push(StashMove {
            offcut: name.to_owned(),
            in_file: vec![name.to_owned()],
            is_rest: false,
        });
        self.show_stash(&stash);
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
        let used_up = Edit::UseUpOffcut(name.to_owned());
        project.edited(&used_up).map_err(|why| why.to_string())?;
        let after = self.put_in_file(name, &rests.offcuts, &cloths, true)?;
        self.session.apply(Command::Edit(used_up));
        self.show_stash(&after);
        self.session.message = Some(format!(
            "{} of {name} kept in {}",
            crate::wording::count(rests.offcuts.len(), "rest", "rests"),
            path.display()
        ));
        Ok(())
    }

    /// Remembers by the project where the stash lies.
    fn remember_stash(&mut self) {
        if self.session.project().stash_file.is_none() {
            let named = Edit::SetStashFile(Some(NAME.to_owned()));
            self.session.apply(Command::Edit(named));
        }
    }
}

fn names(stash: &Stash) -> Vec<String> {
    stash
        .offcuts
        .iter()
        .map(|offcut| offcut.name.clone())
        .collect()
}
