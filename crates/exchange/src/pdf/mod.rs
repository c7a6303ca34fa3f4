//! PDF, written as vectors with an embedded font and layers. Same pages in, same bytes out.
//!
//! No date, no random number, no name of a machine goes into a file. The viewer is asked not to scale when printing.

mod content;
mod font;
pub mod read;

use pdf_writer::types::PageMode;
use pdf_writer::{Finish, Name, Pdf, Rect, Ref, TextStr};
use petitoile_core::kurbo::Affine;

use crate::drawing::{Drawing, Layer};
use crate::tiling::Pages;
use font::Subset;

/// PDF points in one millimetre: 72 in one inch.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// The largest page that every viewer takes: 14,400 points (PDF 1.7, annex C).
const LARGEST: f64 = 14_400.0;

/// Margin around a drawing on one sheet, mm.
const MARGIN: f64 = 5.0;

/// Writes pages as a PDF that asks the viewer for no print scaling.
pub fn write_pages(pages: &Pages) -> Vec<u8> {
    let (width, height) = pages.size;
    let pages_in: Vec<Page<'_>> = pages
        .pages
        .iter()
        .map(|drawing| Page {
            drawing,
            page_from_drawing: Affine::IDENTITY,
            width,
            height,
        })
        .collect();
    write(&pages.title, &pages_in)
}

/// Writes one drawing as a PDF of one page just large enough for it.
///
/// A drawing over 5.08 m long is beyond what viewers take as one page: it is then written with a larger user unit,
/// which some viewers do not know and show smaller.
pub fn write_one_sheet(drawing: &Drawing) -> Vec<u8> {
    let bounds = drawing.bounds().unwrap_or_default().inflate(MARGIN, MARGIN);
    let page_from_drawing = Affine::translate((-bounds.x0, -bounds.y0));
    write(
        &drawing.title,
        &[Page {
            drawing,
            page_from_drawing,
            width: bounds.width(),
            height: bounds.height(),
        }],
    )
}

/// A drawing on its page, mm.
struct Page<'a> {
    drawing: &'a Drawing,
    page_from_drawing: Affine,
    width: f64,
    height: f64,
}

/// Numbers of the objects in a file, in the order they are handed out.
struct Numbers(i32);

impl Numbers {
    fn next(&mut self) -> Ref {
        self.0 += 1;
        Ref::new(self.0)
    }
}

fn write(title: &str, pages: &[Page<'_>]) -> Vec<u8> {
    let mut numbers = Numbers(0);
    let mut pdf = Pdf::new();
    let (catalog, tree, info, face) = (
        numbers.next(),
        numbers.next(),
        numbers.next(),
        numbers.next(),
    );
    let layers: Vec<(Layer, Ref)> = Layer::ALL
        .into_iter()
        .map(|layer| (layer, numbers.next()))
        .collect();
    let subset = Subset::of(pages.iter().flat_map(|page| &page.drawing.items));

    pdf.document_info(info)
        .title(TextStr(title))
        .producer(TextStr("Petitoile"));
    write_catalog(&mut pdf, catalog, tree, &layers);
    let page_numbers: Vec<Ref> = pages.iter().map(|_| numbers.next()).collect();
    pdf.pages(tree)
        .kids(page_numbers.iter().copied())
        .count(i32::try_from(pages.len()).unwrap_or(i32::MAX));
    for (page, number) in pages.iter().zip(&page_numbers) {
        let content = numbers.next();
        write_page(
            &mut pdf, page, *number, tree, content, face, &layers, &subset,
        );
    }
    for (layer, number) in &layers {
        let mut group = pdf.indirect(*number).dict();
        group.pair(Name(b"Type"), Name(b"OCG"));
        group.pair(Name(b"Name"), TextStr(layer.name()));
    }
    subset.write(&mut pdf, face, || numbers.next());
    pdf.finish()
}

fn write_catalog(pdf: &mut Pdf, catalog: Ref, tree: Ref, layers: &[(Layer, Ref)]) {
    let numbers = || layers.iter().map(|(_, number)| *number);
    let mut catalog = pdf.catalog(catalog);
    catalog.pages(tree);
    catalog.page_mode(PageMode::UseNone);
    catalog.lang(TextStr("en"));
    let mut viewer = catalog.viewer_preferences();
    viewer.display_doc_title(true);
    viewer.pair(Name(b"PrintScaling"), Name(b"None"));
    viewer.finish();
    let mut properties = catalog.insert(Name(b"OCProperties")).dict();
    properties.insert(Name(b"OCGs")).array().items(numbers());
    let mut usual = properties.insert(Name(b"D")).dict();
    usual.pair(Name(b"Name"), TextStr("As printed"));
    usual.pair(Name(b"BaseState"), Name(b"ON"));
    usual.insert(Name(b"Order")).array().items(numbers());
}

#[allow(
    clippy::too_many_arguments,
    reason = "the numbers of a page's objects, used here only"
)]
fn write_page(
    pdf: &mut Pdf,
    page: &Page<'_>,
    number: Ref,
    tree: Ref,
    content: Ref,
    face: Ref,
    layers: &[(Layer, Ref)],
    subset: &Subset,
) {
    let longest = page.width.max(page.height) * POINTS_PER_MM;
    let unit = (longest / LARGEST).ceil().max(1.0);
    let scale = POINTS_PER_MM / unit;
    let mut out = pdf.page(number);
    out.parent(tree)
        .media_box(Rect::new(
            0.0,
            0.0,
            (page.width * scale) as f32,
            (page.height * scale) as f32,
        ))
        .contents(content);
    if unit > 1.0 {
        out.user_unit(unit as f32);
    }
    let mut resources = out.resources();
    resources.fonts().pair(font::NAME, face);
    let mut properties = resources.insert(Name(b"Properties")).dict();
    for (layer, number) in layers {
        properties.pair(content::layer_tag(*layer), *number);
    }
    properties.finish();
    resources.finish();
    out.finish();
    let points_from_drawing = Affine::scale(scale) * page.page_from_drawing;
    let bytes = content::write(page.drawing, points_from_drawing, scale, subset);
    let packed = miniz_oxide::deflate::compress_to_vec_zlib(&bytes, 6);
    pdf.stream(content, &packed)
        .filter(pdf_writer::Filter::FlateDecode);
}
