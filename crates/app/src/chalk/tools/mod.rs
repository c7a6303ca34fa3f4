//! The tools, one file each. A new one is a new file and a line here.

mod choose;

use super::tool::Tool;

/// Every tool, in the order they stand in the tray.
pub fn all() -> Vec<Box<dyn Tool>> {
    vec![Box::new(choose::Choose)]
}
