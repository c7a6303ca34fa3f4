//! Bad input of every kind, and what happens to the files meanwhile.

use super::*;

const COMMANDS: [&[&str]; 5] = [
    &["check", "FILE"],
    &["measure", "FILE"],
    &["print", "FILE", "--paper", "a4", "--out", "x.pdf"],
    &["export", "FILE", "--out", "x.svg"],
    &["adapt", "FILE", "--to", "play-45", "--out", "x.petitoile"],
];

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
