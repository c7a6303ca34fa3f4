//! What each tape line should measure on the target body, and whether the garment follows the body there.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::{AdaptError, EaseRow};
use crate::body::Body;
use crate::cloth::Cloth;
use crate::ease::{cloth_term, handbook_range, target_girth, target_length};
use crate::fitting::{DemandChoice, DetailRule, Fitting};
use crate::garment::{Garment, part_measure, times_on_tape};
use crate::measure::Measure;
use crate::piece::{Frame, Piece, Placement, Role};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart};
use crate::units::Mm;

/// Above this share of the body measure, a girth counts as hanging free (proposal of our own: the fullest sourced
/// wearing ease, a relaxed dress with 160 mm on a 900 mm bust, is 18 %; see fact sheet D1).
const HANGS_ABOVE: f64 = 0.20;

/// The same for lengths.
const LENGTH_HANGS_ABOVE: f64 = 0.40;

/// A tape line with its figures on both bodies.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TapeTarget {
    /// `Fitted` or `Hanging`.
    pub(super) hold: Hold,
    /// The source garment's measure.
    pub(super) source: f64,
    /// What it should be on the target.
    pub(super) target: f64,
    /// The body measure's share, source and target; the target's girth over the pads worn underneath. Lengths are not
    /// made longer for pads: the waist edge is raised instead, so that the hem stays straight ([`crate::layers`]).
    pub(super) body: (f64, f64),
    /// Cloth term in the target.
    pub(super) cloth: f64,
    /// Measure of each part on the source, before counting copies.
    pub(super) parts: Vec<f64>,
}

impl TapeTarget {
    /// Target / source.
    pub(super) fn ratio(&self) -> f64 {
        if self.source.abs() < 1e-9 {
            1.0
        } else {
            self.target / self.source
        }
    }

    /// As a row of the ease table; `got` is what the adapted garment measures.
    pub(super) fn row(&self, tape: &TapeLine, got: f64) -> EaseRow {
        EaseRow {
            name: tape.name.clone(),
            hold: self.hold,
            measure: tape.measure,
            is_girth: tape.kind == TapeKind::Girth,
            body: (Mm(self.body.0), Mm(self.body.1)),
            garment: (Mm(self.source), Mm(got)),
            cloth: Mm(self.cloth),
        }
    }
}

/// Figures of every tape line of the garment, in order.
pub(super) fn tape_targets(
    garment: &Garment,
    fitting: &Fitting,
    pieces: &[Arc<Piece>],
) -> Result<Vec<TapeTarget>, AdaptError> {
    garment
        .tape_lines
        .iter()
        .map(|tape| tape_target(garment, fitting, pieces, tape))
        .collect()
}

fn tape_target(
    garment: &Garment,
    fitting: &Fitting,
    pieces: &[Arc<Piece>],
    tape: &TapeLine,
) -> Result<TapeTarget, AdaptError> {
    let parts = tape_parts(tape, pieces)?;
    let source = whole(tape, &parts, pieces);
    let is_girth = tape.kind == TapeKind::Girth;
    let worn_over = if is_girth {
        fitting.girth_over_pads(tape.measure).0 * tape.share
    } else {
        body_measure(&fitting.body, tape, fitting.with_shoes)
    };
    let body = (body_measure(&garment.made_for, tape, false), worn_over);
    let choice = fitting.demands.get(&tape.name).copied().unwrap_or_default();
    let (cloth0, cloth1) = if is_girth {
        cloth_terms(garment, fitting, tape)
    } else {
        (0.0, 0.0)
    };
    let computed = || {
        if let Some(ease) = choice.ease {
            return body.1 + ease.0 + cloth1;
        }
        let (from, bare, to) = (Mm(body.0), Mm(source - cloth0), Mm(body.1));
        let row = handbook_range(tape.measure, &fitting.body)
            .filter(|_| is_girth && (tape.share - 1.0).abs() < 1e-9);
        if is_girth {
            target_girth(fitting.ease, from, bare, to, row, Mm(cloth1)).0
        } else {
            target_length(fitting.ease, from, bare, to, None).0
        }
    };
    let target = choice.measure.map_or_else(computed, |measure| measure.0);
    Ok(TapeTarget {
        hold: hold(tape, choice, source, body.0),
        source,
        target,
        body,
        cloth: cloth1,
        parts,
    })
}

/// Cloth terms of a girth: in the source garment, and in the target. A lining lies inside the shell.
fn cloth_terms(garment: &Garment, fitting: &Fitting, tape: &TapeLine) -> (f64, f64) {
    let thickness =
        |cloths: &BTreeMap<Role, Cloth>, role| cloths.get(&role).map(|cloth| cloth.thickness);
    let inner = [Role::FlatLined, Role::Interlining, Role::Lining];
    let worn = |role: Role| garment.pieces.iter().any(|piece| piece.copies_in(role) > 0);
    let source_inner: Vec<Mm> = inner
        .iter()
        .filter(|r| worn(**r))
        .filter_map(|r| thickness(&garment.cloths, *r))
        .collect();
    let source = cloth_term(
        &source_inner,
        thickness(&garment.cloths, Role::Shell).unwrap_or_default(),
    );
    // A layer without a cloth of its own at doll size is made of the source's.
    let at_doll_size =
        |role| thickness(&fitting.cloths, role).or_else(|| thickness(&garment.cloths, role));
    let mut layers = vec![fitting.stack_underneath(tape.measure)];
    layers.extend(
        inner
            .iter()
            .filter(|r| worn(**r))
            .filter_map(|r| at_doll_size(*r)),
    );
    let target = cloth_term(&layers, at_doll_size(Role::Shell).unwrap_or_default());
    (source.0 * tape.share, target.0 * tape.share)
}

/// Measures of every part of a tape line.
fn tape_parts(tape: &TapeLine, pieces: &[Arc<Piece>]) -> Result<Vec<f64>, AdaptError> {
    tape.parts
        .iter()
        .map(|part| {
            part_measure(&tape.name, part, pieces)
                .map_err(|e| AdaptError::BadReference(e.to_string()))
        })
        .collect()
}

fn hold(tape: &TapeLine, choice: DemandChoice, source: f64, body: f64) -> Hold {
    if choice.measure.is_some() || choice.ease.is_some() {
        return Hold::Fitted;
    }
    let limit = if tape.kind == TapeKind::Girth {
        HANGS_ABOVE
    } else {
        LENGTH_HANGS_ABOVE
    };
    match choice.hold.unwrap_or(tape.hold) {
        Hold::Auto if body > 0.0 && (source - body) / body > limit => Hold::Hanging,
        Hold::Auto | Hold::Fitted => Hold::Fitted,
        Hold::Hanging => Hold::Hanging,
    }
}

/// The body's own figure for a tape line: its share of the measure; to the floor, shoes count.
fn body_measure(body: &Body, tape: &TapeLine, with_shoes: bool) -> f64 {
    let shoes = if with_shoes && tape.measure == Measure::WaistToFloor {
        body.mm(Measure::ShoeHeight).0
    } else {
        0.0
    };
    (body.mm(tape.measure).0 + shoes) * tape.share
}

/// What a tape line measures on the source, from the measures of its parts.
fn whole(tape: &TapeLine, parts: &[f64], pieces: &[Arc<Piece>]) -> f64 {
    let sum: f64 = tape
        .parts
        .iter()
        .zip(parts)
        .map(|(part, value)| value * times(tape, part, pieces))
        .sum();
    sum - closing(tape)
}

/// What closing takes off a girth on the source.
pub(super) fn closing(tape: &TapeLine) -> f64 {
    if tape.kind == TapeKind::Girth {
        tape.overlap.0 - tape.lacing_gap.0
    } else {
        0.0
    }
}

/// How often a part counts.
pub(super) fn times(tape: &TapeLine, part: &TapePart, pieces: &[Arc<Piece>]) -> f64 {
    let piece = pieces
        .iter()
        .find(|piece| piece.name == part.piece)
        .filter(|_| tape.kind == TapeKind::Girth);
    piece.map_or(1.0, |piece| times_on_tape(piece, tape.measure))
}

/// Ratio that details of a piece follow: height or girth, as the fitting says.
pub(super) fn detail_ratio(garment: &Garment, fitting: &Fitting, piece: Option<&str>) -> f64 {
    let rule = piece
        .and_then(|name| fitting.detail_of.get(name))
        .copied()
        .unwrap_or(fitting.details);
    let by = |m: Measure| fitting.body.mm(m).0 / garment.made_for.mm(m).0.max(1e-9);
    match rule {
        DetailRule::Height => by(Measure::Height),
        DetailRule::Girth
            if piece
                .and_then(|name| garment.piece(name))
                .is_some_and(|p| p.placement == Placement::Framed(Frame::Head)) =>
        {
            by(Measure::HeadGirth)
        }
        DetailRule::Girth => by(Measure::BustGirth),
    }
}
