//! A sash from a handful of words, for the answer on site before there is a file.
//!
//! Promised: the words are read by the very reader of the survey, so that they may carry units and every
//! slip is reported; everything that was not asked stands at a default and is named. Not promised: that a
//! sash with so few measures is this sash; tenons, metal and the rest are for the file.

use super::read::read;
use super::values::House;
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
    /// Every slip in the words, each with the option it stands in.
    pub fn house(&self) -> Result<(House, Vec<String>), String> {
        let text = self.survey()?;
        let house = read(&text, "options").map_err(|mistakes| {
            let report = mistakes.iter().map(|one| {
                let found = one.found.as_deref().unwrap_or("nothing");
                let mut report =
                    format!("{}: found {found}, expected {}", option(&one.key), one.expected);
                if let Some(hint) = &one.hint {
                    let _ = write!(report, " ({hint})");
                }
                report
            });
            report.collect::<Vec<_>>().join("\n")
        })?;
        Ok((house, self.assumed()))
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

    fn assumed(&self) -> Vec<String> {
        let mut assumed = Vec::new();
        if self.kind.is_none() {
            assumed.push("side-hung".to_owned());
        }
        if self.face.is_none() {
            assumed.push(format!("stiles and rails {FACE} mm wide"));
        }
        if self.unit.is_none() {
            assumed.push(format!("the unit to fit {UNIT}"));
        }
        assumed.push("no bars, no metal or screws in the way".to_owned());
        assumed.push("softwood of no known kind, tenons in the middle third".to_owned());
        assumed.push(
            "cover 12, gaps 2 and 4 at the bottom, bed 2, bead 10 mm, and every other setting at its default \
             (fillister schema survey)"
                .to_owned(),
        );
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

/// Two values with an `x` between them.
fn pair(option: &str, text: &str, example: &str) -> Result<[String; 2], String> {
    let parts: Vec<&str> = text.split(['x', 'X', '×']).collect();
    match parts.as_slice() {
        [first, second] => Ok([value(first), value(second)]),
        _ => Err(format!("{option}: found {text}, expected two lengths such as {example}")),
    }
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
        assert!(assumed.iter().any(|one| one.contains("50 mm wide")));
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
        assert!(!assumed.iter().any(|one| one.contains("wide")));
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

    proptest! {
        #[test]
        fn no_words_break_out_of_their_place(text in "\\PC{0,12}") {
            let odd = Quick { thickness: text.clone(), moulding: text.clone(), unit: Some(text), ..quick() };
            if let Ok((house, _)) = odd.house() {
                prop_assert_eq!(house.sashes.len(), 1);
            }
        }
    }
}
