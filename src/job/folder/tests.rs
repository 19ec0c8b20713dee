use super::*;
use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

/// Writes `files` as the folder `target`; what stands before the first `/` of a name is its part.
fn write(target: &Path, files: &Files) -> Result<(), FolderError> {
    let mut folder = Folder::claim(target, &Stopper::default())?;
    folder.begin(0)?;
    let mut parts = BTreeMap::<&str, Files>::new();
    for (name, content) in files {
        match name.split_once('/') {
            Some((part, name)) => {
                parts.entry(part).or_default().insert(name.to_owned(), content.clone());
            }
            None => folder.put(name, |out| out.write_all(content))?,
        }
    }
    for (part, files) in parts {
        folder.put_part(part, "", files)?;
    }
    folder.finish().map(|_| ())
}

fn files(text: &str) -> Files {
    [("a.txt", text), ("sub/b.txt", "b")]
        .into_iter()
        .map(|(name, text)| (name.to_string(), text.as_bytes().to_vec()))
        .collect()
}

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn a_folder_appears_whole_and_may_be_renewed() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    write(&target, &files("one")).unwrap();
    assert_eq!(fs::read_to_string(target.join("sub/b.txt")).unwrap(), "b");
    write(&target, &files("two")).unwrap();
    assert_eq!(fs::read_to_string(target.join("a.txt")).unwrap(), "two");
    assert_eq!(names(room.path()), ["out"], "nothing is left beside the folder");
    // A part that is gone from the survey is gone from the folder.
    let less: Files = [("a.txt".to_owned(), b"three".to_vec())].into();
    write(&target, &less).unwrap();
    assert_eq!(names(&target), ["a.txt", LIST]);
}

#[test]
fn what_fillister_did_not_write_is_never_touched() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    fs::create_dir(&target).unwrap();
    fs::write(target.join("letter.txt"), "mine").unwrap();
    assert!(matches!(write(&target, &files("x")), Err(FolderError::NotOurs { .. })));
    assert_eq!(fs::read_to_string(target.join("letter.txt")).unwrap(), "mine");

    let ours = room.path().join("ours");
    let told = || write(&ours, &files("two")).unwrap_err().to_string();
    write(&ours, &files("one")).unwrap();
    fs::write(ours.join("a.txt"), "edited by hand").unwrap();
    assert!(told().contains("a.txt was changed"), "{}", told());
    fs::write(ours.join("a.txt"), "eno").unwrap();
    assert!(told().contains("a.txt was changed"), "{}", told());
    fs::write(ours.join("a.txt"), "one").unwrap();
    for foreign in ["extra.txt", "sub/extra.txt", "other", "sub/other", "own"] {
        let path = ours.join(foreign);
        if foreign.ends_with("txt") { fs::write(&path, "") } else { fs::create_dir(&path) }
            .unwrap();
        assert!(told().contains(&format!("it holds {foreign}, which")), "{}", told());
        if foreign.ends_with("txt") { fs::remove_file(&path) } else { fs::remove_dir(&path) }
            .unwrap();
    }
    // The list of a part is vouched for by that of the folder.
    let list = ours.join("sub").join(LIST);
    let text = fs::read_to_string(&list).unwrap();
    fs::write(&list, format!("{text}0-0 more.txt\n")).unwrap();
    assert!(told().contains("sub/written-by-fillister.txt was changed"), "{}", told());
    fs::write(&list, text).unwrap();
    write(&ours, &files("two")).unwrap();
}

// Looking at a folder in a window is no change of it.
#[test]
fn what_a_system_leaves_for_itself_is_nobodys() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    fs::create_dir(&target).unwrap();
    for round in ["one", "two"] {
        fs::write(target.join(".DS_Store"), "where the icons lie").unwrap();
        if round == "two" {
            fs::write(target.join("sub/Thumbs.db"), "pictures").unwrap();
        }
        write(&target, &files(round)).unwrap();
        assert_eq!(fs::read_to_string(target.join("a.txt")).unwrap(), round);
        assert_eq!(names(room.path()), ["out"]);
    }
    // A folder of that name is somebody's.
    fs::create_dir(target.join("Thumbs.db")).unwrap();
    assert!(matches!(write(&target, &files("three")), Err(FolderError::NotOurs { .. })));
}

#[test]
fn a_folder_of_a_former_version_is_replaced() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    fs::create_dir_all(target.join("sub")).unwrap();
    fs::write(target.join("a.txt"), "a").unwrap();
    fs::write(target.join("sub/b.txt"), "b").unwrap();
    // FNV-1a, 64 bit, of "a" and "b", from the tables of its authors (draft-eastlake-fnv).
    let list = "Files that Fillister wrote, with their fingerprints. A changed folder is not replaced.\n\
                af63dc4c8601ec8c a.txt\naf63df4c8601f1a5 sub/b.txt\n";
    fs::write(target.join(LIST), list).unwrap();
    write(&target, &files("two")).unwrap();
    assert_eq!(fs::read_to_string(target.join("a.txt")).unwrap(), "two");
    assert_eq!(names(room.path()), ["out"]);
}

#[test]
fn what_is_the_joiners_own_goes_along() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    write(&target, &files("one")).unwrap();
    assert!(target.join("sub/own").is_dir(), "there is a place for it");
    fs::write(target.join("sub/own/photo.jpg"), "before").unwrap();
    write(&target, &files("two")).unwrap();
    assert_eq!(fs::read_to_string(target.join("sub/own/photo.jpg")).unwrap(), "before");
    // Even where its sash is gone, and comes back.
    let less: Files = [("a.txt".to_owned(), b"three".to_vec())].into();
    for round in [&less, &less, &files("four")] {
        write(&target, round).unwrap();
        assert_eq!(fs::read_to_string(target.join("sub/own/photo.jpg")).unwrap(), "before");
        assert_eq!(names(room.path()), ["out"]);
    }
}

#[test]
fn a_claimed_folder_is_refused_to_others_and_free_after() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    let first = Folder::claim(&target, &Stopper::default()).unwrap();
    let second = Folder::claim(&target, &Stopper::default());
    assert!(matches!(second, Err(FolderError::Busy { .. })));
    drop(first);
    assert!(names(room.path()).is_empty());
    Folder::claim(&target, &Stopper::default()).unwrap();
}

#[test]
fn what_was_put_there_meanwhile_is_found_and_kept() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    write(&target, &files("one")).unwrap();
    for (name, text) in [("letter.txt", "mine"), ("a.txt", "edited"), ("sub/b.txt", "bb")] {
        let mut folder = Folder::claim(&target, &Stopper::default()).unwrap();
        folder.begin(0).unwrap();
        folder.put("a.txt", |out| out.write_all(b"two")).unwrap();
        let before = fs::read(target.join(name)).ok();
        fs::write(target.join(name), text).unwrap();
        let told = folder.finish().unwrap_err().to_string();
        assert!(told.contains("while it was being made anew") && told.contains(name), "{told}");
        assert_eq!(fs::read_to_string(target.join(name)).unwrap(), text);
        assert_eq!(names(room.path()), ["out"]);
        match before {
            Some(before) => fs::write(target.join(name), before).unwrap(),
            None => fs::remove_file(target.join(name)).unwrap(),
        }
    }
    // A folder that came where none was.
    let other = room.path().join("other");
    let mut folder = Folder::claim(&other, &Stopper::default()).unwrap();
    folder.begin(0).unwrap();
    fs::create_dir(&other).unwrap();
    fs::write(other.join("letter.txt"), "mine").unwrap();
    assert!(matches!(folder.finish(), Err(FolderError::NotOurs { .. })));
    assert_eq!(names(&other), ["letter.txt"]);
}

#[test]
fn a_stop_takes_away_what_is_not_whole_and_keeps_the_rest_from_the_disk() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    write(&target, &files("one")).unwrap();
    let stopper = Stopper::default();
    let mut folder = Folder::claim(&target, &stopper).unwrap();
    folder.begin(0).unwrap();
    folder.put_part("sub", "", [("b.txt".to_owned(), b"new".to_vec())].into()).unwrap();
    assert!(names(room.path()).len() > 1);
    stopper.stop();
    assert_eq!(names(room.path()), ["out"]);
    assert_eq!(fs::read_to_string(target.join("sub/b.txt")).unwrap(), "b");
    // Dropping it would wait for the end of the process.
    std::mem::forget(folder);
}

#[test]
fn a_part_made_of_the_same_is_kept_and_any_other_is_not() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    let part =
        |text: &str| -> Files { [("cuts/1.ngc".to_owned(), text.as_bytes().to_vec())].into() };
    let round = |from: &str, text: &str| {
        let mut folder = Folder::claim(&target, &Stopper::default()).unwrap();
        folder.begin(0).unwrap();
        let kept = folder.keep_part("sub", from).unwrap();
        if kept.is_none() {
            folder.put_part("sub", from, part(text)).unwrap();
        }
        folder.finish().unwrap();
        (kept.is_some(), fs::read_to_string(target.join("sub/cuts/1.ngc")).unwrap())
    };
    assert_eq!(round("survey 1", "one"), (false, "one".to_owned()));
    assert_eq!(round("survey 1", "not asked for"), (true, "one".to_owned()));
    assert_eq!(round("survey 2", "two"), (false, "two".to_owned()));
    fs::remove_file(target.join("sub/cuts/1.ngc")).unwrap();
    assert_eq!(round("survey 2", "again"), (false, "again".to_owned()));
    assert_eq!(names(room.path()), ["out"]);
}

#[test]
fn a_hidden_folder_of_the_users_is_not_taken_for_litter() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("out");
    let mine: Vec<PathBuf> = [".out.fillister-1", ".out.fillister-new", ".out.fillister-old"]
        .map(|name| room.path().join(name))
        .into();
    for folder in &mine {
        fs::create_dir(folder).unwrap();
        fs::write(folder.join("letter.txt"), "mine").unwrap();
    }
    write(&target, &files("one")).unwrap();
    write(&target, &files("two")).unwrap();
    for folder in &mine {
        assert_eq!(fs::read_to_string(folder.join("letter.txt")).unwrap(), "mine");
    }
    assert_eq!(names(room.path()).len(), 4);
    fs::write(room.path().join(".other.fillister-lock"), "mine").unwrap();
    let told = write(&room.path().join("other"), &files("x")).unwrap_err().to_string();
    assert!(told.contains(".other.fillister-lock: a file of that name is in the way"), "{told}");
}

#[cfg(unix)]
#[test]
fn a_link_is_told_as_one() {
    let room = tempfile::tempdir().unwrap();
    let (real, link) = (room.path().join("real"), room.path().join("link"));
    fs::create_dir(&real).unwrap();
    std::os::unix::fs::symlink(&real, &link).unwrap();
    let told = write(&link, &files("x")).unwrap_err().to_string();
    assert!(told.contains("this is a link to"), "{told}");
    assert!(names(&real).is_empty());
}

#[test]
fn a_file_is_written_once() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("start.toml");
    write_file(&target, b"one").unwrap();
    assert!(matches!(write_file(&target, b"two"), Err(FolderError::NotOurs { .. })));
    assert_eq!(fs::read(&target).unwrap(), b"one");
    let nowhere = room.path().join("no/such/folder/start.toml");
    assert!(matches!(write_file(&nowhere, b""), Err(FolderError::Io { .. })));
}

#[test]
fn an_empty_folder_is_free_and_a_file_is_not() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("empty");
    fs::create_dir(&target).unwrap();
    write(&target, &files("x")).unwrap();
    let file = room.path().join("file");
    fs::write(&file, "").unwrap();
    assert!(matches!(write(&file, &files("x")), Err(FolderError::NotOurs { .. })));
}

#[test]
fn a_folder_that_cannot_be_made_leaves_nothing() {
    let room = tempfile::tempdir().unwrap();
    let target = room.path().join("no/such/parent/out");
    assert!(matches!(write(&target, &files("x")), Err(FolderError::Io { .. })));
    assert_eq!(fs::read_dir(room.path()).unwrap().count(), 0);
}

// A run may be killed between making its hidden folder and marking it as unfinished.
#[test]
fn a_folder_that_was_never_begun_is_not_put_in_place() {
    let room = tempfile::tempdir().unwrap();
    let (target, fresh) = (room.path().join("out"), room.path().join(".out.fillister-1"));
    fs::create_dir(&fresh).unwrap();
    let journal = vec![("new".to_owned(), fresh.clone())];
    let begun = swap::heal(&target, &journal, &mut Vec::new()).unwrap();
    assert_eq!((begun, target.exists(), fresh.exists()), (None, false, false));
}
