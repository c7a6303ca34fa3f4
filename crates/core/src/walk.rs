//! Walking a seam: one piece rolled along the other, seam line on seam line, stopping at every notch.
//!
//! Both pieces stay in their own drawings; what is given is where piece `b` lies in the drawing of piece `a`.
//! Lengths in mm. Nothing here is saved.

use std::sync::Arc;

use kurbo::{Affine, Vec2};

use crate::notch::NotchKind;
use crate::piece::{MarkKind, Piece};
use crate::seams::{Seam, SeamError, Side, SidePlace, place_near};
use crate::tolerance::JOINING;
use crate::units::Mm;

/// How far a dot may lie from the stitch line and still be a dot of the seam (common practice, no source).
const DOT_REACH: Mm = Mm(1.0);

/// Difference between two notches that counts as ease, mm; less is the pencil's width (common practice, no source).
const EASE: f64 = 0.25;

/// How fast side `b` is passed while side `a` is walked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Pace {
    /// The same distance on both: the difference grows as it is walked.
    #[default]
    Same,
    /// From notch to notch, ease spread evenly between: notches that match meet.
    Notches,
}

/// How the pieces lie while they are walked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Laid {
    /// Side by side, one on each side of the seam, as they are worn.
    #[default]
    Beside,
    /// One on the other, as they are sewn.
    OnTop,
}

/// A seam made ready to be walked.
#[derive(Debug, Clone, PartialEq)]
pub struct Walk {
    /// The side that lies still.
    pub a: Side,
    /// The side that is rolled along it.
    pub b: Side,
    /// Where to stop, in the order they are met.
    pub stops: Vec<Stop>,
    /// From notch to notch.
    pub sections: Vec<Section>,
}

/// A place where walking stops.
#[derive(Debug, Clone, PartialEq)]
pub struct Stop {
    /// Which side it is marked on.
    pub on: SideOf,
    /// How far along that side.
    pub at: Mm,
    /// What is there.
    pub what: StopKind,
}

/// A side of a seam.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SideOf {
    /// Side `a`.
    A,
    /// Side `b`.
    B,
}

/// What is at a stop.
#[derive(Debug, Clone, PartialEq)]
pub enum StopKind {
    /// The seam starts.
    Start,
    /// The seam ends.
    End,
    /// One stretch ends and the next begins.
    Corner {
        /// Piece and edge that end.
        ends: String,
        /// Piece and edge that begin.
        begins: String,
    },
    /// A notch.
    Notch(NotchKind),
    /// A dot on the stitch line.
    Dot(String),
    /// From here on one side is longer.
    EaseStarts,
    /// Up to here one side is longer.
    EaseEnds,
}

/// The part of a seam between two places that meet: its ends, and notches that match.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Section {
    /// Where it starts on side `a`, and ends.
    pub a: (Mm, Mm),
    /// Where it starts on side `b`, and ends.
    pub b: (Mm, Mm),
}

/// Where the pieces are when the seam is walked so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// The place on side `a`.
    pub a: SidePlace,
    /// The place on side `b`.
    pub b: SidePlace,
    /// How far along side `a`.
    pub along_a: Mm,
    /// How far along side `b`.
    pub along_b: Mm,
    /// Takes the drawing of the piece at `b` to the drawing of the piece at `a`: turned and moved, mirrored where the
    /// two meet as mirror images.
    pub a_from_b: Affine,
    /// How much longer side `a` is so far than side `b`; what is walked past the end of a side counts nothing.
    pub difference: Mm,
}

impl Section {
    /// How much longer side `a` is than side `b` in this section.
    pub fn difference(&self) -> Mm {
        Mm(self.length_a().0 - self.length_b().0)
    }

    /// Its length on side `a`.
    pub fn length_a(&self) -> Mm {
        self.a.1 - self.a.0
    }

    /// Its length on side `b`.
    pub fn length_b(&self) -> Mm {
        self.b.1 - self.b.0
    }

    /// Is one side longer than a pencil line is wide?
    pub fn has_ease(&self) -> bool {
        self.difference().0.abs() > EASE
    }
}

impl Walk {
    /// Makes a seam ready to be walked on the given pieces.
    ///
    /// # Errors
    /// [`SeamError`] when a stretch names something that is not there, or a side has no length.
    pub fn new(seam: &Seam, pieces: &[Arc<Piece>]) -> Result<Self, SeamError> {
        let (a, b) = (Side::new(&seam.a, pieces)?, Side::new(&seam.b, pieces)?);
        let sections = sections(seam, pieces, &a, &b)?;
        let stops = stops(seam, pieces, &a, &b, &sections)?;
        Ok(Self {
            a,
            b,
            stops,
            sections,
        })
    }

    /// How far there is to walk: the longer side.
    pub fn length(&self) -> Mm {
        Mm(self.a.length().0.max(self.b.length().0))
    }

    /// Where the pieces are after this distance along side `a`.
    ///
    /// With [`Pace::Same`] the longer side can be walked to its end; the other then waits at its own end.
    pub fn at(&self, walked: Mm, pace: Pace, laid: Laid) -> Option<Step> {
        let along_a = Mm(walked.0.clamp(0.0, self.a.length().0));
        let along_b = match pace {
            Pace::Same => Mm(walked.0.clamp(0.0, self.b.length().0)),
            Pace::Notches => self.beside(along_a),
        };
        let (a, b) = (self.a.place(along_a)?, self.b.place(along_b)?);
        Some(Step {
            a_from_b: laid_on(&a, &b, laid),
            a,
            b,
            along_a,
            along_b,
            difference: along_a - along_b,
        })
    }

    /// How far along side `b` the place lies that meets this one of side `a`, ease spread evenly from notch to notch.
    pub fn beside(&self, along_a: Mm) -> Mm {
        self.carried(along_a, |section| (section.a, section.b))
    }

    /// The same from side `b` to side `a`.
    pub fn beside_b(&self, along_b: Mm) -> Mm {
        self.carried(along_b, |section| (section.b, section.a))
    }

    fn carried(&self, at: Mm, of: impl Fn(&Section) -> ((Mm, Mm), (Mm, Mm))) -> Mm {
        let within = self
            .sections
            .iter()
            .map(&of)
            .find(|(here, _)| at.0 <= here.1.0)
            .or_else(|| self.sections.last().map(&of));
        let Some((here, there)) = within else {
            return at;
        };
        let length = (here.1 - here.0).0;
        let share = if length > 0.0 {
            ((at - here.0).0 / length).clamp(0.0, 1.0)
        } else {
            0.0
        };
        Mm(there.0.0 + share * (there.1 - there.0).0)
    }

    /// The next stop after a distance walked along side `a` at this pace; `None` past the last.
    pub fn next_stop(&self, walked: Mm, pace: Pace) -> Option<(Mm, &Stop)> {
        let mut ahead: Vec<(Mm, &Stop)> = self
            .stops
            .iter()
            .map(|stop| (self.walked_to(stop, pace), stop))
            .filter(|(at, _)| at.0 > walked.0 + JOINING.0)
            .collect();
        ahead.sort_by(|x, y| x.0.0.total_cmp(&y.0.0));
        ahead.first().copied()
    }

    /// The stop before a distance walked along side `a` at this pace; `None` before the first.
    pub fn stop_before(&self, walked: Mm, pace: Pace) -> Option<(Mm, &Stop)> {
        let mut behind: Vec<(Mm, &Stop)> = self
            .stops
            .iter()
            .map(|stop| (self.walked_to(stop, pace), stop))
            .filter(|(at, _)| at.0 < walked.0 - JOINING.0)
            .collect();
        behind.sort_by(|x, y| x.0.0.total_cmp(&y.0.0));
        behind.last().copied()
    }

    /// How far has been walked along side `a` when a stop is reached.
    pub fn walked_to(&self, stop: &Stop, pace: Pace) -> Mm {
        match (stop.on, pace) {
            (SideOf::A, _) | (SideOf::B, Pace::Same) => stop.at,
            (SideOf::B, Pace::Notches) => self.beside_b(stop.at),
        }
    }
}

/// Where piece `b` lies in the drawing of piece `a` when these two places meet and both are sewn the same way.
pub(crate) fn laid_on(a: &SidePlace, b: &SidePlace, laid: Laid) -> Affine {
    let same_hand = a.piece_on_left == b.piece_on_left;
    let mirrored = match laid {
        Laid::Beside => same_hand,
        Laid::OnTop => !same_hand,
    };
    let flipped = |v: Vec2| if mirrored { Vec2::new(v.x, -v.y) } else { v };
    // Turning the (flipped) direction of b onto that of a; both are unit vectors.
    let (from, to) = (flipped(b.direction), a.direction);
    let (cos, sin) = (from.dot(to), from.cross(to));
    let (x, y) = (
        Vec2::new(cos, sin),
        if mirrored {
            Vec2::new(sin, -cos)
        } else {
            Vec2::new(-sin, cos)
        },
    );
    let turned = x * b.point.x + y * b.point.y;
    let moved = a.point.to_vec2() - turned;
    Affine::new([x.x, x.y, y.x, y.y, moved.x, moved.y])
}

/// Notches that match, and where both sides go over to their next stretch equally often, cut a seam into sections.
fn sections(
    seam: &Seam,
    pieces: &[Arc<Piece>],
    a: &Side,
    b: &Side,
) -> Result<Vec<Section>, SeamError> {
    let mut meeting: Vec<(f64, f64)> = seam
        .walked(pieces)?
        .pairs
        .iter()
        .map(|pair| (pair.a.at.0, pair.b.at.0))
        .collect();
    meeting.sort_by(|x, y| x.0.total_cmp(&y.0));
    // Notches that would have to cross over each other do not match.
    let ends = (a.length().0, b.length().0);
    let mut kept: Vec<(f64, f64)> = vec![(0.0, 0.0)];
    for pair in meeting.into_iter().chain([ends]) {
        let before = kept.last().copied().unwrap_or_default();
        if pair.0 - before.0 > JOINING.0 && pair.1 - before.1 > JOINING.0 {
            kept.push(pair);
        }
    }
    // Nothing stays between the last notch and the ends.
    if let Some(last) = kept.last_mut() {
        *last = ends;
    }
    let section = |pair: &[(f64, f64)]| match pair {
        [from, to] => Some(Section {
            a: (Mm(from.0), Mm(to.0)),
            b: (Mm(from.1), Mm(to.1)),
        }),
        _ => None,
    };
    Ok(kept.windows(2).filter_map(section).collect())
}

fn stops(
    seam: &Seam,
    pieces: &[Arc<Piece>],
    a: &Side,
    b: &Side,
    sections: &[Section],
) -> Result<Vec<Stop>, SeamError> {
    let mut stops = Vec::new();
    for (on, side, stretches) in [(SideOf::A, a, &seam.a), (SideOf::B, b, &seam.b)] {
        let stop = |at: Mm, what: StopKind| Stop { on, at, what };
        stops.push(stop(Mm(0.0), StopKind::Start));
        stops.extend(corners(side).into_iter().map(|(at, what)| stop(at, what)));
        let notches = crate::seams::walked_notches(stretches, pieces)?;
        stops.extend(
            notches
                .iter()
                .map(|notch| stop(notch.at, StopKind::Notch(notch.kind))),
        );
        stops.extend(
            dots(side, pieces)
                .into_iter()
                .map(|(at, what)| stop(at, what)),
        );
        stops.push(stop(side.length(), StopKind::End));
    }
    stops.extend(ease(sections));
    stops.sort_by(|x, y| x.at.0.total_cmp(&y.at.0).then(x.on.cmp(&y.on)));
    Ok(stops)
}

fn corners(side: &Side) -> Vec<(Mm, StopKind)> {
    let pairs = side.parts().iter().zip(side.parts().iter().skip(1));
    pairs
        .map(|(before, after)| {
            let name = |part: &crate::seams::SidePart| {
                format!("{}, {}", part.stretch.piece, part.stretch.edge)
            };
            let what = StopKind::Corner {
                ends: name(before),
                begins: name(after),
            };
            (after.start, what)
        })
        .collect()
}

/// Dots that lie on the stitch line of this side.
fn dots(side: &Side, pieces: &[Arc<Piece>]) -> Vec<(Mm, StopKind)> {
    let mut seen: Vec<&str> = Vec::new();
    let mut found = Vec::new();
    for part in side.parts() {
        let name = part.stretch.piece.as_str();
        if seen.contains(&name) {
            continue;
        }
        seen.push(name);
        let marks = pieces
            .iter()
            .filter(|piece| piece.name == name)
            .flat_map(|piece| piece.marks.iter().map(move |mark| (piece, mark)));
        for (piece, mark) in marks {
            let MarkKind::Dot(dot) = mark.kind else {
                continue;
            };
            let Some((at, _)) = place_near(piece, dot).filter(|(_, off)| *off <= DOT_REACH) else {
                continue;
            };
            let edge = crate::edge::EdgeRef::new(&piece.name, &at.edge);
            let along = side.along(&edge, at.fraction);
            found.extend(
                along
                    .into_iter()
                    .map(|along| (along, StopKind::Dot(mark.name.clone()))),
            );
        }
    }
    found
}

/// Where ease starts and ends, on side `a`.
fn ease(sections: &[Section]) -> Vec<Stop> {
    let mut stops = Vec::new();
    let mut eased = false;
    let stop = |at: Mm, what: StopKind| Stop {
        on: SideOf::A,
        at,
        what,
    };
    for section in sections {
        if section.has_ease() != eased {
            eased = section.has_ease();
            let what = if eased {
                StopKind::EaseStarts
            } else {
                StopKind::EaseEnds
            };
            stops.push(stop(section.a.0, what));
        }
    }
    if eased && let Some(last) = sections.last() {
        stops.push(stop(last.a.1, StopKind::EaseEnds));
    }
    stops
}

impl std::fmt::Display for StopKind {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Start => f.write_str("the seam starts"),
            Self::End => f.write_str("the seam ends"),
            Self::Corner { ends, begins } => write!(f, "{ends} ends, {begins} begins"),
            Self::Notch(kind) => write!(f, "{} notch", kind.label()),
            Self::Dot(name) => write!(f, "dot {name}"),
            Self::EaseStarts => f.write_str("ease starts"),
            Self::EaseEnds => f.write_str("ease ends"),
        }
    }
}

#[cfg(test)]
mod tests;
