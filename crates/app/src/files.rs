//! Safe files: written beside, synced, renamed; the version before is kept; unsaved work is recovered.
//!
//! A project on disk is replaced only when it is the one that was read: a file that cannot be read, or that
//! something else changed since, is left alone and the maker is asked for another name.
//! Paths and disks live here and nowhere else; what stands in the files is the business of `petitoile-exchange`.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use petitoile_core::body::Body;
use petitoile_core::cloth::Stash;
use petitoile_core::outfit::Wardrobe;
use petitoile_core::project::Project;
use petitoile_exchange::body_table;
use petitoile_exchange::bring_in::Kind;
use petitoile_exchange::project_file::{self, ProjectFileError};

pub mod recovery;
pub mod writing;

pub use recovery::{Kept, Recovery, Work};

/// Largest file that is read, in bytes.
pub const LARGEST: u64 = project_file::MOST_BYTES as u64;

/// The ending of a project file.
pub const ENDING: &str = "petitoile";

/// What stood in a file when it was last read or written here: its size and a check sum (FNV-1a, 64 bit).
///
/// Guards against overwriting somebody else's change, not against forgery.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Seal {
    /// Bytes.
    pub size: u64,
    /// Check sum.
    pub sum: u64,
}

impl Seal {
    /// The seal of these bytes.
    pub fn of(bytes: &[u8]) -> Self {
        Self {
            size: bytes.len() as u64,
            sum: check_sum(bytes),
        }
    }
}

/// FNV-1a, 64 bit. The same on every machine, since recovery files are named by it.
///
/// # Source
/// draft-eastlake-fnv (the two constants, from memory; checked against its published test values below).
pub(crate) fn check_sum(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |sum, byte| {
        (sum ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// A project read from a file.
#[derive(Debug, Clone, PartialEq)]
pub struct Opened {
    /// What the file holds.
    pub project: Project,
    /// What must still be there when it is saved again.
    pub seal: Seal,
}

/// Why a file cannot be read or written: which file, what is wrong, what to do. One line each.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum FileError {
    /// No such file.
    #[error("{}: there is no such file; check its name and folder", .0.display())]
    Missing(PathBuf),
    /// A folder where a file is wanted.
    #[error("{}: this is a folder; name a file in it", .0.display())]
    IsFolder(PathBuf),
    /// Neither file nor folder (a device, a pipe).
    #[error("{}: this is no ordinary file; name a file on a disk", .0.display())]
    NoOrdinaryFile(PathBuf),
    /// Larger than [`LARGEST`].
    #[error("{}: {size} bytes are too many for a project (up to {LARGEST} are read); check that it is a Petitoile file", path.display())]
    TooBig {
        /// The file.
        path: PathBuf,
        /// Its size, bytes.
        size: u64,
    },
    /// The system does not let it be read.
    #[error("{}: it cannot be read ({why}); check its permissions or copy it somewhere else", path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
    /// It holds no project this version understands, or the project cannot be written so that it could be read again.
    #[error("{}: {why}{way_out}", path.display())]
    Unfit {
        /// The file.
        path: PathBuf,
        /// Where and why.
        why: ProjectFileError,
        /// What to do, with its "; " in front, where `why` does not say it itself.
        way_out: String,
    },
    /// It was read, but holds no body.
    #[error("{}: {why}; a body file is what `petitoile bodies --show BODY` prints, with your own figures in it", path.display())]
    NoBody {
        /// The file.
        path: PathBuf,
        /// Where and why.
        why: String,
    },
    /// The folder it should be written to is not there.
    #[error("{}: the folder {} does not exist; create it first or name another", path.display(), folder.display())]
    NoFolder {
        /// The file.
        path: PathBuf,
        /// Its folder.
        folder: PathBuf,
    },
    /// The file or its folder is write-protected.
    #[error("{}: {} is write-protected; save under another name or in another folder", path.display(), what.display())]
    Protected {
        /// The file.
        path: PathBuf,
        /// What is protected: the file itself or its folder.
        what: PathBuf,
    },
    /// What is there cannot be read as a project, so it is not overwritten.
    #[error("{}: what is there cannot be read ({why}), so it is not overwritten; save under another name", path.display())]
    NotOverwritten {
        /// The file.
        path: PathBuf,
        /// Why it cannot be read.
        why: String,
    },
    /// Something else changed it since it was opened here.
    #[error("{}: something else changed this file since it was opened here, so it is not overwritten; save under another name, then compare the two", .0.display())]
    Changed(PathBuf),
    /// Another kind of file is there.
    #[error("{}: a file that is no {kind} is already there, so it is not overwritten; name another file", path.display())]
    OtherKind {
        /// The file.
        path: PathBuf,
        /// What would have been written: "PDF".
        kind: &'static str,
    },
    /// The system does not let it be written. The file that was there before is untouched.
    #[error("{}: it cannot be written ({why}); the file is left as it was, save under another name or in another folder", path.display())]
    Unwritten {
        /// The file.
        path: PathBuf,
        /// What the system says.
        why: String,
    },
    /// There is no place for recovery files.
    #[error(
        "there is no folder for unsaved work: neither XDG_DATA_HOME nor HOME is set; set one of them"
    )]
    NoDataFolder,
    /// A recovery file that is not one.
    #[error("{}: this is no recovery file; discard it", .0.display())]
    NoRecovery(PathBuf),
}

impl FileError {
    /// No project, with what to do about it: only here it is known what lies beside the file.
    pub(crate) fn unfit(path: &Path, why: ProjectFileError) -> Self {
        let way_out = match &why {
            ProjectFileError::Broken { .. } | ProjectFileError::Unsound(_) => {
                match writing::kept_before(path) {
                    Some(before) => format!("; the version before it is {}", before.display()),
                    None => "; check the place named".to_owned(),
                }
            }
            ProjectFileError::OtherKind { found, .. } => {
                format!("; Petitoile cannot open a {found} yet")
            }
            ProjectFileError::Newer { .. }
            | ProjectFileError::TooLong { .. }
            | ProjectFileError::CannotBeWritten { .. } => String::new(),
        };
        Self::Unfit {
            path: path.to_owned(),
            why,
            way_out,
        }
    }
}

/// Reads at most [`LARGEST`] bytes of an ordinary file.
///
/// # Errors
/// [`FileError`] when it is missing, a folder, too big or unreadable.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, FileError> {
    let unreadable = |error: &io::Error| match error.kind() {
        io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => {
            FileError::Missing(path.to_owned())
        }
        _ => FileError::Unreadable {
            path: path.to_owned(),
            why: plain(error),
        },
    };
    let about = fs::metadata(path).map_err(|e| unreadable(&e))?;
    if about.is_dir() {
        return Err(FileError::IsFolder(path.to_owned()));
    }
    if !about.is_file() {
        return Err(FileError::NoOrdinaryFile(path.to_owned()));
    }
    if LARGEST < about.len() {
        return Err(FileError::TooBig {
            path: path.to_owned(),
            size: about.len(),
        });
    }
    let mut bytes = Vec::new();
    // One byte more than allowed: a file that grows while it is read is noticed.
    File::open(path)
        .and_then(|file| file.take(LARGEST + 1).read_to_end(&mut bytes))
        .map_err(|e| unreadable(&e))?;
    if LARGEST < bytes.len() as u64 {
        return Err(FileError::TooBig {
            path: path.to_owned(),
            size: bytes.len() as u64,
        });
    }
    Ok(bytes)
}

/// Opens a project file.
///
/// # Errors
/// [`FileError`] when it cannot be read or holds no project this version understands.
pub fn open(path: &Path) -> Result<Opened, FileError> {
    let bytes = read_bytes(path)?;
    let project = project_file::read(&bytes).map_err(|why| FileError::unfit(path, why))?;
    Ok(Opened {
        project,
        seal: Seal::of(&bytes),
    })
}

/// Saves a project; what was there before is kept beside it, ending in `.before`.
///
/// `seal` is what [`open`] or the last `save` gave for this very path; `None` for a path that was not opened here
/// (save under another name): then a project that can be read may be replaced, anything else may not.
///
/// # Errors
/// [`FileError`]; the file on disk is then as it was.
pub fn save(path: &Path, project: &Project, seal: Option<Seal>) -> Result<Seal, FileError> {
    let there = match read_bytes(path) {
        Ok(bytes) => Some(bytes),
        Err(FileError::Missing(_)) => None,
        Err(FileError::Unreadable { path, why }) => {
            return Err(FileError::NotOverwritten { path, why });
        }
        Err(other) => return Err(other),
    };
    match (&there, seal) {
        (Some(bytes), Some(seal)) if Seal::of(bytes) != seal => {
            return Err(FileError::Changed(path.to_owned()));
        }
        (Some(bytes), None) => {
            if let Err(why) = project_file::read(bytes) {
                return Err(FileError::NotOverwritten {
                    path: path.to_owned(),
                    why: why.to_string(),
                });
            }
        }
        _ => {}
    }
    let text = project_file::write(project).map_err(|why| FileError::unfit(path, why))?;
    writing::replace(path, text.as_bytes(), there.as_deref())?;
    Ok(Seal::of(text.as_bytes()))
}

/// Opens a wardrobe file.
///
/// # Errors
/// [`FileError`] when it cannot be read or holds no wardrobe.
pub fn open_wardrobe(path: &Path) -> Result<Wardrobe, FileError> {
    let bytes = read_bytes(path)?;
    project_file::read_wardrobe(&bytes).map_err(|why| FileError::unfit(path, why))
}

/// Changes a wardrobe file: what stands in it now is read, changed and written again; what was there before is kept
/// beside it, ending in `.before`. Where there is no such file, a new wardrobe is begun.
///
/// # Errors
/// [`FileError`]; the file on disk is then as it was. What is no wardrobe is not overwritten.
pub fn change_wardrobe(
    path: &Path,
    change: impl FnOnce(&Wardrobe) -> Wardrobe,
) -> Result<Wardrobe, FileError> {
    change_file(
        path,
        project_file::read_wardrobe,
        project_file::write_wardrobe,
        change,
    )
}

/// Opens a stash file.
///
/// # Errors
/// [`FileError`] when it cannot be read or holds no stash.
pub fn open_stash(path: &Path) -> Result<Stash, FileError> {
    let bytes = read_bytes(path)?;
    project_file::read_stash(&bytes).map_err(|why| FileError::unfit(path, why))
}

/// Changes a stash file as [`change_wardrobe`] does a wardrobe. Where there is no such file, a new stash is begun.
///
/// # Errors
/// [`FileError`]; the file on disk is then as it was. What is no stash is not overwritten.
pub fn change_stash(path: &Path, change: impl FnOnce(&Stash) -> Stash) -> Result<Stash, FileError> {
    change_file(
        path,
        project_file::read_stash,
        project_file::write_stash,
        change,
    )
}

/// Reads what stands in a file now, changes it and writes it again, keeping what was there before; begins it anew where there is
/// no such file.
fn change_file<T: Default>(
    path: &Path,
    read: impl FnOnce(&[u8]) -> Result<T, ProjectFileError>,
    write: impl FnOnce(&T) -> Result<String, ProjectFileError>,
    change: impl FnOnce(&T) -> T,
) -> Result<T, FileError> {
    let there = match read_bytes(path) {
        Ok(bytes) => Some(bytes),
        Err(FileError::Missing(_)) => None,
        Err(other) => return Err(other),
    };
    let unfit = |why| FileError::unfit(path, why);
    let before = match &there {
        Some(bytes) => read(bytes).map_err(unfit)?,
        None => T::default(),
    };
    let after = change(&before);
    let text = write(&after).map_err(unfit)?;
    writing::replace(path, text.as_bytes(), there.as_deref())?;
    Ok(after)
}

/// Opens a body file: a body table with one body in it, as `petitoile bodies --show BODY` prints it.
///
/// # Errors
/// [`FileError`] when it cannot be read or holds no body, or more than one.
pub fn open_body(path: &Path) -> Result<Arc<Body>, FileError> {
    let bytes = read_bytes(path)?;
    let no_body = |why: String| FileError::NoBody {
        path: path.to_owned(),
        why,
    };
    let text = std::str::from_utf8(&bytes).map_err(|_| no_body("this is not text".to_owned()))?;
    let bodies = body_table::read(text).map_err(|error| no_body(error.to_string()))?;
    match bodies.as_slice() {
        [only] => Ok(only.clone()),
        bodies => Err(no_body(format!(
            "it holds {} bodies, one is wanted",
            bodies.len()
        ))),
    }
}

/// Kinds of files that are made, not edited: replaced without keeping the version before.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Product {
    /// A print.
    Pdf,
    /// A drawing.
    Svg,
    /// A drawing for other programs.
    Dxf,
    /// A picture.
    Png,
    /// A report as text or JSON.
    Report,
}

impl Product {
    fn name(self) -> &'static str {
        match self {
            Self::Pdf => "PDF",
            Self::Svg => "SVG",
            Self::Dxf => "DXF",
            Self::Png => "PNG",
            Self::Report => "report",
        }
    }

    /// Do these bytes look like the same kind of file?
    fn is(self, bytes: &[u8]) -> bool {
        match self {
            Self::Pdf => bytes.starts_with(b"%PDF"),
            Self::Svg => bytes.starts_with(b"<?xml") || bytes.starts_with(b"<svg"),
            Self::Dxf => Kind::of(bytes) == Some(Kind::Dxf),
            Self::Png => bytes.starts_with(b"\x89PNG"),
            Self::Report => {
                bytes.starts_with(b"{") || bytes.starts_with(crate::report::FIRST_WORDS.as_bytes())
            }
        }
    }
}

/// Writes a print, drawing or report. Only an empty file or one of the same kind is replaced, so that a slip of the
/// hand (`--out jacket.petitoile`) costs no project.
///
/// # Errors
/// [`FileError`]; the file on disk is then as it was.
pub fn put(path: &Path, kind: Product, bytes: &[u8]) -> Result<(), FileError> {
    match read_bytes(path) {
        Ok(there) if !there.is_empty() && !kind.is(&there) => Err(FileError::OtherKind {
            path: path.to_owned(),
            kind: kind.name(),
        }),
        Ok(_) | Err(FileError::Missing(_)) => writing::replace(path, bytes, None),
        Err(FileError::TooBig { path, .. } | FileError::Unreadable { path, .. }) => {
            Err(FileError::OtherKind {
                path,
                kind: kind.name(),
            })
        }
        Err(other) => Err(other),
    }
}

/// What the system says, without its error number.
pub(crate) fn plain(error: &io::Error) -> String {
    let said = error.to_string();
    said.split(" (os error")
        .next()
        .unwrap_or(&said)
        .to_lowercase()
}

#[cfg(test)]
#[allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]
mod tests;
