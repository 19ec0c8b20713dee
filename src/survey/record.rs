//! From the text of what is done to a record, or to every mistake in it.

use super::file::done::{DoneFile, DoneTable};
use super::values::{AsCut, DeliveredUnit, Done, OrderedUnit, Record, WHOLE_SASH};
use crate::input::{self, Diagnostics, FileKind, Optional, Reader, Spanned};
use kurbo::Size;
use std::collections::BTreeMap;

/// Largest such file, bytes.
pub const MOST_RECORD_BYTES: usize = 1 << 24;

/// Name of the file, beside the survey.
pub const RECORD: &str = "done.toml";

const DONE: FileKind = FileKind::plain("record of what is done", MOST_RECORD_BYTES);

/// Reads what is done. `name` is the file's name for the diagnostics; the disk is never touched.
///
/// ```
/// # let text = r#"
/// [[sash]]
/// id        = "hall-1"
/// ordered   = [{ on = "12 May", width = 644, height = 854, build_up = "4-6-4" }] # and light = …, if it has several
/// cut       = { on = "20 May", depth = 27.2, width = 648, height = 860 }   # measured, if it was: from wall to wall
/// delivered = [{ width = 645, height = 854, thickness = 14.5 }]            # the unit that came, if it was measured
/// glazed    = { on = "2 June" }
/// # "#;
/// let record = fillister::survey::read_record(text.as_bytes(), "done.toml")?;
/// assert_eq!(record.of("hall-1").unwrap().ordered[0].size.width, 644.0);
/// # Ok::<(), fillister::survey::Diagnostics>(())
/// ```
///
/// # Errors
/// Every mistake in the text at once.
pub fn read_record(bytes: &[u8], name: &str) -> Result<Record, Diagnostics> {
    let text = input::utf8(bytes, name, &DONE)?;
    input::read::<DoneFile, Record>(text, name, &DONE, None, |file, reader| {
        let tables = file.sash.as_ref()?;
        once_each(tables, reader);
        Some(Record { sashes: tables.iter().filter_map(|table| done(table)).collect() })
    })
}

/// What is done at a sash stands in one place, or one of two would be forgotten.
fn once_each(tables: &[Spanned<Box<DoneTable>>], reader: &mut Reader<'_>) {
    let mut first = BTreeMap::new();
    for table in tables {
        let Some(id) = &table.id else { continue };
        let house = table.house.as_ref().map(|house| house.as_str());
        if let Some(other) = first.insert((house, id.as_str()), &id.place) {
            let hint =
                format!("{} has it already: write on there", other.key.trim_end_matches(".id"));
            reader.contradict(&id.place, "each sash once".to_owned(), &hint);
        }
    }
}

fn done(table: &DoneTable) -> Option<Done> {
    let light = |light: &Option<Spanned<String>>| light.value_or(WHOLE_SASH.to_owned());
    let ordered = table.ordered.iter().flat_map(|units| units.iter()).filter_map(|unit| {
        Some(OrderedUnit {
            light: light(&unit.light),
            on: unit.on.value()?,
            size: Size::new(unit.width.value()?, unit.height.value()?),
            build_up: unit.build_up.value(),
        })
    });
    let delivered =
        table.delivered.iter().flat_map(|units| units.iter()).map(|unit| DeliveredUnit {
            light: light(&unit.light),
            width: unit.width.value(),
            height: unit.height.value(),
            thickness: unit.thickness.value(),
        });
    let cut = table.cut.as_ref().and_then(|cut| {
        Some(AsCut {
            on: cut.on.value()?,
            depth: cut.depth.value(),
            width: cut.width.value(),
            height: cut.height.value(),
        })
    });
    Some(Done {
        id: table.id.value()?,
        house: table.house.value(),
        ordered: ordered.collect(),
        cut,
        delivered: delivered.collect(),
        glazed: table.glazed.as_ref().and_then(|glazed| glazed.on.value()),
    })
}
