//! Levels of the body on a piece, and the proportional guess that follows from them.

use kurbo::Point;

use super::guess::{Warp, WarpLevel};
use super::targets::{TapeTarget, detail_ratio};
use crate::body::Body;
use crate::fitting::{Fitting, Shaping};
use crate::garment::Garment;
use crate::geometry::curve::Line;
use crate::measure::{Level, Measure};
use crate::piece::{Frame, Piece, Placement};
use crate::tape::{Hold, TapeKind, TapeLine, TapePath};

/// How near to upright (in share of its height) a straight edge must be to count as a piece's axis.
const UPRIGHT: f64 = 0.02;

/// The levels of a frame, from the top.
pub(super) fn levels_of(frame: Frame) -> &'static [Level] {
    match frame {
        Frame::Torso => &[
            Level::Nape,
            Level::ShoulderPoint,
            Level::Across,
            Level::Bust,
            Level::Waist,
            Level::Hip,
            Level::Knee,
            Level::Floor,
        ],
        Frame::Arm => &[Level::CapTop, Level::Underarm, Level::Elbow, Level::Wrist],
        Frame::Leg => &[
            Level::Waist,
            Level::Hip,
            Level::Crotch,
            Level::Knee,
            Level::Ankle,
        ],
        Frame::Head => &[Level::Crown, Level::Brow],
    }
}

/// How a piece keeps its shape when the maker does not say: body blocks follow the body; what hangs from the waist, and
/// what lies on no part of the body, keeps its directions.
pub(super) fn own_shaping(piece: &Piece, fitting: &Fitting) -> Shaping {
    if let Some(chosen) = fitting.shaping.get(&piece.name) {
        return *chosen;
    }
    let Placement::Framed(frame) = &piece.placement else {
        return Shaping::KeepDirections;
    };
    let from_waist = *frame == Frame::Torso
        && highest_level(piece, *frame).is_some_and(|level| level >= Level::Waist);
    if from_waist {
        Shaping::KeepDirections
    } else {
        Shaping::FollowBody
    }
}

fn highest_level(piece: &Piece, frame: Frame) -> Option<Level> {
    levels_of(frame)
        .iter()
        .copied()
        .find(|level| piece.body_lines.iter().any(|line| line.level == *level))
}

/// x that a piece's widths are counted from: the fold, else a long upright edge, else the middle of its body lines.
pub(super) fn axis(piece: &Piece) -> f64 {
    if let Some(fold) = piece.fold_edge() {
        return fold.line.start().x;
    }
    let height = piece.outline.bounds().height();
    let lean = |line: &Line| (line.end().x - line.start().x).abs() / height.max(1e-9);
    // The most upright one, whichever edge the outline starts with.
    let upright = piece
        .outline
        .edges()
        .iter()
        .map(|edge| &edge.line)
        .filter(|line| {
            line.is_straight()
                && (line.end().y - line.start().y).abs() > 0.4 * height
                && lean(line) < UPRIGHT
        })
        .min_by(|a, b| (lean(a) + 1e-9 * a.start().x).total_cmp(&(lean(b) + 1e-9 * b.start().x)));
    if let Some(line) = upright {
        return (line.start().x + line.end().x) / 2.0;
    }
    let ends: Vec<Point> = piece
        .body_lines
        .iter()
        .flat_map(|line| [piece.point_at(&line.from), piece.point_at(&line.to)])
        .flatten()
        .collect();
    if ends.is_empty() {
        piece.outline.bounds().center().x
    } else {
        ends.iter().map(|p| p.x).sum::<f64>() / ends.len() as f64
    }
}

/// Height of a body line on its piece: the mean of its two ends.
pub(super) fn line_height(piece: &Piece, level: Level) -> Option<f64> {
    let line = piece.body_lines.iter().find(|line| line.level == level)?;
    Some((piece.point_at(&line.from)?.y + piece.point_at(&line.to)?.y) / 2.0)
}

/// The guess of a framed piece.
pub(super) fn framed_warp(
    garment: &Garment,
    fitting: &Fitting,
    tapes: &[TapeTarget],
    piece: &Piece,
    frame: Frame,
) -> Warp {
    let (from, to) = (&garment.made_for, &fitting.body);
    let levels = levels_of(frame);
    let known: Vec<(Level, f64)> = levels
        .iter()
        .filter_map(|level| Some((*level, line_height(piece, *level)?)))
        .collect();
    let bounds = piece.outline.bounds();
    let mut list: Vec<(Level, WarpLevel)> = Vec::new();
    if let Some((first, first_height)) = known.first().copied() {
        for level in levels {
            // A level without a line of its own lies as far from the nearest known one as on the body.
            let own = known.iter().find(|(l, _)| l == level).map(|(_, h)| *h);
            let near = known
                .iter()
                .min_by(|a, b| distance(from, a.0, *level).total_cmp(&distance(from, b.0, *level)));
            let (near, near_height) = near.copied().unwrap_or((first, first_height));
            let height = own
                .unwrap_or_else(|| near_height + height_of(from, *level) - height_of(from, near));
            let inside = height > bounds.y0 - 0.05 * bounds.height()
                && height < bounds.y1 + 0.05 * bounds.height();
            if own.is_none() && !inside {
                continue;
            }
            list.push((
                *level,
                WarpLevel {
                    height,
                    goal: 0.0,
                    width: width_ratio(garment, fitting, tapes, piece, frame, *level),
                },
            ));
        }
        set_goals(&mut list, from, to);
    }
    let across = ratio(from, to, Measure::BustGirth);
    Warp::new(
        axis(piece),
        list.into_iter().map(|(_, place)| place).collect(),
        ratio(from, to, Measure::Height),
        across,
    )
}

/// Gives every level its height on the target: from the first line down, each interval of the piece scales as the
/// same interval of the body does. The first line stays where it is.
fn set_goals(list: &mut [(Level, WarpLevel)], from: &Body, to: &Body) {
    list.sort_by(|a, b| b.1.height.total_cmp(&a.1.height));
    let mut above: Option<(Level, f64, f64)> = None;
    for (level, place) in list {
        place.goal = above.map_or(place.height, |(upper, height, goal)| {
            let own = height_of(from, upper) - height_of(from, *level);
            let factor = if own.abs() > 1e-6 {
                (height_of(to, upper) - height_of(to, *level)) / own
            } else {
                ratio(from, to, Measure::Height)
            };
            goal - (height - place.height) * factor.max(0.0)
        });
        above = Some((*level, place.height, place.goal));
    }
}

fn height_of(body: &Body, level: Level) -> f64 {
    body.height_of(level).0
}

fn distance(body: &Body, a: Level, b: Level) -> f64 {
    (height_of(body, a) - height_of(body, b)).abs()
}

fn ratio(from: &Body, to: &Body, measure: Measure) -> f64 {
    to.mm(measure).0 / from.mm(measure).0.max(1e-9)
}

/// Measures that tell the width at a level, the most telling first.
fn measures_at(level: Level) -> &'static [Measure] {
    match level {
        Level::Nape => &[Measure::NeckBaseGirth],
        Level::ShoulderPoint => &[Measure::ShoulderWidth],
        Level::Across => &[Measure::AcrossFront, Measure::AcrossBack],
        Level::Bust => &[Measure::BustGirth],
        Level::Waist => &[Measure::WaistGirth],
        Level::Hip | Level::Floor | Level::Crotch => &[Measure::HipGirth],
        Level::Knee => &[Measure::HipGirth],
        Level::Ankle => &[Measure::AnkleGirth],
        Level::CapTop | Level::Underarm => &[Measure::UpperArmGirth],
        Level::Elbow => &[Measure::ElbowGirth],
        Level::Wrist => &[Measure::WristGirth, Measure::HandGirth],
        Level::Brow | Level::Crown => &[Measure::HeadGirth],
    }
}

/// How much wider the garment becomes at a level: by its tape line there if it is fitted, else by the nearest fitted
/// one above (it hangs from there), else by the body.
fn width_ratio(
    garment: &Garment,
    fitting: &Fitting,
    tapes: &[TapeTarget],
    piece: &Piece,
    frame: Frame,
    level: Level,
) -> f64 {
    let tape_at = |level: Level| {
        garment.tape_lines.iter().zip(tapes).find(|(tape, _)| {
            measures_at(level).contains(&tape.measure)
                && is_across(tape)
                && tape.parts.iter().any(|part| part.piece == piece.name)
        })
    };
    match tape_at(level) {
        Some((_, target)) if target.hold == Hold::Fitted => target.ratio(),
        Some(_) => {
            let above = levels_of(frame)
                .iter()
                .rev()
                .skip_while(|l| **l != level)
                .skip(1);
            let fitted = above
                .copied()
                .find_map(|l| tape_at(l).filter(|(_, t)| t.hold == Hold::Fitted));
            fitted.map_or_else(
                || body_ratio(garment, fitting, level),
                |(_, target)| target.ratio(),
            )
        }
        None => body_ratio(garment, fitting, level),
    }
}

/// Does a tape line tell how wide the garment is (and not how far down something lies)?
fn is_across(tape: &TapeLine) -> bool {
    tape.kind == TapeKind::Girth
        || !tape
            .parts
            .iter()
            .any(|part| matches!(part.path, TapePath::Upright(..)))
}

fn body_ratio(garment: &Garment, fitting: &Fitting, level: Level) -> f64 {
    measures_at(level)
        .first()
        .map_or(1.0, |m| ratio(&garment.made_for, &fitting.body, *m))
}

/// The guess of a piece that lies on no part of the body: two ratios.
pub(super) fn follow_warp(
    garment: &Garment,
    fitting: &Fitting,
    piece: &Piece,
    length: Option<f64>,
    depth: Option<f64>,
) -> Warp {
    let detail = detail_ratio(garment, fitting, Some(&piece.name));
    let (across, along) = (length.unwrap_or(detail), depth.unwrap_or(detail));
    let bounds = piece.outline.bounds();
    let list = vec![
        WarpLevel {
            height: bounds.y0,
            goal: bounds.y0,
            width: across,
        },
        WarpLevel {
            height: bounds.y1,
            goal: bounds.y0 + along * bounds.height(),
            width: across,
        },
    ];
    Warp::new(axis(piece), list, along, across)
}
