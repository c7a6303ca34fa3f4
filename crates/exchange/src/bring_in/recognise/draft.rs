//! A piece in the making: its lines, what is known of its edges, and the whole as a piece of the core.

use std::collections::{BTreeMap, BTreeSet};

use petitoile_core::Mm;
use petitoile_core::edge::{Edge, Finish};
use petitoile_core::geometry::curve::{Line, direction_on};
use petitoile_core::geometry::outline::Outline;
use petitoile_core::kurbo::{Point, Rect, Vec2};
use petitoile_core::notch::Notch;
use petitoile_core::piece::{Copy, Dart, Follow, FollowRule, Mark, Piece, Placement, Role, Side};

use super::corners::Smooth;
use super::counts::Count;
use super::marks::Bracket;
use super::parallel::{TOGETHER, Way};
use super::types::{Drawn, FoundAllowance, OneLine, PieceId, RecognisedPiece, Thing};

/// Legs of a dart are equal within this share of their length, or within [`LEG_OFF`].
const LEGS_ALIKE: f64 = 0.03;

/// Legs of a dart are equal within this, mm, or within [`LEGS_ALIKE`].
const LEG_OFF: f64 = 0.5;

/// A dart's point turns back by more than this, radians: the angle between its legs is under 70 degrees.
const DART_TURN: f64 = 110.0 * std::f64::consts::PI / 180.0;

/// A piece in the making.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Draft {
    pub id: PieceId,
    /// Its outer closed line.
    pub outer: usize,
    /// Its stitch line, where both are drawn.
    pub inner: Option<usize>,
    pub drawn: Drawn,
    /// The edges of the outline the piece will have.
    pub edges: Vec<Smooth>,
    /// From each edge out to the cut line, where both are drawn.
    pub ways: Vec<Option<Way>>,
    /// Allowance of each edge that was told, not measured.
    pub told: Vec<Option<f64>>,
    /// Place of the first leg of every dart; the second follows it.
    pub darts: Vec<usize>,
    pub fold: Option<usize>,
    /// Edges that are hems: how often turned.
    pub hems: BTreeMap<usize, u8>,
    pub notches: Vec<Notch>,
    pub marks: Vec<Mark>,
    pub grain: Option<(Point, Point)>,
    pub name: String,
    pub copies: Vec<Copy>,
    pub upright: Option<f64>,
    pub made_of: BTreeSet<Thing>,
    pub bounds: Rect,
    /// The edge of each notch, by its place.
    pub notch_at: Vec<usize>,
    /// Notches made of points: which, and the fractions of their points.
    pub notch_points: Vec<(usize, Vec<f64>)>,
    /// Texts that say that it is cut on the fold.
    pub fold_texts: Vec<usize>,
    /// Texts that are names of marks.
    pub mark_texts: BTreeSet<usize>,
    /// Texts that were read as names, counts, folds or allowances.
    pub read_texts: BTreeSet<usize>,
    /// Texts that stand with those in one block.
    pub label_texts: BTreeSet<usize>,
    /// What its words say of its only line.
    pub says_line: Option<(OneLine, Option<f64>)>,
    pub counts: Vec<Count>,
    pub brackets: Vec<Bracket>,
    pub hem_folds: Vec<(usize, f64)>,
    /// Dashed rows along edges inside: edge, how far in, the place of the mark.
    pub rows: Vec<(usize, f64, usize)>,
    /// Ends of lines that are said to be the fold.
    pub fold_told: Vec<(Point, Point)>,
}

impl Draft {
    /// A piece with this outline.
    pub fn new(id: PieceId, outer: usize, drawn: Drawn, edges: Vec<Smooth>, bounds: Rect) -> Self {
        let darts = darts(&edges);
        Self {
            id,
            outer,
            inner: None,
            drawn,
            ways: vec![None; edges.len()],
            told: vec![None; edges.len()],
            edges,
            darts,
            fold: None,
            hems: BTreeMap::new(),
            notches: Vec::new(),
            marks: Vec::new(),
            grain: None,
            name: String::new(),
            copies: vec![Copy {
                side: Side::Whole,
                role: Role::Shell,
            }],
            upright: None,
            made_of: BTreeSet::new(),
            bounds,
            notch_at: Vec::new(),
            notch_points: Vec::new(),
            fold_texts: Vec::new(),
            mark_texts: BTreeSet::new(),
            read_texts: BTreeSet::new(),
            label_texts: BTreeSet::new(),
            says_line: None,
            counts: Vec::new(),
            brackets: Vec::new(),
            hem_folds: Vec::new(),
            rows: Vec::new(),
            fold_told: Vec::new(),
        }
    }

    /// Do its words say that it is cut on the fold? A fold that is marked inside says nothing of the outline.
    pub fn says_fold(&self) -> bool {
        self.fold_texts.iter().any(|t| !self.mark_texts.contains(t))
    }

    /// Is the edge at this place a leg of a dart?
    pub fn is_leg(&self, at: usize) -> bool {
        self.darts
            .iter()
            .any(|d| *d == at || (d + 1) % self.edges.len().max(1) == at)
    }

    /// The edge at this place as a line of the core.
    pub fn line(&self, at: usize) -> Option<Line> {
        self.edges
            .get(at)
            .and_then(|e| Line::from_cubics(&e.cubics))
    }

    /// The names of all edges, by what they are.
    pub fn names(&self) -> Vec<String> {
        let n = self.edges.len();
        let mut names: Vec<String> = Vec::with_capacity(n);
        let (mut plain, mut hems) = (0, 0);
        for at in 0..n {
            let dart = self
                .darts
                .iter()
                .position(|d| *d == at || (d + 1) % n == at);
            names.push(if self.fold == Some(at) {
                "fold".to_owned()
            } else if self.hems.contains_key(&at) {
                hems += 1;
                if hems == 1 {
                    "hem".to_owned()
                } else {
                    format!("hem {hems}")
                }
            } else if let Some(number) = dart {
                let way = if self.darts.get(number) == Some(&at) {
                    "in"
                } else {
                    "out"
                };
                format!("dart {} {way}", number + 1)
            } else {
                plain += 1;
                format!("edge {plain}")
            });
        }
        names
    }

    /// The allowance of every edge.
    pub fn allowances(&self) -> Vec<FoundAllowance> {
        (0..self.edges.len())
            .map(|at| {
                let way = self.ways.get(at).copied().flatten();
                let told = self.told.get(at).copied().flatten();
                let is_none = self.fold == Some(at) || self.is_leg(at);
                match (told, way) {
                    _ if is_none => FoundAllowance {
                        width: Mm(0.0),
                        spread: Mm(0.0),
                        measured: self.drawn == Drawn::Both,
                    },
                    (Some(width), _) => FoundAllowance {
                        width: Mm(width),
                        spread: Mm(0.0),
                        measured: false,
                    },
                    (None, Some(way)) => FoundAllowance {
                        width: Mm(if way.width <= TOGETHER {
                            0.0
                        } else {
                            way.width
                        }),
                        spread: Mm(way.spread),
                        measured: true,
                    },
                    (None, None) => FoundAllowance {
                        width: Mm(0.0),
                        spread: Mm(0.0),
                        measured: false,
                    },
                }
            })
            .collect()
    }

    /// The piece; `None` when its edges are no outline.
    pub fn built(&self) -> Option<RecognisedPiece> {
        let names = self.names();
        let allowances = self.allowances();
        let mut edges = Vec::with_capacity(self.edges.len());
        for (at, name) in names.iter().enumerate() {
            let line = self.line(at)?;
            let allowance = allowances.get(at).map_or(Mm(0.0), |a| a.width);
            let edge = if self.fold == Some(at) {
                Edge::finished(name, line, Finish::Fold)
            } else if let Some(turns) = self.hems.get(&at) {
                let width = (self.drawn == Drawn::Both)
                    .then(|| Mm(allowance.0 / f64::from((*turns).clamp(1, 2))));
                Edge::finished(
                    name,
                    line,
                    Finish::Hem {
                        width,
                        turns: *turns,
                    },
                )
            } else {
                let own = self.drawn == Drawn::Both && !self.is_leg(at);
                Edge::seam(name, line).with_allowance(own.then_some(allowance))
            };
            edges.push(edge);
        }
        let outline = Outline::new(edges).ok()?;
        if outline.edges().first().map(|e| &e.name) != names.first() {
            return None; // turned round: the edges were not counter-clockwise
        }
        let rule = FollowRule::Detail;
        let name_at = |at: usize| names.get(at % names.len().max(1)).cloned();
        let piece = Piece {
            name: self.name.clone(),
            outline,
            placement: Placement::Follows(Follow {
                length: rule.clone(),
                depth: rule,
            }),
            body_lines: Vec::new(),
            darts: self
                .darts
                .iter()
                .enumerate()
                .filter_map(|(i, at)| {
                    Some(Dart {
                        name: format!("dart {}", i + 1),
                        leg_in: name_at(*at)?,
                        leg_out: name_at(at + 1)?,
                        pressed: Default::default(),
                    })
                })
                .collect(),
            notches: self
                .notches
                .iter()
                .zip(&self.notch_at)
                .filter_map(|(notch, at)| {
                    Some(Notch {
                        edge: name_at(*at)?,
                        ..notch.clone()
                    })
                })
                .collect(),
            marks: self.marks.clone(),
            grainline: self.grain,
            fullness: Vec::new(),
            copies: self.copies.clone(),
            face: Default::default(),
        };
        Some(RecognisedPiece {
            id: self.id,
            piece,
            drawn: self.drawn,
            allowances,
            at: self.bounds,
            upright: self.upright,
            made_of: self.made_of.iter().copied().collect(),
        })
    }
}

/// Turn at the corner where edge `at` starts, radians, positive to the left.
pub(super) fn corner_turn(edges: &[Smooth], at: usize) -> f64 {
    let n = edges.len();
    let end = |at: usize| {
        edges
            .get(at % n.max(1))
            .and_then(|e| e.cubics.last())
            .map_or(Vec2::ZERO, |c| direction_on(c, 1.0))
    };
    let start = |at: usize| {
        edges
            .get(at % n.max(1))
            .and_then(|e| e.cubics.first())
            .map_or(Vec2::ZERO, |c| direction_on(c, 0.0))
    };
    let (a, b) = (end(at + n.saturating_sub(1)), start(at));
    a.cross(b).atan2(a.dot(b))
}

/// Places of the first legs of V cuts: two equal legs that meet inside at a sharp point.
pub(super) fn darts(edges: &[Smooth]) -> Vec<usize> {
    let n = edges.len();
    if n < 4 {
        return Vec::new();
    }
    let long = |at: usize| {
        edges
            .get(at % n)
            .and_then(|e| Line::from_cubics(&e.cubics))
            .map_or(0.0, |l| l.length())
    };
    let mut found: Vec<usize> = Vec::new();
    for at in 0..n {
        let (a, b) = (long(at), long(at + 1));
        let alike = (a - b).abs() <= LEG_OFF.max(LEGS_ALIKE * a.max(b)).min(0.2 * a.max(b));
        let apex = corner_turn(edges, at + 1);
        let (enters, leaves) = (corner_turn(edges, at), corner_turn(edges, at + 2));
        let taken = found.last().is_some_and(|last| last + 1 == at)
            || (at + 1 == n && found.first() == Some(&0));
        if alike && !taken && apex < -DART_TURN && enters > 0.3 && leaves > 0.3 {
            found.push(at);
        }
    }
    found
}
