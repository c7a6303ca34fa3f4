//! The page map: how the pages of a print lie, with the pieces on them.

use petitoile_core::kurbo::{Affine, BezPath, Rect, Size, Vec2};

use super::{Group, Plan};
use crate::drawing::{Ink, Layer, PieceDrawing, Sheet};
use crate::paper::PageMap;

/// How the pages lie: each block together, the others in a row, wrapped about as wide as high.
pub(super) fn page_map(plans: &[Plan], sheet: &Sheet, area: Size) -> PageMap {
    let gap = area.width * 0.12;
    let groups = grouped(plans);
    let total: f64 = groups
        .iter()
        .map(|(size, _)| (size.width + gap) * (size.height + gap))
        .sum();
    let widest = groups
        .iter()
        .map(|(size, _)| size.width)
        .fold(0.0, f64::max);
    let most = (total * 1.3).sqrt().max(widest);
    let joined = plans.iter().any(|plan| !plan.joins.is_empty());
    let mut map = PageMap {
        pages: vec![Rect::ZERO; plans.len()],
        pieces: Vec::new(),
        joined,
    };
    let (mut x, mut y, mut row) = (0.0, 0.0, 0.0_f64);
    for (size, members) in &groups {
        if x > 0.0 && x + size.width > most {
            (x, y, row) = (0.0, y - row - gap, 0.0);
        }
        for (index, rect) in members {
            let Some(plan) = plans.get(*index) else {
                continue;
            };
            let in_map = *rect + Vec2::new(x, y - size.height);
            if let Some(page) = map.pages.get_mut(*index) {
                *page = in_map;
            }
            for (piece, area_from_piece, whole) in &plan.pieces {
                let first = members.first().is_some_and(|(first, _)| first == index);
                let Some(piece) = sheet.pieces.get(*piece).filter(|_| *whole || first) else {
                    continue;
                };
                let map_from_piece =
                    Affine::translate(in_map.origin().to_vec2()) * *area_from_piece;
                map.pieces
                    .extend(cut_lines(piece).map(|path| map_from_piece * path.clone()));
            }
        }
        x += size.width + gap;
        row = row.max(size.height);
    }
    map
}

fn cut_lines(piece: &PieceDrawing) -> impl Iterator<Item = &BezPath> {
    piece
        .drawing
        .items
        .iter()
        .filter_map(|item| match (&item.ink, item.layer) {
            (Ink::Stroke { path, .. }, Layer::CutLines) => Some(path),
            _ => None,
        })
}

/// A group's size and the pages in it, each with its rectangle in the group.
type Together = (Size, Vec<(usize, Rect)>);

/// The pages of each block together, every other page alone.
fn grouped(plans: &[Plan]) -> Vec<Together> {
    let mut last_block = None;
    let mut groups: Vec<Vec<(usize, Rect)>> = Vec::new();
    for (index, plan) in plans.iter().enumerate() {
        let (block, rect) = match plan.group {
            Group::Alone => (None, plan.room.page),
            Group::Block(number, rect) => (Some(number), rect),
        };
        match groups.last_mut() {
            Some(group) if block.is_some() && block == last_block => group.push((index, rect)),
            _ => groups.push(vec![(index, rect)]),
        }
        last_block = block;
    }
    groups.into_iter().map(from_its_corner).collect()
}

/// The pages of a group, measured from the group's lower left corner.
fn from_its_corner(members: Vec<(usize, Rect)>) -> Together {
    let all = members
        .iter()
        .map(|member| member.1)
        .reduce(|a, b| a.union(b))
        .unwrap_or(Rect::ZERO);
    let corner = all.origin().to_vec2();
    (
        all.size(),
        members
            .into_iter()
            .map(|(index, rect)| (index, rect - corner))
            .collect(),
    )
}
