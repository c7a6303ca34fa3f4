//! An alteration that is half done: what it would make, its numbers beside the pointer, or why it cannot be made.

use std::sync::Arc;

use kurbo::Point;
use petitoile_core::Mm;
use petitoile_core::alteration::{Alteration, Altered, SeamChange};
use petitoile_core::finding::Finding;
use petitoile_core::garment::Garment;
use petitoile_core::piece::Piece;

use super::ask;
use super::brush::Brush;
use super::hand::Hand;
use crate::command::Command;
use crate::wording;

/// How many lines of numbers stand beside the pointer at most.
const LINES: usize = 6;
/// A smaller change of length is not told, mm.
const TOLD: f64 = 0.05;

/// An alteration that is half done.
#[derive(Default)]
pub struct Trial {
    tried: Option<Tried>,
    sent: bool,
    said: bool,
}

struct Tried {
    alteration: Result<Alteration, String>,
    on: Option<Arc<Garment>>,
    made: Result<Altered, String>,
    lines: Vec<String>,
    at: Option<Point>,
}

/// Is it shown on the whole table with its findings, or only painted?
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shows {
    /// The table, the findings and the numbers of the tray follow too.
    Everywhere,
    /// Only a line under the pointer: what the next click would do.
    Painted,
}

impl Trial {
    /// Works out what an alteration would make, and shows it; where it cannot be made, says why.
    pub fn show(
        &mut self,
        hand: &Hand<'_>,
        alteration: Result<Alteration, String>,
        at: Option<Point>,
        shows: Shows,
        commands: &mut Vec<Command>,
    ) {
        let is_same = self.tried.as_ref().is_some_and(|tried| {
            tried.alteration == alteration
                && tried
                    .on
                    .as_ref()
                    .zip(hand.garment)
                    .is_some_and(|(a, b)| Arc::ptr_eq(a, b))
        });
        if let (true, Some(tried)) = (is_same, &mut self.tried) {
            tried.at = at.or(tried.at);
            if shows == Shows::Painted || self.sent {
                return;
            }
        } else {
            self.tried = Some(Tried::of(hand, alteration, at));
        }
        if shows == Shows::Everywhere {
            self.tell(commands);
        }
    }

    fn tell(&mut self, commands: &mut Vec<Command>) {
        let Some(tried) = &self.tried else {
            return;
        };
        match (&tried.alteration, &tried.made) {
            (Ok(alteration), Ok(_)) => {
                commands.push(Command::TryAlter(alteration.clone()));
                if std::mem::take(&mut self.said) {
                    commands.push(Command::Hush);
                }
            }
            (_, Err(why)) | (Err(why), _) => {
                commands.push(Command::StopTrying);
                commands.push(Command::Say(why.clone()));
                self.said = true;
            }
        }
        self.sent = true;
    }

    /// Makes it: one undo step. Gives whether it could be made; where not, says why.
    pub fn finish(
        &mut self,
        hand: &Hand<'_>,
        alteration: Result<Alteration, String>,
        commands: &mut Vec<Command>,
    ) -> bool {
        let done = match alteration {
            Ok(alteration) => ask::alter(hand, alteration, commands),
            Err(why) => {
                commands.push(Command::StopTrying);
                commands.push(Command::Say(why));
                false
            }
        };
        *self = Self::default();
        done
    }

    /// Stops showing it. `false` when nothing was shown.
    pub fn give_up(&mut self, commands: &mut Vec<Command>) -> bool {
        let was = self.tried.is_some();
        if self.sent {
            commands.push(Command::StopTrying);
        }
        if self.said {
            commands.push(Command::Hush);
        }
        *self = Self::default();
        was
    }

    /// The garment as it would be.
    pub fn made(&self) -> Option<&Garment> {
        let made = self.tried.as_ref()?.made.as_ref().ok()?;
        Some(&made.garment)
    }

    /// Its numbers, or why it cannot be made, in one line.
    pub fn words(&self) -> Option<String> {
        self.tried.as_ref().map(|tried| tried.lines.join(", "))
    }

    /// Paints what it would make, with the numbers beside the pointer.
    pub fn paint(&self, hand: &Hand<'_>, brush: &Brush<'_>) {
        let Some(tried) = &self.tried else {
            return;
        };
        if let (Ok(alteration), Ok(made)) = (&tried.alteration, &tried.made) {
            for piece in changed(hand, &made.garment) {
                let moved = hand.moved(lies_on(hand, alteration, piece));
                let mut path = piece.outline.path();
                path.apply_affine(kurbo::Affine::translate(moved));
                brush.line(&path);
            }
        }
        if let Some(at) = tried.at {
            let words = tried.lines.join("\n");
            if tried.made.is_ok() {
                brush.words(at, &words);
            } else {
                brush.warning(at, &words);
            }
        }
    }
}

impl Tried {
    fn of(hand: &Hand<'_>, alteration: Result<Alteration, String>, at: Option<Point>) -> Self {
        let made = match (&alteration, hand.garment) {
            (Ok(alteration), Some(garment)) => alteration
                .applied(garment)
                .map_err(|why| wording::sentence(&hand.unit.reword(&why.to_string()))),
            (Err(why), _) => Err(why.clone()),
            (Ok(_), None) => Err("There is no garment to work on yet".to_owned()),
        };
        let lines = match (&alteration, &made) {
            (Ok(alteration), Ok(made)) => numbers(hand, alteration, made),
            (_, Err(why)) | (Err(why), _) => vec![why.clone()],
        };
        Self {
            alteration,
            on: hand.garment.cloned(),
            made,
            lines,
            at,
        }
    }
}

/// The pieces that an alteration makes or changes.
fn changed<'a>(hand: &'a Hand<'_>, made: &'a Garment) -> impl Iterator<Item = &'a Arc<Piece>> {
    made.pieces.iter().filter(|piece| {
        hand.piece(&piece.name)
            .is_none_or(|before| !Arc::ptr_eq(before, piece) && before != *piece)
    })
}

/// The piece on whose place of the table a changed piece is shown: its own, or for a new one that it was made from.
fn lies_on<'a>(hand: &'a Hand<'_>, alteration: &'a Alteration, piece: &'a Piece) -> &'a str {
    if hand.piece(&piece.name).is_some() || hand.table.piece(&piece.name).is_some() {
        return &piece.name;
    }
    let joined = match alteration {
        Alteration::Pieces(petitoile_core::alteration::PiecesChange::Join { seam, .. })
        | Alteration::Seam(SeamChange::MoveLine { seam, .. }) => hand
            .garment
            .and_then(|garment| garment.seams.iter().find(|other| other.name == *seam))
            .and_then(|seam| seam.a.first())
            .map(|stretch| stretch.piece.as_str()),
        _ => None,
    };
    joined.unwrap_or_else(|| alteration.piece())
}

/// What is told beside the pointer: what is done, edges that become longer or shorter, what moves besides.
fn numbers(hand: &Hand<'_>, alteration: &Alteration, made: &Altered) -> Vec<String> {
    let mut lines = vec![wording::sentence(&alteration.words(hand.unit))];
    for piece in changed(hand, &made.garment) {
        match hand.piece(&piece.name) {
            Some(before) => lines.extend(lengths(hand, before, piece)),
            None => {
                let bounds = piece.outline.bounds();
                lines.push(format!(
                    "{}: {} wide, {} high",
                    piece.name,
                    wording::length(Mm(bounds.width()), hand.unit),
                    wording::length(Mm(bounds.height()), hand.unit)
                ));
            }
        }
    }
    let said = |note: &Finding| wording::sentence(&hand.unit.reword(&note.what));
    lines.extend(made.notes.iter().map(said));
    if lines.len() > LINES {
        let more = lines.len() - LINES + 1;
        lines.truncate(LINES - 1);
        lines.push(format!("and {more} more"));
    }
    lines
}

/// The edges of a piece that change their length.
fn lengths(hand: &Hand<'_>, before: &Piece, piece: &Piece) -> Vec<String> {
    let edges = piece.outline.edges().iter();
    let told = edges.filter_map(|edge| {
        let length = edge.line.length();
        let by = length - before.outline.edge(&edge.name)?.line.length();
        (by.abs() > TOLD).then(|| {
            format!(
                "{} of {} {} ({})",
                edge.name,
                piece.name,
                wording::length(Mm(length), hand.unit),
                wording::difference(Mm(by), hand.unit)
            )
        })
    });
    told.collect()
}
