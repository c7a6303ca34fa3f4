//! The pieces together: which front belongs to which back, what a band is sewn to, what lies on a fold.

use super::answers::Answers;
use super::bands;
use super::kinds::{Family, LEAST, Role, View, is_panel_not_strip, near, views};
use super::panels;
use super::read::Read;
use super::sides::{Bit, Drawn};
use super::sleeves::sleeves;
use super::what::{Cut, What, hint, of_key};
use crate::edge::Finish;
use crate::garment::Garment;
use crate::piece::{Piece, Placement};

/// How all pieces are read. A piece that is settled, refused or not known is `None`.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Reading {
    pub(super) reads: Vec<Option<Read>>,
    /// Other ways of each piece, likeliest first.
    pub(super) others: Vec<Vec<(What, Cut, f64)>>,
    /// The panels of a skirt from the centre front to the centre back.
    pub(super) chain: Vec<usize>,
}

/// Is nothing to be proposed for the piece, since it is ready as it is?
pub(super) fn is_settled(garment: &Garment, piece: &Piece) -> bool {
    let sewn = || {
        garment
            .seams
            .iter()
            .any(|seam| seam.a.iter().chain(&seam.b).any(|s| s.piece == piece.name))
    };
    match piece.placement {
        Placement::Framed(_) => !piece.body_lines.is_empty(),
        Placement::Follows(_) => sewn(),
    }
}

/// The key of the proposal for a piece.
pub(super) fn piece_key(piece: &str) -> String {
    format!("piece: {piece}")
}

/// A piece on its way to being read.
pub(super) struct Candidate<'a> {
    pub(super) index: usize,
    pub(super) piece: &'a Piece,
    pub(super) drawn: Drawn,
    pub(super) views: Vec<View>,
    pub(super) forced: Option<(What, Cut)>,
}

impl Candidate<'_> {
    fn view(&self, family: Family) -> Option<&View> {
        self.views.iter().find(|view| view.family == family)
    }

    /// The kind it is read as.
    fn family(&self) -> Option<Family> {
        match self.forced {
            Some((what, _)) => self.view(what.family()).map(|view| view.family),
            None => self
                .views
                .first()
                .filter(|view| view.score >= SURE_ENOUGH)
                .map(|view| view.family),
        }
    }

    /// How sure its kind is: its score, and how far it is ahead of the next.
    pub(super) fn certainty(&self, family: Family) -> f64 {
        let own = self.view(family).map_or(0.0, |view| view.score);
        let next = self
            .views
            .iter()
            .filter(|view| view.family != family)
            .map(|view| view.score)
            .fold(0.0, f64::max);
        (own / (own + next).max(1e-9)) * libm::pow(own.clamp(0.0, 1.0), 0.25)
    }
}

pub(super) fn read(garment: &Garment, answers: &Answers) -> Reading {
    let largest = garment
        .pieces
        .iter()
        .map(|piece| piece.outline.area())
        .fold(0.0, f64::max);
    let mut candidates: Vec<Candidate<'_>> = garment
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| {
            !is_settled(garment, piece) && !answers.is_refused(&piece_key(&piece.name))
        })
        .map(|(index, piece)| candidate(index, piece, answers, largest))
        .collect();
    legs_or_bodies(&mut candidates);
    let mut reading = Reading {
        reads: vec![None; garment.pieces.len()],
        others: vec![Vec::new(); garment.pieces.len()],
        chain: Vec::new(),
    };
    for family in [Family::Bodice, Family::Yoke, Family::Under, Family::Leg] {
        halves(&candidates, family, &mut reading);
    }
    under_yokes(&candidates, &mut reading);
    cuts(&candidates, &mut reading);
    sleeves(&candidates, &mut reading);
    panels::chained(&candidates, &mut reading);
    bands::banded(&candidates, &mut reading);
    // What was refused can be taken up again.
    let refused = garment.pieces.iter().enumerate().filter(|(_, piece)| {
        !is_settled(garment, piece) && answers.is_refused(&piece_key(&piece.name))
    });
    let refused: Vec<Candidate<'_>> = refused
        .map(|(index, piece)| candidate(index, piece, answers, largest))
        .collect();
    for candidate in candidates.iter().chain(&refused) {
        let read = reading.reads.get(candidate.index).and_then(Option::as_ref);
        let others = other_ways(candidate, read);
        if let Some(slot) = reading.others.get_mut(candidate.index) {
            *slot = others;
        }
    }
    reading
}

/// How much less likely the lower part of a body is without a yoke, and a leg of trousers below one: their outlines are
/// alike.
const OUT_OF_PLACE: f64 = 0.3;

/// The lower part of a body belongs to a yoke; without one the same outline is a leg of trousers.
fn legs_or_bodies(candidates: &mut [Candidate<'_>]) {
    let has_yoke = candidates
        .iter()
        .any(|candidate| candidate.family() == Some(Family::Yoke));
    let unlikely = if has_yoke { Family::Leg } else { Family::Under };
    for candidate in candidates {
        for view in candidate
            .views
            .iter_mut()
            .filter(|view| view.family == unlikely)
        {
            view.score *= OUT_OF_PLACE;
        }
        candidate.views.retain(|view| view.score >= LEAST);
        candidate.views.sort_by(|a, b| b.score.total_cmp(&a.score));
    }
}

/// A reading that scores less is offered, but not proposed.
const SURE_ENOUGH: f64 = 0.1;

/// A piece smaller than this share of the largest is no panel of a skirt.
const PANEL: f64 = 0.08;
/// Below this share a long strip is a band.
const STRIP: f64 = 0.35;

fn candidate<'a>(index: usize, piece: &'a Piece, answers: &Answers, largest: f64) -> Candidate<'a> {
    let drawn = Drawn::of(piece);
    let mut views = views(piece, &drawn);
    let share = piece.outline.area() / largest.max(1e-9);
    for view in views.iter_mut().filter(|view| view.family == Family::Panel) {
        if share < STRIP {
            view.score *= is_panel_not_strip(view);
        }
        if share < PANEL {
            view.score *= 0.05;
        }
    }
    views.retain(|view| view.score >= LEAST);
    views.sort_by(|a, b| b.score.total_cmp(&a.score));
    if !super::what::is_generic(&piece.name) {
        for view in &mut views {
            let best = What::of(view.family)
                .map(|what| hint(&piece.name, what))
                .fold(0.0, f64::max);
            view.score = (view.score * best).min(1.0);
        }
        views.sort_by(|a, b| b.score.total_cmp(&a.score));
    }
    Candidate {
        index,
        piece,
        drawn,
        views,
        forced: answers.way(&piece_key(&piece.name)).and_then(of_key),
    }
}

/// Every other way a piece could be taken.
fn other_ways(candidate: &Candidate<'_>, read: Option<&Read>) -> Vec<(What, Cut, f64)> {
    let mut ways: Vec<(What, Cut, f64)> = Vec::new();
    for view in &candidate.views {
        for what in What::of(view.family) {
            for cut in what.cuts() {
                if read.is_some_and(|r| (r.what, r.cut) == (what, *cut)) {
                    continue;
                }
                let same = read.is_some_and(|r| r.what == what);
                let hinted = hint(&candidate.piece.name, what).min(2.0);
                let share = view.score * hinted * if same { 0.5 } else { 0.3 };
                ways.push((what, *cut, share.min(0.9)));
            }
        }
    }
    ways.sort_by(|a, b| b.2.total_cmp(&a.2));
    ways
}

/// Those of a kind that are read so, with their view.
fn of_family<'a>(
    candidates: &'a [Candidate<'a>],
    family: Family,
) -> Vec<(&'a Candidate<'a>, &'a View)> {
    candidates
        .iter()
        .filter(|candidate| candidate.family() == Some(family))
        .filter_map(|candidate| Some((candidate, candidate.view(family)?)))
        .collect()
}

pub(super) fn of_kind<'a>(
    candidates: &'a [Candidate<'a>],
    family: Family,
) -> Vec<(&'a Candidate<'a>, &'a View)> {
    of_family(candidates, family)
}

/// Fronts and backs: the neckline of a front is cut lower, its rise is shorter.
fn halves(candidates: &[Candidate<'_>], family: Family, reading: &mut Reading) {
    let mut found = of_family(candidates, family);
    let low = |view: &View| match family {
        Family::Leg => -view.length(Role::Rise),
        Family::Under => view.length(Role::Upper),
        _ => {
            let chord = view.chord(1).unwrap_or_default();
            chord.dot(view.up) / view.length(Role::Lower).max(1e-9)
        }
    };
    let pull = |(candidate, view): &(&Candidate<'_>, &View)| {
        let hinted = |front: bool| {
            What::of(family)
                .find(|what| what.is_front() == front)
                .map_or(1.0, |what| hint(&candidate.piece.name, what))
        };
        let forced = candidate
            .forced
            .map_or(0.0, |(what, _)| if what.is_front() { 1e6 } else { -1e6 });
        forced + 1e3 * libm::log(hinted(true) / hinted(false)) + low(view)
    };
    found.sort_by(|a, b| pull(b).total_cmp(&pull(a)));
    let count = found.len();
    let gap = match (found.first(), found.last()) {
        (Some(a), Some(b)) if count > 1 => (low(a.1) - low(b.1)).abs(),
        _ => 0.0,
    };
    for (rank, (candidate, view)) in found.into_iter().enumerate() {
        let single_back = count == 1 && family == Family::Bodice && low(view) < 0.2;
        let front = match candidate.forced {
            Some((what, _)) => what.is_front(),
            None => (rank == 0 && !single_back) && count > 0,
        };
        if rank > 0 && rank + 1 < count && candidate.forced.is_none() {
            continue;
        }
        let Some(what) = What::of(family).find(|what| what.is_front() == front) else {
            continue;
        };
        let apart = near(gap, 0.2, 0.15).max(if gap > 0.2 { 1.0 } else { 0.0 });
        let mut read = Read::new(candidate, view, what, front);
        if family == Family::Leg {
            read.cut = Cut::Pair;
        }
        read.certainty =
            candidate.certainty(family) * if count == 2 { 0.6 + 0.4 * apart } else { 0.6 };
        read.rests_on.push(
            match (family, count) {
                (Family::Under, _) => "its shape",
                (Family::Leg, 2) if front => "its shape, the shorter rise",
                (Family::Leg, 2) => "its shape, the longer rise",
                (_, 2) if front => "its shape, the lower neckline",
                (_, 2) => "its shape, the higher neckline",
                _ => "its shape",
            }
            .to_owned(),
        );
        put(reading, candidate.index, read);
    }
}

pub(super) fn put(reading: &mut Reading, index: usize, read: Read) {
    if let Some(slot) = reading.reads.get_mut(index) {
        *slot = Some(read);
    }
}

/// The lower parts go with the yokes whose seam is as long.
fn under_yokes(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let lower = |what: What| {
        reading
            .reads
            .iter()
            .flatten()
            .find(|read| read.what == what)
            .map(|read| read.length(Role::Lower))
    };
    let (Some(front), Some(back)) = (lower(What::FrontYoke), lower(What::BackYoke)) else {
        return;
    };
    let found = of_family(candidates, Family::Under);
    let [(one, a), (two, b)] = found.as_slice() else {
        return;
    };
    if one.forced.is_some() || two.forced.is_some() {
        return;
    }
    let off = |x: f64, y: f64| libm::log(x / front) - libm::log(y / back);
    let (x, y) = (a.length(Role::Upper), b.length(Role::Upper));
    let (straight, crossed) = (off(x, y).abs(), off(y, x).abs());
    let certainty = 0.6 + 0.4 * near(straight.min(crossed), 0.0, 0.01);
    let hinted = |name: &str| hint(name, What::FrontBody) / hint(name, What::BackBody);
    let by_name = libm::log(hinted(&one.piece.name) / hinted(&two.piece.name));
    let first_is_front = if by_name.abs() > 0.1 {
        by_name > 0.0
    } else {
        straight <= crossed
    };
    for (candidate, view, front) in [(one, a, first_is_front), (two, b, !first_is_front)] {
        let what = if front {
            What::FrontBody
        } else {
            What::BackBody
        };
        let mut read = Read::new(candidate, view, what, front);
        read.certainty = candidate.certainty(Family::Under) * certainty;
        read.rests_on.push(format!(
            "its shape; its upper edge goes with the {}",
            if front { "front yoke" } else { "back yoke" }
        ));
        put(reading, candidate.index, read);
    }
}

/// A straight centre that stands about square at both ends can lie on a fold; a waist may run to a point there.
fn can_fold(view: &View) -> bool {
    let last = view.sides.len().saturating_sub(1);
    view.sides.first().is_some_and(|side| side.is_straight())
        && (view.corner(0) - 90.0).abs() < 15.0
        && (view.corner(last) - 90.0).abs() < 20.0
}

/// A neckline shorter than this share of the bust girth does not pass the head (head girth / bust girth is 0.6 on a
/// woman, more on a child or a doll).
const HEAD: f64 = 0.62;

/// What lies on a fold and what is cut as a pair: an overlap in front opens it there; a neck too small for the head
/// opens behind.
fn cuts(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let all = || reading.reads.iter().flatten();
    let halves =
        |what: What| matches!(what.family(), Family::Bodice | Family::Yoke | Family::Under);
    let neckline: f64 = all()
        .filter(|r| halves(r.what))
        .map(|r| 2.0 * r.length(Role::Neckline))
        .sum();
    let bust: f64 = all()
        .filter(|r| matches!(r.what.family(), Family::Bodice | Family::Under))
        .map(|r| 2.0 * r.width())
        .sum();
    let opens_in_front =
        all().any(|r| r.what == What::Front && r.roles.contains_key(&Role::Extension));
    let too_small = neckline > 0.0 && neckline < HEAD * bust;
    for candidate in candidates {
        let Some(read) = reading
            .reads
            .get_mut(candidate.index)
            .and_then(Option::as_mut)
        else {
            continue;
        };
        if !halves(read.what) {
            continue;
        }
        let front = read.what.is_front();
        let (cut, certainty, why) = if let Some((_, cut)) = candidate.forced {
            (cut, 1.0, "as answered")
        } else if has_fold(candidate.piece) {
            (Cut::Fold, 0.98, "a fold is marked on it")
        } else if candidate.piece.copies.len() > 1 {
            (Cut::Pair, 0.9, "two are cut")
        } else if front && opens_in_front {
            (
                Cut::Pair,
                0.9,
                "its neckline runs on straight to a front edge that laps",
            )
        } else if !can_fold(&read.view) {
            (
                Cut::Pair,
                0.8,
                "its centre is not straight or not square at both ends",
            )
        } else if !front && too_small && !opens_in_front {
            (
                Cut::Pair,
                0.65,
                "a straight centre; the neck is too small for the head, so one side opens",
            )
        } else {
            (Cut::Fold, 0.85, "a straight centre, square at both ends")
        };
        read.cut = cut;
        read.certainty *= certainty;
        read.rests_on.push(why.to_owned());
    }
}

pub(super) fn has_fold(piece: &Piece) -> bool {
    piece.fold_edge().is_some()
}

/// The finish a stretch has where it is marked.
pub(super) fn is_marked(piece: &Piece, bits: &[Bit], wanted: impl Fn(Finish) -> bool) -> bool {
    bits.iter().any(|bit| {
        piece
            .outline
            .edges()
            .get(bit.edge)
            .is_some_and(|edge| edge.finish.iter().any(|stretch| wanted(stretch.finish)))
    })
}
