//! From what a reader found to a garment that is ready to adapt, in one pure step. The window and the command line both go
//! this way: the same drawing with the same choices always gives the same garment.

use std::sync::Arc;

use kurbo::BezPath;
use petitoile_core::body::Body;
use petitoile_core::edit::Edit;
use petitoile_core::garment::Garment;
use petitoile_core::readying::{self, Answers, Proposal};
use petitoile_exchange::bring_in::recognise::{
    self, Recognised, RecognisedPiece, Thing, garment, recognise_at,
};
use petitoile_exchange::bring_in::scale::{self, ScaleCheck};
use petitoile_exchange::bring_in::sheets::{Joined, Matches, PagePlaces, joined};
use petitoile_exchange::bring_in::{BringInError, FoundDrawing, FoundSheet, Pace};

use crate::canvas::shapes;

/// Lines of two pages that lie this near are one, mm: as well as a home printer feeds paper (common practice, no source).
const MEETS: f64 = 0.5;
/// How finely lines are flattened to be painted, mm.
const FINE: f64 = 0.05;

/// What the maker has chosen on the way, and answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Choices {
    /// Where the pages lie; `None`: as it is proposed.
    pub places: Option<PagePlaces>,
    /// By how much everything is made larger, across and along.
    pub larger: (f64, f64),
    /// What lines and words are taken for.
    pub pieces: recognise::Choices,
    /// What was answered to the proposals.
    pub answers: Answers,
    /// Name of the garment.
    pub name: String,
    /// The body it was made for, as long as no proposal about it is accepted.
    pub made_for: Arc<Body>,
}

/// A drawing, and what its pages share.
pub struct Source {
    /// What was read.
    pub drawing: FoundDrawing,
    /// What its pages share; `None` when there is one page only.
    pub matches: Option<Matches>,
}

impl Source {
    /// Looks through the pages once.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is stopped from outside.
    pub fn of(drawing: FoundDrawing, pace: &Pace<'_>) -> Result<Self, BringInError> {
        let matches = match drawing.sheets.len() {
            0 | 1 => None,
            _ => Some(Matches::of(&drawing, pace)?),
        };
        Ok(Self { drawing, matches })
    }

    /// A drawing beside what was there before.
    ///
    /// # Errors
    /// [`BringInError::Stopped`] when it is stopped from outside.
    pub fn beside(
        before: Option<&Self>,
        drawing: FoundDrawing,
        pace: &Pace<'_>,
    ) -> Result<Self, BringInError> {
        let all = match before {
            None => drawing,
            Some(before) => before.drawing.clone().and(drawing),
        };
        Self::of(all, pace)
    }

    /// Where its pages lie, as far as they tell it.
    fn proposed(&self, pace: &Pace<'_>) -> Result<PagePlaces, BringInError> {
        match &self.matches {
            Some(matches) => matches.proposed(&self.drawing, pace),
            None => Ok(PagePlaces::in_rows(&self.drawing, &Default::default())),
        }
    }
}

/// Everything that follows from a drawing and the choices.
#[derive(Debug, Clone)]
pub struct Worked {
    /// The choices.
    pub choices: Choices,
    /// Where the pages lie.
    pub places: PagePlaces,
    /// The pages joined, true to scale as far as was chosen.
    pub joined: Joined,
    /// What its own squares and rulers say, after that.
    pub says: ScaleCheck,
    /// The pieces.
    pub recognised: Recognised,
    /// The same as a garment, before anything is answered.
    pub garment: Garment,
    /// What it still needs, and what is proposed.
    pub proposal: Proposal,
    /// With every accepted proposal in it.
    pub readied: Garment,
    /// What it lacks to be adapted.
    pub lacking: Vec<String>,
    /// Every line of the sheet, flattened to be painted.
    pub flat: Vec<Vec<shapes::Flat>>,
    /// Every piece as paper, ready to be painted.
    pub papers: Vec<Paper>,
    /// What is part of a piece, sorted.
    pub in_pieces: Vec<Thing>,
}

/// A piece as paper.
#[derive(Debug, Clone)]
pub struct Paper {
    /// Its outline.
    pub outline: shapes::Flat,
    /// Its inside.
    pub inside: shapes::Fill,
}

impl Choices {
    /// Nothing chosen yet.
    pub fn new(name: &str, made_for: Arc<Body>) -> Self {
        Self {
            places: None,
            larger: (1.0, 1.0),
            pieces: recognise::Choices::default(),
            answers: Answers::default(),
            name: name.to_owned(),
            made_for,
        }
    }
}

/// Works everything out. `known` are the bodies the garment may have been made for.
///
/// # Errors
/// [`BringInError::Stopped`] when it is stopped from outside.
pub fn work(
    source: &Source,
    choices: &Choices,
    known: &[Arc<Body>],
    pace: &Pace<'_>,
) -> Result<Worked, BringInError> {
    let places = match &choices.places {
        Some(places) => places.clone(),
        None => source.proposed(&pace.part(0.0, 0.2))?,
    };
    let mut joined = match source.drawing.sheets.as_slice() {
        [only] => alone(only),
        _ => joined(&source.drawing, &places, MEETS, &pace.part(0.2, 0.5))?,
    };
    if choices.larger != (1.0, 1.0) {
        joined.sheet = scale::scaled(&joined.sheet, choices.larger.0, choices.larger.1);
    }
    let says = scale::scale_check(&joined.sheet);
    let recognised = recognise_at(&joined.sheet, &choices.pieces, &pace.part(0.5, 0.9))?;
    let garment = garment(&recognised, &choices.name, choices.made_for.clone());
    let proposal = readying::propose(&garment, known, &choices.answers);
    let readied = readying::readied(&garment, known, &choices.answers);
    let lacking = readying::is_ready(&readied).err().unwrap_or_default();
    let flat = flattened(&joined.sheet);
    let papers = recognised.pieces.iter().map(paper).collect();
    let made_of = recognised.pieces.iter().flat_map(|piece| &piece.made_of);
    let mut in_pieces: Vec<Thing> = made_of.copied().collect();
    in_pieces.sort();
    pace.at(1.0)?;
    Ok(Worked {
        choices: choices.clone(),
        places,
        joined,
        says,
        recognised,
        garment,
        proposal,
        readied,
        lacking,
        flat,
        papers,
        in_pieces,
    })
}

fn paper(piece: &RecognisedPiece) -> Paper {
    let outline = shapes::flat(&piece.piece.outline.path(), FINE);
    Paper {
        inside: shapes::fill(&outline),
        outline,
    }
}

impl Worked {
    /// The sheet.
    pub fn sheet(&self) -> &FoundSheet {
        &self.joined.sheet
    }

    /// Is it ready to be adapted?
    pub fn is_ready(&self) -> bool {
        self.lacking.is_empty()
    }

    /// The change that puts the garment into a project.
    pub fn edit(&self) -> Edit {
        Edit::PutGarment(Arc::new(self.readied.clone()))
    }
}

/// A drawing of one page needs no joining.
fn alone(sheet: &FoundSheet) -> Joined {
    Joined {
        sheet: sheet.clone(),
        worst_gap: 0.0,
        joins: 0,
        doubles: 0,
        left: Vec::new(),
    }
}

fn flattened(sheet: &FoundSheet) -> Vec<Vec<shapes::Flat>> {
    let strokes = |path: &BezPath| shapes::strokes(path, FINE);
    sheet.lines.iter().map(|line| strokes(&line.path)).collect()
}
