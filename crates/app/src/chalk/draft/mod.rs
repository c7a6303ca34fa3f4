//! A line that is being drawn point by point: what pointer and keys do to it, before it becomes a piece or an edge.
//!
//! Table coordinates, mm. How points become lines is `petitoile_core::drawn`.

mod fields;
mod numbers;
pub mod on_edge;
mod show;

use kurbo::{Point, Vec2};
use petitoile_core::drawn::{self, Bend, DrawnPoint};
use petitoile_core::snapping::{NamedPoint, Start};
use petitoile_core::tolerance::JOINING;

use super::hand::{At, Hand};
use super::tool::{Gesture, Handle, HandleLook, SnapsTo, Typed};
use crate::command::Command;
pub use fields::{direction_fields, fields};
use numbers::Numbers;
pub use show::paint;

/// A line that is being drawn.
#[derive(Default)]
pub struct Draft {
    /// Its points so far.
    pub points: Vec<DrawnPoint>,
    /// Where the line has to end; without it, the line closes at its first point.
    pub end: Option<NamedPoint>,
    /// The first point stays where it is: it is the corner of a piece.
    pub fixed_start: bool,
    /// How the line runs through the next point.
    pub next: Bend,
    /// Name of the next stretch.
    pub name: String,
    numbers: Numbers,
    pull: Option<Pull>,
    grip: Option<Grip>,
}

/// A pull that is being dragged.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Pull {
    /// Both pulls of the point set last.
    Both,
    /// Only how the line leaves the last point.
    Leaving,
    /// Only how it arrives there: Shift is held.
    Arriving,
    /// How the line arrives at its end, which closes it.
    Closing,
}

/// What is taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Grip {
    Point(usize),
    Arriving(usize),
    Leaving(usize),
}

/// What came of a gesture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Outcome {
    /// The line goes on.
    GoesOn,
    /// It is to be finished.
    Finished,
}

impl Draft {
    /// A line through points drawn before.
    pub fn of(points: Vec<DrawnPoint>) -> Self {
        Self {
            points,
            ..Self::default()
        }
    }

    /// Is anything drawn?
    pub fn is_begun(&self) -> bool {
        self.points.len() > usize::from(self.fixed_start)
    }

    /// Gives up what is half done; typed numbers first. `false` when nothing was.
    pub fn cancel(&mut self) -> bool {
        if self.numbers.is_typing() || self.pull.is_some() || self.grip.is_some() {
            self.numbers.clear();
            self.pull = None;
            self.grip = None;
            return true;
        }
        let begun = !self.points.is_empty();
        self.points.clear();
        begun
    }

    /// Where the line goes on, and the direction it comes from.
    fn start(&self) -> Option<Start> {
        let last = self.points.last()?;
        let arriving = || drawn::arriving(&self.points);
        Some(match self.pull {
            None => Start {
                at: last.at,
                before: last.leaves.or_else(arriving),
            },
            Some(Pull::Leaving) => Start {
                at: last.at,
                before: arriving(),
            },
            Some(Pull::Both | Pull::Arriving) => Start {
                at: last.at,
                before: None,
            },
            Some(Pull::Closing) => Start {
                at: self.closing()?.at,
                before: None,
            },
        })
    }

    /// Where it closes.
    fn closing(&self) -> Option<NamedPoint> {
        let first = self.points.first()?;
        self.end.clone().or_else(|| {
            (self.points.len() > 1).then(|| NamedPoint {
                at: first.at,
                words: "the first point: closes the line".to_owned(),
            })
        })
    }

    /// What its places snap to.
    pub fn snaps_to(&self) -> SnapsTo {
        let closing = self.closing();
        let last = self.points.len().saturating_sub(1);
        let others = self.points.iter().enumerate();
        let named = others
            .filter(|(i, p)| {
                let held = matches!(self.grip, Some(Grip::Point(n)) if n == *i);
                let is_end = closing.as_ref().is_some_and(|end| end.at == p.at);
                !held && !is_end
            })
            .map(|(i, p)| NamedPoint {
                at: p.at,
                words: if i == last {
                    "the last point".to_owned()
                } else {
                    format!("point {}", i + 1)
                },
            });
        SnapsTo {
            points: closing.clone().into_iter().chain(named).collect(),
            start: self.start(),
            moving: None,
        }
    }

    /// Takes the last point back. `false` when there is none to take.
    pub fn step_back(&mut self) -> bool {
        if self.numbers.is_typing() {
            self.numbers.clear();
            return true;
        }
        self.grip = None;
        self.is_begun() && self.points.pop().is_some()
    }

    /// A sign or key of a number.
    pub fn typed(&mut self, hand: &Hand<'_>, key: Typed, commands: &mut Vec<Command>) -> bool {
        if key == Typed::Enter && self.numbers.is_typing() {
            self.place_typed(hand, commands);
            return true;
        }
        self.numbers.typed(key, self.points.is_empty())
    }

    /// Is a number half typed?
    pub fn is_typing(&self) -> bool {
        self.numbers.is_typing()
    }

    /// Where the next point would lie: as typed, else as the hand says.
    fn next_place(&self, hand: &Hand<'_>) -> Option<Point> {
        let pointer = hand.pointer.as_ref().map(|at| at.point);
        let towards = pointer
            .or(self.start().map(|start| start.at))
            .unwrap_or_default();
        let typed = self
            .numbers
            .read(hand.unit)
            .ok()?
            .place(self.start(), towards);
        typed.or(pointer)
    }

    /// Sets the point the typed numbers give.
    fn place_typed(&mut self, hand: &Hand<'_>, commands: &mut Vec<Command>) {
        let pointer = hand.pointer.as_ref().map(|at| at.point);
        let towards = pointer
            .or(self.start().map(|start| start.at))
            .unwrap_or_default();
        match self.numbers.read(hand.unit) {
            Err(trouble) => commands.push(Command::Say(trouble)),
            Ok(measured) => match measured.place(self.start(), towards) {
                Some(at) => {
                    self.set(at);
                    commands.push(Command::Hush);
                }
                None => commands.push(Command::Say(
                    "Set the first point before its length: click, or type right and up".to_owned(),
                )),
            },
        }
    }

    /// Sets the next point.
    fn set(&mut self, at: Point) {
        // No line arrives at the first point: the name waits for the next.
        let name = if self.points.is_empty() {
            None
        } else {
            self.take_name()
        };
        self.points.push(DrawnPoint {
            bend: self.next,
            name,
            ..DrawnPoint::corner(at)
        });
        self.numbers.clear();
        self.grip = None;
    }

    fn take_name(&mut self) -> Option<String> {
        let name = std::mem::take(&mut self.name);
        (!name.trim().is_empty()).then(|| name.trim().to_owned())
    }

    /// The points of a closed line: a name that waits is that of its last stretch, which arrives at the first point.
    pub fn closed(&mut self) -> &[DrawnPoint] {
        let name = self.take_name();
        if let Some(first) = self.points.first_mut() {
            first.name = name.or(first.name.take());
        }
        &self.points
    }

    fn is_last(&self, at: &At) -> bool {
        self.points
            .last()
            .is_some_and(|last| (last.at - at.point).hypot() <= JOINING.0)
    }

    fn is_closing(&self, at: &At) -> bool {
        let enough = self.end.is_some() || self.points.len() > 2 || self.is_curved();
        enough
            && self
                .closing()
                .is_some_and(|end| (end.at - at.point).hypot() <= JOINING.0)
    }

    fn is_curved(&self) -> bool {
        self.points.len() > 1
            && self
                .points
                .iter()
                .any(|p| p.leaves.is_some() || p.arrives.is_some() || p.bend == Bend::Through)
    }

    /// What pointer or keys did.
    pub fn gesture(
        &mut self,
        hand: &Hand<'_>,
        gesture: Gesture,
        commands: &mut Vec<Command>,
    ) -> Outcome {
        match gesture {
            Gesture::Click(at) | Gesture::DoubleClick(at) => return self.click(hand, &at),
            Gesture::Press(at) => self.press(&at, hand.keys.shift),
            Gesture::Drag(_, at) => self.pull(at.point),
            Gesture::Drop(_, at) => {
                self.pull(at.point);
                return match self.pull.take() {
                    Some(Pull::Closing) => Outcome::Finished,
                    _ => Outcome::GoesOn,
                };
            }
            Gesture::Take { handle, .. } => self.grip = Grip::read(&handle),
            Gesture::DragHandle(handle, at) | Gesture::DropHandle(handle, at) => {
                self.grip = Grip::read(&handle);
                self.move_grip(at.point);
            }
            Gesture::Nudge(by) => {
                if let Some(at) = self.grip.and_then(|grip| grip.place(&self.points)) {
                    self.move_grip(at + by);
                }
            }
            Gesture::Delete => self.delete(),
            Gesture::Finish if self.numbers.is_typing() => self.place_typed(hand, commands),
            Gesture::Finish => return Outcome::Finished,
            Gesture::Move(_) => {}
        }
        Outcome::GoesOn
    }

    fn click(&mut self, hand: &Hand<'_>, at: &At) -> Outcome {
        self.grip = None;
        if self.is_closing(at) {
            return Outcome::Finished;
        }
        if self.is_last(at) {
            // The last point again: a corner, from which the line leaves straight.
            if let Some(last) = self.points.last_mut() {
                last.leaves = None;
            }
            return Outcome::GoesOn;
        }
        let typed = self.numbers.is_typing();
        let place = if typed { self.next_place(hand) } else { None };
        self.set(place.unwrap_or(at.point));
        Outcome::GoesOn
    }

    fn press(&mut self, at: &At, shift: bool) {
        self.grip = None;
        if self.is_closing(at) {
            self.pull = Some(Pull::Closing);
            return;
        }
        let again = self.is_last(at);
        if !again {
            self.set(at.point);
        }
        self.pull = Some(match (shift, again) {
            (true, _) => Pull::Arriving,
            (false, true) => Pull::Leaving,
            (false, false) => Pull::Both,
        });
    }

    /// The drag goes on: the steering points follow.
    fn pull(&mut self, to: Point) {
        let Some(pull) = self.pull else { return };
        let closing = self.closing().map(|end| end.at);
        let point = match pull {
            Pull::Closing if self.end.is_none() => self.points.first_mut(),
            Pull::Closing => {
                // The end is a corner of the piece: a point of its own carries the pull.
                let end = closing.unwrap_or(to);
                if self.points.last().is_none_or(|last| last.at != end) {
                    self.points.push(DrawnPoint::corner(end));
                }
                self.points.last_mut()
            }
            Pull::Both | Pull::Leaving | Pull::Arriving => self.points.last_mut(),
        };
        let Some(point) = point else { return };
        let by = to - point.at;
        let by = Some(by).filter(|by| by.hypot() > JOINING.0);
        match pull {
            Pull::Both => {
                point.bend = Bend::AsPulled;
                (point.arrives, point.leaves) = (by.map(|by| -by), by);
            }
            Pull::Leaving => point.leaves = by,
            Pull::Closing | Pull::Arriving => point.arrives = by.map(|by| -by),
        }
    }

    fn move_grip(&mut self, to: Point) {
        let Some(grip) = self.grip else { return };
        let n = match grip {
            Grip::Point(n) | Grip::Arriving(n) | Grip::Leaving(n) => n,
        };
        let Some(point) = self.points.get_mut(n) else {
            return;
        };
        let by = to - point.at;
        let was_smooth = !point.is_corner();
        // The pull on the other side keeps its length and turns along, so that what is smooth stays smooth.
        let opposite = |pull: Option<Vec2>| {
            pull.map(|pull| match was_smooth && by.hypot() > 0.0 {
                true => -by / by.hypot() * pull.hypot(),
                false => pull,
            })
        };
        match grip {
            Grip::Point(_) => point.at = to,
            Grip::Arriving(_) => {
                point.leaves = opposite(point.leaves);
                point.arrives = Some(by);
            }
            Grip::Leaving(_) => {
                point.arrives = opposite(point.arrives);
                point.leaves = Some(by);
            }
        }
    }

    fn delete(&mut self) {
        match self.grip.take() {
            Some(Grip::Point(n)) if n < self.points.len() => {
                self.points.remove(n);
            }
            Some(Grip::Arriving(n)) => {
                if let Some(point) = self.points.get_mut(n) {
                    point.arrives = None;
                }
            }
            Some(Grip::Leaving(n)) => {
                if let Some(point) = self.points.get_mut(n) {
                    point.leaves = None;
                }
            }
            _ => {
                self.step_back();
            }
        }
    }

    /// Places to take hold of: points that are neither first nor last, and what steers the curves.
    pub fn handles(&self) -> Vec<Handle> {
        if self.pull.is_some() {
            return Vec::new();
        }
        let last = self.points.len().saturating_sub(1);
        let mut handles = Vec::new();
        for (n, point) in self.points.iter().enumerate() {
            let mut offer = |grip: Grip, what: &str, look| {
                handles.extend(grip.place(&self.points).map(|at| Handle {
                    id: grip.id(),
                    at,
                    label: format!("Point {}{what}", n + 1),
                    look,
                    chosen: self.grip == Some(grip),
                }));
            };
            if n > 0 && n < last {
                offer(Grip::Point(n), "", HandleLook::Point);
            }
            if point.arrives.is_some() {
                offer(Grip::Arriving(n), ", arriving curve", HandleLook::Steering);
            }
            if point.leaves.is_some() {
                offer(Grip::Leaving(n), ", leaving curve", HandleLook::Steering);
            }
        }
        handles
    }
}

impl Grip {
    fn id(self) -> String {
        match self {
            Self::Point(n) => format!("point {n}"),
            Self::Arriving(n) => format!("arriving {n}"),
            Self::Leaving(n) => format!("leaving {n}"),
        }
    }

    fn read(id: &str) -> Option<Self> {
        let (what, number) = id.split_once(' ')?;
        let n = number.parse().ok()?;
        match what {
            "point" => Some(Self::Point(n)),
            "arriving" => Some(Self::Arriving(n)),
            "leaving" => Some(Self::Leaving(n)),
            _ => None,
        }
    }

    fn place(self, points: &[DrawnPoint]) -> Option<Point> {
        match self {
            Self::Point(n) => points.get(n).map(|p| p.at),
            Self::Arriving(n) => points.get(n).and_then(|p| Some(p.at + p.arrives?)),
            Self::Leaving(n) => points.get(n).and_then(|p| Some(p.at + p.leaves?)),
        }
    }
}
