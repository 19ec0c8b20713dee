//! A record to begin with: what may be ordered, as it would stand in the file of what is done.

use super::kit::mm;
use crate::number::NotFinite;
use crate::report::Report;
use std::fmt::Write;

/// A record of every unit of `report` that may be ordered, as if it had been ordered on the day `on`.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn record(report: &Report, on: &str) -> Result<String, NotFinite> {
    let mut text = String::from(
        "# What is done at each sash; see `fillister done --help`. Take out what is not ordered yet, and write on:\n\
         # cut = { on = \"20 May\", depth = 27.2, width = 648, height = 861 }: measured after, from wall to wall\n\
         # delivered = [{ width = 645, height = 854, thickness = 14.5 }]: the unit that came, if it was measured\n\
         # glazed = { on = \"2 June\" }\n",
    );
    let quoted = |words: &str| toml::Value::from(words).to_string();
    for sash in report.sashes.iter().filter(|sash| sash.answers.may_be_ordered()) {
        // Writing to text cannot fail.
        let _ = writeln!(text, "\n[[sash]]\nid = {}\nordered = [", quoted(&sash.id));
        for unit in &sash.units {
            let light = if sash.units.len() == 1 {
                String::new()
            } else {
                format!("light = {}, ", quoted(&unit.light))
            };
            let [width, height] = [mm(unit.order.width)?, mm(unit.order.height)?];
            let (on, build_up) = (quoted(on), quoted(&unit.build_up));
            let _ = writeln!(
                text,
                "    {{ on = {on}, {light}width = {width}, height = {height}, build_up = {build_up} }},"
            );
        }
        text.push_str("]\n");
    }
    Ok(text)
}
