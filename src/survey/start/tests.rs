use super::start;
use crate::finding::Basis;
use crate::survey::{DeclaredKey, House, Limits, With, keys, read_with};
use std::collections::BTreeSet;
use toml::{Table, Value};

/// The line without the mark of a setting; none for anything but a setting.
fn setting(line: &str) -> Option<&str> {
    line.strip_prefix('#').filter(|rest| !rest.is_empty() && !rest.starts_with([' ', '#']))
}

fn key(line: &str) -> &str {
    line.split('=').next().unwrap().trim()
}

/// The survey with the mark taken from the settings of `lines`. A setting that stands in the text
/// already, or that is one of two ways to say the same, takes the place of the other.
fn taken(lines: std::ops::Range<usize>) -> String {
    let text = start();
    let all: Vec<&str> = text.lines().collect();
    let header = |at: usize| {
        let is_header = |line: &&str| setting(line).unwrap_or(line).starts_with('[');
        all[..=at].iter().rposition(is_header)
    };
    let ways = |key: &str| if key == "groove" { "rebate".to_owned() } else { key.to_owned() };
    let mut out = Vec::new();
    for (at, line) in all.iter().enumerate() {
        let own = lines.contains(&at).then(|| setting(line)).flatten();
        let replaced = lines.clone().any(|other| {
            let rival = setting(all[other]).map(|one| ways(key(one)));
            other != at && header(other) == header(at) && rival.as_deref() == Some(key(line))
        });
        match own {
            Some(own)
                if ["weights", "cord_groove", "horns"].iter().any(|key| own.starts_with(key)) =>
            {
                // Only a sliding sash has a weight box and cords; of two values of a key the invented one goes.
                out.retain(|line: &&str| !line.starts_with("kind"));
                out.extend(["kind = \"sliding-lower\"", own]);
            }
            Some(own) => out.push(own),
            None if replaced && !line.starts_with('[') => {}
            None => out.push(line),
        }
    }
    out.join("\n")
}

/// Every single setting by its line; a part that is commented out with its head comes whole.
fn settings() -> Vec<std::ops::Range<usize>> {
    let text = start();
    let all: Vec<&str> = text.lines().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < all.len() {
        let mut end = at + 1;
        if setting(all[at]).is_some_and(|line| line.starts_with('[')) {
            while all.get(end).is_some_and(|line| line.trim_start().starts_with('#')) {
                end += 1;
            }
        }
        if setting(all[at]).is_some() {
            found.push(at..end);
        }
        at = end;
    }
    found
}

/// A drawing that names no unit: a triangle over the sight, and a note on another layer.
const DRAWN: &str = "0\nSECTION\n2\nENTITIES
0\nLINE\n8\ndaylight\n10\n0\n20\n0\n11\n620\n21\n0
0\nLINE\n8\ndaylight\n10\n620\n20\n0\n11\n620\n21\n830
0\nLINE\n8\ndaylight\n10\n620\n20\n830\n11\n0\n21\n0
0\nLINE\n8\nnotes\n10\n0\n20\n0\n11\n9\n21\n9
0\nENDSEC\n0\nEOF\n";

fn house(text: &str) -> House {
    let open = |name: &str| -> Result<Vec<u8>, String> {
        let is_drawing =
            std::path::Path::new(name).extension().is_some_and(|ending| ending == "dxf");
        Ok(if is_drawing { DRAWN.into() } else { Vec::new() })
    };
    let with = With { shows: None, open: &open };
    let read = read_with(text.as_bytes(), "start.toml", &with);
    read.unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}"))
}

/// Ways to every value of a table, lists marked with brackets.
fn ways(table: &Table, path: &str, found: &mut BTreeSet<String>) {
    for (key, value) in table {
        let path = if path.is_empty() { key.clone() } else { format!("{path}.{key}") };
        match value {
            Value::Table(inner) => ways(inner, &path, found),
            Value::Array(items) if items.iter().all(Value::is_table) => {
                for item in items {
                    ways(item.as_table().unwrap(), &format!("{path}[]"), found);
                }
            }
            _ => {
                found.insert(path);
            }
        }
    }
}

const SHARED: [&str; 3] = [".rebate", ".groove", ".moulding"];

/// The four members are of one kind, and rebate, groove and moulding are the same tables wherever they
/// stand: the table must be shown at each place, each key of it somewhere.
fn alike(ways: impl IntoIterator<Item = String>) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for way in ways {
        let way = ["left", "right", "top", "bottom"]
            .iter()
            .fold(way, |way, side| way.replace(&format!(".member.{side}."), ".member.side."));
        // What a profile may hold is what the defaults may.
        let way = if way.starts_with("profile.") { "profile".to_owned() } else { way };
        match way.rsplit_once('.') {
            Some((table, key)) if SHARED.iter().any(|shared| table.ends_with(shared)) => {
                found.insert(table.to_owned());
                found.insert(format!("{} … {key}", table.rsplit('.').next().unwrap()));
            }
            _ => {
                found.insert(way);
            }
        }
    }
    found
}

fn all_ways(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    ways(&text.parse().unwrap(), "", &mut found);
    found
}

#[test]
fn it_reads_as_it_stands_and_holds_no_more_than_is_needed() {
    let house = house(&start());
    assert_eq!(house.sashes.len(), 1);
    assert!(house.sashes[0].bars.is_empty() && house.sashes[0].metal.is_empty());
}

// A key that comes into the survey and not into its beginning fails here.
#[test]
fn every_key_of_a_survey_stands_in_it_and_reads() {
    let mut found = all_ways(&start());
    for lines in settings() {
        let text = taken(lines);
        house(&text);
        found.extend(all_ways(&text));
    }
    let asked = alike(keys().into_iter().map(|key| key.path));
    let found = alike(found);
    let missing: Vec<&String> = asked.difference(&found).collect();
    assert!(missing.is_empty(), "not in start.toml: {missing:?}");
    assert_eq!(found, asked);
}

// Whichever of its two limits a rule asks first, both at their usual values are no slip.
#[test]
fn all_limits_at_their_usual_values_read_together() {
    let text = start();
    let first = text.lines().position(|line| line == "[workshop.limits]").unwrap();
    let house = house(&taken(first..text.lines().count()));
    let (mut set, mut usual) = (house.workshop.limits, Limits::default());
    for name in Limits::NAMES {
        let [set, usual] = [&mut set, &mut usual].map(|all| all.by_name(name).unwrap());
        assert_eq!((set.value, &set.basis), (usual.value, &Basis::Setting), "{name}");
    }
}

/// The value behind a way, in any of the parts of its lists.
fn value<'a>(table: &'a Value, path: &str) -> Option<&'a Value> {
    let Some((first, rest)) = path.split_once('.') else { return table.get(path) };
    match first.strip_suffix("[]") {
        Some(list) => table.get(list)?.as_array()?.iter().find_map(|item| value(item, rest)),
        None => value(table.get(first)?, rest),
    }
}

#[test]
fn a_default_that_it_shows_is_the_readers() {
    let plain = house(&start());
    let mut shown = 0;
    for lines in settings() {
        let text = taken(lines);
        let table = Value::Table(text.parse().unwrap());
        for DeclaredKey { path, default, .. } in keys() {
            let (Some(usual), Some(value)) = (default, value(&table, &path)) else { continue };
            let usual: Table = format!("v = {usual}").parse().unwrap();
            assert_eq!(Some(value), usual.get("v"), "{path}");
        }
        let mut read = house(&text);
        let limits = read.workshop.limits.clone();
        // A limit that was set rests on the setting, whatever its value.
        read.workshop.limits.clone_from(&plain.workshop.limits);
        let named = all_ways(&text).into_iter().find(|way| way.starts_with("workshop.limits."));
        if let Some(way) = named {
            let name = way.rsplit('.').next().unwrap();
            let (mut set, mut usual) = (limits, plain.workshop.limits.clone());
            assert_eq!(set.by_name(name).unwrap().value, usual.by_name(name).unwrap().value);
        }
        shown += usize::from(read == plain);
    }
    // All but those for what the invented sash has not, or has otherwise.
    assert!(shown + 68 > settings().len() && shown > 80, "{shown} of {}", settings().len());
}
