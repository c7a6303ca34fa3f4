//! What is asked for on the command line.

use std::path::PathBuf;

/// How to call it.
pub const USE: &str = "petitoile-lay-bench DIR [--seconds N] [--seed S]... [--only NAME]... [--rooms N]... [--scale X]...

  DIR         folder with instance files (*.json): strips, bins, pieces on offcuts
  --seconds   seconds on one core for each instance and seed (60)
  --seed      where chance starts; several give the median (1)
  --only      instances by name, without .json (all in the folder)
  --rooms     for bins: lay on so many of the largest rooms (the fewest with 1.9 times the area of the items)
  --scale     for pieces on offcuts: offcuts larger by this factor (1.055 and 1.05)";

/// A request.
#[derive(Clone, Debug, PartialEq)]
pub struct Request {
    /// The folder.
    pub folder: PathBuf,
    /// Seconds for each instance and seed.
    pub seconds: f64,
    /// Seeds; at least one.
    pub seeds: Vec<u64>,
    /// Names wanted; empty: all.
    pub only: Vec<String>,
    /// Numbers of rooms wanted; empty: chosen by area.
    pub rooms: Vec<usize>,
    /// Factors wanted.
    pub scales: Vec<f64>,
}

impl Request {
    /// Reads the words after the program's name.
    ///
    /// # Errors
    /// In words, with how to call it.
    pub fn read(words: impl IntoIterator<Item = String>) -> Result<Self, String> {
        let wrong = |what: String| format!("{what}\n\n{USE}");
        let mut words = words.into_iter();
        let mut folder = None;
        let mut request = Self {
            folder: PathBuf::new(),
            seconds: 60.0,
            seeds: vec![],
            only: vec![],
            rooms: vec![],
            scales: vec![],
        };
        while let Some(word) = words.next() {
            if !word.starts_with("--") {
                if folder.replace(PathBuf::from(&word)).is_some() {
                    return Err(wrong(format!("{word}: one folder only")));
                }
                continue;
            }
            let value = words
                .next()
                .ok_or_else(|| wrong(format!("{word}: a value is missing")))?;
            let bad = || wrong(format!("{word} {value}: this is no fitting number"));
            match word.as_str() {
                "--seconds" => request.seconds = positive(&value).ok_or_else(bad)?,
                "--seed" => request.seeds.push(value.parse().map_err(|_| bad())?),
                "--only" => request.only.push(value),
                "--rooms" => request.rooms.push(
                    value
                        .parse()
                        .ok()
                        .filter(|count| *count > 0)
                        .ok_or_else(bad)?,
                ),
                "--scale" => request.scales.push(positive(&value).ok_or_else(bad)?),
                _ => return Err(wrong(format!("{word}: not known"))),
            }
        }
        request.folder = folder.ok_or_else(|| wrong("the folder is missing".to_owned()))?;
        if request.seeds.is_empty() {
            request.seeds.push(1);
        }
        if request.scales.is_empty() {
            request.scales.extend([1.055, 1.05]);
        }
        Ok(request)
    }

    /// The instance files of the folder that are wanted, by name.
    ///
    /// # Errors
    /// When the folder cannot be read or holds none of them.
    pub fn files(&self) -> Result<Vec<PathBuf>, String> {
        let folder = self.folder.display();
        let entries = std::fs::read_dir(&self.folder)
            .map_err(|why| format!("the folder of instances is not there: {folder} ({why})"))?;
        let wanted = |path: &PathBuf| {
            let name = path
                .file_stem()
                .map(|name| name.to_string_lossy().into_owned())
                .unwrap_or_default();
            path.extension().is_some_and(|kind| kind == "json")
                && (self.only.is_empty() || self.only.contains(&name))
        };
        let mut files: Vec<PathBuf> = entries
            .filter_map(|entry| Some(entry.ok()?.path()))
            .filter(wanted)
            .collect();
        files.sort();
        if files.is_empty() {
            return Err(format!("no instance (*.json) to measure in {folder}"));
        }
        Ok(files)
    }
}

fn positive(text: &str) -> Option<f64> {
    text.parse()
        .ok()
        .filter(|value: &f64| value.is_finite() && *value > 0.0)
}
