//! Tools that alter what is there, one file each.

mod binding;
mod copy_piece;
mod cut;
mod facing;
mod gusset;
mod join_edges;
mod join_pieces;
mod lengthen;
mod lengthen_at_level;
mod lining;
mod mirror;
mod move_stretch;
mod open_out;
mod rename_edge;
mod rename_piece;
mod set_length;
mod smooth;
mod split_edge;
mod spread;
mod straighten;
mod style_line;
mod take_out;
mod turn;
mod turn_to_grain;
mod widen;

use crate::chalk::job::{AtSpots, Job};
use crate::chalk::tool::Tool;

/// These tools, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    fn tool(job: impl Job + 'static) -> Box<dyn Tool> {
        Box::new(AtSpots::new(job))
    }
    vec![
        tool(split_edge::SplitEdge::default()),
        tool(join_edges::JoinEdges),
        tool(rename_edge::RenameEdge::default()),
        tool(straighten::Straighten),
        tool(smooth::Smooth),
        tool(set_length::SetLength::default()),
        tool(widen::Widen::default()),
        tool(move_stretch::MoveStretch::default()),
        tool(lengthen::Lengthen::default()),
        tool(lengthen_at_level::LengthenAtLevel::default()),
        tool(spread::SlashAndSpread::default()),
        tool(mirror::Mirror::default()),
        tool(turn::Turn::default()),
        tool(turn_to_grain::TurnToGrain),
        tool(open_out::OpenOut),
        tool(cut::CutInTwo::default()),
        tool(join_pieces::JoinPieces::default()),
        tool(style_line::StyleLine::default()),
        tool(facing::Facing::default()),
        tool(lining::Lining::default()),
        tool(gusset::Gusset::default()),
        tool(binding::Binding::default()),
        tool(copy_piece::CopyPiece::default()),
        tool(rename_piece::RenamePiece::default()),
        tool(take_out::TakeOut),
    ]
}
