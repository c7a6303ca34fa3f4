//! Readying: what a garment that was brought in still needs before it can be adapted, and what the program proposes.
//!
//! Pieces come in as bare outlines: turned any way, mirrored, shuffled, without names or marks. From their shapes and
//! from edges of one length the program reads what each piece is, how it lies on the body and how it is cut; from that
//! follow seams, body lines, tape lines, openings, and the body it was made for. Everything is a proposal with its doubt
//! and what it rests on; the maker accepts it, takes another way, or refuses it, and answers narrow what is proposed
//! after them.
//!
//! The way runs forward only: sides of an outline (`sides`), kinds of pieces (`kinds`), the pieces together
//! (`reading`), seams (`sewing`), who wore it (`wearer`), body lines (`levels`), tapes and openings (`taping`), the
//! garment with all that in it (`made`). Never here: files, the window, a project; what is proposed is never put in
//! without an answer.
//!
//! All shares and angles that tell kinds apart are our own, set on the garments of the wardrobe and the drafts; no source.

mod answers;
mod attached;
mod bands;
mod finishes;
mod items;
mod kinds;
mod levels;
mod made;
mod named;
mod needs;
mod opening;
mod panels;
mod plan;
mod read;
mod reading;
mod sewing;
mod sides;
mod sleeves;
mod taping;
mod upright;
mod wearer;
mod what;

pub use answers::{Answer, Answers, accept_all};
pub use needs::is_ready;
pub use wearer::{KEY as MADE_FOR, made_for_way};

use std::sync::Arc;

use crate::allowance::without_allowance;
use crate::body::Body;
use crate::garment::Garment;
use plan::Plan;

/// What is proposed for a garment, and what no proposal could be made for.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Proposal {
    /// Proposals in the order in which they are best answered: pieces, seams, the body, lines, tapes, openings.
    pub items: Vec<Proposed>,
    /// What no proposal could be made for, and what the maker should do.
    pub lacking: Vec<String>,
}

/// One proposal: what a maker confirms in one go.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposed {
    /// Names it in [`Answers`]; stays the same while other answers change.
    pub key: String,
    /// What it is about.
    pub kind: ProposedKind,
    /// Where it lies, by the names the garment has now.
    pub places: Vec<ProposedPlace>,
    /// What is proposed, in a maker's words: the best way, or the one that was chosen.
    pub words: String,
    /// How sure it is, 0 to 1.
    pub certainty: f64,
    /// What it rests on: "edges of one length, 135.5 mm".
    pub rests_on: String,
    /// The ways it can be taken, the best first; the last one takes nothing.
    pub ways: Vec<Way>,
}

/// What a proposal is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ProposedKind {
    /// What a piece is: its name and those of its edges, its part of the body, how it lies, its fold and copies; a
    /// collar, cuff or band also with what it is sewn to.
    Piece,
    /// What is sewn to what.
    Seam,
    /// The body it was made for. The likeliest are offered; any other of the known bodies, one with typed girths too,
    /// can be chosen by [`made_for_way`].
    MadeFor,
    /// The levels of the body on the pieces of one frame.
    BodyLines,
    /// Where tapes are laid, and what they answer to.
    Tapes,
    /// Where it opens.
    Opening,
}

impl ProposedKind {
    /// Every kind, in the order they are proposed.
    pub const ALL: [Self; 6] = [
        Self::Piece,
        Self::Seam,
        Self::MadeFor,
        Self::BodyLines,
        Self::Tapes,
        Self::Opening,
    ];

    /// Its name: "seam".
    pub const fn label(self) -> &'static str {
        match self {
            Self::Piece => "piece",
            Self::Seam => "seam",
            Self::MadeFor => "made for",
            Self::BodyLines => "body lines",
            Self::Tapes => "tape lines",
            Self::Opening => "opening",
        }
    }
}

/// Where a proposal lies: a piece, and edges of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProposedPlace {
    /// Name of the piece as it is now.
    pub piece: String,
    /// Names of its edges as they are now; none when it is about the whole piece.
    pub edges: Vec<String>,
}

/// One way of taking a proposal.
#[derive(Debug, Clone, PartialEq)]
pub struct Way {
    /// Names it among the ways of its proposal; stays the same while other answers change.
    pub key: String,
    /// In a maker's words.
    pub words: String,
    /// How sure it is, 0 to 1.
    pub certainty: f64,
}

/// The way that takes nothing.
pub const NONE: &str = "none";

/// What a garment still needs before it can be adapted, and what the program proposes.
///
/// `known` are the bodies it may have been made for. What is answered stands as it was answered; what is not is
/// proposed as if its best way were taken.
pub fn propose(garment: &Garment, known: &[Arc<Body>], answers: &Answers) -> Proposal {
    let garment = &net(garment);
    let plan = Plan::of(garment, known, answers);
    let items = items::items(garment, &plan, answers);
    let mut lacking: Vec<String> = Vec::new();
    for (i, piece) in garment.pieces.iter().enumerate() {
        let key = reading::piece_key(&piece.name);
        if plan.read(i).is_none()
            && !reading::is_settled(garment, piece)
            && !answers.is_refused(&key)
        {
            lacking.push(format!(
                "{}: what it is cannot be told from its shape; choose what it follows, and mark what it is sewn to",
                piece.name
            ));
        }
    }
    // What would still be lacking if everything was taken as it is proposed.
    let mut all = answers.clone();
    for item in &items {
        all.accept(item);
    }
    let ready = made::made(garment, &plan, &all);
    for lack in is_ready(&ready).err().unwrap_or_default() {
        let told = |piece: &str| lack.starts_with(&format!("{piece}:"));
        let unread = garment.pieces.iter().enumerate().any(|(i, piece)| {
            plan.read(i).is_none()
                && told(&piece.name)
                && lacking
                    .iter()
                    .any(|l| l.starts_with(&format!("{}:", piece.name)))
        });
        if !unread {
            lacking.push(lack);
        }
    }
    Proposal { items, lacking }
}

/// The garment with every accepted proposal in it.
///
/// What is not accepted stays as it is; an allowance that was drawn in is taken off once something is accepted. The
/// outcome is a valid garment whatever was answered.
///
/// # Example
/// ```
/// # use std::sync::Arc;
/// # use petitoile_core::{garment::Garment, body::{Body, BodyKind}, readying::{accept_all, propose, readied, Answers}};
/// # let garment = Garment { name: "bag".into(), made_for: Arc::new(Body::new("", BodyKind::Doll)), pieces: vec![],
/// #     seams: vec![], tape_lines: vec![], openings: vec![], cloths: Default::default(), included_allowance: Default::default() };
/// let proposal = propose(&garment, &[], &Answers::default());
/// let (answers, confirmations) = accept_all(&proposal);
/// assert_eq!(confirmations, proposal.items.len());
/// let ready = readied(&garment, &[], &answers);
/// # assert_eq!(ready, garment);
/// ```
pub fn readied(garment: &Garment, known: &[Arc<Body>], answers: &Answers) -> Garment {
    if !answers.take_something() {
        return garment.clone();
    }
    let garment = &net(garment);
    made::made(garment, &Plan::of(garment, known, answers), answers)
}

/// The garment by its stitch lines: an allowance that is drawn in would hide which edges are of one length.
fn net(garment: &Garment) -> Garment {
    let mut net = garment.clone();
    if garment.included_allowance.is_empty() {
        return net;
    }
    for piece in &mut net.pieces {
        if let Ok(stripped) = without_allowance(piece, &garment.included_allowance) {
            net.included_allowance
                .retain(|at, _| at.piece != stripped.name);
            *piece = Arc::new(stripped);
        }
    }
    net
}
