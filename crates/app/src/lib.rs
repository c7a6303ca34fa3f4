//! The window and the command line, on the same steps.
//!
//! [`whole_way`] lists the nine steps once; [`command_line`] and [`window`] are the two doors to them.
//! [`files`] is the only place that knows paths and disks, [`report`] the only one that words an outcome.

pub mod command_line;
pub mod demos;
pub mod files;
pub mod report;
pub mod whole_way;
pub mod window;
