//! What is still free on a page, as the largest free rectangles.

use petitoile_core::kurbo::{Point, Rect, Size};

/// Free room on a page.
#[derive(Debug, Clone)]
pub(super) struct Room {
    /// The whole of it, taken or not.
    pub page: Rect,
    /// Every largest free rectangle; they overlap each other. Wider and higher by a gap than what they hold.
    free: Vec<Rect>,
    gap: f64,
}

impl Room {
    /// An empty page. Whatever is placed stays `gap` mm apart.
    pub(super) fn new(page: Rect, gap: f64) -> Self {
        Self {
            page,
            free: vec![Rect::new(page.x0, page.y0, page.x1 + gap, page.y1 + gap)],
            gap,
        }
    }

    /// Takes a rectangle out, with the gap around it.
    pub(super) fn take(&mut self, rect: Rect) {
        let taken = Rect::new(
            rect.x0 - self.gap,
            rect.y0 - self.gap,
            rect.x1 + self.gap,
            rect.y1 + self.gap,
        );
        let mut free: Vec<Rect> = Vec::new();
        for old in &self.free {
            if taken.x1 <= old.x0 || old.x1 <= taken.x0 || taken.y1 <= old.y0 || old.y1 <= taken.y0
            {
                free.push(*old);
                continue;
            }
            let parts = [
                Rect::new(old.x0, old.y0, taken.x0.min(old.x1), old.y1),
                Rect::new(taken.x1.max(old.x0), old.y0, old.x1, old.y1),
                Rect::new(old.x0, old.y0, old.x1, taken.y0.min(old.y1)),
                Rect::new(old.x0, taken.y1.max(old.y0), old.x1, old.y1),
            ];
            free.extend(
                parts
                    .into_iter()
                    .filter(|part| part.x1 > part.x0 && part.y1 > part.y0),
            );
        }
        self.free = largest(&free);
    }

    /// Takes a rectangle in the upper left corner out.
    pub(super) fn take_top_left(&mut self, size: Size) {
        let page = self.page;
        self.take(Rect::new(
            page.x0,
            page.y1 - size.height,
            page.x0 + size.width,
            page.y1,
        ));
    }

    /// Places a rectangle where it leaves the thinnest rest, high up before low, left before right.
    pub(super) fn place(&mut self, size: Size) -> Option<Rect> {
        let rest = |free: &Rect| {
            let (across, up) = (
                free.width() - self.gap - size.width,
                free.height() - self.gap - size.height,
            );
            (across >= -1e-9 && up >= -1e-9).then_some((across.min(up), across.max(up)))
        };
        let (_, free) = self
            .free
            .iter()
            .filter_map(|free| Some((rest(free)?, *free)))
            .min_by(|(a, p), (b, q)| {
                a.0.total_cmp(&b.0)
                    .then(a.1.total_cmp(&b.1))
                    .then(q.y1.total_cmp(&p.y1))
                    .then(p.x0.total_cmp(&q.x0))
            })?;
        let top = free.y1 - self.gap;
        let rect = Rect::from_origin_size(Point::new(free.x0, top - size.height), size);
        self.take_exactly(rect);
        Some(rect)
    }

    fn take_exactly(&mut self, rect: Rect) {
        self.take(rect);
    }
}

/// Those that lie in no other.
fn largest(all: &[Rect]) -> Vec<Rect> {
    let inside = |a: &Rect, b: &Rect| b.x0 <= a.x0 && b.y0 <= a.y0 && a.x1 <= b.x1 && a.y1 <= b.y1;
    all.iter()
        .enumerate()
        .filter(|(i, a)| {
            !all.iter()
                .enumerate()
                .any(|(j, b)| *i != j && inside(a, b) && (!inside(b, a) || j < *i))
        })
        .map(|(_, a)| *a)
        .collect()
}
