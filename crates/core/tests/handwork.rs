//! Hand work on the demo garments: a hundred random sequences of two hundred changes, undone all the way.
//!
//! Changes go through both doors: made on the garment, and kept as steps of a fitting. Whatever is asked, nothing panics;
//! what is taken leaves every outline closed and free of crossings, or a finding says so; and every project that was
//! ever reached is still there, byte for byte, when the changes are undone.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::adapt::adapt_garment;
use petitoile_core::alteration::{
    Alteration, Axis, DartChange, HingeEnd, MarkChange, PiecesChange, PointRef, SeamChange,
    ShapeChange, Spreading, TrueTo, replay,
};
use petitoile_core::body::{Body, BodyKind, Measured};
use petitoile_core::check::check;
use petitoile_core::drafts::wardrobe::{
    Dolls, harbour_jacket_project, net_menders_smock_project, sunday_skirts_project,
};
use petitoile_core::edge::{EdgeRef, Finish, OutlinePoint};
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::finish::finish;
use petitoile_core::fullness::{Fullness, FullnessOp, fill};
use petitoile_core::garment::Garment;
use petitoile_core::geometry::crossing::self_crossings;
use petitoile_core::geometry::curve::Line;
use petitoile_core::geometry::outline::Outline;
use petitoile_core::geometry::simple::crosses_itself;
use petitoile_core::kurbo::{CubicBez, Point, Vec2};
use petitoile_core::measure::{Level, Measure};
use petitoile_core::notch::{Notch, NotchKind};
use petitoile_core::piece::{
    BodyLine, DartPress, Face, Follow, FollowRule, Frame, Mark, MarkKind, Piece, Placement,
};
use petitoile_core::project::Project;
use petitoile_core::seams::{Relation, SeamKind};
use petitoile_core::units::{Degrees, LengthUnit, Mm};

const SEQUENCES: u64 = 100;
const CHANGES: usize = 200;
/// A cut along a bent line, counted beside all cuts.
const CURVED_CUT: &str = "Pieces/Cut, curved";
/// After so many of them a fitting is adapted and finished too.
const WHOLE_WAYS: u64 = 6;

/// Numbers by chance from a seed: splitmix64 (Steele, Lea and Flood 2014; from memory).
struct Chance(u64);

impl Chance {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn of<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        let at = self.below(list.len());
        list.get(at)
    }

    fn mm(&mut self, most: f64) -> Mm {
        // round figures are as likely as odd ones: corners then fall on corners
        let value = self.between(-most, most);
        Mm(if self.below(2) == 0 {
            value.round()
        } else {
            value
        })
    }

    fn is(&mut self) -> bool {
        self.below(2) == 0
    }
}

fn body(name: &str, kind: BodyKind, figures: &[(Measure, f64)]) -> Arc<Body> {
    let body = Body::new(name, kind);
    Arc::new(figures.iter().fold(body, |body, (measure, value)| {
        body.with(*measure, Measured::own_tape(Mm(*value)))
    }))
}

fn projects() -> Vec<Project> {
    let woman = body(
        "a woman",
        BodyKind::Woman,
        &[
            (Measure::Height, 1628.0),
            (Measure::BustGirth, 920.0),
            (Measure::WaistGirth, 720.0),
            (Measure::HipGirth, 1010.0),
            (Measure::BackWaistLength, 421.9),
            (Measure::ShoulderWidth, 366.1),
            (Measure::UpperArmGirth, 298.9),
        ],
    );
    let doll = |height: f64| {
        body(
            &format!("{height} mm doll"),
            BodyKind::Doll,
            &[(Measure::Height, height)],
        )
    };
    let dolls = Dolls {
        play_45: doll(457.0),
        play_36: doll(360.0),
        fashion_29: doll(290.0),
        jointed_60: doll(600.0),
        twelfth: doll(137.0),
    };
    vec![
        harbour_jacket_project(&woman, &dolls).unwrap(),
        net_menders_smock_project(&woman, &dolls).unwrap(),
        sunday_skirts_project(&woman, &dolls).unwrap(),
    ]
}

/// A change by hand of any kind, about this garment, sensible or not.
struct Maker<'a> {
    chance: &'a mut Chance,
    garment: &'a Garment,
    /// How large its pieces are.
    size: f64,
    piece: Arc<Piece>,
}

impl<'a> Maker<'a> {
    fn new(chance: &'a mut Chance, garment: &'a Garment) -> Option<Self> {
        let piece = chance.of(&garment.pieces)?.clone();
        let bounds = piece.outline.bounds();
        Some(Self {
            chance,
            garment,
            size: bounds.width().max(bounds.height()),
            piece,
        })
    }

    fn edge(&mut self) -> String {
        let edges = self.piece.outline.edges();
        edges[self.chance.below(edges.len())].name.clone()
    }

    fn place(&mut self) -> OutlinePoint {
        let edge = self.edge();
        let fraction = match self.chance.below(8) {
            0 => 0.0,
            1 => 1.0,
            2 => 0.5,
            _ => self.chance.between(0.0, 1.0),
        };
        OutlinePoint::new(edge, fraction)
    }

    fn point(&mut self) -> PointRef {
        let edge = self.edge();
        let line = &self.piece.outline.edge(&edge).unwrap().line;
        let number = self.chance.below(line.points().len() + 1);
        PointRef::new(edge, number)
    }

    fn inside(&mut self) -> Point {
        let bounds = self.piece.outline.bounds();
        Point::new(
            self.chance.between(bounds.x0, bounds.x1),
            self.chance.between(bounds.y0, bounds.y1),
        )
    }

    fn mm(&mut self) -> Mm {
        let most = self.size * 0.12;
        self.chance.mm(most)
    }

    fn long(&mut self) -> Mm {
        Mm(self.mm().0.abs())
    }

    fn name(&mut self, like: &str) -> String {
        format!("{like} {}", self.chance.below(40))
    }

    fn seam(&mut self) -> String {
        let seam = self.chance.of(&self.garment.seams);
        seam.map_or_else(|| "no seam".to_owned(), |seam| seam.name.clone())
    }

    fn dart(&mut self) -> String {
        let dart = self.chance.of(&self.piece.darts);
        dart.map_or_else(|| "no dart".to_owned(), |dart| dart.name.clone())
    }

    fn level(&mut self) -> Level {
        let levels = [Level::Bust, Level::Waist, Level::Hip, Level::Knee];
        self.piece
            .body_lines
            .first()
            .map_or(levels[self.chance.below(4)], |line| line.level)
    }

    fn alteration(&mut self) -> Alteration {
        let piece = self.piece.name.clone();
        match self.chance.below(16) {
            0 => Alteration::MoveEdge {
                edge: EdgeRef::new(piece, self.edge()),
                outwards: self.mm(),
            },
            1 => Alteration::MoveCorner {
                edge: EdgeRef::new(piece, self.edge()),
                right: self.mm(),
                up: self.mm(),
            },
            2 => Alteration::LengthenAt {
                piece,
                level: self.level(),
                by: self.mm(),
            },
            3..=7 => self.shape().of(piece),
            8..=10 => self.darted().of(piece),
            11..=12 => self.marked().of(piece),
            13 => self.fullness(piece),
            14 => Alteration::Pieces(self.pieces(piece)),
            _ => Alteration::Seam(self.sewn(piece)),
        }
    }

    fn shape(&mut self) -> ShapeChange {
        match self.chance.below(18) {
            0 | 1 => {
                let points = (0..=self.chance.below(3)).map(|_| self.point()).collect();
                ShapeChange::MovePoints {
                    points,
                    right: self.mm(),
                    up: self.mm(),
                    keep_smooth: self.chance.is(),
                }
            }
            2 => ShapeChange::MoveStretch {
                from: self.place(),
                to: self.place(),
                right: self.mm(),
                up: self.mm(),
            },
            3 => self.redraw(),
            4 => ShapeChange::Straighten { edge: self.edge() },
            5 => ShapeChange::Smooth {
                point: self.point(),
            },
            6 => ShapeChange::AddPoint { at: self.place() },
            7 => ShapeChange::RemovePoint {
                point: self.point(),
            },
            8 => ShapeChange::SplitEdge {
                at: self.place(),
                name: self.name("part"),
            },
            9 => ShapeChange::JoinEdges { edge: self.edge() },
            10 => ShapeChange::RenameEdge {
                edge: self.edge(),
                name: self.name("edge"),
            },
            11 => ShapeChange::SetLength {
                edge: self.edge(),
                length: self.long(),
            },
            12 => ShapeChange::Lengthen {
                from: self.place(),
                to: self.place(),
                by: self.mm(),
            },
            13 => ShapeChange::Spread {
                from: self.place(),
                to: self.place(),
                by: self.mm(),
                how: [
                    Spreading::Even,
                    Spreading::Hinged(HingeEnd::From),
                    Spreading::Hinged(HingeEnd::To),
                ][self.chance.below(3)],
            },
            14 => ShapeChange::Widen {
                edge: self.edge(),
                at_start: self.mm(),
                at_end: self.mm(),
            },
            15 => ShapeChange::Mirror {
                axis: if self.chance.is() {
                    Axis::Upright
                } else {
                    Axis::Level
                },
            },
            16 => ShapeChange::Turn {
                by: Degrees(self.chance.between(-180.0, 180.0)),
            },
            _ if self.chance.is() => ShapeChange::TurnToGrain,
            _ => ShapeChange::OpenOut,
        }
    }

    fn redraw(&mut self) -> ShapeChange {
        let edge = self.edge();
        let line = &self.piece.outline.edge(&edge).unwrap().line;
        let (a, d) = (line.start(), line.end());
        let bow = Vec2::new(self.mm().0, self.mm().0);
        let points = vec![a, a.lerp(d, 0.3) + bow, a.lerp(d, 0.7) + bow, d];
        ShapeChange::Redraw {
            edge,
            line: Line::new(points).unwrap(),
        }
    }

    fn darted(&mut self) -> DartChange {
        let dart = self.dart();
        match self.chance.below(12) {
            0..=3 => DartChange::Add {
                dart: self.name("dart"),
                at: self.place(),
                width: self.long(),
                tip: self.inside(),
            },
            4 | 5 => DartChange::Pivot {
                dart,
                to: self.place(),
                share: [1.0, 0.5, 0.3][self.chance.below(3)],
                name: self.name("turned"),
            },
            6 => DartChange::Divide {
                dart,
                into: 1 + self.chance.below(4) as u32,
                apart: self.long(),
            },
            7 => DartChange::Move {
                dart,
                along: self.mm(),
            },
            8 => DartChange::MoveTip {
                dart,
                right: self.mm(),
                up: self.mm(),
            },
            9 => DartChange::Press {
                dart,
                to: if self.chance.is() {
                    DartPress::Before
                } else {
                    DartPress::After
                },
            },
            10 if self.chance.is() => DartChange::ToGathers { dart },
            10 => DartChange::ToEase { dart },
            _ => DartChange::Remove { dart },
        }
    }

    fn mark(&mut self) -> Mark {
        let kind = match self.chance.below(4) {
            0 => MarkKind::Dot(self.inside()),
            1 => MarkKind::Buttonhole(self.inside(), self.inside()),
            2 => MarkKind::Channel {
                line: Line::straight(self.inside(), self.inside()),
                width: Mm(5.0),
            },
            _ => MarkKind::Fold(Line::straight(self.inside(), self.inside())),
        };
        Mark {
            name: self.name("mark"),
            kind,
        }
    }

    fn marked(&mut self) -> MarkChange {
        let number = self.chance.below(4);
        let kind = [NotchKind::Single, NotchKind::Double, NotchKind::Triple][self.chance.below(3)];
        match self.chance.below(13) {
            0 | 1 => {
                let at = self.place();
                MarkChange::AddNotch(Notch {
                    edge: at.edge,
                    fraction: at.fraction,
                    kind,
                })
            }
            2 => MarkChange::SetNotch {
                number,
                at: self.place(),
                kind,
            },
            3 => MarkChange::RemoveNotch { number },
            4 if self.chance.is() => MarkChange::SetGrain(None),
            4 => MarkChange::SetGrain(Some((self.inside(), self.inside()))),
            5 => MarkChange::AddMark(self.mark()),
            6 => MarkChange::SetMark {
                number,
                mark: self.mark(),
            },
            7 => MarkChange::RemoveMark { number },
            8 => {
                let copies = self.piece.copies.iter().rev().take(1 + number);
                MarkChange::SetCopies(copies.copied().collect())
            }
            9 => MarkChange::SetFinish {
                edge: self.edge(),
                from: self.chance.between(0.0, 0.5),
                to: self.chance.between(0.4, 1.0),
                finish: [
                    Finish::Seam,
                    Finish::Facing,
                    Finish::Raw,
                    Finish::Slit,
                    Finish::Hem {
                        width: None,
                        turns: 1,
                    },
                ][self.chance.below(5)],
            },
            10 => MarkChange::SetBodyLine(BodyLine {
                level: self.level(),
                from: self.place(),
                to: self.place(),
            }),
            11 => MarkChange::SetPlacement(match self.chance.below(3) {
                0 => Placement::Framed(Frame::Torso),
                1 => Placement::Framed(Frame::Arm),
                _ => Placement::Follows(Follow {
                    length: FollowRule::Mate,
                    depth: FollowRule::Detail,
                }),
            }),
            _ if self.chance.is() => MarkChange::RemoveBodyLine(self.level()),
            _ => MarkChange::SetFace(if self.chance.is() {
                Face::Right
            } else {
                Face::Wrong
            }),
        }
    }

    /// A bent line from one place on the outline to another, half of the time.
    fn curved(&mut self, from: &OutlinePoint, to: &OutlinePoint) -> Option<Line> {
        let ends = self.piece.point_at(from).zip(self.piece.point_at(to));
        let (a, b) = ends.filter(|(a, b)| self.chance.is() && 1.0 < (*b - *a).hypot())?;
        let aside = (b - a) * self.chance.between(-0.2, 0.2);
        let aside = Vec2::new(-aside.y, aside.x);
        let (c, d) = (a.lerp(b, 0.3) + aside, a.lerp(b, 0.7) + aside);
        Line::from_cubics(&[CubicBez::new(a, c, d, b)])
    }

    fn fullness(&mut self, piece: String) -> Alteration {
        let kinds = [
            Fullness::Gathers { ratio: 1.5 },
            Fullness::KnifePleats {
                count: 4,
                depth: Mm(self.size * 0.01),
            },
        ];
        let mut op = FullnessOp::new(self.edge(), kinds[self.chance.below(2)]);
        op.to = self.chance.between(0.5, 1.0);
        if self.chance.is() {
            op.even_to = Some(self.edge());
        }
        Alteration::Fullness {
            piece,
            fullness: vec![op],
        }
    }

    fn pieces(&mut self, piece: String) -> PiecesChange {
        match self.chance.below(9) {
            0 => {
                let mut copy = Piece::clone(&self.piece);
                copy.name = self.name("copy");
                PiecesChange::Add(Arc::new(copy))
            }
            1 if self.garment.pieces.len() > 3 => PiecesChange::Remove { piece },
            1 | 2 => PiecesChange::Rename {
                piece,
                name: self.name("piece"),
            },
            3 => {
                let (from, to) = (self.place(), self.place());
                PiecesChange::Cut {
                    piece,
                    through: self.curved(&from, &to),
                    from,
                    to,
                    name: self.name("part of piece"),
                    seam: self.name("new seam"),
                }
            }
            4 => PiecesChange::Join {
                seam: self.seam(),
                name: self.name("joined"),
            },
            5 => PiecesChange::Facing {
                piece,
                edges: vec![self.edge()],
                depth: self.long(),
                turn_of_cloth: Mm(0.5),
                name: self.name("facing"),
            },
            6 => PiecesChange::Lining {
                piece,
                turn_of_cloth: Mm(0.5),
                name: self.name("lining"),
            },
            7 => PiecesChange::Gusset {
                piece,
                corner: self.edge(),
                side: self.long(),
                width: self.long(),
                name: self.name("gusset"),
            },
            _ => PiecesChange::Binding {
                piece,
                edges: vec![self.edge()],
                width: Mm(5.0),
                turn_of_cloth: Mm(0.5),
                bias: self.chance.is(),
                name: self.name("binding"),
            },
        }
    }

    fn sewn(&mut self, piece: String) -> SeamChange {
        let seam = self.seam();
        match self.chance.below(9) {
            0 => {
                let known = self.chance.of(&self.garment.seams).cloned();
                match known {
                    Some(mut sewn) => {
                        sewn.name = self.name("sewn");
                        std::mem::swap(&mut sewn.a, &mut sewn.b);
                        SeamChange::Sew(sewn)
                    }
                    None => SeamChange::Unpick { seam },
                }
            }
            1 => SeamChange::Unpick { seam },
            2 => SeamChange::Rename {
                seam,
                name: self.name("seam"),
            },
            3 => SeamChange::SetRelation {
                seam,
                relation: Relation::Eased(self.mm()),
            },
            4 => SeamChange::SetKind {
                seam,
                kind: SeamKind::French,
            },
            5 => SeamChange::MatchNotch {
                seam,
                at: self.chance.between(0.0, 1.0),
                at_mate: self.chance.between(0.0, 1.0),
                kind: NotchKind::Single,
            },
            6 => SeamChange::MoveLine {
                seam,
                at_start: self.mm(),
                at_end: self.mm(),
            },
            7 => SeamChange::True {
                seam,
                at_start: self.chance.is(),
                to: [TrueTo::Straight, TrueTo::Square, TrueTo::Smooth][self.chance.below(3)],
            },
            _ => SeamChange::Distinguish { piece },
        }
    }
}

/// A change through one of the two doors.
fn edit(chance: &mut Chance, project: &Project, on_fitting: bool) -> Option<Edit> {
    if !on_fitting {
        let garment = chance.of(&project.garments)?.clone();
        let alteration = Maker::new(chance, &garment)?.alteration();
        return Some(Edit::Alter {
            garment: garment.name.clone(),
            alteration,
        });
    }
    let fitting = chance.of(&project.fittings)?.clone();
    let garment = project.garment(&fitting.garment)?;
    let steps = fitting.alterations.len();
    let change = if steps > 0 && chance.below(4) == 0 {
        FittingEdit::RemoveAlteration(chance.below(steps))
    } else {
        let made = replay(Garment::clone(garment), &fitting.alterations, "").outcome;
        let alteration = Maker::new(chance, &made)?.alteration();
        if steps > 6 {
            FittingEdit::SetAlteration(chance.below(steps), alteration)
        } else {
            FittingEdit::AddAlteration(alteration)
        }
    };
    Some(Edit::Fitting {
        fitting: fitting.name.clone(),
        change,
    })
}

/// Closed, counter-clockwise, crossing itself nowhere.
fn assert_sound(before: &Garment, garment: &Garment, did: &str) {
    assert_eq!(garment.check_references(), Ok(()), "{did}");
    for piece in &garment.pieces {
        let same = before
            .piece(&piece.name)
            .is_some_and(|old| Arc::ptr_eq(old, piece));
        if same {
            continue;
        }
        let edges = piece.outline.edges().to_vec();
        let again = Outline::new(edges).unwrap_or_else(|e| panic!("{did}: {}: {e}", piece.name));
        assert_eq!(again, piece.outline, "{did}: {} runs clockwise", piece.name);
        assert!(
            crosses_itself(&piece.outline).is_none() || crossing_is_found(piece),
            "{did}: {} crosses itself and nothing says so",
            piece.name
        );
    }
}

/// What `finish` tells the maker about a crossing is found by this.
fn crossing_is_found(piece: &Piece) -> bool {
    let edges = piece.outline.edges().iter();
    let chain: Vec<_> = edges.flat_map(|edge| edge.line.cubics()).collect();
    !self_crossings(&chain).is_empty()
}

fn saved(project: &Project) -> String {
    serde_json::to_string(project).unwrap()
}

/// The first fitting through all steps of core: whatever was done to it, the outcome is findings, not a panic.
fn whole_way(project: &Project) {
    let fitting = &project.fittings[0];
    let garment = project.garment(&fitting.garment).unwrap();
    let Ok(adapted) = adapt_garment(garment, fitting) else {
        return;
    };
    let filled = Arc::new(fill(&Arc::new(adapted)).outcome);
    let finished = finish(&filled).outcome;
    check(&finished);
}

/// Every kind of hand work there is.
const KINDS: [&str; 62] = [
    "MoveEdge",
    "MoveCorner",
    "LengthenAt",
    "Shape/MovePoints",
    "Shape/MoveStretch",
    "Shape/Redraw",
    "Shape/Straighten",
    "Shape/Smooth",
    "Shape/AddPoint",
    "Shape/RemovePoint",
    "Shape/SplitEdge",
    "Shape/JoinEdges",
    "Shape/RenameEdge",
    "Shape/SetLength",
    "Shape/Lengthen",
    "Shape/Spread",
    "Shape/Widen",
    "Shape/Mirror",
    "Shape/Turn",
    "Shape/TurnToGrain",
    "Shape/OpenOut",
    "Dart/Add",
    "Dart/Pivot",
    "Dart/Divide",
    "Dart/Move",
    "Dart/MoveTip",
    "Dart/Press",
    "Dart/ToGathers",
    "Dart/ToEase",
    "Dart/Remove",
    "Mark/AddNotch",
    "Mark/SetNotch",
    "Mark/RemoveNotch",
    "Mark/SetGrain",
    "Mark/AddMark",
    "Mark/SetMark",
    "Mark/RemoveMark",
    "Mark/SetCopies",
    "Mark/SetFinish",
    "Mark/SetBodyLine",
    "Mark/RemoveBodyLine",
    "Mark/SetFace",
    "Mark/SetPlacement",
    "Fullness",
    "Pieces/Add",
    "Pieces/Remove",
    "Pieces/Rename",
    "Pieces/Cut",
    "Pieces/Join",
    "Pieces/Facing",
    "Pieces/Lining",
    "Pieces/Gusset",
    "Pieces/Binding",
    "Seam/Sew",
    "Seam/Unpick",
    "Seam/Rename",
    "Seam/SetRelation",
    "Seam/SetKind",
    "Seam/MatchNotch",
    "Seam/MoveLine",
    "Seam/True",
    "Seam/Distinguish",
];

/// Which of [`KINDS`] a change is: its names as they stand in a saved step.
fn kind_of(alteration: &Alteration) -> String {
    let name = |value: &serde_json::Value| match value {
        serde_json::Value::String(name) => Some(name.clone()),
        serde_json::Value::Object(map) => map.keys().next().cloned(),
        _ => None,
    };
    let saved = serde_json::to_value(alteration).unwrap();
    let group = name(&saved).unwrap();
    let inner = saved.get(&group).unwrap();
    match group.as_str() {
        "Shape" | "Dart" | "Mark" => format!("{group}/{}", name(&inner["change"]).unwrap()),
        "Pieces" | "Seam" => format!("{group}/{}", name(inner).unwrap()),
        _ => group,
    }
}

/// The hand work in an edit.
fn alteration_of(edit: &Edit) -> Option<&Alteration> {
    match edit {
        Edit::Alter { alteration, .. }
        | Edit::Fitting {
            change:
                FittingEdit::AddAlteration(alteration) | FittingEdit::SetAlteration(_, alteration),
            ..
        } => Some(alteration),
        _ => None,
    }
}

/// How often each kind was made on a garment.
type Taken = BTreeMap<String, usize>;

/// How many changes were taken, of how many.
fn sequence(seed: u64, first: &Project, kinds: &mut Taken) -> (usize, usize) {
    let mut chance = Chance(seed);
    let bytes = saved(first);
    let mut history: Vec<Project> = vec![first.clone()];
    let mut taken = 0;
    let mut marks: Vec<(usize, String)> = Vec::new();
    for number in 0..CHANGES {
        let now = history.last().unwrap().clone();
        let on_fitting = chance.below(4) == 0;
        let Some(edit) = edit(&mut chance, &now, on_fitting) else {
            continue;
        };
        let did = edit.words(LengthUnit::Millimetre);
        let Ok(next) = now.edited(&edit) else {
            continue;
        };
        taken += 1;
        if let (Edit::Alter { .. }, Some(alteration)) = (&edit, alteration_of(&edit)) {
            *kinds.entry(kind_of(alteration)).or_default() += 1;
            if let Alteration::Pieces(PiecesChange::Cut {
                through: Some(_), ..
            }) = alteration
            {
                *kinds.entry(CURVED_CUT.to_owned()).or_default() += 1;
            }
        }
        for (old, new) in now.garments.iter().zip(&next.garments) {
            if !Arc::ptr_eq(old, new) {
                assert_sound(old, new, &format!("seed {seed}, change {number}, {did}"));
            }
        }
        if let Edit::Fitting { fitting, .. } = &edit {
            let fitting = next.fitting(fitting).unwrap();
            let garment = next.garment(&fitting.garment).unwrap();
            let made = replay(Garment::clone(garment), &fitting.alterations, "").outcome;
            assert_sound(
                garment,
                &made,
                &format!("seed {seed}, change {number}, {did}"),
            );
        }
        if number % 50 == 0 {
            next.check().unwrap_or_else(|e| panic!("{did}: {e}"));
            marks.push((history.len(), saved(&next)));
        }
        history.push(next);
    }
    if seed < WHOLE_WAYS {
        whole_way(history.last().unwrap());
    }
    while history.len() > 1 {
        if let Some((_, then)) = marks.iter().find(|(at, _)| at + 1 == history.len()) {
            assert_eq!(saved(history.last().unwrap()), *then);
        }
        history.pop();
    }
    assert_eq!(saved(&history[0]), bytes, "undone all the way");
    (taken, CHANGES)
}

#[test]
fn a_hundred_sequences_of_two_hundred_changes_leave_sound_outlines_and_can_be_undone() {
    let projects = projects();
    let (mut taken, mut asked) = (0, 0);
    let mut kinds = Taken::new();
    for seed in 0..SEQUENCES {
        let first = &projects[(seed % 3) as usize];
        let (some, all) = sequence(seed, first, &mut kinds);
        taken += some;
        asked += all;
    }
    let never: Vec<&str> = KINDS
        .into_iter()
        .chain([CURVED_CUT])
        .filter(|kind| !kinds.contains_key(*kind))
        .collect();
    assert!(never.is_empty(), "never taken: {never:?}");
    // most of what is asked by chance makes no sense; what is taken must be enough to test with
    assert!(
        taken * 5 > asked,
        "only {taken} of {asked} changes were taken"
    );
}
