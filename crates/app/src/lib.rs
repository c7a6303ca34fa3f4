//! The window and the command line, on the same steps.

pub mod command_line;
pub mod files;
pub mod whole_way;
pub mod window;
