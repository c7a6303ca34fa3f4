//! What the maker answered.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{NONE, Proposal, Proposed};

/// What the maker answered, by the keys of the proposals.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Answers {
    given: BTreeMap<String, Answer>,
}

/// The answer to one proposal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub enum Answer {
    /// Taken this way, by the way's key.
    Way(String),
    /// Nothing of it is taken.
    Refused,
}

impl Answers {
    /// Takes a proposal as it is proposed: its best way.
    pub fn accept(&mut self, item: &Proposed) {
        let way = item.ways.first().map_or(NONE, |way| way.key.as_str());
        self.choose(&item.key, way);
    }

    /// Takes a proposal another way.
    pub fn choose(&mut self, item: &str, way: &str) {
        let answer = if way == NONE {
            Answer::Refused
        } else {
            Answer::Way(way.to_owned())
        };
        self.given.insert(item.to_owned(), answer);
    }

    /// Takes nothing of a proposal.
    pub fn refuse(&mut self, item: &str) {
        self.given.insert(item.to_owned(), Answer::Refused);
    }

    /// Forgets an answer.
    pub fn forget(&mut self, item: &str) {
        self.given.remove(item);
    }

    /// What was answered to a proposal.
    pub fn to(&self, item: &str) -> Option<&Answer> {
        self.given.get(item)
    }

    /// The key of the way that was taken; `None` when it was refused or not answered.
    pub fn way(&self, item: &str) -> Option<&str> {
        match self.given.get(item) {
            Some(Answer::Way(way)) => Some(way),
            Some(Answer::Refused) | None => None,
        }
    }

    /// Was it refused?
    pub fn is_refused(&self, item: &str) -> bool {
        self.given.get(item) == Some(&Answer::Refused)
    }

    /// Is any proposal taken, one way or another?
    pub fn take_something(&self) -> bool {
        self.given
            .values()
            .any(|answer| matches!(answer, Answer::Way(_)))
    }

    /// How many proposals are answered.
    pub fn count(&self) -> usize {
        self.given.len()
    }
}

/// Accepts every item as it is proposed, and counts them.
pub fn accept_all(proposal: &Proposal) -> (Answers, usize) {
    let mut answers = Answers::default();
    for item in &proposal.items {
        answers.accept(item);
    }
    (answers, proposal.items.len())
}
