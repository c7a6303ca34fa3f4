//! The body it was made for: the garment's own girths and lengths against the bodies that are known.
//!
//! A girth has the ease the handbooks give to that place; a length follows the body. Where no known body fits, one is
//! estimated from the garment's girths less the middle of that ease.

use std::sync::Arc;

use super::kinds::Role;
use super::reading::Reading;
use super::sewing::Torso;
use super::what::What;
use crate::body::{Body, BodyKind, Measured, Origin};
use crate::ease::handbook_rows;
use crate::measure::Measure;
use crate::units::Mm;

/// How far beyond the handbooks' ease a girth may be.
const GIRTHS: f64 = 0.06;
/// What an ease off the middle of its range costs. *Own, no source.*
const NUDGE: f64 = 0.3;
/// What one figure may cost at most, so that one unusual edge does not decide.
const MOST: f64 = 6.0;
/// Above this mean cost no known body fits.
const UNLIKE: f64 = 3.0;
/// A side no longer than so many times the depth of the armscye ends at the waist (on the body they are as long).
const TO_WAIST: f64 = 1.5;

/// What it costs to read a skirt as made for a man, where a woman fits as well. *Own, no source.*
const SKIRT_ON_MAN: f64 = 0.5;

/// A waist below this share of the bust is shaped to the body (the women of ANSUR II have 0.90).
const SHAPED: f64 = 0.93;
/// Ease of a skirt at its waist (ease table: 12.7 to 19 mm on a woman's 760 mm; from nothing, as the old drafts have it).
const SKIRT_EASE: (f64, f64) = (0.0, 0.026);

/// The key of the proposal of a body in the answers.
pub const KEY: &str = "made for";
/// The way that takes a body of the garment's own figures.
pub(super) const OWN: &str = "by its own girths";

/// A figure of the garment that answers to a measure of the body.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Figure {
    pub(super) measure: Measure,
    pub(super) value: f64,
}

/// A body it may have been made for.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Wearer {
    pub(super) key: String,
    pub(super) body: Arc<Body>,
    pub(super) certainty: f64,
    pub(super) rests_on: String,
}

/// Does a front or back end at the waist?
pub(super) fn ends_at_waist(torso: Torso<'_>, k: usize) -> bool {
    let low = torso.lows.get(k).copied().flatten();
    let (Some((_, low)), Some(depth)) = (low, depth(torso, k)) else {
        return false;
    };
    low.length(Role::Side) < TO_WAIST * depth
}

/// From the neck point at the shoulder down to the armpit.
fn depth(torso: Torso<'_>, k: usize) -> Option<f64> {
    let (i, top) = torso.tops.get(k).copied().flatten()?;
    let (j, low) = torso.lows.get(k).copied().flatten()?;
    let high = top.start(Role::Shoulder)?.y;
    if i == j {
        return Some(high - low.start(Role::Side)?.y);
    }
    Some(high - top.start(Role::Centre)?.y + low.start(Role::Upper)?.y - low.start(Role::Side)?.y)
}

/// From the nape straight down to the armpit.
fn scye_depth(torso: Torso<'_>) -> Option<f64> {
    let ((i, top), (j, low)) = (torso.tops[1]?, torso.lows[1]?);
    let nape = top.end(Role::Centre)?.y;
    if i == j {
        return Some(nape - low.start(Role::Side)?.y);
    }
    Some(nape - top.start(Role::Centre)?.y + low.start(Role::Upper)?.y - low.start(Role::Side)?.y)
}

/// The girths and lengths of the garment that tell who wore it.
pub(super) fn figures(reading: &Reading) -> Vec<Figure> {
    let torso = Torso::of(reading);
    let mut found = Vec::new();
    let mut add = |measure: Measure, value: f64| {
        if value > 1e-6 && value.is_finite() {
            found.push(Figure { measure, value });
        }
    };
    if let [Some((_, front)), Some((_, back))] = torso.lows {
        let lap = front.length(Role::Extension);
        add(
            Measure::BustGirth,
            2.0 * (front.width() + back.width() - lap),
        );
        if ends_at_waist(torso, 0) && ends_at_waist(torso, 1) {
            let waist = 2.0 * (front.length(Role::Lower) + back.length(Role::Lower) - lap);
            // What falls straight from the bust tells nothing of the waist.
            if waist < SHAPED * 2.0 * (front.width() + back.width() - lap) {
                add(Measure::WaistGirth, waist);
            }
            add(Measure::BackWaistLength, back.length(Role::Centre));
            if let (Some(a), Some(b)) = (back.start(Role::Side), back.end(Role::Side)) {
                add(Measure::UnderarmLength, (a.y - b.y).abs());
            }
        }
    }
    if let Some(depth) = scye_depth(torso) {
        add(Measure::ArmscyeDepth, depth);
    }
    if let Some((_, top)) = torso.tops[1].or(torso.tops[0]) {
        add(Measure::ShoulderLength, top.length(Role::Shoulder));
    }
    for read in reading.reads.iter().flatten() {
        if read.what == What::Sleeve {
            add(Measure::UpperArmGirth, base_of(read));
            if is_long(read) {
                add(Measure::InsideArmLength, read.length(Role::Fronter));
            }
        }
    }
    let panels = || {
        reading
            .chain
            .iter()
            .filter_map(|i| reading.reads.get(*i)?.as_ref())
    };
    let legs = || {
        let all = reading.reads.iter().flatten();
        all.filter(|read| matches!(read.what, What::FrontLeg | What::BackLeg))
    };
    let waist: f64 = panels()
        .chain(legs())
        .map(|part| 2.0 * part.length(Role::Waist))
        .sum();
    if torso.lows[0].is_none() {
        add(Measure::WaistGirth, waist);
    }
    if let Some(leg) = legs().next() {
        add(Measure::InsideLeg, leg.length(Role::Inner));
    }
    found
}

/// Width of a sleeve at the base of its cap.
pub(super) fn base_of(read: &super::read::Read) -> f64 {
    match (read.start(Role::Fronter), read.start(Role::Backer)) {
        (Some(a), Some(b)) => (a.x - b.x).abs(),
        _ => 0.0,
    }
}

/// A sleeve whose underarm seam is longer than this share of its width reaches the wrist: on a woman it is 1.1 times as
/// long, on dolls with short arms 0.7 (drafts), a sleeve to the elbow half that.
const TO_WRIST: f64 = 0.55;

/// Does a sleeve reach the wrist?
pub(super) fn is_long(read: &super::read::Read) -> bool {
    read.length(Role::Fronter) > TO_WRIST * base_of(read)
}

/// Least and most ease the handbooks give a girth, as shares of it; wide where they are silent.
fn ease_of(body: &Body, measure: Measure) -> (f64, f64) {
    let girth = body.mm(measure).0.max(1e-9);
    let rows = || handbook_rows(measure, body);
    let least = rows().map(|row| row.least.0).fold(f64::INFINITY, f64::min);
    let most = rows().map(|row| row.most.0).fold(0.0, f64::max);
    if least.is_finite() {
        (least / girth, most / girth)
    } else {
        (0.02, 0.18)
    }
}

/// How exactly a length of the garment follows the body: the back length closely, shoulder and armscye are often moved
/// by the style. *Own, no source.*
fn width_of(measure: Measure) -> f64 {
    match measure {
        Measure::BackWaistLength => 0.012,
        Measure::InsideArmLength => 0.015,
        Measure::UnderarmLength | Measure::ArmscyeDepth => 0.03,
        _ => 0.05,
    }
}

fn cost(body: &Body, figure: &Figure, is_skirt: bool) -> f64 {
    let own = body.mm(figure.measure).0;
    let off = libm::log(figure.value / own.max(1e-9));
    if figure.measure.is_girth() {
        let (least, most) = if is_skirt && body.kind != BodyKind::Doll {
            SKIRT_EASE
        } else {
            ease_of(body, figure.measure)
        };
        let beyond = (off - libm::log1p(most))
            .max(libm::log1p(least) - off)
            .max(0.0);
        // Of bodies whose ease lies in the range, the one with the middle of it.
        let middle = f64::midpoint(libm::log1p(least), libm::log1p(most));
        let from_middle = NUDGE * (off - middle).abs();
        let width = if figure.measure == Measure::UpperArmGirth {
            3.0 * GIRTHS
        } else {
            GIRTHS
        };
        (beyond / width) * (beyond / width) + from_middle
    } else {
        (off / width_of(figure.measure)) * (off / width_of(figure.measure))
    }
    .min(MOST)
}

/// The way that takes a known body: every one of `known` can be chosen, also those that are not offered.
pub fn made_for_way(body: &Body) -> String {
    format!("body: {}", body.name)
}

/// The bodies it may have been made for, the likeliest first, the one of its own figures among them; and the one that
/// was chosen, before all.
pub(super) fn wearers(reading: &Reading, known: &[Arc<Body>], chosen: Option<&str>) -> Vec<Wearer> {
    let figures = figures(reading);
    let mut found = likely(&figures, known);
    let is_there = |way: &str, found: &[Wearer]| found.iter().any(|wearer| wearer.key == way);
    if let Some(way) = chosen.filter(|way| !is_there(way, &found)) {
        let body = known.iter().find(|body| made_for_way(body) == way);
        found.extend(body.map(|body| Wearer {
            key: way.to_owned(),
            body: body.clone(),
            certainty: 1.0,
            rests_on: words(body, &figures),
        }));
    }
    if let Some(way) = chosen {
        found.sort_by_key(|wearer| wearer.key != way);
    }
    found
}

fn likely(figures: &[Figure], known: &[Arc<Body>]) -> Vec<Wearer> {
    if figures.is_empty() {
        return Vec::new();
    }
    let is_skirt = figures
        .iter()
        .all(|figure| figure.measure == Measure::WaistGirth);
    let mean = |body: &Body| {
        let own = figures.iter().map(|f| cost(body, f, is_skirt)).sum::<f64>();
        let unusual = if is_skirt && body.kind == BodyKind::Man {
            SKIRT_ON_MAN
        } else {
            0.0
        };
        own / figures.len() as f64 + unusual
    };
    let mut ranked: Vec<(f64, &Arc<Body>)> = known.iter().map(|body| (mean(body), body)).collect();
    ranked.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.name.cmp(&b.1.name)));
    ranked.truncate(3);
    let second = ranked.get(1).map_or(MOST, |(cost, _)| *cost);
    let mut found: Vec<Wearer> = ranked
        .into_iter()
        .enumerate()
        .map(|(rank, (cost, body))| {
            let fits = libm::exp(-cost / 2.0);
            let ahead = if rank == 0 {
                0.5 + 0.5 * (1.0 - libm::exp(-(second - cost)))
            } else {
                0.5
            };
            Wearer {
                key: made_for_way(body),
                body: body.clone(),
                certainty: (fits * ahead).clamp(0.01, 0.95),
                rests_on: words(body, figures),
            }
        })
        .collect();
    let own = own_body(figures);
    let fits = known.iter().any(|body| mean(body) <= UNLIKE);
    let place = if fits { found.len().min(1) } else { 0 };
    found.insert(
        place,
        Wearer {
            key: OWN.to_owned(),
            rests_on: words(&own, figures),
            body: Arc::new(own),
            certainty: if fits { 0.3 } else { 0.5 },
        },
    );
    found
}

fn words(body: &Body, figures: &[Figure]) -> String {
    let one = |figure: &Figure| {
        format!(
            "{} {:.0} mm on the garment, {:.0} mm on the body",
            figure.measure.label().to_lowercase(),
            figure.value,
            body.mm(figure.measure).0
        )
    };
    figures
        .iter()
        .take(5)
        .map(one)
        .collect::<Vec<_>>()
        .join("; ")
}

/// From this bust or waist girth on it is a grown person, from the smaller one a child; a doll below.
const GROWN: f64 = 700.0;
const CHILD: f64 = 430.0;

/// A body of the garment's own girths less ease, its lengths as they are.
pub(super) fn own_body(figures: &[Figure]) -> Body {
    let girth = figures
        .iter()
        .filter(|f| f.measure.is_girth())
        .map(|f| f.value)
        .fold(0.0, f64::max);
    let kind = if girth > GROWN {
        BodyKind::Woman
    } else if girth > CHILD {
        BodyKind::Child
    } else {
        BodyKind::Doll
    };
    let mut body = Body::new("body of its own girths", kind);
    body.note =
        "Estimated from the garment that was brought in: measure the body itself where you can."
            .to_owned();
    for figure in figures {
        let value = if figure.measure.is_girth() {
            let share = match figure.measure {
                Measure::WaistGirth => 0.05,
                Measure::UpperArmGirth => 0.2,
                _ => 0.1,
            };
            figure.value / (1.0 + share)
        } else {
            figure.value
        };
        let measured = Measured {
            value: Mm(value.clamp(0.5, 3000.0)),
            origin: Origin::Estimated,
            source: if figure.measure.is_girth() {
                "girth of the garment brought in, less an ease of our own choice".to_owned()
            } else {
                "length on the garment brought in".to_owned()
            },
        };
        body.measures.entry(figure.measure).or_insert(measured);
    }
    body
}
