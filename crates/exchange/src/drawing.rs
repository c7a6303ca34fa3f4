//! The one neutral drawing that readers make and writers take: lines, fills and texts in mm, on named layers.

use petitoile_core::kurbo::{Affine, BezPath, Point, Rect, Shape, Vec2};

use crate::font;

/// Strokes, fills and texts. Lengths in mm, y up.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Drawing {
    /// What it shows.
    pub title: String,
    /// Painted in this order.
    pub items: Vec<Item>,
}

/// One thing in a drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// Its layer.
    pub layer: Layer,
    /// What is painted.
    pub ink: Ink,
    /// Nothing is painted outside of this rectangle.
    pub clip: Option<Rect>,
}

/// Layers a maker can switch on and off in a viewer. Each has its own stroke and colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// Fine indigo stroke.
    StitchLines,
    /// Heavier madder stroke.
    CutLines,
    /// Folds, hems, grain arrows, notches, dots.
    Marks,
    /// Names, counts, instructions.
    Text,
    /// Page borders, join marks, rulers, test squares, page map.
    Page,
}

/// What is painted.
#[derive(Debug, Clone, PartialEq)]
pub enum Ink {
    /// A line.
    Stroke {
        /// Where.
        path: BezPath,
        /// How thick, mm.
        width: f64,
        /// Dash and gap, mm; empty is solid.
        dash: Vec<f64>,
    },
    /// A filled area.
    Fill(BezPath),
    /// A line of text.
    Text {
        /// Left end of the base line, or its middle when `centred`.
        at: Point,
        /// Height of a capital letter times 1.4, mm.
        size: f64,
        /// Turned counter-clockwise, degrees.
        turn: f64,
        /// Is `at` the middle of the line?
        centred: bool,
        /// The words.
        words: String,
    },
}

/// Drawings of all pieces of one garment, each in its own place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    /// Garment and body.
    pub title: String,
    /// One drawing per piece, in the piece's own coordinates.
    pub pieces: Vec<PieceDrawing>,
}

/// One piece ready to be put on paper.
#[derive(Debug, Clone, PartialEq)]
pub struct PieceDrawing {
    /// Name of the piece.
    pub name: String,
    /// Everything that must be printed, inside this rectangle.
    pub bounds: Rect,
    /// The drawing.
    pub drawing: Drawing,
}

impl Layer {
    /// Every layer, in painting order.
    pub const ALL: [Self; 5] = [
        Self::StitchLines,
        Self::CutLines,
        Self::Marks,
        Self::Text,
        Self::Page,
    ];

    /// What it is called in a viewer.
    pub fn name(self) -> &'static str {
        match self {
            Self::StitchLines => "Stitch lines",
            Self::CutLines => "Cut lines",
            Self::Marks => "Marks",
            Self::Text => "Text",
            Self::Page => "Page",
        }
    }

    /// Red, green and blue. Each layer also differs in lightness, so that a grey print still tells them apart.
    pub fn colour(self) -> [u8; 3] {
        match self {
            Self::StitchLines => [38, 50, 120],
            Self::CutLines => [196, 72, 64],
            Self::Marks | Self::Text => [32, 32, 36],
            Self::Page => [132, 132, 136],
        }
    }
}

impl Item {
    /// A line without dashes.
    pub fn stroke(layer: Layer, path: BezPath, width: f64) -> Self {
        Self {
            layer,
            ink: Ink::Stroke {
                path,
                width,
                dash: Vec::new(),
            },
            clip: None,
        }
    }

    /// A dashed line: dash, gap, mm.
    pub fn dashed(layer: Layer, path: BezPath, width: f64, dash: &[f64]) -> Self {
        Self {
            layer,
            ink: Ink::Stroke {
                path,
                width,
                dash: dash.to_vec(),
            },
            clip: None,
        }
    }

    /// A filled area.
    pub fn fill(layer: Layer, path: BezPath) -> Self {
        Self {
            layer,
            ink: Ink::Fill(path),
            clip: None,
        }
    }

    /// A line of text that starts at `at`.
    pub fn text(layer: Layer, at: Point, size: f64, words: impl Into<String>) -> Self {
        Self {
            layer,
            ink: Ink::Text {
                at,
                size,
                turn: 0.0,
                centred: false,
                words: words.into(),
            },
            clip: None,
        }
    }

    /// The text with `at` as its middle; other ink stays as it is.
    #[must_use]
    pub fn centred(mut self) -> Self {
        if let Ink::Text { centred, .. } = &mut self.ink {
            *centred = true;
        }
        self
    }

    /// The text turned counter-clockwise about `at`; other ink stays as it is.
    #[must_use]
    pub fn turned(mut self, degrees: f64) -> Self {
        if let Ink::Text { turn, .. } = &mut self.ink {
            *turn = degrees;
        }
        self
    }

    /// The same painted only inside of a rectangle.
    #[must_use]
    pub fn clipped(mut self, to: Rect) -> Self {
        self.clip = Some(self.clip.map_or(to, |clip| clip.intersect(to)));
        self
    }

    /// The same in other coordinates, mm.
    ///
    /// Texts are moved and turned but keep their size and never print mirrored; a centred text never prints upside
    /// down. Turns other than by quarters make a
    /// clip larger than it was.
    #[must_use]
    pub fn moved(&self, to_from: Affine) -> Self {
        let ink = match &self.ink {
            Ink::Stroke { path, width, dash } => Ink::Stroke {
                path: to_from * path.clone(),
                width: *width,
                dash: dash.clone(),
            },
            Ink::Fill(path) => Ink::Fill(to_from * path.clone()),
            Ink::Text {
                at,
                size,
                turn,
                centred,
                words,
            } => {
                let [a, b, ..] = to_from.as_coeffs();
                let turn = turn + libm::atan2(b, a).to_degrees();
                let (at, turn) = if *centred && is_upside_down(turn) {
                    // Turned about the middle of its capitals, which stand 1/1.4 of the size high.
                    let up = Vec2::from_angle(turn.to_radians()).turn_90() * (size / 1.4);
                    (to_from * *at + up, turn - 180.0)
                } else {
                    (to_from * *at, turn)
                };
                Ink::Text {
                    at,
                    size: *size,
                    turn,
                    centred: *centred,
                    words: words.clone(),
                }
            }
        };
        Self {
            layer: self.layer,
            ink,
            clip: self.clip.map(|clip| to_from.transform_rect_bbox(clip)),
        }
    }

    /// Smallest upright rectangle around everything that is painted, half the stroke's width included.
    pub fn bounds(&self) -> Rect {
        let all = match &self.ink {
            Ink::Stroke { path, width, .. } => {
                path.bounding_box().inflate(width / 2.0, width / 2.0)
            }
            Ink::Fill(path) => path.bounding_box(),
            Ink::Text {
                at,
                size,
                turn,
                centred,
                words,
            } => {
                let long = font::width(words, *size);
                let left = if *centred { -long / 2.0 } else { 0.0 };
                let upright = Rect::new(
                    left,
                    -font::DESCENT * size,
                    left + long,
                    font::ASCENT * size,
                );
                (Affine::translate(at.to_vec2()) * Affine::rotate(turn.to_radians()))
                    .transform_rect_bbox(upright)
            }
        };
        self.clip.map_or(all, |clip| all.intersect(clip))
    }
}

/// Would a text at this turn stand on its head? Read from the right (90 degrees) it does not.
fn is_upside_down(degrees: f64) -> bool {
    let turn = degrees.rem_euclid(360.0);
    90.0 + 1e-6 < turn && turn <= 270.0 + 1e-6
}

impl Drawing {
    /// Smallest upright rectangle around everything that is painted; `None` when there is nothing.
    pub fn bounds(&self) -> Option<Rect> {
        self.items
            .iter()
            .map(Item::bounds)
            .reduce(|a, b| a.union(b))
    }
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests {
    use super::*;

    #[test]
    fn a_centred_text_turned_on_its_head_is_set_upright_in_the_same_place() {
        let text = Item::text(Layer::Marks, Point::new(10.0, 20.0), 2.8, "place on fold")
            .centred()
            .turned(90.0);
        let quarter = Affine::rotate(std::f64::consts::FRAC_PI_2);
        let moved = text.moved(quarter);
        let Ink::Text { at, turn, .. } = moved.ink else {
            panic!("a text")
        };
        assert!(turn.abs() < 1e-9);
        // Capitals stood from x 10 to x 8, left of the base line; now from y 8 to y 10.
        assert!(at.distance(Point::new(-20.0, 8.0)) < 1e-9, "{at:?}");
    }

    #[test]
    fn bounds_hold_the_stroke_and_stop_at_the_clip() {
        let mut path = BezPath::new();
        path.move_to((0.0, 0.0));
        path.line_to((100.0, 0.0));
        let item = Item::stroke(Layer::CutLines, path, 0.5);
        assert_eq!(item.bounds(), Rect::new(-0.25, -0.25, 100.25, 0.25));
        let clip = Rect::new(10.0, -5.0, 40.0, 5.0);
        assert_eq!(
            item.clipped(clip).bounds(),
            Rect::new(10.0, -0.25, 40.0, 0.25)
        );
    }
}
