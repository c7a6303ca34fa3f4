//! Strips joined of several: where a piece is a long narrow rectangle.

use kurbo::{Line, Point, Vec2};

use super::{Asked, LEAST};
use crate::fullness::KeepOff;
use crate::geometry::closed::{area, sides, split};
use crate::lay_plan::PiecingKind;
use crate::laying::PiecedWay;
use crate::laying::seen::Seen;
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

/// Joined of two up to six segments.
pub(super) fn ways(asked: &Asked<'_>) -> Vec<PiecedWay> {
    let Some(strip) = Strip::of(&asked.whole.outline) else {
        return Vec::new();
    };
    if strip.width < LEAST.0 / 2.0 {
        return Vec::new();
    }
    (2..=MOST)
        .map_while(|count| way(asked, &strip, count))
        .collect()
}

fn way(asked: &Asked<'_>, strip: &Strip, count: usize) -> Option<PiecedWay> {
    let piece = &asked.finished.piece;
    let role = asked.of.copy.role;
    let gathered = !piece.fullness.is_empty();
    let middle = Seen::along_fold(asked.garment, piece, role, asked.hidden);
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
    if asked.whole.fold.is_some() && middle == Seen::CentreFront && !gathered {
        let by = Mm(3.0 * allowance.0.max(LEAST.0 / 3.0));
        wanted.keep_off.push(KeepOff {
            at: 0.5,
            by,
            what: "the centre front".to_owned(),
        });
        slack = if count.is_multiple_of(2) {
            2.0 * by.0
        } else {
            0.0
        };
    }
    let loss = wanted.lost_in_join().0;
    let each = (strip.length + loss * (count - 1) as f64) / count as f64 + slack / count as f64;
    let made = joined(&wanted, &Source::Bits(vec![Mm(each); count])).ok()?;
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
    let how = match slant {
        Slant::Straight => "straight",
        Slant::Bias => "slanting",
    };
    let where_hidden = if gathered {
        ", hidden in the gathers".to_owned()
    } else {
        seen.words()
    };
    let why = format!("joined of {count}, {how}{where_hidden}");
    asked.way(PiecingKind::Strip, &lines, cost, why)
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
