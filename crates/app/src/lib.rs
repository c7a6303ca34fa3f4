//! The window and the command line, on the same steps.
//!
//! [`whole_way`] lists the nine steps once; [`command_line`] and [`window`] are the two doors to them.
//! [`files`] is the only place that knows paths and disks, [`report`] the only one that words an outcome.

pub mod background;
pub mod boxes;
pub mod bring_in;
pub mod canvas;
pub mod chalk;
pub mod chooser;
pub mod command;
pub mod command_line;
pub mod demos;
pub mod fields;
pub mod files;
pub mod history;
pub mod lay_work;
pub mod report;
pub mod session;
pub mod settings;
pub mod theme;
pub mod trays;
pub mod whole_way;
pub mod window;
pub mod wording;
pub mod worn;
