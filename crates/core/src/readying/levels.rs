//! Where the levels of the body cross the pieces, told by their corners and by the proportions of the body.

use kurbo::Point;

use super::kinds::Role;
use super::read::Read;
use super::reading::Reading;
use super::sewing::Torso;
use super::sides::Bit;
use super::sleeves::top_of;
use super::wearer::{ends_at_waist, is_long};
use super::what::What;
use crate::body::Body;
use crate::geometry::curve::Line;
use crate::measure::{Level, Measure};

/// A place on the outline: an edge, and a fraction of it as drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub(super) edge: usize,
    pub(super) at: f64,
}

/// A level across a piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct LevelLine {
    pub(super) piece: usize,
    pub(super) level: Level,
    pub(super) from: Spot,
    pub(super) to: Spot,
}

/// A level lies on the outermost place of an edge when it is this near to it, as a share of the body's height there.
const AT_EDGE: f64 = 0.12;

pub(super) fn start(read: &Read, role: Role) -> Option<Spot> {
    let bit = read.bits(role).first()?;
    Some(Spot {
        edge: bit.edge,
        at: bit.from,
    })
}

pub(super) fn end(read: &Read, role: Role) -> Option<Spot> {
    let bit = read.bits(role).last()?;
    Some(Spot {
        edge: bit.edge,
        at: bit.to,
    })
}

pub(super) fn point(read: &Read, spot: Spot) -> Option<Point> {
    Some(read.lines.get(spot.edge)?.at(spot.at))
}

/// Where sides of a piece come to a height; the first that does.
pub(super) fn at_height(read: &Read, roles: &[Role], y: f64) -> Option<Spot> {
    roles.iter().find_map(|role| {
        read.bits(*role)
            .iter()
            .find_map(|bit| crossing(read, bit, y))
    })
}

const STEPS: u32 = 16;

fn crossing(read: &Read, bit: &Bit, y: f64) -> Option<Spot> {
    let line = read.lines.get(bit.edge)?;
    let above = |share: f64| line.at(bit.at(share)).y - y;
    let share = |step: u32| f64::from(step) / f64::from(STEPS);
    let mut low_value = above(0.0);
    // A corner at that height, but for rounding, counts.
    let near = 1e-6 * (1.0 + line.length());
    for step in 0..STEPS {
        let (low, high) = (share(step), share(step + 1));
        let high_value = above(high);
        if low_value.abs() <= near {
            return Some(Spot {
                edge: bit.edge,
                at: bit.at(low),
            });
        }
        if low_value * high_value <= 0.0 || (step + 1 == STEPS && high_value.abs() <= near) {
            let (mut a, mut b) = (low, high);
            for _ in 0..40 {
                let middle = f64::midpoint(a, b);
                if above(middle) * low_value > 0.0 {
                    a = middle
                } else {
                    b = middle
                }
            }
            return Some(Spot {
                edge: bit.edge,
                at: bit.at(f64::midpoint(a, b)),
            });
        }
        low_value = high_value;
    }
    None
}

/// The place of an armscye nearest to the centre, where the width across is taken; half way down where it is not hollow.
pub(super) fn narrowest(read: &Read) -> Option<Spot> {
    let bits = read.bits(Role::Armscye);
    let (top, foot) = (read.start(Role::Armscye)?, read.end(Role::Armscye)?);
    let centre = read.start(Role::Centre)?.x;
    let mut best: Option<(f64, Spot, f64)> = None;
    for bit in bits {
        let line = read.lines.get(bit.edge)?;
        // The joins of its cubics count: drafts set the width line there.
        let whole = line.length().max(1e-9);
        let mut along = 0.0;
        let mut shares: Vec<f64> = (0..=64_u32).map(|k| f64::from(k) / 64.0).collect();
        for cubic in line.cubics() {
            along += kurbo::ParamCurveArclen::arclen(&cubic, 1e-6);
            shares.push(along / whole);
        }
        for at in shares {
            let inside = (bit.from.min(bit.to)..=bit.from.max(bit.to)).contains(&at);
            let p = line.at(at);
            let off = (p.x - centre).abs();
            if inside && best.is_none_or(|(b, ..)| off < b - 1e-7) {
                best = Some((off, Spot { edge: bit.edge, at }, p.y));
            }
        }
    }
    let (_, spot, y) = best?;
    let share = (top.y - y) / (top.y - foot.y).abs().max(1e-9);
    if (0.15..=0.85).contains(&share) {
        return Some(spot);
    }
    at_height(read, &[Role::Armscye], f64::midpoint(top.y, foot.y))
}

/// All levels on the pieces, by the body they were made for.
pub(super) fn levels(reading: &Reading, body: &Body) -> Vec<LevelLine> {
    let torso = Torso::of(reading);
    let mut found = Vec::new();
    for (i, read) in reading.reads.iter().enumerate() {
        let Some(read) = read else { continue };
        let lines = match read.what {
            What::Front | What::Back => {
                let mut lines = top(read);
                lines.extend(low(
                    read,
                    body,
                    ends_at_waist(torso, usize::from(!read.what.is_front())),
                    true,
                ));
                lines
            }
            What::FrontYoke | What::BackYoke => top(read),
            What::FrontBody | What::BackBody => low(
                read,
                body,
                ends_at_waist(torso, usize::from(!read.what.is_front())),
                false,
            ),
            What::Sleeve => sleeve(read, body),
            What::SkirtFront | What::SkirtSide | What::SkirtBack => panel(read, body),
            What::FrontLeg | What::BackLeg => leg(read, body),
            What::Collar | What::Waistband | What::Cuff => Vec::new(),
        };
        found.extend(lines.into_iter().filter_map(|(level, from, to)| {
            Some(LevelLine {
                piece: i,
                level,
                from: from?,
                to: to?,
            })
        }));
    }
    found
}

type Lines = Vec<(Level, Option<Spot>, Option<Spot>)>;

/// Nape, shoulder point and across.
fn top(read: &Read) -> Lines {
    let mut lines: Lines = Vec::new();
    let inner = [Role::Centre, Role::Neckline, Role::Extension];
    let corner = end(read, Role::Shoulder);
    if !read.what.is_front() {
        let nape = read.end(Role::Centre).map_or(0.0, |p| p.y);
        lines.push((
            Level::Nape,
            end(read, Role::Centre),
            at_height(read, &[Role::Shoulder], nape),
        ));
    }
    if let Some(y) = corner.and_then(|c| point(read, c)).map(|p| p.y) {
        lines.push((Level::ShoulderPoint, at_height(read, &inner, y), corner));
    }
    if matches!(read.what, What::FrontYoke | What::BackYoke) {
        lines.push((
            Level::Across,
            start(read, Role::Centre),
            end(read, Role::Armscye),
        ));
    } else if let Some(spot) = narrowest(read) {
        let y = point(read, spot).map_or(0.0, |p| p.y);
        lines.push((Level::Across, at_height(read, &inner, y), Some(spot)));
    }
    lines
}

/// Across (below a yoke), bust, waist and hip.
fn low(read: &Read, body: &Body, to_waist: bool, whole: bool) -> Lines {
    let mut lines: Lines = Vec::new();
    if !whole {
        lines.push((
            Level::Across,
            start(read, Role::Upper),
            end(read, Role::Upper),
        ));
    }
    let armpit = end(read, Role::Armscye);
    let Some(bust) = armpit.and_then(|spot| point(read, spot)).map(|p| p.y) else {
        return lines;
    };
    lines.push((Level::Bust, at_height(read, &[Role::Centre], bust), armpit));
    if to_waist {
        lines.push((
            Level::Waist,
            start(read, Role::Centre),
            end(read, Role::Side),
        ));
        return lines;
    }
    let waist = bust - body.mm(Measure::UnderarmLength).0;
    for (level, y) in [
        (Level::Waist, waist),
        (Level::Hip, waist - body.mm(Measure::WaistToHip).0),
    ] {
        lines.push((
            level,
            at_height(read, &[Role::Centre], y),
            at_height(read, &[Role::Side], y),
        ));
    }
    lines
}

fn sleeve(read: &Read, body: &Body) -> Lines {
    let mut lines: Lines = Vec::new();
    let edges: Vec<&Line> = read.lines.iter().collect();
    let cap = read.bits(Role::Cap);
    let top = top_of(&edges, cap, kurbo::Vec2::new(0.0, 1.0));
    let top = top.and_then(|(n, share)| {
        let bit = cap.get(n)?;
        Some(Spot {
            edge: bit.edge,
            at: bit.at(share),
        })
    });
    lines.push((Level::CapTop, top, top));
    lines.push((
        Level::Underarm,
        start(read, Role::Backer),
        start(read, Role::Fronter),
    ));
    if is_long(read) {
        let inside = body.mm(Measure::InsideArmLength).0.max(1e-9);
        let upper = body.mm(Measure::ShoulderToElbow).0 - (body.mm(Measure::ArmLength).0 - inside);
        let share = (upper / inside).clamp(0.2, 0.8);
        let y = match (read.start(Role::Fronter), read.end(Role::Fronter)) {
            (Some(a), Some(b)) => a.y + share * (b.y - a.y),
            _ => 0.0,
        };
        lines.push((
            Level::Elbow,
            at_height(read, &[Role::Backer], y),
            at_height(read, &[Role::Fronter], y),
        ));
        lines.push((
            Level::Wrist,
            end(read, Role::Backer),
            end(read, Role::Fronter),
        ));
    }
    lines
}

/// Waist, hip, and what the hem comes to.
fn panel(read: &Read, body: &Body) -> Lines {
    let mut lines: Lines = vec![(
        Level::Waist,
        start(read, Role::Fronter),
        start(read, Role::Backer),
    )];
    let long = read.length(Role::Fronter);
    let hip = body.mm(Measure::WaistToHip).0;
    // On a panel that turns with its hem there is no level line; it hangs from the waist.
    let leans = |role: Role| match (read.start(role), read.end(role)) {
        (Some(a), Some(b)) => (a.y - b.y).abs() < 0.8 * (a - b).hypot(),
        _ => true,
    };
    if hip < 0.8 * long && !leans(Role::Fronter) && !leans(Role::Backer) {
        lines.push((
            Level::Hip,
            along(read, Role::Fronter, hip),
            along(read, Role::Backer, hip),
        ));
    }
    let (knee, floor) = (
        body.mm(Measure::WaistToKnee).0,
        body.mm(Measure::WaistToFloor).0,
    );
    let to_floor = (long - floor).abs() < AT_EDGE * floor || long > floor;
    let (level, down) = if to_floor {
        (Level::Floor, floor)
    } else {
        (Level::Knee, knee)
    };
    if to_floor || (long - down).abs() < 1.5 * AT_EDGE * down {
        lines.push((level, end(read, Role::Fronter), end(read, Role::Backer)));
    } else if long > down {
        lines.push((
            level,
            along(read, Role::Fronter, down),
            along(read, Role::Backer, down),
        ));
    }
    lines
}

/// The place so far along a side.
fn along(read: &Read, role: Role, distance: f64) -> Option<Spot> {
    let mut rest = distance;
    for bit in read.bits(role) {
        let size = read.lines.get(bit.edge)?.length() * (bit.to - bit.from).abs();
        if rest <= size {
            return Some(Spot {
                edge: bit.edge,
                at: bit.at(rest / size.max(1e-9)),
            });
        }
        rest -= size;
    }
    None
}

fn leg(read: &Read, body: &Body) -> Lines {
    let mut lines: Lines = vec![(
        Level::Waist,
        end(read, Role::Rise),
        start(read, Role::Outer),
    )];
    let (Some(top), Some(crotch), Some(foot)) = (
        read.start(Role::Outer),
        read.start(Role::Inner),
        read.end(Role::Outer),
    ) else {
        return lines;
    };
    let mm = |measure| body.mm(measure).0;
    let share = (mm(Measure::WaistToHip) / mm(Measure::BodyRise).max(1e-9)).clamp(0.3, 0.95);
    let hip = top.y - share * (top.y - crotch.y);
    lines.push((
        Level::Hip,
        at_height(read, &[Role::Rise], hip),
        at_height(read, &[Role::Outer], hip),
    ));
    lines.push((
        Level::Crotch,
        start(read, Role::Inner),
        at_height(read, &[Role::Outer], crotch.y),
    ));
    let length = (crotch.y - foot.y).abs();
    let inside = mm(Measure::InsideLeg).max(1e-9);
    let to_knee = mm(Measure::WaistToKnee) - mm(Measure::BodyRise);
    if length > 1.1 * to_knee {
        // The knee by its share of the leg; the hem as the ankle.
        let knee = crotch.y - to_knee / inside * length.max(inside * 0.9);
        lines.push((
            Level::Knee,
            at_height(read, &[Role::Inner], knee),
            at_height(read, &[Role::Outer], knee),
        ));
    }
    if length > 0.8 * inside {
        lines.push((Level::Ankle, end(read, Role::Inner), end(read, Role::Outer)));
    }
    lines
}
