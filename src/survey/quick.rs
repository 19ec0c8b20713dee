//! A sash from a handful of words, for the answer on site before there is a file.
//!
//! Promised: the words are read by the very reader of the survey, so that they may carry units and every
//! slip is reported; everything that was not asked stands at a default and is named. Not promised: that a
//! sash with so few measures is this sash; tenons, metal and the rest are for the file.

use super::read::read;
use super::values::House;
use crate::input::{is_bare, unit_at_end};
use crate::language::{Text, text};
use std::fmt::Write;

/// Face width of stiles and rails that was not asked, mm. Common practice, no source.
const FACE: &str = "50";

/// The unit that was not asked for: two panes of 4 mm and the middle heritage cavity.
const UNIT: &str = "4-6-4";

/// What can be said in a few words. Lengths as in a survey; two of them with an `x` between.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Quick {
    /// Glazing face to room face: `45`, `"1 3/4 in"`.
    pub thickness: String,
    /// Width and height of the daylight: `540x900`.
    pub sight: String,
    /// Width and depth of the old rebate: `9x17`.
    pub rebate: String,
    /// Shape, width and depth: `ovolo 12x11`, or `square`.
    pub moulding: String,
    /// Face width of stiles and rails.
    pub face: Option<String>,
    /// How it hangs or slides.
    pub kind: Option<String>,
    /// Panes and cavities.
    pub unit: Option<String>,
}

impl Quick {
    /// The sash, and what was taken for granted.
    ///
    /// # Errors
    /// Every slip in the words, each with the option it stands in; and where there is none, everything
    /// that is more often a slip than not and does not name its unit.
    pub fn house(&self) -> Result<(House, Vec<Text>), String> {
        let text = self.survey()?;
        let house = read(&text, "options").map_err(|mistakes| {
            let mut told: Vec<(&str, String)> = Vec::new();
            for one in &mistakes {
                let (option, found) = (option(&one.key), one.found.as_deref().unwrap_or("nothing"));
                if told.iter().any(|(other, _)| *other == option) {
                    // Of one option the first slip says enough: both its numbers have the same unit.
                    continue;
                }
                let mut report = format!("{option}: found {found}, expected {}", one.expected);
                if let Some(hint) = &one.hint {
                    let _ = write!(report, " ({hint})");
                }
                told.push((option, report));
            }
            told.into_iter().map(|(_, report)| report).collect::<Vec<_>>().join("\n")
        })?;
        let doubts = house.doubts.iter().map(|doubt| {
            let option = option(doubt.key);
            let written = match option {
                "--sight" => &self.sight,
                "--rebate" => &self.rebate,
                _ => &self.thickness,
            };
            doubt.of_option(option, written)
        });
        let doubts: Vec<String> = doubts.collect();
        if doubts.is_empty() { Ok((house, self.assumed())) } else { Err(doubts.join("\n")) }
    }

    fn survey(&self) -> Result<String, String> {
        let [width, height] = pair("--sight", &self.sight, "540x900")?;
        let [wide, deep] = pair("--rebate", &self.rebate, "9x17")?;
        let kind = quoted(self.kind.as_deref().unwrap_or("side-hung"));
        let unit = quoted(self.unit.as_deref().unwrap_or(UNIT));
        let face = value(self.face.as_deref().unwrap_or(FACE));
        let shape = self.moulding.trim();
        let moulding = match shape.split_once(' ') {
            None => format!("{{ shape = {} }}", quoted(shape)),
            Some((shape, size)) => {
                let [width, depth] = pair("--moulding", size, "\"ovolo 12x11\"")?;
                format!("{{ shape = {}, width = {width}, depth = {depth} }}", quoted(shape))
            }
        };
        Ok(format!(
            "house = \"Asked on site\"\n[[sash]]\nid = \"sash-1\"\nkind = {kind}\nthickness = {}\n\
             sight = {{ width = {width}, height = {height} }}\nstiles = {{ width = {face} }}\n\
             rails = {{ width = {face} }}\nrebate = {{ width = {wide}, depth = {deep} }}\n\
             moulding = {moulding}\nunit = {{ build_up = {unit} }}\n",
            value(&self.thickness)
        ))
    }

    fn assumed(&self) -> Vec<Text> {
        let mut assumed = Vec::new();
        if self.kind.is_none() {
            assumed.push(Text::name("side-hung"));
        }
        if self.face.is_none() {
            assumed.push(text!("assumed-face", face = FACE));
        }
        if self.unit.is_none() {
            assumed.push(text!("assumed-unit", unit = UNIT));
        }
        assumed.push(text!("assumed-no-bars"));
        assumed.push(text!("assumed-timber"));
        assumed.push(text!("assumed-rest"));
        assumed
    }
}

/// The option that a key of the composed survey came from.
fn option(key: &str) -> &'static str {
    let rest = key.split_once("].").map_or(key, |(_, rest)| rest);
    match rest.split('.').next().unwrap_or_default() {
        "sight" => "--sight",
        "rebate" => "--rebate",
        "moulding" => "--moulding",
        "stiles" | "rails" => "--face",
        "kind" => "--kind",
        "unit" => "--unit",
        _ => "--thickness",
    }
}

/// Two values with an `x` between them; a unit at the end holds for both.
fn pair(option: &str, text: &str, example: &str) -> Result<[String; 2], String> {
    let parts: Vec<&str> = text.split(['x', 'X', '×']).map(str::trim).collect();
    let &[first, second] = parts.as_slice() else {
        return Err(format!("{option}: found {text}, expected two lengths such as {example}"));
    };
    match (is_bare(first), unit_at_end(second)) {
        (true, Some(unit)) => Ok([value(&format!("{first} {unit}")), value(second)]),
        (true, None) if is_bare(second) && [first, second].iter().any(|part| is_fraction(part)) => {
            Err(format!("{option}: {text} of what? Write {first}in x {second}in"))
        }
        _ => match unit_at_end(first).filter(|_| is_bare(second)) {
            Some(unit) => Err(format!(
                "{option}: the second number of {text} has no unit. Write {first} x {second}{unit}"
            )),
            None => Ok([value(first), value(second)]),
        },
    }
}

/// Whether a number is written as a fraction, as only inches are.
fn is_fraction(text: &str) -> bool {
    text.contains(|c: char| c == '/' || (c.is_numeric() && !c.is_ascii_digit()))
}

/// A number as it stands, anything else as text.
fn value(text: &str) -> String {
    let text = text.trim();
    let plain = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || c == '.');
    match text.parse::<f64>() {
        Ok(number) if plain && number.is_finite() => format!("{number:?}"),
        _ => quoted(text),
    }
}

/// A basic TOML string.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => out.extend(['\\', c]),
            c if c.is_control() => {
                let _ = write!(out, "\\u{:04X}", u32::from(c));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::values::{Kind, Moulding};
    use proptest::prelude::*;

    fn quick() -> Quick {
        Quick {
            thickness: "45".into(),
            sight: "540x900".into(),
            rebate: "9 x 17".into(),
            moulding: "ovolo 12x11".into(),
            ..Quick::default()
        }
    }

    #[test]
    fn a_handful_of_words_is_a_sash_and_the_rest_is_named() {
        let (house, assumed) = quick().house().unwrap();
        let sash = &house.sashes[0];
        assert_eq!(house.name, "Asked on site");
        assert_eq!((sash.sight.width, sash.kind), (540.0, Kind::SideHung));
        assert_eq!(sash.members.top.moulding, Moulding::Ovolo { width: 12.0, depth: 11.0 });
        assert!(assumed.iter().any(|one| one.to_string().contains("50 mm wide")));
        let inches = Quick {
            thickness: "1 3/4 in".into(),
            rebate: "3/8 in x 5/8 in".into(),
            moulding: "square".into(),
            kind: Some("fixed".into()),
            face: Some("2 in".into()),
            ..quick()
        };
        let (house, assumed) = inches.house().unwrap();
        assert_eq!(house.sashes[0].members.left.thickness, 44.45);
        assert!(!assumed.iter().any(|one| one.to_string().contains("wide")));
    }

    #[test]
    fn every_slip_names_its_option() {
        let wrong = Quick { thickness: "1.75".into(), kind: Some("fixd".into()), ..quick() };
        let report = wrong.house().unwrap_err();
        assert!(report.contains("--thickness: found 1.75, expected a length from 10"), "{report}");
        assert!(
            report.contains("--kind: found \"fixd\"") && report.contains("did you mean"),
            "{report}"
        );
        let report = Quick { sight: "540".into(), ..quick() }.house().unwrap_err();
        assert!(report.contains("--sight: found 540, expected two lengths"), "{report}");
    }

    #[test]
    fn a_unit_at_the_end_holds_for_both_numbers() {
        let sight = |sight: &str| {
            let (house, _) = Quick { sight: sight.into(), ..quick() }.house()?;
            Ok::<_, String>([house.sashes[0].sight.width, house.sashes[0].sight.height])
        };
        // Closed form: 10 mm a centimetre, 25.4 mm an inch.
        for (text, size) in [
            ("56x78cm", [560.0, 780.0]),
            ("56 x 78 cm", [560.0, 780.0]),
            ("60x80in", [1524.0, 2032.0]),
            ("22 1/2x30 in", [571.5, 762.0]),
            ("22½×30″", [571.5, 762.0]),
            ("120x150mm", [120.0, 150.0]),
            ("56cm x 30 in", [560.0, 762.0]),
            ("540x900", [540.0, 900.0]),
        ] {
            assert_eq!(sight(text), Ok(size), "{text}");
        }
        let rebate = Quick { rebate: "0.9x1.7cm".into(), ..quick() }.house().unwrap();
        let old = rebate.0.sashes[0].members.top.old;
        assert_eq!((old.width(), old.depth()), (9.0, 17.0));
        assert_eq!(
            sight("56cmx78").unwrap_err(),
            "--sight: the second number of 56cmx78 has no unit. Write 56cm x 78cm"
        );
        let rebate = Quick { rebate: "3/8x5/8".into(), ..quick() }.house().unwrap_err();
        assert_eq!(rebate, "--rebate: 3/8x5/8 of what? Write 3/8in x 5/8in");
    }

    #[test]
    fn what_is_more_often_a_slip_is_asked_about_first_and_a_unit_settles_it() {
        let asked = |words: &Quick| words.house().unwrap_err();
        let small = Quick { sight: "56x78".into(), ..quick() };
        assert_eq!(
            asked(&small),
            "--sight: 56 x 78 mm is very small for a daylight. In centimetres? Write 56x78cm. If it is right, \
             write 56x78mm."
        );
        let swapped = Quick { rebate: "17x9".into(), ..quick() };
        assert!(asked(&swapped).ends_with("Swapped? Write 9x17. If it is right, write 17x9mm."));
        let deep = Quick { rebate: "9x24".into(), ..quick() };
        assert!(asked(&deep).contains("deeper than half the sash (45 mm thick)"));
        let thin = Quick { thickness: "28".into(), rebate: "9x12".into(), ..quick() };
        assert!(asked(&thin).contains("whole thickness"));
        // What the question says to write is then taken.
        for settled in [
            Quick { sight: "56x78mm".into(), ..quick() },
            Quick { sight: "56x78cm".into(), ..quick() },
            Quick { rebate: "9x17".into(), ..quick() },
            Quick { rebate: "17x9mm".into(), ..quick() },
            Quick { rebate: "9x24mm".into(), ..quick() },
            Quick { thickness: "28mm".into(), rebate: "9x12".into(), ..quick() },
        ] {
            assert!(settled.house().is_ok(), "{settled:?}: {}", asked(&settled));
        }
    }

    proptest! {
        // However a pair is written, its two numbers are read in one unit or not at all.
        #[test]
        fn two_numbers_never_get_two_units(
            first in 20_u32..90, second in 20_u32..90, unit in 0_usize..5, blank in "( )?",
        ) {
            let unit = ["cm", "in", "\"", "mm", ""][unit];
            let words = Quick { sight: format!("{first}x{second}{blank}{unit}"), ..quick() };
            if let Ok((house, _)) = words.house() {
                let size = house.sashes[0].sight;
                let ratio = f64::from(first) / f64::from(second);
                prop_assert!((size.width / size.height - ratio).abs() < 1e-9);
            }
        }

        #[test]
        fn no_words_break_out_of_their_place(text in "\\PC{0,12}") {
            let odd = Quick { thickness: text.clone(), moulding: text.clone(), unit: Some(text), ..quick() };
            if let Ok((house, _)) = odd.house() {
                prop_assert_eq!(house.sashes.len(), 1);
            }
        }
    }
}
