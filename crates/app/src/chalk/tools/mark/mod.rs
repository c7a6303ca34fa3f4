//! Tools that mark pieces: notches, grain, dots, lines, finishes, cutting, body lines.

mod body_line;
mod cut;
mod dot;
mod edge_finish;
mod grainline;
mod marked_line;
mod notch;
pub mod steered;
mod tell_apart;

use crate::chalk::tool::Tool;

/// All of them, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    vec![
        Box::<notch::SetNotches>::default(),
        Box::<grainline::LayGrain>::default(),
        Box::<dot::SetDots>::default(),
        Box::<marked_line::MarkLine>::default(),
        Box::<edge_finish::FinishEdges>::default(),
        Box::<cut::SayCopies>::default(),
        Box::<body_line::LayBodyLines>::default(),
        Box::<steered::SayPart>::default(),
        Box::<tell_apart::TellApart>::default(),
    ]
}
