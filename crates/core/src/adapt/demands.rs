//! From garment and fitting to blocks and rules: everything that must hold, with its rank.
#![allow(
    clippy::indexing_slicing,
    reason = "block, edge and point indices are looked up in the same chain"
)]

use std::sync::Arc;

use kurbo::{Point, Vec2};

use super::AdaptError;
use super::block::Block;
use super::guess::Warp;
use super::levels::{follow_warp, framed_warp, own_shaping};
use super::rules::{LegProduct, LevelLock, Rule, Site, Term};
use super::targets::{TapeTarget, closing, detail_ratio, times};
use crate::edge::OutlinePoint;
use crate::fitting::Fitting;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::piece::{FollowRule, Piece, Placement};
use crate::seams::{Relation, Seam, Stretch};
use crate::tape::{Hold, TapeKind, TapeLine, TapePart, TapePath};
use crate::tolerance::{JOINING, MEASURING};

/// Ranks, from what is kept longest. A fold that bends or a seam that does not meet cannot be sewn at all, a girth that
/// is missed may not close, a length that is missed looks wrong, a share or a smooth join is only less good.
pub(super) mod rank {
    /// Folds on grain, square corners at a fold.
    pub const FOLD: u8 = 1;
    /// Dart legs equal.
    pub const DART: u8 = 2;
    /// Mated seams.
    pub const SEAM: u8 = 3;
    /// Girths.
    pub const GIRTH: u8 = 4;
    /// Lengths.
    pub const LENGTH: u8 = 5;
    /// Square corners away from folds; sizes of details.
    pub const SQUARE: u8 = 6;
    /// Each piece's share of a girth.
    pub const SHARE: u8 = 7;
    /// Smooth joins.
    pub const SMOOTH: u8 = 8;
}

/// Joins that turn by less than this (sine) are smooth.
const SMOOTH_BELOW: f64 = 2e-3;

/// A line leaning by less than this share lies upright or level.
const ON_GRAIN: f64 = 1e-6;

/// A demand the maker is told about.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Demand {
    pub(super) name: String,
    pub(super) rank: u8,
    /// Added to the rule's value to tell what it measures.
    pub(super) wanted: f64,
    /// What the garment itself measures, over what the rule measures (1 for a plain sum).
    pub(super) piece: Option<String>,
}

/// Blocks, rules and demands of one adaptation.
pub(super) struct Problem {
    pub(super) blocks: Vec<Block>,
    pub(super) warps: Vec<Warp>,
    pub(super) rules: Vec<Rule>,
    pub(super) demands: Vec<Demand>,
}

/// What the problem is built from.
pub(super) struct Setup<'a> {
    pub(super) garment: &'a Garment,
    pub(super) fitting: &'a Fitting,
    pub(super) pieces: &'a [Arc<Piece>],
    pub(super) tapes: &'a [TapeTarget],
}

/// Builds the problem.
///
/// # Errors
/// [`AdaptError::BadReference`] when a seam or tape line names something that is not there.
pub(super) fn problem(setup: &Setup<'_>) -> Result<Problem, AdaptError> {
    let (blocks, warps) = blocks(setup);
    let mut problem = Problem {
        blocks,
        warps,
        rules: Vec::new(),
        demands: Vec::new(),
    };
    for (index, piece) in setup.pieces.iter().enumerate() {
        problem.fold_rules(index, piece);
        problem.dart_rules(index, piece);
        problem.corner_rules(index, piece);
        problem.smooth_rules(index, piece);
        problem.grain_rules(index, piece);
        problem.size_rules(setup, index, piece);
    }
    for seam in &setup.garment.seams {
        problem.seam_rule(setup, seam)?;
    }
    for (tape, target) in setup.garment.tape_lines.iter().zip(setup.tapes) {
        if target.hold == Hold::Fitted {
            problem.tape_rules(setup, tape, target)?;
        }
    }
    problem.rules.sort_by_key(|rule| rule.rank);
    Ok(problem)
}

/// Framed pieces first, then those that follow their mates.
fn blocks(setup: &Setup<'_>) -> (Vec<Block>, Vec<Warp>) {
    let mut warps: Vec<Option<Warp>> = setup
        .pieces
        .iter()
        .map(|piece| match piece.placement {
            Placement::Framed(frame) => Some(framed_warp(
                setup.garment,
                setup.fitting,
                setup.tapes,
                piece,
                frame,
            )),
            Placement::Follows(_) => None,
        })
        .collect();
    // A ruffle may hang on a band that hangs on a skirt: as many rounds as there can be links.
    for _ in 0..setup.pieces.len() {
        let settled: Vec<Option<Warp>> = warps.clone();
        for (piece, warp) in setup.pieces.iter().zip(&mut warps) {
            if warp.is_none() {
                *warp = follower(setup, piece, &settled, false);
            }
        }
    }
    let warps: Vec<Warp> = setup
        .pieces
        .iter()
        .zip(warps)
        .map(|(piece, warp)| {
            warp.or_else(|| follower(setup, piece, &[], true))
                .unwrap_or_else(|| follow_warp(setup.garment, setup.fitting, piece, None, None))
        })
        .collect();
    let blocks = setup
        .pieces
        .iter()
        .zip(&warps)
        .map(|(piece, warp)| Block::new(piece, own_shaping(piece, setup.fitting), warp))
        .collect();
    (blocks, warps)
}

/// The guess of a frameless piece; `None` while the mates it follows have none themselves (unless `last`).
fn follower(
    setup: &Setup<'_>,
    piece: &Piece,
    settled: &[Option<Warp>],
    last: bool,
) -> Option<Warp> {
    let Placement::Follows(follow) = &piece.placement else {
        return None;
    };
    let size = piece.outline.bounds();
    let sizes = [
        (&follow.length, size.width(), true),
        (&follow.depth, size.height(), false),
    ];
    let mut ratios = [None, None];
    for (slot, (rule, source, lies)) in ratios.iter_mut().zip(sizes) {
        *slot = match rule {
            FollowRule::Mate => match mate_ratio(setup, piece, settled, lies) {
                None if !last => return None,
                found => found,
            },
            other => Some(wanted_size(setup, other, piece, source).map_or_else(
                || detail_ratio(setup.garment, setup.fitting, Some(&piece.name)),
                |size| size / source.max(1e-9),
            )),
        };
    }
    let [length, depth] = ratios;
    Some(follow_warp(
        setup.garment,
        setup.fitting,
        piece,
        length,
        depth,
    ))
}

/// Size of a frameless piece by its rule; `None` when its mates decide.
fn wanted_size(setup: &Setup<'_>, rule: &FollowRule, piece: &Piece, source: f64) -> Option<f64> {
    let body = |m| {
        (
            setup.garment.made_for.measure(m).value.0,
            setup.fitting.body.measure(m).value.0,
        )
    };
    match rule {
        FollowRule::Mate => None,
        FollowRule::Typed(size) => Some(size.0),
        FollowRule::Detail => {
            Some(source * detail_ratio(setup.garment, setup.fitting, Some(&piece.name)))
        }
        FollowRule::ShareOfGirth { measure, share }
        | FollowRule::RatioOfLength {
            measure,
            ratio: share,
        } => {
            let (from, to) = body(*measure);
            // What the source piece has beyond its share stays in proportion.
            Some(share * to + (source - share * from) * to / from.max(1e-9))
        }
    }
}

/// How much longer the mates of a piece's lying (or standing) edges become by their own guess.
fn mate_ratio(
    setup: &Setup<'_>,
    piece: &Piece,
    settled: &[Option<Warp>],
    lies: bool,
) -> Option<f64> {
    let (mut before, mut after) = (0.0, 0.0);
    for seam in &setup.garment.seams {
        for (own, mates) in [(&seam.a, &seam.b), (&seam.b, &seam.a)] {
            let fits = own.iter().any(|s| {
                s.piece == piece.name
                    && piece.outline.edge(&s.edge).is_some_and(|edge| {
                        let d = edge.line.end() - edge.line.start();
                        (d.x.abs() >= d.y.abs()) == lies
                    })
            });
            if !fits {
                continue;
            }
            for mate in mates {
                let Some(index) = setup.pieces.iter().position(|p| p.name == mate.piece) else {
                    continue;
                };
                let Some(warp) = settled.get(index).and_then(Option::as_ref) else {
                    continue;
                };
                let Some(line) = setup.pieces[index]
                    .outline
                    .edge(&mate.edge)
                    .and_then(|e| e.line.between(mate.from, mate.to))
                else {
                    continue;
                };
                before += line.length();
                after += line.mapped(|p| warp.at(p)).length();
            }
        }
    }
    (before > 0.0).then(|| after / before)
}

impl Problem {
    fn add(&mut self, demand: Option<Demand>, rank: u8, terms: Vec<(f64, Term)>, target: f64) {
        let demand = demand.map(|d| {
            self.demands.push(d);
            self.demands.len() - 1
        });
        if demand.is_some()
            || !self
                .rules
                .iter()
                .any(|r| r.terms == terms && (r.target - target).abs() < 1e-12)
        {
            self.rules.push(Rule {
                demand,
                rank,
                terms,
                target,
            });
        }
    }

    fn hidden(&self, name: String, rank: u8, piece: &Piece) -> Option<Demand> {
        Some(Demand {
            name,
            rank,
            wanted: 0.0,
            piece: Some(piece.name.clone()),
        })
    }

    /// A fold stays straight (its points are held so) and on grain.
    fn fold_rules(&mut self, index: usize, piece: &Piece) {
        for (at, edge) in piece
            .outline
            .edges()
            .iter()
            .enumerate()
            .filter(|(_, e)| e.is_fold())
        {
            let d = edge.line.end() - edge.line.start();
            let normal = Vec2::new(-d.y, d.x) / d.hypot().max(1e-9);
            let (a, b) = self.ends(index, at);
            let demand = self.hidden(format!("{}: fold on grain", edge.name), rank::FOLD, piece);
            self.add(
                demand,
                rank::FOLD,
                vec![
                    (1.0, Term::Point(index, b, normal)),
                    (-1.0, Term::Point(index, a, normal)),
                ],
                0.0,
            );
        }
    }

    fn dart_rules(&mut self, index: usize, piece: &Piece) {
        for dart in &piece.darts {
            let (Some(a), Some(b)) = (
                piece.outline.index_of(&dart.leg_in),
                piece.outline.index_of(&dart.leg_out),
            ) else {
                continue;
            };
            let mut terms = self.edge_arcs(index, a, 1.0);
            terms.extend(self.edge_arcs(index, b, -1.0));
            let demand = self.hidden(format!("{}: legs equal", dart.name), rank::DART, piece);
            self.add(demand, rank::DART, terms, 0.0);
        }
    }

    /// Corners that are square on the source stay square.
    fn corner_rules(&mut self, index: usize, piece: &Piece) {
        let edges = piece.outline.edges();
        for (at, edge) in edges.iter().enumerate() {
            let before = (at + edges.len() - 1) % edges.len();
            let (Some(p), Some(q)) = (self.last_leg(index, before), self.first_leg(index, at))
            else {
                continue;
            };
            let (u, v) = (edges[before].line.direction(1.0), edge.line.direction(0.0));
            if u.dot(v) > 0.0 && u.cross(v).abs() < SMOOTH_BELOW {
                // Two edges that run on smoothly (the top of a sleeve cap, the middle of a hem) do so afterwards.
                let size = self.leg_size(index, p, q);
                self.add(
                    None,
                    rank::SMOOTH,
                    vec![(1.0, Term::Legs(index, p, q, LegProduct::Cross(size)))],
                    u.cross(v) * size,
                );
                continue;
            }
            if u.dot(v).abs() > 1e-4 || u == Vec2::ZERO || v == Vec2::ZERO {
                continue;
            }
            let at_fold = edge.is_fold() || edges[before].is_fold();
            let rank = if at_fold { rank::FOLD } else { rank::SQUARE };
            let size = self.leg_size(index, p, q);
            let demand = self.hidden(
                format!("{} and {}: square corner", edges[before].name, edge.name),
                rank,
                piece,
            );
            self.add(
                demand,
                rank,
                vec![(1.0, Term::Legs(index, p, q, LegProduct::Dot(size)))],
                0.0,
            );
        }
    }

    /// Joins inside an edge that are smooth on the source stay smooth.
    fn smooth_rules(&mut self, index: usize, piece: &Piece) {
        let straight: Vec<bool> = piece
            .outline
            .edges()
            .iter()
            .map(|e| e.line.is_straight())
            .collect();
        let ranges = self.blocks[index].edges.clone();
        for (range, _) in ranges.iter().zip(&straight).filter(|(_, s)| !**s) {
            for cubic in range.start + 1..range.end {
                let [_, _, a, b] = self.blocks[index].cubics[cubic - 1];
                let [_, c, _, _] = self.blocks[index].cubics[cubic];
                let source = &self.blocks[index].source;
                let (u, v) = (source[b] - source[a], source[c] - source[b]);
                let (lu, lv) = (u.hypot(), v.hypot());
                if lu < 1e-6
                    || lv < 1e-6
                    || u.dot(v) <= 0.0
                    || (u.cross(v) / (lu * lv)).abs() > SMOOTH_BELOW
                {
                    continue;
                }
                let size = self.leg_size(index, (a, b), (b, c));
                let terms = vec![(
                    1.0,
                    Term::Legs(index, (a, b), (b, c), LegProduct::Cross(size)),
                )];
                let target = u.cross(v) / (lu * lv) * size;
                self.add(None, rank::SMOOTH, terms, target);
            }
        }
    }

    /// Straight stretches that lie exactly upright or level on the source (a centre front, a hem) stay so.
    fn grain_rules(&mut self, index: usize, piece: &Piece) {
        for (at, edge) in piece
            .outline
            .edges()
            .iter()
            .enumerate()
            .filter(|(_, e)| !e.is_fold())
        {
            for (k, cubic) in edge.line.cubics().enumerate() {
                let [a, _, _, b] =
                    self.blocks[index].cubics[self.blocks[index].edges[at].start + k];
                let d = cubic.p3 - cubic.p0;
                let straight = Line::from_cubics(&[cubic]).is_some_and(|line| line.is_straight());
                let across = if d.x.abs() < ON_GRAIN * d.y.abs() {
                    Vec2::new(1.0, 0.0)
                } else if d.y.abs() < ON_GRAIN * d.x.abs() {
                    Vec2::new(0.0, 1.0)
                } else {
                    continue;
                };
                if straight {
                    self.add(
                        None,
                        rank::SQUARE,
                        vec![
                            (1.0, Term::Point(index, b, across)),
                            (-1.0, Term::Point(index, a, across)),
                        ],
                        d.dot(across),
                    );
                }
            }
        }
    }

    /// A frameless piece has the size its rule says.
    fn size_rules(&mut self, setup: &Setup<'_>, index: usize, piece: &Piece) {
        let Placement::Follows(follow) = &piece.placement else {
            return;
        };
        let bounds = piece.outline.bounds();
        for (rule, source, axis, what) in [
            (
                &follow.length,
                bounds.width(),
                Vec2::new(1.0, 0.0),
                "length",
            ),
            (&follow.depth, bounds.height(), Vec2::new(0.0, 1.0), "depth"),
        ] {
            let Some(size) = wanted_size(setup, rule, piece, source) else {
                continue;
            };
            let points = &self.blocks[index].source;
            let on_line = |k: &usize| self.blocks[index].cubics.iter().any(|c| c[0] == *k);
            let reach = |k: &usize| points[*k].to_vec2().dot(axis);
            let ids: Vec<usize> = (0..points.len()).filter(on_line).collect();
            let (Some(least), Some(most)) = (
                ids.iter()
                    .copied()
                    .min_by(|a, b| reach(a).total_cmp(&reach(b))),
                ids.iter()
                    .copied()
                    .max_by(|a, b| reach(a).total_cmp(&reach(b))),
            ) else {
                continue;
            };
            // Between extreme corners; a bulge beyond them scales along.
            let target = size * (reach(&most) - reach(&least)) / source.max(1e-9);
            let demand = Some(Demand {
                name: what.to_owned(),
                rank: rank::SQUARE,
                wanted: target,
                piece: Some(piece.name.clone()),
            });
            self.add(
                demand,
                rank::SQUARE,
                vec![
                    (1.0, Term::Point(index, most, axis)),
                    (-1.0, Term::Point(index, least, axis)),
                ],
                target,
            );
        }
    }

    fn seam_rule(&mut self, setup: &Setup<'_>, seam: &Seam) -> Result<(), AdaptError> {
        let (a, length_a) = self.side(setup, seam, &seam.a, 1.0)?;
        let (b, length_b) = self.side(setup, seam, &seam.b, 1.0)?;
        // Ease and gathers stay in proportion to what the source really has.
        let times = match seam.relation {
            Relation::Equal if (length_a - length_b).abs() <= JOINING.0 => 1.0,
            Relation::Ratio(ratio)
                if (length_a / length_b.max(1e-9) - ratio).abs() < 0.01 * ratio =>
            {
                ratio
            }
            Relation::Equal | Relation::Eased(_) | Relation::Ratio(_) => {
                length_a / length_b.max(1e-9)
            }
        };
        let mut terms = a;
        terms.extend(b.into_iter().map(|(f, t)| (-times * f, t)));
        let terms = gathered(terms);
        if terms.is_empty()
            || self
                .rules
                .iter()
                .any(|r| r.rank == rank::SEAM && (r.terms == terms || negated(&r.terms, &terms)))
        {
            return Ok(());
        }
        let rank = setup
            .fitting
            .demands
            .get(&seam.name)
            .and_then(|c| c.rank)
            .unwrap_or(rank::SEAM);
        let demand = Some(Demand {
            name: seam.name.clone(),
            rank,
            wanted: 0.0,
            piece: None,
        });
        self.add(demand, rank, terms, 0.0);
        Ok(())
    }

    /// Arcs of one side of a seam, and its length on the source.
    fn side(
        &self,
        setup: &Setup<'_>,
        seam: &Seam,
        side: &[Stretch],
        factor: f64,
    ) -> Result<(Vec<(f64, Term)>, f64), AdaptError> {
        let (mut terms, mut length) = (Vec::new(), 0.0);
        for stretch in side {
            let missing = || {
                AdaptError::BadReference(format!(
                    "seam {}: {}, {} is not there; take it out of the seam or rename it",
                    seam.name, stretch.piece, stretch.edge
                ))
            };
            let index = setup
                .pieces
                .iter()
                .position(|p| p.name == stretch.piece)
                .ok_or_else(missing)?;
            let edge = setup.pieces[index]
                .outline
                .index_of(&stretch.edge)
                .ok_or_else(missing)?;
            let (from, to) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
            let arcs = self.arcs(index, edge, &setup.pieces[index], from, to, factor);
            // Measured as the solver measures, so that the source fits its own seam to the last bits.
            let block = &self.blocks[index];
            length += arcs
                .iter()
                .map(|(_, term)| term.length(block, &block.source))
                .sum::<f64>();
            terms.extend(arcs);
        }
        Ok((terms, length))
    }

    fn tape_rules(
        &mut self,
        setup: &Setup<'_>,
        tape: &TapeLine,
        target: &TapeTarget,
    ) -> Result<(), AdaptError> {
        let rank = match (
            setup.fitting.demands.get(&tape.name).and_then(|c| c.rank),
            tape.kind,
        ) {
            (Some(rank), _) => rank,
            (None, TapeKind::Girth) => rank::GIRTH,
            (None, TapeKind::Length) => rank::LENGTH,
        };
        let detail = detail_ratio(setup.garment, setup.fitting, None);
        let wanted_sum = target.target + closing(tape) * detail;
        let source_sum: f64 = tape
            .parts
            .iter()
            .zip(&target.parts)
            .map(|(part, v)| v * times(tape, part, setup.pieces))
            .sum();
        let mut all = Vec::new();
        let mut single = Vec::new();
        for part in &tape.parts {
            let times = times(tape, part, setup.pieces);
            let terms = self.path(setup, tape, &part.piece, &part.path)?;
            all.extend(terms.iter().map(|(f, t)| (times * f, *t)));
            single.push(terms);
        }
        let demand = Some(Demand {
            name: tape.name.clone(),
            rank,
            wanted: target.target,
            piece: None,
        });
        self.add(demand, rank, all, wanted_sum);
        if tape.parts.len() < 2 || source_sum.abs() < 1e-9 {
            return Ok(());
        }
        // Where parts have tape lines of their own, those tell the shares.
        let settled = |part: &TapePart| {
            let mut others = setup.garment.tape_lines.iter().zip(setup.tapes);
            others.any(|(other, t)| {
                t.hold == Hold::Fitted && other.parts.as_slice() == std::slice::from_ref(part)
            })
        };
        if tape.parts.iter().any(settled) {
            return Ok(());
        }
        for ((part, terms), source) in tape.parts.iter().zip(single).zip(&target.parts) {
            let share = source * wanted_sum / source_sum;
            let demand = Some(Demand {
                name: format!("{}: share", tape.name),
                rank: rank::SHARE,
                wanted: share,
                piece: Some(part.piece.clone()),
            });
            self.add(demand, rank::SHARE, terms, share);
        }
        Ok(())
    }

    /// Terms of one part of a tape line.
    fn path(
        &self,
        setup: &Setup<'_>,
        tape: &TapeLine,
        piece: &str,
        path: &TapePath,
    ) -> Result<Vec<(f64, Term)>, AdaptError> {
        let missing = |what: &str| {
            AdaptError::BadReference(format!(
                "tape line {}: {piece}, {what} is not there; take it out of the tape line or rename it",
                tape.name
            ))
        };
        let index = setup
            .pieces
            .iter()
            .position(|p| p.name == piece)
            .ok_or_else(|| missing("the piece"))?;
        let place = |p: &OutlinePoint| {
            self.site(index, &setup.pieces[index], p)
                .ok_or_else(|| missing(&p.edge))
        };
        match path {
            TapePath::Along { edge, from, to } => {
                let at = setup.pieces[index]
                    .outline
                    .index_of(edge)
                    .ok_or_else(|| missing(edge))?;
                Ok(self.arcs(
                    index,
                    at,
                    &setup.pieces[index],
                    from.min(*to),
                    from.max(*to),
                    1.0,
                ))
            }
            TapePath::Across(a, b) => {
                let (a, b) = (place(a)?, place(b)?);
                let sign = if self.source_point(&b).x >= self.source_point(&a).x {
                    1.0
                } else {
                    -1.0
                };
                Ok(vec![(sign, Term::X(b)), (-sign, Term::X(a))])
            }
            TapePath::Upright(a, b) => {
                let (a, b) = (place(a)?, place(b)?);
                let sign = if self.source_point(&b).y >= self.source_point(&a).y {
                    1.0
                } else {
                    -1.0
                };
                Ok(vec![(sign, Term::Y(b)), (-sign, Term::Y(a))])
            }
        }
    }

    fn source_point(&self, site: &Site) -> Point {
        let block = &self.blocks[site.block];
        site.point(block, &block.source)
    }

    /// A place on the outline; one that lies on a body line inside an edge slides along that edge with the level.
    pub(super) fn site(&self, index: usize, piece: &Piece, at: &OutlinePoint) -> Option<Site> {
        let edge = piece.outline.index_of(&at.edge)?;
        let line = &piece.outline.edges()[edge].line;
        let (local, t) = line.locate(at.fraction);
        let inside = at.fraction > 1e-9 && at.fraction < 1.0 - 1e-9;
        let level = if inside {
            self.level_lock(index, piece, at)
        } else {
            None
        };
        Some(Site {
            block: index,
            edge,
            cubic: self.blocks[index].edges[edge].start + local,
            t,
            level,
        })
    }

    /// The level a place belongs to, measured from the highest corner of the piece that lies on another body line, or
    /// from its topmost corner.
    fn level_lock(&self, index: usize, piece: &Piece, at: &OutlinePoint) -> Option<LevelLock> {
        let own = piece
            .body_lines
            .iter()
            .find(|line| line.from == *at || line.to == *at)?;
        let block = &self.blocks[index];
        let corners: Vec<usize> = block
            .edges
            .iter()
            .map(|range| block.cubics[range.start][0])
            .collect();
        let here = piece.point_at(at)?;
        let on_line = piece
            .body_lines
            .iter()
            .filter(|line| line.level != own.level)
            .flat_map(|line| [piece.point_at(&line.from), piece.point_at(&line.to)])
            .flatten()
            .filter_map(|p| {
                corners
                    .iter()
                    .copied()
                    .find(|c| (block.source[*c] - p).hypot() < JOINING.0)
            });
        let from = on_line
            .max_by(|a, b| {
                block.source[*a]
                    .y
                    .total_cmp(&block.source[*b].y)
                    .then(b.cmp(a))
            })
            .or_else(|| {
                corners
                    .iter()
                    .copied()
                    .max_by(|a, b| block.source[*a].y.total_cmp(&block.source[*b].y))
            })?;
        let warp = &self.warps[index];
        Some(LevelLock {
            from,
            above: warp.at(here).y - warp.at(block.source[from]).y,
        })
    }

    /// Arcs of an edge between two fractions of its length.
    fn arcs(
        &self,
        index: usize,
        edge: usize,
        piece: &Piece,
        from: f64,
        to: f64,
        factor: f64,
    ) -> Vec<(f64, Term)> {
        let line = &piece.outline.edges()[edge].line;
        let first = self.blocks[index].edges[edge].start;
        let ((i, t), (j, u)) = (line.locate(from), line.locate(to));
        (i..=j)
            .map(|k| {
                (
                    first + k,
                    if k == i { t } else { 0.0 },
                    if k == j { u } else { 1.0 },
                )
            })
            .filter(|(_, t, u)| u - t > 1e-12)
            .map(|(k, t, u)| (factor, Term::Arc(index, k, t, u)))
            .collect()
    }

    fn edge_arcs(&self, index: usize, edge: usize, factor: f64) -> Vec<(f64, Term)> {
        self.blocks[index].edges[edge]
            .clone()
            .map(|k| (factor, Term::Arc(index, k, 0.0, 1.0)))
            .collect()
    }

    fn ends(&self, index: usize, edge: usize) -> (usize, usize) {
        let block = &self.blocks[index];
        let range = &block.edges[edge];
        (block.cubics[range.start][0], block.cubics[range.end - 1][3])
    }

    /// First leg of an edge that has a length.
    fn first_leg(&self, index: usize, edge: usize) -> Option<(usize, usize)> {
        let block = &self.blocks[index];
        let c = block.cubics[block.edges[edge].start];
        c[1..]
            .iter()
            .map(|p| (c[0], *p))
            .find(|(a, b)| (block.source[*b] - block.source[*a]).hypot() > MEASURING.0)
    }

    /// Last leg of an edge that has a length.
    fn last_leg(&self, index: usize, edge: usize) -> Option<(usize, usize)> {
        let block = &self.blocks[index];
        let c = block.cubics[block.edges[edge].end - 1];
        c[..3]
            .iter()
            .rev()
            .map(|p| (*p, c[3]))
            .find(|(a, b)| (block.source[*b] - block.source[*a]).hypot() > MEASURING.0)
    }

    /// A length to divide a product of two legs by: the geometric mean of their guesses.
    fn leg_size(&self, index: usize, p: (usize, usize), q: (usize, usize)) -> f64 {
        let block = &self.blocks[index];
        let size = |(a, b): (usize, usize)| (block.guess[b] - block.guess[a]).hypot();
        (size(p) * size(q)).sqrt().max(block.mean_leg() * 0.01)
    }
}

/// Terms with equal arcs put together; what cancels is dropped (a seam of an edge with its own mirror image).
fn gathered(terms: Vec<(f64, Term)>) -> Vec<(f64, Term)> {
    let mut out: Vec<(f64, Term)> = Vec::with_capacity(terms.len());
    for (factor, term) in terms {
        match out.iter_mut().find(|(_, t)| *t == term) {
            Some((sum, _)) => *sum += factor,
            None => out.push((factor, term)),
        }
    }
    out.retain(|(factor, _)| factor.abs() > 1e-12);
    out
}

fn negated(a: &[(f64, Term)], b: &[(f64, Term)]) -> bool {
    a.len() == b.len()
        && a.iter()
            .all(|(f, t)| b.iter().any(|(g, u)| t == u && (f + g).abs() < 1e-12))
}
