//! All a maker can ask of the window. Every command with a name stands in one table: words, tip, shortcut,
//! allowed now? The menus, the keys and the tests all read that table.

use std::path::PathBuf;
use std::sync::Arc;

use egui::{Key, KeyboardShortcut, Modifiers};
use petitoile_core::alteration::Alteration;
use petitoile_core::edit::Edit;
use petitoile_core::finding::Place;
use petitoile_core::snapping::Snapping;
use petitoile_exchange::photo::LaidFlat;

use crate::boxes::Question;
use crate::canvas::view::View;
use crate::session::{On, Session, Tray};
use crate::settings::{Ghost, Look};
use crate::whole_way::Other;

mod export;

pub use export::Export;
mod cloth;
mod keys;
mod wardrobe;

pub use cloth::{InStash, LayAsk};
pub use keys::from_keys;
pub use wardrobe::InWardrobe;

/// Something a maker asks.
#[derive(Debug, Clone, PartialEq)]
pub enum Command {
    /// Changes the project: one undo step.
    Edit(Edit),
    /// Shows what an edit would do while a slider moves; nothing is recorded.
    Try(Edit),
    /// Forgets what was tried.
    StopTrying,
    /// Takes the last edit back.
    Undo,
    /// Makes it again.
    Redo,
    /// Chooses a project file.
    Open,
    /// Opens this project file.
    OpenFile(PathBuf),
    /// Saves under the same name.
    Save,
    /// Saves under a name to be chosen.
    SaveAs,
    /// Saves to this file.
    SaveFile(PathBuf),
    /// Chooses a file and writes the print or drawing to it.
    Export(Export),
    /// Chooses a file and writes lines of figures to it, as a page to print: what they are about, and the lines.
    PrintLines(String, Vec<String>),
    /// Writes the print or drawing to this file.
    ExportFile(Export, PathBuf),
    /// Goes on with unsaved work, by its number in the list of what was found.
    Recover(usize),
    /// Throws unsaved work away, by its number.
    Discard(usize),
    /// Zooms so that everything is seen.
    ShowAll,
    /// Opens a box that asks for something.
    Ask(Question),
    /// One millimetre on the table is one on the screen.
    TrueSize,
    /// How many points of the window are 100 mm on this screen.
    Screen(f32),
    /// Closer by one step.
    ZoomIn,
    /// Further away by one step.
    ZoomOut,
    /// Looks at the table this way.
    SetView(View),
    /// Chooses a piece, or one of its edges, or nothing.
    Choose(Chosen),
    /// Goes to a place on the table and chooses what is there.
    ShowPlace(Place),
    /// Puts the fitting beside these.
    Beside(Vec<Other>),
    /// Brings a part of the table into view, mm.
    ShowPart(kurbo::Rect),
    /// Works on another fitting.
    ChooseFitting(String),
    /// Works on a garment as it was drawn, without a fitting.
    ChooseGarment(String),
    /// Alters by hand what hand work alters now: one undo step.
    Alter(Alteration),
    /// The same, but goes on with the last step when that moved the same points: nudges in a row are one step.
    AlterOn(Alteration),
    /// Shows what an alteration would do while the hand moves; nothing is recorded.
    TryAlter(Alteration),
    /// Hand work alters the garment, or this fitting.
    On(On),
    /// The piece of this name that comes next lies where it was drawn, not beside the others.
    LayNew(String),
    /// Chooses what places on the table snap to.
    Snap(Snapping),
    /// Brings a tray up.
    Tray(Tray),
    /// Light or dark.
    Look(Look),
    /// Size of everything.
    Scale(f32),
    /// How the source garment shows.
    Ghost(Ghost),
    /// Unfolds or folds the list of findings.
    FoldFindings,
    /// Puts one of the demo projects on the table.
    OpenDemo(&'static str),
    /// Opens, fills or empties the wardrobe file beside the project.
    Wardrobe(InWardrobe),
    /// Opens, fills or empties the stash of cloth beside the project.
    Stash(InStash),
    /// Begins, holds or ends a search for where the pieces lie.
    Lay(LayAsk),
    /// Chooses a drawing or picture of pieces to bring in.
    BringIn,
    /// Brings in these drawings and pictures of one garment; beside what is being brought in already.
    BringInFiles(Vec<PathBuf>),
    /// Lays a straightened picture under the pieces, to draw over by hand.
    DrawOver(Arc<LaidFlat>),
    /// Chooses a photo of cloth to trace.
    ChoosePhoto,
    /// Puts this photo of cloth on the table.
    PhotoFile(PathBuf),
    /// Says something in the status line.
    Say(String),
    /// Clears the status line.
    Hush,
}

/// What is chosen on the table.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Chosen {
    /// Name of the piece.
    pub piece: Option<String>,
    /// Name of the edge in it.
    pub edge: Option<String>,
}

impl Chosen {
    /// A piece.
    pub fn piece(name: impl Into<String>) -> Self {
        Self {
            piece: Some(name.into()),
            edge: None,
        }
    }

    /// An edge of a piece.
    pub fn edge(piece: impl Into<String>, edge: impl Into<String>) -> Self {
        Self {
            piece: Some(piece.into()),
            edge: Some(edge.into()),
        }
    }
}

/// Menus of the window, left to right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Menu {
    /// Files.
    Project,
    /// Undo and redo.
    Change,
    /// What is seen, and how.
    Look,
}

/// A command with a name.
pub struct Entry {
    /// What it does.
    pub command: Command,
    /// Under which menu it stands.
    pub menu: Menu,
    /// Its name.
    pub words: String,
    /// What it does, one sentence.
    pub tip: &'static str,
    /// Keys.
    pub shortcut: Option<KeyboardShortcut>,
    /// Can it be done now?
    pub allowed: bool,
    /// Is it the choice that is in force?
    pub ticked: bool,
}

const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers {
    alt: false,
    ctrl: false,
    shift: true,
    mac_cmd: false,
    command: true,
};

fn keys(modifiers: Modifiers, key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(modifiers, key))
}

/// Every command with a name, as it stands now. Longer key combinations come first: none is taken for a shorter one.
pub fn table(session: &Session) -> Vec<Entry> {
    let unit = session.shown().unit;
    let step = |verb: &str, edit: Option<&Edit>| {
        edit.map_or(verb.to_owned(), |e| format!("{verb}: {}", e.words(unit)))
    };
    let there = session.work.done.is_some();
    let has_fitting = session.fitting.is_some();
    let has_garment = session.garment().is_some();
    let entry = |menu, command, words: &str, tip, shortcut, allowed| Entry {
        command,
        menu,
        words: words.to_owned(),
        tip,
        shortcut,
        allowed,
        ticked: false,
    };
    let mut list = vec![
        entry(
            Menu::Project,
            Command::Open,
            "Open\u{2026}",
            "Open a project file",
            keys(CTRL, Key::O),
            true,
        ),
        entry(
            Menu::Project,
            Command::SaveAs,
            "Save as\u{2026}",
            "Save under another name",
            keys(CTRL_SHIFT, Key::S),
            true,
        ),
        entry(
            Menu::Project,
            Command::Save,
            "Save",
            "Save the project; the version before is kept",
            keys(CTRL, Key::S),
            true,
        ),
        entry(
            Menu::Project,
            Command::Ask(Question::NewGarment),
            "New garment\u{2026}",
            "Start a garment from nothing: its name and the body it is made for",
            keys(CTRL, Key::N),
            true,
        ),
        entry(
            Menu::Project,
            Command::BringIn,
            "Bring in\u{2026}",
            "Make a garment of a drawing (SVG, DXF, PDF) or a picture of its pieces",
            keys(CTRL, Key::I),
            true,
        ),
        entry(
            Menu::Project,
            Command::Ask(Question::NewFitting),
            "New fitting\u{2026}",
            "Put this garment on a body: a doll, or your own figures",
            None,
            session.garment().is_some(),
        ),
        entry(
            Menu::Change,
            Command::Redo,
            &step("Redo", session.history.next()),
            "Do it again",
            keys(CTRL_SHIFT, Key::Z),
            session.history.next().is_some(),
        ),
        entry(
            Menu::Change,
            Command::Undo,
            &step("Undo", session.history.last()),
            "Take the last change back",
            keys(CTRL, Key::Z),
            session.history.last().is_some(),
        ),
        entry(
            Menu::Look,
            Command::ShowAll,
            "Show all",
            "Everything on the table",
            keys(Modifiers::NONE, Key::Home),
            there,
        ),
        entry(
            Menu::Look,
            Command::ZoomIn,
            "Closer",
            "Zoom in",
            keys(Modifiers::NONE, Key::Plus),
            there || has_garment,
        ),
        entry(
            Menu::Look,
            Command::ZoomOut,
            "Further away",
            "Zoom out",
            keys(Modifiers::NONE, Key::Minus),
            there || has_garment,
        ),
        entry(
            Menu::Look,
            Command::TrueSize,
            "True size",
            "One millimetre on the table is one on the screen",
            keys(Modifiers::NONE, Key::End),
            true,
        ),
        entry(
            Menu::Look,
            Command::Ask(Question::ScreenSize),
            "Measure the screen\u{2026}",
            "Hold a ruler to the screen once, so that true size is true",
            None,
            true,
        ),
        entry(
            Menu::Look,
            Command::Choose(Chosen::default()),
            "Choose nothing",
            "Let go of the chosen piece",
            keys(Modifiers::NONE, Key::Escape),
            session.chosen.piece.is_some(),
        ),
    ];
    for (export, words, tip) in [
        (
            Export::PagesPdf,
            "Pages as PDF\u{2026}",
            "True-scale pages to print and join",
        ),
        (
            Export::OneSheetPdf,
            "One sheet as PDF\u{2026}",
            "All pieces on one large sheet",
        ),
        (
            Export::Svg,
            "Drawing as SVG\u{2026}",
            "All pieces as a drawing in millimetres",
        ),
        (
            Export::Dxf,
            "Drawing as DXF\u{2026}",
            "All pieces for other programs, in the layers of ASTM D6673",
        ),
        (
            Export::Png,
            "Picture as PNG\u{2026}",
            "All pieces as a picture, 10 pixels to a millimetre",
        ),
        (
            Export::MakingSheet,
            "Making sheet as PDF\u{2026}",
            "Steps with pictures, cutting list, what you need",
        ),
        (
            Export::LayPlan,
            "Lay plan as PDF\u{2026}",
            "Each offcut to scale, with measures from its edges",
        ),
        (
            Export::LayPlanTrueSize,
            "Lay plan at true size as PDF\u{2026}",
            "What lies on each offcut, on pages to join and lay under",
        ),
    ] {
        let command = Command::Export(export);
        let shortcut = keys(CTRL, Key::P).filter(|_| export == Export::PagesPdf);
        list.push(entry(Menu::Project, command, words, tip, shortcut, there));
    }
    for (tray, key, tip) in [
        (Tray::Body, Key::F1, "Whom it is for: body and tape figures"),
        (Tray::Chalk, Key::F2, "Draw, alter and true pieces by hand"),
        (Tray::Fit, Key::F3, "How it fits: ease, allowances, details"),
        (
            Tray::Folds,
            Key::F4,
            "Pleats, gathers, tucks, ruffles and joined strips",
        ),
        (
            Tray::Cloth,
            Key::F5,
            "Which piece is cut where, on the cloth that is there",
        ),
        (Tray::Paper, Key::F6, "How it is printed: paper and pages"),
        (Tray::Make, Key::F7, "In which order it is sewn"),
    ] {
        let ticked = session.tray == tray;
        list.push(Entry {
            ticked,
            ..entry(
                Menu::Look,
                Command::Tray(tray),
                tray.name(),
                tip,
                keys(Modifiers::NONE, key),
                has_fitting || matches!(tray, Tray::Chalk | Tray::Body),
            )
        });
    }
    list.push(Entry {
        ticked: session.settings.findings_open,
        ..entry(
            Menu::Look,
            Command::FoldFindings,
            "Findings",
            "Fold or unfold the list of findings",
            keys(Modifiers::NONE, Key::F9),
            true,
        )
    });
    for (ghost, words) in [
        (Ghost::SameHeight, "Source behind, at the same height"),
        (Ghost::TrueSize, "Source behind, at its true size"),
        (Ghost::Hidden, "No source behind"),
    ] {
        let ticked = session.settings.ghost == ghost;
        list.push(Entry {
            ticked,
            ..entry(
                Menu::Look,
                Command::Ghost(ghost),
                words,
                "The source garment as a chalk ghost",
                None,
                true,
            )
        });
    }
    for (look, words) in [
        (Look::Desktop, "As desktop"),
        (Look::Light, "Light"),
        (Look::Dark, "Dark"),
    ] {
        let ticked = session.settings.look == look;
        list.push(Entry {
            ticked,
            ..entry(
                Menu::Look,
                Command::Look(look),
                words,
                "Light or dark window",
                None,
                true,
            )
        });
    }
    for (scale, words) in [
        (1.0, "Size 100 %"),
        (1.25, "Size 125 %"),
        (1.5, "Size 150 %"),
        (2.0, "Size 200 %"),
    ] {
        let ticked = session.settings.scale == scale;
        list.push(Entry {
            ticked,
            ..entry(
                Menu::Look,
                Command::Scale(scale),
                words,
                "Size of everything in the window",
                None,
                true,
            )
        });
    }
    list
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_two_commands_share_their_keys_and_every_command_has_words_and_a_tip() {
        let table = table(&Session::for_tests(
            petitoile_core::project::Project::default(),
        ));
        for (i, entry) in table.iter().enumerate() {
            assert!(!entry.words.is_empty() && !entry.tip.is_empty());
            let twice = table
                .iter()
                .skip(i + 1)
                .any(|other| other.shortcut.is_some() && other.shortcut == entry.shortcut);
            assert!(!twice, "{} shares its keys", entry.words);
        }
    }
}
