//! Reading prints back with readers that share nothing with the writers: hayro for PDF.

#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use hayro_interpret::font::GlyphRun;
use hayro_interpret::{
    BlendMode, ClipPath, Context, Device, DrawMode, DrawProps, Image, ImageDrawProps,
    InterpreterCache, InterpreterSettings, SoftMask, interpret_page,
};
use hayro_syntax::Pdf;
use hayro_syntax::object::{Dict, String as PdfString};
use petitoile_core::kurbo::{Affine, BezPath, ParamCurve, Rect, Shape};

/// A path as a viewer shows it: mm, y up, origin at the lower left corner of the page.
#[derive(Debug, Clone)]
pub struct Shown {
    pub page: usize,
    pub layer: String,
    pub filled: bool,
    pub path: BezPath,
    /// Stroke width, mm.
    pub width: f64,
    pub dashes: usize,
    pub clip: Option<Rect>,
}

/// Everything a viewer shows of a file.
#[derive(Debug, Default)]
pub struct Read {
    pub paths: Vec<Shown>,
    /// Page, layer, words in the order of writing.
    pub words: Vec<(usize, String, String)>,
    /// Width and height of every page, mm.
    pub sizes: Vec<(f64, f64)>,
    clips: Vec<Rect>,
    layers: Vec<String>,
}

const MM: f64 = 25.4 / 72.0;

/// Reads a PDF.
pub fn pdf(bytes: &[u8]) -> Read {
    let pdf = Pdf::new(bytes.to_vec()).expect("a sound file");
    let cache = InterpreterCache::new();
    let mut read = Read::default();
    for page in pdf.pages().iter() {
        let all = Rect::new(-1e5, -1e5, 1e5, 1e5);
        let mut context = Context::new(
            Affine::scale(MM),
            all,
            &cache,
            pdf.xref(),
            InterpreterSettings::default(),
        );
        let (width, height) = page.base_dimensions();
        read.sizes
            .push((f64::from(width) * MM, f64::from(height) * MM));
        interpret_page(page, &mut context, &mut read);
        assert!(
            read.layers.is_empty() && read.clips.is_empty(),
            "layers and clips are closed at the end of a page"
        );
    }
    read
}

impl Read {
    fn layer(&self) -> String {
        self.layers.last().cloned().unwrap_or_default()
    }

    /// Paths of a layer on a page.
    pub fn on(&self, page: usize, layer: &str) -> impl Iterator<Item = &Shown> {
        self.paths
            .iter()
            .filter(move |shown| shown.page == page && shown.layer == layer)
    }

    /// All words of a page, one text after the other.
    pub fn words_on(&self, page: usize) -> String {
        self.words
            .iter()
            .filter(|(p, ..)| *p == page)
            .map(|(_, _, words)| words.as_str())
            .collect::<Vec<_>>()
            .join("\n")
    }

    fn put(&mut self, path: &BezPath, transform: Affine, mode: &DrawMode) {
        let (filled, width, dashes) = match mode {
            DrawMode::Stroke(stroke) => {
                (false, f64::from(stroke.line_width), stroke.dash_array.len())
            }
            _ => (true, 0.0, 0),
        };
        let [a, b, ..] = transform.as_coeffs();
        let shown = Shown {
            page: self.sizes.len() - 1,
            layer: self.layer(),
            filled,
            path: transform * path.clone(),
            width: width * a.hypot(b),
            dashes,
            clip: self.clips.iter().copied().reduce(|a, b| a.intersect(b)),
        };
        self.paths.push(shown);
    }
}

impl<'a> Device<'a> for Read {
    fn draw_path(&mut self, path: &BezPath, props: DrawProps<'a>, mode: &DrawMode) {
        self.put(path, props.transform, mode);
    }

    fn push_clip_path(&mut self, clip: &ClipPath) {
        self.clips.push(clip.path.bounding_box());
    }

    fn push_transparency_group(&mut self, _: f32, _: Option<SoftMask<'a>>, _: BlendMode) {}

    fn draw_glyph_run(&mut self, run: &GlyphRun<'_, 'a>, _: DrawProps<'a>, _: &DrawMode) {
        let words: String = run
            .glyphs()
            .iter()
            .map(|glyph| {
                // The type of a letter is not handed on by the reader's crate: its debug form is `Char('x')`.
                let form = format!("{:?}", glyph.as_unicode());
                form.strip_prefix("Some(Char('")
                    .and_then(|rest| rest.strip_suffix("'))"))
                    .unwrap_or("\u{fffd}")
                    .to_owned()
            })
            .collect();
        let entry = (self.sizes.len() - 1, self.layer(), words);
        self.words.push(entry);
    }

    fn draw_image(&mut self, _: Image<'a, '_>, _: ImageDrawProps<'a>) {
        panic!("there is no picture in a print");
    }

    fn pop_clip(&mut self) {
        self.clips.pop();
    }

    fn pop_transparency_group(&mut self) {}

    fn begin_marked_content(&mut self, tag: &[u8], properties: Option<&Dict<'_>>) {
        assert_eq!(tag, b"OC");
        let name = properties
            .and_then(|p| p.get::<PdfString<'_>>(b"Name".as_ref()))
            .expect("a layer has a name");
        self.layers
            .push(String::from_utf8(name.as_bytes().to_vec()).unwrap());
    }

    fn end_marked_content(&mut self) {
        self.layers.pop();
    }
}

/// The largest distance of like points on two paths of as many parts; infinite when their numbers differ.
pub fn apart(a: &BezPath, b: &BezPath) -> f64 {
    if a.segments().count() != b.segments().count() {
        return f64::INFINITY;
    }
    let at = [0.0, 0.2, 0.5, 0.8, 1.0];
    a.segments()
        .zip(b.segments())
        .flat_map(|(a, b)| at.map(|t| a.eval(t).distance(b.eval(t))))
        .fold(0.0, f64::max)
}
