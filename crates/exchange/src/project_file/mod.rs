//! Project, stash and wardrobe files: RON text, version number first.
//!
//! ```text
//! // Petitoile project: lengths in mm, x right, y up.
//! (
//!     petitoile: 1,
//!     project: (
//!         name: "Harbour town",
//!         ...
//! ```
//!
//! The number after `petitoile` is the format of the file. It is read before anything else, so a file of a newer
//! Petitoile is told from a broken one. The word after it says what the file holds: `project`, `stash`, `wardrobe` or
//! `piece` (one that was copied).
//! Figures are written with as many digits as it takes to read back the very same number.
//!
//! Text in, text out; opening and keeping files safe is the business of `petitoile::files`.

mod scan;

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

use petitoile_core::body::{Body, BodyKind};
use petitoile_core::cloth::Stash;
use petitoile_core::garment::Garment;
use petitoile_core::outfit::Wardrobe;
use petitoile_core::piece::Piece;
use petitoile_core::project::Project;
use ron::ser::PrettyConfig;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

/// The format that this Petitoile writes, and the newest it reads.
pub const FORMAT: u32 = 1;

/// The largest file that is read, bytes. A wardrobe's worth of garments takes less than a hundredth of it.
pub const MOST_BYTES: usize = 64 << 20;

/// Brackets within brackets: more than this is no file of ours (a project needs about 20).
const DEEPEST: usize = 100;

/// Why a project file cannot be read or written.
///
/// What to do about a broken file or one of another kind is for the caller to add, who knows what lies beside it and
/// what can be opened.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ProjectFileError {
    /// Well written, but it names what is not there or holds a size that makes no sense.
    #[error("{0}")]
    Unsound(String),
    /// Not text, or not RON of this shape.
    #[error("line {line}, column {column}: {what}")]
    Broken {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What was found.
        what: String,
    },
    /// Written by a newer Petitoile.
    #[error(
        "this file has format {found}, this Petitoile reads up to {known}; update Petitoile, the file is left as it is"
    )]
    Newer {
        /// Format of the file.
        found: u32,
        /// Newest format known here.
        known: u32,
    },
    /// A stash opened as a project, or the like.
    #[error("this is a {found} file, a {wanted} file was asked for")]
    OtherKind {
        /// What the file says it holds.
        found: String,
        /// What was asked for.
        wanted: &'static str,
    },
    /// Longer than [`MOST_BYTES`].
    #[error(
        "this file is {megabytes} MB long, Petitoile reads up to {most} MB; it is not one of its files"
    )]
    TooLong {
        /// Its length.
        megabytes: usize,
        /// The longest that is read.
        most: usize,
    },
    /// Something cannot be written so that it could be read again.
    #[error("this cannot be saved: {what}; undo the last change and save again")]
    CannotBeWritten {
        /// What it is.
        what: String,
    },
}

/// What stands in a project file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ProjectFile<'a> {
    petitoile: u32,
    project: Cow<'a, Project>,
}

/// What stands in a stash file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct StashFile<'a> {
    petitoile: u32,
    stash: Cow<'a, Stash>,
}

/// What stands in a wardrobe file.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WardrobeFile<'a> {
    petitoile: u32,
    wardrobe: Cow<'a, Wardrobe>,
}

/// What stands in the text of a copied piece.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct PieceText<'a> {
    petitoile: u32,
    piece: Cow<'a, Piece>,
}

/// Reads a project file: the first of nine steps from file to page.
///
/// # Errors
/// [`ProjectFileError`] with line and column, or the format number of a newer file.
pub fn read(bytes: &[u8]) -> Result<Project, ProjectFileError> {
    let project = read_as::<ProjectFile<'_>>(bytes, "project")?
        .project
        .into_owned();
    project
        .check()
        .map_err(|why| ProjectFileError::Unsound(why.to_string()))?;
    Ok(project)
}

/// Writes a project file. Reading it gives the same project, every figure to the last bit.
///
/// # Errors
/// [`ProjectFileError::CannotBeWritten`] when a figure is infinite or not a number.
///
/// # Example
/// ```
/// use petitoile_core::project::Project;
/// use petitoile_exchange::project_file::{read, write};
/// let project = Project { name: "Harbour town".into(), ..Project::default() };
/// assert_eq!(read(write(&project)?.as_bytes())?, project);
/// # Ok::<(), petitoile_exchange::project_file::ProjectFileError>(())
/// ```
pub fn write(project: &Project) -> Result<String, ProjectFileError> {
    write_as(
        &ProjectFile {
            petitoile: FORMAT,
            project: Cow::Borrowed(project),
        },
        "project",
    )
}

/// Reads a stash file.
///
/// # Errors
/// As [`read`].
pub fn read_stash(bytes: &[u8]) -> Result<Stash, ProjectFileError> {
    Ok(read_as::<StashFile<'_>>(bytes, "stash")?.stash.into_owned())
}

/// Writes a stash file.
///
/// # Errors
/// As [`write()`].
pub fn write_stash(stash: &Stash) -> Result<String, ProjectFileError> {
    write_as(
        &StashFile {
            petitoile: FORMAT,
            stash: Cow::Borrowed(stash),
        },
        "stash",
    )
}

/// Reads a wardrobe file.
///
/// # Errors
/// As [`read`].
pub fn read_wardrobe(bytes: &[u8]) -> Result<Wardrobe, ProjectFileError> {
    Ok(read_as::<WardrobeFile<'_>>(bytes, "wardrobe")?
        .wardrobe
        .into_owned())
}

/// Writes a wardrobe file.
///
/// # Errors
/// As [`write()`].
pub fn write_wardrobe(wardrobe: &Wardrobe) -> Result<String, ProjectFileError> {
    write_as(
        &WardrobeFile {
            petitoile: FORMAT,
            wardrobe: Cow::Borrowed(wardrobe),
        },
        "wardrobe",
    )
}

/// Reads the text of a copied piece, from this project or any other.
///
/// # Errors
/// As [`read`].
pub fn read_piece(bytes: &[u8]) -> Result<Piece, ProjectFileError> {
    let piece = read_as::<PieceText<'_>>(bytes, "piece")?.piece.into_owned();
    // Checked like every piece of a project: in a garment that holds nothing else.
    let alone = Garment {
        name: piece.name.clone(),
        made_for: Arc::new(Body::new("anybody", BodyKind::Woman)),
        pieces: vec![Arc::new(piece.clone())],
        seams: Vec::new(),
        tape_lines: Vec::new(),
        openings: Vec::new(),
        cloths: BTreeMap::new(),
        included_allowance: BTreeMap::new(),
    };
    let project = Project {
        garments: vec![Arc::new(alone)],
        ..Project::default()
    };
    project
        .check()
        .map_err(|why| ProjectFileError::Unsound(why.to_string()))?;
    Ok(piece)
}

/// Writes a piece as text that can be pasted into any project.
///
/// # Errors
/// As [`write()`].
pub fn write_piece(piece: &Piece) -> Result<String, ProjectFileError> {
    write_as(
        &PieceText {
            petitoile: FORMAT,
            piece: Cow::Borrowed(piece),
        },
        "piece",
    )
}

fn read_as<T: DeserializeOwned>(bytes: &[u8], wanted: &'static str) -> Result<T, ProjectFileError> {
    if MOST_BYTES < bytes.len() {
        return Err(ProjectFileError::TooLong {
            megabytes: bytes.len().div_ceil(1 << 20),
            most: MOST_BYTES >> 20,
        });
    }
    let text = text_of(bytes)?;
    let header = scan::header(text)?;
    if FORMAT < header.format {
        return Err(ProjectFileError::Newer {
            found: header.format,
            known: FORMAT,
        });
    }
    if header.holds != wanted {
        return Err(ProjectFileError::OtherKind {
            found: header.holds,
            wanted,
        });
    }
    scan::soundness(text, DEEPEST)?;
    ron::Options::default()
        .from_str(text)
        .map_err(|error| ProjectFileError::Broken {
            line: error.span.start.line,
            column: error.span.start.col,
            what: in_plain_words(&error.code),
        })
}

fn write_as<T: Serialize>(file: &T, holds: &str) -> Result<String, ProjectFileError> {
    let config = PrettyConfig::new().new_line("\n").compact_arrays(true);
    let cannot = |what: String| ProjectFileError::CannotBeWritten { what };
    let body =
        ron::ser::to_string_pretty(file, config).map_err(|error| cannot(error.to_string()))?;
    let text = format!("// Petitoile {holds}: lengths in mm, x right, y up.\n{body}\n");
    match scan::soundness(&text, DEEPEST) {
        Ok(()) => Ok(text),
        Err(ProjectFileError::Broken { what, line, .. }) => Err(cannot(format!(
            "{what} ({})",
            text.lines().nth(line - 1).unwrap_or_default().trim()
        ))),
        Err(other) => Err(other),
    }
}

/// The bytes as text, without the mark that some editors put in front.
fn text_of(bytes: &[u8]) -> Result<&str, ProjectFileError> {
    let text = std::str::from_utf8(bytes).map_err(|error| {
        let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
        let line = 1 + good.iter().filter(|b| **b == b'\n').count();
        let column = 1 + good.iter().rev().take_while(|b| **b != b'\n').count();
        ProjectFileError::Broken {
            line,
            column,
            what: "this is not text".into(),
        }
    })?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(text))
}

/// What is wrong, for a person who did not write the file by hand.
fn in_plain_words(error: &ron::Error) -> String {
    use ron::Error;
    match error {
        Error::Eof => "the file ends too early".into(),
        Error::Message(message) => message.clone(),
        Error::MissingStructField { field, .. } => format!("{field} is missing"),
        Error::NoSuchStructField { found, .. } => format!("{found} is not known here"),
        Error::NoSuchEnumVariant {
            expected, found, ..
        } => format!(
            "{found} stands where one of {} was expected",
            expected.join(", ")
        ),
        Error::InvalidValueForType { expected, found } => {
            format!("{found} stands where {expected} was expected")
        }
        Error::TrailingCharacters => "more text follows after the end".into(),
        other => {
            let words = other.to_string();
            let mut letters = words.chars();
            letters.next().map_or_else(String::new, |first| {
                first.to_lowercase().chain(letters).collect()
            })
        }
    }
}

#[cfg(test)]
mod tests;
