//! A list of the house as CSV (RFC 4180): a header, then the lines of sash after sash.

use super::SheetError;
use std::io;

/// A list that is being written.
pub struct List<W: io::Write>(csv::Writer<W>);

impl<W: io::Write> List<W> {
    /// Begins it with the names of its columns.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn new<const N: usize>(out: W, columns: [&str; N]) -> Result<Self, SheetError> {
        let mut out = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(out);
        out.write_record(columns)?;
        Ok(List(out))
    }

    /// Adds lines.
    ///
    /// # Errors
    /// Where one cannot be written.
    pub fn add<const N: usize>(&mut self, lines: &[[String; N]]) -> Result<(), SheetError> {
        for line in lines {
            self.0.write_record(line)?;
        }
        Ok(())
    }

    /// Ends it, and gives back what it was written to.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn finish(self) -> Result<W, SheetError> {
        Ok(self.0.into_inner().map_err(|error| csv::Error::from(error.into_error()))?)
    }
}
