//! What other garments of an outfit cover.

use std::collections::BTreeMap;

/// What other garments hide of one: a piece that is not named shows.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Hidden {
    /// By the name of the piece.
    pub pieces: BTreeMap<String, HiddenPiece>,
}

/// What is hidden of a piece.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HiddenPiece {
    /// Name of the fitting that covers most of it.
    pub by: String,
    /// Is all of it hidden? Else only its fold.
    pub whole: bool,
}

impl Hidden {
    /// Name of the fitting that hides all of this piece.
    pub fn whole(&self, piece: &str) -> Option<&str> {
        let hidden = self.pieces.get(piece)?;
        hidden.whole.then_some(hidden.by.as_str())
    }

    /// Name of the fitting that hides at least the fold of this piece.
    pub fn fold(&self, piece: &str) -> Option<&str> {
        self.pieces.get(piece).map(|hidden| hidden.by.as_str())
    }

    /// What several outfits hide together: only what every one of them hides may look pieced.
    #[must_use]
    pub fn in_all(outfits: &[Self]) -> Self {
        let Some((first, others)) = outfits.split_first() else {
            return Self::default();
        };
        let mut pieces = first.pieces.clone();
        pieces.retain(|name, _| others.iter().all(|other| other.pieces.contains_key(name)));
        for (name, hidden) in &mut pieces {
            let whole = |other: &Self| other.whole(name).is_some();
            hidden.whole = hidden.whole && others.iter().all(whole);
        }
        Self { pieces }
    }
}
