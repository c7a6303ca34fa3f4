//! Does every name in a project name something that is there?

use std::collections::BTreeSet;

use super::Project;
use crate::alteration::{Alteration, PiecesChange};
use crate::edge::{EdgeRef, OutlinePoint};
use crate::garment::Garment;
use crate::piece::Piece;
use crate::pins::PinnedTo;
use crate::tape::TapePath;

/// A name that names nothing, or two things.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum ReferenceError {
    /// Nothing of that name.
    #[error("{within}: there is no {what} called {name}; put it back or take it out of {within}")]
    Missing {
        /// Where the name stands: "Dress, seam side".
        within: String,
        /// "piece", "edge", ...
        what: &'static str,
        /// The name.
        name: String,
    },
    /// Two things of one name.
    #[error("{within}: two of its {what} are called {name}; rename one")]
    Twice {
        /// Where they are: "Dress".
        within: String,
        /// "pieces", "seams", ...
        what: &'static str,
        /// The name.
        name: String,
    },
}

impl Project {
    /// Checks a project that came from elsewhere: names are unique, and every name that a fitting, an outfit, a seam, a
    /// tape line, an opening or a part of a piece uses is there.
    ///
    /// What a fitting chose about a piece, edge, seam or tape line that is no longer in its garment is no error: the
    /// choice waits, see [`waiting_choices`](Self::waiting_choices).
    ///
    /// # Errors
    /// The first [`ReferenceError`], which names the place and what is missing.
    pub fn check_references(&self) -> Result<(), ReferenceError> {
        let own = || "the project".to_owned();
        unique(
            own,
            "garments",
            self.garments.iter().map(|garment| &garment.name),
        )?;
        unique(own, "bodies", self.bodies.iter().map(|body| &body.name))?;
        unique(
            own,
            "fittings",
            self.fittings.iter().map(|fitting| &fitting.name),
        )?;
        unique(
            own,
            "outfits",
            self.outfits.iter().map(|outfit| &outfit.name),
        )?;
        unique(own, "pins", self.pins.iter().map(|pin| &pin.name))?;
        self.garments
            .iter()
            .try_for_each(|garment| garment.check_references())?;
        for fitting in &self.fittings {
            let within = || format!("fitting {}", fitting.name);
            there(
                self.garment(&fitting.garment).is_some(),
                within,
                "garment",
                &fitting.garment,
            )?;
        }
        for outfit in &self.outfits {
            for layer in &outfit.layers {
                there(
                    self.fitting(layer).is_some(),
                    || format!("outfit {}", outfit.name),
                    "fitting",
                    layer,
                )?;
            }
        }
        for pin in &self.pins {
            let (what, name) = match &pin.on {
                PinnedTo::Garment(name) => ("garment", name),
                PinnedTo::Fitting(name) => ("fitting", name),
            };
            let is = self.pinned_garment(pin).is_some();
            there(is, || format!("pin {}", pin.name), what, name)?;
        }
        Ok(())
    }

    /// Choices of fittings about pieces, edges, seams and tape lines that are not in their garment (any more).
    ///
    /// They do nothing until something of that name is there again.
    pub fn waiting_choices(&self) -> Vec<ReferenceError> {
        let mut waiting = Vec::new();
        for fitting in &self.fittings {
            let Some(garment) = self.garment(&fitting.garment) else {
                continue;
            };
            let within = || format!("fitting {}", fitting.name);
            let pieces = fitting.shaping.keys().chain(fitting.detail_of.keys());
            let pieces = pieces.chain(fitting.laying.pieces.keys());
            let placed = fitting
                .lay_plan
                .iter()
                .flat_map(|plan| &plan.placed)
                .map(|placed| &placed.piece);
            let (made, gone) = followed(garment, &fitting.alterations);
            let known = |name: &str| garment.piece(name).is_some() || made.piece(name).is_some();
            for name in pieces.chain(placed).map(String::as_str) {
                waiting.extend(there(known(name), within, "piece", name).err());
            }
            for name in gone {
                waiting.extend(there(false, within, "piece", name).err());
            }
            for edge in fitting.allowances.single.keys() {
                let now = edge_there(&made, within, edge);
                waiting.extend(edge_there(garment, within, edge).or(now).err());
            }
            for name in fitting.demands.keys() {
                let seams = garment.seams.iter().chain(&made.seams);
                let known = garment
                    .tape_lines
                    .iter()
                    .map(|tape| &tape.name)
                    .chain(seams.map(|seam| &seam.name));
                waiting.extend(
                    there(
                        known.into_iter().any(|other| other == name),
                        within,
                        "tape line or seam",
                        name,
                    )
                    .err(),
                );
            }
        }
        waiting.dedup();
        waiting
    }
}

impl Garment {
    /// Checks that pieces, seams, tape lines and openings have names of their own and name only what is there.
    ///
    /// # Errors
    /// The first [`ReferenceError`], which names the place and what is missing.
    pub fn check_references(&self) -> Result<(), ReferenceError> {
        let own = || self.name.clone();
        unique(own, "pieces", self.pieces.iter().map(|piece| &piece.name))?;
        unique(own, "seams", self.seams.iter().map(|seam| &seam.name))?;
        unique(
            own,
            "tape lines",
            self.tape_lines.iter().map(|tape| &tape.name),
        )?;
        self.pieces
            .iter()
            .try_for_each(|piece| check_piece(&self.name, piece))?;
        for seam in &self.seams {
            let within = || format!("{}, seam {}", self.name, seam.name);
            for stretch in seam.a.iter().chain(&seam.b) {
                edge_there(self, within, &EdgeRef::new(&stretch.piece, &stretch.edge))?;
            }
        }
        for tape in &self.tape_lines {
            let within = || format!("{}, tape line {}", self.name, tape.name);
            for part in &tape.parts {
                for edge in path_edges(&part.path) {
                    edge_there(self, within, &EdgeRef::new(&part.piece, edge))?;
                }
            }
        }
        for opening in &self.openings {
            let within = || format!("{}, opening {}", self.name, opening.name);
            opening
                .hole
                .iter()
                .chain(&opening.slit)
                .try_for_each(|edge| edge_there(self, within, edge))?;
        }
        let within = || format!("{}, included allowance", self.name);
        self.included_allowance
            .keys()
            .try_for_each(|edge| edge_there(self, within, edge))
    }
}

/// The garment with the names a fitting's alterations make, and the pieces that alterations are about and that are
/// there neither before them nor by them.
fn followed<'a>(garment: &Garment, alterations: &'a [Alteration]) -> (Garment, Vec<&'a str>) {
    let mut made = garment.clone();
    let mut gone = Vec::new();
    for alteration in alterations {
        let name = alteration.piece();
        let brings = matches!(alteration, Alteration::Pieces(PiecesChange::Add(_)));
        if !name.is_empty() && !brings && made.piece(name).is_none() {
            gone.push(name);
        }
        if let Ok(altered) = alteration.applied(&made) {
            made = altered.garment;
        }
    }
    (made, gone)
}

fn path_edges(path: &TapePath) -> Vec<&str> {
    match path {
        TapePath::Along { edge, .. } => vec![edge],
        TapePath::Across(from, to) | TapePath::Upright(from, to) => vec![&from.edge, &to.edge],
    }
}

/// What stands on a piece names edges of its own outline.
fn check_piece(garment: &str, piece: &Piece) -> Result<(), ReferenceError> {
    let own = || format!("{garment}, {}", piece.name);
    unique(own, "darts", piece.darts.iter().map(|dart| &dart.name))?;
    let edge = |part: String, name: &str| {
        there(
            piece.outline.edge(name).is_some(),
            || format!("{garment}, {}, {part}", piece.name),
            "edge",
            name,
        )
    };
    for line in &piece.body_lines {
        let part = || format!("body line {}", line.level.label());
        let ends: [&OutlinePoint; 2] = [&line.from, &line.to];
        ends.into_iter()
            .try_for_each(|end| edge(part(), &end.edge))?;
    }
    for dart in &piece.darts {
        edge(format!("dart {}", dart.name), &dart.leg_in)?;
        edge(format!("dart {}", dart.name), &dart.leg_out)?;
    }
    piece
        .notches
        .iter()
        .try_for_each(|notch| edge("notch".to_owned(), &notch.edge))?;
    for op in &piece.fullness {
        edge("fullness".to_owned(), &op.edge)?;
        op.even_to
            .as_ref()
            .map_or(Ok(()), |even_to| edge("fullness".to_owned(), even_to))?;
    }
    Ok(())
}

fn edge_there(
    garment: &Garment,
    within: impl Fn() -> String,
    at: &EdgeRef,
) -> Result<(), ReferenceError> {
    let piece = garment.piece(&at.piece);
    there(piece.is_some(), &within, "piece", &at.piece)?;
    let edge = piece.is_some_and(|piece| piece.outline.edge(&at.edge).is_some());
    there(edge, within, "edge", &at.to_string())
}

fn there(
    is: bool,
    within: impl Fn() -> String,
    what: &'static str,
    name: &str,
) -> Result<(), ReferenceError> {
    if is {
        Ok(())
    } else {
        Err(ReferenceError::Missing {
            within: within(),
            what,
            name: name.to_owned(),
        })
    }
}

fn unique<'a>(
    within: impl Fn() -> String,
    what: &'static str,
    names: impl IntoIterator<Item = &'a String>,
) -> Result<(), ReferenceError> {
    let mut seen = BTreeSet::new();
    match names.into_iter().find(|name| !seen.insert(name.as_str())) {
        None => Ok(()),
        Some(name) => Err(ReferenceError::Twice {
            within: within(),
            what,
            name: name.clone(),
        }),
    }
}
