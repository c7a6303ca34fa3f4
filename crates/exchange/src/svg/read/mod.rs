//! Reads SVG, packed or not.
//!
//! Four steps: look over the letters (`guard`), make a plain SVG of it (`plain`), let usvg work out lengths, view boxes,
//! transforms, shapes and texts, and take the lines out of its tree (`lines`).

mod data;
mod guard;
mod lines;
mod names;
mod plain;
mod size;
mod style;
mod unpack;
mod words;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, LazyLock};

use petitoile_core::kurbo::{Affine, Rect, Shape};
use roxmltree::{Document, ParsingOptions};
use usvg::{FontResolver, ImageHrefResolver, Options, Tree, fontdb};

use self::lines::{Lines, place};
use self::size::Size;

use crate::bring_in::{BringInError, FoundDrawing, FoundSheet, Kind, Limits, Watch};
use crate::font;

pub(crate) use self::size::PX;

/// The bundled font, ready for usvg.
static FONTS: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(font::BYTES.to_vec());
    Arc::new(fonts)
});

/// Reads an SVG.
///
/// Lengths come out as the file gives them in mm, cm, in, pt or pc; px are taken as 96 to an inch and the drawing says so in
/// its [`Scale`](crate::bring_in::Scale). Coordinates are exact to 7 digits (usvg counts in f32): 0.0002 mm at 1 m.
///
/// # Errors
/// [`BringInError`]: broken, beyond a limit, stopped, or nothing drawn in it.
pub fn read(
    bytes: &[u8],
    name: &str,
    limits: &Limits,
    watch: &Watch<'_>,
) -> Result<FoundDrawing, BringInError> {
    limits.admit(bytes, name)?;
    watch.at(0.0, name)?;
    let text = unpack::letters(bytes, name, limits)?;
    guard::guard(&text, limits, name)?;
    watch.at(0.1, name)?;
    let doc = parsed(&text, name, limits)?;
    let size = Size::of(doc.root_element());
    let sheets = style::sheets(&doc);
    let mut plain = plain::plain(&doc, &sheets, &size, limits, name)?;
    watch.at(0.3, name)?;
    let tree = tree(&plain.xml).map_err(|why| broken(name, why))?;
    plain.xml = String::new();
    watch.at(0.8, name)?;
    let height = size.height * PX;
    let mm_from_px = Affine::new([PX, 0.0, 0.0, -PX, 0.0, height]);
    let mut lines = Lines::new(mm_from_px, &plain, limits, watch, name);
    lines.group(tree.root())?;
    let nothing = (0..).zip(&lines.seen).filter(|(_, seen)| !**seen);
    for (number, _) in nothing {
        lines.left.add(
            "an element that draws nothing",
            "look whether its size or data are wrong",
            || place(plain.shapes.get::<usize>(number)),
        );
    }
    let (mut sheet, later) = (lines.sheet, lines.left);
    if sheet.lines.is_empty() && sheet.texts.is_empty() {
        return Err(BringInError::Empty {
            file: name.to_owned(),
        });
    }
    sheet.name = names::name(doc.root_element()).unwrap_or_default();
    sheet.bounds = if size.known {
        Rect::new(0.0, 0.0, size.width * PX, height)
    } else {
        drawn(&sheet)
    };
    let mut left = plain.left.into_left();
    left.extend(later.into_left());
    watch.at(1.0, name)?;
    Ok(FoundDrawing {
        file: name.to_owned(),
        kind: Kind::Svg,
        scale: size.scale,
        sheets: vec![sheet],
        left,
    })
}

fn broken(file: &str, why: String) -> BringInError {
    BringInError::Broken {
        file: file.to_owned(),
        why,
    }
}

fn parsed<'a>(text: &'a str, file: &str, limits: &Limits) -> Result<Document<'a>, BringInError> {
    let options = ParsingOptions {
        allow_dtd: true,
        nodes_limit: u32::try_from(limits.elements).unwrap_or(u32::MAX),
        ..ParsingOptions::default()
    };
    let parsed = catch_unwind(AssertUnwindSafe(|| {
        Document::parse_with_options(text, options)
    }));
    match parsed {
        Ok(Ok(doc)) => Ok(doc),
        Ok(Err(roxmltree::Error::NodesLimitReached)) => {
            Err(limits.error(file, limits.elements, "elements"))
        }
        Ok(Err(why)) => Err(broken(file, format!("this is no sound XML ({why})"))),
        Err(_) => Err(broken(file, "this is no sound XML".to_owned())),
    }
}

/// Lets usvg work it out, with our one font and without any other file.
pub(crate) fn tree(xml: &str) -> Result<Tree, String> {
    let options = Options {
        fontdb: Arc::clone(&FONTS),
        font_resolver: FontResolver {
            select_font: Box::new(|_, fonts| fonts.faces().next().map(|face| face.id)),
            select_fallback: Box::new(|_, _, _| None),
        },
        image_href_resolver: ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..Options::default()
    };
    match catch_unwind(AssertUnwindSafe(|| Tree::from_str(xml, &options))) {
        Ok(Ok(tree)) => Ok(tree),
        Ok(Err(why)) => Err(why.to_string()),
        Err(_) => Err("something in it cannot be worked out".to_owned()),
    }
}

fn drawn(sheet: &FoundSheet) -> Rect {
    let lines = sheet.lines.iter().map(|line| line.path.bounding_box());
    let texts = sheet
        .texts
        .iter()
        .map(|text| Rect::from_points(text.at, text.at));
    lines
        .chain(texts)
        .reduce(|a, b| a.union(b))
        .unwrap_or_default()
}
