//! Lines cut at the edges of pages, made one again.

use std::collections::BTreeMap;

use petitoile_core::kurbo::{
    ParamCurve, ParamCurveArclen, ParamCurveNearest, PathSeg, Point, Rect, Vec2,
};

use super::cells::Cells;
use super::nearby::way;
use super::strand::{EndOf, MEASURED, Side, Spot, Strand, started};
use crate::bring_in::{BringInError, Pace};

/// Directions this alike go on in one another: cosine of 12 degrees.
const SAME_WAY: f64 = 0.978;

/// Ends this alike in their distance are equally near, mm. Where four pages meet, a line may leave the first just before it
/// enters the last while a third shows both: it should not be joined across that gap.
const EQUAL: f64 = 0.03;

/// Strands near the seams of pages, found by place.
pub(super) struct Seams<'s> {
    pub strands: Vec<Strand>,
    areas: &'s [(usize, Rect)],
    cells: Cells<(usize, usize)>,
    tolerance: f64,
}

/// How one end goes on.
#[derive(Debug, Clone, Copy)]
struct Link {
    /// The end of the other strand that lies on this one.
    to: EndOf,
    /// Where this end lies on the other.
    spot: Spot,
    /// How much of the other goes on from there, mm.
    ahead: f64,
}

/// How ends go on, each end once.
type Links = BTreeMap<EndOf, Link>;

/// What a round of joining did.
#[derive(Debug, Default, Clone, Copy)]
pub(super) struct Round {
    pub joins: usize,
    pub doubles: usize,
    pub gap: f64,
}

impl<'s> Seams<'s> {
    /// `areas` is what each page shows, with the page's number.
    pub fn new(strands: Vec<Strand>, areas: &'s [(usize, Rect)], tolerance: f64) -> Self {
        let mut seams = Self {
            strands,
            areas,
            cells: Cells::new((2.0 * tolerance).max(2.0)),
            tolerance,
        };
        seams.index();
        seams
    }

    fn index(&mut self) {
        let mut cells = Cells::new((2.0 * self.tolerance).max(2.0));
        let all = self
            .areas
            .iter()
            .map(|(_, area)| *area)
            .reduce(|a, b| a.union(b));
        let window = all.unwrap_or_default().inflate(5.0, 5.0);
        for (number, strand) in self.strands.iter().enumerate() {
            for (index, segment) in strand.segments.iter().enumerate() {
                cells.along(segment, (number, index), window, |p| self.is_seam(p));
            }
        }
        self.cells = cells;
    }

    /// Do two pages show this place, or do they meet here?
    pub fn is_seam(&self, p: Point) -> bool {
        let wide = self.tolerance + 2.0;
        let shows = |(_, area): &&(usize, Rect)| area.inflate(wide, wide).contains(p);
        self.areas.iter().filter(shows).nth(1).is_some()
    }

    /// Was a line cut here, at the edge of its page, although another page shows what lies beyond?
    pub fn is_cut(&self, at: Point, out: Vec2, page: usize) -> bool {
        let near = self.tolerance + 0.6;
        let Some((_, area)) = self.areas.iter().find(|(number, _)| *number == page) else {
            return false;
        };
        let leaves = |distance: f64, outwards: f64| distance.abs() < near && outwards > 0.2;
        let at_edge = leaves(at.x - area.x0, -out.x)
            || leaves(at.x - area.x1, out.x)
            || leaves(at.y - area.y0, -out.y)
            || leaves(at.y - area.y1, out.y);
        let beyond = at + out * (2.0 * near);
        at_edge
            && self
                .areas
                .iter()
                .any(|(number, area)| *number != page && area.contains(beyond))
    }

    /// The nearest places on the strands' segments near a point, strand by strand, the nearest first.
    fn spots(&self, p: Point) -> Vec<Spot> {
        let mut spots: Vec<Spot> = Vec::new();
        for (strand, index) in self.cells.near(p) {
            let Some(segment) = self.strands.get(strand).and_then(|s| s.segments.get(index)) else {
                continue;
            };
            let nearest = segment.nearest(p, 1e-6);
            let distance = nearest.distance_sq.sqrt();
            if distance > self.tolerance {
                continue;
            }
            let spot = Spot {
                strand,
                segment: index,
                t: nearest.t,
                distance,
            };
            spots.push(spot);
        }
        spots.sort_by(|a, b| {
            a.strand
                .cmp(&b.strand)
                .then(a.distance.total_cmp(&b.distance))
        });
        spots
    }

    /// One round: what lies wholly on another is left out, what goes on in another is joined to it.
    pub fn round(&mut self, pace: &Pace<'_>) -> Result<Round, BringInError> {
        let mut round = self.drop_doubles(&pace.part(0.0, 0.4))?;
        if round.doubles > 0 {
            self.index();
        }
        let links = self.links(&pace.part(0.4, 0.9))?;
        if !links.is_empty() {
            let joined = self.follow(&links);
            round.joins += joined.joins;
            round.gap = round.gap.max(joined.gap);
            self.index();
        }
        pace.at(1.0)?;
        Ok(round)
    }

    fn drop_doubles(&mut self, pace: &Pace<'_>) -> Result<Round, BringInError> {
        let mut round = Round::default();
        let mut gone = vec![false; self.strands.len()];
        for number in 0..self.strands.len() {
            pace.step(number, self.strands.len())?;
            if let Some(off) = self.lies_on_another(number, &gone) {
                if let Some(gone) = gone.get_mut(number) {
                    *gone = true;
                }
                round.doubles += 1;
                round.gap = round.gap.max(off);
            }
        }
        let mut at = 0;
        self.strands.retain(|_| {
            at += 1;
            !gone.get(at - 1).copied().unwrap_or(false)
        });
        Ok(round)
    }

    /// Does an open strand lie wholly on one of another page? Then how far off.
    fn lies_on_another(&self, number: usize, gone: &[bool]) -> Option<f64> {
        let strand = self.strands.get(number).filter(|strand| !strand.closed)?;
        let (start, _) = strand.end(Side::Start)?;
        if !self.is_seam(start) || !self.is_seam(strand.end(Side::End)?.0) {
            return None;
        }
        let mut candidates: Vec<usize> = self
            .spots(start)
            .into_iter()
            .map(|spot| spot.strand)
            .filter(|other| *other != number && !gone.get(*other).copied().unwrap_or(true))
            .collect();
        candidates.dedup();
        let [a, b] = strand.pages;
        candidates.into_iter().find_map(|candidate| {
            let other = self.strands.get(candidate)?;
            let longer = strand.length() < other.length() - self.tolerance
                || (strand.length() <= other.length() + self.tolerance && candidate < number);
            let own = a == b && other.pages == strand.pages;
            if other.look != strand.look || !longer || own {
                return None;
            }
            let mut off = 0.0_f64;
            for segment in &strand.segments {
                let steps = (segment.arclen(MEASURED) / 3.0).ceil().clamp(1.0, 200.0) as usize;
                for i in 0..=steps {
                    let t = i as f64 / steps as f64;
                    let along = way(segment, t);
                    let spot = self.spots(segment.eval(t)).into_iter().find(|spot| {
                        spot.strand == candidate
                            && other.segments.get(spot.segment).is_some_and(|segment| {
                                way(segment, spot.t).dot(along).abs() > SAME_WAY
                                    || strand.length() < 2.0
                            })
                    })?;
                    off = off.max(spot.distance);
                }
            }
            Some(off)
        })
    }

    /// Which ends go on in which. Where an end could go on in several (four pages meet), the nearest come first, and of
    /// those the ones that go on farthest.
    fn links(&self, pace: &Pace<'_>) -> Result<Links, BringInError> {
        let mut all: BTreeMap<EndOf, Vec<Link>> = BTreeMap::new();
        for number in 0..self.strands.len() {
            pace.step(number, self.strands.len())?;
            for side in [Side::Start, Side::End] {
                let links = self.link(number, side);
                if !links.is_empty() {
                    all.insert((number, side), links);
                }
            }
        }
        let mut pairs: Vec<(EndOf, Link, Link)> = Vec::new();
        for (end, links) in &all {
            for link in links.iter().filter(|link| *end < link.to) {
                let back = all
                    .get(&link.to)
                    .into_iter()
                    .flatten()
                    .find(|back| back.to == *end);
                pairs.extend(back.map(|back| (*end, *link, *back)));
            }
        }
        let near = |link: &Link| (link.spot.distance / EQUAL).floor();
        let rank = |(_, link, back): &(EndOf, Link, Link)| {
            (near(link).max(near(back)), -link.ahead.min(back.ahead))
        };
        pairs.sort_by(|a, b| {
            let (x, y) = (rank(a), rank(b));
            x.0.total_cmp(&y.0).then(x.1.total_cmp(&y.1))
        });
        let mut links = Links::new();
        for (end, link, back) in pairs {
            if !links.contains_key(&end) && !links.contains_key(&link.to) {
                links.insert(end, link);
                links.insert(link.to, back);
            }
        }
        Ok(links)
    }

    /// All ways in which an end could go on.
    fn link(&self, number: usize, side: Side) -> Vec<Link> {
        let Some(strand) = self.strands.get(number).filter(|strand| !strand.closed) else {
            return Vec::new();
        };
        let Some((at, out)) = strand.end(side).filter(|(at, _)| self.is_seam(*at)) else {
            return Vec::new();
        };
        let least = (4.0 * self.tolerance).max(2.0);
        self.spots(at)
            .into_iter()
            .filter_map(|spot| {
                let other = self
                    .strands
                    .get(spot.strand)
                    .filter(|other| !other.closed)?;
                let segment = other.segments.get(spot.segment)?;
                let along = way(segment, spot.t).dot(out);
                if other.look != strand.look || along.abs() < SAME_WAY {
                    return None;
                }
                let from_start = other.length_to(spot.segment, spot.t);
                let (ahead, lies) = if along > 0.0 {
                    (other.length() - from_start, Side::Start)
                } else {
                    (from_start, Side::End)
                };
                let own = spot.strand == number;
                // A line goes on in itself only across its other end, a good way off.
                if own && (lies == side || ahead < least || strand.length() < 2.0 * least) {
                    return None;
                }
                if !own && strand.page(side) == other.page(lies) {
                    return None;
                }
                if ahead < self.tolerance {
                    return None;
                }
                // The other's near end must lie on this strand, or meet it.
                let (near_end, _) = other.end(lies)?;
                let meets = near_end.distance(at) < self.tolerance
                    || self
                        .spots(near_end)
                        .iter()
                        .any(|back| back.strand == number);
                meets.then_some(Link {
                    to: (spot.strand, lies),
                    spot,
                    ahead,
                })
            })
            .collect()
    }

    /// Joins strands along links that hold both ways.
    fn follow(&mut self, links: &Links) -> Round {
        let mutual = |end: EndOf| links.get(&end).copied();
        let mut taken = vec![false; self.strands.len()];
        let mut done: Vec<Strand> = Vec::new();
        let mut round = Round::default();
        // Chains that have a beginning first, then rings.
        for ring in [false, true] {
            for number in 0..self.strands.len() {
                if taken.get(number).copied().unwrap_or(true) {
                    continue;
                }
                let begins = [Side::Start, Side::End]
                    .into_iter()
                    .find(|side| mutual((number, *side)).is_none());
                let begin = match (begins, ring) {
                    (Some(side), false) => side,
                    (None, true) => Side::Start,
                    _ => continue,
                };
                done.extend(self.chain((number, begin), &mutual, &mut taken, &mut round));
            }
        }
        done.sort_by_key(|strand| strand.line);
        self.strands = done;
        round
    }

    /// One chain from the end where it begins.
    fn chain(
        &self,
        begin: EndOf,
        mutual: &impl Fn(EndOf) -> Option<Link>,
        taken: &mut [bool],
        round: &mut Round,
    ) -> Option<Strand> {
        let upright = |(number, side): EndOf| -> Option<Strand> {
            let strand = self.strands.get(number)?;
            Some(if side == Side::Start {
                strand.clone()
            } else {
                strand.reversed()
            })
        };
        if [Side::Start, Side::End]
            .iter()
            .all(|side| mutual((begin.0, *side)).is_none())
        {
            if let Some(taken) = taken.get_mut(begin.0) {
                *taken = true;
            }
            return self.strands.get(begin.0).cloned();
        }
        let first = upright(begin)?;
        let mut take = |number: usize| {
            if let Some(taken) = taken.get_mut(number) {
                *taken = true;
            }
        };
        take(begin.0);
        let mut segments = first.segments.clone();
        let (mut pages, mut line) = (first.pages, first.line);
        let mut closed = first.closed;
        let mut end = (begin.0, begin.1.other());
        while !closed && let Some(link) = mutual(end) {
            round.joins += 1;
            round.gap = round.gap.max(link.spot.distance);
            let next = upright(link.to)?;
            // The place on the strand as it is walked.
            let count = next.segments.len();
            let spot = if link.to.1 == Side::Start {
                link.spot
            } else {
                Spot {
                    segment: (count - 1).saturating_sub(link.spot.segment),
                    t: 1.0 - link.spot.t,
                    ..link.spot
                }
            };
            if link.to.0 == begin.0 {
                // A ring: what its beginning doubles is left out.
                segments = trimmed(&segments, &next, spot);
                closed = true;
                break;
            }
            let mut rest = next.from(spot);
            if let (Some(last), Some(first)) = (segments.last(), rest.first_mut()) {
                *first = started(first, last.end());
            }
            segments.extend(rest);
            take(link.to.0);
            pages = [pages[0], next.pages[1]];
            line = line.min(next.line);
            end = (link.to.0, link.to.1.other());
        }
        if closed
            && let (Some(last), Some(first)) = (segments.last().copied(), segments.first_mut())
        {
            *first = started(first, last.end());
        }
        let mut whole = Strand::of(segments, closed, first.look, pages, line);
        whole.is_joined = true;
        Some(whole)
    }
}

/// A ring's segments without the stretch of its first strand that its last one shows too.
fn trimmed(segments: &[PathSeg], first: &Strand, spot: Spot) -> Vec<PathSeg> {
    let mut kept = first.from(spot);
    // All segments of the first strand stand at the front of the ring, none of them cut.
    kept.extend(segments.iter().skip(first.segments.len()).copied());
    kept
}
