//! A seam, hem or edge cut through at every place along it: which heap lies where, and how high its steps are.

use super::ground::{Ground, Sheet, What};
use super::profile::{Here, Met, Profile};
use super::section::{Moment, Of, Part, Section, Turn, Widths, Work, sections};
use super::stacks::{Heap, Layer, Stack};
use crate::alteration::round_an_edge;
use crate::finding::Place;
use crate::piece::{Piece, Role};
use crate::seams::SeamKind;
use crate::units::Mm;

/// Both sides of something that is cut through, and how.
pub(super) struct Cut {
    pub work: Work,
    pub widths: Widths,
    pub a: Profile,
    pub b: Profile,
    /// Thickness of what is caught in between: from, to, thickness, name.
    pub inserts: Vec<(f64, f64, f64, String)>,
    /// A binding or facing that is no piece.
    pub strip: Sheet,
    pub length: f64,
}

/// One stretch of the way along a seam on which nothing changes.
struct Bit {
    from: f64,
    to: f64,
    a: Here,
    b: Here,
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

impl Cut {
    pub(super) fn stacks(
        &self,
        ground: &Ground<'_>,
        name: &str,
        place: &dyn Fn(f64) -> Place,
    ) -> Vec<Stack> {
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
                    .map(|turn| Turn {
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
            Work::Seam(SeamKind::Lapped, _) => {
                let band = bit.a.thickness;
                ((bit.b.thickness - band).max(0.0) + band, band)
            }
            _ => return None,
        };
        Some(round_an_edge(Mm(inside), Mm(layer)))
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
        Met::Pieced(piece) => Some(format!("the piecing of {}", ground.piece(*piece)?.name)),
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
