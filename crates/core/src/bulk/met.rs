//! What a seam meets at the corners of its pieces: seams that are crossed, darts, edges that were turned before.

use super::ground::{End, Ground, Sheet, Use, What};
use super::profile::{Along, Bump, Met, Profile, beds};
use super::section::{Lies, Moment, Of, Part, Work, sections};
use crate::edge::EdgeRef;
use crate::piece::{DartPress, Piece, Role};
use crate::seams::{Seam, Stretch};

/// What is being sewn, and when.
#[derive(Clone, Copy)]
pub(super) struct Now {
    /// Number of the seam; `None` for an edge that is turned.
    pub seam: Option<usize>,
    /// Place in the order of work; `None` without one.
    pub at: Option<usize>,
}

impl Now {
    pub(super) fn seam(ground: &Ground<'_>, number: usize) -> Self {
        let seam = ground.seams().get(number);
        Self {
            seam: Some(number),
            at: seam.and_then(|seam| Some(ground.sewing(&seam.name)?.at)),
        }
    }

    /// Is what is sewn then not there yet? Without an order everything is.
    fn is_before(self, other: Option<usize>) -> bool {
        self.at.zip(other).is_some_and(|(now, other)| now < other)
    }
}

/// What a stretch meets at both its ends.
pub(super) fn bumps(ground: &Ground<'_>, now: Now, s: &Stretch, at: &Along, into: &mut Vec<Bump>) {
    let Some((number, piece)) = ground
        .number(&s.piece)
        .and_then(|n| Some((n, ground.piece(n)?)))
    else {
        return;
    };
    super::pieced::bumps(ground, s, at, into);
    for (fraction, at_start) in [(s.from, true), (s.to, false)] {
        let Some(neighbour) = Corner::of(piece, &s.edge, fraction) else {
            continue;
        };
        let met = met(ground, now, (number, piece, s), &neighbour);
        into.extend(met.into_iter().filter_map(|(near, far, pile, what)| {
            let (a, b) = if at_start {
                (at.share(near), at.share(far))
            } else {
                (at.share(at.long - near), at.share(at.long - far))
            };
            let (from, to) = (a.min(b), a.max(b));
            (to - from > 1e-9).then_some(Bump {
                from,
                to,
                pile,
                what,
            })
        }));
    }
}

/// A corner of a piece: the edge that follows or comes before, and the fraction at which it starts from the corner.
pub(super) struct Corner<'a> {
    pub edge: &'a str,
    pub fraction: f64,
    /// Does the neighbour come after the edge, counter-clockwise?
    pub after: bool,
}

impl<'a> Corner<'a> {
    /// The corner at this end of an edge; `None` within the edge.
    pub(super) fn of(piece: &'a Piece, edge: &str, fraction: f64) -> Option<Self> {
        const NEAR: f64 = 1e-6;
        let edges = piece.outline.edges();
        let count = edges.len();
        let own = piece.outline.index_of(edge)?;
        if fraction <= NEAR {
            let before = edges.get((own + count - 1) % count)?;
            Some(Self {
                edge: &before.name,
                fraction: 1.0,
                after: false,
            })
        } else if fraction >= 1.0 - NEAR {
            let after = edges.get((own + 1) % count)?;
            Some(Self {
                edge: &after.name,
                fraction: 0.0,
                after: true,
            })
        } else {
            None
        }
    }

    /// Does the neighbour go on in nearly the same direction, so that the seam is sewn past the corner and nothing is
    /// crossed? Within 30 degrees.
    fn runs_on(&self, piece: &Piece, edge: &str) -> bool {
        const NEARLY: f64 = 0.866;
        let (Some(own), Some(other)) = (piece.outline.edge(edge), piece.outline.edge(self.edge))
        else {
            return false;
        };
        let (from, to) = if self.after {
            (own.line.direction(1.0), other.line.direction(0.0))
        } else {
            (other.line.direction(1.0), own.line.direction(0.0))
        };
        from.dot(to) > NEARLY
    }
}

type Meeting = (f64, f64, Vec<Sheet>, Met);

/// What comes with a piece at a corner: from so many mm to so many mm from it, these sheets.
fn met(
    ground: &Ground<'_>,
    now: Now,
    (number, piece, s): (usize, &Piece, &Stretch),
    corner: &Corner<'_>,
) -> Vec<Meeting> {
    if let Some(dart) = dart(ground, number, piece, s.copy.role, corner) {
        return vec![dart];
    }
    if corner.runs_on(piece, &s.edge) {
        return Vec::new();
    }
    if let Some(turned) = turned(ground, now, (number, piece, s), corner) {
        return vec![turned];
    }
    let uses = ground.uses(number, s.copy.role, corner.edge).iter();
    let crossing = uses.filter(|other| {
        Some(other.seam) != now.seam
            && ground.seams().get(other.seam).is_some_and(|crossed| {
                let bit = other.end.of(crossed).get(other.stretch);
                let reaches = bit.is_some_and(|bit| {
                    (bit.from - corner.fraction).abs() < 1e-6
                        || (bit.to - corner.fraction).abs() < 1e-6
                });
                let is_corner = now
                    .seam
                    .and_then(|own| ground.seams().get(own))
                    .is_some_and(|own| same_pieces(own, crossed));
                let then = ground.sewing(&crossed.name).map(|sewing| sewing.at);
                reaches && !is_corner && !now.is_before(then) && !ground.falls_away(crossed)
            })
    });
    crossing
        .take(1)
        .flat_map(|other| crossed(ground, other, corner.fraction))
        .collect()
}

/// An edge at the corner that the order of work turned before: its turns are sewn through. Without an order the seam is
/// reckoned as sewn first, and the hem over it.
fn turned(
    ground: &Ground<'_>,
    now: Now,
    (number, piece, s): (usize, &Piece, &Stretch),
    corner: &Corner<'_>,
) -> Option<Meeting> {
    let at = piece.outline.index_of(corner.edge)?;
    let edge = piece.outline.edges().get(at)?;
    let finish = edge.finish.iter().find(|f| {
        (f.from - corner.fraction).abs() < 1e-6 || (f.to - corner.fraction).abs() < 1e-6
    })?;
    let turning = ground.turning(&EdgeRef::new(&piece.name, corner.edge))?;
    if now.seam.is_none() || now.at? < turning.at || !crate::allowance::is_turned(finish.finish) {
        return None;
    }
    let strips = ground.strips(&piece.name, corner.edge, finish.finish);
    let wide = strips.first().copied().unwrap_or(0.0);
    let once = ground.sheets(number, s.copy.role);
    let turns = std::iter::repeat_n(&once, strips.len()).flatten();
    let pile: Vec<Sheet> = turns.copied().map(Sheet::beneath).collect();
    (!pile.is_empty()).then_some((0.0, wide, pile, Met::Turned(number, at)))
}

/// Do both seams join the same two copies, as two edges of one turned piece do?
pub(super) fn same_pieces(one: &Seam, other: &Seam) -> bool {
    let key = |side: &[Stretch]| -> Vec<(String, crate::piece::Role)> {
        let mut all: Vec<_> = side
            .iter()
            .map(|s| (s.piece.clone(), s.copy.role))
            .collect();
        all.sort();
        all.dedup();
        all
    };
    let (a, b, c, d) = (key(&one.a), key(&one.b), key(&other.a), key(&other.b));
    a != b && ((a == c && b == d) || (a == d && b == c))
}

/// The sheets that a crossed seam brings on the half of one of its pieces, the piece itself left out.
fn crossed(ground: &Ground<'_>, used: &Use, fraction: f64) -> Vec<Meeting> {
    let Some(seam) = ground.seams().get(used.seam) else {
        return Vec::new();
    };
    let (work, widths) = ground.work(seam);
    // As long as only one of its pieces is sewn on, a turned edge is still open.
    let work = match work {
        Work::Seam(kind, Lies::Turned) => Work::Seam(kind, Lies::Open),
        other => other,
    };
    let Some((_, section)) = sections(work, widths)
        .into_iter()
        .rfind(|(moment, _)| *moment == Moment::Lying || matches!(work, Work::BoundEdge))
    else {
        return Vec::new();
    };
    let (own, mate) = at_end(ground, seam, used, fraction);
    let of_own = if used.end == End::A { Of::A } else { Of::B };
    let sign = if used.end == End::A { -1.0 } else { 1.0 };
    let breaks = section.breaks();
    let pairs = breaks.iter().zip(breaks.iter().skip(1));
    pairs
        .filter(|(from, to)| sign * f64::midpoint(**from, **to) > 0.0)
        .filter_map(|(from, to)| {
            let x = f64::midpoint(*from, *to);
            let over = section
                .runs
                .iter()
                .filter(|r| r.from < x && x < r.to && !(r.of == of_own && r.part == Part::Ply));
            let pile: Vec<Sheet> = over
                .flat_map(|run| match run.of {
                    Of::Strip => vec![strip(ground, &own)],
                    of if of == of_own => own.clone(),
                    _ => mate.clone(),
                })
                .map(Sheet::crossed)
                .collect();
            let (near, far) = ((sign * from).min(sign * to), (sign * from).max(sign * to));
            (!pile.is_empty()).then_some((near, far, pile, Met::Seam(used.seam)))
        })
        .collect()
}

/// A strip of the shell's cloth, beside these sheets.
pub(super) fn strip(ground: &Ground<'_>, beside: &[Sheet]) -> Sheet {
    Sheet {
        piece: beside.first().map_or(0, |s| s.piece),
        role: Role::Shell,
        what: What::Strip,
        thickness: ground.thickness(Role::Shell),
    }
}

/// The sheets of both sides of a seam at the end where it reaches a corner: with the fullness that lies there.
fn at_end(ground: &Ground<'_>, seam: &Seam, used: &Use, fraction: f64) -> (Vec<Sheet>, Vec<Sheet>) {
    const INSIDE: f64 = 1e-4;
    let side = used.end.of(seam);
    let whole = ground.length(side).max(f64::MIN_POSITIVE);
    let before = ground.length(side.get(..used.stretch).unwrap_or_default());
    let Some(s) = side.get(used.stretch) else {
        return (Vec::new(), Vec::new());
    };
    let long = ground.length(std::slice::from_ref(s));
    let is_start = (s.from - fraction).abs() < (s.to - fraction).abs();
    let u = if is_start {
        before / whole + INSIDE
    } else {
        (before + long) / whole - INSIDE
    };
    let pile = |end: End| {
        let profile = Profile {
            beds: beds(ground, seam, end),
            bumps: Vec::new(),
        };
        profile.pile(u.clamp(INSIDE, 1.0 - INSIDE))
    };
    (pile(used.end), pile(used.end.other()))
}

/// A dart at the corner, folded to this side: two more layers, half as wide as its mouth.
fn dart(
    ground: &Ground<'_>,
    number: usize,
    piece: &Piece,
    role: Role,
    corner: &Corner<'_>,
) -> Option<Meeting> {
    let leg = if corner.after { 0 } else { 1 };
    let (place, dart) = piece.darts.iter().enumerate().find(|(_, dart)| {
        let legs = [&dart.leg_in, &dart.leg_out];
        legs.get(leg).is_some_and(|leg| *leg == corner.edge)
    })?;
    let lies_here = match dart.pressed {
        DartPress::Before => corner.after,
        DartPress::After => !corner.after,
    };
    let (leg_in, leg_out) = piece
        .outline
        .edge(&dart.leg_in)
        .zip(piece.outline.edge(&dart.leg_out))?;
    let mouth = (leg_in.line.start() - leg_out.line.end()).hypot();
    let sheet = |s: Sheet| Sheet {
        what: What::Dart,
        ..s
    };
    let once = ground.sheets(number, role);
    let pile = once.iter().chain(&once).copied().map(sheet).collect();
    lies_here.then_some((0.0, mouth / 2.0, pile, Met::Dart(number, place)))
}
