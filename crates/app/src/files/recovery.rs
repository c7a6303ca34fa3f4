//! Unsaved work, kept in the user's data folder and offered again after a crash.
//!
//! The window calls [`Recovery::keep`] when [`AUTOSAVE_EVERY`] has passed since the first unsaved change,
//! [`Recovery::forget`] after every save and on an orderly end. What [`Recovery::list`] finds at the next start
//! is work that was never saved.
//!
//! A recovery file is one line of JSON (what it belongs to) and then the project file as it would have been saved.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use petitoile_core::project::Project;
use petitoile_exchange::project_file;
use serde::{Deserialize, Serialize};

use super::{FileError, Seal, check_sum, read_bytes, writing};

/// How long a change may stay unsaved before it is kept here.
///
/// 10 s: common practice, no source.
pub const AUTOSAVE_EVERY: Duration = Duration::from_secs(10);

/// The work a recovery file belongs to: one project file, or one window in which nothing was saved yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Work {
    /// The project file, when it has one.
    pub path: Option<PathBuf>,
    /// What stood in it when it was read or saved last.
    pub seal: Option<Seal>,
    /// Name of the recovery file, without folder.
    name: String,
}

impl Work {
    /// Work on a project file.
    pub fn on_file(path: &Path, seal: Option<Seal>) -> Self {
        let whole = fs::canonicalize(path)
            .or_else(|_| std::path::absolute(path))
            .unwrap_or_else(|_| path.to_owned());
        let stem = whole
            .file_stem()
            .unwrap_or_default()
            .to_string_lossy()
            .into_owned();
        let name = format!(
            "{}-{:016x}.recovery",
            plain_name(&stem),
            check_sum(whole.as_os_str().as_encoded_bytes())
        );
        Self {
            path: Some(whole),
            seal,
            name,
        }
    }

    /// Work that has no file yet. Call once for every window or new project: each call gives a name of its own.
    pub fn untitled() -> Self {
        let now = SystemTime::now()
            .duration_since(UNIX_EPOCH)
            .unwrap_or_default()
            .as_nanos();
        Self {
            path: None,
            seal: None,
            name: format!("untitled-{now:x}-{}.recovery", std::process::id()),
        }
    }
}

/// Letters and digits of a name, the rest as hyphens, at most 40 of them: good on every disk.
fn plain_name(name: &str) -> String {
    name.chars()
        .take(40)
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect()
}

/// The first line of a recovery file.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
struct Head {
    /// Always 1.
    petitoile_recovery: u32,
    /// The project file.
    path: Option<PathBuf>,
    /// What stood in it.
    seal: Option<Seal>,
    /// Seconds since 1970.
    kept_at: u64,
    /// Process that wrote it.
    process: u32,
}

/// Unsaved work that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept {
    /// The work it belongs to: goes on with it after [`Recovery::open`], so that the next `keep` replaces it.
    pub work: Work,
    /// When it was kept.
    pub kept_at: SystemTime,
    /// The recovery file.
    pub file: PathBuf,
}

/// The folder of recovery files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recovery {
    folder: PathBuf,
}

impl Recovery {
    /// Recovery files in the user's data folder: `$XDG_DATA_HOME`, else `~/.local/share` (Linux),
    /// `~/Library/Application Support` (macOS), `%LOCALAPPDATA%` (Windows).
    ///
    /// # Errors
    /// [`FileError::NoDataFolder`] when the system names none.
    pub fn of_user() -> Result<Self, FileError> {
        let set = |name: &str| {
            std::env::var_os(name)
                .map(PathBuf::from)
                .filter(|path| path.is_absolute())
        };
        let home = if cfg!(windows) {
            set("LOCALAPPDATA")
        } else if cfg!(target_os = "macos") {
            set("HOME").map(|home| home.join("Library").join("Application Support"))
        } else {
            set("HOME").map(|home| home.join(".local").join("share"))
        };
        let data = set("XDG_DATA_HOME")
            .or(home)
            .ok_or(FileError::NoDataFolder)?;
        Ok(Self::in_folder(data.join("petitoile").join("recovery")))
    }

    /// Recovery files in this folder, which is made when something is first kept.
    pub fn in_folder(folder: impl Into<PathBuf>) -> Self {
        Self {
            folder: folder.into(),
        }
    }

    /// Keeps unsaved work. The recovery file of the same work is replaced, whole or not at all.
    ///
    /// # Errors
    /// [`FileError`] when it cannot be written.
    pub fn keep(&self, work: &Work, project: &Project) -> Result<(), FileError> {
        let file = self.folder.join(&work.name);
        let unwritten = |why: String| FileError::Unwritten {
            path: file.clone(),
            why,
        };
        fs::create_dir_all(&self.folder).map_err(|e| unwritten(super::plain(&e)))?;
        let head = Head {
            petitoile_recovery: 1,
            path: work.path.clone(),
            seal: work.seal,
            kept_at: SystemTime::now()
                .duration_since(UNIX_EPOCH)
                .unwrap_or_default()
                .as_secs(),
            process: std::process::id(),
        };
        let mut text = serde_json::to_string(&head).map_err(|e| unwritten(e.to_string()))?;
        text.push('\n');
        let saved = project_file::write(project).map_err(|why| FileError::unfit(&file, why))?;
        text.push_str(&saved);
        writing::replace(&file, text.as_bytes(), None)
    }

    /// Forgets the recovery file of this work: it was saved, or the maker wants none of it.
    ///
    /// # Errors
    /// [`FileError`] when it is there and cannot be removed.
    pub fn forget(&self, work: &Work) -> Result<(), FileError> {
        remove(&self.folder.join(&work.name))
    }

    /// Unsaved work, newest first. Files that are no recovery files, and work that another Petitoile still has open,
    /// are left out.
    pub fn list(&self) -> Vec<Kept> {
        let Ok(entries) = fs::read_dir(&self.folder) else {
            return Vec::new();
        };
        let mut found: Vec<Kept> = entries
            .flatten()
            .map(|entry| entry.path())
            .filter(|file| file.extension().is_some_and(|ending| ending == "recovery"))
            .filter_map(|file| Some((split(&file).ok()?.0, file)))
            .filter(|(head, _)| !is_running(head.process))
            .filter_map(|(head, file)| {
                let name = file.file_name()?.to_str()?.to_owned();
                let work = Work {
                    path: head.path,
                    seal: head.seal,
                    name,
                };
                Some(Kept {
                    work,
                    kept_at: UNIX_EPOCH + Duration::from_secs(head.kept_at),
                    file,
                })
            })
            .collect();
        found.sort_by(|a, b| b.kept_at.cmp(&a.kept_at).then_with(|| a.file.cmp(&b.file)));
        found
    }

    /// The project as it was kept. It counts as unsaved; the recovery file stays until it is saved or discarded.
    ///
    /// # Errors
    /// [`FileError`] when the recovery file cannot be read.
    pub fn open(&self, kept: &Kept) -> Result<Project, FileError> {
        let (_, text) = split(&kept.file)?;
        project_file::read(&text).map_err(|why| FileError::unfit(&kept.file, why))
    }

    /// Throws kept work away.
    ///
    /// # Errors
    /// [`FileError`] when it is there and cannot be removed.
    pub fn discard(&self, kept: &Kept) -> Result<(), FileError> {
        remove(&kept.file)
    }
}

fn remove(file: &Path) -> Result<(), FileError> {
    match fs::remove_file(file) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(FileError::Unwritten {
            path: file.to_owned(),
            why: super::plain(&error),
        }),
        _ => Ok(()),
    }
}

/// Head line and project text of a recovery file.
fn split(file: &Path) -> Result<(Head, Vec<u8>), FileError> {
    let bytes = read_bytes(file)?;
    let no_recovery = || FileError::NoRecovery(file.to_owned());
    let end = bytes
        .iter()
        .position(|byte| *byte == b'\n')
        .ok_or_else(no_recovery)?;
    let (head, text) = bytes.split_at(end);
    let head: Head = serde_json::from_slice(head).map_err(|_| no_recovery())?;
    if head.petitoile_recovery != 1 {
        return Err(no_recovery());
    }
    Ok((head, text.get(1..).unwrap_or_default().to_vec()))
}

/// Is another Petitoile with this process number running? Only Linux tells without more libraries; elsewhere work of
/// a window that is still open is offered too, which costs a question and no work.
fn is_running(process: u32) -> bool {
    if process == std::process::id() {
        return false;
    }
    let name_of = |process: &str| fs::read_to_string(format!("/proc/{process}/comm")).ok();
    let other = name_of(&process.to_string());
    other.is_some() && other == name_of("self")
}
