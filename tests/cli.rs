//! The built command, end to end: exit status, what is printed where, what is written and what is not.

use crate::paper;
use crate::support::bench::{Bench, EXAMPLE, SMALL, all_files, ends_with, fillister, run, stderr};
use fillister::{job, report, survey};
use serde_json::Value;
use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::Stdio;

#[test]
fn the_example_house_is_made_and_one_sash_is_a_no() {
    let bench = Bench::new();
    let output = run(&["make", EXAMPLE, "--out", &bench.text("out")]);
    ends_with(&output, 1);
    let made = all_files(&bench.path("out"));
    for name in ["summary.txt", "report.json", "glass-order.csv", "kitchen-1/sash.dxf"] {
        assert!(made.contains_key(name), "{name} is missing");
    }
    assert!(made.contains_key("kitchen-1/cuts/1-air-run.ngc"));
    // A stop: sections and reasons, but nothing to cut by.
    assert!(made.keys().any(|name| name.starts_with("scullery-1/section-")));
    assert!(!made.keys().any(|name| name.starts_with("scullery-1/cuts")));
    assert!(!made.contains_key("scullery-1/sash.dxf"));
    let order = String::from_utf8(made["glass-order.csv"].clone()).unwrap();
    assert!(order.contains("kitchen-1") && !order.contains("scullery-1"));

    let read = |name: &str| -> Value { serde_json::from_slice(&made[name]).unwrap() };
    let schema =
        |of: &str| -> Value { serde_json::from_slice(&run(&["schema", of]).stdout).unwrap() };
    let house = read("report.json");
    let of_house = schema("house");
    conforms(&house, &of_house, &of_house, "house");
    let of_report = schema("report");
    // Every sash names the thickest unit and what stops the next.
    for line in house["sashes"].as_array().unwrap() {
        let sash = read(&format!("{}/report.json", line["id"].as_str().unwrap()));
        conforms(&sash, &of_report["$defs"]["SashReport"], &of_report, "sash");
        assert_eq!((&sash["id"], &sash["verdict"]), (&line["id"], &line["verdict"]));
        assert!(sash["choice"]["thickest"].is_number());
        assert!(sash["choice"]["stopped_by"]["rule"].is_string());
    }
}

#[test]
fn colour_is_asked_for_and_an_answer_is_as_wide_as_its_screen() {
    let plain = run(&["check", EXAMPLE]).stdout;
    assert!(!plain.contains(&0x1b), "a pipe has no colours");
    let told = |key: &str, value: &str| {
        let mut command = fillister();
        let output = command.args(["check", EXAMPLE]).env("CLICOLOR_FORCE", "1").env(key, value);
        output.output().unwrap().stdout
    };
    assert!(told("LANG", "C").contains(&0x1b));
    // https://no-color.org: whatever it is set to, but for nothing.
    assert_eq!(told("NO_COLOR", "yes"), plain);
    for columns in [50, 66, 110] {
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let words = ["fillister", "check", EXAMPLE].map(Into::into);
        let screen = fillister::cli::Screen::terminal(columns, false);
        fillister::cli::run(words, screen, &mut out, &mut err);
        let out = String::from_utf8(out).unwrap();
        let widest = out.lines().map(|line| line.chars().count()).max().unwrap();
        assert!(widest <= columns && widest + 12 > columns.min(100), "{columns}: {widest}\n{out}");
    }
}

/// Whether `value` has the shape that `schema` asks for: types, needed keys, no unknown ones, choices.
fn conforms(value: &Value, schema: &Value, root: &Value, place: &str) {
    if let Some(reference) = schema.get("$ref").and_then(Value::as_str) {
        let inner = root.pointer(reference.trim_start_matches('#')).unwrap();
        return conforms(value, inner, root, place);
    }
    for choices in ["anyOf", "oneOf"] {
        if let Some(options) = schema.get(choices).and_then(Value::as_array) {
            let fits = |option: &Value| {
                std::panic::catch_unwind(|| conforms(value, option, root, place)).is_ok()
            };
            assert!(options.iter().any(fits), "{place}: no choice of {choices} fits {value}");
        }
    }
    if let Some(kinds) = schema.get("type") {
        let kind = match value {
            Value::Null => "null",
            Value::Bool(_) => "boolean",
            Value::Number(number) if number.is_f64() => "number",
            Value::Number(_) => "integer",
            Value::String(_) => "string",
            Value::Array(_) => "array",
            Value::Object(_) => "object",
        };
        let named = |name: &Value| name == kind || (name == "number" && kind == "integer");
        let fits = kinds.as_array().map_or_else(|| named(kinds), |all| all.iter().any(named));
        assert!(fits, "{place}: {kind}, expected {kinds}");
    }
    if let Some(needed) = schema.get("required").and_then(Value::as_array) {
        for key in needed {
            assert!(value.get(key.as_str().unwrap()).is_some(), "{place}: {key} is missing");
        }
    }
    if let (Some(known), Some(object)) = (schema.get("properties"), value.as_object()) {
        for (key, inner) in object {
            match known.get(key) {
                Some(schema) => conforms(inner, schema, root, &format!("{place}.{key}")),
                // Flattened parts bring keys of their own.
                None => assert!(schema.get("additionalProperties").is_none(), "{place}.{key}"),
            }
        }
    }
    if let (Some(items), Some(array)) = (schema.get("items"), value.as_array()) {
        for (index, inner) in array.iter().enumerate() {
            conforms(inner, items, root, &format!("{place}[{index}]"));
        }
    }
}

#[test]
fn a_clear_house_ends_with_nought_and_renews_its_folder_byte_for_byte() {
    let bench = Bench::new();
    ends_with(&bench.make("out"), 0);
    let first = all_files(&bench.path("out"));
    ends_with(&bench.make("out"), 0);
    ends_with(&bench.make("other"), 0);
    assert!(first == all_files(&bench.path("out")), "a second run gave other bytes");
    assert!(first == all_files(&bench.path("other")), "another folder got other bytes");
    assert_eq!(bench.names(), ["house.toml", "other", "out"], "something was left beside");
}

#[test]
fn json_is_all_that_json_prints() {
    let bench = Bench::new();
    let survey = bench.text("house.toml");
    let check = run(&["check", &survey, "--json"]);
    ends_with(&check, 0);
    let report: Value = serde_json::from_slice(&check.stdout).unwrap();
    assert_eq!(report["sashes"][0]["id"], "larder-1");
    let make = run(&["make", &survey, "--json", "--out", &bench.text("out")]);
    ends_with(&make, 0);
    assert_eq!(make.stdout, fs::read(bench.path("out/report.json")).unwrap());
    let program = bench.text("out/larder-1/cuts/1-air-run.ngc");
    let prove = run(&["prove", &program, "--survey", &survey, "--sash", "larder-1", "--json"]);
    // An air run alone leaves all the wood standing.
    ends_with(&prove, 1);
    let proof: Value = serde_json::from_slice(&prove.stdout).unwrap();
    assert!(proof["faults"].as_array().unwrap().iter().any(|f| f["rule"] == "prove.leftover"));
}

// The command prints sash by sash what the library holds as a whole.
#[test]
fn a_report_is_the_librarys_byte_for_byte() {
    let bench = Bench::new();
    let small = bench.text("house.toml");
    let report = |name: &str| {
        let text = fs::read_to_string(name).unwrap();
        job::check(&survey::read(&text, name).unwrap())
    };
    let one = run(&["check", "--json", EXAMPLE]);
    assert_eq!(
        one.stdout,
        (report::json(&report(EXAMPLE)).unwrap()
            + "
")
        .into_bytes()
    );
    let both = run(&["check", "--json", EXAMPLE, &small]);
    let reports = [report(EXAMPLE), report(&small)];
    assert_eq!(
        both.stdout,
        (report::json(&reports).unwrap()
            + "
")
        .into_bytes()
    );
}

#[test]
fn a_wrong_survey_ends_with_two_and_writes_nothing() {
    let bench = Bench::new();
    let wrong: [(&str, Vec<u8>, &str); 5] = [
        ("empty.toml", Vec::new(), "empty.toml:1:1: house: missing"),
        ("bytes.toml", vec![0x44, 0xc0, 0x00, 0xff], "UTF-8"),
        ("nought.toml", SMALL.replace("width = 120", "width = 0").into(), "nought.toml:7:23"),
        ("nan.toml", SMALL.replace("width = 120", "width = nan").into(), "found nan"),
        ("cut.toml", SMALL[..SMALL.len() / 2].into(), "cut.toml:"),
    ];
    for (name, content, told) in wrong {
        fs::write(bench.path(name), content).unwrap();
        let before = bench.names();
        for words in [
            vec!["check", &bench.text(name)],
            vec!["make", &bench.text(name), "--out", &bench.text("out")],
        ] {
            let output = run(&words);
            ends_with(&output, 2);
            assert!(stderr(&output).contains(told), "{}", stderr(&output));
            assert!(output.stdout.is_empty());
        }
        assert_eq!(bench.names(), before);
    }
    ends_with(&run(&["check", &bench.text("no-such-file.toml")]), 2);
    ends_with(&run(&["check", &bench.text("")]), 2);
    ends_with(&run(&["make", &bench.text("house.toml")]), 2);
    ends_with(&run(&["no-such-command"]), 2);
}

#[test]
fn what_fillister_did_not_write_stays() {
    let bench = Bench::new();
    fs::create_dir(bench.path("mine")).unwrap();
    fs::write(bench.path("mine/letter.txt"), "dear").unwrap();
    ends_with(&bench.make("mine"), 2);
    assert_eq!(fs::read_to_string(bench.path("mine/letter.txt")).unwrap(), "dear");

    ends_with(&bench.make("out"), 0);
    let program = bench.path("out/larder-1/cuts/2-score.ngc");
    let edited = fs::read_to_string(&program).unwrap() + "(by hand)\n";
    fs::write(&program, &edited).unwrap();
    let output = bench.make("out");
    ends_with(&output, 2);
    assert!(stderr(&output).contains("2-score.ngc was changed"), "{}", stderr(&output));
    assert_eq!(fs::read_to_string(&program).unwrap(), edited);
}

#[test]
fn what_cannot_be_written_ends_with_three_and_leaves_nothing() {
    let bench = Bench::new();
    // A parent that does not exist refuses even the one who may do everything.
    let output = bench.make("no/such/parent");
    ends_with(&output, 3);
    assert_eq!(bench.names(), ["house.toml"]);

    if let Ok(full) = File::options().write(true).open("/dev/full") {
        let mut command = fillister();
        command.args(["check", &bench.text("house.toml")]).stdout(full);
        let output = command.stderr(Stdio::piped()).output().unwrap();
        ends_with(&output, 3);
    } else {
        println!("skipped: this system has no device that is always full");
    }
}

#[test]
fn an_edited_program_is_judged_by_line() {
    let bench = Bench::new();
    ends_with(&bench.make("out"), 0);
    let cuts = bench.path("out/larder-1/cuts");
    let mut programs: Vec<PathBuf> =
        fs::read_dir(&cuts).unwrap().map(|entry| entry.unwrap().path()).collect();
    programs.sort();
    let prove = |programs: &[PathBuf], id: &str| {
        let mut command = fillister();
        command.arg("prove").args(programs).args(["--survey", &bench.text("house.toml")]);
        command.args(["--sash", id]).output().unwrap()
    };
    let good = prove(&programs, "larder-1");
    ends_with(&good, 0);
    assert!(String::from_utf8_lossy(&good.stdout).contains("Proven"));

    let finish = programs.last().unwrap();
    let text = fs::read_to_string(finish).unwrap();
    let line = 1 + text.lines().position(|line| line.starts_with("G1 Z-")).unwrap();
    fs::write(finish, text.replacen("G1 Z-27", "G1 Z-30", 1)).unwrap();
    let spoilt = prove(&programs, "larder-1");
    ends_with(&spoilt, 1);
    let told = String::from_utf8_lossy(&spoilt.stdout);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    // The tip comes down in the open; the moves after that line cut too deep.
    assert!(
        told.contains("takes wood that must stay") && told.contains("line "),
        "line {line}:\n{told}"
    );

    let unknown = prove(&programs, "attic-9");
    ends_with(&unknown, 2);
    assert!(stderr(&unknown).contains("larder-1"), "the ids that exist are named");
    fs::write(finish, [0xff, 0xfe]).unwrap();
    ends_with(&prove(&programs, "larder-1"), 2);
}

#[test]
fn a_name_that_no_sheet_can_show_is_a_mistake_of_the_survey() {
    let bench = Bench::new();
    let file = bench.path("house.toml");
    let metal = "metal = [{ name = \"釘\", at = [-4, 60], cleared = true }]\n";
    let text = SMALL.replace("Samphire Cottage", "海辺の家") + metal;
    fs::write(&file, text).unwrap();
    let survey = bench.text("house.toml");
    let told = run(&["make", &survey, "--out", &bench.text("out")]);
    ends_with(&told, 2);
    let told = stderr(&told);
    // Both names at once, each with its place; the text begins with an empty line.
    assert!(told.contains(&format!("{survey}:2:9: house:")), "{told}");
    assert!(told.contains(&format!("{survey}:12:19: sash[1].metal[1].name:")), "{told}");
    assert!(told.contains("there is no letter for `釘`"), "{told}");
    assert!(!bench.path("out").exists());
    // What is only said on a terminal needs no letters of ours.
    ends_with(&run(&["check", &survey]), 0);
}

#[test]
fn a_survey_is_begun_and_a_form_printed_but_nothing_is_overwritten() {
    let bench = Bench::new();
    let begun = bench.text("begun.toml");
    ends_with(&run(&["start", "--out", &begun]), 0);
    let told = run(&["check", &begun]);
    ends_with(&told, 0);
    assert!(String::from_utf8_lossy(&told.stdout).contains("room-1"));
    let printed = run(&["start"]);
    ends_with(&printed, 0);
    assert_eq!(printed.stdout, fs::read(&begun).unwrap());
    let form = bench.text("form.pdf");
    ends_with(&run(&["form", "--out", &form, "--paper", "letter"]), 0);
    assert!(fs::read(&form).unwrap().starts_with(b"%PDF-"));
    for words in [["start", "--out", &begun], ["form", "--out", &form], ["form", "--out", &begun]] {
        let before = fs::read(words[2]).unwrap();
        let again = run(&words);
        ends_with(&again, 2);
        assert!(stderr(&again).contains("exists"), "{}", stderr(&again));
        assert_eq!(fs::read(words[2]).unwrap(), before);
    }
    ends_with(&run(&["form", "--out", &bench.text("no/folder/form.pdf")]), 3);
    ends_with(&run(&["form"]), 2);
}

#[test]
fn the_form_speaks_the_words_that_are_asked_for() {
    let bench = Bench::new();
    let write = |name: &str, text: &str| fs::write(bench.path(name), text).unwrap();
    write("own.ftl", "form-title = Aufmass\n");
    write("wrong.ftl", "form-title = Aufmass\nform-titel = Aufmass\n");
    // A hole of eight terabytes: whoever reads all of it finds no room for it.
    fs::File::create(bench.path("large.ftl")).unwrap().set_len(8 << 40).unwrap();
    let out = bench.text("form.pdf");
    let titled = |words: &str| {
        ends_with(&run(&["form", "--out", &out, "--words", words]), 0);
        let pages = paper::pages(&fs::read(&out).unwrap());
        fs::remove_file(&out).unwrap();
        pages[0].words.iter().map(|word| word.text.clone()).collect::<Vec<_>>().join("\n")
    };
    assert!(titled("british").contains("Measuring form"));
    assert!(titled("American").contains("rabbet"));
    assert!(titled(&bench.text("own.ftl")).contains("Aufmass"));
    for (words, why) in [
        ("wrong.ftl", "line 2: form-titel"),
        ("large.ftl", "more than"),
        ("deutsch", "expected british, american or a file of texts"),
    ] {
        let told = run(&["form", "--out", &out, "--words", &bench.text(words)]);
        ends_with(&told, 2);
        assert!(stderr(&told).contains(why), "{}", stderr(&told));
        assert!(stderr(&told).contains(words), "{}", stderr(&told));
        assert!(!bench.path("form.pdf").exists());
    }
}

#[test]
fn help_and_completions_are_there() {
    for words in [vec!["--help"], vec!["make", "--help"], vec!["--version"]] {
        let output = run(&words);
        ends_with(&output, 0);
        assert!(output.stderr.is_empty() && !output.stdout.is_empty());
    }
    for shell in ["bash", "zsh", "fish", "powershell", "elvish"] {
        ends_with(&run(&["completions", shell]), 0);
    }
    let both: Value = serde_json::from_slice(&run(&["schema"]).stdout).unwrap();
    assert!(both["survey"].is_object() && both["report"].is_object());
}

#[test]
fn on_site_a_few_words_are_enough_and_what_was_not_asked_is_said() {
    let words = ["--thickness", "45", "--rebate", "9x17", "--moulding", "ovolo 12x11", "--sight"];
    let site = |size: &str| {
        let mut all = vec!["check"];
        all.extend(words);
        all.push(size);
        run(&all)
    };
    let output = site("540x900");
    ends_with(&output, 0);
    let told = String::from_utf8(output.stdout).unwrap();
    let flat = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("Not asked, and taken as: side-hung; stiles and rails 50 mm wide"),
        "{told}"
    );
    assert!(told.contains("  Fits    ") && told.contains(" does not: "), "{told}");
    assert!(told.lines().all(|line| line.chars().count() <= 80), "{told}");
    // What was asked and taken for granted, fifteen lines of answer, and what else to heed.
    assert!(told.lines().count() <= 24, "{told}");
    let wrong = site("540");
    ends_with(&wrong, 2);
    assert!(stderr(&wrong).contains("--sight: found 540"), "{}", stderr(&wrong));
    // Either a file or words, and no words by halves.
    ends_with(&run(&["check"]), 2);
    ends_with(&run(&["check", EXAMPLE, "--thickness", "45"]), 2);
    ends_with(&run(&["check", "--thickness", "45"]), 2);
}

#[test]
fn a_name_acts_neither_in_a_program_nor_on_a_terminal() {
    let bench = Bench::new();
    let file = bench.path("house.toml");
    let survey = bench.text("house.toml");
    // The head tells what the tool passes nearest: 62 letters fill a line of it, and what follows began the next.
    let name = format!("{} LOGOPEN,file %;", "a".repeat(62));
    let clamp = format!(
        "clamps = [{{ name = \"{name}\", at = [-57, 60], size = [20, 20], height = 2 }}]\n"
    );
    fs::write(&file, format!("{SMALL}{clamp}")).unwrap();
    let made = run(&["make", &survey, "--out", &bench.text("out")]);
    assert!(made.status.code().is_some_and(|code| code < 2), "{}", stderr(&made));
    let mut heads = 0;
    for (name, bytes) in all_files(&bench.path("out")) {
        if Path::new(&name).extension().is_none_or(|ending| ending != "ngc") {
            continue;
        }
        let text = String::from_utf8(bytes).unwrap();
        for line in text.lines().filter(|line| line.contains(['(', ')', ';', '%'])) {
            let words = line.strip_prefix("(- ").and_then(|rest| rest.strip_suffix(')'));
            let words = words.unwrap_or_else(|| panic!("{name}: {line}"));
            let plain = |b: u8| b.is_ascii_alphanumeric() || b" .-+/=".contains(&b);
            assert!(words.bytes().all(plain), "{name}: {line}");
            heads += usize::from(words.contains("LOGOPEN"));
        }
    }
    assert!(heads > 0, "the name of the clamp is in no head");

    // A mark of direction, a joiner of no width, a line separator: none is seen, and all change what is read.
    for unseen in ['\u{202e}', '\u{200d}', '\u{2028}', '\u{feff}', '\u{85}'] {
        fs::write(&file, SMALL.replace("Samphire", &format!("Sam{unseen}phire"))).unwrap();
        let told = run(&["check", &survey]);
        ends_with(&told, 2);
        assert!(!stderr(&told).contains(unseen), "{unseen:?} reached the terminal");
    }
    let told = run(&["check", "no\u{1b}[2Jsuch\u{202e}file.toml"]);
    ends_with(&told, 2);
    assert!(!stderr(&told).contains(['\u{1b}', '\u{202e}']), "{}", stderr(&told));
    let told = run(&[
        "check",
        "--thickness",
        "45\u{1b}[2J",
        "--rebate",
        "9\u{9b}17",
        "--moulding",
        "square",
        "--sight",
        "1",
    ]);
    ends_with(&told, 2);
    assert!(!stderr(&told).contains(['\u{1b}', '\u{9b}']), "{}", stderr(&told));
}

#[test]
fn a_call_that_says_too_little_is_told_what_to_type() {
    let bench = Bench::new();
    let check = run(&["check"]);
    ends_with(&check, 2);
    let told = stderr(&check);
    let example = told.lines().find_map(|line| line.trim().strip_prefix("fillister ")).unwrap();
    // What it says to type is answered.
    let words: Vec<&str> = example
        .split('"')
        .enumerate()
        .flat_map(
            |(index, part)| {
                if index % 2 == 1 { vec![part] } else { part.split_whitespace().collect() }
            },
        )
        .collect();
    ends_with(&run(&words), 0);

    let make = run(&["make", &bench.text("house.toml")]);
    ends_with(&make, 2);
    let told = stderr(&make);
    let words: Vec<&str> = told.lines().last().unwrap().split_whitespace().skip(1).collect();
    assert_eq!(words[2..], ["--out", &bench.text("house")]);
    ends_with(&run(&words), 0);
    // A folder with something else in it is refused before the work.
    for taken in [".", ".."] {
        let wrong = SMALL.replace("width = 120", "width = 0");
        fs::write(bench.path("wrong.toml"), wrong).unwrap();
        let told = run(&["make", &bench.text("wrong.toml"), "--out", taken]);
        ends_with(&told, 2);
        assert!(stderr(&told).contains("left as it is"), "{}", stderr(&told));
    }
    fs::rename(bench.path("house.toml"), bench.path("house.toml.txt")).unwrap();
    for wanted in ["house.toml", "hosue.toml.txt"] {
        let told = run(&["check", &bench.text(wanted)]);
        ends_with(&told, 2);
        let meant = format!("did you mean {}?", bench.text("house.toml.txt"));
        assert!(stderr(&told).contains(&meant), "{}", stderr(&told));
    }
}

#[test]
fn a_wrong_survey_is_told_as_json_where_that_is_asked_for() {
    let bench = Bench::new();
    fs::write(bench.path("house.toml"), SMALL.replace("width = 120", "width = 0")).unwrap();
    let told = run(&["check", &bench.text("house.toml"), "--json"]);
    ends_with(&told, 2);
    let told: Value = serde_json::from_slice(&told.stdout).unwrap();
    assert_eq!(told["mistakes"][0]["key"], "sash[1].sight.width");
    assert_eq!(told["mistakes"][0]["line"], 7);
    let site =
        ["--thickness", "45", "--rebate", "9x17", "--moulding", "square", "--sight", "56x78"];
    let told = run(&[&["check", "--json"][..], &site].concat());
    ends_with(&told, 2);
    let told: Value = serde_json::from_slice(&told.stdout).unwrap();
    assert!(told["error"].as_str().unwrap().contains("Write 56x78cm"));
}

#[test]
fn a_folder_of_programs_is_proven_in_its_order_and_those_of_another_sash_are_not() {
    let bench = Bench::new();
    let two = format!(
        "{SMALL}{}",
        SMALL[SMALL.find("[[sash]]").unwrap()..].replace("larder-1", "larder-2")
    );
    fs::write(bench.path("house.toml"), &two).unwrap();
    ends_with(&bench.make("out"), 0);
    let prove = |programs: &str, id: &str| {
        run(&["prove", &bench.text(programs), "--survey", &bench.text("house.toml"), "--sash", id])
    };
    ends_with(&prove("out/larder-1/cuts", "larder-1"), 0);
    let other = prove("out/larder-2/cuts", "larder-1");
    ends_with(&other, 1);
    let told = String::from_utf8_lossy(&other.stdout);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    let wanted =
        "These are programs of larder-2, and you asked about larder-1: say --sash larder-2";
    assert!(told.contains(wanted), "{told}");
    let folder = prove("out/larder-1", "larder-1");
    ends_with(&folder, 2);
    assert!(
        stderr(&folder).contains(&format!("did you mean {}?", bench.text("out/larder-1/cuts")))
    );
    for nothing in ["", "(G0 X1 Y2)\n", "M5\nM2\n"] {
        fs::write(bench.path("nothing.ngc"), nothing).unwrap();
        let told = prove("nothing.ngc", "larder-1");
        ends_with(&told, 2);
        assert!(stderr(&told).contains("no movement"), "{}", stderr(&told));
    }
}

// 800 Pa is a test class (EN 12210) and nobody's statement; 497 Pa are the worked example's, times 1.3.
#[test]
fn the_wind_is_told_with_where_it_comes_from() {
    for (line, words) in [
        ("", "in wind (800 Pa, assumed)"),
        ("wind = 800", "in wind (800 Pa, as stated)"),
        (
            "weather = { site = { speed = 26, terrain = \"town\", height = 10, coefficient = 1.3 } }",
            "in wind (646 Pa by EN 1991-1-4: 26 m/s, town, 10 m up, 1.3 times)",
        ),
    ] {
        let bench = Bench::new();
        fs::write(bench.path("house.toml"), format!("{SMALL}{line}\n")).unwrap();
        let survey = bench.text("house.toml");
        let output = run(&["check", "--all", &survey]);
        ends_with(&output, 0);
        let said = String::from_utf8(output.stdout).unwrap();
        let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(said.contains(words), "{said}");
        let output = run(&["check", "--json", &survey]);
        let report: Value = serde_json::from_slice(&output.stdout).unwrap();
        let wind = &report["sashes"][0]["wind"];
        assert!(words.contains(wind["words"].as_str().unwrap()), "{wind}");
        let stressed = report["sashes"][0]["findings"].as_array().unwrap();
        let of_wind = |rule: &str| stressed.iter().filter(|f| f["rule"] == rule).count();
        assert_eq!(of_wind("glass.strength.wind"), 1);
        let told = stressed.iter().filter(|finding| {
            let rule = finding["rule"].as_str().unwrap();
            let glass_or_wood = rule == "glass.strength.wind" || rule == "timber.wind";
            glass_or_wood
                && !finding["advice"].as_str().unwrap().contains(wind["words"].as_str().unwrap())
        });
        assert_eq!(told.count(), 0, "{stressed:?}");
    }
}
