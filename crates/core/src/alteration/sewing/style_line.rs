//! The style line: a seam moved from one piece into its neighbour. What one piece gains the other loses, corners and
//! all, so that the two together stay as they were.

use kurbo::{Affine, CubicBez, Point};

use super::trued::{changed_seams, line_of, moved, piece_of, put, redrawn};
use super::{note, refused, seam_of};
use crate::alteration::moves::{finite, follow};
use crate::alteration::{AlterationError, Altered, Bit, Carried};
use crate::edge::{EdgeRef, OutlinePoint};
use crate::finding::Finding;
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::joins::{Join, JoinCorner};
use crate::piece::{Copy, Piece, Side as BodySide};
use crate::seams::{Seam, Side, Stretch};
use crate::tape::TapePath;
use crate::tolerance::JOINING;
use crate::units::Mm;

/// How far the two sides may part and still count as one line (common practice, no source).
const ONE_LINE: f64 = 0.5;

/// A bend where a bit of an edge is joined on that is worth telling, degrees.
const BENDS: f64 = 2.0;

/// How far points may lie beside a straight line that is drawn as one, mm: rounding only.
const EXACT: f64 = 1e-9;

/// How near a fraction lies to an end that counts as the corner.
const CORNER: f64 = 1e-6;

/// Moves a seam by so much into the piece of side `b` at its start and end; negative into the piece of side `a`.
pub(super) fn move_line(
    garment: &Garment,
    name: &str,
    (at_start, at_end): (f64, f64),
) -> Result<Altered, AlterationError> {
    let (at_start, at_end) = (finite(at_start)?, finite(at_end)?);
    let seam = seam_of(garment, name)?;
    let (a, b) = (whole(garment, &seam.a)?, whole(garment, &seam.b)?);
    if a.piece == b.piece {
        return Err(AlterationError::Refused(format!(
            "both sides lie on {}; a seam line moves between two pieces",
            a.piece
        )));
    }
    let laid = Laid::new(garment, seam)?;
    let (first, last) = (
        corners(garment, seam, true)?,
        corners(garment, seam, false)?,
    );
    if first.a.run_edge == last.a.run_edge || first.b.run_edge == last.b.run_edge {
        return Err(AlterationError::Refused(
            "one edge runs from the start of the seam round to its end; split that edge first"
                .to_owned(),
        ));
    }
    let start = EndMove::new(garment, &laid, &first, at_start)?;
    let end = EndMove::new(garment, &laid, &last, at_end)?;
    let ends = [&start, &end];

    let mut carried = Carried::default();
    let mut before = garment.clone();
    for shift in ends.iter().filter_map(|end| end.shift.as_ref()) {
        for (old, bits) in shift.bits() {
            carried = carried.with_edge(old, bits);
        }
        shift.keep_corners(&mut before);
    }
    let mut drawn = garment.clone();
    redraw(&mut drawn, &laid, (a, b), ends)?;
    let mut altered = carried.altered(&before, drawn.pieces);
    for shift in ends.iter().filter_map(|end| end.shift.as_ref()) {
        shift.to_corners(&mut altered.garment);
    }
    right_copies(&mut altered.garment, &[&a.piece, &b.piece]);
    altered.notes.extend(moved(garment, &altered.garment, name));
    let shifts = ends.iter().filter_map(|end| end.shift.as_ref());
    altered.notes.extend(shifts.filter_map(|s| s.bend(name)));
    altered
        .notes
        .extend(changed_seams(garment, &altered.garment));
    Ok(altered)
}

/// The one stretch of a side that is a whole edge.
fn whole<'a>(garment: &Garment, side: &'a [Stretch]) -> Result<&'a Stretch, AlterationError> {
    let refuse = || {
        AlterationError::Refused(
            "only the seam between one whole edge and one whole edge moves as a style line; split the seam there first".to_owned(),
        )
    };
    let [stretch] = side else {
        return Err(refuse());
    };
    piece_of(garment, &stretch.piece)?;
    let (low, high) = (stretch.from.min(stretch.to), stretch.from.max(stretch.to));
    if low.abs() <= CORNER && (high - 1.0).abs() <= CORNER {
        Ok(stretch)
    } else {
        Err(refuse())
    }
}

fn corners(garment: &Garment, seam: &Seam, at_start: bool) -> Result<Join, AlterationError> {
    Join::at(garment, seam, at_start).map_err(|why| AlterationError::Refused(why.to_string()))
}

/// Both pieces laid side by side along the seam.
struct Laid {
    /// Takes the drawing of the piece of side `b` to that of side `a`.
    a_from_b: Affine,
    /// The seam line, in sewing order, in the drawing of side `a`.
    line: Line,
    /// The seam line of side `b`, in sewing order, in its own drawing.
    line_b: Line,
}

impl Laid {
    fn new(garment: &Garment, seam: &Seam) -> Result<Self, AlterationError> {
        let (a, b) = (
            Side::new(&seam.a, &garment.pieces).map_err(refused)?,
            Side::new(&seam.b, &garment.pieces).map_err(refused)?,
        );
        let line = |stretches: &[Stretch]| {
            let stretch = stretches.first()?;
            let whole = stretch.line(&garment.pieces)?;
            Some(whole)
        };
        let (Some(line), Some(line_b), Some(on_a), Some(on_b)) = (
            line(&seam.a),
            line(&seam.b),
            a.place(Mm(0.0)),
            b.place(Mm(0.0)),
        ) else {
            return Err(refused(crate::seams::SeamError::NoLength));
        };
        // Start on start, and the end as near to the end as turning brings it.
        let mirrored = on_a.piece_on_left == on_b.piece_on_left;
        let flip = if mirrored {
            Affine::FLIP_Y
        } else {
            Affine::IDENTITY
        };
        let (to, from) = (
            line.end() - line.start(),
            (flip * line_b.end()) - (flip * line_b.start()),
        );
        let turn = Affine::rotate(libm::atan2(from.cross(to), from.dot(to)));
        let turned = turn * flip;
        let a_from_b = Affine::translate(line.start() - turned * line_b.start()) * turned;
        let apart = (0..=64)
            .map(|i| f64::from(i) / 64.0)
            .map(|at| (line.at(at) - a_from_b * line_b.at(at)).hypot())
            .fold(0.0, f64::max);
        if apart > ONE_LINE {
            return Err(AlterationError::Refused(format!(
                "laid side by side the two sides part by {apart:.1} mm, so there is no one line to move; make both edges alike first, or add width to one piece and take it off the other"
            )));
        }
        Ok(Self {
            a_from_b,
            line,
            line_b,
        })
    }
}

/// Where the corners go at one end of the seam.
struct EndMove {
    /// In the drawing of side `a`.
    on_a: Point,
    /// In the drawing of side `b`.
    on_b: Point,
    /// What goes over from one piece to the other there.
    shift: Option<Shift>,
}

/// A bit of the edge that runs over the seam, gone over from one piece to the other.
struct Shift {
    gains: JoinCorner,
    loses: JoinCorner,
    /// The edge of the gaining piece, with the bit.
    longer: Line,
    /// The edge of the losing piece, without it.
    shorter: Line,
    /// The bit's share of the longer edge.
    gained: f64,
    /// The bit's share of the edge it came from.
    lost: f64,
    /// By how much the longer edge bends where the bit is joined on, degrees.
    bends: f64,
}

impl EndMove {
    fn new(garment: &Garment, laid: &Laid, join: &Join, by: f64) -> Result<Self, AlterationError> {
        let ends = |line: &Line| {
            if join.at_start {
                line.start()
            } else {
                line.end()
            }
        };
        if by == 0.0 {
            return Ok(Self {
                on_a: ends(&laid.line),
                on_b: ends(&laid.line_b),
                shift: None,
            });
        }
        let into_b = by > 0.0;
        let (gains, loses, gain_from_lose) = if into_b {
            (&join.a, &join.b, laid.a_from_b)
        } else {
            (&join.b, &join.a, laid.a_from_b.inverse())
        };
        let (old, source) = (
            line_of(piece_of(garment, &gains.piece)?, &gains.run_edge)?,
            line_of(piece_of(garment, &loses.piece)?, &loses.run_edge)?,
        );
        let (by, whole) = (by.abs(), source.length());
        if by >= whole - JOINING.0 {
            return Err(AlterationError::Refused(format!(
                "{}, {} is only {whole:.1} mm long; move the seam by less than that",
                loses.piece, loses.run_edge
            )));
        }
        let lost = by / whole;
        let (bit, shorter) = if loses.at_run_edge_start {
            (source.between(0.0, lost), source.between(lost, 1.0))
        } else {
            (
                source.between(1.0, 1.0 - lost),
                source.between(0.0, 1.0 - lost),
            )
        };
        let (bit, shorter) = bit.zip(shorter).ok_or(AlterationError::Crosses)?;
        let gone = bit.end();
        let corner = if gains.at_run_edge_start {
            old.start()
        } else {
            old.end()
        };
        let bit = bit.mapped(|p| gain_from_lose * p);
        let onto = corner - bit.start();
        let bit = bit.mapped(|p| p + onto);
        let there = bit.end();
        // Walked from the far end over the old corner to the new one.
        let towards = if gains.at_run_edge_start {
            old.reversed()
        } else {
            old.clone()
        };
        let (coming, going) = (towards.direction(1.0), bit.direction(0.0));
        let bends = libm::atan2(coming.cross(going), coming.dot(going)).to_degrees();
        let longer = joined(&towards, &bit).ok_or(AlterationError::Crosses)?;
        let longer = if gains.at_run_edge_start {
            longer.reversed()
        } else {
            longer
        };
        let shift = Shift {
            gains: gains.clone(),
            loses: loses.clone(),
            longer,
            shorter,
            gained: by / (old.length() + by),
            lost,
            bends,
        };
        let (on_a, on_b) = if into_b { (there, gone) } else { (gone, there) };
        Ok(Self {
            on_a,
            on_b,
            shift: Some(shift),
        })
    }
}

/// Two lines end to end; one straight line where they make one.
fn joined(first: &Line, second: &Line) -> Option<Line> {
    let cubics: Vec<CubicBez> = first.cubics().chain(second.cubics()).collect();
    let whole = Line::from_cubics(&cubics)?;
    let (start, way) = (whole.start(), whole.end() - whole.start());
    let off = |p: &Point| (*p - start).cross(way).abs() / way.hypot();
    let is_one = whole.points().iter().all(|p| off(p) <= EXACT);
    Some(if is_one {
        Line::straight(start, whole.end())
    } else {
        whole
    })
}

impl Shift {
    fn gaining(&self) -> EdgeRef {
        EdgeRef::new(&self.gains.piece, &self.gains.run_edge)
    }

    fn losing(&self) -> EdgeRef {
        EdgeRef::new(&self.loses.piece, &self.loses.run_edge)
    }

    /// Fractions of the longer edge: the old corner and the new one.
    fn on_longer(&self) -> (f64, f64) {
        if self.gains.at_run_edge_start {
            (self.gained, 0.0)
        } else {
            (1.0 - self.gained, 1.0)
        }
    }

    fn bits(&self) -> [(EdgeRef, Vec<Bit>); 2] {
        let (corner, new) = self.on_longer();
        let kept = if self.gains.at_run_edge_start {
            (corner, 1.0)
        } else {
            (0.0, corner)
        };
        let bit = |from: (f64, f64), edge: EdgeRef, to: (f64, f64)| Bit::new(from, edge, to);
        let gone = if self.loses.at_run_edge_start {
            vec![
                bit((0.0, self.lost), self.gaining(), (corner, new)),
                bit((self.lost, 1.0), self.losing(), (0.0, 1.0)),
            ]
        } else {
            let rest = 1.0 - self.lost;
            vec![
                bit((0.0, rest), self.losing(), (0.0, 1.0)),
                bit((rest, 1.0), self.gaining(), (new, corner)),
            ]
        };
        [
            (self.gaining(), vec![bit((0.0, 1.0), self.gaining(), kept)]),
            (self.losing(), gone),
        ]
    }

    /// Levels and tapes that end in the corner of the losing piece stay with it.
    fn keep_corners(&self, garment: &mut Garment) {
        let (old, kept) = if self.loses.at_run_edge_start {
            (0.0, self.lost + CORNER / 10.0)
        } else {
            (1.0, 1.0 - self.lost - CORNER / 10.0)
        };
        moved_point(garment, &self.losing(), old, kept);
    }

    /// They end in the new corners of both.
    fn to_corners(&self, garment: &mut Garment) {
        let corner = if self.loses.at_run_edge_start {
            0.0
        } else {
            1.0
        };
        moved_point(garment, &self.losing(), corner, corner);
        let (old, new) = self.on_longer();
        moved_point(garment, &self.gaining(), old, new);
    }

    fn bend(&self, seam: &str) -> Option<Finding> {
        (self.bends.abs() > BENDS).then(|| {
            let what = format!(
                "{} now bends by {:.1} degrees where it ended before.",
                self.gaining(),
                self.bends.abs()
            );
            note(seam, what, "Smooth it there.")
        })
    }
}

/// Ends of levels and of tapes laid across that lie at one place of an edge, put to another.
fn moved_point(garment: &mut Garment, edge: &EdgeRef, from: f64, to: f64) {
    let set = |at: &mut OutlinePoint| {
        if at.edge == edge.edge && (at.fraction - from).abs() <= CORNER {
            at.fraction = to;
        }
    };
    for piece in garment
        .pieces
        .iter_mut()
        .filter(|piece| piece.name == edge.piece && !piece.body_lines.is_empty())
    {
        for line in &mut std::sync::Arc::make_mut(piece).body_lines {
            set(&mut line.from);
            set(&mut line.to);
        }
    }
    let parts = garment
        .tape_lines
        .iter_mut()
        .flat_map(|tape| &mut tape.parts);
    for part in parts.filter(|part| part.piece == edge.piece) {
        if let TapePath::Across(a, b) | TapePath::Upright(a, b) = &mut part.path {
            set(a);
            set(b);
        }
    }
}

/// The new outlines of both pieces.
fn redraw(
    garment: &mut Garment,
    laid: &Laid,
    (a, b): (&Stretch, &Stretch),
    [start, end]: [&EndMove; 2],
) -> Result<(), AlterationError> {
    let line = follow(
        &laid.line,
        start.on_a - laid.line.start(),
        end.on_a - laid.line.end(),
    );
    let b_from_a = laid.a_from_b.inverse();
    let there = line.mapped(|p| b_from_a * p);
    // Nothing to follow where both sides were one line.
    let there = follow(&there, start.on_b - there.start(), end.on_b - there.end());
    for (stretch, line) in [(a, line), (b, there)] {
        let piece: &Piece = piece_of(garment, &stretch.piece)?;
        let as_drawn = if stretch.from <= stretch.to {
            line
        } else {
            line.reversed()
        };
        let mut new: Vec<(&str, Line)> = vec![(&stretch.edge, as_drawn)];
        for shift in [start, end]
            .into_iter()
            .filter_map(|end| end.shift.as_ref())
        {
            if shift.gains.piece == stretch.piece {
                new.push((&shift.gains.run_edge, shift.longer.clone()));
            } else {
                new.push((&shift.loses.run_edge, shift.shorter.clone()));
            }
        }
        let redrawn = redrawn(piece, &new)?;
        put(garment, redrawn);
    }
    Ok(())
}

/// Stretches that went over to a piece that is cut for other sides of the body name a copy that is cut.
fn right_copies(garment: &mut Garment, of: &[&str]) {
    let pieces = garment.pieces.clone();
    let stretches = garment
        .seams
        .iter_mut()
        .flat_map(|seam| seam.a.iter_mut().chain(&mut seam.b));
    for stretch in stretches.filter(|stretch| of.contains(&stretch.piece.as_str())) {
        let Some(piece) = pieces.iter().find(|piece| piece.name == stretch.piece) else {
            continue;
        };
        let rank = |copy: &Copy| {
            (
                copy.role != stretch.copy.role,
                copy.side != stretch.copy.side,
                copy.side != BodySide::Whole,
            )
        };
        if let Some(copy) = piece.copies.iter().min_by_key(|copy| rank(copy)) {
            stretch.copy = *copy;
        }
    }
}
