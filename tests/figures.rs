//! Every figure that is printed stands in `report.json`, or in the survey that it was made from: sheets and summary
//! pick and round, and work out none of their own.

use crate::paper;
use crate::support::houses;
use crate::support::machinable;
use crate::support::runs::for_all;
use crate::support::writer::{self, Lengths};
use fillister::job;
use fillister::sheets::summary::{Detail, answer};
use fillister::survey::House;
use proptest::prelude::*;
use serde_json::Value;
use std::cell::Cell;
use std::collections::BTreeSet;

/// Figures with a decimal point in a text; whole ones are mostly names and counts.
fn figures(text: &str) -> impl Iterator<Item = &str> {
    let parts = text.split(|c: char| !c.is_ascii_digit() && c != '.');
    let parts = parts.map(|part| part.trim_matches('.'));
    parts.filter(|part| part.contains('.') && part.matches('.').count() == 1)
}

/// What a number may be printed as: rounded to up to four places, half a tenth up or down where the last digits of the
/// sum it comes from decide.
fn written(number: f64, into: &mut BTreeSet<String>) {
    for number in [number.abs() - 4e-6, number.abs() + 4e-6] {
        into.extend((1..=4_usize).map(|places| format!("{number:.places$}")));
    }
}

/// The numbers under a key of the report as they may be printed. Margins are cut short, shares are told in per cent.
fn gather(key: &str, value: &Value, into: &mut BTreeSet<String>) {
    match value {
        Value::Number(number) => {
            let number = number.as_f64().unwrap();
            written(number, into);
            match key {
                "by" | "wood" | "distance" | "runs_out" => {
                    written((number * 10.0 + 1e-6).floor() / 10.0, into);
                }
                "share" => written(100.0 * number, into),
                _ => {}
            }
        }
        Value::String(text) => into.extend(figures(text).map(str::to_owned)),
        Value::Array(list) => list.iter().for_each(|value| gather(key, value, into)),
        Value::Object(map) => map.iter().for_each(|(key, value)| gather(key, value, into)),
        Value::Bool(_) | Value::Null => {}
    }
}

/// Texts of a house, each with the name of its file.
fn texts(files: &std::collections::BTreeMap<String, Vec<u8>>) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for (name, content) in files {
        let text = if name.ends_with("workshop.pdf")
            || name.ends_with("machine.pdf")
            || name.ends_with("options.pdf")
            || ["glass-order.pdf", "for-the-owner.pdf"].contains(&name.as_str())
        {
            let pages = paper::pages(content);
            let words = pages.iter().flat_map(|page| &page.words);
            words.map(|word| word.text.as_str()).collect::<Vec<_>>().join("\n")
        } else if name == "summary.txt" || name.contains(".csv") {
            String::from_utf8(content.clone()).unwrap()
        } else if name.contains("/section-") {
            let svg = String::from_utf8(content.clone()).unwrap();
            let words = svg
                .split('>')
                .filter_map(|part| part.split_once("</text").map(|(words, _)| words.to_owned()));
            words.collect::<Vec<_>>().join("\n")
        } else {
            continue;
        };
        all.push((name.clone(), text));
    }
    all
}

/// Printed on every sheet: the smallest bearing, a hole for a screw, and the number of a standard.
const FIXED: [&str; 3] = ["9.5", "4.5", "3.6"];

/// Figures of a house that were looked up, and how many of them would have been found had they been a little off.
fn looked_up(house: &House) -> Result<[usize; 2], TestCaseError> {
    let made = job::make(house).unwrap();
    let report = serde_json::to_value(&made.report).unwrap();
    let [mut count, mut by_chance] = [0; 2];
    let full = ("in full".to_owned(), answer(&made.report, Detail::Full));
    for (name, text) in texts(&made.files).into_iter().chain([full]) {
        let mut known = BTreeSet::new();
        // A sheet of a sash says nothing of the others.
        let own = name.split_once('/').map(|(id, _)| id);
        let is_own = |id: &str| own.is_none_or(|own| own == id);
        for sash in report["sashes"].as_array().unwrap() {
            if is_own(sash["id"].as_str().unwrap()) {
                gather("", sash, &mut known);
            }
        }
        gather("", &report["cautions"], &mut known);
        // At the foot of the order stand its sums.
        if name == "glass-order.pdf" {
            gather("", &serde_json::to_value(&made.house).unwrap()["order"], &mut known);
        }
        gather("", &report["unworked"], &mut known);
        // What the joiner measured is printed beside what was worked out.
        let sashes: Vec<_> = house.sashes.iter().filter(|sash| is_own(&sash.id)).cloned().collect();
        for bar in sashes.iter().flat_map(|sash| &sash.bars) {
            written(bar.width - 2.0 * bar.rebate_width, &mut known);
        }
        let measured = House { sashes, ..house.clone() };
        for figure in figures(&writer::write(&measured, Lengths::Millimetres)) {
            written(figure.parse().unwrap(), &mut known);
        }
        if house.workshop.printer.inches {
            // What is less than 1/32 in is told in thousandths; others have no decimals.
            let small = known.iter().filter_map(|known| known.parse::<f64>().ok());
            let small = small.filter(|mm| *mm < 25.4 / 32.0).map(|mm| format!("{:.3}", mm / 25.4));
            let small: Vec<_> = small.map(|text| text.trim_end_matches('0').to_owned()).collect();
            known.extend(small);
        }
        for line in text.lines() {
            for figure in figures(line) {
                let found = known.contains(figure) || FIXED.contains(&figure);
                prop_assert!(found, "{}: {} in \"{}\"", name, figure, line);
                let places = figure.split('.').nth(1).unwrap().len();
                let off = figure.parse::<f64>().unwrap()
                    + 7.0 / 10_f64.powi(i32::try_from(places).unwrap());
                count += 1;
                by_chance += usize::from(known.contains(&format!("{off:.places$}")));
            }
        }
    }
    Ok([count, by_chance])
}

#[test]
fn every_figure_on_paper_stands_in_the_report() {
    let (seen, chance) = (Cell::new(0), Cell::new(0));
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(12, &any, |house| {
        let [count, by_chance] = looked_up(&house)?;
        seen.set(seen.get() + count);
        chance.set(chance.get() + by_chance);
        Ok(())
    });
    eprintln!("{} figures, {} would have been found by chance", seen.get(), chance.get());
    // There are so many figures that every second wrong one would still be there: a rule that is wrong is found at once.
    assert!(
        seen.get() > 500 && chance.get() * 10 < seen.get() * 6,
        "{} {}",
        seen.get(),
        chance.get()
    );
}
