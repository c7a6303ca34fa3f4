//! The tools, one file each. A new one is a new file and a line here or in its group.

mod alter;
mod choose;
mod circle;
mod circular_skirt;
mod curve;
mod darts;
mod line;
pub mod mark;
mod measure;
mod move_points;
mod rectangle;
mod redraw;
mod seam;

use super::tool::Tool;

/// Every tool, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    let mut tools: Vec<Box<dyn Tool>> = vec![
        Box::new(choose::Choose),
        Box::<move_points::MovePoints>::default(),
        Box::<line::DrawPiece>::default(),
        Box::<redraw::RedrawEdge>::default(),
        Box::<curve::CurveThrough>::default(),
        Box::<rectangle::Rectangle>::default(),
        Box::<circle::Circle>::default(),
        Box::<circular_skirt::CircularSkirt>::default(),
    ];
    tools.extend(alter::all());
    tools.extend(darts::all());
    tools.extend(mark::all());
    tools.extend(seam::all());
    tools.extend(measure::all());
    tools
}
