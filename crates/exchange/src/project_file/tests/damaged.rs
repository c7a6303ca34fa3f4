//! Files that are newer, broken or hostile are refused in words.

use super::*;

#[test]
fn a_newer_file_is_told_by_its_number_even_when_the_rest_is_unknown() {
    let newer = ProjectFileError::Newer {
        found: 2,
        known: FORMAT,
    };
    assert_eq!(
        read(b"(petitoile: 2, wholly (unlike [anything").unwrap_err(),
        newer
    );
    assert_eq!(read(b"// a remark\n(\n petitoile : 2}").unwrap_err(), newer);
    assert_eq!(read_stash(b"(petitoile: 2").unwrap_err(), newer);
    let far = ProjectFileError::Newer {
        found: u32::MAX,
        known: FORMAT,
    };
    assert_eq!(
        read(b"(petitoile: 99999999999999999999, project: ())").unwrap_err(),
        far
    );
    insta::assert_snapshot!(newer.to_string(), @"this file has format 2, this Petitoile reads up to 1; update Petitoile, the file is left as it is");
}

#[test]
fn a_broken_file_says_where_and_what_is_wrong() {
    let text = write(&project()).unwrap();
    let say = |text: &str| read(text.as_bytes()).unwrap_err().to_string();
    insta::assert_snapshot!(say(""), @"line 1, column 1: an opening bracket is missing");
    insta::assert_snapshot!(say("%PDF-1.7"), @"line 1, column 1: an opening bracket is missing");
    let spoil = |good: &str, bad: &str, what: &str| {
        let spoilt = text.replacen(good, bad, 1);
        let before = spoilt.split(bad).next().unwrap();
        let line = 1 + before.matches('\n').count();
        match read(spoilt.as_bytes()) {
            Err(ProjectFileError::Broken {
                line: found,
                what: said,
                ..
            }) => assert_eq!((found, said.as_str()), (line, what)),
            other => panic!("{other:?}"),
        }
    };
    spoil(
        "kind: Doll",
        "kind: Cat",
        "Cat stands where one of Woman, Man, Child, Doll was expected",
    );
    spoil(
        "value: 3.3000000000000003",
        "value: NaN",
        "NaN is not a size",
    );
    spoil(
        "value: 3.3000000000000003",
        "value: -1e999",
        "-1e999 is not a size",
    );
    spoil(
        "value: 3.3000000000000003",
        "value: \"wide\"",
        "expected float",
    );
    spoil("torso: Soft(", "torso: Soft(]", "this ] closes nothing");
    let cut = text.get(..text.len() / 2).unwrap();
    assert!(
        say(cut).contains("ends too early") || say(cut).contains("has no end"),
        "{}",
        say(cut)
    );
    assert_eq!(
        read(b"(petitoile: 1, project: (name: \"\xff\"))").unwrap_err(),
        ProjectFileError::Broken {
            line: 1,
            column: 33,
            what: "this is not text".into()
        }
    );
    let other = read(write_stash(&stash()).unwrap().as_bytes()).unwrap_err();
    assert_eq!(
        other.to_string(),
        "this is a stash file, a project file was asked for"
    );
}

#[test]
fn a_figure_that_could_not_be_read_again_is_not_written() {
    let mut stash = stash();
    stash.cloths[0].thickness = Mm(f64::NAN);
    let error = write_stash(&stash).unwrap_err().to_string();
    assert_eq!(
        error,
        "this cannot be saved: NaN is not a size (thickness: NaN,); undo the last change and save again"
    );
}

#[test]
fn brackets_without_end_are_refused() {
    for open in [
        "(",
        "[",
        "{",
        "Some(",
        "project: (",
        "/*",
        "r#\"",
        "\"\\",
        "'",
        "a: [",
    ] {
        let text = format!("(petitoile: 1, project: {}", open.repeat(1_000_000));
        assert!(
            matches!(read(text.as_bytes()), Err(ProjectFileError::Broken { .. })),
            "{open}"
        );
        let text = format!("(petitoile: 1, project: (unknown: {}", open.repeat(99));
        assert!(
            matches!(read(text.as_bytes()), Err(ProjectFileError::Broken { .. })),
            "{open}"
        );
    }
    let nested = format!(
        "(petitoile: 1, project: (unknown: {}1{}))",
        "[".repeat(97),
        "]".repeat(97)
    );
    assert!(
        matches!(
            read(nested.as_bytes()),
            Err(ProjectFileError::Broken { .. })
        ),
        "as deep as it may be, and still no project"
    );
}

#[test]
fn a_file_that_is_far_too_long_is_refused() {
    let long = vec![b' '; MOST_BYTES + 1];
    assert_eq!(
        read(&long).unwrap_err(),
        ProjectFileError::TooLong {
            megabytes: 65,
            most: 64
        }
    );
}

/// Every cut-off file, and thousands with bytes changed, taken out, doubled: an answer each time, and what is read
/// as sound can be written and read again.
#[test]
fn no_damage_makes_reading_panic() {
    let whole = write(&project()).unwrap().into_bytes();
    for length in 0..whole.len() - 2 {
        assert!(
            read(&whole[..length]).is_err(),
            "cut off after {length} bytes"
        );
    }
    let mut chance = Chance(2);
    let mut read_all_the_same = 0;
    for _ in 0..6_000 {
        let mut bytes = whole.clone();
        for _ in 0..=chance.below(3) {
            damage(&mut bytes, &mut chance);
        }
        let _ = read_stash(&bytes);
        if let Ok(project) = read(&bytes) {
            read_all_the_same += 1;
            let again = write(&project).unwrap();
            assert_eq!(write(&read(again.as_bytes()).unwrap()).unwrap(), again);
        }
    }
    assert!(
        read_all_the_same > 100,
        "only {read_all_the_same} damaged files could still be read: the damage is too coarse to test much"
    );
}

fn damage(bytes: &mut Vec<u8>, chance: &mut Chance) {
    let at = chance.below(bytes.len());
    match chance.below(6) {
        0 => bytes[at] = chance.next() as u8,
        1 => bytes[at] ^= 1 << chance.below(8),
        2 => drop(bytes.remove(at)),
        3 => bytes.insert(at, b"()[]{},:\"\\'/*#.-+e0naIN r"[chance.below(25)]),
        4 => {
            let end = (at + chance.below(40)).min(bytes.len());
            let part = bytes[at..end].to_vec();
            let to = chance.below(bytes.len());
            bytes.splice(to..to, part);
        }
        _ => drop(bytes.drain(at..(at + chance.below(40)).min(bytes.len()))),
    }
    if bytes.is_empty() {
        bytes.push(b'(');
    }
}
