//! What lies along one side of a seam: pieces one after the other, what is gathered and pleated into them, and the
//! seams, darts and hems they bring with them.
//!
//! Places are shares of the whole side, 0 to 1. Where seams cross, gathers are pushed off the allowances (common
//! practice, no source); pleats stay where they are folded.

use super::ground::{End, Ground, Sheet, Use, What};
use super::met::{Now, bumps, strip};
use super::section::{Widths, Work, sections};
use crate::edge::EdgeRef;
use crate::fullness::{Fullness, FullnessOp};
use crate::seams::{Relation, Seam, SeamKind, Stretch};

/// One stretch of a side.
#[derive(Debug, Clone)]
pub(super) struct Bed {
    pub from: f64,
    pub to: f64,
    /// Its layers where nothing is let in.
    pub pile: Vec<Sheet>,
    /// Layers of pleats: from, to. Where none lies, one layer does.
    pub spans: Vec<(f64, f64)>,
    /// Where it is drawn in, and how many times: from, to, ratio.
    pub drawn: Vec<(f64, f64, f64)>,
}

/// Something that comes with the pieces and makes them thicker on a part of the side.
#[derive(Debug, Clone)]
pub(super) struct Bump {
    pub from: f64,
    pub to: f64,
    pub pile: Vec<Sheet>,
    pub what: Met,
}

/// What a seam meets on its way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Met {
    /// Another seam, by its number.
    Seam(usize),
    /// A dart, by the numbers of its piece and its own.
    Dart(usize, usize),
    /// An edge that was turned before, by the numbers of its piece and its own.
    Turned(usize, usize),
    /// A seam between the parts of a piece, by its number.
    Pieced(usize),
}

/// One side of a seam, or the edge of a hem.
#[derive(Debug, Clone, Default)]
pub(super) struct Profile {
    pub beds: Vec<Bed>,
    pub bumps: Vec<Bump>,
}

/// What lies at one place of a side.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Here {
    pub layers: f64,
    pub thickness: f64,
    /// Layers where gathers count with their mean.
    pub mean: f64,
}

/// Layers of something drawn in so many times, where its folds lie on each other: cloth that runs on lies 1, 3, 5 ...
/// times.
///
/// # Source
/// Geometry: a line from left to right that turns back and on again passes every place an odd number of times.
pub(super) fn drawn_peak(ratio: f64) -> f64 {
    let over = (ratio - 1.0 - 1e-6).max(0.0);
    1.0 + 2.0 * (over / 2.0).ceil()
}

impl Profile {
    /// Places where it changes.
    pub(super) fn breaks(&self, into: &mut Vec<f64>) {
        for bed in &self.beds {
            into.extend([bed.from, bed.to]);
            into.extend(bed.spans.iter().flat_map(|s| [s.0, s.1]));
            into.extend(bed.drawn.iter().flat_map(|d| [d.0, d.1]));
        }
        into.extend(self.bumps.iter().flat_map(|b| [b.from, b.to]));
    }

    /// Is another seam met here?
    fn is_crossed(&self, u: f64) -> bool {
        self.bumps.iter().any(|b| b.from < u && u < b.to)
    }

    /// Layers and thickness at a place.
    pub(super) fn at(&self, u: f64) -> Here {
        let crossed = self.is_crossed(u);
        let mut here = Here::default();
        for bed in self.beds.iter().filter(|bed| bed.from < u && u < bed.to) {
            let (peak, mean) = bed.times(u, crossed);
            let thick: f64 = bed.pile.iter().map(|s| s.thickness).sum();
            let sheets = bed.pile.len() as f64;
            here.layers += sheets * peak;
            here.mean += sheets * mean;
            here.thickness += thick * peak;
        }
        for bump in self.bumps.iter().filter(|b| b.from < u && u < b.to) {
            here.layers += bump.pile.len() as f64;
            here.mean += bump.pile.len() as f64;
            here.thickness += bump.pile.iter().map(|s| s.thickness).sum::<f64>();
        }
        here
    }

    /// The sheets that lie at a place, bottom up.
    pub(super) fn pile(&self, u: f64) -> Vec<Sheet> {
        let crossed = self.is_crossed(u);
        let beds = self.beds.iter().filter(|bed| bed.from < u && u < bed.to);
        let mut pile: Vec<Sheet> = beds
            .flat_map(|bed| {
                let times = bed.times(u, crossed).0.round() as usize;
                std::iter::repeat_n(&bed.pile, times).flatten().copied()
            })
            .collect();
        let bumps = self.bumps.iter().filter(|b| b.from < u && u < b.to);
        pile.extend(bumps.flat_map(|b| b.pile.iter().copied()));
        pile
    }
}

impl Bed {
    /// How often its cloth lies at a place: at the most, and in the mean.
    fn times(&self, u: f64, crossed: bool) -> (f64, f64) {
        let folded = self.spans.iter().filter(|s| s.0 < u && u < s.1).count();
        let folded = folded.max(1) as f64;
        let ratio = self
            .drawn
            .iter()
            .find(|d| d.0 < u && u < d.1)
            .map_or(1.0, |d| d.2);
        let peak = if crossed { 1.0 } else { drawn_peak(ratio) };
        (folded * peak, folded * ratio)
    }

    fn mapped(&self, map: &impl Fn(f64) -> f64, times: u32) -> Self {
        let pair = |(a, b): (f64, f64)| {
            let (a, b) = (map(a), map(b));
            (a.min(b), a.max(b))
        };
        let (from, to) = pair((self.from, self.to));
        let sheets = std::iter::repeat_n(&self.pile, times as usize).flatten();
        Self {
            from,
            to,
            pile: sheets.map(|s| s.beneath()).collect(),
            spans: self.spans.iter().map(|s| pair(*s)).collect(),
            drawn: self
                .drawn
                .iter()
                .map(|d| {
                    let (from, to) = pair((d.0, d.1));
                    (from, to, d.2)
                })
                .collect(),
        }
    }
}

impl Sheet {
    pub(super) fn beneath(self) -> Self {
        Self {
            what: What::Beneath,
            ..self
        }
    }

    pub(super) fn crossed(self) -> Self {
        Self {
            what: What::Crossed,
            ..self
        }
    }
}

/// One side of a seam with all it meets.
pub(super) fn side(ground: &Ground<'_>, number: usize, end: End) -> Profile {
    let Some(seam) = ground.seams().get(number) else {
        return Profile::default();
    };
    let mut profile = Profile {
        beds: beds(ground, seam, end),
        bumps: Vec::new(),
    };
    let whole = ground.length(end.of(seam));
    if whole <= 0.0 {
        return profile;
    }
    let mut start = 0.0;
    for (i, s) in end.of(seam).iter().enumerate() {
        let Some(edge) = ground.edge(s) else { continue };
        let long = edge.line.length() * (s.to - s.from).abs();
        let at = Along { whole, start, long };
        let now = Now::seam(ground, number);
        bumps(ground, now, s, &at, &mut profile.bumps);
        if let Some(before) = sewn_before(ground, number, end, i) {
            beneath(ground, &before, s, &at, &mut profile, i);
        }
        start += long;
    }
    profile
}

/// Where a stretch lies on its side, mm.
pub(super) struct Along {
    pub whole: f64,
    pub start: f64,
    pub long: f64,
}

impl Along {
    /// Share of the side at so many mm from the start of the stretch.
    pub(super) fn share(&self, mm: f64) -> f64 {
        (self.start + mm.clamp(0.0, self.long)) / self.whole
    }

    /// Share of the side at a fraction of the edge.
    fn at_fraction(&self, s: &Stretch, fraction: f64) -> f64 {
        let along = (fraction - s.from) / (s.to - s.from);
        (self.start + along * self.long) / self.whole
    }
}

/// The stretches of one side with their fullness, without what they meet.
pub(super) fn beds(ground: &Ground<'_>, seam: &Seam, end: End) -> Vec<Bed> {
    let whole = ground.length(end.of(seam));
    let mut start = 0.0;
    let mut beds = Vec::new();
    if whole <= 0.0 {
        return beds;
    }
    for s in end.of(seam) {
        let (Some(edge), Some(piece)) = (ground.edge(s), ground.number(&s.piece)) else {
            continue;
        };
        let long = edge.line.length() * (s.to - s.from).abs();
        let along = Along { whole, start, long };
        let mut bed = Bed {
            from: along.share(0.0),
            to: along.share(long),
            pile: ground.sheets(piece, s.copy.role),
            spans: Vec::new(),
            drawn: Vec::new(),
        };
        let ratio = drawn_by_relation(ground, seam, end);
        if ratio > 1.0 {
            bed.drawn.push((bed.from, bed.to, ratio));
        }
        let ops = ground.piece(piece).into_iter().flat_map(|p| &p.fullness);
        for op in ops.filter(|op| op.edge == s.edge) {
            fold_in(&mut bed, op, edge.line.length(), &|fraction| {
                along.at_fraction(s, fraction)
            });
        }
        beds.push(bed);
        start += long;
    }
    beds
}

/// How many times one side is as long as the other and gathered into it; 1 when it is not.
fn drawn_by_relation(ground: &Ground<'_>, seam: &Seam, end: End) -> f64 {
    if !matches!(seam.relation, Relation::Ratio(_)) {
        return 1.0;
    }
    let (own, other) = (
        ground.length(end.of(seam)),
        ground.length(end.other().of(seam)),
    );
    if other > 0.0 {
        (own / other).max(1.0)
    } else {
        1.0
    }
}

/// Lets one fullness into a stretch; `share` says where a fraction of the edge lies on the side.
fn fold_in(bed: &mut Bed, op: &FullnessOp, edge: f64, share: &dyn Fn(f64) -> f64) {
    let finished = edge * (op.to - op.from);
    if op.fullness.checked().is_err() || finished.is_nan() || finished <= 0.0 {
        return;
    }
    let ordered = |a: f64, b: f64| (a.min(b), a.max(b));
    match op.fullness {
        Fullness::Ease { .. } => {}
        Fullness::Gathers { ratio } | Fullness::Shirring { ratio, .. } => {
            let (from, to) = ordered(share(op.from), share(op.to));
            bed.drawn.push((from, to, ratio));
        }
        // Loops stand up from the edge, two layers each.
        Fullness::CartridgePleats { ratio, .. } => {
            let (from, to) = ordered(share(op.from), share(op.to));
            bed.drawn.push((from, to, ratio));
        }
        _ => {
            let folded = op.folded(crate::units::Mm(finished));
            bed.spans.extend(folded.spans.iter().map(|span| {
                let at = |mm: f64| share(op.from + mm / edge);
                ordered(at(span.edge.0.0), at(span.edge.1.0))
            }));
        }
    }
}

/// The seam that was sewn to the same stretch before this one, if any: a lapped one comes after every other, else the
/// later in the maker's list comes after.
fn sewn_before(ground: &Ground<'_>, number: usize, end: End, stretch: usize) -> Option<Use> {
    let seam = ground.seams().get(number)?;
    let s = end.of(seam).get(stretch)?;
    let piece = ground.number(&s.piece)?;
    let overlaps = |o: &Stretch| {
        let (low, high) = (s.from.min(s.to), s.from.max(s.to));
        o.from.max(o.to) > low + 1e-6 && o.from.min(o.to) < high - 1e-6
    };
    let uses = ground.uses(piece, s.copy.role, &s.edge).iter();
    uses.copied().find(|other| {
        let before = ground.seams().get(other.seam);
        other.seam != number
            && before.is_some_and(|before| {
                let earlier = match (seam.kind, before.kind) {
                    (SeamKind::Lapped, SeamKind::Lapped) => other.seam < number,
                    (SeamKind::Lapped, _) => end == End::B,
                    (_, SeamKind::Lapped) => false,
                    _ => other.seam < number,
                };
                let same = other.end.of(before).get(other.stretch);
                earlier && same.is_some_and(overlaps) && !ground.falls_away(before)
            })
    })
}

/// The layers of a seam that lies beneath: the mate that hangs from the same edge, and the allowances.
fn beneath(
    ground: &Ground<'_>,
    before: &Use,
    s: &Stretch,
    at: &Along,
    profile: &mut Profile,
    bed: usize,
) {
    let Some(under) = ground.seams().get(before.seam) else {
        return;
    };
    let (work, widths) = ground.work(under);
    let most = on_half(work, widths, before.end);
    let (own, mate) = (most.own, most.mate);
    let Some(stretch) = before.end.of(under).get(before.stretch) else {
        return;
    };
    let mut pile = Vec::new();
    if let Some(bed) = profile.beds.get_mut(bed) {
        pile.clone_from(&bed.pile);
        let more = std::iter::repeat_n(&pile, own.saturating_sub(1) as usize).flatten();
        bed.pile.extend(more.map(|s| s.beneath()));
        let strip = strip(ground, &pile);
        bed.pile
            .extend(std::iter::repeat_n(strip, most.strip as usize));
    }
    // Where the seam beneath lies on this side: its shares run along the same edge.
    let whole = ground.length(before.end.of(under));
    let start: f64 = ground.length(
        before
            .end
            .of(under)
            .get(..before.stretch)
            .unwrap_or_default(),
    );
    let edge = ground.edge(stretch).map_or(0.0, |e| e.line.length());
    if whole <= 0.0 || edge <= 0.0 {
        return;
    }
    let map = |u: f64| {
        let along = (u * whole - start) / edge;
        let fraction = stretch.from + along * (stretch.to - stretch.from).signum();
        at.at_fraction(s, fraction)
    };
    let other = before.end.other();
    let hangs = Profile {
        beds: beds(ground, under, other),
        bumps: {
            let mut all = Vec::new();
            let long = ground.length(other.of(under));
            let mut from = 0.0;
            for stretch in other.of(under) {
                let Some(edge) = ground.edge(stretch) else {
                    continue;
                };
                let bit = Along {
                    whole: long,
                    start: from,
                    long: edge.line.length() * (stretch.to - stretch.from).abs(),
                };
                bumps(
                    ground,
                    Now::seam(ground, before.seam),
                    stretch,
                    &bit,
                    &mut all,
                );
                from += bit.long;
            }
            all
        },
    };
    let is_here = |from: f64, to: f64| {
        let (low, high) = (at.share(0.0), at.share(at.long));
        from.max(low) < to.min(high) - 1e-9
    };
    let beds = hangs.beds.iter().map(|b| b.mapped(&map, mate));
    profile.beds.extend(beds.filter(|b| is_here(b.from, b.to)));
    for bump in hangs.bumps {
        let (a, b) = (map(bump.from), map(bump.to));
        let (from, to) = (a.min(b), a.max(b));
        if is_here(from, to) && mate > 0 {
            let sheets = std::iter::repeat_n(&bump.pile, mate as usize).flatten();
            profile.bumps.push(Bump {
                from,
                to,
                pile: sheets.copied().collect(),
                what: bump.what,
            });
        }
    }
}

/// Layers at the thickest place on one side of a finished seam.
struct OnHalf {
    own: u32,
    mate: u32,
    strip: u32,
}

fn on_half(work: Work, widths: Widths, end: End) -> OnHalf {
    let lying = sections(work, widths).pop();
    let covers = lying.map_or(Vec::new(), |(_, section)| section.covers());
    let is_turned = matches!(work, Work::Seam(_, super::section::Lies::Turned));
    let here = covers.into_iter().filter(|c| match end {
        End::A if !is_turned => c.x < 0.0,
        End::B if !is_turned => c.x > 0.0,
        _ => true,
    });
    let most = here.max_by_key(|c| c.all());
    let (own, mate) = most.map_or((1, 0), |c| match end {
        End::A => (c.a, c.b),
        End::B => (c.b, c.a),
    });
    OnHalf {
        own,
        mate,
        strip: most.map_or(0, |c| c.strip),
    }
}

/// The edge of a piece between two fractions, as one profile: for hems and faced edges.
pub(super) fn edge(ground: &Ground<'_>, s: &Stretch) -> Profile {
    let (Some(drawn), Some(piece)) = (ground.edge(s), ground.number(&s.piece)) else {
        return Profile::default();
    };
    let long = drawn.line.length() * (s.to - s.from).abs();
    if long <= 0.0 {
        return Profile::default();
    }
    let at = Along {
        whole: long,
        start: 0.0,
        long,
    };
    let mut bed = Bed {
        from: 0.0,
        to: 1.0,
        pile: ground.sheets(piece, s.copy.role),
        spans: Vec::new(),
        drawn: Vec::new(),
    };
    let ops = ground.piece(piece).into_iter().flat_map(|p| &p.fullness);
    for op in ops.filter(|op| op.edge == s.edge) {
        fold_in(&mut bed, op, drawn.line.length(), &|fraction| {
            at.at_fraction(s, fraction)
        });
    }
    let mut profile = Profile {
        beds: vec![bed],
        bumps: Vec::new(),
    };
    let turning = ground.turning(&EdgeRef::new(&s.piece, &s.edge));
    let now = Now {
        seam: None,
        at: turning.map(|sewing| sewing.at),
    };
    bumps(ground, now, s, &at, &mut profile.bumps);
    profile
}
