//! The built program, run as a maker or a script runs it: every command, every exit code, bad input of every kind.
//! No display is needed: the variables that name one are taken away.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

mod bring_in;
mod demo_projects;
mod fit;
mod fitting;
mod lay;
mod layers;
mod order;
mod paper;
mod refusals;

use petitoile::demos;
use petitoile_core::Mm;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::fitting::DemandChoice;
use petitoile_core::measure::Measure;
use petitoile_core::project::Project;
use petitoile_exchange::project_file;
use serde_json::Value;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

/// A folder with the demo jacket in it, removed with the test.
struct Folder(PathBuf);

impl Folder {
    fn new() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let path =
            std::env::temp_dir().join(format!("petitoile-commands-{}-{count}", std::process::id()));
        fs::create_dir_all(&path).unwrap();
        let folder = Self(path);
        folder.put(
            "jacket.petitoile",
            project_file::write(&demos::first().unwrap()).unwrap(),
        );
        folder
    }

    fn put(&self, name: &str, text: impl AsRef<[u8]>) {
        fs::write(self.0.join(name), text).unwrap();
    }

    fn read(&self, name: &str) -> Vec<u8> {
        fs::read(self.0.join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    fn project(&self, name: &str) -> Project {
        project_file::read(&self.read(name)).unwrap()
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_petitoile"));
        command
            .args(arguments)
            .current_dir(&self.0)
            .env_remove("DISPLAY")
            .env_remove("WAYLAND_DISPLAY");
        command
            .env("XDG_DATA_HOME", self.0.join("data"))
            .stdin(Stdio::null());
        command
    }

    fn run(&self, arguments: &[&str]) -> Ran {
        Ran::of(&self.command(arguments).output().unwrap())
    }

    /// Everything in the folder with its content.
    fn snapshot(&self) -> Vec<(PathBuf, Vec<u8>)> {
        let mut files: Vec<_> = fs::read_dir(&self.0)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        files.sort();
        files
            .into_iter()
            .map(|path| (path.clone(), fs::read(&path).unwrap_or_default()))
            .collect()
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        fs::remove_dir_all(&self.0).ok();
    }
}

/// What a run left behind.
#[derive(Debug)]
struct Ran {
    code: Option<i32>,
    out: String,
    err: String,
}

impl Ran {
    fn of(output: &Output) -> Self {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
        Self {
            code: output.status.code(),
            out: text(&output.stdout),
            err: text(&output.stderr),
        }
    }

    /// It is fine or tells of something unusable, but it ran.
    fn worked(self) -> Self {
        assert!(matches!(self.code, Some(0 | 1)), "{self:?}");
        let complaints: Vec<&str> = self.err.lines().filter(|line| !is_progress(line)).collect();
        assert_eq!(complaints, [""; 0], "nothing to complain about");
        self
    }

    fn json(self) -> Value {
        let ran = self.worked();
        let value: Value =
            serde_json::from_str(&ran.out).unwrap_or_else(|error| panic!("{error}: {}", ran.out));
        if let Some(usable) = value.get("usable") {
            assert_eq!(
                usable.as_bool(),
                Some(ran.code == Some(0)),
                "the exit code says the same as the report"
            );
        }
        value
    }

    /// Bad input: exit code 2 and one line that holds all these words.
    fn refused(&self, words: &[&str]) {
        assert_eq!(self.code, Some(2), "{self:?}");
        assert_eq!(self.out, "", "{self:?}");
        assert_eq!(self.err.lines().count(), 1, "one line: {}", self.err);
        assert!(self.err.starts_with("petitoile: "), "{}", self.err);
        for word in words {
            assert!(self.err.contains(word), "{word} is not in: {}", self.err);
        }
    }
}

fn on_file<'a>(command: &[&'a str], file: &'a str) -> Vec<&'a str> {
    command
        .iter()
        .map(|word| if *word == "FILE" { file } else { word })
        .collect()
}

/// "50 steps: ..." or "1 of 6: ...": how far a long job is, not a complaint.
fn is_progress(line: &str) -> bool {
    let told = line.split(": ").next().unwrap_or_default();
    let is_number = |word: &str| word.parse::<u64>().is_ok();
    match told.split(' ').collect::<Vec<_>>().as_slice() {
        [number, "steps"] => is_number(number),
        [number, "of", all] => is_number(number) && is_number(all),
        _ => false,
    }
}
