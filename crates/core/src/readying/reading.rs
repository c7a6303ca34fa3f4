//! The pieces together: which front belongs to which back, what a band is sewn to, what lies on a fold.

use std::collections::BTreeMap;

use kurbo::{Affine, Point, Vec2};

use super::answers::Answers;
use super::bands;
use super::kinds::{Family, LEAST, Role, View, is_panel_not_strip, near, views};
use super::panels;
use super::sides::{Bit, Drawn, turned};
use super::what::{Cut, What, hint, of_key};
use crate::edge::Finish;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::piece::{Piece, Placement};

/// How one piece is read.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Read {
    pub(super) what: What,
    pub(super) cut: Cut,
    pub(super) view: View,
    /// What each stretch is, walked as the kind's sides are: from the centre outwards, from the waist or armpit down, a
    /// cap from its front to its back.
    pub(super) roles: BTreeMap<Role, Vec<Bit>>,
    pub(super) darts: Vec<[usize; 2]>,
    /// From the drawing to the piece as it hangs on the body: y upwards, the front to the right.
    pub(super) motion: Affine,
    pub(super) mirrored: bool,
    /// The outline's edges where the motion takes them.
    pub(super) lines: Vec<Line>,
    pub(super) certainty: f64,
    pub(super) rests_on: Vec<String>,
    /// For a band, how much of its attached edge is sewn on, from its first end, and what it is that it is sewn to.
    pub(super) attached: Option<bands::Target>,
}

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
    fn certainty(&self, family: Family) -> f64 {
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
    let candidates: Vec<Candidate<'_>> = garment
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| {
            !is_settled(garment, piece) && !answers.is_refused(&piece_key(&piece.name))
        })
        .map(|(index, piece)| candidate(index, piece, answers, largest))
        .collect();
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
    for candidate in &candidates {
        let others = other_ways(
            candidate,
            reading.reads.get(candidate.index).and_then(Option::as_ref),
        );
        if let Some(slot) = reading.others.get_mut(candidate.index) {
            *slot = others;
        }
    }
    reading
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

/// Sleeves: the front half of the cap goes with the front armscye, or is the hollower one.
fn sleeves(candidates: &[Candidate<'_>], reading: &mut Reading) {
    let armscye = |front: bool| -> f64 {
        reading
            .reads
            .iter()
            .flatten()
            .filter(|r| r.what.is_front() == front)
            .map(|r| r.length(Role::Armscye))
            .sum()
    };
    let (front, back) = (armscye(true), armscye(false));
    for (candidate, view) in of_family(candidates, Family::Sleeve) {
        let cap = view.bits(Role::Cap);
        let lines: Vec<&Line> = candidate
            .piece
            .outline
            .edges()
            .iter()
            .map(|e| &e.line)
            .collect();
        let (start, end) = cap_halves(&lines, &cap, view.up);
        let apart = libm::log(start.length / end.length.max(1e-9));
        let wanted = if front > 0.0 && back > 0.0 {
            libm::log(front / back)
        } else {
            0.0
        };
        let hollow = end.hollow - start.hollow;
        let (at_end, sure, why) = if apart.abs() > 0.004 && wanted.abs() > 0.004 {
            (
                apart * wanted < 0.0,
                0.95,
                "cap and underarms; the halves of the cap go with the armscyes",
            )
        } else if hollow.abs() > 0.004 {
            (
                hollow > 0.0,
                0.85,
                "cap and underarms; its front half is the hollower one",
            )
        } else {
            (true, 0.9, "cap and underarms, front and back alike")
        };
        let mut read = Read::new(candidate, view, What::Sleeve, at_end);
        read.cut = candidate.forced.map_or(Cut::Pair, |(_, cut)| cut);
        read.certainty = candidate.certainty(Family::Sleeve) * sure;
        let fits = fit_of_cap(view.length(Role::Cap), front + back);
        read.certainty *= 0.8 + 0.2 * fits;
        read.rests_on.push(why.to_owned());
        put(reading, candidate.index, read);
    }
}

/// How well a cap fits an armscye: with an ease up to 15 %, or gathered.
pub(super) fn fit_of_cap(cap: f64, armscye: f64) -> f64 {
    if armscye <= 0.0 {
        return 0.5;
    }
    let ratio = cap / armscye;
    if (0.985..=1.15).contains(&ratio) {
        1.0
    } else if (1.15..=2.2).contains(&ratio) {
        0.8
    } else {
        near(ratio, 1.05, 0.1) * 0.5
    }
}

/// One half of a cap: its length, and how far it lies below the line from its top to its base, as a share of that.
struct CapHalf {
    length: f64,
    hollow: f64,
}

/// The place of the top of a cap in its bits: which bit, and the share of it.
pub(super) fn top_of(lines: &[&Line], cap: &[Bit], up: Vec2) -> Option<(usize, f64)> {
    let mut best: Option<(f64, usize, f64)> = None;
    for (n, bit) in cap.iter().enumerate() {
        let line = lines.get(bit.edge)?;
        for step in 0..=48_u32 {
            let share = f64::from(step) / 48.0;
            let height = line.at(bit.at(share)).to_vec2().dot(up);
            if best.is_none_or(|(b, ..)| height > b + 1e-9) {
                best = Some((height, n, share));
            }
        }
    }
    best.map(|(_, n, share)| (n, share))
}

fn cap_halves(lines: &[&Line], cap: &[Bit], up: Vec2) -> (CapHalf, CapHalf) {
    let Some((top, share)) = top_of(lines, cap, up) else {
        let none = || CapHalf {
            length: 1.0,
            hollow: 0.0,
        };
        return (none(), none());
    };
    let length = |bit: &Bit| {
        lines
            .get(bit.edge)
            .map_or(0.0, |l| l.length() * (bit.to - bit.from).abs())
    };
    let before: f64 = cap.iter().take(top).map(length).sum();
    let own = cap.get(top).map_or(0.0, length);
    let whole: f64 = cap.iter().map(length).sum();
    let first = before + share * own;
    let point = |along: f64| -> Point {
        let mut rest = along;
        for bit in cap {
            let size = length(bit);
            if rest <= size {
                return lines
                    .get(bit.edge)
                    .map_or(Point::ORIGIN, |l| l.at(bit.at(rest / size.max(1e-9))));
            }
            rest -= size;
        }
        let last = cap.last();
        last.and_then(|bit| lines.get(bit.edge).map(|l| l.at(bit.to)))
            .unwrap_or_default()
    };
    let half = |base: f64| {
        let (low, high) = (point(base), point(first));
        let chord = high - low;
        let size = chord.hypot().max(1e-9);
        let hollow = (1..8_u32)
            .map(|k| {
                let p = point(base + (first - base) * f64::from(k) / 16.0);
                // Below the line: away from up.
                let foot = low + chord * ((p - low).dot(chord) / (size * size));
                (foot - p).dot(up) / size
            })
            .fold(0.0, f64::max);
        CapHalf {
            length: (first - base).abs(),
            hollow,
        }
    };
    (half(0.0), half(whole))
}

impl Read {
    /// A reading of a piece; `front_first` says whether the front lies towards its first side (for a sleeve: at the
    /// walked end of its cap).
    pub(super) fn new(candidate: &Candidate<'_>, view: &View, what: What, front: bool) -> Self {
        let mut roles: BTreeMap<Role, Vec<Bit>> = view
            .family
            .roles()
            .iter()
            .map(|role| (*role, view.bits(*role)))
            .collect();
        let take =
            |roles: &mut BTreeMap<Role, Vec<Bit>>, role| roles.remove(&role).unwrap_or_default();
        let (mut x, mut y) = (1.0, 1.0);
        match view.family {
            Family::Bodice | Family::Yoke | Family::Under => {
                x = if front { -1.0 } else { 1.0 };
            }
            Family::Sleeve => {
                // Walked: cap from its start to its end, down one underarm, along the hem, up the other.
                let (end, start) = (
                    take(&mut roles, Role::Fronter),
                    turned(&take(&mut roles, Role::Backer)),
                );
                let (cap, hem) = (take(&mut roles, Role::Cap), take(&mut roles, Role::Hem));
                if front {
                    roles.extend([
                        (Role::Fronter, end),
                        (Role::Backer, start),
                        (Role::Cap, turned(&cap)),
                        (Role::Hem, hem),
                    ]);
                } else {
                    roles.extend([
                        (Role::Fronter, start),
                        (Role::Backer, end),
                        (Role::Cap, cap),
                        (Role::Hem, turned(&hem)),
                    ]);
                    x = -1.0;
                }
            }
            Family::Panel => {
                let (first, other) = (
                    turned(&take(&mut roles, Role::Fronter)),
                    take(&mut roles, Role::Backer),
                );
                let (waist, hem) = (
                    take(&mut roles, Role::Waist),
                    turned(&take(&mut roles, Role::Hem)),
                );
                if front {
                    roles.extend([
                        (Role::Fronter, first),
                        (Role::Backer, other),
                        (Role::Waist, waist),
                        (Role::Hem, hem),
                    ]);
                    x = -1.0;
                } else {
                    roles.extend([
                        (Role::Fronter, other),
                        (Role::Backer, first),
                        (Role::Waist, turned(&waist)),
                        (Role::Hem, turned(&hem)),
                    ]);
                }
            }
            Family::Leg => {
                let inner = turned(&take(&mut roles, Role::Inner));
                roles.insert(Role::Inner, inner);
                x = if front { -1.0 } else { 1.0 };
            }
            Family::Band => match what {
                What::Collar => y = -1.0,
                What::Waistband => (x, y) = (-1.0, -1.0),
                _ => {}
            },
        }
        let (motion, mirrored) = motion(view, x, y);
        let lines: Vec<Line> = candidate
            .piece
            .outline
            .edges()
            .iter()
            .map(|edge| edge.line.mapped(|p| motion * p))
            .collect();
        let mut read = Self {
            what,
            cut: Cut::Once,
            view: view.clone(),
            roles,
            darts: candidate.drawn.darts.clone(),
            motion,
            mirrored,
            lines,
            certainty: 0.0,
            rests_on: Vec::new(),
            attached: None,
        };
        if what == What::Front {
            read.part_extension();
        }
        read
    }

    /// Takes the straight beginning of a front neckline, level from the edge, for what laps beyond the centre front.
    fn part_extension(&mut self) {
        let Some(neckline) = self.roles.get(&Role::Neckline).cloned() else {
            return;
        };
        let Some((bit, rest)) = neckline.split_first() else {
            return;
        };
        let Some(line) = self.lines.get(bit.edge) else {
            return;
        };
        let walked = if bit.from <= bit.to {
            line.clone()
        } else {
            line.reversed()
        };
        let mut along = 0.0;
        for cubic in walked.cubics() {
            let chord = cubic.p3 - cubic.p0;
            let own = Line::from_cubics(&[cubic]);
            let is_level = chord.y.abs() < 0.03 * chord.x.abs();
            if !is_level || !own.as_ref().is_some_and(Line::is_straight) {
                break;
            }
            along += chord.hypot();
        }
        let (whole, width) = (walked.length(), self.width());
        if along < 0.02 * width || along > 0.3 * width || whole <= 0.0 {
            return;
        }
        let share = along / whole;
        if share > 1.0 - 1e-6 {
            if rest.is_empty() {
                return;
            }
            self.roles.insert(Role::Extension, vec![*bit]);
            self.roles.insert(Role::Neckline, rest.to_vec());
            return;
        }
        let cut = bit.at(share);
        let lower = Bit { to: cut, ..*bit };
        let upper = Bit { from: cut, ..*bit };
        self.roles.insert(Role::Extension, vec![lower]);
        self.roles.insert(
            Role::Neckline,
            std::iter::once(upper).chain(rest.iter().copied()).collect(),
        );
    }

    pub(super) fn bits(&self, role: Role) -> &[Bit] {
        self.roles.get(&role).map_or(&[], Vec::as_slice)
    }

    /// Length of what plays a part, mm.
    pub(super) fn length(&self, role: Role) -> f64 {
        self.bits(role)
            .iter()
            .filter_map(|bit| Some(self.lines.get(bit.edge)?.length() * (bit.to - bit.from).abs()))
            .sum()
    }

    /// Where a part starts and ends, as the piece hangs.
    pub(super) fn start(&self, role: Role) -> Option<Point> {
        let bit = self.bits(role).first()?;
        Some(self.lines.get(bit.edge)?.at(bit.from))
    }

    pub(super) fn end(&self, role: Role) -> Option<Point> {
        let bit = self.bits(role).last()?;
        Some(self.lines.get(bit.edge)?.at(bit.to))
    }

    /// From the centre to the armpit, level: a quarter of the bust of a front or back.
    pub(super) fn width(&self) -> f64 {
        let (Some(side), Some(centre)) = (self.start(Role::Side), self.start(Role::Centre)) else {
            return self.length(Role::Lower);
        };
        (side.x - centre.x).abs()
    }
}

/// From the drawing to the piece as it hangs: `x` and `y` say whether outwards is to the right and up is up.
fn motion(view: &View, x: f64, y: f64) -> (Affine, bool) {
    let (out, up) = (view.out * x, view.up * y);
    let origin = view.sides.first().map_or(Point::ORIGIN, |side| {
        if view.against { side.start } else { side.end }
    });
    let turn = Affine::new([out.x, up.x, out.y, up.y, 0.0, 0.0]);
    (
        turn * Affine::translate(-origin.to_vec2()),
        turn.determinant() < 0.0,
    )
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
