//! The tools, one file each. A new one is a new file and a line here.

mod alter;
mod body_line;
mod choose;
mod circle;
mod circular_skirt;
mod curve;
mod cut;
mod darts;
mod dot;
mod edge_finish;
mod grainline;
mod line;
mod marked_line;
mod move_points;
mod notch;
mod rectangle;
mod redraw;
mod seam_list;
pub mod steered;
mod walk_seam;

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
        Box::<notch::SetNotches>::default(),
        Box::<grainline::LayGrain>::default(),
        Box::<dot::SetDots>::default(),
        Box::<marked_line::MarkLine>::default(),
        Box::<edge_finish::FinishEdges>::default(),
        Box::<cut::SayCopies>::default(),
        Box::<body_line::LayBodyLines>::default(),
        Box::<steered::SayPart>::default(),
        Box::<seam_list::SeamList>::default(),
        Box::<walk_seam::WalkSeam>::default(),
    ];
    tools.extend(alter::all());
    tools.extend(darts::all());
    tools
}
