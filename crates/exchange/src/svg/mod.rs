//! SVG in real millimetres.

pub mod read;

use std::fmt::Write;

use petitoile_core::kurbo::{Affine, BezPath, PathEl, Point, Rect};

use crate::drawing::{Drawing, Ink, Item, Layer};
use crate::font;

/// Margin around the drawing, mm.
const MARGIN: f64 = 5.0;

/// Writes a drawing as SVG, width and height in mm, one group per layer.
///
/// One unit is one millimetre. The drawing's y axis points up, the file's down; coordinates carry four decimals.
pub fn write(drawing: &Drawing) -> String {
    let bounds = drawing.bounds().unwrap_or_default().inflate(MARGIN, MARGIN);
    let to = Affine::new([1.0, 0.0, 0.0, -1.0, -bounds.x0, bounds.y1]);
    let (width, height) = (number(bounds.width()), number(bounds.height()));
    let mut out = String::from("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    add(
        &mut out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n"
        ),
    );
    add(
        &mut out,
        format_args!("<title>{}</title>\n", escaped(&drawing.title)),
    );
    let mut clips = Clips::default();
    let mut body = String::new();
    for layer in Layer::ALL {
        let items: Vec<&Item> = drawing
            .items
            .iter()
            .filter(|item| item.layer == layer)
            .collect();
        if items.is_empty() {
            continue;
        }
        let [red, green, blue] = layer.colour();
        let colour = format!("#{red:02x}{green:02x}{blue:02x}");
        add(
            &mut body,
            format_args!(
                "<g id=\"{}\" fill=\"none\" stroke=\"{colour}\" font-family=\"'{}', Verdana, sans-serif\">\n",
                id(layer),
                font::FAMILY
            ),
        );
        for item in items {
            item_words(&mut body, item, to, &colour, &mut clips);
        }
        body.push_str("</g>\n");
    }
    out.push_str(&clips.words());
    out.push_str(&body);
    out.push_str("</svg>\n");
    out
}

/// The id of a layer's group.
pub fn id(layer: Layer) -> &'static str {
    match layer {
        Layer::StitchLines => "stitch-lines",
        Layer::CutLines => "cut-lines",
        Layer::Marks => "marks",
        Layer::Text => "text",
        Layer::Page => "page",
    }
}

/// Clip rectangles, each written once.
#[derive(Default)]
struct Clips(Vec<Rect>);

impl Clips {
    fn attribute(&mut self, clip: Option<Rect>, to: Affine) -> String {
        let Some(clip) = clip else {
            return String::new();
        };
        let rect = to.transform_rect_bbox(clip);
        let at = self
            .0
            .iter()
            .position(|known| *known == rect)
            .unwrap_or_else(|| {
                self.0.push(rect);
                self.0.len() - 1
            });
        format!(" clip-path=\"url(#clip-{at})\"")
    }

    fn words(&self) -> String {
        let mut out = String::new();
        for (i, rect) in self.0.iter().enumerate() {
            let (x, y, width, height) = (
                number(rect.x0),
                number(rect.y0),
                number(rect.width()),
                number(rect.height()),
            );
            add(
                &mut out,
                format_args!(
                    "<clipPath id=\"clip-{i}\"><rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/></clipPath>\n"
                ),
            );
        }
        out
    }
}

fn item_words(out: &mut String, item: &Item, to: Affine, colour: &str, clips: &mut Clips) {
    let clip = clips.attribute(item.clip, to);
    match &item.ink {
        Ink::Stroke { path, width, dash } => {
            let dashes = if dash.is_empty() {
                String::new()
            } else {
                format!(
                    " stroke-dasharray=\"{}\"",
                    dash.iter()
                        .map(|part| number(*part))
                        .collect::<Vec<_>>()
                        .join(" ")
                )
            };
            add(
                out,
                format_args!(
                    "<path d=\"{}\" stroke-width=\"{}\"{dashes}{clip}/>\n",
                    path_words(path, to),
                    number(*width)
                ),
            );
        }
        Ink::Fill(path) => add(
            out,
            format_args!(
                "<path d=\"{}\" fill=\"{colour}\" stroke=\"none\"{clip}/>\n",
                path_words(path, to)
            ),
        ),
        Ink::Text {
            at,
            size,
            turn,
            centred,
            words,
        } => {
            let at = to * *at;
            let (x, y, size) = (number(at.x), number(at.y), number(font::em(*size)));
            let anchor = if *centred {
                " text-anchor=\"middle\""
            } else {
                ""
            };
            let turned = if *turn == 0.0 {
                String::new()
            } else {
                format!(" transform=\"rotate({} {x} {y})\"", number(-turn))
            };
            let text = format!(
                "<text x=\"{x}\" y=\"{y}\" font-size=\"{size}\" fill=\"{colour}\" stroke=\"none\"{anchor}{turned}>{}</text>",
                escaped(words)
            );
            // A clip on turned text would be turned with it: clip a group around it.
            if clip.is_empty() {
                add(out, format_args!("{text}\n"));
            } else {
                add(out, format_args!("<g{clip}>{text}</g>\n"));
            }
        }
    }
}

/// Path data with absolute coordinates.
fn path_words(path: &BezPath, to: Affine) -> String {
    let mut out = String::new();
    let mut put = |letter: char, points: &[Point]| {
        if !out.is_empty() {
            out.push(' ');
        }
        out.push(letter);
        let words: Vec<String> = points
            .iter()
            .map(|p| to * *p)
            .map(|p| format!("{},{}", number(p.x), number(p.y)))
            .collect();
        out.push_str(&words.join(" "));
    };
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => put('M', &[p]),
            PathEl::LineTo(p) => put('L', &[p]),
            PathEl::QuadTo(a, p) => put('Q', &[a, p]),
            PathEl::CurveTo(a, b, p) => put('C', &[a, b, p]),
            PathEl::ClosePath => put('Z', &[]),
        }
    }
    out
}

/// At most four decimals, no trailing zeros.
fn number(value: f64) -> String {
    let words = format!("{value:.4}");
    let words = words.trim_end_matches('0').trim_end_matches('.');
    if words == "-0" {
        "0".to_owned()
    } else {
        words.to_owned()
    }
}

/// A text that is safe inside a tag; letters that XML forbids are left out.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for letter in words.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\n' | '\r' | '\t' => out.push(' '),
            '\u{0}'..='\u{1f}' | '\u{fffe}' | '\u{ffff}' => {}
            other => out.push(other),
        }
    }
    out
}

/// Writing to a text never fails.
fn add(out: &mut String, words: std::fmt::Arguments<'_>) {
    let _ = out.write_fmt(words);
}
