//! A sheet on pages: the eighth of nine steps from file to page.
//!
//! A piece that fits one page stands on one page, several together where there is room. A larger one is spread over a
//! block of pages that share a strip with their neighbours. Planned in true millimetres; the printer correction is
//! applied once, at the very end, from true millimetres to the page.

mod block;
mod map;
mod room;

use std::collections::BTreeSet;

use petitoile_core::kurbo::{Affine, Rect, Size};
use petitoile_core::paper::PaperSettings;

use crate::drawing::{Drawing, Ink, Item, PieceDrawing, Sheet};
use crate::paper::{self, Join, PageMap, STRIP};
use block::Block;
use map::page_map;
use room::Room;

/// Pages ready to be written, each a drawing in page coordinates (mm, origin bottom left).
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pages {
    /// Title of the print.
    pub title: String,
    /// Width and height of every page, mm.
    pub size: (f64, f64),
    /// The pages, in print order.
    pub pages: Vec<Drawing>,
    /// Where every piece lies; a piece that spans pages is listed once for each.
    pub placed: Vec<PlacedPiece>,
}

/// A piece, or a part of it, on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPiece {
    /// Its place in the sheet.
    pub piece: usize,
    /// Its page, from 0.
    pub page: usize,
    /// From the piece's own coordinates to the page.
    pub page_from_piece: Affine,
    /// The part of the page that shows it.
    pub area: Rect,
    /// Is it all on this page?
    pub whole: bool,
}

/// Room between pieces on one page, mm.
const GAP: f64 = 3.0;

/// A page while it is planned: area coordinates, true mm, origin at the lower left corner of the area.
struct Plan {
    /// Where small pieces still fit.
    room: Room,
    /// Pieces on it: which, from where, whole or not.
    pieces: Vec<(usize, Affine, bool)>,
    /// Items of the spread piece that are words shown whole on another page.
    left_out: BTreeSet<usize>,
    /// Joins, in area coordinates.
    joins: Vec<Join>,
    /// Where the page lies in the page map.
    group: Group,
}

/// Pages that lie together in the page map.
#[derive(Clone, Copy)]
enum Group {
    /// A page on its own.
    Alone,
    /// Part of a block: its number and its rectangle in the block.
    Block(usize, Rect),
}

/// Spreads a sheet over pages. Pieces that fit one page are never cut by a join; empty pages are left out.
///
/// Sizes outside their limits (see [`petitoile_core::paper`]) are held back to them.
pub fn tile(sheet: &Sheet, settings: &PaperSettings) -> Pages {
    let settings = settings.clamped();
    let layout = Layout::new(&settings);
    let plans = layout.plan(sheet);
    let map = page_map(&plans, sheet, layout.area);
    let header = paper::header(&sheet.title, Some(&map), layout.area.width);
    let mut pages = Pages {
        title: sheet.title.clone(),
        size: settings.page(),
        ..Pages::default()
    };
    for (page, plan) in plans.iter().enumerate() {
        let mut items = layout.furniture(sheet, page, plans.len(), plan);
        if page == 0 {
            let to_top = Affine::translate((0.0, layout.area.height));
            items.extend(header.items.iter().map(|item| item.moved(to_top)));
        }
        let area = layout
            .page_from_area
            .transform_rect_bbox(layout.area.to_rect());
        for (piece, area_from_piece, whole) in &plan.pieces {
            let page_from_piece = layout.page_from_area * *area_from_piece;
            pages.placed.push(PlacedPiece {
                piece: *piece,
                page,
                page_from_piece,
                area,
                whole: *whole,
            });
        }
        let title = format!("{}, page {} of {}", sheet.title, page + 1, plans.len());
        pages.pages.push(Drawing {
            title,
            items: items
                .iter()
                .map(|item| item.moved(layout.page_from_area))
                .collect(),
        });
    }
    pages
}

/// Sizes of a print, true mm.
struct Layout {
    /// Room for pieces on a page.
    area: Size,
    /// Strip that neighbours share.
    overlap: f64,
    /// From the area to the page, printer correction included.
    page_from_area: Affine,
}

impl Layout {
    fn new(settings: &PaperSettings) -> Self {
        let (width, height) = settings.page();
        let (right, up) = settings.correction();
        let margin = settings.margin.0;
        let area = Size::new(
            (width - 2.0 * margin) / right - STRIP,
            (height - 2.0 * margin) / up - STRIP,
        );
        let page_from_area = Affine::translate((margin, margin))
            * Affine::scale_non_uniform(right, up)
            * Affine::translate((STRIP, STRIP));
        Self {
            area,
            overlap: settings.overlap.0,
            page_from_area,
        }
    }

    /// Does a drawing of this size fit one page: upright, turned by a quarter, or not at all?
    fn fits(&self, size: Size) -> Option<bool> {
        let within = |w: f64, h: f64| w <= self.area.width && h <= self.area.height;
        if within(size.width, size.height) {
            Some(false)
        } else if within(size.height, size.width) {
            Some(true)
        } else {
            None
        }
    }

    fn plan(&self, sheet: &Sheet) -> Vec<Plan> {
        let mut first = self.empty_page();
        first.room.take_top_left(header_size(sheet, self.area));
        let mut plans = vec![first];
        let (mut small, mut join) = (Vec::new(), 0);
        for (index, piece) in sheet.pieces.iter().enumerate() {
            match self.fits(piece.bounds.size()) {
                Some(turned) => small.push((index, turned)),
                None => {
                    let block = Block::new(piece, self.area, self.overlap);
                    plans.extend(self.spread(index, piece, &block, &mut join));
                }
            }
        }
        self.set(plans, &small, sheet)
    }

    fn empty_page(&self) -> Plan {
        let area = Rect::new(0.0, 0.0, self.area.width, self.area.height);
        Plan {
            room: Room::new(area, GAP),
            pieces: Vec::new(),
            left_out: BTreeSet::new(),
            joins: Vec::new(),
            group: Group::Alone,
        }
    }

    /// The pages of a block that show something of its piece.
    fn spread(
        &self,
        index: usize,
        piece: &PieceDrawing,
        block: &Block,
        joins: &mut usize,
    ) -> Vec<Plan> {
        let number = index;
        let pages = block.pages(piece);
        let mut plans: Vec<Plan> = pages
            .iter()
            .map(|page| {
                let area_from_block = Affine::translate(-page.rect.origin().to_vec2());
                let mut plan = self.empty_page();
                plan.group = Group::Block(number, page.rect);
                plan.room
                    .take(area_from_block.transform_rect_bbox(block.piece));
                plan.pieces
                    .push((index, area_from_block * block.block_from_piece, false));
                plan.left_out = block.words_elsewhere(piece, page);
                plan
            })
            .collect();
        for join in block.joins(&pages) {
            *joins += 1;
            for at in [join.first, join.second] {
                let (Some(page), Some(plan)) = (pages.get(at), plans.get_mut(at)) else {
                    continue;
                };
                let origin = page.rect.origin().to_vec2();
                plan.room.take(join.strip - origin);
                let (from, to) = (join.from - origin, join.to - origin);
                plan.joins.push(Join {
                    number: *joins,
                    from,
                    to,
                    overlap: self.overlap,
                });
            }
        }
        plans
    }

    /// Sets the small pieces into what room there is, in the order that needs the fewest pages. Upright, unless a
    /// quarter turn saves a page.
    fn set(&self, mut plans: Vec<Plan>, small: &[(usize, bool)], sheet: &Sheet) -> Vec<Plan> {
        let orders: [fn(Size) -> f64; 4] = [
            |s| s.height,
            |s| s.width,
            |s| s.width.max(s.height),
            |s| s.area(),
        ];
        let rooms: Vec<Room> = plans.iter().map(|plan| plan.room.clone()).collect();
        let pieces: Vec<Small> = small
            .iter()
            .filter_map(|(index, turned)| {
                Some(Small {
                    index: *index,
                    size: sheet.pieces.get(*index)?.bounds.size(),
                    turned: *turned,
                })
            })
            .collect();
        let mut best: Option<Setting> = None;
        for may_turn in [false, true] {
            for order in orders {
                let mut sorted = pieces.clone();
                sorted
                    .sort_by(|a, b| order(b.lying(b.turned)).total_cmp(&order(a.lying(a.turned))));
                let setting = self.set_in_order(rooms.clone(), &sorted, may_turn);
                if best.as_ref().is_none_or(|best| setting.pages < best.pages) {
                    best = Some(setting);
                }
            }
        }
        let best = best.unwrap_or_default();
        plans.resize_with(best.pages.max(plans.len()), || self.empty_page());
        for Set {
            index,
            turned,
            page,
            rect,
        } in best.set
        {
            let (Some(piece), Some(plan)) = (sheet.pieces.get(index), plans.get_mut(page)) else {
                continue;
            };
            plan.pieces.push((index, into(rect, piece, turned), true));
        }
        for plan in &mut plans {
            plan.pieces.sort_by_key(|(index, ..)| *index);
        }
        plans
    }

    fn set_in_order(&self, mut rooms: Vec<Room>, pieces: &[Small], may_turn: bool) -> Setting {
        let mut setting = Setting::default();
        for piece in pieces {
            let other_way = may_turn && self.fits(piece.lying(!piece.turned)) == Some(false);
            let turns: &[bool] = if other_way { &[false, true] } else { &[false] };
            let turned = |turn: bool| piece.turned != turn;
            let found = turns.iter().find_map(|turn| {
                let place = |(page, room): (usize, &mut Room)| {
                    Some((turned(*turn), page, room.place(piece.lying(turned(*turn)))?))
                };
                rooms.iter_mut().enumerate().find_map(place)
            });
            let (turned, page, rect) = found.unwrap_or_else(|| {
                let mut room = self.empty_page().room;
                let rect = room.place(piece.lying(piece.turned)).unwrap_or_default();
                rooms.push(room);
                (piece.turned, rooms.len() - 1, rect)
            });
            setting.set.push(Set {
                index: piece.index,
                turned,
                page,
                rect,
            });
        }
        setting.pages = rooms.len();
        setting
    }

    /// Pieces, joins, rulers and names of a page, in area coordinates.
    fn furniture(&self, sheet: &Sheet, page: usize, of: usize, plan: &Plan) -> Vec<Item> {
        let area = self.area.to_rect();
        let mut items = paper::rulers(self.area);
        let names: Vec<&str> = plan
            .pieces
            .iter()
            .filter_map(|(index, ..)| sheet.pieces.get(*index))
            .map(|piece| piece.name.as_str())
            .collect();
        items.extend(paper::page_name(
            &sheet.title,
            page + 1,
            of,
            &names.join(", "),
            self.area,
        ));
        items.extend(
            plan.joins
                .iter()
                .flat_map(paper::join_marks)
                .map(|item| item.clipped(area)),
        );
        for (index, area_from_piece, whole) in &plan.pieces {
            let Some(piece) = sheet.pieces.get(*index) else {
                continue;
            };
            let drawn = piece.drawing.items.iter();
            if *whole {
                items.extend(drawn.map(|item| item.moved(*area_from_piece)));
            } else {
                items.extend(
                    drawn
                        .enumerate()
                        .filter(|(at, _)| !plan.left_out.contains(at))
                        .map(|(_, item)| item.moved(*area_from_piece))
                        .filter(|item| touches(item.bounds(), area))
                        .map(|item| item.clipped(area)),
                );
            }
        }
        items
    }
}

/// A piece that fits one page.
#[derive(Clone, Copy)]
struct Small {
    index: usize,
    size: Size,
    /// Does it fit only when turned by a quarter?
    turned: bool,
}

impl Small {
    fn lying(&self, turned: bool) -> Size {
        if turned {
            Size::new(self.size.height, self.size.width)
        } else {
            self.size
        }
    }
}

/// One way to set all small pieces.
#[derive(Default)]
struct Setting {
    pages: usize,
    set: Vec<Set>,
}

/// A small piece in its place.
struct Set {
    index: usize,
    turned: bool,
    page: usize,
    rect: Rect,
}

/// Do two rectangles share a point, be one of them as thin as a line?
fn touches(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

/// From a piece's bounds into a rectangle of that size, turned by a quarter if asked: so that its label is read
/// upright or from the right.
fn into(rect: Rect, piece: &PieceDrawing, turned: bool) -> Affine {
    let bounds = piece.bounds;
    if !turned {
        return Affine::translate((rect.x0 - bounds.x0, rect.y0 - bounds.y0));
    }
    let label_lies =
        piece.drawing.items.iter().any(
            |item| matches!(&item.ink, Ink::Text { turn, centred: false, .. } if *turn > 45.0),
        );
    if label_lies {
        Affine::translate((rect.x0 - bounds.y0, rect.y0 + bounds.x1))
            * Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0])
    } else {
        Affine::translate((rect.x0 + bounds.y1, rect.y0 - bounds.x0))
            * Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0])
    }
}

/// Room for the head of the print. The map is only known when the pages are; it takes the room it is given.
fn header_size(sheet: &Sheet, area: Size) -> Size {
    let map = PageMap {
        pages: vec![area.to_rect(); 2],
        ..PageMap::default()
    };
    let size = paper::header(&sheet.title, Some(&map), area.width).size;
    Size::new(area.width.min(size.width.max(110.0)), size.height + 2.0)
}
