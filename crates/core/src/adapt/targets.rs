//! What each tape line should measure on the target body, and whether the garment follows the body there.

use std::sync::Arc;

use super::{AdaptError, EaseRow};
use crate::body::Body;
use crate::ease::{EasePolicy, cloth_term};
use crate::fitting::{DemandChoice, DetailRule, Fitting};
use crate::garment::Garment;
use crate::measure::Measure;
use crate::piece::{Frame, Piece, Placement, Role};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
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
    /// The body measure's share, source and target.
    pub(super) body: (f64, f64),
    /// Cloth term in the target.
    pub(super) cloth: f64,
    /// Measure of each part on the source, before counting copies.
    pub(super) parts: Vec<f64>,
}

impl TapeTarget {
    /// Target / source.
    pub(super) fn ratio(&self) -> f64 {
        if self.source.abs() < 1e-9 { 1.0 } else { self.target / self.source }
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
pub(super) fn tape_targets(garment: &Garment, fitting: &Fitting, pieces: &[Arc<Piece>]) -> Result<Vec<TapeTarget>, AdaptError> {
    garment.tape_lines.iter().map(|tape| tape_target(garment, fitting, pieces, tape)).collect()
}

fn tape_target(garment: &Garment, fitting: &Fitting, pieces: &[Arc<Piece>], tape: &TapeLine) -> Result<TapeTarget, AdaptError> {
    let parts: Vec<f64> = tape.parts.iter().map(|part| part_measure(tape, part, pieces)).collect::<Result<_, _>>()?;
    let source = whole(tape, &parts, pieces, 1.0);
    let body = (body_measure(&garment.made_for, tape, false), body_measure(&fitting.body, tape, fitting.with_shoes));
    let choice = fitting.demands.get(&tape.name).copied().unwrap_or_default();
    let is_girth = tape.kind == TapeKind::Girth;
    let own = |cloths: &std::collections::BTreeMap<Role, crate::cloth::Cloth>| {
        cloths.get(&Role::Shell).map_or(Mm(0.0), |cloth| Mm(cloth.thickness.0))
    };
    let (cloth0, cloth1) = if is_girth {
        let doll_size = if fitting.cloths.is_empty() { own(&garment.cloths) } else { own(&fitting.cloths) };
        (cloth_term(&[], own(&garment.cloths)).0 * tape.share, cloth_term(&fitting.worn_underneath, doll_size).0 * tape.share)
    } else {
        (0.0, 0.0)
    };
    let style0 = source - body.0 - cloth0;
    let style1 = choice.ease.map_or_else(|| style_ease(fitting, tape, style0, body), |ease| ease.0);
    let target = choice.measure.map_or(body.1 + style1 + cloth1, |measure| measure.0);
    Ok(TapeTarget { hold: hold(tape, choice, source, body.0), source, target, body, cloth: cloth1, parts })
}

/// Style ease on the target: see [`EasePolicy`].
fn style_ease(fitting: &Fitting, tape: &TapeLine, source: f64, body: (f64, f64)) -> f64 {
    let in_proportion = if body.0.abs() < 1e-9 { source } else { source * body.1 / body.0 };
    match fitting.ease {
        EasePolicy::InProportion => in_proportion,
        EasePolicy::Absolute => source,
        EasePolicy::FromTable if tape.kind == TapeKind::Girth => {
            crate::ease::table_ease(tape.measure, &fitting.body).map_or(in_proportion, |ease| ease.0 * tape.share)
        }
        EasePolicy::FromTable => in_proportion,
    }
}

fn hold(tape: &TapeLine, choice: DemandChoice, source: f64, body: f64) -> Hold {
    if choice.measure.is_some() || choice.ease.is_some() {
        return Hold::Fitted;
    }
    let limit = if tape.kind == TapeKind::Girth { HANGS_ABOVE } else { LENGTH_HANGS_ABOVE };
    match choice.hold.unwrap_or(tape.hold) {
        Hold::Auto if body > 0.0 && (source - body) / body > limit => Hold::Hanging,
        Hold::Auto | Hold::Fitted => Hold::Fitted,
        Hold::Hanging => Hold::Hanging,
    }
}

/// The body's own figure for a tape line: its share of the measure; to the floor, shoes count.
fn body_measure(body: &Body, tape: &TapeLine, with_shoes: bool) -> f64 {
    let shoes = if with_shoes && tape.measure == Measure::WaistToFloor { body.measure(Measure::ShoeHeight).value.0 } else { 0.0 };
    (body.measure(tape.measure).value.0 + shoes) * tape.share
}

/// What a tape line measures, from the measures of its parts.
pub(super) fn whole(tape: &TapeLine, parts: &[f64], pieces: &[Arc<Piece>], detail: f64) -> f64 {
    let sum: f64 = tape.parts.iter().zip(parts).map(|(part, value)| value * times(tape, part, pieces)).sum();
    if tape.kind == TapeKind::Girth { sum - (tape.overlap.0 - tape.lacing_gap.0) * detail } else { sum }
}

/// How often a part counts.
pub(super) fn times(tape: &TapeLine, part: &TapePart, pieces: &[Arc<Piece>]) -> f64 {
    match tape.kind {
        TapeKind::Girth => find(pieces, &part.piece).map_or(1.0, |piece| piece.times_round()),
        TapeKind::Length => 1.0,
    }
}

/// The piece of this name.
pub(super) fn find<'a>(pieces: &'a [Arc<Piece>], name: &str) -> Option<&'a Arc<Piece>> {
    pieces.iter().find(|piece| piece.name == name)
}

/// Measure of one part on given pieces, mm.
pub(super) fn part_measure(tape: &TapeLine, part: &TapePart, pieces: &[Arc<Piece>]) -> Result<f64, AdaptError> {
    let missing = |what: &str| AdaptError::BadReference(format!("tape line {}: {what} is not there; take it out of the tape line or rename it", tape.name));
    let piece = find(pieces, &part.piece).ok_or_else(|| missing(&part.piece))?;
    let at = |p: &crate::edge::OutlinePoint| piece.point_at(p).ok_or_else(|| missing(&format!("{}, {}", part.piece, p.edge)));
    match &part.path {
        TapePath::Along { edge, from, to } => {
            let edge = piece.outline.edge(edge).ok_or_else(|| missing(&format!("{}, {edge}", part.piece)))?;
            Ok(edge.line.between(*from, *to).map_or(0.0, |line| line.length()))
        }
        TapePath::Across(a, b) => Ok((at(b)?.x - at(a)?.x).abs()),
        TapePath::Upright(a, b) => Ok((at(b)?.y - at(a)?.y).abs()),
    }
}

/// Ratio that details of a piece follow: height or girth, as the fitting says.
pub(super) fn detail_ratio(garment: &Garment, fitting: &Fitting, piece: Option<&str>) -> f64 {
    let rule = piece.and_then(|name| fitting.detail_of.get(name)).copied().unwrap_or(fitting.details);
    let by = |m: Measure| fitting.body.measure(m).value.0 / garment.made_for.measure(m).value.0.max(1e-9);
    match rule {
        DetailRule::Height => by(Measure::Height),
        DetailRule::Girth if piece.and_then(|name| garment.piece(name)).is_some_and(|p| p.placement == Placement::Framed(Frame::Head)) => {
            by(Measure::HeadGirth)
        }
        DetailRule::Girth => by(Measure::BustGirth),
    }
}
