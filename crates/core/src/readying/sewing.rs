//! Seams, from what the sides of the pieces are.

use super::attached;
use super::kinds::{Role, near};
use super::read::Read;
use super::reading::Reading;
use super::sides::{Bit, turned};
use super::sleeves::fit_of_cap;
use super::what::{Cut, What};
use crate::seams::Relation;
use crate::units::Mm;

/// How much of a centre seam stays open at the top: the slit of a body below a yoke, the placket of a skirt. *Own, no
/// source.*
const SLIT: f64 = 0.55;
const PLACKET: f64 = 0.3;

/// Within this share two sides count as one length.
const ONE_LENGTH: f64 = 0.004;
/// Up to this the longer side is eased in, beyond it is gathered.
const EASED: f64 = 0.15;

/// One side of a seam: stretches of pieces, in sewing order.
pub(super) type Run = Vec<(usize, Bit)>;

/// A seam that is proposed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sewn {
    /// Key of the proposal it belongs to; seams of one key are confirmed together.
    pub(super) key: String,
    pub(super) name: String,
    pub(super) a: Run,
    pub(super) b: Run,
    /// Right half to left half on the middle of the body.
    pub(super) is_centre: bool,
    /// What the piece is is what it is sewn to: the seam belongs to the proposal for that piece.
    pub(super) of_band: Option<usize>,
    pub(super) certainty: f64,
    pub(super) rests_on: String,
    /// Names this way among those of its proposal.
    pub(super) way: String,
}

/// The pieces of the torso.
#[derive(Debug, Clone, Copy)]
pub(super) struct Torso<'a> {
    /// Front and back: neckline to armscye.
    pub(super) tops: [Option<(usize, &'a Read)>; 2],
    /// Front and back: armscye to lower edge; the same pieces where there is no yoke.
    pub(super) lows: [Option<(usize, &'a Read)>; 2],
}

impl<'a> Torso<'a> {
    pub(super) fn of(reading: &'a Reading) -> Self {
        let one =
            |what: What| {
                reading.reads.iter().enumerate().find_map(|(i, read)| {
                    Some((i, read.as_ref().filter(|read| read.what == what)?))
                })
            };
        let (front, back) = (one(What::Front), one(What::Back));
        Self {
            tops: [
                front.or_else(|| one(What::FrontYoke)),
                back.or_else(|| one(What::BackYoke)),
            ],
            lows: [
                front.or_else(|| one(What::FrontBody)),
                back.or_else(|| one(What::BackBody)),
            ],
        }
    }
}

/// All that can be sewn on the garment as it is read.
pub(super) fn seams(reading: &Reading) -> Vec<Sewn> {
    let torso = Torso::of(reading);
    let mut made = Vec::new();
    made.extend(across(torso.tops, Role::Shoulder, "shoulder"));
    for (top, low, name) in [
        (torso.tops[0], torso.lows[0], "front yoke seam"),
        (torso.tops[1], torso.lows[1], "back yoke seam"),
    ] {
        if let (Some((i, top)), Some((j, low))) = (top, low)
            && i != j
        {
            let a = run(j, low.bits(Role::Upper));
            let b = run(i, &turned(top.bits(Role::Lower)));
            made.push(sewn(reading, "yoke seams", name, a, b));
        }
    }
    made.extend(across(torso.lows, Role::Side, "side seam"));
    made.extend(sleeve(reading, torso));
    made.extend(centre_of_body(torso));
    made.extend(skirt(reading, torso));
    made.extend(legs(reading));
    made.extend(attached::seams(reading, torso));
    made.retain(|seam| length(reading, &seam.a) > 0.0 && length(reading, &seam.b) > 0.0);
    made
}

pub(super) fn run(piece: usize, bits: &[Bit]) -> Run {
    bits.iter().map(|bit| (piece, *bit)).collect()
}

/// Length of a run, mm.
pub(super) fn length(reading: &Reading, run: &Run) -> f64 {
    run.iter()
        .filter_map(|(piece, bit)| {
            let read = reading.reads.get(*piece)?.as_ref()?;
            Some(read.lines.get(bit.edge)?.length() * (bit.to - bit.from).abs())
        })
        .sum()
}

/// How two sides of these lengths are brought together.
pub(super) fn relation(a: f64, b: f64) -> Relation {
    let ratio = a / b.max(1e-9);
    if (ratio - 1.0).abs() <= ONE_LENGTH {
        Relation::Equal
    } else if (ratio - 1.0).abs() <= EASED {
        Relation::Eased(Mm(a - b))
    } else {
        Relation::Ratio(ratio.clamp(0.05, 20.0))
    }
}

fn words_of_lengths(a: f64, b: f64) -> String {
    match relation(a, b) {
        Relation::Equal => format!("both sides {a:.1} mm long"),
        Relation::Eased(by) if by.0 > 0.0 => format!("{a:.1} mm eased into {b:.1} mm"),
        Relation::Eased(_) => format!("{b:.1} mm eased into {a:.1} mm"),
        Relation::Ratio(ratio) if ratio > 1.0 => format!("{ratio:.2} times as long, gathered in"),
        Relation::Ratio(ratio) => format!("{:.2} times as long, gathered in", 1.0 / ratio),
    }
}

pub(super) fn sewn(reading: &Reading, key: &str, name: &str, a: Run, b: Run) -> Sewn {
    let (x, y) = (length(reading, &a), length(reading, &b));
    let certainty = match relation(x, y) {
        Relation::Equal => 0.97,
        Relation::Eased(by) => 0.9 - 2.0 * (by.0.abs() / x.max(y).max(1e-9)),
        Relation::Ratio(_) => 0.55,
    };
    Sewn {
        key: format!("seam: {key}"),
        name: name.to_owned(),
        a,
        b,
        is_centre: false,
        of_band: None,
        certainty,
        rests_on: words_of_lengths(x, y),
        way: "as proposed".to_owned(),
    }
}

/// The same side of front and back.
fn across(pair: [Option<(usize, &Read)>; 2], role: Role, name: &str) -> Option<Sewn> {
    let [Some((i, front)), Some((j, back))] = pair else {
        return None;
    };
    let (x, y) = (front.length(role), back.length(role));
    Some(Sewn {
        key: format!("seam: {name}"),
        name: name.to_owned(),
        a: run(i, front.bits(role)),
        b: run(j, back.bits(role)),
        is_centre: false,
        of_band: None,
        certainty: 0.5 + 0.47 * near(libm::log(x.max(1e-9) / y.max(1e-9)), 0.0, 0.05),
        rests_on: words_of_lengths(x, y),
        way: "as proposed".to_owned(),
    })
}

/// The cap into the armscye, and the underarm seam.
fn sleeve(reading: &Reading, torso: Torso<'_>) -> Vec<Sewn> {
    let mut made = Vec::new();
    let mut hole: Run = Vec::new();
    let armscye = |part: Option<(usize, &Read)>| {
        part.map_or(Vec::new(), |(i, read)| run(i, read.bits(Role::Armscye)))
    };
    let with_yoke = |k: usize| match (
        torso.tops.get(k).copied().flatten(),
        torso.lows.get(k).copied().flatten(),
    ) {
        (Some(top), Some(low)) if top.0 != low.0 => {
            let mut all = armscye(Some(top));
            all.extend(armscye(Some(low)));
            all
        }
        (top, low) => armscye(top.or(low)),
    };
    // From the front armpit up, over the shoulder, down to the back armpit.
    let front = with_yoke(0);
    hole.extend(front.iter().rev().map(|(i, bit)| (*i, bit.turned())));
    hole.extend(with_yoke(1));
    for (i, read) in reading.reads.iter().enumerate() {
        let Some(read) = read.as_ref().filter(|read| read.what == What::Sleeve) else {
            continue;
        };
        if !hole.is_empty()
            && made
                .iter()
                .all(|seam: &Sewn| seam.name != "sleeve into armscye")
        {
            let cap = run(i, read.bits(Role::Cap));
            let fit = fit_of_cap(length(reading, &cap), length(reading, &hole));
            let seam = sewn(
                reading,
                "sleeve into armscye",
                "sleeve into armscye",
                cap,
                hole.clone(),
            );
            made.push(Sewn {
                certainty: 0.35 + 0.6 * fit,
                ..seam
            });
        }
        let name = numbered(
            "underarm",
            made.iter().filter(|s| s.key == "seam: underarm").count(),
        );
        made.push(sewn(
            reading,
            "underarm",
            &name,
            run(i, read.bits(Role::Fronter)),
            run(i, read.bits(Role::Backer)),
        ));
    }
    made
}

fn numbered(name: &str, before: usize) -> String {
    if before == 0 {
        name.to_owned()
    } else {
        format!("{name} {}", before + 1)
    }
}

/// A seam between the right and the left half.
fn centre(piece: usize, read: &Read, role: Role, name: &str, open: f64, at_start: bool) -> Sewn {
    let bits = read.bits(role);
    let kept = if at_start {
        after(read, bits, open)
    } else {
        turned(&after(read, &turned(bits), open))
    };
    Sewn {
        key: format!("seam: {name}"),
        name: name.to_owned(),
        a: run(piece, &kept),
        b: run(piece, &kept),
        is_centre: true,
        of_band: None,
        certainty: 0.7,
        rests_on: if open > 0.0 {
            "it is cut as a pair; the top stays open to let the body in".to_owned()
        } else {
            "it is cut as a pair".to_owned()
        },
        way: "as proposed".to_owned(),
    }
}

/// What of a run lies beyond a share of its length.
fn after(read: &Read, bits: &[Bit], share: f64) -> Vec<Bit> {
    let own = |bit: &Bit| {
        read.lines
            .get(bit.edge)
            .map_or(0.0, |l| l.length() * (bit.to - bit.from).abs())
    };
    let mut rest = share * bits.iter().map(own).sum::<f64>();
    let mut kept = Vec::new();
    for bit in bits {
        let size = own(bit);
        if rest >= size - 1e-9 {
            rest -= size;
            continue;
        }
        kept.push(Bit {
            from: bit.at((rest / size.max(1e-9)).max(0.0)),
            ..*bit
        });
        rest = 0.0;
    }
    kept
}

/// What of a run lies before a share of its length.
pub(super) fn before(read: &Read, bits: &[Bit], share: f64) -> Vec<Bit> {
    turned(&after(read, &turned(bits), 1.0 - share))
}

/// The lower part of a body that is cut as a pair, sewn below its slit.
fn centre_of_body(torso: Torso<'_>) -> Vec<Sewn> {
    let mut made = Vec::new();
    for (k, low) in torso.lows.iter().enumerate() {
        let (Some((i, read)), Some((j, _))) = (low, torso.tops.get(k).copied().flatten()) else {
            continue;
        };
        let name = if k == 0 {
            "centre front seam"
        } else {
            "centre back seam"
        };
        if read.cut == Cut::Pair && *i != j {
            // Walked upwards: the top stays open.
            made.push(centre(*i, read, Role::Centre, name, SLIT, false));
        }
    }
    made
}

/// Panels side by side, the seams in the middle, and the waist of a bodice above.
fn skirt(reading: &Reading, torso: Torso<'_>) -> Vec<Sewn> {
    let mut made: Vec<Sewn> = Vec::new();
    let read = |i: &usize| Some((*i, reading.reads.get(*i)?.as_ref()?));
    for pair in reading.chain.windows(2) {
        let [Some((i, a)), Some((j, b))] =
            [pair.first().and_then(read), pair.last().and_then(read)]
        else {
            continue;
        };
        let name = match reading.chain.len() {
            2 => "skirt side seam".to_owned(),
            _ => numbered("skirt seam", made.len()),
        };
        made.push(sewn(
            reading,
            "skirt seams",
            &name,
            run(i, a.bits(Role::Backer)),
            run(j, b.bits(Role::Fronter)),
        ));
    }
    if let Some((i, front)) = reading.chain.first().and_then(read)
        && front.cut == Cut::Pair
    {
        made.push(centre(
            i,
            front,
            Role::Fronter,
            "skirt centre front seam",
            0.0,
            true,
        ));
    }
    if let Some((i, back)) = reading.chain.last().and_then(read)
        && back.cut == Cut::Pair
    {
        made.push(centre(
            i,
            back,
            Role::Backer,
            "skirt centre back seam",
            PLACKET,
            true,
        ));
    }
    if let ([Some((i, front)), Some((j, back))], false) = (torso.lows, reading.chain.is_empty()) {
        let waist: Run = reading
            .chain
            .iter()
            .filter_map(read)
            .flat_map(|(k, panel)| run(k, panel.bits(Role::Waist)))
            .collect();
        let mut above = run(i, &turned(front.bits(Role::Lower)));
        above.extend(run(j, back.bits(Role::Lower)));
        made.push(sewn(reading, "waist seam", "waist seam", waist, above));
    }
    made
}

fn legs(reading: &Reading) -> Vec<Sewn> {
    let one = |what: What| {
        reading
            .reads
            .iter()
            .enumerate()
            .find_map(|(i, read)| Some((i, read.as_ref().filter(|read| read.what == what)?)))
    };
    let pair = [one(What::FrontLeg), one(What::BackLeg)];
    let mut made: Vec<Sewn> = Vec::new();
    made.extend(across(pair, Role::Outer, "outer seam"));
    made.extend(across(pair, Role::Inner, "inner seam"));
    for ((i, read), name) in pair.into_iter().flatten().zip(["front rise", "back rise"]) {
        let seam = centre(i, read, Role::Rise, name, 0.0, true);
        made.push(Sewn {
            key: "seam: rise".to_owned(),
            ..seam
        });
    }
    made
}
