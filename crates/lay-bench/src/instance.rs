//! Instance files: strips, rooms with holes and zones, and the doll set.

use std::path::Path;

use kurbo::Point;
use petitoile_lay::search::{Grain, Item, Mirror, Part, Problem, Room, StripProblem, Way, Zone};
use serde::Deserialize;

/// What one file asks for.
#[derive(Clone, Debug)]
pub enum Instance {
    /// The shortest length of a strip.
    Strip(StripProblem),
    /// Everything on rooms of one's own choice: rooms by number, the largest first.
    Rooms(Problem),
    /// Everything on all rooms, which are scaled by a factor first.
    Offcuts(Problem),
}

#[derive(Deserialize)]
#[serde(untagged)]
enum File {
    Strip(StripFile),
    Bins(BinsFile),
    Pieces(PiecesFile),
}

#[derive(Deserialize)]
struct StripFile {
    strip_height: f64,
    items: Vec<ItemFile>,
}

#[derive(Deserialize)]
struct BinsFile {
    items: Vec<ItemFile>,
    bins: Vec<BinFile>,
}

#[derive(Deserialize)]
struct ItemFile {
    demand: usize,
    allowed_orientations: Option<Vec<f64>>,
    min_quality: Option<u8>,
    shape: ShapeFile,
}

#[derive(Deserialize)]
struct BinFile {
    stock: usize,
    shape: ShapeFile,
    #[serde(default)]
    zones: Vec<ZoneFile>,
}

#[derive(Deserialize)]
struct ZoneFile {
    quality: u8,
    shape: ShapeFile,
}

#[derive(Deserialize)]
#[serde(tag = "type", content = "data", rename_all = "snake_case")]
enum ShapeFile {
    SimplePolygon(Vec<(f64, f64)>),
    Polygon {
        outer: Vec<(f64, f64)>,
        #[serde(default)]
        inner: Vec<Vec<(f64, f64)>>,
    },
}

#[derive(Deserialize)]
struct PiecesFile {
    pieces: Vec<PieceFile>,
    offcuts: Vec<OffcutFile>,
}

#[derive(Deserialize)]
struct PieceFile {
    reflected: bool,
    half_turn: bool,
    tolerance_deg: f64,
    min_quality: Option<u8>,
    polygon: Vec<(f64, f64)>,
}

#[derive(Deserialize)]
struct OffcutFile {
    outline: Vec<(f64, f64)>,
    holes: Vec<Vec<(f64, f64)>>,
    stains: Vec<StainFile>,
}

#[derive(Deserialize)]
struct StainFile {
    quality: u8,
    polygon: Vec<(f64, f64)>,
}

/// Reads one file.
///
/// # Errors
/// What cannot be read, in words, with the name of the file.
pub fn read(path: &Path) -> Result<Instance, String> {
    let text = std::fs::read_to_string(path).map_err(|why| format!("{}: {why}", path.display()))?;
    parse(&text).map_err(|why| format!("{}: {why}", path.display()))
}

/// Reads the text of a file.
///
/// # Errors
/// When it is no JSON, or none of the three kinds.
pub fn parse(text: &str) -> Result<Instance, String> {
    let file: File = serde_json::from_str(text)
        .map_err(|why| format!("neither a strip, nor bins, nor pieces on offcuts ({why})"))?;
    Ok(match file {
        File::Strip(strip) => Instance::Strip(StripProblem {
            items: items(strip.items),
            width: strip.strip_height,
            gap: 0.0,
            margin: 0.0,
            grain: Grain::default(),
        }),
        File::Bins(bins) => Instance::Rooms(Problem {
            rooms: rooms(bins.bins),
            items: items(bins.items),
            ..Problem::default()
        }),
        File::Pieces(set) => Instance::Offcuts(doll_set(set)),
    })
}

fn points(data: Vec<(f64, f64)>) -> Vec<Point> {
    data.into_iter().map(Point::from).collect()
}

impl ShapeFile {
    fn outer_and_holes(self) -> (Vec<Point>, Vec<Vec<Point>>) {
        match self {
            Self::SimplePolygon(outer) => (points(outer), Vec::new()),
            Self::Polygon { outer, inner } => {
                (points(outer), inner.into_iter().map(points).collect())
            }
        }
    }
}

/// Holes of items are not used: nothing may lie in them.
fn items(files: Vec<ItemFile>) -> Vec<Item> {
    let mut items = Vec::new();
    for file in files {
        let any = file.allowed_orientations.is_none();
        let part = Part {
            outline: file.shape.outer_and_holes().0,
            turns: file.allowed_orientations.unwrap_or_default(),
            tolerance_deg: if any { 180.0 } else { 0.0 },
            min_quality: file.min_quality,
            ..Part::default()
        };
        let item = Item {
            ways: vec![Way {
                parts: vec![part],
                cost: 0,
            }],
            priority: 0,
        };
        items.extend(std::iter::repeat_n(item, file.demand));
    }
    items
}

fn rooms(files: Vec<BinFile>) -> Vec<Room> {
    let mut rooms = Vec::new();
    for file in files {
        let (outline, holes) = file.shape.outer_and_holes();
        let zones = file
            .zones
            .into_iter()
            .map(|zone| Zone {
                quality: zone.quality,
                polygon: zone.shape.outer_and_holes().0,
            })
            .collect();
        let room = Room {
            outline,
            holes,
            zones,
            ..Room::default()
        };
        rooms.extend(std::iter::repeat_n(room, file.stock));
    }
    rooms.sort_by(|a, b| room_area(b).total_cmp(&room_area(a)));
    rooms
}

fn doll_set(set: PiecesFile) -> Problem {
    let item = |piece: PieceFile| {
        let part = Part {
            outline: points(piece.polygon),
            turns: if piece.half_turn {
                vec![0.0, 180.0]
            } else {
                vec![0.0]
            },
            tolerance_deg: piece.tolerance_deg,
            mirror: if piece.reflected {
                Mirror::Always
            } else {
                Mirror::Never
            },
            min_quality: piece.min_quality,
            rooms: None,
        };
        Item {
            ways: vec![Way {
                parts: vec![part],
                cost: 0,
            }],
            priority: 0,
        }
    };
    let room = |offcut: OffcutFile| Room {
        outline: points(offcut.outline),
        holes: offcut.holes.into_iter().map(points).collect(),
        zones: offcut
            .stains
            .into_iter()
            .map(|stain| Zone {
                quality: stain.quality,
                polygon: points(stain.polygon),
            })
            .collect(),
        ..Room::default()
    };
    Problem {
        rooms: set.offcuts.into_iter().map(room).collect(),
        items: set.pieces.into_iter().map(item).collect(),
        ..Problem::default()
    }
}

/// The same with every room larger by a factor.
#[must_use]
pub fn scaled(problem: &Problem, factor: f64) -> Problem {
    let mut scaled = problem.clone();
    for room in &mut scaled.rooms {
        let zones = room.zones.iter_mut().map(|zone| &mut zone.polygon);
        for polygon in room
            .holes
            .iter_mut()
            .chain(zones)
            .chain([&mut room.outline])
        {
            for point in polygon {
                *point = Point::new(point.x * factor, point.y * factor);
            }
        }
    }
    scaled
}

/// Area of an outline.
#[must_use]
pub fn area(polygon: &[Point]) -> f64 {
    let next = polygon.iter().skip(1).chain(polygon.first());
    (polygon
        .iter()
        .zip(next)
        .map(|(a, b)| a.to_vec2().cross(b.to_vec2()))
        .sum::<f64>()
        * 0.5)
        .abs()
}

/// Area of a room less its holes.
#[must_use]
pub fn room_area(room: &Room) -> f64 {
    area(&room.outline) - room.holes.iter().map(|hole| area(hole)).sum::<f64>()
}

/// Area of all items, as they are cut in their first way.
#[must_use]
pub fn items_area(items: &[Item]) -> f64 {
    items
        .iter()
        .filter_map(|item| item.ways.first())
        .flat_map(|way| &way.parts)
        .map(|part| area(&part.outline))
        .sum()
}
