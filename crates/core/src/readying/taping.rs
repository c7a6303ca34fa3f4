//! Where tapes are laid, and where the garment opens.

use super::kinds::Role;
use super::levels::{LevelLine, Spot, at_height, end, narrowest, point, start};
use super::read::Read;
use super::reading::Reading;
use super::sewing::Torso;
use super::sides::Bit;
use super::wearer::{ends_at_waist, is_long};
use super::what::What;
use crate::body::Body;
use crate::measure::{Level, Measure};
use crate::tape::{Hold, TapeKind};

/// A waist with more ease than this hangs (the fullest row of the ease table is 80 mm on a waist of 830 mm).
const WAIST_HANGS: f64 = 0.12;
/// A hem of a sleeve with more ease than this hangs. *Own, no source.*
const HEM_HANGS: f64 = 0.6;

/// How a tape lies on a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Path {
    Along(Bit),
    Across(Spot, Spot),
    Upright(Spot, Spot),
}

/// A tape line that is proposed.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Taped {
    pub(super) name: String,
    pub(super) measure: Measure,
    pub(super) share: f64,
    pub(super) kind: TapeKind,
    pub(super) hold: Hold,
    pub(super) overlap: f64,
    pub(super) parts: Vec<(usize, Path)>,
}

struct Tapes {
    all: Vec<Taped>,
}

impl Tapes {
    fn lay(
        &mut self,
        name: &str,
        measure: Measure,
        kind: TapeKind,
        hold: Hold,
        parts: Vec<(usize, Path)>,
    ) {
        if !parts.is_empty() {
            self.all.push(Taped {
                name: name.to_owned(),
                measure,
                share: 1.0,
                kind,
                hold,
                overlap: 0.0,
                parts,
            });
        }
    }

    fn last(&mut self, change: impl FnOnce(&mut Taped)) {
        if let Some(tape) = self.all.last_mut() {
            change(tape);
        }
    }
}

fn along(piece: usize, read: &Read, role: Role) -> Vec<(usize, Path)> {
    read.bits(role)
        .iter()
        .map(|bit| (piece, Path::Along(*bit)))
        .collect()
}

fn across(piece: usize, from: Option<Spot>, to: Option<Spot>) -> Vec<(usize, Path)> {
    match (from, to) {
        (Some(a), Some(b)) => vec![(piece, Path::Across(a, b))],
        _ => Vec::new(),
    }
}

fn upright(piece: usize, from: Option<Spot>, to: Option<Spot>) -> Vec<(usize, Path)> {
    match (from, to) {
        (Some(a), Some(b)) => vec![(piece, Path::Upright(a, b))],
        _ => Vec::new(),
    }
}

/// Every tape of the garment.
pub(super) fn tapes(reading: &Reading, levels: &[LevelLine], body: &Body) -> Vec<Taped> {
    let mut tapes = Tapes { all: Vec::new() };
    torso(&mut tapes, Torso::of(reading), body);
    for (i, read) in reading.reads.iter().enumerate() {
        if let Some(read) = read.as_ref().filter(|read| read.what == What::Sleeve) {
            sleeve(&mut tapes, i, read, reading, body);
            break;
        }
    }
    skirt(&mut tapes, reading, levels, body);
    legs(&mut tapes, reading, levels);
    tapes.all
}

fn torso(tapes: &mut Tapes, torso: Torso<'_>, body: &Body) {
    let bust = |part: Option<(usize, &Read)>| -> Vec<(usize, Path)> {
        part.map_or(Vec::new(), |(i, read)| {
            let armpit = end(read, Role::Armscye);
            let y = armpit
                .and_then(|spot| point(read, spot))
                .map_or(0.0, |p| p.y);
            across(i, at_height(read, &[Role::Centre], y), armpit)
        })
    };
    let lap = torso.lows[0].map_or(0.0, |(_, front)| 2.0 * front.length(Role::Extension));
    if let [Some(front), Some(back)] = torso.lows {
        let parts: Vec<_> = [bust(Some(front)), bust(Some(back))].concat();
        tapes.lay(
            "bust",
            Measure::BustGirth,
            TapeKind::Girth,
            Hold::Fitted,
            parts,
        );
        tapes.last(|tape| tape.overlap = lap);
        if ends_at_waist(torso, 0) && ends_at_waist(torso, 1) {
            let girth = 2.0 * (front.1.length(Role::Lower) + back.1.length(Role::Lower)) - lap;
            let own = body.mm(Measure::WaistGirth).0;
            let hold = if girth < (1.0 + WAIST_HANGS) * own {
                Hold::Fitted
            } else {
                Hold::Hanging
            };
            let parts = [
                along(front.0, front.1, Role::Lower),
                along(back.0, back.1, Role::Lower),
            ]
            .concat();
            tapes.lay("waist", Measure::WaistGirth, TapeKind::Girth, hold, parts);
            tapes.last(|tape| tape.overlap = lap);
        }
    }
    if let [Some(front), Some(back)] = torso.tops {
        let parts = [
            along(front.0, front.1, Role::Neckline),
            along(back.0, back.1, Role::Neckline),
        ]
        .concat();
        tapes.lay(
            "neckline",
            Measure::NeckBaseGirth,
            TapeKind::Girth,
            Hold::Auto,
            parts,
        );
    }
    if let Some((i, top)) = torso.tops[1].or(torso.tops[0]) {
        tapes.lay(
            "shoulder",
            Measure::ShoulderLength,
            TapeKind::Length,
            Hold::Auto,
            along(i, top, Role::Shoulder),
        );
    }
    for (k, name, measure) in [
        (0, "across front", Measure::AcrossFront),
        (1, "across back", Measure::AcrossBack),
    ] {
        let top = torso.tops.get(k).copied().flatten();
        let parts = top.map_or(Vec::new(), |(i, top)| {
            if matches!(top.what, What::FrontYoke | What::BackYoke) {
                return across(i, start(top, Role::Centre), end(top, Role::Armscye));
            }
            let spot = narrowest(top);
            let y = spot.and_then(|spot| point(top, spot)).map_or(0.0, |p| p.y);
            // From the centre line itself, where an edge laps beyond it.
            let centre = if top.bits(Role::Extension).is_empty() {
                at_height(top, &[Role::Centre, Role::Neckline], y)
            } else {
                start(top, Role::Neckline)
            };
            across(i, centre, spot)
        });
        tapes.lay(name, measure, TapeKind::Length, Hold::Auto, parts);
        tapes.last(|tape| {
            if tape.name == name {
                tape.share = 0.5
            }
        });
    }
    lengths(tapes, torso);
}

/// Scye depth, and the lengths down the centres.
fn lengths(tapes: &mut Tapes, torso: Torso<'_>) {
    if let (Some((i, top)), Some((j, low))) = (torso.tops[1], torso.lows[1]) {
        let parts = if i == j {
            upright(i, end(top, Role::Centre), end(low, Role::Armscye))
        } else {
            [
                along(i, top, Role::Centre),
                upright(j, start(low, Role::Upper), end(low, Role::Armscye)),
            ]
            .concat()
        };
        tapes.lay(
            "armscye depth",
            Measure::ArmscyeDepth,
            TapeKind::Length,
            Hold::Auto,
            parts,
        );
        let mut parts = along(i, top, Role::Centre);
        if i != j {
            parts.extend(along(j, low, Role::Centre));
        }
        let hold = if ends_at_waist(torso, 1) {
            Hold::Auto
        } else {
            Hold::Fitted
        };
        tapes.lay(
            "centre back",
            Measure::BackWaistLength,
            TapeKind::Length,
            hold,
            parts,
        );
    }
    if let (Some((i, top)), Some((j, _)), true) =
        (torso.tops[0], torso.lows[0], ends_at_waist(torso, 0))
        && i == j
    {
        let pit = start(top, Role::Neckline);
        tapes.lay(
            "centre front",
            Measure::FrontWaistLength,
            TapeKind::Length,
            Hold::Auto,
            upright(i, pit, start(top, Role::Centre)),
        );
    }
}

fn sleeve(tapes: &mut Tapes, i: usize, read: &Read, reading: &Reading, body: &Body) {
    if is_long(read) {
        let parts = along(i, read, Role::Fronter);
        tapes.lay(
            "sleeve, inside",
            Measure::InsideArmLength,
            TapeKind::Length,
            Hold::Auto,
            parts,
        );
    }
    let parts = across(i, start(read, Role::Backer), start(read, Role::Fronter));
    tapes.lay(
        "upper arm",
        Measure::UpperArmGirth,
        TapeKind::Girth,
        Hold::Fitted,
        parts,
    );
    let cuff = reading
        .reads
        .iter()
        .enumerate()
        .find_map(|(i, read)| Some((i, read.as_ref().filter(|read| read.what == What::Cuff)?)));
    let gathered = |cuff: &Read| cuff.attached.is_some_and(|target| target.gathered > 1.05);
    if let Some((k, cuff)) = cuff.filter(|(_, cuff)| gathered(cuff)) {
        let parts = along(k, cuff, Role::Attached);
        tapes.lay(
            "cuff",
            Measure::HandGirth,
            TapeKind::Girth,
            Hold::Fitted,
            parts,
        );
    } else if is_long(read) {
        let ease = read.length(Role::Hem) / body.mm(Measure::WristGirth).0.max(1e-9) - 1.0;
        let hold = if ease < HEM_HANGS {
            Hold::Fitted
        } else {
            Hold::Auto
        };
        tapes.lay(
            "wrist",
            Measure::WristGirth,
            TapeKind::Girth,
            hold,
            along(i, read, Role::Hem),
        );
    }
}

fn skirt(tapes: &mut Tapes, reading: &Reading, levels: &[LevelLine], body: &Body) {
    let panels: Vec<(usize, &Read)> = reading
        .chain
        .iter()
        .filter_map(|i| Some((*i, reading.reads.get(*i)?.as_ref()?)))
        .collect();
    let Some((first, front)) = panels.first().copied() else {
        return;
    };
    let parts = panels
        .iter()
        .flat_map(|(i, read)| along(*i, read, Role::Waist))
        .collect();
    let name = if tapes.all.iter().any(|tape| tape.name == "waist") {
        "skirt waist"
    } else {
        "waist"
    };
    tapes.lay(
        name,
        Measure::WaistGirth,
        TapeKind::Girth,
        Hold::Fitted,
        parts,
    );
    let hips: Vec<(usize, Path)> = levels
        .iter()
        .filter(|line| line.level == Level::Hip && reading.chain.contains(&line.piece))
        .map(|line| (line.piece, Path::Across(line.from, line.to)))
        .collect();
    if hips.len() == panels.len() {
        tapes.lay("hip", Measure::HipGirth, TapeKind::Girth, Hold::Auto, hips);
    }
    let long = front.length(Role::Fronter);
    let floor = body.mm(Measure::WaistToFloor).0;
    let measure = if long > 0.85 * floor {
        Measure::WaistToFloor
    } else {
        Measure::WaistToKnee
    };
    tapes.lay(
        "skirt front length",
        measure,
        TapeKind::Length,
        Hold::Fitted,
        along(first, front, Role::Fronter),
    );
    for (n, (i, panel)) in panels.iter().enumerate() {
        let name = if n + 1 == panels.len() {
            "skirt back length".to_owned()
        } else {
            format!("skirt side length {}", n + 1)
        };
        tapes.lay(
            &name,
            measure,
            TapeKind::Length,
            Hold::Fitted,
            along(*i, panel, Role::Backer),
        );
        let share = (panel.length(Role::Backer) / long.max(1e-9)).clamp(0.5, 2.0);
        tapes.last(|tape| tape.share = share);
    }
}

fn legs(tapes: &mut Tapes, reading: &Reading, levels: &[LevelLine]) {
    let legs: Vec<(usize, &Read)> = reading
        .reads
        .iter()
        .enumerate()
        .filter_map(|(i, read)| {
            Some((
                i,
                read.as_ref()
                    .filter(|read| matches!(read.what, What::FrontLeg | What::BackLeg))?,
            ))
        })
        .collect();
    if legs.is_empty() {
        return;
    }
    let parts = legs
        .iter()
        .flat_map(|(i, leg)| along(*i, leg, Role::Waist))
        .collect();
    tapes.lay(
        "waist",
        Measure::WaistGirth,
        TapeKind::Girth,
        Hold::Fitted,
        parts,
    );
    for (level, name, measure) in [
        (Level::Hip, "hip", Measure::HipGirth),
        (Level::Crotch, "thigh", Measure::ThighGirth),
    ] {
        let parts: Vec<(usize, Path)> = levels
            .iter()
            .filter(|line| line.level == level && legs.iter().any(|(i, _)| *i == line.piece))
            .map(|line| (line.piece, Path::Across(line.from, line.to)))
            .collect();
        if parts.len() == legs.len() {
            tapes.lay(name, measure, TapeKind::Girth, Hold::Auto, parts);
        }
    }
    if let Some((i, leg)) = legs.first() {
        let parts = upright(*i, start(leg, Role::Inner), end(leg, Role::Inner));
        tapes.lay(
            "inner leg",
            Measure::InsideLeg,
            TapeKind::Length,
            Hold::Auto,
            parts,
        );
        let parts = upright(*i, start(leg, Role::Outer), start(leg, Role::Inner));
        tapes.lay(
            "body rise",
            Measure::BodyRise,
            TapeKind::Length,
            Hold::Auto,
            parts,
        );
    }
}
