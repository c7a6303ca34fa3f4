//! Strips joined of several: where a piece is a long narrow rectangle.

use kurbo::{Line, Point, Vec2};

use super::{Asked, LEAST};
use crate::fullness::KeepOff;
use crate::geometry::closed::{area, sides, split};
use crate::lay_plan::{Piecing, PiecingKind};
use crate::laying::parts::parts;
use crate::laying::seen::Seen;
use crate::laying::{CopyToLay, PiecedWay};
use crate::strips::{Size, Slant, Source, StripWanted, joined};
use crate::units::Mm;

/// A piece this many times as long as wide is a strip. Own figure.
const LONG: f64 = 4.0;

/// How much of the rectangle round it a strip fills. Own figure.
const FULL: f64 = 0.88;

/// Most segments that are offered.
const MOST: usize = 6;

/// Segments shorter than this, as cut, are not worth joining: the strip engine's own (common practice, no source).
const SHORTEST: Mm = Mm(30.0);

/// A long narrow rectangle round a piece.
struct Strip {
    /// Middle of one short end.
    start: Point,
    along: Vec2,
    length: f64,
    width: f64,
}

/// Joined of two up to six segments, all cut as long; of two also a long and a short one.
pub(super) fn ways(asked: &Asked<'_>) -> Vec<PiecedWay> {
    let Some(strip) = Strip::of(&asked.whole.outline) else {
        return Vec::new();
    };
    if strip.width < LEAST.0 / 2.0 {
        return Vec::new();
    }
    let even = (2..=MOST).map_while(|count| way(asked, &strip, count, Shares::Even));
    let uneven = way(asked, &strip, 2, Shares::LongAndShort);
    even.chain(uneven).collect()
}

/// How long the segments are against each other.
#[derive(Clone, Copy, PartialEq)]
enum Shares {
    Even,
    /// The first takes two thirds.
    LongAndShort,
}

fn way(asked: &Asked<'_>, strip: &Strip, count: usize, shares: Shares) -> Option<PiecedWay> {
    let piece = &asked.finished.piece;
    let gathered = !piece.fullness.is_empty();
    let seen = asked.seen();
    let slant = strip.slant(asked.whole.grain.0);
    let allowance = asked.allowance();
    let mut wanted = StripWanted {
        slant,
        allowance,
        shortest: SHORTEST,
        ..StripWanted::new(Size::Cut(Mm(strip.length)), Size::Cut(Mm(strip.width)))
    };
    let mut slack = 0.0;
    if let Some(by) = off_middle(asked) {
        wanted.keep_off.push(centre_front(by));
        slack = if count.is_multiple_of(2) {
            2.0 * by.0
        } else {
            0.0
        };
    }
    let loss = wanted.lost_in_join().0;
    let all = strip.length + loss * (count - 1) as f64;
    let bits = match shares {
        Shares::Even => vec![Mm((all + slack) / count as f64); count],
        Shares::LongAndShort => vec![Mm(all * 2.0 / 3.0), Mm(all / 3.0)],
    };
    let made = joined(&wanted, &Source::Bits(bits)).ok()?;
    if made.segments.len() != count {
        return None;
    }
    let lines: Vec<Line> = made
        .joins
        .iter()
        .map(|join| {
            strip.line(
                &asked.whole.outline,
                join.on_cloth.0,
                slant,
                asked.whole.grain.0,
            )
        })
        .collect::<Option<_>>()?;
    let seams = lines.len();
    let cost = seams as u32 * if gathered { 1 } else { seen.cost() };
    let how = match shares {
        Shares::Even => slant_words(slant).to_owned(),
        Shares::LongAndShort => format!("a long and a short one, {}", slant_words(slant)),
    };
    let where_hidden = if gathered {
        ", hidden in the gathers".to_owned()
    } else {
        seen.words()
    };
    let why = format!("joined of {count}, {how}{where_hidden}");
    asked.way(PiecingKind::Strip, &lines, cost, why)
}

/// How far joins keep off the middle of a strip: where that is the centre front, and nothing hides them.
pub(super) fn off_middle(asked: &Asked<'_>) -> Option<Mm> {
    let piece = &asked.finished.piece;
    let role = asked.of.copy.role;
    let middle = Seen::along_fold(asked.garment, piece, role, asked.hidden);
    let is_front = asked.whole.fold.is_some() && middle == Seen::CentreFront;
    let by = Mm(3.0 * asked.allowance().0.max(LEAST.0 / 3.0));
    (is_front && piece.fullness.is_empty()).then_some(by)
}

fn centre_front(by: Mm) -> KeepOff {
    KeepOff {
        at: 0.5,
        by,
        what: "the centre front".to_owned(),
    }
}

/// The long narrow rectangle that a strip is cut as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StripShape {
    /// Its length, mm.
    pub length: Mm,
    /// Its width, mm.
    pub width: Mm,
    /// Which way it runs in the drawing, 1 mm long.
    pub along: Vec2,
    /// Are its joins slanting, along the grain, as those of a strip on the bias?
    pub slants: bool,
}

/// The strip that a copy is; `None` when it is none, or when it may not be joined.
pub fn strip_shape(copy: &CopyToLay) -> Option<StripShape> {
    let mut ways = copy.pieced.iter();
    ways.find(|way| way.piecing.kind == PiecingKind::Strip)?;
    let strip = Strip::of(&copy.whole.outline)?;
    Some(StripShape {
        length: Mm(strip.length),
        width: Mm(strip.width),
        along: strip.along,
        slants: strip.slant(copy.whole.grain.0) == Slant::Bias,
    })
}

fn slant_words(slant: Slant) -> &'static str {
    match slant {
        Slant::Straight => "straight",
        Slant::Bias => "slanting",
    }
}

/// A strip joined of bits that are left over: as few of these lengths as will do, each as wide as the strip is cut.
///
/// What a join costs, how it slants and its allowance are those of the ways the copy is offered; `None` when it is offered
/// none of this kind, when one bit is enough, when all bits together do not reach, or when a join would come to lie at the
/// centre front.
pub fn joined_from(copy: &CopyToLay, bits: &[Mm]) -> Option<PiecedWay> {
    let offered = copy
        .pieced
        .iter()
        .find(|way| way.piecing.kind == PiecingKind::Strip)?;
    let strip = Strip::of(&copy.whole.outline)?;
    let slant = strip.slant(copy.whole.grain.0);
    let wanted = StripWanted {
        slant,
        allowance: offered.piecing.allowance,
        keep_off: copy
            .new_seams
            .off_middle
            .map(centre_front)
            .into_iter()
            .collect(),
        shortest: SHORTEST,
        ..StripWanted::new(Size::Cut(Mm(strip.length)), Size::Cut(Mm(strip.width)))
    };
    let made = joined(&wanted, &Source::Bits(bits.to_vec())).ok()?;
    if made.joins.is_empty() || made.joins.iter().any(|join| join.too_near.is_some()) {
        return None;
    }
    let lines: Vec<(Point, Point)> = made
        .joins
        .iter()
        .map(|join| {
            let at = join.on_cloth.0;
            let line = strip.line(&copy.whole.outline, at, slant, copy.whole.grain.0)?;
            Some((line.p0, line.p1))
        })
        .collect::<Option<_>>()?;
    let seams = offered.piecing.lines.len().max(1) as u32;
    let cost = offered.cost / seams * lines.len() as u32;
    let piecing = Piecing {
        lines,
        ..offered.piecing.clone()
    };
    Some(PiecedWay {
        parts: parts(&copy.whole, &piecing).ok()?,
        why: format!(
            "joined of {} left-over strips, {}",
            made.segments.len(),
            slant_words(slant)
        ),
        piecing,
        cost,
    })
}

impl Strip {
    /// The narrowest rectangle round the outline, if it is long and well filled.
    fn of(outline: &[Point]) -> Option<Self> {
        let boxed = |along: Vec2| {
            let across = Vec2::new(-along.y, along.x);
            let range = |by: Vec2| {
                let at = outline.iter().map(|p| p.to_vec2().dot(by));
                at.fold((f64::INFINITY, f64::NEG_INFINITY), |r, v| {
                    (r.0.min(v), r.1.max(v))
                })
            };
            let (length, width) = (range(along), range(across));
            let start = along * length.0 + across * f64::midpoint(width.0, width.1);
            Self {
                start: start.to_point(),
                along,
                length: length.1 - length.0,
                width: width.1 - width.0,
            }
        };
        // The narrowest rectangle round a shape runs along one of its sides (known of convex ones; near enough for strips).
        let best = sides(outline)
            .map(|(a, b)| b - a)
            .filter(|side| side.hypot() > 1.0)
            .flat_map(|side| {
                let side = side / side.hypot();
                [side, Vec2::new(-side.y, side.x)]
            })
            .map(boxed)
            .filter(|strip| strip.length >= strip.width)
            .min_by(|a, b| (a.length * a.width).total_cmp(&(b.length * b.width)))?;
        let fills = area(outline) / (best.length * best.width);
        (best.length >= LONG * best.width && fills >= FULL).then_some(best)
    }

    /// How far the grain runs off the strip's length, 0 to 90 degrees.
    fn off_grain(&self, grain: f64) -> f64 {
        let up = grain_direction(grain);
        libm::acos(up.dot(self.along).abs().min(1.0)).to_degrees()
    }

    /// Strips on the bias are joined slanting, along the grain; others straight.
    fn slant(&self, grain: f64) -> Slant {
        if (22.5..=67.5).contains(&self.off_grain(grain)) {
            Slant::Bias
        } else {
            Slant::Straight
        }
    }

    /// The join that far along.
    fn line(&self, outline: &[Point], at: f64, slant: Slant, grain: f64) -> Option<Line> {
        let middle = self.start + self.along * at;
        let along = match slant {
            Slant::Straight => Vec2::new(-self.along.y, self.along.x),
            Slant::Bias => grain_direction(grain),
        };
        let (from, to) = split(outline, middle, along)?.cut;
        Some(Line::new(from, to))
    }
}

/// Along the grain: upwards, turned by the grain's angle.
pub(super) fn grain_direction(grain: f64) -> Vec2 {
    let angle = grain.to_radians();
    Vec2::new(-libm::sin(angle), libm::cos(angle))
}
