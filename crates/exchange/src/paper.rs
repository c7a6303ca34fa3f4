//! What a page carries besides pieces: test squares, page map, rulers, names, join marks.
//!
//! True millimetres, before any printer correction; x right, y up.

use petitoile_core::kurbo::{Affine, BezPath, Point, Rect, Shape, Size, Vec2};
use petitoile_core::units::MM_PER_INCH;

use crate::drawing::{Item, Layer};
use crate::font;
use crate::sheet::{CUT_STROKE, STITCH_STROKE};

/// Width of the strip left of and below the pieces that carries the rulers and names, mm.
pub const STRIP: f64 = 6.2;

/// Stroke of rulers and marks, mm.
const FINE: f64 = 0.15;

/// Stroke of the test squares, mm.
pub const SQUARE_STROKE: f64 = 0.2;

/// Dash and gap of a join, mm.
const JOIN_DASH: [f64; 2] = [2.0, 3.0];

/// How pages are joined.
const JOINING: [&str; 2] = [
    "lay like marks (1a on 1a) on each",
    "other, cross on cross, and glue",
];

/// Side of the metric test square, mm.
pub const SQUARE: f64 = 50.0;

/// Side of the other test square: 2 in.
pub const INCH_SQUARE: f64 = 2.0 * MM_PER_INCH;

/// The head of a print: test squares, title, page map. Its upper left corner is the origin.
#[derive(Debug, Clone, PartialEq)]
pub struct Header {
    /// Room it takes.
    pub size: Size,
    /// What it shows.
    pub items: Vec<Item>,
}

/// A small picture of how the pages lie.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PageMap {
    /// Where every page lies, in print order.
    pub pages: Vec<Rect>,
    /// Cut lines of the pieces on them.
    pub pieces: Vec<BezPath>,
    /// Do any pages join?
    pub joined: bool,
}

/// The head of a print, at most `width` mm wide. With a map it belongs to pages, without to one sheet.
pub fn header(title: &str, map: Option<&PageMap>, width: f64) -> Header {
    let gap = 5.0;
    let mut items = square(0.0, SQUARE, "50 mm");
    let second = SQUARE + gap;
    items.extend(square(second, INCH_SQUARE, "2 in"));
    items.extend(advice());
    let beside = second + INCH_SQUARE + gap;
    let room = (width - beside).min(70.0);
    let (corner, column) = if room >= 34.0 {
        (Point::new(beside, 0.0), room)
    } else {
        (Point::new(0.0, -INCH_SQUARE - gap), width)
    };
    let mut y = corner.y;
    for line in font::broken(title, 3.6, column) {
        y -= 3.6 * font::LINE_STEP;
        items.push(Item::text(
            Layer::Text,
            Point::new(corner.x, y + 1.0),
            3.6,
            line,
        ));
    }
    if let Some(map) = map {
        items.extend(legend(second, map.joined));
        let floor = if room >= 34.0 { -INCH_SQUARE } else { y - 46.0 };
        if map.pages.len() > 1 {
            items.extend(picture(
                map,
                Rect::new(corner.x, floor, corner.x + column, y - 2.0),
            ));
            y = floor;
        }
    }
    let height = (-y).max(INCH_SQUARE) + 1.0;
    let right = items
        .iter()
        .map(|item| item.bounds().x1)
        .fold(0.0, f64::max);
    Header {
        size: Size::new(right.min(width), height),
        items,
    }
}

fn square(x: f64, side: f64, words: &str) -> Vec<Item> {
    let path = Rect::new(x, -side, x + side, 0.0).to_path(0.1);
    vec![
        Item::stroke(Layer::Page, path, SQUARE_STROKE),
        Item::text(
            Layer::Page,
            Point::new(x + side / 2.0, 2.2 - side),
            3.0,
            words,
        )
        .centred(),
    ]
}

fn advice() -> Vec<Item> {
    let words = [
        "Print at 100 %, not fitted to the page.",
        "Measure this square across and up. Where it is not 50 mm, lay a rule along the edge of the page, \
         and give what 100 mm measured as printer correction.",
    ];
    let size = 2.3;
    let mut y = -1.2;
    let mut items = Vec::new();
    for words in words {
        for line in font::broken(words, size, SQUARE - 5.0) {
            y -= size * font::LINE_STEP;
            items.push(Item::text(Layer::Page, Point::new(2.5, y), size, line));
        }
        y -= 1.2;
    }
    items
}

/// Samples of the lines, inside the second test square.
fn legend(x: f64, joined: bool) -> Vec<Item> {
    let line = |y: f64| {
        let mut path = BezPath::new();
        path.move_to((x + 3.0, y));
        path.line_to((x + 15.0, y));
        path
    };
    let mut samples = vec![
        (
            Item::stroke(Layer::CutLines, line(-6.0), CUT_STROKE),
            "cut line",
        ),
        (
            Item::stroke(Layer::StitchLines, line(-12.0), STITCH_STROKE),
            "stitch line",
        ),
        (
            Item::dashed(Layer::StitchLines, line(-18.0), STITCH_STROKE, &[1.2, 0.8]),
            "sew inside: dart, gathers",
        ),
        (
            Item::dashed(Layer::Marks, line(-24.0), STITCH_STROKE, &[3.0, 1.5]),
            "fold the cloth: hem, pleat",
        ),
    ];
    if joined {
        samples.push((
            Item::dashed(Layer::Page, line(-30.0), FINE, &JOIN_DASH),
            "join of two pages:",
        ));
    }
    let mut items = Vec::new();
    for (i, (sample, words)) in samples.into_iter().enumerate() {
        items.push(sample);
        items.push(Item::text(
            Layer::Page,
            Point::new(x + 17.0, -6.8 - 6.0 * i as f64),
            2.2,
            words,
        ));
    }
    let how = if joined { JOINING } else { [""; 2] };
    for (i, words) in how
        .into_iter()
        .enumerate()
        .filter(|(_, words)| !words.is_empty())
    {
        items.push(Item::text(
            Layer::Page,
            Point::new(x + 3.0, -35.5 - 3.2 * i as f64),
            2.2,
            words,
        ));
    }
    items
}

/// The page map inside a rectangle, from its upper left corner.
fn picture(map: &PageMap, into: Rect) -> Vec<Item> {
    let Some(all) = map.pages.iter().copied().reduce(|a, b| a.union(b)) else {
        return Vec::new();
    };
    let scale = (into.width() / all.width()).min(into.height() / all.height());
    let to = Affine::translate((into.x0, into.y1))
        * Affine::scale(scale)
        * Affine::translate((-all.x0, -all.y1));
    let mut frames = BezPath::new();
    let mut items = Vec::new();
    for (number, page) in (1..).zip(&map.pages) {
        let frame = to.transform_rect_bbox(*page);
        frames.extend(frame.to_path(0.1));
        let size = (frame.width() * 0.45).min(frame.height() * 0.4).min(4.0);
        let at = frame.center() - (0.0, size * 0.36);
        items.push(Item::text(Layer::Page, at, size, number.to_string()).centred());
    }
    let mut pieces = BezPath::new();
    for piece in &map.pieces {
        pieces.extend(to * piece.clone());
    }
    items.push(Item::stroke(Layer::Page, frames, 0.2));
    items.push(Item::stroke(Layer::Page, pieces, 0.12));
    items
}

/// Rulers in the strips left of and below an area of this size whose lower left corner is the origin.
///
/// Millimetres on the inner side, eighths of an inch on the outer. As long as fits: 100 or 150 mm, 4 or 6 in.
pub fn rulers(area: Size) -> Vec<Item> {
    let up = Affine::new([0.0, 1.0, -1.0, 0.0, -STRIP, 0.0]);
    let mut items = ruler(100.0_f64.min(area.width.floor()));
    let long = if area.height >= 200.0 { 150.0 } else { 100.0 };
    items.extend(ruler(long).iter().map(|item| item.moved(up)));
    items
}

/// How far the ruler along the lower edge reaches, mm.
pub const RULER_REACH: f64 = 104.0;

fn ruler(millimetres: f64) -> Vec<Item> {
    let base = -STRIP / 2.0;
    let mut ticks = BezPath::new();
    let mut items = Vec::new();
    let mut tick = |x: f64, length: f64| {
        ticks.move_to((x, base));
        ticks.line_to((x, base + length));
    };
    for mm in 0..=millimetres as u32 {
        let x = f64::from(mm);
        tick(
            x,
            if mm % 10 == 0 {
                2.2
            } else if mm % 5 == 0 {
                1.3
            } else {
                0.8
            },
        );
        if mm % 10 == 0 && f64::from(mm) < millimetres {
            items.push(Item::text(
                Layer::Page,
                Point::new(x + 0.35, base + 1.1),
                1.5,
                if mm == 0 { "mm".into() } else { mm.to_string() },
            ));
        }
    }
    let inches = if millimetres >= 150.0 { 6 } else { 4 };
    for eighth in 0..=8 * inches {
        let x = f64::from(eighth) * MM_PER_INCH / 8.0;
        tick(
            x,
            if eighth % 8 == 0 {
                -2.2
            } else if eighth % 4 == 0 {
                -1.3
            } else {
                -0.8
            },
        );
        if eighth % 8 == 0 && eighth < 8 * inches {
            let words = if eighth == 0 {
                "in".into()
            } else {
                (eighth / 8).to_string()
            };
            items.push(Item::text(
                Layer::Page,
                Point::new(x + 0.35, base - 2.2),
                1.5,
                words,
            ));
        }
    }
    ticks.move_to((0.0, base));
    ticks.line_to((millimetres.max(f64::from(inches) * MM_PER_INCH), base));
    items.push(Item::stroke(Layer::Page, ticks, FINE));
    items
}

/// Title and number below, names of the pieces on the left, both in the strips around an area of this size.
pub fn page_name(title: &str, number: usize, of: usize, pieces: &str, area: Size) -> Vec<Item> {
    let size = 3.4;
    let number = format!("page {number} of {of}");
    let right = area.width - font::width(&number, size);
    let mut items = vec![Item::text(
        Layer::Page,
        Point::new(right, -STRIP + 1.4),
        size,
        number,
    )];
    let room = right - 4.0 - RULER_REACH;
    if let Some((size, words)) = shortened(title, 2.4, room) {
        items.push(Item::text(
            Layer::Page,
            Point::new(RULER_REACH, -STRIP + 1.4),
            size,
            words,
        ));
    }
    let ruler = if area.height >= 200.0 { 158.0 } else { 108.0 };
    if let Some((size, words)) = shortened(pieces, 2.4, area.height - ruler) {
        items.push(
            Item::text(Layer::Page, Point::new(-STRIP + 3.4, ruler), size, words).turned(90.0),
        );
    }
    items
}

/// Words made smaller, then cut short, so that they fit; `None` when nothing sensible does.
fn shortened(words: &str, size: f64, room: f64) -> Option<(f64, String)> {
    let least = 1.8;
    let fitting = (size * room / font::width(words, size).max(1e-9)).min(size);
    if fitting >= least {
        return (!words.is_empty()).then(|| (fitting, words.to_owned()));
    }
    let mut short = words.to_owned();
    while short.pop().is_some() {
        let trial = format!("{}…", short.trim_end());
        if font::width(&trial, least) <= room {
            return (short.trim_end().chars().count() > 3).then_some((least, trial));
        }
    }
    None
}

/// A join between two pages: its line, and where its strip of overlap lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Join {
    /// Its number, the same on both pages.
    pub number: usize,
    /// One end of the middle of the shared strip.
    pub from: Point,
    /// The other end.
    pub to: Point,
    /// Width of the shared strip, mm.
    pub overlap: f64,
}

/// The marks of a join: a line along the middle of the shared strip, and on it two crosses in a lozenge,
/// `a` and `b`, with the same code on either side.
///
/// Drawn alike on both pages: cut one of them along the line and lay it on the other, cross on cross.
pub fn join_marks(join: &Join) -> Vec<Item> {
    let along = (join.to - join.from) / (join.to - join.from).hypot().max(1e-9);
    let side = along.turn_90();
    let reach = (join.overlap / 2.0 - 0.3).min(4.5);
    let mut line = BezPath::new();
    line.move_to(join.from);
    line.line_to(join.to);
    let mut items = vec![Item::dashed(Layer::Page, line, FINE, &JOIN_DASH)];
    for (share, letter) in [(0.25, 'a'), (0.75, 'b')] {
        let at = join.from.lerp(join.to, share);
        items.push(Item::stroke(
            Layer::Page,
            cross(at, along, side, reach),
            0.25,
        ));
        let code = format!("{}{letter}", join.number);
        let size = (2.2 * (reach - 1.0) / font::width(&code, 2.2)).min(2.2);
        for towards in [side, -side] {
            let middle = at + towards * (1.0 + (reach - 1.0) / 2.0) + readable_side(along) * 1.0;
            let at = if along.x.abs() > along.y.abs() {
                // a line to the right: the codes stand above and below it
                at + towards * (reach * 0.55) + along * (1.2 + font::width(&code, size) / 2.0)
                    - Vec2::new(0.0, size * 0.36)
            } else {
                middle
            };
            items.push(Item::text(Layer::Page, at, size, code.clone()).centred());
        }
    }
    items
}

/// Upwards along an upright line, whichever way it is walked.
fn readable_side(along: Vec2) -> Vec2 {
    if along.y < 0.0 { -along } else { along }
}

fn cross(at: Point, along: Vec2, side: Vec2, reach: f64) -> BezPath {
    let mut path = BezPath::new();
    for arm in [along * reach, side * reach] {
        path.move_to(at - arm);
        path.line_to(at + arm);
    }
    let small = 0.9;
    path.move_to(at + along * small);
    path.line_to(at + side * small);
    path.line_to(at - along * small);
    path.line_to(at - side * small);
    path.close_path();
    path
}
