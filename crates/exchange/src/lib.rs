//! Bytes in, bytes out: project files, body tables, drawings and pages. No window, no path, no clock.
//!
//! Steps 7 to 9 of the way from file to page: [`sheet::sheet`], [`tiling::tile`], then a writer.

pub mod body_table;
pub mod bring_in;
pub mod drawing;
pub mod dxf;
pub mod font;
pub mod paper;
pub mod pdf;
pub mod photo;
pub mod png;
pub mod project_file;
pub mod sheet;
pub mod svg;
pub mod tiling;
