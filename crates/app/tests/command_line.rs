//! The built program, run as a maker or a script runs it: every command, every exit code, bad input of every kind.
//! No display is needed: the variables that name one are taken away.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "tests"
)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};
use std::sync::atomic::{AtomicU32, Ordering};

use petitoile::demos;
use petitoile_core::Mm;
use petitoile_core::edit::{Edit, FittingEdit};
use petitoile_core::fitting::DemandChoice;
use petitoile_core::measure::Measure;
use petitoile_core::project::Project;
use petitoile_exchange::project_file;
use serde_json::Value;

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
        assert_eq!(self.err, "", "nothing to complain about");
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

const COMMANDS: [&[&str]; 5] = [
    &["check", "FILE"],
    &["measure", "FILE"],
    &["print", "FILE", "--paper", "a4", "--out", "x.pdf"],
    &["export", "FILE", "--out", "x.svg"],
    &["adapt", "FILE", "--to", "play-45", "--out", "x.petitoile"],
];

fn on_file<'a>(command: &[&'a str], file: &'a str) -> Vec<&'a str> {
    command
        .iter()
        .map(|word| if *word == "FILE" { file } else { word })
        .collect()
}

#[test]
fn the_demo_makes_its_files_without_a_display_and_ends_well() {
    let folder = Folder::new();
    let ran = folder.run(&["demo", "--out", "made"]);
    assert!(matches!(ran.code, Some(0 | 1)), "{ran:?}");
    assert!(ran.err.contains("no display"), "{}", ran.err);
    assert_eq!(ran.err.lines().count(), 1);
    let made = |name: &str| folder.read(&format!("made/{name}"));
    assert!(made("harbour-jacket.pdf").starts_with(b"%PDF"));
    assert!(
        String::from_utf8(made("harbour-jacket.svg"))
            .unwrap()
            .contains("mm\"")
    );
    assert_eq!(
        folder.project("made/harbour-jacket.petitoile"),
        demos::first().unwrap()
    );
    let text = String::from_utf8(made("report.txt")).unwrap();
    assert!(ran.out.starts_with(&text), "the same report on the screen");
    let report: Value = serde_json::from_slice(&made("report.json")).unwrap();
    assert_eq!(report["usable"], ran.code == Some(0));
    assert!(report["copies"].as_u64().unwrap() >= 12);
    assert!(report["print"]["pages"].as_u64().unwrap() >= 1);
    // Again: its own files are replaced, not more.
    assert_eq!(folder.run(&["demo", "--out", "made"]).code, ran.code);
}

#[test]
fn the_demo_goes_into_the_folder_it_names_when_none_is_given() {
    let folder = Folder::new();
    let ran = folder.run(&["demo", "--json"]);
    let report: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!(report["usable"], ran.code == Some(0), "{ran:?}");
    assert!(folder.0.join("petitoile-demo/harbour-jacket.pdf").is_file());
}

#[test]
fn a_window_that_cannot_open_does_not_spoil_the_demo() {
    let folder = Folder::new();
    // A display is named, but no screen answers there.
    let ran = Ran::of(
        &folder
            .command(&["demo"])
            .env("DISPLAY", ":9876")
            .output()
            .unwrap(),
    );
    let without = folder.run(&["demo"]);
    assert_eq!(ran.code, without.code, "{ran:?}");
    assert_eq!(ran.out, without.out);
    assert_eq!(
        ran.err
            .lines()
            .filter(|line| line.starts_with("petitoile: "))
            .count(),
        1,
        "{}",
        ran.err
    );
    assert!(folder.0.join("petitoile-demo/harbour-jacket.pdf").is_file());
}

#[test]
fn the_window_alone_needs_a_display() {
    let folder = Folder::new();
    folder.run(&[]).refused(&["no display", "--help"]);
    folder.run(&["jacket.petitoile"]).refused(&["no display"]);
    folder
        .run(&["nothing.petitoile"])
        .refused(&["nothing.petitoile", "no such file"]);
}

#[test]
fn a_check_tells_what_fits() {
    let folder = Folder::new();
    let ran = folder.run(&["check", "jacket.petitoile"]).worked();
    for words in [
        "Adapted to:",
        "demands met",
        "Findings",
        "To cut:",
        "Print:",
    ] {
        assert!(ran.out.contains(words), "{words} is not in: {}", ran.out);
    }
    let report = folder.run(&["check", "jacket.petitoile", "--json"]).json();
    assert_eq!(
        report["garment"],
        demos::first().unwrap().garments[0].name.as_str()
    );
    for list in ["demands", "ease", "findings"] {
        assert!(report[list].is_array(), "{list}");
    }
}

#[test]
fn measuring_gives_every_edge_and_every_seam() {
    let folder = Folder::new();
    let project = demos::first().unwrap();
    let garment = &project.garments[0];
    let measures = folder
        .run(&["measure", "jacket.petitoile", "--json"])
        .json();
    let edges: usize = garment
        .pieces
        .iter()
        .map(|piece| piece.outline.edges().len())
        .sum();
    assert_eq!(measures["edges"].as_array().unwrap().len(), edges);
    assert_eq!(
        measures["seams"].as_array().unwrap().len(),
        garment.seams.len()
    );
    for row in measures["edges"].as_array().unwrap() {
        let piece = garment.piece(row["piece"].as_str().unwrap()).unwrap();
        let length = piece
            .outline
            .edge(row["edge"].as_str().unwrap())
            .unwrap()
            .line
            .length();
        assert!(
            (row["source"].as_f64().unwrap() - length).abs() < 1e-9,
            "{row}"
        );
    }
    let text = folder.run(&["measure", "jacket.petitoile"]).worked().out;
    for seam in &garment.seams {
        assert!(text.contains(&seam.name), "{}", seam.name);
    }
}

#[test]
fn adapting_adds_a_fitting_and_leaves_the_file_alone() {
    let folder = Folder::new();
    let before = folder.read("jacket.petitoile");
    let report = folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "play-36",
            "--out",
            "small.petitoile",
            "--json",
        ])
        .json();
    assert_eq!(folder.read("jacket.petitoile"), before);
    let project = folder.project("small.petitoile");
    let name = report["fitting"].as_str().unwrap();
    assert_eq!(project.fitting(name).unwrap().body.key, "play-36");
    // The name that was printed finds it again.
    folder
        .run(&["check", "small.petitoile", "--fitting", name])
        .worked();
}

#[test]
fn adapting_into_the_same_file_keeps_the_version_before() {
    let folder = Folder::new();
    let before = folder.read("jacket.petitoile");
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "PLAY-36",
            "--out",
            "jacket.petitoile",
        ])
        .worked();
    assert_eq!(folder.read("jacket.petitoile.before"), before);
    assert_ne!(folder.read("jacket.petitoile"), before);
}

#[test]
fn the_choices_of_a_fitting_are_taken_over_to_another_body() {
    let folder = Folder::new();
    let project = demos::first().unwrap();
    let like = project.fittings[0].clone();
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "jointed-60",
            "--from-fitting",
            &like.name,
            "--out",
            "big.petitoile",
        ])
        .worked();
    let big = folder.project("big.petitoile");
    let taken = big
        .fittings
        .iter()
        .rfind(|fitting| fitting.body.key == "jointed-60")
        .unwrap();
    assert_eq!(taken.allowances, like.allowances);
    assert_eq!(taken.cloths, like.cloths);
    assert_eq!(taken.ease, like.ease);
}

#[test]
fn a_body_file_is_as_good_as_a_built_in_body() {
    let folder = Folder::new();
    let shown = folder.run(&["bodies", "--show", "play-45"]).worked().out;
    folder.put(
        "mine.ron",
        shown
            .replace("play-45", "my-own")
            .replace("45 cm play doll", "Rosalind"),
    );
    folder
        .run(&[
            "adapt",
            "jacket.petitoile",
            "--to",
            "mine.ron",
            "--out",
            "x.petitoile",
        ])
        .worked();
    let project = folder.project("x.petitoile");
    assert!(
        project
            .fittings
            .iter()
            .any(|fitting| fitting.body.key == "my-own")
    );
}

#[test]
fn every_body_in_the_list_can_be_typed() {
    let folder = Folder::new();
    let list = folder.run(&["bodies", "--json"]).json();
    let keys: Vec<&str> = list
        .as_array()
        .unwrap()
        .iter()
        .map(|row| row["key"].as_str().unwrap())
        .collect();
    assert!(
        keys.len() >= 15,
        "adults, children and nine doll classes: {keys:?}"
    );
    let text = folder.run(&["bodies"]).worked().out;
    for key in keys {
        assert!(
            text.lines()
                .any(|line| line.split_whitespace().next() == Some(key)),
            "{key}"
        );
        folder.run(&["bodies", "--show", key]).worked();
    }
}

#[test]
fn a_print_is_a_pdf_and_the_same_every_time() {
    let folder = Folder::new();
    let print = |more: &[&str], out: &str| {
        let mut words = vec!["print", "jacket.petitoile", "--json", "--out", out];
        words.extend(more);
        let said = folder.run(&words).json();
        assert_eq!(said["out"], out);
        let bytes = folder.read(out);
        assert!(bytes.starts_with(b"%PDF"));
        (said, bytes)
    };
    let (a4, first) = print(&["--paper", "a4"], "a4.pdf");
    assert_eq!(a4["print"]["paper"], "A4");
    assert_eq!(
        print(&["--paper", "a4"], "again.pdf").1,
        first,
        "same project, same bytes"
    );
    let (letter, other) = print(&["--paper", "letter", "--landscape"], "letter.pdf");
    assert_eq!(letter["print"]["paper"], "Letter");
    assert_eq!(letter["print"]["turn"], "landscape");
    assert_ne!(other, first);
    let (one, _) = print(&["--one-sheet"], "one.pdf");
    assert!(one["print"].is_null());
}

#[test]
fn an_export_is_an_svg_in_millimetres() {
    let folder = Folder::new();
    folder
        .run(&["export", "jacket.petitoile", "--out", "x.svg"])
        .worked();
    let text = String::from_utf8(folder.read("x.svg")).unwrap();
    assert!(
        text.contains("<svg") && text.contains("mm\""),
        "{}",
        text.chars().take(300).collect::<String>()
    );
}

#[test]
fn bad_files_are_refused_in_one_line_and_nothing_is_written() {
    let folder = Folder::new();
    let whole = String::from_utf8(folder.read("jacket.petitoile")).unwrap();
    let half = whole
        .char_indices()
        .nth(whole.chars().count() / 2)
        .unwrap()
        .0;
    folder.put("half.petitoile", &whole[..half]);
    folder.put(
        "junk.petitoile",
        (0..4096_u32)
            .map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8)
            .collect::<Vec<u8>>(),
    );
    folder.put("empty.petitoile", "");
    folder.put(
        "newer.petitoile",
        whole.replacen(
            &format!("petitoile: {}", project_file::FORMAT),
            "petitoile: 4000",
            1,
        ),
    );
    folder.put("nested.petitoile", "(".repeat(200_000));
    fs::create_dir(folder.0.join("folder")).unwrap();
    let before = folder.snapshot();
    for (file, words) in [
        ("missing.petitoile", "no such file"),
        ("folder", "folder"),
        ("half.petitoile", "line"),
        ("junk.petitoile", "line"),
        ("empty.petitoile", "empty.petitoile"),
        ("newer.petitoile", "4000"),
        ("nested.petitoile", "nested.petitoile"),
        ("jacket.petitoile/inner", "no such file"),
    ] {
        for command in COMMANDS {
            folder.run(&on_file(command, file)).refused(&[file, words]);
        }
    }
    assert_eq!(folder.snapshot(), before, "nothing was written");
}

#[test]
fn unknown_names_are_told_with_what_there_is() {
    let folder = Folder::new();
    let project = demos::first().unwrap();
    let fittings: Vec<&str> = project
        .fittings
        .iter()
        .map(|fitting| fitting.name.as_str())
        .collect();
    for command in &COMMANDS[..4] {
        let mut words = on_file(command, "jacket.petitoile");
        words.extend(["--fitting", "Gown for nobody"]);
        let ran = folder.run(&words);
        ran.refused(&["jacket.petitoile", "Gown for nobody"]);
        ran.refused(&fittings);
    }
    let adapt = |more: &[&str]| {
        let mut words = vec!["adapt", "jacket.petitoile", "--out", "x.petitoile"];
        words.extend(more);
        folder.run(&words)
    };
    adapt(&["--to", "play-46"]).refused(&["play-46", "did you mean play-4", "petitoile bodies"]);
    adapt(&["--to", "nowhere/mine.ron"]).refused(&["nowhere/mine.ron", "no such file"]);
    adapt(&["--to", "jacket.petitoile"]).refused(&["jacket.petitoile", "bodies --show"]);
    adapt(&["--to", "play-45", "--garment", "Gown"]).refused(&["Gown", &project.garments[0].name]);
    adapt(&["--to", "play-45", "--from-fitting", "Gown"]).refused(&["Gown", fittings[0]]);
    folder
        .run(&["bodies", "--show", "cat"])
        .refused(&["cat", "petitoile bodies"]);
}

#[test]
fn what_cannot_be_written_is_told_and_nothing_else_is_touched() {
    let folder = Folder::new();
    fs::create_dir(folder.0.join("folder")).unwrap();
    folder.put("letter.txt", "Dear aunt");
    let print = |out: &str| folder.run(&["print", "jacket.petitoile", "--out", out]);
    let before = folder.snapshot();
    print("folder").refused(&["folder", "this is a folder"]);
    print("no/where.pdf").refused(&["no/where.pdf", "does not exist"]);
    print("letter.txt").refused(&["letter.txt", "not overwritten"]);
    print("jacket.petitoile").refused(&["jacket.petitoile", "not overwritten"]);
    let adapt =
        |out: &str| folder.run(&["adapt", "jacket.petitoile", "--to", "play-45", "--out", out]);
    adapt("folder").refused(&["folder"]);
    adapt("letter.txt").refused(&["letter.txt", "not overwritten"]);
    folder
        .run(&["demo", "--out", "letter.txt"])
        .refused(&["letter.txt"]);
    if cfg!(target_os = "linux") {
        print("/proc/x.pdf").refused(&["/proc/x.pdf"]);
        folder
            .run(&["demo", "--out", "/proc/made"])
            .refused(&["/proc/made"]);
    }
    assert_eq!(folder.snapshot(), before);
}

#[test]
fn a_slip_in_the_command_itself_ends_with_2_and_says_how_it_is_used() {
    let folder = Folder::new();
    for words in [
        &["sew"][..],
        &["sew", "jacket.petitoile"],
        &["check"],
        &["print", "jacket.petitoile"],
        &[
            "print",
            "jacket.petitoile",
            "--paper",
            "a0",
            "--out",
            "x.pdf",
        ],
    ] {
        let ran = folder.run(words);
        assert_eq!(ran.code, Some(2), "{words:?}: {ran:?}");
        assert!(!ran.err.is_empty() && ran.out.is_empty(), "{ran:?}");
    }
    for words in [&["--help"][..], &["--version"], &["adapt", "--help"]] {
        let ran = folder.run(words);
        assert_eq!((ran.code, ran.err.as_str()), (Some(0), ""), "{words:?}");
        assert!(ran.out.contains("petitoile") || ran.out.contains("Petitoile"));
    }
}

#[cfg(unix)]
#[test]
fn a_closed_pipe_is_no_trouble() {
    let folder = Folder::new();
    for command in [
        &["bodies"][..],
        &["measure", "jacket.petitoile"],
        &["check", "jacket.petitoile", "--json"],
        &["--help"],
    ] {
        let mut child = folder
            .command(command)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        drop(child.stdout.take());
        let ran = Ran::of(&child.wait_with_output().unwrap());
        assert!(matches!(ran.code, Some(0 | 1)), "{command:?}: {ran:?}");
        assert_eq!(ran.err, "", "{command:?}");
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_behind_the_output_is_told() {
    let folder = Folder::new();
    let full = fs::OpenOptions::new()
        .write(true)
        .open("/dev/full")
        .unwrap();
    let ran = Ran::of(&folder.command(&["bodies"]).stdout(full).output().unwrap());
    ran.refused(&["cannot be written", "no space left"]);
}

#[cfg(target_os = "linux")]
#[test]
fn a_file_name_that_is_no_text_is_no_trouble() {
    use std::os::unix::ffi::OsStrExt;
    let folder = Folder::new();
    let name = std::ffi::OsStr::from_bytes(b"ja\xffcket\n.petitoile");
    fs::copy(folder.0.join("jacket.petitoile"), folder.0.join(name)).unwrap();
    let mut command = folder.command(&["check"]);
    let ran = Ran::of(&command.arg(name).output().unwrap());
    assert!(matches!(ran.code, Some(0 | 1)), "{ran:?}");
    fs::remove_file(folder.0.join(name)).unwrap();
    let mut command = folder.command(&["check"]);
    Ran::of(&command.arg(name).output().unwrap()).refused(&["no such file"]);
}

#[test]
fn a_garment_too_narrow_to_close_ends_with_1_and_is_written_all_the_same() {
    let folder = Folder::new();
    let demo = demos::first().unwrap();
    let like = demo.fittings[0].clone();
    let tape_lines = &demo.garment(&like.garment).unwrap().tape_lines;
    let bust = tape_lines
        .iter()
        .find(|line| line.measure == Measure::BustGirth)
        .unwrap();
    let half = Mm(like.body.mm(Measure::BustGirth).0 / 2.0);
    let choice = DemandChoice {
        measure: Some(half),
        ..DemandChoice::default()
    };
    let change = FittingEdit::SetDemand(bust.name.clone(), Some(choice));
    let edit = Edit::Fitting {
        fitting: like.name.clone(),
        change,
    };
    let project = demo.edited(&edit).unwrap();
    folder.put("narrow.petitoile", project_file::write(&project).unwrap());
    let with = |words: &[&str]| {
        let mut all = on_file(words, "narrow.petitoile");
        all.extend(["--fitting", &like.name]);
        let ran = folder.run(&all);
        assert_eq!(ran.code, Some(1), "{ran:?}");
        assert!(ran.err.is_empty());
        ran.out
    };
    assert!(with(&["check", "FILE"]).contains("UNUSABLE"));
    assert!(with(&["print", "FILE", "--out", "narrow.pdf"]).contains("UNUSABLE"));
    assert!(folder.read("narrow.pdf").starts_with(b"%PDF"));
    with(&["measure", "FILE"]);
}

#[test]
fn a_garment_that_can_be_sewn_and_worn_ends_with_0() {
    let folder = Folder::new();
    let (_, skirts) = demos::ALL
        .iter()
        .find(|(name, _)| *name == "sunday-skirts")
        .unwrap();
    folder.put("skirts.petitoile", skirts);
    let ran = folder.run(&["check", "skirts.petitoile"]);
    assert_eq!(ran.code, Some(0), "{ran:?}");
    assert!(!ran.out.contains("UNUSABLE"));
}

#[test]
fn the_redraft_table_has_every_draft_for_six_bodies_or_more() {
    let folder = Folder::new();
    let rows = folder.run(&["redraft", "--json"]).json();
    let rows = rows.as_array().unwrap();
    for case in petitoile_core::redraft::CASES {
        let of_case = rows.iter().filter(|row| row["draft"] == case.name).count();
        assert!(of_case >= 6, "{}: {of_case}", case.name);
    }
    for row in rows {
        for way in ["adapted", "estimated", "one_factor", "across_along"] {
            let max = row[way]["max"].as_f64().unwrap();
            assert!(
                max.is_finite() && row[way]["rms"].as_f64().unwrap() <= max,
                "{row}"
            );
        }
    }
    let text = folder.run(&["redraft"]).worked().out;
    for case in petitoile_core::redraft::CASES {
        assert!(text.contains(case.name), "{}", case.name);
    }
}

/// Every demo: opens, and each of its fittings is checked, measured, printed and exported.
#[test]
fn every_demo_goes_the_whole_way() {
    let folder = Folder::new();
    assert!(demos::ALL.len() >= 3, "jacket, skirts, smock");
    for (name, text) in demos::ALL {
        folder.put("demo.petitoile", text);
        let project = folder.project("demo.petitoile");
        assert!(!project.fittings.is_empty(), "{name}");
        for (place, fitting) in project.fittings.iter().enumerate() {
            let with = |words: &[&str]| {
                let mut all = on_file(words, "demo.petitoile");
                all.extend(["--fitting", &fitting.name, "--json"]);
                folder.run(&all).json()
            };
            let report = with(&["check", "FILE"]);
            // The first is the one a maker sees first; a worse doll for the same garment may need her hand.
            let usable = report["usable"].as_bool().unwrap();
            assert!(
                usable || 0 < place,
                "{name}, {}: {:#}",
                fitting.name,
                report["findings"]
            );
            assert_eq!(with(&["measure", "FILE"])["fitting"], fitting.name.as_str());
            let print = with(&["print", "FILE", "--paper", "letter", "--out", "demo.pdf"]);
            assert!(
                print["print"]["pages"].as_u64().unwrap() >= 1,
                "{name}, {}",
                fitting.name
            );
            with(&["export", "FILE", "--out", "demo.svg"]);
        }
    }
}

#[test]
fn the_demos_in_the_folder_are_the_ones_in_the_program() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-projects");
    let mut there: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    there.sort();
    let mut known: Vec<&str> = demos::ALL.iter().map(|(name, _)| *name).collect();
    known.sort_unstable();
    assert_eq!(there, known);
}
