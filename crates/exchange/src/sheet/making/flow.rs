//! Blocks set one below the other, column by column and page by page.

use petitoile_core::kurbo::{Affine, Point};

use super::blocks::Block;
use super::{GUTTER, SMALL};
use crate::drawing::{Drawing, Item, Layer};
use crate::tiling::Pages;

/// Room for the name of the page at its foot, mm.
const FOOT: f64 = 5.0;

/// Pages that are being filled from the top.
pub(in crate::sheet) struct Flow {
    title: String,
    size: (f64, f64),
    margin: f64,
    columns: u32,
    column: f64,
    /// Items of every page, in page coordinates.
    pages: Vec<Vec<Item>>,
    /// The column that is being filled, from 0.
    now: u32,
    /// Where the next block begins, from the top of the page's room down.
    down: f64,
    /// Where columns of this page begin.
    top: f64,
}

impl Flow {
    pub(in crate::sheet) fn new(
        title: &str,
        size: (f64, f64),
        margin: f64,
        columns: u32,
        column: f64,
    ) -> Self {
        Self {
            title: title.to_owned(),
            size,
            margin,
            columns,
            column,
            pages: vec![Vec::new()],
            now: 0,
            down: 0.0,
            top: 0.0,
        }
    }

    /// Height of a page between its margins and above its foot, mm.
    pub(in crate::sheet) fn room(&self) -> f64 {
        self.size.1 - 2.0 * self.margin - FOOT
    }

    /// A block over all columns, at the top of the page.
    pub(in crate::sheet) fn put_across(&mut self, block: &Block) {
        self.paint(block, self.margin);
        self.down += block.height;
        self.top = self.down;
    }

    /// Blocks that follow each other. The first is a heading: it stays with the next one.
    pub(in crate::sheet) fn put_section(&mut self, section: &[Block]) {
        for (i, block) in section.iter().enumerate() {
            let with = if i == 0 {
                section.get(1).map_or(0.0, |next| next.height)
            } else {
                0.0
            };
            if self.down + block.height + with > self.room() && self.down > self.top {
                self.next_column();
            }
            let left = self.margin + f64::from(self.now) * (self.column + GUTTER);
            self.paint(block, left);
            self.down += block.height;
        }
    }

    /// Goes on at the top of a new page, unless this one is still empty.
    pub(in crate::sheet) fn next_page(&mut self) {
        if self.down > 0.0 || self.now > 0 {
            self.now = self.columns;
            self.next_column();
        }
    }

    fn next_column(&mut self) {
        self.now += 1;
        if self.now >= self.columns {
            self.now = 0;
            self.top = 0.0;
            self.pages.push(Vec::new());
        }
        self.down = self.top;
    }

    fn paint(&mut self, block: &Block, left: f64) {
        let to = Affine::translate((left, self.size.1 - self.margin - self.down));
        if let Some(page) = self.pages.last_mut() {
            page.extend(block.items.iter().map(|item| item.moved(to)));
        }
    }

    /// The pages with their names.
    pub(in crate::sheet) fn pages(self) -> Pages {
        let of = self.pages.len();
        let pages = self
            .pages
            .into_iter()
            .enumerate()
            .map(|(i, mut items)| {
                let name = format!("{}, page {} of {of}", self.title, i + 1);
                let at = Point::new(self.margin, self.margin);
                items.push(Item::text(Layer::Page, at, SMALL, name.clone()));
                Drawing { title: name, items }
            })
            .collect();
        Pages {
            title: self.title,
            size: self.size,
            pages,
            placed: Vec::new(),
        }
    }
}
