//! Why a file could not be brought in: which file, what is wrong, what to do.

/// Why a file could not be brought in.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum BringInError {
    /// None of the kinds that are understood.
    #[error(
        "{file}: this is no SVG, DXF, PDF, PNG or JPEG; save it as one of these and bring it in again"
    )]
    UnknownKind {
        /// Name of the file.
        file: String,
    },
    /// A picture has no lines: it is traced.
    #[error("{file}: a picture has no lines to read; trace what it shows")]
    IsPicture {
        /// Name of the file.
        file: String,
    },
    /// Broken.
    #[error("{file}: {why}; save it anew where it was made and bring it in again")]
    Broken {
        /// Name of the file.
        file: String,
        /// What is wrong and where, in one clause.
        why: String,
    },
    /// Understood, but of a sort that is not read (binary DXF, locked PDF).
    #[error("{file}: {what} is not read; {remedy}")]
    NotRead {
        /// Name of the file.
        file: String,
        /// What it is: "a binary DXF".
        what: String,
        /// What to do: "save it as text DXF".
        remedy: String,
    },
    /// Beyond a limit.
    #[error("{file}: more than {limit} {of}; that is the limit here: bring in a part of it")]
    Limit {
        /// Name of the file.
        file: String,
        /// How many are allowed.
        limit: u64,
        /// Of what: "drawn elements", "bytes", "levels of nesting".
        of: String,
    },
    /// There is nothing to be seen in it.
    #[error(
        "{file}: no line is drawn in it; if its lines are part of a picture, bring in the picture and trace it"
    )]
    Empty {
        /// Name of the file.
        file: String,
    },
    /// The maker stopped it.
    #[error("{file}: stopped")]
    Stopped {
        /// Name of the file.
        file: String,
    },
}
