//! A garment: the source pieces and the body they were made for. Never altered by an adaptation.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::body::Body;
use crate::cloth::Cloth;
use crate::edge::{Edge, EdgeRef, OutlinePoint};
use crate::measure::Measure;
use crate::piece::{Piece, Role, Side};
use crate::seams::Seam;
use crate::tape::{TapeKind, TapeLine, TapePart, TapePath};
use crate::units::Mm;

/// The source pieces and the body they were made for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Garment {
    /// Unique in its project.
    pub name: String,
    /// The body it was made for.
    pub made_for: Arc<Body>,
    /// The pieces, in the maker's order.
    pub pieces: Vec<Arc<Piece>>,
    /// What is sewn to what.
    pub seams: Vec<Seam>,
    /// Where a tape is laid, and what it answers to.
    pub tape_lines: Vec<TapeLine>,
    /// Where it opens to be put on.
    #[serde(default)]
    pub openings: Vec<Opening>,
    /// The cloth of each layer.
    #[serde(default)]
    pub cloths: BTreeMap<Role, Cloth>,
    /// Allowance already included in the drawn outlines, taken off before anything else.
    #[serde(default)]
    pub included_allowance: BTreeMap<EdgeRef, Mm>,
}

/// Where a garment opens to let the body in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Opening {
    /// "centre back".
    pub name: String,
    /// Edges whose sum is the girth of the hole when everything is closed (a neckline); copies counted.
    pub hole: Vec<EdgeRef>,
    /// Edges along which it opens (a back opening), each fully open.
    pub slit: Vec<EdgeRef>,
    /// What has to pass.
    pub passes: Passing,
}

/// What has to pass through an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Passing {
    /// The head, with its wig.
    Head,
    /// A hand.
    Hand,
    /// A foot, over the heel.
    Foot,
    /// Shoulders or hips, whichever is larger, into a waist.
    Trunk,
}

impl Garment {
    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&Arc<Piece>> {
        self.pieces.iter().find(|piece| piece.name == name)
    }

    /// All copies that are cut, over all pieces.
    pub fn copy_count(&self) -> usize {
        self.pieces.iter().map(|piece| piece.copies.len()).sum()
    }
}

/// Why a tape line or an opening cannot be measured.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum TapeError {
    /// It names a piece that is not there.
    #[error("{tape}: there is no piece called {piece}; take it out of the tape line or rename it")]
    NoPiece {
        /// Name of the tape line or opening.
        tape: String,
        /// The piece that was looked for.
        piece: String,
    },
    /// It names an edge that is not there.
    #[error("{tape}: there is no edge {edge}; take it out of the tape line or rename it")]
    NoEdge {
        /// Name of the tape line or opening.
        tape: String,
        /// The edge that was looked for.
        edge: EdgeRef,
    },
}

/// How often the drawn half or whole of a piece lies on the tape that takes this measure.
///
/// As [`Piece::times_round`], but a tape round one arm or one leg meets the copies of one side only.
pub fn times_on_tape(piece: &Piece, measure: Measure) -> f64 {
    let role = if piece.copies_in(Role::Shell) > 0 {
        Some(Role::Shell)
    } else {
        piece.copies.first().map(|copy| copy.role)
    };
    let on = |side: Side| {
        piece
            .copies
            .iter()
            .filter(|copy| Some(copy.role) == role && copy.side == side)
            .count()
    };
    if !is_of_one_limb(measure) || on(Side::Left) == 0 || on(Side::Right) == 0 {
        return piece.times_round();
    }
    let fold = if piece.fold_edge().is_some() {
        2.0
    } else {
        1.0
    };
    (on(Side::Whole) + on(Side::Left).max(on(Side::Right))) as f64 * fold
}

/// Is it a girth round one arm or one leg?
pub fn is_of_one_limb(measure: Measure) -> bool {
    use Measure::{
        AnkleGirth, ArmscyeGirth, CalfGirth, ElbowGirth, HandGirth, HeelGirth, KneeGirth,
        ThighGirth, UpperArmGirth, WristGirth,
    };
    matches!(
        measure,
        UpperArmGirth
            | ElbowGirth
            | WristGirth
            | HandGirth
            | ThighGirth
            | KneeGirth
            | CalfGirth
            | AnkleGirth
            | HeelGirth
            | ArmscyeGirth
    )
}

/// What a tape laid along a tape line reads on the given pieces.
///
/// A girth counts each part as often as its piece goes round the body, takes off the closure overlap and adds the
/// lacing gap; a length is the sum of its parts. Across is measured along x, upright along y, along an edge by its arc.
///
/// # Errors
/// [`TapeError`] when it names something that is not there.
pub fn tape_measure(tape: &TapeLine, pieces: &[Arc<Piece>]) -> Result<Mm, TapeError> {
    let mut sum = 0.0;
    for part in &tape.parts {
        let piece = piece_of(&tape.name, &part.piece, pieces)?;
        let times = if tape.kind == TapeKind::Girth {
            times_on_tape(piece, tape.measure)
        } else {
            1.0
        };
        sum += times * part_length(&tape.name, piece, &part.path)?;
    }
    match tape.kind {
        TapeKind::Girth => Ok(Mm(sum) - tape.overlap + tape.lacing_gap),
        TapeKind::Length => Ok(Mm(sum)),
    }
}

/// What the tape reads on one part, before copies are counted, mm.
///
/// # Errors
/// [`TapeError`] when it names something that is not there.
pub(crate) fn part_measure(
    tape: &str,
    part: &TapePart,
    pieces: &[Arc<Piece>],
) -> Result<f64, TapeError> {
    part_length(tape, piece_of(tape, &part.piece, pieces)?, &part.path)
}

fn piece_of<'a>(tape: &str, name: &str, pieces: &'a [Arc<Piece>]) -> Result<&'a Piece, TapeError> {
    let found = pieces.iter().find(|piece| piece.name == name);
    found
        .map(|piece| &**piece)
        .ok_or_else(|| TapeError::NoPiece {
            tape: tape.to_owned(),
            piece: name.to_owned(),
        })
}

fn edge_of<'a>(tape: &str, piece: &'a Piece, name: &str) -> Result<&'a Edge, TapeError> {
    let missing = || TapeError::NoEdge {
        tape: tape.to_owned(),
        edge: EdgeRef::new(&piece.name, name),
    };
    piece.outline.edge(name).ok_or_else(missing)
}

fn part_length(tape: &str, piece: &Piece, path: &TapePath) -> Result<f64, TapeError> {
    let between = |a: &OutlinePoint, b: &OutlinePoint| {
        let at =
            |p: &OutlinePoint| edge_of(tape, piece, &p.edge).map(|edge| edge.line.at(p.fraction));
        Ok::<_, TapeError>(at(b)? - at(a)?)
    };
    match path {
        TapePath::Along { edge, from, to } => {
            Ok(edge_of(tape, piece, edge)?.line.length() * (to - from).abs())
        }
        TapePath::Across(a, b) => Ok(between(a, b)?.x.abs()),
        TapePath::Upright(a, b) => Ok(between(a, b)?.y.abs()),
    }
}

/// An opening measured.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpeningSize {
    /// Girth of the hole when everything is closed.
    pub hole: Mm,
    /// Length of the slit.
    pub slit: Mm,
}

impl OpeningSize {
    /// Girth of the hole when the slit is open: hole + 2 slit.
    ///
    /// # Source
    /// Geometry: both sides of the slit become part of the hole's edge.
    pub fn open(self) -> Mm {
        Mm(self.hole.0 + 2.0 * self.slit.0)
    }

    /// Length of slit that lets this girth through; 0 when the hole alone does.
    pub fn slit_for(self, girth: Mm) -> Mm {
        Mm(((girth - self.hole).0 / 2.0).max(0.0))
    }
}

impl Opening {
    /// Girth of the hole and length of the slit on the given pieces.
    ///
    /// Hole edges count as often as their piece goes round; those that let a hand or a foot through count one side.
    /// Slit edges count once each.
    ///
    /// # Errors
    /// [`TapeError`] when it names something that is not there.
    pub fn size(&self, pieces: &[Arc<Piece>]) -> Result<OpeningSize, TapeError> {
        let measure = match self.passes {
            Passing::Head => Measure::NeckGirth,
            Passing::Hand => Measure::WristGirth,
            Passing::Foot => Measure::AnkleGirth,
            Passing::Trunk => Measure::WaistGirth,
        };
        let sum = |edges: &[EdgeRef], once: bool| {
            edges.iter().try_fold(0.0, |sum, at| {
                let piece = piece_of(&self.name, &at.piece, pieces)?;
                let times = if once {
                    1.0
                } else {
                    times_on_tape(piece, measure)
                };
                Ok::<_, TapeError>(
                    sum + times * edge_of(&self.name, piece, &at.edge)?.line.length(),
                )
            })
        };
        Ok(OpeningSize {
            hole: Mm(sum(&self.hole, false)?),
            slit: Mm(sum(&self.slit, true)?),
        })
    }
}

/// Girth of an opening when its slit is open; see [`Opening::size`].
///
/// # Errors
/// [`TapeError`] when it names something that is not there.
pub fn opening_girth(opening: &Opening, pieces: &[Arc<Piece>]) -> Result<Mm, TapeError> {
    opening.size(pieces).map(OpeningSize::open)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "tests")]
mod tests {
    use super::*;
    use crate::check::samples::{LEFT, RIGHT, finished_with, strip};
    use crate::edge::Finish;
    use crate::tape::{Hold, TapePart};

    fn part(piece: &str, path: TapePath) -> TapePart {
        TapePart {
            piece: piece.to_owned(),
            path,
        }
    }

    fn tape(measure: Measure, kind: TapeKind, parts: Vec<TapePart>) -> TapeLine {
        TapeLine {
            name: "tape".to_owned(),
            measure,
            share: 1.0,
            kind,
            parts,
            hold: Hold::Auto,
            overlap: Mm(0.0),
            lacing_gap: Mm(0.0),
        }
    }

    fn along(edge: &str) -> TapePath {
        TapePath::Along {
            edge: edge.to_owned(),
            from: 0.0,
            to: 1.0,
        }
    }

    /// A front on the fold, two backs, two sleeves.
    fn bodice() -> Vec<Arc<Piece>> {
        let front = finished_with(strip("Front", 70.0, 60.0), "left", Finish::Fold);
        let pair = |name: &str, width: f64| Piece {
            copies: vec![RIGHT, LEFT],
            ..strip(name, width, 60.0)
        };
        [front, pair("Back", 75.0), pair("Sleeve", 110.0)]
            .into_iter()
            .map(Arc::new)
            .collect()
    }

    #[test]
    fn a_girth_counts_folds_and_pairs_and_its_closure() {
        let across = |piece: &str| {
            part(
                piece,
                TapePath::Across(
                    OutlinePoint::new("left", 0.5),
                    OutlinePoint::new("right", 0.5),
                ),
            )
        };
        let mut bust = tape(
            Measure::BustGirth,
            TapeKind::Girth,
            vec![across("Front"), across("Back")],
        );
        assert_eq!(tape_measure(&bust, &bodice()), Ok(Mm(290.0)));
        (bust.overlap, bust.lacing_gap) = (Mm(12.0), Mm(2.0));
        assert_eq!(tape_measure(&bust, &bodice()), Ok(Mm(280.0)));
    }

    #[test]
    fn a_tape_round_one_arm_meets_one_sleeve() {
        let arm = tape(
            Measure::UpperArmGirth,
            TapeKind::Girth,
            vec![part("Sleeve", along("waist"))],
        );
        assert!((tape_measure(&arm, &bodice()).unwrap().0 - 110.0).abs() < 1e-9);
        let once = vec![Arc::new(Piece {
            copies: vec![RIGHT],
            ..strip("Sleeve", 110.0, 60.0)
        })];
        assert!(
            (tape_measure(&arm, &once).unwrap().0 - 110.0).abs() < 1e-9,
            "asymmetric: one sleeve only"
        );
    }

    #[test]
    fn a_length_is_the_sum_of_its_parts_each_once() {
        let upright = TapePath::Upright(
            OutlinePoint::new("left", 0.0),
            OutlinePoint::new("hem", 0.5),
        );
        let centre = tape(
            Measure::FrontWaistLength,
            TapeKind::Length,
            vec![part("Front", upright), part("Back", along("right"))],
        );
        assert!((tape_measure(&centre, &bodice()).unwrap().0 - 120.0).abs() < 1e-9);
    }

    #[test]
    fn a_tape_on_nothing_says_what_is_missing() {
        let stray = tape(
            Measure::BustGirth,
            TapeKind::Girth,
            vec![part("Yoke", along("hem"))],
        );
        insta::assert_snapshot!(tape_measure(&stray, &bodice()).unwrap_err(), @"tape: there is no piece called Yoke; take it out of the tape line or rename it");
        let stray = tape(
            Measure::BustGirth,
            TapeKind::Girth,
            vec![part("Front", along("neckline"))],
        );
        insta::assert_snapshot!(tape_measure(&stray, &bodice()).unwrap_err(), @"tape: there is no edge Front, neckline; take it out of the tape line or rename it");
    }

    /// Fact sheet J2: play 45 neck 130, head 320, needs a slit of 95; adult neck base 371.2, head 561.1: 95.
    #[test]
    fn a_slit_counts_twice_in_an_opening() {
        let opening = Opening {
            name: "centre back".to_owned(),
            hole: vec![
                EdgeRef::new("Front", "waist"),
                EdgeRef::new("Back", "waist"),
            ],
            slit: vec![EdgeRef::new("Back", "right")],
            passes: Passing::Head,
        };
        assert!((opening.size(&bodice()).unwrap().hole.0 - 290.0).abs() < 1e-9);
        assert!((opening_girth(&opening, &bodice()).unwrap().0 - 410.0).abs() < 1e-9);
        let needs = |hole, girth| {
            OpeningSize {
                hole: Mm(hole),
                slit: Mm(0.0),
            }
            .slit_for(Mm(girth))
            .0
        };
        for (place, hole, girth, slit) in [
            ("play 45 neck", 130.0, 320.0, 95.0),
            ("fashion 29 slim neck", 52.0, 105.0, 26.5),
            ("fashion 29 slim wrist", 27.0, 38.0, 5.5),
            ("fashion 29 slim waist over hip", 84.0, 126.0, 21.0),
            ("play 45 trouser hem", 102.0, 122.0, 10.0),
            ("adult woman neck", 371.2, 561.1, 94.95),
            ("wide enough", 400.0, 320.0, 0.0),
        ] {
            assert!((needs(hole, girth) - slit).abs() < 1e-9, "{place}");
        }
    }
}
