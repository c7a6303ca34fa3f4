//! One offcut with what lies on it, at a scale. Words keep their size.

use petitoile_core::LengthUnit;
use petitoile_core::cloth::{Blemish, GoodFor};
use petitoile_core::kurbo::{Affine, BezPath, Line, Point, Vec2};
use petitoile_core::laying::{OffcutSheet, PartOnSheet};

use crate::drawing::{Item, Layer};
use crate::font;
use crate::sheet::symbols;
use crate::sheet::{CUT_STROKE, MARK_STROKE};

/// How an offcut is drawn.
pub(super) struct Looks {
    /// Size of names, mm.
    name: f64,
    /// Size of other words, mm.
    small: f64,
    /// Measures to the edges?
    measures: bool,
    /// Longest grain arrow, mm.
    arrow: f64,
}

impl Looks {
    /// On a page of its own, smaller.
    pub(super) const TO_SCALE: Self = Self {
        name: 2.6,
        small: 1.8,
        measures: true,
        arrow: 10.0,
    };
    /// As large as the cloth.
    pub(super) const TRUE_SIZE: Self = Self {
        name: 3.6,
        small: 2.2,
        measures: false,
        arrow: 30.0,
    };
}

/// Stroke of the edge of an offcut, mm.
const EDGE: f64 = 0.35;

/// Dash and gap of a fold that can be used, of a blemish, of what is cut already, mm.
const FOLD_DASH: [f64; 2] = [3.0, 1.5];
const BLEMISH_DASH: [f64; 2] = [1.0, 1.0];
const CUT_DASH: [f64; 2] = [4.0, 2.0];

/// Everything that is drawn of an offcut, in its own directions, `scale` times as large.
pub(super) fn offcut_at(
    sheet: &OffcutSheet,
    scale: f64,
    looks: &Looks,
    unit: LengthUnit,
) -> Vec<Item> {
    let drawn = Drawn {
        paper_from_cloth: Affine::scale(scale),
        scale,
        looks,
        unit,
    };
    let edge = drawn.path(&sheet.offcut.outline);
    let mut items = vec![Item::stroke(Layer::Marks, edge, EDGE)];
    for blemish in &sheet.offcut.blemishes {
        items.extend(drawn.blemish(blemish));
    }
    for part in &sheet.parts {
        items.extend(drawn.part(part));
    }
    items.extend(drawn.grain_of_cloth(sheet));
    items
}

struct Drawn<'a> {
    paper_from_cloth: Affine,
    scale: f64,
    looks: &'a Looks,
    unit: LengthUnit,
}

impl Drawn<'_> {
    fn path(&self, outline: &[Point]) -> BezPath {
        let mut path = BezPath::new();
        for (i, point) in outline.iter().enumerate() {
            let at = self.paper_from_cloth * *point;
            if i == 0 {
                path.move_to(at);
            } else {
                path.line_to(at);
            }
        }
        path.close_path();
        path
    }

    fn blemish(&self, blemish: &Blemish) -> Vec<Item> {
        let words = if blemish.is_hole {
            "hole".to_owned()
        } else if blemish.good_for == GoodFor::Anything {
            return Vec::new();
        } else {
            blemish.good_for.words().to_owned()
        };
        let mut items = vec![Item::dashed(
            Layer::Marks,
            self.path(&blemish.outline),
            MARK_STROKE,
            &BLEMISH_DASH,
        )];
        let count = blemish.outline.len().max(1) as f64;
        let sum = blemish
            .outline
            .iter()
            .fold(Vec2::ZERO, |sum, p| sum + p.to_vec2());
        let wide = self.width_of(&blemish.outline);
        if font::width(&words, self.looks.small) < wide {
            let at = self.paper_from_cloth * (sum / count).to_point();
            items.push(Item::text(Layer::Text, at, self.looks.small, words).centred());
        }
        items
    }

    fn width_of(&self, outline: &[Point]) -> f64 {
        let across = outline.iter().map(|p| p.x);
        let (low, high) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| {
            (low.min(x), high.max(x))
        });
        (high - low) * self.scale
    }

    fn part(&self, part: &PartOnSheet) -> Vec<Item> {
        let path = self.path(&part.outline);
        if part.is_cut() {
            let mut items = vec![Item::dashed(Layer::CutLines, path, MARK_STROKE, &CUT_DASH)];
            items.extend(self.name(part, format!("{}: cut", part.name)));
            return items;
        }
        let mut items = vec![Item::stroke(Layer::CutLines, path, CUT_STROKE)];
        if let Some(fold) = part.fold {
            items.extend(self.fold(fold));
        }
        items.extend(self.arrow(part));
        items.extend(self.name(part, format!("{} {}", part.number, part.name)));
        if self.looks.measures {
            for measured in &part.measures {
                let line = self.on_paper(measured.line);
                items.extend(self.measure(line, &self.unit.show(measured.length)));
            }
        }
        items
    }

    fn on_paper(&self, line: Line) -> Line {
        Line::new(
            self.paper_from_cloth * line.p0,
            self.paper_from_cloth * line.p1,
        )
    }

    /// The name, or only what stands before the first blank, where the part is too small for it.
    fn name(&self, part: &PartOnSheet, words: String) -> Vec<Item> {
        let at = self.paper_from_cloth * part.middle;
        let wide = self.width_of(&part.outline) * 0.9;
        let size = self.looks.name;
        let short = words.split(' ').next().unwrap_or_default().to_owned();
        let shown = if font::width(&words, size) <= wide {
            words
        } else {
            short
        };
        vec![Item::text(Layer::Text, at - Vec2::new(0.0, size * 0.4), size, shown).centred()]
    }

    /// Along the grain of the part, beside its name.
    fn arrow(&self, part: &PartOnSheet) -> Vec<Item> {
        let along = part.outline.iter().map(|p| p.to_vec2().dot(part.grain));
        let (low, high) = along.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| {
            (low.min(at), high.max(at))
        });
        let length = ((high - low) * self.scale * 0.6).min(self.looks.arrow);
        if length < 2.0 {
            return Vec::new();
        }
        // Above the name, so that neither runs through the other.
        let middle = self.paper_from_cloth * part.middle + Vec2::new(0.0, self.looks.name);
        let half = part.grain * (length / 2.0);
        let up = Vec2::new(0.0, half.y.abs());
        symbols::arrow(middle + up - half, middle + up + half)
    }

    fn fold(&self, fold: Line) -> Vec<Item> {
        let line = self.on_paper(fold);
        let mut path = BezPath::new();
        path.move_to(line.p0);
        path.line_to(line.p1);
        let mut items = vec![Item::dashed(Layer::Marks, path, MARK_STROKE, &FOLD_DASH)];
        let words = "fold here";
        if font::width(words, self.looks.small) < (line.p1 - line.p0).hypot() {
            items.push(self.beside(line, 0.2, words));
        }
        items
    }

    /// A fine line with its length beside it.
    fn measure(&self, line: Line, words: &str) -> Vec<Item> {
        let mut path = BezPath::new();
        path.move_to(line.p0);
        path.line_to(line.p1);
        let mut items = vec![Item::stroke(Layer::Marks, path, MARK_STROKE * 0.6)];
        if font::width(words, self.looks.small) < (line.p1 - line.p0).hypot() {
            items.push(self.beside(line, 0.5, words));
        }
        items
    }

    /// Words along a line, a share of its length from its end, never upside down.
    fn beside(&self, line: Line, share: f64, words: &str) -> Item {
        let along = line.p1 - line.p0;
        let along = if along.x < -1e-9 || (along.x.abs() <= 1e-9 && along.y < 0.0) {
            -along
        } else {
            along
        };
        let off = along / along.hypot().max(1e-9);
        let at = line.p0.lerp(line.p1, share) + off.turn_90() * 0.4;
        let turn = off.y.atan2(off.x).to_degrees();
        Item::text(Layer::Text, at, self.looks.small, words)
            .centred()
            .turned(turn)
    }

    /// The direction of the warp, at the upper left corner beside the cloth.
    fn grain_of_cloth(&self, sheet: &OffcutSheet) -> Vec<Item> {
        let grain = sheet.offcut.grain.0.to_radians();
        let along = Vec2::new(-grain.sin(), grain.cos());
        let outline = &sheet.offcut.outline;
        let left = outline.iter().map(|p| p.x).fold(f64::INFINITY, f64::min);
        let top = outline
            .iter()
            .map(|p| p.y)
            .fold(f64::NEG_INFINITY, f64::max);
        let length = self.looks.arrow;
        let corner = self.paper_from_cloth * Point::new(left, top);
        let middle = corner + Vec2::new(-length / 2.0 - 1.5, -length / 2.0);
        let half = along * (length / 2.0);
        let mut items = symbols::arrow(middle - half, middle + half);
        let words = if sheet.offcut.nap {
            "grain, nap"
        } else {
            "grain"
        };
        let below = middle - Vec2::new(0.0, length / 2.0 + self.looks.small * 1.2);
        items.push(Item::text(Layer::Text, below, self.looks.small, words).centred());
        items
    }
}
