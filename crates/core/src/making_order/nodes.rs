//! The steps of a garment: one for every dart, fold, seam, finish, lining, turning and fastening.

use super::LiningMethod;
use super::graph::{Graph, Layer, Node};
use super::lining;
use super::sewn::Sewn;
use super::step::Work;
use super::surface::Surface;
use crate::edge::Finish;
use crate::fitting::Fitting;
use crate::fullness::Fullness;
use crate::garment::Garment;
use crate::piece::{Copy, Role, Side};
use crate::seams::{Seam, SeamKind};

mod closing;
mod finishes;
pub(super) mod piecing;

pub(super) use finishes::Run;

/// Stages: what comes first among steps that could be done at the same moment.
pub(super) mod stage {
    pub const CUT: u8 = 0;
    /// Straight after cutting: its ties keep it behind.
    pub const PIECE: u8 = 0;
    pub const NEATEN: u8 = 1;
    pub const MOUNT: u8 = 2;
    pub const SHAPE: u8 = 3;
    pub const SMALL_PART: u8 = 5;
    pub const SMALL_TURN: u8 = 6;
    pub const GATHER: u8 = 7;
    pub const SEAM: u8 = 8;
    pub const FINISH: u8 = 8;
    pub const LINING: u8 = 12;
    pub const BAG: u8 = 14;
    pub const TURN: u8 = 16;
    pub const TRY: u8 = 11;
    pub const HEM: u8 = 18;
    pub const FELL: u8 = 19;
    pub const GAP: u8 = 20;
    pub const CLOSURE: u8 = 22;
    pub const PRESS: u8 = 24;
}

/// The steps, and what the rules need to know about them.
#[derive(Debug)]
pub(super) struct Steps<'a> {
    pub surface: Surface<'a>,
    pub graph: Graph,
    /// Everything sewn, each segment once.
    pub all: Sewn,
    /// Which seam step owns a segment.
    pub owner: Vec<Option<usize>>,
    /// Runs of hems, facings and the like, with the number of their step.
    pub runs: Vec<Run>,
    /// How it is lined.
    pub lining: Option<LiningMethod>,
    /// Steps that bag out a collar, cuff or band: its seams, and the step that turns it.
    pub small_parts: Vec<(Vec<usize>, usize)>,
    /// Steps that sew a band's free edge over a seam: (step, seam it covers).
    pub covering: Vec<(usize, usize)>,
    /// Copies that are cut in parts.
    pub pieced: Vec<piecing::Pieced>,
}

/// Which copy it is, for the key of a step: ", left, lining".
pub(super) fn copy_words(copy: Copy) -> String {
    let side = match copy.side {
        Side::Whole => "",
        Side::Right => ", right",
        Side::Left => ", left",
    };
    let role = match copy.role {
        Role::Shell => "",
        Role::Lining => ", lining",
        Role::Interlining => ", interlining",
        Role::FlatLined => ", mounted",
    };
    format!("{side}{role}")
}

impl<'a> Steps<'a> {
    /// The steps of a garment.
    pub(super) fn of(garment: &'a Garment, fitting: &Fitting) -> Self {
        let lining = lining::method(garment, fitting.making.lining);
        let layers: &[Role] = match lining {
            Some(LiningMethod::Bagged | LiningMethod::Felled) => &[Role::Shell, Role::Lining],
            _ => &[Role::Shell],
        };
        let mut surface = Surface::new(garment, layers);
        if surface.cuts.is_empty() {
            // Cut in no outer cloth at all: a lining or interlining by itself.
            let all = [
                Role::Shell,
                Role::Lining,
                Role::Interlining,
                Role::FlatLined,
            ];
            surface = Surface::new(garment, &all);
        }
        let all = Sewn::nothing(&surface);
        let owner = vec![None; surface.segments.len()];
        let mut steps = Self {
            surface,
            graph: Graph::default(),
            all,
            owner,
            runs: Vec::new(),
            lining,
            small_parts: Vec::new(),
            covering: Vec::new(),
            pieced: Vec::new(),
        };
        steps.cut_out();
        steps.piecings(fitting);
        steps.mount();
        steps.shape();
        steps.seams();
        steps.neaten();
        steps.finishes();
        lining::steps(&mut steps, fitting);
        steps.closures(fitting);
        steps.trying_on();
        steps
    }

    pub(super) fn add(&mut self, node: Node) -> usize {
        self.graph.nodes.push(node);
        self.graph.nodes.len() - 1
    }

    /// A step with nothing in hand yet.
    pub(super) fn node(&self, key: String, work: Work, stage: u8) -> Node {
        Node {
            key,
            work,
            cuts: Vec::new(),
            segments: Vec::new(),
            glue: Vec::new(),
            stage,
            hand: None,
            length: 0.0,
            layer: Layer::Shell,
            way_out: 0.0,
        }
    }

    /// The copies that segments lie on, each once.
    pub(super) fn cuts_under(&self, segments: &[usize]) -> Vec<usize> {
        let mut cuts: Vec<usize> = Vec::new();
        for segment in segments {
            if let Some(s) = self.surface.segment(*segment)
                && !cuts.contains(&s.cut)
            {
                cuts.push(s.cut);
            }
        }
        cuts
    }

    pub(super) fn length(&self, segments: impl IntoIterator<Item = usize>) -> f64 {
        segments
            .into_iter()
            .filter_map(|s| self.surface.segment(s))
            .map(|s| s.length)
            .sum()
    }

    /// The layer all these copies belong to.
    pub(super) fn layer(&self, cuts: &[usize]) -> Layer {
        let linings = cuts
            .iter()
            .filter_map(|c| self.surface.cuts.get(*c))
            .filter(|c| c.copy.role == Role::Lining)
            .count();
        match linings {
            0 => Layer::Shell,
            n if n == cuts.len() => Layer::Lining,
            _ => Layer::Between,
        }
    }

    fn cut_out(&mut self) {
        let cuts: Vec<usize> = (0..self.surface.cuts.len()).collect();
        let node = Node {
            cuts,
            hand: Some("cutting is done by hand"),
            ..self.node("cut out".to_owned(), Work::CutOut, stage::CUT)
        };
        self.add(node);
    }

    fn mount(&mut self) {
        let garment = self.surface.garment;
        let lined = self.lining == Some(LiningMethod::FlatLined);
        for (cut, of) in self.surface.cuts.clone().into_iter().enumerate() {
            let Some(piece) = garment.pieces.get(of.piece) else {
                continue;
            };
            let under = |copy: &&Copy| {
                let mounted = matches!(copy.role, Role::FlatLined | Role::Interlining)
                    || (lined && copy.role == Role::Lining);
                mounted && copy.side == of.copy.side
            };
            if of.copy.role != Role::Shell || !piece.copies.iter().any(|c| under(&c)) {
                continue;
            }
            let segments: Vec<usize> = (0..piece.outline.edges().len())
                .flat_map(|edge| self.surface.along(cut, edge))
                .collect();
            let node = Node {
                cuts: vec![cut],
                length: self.length(segments),
                hand: Some("basting holds two layers for a while; it is taken out again"),
                ..self.node(
                    format!("flat-line {}{}", piece.name, copy_words(of.copy)),
                    Work::FlatLine,
                    stage::MOUNT,
                )
            };
            self.add(node);
        }
    }

    /// Darts, tucks, pleats and gathers of every copy.
    fn shape(&mut self) {
        let garment = self.surface.garment;
        for (cut, of) in self.surface.cuts.clone().into_iter().enumerate() {
            let Some(piece) = garment.pieces.get(of.piece) else {
                continue;
            };
            let words = copy_words(of.copy);
            for dart in &piece.darts {
                let edge = |name: &str| piece.outline.index_of(name);
                let Some((leg_in, leg_out)) = edge(&dart.leg_in).zip(edge(&dart.leg_out)) else {
                    continue;
                };
                let mut glue = Vec::new();
                for half in [false, true] {
                    let ins = self.surface.along_half(cut, half, leg_in);
                    let outs = self.surface.along_half(cut, half, leg_out);
                    glue.extend(ins.iter().copied().zip(outs.iter().rev().copied()));
                }
                let segments: Vec<usize> = glue.iter().flat_map(|(a, b)| [*a, *b]).collect();
                let node = Node {
                    cuts: vec![cut],
                    length: self.length(glue.iter().map(|(a, _)| *a)),
                    layer: self.layer(&[cut]),
                    segments,
                    glue: glue.clone(),
                    ..self.node(
                        format!("dart {}, {}{words}", piece.name, dart.name),
                        Work::Dart {
                            dart: dart.name.clone(),
                        },
                        stage::SHAPE,
                    )
                };
                let number = self.add(node);
                for (a, b) in glue {
                    self.own(number, a, b);
                }
            }
            let mut seen: Vec<String> = Vec::new();
            for op in &piece.fullness {
                let Some(edge) = piece.outline.index_of(&op.edge) else {
                    continue;
                };
                let at = op.edge.clone();
                let (verb, work, stage) = match op.fullness {
                    Fullness::Tucks { .. } => ("tuck", Work::Tucks { edge: at }, stage::SHAPE),
                    Fullness::KnifePleats { .. }
                    | Fullness::BoxPleats { .. }
                    | Fullness::DoubleBoxPleats { .. } => {
                        ("pleat", Work::Pleats { edge: at }, stage::SHAPE)
                    }
                    Fullness::Gathers { .. }
                    | Fullness::CartridgePleats { .. }
                    | Fullness::Shirring { .. }
                    | Fullness::Ease { .. } => ("gather", Work::Gather { edge: at }, stage::GATHER),
                };
                let key = format!("{verb} {}, {}{words}", piece.name, op.edge);
                // Several stretches of one edge are drawn in together.
                if seen.contains(&key) {
                    continue;
                }
                seen.push(key.clone());
                let segments = self.surface.along(cut, edge);
                let cartridge = matches!(op.fullness, Fullness::CartridgePleats { .. });
                let node = Node {
                    cuts: vec![cut],
                    length: self.length(segments.iter().copied()),
                    layer: self.layer(&[cut]),
                    segments,
                    hand: cartridge
                        .then_some("cartridge pleats are drawn up by even hand stitches"),
                    ..self.node(key, work, stage)
                };
                self.add(node);
            }
        }
    }

    fn own(&mut self, step: usize, a: usize, b: usize) {
        for segment in [a, b] {
            if let Some(slot) = self.owner.get_mut(segment)
                && slot.is_none()
            {
                *slot = Some(step);
            }
        }
        self.all.glue(&self.surface, a, b);
    }

    /// One step for each seam, and one for its twin on the other side of the body.
    fn seams(&mut self) {
        let garment = self.surface.garment;
        // What is lapped over a seam comes after it, so that the seam itself owns the edge.
        for lapped in [false, true] {
            for seam in &garment.seams {
                if (seam.kind == SeamKind::Lapped) == lapped {
                    self.seam(seam);
                }
            }
        }
    }

    fn seam(&mut self, seam: &Seam) {
        let Some(drawn) = self.surface.pairs(seam, false) else {
            return;
        };
        let twin = seam
            .mirrored
            .then(|| self.surface.pairs(seam, true))
            .flatten()
            .filter(|twin| *twin != drawn);
        match twin {
            None => self.seam_step(seam, "", drawn),
            Some(twin) if self.run_on(&drawn, &twin) => {
                self.seam_step(seam, "", drawn.into_iter().chain(twin).collect());
            }
            Some(twin) => {
                let left = seam
                    .a
                    .iter()
                    .chain(&seam.b)
                    .any(|s| s.copy.side == Side::Left);
                let (one, other) = if left {
                    (", left", ", right")
                } else {
                    (", right", ", left")
                };
                self.seam_step(seam, one, drawn);
                self.seam_step(seam, other, twin);
            }
        }
    }

    /// Does a seam run on into its twin across a fold?
    fn run_on(&self, drawn: &[(usize, usize)], twin: &[(usize, usize)]) -> bool {
        let ends = |pairs: &[(usize, usize)]| -> Vec<usize> {
            pairs.iter().flat_map(|(a, b)| [*a, *b]).collect()
        };
        let (drawn, twin) = (ends(drawn), ends(twin));
        drawn.iter().any(|d| {
            self.surface
                .segment(*d)
                .is_some_and(|s| twin.contains(&s.next) || twin.contains(&s.before))
        })
    }

    fn seam_step(&mut self, seam: &Seam, side: &str, pairs: Vec<(usize, usize)>) {
        let segments: Vec<usize> = pairs.iter().flat_map(|(a, b)| [*a, *b]).collect();
        let cuts = self.cuts_under(&segments);
        let layer = self.layer(&cuts);
        let detail = cuts
            .iter()
            .all(|c| self.surface.cuts.get(*c).is_some_and(|c| c.detail));
        let owned = |s: usize| self.owner.get(s).copied().flatten();
        let covered = pairs
            .iter()
            .find_map(|(a, b)| owned(*a).or_else(|| owned(*b)));
        // A collar or cuff is bagged out even where the lining is felled in.
        let felled =
            layer == Layer::Between && !detail && self.lining == Some(LiningMethod::Felled);
        let stage = match layer {
            _ if felled => stage::FELL,
            Layer::Between if detail => stage::SMALL_PART,
            Layer::Shell => stage::SEAM,
            Layer::Lining => stage::LINING,
            Layer::Between => stage::BAG,
        };
        let (key, work) = if felled {
            let at = seam.name.clone();
            (format!("fell {}{side}", seam.name), Work::Fell { at })
        } else {
            let name = seam.name.clone();
            (
                format!("sew {}{side}", seam.name),
                Work::Seam { seam: name },
            )
        };
        let length = self.length(pairs.iter().map(|(_, b)| *b));
        let node = Node {
            cuts,
            segments,
            glue: pairs.clone(),
            hand: felled.then_some(
                "felling is hand work: the edge is turned in and caught with small stitches",
            ),
            length,
            layer,
            ..self.node(key, work, stage)
        };
        let number = self.add(node);
        for (a, b) in pairs {
            if owned_by_other(&self.owner, a, number) || owned_by_other(&self.owner, b, number) {
                continue;
            }
            self.own(number, a, b);
        }
        if let Some(covered) = covered {
            self.covering.push((number, covered));
        }
    }
}

fn owned_by_other(owner: &[Option<usize>], segment: usize, step: usize) -> bool {
    owner
        .get(segment)
        .copied()
        .flatten()
        .is_some_and(|other| other != step)
}

/// What a finish asks for, when it asks for a step of its own.
pub(super) fn finishing(finish: Finish) -> Option<Work> {
    match finish {
        Finish::Hem { .. } => Some(Work::Hem),
        Finish::Casing { .. } => Some(Work::Casing),
        Finish::Facing => Some(Work::Face),
        Finish::Slit | Finish::Placket { .. } => Some(Work::Slit),
        Finish::Open => Some(Work::CloseGap),
        Finish::Seam | Finish::Raw | Finish::Fold | Finish::Selvedge => None,
    }
}
