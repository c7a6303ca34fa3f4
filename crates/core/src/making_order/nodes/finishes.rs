//! Hems, casings, facings, slits and gaps: one step for each run, over the seams that cross it.

use super::{Steps, copy_words, finishing, stage};
use crate::making_order::LiningMethod;
use crate::making_order::graph::{Layer, Node};
use crate::making_order::step::Work;
use crate::piece::{Frame, Placement, Role};

/// A run of edges that are finished alike, one after the other along what will be one boundary.
#[derive(Debug, Clone)]
pub(in crate::making_order) struct Run {
    /// Its step.
    pub step: usize,
    /// Seams that cross it.
    pub joints: Vec<usize>,
    /// Does it close to a ring?
    pub ring: bool,
    /// Its length: the girth, when it is a ring.
    pub length: f64,
    /// Does it hang from the body, so that its length is set at the fitting?
    pub hangs: bool,
    /// Seams that catch its ends.
    pub caught_by: Vec<usize>,
    /// Seams that go on where it ends, along the same edge: below a slit.
    pub goes_on_in: Vec<usize>,
}

impl Steps<'_> {
    pub(super) fn finishes(&mut self) {
        let wants: Vec<Option<Work>> = (0..self.surface.segments.len())
            .map(|s| self.wants(s))
            .collect();
        let mut used = vec![false; wants.len()];
        let want = |s: usize| wants.get(s).cloned().flatten();
        for start in 0..wants.len() {
            let Some(work) = want(start) else { continue };
            if used.get(start) == Some(&true) {
                continue;
            }
            let same = |s: usize| {
                let kin = self.surface.segment(s).zip(self.surface.segment(start));
                let layer = kin.is_some_and(|(a, b)| self.role(a.cut) == self.role(b.cut));
                layer && want(s).as_ref() == Some(&work)
            };
            // Back to where the run starts, then along it.
            let back = self.back();
            let mut first = start;
            let mut ring = false;
            let follows = |b: usize, s: usize| same(b) && same(s) && !self.foot_of_slit(b, s);
            while let Some(before) = back.get(first).copied().filter(|b| follows(*b, first)) {
                first = before;
                if first == start {
                    ring = true;
                    break;
                }
            }
            let mut segments = vec![first];
            let (mut last, mut at) = (first, self.all.next(first));
            while at != first && follows(last, at) && segments.len() < wants.len() {
                segments.push(at);
                (last, at) = (at, self.all.next(at));
            }
            for s in &segments {
                if let Some(slot) = used.get_mut(*s) {
                    *slot = true;
                }
            }
            self.run(work, segments, ring);
        }
    }

    /// Does a seam go on where these two meet, along the very edge that is open above: the foot of a slit? Its two sides
    /// are finished one by one.
    fn foot_of_slit(&self, before: usize, after: usize) -> bool {
        let goes_on = |s: usize, beside: Option<usize>| {
            let pair = self.surface.segment(s).zip(beside);
            pair.is_some_and(|(s, beside)| {
                self.surface.segment(beside).is_some_and(|b| {
                    (s.cut, s.edge, s.mirrored) == (b.cut, b.edge, b.mirrored)
                        && self.owner.get(beside).copied().flatten().is_some()
                })
            })
        };
        let next = self.surface.segment(before).map(|s| s.next);
        let back = self.surface.segment(after).map(|s| s.before);
        next != Some(after) && (goes_on(before, next) || goes_on(after, back))
    }

    fn role(&self, cut: usize) -> Option<Role> {
        self.surface.cuts.get(cut).map(|c| c.copy.role)
    }

    /// The segment before each along its boundary when all is sewn.
    fn back(&self) -> Vec<usize> {
        let mut back = vec![usize::MAX; self.surface.segments.len()];
        for s in 0..back.len() {
            if self.all.is_glued(s) {
                continue;
            }
            if let Some(slot) = back.get_mut(self.all.next(s)) {
                *slot = s;
            }
        }
        back
    }

    /// What a segment wants done, when no seam takes it.
    fn wants(&self, segment: usize) -> Option<Work> {
        let s = self.surface.segment(segment)?;
        if self.owner.get(segment).copied().flatten().is_some() {
            return None;
        }
        let work = finishing(s.finish);
        let lining = self.role(s.cut) == Some(Role::Lining);
        match (work, lining) {
            // A lining is not faced; it covers the facing.
            (Some(Work::Face), true) => {
                let at = self.surface.edge_ref(segment)?.edge;
                Some(Work::Fell { at })
            }
            (Some(work), _) => Some(work),
            // A raw lining edge whose shell is sewn to something else is felled over that seam.
            (None, true) if s.finish == crate::edge::Finish::Seam && self.is_lined_by_hand() => {
                let at = self.surface.edge_ref(segment)?.edge;
                Some(Work::Fell { at })
            }
            // Without its lining, the edge to which the lining would have been sewn is faced.
            (None, false)
                if s.finish == crate::edge::Finish::Seam && self.lost_its_lining(segment) =>
            {
                Some(Work::Face)
            }
            (None, _) => None,
        }
    }

    fn is_lined_by_hand(&self) -> bool {
        matches!(
            self.lining,
            Some(LiningMethod::Felled | LiningMethod::Bagged)
        )
    }

    /// Was this edge to be sewn to a lining that is not made up by itself?
    fn lost_its_lining(&self, segment: usize) -> bool {
        let Some(at) = self.surface.edge_ref(segment) else {
            return false;
        };
        self.surface.garment.seams.iter().any(|seam| {
            let mut both = seam.a.iter().chain(&seam.b);
            both.clone().any(|s| s.copy.role == Role::Lining)
                && both
                    .any(|s| s.copy.role == Role::Shell && s.piece == at.piece && s.edge == at.edge)
        })
    }

    fn run(&mut self, work: Work, segments: Vec<usize>, ring: bool) {
        let (mut joints, mut caught_by) = (Vec::new(), Vec::new());
        let mut goes_on_in = Vec::new();
        let same_edge = |a: usize, b: Option<usize>| {
            let pair = self
                .surface
                .segment(a)
                .zip(b.and_then(|b| self.surface.segment(b)));
            pair.is_some_and(|(a, b)| (a.cut, a.edge, a.mirrored) == (b.cut, b.edge, b.mirrored))
        };
        let owner = |s: Option<usize>| s.and_then(|s| self.owner.get(s).copied().flatten());
        let outline_next = |s: usize| self.surface.segment(s).map(|s| s.next);
        let outline_before = |s: usize| self.surface.segment(s).map(|s| s.before);
        let ends = if ring { 0 } else { 1 };
        for (i, s) in segments.iter().enumerate() {
            let is_last = i + 1 == segments.len();
            let after = if is_last {
                segments.first()
            } else {
                segments.get(i + 1)
            };
            if is_last && ends == 1 {
                let list = if same_edge(*s, outline_next(*s)) {
                    &mut goes_on_in
                } else {
                    &mut caught_by
                };
                list.extend(owner(outline_next(*s)));
            } else if outline_next(*s) != after.copied() {
                // The next segment lies across a seam or several.
                joints.extend(owner(outline_next(*s)));
                joints.extend(after.and_then(|n| owner(outline_before(*n))));
            }
            if i == 0 && ends == 1 {
                let list = if same_edge(*s, outline_before(*s)) {
                    &mut goes_on_in
                } else {
                    &mut caught_by
                };
                list.extend(owner(outline_before(*s)));
            }
        }
        joints.sort_unstable();
        joints.dedup();
        caught_by.sort_unstable();
        caught_by.dedup();
        let cuts = self.cuts_under(&segments);
        let layer = self.layer(&cuts);
        let length = self.length(segments.iter().copied());
        let first = segments.first().copied().unwrap_or(0);
        let Some(at) = self.surface.edge_ref(first) else {
            return;
        };
        let verb = match &work {
            Work::Hem => "hem",
            Work::Casing => "casing",
            Work::Face => "face",
            Work::Slit => "slit",
            Work::Fell { .. } => "fell",
            _ => "close gap",
        };
        // A run over several copies of one side is named by that side; over both, only by its layer.
        let copies = || {
            let cuts = cuts.iter().filter_map(|c| self.surface.cuts.get(*c));
            cuts.map(|c| c.copy)
        };
        let first_copy = copies().next();
        let words = match first_copy {
            Some(copy) if copies().all(|c| c.side == copy.side) => copy_words(copy),
            _ if layer == Layer::Lining => ", lining".to_owned(),
            _ => String::new(),
        };
        let base = format!("{verb} {}, {}{words}", at.piece, at.edge);
        let taken = |key: &str| self.graph.nodes.iter().any(|n| n.key == key);
        let key = (2..)
            .map(|n| format!("{base}, {n}"))
            .find(|key| !taken(key))
            .filter(|_| taken(&base))
            .unwrap_or(base);
        let hangs = matches!(work, Work::Hem)
            && ring
            && cuts.iter().any(|c| {
                let piece = self
                    .surface
                    .cuts
                    .get(*c)
                    .and_then(|c| self.surface.garment.pieces.get(c.piece));
                piece.is_some_and(|p| {
                    matches!(p.placement, Placement::Framed(Frame::Torso | Frame::Leg))
                })
            });
        let (stage, hand) = match &work {
            Work::CloseGap => (
                stage::GAP,
                Some("a gap is closed from outside with a ladder stitch"),
            ),
            Work::Fell { .. } => (
                stage::FELL,
                Some("felling is hand work: the edge is turned in and caught with small stitches"),
            ),
            Work::Hem if hangs => (stage::HEM, None),
            _ if layer == Layer::Lining => (stage::LINING, None),
            _ => (stage::FINISH, None),
        };
        let node = Node {
            cuts,
            segments,
            length,
            layer,
            hand,
            ..self.node(key, work, stage)
        };
        let step = self.add(node);
        self.runs.push(Run {
            step,
            joints,
            ring,
            length,
            hangs,
            caught_by,
            goes_on_in,
        });
    }
}
