//! The stack of every seam, crossing, hem and faced edge, read off its section and off what lies along it.

use super::cut::Cut;
use super::ground::{End, Ground};
use super::met::{Corner, same_pieces, strip};
use super::profile::{self, Bed, Profile, side};
use super::section::{Lies, Moment, Turn, Widths, Work};
use crate::edge::{EdgeRef, Finish};
use crate::finding::Place;
use crate::piece::Role;
use crate::seams::{Seam, Stretch};
use crate::units::Mm;

/// What lies at one place while it is sewn, or when it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Heap {
    /// When.
    pub moment: Moment,
    /// The layers of the whole section, bottom up; those under the needle are marked.
    pub layers: Vec<Layer>,
    /// Where layers of the section go over into each other.
    pub turns: Vec<Turn>,
    /// How many layers lie at the thickest place.
    pub count: u32,
    /// How thick they are together.
    pub thickness: Mm,
}

/// One layer of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Layer {
    /// "front, shell", "side seam: allowance of back".
    pub words: String,
    /// Of which layer of the garment; `None` for what is caught in between.
    pub role: Option<Role>,
    /// Its thickness.
    pub thickness: Mm,
    /// Where it begins and ends, square to the stitch line.
    pub reach: (Mm, Mm),
    /// Does it lie at the thickest place?
    pub counts: bool,
}

/// A stack of cloth.
#[derive(Debug, Clone, PartialEq)]
pub struct Stack {
    /// What is sewn there.
    pub work: Work,
    /// Name of the seam; for hems and faced edges of the piece and its edge.
    pub name: String,
    /// Where.
    pub place: Place,
    /// What is met there: names of seams and darts; empty for the run between.
    pub meets: Vec<String>,
    /// Every moment at which it is thick in another way.
    pub heaps: Vec<Heap>,
    /// Mean layers over the run, where something is gathered or pleated in: while it is sewn.
    pub mean: f64,
    /// Highest step the foot climbs here, sewn from the better end.
    pub step: Mm,
    /// What the outer layer needs more where it goes round the fold: for hems and lapped bands.
    pub turn_of_cloth: Option<Mm>,
    /// How long the seam is.
    pub length: Mm,
}

impl Stack {
    /// The thickest heap that goes under the foot; `None` when nothing is sewn there.
    pub fn sewn(&self) -> Option<&Heap> {
        let sewn = self.heaps.iter().filter(|heap| heap.moment.is_sewn());
        sewn.max_by(|a, b| a.thickness.0.total_cmp(&b.thickness.0))
    }

    /// The heap when it is done; the sewn one where it stays as it is sewn.
    pub fn lying(&self) -> Option<&Heap> {
        let lying = self.heaps.iter().rfind(|heap| !heap.moment.is_sewn());
        lying.or_else(|| self.heaps.last())
    }

    /// The thickest of all, sewn or lying.
    pub fn thickest(&self) -> Mm {
        let all = self.heaps.iter().map(|heap| heap.thickness.0);
        Mm(all.fold(0.0, f64::max))
    }
}

/// Every stack of the garment, as it is when it crosses what was sewn before it; thickest under the foot first.
pub(super) fn stacks(ground: &Ground<'_>) -> Vec<Stack> {
    let mut all = Vec::new();
    for number in 0..ground.seams().len() {
        all.extend(of_seam(ground, number));
    }
    for number in 0..ground.adapted.pieces.len() {
        all.extend(of_edges(ground, number));
    }
    let high = |s: &Stack| s.sewn().map_or(0.0, |heap| heap.thickness.0);
    all.sort_by(|a, b| {
        high(b)
            .total_cmp(&high(a))
            .then(b.thickest().0.total_cmp(&a.thickest().0))
    });
    all
}

/// The stacks of the seam, hem or faced edge of this name.
pub(super) fn of_name(ground: &Ground<'_>, name: &str) -> Vec<Stack> {
    if let Some(number) = ground.seams().iter().position(|seam| seam.name == name) {
        return of_seam(ground, number);
    }
    let pieces = ground.adapted.pieces.iter().enumerate();
    pieces
        .filter(|(_, piece)| name.starts_with(piece.name.as_str()))
        .flat_map(|(number, _)| of_edges(ground, number))
        .filter(|stack| stack.name == name)
        .collect()
}

/// The stacks of one seam: the run, and every place where it meets something.
pub(super) fn of_seam(ground: &Ground<'_>, number: usize) -> Vec<Stack> {
    let Some(seam) = ground.seams().get(number) else {
        return Vec::new();
    };
    if ground.falls_away(seam) {
        return Vec::new();
    }
    let (work, widths) = ground.work(seam);
    let (a, b) = (side(ground, number, End::A), side(ground, number, End::B));
    let length = ground.length(&seam.a).min(ground.length(&seam.b));
    let beside = b.pile(0.5);
    let inserts = seam.inserts.iter().map(|insert| {
        let thick = if insert.thickness.0.is_finite() {
            insert.thickness.0.max(0.0)
        } else {
            0.0
        };
        let (from, to) = (insert.from.min(insert.to), insert.from.max(insert.to));
        (from, to, thick, insert.name.clone())
    });
    let cut = Cut {
        work,
        widths,
        inserts: inserts.collect(),
        strip: strip(ground, &beside),
        a,
        b,
        length,
    };
    let place = |u: f64| Place {
        fraction: Some(u),
        ..Place::part(&seam.name)
    };
    let mut stacks = cut.stacks(ground, &seam.name, &place);
    stacks.extend(corners(ground, number, seam, widths));
    stacks
}

/// Turned edges, faced edges and hems of a piece that are in no seam.
fn of_edges(ground: &Ground<'_>, number: usize) -> Vec<Stack> {
    let Some(piece) = ground.piece(number) else {
        return Vec::new();
    };
    let role = if piece.copies_in(Role::Shell) > 0 {
        Role::Shell
    } else {
        piece.copies.first().map_or(Role::Shell, |copy| copy.role)
    };
    let Some(copy) = piece.copies.iter().find(|copy| copy.role == role) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    for edge in piece.outline.edges() {
        for stretch in &edge.finish {
            let s = Stretch {
                piece: piece.name.clone(),
                copy: *copy,
                edge: edge.name.clone(),
                from: stretch.from,
                to: stretch.to,
            };
            let widths = ground.strips(&piece.name, &edge.name, stretch.finish);
            let first = widths.first().copied().unwrap_or(0.0);
            let second = widths.get(1).copied().unwrap_or(first);
            let work = match stretch.finish {
                Finish::Hem { turns, .. } => Work::Hem { turns },
                Finish::Casing { .. } | Finish::Slit | Finish::Placket { .. } => {
                    Work::Hem { turns: 2 }
                }
                Finish::Facing
                    if ground.uses(number, role, &edge.name).iter().all(|used| {
                        let seam = ground.seams().get(used.seam);
                        seam.is_none_or(|seam| !covers(used.end.of(seam), &s))
                    }) =>
                {
                    Work::Faced
                }
                _ => continue,
            };
            let cut = Cut {
                work,
                widths: Widths {
                    a: first,
                    b: second,
                },
                a: profile::edge(ground, &s),
                b: Profile::default(),
                inserts: Vec::new(),
                strip: strip(ground, &ground.sheets(number, role)),
                length: edge.line.length() * (s.to - s.from).abs(),
            };
            let place = |u: f64| Place {
                fraction: Some(s.from + u * (s.to - s.from)),
                ..Place::edge(&piece.name, &edge.name)
            };
            let name = EdgeRef::new(&piece.name, &edge.name).to_string();
            all.extend(cut.stacks(ground, &name, &place));
        }
    }
    all
}

/// Does one of these stretches lie on the same part of the same edge?
fn covers(side: &[Stretch], s: &Stretch) -> bool {
    side.iter().any(|o| {
        o.piece == s.piece
            && o.edge == s.edge
            && o.from.max(o.to) > s.from + 1e-6
            && o.from.min(o.to) < s.to - 1e-6
    })
}

/// Corners of a turned piece: where the next edge is turned too, with the same two layers. Told with the first of the
/// two seams.
fn corners(ground: &Ground<'_>, number: usize, seam: &Seam, widths: Widths) -> Vec<Stack> {
    let Work::Seam(_, Lies::Turned) = ground.work(seam).0 else {
        return Vec::new();
    };
    let starts = seam.a.first().zip(seam.b.first());
    let ends = seam.a.last().zip(seam.b.last());
    let both = [
        starts.map(|(a, b)| (a, b, 0.0)),
        ends.map(|(a, b)| (a, b, 1.0)),
    ];
    both.into_iter()
        .flatten()
        .filter_map(|(a, b, share)| corner(ground, number, (a, b, share), widths))
        .collect()
}

fn corner(
    ground: &Ground<'_>,
    number: usize,
    (a, b, share): (&Stretch, &Stretch, f64),
    widths: Widths,
) -> Option<Stack> {
    let seam = ground.seams().get(number)?;
    let at = ground.number(&a.piece)?;
    let piece = ground.piece(at)?;
    let fraction = if share > 0.5 { a.to } else { a.from };
    let corner = Corner::of(piece, &a.edge, fraction)?;
    let uses = ground.uses(at, a.copy.role, corner.edge).iter();
    let other = uses
        .filter(|other| number < other.seam)
        .filter_map(|other| ground.seams().get(other.seam))
        .find(|other| same_pieces(seam, other))?;
    let bed = |s: &Stretch| {
        let pile = ground.sheets(ground.number(&s.piece)?, s.copy.role);
        Some(Profile {
            beds: vec![Bed {
                from: 0.0,
                to: 1.0,
                pile,
                spans: Vec::new(),
                drawn: Vec::new(),
            }],
            bumps: Vec::new(),
        })
    };
    let cut = Cut {
        work: Work::Corner,
        widths,
        strip: strip(ground, &[]),
        a: bed(a)?,
        b: bed(b)?,
        inserts: Vec::new(),
        length: 0.0,
    };
    let place = |_: f64| Place {
        fraction: Some(share),
        ..Place::part(&seam.name)
    };
    let mut stack = cut.stacks(ground, &seam.name, &place).pop()?;
    stack.meets = vec![other.name.clone()];
    Some(stack)
}
