//! Why a command was not carried out: one line with file, place and remedy.

use petitoile_core::adapt::AdaptError;
use petitoile_core::edit::EditError;
use petitoile_exchange::bring_in::BringInError;

use crate::files::FileError;

/// Why a command was not carried out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BadInput(String);

impl BadInput {
    /// A line of its own.
    pub fn new(line: impl Into<String>) -> Self {
        Self(line.into())
    }

    /// The same line about a file: what the errors of the core do not know.
    pub fn in_file(self, file: &std::path::Path) -> Self {
        Self(format!("{}: {}", file.display(), self.0))
    }
}

impl std::fmt::Display for BadInput {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl From<FileError> for BadInput {
    fn from(error: FileError) -> Self {
        Self(error.to_string())
    }
}

impl From<BringInError> for BadInput {
    fn from(error: BringInError) -> Self {
        Self(error.to_string())
    }
}

impl From<AdaptError> for BadInput {
    fn from(error: AdaptError) -> Self {
        Self(error.to_string())
    }
}

impl From<EditError> for BadInput {
    fn from(error: EditError) -> Self {
        Self(error.to_string())
    }
}
