//! A list of the house as CSV (RFC 4180): a header, then the lines of sash after sash.

use super::SheetError;
use super::kit::Voice;
use std::io;

/// What the column of inches beside one of millimetres is called; none where it holds other things.
fn inch_name(name: &str) -> Option<String> {
    let words: Vec<&str> = name.split(' ').collect();
    let inches = words.iter().map(|word| if *word == "mm" { "in" } else { word });
    words.contains(&"mm").then(|| inches.collect::<Vec<_>>().join(" "))
}

/// A list that is being written. Where inches are asked for, every column of millimetres has one of inches after all
/// others.
pub struct List<W: io::Write> {
    out: csv::Writer<W>,
    /// Columns of millimetres.
    lengths: Vec<usize>,
    voice: Voice,
}

impl<W: io::Write> List<W> {
    /// Begins it with the names of its columns, each told by its key.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn new<const N: usize>(
        out: W,
        columns: [&str; N],
        voice: Voice,
    ) -> Result<Self, SheetError> {
        let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(out);
        let columns = columns.map(|key| voice.word(key));
        let is_length = |at: &usize| columns.get(*at).is_some_and(|name| inch_name(name).is_some());
        let lengths = if voice.in_inches("").is_some() {
            (0..N).filter(is_length).collect()
        } else {
            Vec::new()
        };
        let more = lengths.iter().filter_map(|at| inch_name(columns.get(*at)?));
        out.write_record(columns.iter().cloned().chain(more))?;
        Ok(List { out, lengths, voice })
    }

    /// Adds lines.
    ///
    /// # Errors
    /// Where one cannot be written.
    pub fn add<const N: usize>(&mut self, lines: &[[String; N]]) -> Result<(), SheetError> {
        let inches = |cells: &[String], at: usize| self.voice.in_inches(cells.get(at)?);
        for line in lines {
            let more = self.lengths.iter().filter_map(|at| inches(line, *at));
            let said = line.iter().enumerate().map(|(at, cell)| match at {
                // A name is as it is in the survey.
                0 => cell.clone(),
                _ => self.voice.said(cell),
            });
            self.out.write_record(said.chain(more))?;
        }
        Ok(())
    }

    /// Ends it, and gives back what it was written to.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn finish(self) -> Result<W, SheetError> {
        Ok(self.out.into_inner().map_err(|error| csv::Error::from(error.into_error()))?)
    }
}
