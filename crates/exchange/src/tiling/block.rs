//! A piece larger than a page, spread over a block of pages that share strips.

use std::collections::BTreeSet;

use petitoile_core::kurbo::{Affine, Point, Rect, Shape, Size};

use crate::drawing::{Ink, Layer, PieceDrawing};
use crate::sheet::strokes;

/// A piece in its block: mm, origin at the lower left corner of the block.
pub(super) struct Block {
    columns: usize,
    rows: usize,
    area: Size,
    overlap: f64,
    /// Where the piece lies.
    pub piece: Rect,
    /// From the piece's own coordinates.
    pub block_from_piece: Affine,
}

/// A page of a block.
pub(super) struct BlockPage {
    column: usize,
    row: usize,
    /// What it shows of the block.
    pub rect: Rect,
}

/// Two neighbours and the strip they share.
pub(super) struct BlockJoin {
    /// The left or upper page, by its place in the list.
    pub first: usize,
    /// The right or lower page.
    pub second: usize,
    /// What both show.
    pub strip: Rect,
    /// One end of the middle of the strip.
    pub from: Point,
    /// Its other end.
    pub to: Point,
}

/// How many pages of this length cover a length, when neighbours share a strip.
fn count(length: f64, page: f64, overlap: f64) -> usize {
    if length <= page {
        1
    } else {
        ((length - overlap) / (page - overlap) - 1e-9)
            .ceil()
            .clamp(1.0, 1e4) as usize
    }
}

impl Block {
    /// The piece upright or turned by a quarter, whichever takes fewer pages; upright when it is the same.
    pub(super) fn new(piece: &PieceDrawing, area: Size, overlap: f64) -> Self {
        let size = piece.bounds.size();
        let pages = |w: f64, h: f64| {
            (
                count(w, area.width, overlap),
                count(h, area.height, overlap),
            )
        };
        let (upright, turned) = (
            pages(size.width, size.height),
            pages(size.height, size.width),
        );
        let turn = turned.0 * turned.1 < upright.0 * upright.1;
        let (columns, rows) = if turn { turned } else { upright };
        let size = if turn {
            Size::new(size.height, size.width)
        } else {
            size
        };
        let height = rows as f64 * (area.height - overlap) + overlap;
        let at = Rect::from_origin_size((0.0, height - size.height), size);
        Self {
            columns,
            rows,
            area,
            overlap,
            piece: at,
            block_from_piece: super::into(at, piece, turn),
        }
    }

    fn rect(&self, column: usize, row: usize) -> Rect {
        let x = column as f64 * (self.area.width - self.overlap);
        let y = (self.rows - 1 - row) as f64 * (self.area.height - self.overlap);
        Rect::from_origin_size((x, y), self.area)
    }

    /// The pages that are needed: those with ink, or cloth, that no page to the left or above shows already.
    pub(super) fn pages(&self, piece: &PieceDrawing) -> Vec<BlockPage> {
        let mut pages = Vec::new();
        let ink = Inked::new(piece, self);
        for row in 0..self.rows {
            for column in 0..self.columns {
                let rect = self.rect(column, row);
                let left = if column > 0 { self.overlap } else { 0.0 };
                let above = if row > 0 { self.overlap } else { 0.0 };
                let own = Rect::new(rect.x0 + left, rect.y0, rect.x1, rect.y1 - above);
                if ink.touches(own) || ink.words.contains(&(column, row)) {
                    pages.push(BlockPage { column, row, rect });
                }
            }
        }
        pages
    }

    /// The first page, row by row, that shows all of something.
    fn home(&self, bounds: Rect) -> Option<(usize, usize)> {
        let places =
            (0..self.rows).flat_map(|row| (0..self.columns).map(move |column| (column, row)));
        places
            .into_iter()
            .find(|(column, row)| is_inside(bounds, self.rect(*column, *row)))
    }

    /// Words of a piece that a page would show in part only, while another page shows them whole.
    pub(super) fn words_elsewhere(
        &self,
        piece: &PieceDrawing,
        page: &BlockPage,
    ) -> BTreeSet<usize> {
        let words = piece
            .drawing
            .items
            .iter()
            .enumerate()
            .filter(|(_, item)| matches!(item.ink, Ink::Text { .. }));
        words
            .map(|(at, item)| (at, item.moved(self.block_from_piece).bounds()))
            .filter(|(_, bounds)| !is_inside(*bounds, page.rect) && self.home(*bounds).is_some())
            .map(|(at, _)| at)
            .collect()
    }

    /// The joins between pages that are there.
    pub(super) fn joins(&self, pages: &[BlockPage]) -> Vec<BlockJoin> {
        let mut joins = Vec::new();
        for (first, page) in pages.iter().enumerate() {
            for (column, row) in [(page.column + 1, page.row), (page.column, page.row + 1)] {
                let Some(second) = pages
                    .iter()
                    .position(|p| (p.column, p.row) == (column, row))
                else {
                    continue;
                };
                let strip = page.rect.intersect(self.rect(column, row));
                let middle = strip.center();
                let (from, to) = if column > page.column {
                    (
                        Point::new(middle.x, strip.y0),
                        Point::new(middle.x, strip.y1),
                    )
                } else {
                    (
                        Point::new(strip.x0, middle.y),
                        Point::new(strip.x1, middle.y),
                    )
                };
                joins.push(BlockJoin {
                    first,
                    second,
                    strip,
                    from,
                    to,
                });
            }
        }
        joins
    }
}

/// Everything a piece shows, as straight strokes, boxes and its cloth.
struct Inked {
    strokes: Vec<(Point, Point)>,
    boxes: Vec<Rect>,
    /// Column and row of the pages that show words whole.
    words: BTreeSet<(usize, usize)>,
    cut: Vec<petitoile_core::kurbo::BezPath>,
}

impl Inked {
    fn new(piece: &PieceDrawing, block: &Block) -> Self {
        let mut all = Self {
            strokes: Vec::new(),
            boxes: Vec::new(),
            words: BTreeSet::new(),
            cut: Vec::new(),
        };
        for item in piece
            .drawing
            .items
            .iter()
            .map(|item| item.moved(block.block_from_piece))
        {
            match &item.ink {
                Ink::Stroke { path, .. } => {
                    all.strokes.extend(strokes(path));
                    if item.layer == Layer::CutLines {
                        all.cut.push(path.clone());
                    }
                }
                Ink::Fill(_) => all.boxes.push(item.bounds()),
                Ink::Text { .. } => match block.home(item.bounds()) {
                    Some(page) => drop(all.words.insert(page)),
                    None => all.boxes.push(item.bounds()),
                },
            }
        }
        all
    }

    fn touches(&self, rect: Rect) -> bool {
        // Strokes are flattened to 0.1 mm: look a little farther, so that none is missed.
        let wide = rect.inflate(0.3, 0.3);
        self.strokes.iter().any(|(a, b)| crosses(*a, *b, wide))
            || self.boxes.iter().any(|b| super::touches(*b, rect))
            || self.cut.iter().any(|path| path.contains(rect.center()))
    }
}

/// Does one rectangle lie in another?
fn is_inside(inner: Rect, outer: Rect) -> bool {
    outer.x0 <= inner.x0 && outer.y0 <= inner.y0 && inner.x1 <= outer.x1 && inner.y1 <= outer.y1
}

/// Does a straight stroke meet a rectangle? (Clipped against its four sides in turn.)
fn crosses(a: Point, b: Point, rect: Rect) -> bool {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    let d = b - a;
    for (start, step, least, most) in [(a.x, d.x, rect.x0, rect.x1), (a.y, d.y, rect.y0, rect.y1)] {
        if step == 0.0 {
            if start < least || most < start {
                return false;
            }
            continue;
        }
        let (s, t) = ((least - start) / step, (most - start) / step);
        enter = enter.max(s.min(t));
        leave = leave.min(s.max(t));
    }
    enter <= leave
}
