//! Texts of an SVG: letters that usvg has set, put together to lines of words again.

use petitoile_core::kurbo::{Affine, Point, Vec2};
use usvg::Text;
use usvg::layout::PositionedGlyph;

use crate::font;

/// A line of words and where it stands, mm.
pub(super) struct Words {
    pub at: Point,
    pub size: f64,
    pub turn: f64,
    pub words: String,
    /// Where the next letter would stand.
    end: Point,
}

/// The lines of words in a text. `mm_from_px` turns y up.
pub(super) fn words(text: &Text, mm_from_px: Affine) -> Vec<Words> {
    let to = mm_from_px * affine(text.abs_transform());
    let mut lines: Vec<Words> = Vec::new();
    let glyphs = text
        .layouted()
        .iter()
        .filter(|span| span.visible)
        .flat_map(|span| &span.positioned_glyphs);
    for glyph in glyphs {
        let Some(next) = set(glyph, to) else { continue };
        match lines.last_mut() {
            Some(line) if line.is_followed_by(&next) => line.take(next),
            _ => lines.push(next),
        }
    }
    for line in &mut lines {
        line.words = line.words.trim_end().to_owned();
    }
    lines.retain(|line| !line.words.is_empty());
    lines
}

pub(super) fn affine(t: usvg::Transform) -> Affine {
    Affine::new([t.sx, t.ky, t.kx, t.sy, t.tx, t.ty].map(f64::from))
}

/// One letter as a line of its own.
fn set(glyph: &PositionedGlyph, to: Affine) -> Option<Words> {
    let all = to * affine(glyph.transform());
    let [a, b, ..] = all.as_coeffs();
    let (at, along) = (all * Point::ZERO, Vec2::new(a, b));
    let [ta, tb, tc, td, ..] = to.as_coeffs();
    let size = f64::from(glyph.font_size()) * (ta * td - tb * tc).abs().sqrt();
    let sound = at.is_finite() && along.is_finite() && size.is_finite() && 0.0 < along.hypot();
    sound.then(|| {
        let wide = font::width(&glyph.text, size) / font::em(1.0);
        Words {
            at,
            size,
            turn: libm::atan2(along.y, along.x).to_degrees(),
            words: glyph.text.clone(),
            end: at + along / along.hypot() * wide,
        }
    })
}

impl Words {
    /// Does a letter go on with this line? A gap of up to one em is a blank.
    fn is_followed_by(&self, next: &Self) -> bool {
        let along = Vec2::from_angle(self.turn.to_radians());
        let gap = next.at - self.end;
        let (ahead, aside) = (gap.dot(along), gap.cross(along));
        let turned = (next.turn - self.turn + 540.0).rem_euclid(360.0) - 180.0;
        (-0.5..1.0).contains(&(ahead / self.size))
            && aside.abs() < 0.25 * self.size
            && turned.abs() < 2.0
            && (0.4..2.5).contains(&(next.size / self.size))
    }

    fn take(&mut self, next: Self) {
        if self.words.trim().is_empty() {
            *self = next;
            return;
        }
        let along = Vec2::from_angle(self.turn.to_radians());
        let is_apart = 0.25 * self.size < (next.at - self.end).dot(along);
        let has_blank = self.words.ends_with(char::is_whitespace)
            || next.words.starts_with(char::is_whitespace);
        if is_apart && !has_blank {
            self.words.push(' ');
        }
        self.words.push_str(&next.words);
        self.end = next.end;
    }
}
