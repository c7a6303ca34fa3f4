//! Tools for darts, one file each.

mod divide;
mod move_dart;
mod move_tip;
mod new_dart;
mod pivot;
mod press;
mod remove_dart;
mod to_ease;
mod to_gathers;

use crate::chalk::job::{AtSpots, Job};
use crate::chalk::tool::Tool;

/// These tools, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    fn tool(job: impl Job + 'static) -> Box<dyn Tool> {
        Box::new(AtSpots::new(job))
    }
    vec![
        tool(new_dart::NewDart::default()),
        tool(pivot::Pivot::default()),
        tool(divide::Divide::default()),
        tool(move_dart::MoveDart::default()),
        tool(move_tip::MoveTip::default()),
        tool(press::Press),
        tool(to_gathers::ToGathers),
        tool(to_ease::ToEase),
        tool(remove_dart::RemoveDart),
    ]
}
