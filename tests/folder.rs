//! The folder keeps its promise when the machine does not: two runs at once, kills at every call that writes, signals,
//! a full disk, folders and files of others.
//!
//! `FILLISTER_CASES=200` runs that many pairs and tries every call.

use crate::support::bench::{Bench, SMALL, all_files, ends_with, fillister, run, stderr};
use crate::support::runs::cases;
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::os::unix::fs::MetadataExt;
use std::os::unix::process::ExitStatusExt;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::time::{Duration, Instant};

type Content = BTreeMap<String, Vec<u8>>;

const NOTE: &str = "larder-1/own/note.txt";

/// Two surveys that differ, and the folder that each gives.
struct Two {
    bench: Bench,
    given: [Content; 2],
}

impl Two {
    fn new() -> Two {
        let bench = Bench::new();
        let names = ["one", "two"];
        let given = names.map(|name| {
            fs::write(bench.path(&format!("{name}.toml")), SMALL.replace("Samphire", name))
                .unwrap();
            let out = bench.text(&format!("{name}-alone"));
            ends_with(&run(&["make", &bench.text(&format!("{name}.toml")), "--out", &out]), 0);
            let files = all_files(Path::new(&out));
            fs::remove_dir_all(out).unwrap();
            files
        });
        fs::remove_file(bench.path("house.toml")).unwrap();
        Two { bench, given }
    }

    fn command(&self, which: usize) -> Command {
        let survey = self.bench.text(["one.toml", "two.toml"][which]);
        let mut command = fillister();
        command.args(["make", &survey, "--out", &self.bench.text("out")]);
        command.stdout(Stdio::null()).stderr(Stdio::piped());
        command
    }

    fn out(&self) -> PathBuf {
        self.bench.path("out")
    }

    /// Which of the two the folder is, whole; a note of the joiner's left out of account.
    fn is(&self) -> Option<usize> {
        let mut found = all_files(&self.out());
        found.remove(NOTE);
        self.given.iter().position(|given| *given == found)
    }

    fn nothing_beside(&self) {
        let names: Vec<String> =
            self.bench.names().into_iter().filter(|name| !is_survey(name)).collect();
        assert_eq!(names, ["out"], "something was left beside");
    }
}

/// Sashes in a house that takes a while.
const MANY: usize = 16;

/// A house of many small sashes, and the name of its survey.
fn many(bench: &Bench, house: &str) -> String {
    let (head, sash) = SMALL.split_at(SMALL.find("[[sash]]").unwrap());
    let head = head.replace("Samphire", house);
    let sashes = (1..=MANY).map(|number| sash.replace("larder-1", &format!("larder-{number}")));
    let name = format!("{house}.toml");
    fs::write(bench.path(&name), head + &sashes.collect::<String>()).unwrap();
    bench.text(&name)
}

fn is_survey(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|ending| ending == "toml")
}

fn status(output: &Output) -> Option<i32> {
    output.status.code()
}

#[test]
fn of_two_runs_at_once_one_is_told_to_wait_and_the_folder_is_whole() {
    let two = Two::new();
    let pairs = cases(30);
    let (mut both, mut refused) = (0, 0);
    // Starts lie apart by a part of what one run takes, differently in each pair.
    let begun = Instant::now();
    ends_with(&two.command(0).output().unwrap(), 0);
    let one_run = begun.elapsed();
    for pair in 0..pairs {
        if pair % 3 == 0 {
            fs::remove_dir_all(two.out()).unwrap();
        }
        let first = two.command(0).spawn().unwrap();
        // The golden ratio spreads the shares evenly.
        std::thread::sleep(one_run.mul_f64((f64::from(pair) * 0.618_034).fract()));
        let second = two.command(1).spawn().unwrap();
        let ended = [first, second].map(|child: Child| child.wait_with_output().unwrap());
        let good: Vec<usize> = (0..2).filter(|one| status(&ended[*one]) == Some(0)).collect();
        for output in &ended {
            match status(output) {
                Some(0) => {}
                Some(3) => {
                    refused += 1;
                    assert!(stderr(output).contains("wait until it is done"), "{}", stderr(output));
                }
                other => panic!("{other:?}: {}", stderr(output)),
            }
        }
        both += usize::from(good.len() == 2);
        assert!(!good.is_empty(), "nobody wrote it");
        let is = two.is().expect("the folder is not whole");
        assert!(good.contains(&is), "whoever was refused has written it");
        two.nothing_beside();
    }
    println!(
        "{pairs} pairs: both wrote it one after the other in {both}, one was refused in {refused}"
    );
    assert!(refused > 0);
}

/// Whether calls can be traced here. Where the tests must all run a tool that is missing is no pass.
fn can_trace() -> bool {
    let traced = Command::new("strace").args(["-o", "/dev/null", "true"]).status();
    let can = traced.is_ok_and(|status| status.success());
    assert!(can || std::env::var_os("CI").is_none(), "strace is missing");
    if !can {
        println!("skipped: calls cannot be traced here");
    }
    can
}

/// Has `command` killed at a thread's call number `at` of `call`; whether it was.
fn killed(command: &Command, call: &str, at: u32, more: &[&str]) -> bool {
    let mut traced = Command::new("strace");
    traced.args(["-f", "-qq", "-o", "/dev/null", "-e"]).arg(format!("trace={call},renameat2"));
    traced.args(more);
    traced.arg("-e").arg(format!("inject={call}:signal=KILL:when={at}"));
    traced.arg(command.get_program()).args(command.get_args());
    traced.current_dir(env!("CARGO_MANIFEST_DIR"));
    let output = traced.stdout(Stdio::null()).stderr(Stdio::piped()).output().unwrap();
    match (output.status.code(), output.status.signal()) {
        (Some(0), _) => false,
        (None, Some(9)) | (Some(137), _) => true,
        other => panic!("{other:?}: {}", stderr(&output)),
    }
}

/// Calls that change what is on the disk.
const CALLS: [&str; 10] = [
    "openat",
    "write",
    "mkdir",
    "fsync",
    "rename",
    "renameat2",
    "unlink",
    "rmdir",
    "unlinkat",
    "linkat",
];

#[test]
fn a_kill_at_any_call_that_writes_leaves_a_whole_folder_and_loses_nothing() {
    if !can_trace() {
        return;
    }
    let two = Two::new();
    let thorough = cases(1) > 1;
    let (mut kills, mut aside) = (0, 0);
    let no_exchange = ["-e", "inject=renameat2:error=ENOSYS"];
    for (call, exchange) in CALLS.map(|call| (call, true)).into_iter().chain([("rename", false)]) {
        // Each time the former folder is of one survey, with a note of the joiner's, and the run is of the other.
        for at in 1.. {
            if !thorough && at > 12 && !["rename", "renameat2"].contains(&call) {
                break;
            }
            if two.out().exists() {
                fs::remove_dir_all(two.out()).unwrap();
            }
            ends_with(&two.command(0).output().unwrap(), 0);
            fs::write(two.out().join(NOTE), "a note").unwrap();
            let more: &[&str] = if exchange { &[] } else { &no_exchange };
            let was_killed = killed(&two.command(1), call, at, more);
            kills += usize::from(was_killed);
            let place = format!("{call} {at}");
            if exchange || two.out().exists() {
                assert!(two.is().is_some(), "{place}: no whole folder");
            } else {
                aside += 1;
            }
            // Whatever was left, the next run puts it right.
            ends_with(&two.command(1).output().unwrap(), 0);
            assert_eq!(two.is(), Some(1), "{place}");
            let note = fs::read_to_string(two.out().join(NOTE));
            assert_eq!(note.ok().as_deref(), Some("a note"), "{place}: the note is lost");
            two.nothing_beside();
            if !was_killed {
                break;
            }
        }
    }
    println!("{kills} kills; {aside} times the former folder stood aside until the next run");
    assert!(kills > 30 && aside > 0, "{kills} {aside}");
}

#[test]
fn a_signal_leaves_no_litter() {
    let bench = Bench::new();
    let surveys = ["one", "two"].map(|name| many(&bench, name));
    let make = |which: usize| {
        let mut command = fillister();
        command.args(["make", &surveys[which], "--out", &bench.text("out")]).stdout(Stdio::null());
        command
    };
    let begun = Instant::now();
    let wholes = [1, 0].map(|which| {
        ends_with(&make(which).output().unwrap(), 0);
        all_files(&bench.path("out"))
    });
    let one_run = begun.elapsed() / 2;
    let (mut stopped, rounds) = (0, 9);
    for (round, name) in ["INT", "TERM", "HUP"].iter().cycle().take(rounds).enumerate() {
        // At first there is a folder of the other house; later there is none.
        let former = round < 6;
        if former {
            ends_with(&make(0).output().unwrap(), 0);
        } else if bench.path("out").exists() {
            fs::remove_dir_all(bench.path("out")).unwrap();
        }
        let mut child = make(1).spawn().unwrap();
        std::thread::sleep(one_run.mul_f64(0.02 + 0.1 * round as f64));
        let sent =
            Command::new("kill").args([&format!("-{name}"), &child.id().to_string()]).status();
        assert!(sent.unwrap().success());
        let ended = child.wait().unwrap();
        stopped += usize::from(ended.signal().is_some());
        let mut names = bench.names();
        names.retain(|name| !is_survey(name));
        assert!(names == ["out"] || !former && names.is_empty(), "{name}: {names:?}");
        if names == ["out"] {
            assert!(wholes.contains(&all_files(&bench.path("out"))), "{name}: half a folder");
        }
    }
    assert!(stopped > rounds / 3, "{stopped} of {rounds} were stopped in time");
}

#[test]
fn a_killed_run_goes_on_from_where_it_was() {
    let bench = Bench::new();
    let survey = many(&bench, "one");
    let make = || {
        let mut command = fillister();
        command.args(["make", &survey, "--out", &bench.text("out")]).stdout(Stdio::null());
        command
    };
    let begun = Instant::now();
    ends_with(&make().output().unwrap(), 0);
    let one_run = begun.elapsed();
    let whole = all_files(&bench.path("out"));
    let mut taken_over = 0;
    for round in 0..6 {
        fs::remove_dir_all(bench.path("out")).unwrap();
        let mut child = make().spawn().unwrap();
        std::thread::sleep(one_run.mul_f64(0.3 + 0.1 * f64::from(round)));
        child.kill().unwrap();
        child.wait().unwrap();
        let inode = |path: &Path| fs::metadata(path).map(|found| found.ino()).ok();
        let mut done = BTreeMap::new();
        for entry in fs::read_dir(bench.path(".out.fillister-1")).into_iter().flatten() {
            let part = entry.unwrap();
            if part.path().join("written-by-fillister.txt").exists() {
                let name = part.file_name().to_string_lossy().into_owned();
                done.insert(name, inode(&part.path().join("report.json")));
            }
        }
        ends_with(&make().output().unwrap(), 0);
        assert!(all_files(&bench.path("out")) == whole, "{done:?}");
        for (part, was) in &done {
            let report = bench.path(&format!("out/{part}/report.json"));
            assert_eq!(inode(&report), *was, "{part} was made again");
        }
        taken_over += done.len();
    }
    println!("{taken_over} sashes taken over from killed runs");
    assert!(taken_over > 0);
    assert_eq!(bench.names(), ["house.toml", "one.toml", "out"]);
}

#[test]
fn a_sash_that_did_not_change_is_not_made_again() {
    let bench = Bench::new();
    let second = SMALL[SMALL.find("[[sash]]").unwrap()..].replace("larder-1", "larder-2");
    let write =
        |text: &str| fs::write(bench.path("house.toml"), format!("{text}{second}")).unwrap();
    let inodes = || -> BTreeMap<String, u64> {
        let out = bench.path("out");
        let files = all_files(&out).into_keys().filter(|name| name.contains('/'));
        files.map(|name| (name.clone(), fs::metadata(out.join(&name)).unwrap().ino())).collect()
    };
    write(SMALL);
    ends_with(&bench.make("out"), 0);
    let before = inodes();
    write(&SMALL.replace("width = 120", "width = 122"));
    ends_with(&bench.make("out"), 0);
    let after = inodes();
    // A list is written anew; what it lists is the same file.
    let is_list = |name: &str| name.ends_with("written-by-fillister.txt");
    for (name, inode) in after.iter().filter(|(name, _)| !is_list(name)) {
        let kept = before.get(name) == Some(inode);
        assert_eq!(kept, name.starts_with("larder-2/"), "{name}");
    }
    // What was taken over is what would have been made.
    ends_with(&bench.make("anew"), 0);
    assert!(all_files(&bench.path("out")) == all_files(&bench.path("anew")));
    // Another setting of the workshop, and another name of the house, concern every sash.
    for change in ["[workshop]\ncutter = { diameter = 10 }\n[[sash]]", "house = \"Other Cottage\""]
    {
        let before = inodes();
        let old =
            if change.starts_with("house") { "house = \"Samphire Cottage\"" } else { "[[sash]]" };
        write(&SMALL.replacen(old, change, 1));
        ends_with(&bench.make("out"), 0);
        let after = inodes();
        let report =
            |of: &str| after[&format!("{of}/report.json")] == before[&format!("{of}/report.json")];
        assert!(!report("larder-1") && !report("larder-2"), "{change}");
    }
}

/// A small disk, if one can be mounted here.
struct Disk(PathBuf);

impl Disk {
    fn mounted(bench: &Bench, size: &str) -> Option<Disk> {
        let disk = bench.path("disk");
        fs::create_dir_all(&disk).unwrap();
        let mut mount = Command::new("mount");
        mount.args(["-t", "tmpfs", "-o", &format!("size={size}"), "tmpfs"]).arg(&disk);
        let mounted = mount.stderr(Stdio::null()).status().is_ok_and(|status| status.success());
        if !mounted {
            println!("skipped: a small file system cannot be mounted here");
        }
        mounted.then_some(Disk(disk))
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        assert!(Command::new("umount").arg(&self.0).status().unwrap().success());
    }
}

#[test]
fn a_full_disk_leaves_nothing_half_there() {
    let bench = Bench::new();
    // Too little to begin with is told before the work; else it shows while files are written.
    for (size, told) in [("32k", "the disk has 0 MB left"), ("200k", "o space left on device")] {
        let Some(disk) = Disk::mounted(&bench, size) else { return };
        let output = bench.make("disk/out");
        ends_with(&output, 3);
        assert!(stderr(&output).contains(told), "{}", stderr(&output));
        assert_eq!(fs::read_dir(&disk.0).unwrap().count(), 0);
    }
    // What stood there stays.
    ends_with(&bench.make("out"), 0);
    let size =
        all_files(&bench.path("out")).values().map(|file| file.len() / 1024 + 8).sum::<usize>();
    let Some(disk) = Disk::mounted(&bench, &format!("{}k", size * 3 / 2)) else { return };
    ends_with(&bench.make("disk/out"), 0);
    let before = all_files(&disk.0.join("out"));
    fs::write(bench.path("house.toml"), SMALL.replace("width = 120", "width = 130")).unwrap();
    ends_with(&bench.make("disk/out"), 3);
    assert!(all_files(&disk.0.join("out")) == before);
    assert_eq!(fs::read_dir(&disk.0).unwrap().count(), 1);
}

#[test]
fn a_mounted_disk_is_not_replaced() {
    let bench = Bench::new();
    let Some(disk) = Disk::mounted(&bench, "8m") else { return };
    let output = bench.make("disk");
    ends_with(&output, 2);
    assert!(stderr(&output).contains("a disk is mounted at this folder"), "{}", stderr(&output));
    assert_eq!(fs::read_dir(&disk.0).unwrap().count(), 0);
}

/// Longest that a refusal may take; a process begins in a few milliseconds.
const AT_ONCE: Duration = Duration::from_millis(100);

#[test]
fn three_gigabytes_of_others_are_not_read() {
    const HUGE: u64 = 3 << 30;
    let bench = Bench::new();
    let huge = |name: &str| File::create(bench.path(name)).unwrap().set_len(HUGE).unwrap();
    // The quickest of a few: another process may have the machine.
    let refused = |words: &[&str], told: &str| {
        let times = (0..5).map(|_| {
            let begun = Instant::now();
            let output = run(words);
            let took = begun.elapsed();
            ends_with(&output, 2);
            assert!(stderr(&output).contains(told), "{}", stderr(&output));
            took
        });
        let quickest = times.min().unwrap();
        assert!(quickest < AT_ONCE, "{words:?} took {quickest:?}");
    };
    let survey = bench.text("house.toml");
    fs::create_dir(bench.path("mine")).unwrap();
    huge("mine/film.mp4");
    let mine = bench.text("mine");
    refused(&["make", &survey, "--out", &mine], "was not made by Fillister");
    ends_with(&bench.make("out"), 0);
    let out = bench.text("out");
    huge("out/larder-1/film.mp4");
    refused(&["make", &survey, "--out", &out], "larder-1/film.mp4, which Fillister did not write");
    fs::remove_file(bench.path("out/larder-1/film.mp4")).unwrap();
    huge("out/larder-1/sash.dxf");
    refused(&["make", &survey, "--out", &out], "larder-1/sash.dxf was changed");
    // A survey and a program are read no further than they may be long.
    huge("huge.toml");
    let begun = Instant::now();
    let output = run(&["check", &bench.text("huge.toml")]);
    ends_with(&output, 2);
    assert!(stderr(&output).contains("a survey of at most"), "{}", stderr(&output));
    huge("huge.ngc");
    let output =
        run(&["prove", &bench.text("huge.ngc"), "--survey", &survey, "--sash", "larder-1"]);
    assert!(matches!(status(&output), Some(1 | 2)), "{}", stderr(&output));
    assert!(begun.elapsed() < Duration::from_secs(10), "{:?}", begun.elapsed());
}

#[test]
fn what_the_joiner_puts_into_own_survives() {
    let two = Two::new();
    for which in [0, 1, 0] {
        ends_with(&two.command(which).output().unwrap(), 0);
        assert_eq!(two.is(), Some(which));
        let note = two.out().join(NOTE);
        if which == 0 && !note.exists() {
            fs::write(&note, "a note").unwrap();
        }
        assert_eq!(fs::read_to_string(&note).unwrap(), "a note");
    }
    two.nothing_beside();
}

#[test]
fn a_kill_half_way_leaves_no_half_folder() {
    let bench = Bench::new();
    let mut kept = 0;
    for patience in [0, 3, 10, 20, 40, 80, 160] {
        let mut child = fillister()
            .args(["make", &bench.text("house.toml"), "--out", &bench.text("out")])
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        std::thread::sleep(Duration::from_millis(patience));
        child.kill().unwrap();
        child.wait().unwrap();
        if bench.path("out").exists() {
            kept += 1;
            assert!(bench.path("out/written-by-fillister.txt").exists(), "half a folder");
        }
    }
    println!("{kept} of 7 runs were done before they were ended");
    // Whatever a killed run left beside does not hinder the next.
    ends_with(&bench.make("out"), 0);
    assert_eq!(bench.names(), ["house.toml", "out"]);
}
