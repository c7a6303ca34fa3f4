//! Marks that are there already: as handles, moved, renamed, taken out. Shared by the tools that set them.

use egui::Ui;
use kurbo::{Point, Vec2};
use petitoile_core::alteration::MarkChange;
use petitoile_core::piece::{Mark, MarkKind};

use super::ask::{alter, try_alter};
use super::hand::Hand;
use super::tool::{Gesture, Handle, HandleLook};
use crate::command::{Chosen, Command};
use crate::fields::{Typed, length_field};

/// The mark that is chosen: piece, number in it, which of its points (`None`: all of it).
#[derive(Debug, Clone, PartialEq)]
pub struct Grip {
    piece: String,
    number: usize,
    point: Option<usize>,
    /// Where it is dragged to, on the table.
    to: Option<Point>,
}

impl Grip {
    fn id(&self) -> String {
        let point = self.point.map_or(String::new(), |p| format!("+{p}"));
        format!("{}/{}{point}", self.piece, self.number)
    }

    fn of(id: &str) -> Option<Self> {
        let (piece, rest) = id.rsplit_once('/')?;
        let (number, point) = match rest.split_once('+') {
            Some((number, point)) => (number, Some(point.parse().ok()?)),
            None => (rest, None),
        };
        Some(Self {
            piece: piece.to_owned(),
            number: number.parse().ok()?,
            point,
            to: None,
        })
    }

    /// The mark, while it is there.
    pub fn mark<'a>(&self, hand: &'a Hand<'_>) -> Option<&'a Mark> {
        hand.piece(&self.piece)?.marks.get(self.number)
    }

    /// Where it is, or is dragged to, in the piece's own coordinates.
    pub fn place(&self, hand: &Hand<'_>, mark: &Mark) -> Point {
        self.to
            .map_or_else(|| self.held(mark), |to| hand.in_piece(&self.piece, to))
    }

    /// Its piece.
    pub fn piece(&self) -> &str {
        &self.piece
    }

    /// Where it is held, in the piece's own coordinates.
    fn held(&self, mark: &Mark) -> Point {
        let corners = self.point.and_then(|p| corners(&mark.kind).get(p).copied());
        corners.unwrap_or_else(|| mark.kind.middle())
    }

    fn moved(&self, mark: &Mark, by: Vec2) -> Mark {
        let kind = match self.point {
            None => mark.kind.moved(by),
            Some(point) => with_corner(&mark.kind, point, by),
        };
        Mark {
            kind,
            name: mark.name.clone(),
        }
    }

    fn set(&self, mark: Mark) -> petitoile_core::alteration::Alteration {
        MarkChange::SetMark {
            number: self.number,
            mark,
        }
        .of(&self.piece)
    }
}

/// The places of a mark that can be moved alone: the ends of a buttonhole, ends and corners of a line.
fn corners(kind: &MarkKind) -> Vec<Point> {
    match kind {
        MarkKind::Buttonhole(a, b) => vec![*a, *b],
        other => other.line().map_or(Vec::new(), |line| {
            line.points().iter().step_by(3).copied().collect()
        }),
    }
}

/// The mark with one of its corners moved; steering points beside it come along.
fn with_corner(kind: &MarkKind, corner: usize, by: Vec2) -> MarkKind {
    match kind {
        MarkKind::Buttonhole(a, b) if corner == 0 => MarkKind::Buttonhole(*a + by, *b),
        MarkKind::Buttonhole(a, b) => MarkKind::Buttonhole(*a, *b + by),
        other => {
            let Some(line) = other.line() else {
                return other.moved(by);
            };
            let mut ends: Vec<Point> = line.points().iter().step_by(3).copied().collect();
            if let Some(end) = ends.get_mut(corner) {
                *end += by;
            }
            let straight = line
                .cubics()
                .all(|c| petitoile_core::geometry::parallel::is_straight(&c));
            let moved = if straight {
                petitoile_core::geometry::curve::Line::through_corners(&ends)
            } else {
                let shifted = line.points().iter().enumerate().map(|(i, p)| {
                    let near = i + 1 >= corner * 3 && i <= corner * 3 + 1;
                    if near { *p + by } else { *p }
                });
                petitoile_core::geometry::curve::Line::new(shifted.collect()).ok()
            };
            moved.map_or_else(|| other.clone(), |line| other.with_line(line))
        }
    }
}

/// Handles on every mark of a kind.
pub fn handles(hand: &Hand<'_>, grip: Option<&Grip>, of: fn(&MarkKind) -> bool) -> Vec<Handle> {
    let mut handles = Vec::new();
    for piece in hand.garment.into_iter().flat_map(|garment| &garment.pieces) {
        for (number, mark) in piece.marks.iter().enumerate() {
            if !of(&mark.kind) {
                continue;
            }
            // Ends and corners can be held once the mark is chosen.
            let is_it = grip.is_some_and(|g| g.piece == piece.name && g.number == number);
            let count = corners(&mark.kind).len();
            let points = (0..count).filter(|_| is_it).map(Some);
            for point in std::iter::once(None).chain(points) {
                let this = Grip {
                    piece: piece.name.clone(),
                    number,
                    point,
                    to: None,
                };
                let part = point.map_or(String::new(), |p| match p {
                    0 => ", start".to_owned(),
                    p if p + 1 == count => ", end".to_owned(),
                    p => format!(", corner {p}"),
                });
                let held = grip.filter(|grip| grip.id() == this.id());
                let at = hand.on_table(&piece.name, this.held(mark));
                handles.push(Handle {
                    id: this.id(),
                    at: held.and_then(|grip| grip.to).unwrap_or(at),
                    label: format!("{}, {} {}{part}", piece.name, mark.kind.noun(), mark.name),
                    look: if point.is_some() {
                        HandleLook::Point
                    } else {
                        HandleLook::Mark
                    },
                    chosen: held.is_some(),
                });
            }
        }
    }
    handles
}

/// What happens to handles: chosen, dragged, nudged, taken out. `false` when the gesture was none of these.
pub fn gesture(
    grip: &mut Option<Grip>,
    hand: &Hand<'_>,
    gesture: &Gesture,
    commands: &mut Vec<Command>,
) -> bool {
    let dragged = |grip: &Option<Grip>, to: Point| {
        let grip = grip.as_ref()?;
        let mark = grip.mark(hand)?;
        let by = hand.in_piece(&grip.piece, to) - grip.held(mark);
        Some(grip.set(grip.moved(mark, by)))
    };
    match gesture {
        Gesture::Take { handle, .. } => {
            *grip = Grip::of(handle);
            if let Some(grip) = grip {
                commands.push(Command::Choose(Chosen::piece(&grip.piece)));
            }
        }
        Gesture::DragHandle(_, at) => {
            if let Some(alteration) = dragged(grip, at.point) {
                try_alter(hand, alteration, commands);
            }
            if let Some(grip) = grip {
                grip.to = Some(at.point);
            }
        }
        Gesture::DropHandle(_, at) => {
            if let Some(alteration) = dragged(grip, at.point) {
                alter(hand, alteration, commands);
            }
            if let Some(grip) = grip {
                grip.to = None;
            }
        }
        Gesture::Nudge(by) => {
            let Some((grip, mark)) = grip.as_ref().and_then(|g| Some((g, g.mark(hand)?))) else {
                return false;
            };
            alter(hand, grip.set(grip.moved(mark, *by)), commands);
        }
        Gesture::Delete => take_out(grip, hand, commands),
        _ => return false,
    }
    true
}

/// Takes the chosen mark out.
pub fn take_out(grip: &mut Option<Grip>, hand: &Hand<'_>, commands: &mut Vec<Command>) {
    if let Some(grip) = grip.take()
        && grip.mark(hand).is_some()
    {
        let number = grip.number;
        alter(
            hand,
            MarkChange::RemoveMark { number }.of(grip.piece),
            commands,
        );
    }
}

/// Name, size and "take out" of the chosen mark. `false` when none is chosen.
pub fn fields(
    grip: &mut Option<Grip>,
    ui: &mut Ui,
    hand: &Hand<'_>,
    commands: &mut Vec<Command>,
) -> bool {
    let Some((held, mark)) = grip.as_ref().and_then(|g| Some((g, g.mark(hand)?))) else {
        return false;
    };
    ui.label(format!(
        "{}: {} {}",
        held.piece,
        mark.kind.noun(),
        mark.name
    ));
    let words = if matches!(mark.kind, MarkKind::Text(_)) {
        "Words of this mark"
    } else {
        "Name of this mark"
    };
    let mut now = None;
    ui.horizontal(|ui| {
        ui.label(words);
        if let Some(name) = crate::fields::name_field(ui, words, &mark.name) {
            now = Some(Mark {
                name,
                kind: mark.kind.clone(),
            });
        }
    });
    if let Some(size) = mark.kind.size() {
        ui.horizontal(|ui| {
            let name = match mark.kind {
                MarkKind::Eyelet { .. } => "Diameter of this eyelet",
                _ => "Width of this channel",
            };
            ui.label(name);
            let field = length_field(ui, name, Some(size), "", hand.unit, 76.0);
            if let Typed::Length(size) = field.typed {
                now = Some(Mark {
                    name: mark.name.clone(),
                    kind: with_size(&mark.kind, size),
                });
            }
        });
    }
    if let Some(mark) = now {
        alter(hand, held.set(mark), commands);
    }
    if ui.button("Take this mark out").clicked() {
        take_out(grip, hand, commands);
    }
    true
}

fn with_size(kind: &MarkKind, size: petitoile_core::Mm) -> MarkKind {
    match kind {
        MarkKind::Eyelet { at, .. } => MarkKind::Eyelet {
            at: *at,
            diameter: size,
        },
        MarkKind::Channel { line, .. } => MarkKind::Channel {
            line: line.clone(),
            width: size,
        },
        other => other.clone(),
    }
}

/// The first name of this kind that no mark of the piece has: "dot 1", "dot 2".
pub fn fresh_name(hand: &Hand<'_>, piece: &str, noun: &str) -> String {
    let taken: Vec<&str> = hand.piece(piece).map_or(Vec::new(), |piece| {
        piece.marks.iter().map(|mark| mark.name.as_str()).collect()
    });
    let numbered = (1..=taken.len() + 1).map(|n| format!("{noun} {n}"));
    numbered
        .into_iter()
        .find(|name| !taken.contains(&name.as_str()))
        .unwrap_or_else(|| noun.to_owned())
}
