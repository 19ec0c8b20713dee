//! What an independent audit asks of a DXF file, asked here without any other program:
//!
//! 1. pairs whole, sections in order, end of file last
//! 2. every record of tables, blocks, entities and objects has a handle; handles are unique, not
//!    zero, and below the seed
//! 3. every record says who owns it, and the owner exists
//! 4. a table's head has a handle of its own and counts its rows
//! 5. every layer, line kind and text style that is named exists
//! 6. every block has its record and its end; the root dictionary is the first object and leads
//!    nowhere that is not there
//! 7. units, measurement and extents are set; no variable holds the time
//! 8. polylines count their vertices; radii and heights are positive; numbers are finite
//!
//! `tests/reference/audit_dxf.py` lets ezdxf say the same.

use crate::sample;
use fillister::drawing::{Scene, dxf as dxf_pen};
use std::collections::BTreeSet;

#[derive(Debug, Clone)]
struct Record {
    section: String,
    name: String,
    pairs: Vec<(u16, String)>,
}

impl Record {
    fn get(&self, code: u16) -> Option<&str> {
        self.pairs.iter().find(|(c, _)| *c == code).map(|(_, value)| value.as_str())
    }

    fn real(&self, code: u16) -> f64 {
        self.get(code).map_or(f64::NAN, |value| value.parse().unwrap_or(f64::NAN))
    }

    fn handle(&self) -> Option<&str> {
        self.get(if self.name == "DIMSTYLE" { 105 } else { 5 })
    }
}

/// Records with the section that each stands in; sections themselves included.
fn read(text: &str) -> Result<Vec<Record>, String> {
    let lines: Vec<&str> = text.split("\r\n").collect();
    let [body @ .., ""] = lines.as_slice() else { return Err("no line end at the end".into()) };
    let (mut records, mut section) = (Vec::<Record>::new(), String::new());
    for pair in body.chunks(2) {
        let &[code, value] = pair else { return Err("half a pair".into()) };
        let code: u16 = code.trim().parse().map_err(|_| format!("group code {code:?}"))?;
        match (code, records.last_mut()) {
            (999, None) => {}
            (0, _) => records.push(Record {
                section: section.clone(),
                name: value.into(),
                pairs: Vec::new(),
            }),
            (_, None) => return Err("a pair before the first record".into()),
            (_, Some(last)) => {
                if last.name == "SECTION" && code == 2 {
                    section = value.into();
                    last.section.clone_from(&section);
                }
                last.pairs.push((code, value.into()));
            }
        }
    }
    Ok(records)
}

fn header(records: &[Record], name: &str, code: u16) -> Option<String> {
    let head = records.iter().find(|r| r.name == "SECTION" && r.section == "HEADER")?;
    let at = head.pairs.iter().position(|(c, value)| *c == 9 && value == name)?;
    let mut values = head.pairs[at + 1..].iter().take_while(|(c, _)| *c != 9);
    values.find(|(c, _)| *c == code).map(|(_, value)| value.clone())
}

/// Everything that is wrong with the file.
fn faults(text: &str) -> Vec<String> {
    let records = match read(text) {
        Ok(records) => records,
        Err(fault) => return vec![fault],
    };
    let mut faults = order(&records);
    if header(&records, "$ACADVER", 1).as_deref() != Some("AC1015") {
        faults.push("not the form of the year 2000".into());
    }
    faults.extend(names(&records));
    faults.extend(tables(&records));
    faults.extend(shapes(&records));
    faults.extend(handles(&records));
    faults.extend(blocks_and_objects(&records));
    let units = ["$INSUNITS", "$MEASUREMENT"].map(|name| header(&records, name, 70));
    if units != [Some("4".into()), Some("1".into())] {
        faults.push(format!("units {units:?}"));
    }
    faults
}

fn order(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    let found: Vec<&str> =
        records.iter().filter(|r| r.name == "SECTION").map(|r| r.section.as_str()).collect();
    let wanted = ["HEADER", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"];
    if found != wanted {
        faults.push(format!("sections {found:?}"));
    }
    if records.iter().filter(|r| r.name == "ENDSEC").count() != found.len() {
        faults.push("a section without its end".into());
    }
    if records.last().is_none_or(|r| r.name != "EOF") {
        faults.push("no end of file".into());
    }
    for name in ["$TDCREATE", "$TDUPDATE", "$TDINDWG", "$FINGERPRINTGUID", "$VERSIONGUID"] {
        if header(records, name, 40).or(header(records, name, 2)).is_some() {
            faults.push(format!("{name} changes from run to run"));
        }
    }
    faults
}

fn is_frame(record: &Record) -> bool {
    matches!(record.name.as_str(), "SECTION" | "ENDSEC" | "ENDTAB" | "EOF")
}

fn handles(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    let hex = |text: &str| u64::from_str_radix(text, 16).unwrap_or(0);
    let seed = hex(&header(records, "$HANDSEED", 5).unwrap_or_default());
    let mut known = BTreeSet::new();
    for record in records.iter().filter(|r| !is_frame(r)) {
        let handle = record.handle().map_or(0, hex);
        if handle == 0 || handle >= seed {
            faults.push(format!("{} has the handle {handle:X}", record.name));
        }
        if !known.insert(handle) {
            faults.push(format!("handle {handle:X} is there twice"));
        }
    }
    for record in records.iter().filter(|r| !is_frame(r)) {
        let owner = record.get(330).map(hex);
        let top = record.name == "TABLE" || record.section == "OBJECTS";
        if owner.is_none_or(|owner| !(known.contains(&owner) || top && owner == 0)) {
            faults.push(format!("{} is owned by {owner:?}", record.name));
        }
    }
    faults
}

/// Names of the rows of one table.
fn rows<'a>(records: &'a [Record], table: &str) -> Vec<&'a str> {
    let rows = records.iter().filter(|r| r.section == "TABLES" && r.name == table);
    rows.filter_map(|r| r.get(2)).collect()
}

fn names(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    let mut missing = |table: &str, name: Option<&str>, usual: &str| {
        let name = name.unwrap_or(usual);
        if !rows(records, table).iter().any(|row| row.eq_ignore_ascii_case(name)) {
            faults.push(format!("no {table} {name}"));
        }
    };
    for record in records.iter().filter(|r| !is_frame(r)) {
        match record.section.as_str() {
            "ENTITIES" => {
                missing("LAYER", record.get(8), "");
                if record.name == "TEXT" {
                    missing("STYLE", record.get(7), "STANDARD");
                }
            }
            "TABLES" if record.name == "LAYER" => missing("LTYPE", record.get(6), ""),
            _ => {}
        }
    }
    faults
}

fn tables(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    let tables = records.iter().filter(|r| r.section == "TABLES");
    for group in tables.collect::<Vec<_>>().split(|r| is_frame(r)) {
        let [head, rows @ ..] = group else { continue };
        let name = head.get(2).unwrap_or_default();
        if head.name != "TABLE" || rows.iter().any(|row| row.name != name) {
            faults.push(format!("table {name} is mixed"));
        }
        if head.get(70) != Some(rows.len().to_string().as_str()) {
            faults.push(format!("table {name} miscounts its {} rows", rows.len()));
        }
        let own: BTreeSet<String> =
            rows.iter().filter_map(|r| r.get(2)).map(str::to_uppercase).collect();
        if own.len() != rows.len() {
            faults.push(format!("table {name} names a row twice"));
        }
        if rows.iter().any(|row| row.get(330) != head.get(5)) {
            faults.push(format!("table {name} does not own its rows"));
        }
    }
    faults
}

fn blocks_and_objects(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    let blocks: Vec<&Record> =
        records.iter().filter(|r| r.section == "BLOCKS" && !is_frame(r)).collect();
    for (pair, name) in blocks.chunks(2).zip(["*Model_Space", "*Paper_Space"]) {
        let record = records.iter().find(|r| r.name == "BLOCK_RECORD" && r.get(2) == Some(name));
        let owner = record.and_then(Record::handle);
        let sound = matches!(pair, [begin, end] if begin.name == "BLOCK" && end.name == "ENDBLK"
            && begin.get(2) == Some(name) && begin.get(330) == owner && end.get(330) == owner);
        if !sound || owner.is_none() {
            faults.push(format!("block {name} is not whole"));
        }
    }
    if blocks.len() != 4 {
        faults.push(format!("{} block records", blocks.len()));
    }
    let objects: Vec<&Record> =
        records.iter().filter(|r| r.section == "OBJECTS" && !is_frame(r)).collect();
    let root = objects.first().filter(|r| r.name == "DICTIONARY" && r.get(330) == Some("0"));
    let leads = root.and_then(|root| root.get(350));
    if leads.is_none() || !objects.iter().any(|r| r.handle() == leads) {
        faults.push("no root dictionary that leads somewhere".into());
    }
    faults
}

fn shapes(records: &[Record]) -> Vec<String> {
    let mut faults = Vec::new();
    for record in records.iter().filter(|r| r.section == "ENTITIES") {
        let reals = record.pairs.iter().filter(|(code, _)| (10..=59).contains(code));
        for (code, value) in reals {
            if !value.parse::<f64>().is_ok_and(f64::is_finite) || value == "-0.0" {
                faults.push(format!("{} has {value} under {code}", record.name));
            }
        }
        let count = record.pairs.iter().filter(|(code, _)| *code == 10).count();
        let sound = match record.name.as_str() {
            "LWPOLYLINE" => {
                record.get(90) == Some(&count.to_string()) && record.get(70) == Some("1")
            }
            "ARC" | "CIRCLE" | "TEXT" => record.real(40) > 0.0,
            _ => true,
        };
        if !sound {
            faults.push(format!("{record:?}"));
        }
    }
    faults
}

fn sample() -> String {
    dxf_pen::write(&sample::scene()).unwrap()
}

#[test]
fn a_file_is_sound_even_when_empty() {
    let none: Vec<String> = Vec::new();
    assert_eq!(faults(&sample()), none);
    let empty = Scene::new("", "", &[]);
    assert_eq!(faults(&dxf_pen::write(&empty).unwrap()), none);
}

#[test]
fn the_extents_are_those_of_the_scene() {
    let extents = sample::scene().extents();
    let records = read(&sample()).unwrap();
    let value = |name, code| header(&records, name, code).unwrap().parse::<f64>().unwrap();
    let corners = [("$EXTMIN", extents.x0, extents.y0), ("$EXTMAX", extents.x1, extents.y1)];
    for (name, x, y) in corners {
        assert!((value(name, 10) - x).abs() < 1e-9 && (value(name, 20) - y).abs() < 1e-9);
    }
}

#[test]
fn layer_names_are_words_of_the_trade() {
    let records = read(&sample()).unwrap();
    let layers = ["0", "old rebate", "new rebate", "bars", "timber", "words"];
    assert_eq!(rows(&records, "LAYER"), layers);
    let widths: Vec<&str> = records
        .iter()
        .filter(|r| r.section == "TABLES" && r.name == "LAYER")
        .filter_map(|r| r.get(370))
        .collect();
    assert_eq!(widths, ["-3", "25", "50", "25", "18", "25"]);
}

// A check that cannot fail would prove nothing.
#[test]
fn planted_faults_are_found() {
    let sound = sample();
    let plant = |from: &str, to: &str| {
        assert!(sound.contains(from), "{from:?}");
        faults(&sound.replacen(from, to, 1)).len()
    };
    for (from, to) in [
        ("LTYPE\r\n  5\r\n3\r\n", "LTYPE\r\n"),
        ("\r\n  5\r\n3\r\n", "\r\n  5\r\n1\r\n"),
        ("AC1015", "AC1009"),
        ("$INSUNITS\r\n 70\r\n4", "$INSUNITS\r\n 70\r\n1"),
        ("$MEASUREMENT\r\n 70\r\n1", "$MEASUREMENT\r\n 70\r\n0"),
        ("  8\r\nbars", "  8\r\nbar"),
        ("DASHED", "DOTTED"),
        ("ENDBLK", "BLOCK"),
        ("350\r\n", "360\r\n"),
        ("  0\r\nENDSEC\r\n", ""),
        ("  0\r\nEOF\r\n", ""),
        ("LWPOLYLINE\r\n", "LINE\r\n 10\r\nNaN\r\n"),
        (" 70\r\n0", "0"),
        ("$LTSCALE\r\n", "$TDCREATE\r\n 40\r\n2460000.5\r\n  9\r\n$LTSCALE\r\n"),
    ] {
        assert!(plant(from, to) > 0, "{from:?} to {to:?} went unseen");
    }
}
