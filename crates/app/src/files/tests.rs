//! Real folders, real files: each test in a folder of its own that is removed at the end.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU32, Ordering};

use petitoile_core::project::Project;
use petitoile_exchange::project_file;

use super::recovery::{Recovery, Work};
use super::writing::{before_name, keep_before, put_in_place, write_beside};
use super::{FileError, Product, Seal, check_sum, open, open_body, put, read_bytes, save};

/// A folder that goes away with the test.
struct Folder(PathBuf);

impl Folder {
    fn new() -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let name = format!(
            "petitoile-files-{}-{}",
            std::process::id(),
            COUNT.fetch_add(1, Ordering::Relaxed)
        );
        let path = std::env::temp_dir().join(name);
        fs::create_dir_all(&path).unwrap();
        Self(path)
    }

    fn file(&self, name: &str) -> PathBuf {
        self.0.join(name)
    }

    /// Names in the folder, sorted.
    fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(&self.0)
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        unprotect(&self.0);
        fs::remove_dir_all(&self.0).ok();
    }
}

fn protect(path: &Path) {
    let mut permissions = fs::metadata(path).unwrap().permissions();
    permissions.set_readonly(true);
    fs::set_permissions(path, permissions).unwrap();
}

fn unprotect(path: &Path) {
    let mut permissions = fs::metadata(path).unwrap().permissions();
    #[allow(
        clippy::permissions_set_readonly_false,
        reason = "a folder of this test"
    )]
    permissions.set_readonly(false);
    fs::set_permissions(path, permissions).ok();
}

fn called(name: &str) -> Project {
    Project {
        name: name.to_owned(),
        ..Project::default()
    }
}

#[test]
fn the_check_sum_is_the_published_one() {
    // FNV-1a 64 test values of draft-eastlake-fnv, appendix C: "", "a", "foobar" (from memory).
    assert_eq!(check_sum(b""), 0xcbf2_9ce4_8422_2325);
    assert_eq!(check_sum(b"a"), 0xaf63_dc4c_8601_ec8c);
    assert_eq!(check_sum(b"foobar"), 0x8594_4171_f739_67e8);
}

#[test]
fn what_was_saved_is_opened() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("jacket"), None).unwrap();
    let opened = open(&path).unwrap();
    assert_eq!(opened.project, called("jacket"));
    assert_eq!(opened.seal, seal);
    assert_eq!(
        folder.names(),
        ["jacket.petitoile"],
        "nothing else may lie about"
    );
}

#[test]
fn the_version_before_is_kept() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let first = save(&path, &called("first"), None).unwrap();
    let second = save(&path, &called("second"), Some(first)).unwrap();
    assert_eq!(open(&before_name(&path)).unwrap().project, called("first"));
    save(&path, &called("third"), Some(second)).unwrap();
    assert_eq!(open(&path).unwrap().project, called("third"));
    assert_eq!(open(&before_name(&path)).unwrap().project, called("second"));
    assert_eq!(
        folder.names(),
        ["jacket.petitoile", "jacket.petitoile.before"]
    );
}

#[test]
fn a_crash_after_any_step_leaves_the_old_or_the_new_project_whole() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    save(&path, &called("old"), None).unwrap();
    let old = fs::read(&path).unwrap();
    let new = project_file::write(&called("new")).unwrap();

    // Crash in the middle of step 1: half a file lies beside.
    write_beside(&path, &new.as_bytes()[..new.len() / 2]).unwrap();
    assert_eq!(open(&path).unwrap().project, called("old"));

    // Crash after step 1: written beside, nothing renamed.
    let beside = write_beside(&path, new.as_bytes()).unwrap();
    assert_ne!(beside, path);
    assert_eq!(open(&path).unwrap().project, called("old"));

    // Crash after step 2: the version before is there twice.
    keep_before(&path, &old).unwrap();
    assert_eq!(open(&path).unwrap().project, called("old"));
    assert_eq!(open(&before_name(&path)).unwrap().project, called("old"));

    // Crash after step 3.
    put_in_place(&beside, &path).unwrap();
    assert_eq!(open(&path).unwrap().project, called("new"));
    assert_eq!(open(&before_name(&path)).unwrap().project, called("old"));

    // After all that she saves again: leftovers are not in the way and are not taken for projects.
    let seal = open(&path).unwrap().seal;
    save(&path, &called("newer"), Some(seal)).unwrap();
    assert_eq!(open(&path).unwrap().project, called("newer"));
    assert_eq!(open(&before_name(&path)).unwrap().project, called("new"));
}

#[test]
fn a_file_that_changed_since_it_was_opened_is_not_overwritten() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let mine = save(&path, &called("mine"), None).unwrap();
    save(&path, &called("hers"), Some(mine)).unwrap();
    let refused = save(&path, &called("mine again"), Some(mine)).unwrap_err();
    assert_eq!(refused, FileError::Changed(path.clone()));
    assert!(
        refused.to_string().contains("save under another name"),
        "{refused}"
    );
    assert_eq!(open(&path).unwrap().project, called("hers"));
}

#[test]
fn a_file_that_was_removed_meanwhile_is_written_anew() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("first"), None).unwrap();
    fs::remove_file(&path).unwrap();
    save(&path, &called("second"), Some(seal)).unwrap();
    assert_eq!(open(&path).unwrap().project, called("second"));
}

#[test]
fn a_broken_or_newer_file_is_named_and_never_overwritten() {
    let folder = Folder::new();
    let whole = project_file::write(&called("jacket")).unwrap();
    let newer = whole.replacen(
        &format!("petitoile: {}", project_file::FORMAT),
        "petitoile: 4000",
        1,
    );
    assert_ne!(newer, whole, "the format number stands in the file");
    for (name, bytes) in [
        ("junk.petitoile", &[0xff, 0x00, 0xfe, 0x13][..]),
        ("cut.petitoile", &whole.as_bytes()[..whole.len() * 2 / 3]),
        ("empty.petitoile", b""),
        ("newer.petitoile", newer.as_bytes()),
        ("letter.petitoile", b"Dear aunt, the jacket is done."),
    ] {
        let path = folder.file(name);
        fs::write(&path, bytes).unwrap();
        let said = open(&path).unwrap_err().to_string();
        assert!(said.contains(name), "{said}");
        let refused = save(&path, &called("other"), None).unwrap_err();
        assert!(
            matches!(refused, FileError::NotOverwritten { .. }),
            "{name}: {refused:?}"
        );
        assert!(
            refused.to_string().contains("save under another name"),
            "{refused}"
        );
        assert_eq!(fs::read(&path).unwrap(), bytes, "{name} must be as it was");
        assert!(!before_name(&path).exists());
    }
    let newer = open(&folder.file("newer.petitoile")).unwrap_err();
    assert!(newer.to_string().contains("4000"), "{newer}");
}

#[test]
fn a_missing_file_a_folder_and_a_device_are_told_apart() {
    let folder = Folder::new();
    assert_eq!(
        open(&folder.file("no")).unwrap_err(),
        FileError::Missing(folder.file("no"))
    );
    assert_eq!(
        open(&folder.0).unwrap_err(),
        FileError::IsFolder(folder.0.clone())
    );
    if cfg!(unix) {
        let device = PathBuf::from("/dev/zero");
        assert_eq!(
            open(&device).unwrap_err(),
            FileError::NoOrdinaryFile(device)
        );
    }
}

#[test]
fn a_file_that_is_too_big_is_not_read() {
    let folder = Folder::new();
    let path = folder.file("film.petitoile");
    // A sparse file: it takes no room on the disk.
    fs::File::create(&path)
        .unwrap()
        .set_len(super::LARGEST + 1)
        .unwrap();
    assert_eq!(
        read_bytes(&path).unwrap_err(),
        FileError::TooBig {
            path: path.clone(),
            size: super::LARGEST + 1
        }
    );
    fs::File::create(&path).unwrap().set_len(1000).unwrap();
    assert_eq!(read_bytes(&path).unwrap().len(), 1000);
}

#[test]
fn what_is_write_protected_stays_as_it_is() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("old"), None).unwrap();
    protect(&path);
    let refused = save(&path, &called("new"), Some(seal)).unwrap_err();
    assert_eq!(
        refused,
        FileError::Protected {
            path: fs::canonicalize(&path).unwrap(),
            what: fs::canonicalize(&path).unwrap()
        }
    );
    assert_eq!(open(&path).unwrap().project, called("old"));
    unprotect(&path);
    if cfg!(unix) {
        protect(&folder.0);
        let refused = save(&folder.file("other.petitoile"), &called("new"), None).unwrap_err();
        assert!(
            matches!(refused, FileError::Protected { .. }),
            "{refused:?}"
        );
        assert_eq!(folder.names(), ["jacket.petitoile"]);
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_takes_nothing_is_told_with_the_reason() {
    // Nobody, not even the administrator, can make a file here.
    let path = PathBuf::from("/proc/jacket.petitoile");
    let refused = save(&path, &called("new"), None).unwrap_err();
    assert!(
        matches!(
            &refused,
            FileError::Unwritten { .. } | FileError::Protected { .. }
        ),
        "{refused:?}"
    );
    assert!(
        refused.to_string().contains("/proc/jacket.petitoile"),
        "{refused}"
    );
}

#[test]
fn a_folder_that_is_not_there_or_in_the_way_is_named() {
    let folder = Folder::new();
    let path = folder.0.join("sewing").join("jacket.petitoile");
    let refused = save(&path, &called("new"), None).unwrap_err();
    assert_eq!(
        refused,
        FileError::NoFolder {
            path,
            folder: folder.file("sewing")
        }
    );
    fs::create_dir(folder.file("out.pdf")).unwrap();
    assert_eq!(
        put(&folder.file("out.pdf"), Product::Pdf, b"%PDF-1").unwrap_err(),
        FileError::IsFolder(folder.file("out.pdf"))
    );
    assert!(folder.file("out.pdf").is_dir());
}

#[test]
fn a_print_never_takes_the_place_of_a_project() {
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    save(&path, &called("jacket"), None).unwrap();
    let refused = put(&path, Product::Pdf, b"%PDF-1.7 ...").unwrap_err();
    assert!(
        matches!(refused, FileError::OtherKind { kind: "PDF", .. }),
        "{refused:?}"
    );
    assert_eq!(open(&path).unwrap().project, called("jacket"));
    let print = folder.file("jacket.pdf");
    put(&print, Product::Pdf, b"%PDF-1.7 first").unwrap();
    put(&print, Product::Pdf, b"%PDF-1.7 second").unwrap();
    assert_eq!(fs::read(&print).unwrap(), b"%PDF-1.7 second");
    assert!(!before_name(&print).exists(), "a print can be made again");
}

#[cfg(unix)]
#[test]
fn a_link_stays_a_link_and_its_file_is_replaced() {
    let folder = Folder::new();
    let (file, link) = (folder.file("real.petitoile"), folder.file("link.petitoile"));
    let seal = save(&file, &called("old"), None).unwrap();
    std::os::unix::fs::symlink(&file, &link).unwrap();
    save(&link, &called("new"), Some(seal)).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(open(&file).unwrap().project, called("new"));
    assert_eq!(open(&before_name(&file)).unwrap().project, called("old"));
}

#[cfg(unix)]
#[test]
fn who_may_read_a_file_stays_the_same() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new();
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("old"), None).unwrap();
    fs::set_permissions(&path, fs::Permissions::from_mode(0o600)).unwrap();
    save(&path, &called("new"), Some(seal)).unwrap();
    assert_eq!(
        fs::metadata(&path).unwrap().permissions().mode() & 0o777,
        0o600
    );
}

#[test]
fn unsaved_work_is_found_after_a_crash_and_goes_with_a_save() {
    let folder = Folder::new();
    let recovery = Recovery::in_folder(folder.file("recovery"));
    assert_eq!(recovery.list(), []);
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("saved"), None).unwrap();
    let work = Work::on_file(&path, Some(seal));
    recovery.keep(&work, &called("changed")).unwrap();
    recovery.keep(&work, &called("changed again")).unwrap();

    // The next start.
    let [kept] = &recovery.list()[..] else {
        panic!("one work, one recovery file")
    };
    assert_eq!(kept.work, work);
    assert_eq!(recovery.open(kept).unwrap(), called("changed again"));
    assert_eq!(
        open(&path).unwrap().project,
        called("saved"),
        "the project itself is not touched"
    );

    // She saves it over the project: still the one that was opened, so it may be.
    save(
        kept.work.path.as_ref().unwrap(),
        &recovery.open(kept).unwrap(),
        kept.work.seal,
    )
    .unwrap();
    recovery.forget(&kept.work).unwrap();
    assert_eq!(recovery.list(), []);
    recovery.forget(&kept.work).unwrap();
}

#[test]
fn recovered_work_does_not_overwrite_a_project_that_changed_since() {
    let folder = Folder::new();
    let recovery = Recovery::in_folder(folder.file("recovery"));
    let path = folder.file("jacket.petitoile");
    let seal = save(&path, &called("saved"), None).unwrap();
    recovery
        .keep(&Work::on_file(&path, Some(seal)), &called("unsaved"))
        .unwrap();
    save(&path, &called("saved elsewhere"), Some(seal)).unwrap();
    let kept = recovery.list().remove(0);
    let refused = save(&path, &recovery.open(&kept).unwrap(), kept.work.seal).unwrap_err();
    assert_eq!(refused, FileError::Changed(path));
}

#[test]
fn work_without_a_file_is_kept_and_can_be_thrown_away() {
    let folder = Folder::new();
    let recovery = Recovery::in_folder(folder.file("recovery"));
    let (one, other) = (Work::untitled(), Work::untitled());
    assert_ne!(one, other, "two windows, two works");
    recovery.keep(&one, &called("one")).unwrap();
    recovery.keep(&other, &called("other")).unwrap();
    let kept = recovery.list();
    assert_eq!(kept.len(), 2);
    for kept in &kept {
        assert_eq!(kept.work.path, None);
        recovery.discard(kept).unwrap();
    }
    assert_eq!(recovery.list(), []);
}

#[test]
fn projects_of_one_name_in_two_folders_are_kept_apart() {
    let (folder, other) = (Folder::new(), Folder::new());
    let recovery = Recovery::in_folder(folder.file("recovery"));
    for (place, name) in [(&folder, "one"), (&other, "two")] {
        recovery
            .keep(
                &Work::on_file(&place.file("jacket.petitoile"), None),
                &called(name),
            )
            .unwrap();
    }
    assert_eq!(recovery.list().len(), 2);
}

#[test]
fn a_damaged_recovery_file_is_passed_over() {
    let folder = Folder::new();
    let recovery = Recovery::in_folder(folder.0.clone());
    for (name, bytes) in [
        ("a.recovery", &b""[..]),
        ("b.recovery", b"\xff\xfe\n"),
        ("c.recovery", b"{}\nx"),
        ("d.txt", b"hello"),
    ] {
        fs::write(folder.file(name), bytes).unwrap();
    }
    let work = Work::untitled();
    recovery.keep(&work, &called("whole")).unwrap();
    let kept = recovery.list();
    assert_eq!(kept.len(), 1);
    // Cut short by a full disk of long ago: the head is whole, the project is not.
    let bytes = fs::read(&kept[0].file).unwrap();
    fs::write(&kept[0].file, &bytes[..bytes.len() - 20]).unwrap();
    assert!(matches!(
        recovery.open(&recovery.list()[0]).unwrap_err(),
        FileError::Unfit { .. }
    ));
}

#[cfg(target_os = "linux")]
#[test]
fn work_that_another_running_petitoile_has_open_is_not_offered() {
    let folder = Folder::new();
    let recovery = Recovery::in_folder(folder.0.clone());
    recovery
        .keep(&Work::untitled(), &called("open elsewhere"))
        .unwrap();
    let file = recovery.list().remove(0).file;
    let text = fs::read_to_string(&file).unwrap();
    let of_process = |process: u32| {
        fs::write(
            &file,
            text.replace(
                &format!("\"process\":{}", std::process::id()),
                &format!("\"process\":{process}"),
            ),
        )
        .unwrap();
        recovery.list().len()
    };
    // Process 1 runs, but is no Petitoile; a number this high runs nothing.
    assert_eq!(of_process(1), 1);
    assert_eq!(of_process(u32::MAX), 1);
    // A process of our own name, asleep.
    let own_name = fs::read_to_string("/proc/self/comm").unwrap();
    let sleeper = folder.file(own_name.trim());
    std::os::unix::fs::symlink("/bin/sleep", &sleeper).unwrap();
    let mut other = std::process::Command::new(&sleeper)
        .arg("60")
        .spawn()
        .unwrap();
    let offered = of_process(other.id());
    other.kill().unwrap();
    other.wait().unwrap();
    assert_eq!(offered, 0);
    assert_eq!(of_process(other.id()), 1, "it has ended");
}

#[test]
fn a_body_file_is_read_and_a_mistake_in_it_is_named() {
    let folder = Folder::new();
    let path = folder.file("mine.ron");
    let doll = petitoile_exchange::body_table::built_in()
        .last()
        .unwrap()
        .clone();
    fs::write(&path, petitoile_exchange::body_table::write([&*doll])).unwrap();
    assert_eq!(open_body(&path).unwrap(), doll);
    for junk in [
        &b"(name: \"My doll\", kind: Cat)"[..],
        b"\xff\x00",
        b"",
        b"()",
    ] {
        fs::write(&path, junk).unwrap();
        let said = open_body(&path).unwrap_err().to_string();
        assert!(
            said.contains("mine.ron") && said.contains("bodies --show"),
            "{said}"
        );
    }
}

#[test]
fn a_seal_knows_size_and_content() {
    assert_eq!(Seal::of(b"cloth"), Seal::of(b"cloth"));
    assert_ne!(Seal::of(b"cloth"), Seal::of(b"clotH"));
    assert_ne!(Seal::of(b""), Seal::of(b"\0"));
}

#[test]
fn the_version_before_is_named_only_where_there_is_one() {
    let folder = Folder::new();
    let file = folder.file("jacket.petitoile");
    fs::write(&file, "%PDF-1.7").unwrap();
    let said = |path: &Path| open(path).unwrap_err().to_string();
    let trouble = "line 1, column 1: an opening bracket is missing";
    let name = file.display();
    assert_eq!(
        said(&file),
        format!("{name}: {trouble}; check the place named")
    );
    // A folder of that name is no version of anything.
    fs::create_dir(before_name(&file)).unwrap();
    assert!(said(&file).ends_with("check the place named"));
    fs::remove_dir(before_name(&file)).unwrap();
    fs::write(
        before_name(&file),
        project_file::write(&Project::default()).unwrap(),
    )
    .unwrap();
    assert_eq!(
        said(&file),
        format!("{name}: {trouble}; the version before it is {name}.before")
    );
    assert!(open(&before_name(&file)).is_ok(), "as it was told");
}

#[cfg(unix)]
#[test]
fn behind_a_link_the_version_before_lies_where_the_link_leads() {
    let folder = Folder::new();
    let (file, link) = (folder.file("real.petitoile"), folder.file("link.petitoile"));
    std::os::unix::fs::symlink(&file, &link).unwrap();
    save(&file, &called("first"), None).unwrap();
    save(&link, &called("second"), None).unwrap();
    fs::write(&file, "").unwrap();
    let said = open(&link).unwrap_err().to_string();
    assert!(said.ends_with("real.petitoile.before"), "{said}");
}

#[test]
fn a_stash_or_a_wardrobe_is_said_to_be_one_and_no_way_to_open_it_is_made_up() {
    let folder = Folder::new();
    let file = folder.file("cloths.ron");
    let stash = project_file::write_stash(&Default::default()).unwrap();
    let wardrobe = project_file::write_wardrobe(&Default::default()).unwrap();
    for (text, kind) in [(stash, "stash"), (wardrobe, "wardrobe")] {
        fs::write(&file, text).unwrap();
        assert_eq!(
            open(&file).unwrap_err().to_string(),
            format!(
                "{}: this is a {kind} file, a project file was asked for; Petitoile cannot open a {kind} yet",
                file.display()
            )
        );
    }
}
