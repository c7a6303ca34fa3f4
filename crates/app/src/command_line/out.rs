//! The only place that writes to the terminal. A closed pipe is no trouble: whoever closed it has read enough.

use std::io::{self, Write};

/// Writes to standard output.
///
/// # Errors
/// When it cannot be written (a full disk behind `>`). A pipe that was closed at its other end is no error.
pub fn say(words: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    match out.write_all(words.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
        said => said,
    }
}

/// Writes one line to standard error. When even that fails there is nobody left to tell.
pub fn complain(line: &str) {
    let _ = writeln!(io::stderr().lock(), "petitoile: {}", one_line(line));
}

/// Says how far a long job is: one line on standard error, where nobody reads a report from.
pub fn progress(line: &str) {
    let _ = writeln!(io::stderr().lock(), "{}", one_line(line));
}

/// Names of files and pieces may hold line ends; a complaint is one line.
fn one_line(words: &str) -> String {
    words
        .split(['\n', '\r'])
        .map(str::trim)
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" ")
}
