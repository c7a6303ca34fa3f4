//! Replacing a file so that at every moment either the old or the new one is whole on the disk.
//!
//! Four steps, each of which may be the last before a power cut:
//! write beside and sync, keep the version before, rename, sync the folder.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use super::{FileError, plain};

/// Puts new bytes in the place of a file. `before` is what was read there and is kept beside it, ending in `.before`.
///
/// A link is followed: the file it points to is replaced, the link stays.
///
/// # Errors
/// [`FileError`]; the file on disk is then as it was.
pub fn replace(path: &Path, bytes: &[u8], before: Option<&[u8]>) -> Result<(), FileError> {
    let path = &followed(path);
    may_be_written(path)?;
    let unwritten = |error: io::Error| FileError::Unwritten {
        path: path.clone(),
        why: plain(&error),
    };
    let beside = write_beside(path, bytes).map_err(unwritten)?;
    let kept = before.map_or(Ok(()), |before| keep_before(path, before));
    if let Err(error) = kept.and_then(|()| put_in_place(&beside, path)) {
        // The new file is of no use any more; that it cannot be removed changes nothing for the maker.
        let _ = fs::remove_file(&beside);
        return Err(unwritten(error));
    }
    sync_folder(path);
    Ok(())
}

/// Where a link leads; the path itself when it is none or leads nowhere.
fn followed(path: &Path) -> PathBuf {
    fs::canonicalize(path).unwrap_or_else(|_| path.to_owned())
}

/// The folder a file is in; "." for a bare name.
pub(crate) fn folder_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder.to_owned(),
        _ => PathBuf::from("."),
    }
}

/// Is there a folder, is there no folder in the way, and is nothing write-protected?
pub(crate) fn may_be_written(path: &Path) -> Result<(), FileError> {
    if path.is_dir() || path.file_name().is_none() {
        return Err(FileError::IsFolder(path.to_owned()));
    }
    let folder = folder_of(path);
    let Ok(about) = fs::metadata(&folder) else {
        return Err(FileError::NoFolder {
            path: path.to_owned(),
            folder,
        });
    };
    if !about.is_dir() {
        return Err(FileError::NoFolder {
            path: path.to_owned(),
            folder,
        });
    }
    // On Windows this flag of a folder means something else.
    if cfg!(unix) && about.permissions().readonly() {
        return Err(FileError::Protected {
            path: path.to_owned(),
            what: folder,
        });
    }
    // Renaming would put a new file in the place of a write-protected one: whoever protected it meant it.
    if fs::metadata(path).is_ok_and(|file| file.permissions().readonly()) {
        return Err(FileError::Protected {
            path: path.to_owned(),
            what: path.to_owned(),
        });
    }
    Ok(())
}

/// Step 1: the new bytes in a file of their own in the same folder, synced, with the permissions of the old one.
pub(crate) fn write_beside(path: &Path, bytes: &[u8]) -> io::Result<PathBuf> {
    let (mut file, beside) = new_beside(path)?;
    let written = file.write_all(bytes).and_then(|()| {
        if let Ok(old) = fs::metadata(path) {
            file.set_permissions(old.permissions())?;
        }
        file.sync_all()
    });
    if let Err(error) = written {
        let _ = fs::remove_file(&beside);
        return Err(error);
    }
    Ok(beside)
}

/// A file that was not there before, named after `path`.
fn new_beside(path: &Path) -> io::Result<(File, PathBuf)> {
    static COUNT: AtomicU32 = AtomicU32::new(0);
    let mut last = io::Error::from(io::ErrorKind::AlreadyExists);
    // Leftovers of a crash may have the first names; a hundred of them would mean something else is wrong.
    for _ in 0..100 {
        let number = COUNT.fetch_add(1, Ordering::Relaxed);
        let mut name = std::ffi::OsString::from(".");
        name.push(path.file_name().unwrap_or_default());
        name.push(format!(".writing-{}-{number}", std::process::id()));
        let beside = folder_of(path).join(name);
        match OpenOptions::new()
            .write(true)
            .create_new(true)
            .open(&beside)
        {
            Ok(file) => return Ok((file, beside)),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => last = error,
            Err(error) => return Err(error),
        }
    }
    Err(last)
}

/// The name of the version before: the whole name and `.before`.
pub fn before_name(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".before");
    PathBuf::from(name)
}

/// The version before, if there is one: beside the file, or where a link leads as [`replace`] follows it.
pub(crate) fn kept_before(path: &Path) -> Option<PathBuf> {
    [before_name(path), before_name(&followed(path))]
        .into_iter()
        .find(|before| before.is_file())
}

/// Step 2: what was read goes into NAME.before, itself written beside and renamed.
///
/// The bytes that were read are kept, not what is on the disk by now: they are the ones that were checked.
pub(crate) fn keep_before(path: &Path, before: &[u8]) -> io::Result<()> {
    let name = before_name(path);
    let beside = write_beside(&name, before)?;
    put_in_place(&beside, &name).inspect_err(|_| {
        let _ = fs::remove_file(&beside);
    })
}

/// Step 3: the new file takes the name. Whole or not at all.
pub(crate) fn put_in_place(beside: &Path, path: &Path) -> io::Result<()> {
    fs::rename(beside, path)
}

/// Step 4: the folder remembers the new name even after a power cut. Not every system can; then nothing is lost
/// but the newest save.
pub(crate) fn sync_folder(path: &Path) {
    if cfg!(unix)
        && let Ok(folder) = File::open(folder_of(path))
    {
        let _ = folder.sync_all();
    }
}
