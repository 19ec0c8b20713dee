//! The JSON Schema of the survey says what the reader does: the same keys, the same defaults.

use crate::support;
use crate::support::schema::validate;
use fillister::survey::{read, schema};
use serde_json::Value;
use std::fmt::Write;

const LEAST: &str = include_str!("../fixtures/survey/good/least.toml");

/// Good surveys, and what each is called.
const GOOD: [(&str, &str); 8] = [
    ("samphire-cottage", support::EXAMPLE),
    ("least", LEAST),
    ("around", include_str!("../fixtures/survey/good/around.toml")),
    ("defaults", include_str!("../fixtures/survey/good/defaults.toml")),
    ("kitchen", include_str!("../fixtures/survey/good/kitchen.toml")),
    ("out-of-square", include_str!("../fixtures/survey/good/out-of-square.toml")),
    ("shapes", include_str!("../fixtures/survey/good/shapes.toml")),
    ("us-spellings", include_str!("../fixtures/survey/good/us-spellings.toml")),
];

fn json(text: &str) -> Value {
    serde_json::to_value(text.parse::<toml::Table>().unwrap()).unwrap()
}

#[test]
fn every_good_survey_keeps_to_the_schema() {
    let schema = schema();
    for (name, text) in GOOD {
        validate(&schema, &json(text), name).unwrap();
    }
}

#[test]
fn bad_surveys_break_the_schema() {
    let schema = schema();
    for (good, bad) in [
        ("thickness = 45", "thickness = true"),
        ("thickness = 45", "thicknes = 45"),
        ("\"fixed\"", "\"fixd\""),
        ("id = \"a\"", ""),
        ("id = \"a\"", "id = \"A 1\""),
        ("width = 9", "width = 900"),
        ("house = \"Tern House\"", "house = \"\""),
    ] {
        assert!(LEAST.contains(good), "{good}");
        let text = LEAST.replacen(good, bad, 1);
        assert!(validate(&schema, &json(&text), "bad").is_err(), "{bad}");
        assert!(read(&text, "bad").is_err(), "{bad}");
    }
}

/// Every object of the schema with its path, as the keys that lead to it; lists are passed through.
fn objects(schema: &Value, path: &[String], found: &mut Vec<(Vec<String>, Vec<String>)>) {
    let Some(properties) = schema["properties"].as_object() else { return };
    found.push((path.to_vec(), properties.keys().cloned().collect()));
    for (key, inner) in properties {
        let list = inner["type"] == "array";
        let inner = if list { &inner["items"] } else { inner };
        let mut path = path.to_vec();
        path.push(if list { format!("{key}[]") } else { key.clone() });
        objects(inner, &path, found);
    }
}

/// A survey that holds nothing but `key = value` under `path`.
fn survey(path: &[String], key: &str, value: &str) -> String {
    let mut text = String::new();
    for step in path {
        match step.strip_suffix("[]") {
            Some(list) => write!(text, "{list} = [{{ ").unwrap(),
            None => write!(text, "{step} = {{ ").unwrap(),
        }
    }
    write!(text, "{key} = {value}").unwrap();
    for step in path.iter().rev() {
        text.push_str(if step.ends_with("[]") { " }]" } else { " }" });
    }
    text
}

#[test]
fn the_reader_knows_the_keys_of_the_schema_and_no_others() {
    let mut found = Vec::new();
    objects(&schema(), &[], &mut found);
    assert!(found.len() > 40, "{} tables", found.len());
    for (path, keys) in &found {
        for key in keys {
            // No key takes a time of day: a key that is known says what it wants instead.
            let text = survey(path, key, "07:32:00");
            let mistakes = read(&text, "probe").unwrap_err();
            assert!(
                mistakes.iter().any(|one| one.found.as_deref() == Some("07:32:00")),
                "{text}: {mistakes}"
            );
        }
        let mistakes = read(&survey(path, "no-such-key", "1"), "probe").unwrap_err();
        let unknown =
            mistakes.iter().find(|one| one.found.as_deref() == Some("no-such-key")).unwrap();
        let named = unknown.expected.strip_prefix("one of the keys ").unwrap();
        for key in named.split(", ") {
            assert!(keys.iter().any(|known| known == key), "{key} at {path:?}");
        }
    }
}

/// Paths of every key with a default, and the default.
fn defaults(schema: &Value, path: &[String], found: &mut Vec<(Vec<String>, String, Value)>) {
    for (key, inner) in schema["properties"].as_object().into_iter().flatten() {
        let alias =
            inner["description"].as_str().is_some_and(|d| d.starts_with("Another spelling"));
        if alias {
            continue;
        }
        if let Some(default) = inner.get("default") {
            found.push((path.to_vec(), key.clone(), default.clone()));
        }
        let mut path = path.to_vec();
        path.push(key.clone());
        defaults(inner, &path, found);
    }
}

#[test]
fn every_default_of_the_schema_is_the_readers() {
    let schema = schema();
    let mut found = Vec::new();
    defaults(&schema["properties"]["workshop"], &["workshop".to_owned()], &mut found);
    let workshop = found.len();
    defaults(&schema["properties"]["sash"]["items"], &["sash".to_owned()], &mut found);
    assert!(workshop > 30 && found.len() > workshop + 10, "{workshop} of {}", found.len());
    for (path, key, default) in found {
        // A bearing is judged only where there is one, which its diameter says.
        let with_bearing = path.last().is_some_and(|last| last == "bearing");
        let bearing = "workshop = { router = { bearing = { diameter = 12 } } }\n";
        let least = if with_bearing { format!("{bearing}{LEAST}") } else { LEAST.to_owned() };
        let key = if with_bearing { format!("diameter = 12, {key}") } else { key };
        // Hinges are all measured or not told at all.
        let hinges = "apart = 300, screws = 3, diameter = 4, thread = 25";
        let with_hinges = path.last().is_some_and(|last| last == "hinges");
        let least = if with_hinges { format!("{least}hinges = {{ {hinges} }}\n") } else { least };
        let key = if with_hinges { format!("{hinges}, {key}") } else { key };
        let plain = read(&least, "least").unwrap();
        assert!(!default.is_null(), "{path:?}.{key}");
        let text = if path[0] == "workshop" {
            format!("{}\n{LEAST}", survey(&path, &key, &default.to_string()))
        } else if path == ["sash", "unit"] {
            LEAST.replace("\"4-6-4\"", &format!("\"4-6-4\", {key} = {default}"))
        } else {
            format!("{LEAST}{}\n", survey(&path[1..], &key, &default.to_string()))
        };
        let mut spelled = read(&text, "spelled").unwrap_or_else(|mistakes| panic!("{mistakes}"));
        // A limit that was set rests on the setting, whatever its value.
        let mut limits = plain.workshop.limits.clone();
        if path.last().is_some_and(|last| last == "limits") {
            let usual = limits.by_name(&key).unwrap();
            let set = spelled.workshop.limits.by_name(&key).unwrap();
            assert_eq!(set.value, usual.value, "{key}");
            *set = usual.clone();
        }
        assert_eq!(spelled, plain, "{path:?}.{key} = {default}");
    }
}
