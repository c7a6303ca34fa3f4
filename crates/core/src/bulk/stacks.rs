//! The stack of every seam, crossing, hem and faced edge, read off its section and off what lies along it.

use super::ground::{End, Ground, Sheet, What};
use super::profile::{Bed, Corner, Met, Profile, same_pieces, side, strip};
use super::section::{Lies, Moment, Of, Part, Section, Widths, Work, sections};
use crate::edge::{EdgeRef, Finish};
use crate::finding::Place;
use crate::piece::{Piece, Role};
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
    pub turns: Vec<super::section::Turn>,
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

/// Both sides of something that is cut through, and how.
struct Cut {
    work: Work,
    widths: Widths,
    a: Profile,
    b: Profile,
    /// Thickness of what is caught in between: from, to, thickness, name.
    inserts: Vec<(f64, f64, f64, String)>,
    /// A binding or facing that is no piece.
    strip: Sheet,
    length: f64,
}

/// One stretch of the way along a seam on which nothing changes.
struct Bit {
    from: f64,
    to: f64,
    a: super::profile::Here,
    b: super::profile::Here,
    insert: f64,
    inserted: u32,
    /// Which meeting it belongs to.
    group: Option<usize>,
}

/// What is met at one place, from both sides.
struct Group {
    from: f64,
    to: f64,
    met: Vec<Met>,
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
                a: super::profile::edge(ground, &s),
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

impl Cut {
    fn stacks(&self, ground: &Ground<'_>, name: &str, place: &dyn Fn(f64) -> Place) -> Vec<Stack> {
        let groups = self.groups();
        let bits = self.bits(&groups);
        let sections = sections(self.work, self.widths);
        let mut stacks = Vec::new();
        for group in std::iter::once(None).chain((0..groups.len()).map(Some)) {
            let mine: Vec<&Bit> = bits.iter().filter(|bit| bit.group == group).collect();
            let heaps: Vec<(f64, Heap)> = sections
                .iter()
                .filter_map(|(moment, section)| self.heap(ground, *moment, section, &mine))
                .collect();
            let Some((at, _)) = heaps.first() else {
                continue;
            };
            let met = group.and_then(|g| groups.get(g));
            let meets = met.map_or(Vec::new(), |g| names(ground, &g.met));
            let window = met.map_or((0.0, 1.0), |g| (g.from, g.to));
            stacks.push(Stack {
                work: self.work,
                name: name.to_owned(),
                place: place(*at),
                meets,
                mean: self.mean(&sections, &mine),
                step: Mm(self.step(&sections, &bits, group, window)),
                turn_of_cloth: self.turn_of_cloth(&mine),
                length: Mm(self.length),
                heaps: heaps.into_iter().map(|(_, heap)| heap).collect(),
            });
        }
        stacks
    }

    /// Meetings that lie on each other, from both sides, are one.
    fn groups(&self) -> Vec<Group> {
        let mut all: Vec<(f64, f64, Met)> = self
            .a
            .bumps
            .iter()
            .chain(&self.b.bumps)
            .map(|bump| (bump.from, bump.to, bump.what))
            .collect();
        all.sort_by(|x, y| x.0.total_cmp(&y.0));
        let mut groups: Vec<Group> = Vec::new();
        for (from, to, met) in all {
            match groups.last_mut().filter(|g| from <= g.to + 1e-9) {
                Some(group) => {
                    group.to = group.to.max(to);
                    if !group.met.contains(&met) {
                        group.met.push(met);
                    }
                }
                None => groups.push(Group {
                    from,
                    to,
                    met: vec![met],
                }),
            }
        }
        for group in &mut groups {
            // One order of names, whatever starts first.
            group.met.sort();
        }
        groups
    }

    fn bits(&self, groups: &[Group]) -> Vec<Bit> {
        let mut breaks = vec![0.0, 1.0];
        self.a.breaks(&mut breaks);
        self.b.breaks(&mut breaks);
        breaks.extend(self.inserts.iter().flat_map(|i| [i.0, i.1]));
        breaks.retain(|u| (0.0..=1.0).contains(u));
        breaks.sort_by(f64::total_cmp);
        breaks.dedup_by(|x, y| (*x - *y).abs() < 1e-7);
        let pairs = breaks.iter().zip(breaks.iter().skip(1));
        pairs
            .map(|(from, to)| {
                let u = f64::midpoint(*from, *to);
                let caught = self.inserts.iter().filter(|i| i.0 < u && u < i.1);
                Bit {
                    from: *from,
                    to: *to,
                    a: self.a.at(u),
                    b: self.b.at(u),
                    insert: caught.clone().map(|i| i.2).sum(),
                    inserted: caught.count() as u32,
                    group: groups.iter().position(|g| g.from < u && u < g.to),
                }
            })
            .collect()
    }

    fn high(&self, bit: &Bit, section: &Section) -> f64 {
        let (a, b) = (bit.a.thickness, bit.b.thickness);
        let most = section.thickest(a, b, self.strip.thickness);
        most.map_or(0.0, |(_, high)| high) + bit.insert
    }

    /// The thickest place of some bits at one moment, with where it is; of equally thick ones that with most layers.
    fn heap(
        &self,
        ground: &Ground<'_>,
        moment: Moment,
        section: &Section,
        bits: &[&Bit],
    ) -> Option<(f64, Heap)> {
        let layers = |bit: &Bit| bit.a.layers + bit.b.layers;
        let bit = bits.iter().max_by(|x, y| {
            let (hx, hy) = (self.high(x, section), self.high(y, section));
            hx.total_cmp(&hy).then(layers(x).total_cmp(&layers(y)))
        })?;
        let u = f64::midpoint(bit.from, bit.to);
        let (a, b) = (self.a.pile(u), self.b.pile(u));
        let thick = |pile: &[Sheet]| pile.iter().map(|s| s.thickness).sum::<f64>();
        let (cover, _) = section
            .thickest(thick(&a), thick(&b), self.strip.thickness)
            .or_else(|| section.thickest(1.0, 1.0, 1.0))?;
        let mut all: Vec<Layer> = Vec::new();
        let mut places = Vec::new();
        for run in &section.runs {
            let strip = [self.strip];
            let pile: &[Sheet] = match run.of {
                Of::A => &a,
                Of::B => &b,
                Of::Strip => &strip,
            };
            places.push(all.len());
            let counts = run.from < cover.x && cover.x < run.to;
            let layer = |s: &Sheet| Layer {
                words: words(ground, s, run.part),
                role: Some(s.role),
                thickness: Mm(s.thickness),
                reach: (Mm(run.from), Mm(run.to)),
                counts,
            };
            // Turned over, what lay on top lies below.
            if run.part == Part::Ply {
                all.extend(pile.iter().map(layer));
            } else {
                all.extend(pile.iter().rev().map(layer));
            }
        }
        for insert in self.inserts.iter().filter(|i| i.0 < u && u < i.1) {
            all.push(Layer {
                words: insert.3.clone(),
                role: None,
                thickness: Mm(insert.2),
                reach: (Mm(-self.widths.a), Mm(self.widths.a)),
                counts: true,
            });
        }
        let here: Vec<&Layer> = all.iter().filter(|layer| layer.counts).collect();
        let place = |n: usize| places.get(n).copied().unwrap_or(0);
        Some((
            u,
            Heap {
                moment,
                count: here.len() as u32,
                thickness: Mm(here.iter().map(|layer| layer.thickness.0).sum()),
                turns: section
                    .turns
                    .iter()
                    .map(|turn| super::section::Turn {
                        between: (place(turn.between.0), place(turn.between.1)),
                        at: turn.at,
                    })
                    .collect(),
                layers: all,
            },
        ))
    }

    /// Mean layers while it is sewn first.
    fn mean(&self, sections: &[(Moment, Section)], bits: &[&Bit]) -> f64 {
        let Some((_, section)) = sections.first() else {
            return 0.0;
        };
        let cover = section.thickest(1.0, 1.0, 1.0).map(|(cover, _)| cover);
        let Some(cover) = cover else { return 0.0 };
        let sum = bits.iter().fold((0.0, 0.0), |(layers, long), bit| {
            let here = f64::from(cover.a) * bit.a.mean
                + f64::from(cover.b) * bit.b.mean
                + f64::from(cover.strip)
                + f64::from(bit.inserted);
            let run = bit.to - bit.from;
            (layers + here * run, long + run)
        });
        if sum.1 > 0.0 { sum.0 / sum.1 } else { 0.0 }
    }

    /// The highest step within a window, from the better end: what is climbed within one stitch is one step.
    fn step(
        &self,
        sections: &[(Moment, Section)],
        bits: &[Bit],
        group: Option<usize>,
        window: (f64, f64),
    ) -> f64 {
        const STITCH: f64 = 1.5;
        let near = STITCH / self.length.max(STITCH);
        let sewn = sections.iter().filter(|(moment, _)| moment.is_sewn());
        let of_section = |section: &Section| {
            let heights: Vec<(f64, f64, f64)> = bits
                .iter()
                .filter(|bit| match group {
                    None => bit.group.is_none(),
                    Some(_) => window.0 - 1e-9 <= bit.to && bit.from <= window.1 + 1e-9,
                })
                .map(|bit| (bit.from, bit.to, self.high(bit, section)))
                .collect();
            let climb = |forwards: bool| {
                let mut most: f64 = 0.0;
                for (i, low) in heights.iter().enumerate() {
                    for high in heights.iter().skip(i + 1) {
                        // From the end of the lower to the start of the higher.
                        if high.0 - low.1 > near {
                            break;
                        }
                        let step = high.2 - low.2;
                        most = most.max(if forwards { step } else { -step });
                    }
                }
                most
            };
            climb(true).min(climb(false))
        };
        sewn.map(|(_, section)| of_section(section))
            .fold(0.0, f64::max)
    }

    /// What the outermost layer needs more than what it encloses: a hem round its turns, a band round its seam.
    ///
    /// Half a circle at mid-layer, `pi (h + t) / 2` round a stack of height h: fact sheet row H02.
    fn turn_of_cloth(&self, bits: &[&Bit]) -> Option<Mm> {
        let bit = bits.first()?;
        let (inside, layer) = match self.work {
            Work::Hem { turns: 0 | 1 } => (0.0, bit.a.thickness),
            Work::Hem { .. } => (bit.a.thickness, bit.a.thickness),
            Work::Seam(crate::seams::SeamKind::Lapped, _) => {
                let band = bit.a.thickness;
                ((bit.b.thickness - band).max(0.0) + band, band)
            }
            _ => return None,
        };
        Some(crate::alteration::round_an_edge(Mm(inside), Mm(layer)))
    }
}

fn names(ground: &Ground<'_>, met: &[Met]) -> Vec<String> {
    let name = |met: &Met| match met {
        Met::Seam(number) => ground.seams().get(*number).map(|seam| seam.name.clone()),
        Met::Dart(piece, dart) => {
            let dart = ground.piece(*piece)?.darts.get(*dart)?;
            Some(dart.name.clone())
        }
        Met::Turned(piece, edge) => {
            let edge = ground.piece(*piece)?.outline.edges().get(*edge)?;
            Some(edge.name.clone())
        }
    };
    met.iter().filter_map(name).collect()
}

fn words(ground: &Ground<'_>, sheet: &Sheet, part: Part) -> String {
    let name = ground.piece(sheet.piece).map_or("", |p: &Piece| &p.name);
    let role = match sheet.role {
        Role::Shell => "",
        Role::Lining => ", lining",
        Role::Interlining => ", interlining",
        Role::FlatLined => ", flat lining",
    };
    let what = match (sheet.what, part) {
        (What::Strip, Part::TurnedUnder) => return "strip, turned under".to_owned(),
        (What::Strip, _) => return "strip".to_owned(),
        (What::Crossed, _) => " (seam that is crossed)",
        (What::Dart, _) => " (dart)",
        (What::Beneath, _) => " (turned in beneath)",
        (What::Ply, Part::Ply) => "",
        (What::Ply, Part::Allowance) => ", allowance",
        (What::Ply, Part::TurnedUnder) => ", turned under",
    };
    format!("{name}{role}{what}")
}
