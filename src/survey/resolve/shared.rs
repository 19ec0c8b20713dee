//! Settings of the workshop that several surveys share, in a file of their own.

use super::sight::Open;
use super::workshop::workshop;
use crate::input::{self, Diagnostics, FileKind, Fill, Reader, Spanned, standing_at};
use crate::survey::file::workshop::WorkshopTable;
use crate::survey::values::Workshop;

/// Largest such file, bytes.
const MOST_BYTES: usize = 1 << 19;

/// A file of the workshop, beside its tables.
const WORKSHOP: FileKind = FileKind::plain("file of the workshop", MOST_BYTES);

/// The settings of `own` and for the rest those of the file that is named, if one is. Mistakes in that file are its
/// own: they go to `elsewhere`.
pub(super) fn settings(
    own: WorkshopTable,
    named: Option<&Spanned<String>>,
    open: &Open<'_>,
    elsewhere: &mut Option<Diagnostics>,
    reader: &mut Reader<'_>,
) -> WorkshopTable {
    let Some(named) = named else { return own };
    let bytes = match open(named) {
        Ok(bytes) => bytes,
        Err(why) => {
            let expected = "a file with the settings of the workshop".to_owned();
            reader.contradict(&named.place, expected, &why);
            return own;
        }
    };
    match read(&bytes, named, open) {
        Err(mistakes) => {
            *elsewhere = Some(mistakes);
            own
        }
        Ok(text) => standing_at::<WorkshopTable>(text, &named.place, reader)
            .map_or(own.clone(), |shared| over(own, &shared)),
    }
}

/// The text of the file, if there is no mistake in it.
fn read<'b>(bytes: &'b [u8], name: &str, open: &Open<'_>) -> Result<&'b str, Diagnostics> {
    let text = input::utf8(bytes, name, &WORKSHOP)?;
    let checked = |table: &Spanned<Box<WorkshopTable>>,
                   reader: &mut Reader<'_>|
     -> Option<Workshop> { Some(workshop(table, open, reader)) };
    input::read::<WorkshopTable, Workshop>(text, name, &WORKSHOP, None, checked)?;
    Ok(text)
}

fn over(own: WorkshopTable, shared: &WorkshopTable) -> WorkshopTable {
    WorkshopTable {
        cutter: own.cutter.fill(&shared.cutter),
        router: own.router.fill(&shared.router),
        printer: own.printer.fill(&shared.printer),
        machine: own.machine.fill(&shared.machine),
        cutting: own.cutting.fill(&shared.cutting),
        allowances: own.allowances.fill(&shared.allowances),
        candidates: own.candidates.fill(&shared.candidates),
        limits: own.limits.fill(&shared.limits),
    }
}
