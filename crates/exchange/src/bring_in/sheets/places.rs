//! Where each page lies in the joined sheet.

use petitoile_core::kurbo::{Point, Rect, Vec2};

use crate::bring_in::{FoundDrawing, FoundSheet};

/// Gap between pages that do not join and the others, mm.
const ASIDE: f64 = 20.0;

/// Where every page lies. The maker may change any of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct PagePlaces {
    /// One for each sheet of the drawing, in its order.
    pub pages: Vec<PagePlace>,
    /// Blank edge of every page, mm: pages are taken as that much smaller on each side, and lines wholly in it are left
    /// out.
    pub trim: f64,
}

/// Where one page lies.
#[derive(Debug, Clone, PartialEq)]
pub struct PagePlace {
    /// Lower left corner of its bounds in the joined sheet, mm.
    pub at: Point,
    /// Is it part of the joined sheet? A cover or a page of instructions is not.
    pub used: bool,
    /// How it came there.
    pub by: PlacedBy,
    /// How sure that is, 0 to 1.
    pub sure: f64,
    /// How far apart lines are where it meets the others, mm; `None` when nothing told.
    pub off: Option<f64>,
}

/// How a page came to its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlacedBy {
    /// By the figures the maker gave, or by dragging it.
    Given,
    /// By what it shares with its neighbours.
    Lines,
    /// By the order of the pages and the places of others.
    Order,
    /// Nothing joins it to another: it lies aside.
    Aside,
}

/// Pages in rows from the upper left, all of one size and with one overlap.
#[derive(Debug, Clone, PartialEq)]
pub struct Rows {
    /// Pages beside one another.
    pub columns: usize,
    /// Strip that neighbours share, across and up, mm (measured on the trimmed pages).
    pub overlap: (f64, f64),
    /// Blank edge of every page, mm.
    pub trim: f64,
    /// Pages before the first of the sheet: a cover, instructions.
    pub skip: usize,
    /// Are they counted down the columns first?
    pub down: bool,
    /// Rows, where pages are counted down.
    pub rows: usize,
}

impl Default for Rows {
    fn default() -> Self {
        Self {
            columns: 1,
            overlap: (0.0, 0.0),
            trim: 0.0,
            skip: 0,
            down: false,
            rows: 1,
        }
    }
}

impl PagePlaces {
    /// Pages in rows, as the maker says. They are not yet moved to where their lines meet: see
    /// [`super::Matches::refined`].
    pub fn in_rows(drawing: &FoundDrawing, rows: &Rows) -> Self {
        let mut places = Self {
            pages: Vec::new(),
            trim: rows.trim.max(0.0),
        };
        let size = drawing
            .sheets
            .get(rows.skip)
            .map(|sheet| sheet.bounds.size())
            .unwrap_or_default();
        let step = Vec2::new(
            size.width - 2.0 * places.trim - rows.overlap.0,
            size.height - 2.0 * places.trim - rows.overlap.1,
        );
        for index in 0..drawing.sheets.len() {
            let Some(number) = index.checked_sub(rows.skip) else {
                places.pages.push(PagePlace::aside());
                continue;
            };
            let (column, row) = if rows.down {
                (number / rows.rows.max(1), number % rows.rows.max(1))
            } else {
                (number % rows.columns.max(1), number / rows.columns.max(1))
            };
            places.pages.push(PagePlace {
                at: Point::new(column as f64 * step.x, -(row as f64) * step.y),
                used: true,
                by: PlacedBy::Given,
                sure: 0.5,
                off: None,
            });
        }
        places.tidy(drawing);
        places
    }

    /// The same with a page dragged to a place.
    #[must_use]
    pub fn with(&self, page: usize, at: Point) -> Self {
        let mut places = self.clone();
        if let Some(place) = places.pages.get_mut(page) {
            *place = PagePlace {
                at,
                used: true,
                by: PlacedBy::Given,
                sure: 1.0,
                off: place.off,
            };
        }
        places
    }

    /// The same, nowhere surer than this.
    pub(super) fn at_most(mut self, sure: f64) -> Self {
        for place in &mut self.pages {
            place.sure = place.sure.min(sure);
        }
        self
    }

    /// What a page shows of the joined sheet, its blank edge left out.
    pub fn area(&self, page: usize, sheet: &FoundSheet) -> Option<Rect> {
        let place = self.pages.get(page).filter(|place| place.used)?;
        let size = sheet.bounds.size();
        let trim = self.trim.min(size.width / 3.0).min(size.height / 3.0);
        let all = Rect::from_origin_size(place.at, size);
        Some(all.inflate(-trim, -trim))
    }

    /// From a page's own coordinates to the joined sheet.
    pub fn step(&self, page: usize, sheet: &FoundSheet) -> Option<Vec2> {
        let place = self.pages.get(page)?;
        Some(place.at - sheet.bounds.origin())
    }

    /// Lays what does not join beside the rest and moves all so that the lower left corner is the origin.
    pub(super) fn tidy(&mut self, drawing: &FoundDrawing) {
        let whole = |places: &Self, index: usize| {
            let place = places.pages.get(index)?;
            let size = drawing.sheets.get(index)?.bounds.size();
            Some(Rect::from_origin_size(place.at, size))
        };
        let joins = |place: &PagePlace| place.used && place.by != PlacedBy::Aside;
        let all = (0..self.pages.len())
            .filter(|index| self.pages.get(*index).is_some_and(joins))
            .filter_map(|index| whole(self, index))
            .reduce(|a, b| a.union(b));
        let (mut x, top) = all.map_or((0.0, 0.0), |all| (all.x1 + ASIDE, all.y1));
        for (place, sheet) in self.pages.iter_mut().zip(&drawing.sheets) {
            if !joins(place) {
                place.at = Point::new(x, top - sheet.bounds.height());
                x += sheet.bounds.width() + ASIDE;
            }
        }
        let corner = (0..self.pages.len())
            .filter_map(|index| whole(self, index))
            .reduce(|a, b| a.union(b))
            .map_or(Vec2::ZERO, |all| all.origin().to_vec2());
        for place in &mut self.pages {
            place.at -= corner;
        }
    }
}

impl PagePlace {
    pub(super) fn aside() -> Self {
        Self {
            at: Point::ZERO,
            used: true,
            by: PlacedBy::Aside,
            sure: 0.0,
            off: None,
        }
    }
}
