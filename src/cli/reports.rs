//! Reports of houses as JSON, sash by sash: of a street no more than a few sashes are held in memory.

use super::outcome::{Failure, Status, defect, worst};
use super::output::{cannot_print, escaped};
use crate::finding::Verdict;
use crate::job;
use crate::language::Text;
use crate::report::{Report, json};
use crate::survey::{House, Record};
use std::io::{self, BufWriter, Seek, Write};

/// A report that has no sashes yet, at their place: no text within it holds a line's end.
const NONE_YET: &str = "\n  \"sashes\": []";

/// A house that is asked about.
pub(super) struct Asked {
    pub(super) house: House,
    /// What is done at it.
    pub(super) record: Record,
    /// What was taken for granted.
    pub(super) assumed: Vec<Text>,
}

/// One report as it is, several in a list.
pub(super) fn print_reports(houses: Vec<Asked>, out: &mut dyn Write) -> Result<Status, Failure> {
    let mut out = BufWriter::new(out);
    let several = houses.len() > 1;
    let mut verdicts = Vec::new();
    for (number, asked) in houses.into_iter().enumerate() {
        let before = match (several, number) {
            (false, _) => "",
            (true, 0) => "[\n",
            (true, _) => ",\n",
        };
        out.write_all(before.as_bytes()).map_err(cannot_print)?;
        verdicts.push(print_report(asked, if several { "  " } else { "" }, &mut out)?);
    }
    let after = if several { "\n]\n" } else { "\n" };
    out.write_all(after.as_bytes()).and_then(|()| out.flush()).map_err(cannot_print)?;
    Ok(worst(verdicts))
}

/// The report of one house behind `margin`. Its verdict stands before its sashes and is known after them, so they wait
/// in a file without a name.
fn print_report(
    Asked { house, record, assumed }: Asked,
    margin: &str,
    out: &mut impl Write,
) -> Result<Verdict, Failure> {
    let cannot_wait = |error: io::Error| Failure::Output(format!("a temporary file: {error}"));
    let mut waiting = BufWriter::new(tempfile::tempfile().map_err(cannot_wait)?);
    let (deeper, mut any) = (format!("{margin}    "), false);
    let report = job::check_in_turn(
        &house,
        &record,
        |sash| json(&sash).map(|text| behind(&deeper, &escaped(text))),
        |text| {
            let before = if any { ",\n" } else { "" };
            any = true;
            write!(waiting, "{before}{deeper}{}", text.map_err(defect)?).map_err(cannot_wait)
        },
    )?;
    let report = Report { assumed, ..report };
    let text = behind(margin, &escaped(json(&report).map_err(defect)?));
    let none_yet = behind(margin, NONE_YET);
    let Some((before, after)) = text.split_once(&none_yet).filter(|_| any) else {
        return write!(out, "{margin}{text}").map_err(cannot_print).map(|()| report.verdict);
    };
    let mut waiting = waiting.into_inner().map_err(|error| cannot_wait(error.into_error()))?;
    waiting.rewind().map_err(cannot_wait)?;
    write!(out, "{margin}{before}\n{margin}  \"sashes\": [\n").map_err(cannot_print)?;
    io::copy(&mut waiting, out).map_err(cannot_print)?;
    write!(out, "\n{margin}  ]{after}").map_err(cannot_print)?;
    Ok(report.verdict)
}

/// `text` with `margin` before every line but the first.
fn behind(margin: &str, text: &str) -> String {
    text.replace('\n', &format!("\n{margin}"))
}
