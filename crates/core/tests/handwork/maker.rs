//! Changes by hand by chance.

use super::*;

/// A change by hand of any kind, about this garment, sensible or not.
pub(super) struct Maker<'a> {
    chance: &'a mut Chance,
    garment: &'a Garment,
    /// How large its pieces are.
    size: f64,
    piece: Arc<Piece>,
}

impl<'a> Maker<'a> {
    pub(super) fn new(chance: &'a mut Chance, garment: &'a Garment) -> Option<Self> {
        let piece = chance.of(&garment.pieces)?.clone();
        let bounds = piece.outline.bounds();
        Some(Self {
            chance,
            garment,
            size: bounds.width().max(bounds.height()),
            piece,
        })
    }

    pub(super) fn edge(&mut self) -> String {
        let edges = self.piece.outline.edges();
        edges[self.chance.below(edges.len())].name.clone()
    }

    pub(super) fn place(&mut self) -> OutlinePoint {
        let edge = self.edge();
        let fraction = match self.chance.below(8) {
            0 => 0.0,
            1 => 1.0,
            2 => 0.5,
            _ => self.chance.between(0.0, 1.0),
        };
        OutlinePoint::new(edge, fraction)
    }

    pub(super) fn point(&mut self) -> PointRef {
        let edge = self.edge();
        let line = &self.piece.outline.edge(&edge).unwrap().line;
        let number = self.chance.below(line.points().len() + 1);
        PointRef::new(edge, number)
    }

    pub(super) fn inside(&mut self) -> Point {
        let bounds = self.piece.outline.bounds();
        Point::new(
            self.chance.between(bounds.x0, bounds.x1),
            self.chance.between(bounds.y0, bounds.y1),
        )
    }

    pub(super) fn mm(&mut self) -> Mm {
        let most = self.size * 0.12;
        self.chance.mm(most)
    }

    pub(super) fn long(&mut self) -> Mm {
        Mm(self.mm().0.abs())
    }

    pub(super) fn name(&mut self, like: &str) -> String {
        format!("{like} {}", self.chance.below(40))
    }

    pub(super) fn seam(&mut self) -> String {
        let seam = self.chance.of(&self.garment.seams);
        seam.map_or_else(|| "no seam".to_owned(), |seam| seam.name.clone())
    }

    pub(super) fn dart(&mut self) -> String {
        let dart = self.chance.of(&self.piece.darts);
        dart.map_or_else(|| "no dart".to_owned(), |dart| dart.name.clone())
    }

    pub(super) fn level(&mut self) -> Level {
        let levels = [Level::Bust, Level::Waist, Level::Hip, Level::Knee];
        self.piece
            .body_lines
            .first()
            .map_or(levels[self.chance.below(4)], |line| line.level)
    }

    pub(super) fn alteration(&mut self) -> Alteration {
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

    pub(super) fn shape(&mut self) -> ShapeChange {
        match self.chance.below(19) {
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
            17 => ShapeChange::Raise {
                edge: self.edge(),
                by: vec![self.mm(), Mm(0.0), self.mm()],
            },
            _ if self.chance.is() => ShapeChange::TurnToGrain,
            _ => ShapeChange::OpenOut,
        }
    }

    pub(super) fn redraw(&mut self) -> ShapeChange {
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

    pub(super) fn darted(&mut self) -> DartChange {
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

    pub(super) fn mark(&mut self) -> Mark {
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

    pub(super) fn marked(&mut self) -> MarkChange {
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
    pub(super) fn curved(&mut self, from: &OutlinePoint, to: &OutlinePoint) -> Option<Line> {
        let ends = self.piece.point_at(from).zip(self.piece.point_at(to));
        let (a, b) = ends.filter(|(a, b)| self.chance.is() && 1.0 < (*b - *a).hypot())?;
        let aside = (b - a) * self.chance.between(-0.2, 0.2);
        let aside = Vec2::new(-aside.y, aside.x);
        let (c, d) = (a.lerp(b, 0.3) + aside, a.lerp(b, 0.7) + aside);
        Line::from_cubics(&[CubicBez::new(a, c, d, b)])
    }

    pub(super) fn fullness(&mut self, piece: String) -> Alteration {
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

    pub(super) fn pieces(&mut self, piece: String) -> PiecesChange {
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

    pub(super) fn sewn(&mut self, piece: String) -> SeamChange {
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
