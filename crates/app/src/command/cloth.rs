//! What can be asked about cloth: the search for where pieces lie, and the stash file.

use petitoile_core::Mm;
use petitoile_core::edit::Edit;

/// What is asked of the search.
#[derive(Debug, Clone, PartialEq)]
pub enum LayAsk {
    /// Lays everything that is neither pinned nor cut, from this seed, by so many steps.
    LayOut {
        /// Where chance starts.
        seed: u64,
        /// When it ends by itself.
        steps: u64,
    },
    /// Holds the search.
    Pause,
    /// Lets it go on.
    GoOn,
    /// Ends it; the best that was found is kept.
    Stop,
    /// Asks what would make everything fit, in trials of so many steps.
    WhyNot {
        /// Where chance starts.
        seed: u64,
        /// Steps of each trial.
        steps: u64,
    },
    /// Gives in on something, and lays everything out again once the pieces are worked out.
    GiveIn {
        /// The change.
        edit: Box<Edit>,
        /// Where chance starts.
        seed: u64,
        /// When it ends by itself.
        steps: u64,
    },
    /// Asks how much of a cloth of this width is needed.
    Needed(Mm),
}

/// What is done with the stash file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum InStash {
    /// Looks what is in it.
    Look,
    /// Puts this offcut of the project into it; begins a stash when there is none.
    Keep(String),
    /// Takes the offcut of this name out of it, for the project.
    TakeOut(String),
    /// Puts what is left of this offcut, once the cut pieces are gone, back into it.
    KeepRests(String),
}
