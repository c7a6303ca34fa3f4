//! One sitting at the table: the project, what was worked out from it, what is chosen, what can be undone.
//!
//! Trays read it and push [`Command`]s; [`Session::apply`] is the one place that applies those that concern the
//! project and the view. Files and windows are [`crate::window`]'s.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use petitoile_core::cloth::Stash;
use petitoile_core::finding::Finding;
use petitoile_core::fitting::Fitting;
use petitoile_core::garment::Garment;
use petitoile_core::making_sheet::MakingSheet;
use petitoile_core::outfit::Wardrobe;
use petitoile_core::project::Project;
use petitoile_exchange::tiling::Pages;

use crate::background::{self, Background};
use crate::canvas::shown::Table;
use crate::canvas::view::{Aim, View};
use crate::command::{Chosen, Command};
use crate::history::History;
use crate::settings::Settings;
use crate::whole_way::{Compared, Other, Worked};

mod edits;
mod hand_work;
mod laying;
mod looking;
mod question;
mod stash_moves;
mod tray;

pub use hand_work::On;
pub use laying::{Ended, Laying, Now, What};
pub use question::{Answer, Question};
use question::{Of, answer};
pub use stash_moves::StashMove;
pub use tray::Tray;

/// What has been worked out from the project.
pub struct Work {
    background: Background<Question, Answer>,
    /// The last fitting that could be worked out.
    pub done: Option<Arc<Worked>>,
    /// What lies on the table.
    pub table: Arc<Table>,
    /// Its pages, once the Paper tray has asked for them.
    pub pages: Option<Arc<Pages>>,
    /// The fitting beside others, where the Fit tray asked for some.
    pub compared: Option<Arc<Compared>>,
    /// Its making sheet, once the Make tray has asked for it.
    pub making: Option<Arc<MakingSheet>>,
    /// Why the newest could not be worked out.
    pub trouble: Option<String>,
}

/// One sitting at the table.
pub struct Session {
    project: Arc<Project>,
    trial: Option<Arc<Project>>,
    under_hand: Option<Arc<Garment>>,
    drawn: Option<String>,
    /// Pieces that were drawn on this table and lie where they were drawn.
    lie_as_drawn: BTreeSet<String>,
    saved: Arc<Project>,
    /// The project file.
    pub file: Option<PathBuf>,
    /// What was done.
    pub history: History,
    /// Name of the fitting that is worked on.
    pub fitting: Option<String>,
    /// Does hand work alter the garment, or this fitting?
    pub on: On,
    /// What was worked out.
    pub work: Work,
    /// What is chosen on the table.
    pub chosen: Chosen,
    /// The tray that is up.
    pub tray: Tray,
    /// How the table is looked at.
    pub view: View,
    /// Where to look next, once the size of the canvas is known.
    pub aim: Option<Aim>,
    /// The search for where pieces lie on cloth.
    pub laying: Laying,
    /// What is in the stash file, once it has been looked into.
    pub stash: Option<Arc<Stash>>,
    /// Cloth that went to or from the stash since the project was saved last.
    pub stash_moves: Vec<StashMove>,
    /// What is in the wardrobe file, once it has been looked into.
    pub wardrobe: Option<Arc<Wardrobe>>,
    /// What the Fit tray puts the fitting beside.
    pub beside: Vec<Other>,
    /// The last thing to be said, in one line.
    pub message: Option<String>,
    /// Of the window itself.
    pub settings: Settings,
}

impl Session {
    /// A sitting with a worker beside the window; `wake` is called when an answer has come.
    pub fn new(
        project: Project,
        file: Option<PathBuf>,
        settings: Settings,
        wake: impl Fn() + Send + 'static,
    ) -> Self {
        let wake = background::shared(wake);
        Self::with(
            Background::new("fitting", answer, wake.clone()),
            Laying::beside(wake),
            project,
            file,
            settings,
        )
    }

    /// A sitting that works everything out before the next line: for tests and measurements.
    pub fn for_tests(project: Project) -> Self {
        Self::with(
            Background::at_once(answer),
            Laying::at_once(),
            project,
            None,
            Settings::default(),
        )
    }

    fn with(
        background: Background<Question, Answer>,
        laying: Laying,
        project: Project,
        file: Option<PathBuf>,
        settings: Settings,
    ) -> Self {
        let project = Arc::new(project);
        let work = Work {
            background,
            done: None,
            table: Arc::default(),
            pages: None,
            compared: None,
            making: None,
            trouble: None,
        };
        let mut session = Self {
            saved: project.clone(),
            fitting: project.fittings.first().map(|f| f.name.clone()),
            on: On::default(),
            drawn: None,
            lie_as_drawn: BTreeSet::new(),
            project,
            trial: None,
            under_hand: None,
            file,
            history: History::default(),
            work,
            chosen: Chosen::default(),
            tray: Tray::default(),
            view: View::default(),
            aim: Some(Aim::All),
            laying,
            stash: None,
            stash_moves: Vec::new(),
            wardrobe: None,
            beside: Vec::new(),
            message: None,
            settings,
        };
        session.ask();
        session.collect();
        session
    }

    /// The project as it is shown: with what is being tried.
    pub fn shown(&self) -> &Arc<Project> {
        self.trial.as_ref().unwrap_or(&self.project)
    }

    /// Is something being tried that is not recorded: a slider that moves?
    pub fn is_trying(&self) -> bool {
        self.trial.is_some()
    }

    /// The project as it would be saved.
    pub fn project(&self) -> &Arc<Project> {
        &self.project
    }

    /// Has anything changed since it was saved?
    pub fn is_unsaved(&self) -> bool {
        !Arc::ptr_eq(&self.project, &self.saved)
    }

    /// Says that the project now is what the file holds.
    pub fn now_saved(&mut self, project: Arc<Project>, file: PathBuf) {
        self.saved = project;
        self.file = Some(file);
    }

    /// Says that no file holds the project as it is.
    pub fn now_unsaved(&mut self) {
        self.saved = Arc::new(Project::default());
    }

    /// The fitting that is worked on, as it is shown.
    pub fn fitting(&self) -> Option<&Arc<Fitting>> {
        self.shown().fitting(self.fitting.as_deref()?)
    }

    /// The garment of that fitting; without a fitting the one that is drawn.
    pub fn garment(&self) -> Option<&Arc<Garment>> {
        let shown = self.shown();
        match self.fitting() {
            Some(fitting) => shown.garment(&fitting.garment),
            None => self
                .drawn
                .as_deref()
                .and_then(|name| shown.garment(name))
                .or_else(|| shown.garments.first()),
        }
    }

    /// What was found, worst first.
    pub fn findings(&self) -> &[Finding] {
        self.work
            .done
            .as_ref()
            .map_or(&[], |worked| worked.findings.as_slice())
    }

    /// Puts another project on the table.
    pub fn put(&mut self, project: Project, file: Option<PathBuf>) {
        self.project = Arc::new(project);
        self.saved = self.project.clone();
        self.trial = None;
        self.file = file;
        self.history = History::default();
        self.fitting = self.project.fittings.first().map(|f| f.name.clone());
        self.chosen = Chosen::default();
        self.wardrobe = None;
        self.stash = None;
        self.stash_moves.clear();
        self.laying.forget();
        self.beside.clear();
        self.forget_work();
        self.ask();
    }

    /// Takes over what the worker has found out. Gives whether anything came.
    pub fn collect(&mut self) -> bool {
        let laid = self.collect_laying();
        let Some(answer) = self.work.background.answer() else {
            return laid;
        };
        match answer.map(|answer| {
            let more = (answer.pages, answer.compared, answer.making);
            (answer.worked, more)
        }) {
            Ok((Ok((worked, table)), (pages, compared, making))) => {
                self.work.done = Some(worked);
                self.work.table = table;
                self.work.pages = pages;
                self.work.compared = compared;
                self.work.making = making;
                self.work.trouble = None;
            }
            // A garment without pieces is no trouble: it is to be drawn.
            Ok((Err(_), ..))
                if self
                    .garment()
                    .is_some_and(|garment| garment.pieces.is_empty()) =>
            {
                self.work.done = None;
                self.work.table = Arc::default();
                self.work.trouble = None;
            }
            Ok((Err(trouble), ..)) => self.work.trouble = Some(trouble),
            Err(broken) => self.work.trouble = Some(broken.to_string()),
        }
        if self.trial.is_none() {
            self.under_hand = None;
        }
        self.lay_now();
        true
    }

    /// Is the worker still busy with the last question?
    pub fn is_working(&self) -> bool {
        self.work.background.is_waiting()
    }

    /// Applies one command that concerns the project, the choice or the view.
    pub fn apply(&mut self, command: Command) {
        match command {
            Command::Edit(edit) => self.edit(edit),
            Command::Try(edit) => self.try_out(&edit),
            Command::StopTrying => self.stop_trying(),
            Command::Undo => self.step(History::undo),
            Command::Redo => self.step(History::redo),
            Command::ShowAll => self.aim = Some(Aim::All),
            Command::ZoomIn => self.view = self.view.zoomed(1.25),
            Command::TrueSize => self.true_size(),
            Command::Screen(points) => self.settings.points_on_100_mm = Some(points),
            Command::ZoomOut => self.view = self.view.zoomed(1.0 / 1.25),
            Command::SetView(view) => {
                self.view = view;
                self.aim = None;
            }
            Command::Choose(chosen) => self.chosen = chosen,
            Command::ShowPlace(place) => self.show_place(&place),
            Command::Beside(others) => {
                self.beside = others;
                self.ask();
            }
            Command::ShowPart(part) => self.aim = Some(Aim::Part(part)),
            Command::ChooseFitting(name) => self.choose_fitting(name),
            Command::ChooseGarment(name) => self.choose_garment(name),
            Command::Alter(alteration) => self.alter(alteration),
            Command::AlterOn(alteration) => self.alter_on(alteration),
            Command::TryAlter(alteration) => self.try_alter(alteration),
            Command::On(on) => {
                if self.on != on {
                    self.on = on;
                    self.forget_work();
                    self.ask();
                }
            }
            Command::Tray(tray) => {
                let before = self.of_garment();
                // The cloth lies on a table of its own.
                if (self.tray == Tray::Cloth) != (tray == Tray::Cloth) {
                    self.aim = Some(Aim::All);
                }
                self.tray = tray;
                if before != self.of_garment() {
                    self.forget_work();
                }
                self.ask();
            }
            Command::LayNew(piece) => {
                self.lie_as_drawn.insert(piece);
                self.aim = None;
            }
            Command::Snap(snapping) => self.settings.snapping = snapping,
            Command::Look(look) => self.settings.look = look,
            Command::Scale(scale) => self.settings.scale = scale,
            Command::Lay(ask) => self.lay(ask),
            Command::Ghost(ghost) => {
                self.settings.ghost = ghost;
                self.ask();
            }
            Command::FoldFindings => self.settings.findings_open = !self.settings.findings_open,
            Command::Say(words) => self.message = Some(words),
            Command::Hush => self.message = None,
            // The window's own: files and choosers.
            Command::Ask(_)
            | Command::Open
            | Command::OpenFile(_)
            | Command::Save
            | Command::SaveAs
            | Command::SaveFile(_)
            | Command::Export(_)
            | Command::PrintLines(..)
            | Command::ExportFile(..)
            | Command::Recover(_)
            | Command::OpenDemo(_)
            | Command::Wardrobe(_)
            | Command::Stash(_)
            | Command::BringIn
            | Command::BringInFiles(_)
            | Command::DrawOver(_)
            | Command::ChoosePhoto
            | Command::PhotoFile(_)
            | Command::Discard(_) => {}
        }
        self.collect();
    }

    fn choose_garment(&mut self, name: String) {
        self.fitting = None;
        self.drawn = Some(name);
        self.trial = None;
        self.chosen = Chosen::default();
        self.forget_work();
        self.ask();
    }

    fn choose_fitting(&mut self, name: String) {
        self.fitting = Some(name);
        self.trial = None;
        self.chosen = Chosen::default();
        self.forget_work();
        self.ask();
    }

    fn forget_work(&mut self) {
        self.lie_as_drawn.clear();
        self.under_hand = None;
        self.work.done = None;
        self.work.table = Arc::default();
        self.work.pages = None;
        self.work.compared = None;
        self.work.making = None;
        self.work.trouble = None;
        self.aim = Some(Aim::All);
    }

    fn ask(&mut self) {
        let of = match &self.fitting {
            Some(fitting) if !self.of_garment() => Of::Fitting(fitting.clone()),
            _ => match self.garment() {
                Some(garment) => Of::Garment(garment.name.clone()),
                None => return,
            },
        };
        let lies = self.work.done.is_some() || !self.lie_as_drawn.is_empty();
        // Cloth that is let in makes pieces much larger: they are laid out anew, but not while the hand moves.
        let stays =
            lies && (self.tray == Tray::Chalk || self.tray == Tray::Folds && self.is_trying());
        let question = Question {
            project: self.shown().clone(),
            of,
            ghost: self.ghost(),
            pages: self.tray == Tray::Paper,
            making: self.tray == Tray::Make,
            drawn_in: self.tray == Tray::Chalk,
            before: stays.then(|| self.work.table.clone()),
            lie_as_drawn: self.lie_as_drawn.clone(),
            beside: self.others(),
        };
        if self.tray != Tray::Paper {
            self.work.pages = None;
        }
        if self.tray != Tray::Make {
            self.work.making = None;
        }
        self.work.background.ask(question);
    }
}
