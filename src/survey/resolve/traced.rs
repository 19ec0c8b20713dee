//! Daylights that were traced: drawings that the survey names, read beside it.
//!
//! Promised: a drawing that cannot be had, or is no single closed outline, is a mistake at the key that
//! names it, with the line of the drawing. Not promised: anything about where drawings lie; whoever
//! reads the survey says how to open them.

use crate::geometry::Sided;
use crate::survey::file::{FileTable, SightTable};
use crate::survey::reader::Reader;
use crate::survey::traced::{Reading, traced};

/// Opens and reads every drawing that the file names.
pub(in crate::survey) fn read_all(
    file: &FileTable,
    open: &dyn Fn(&str) -> Result<Vec<u8>, String>,
    reader: &mut Reader,
) {
    let sashes = file.sash.iter().flat_map(|sashes| &sashes.value);
    for table in sashes.filter_map(|sash| sash.sight.as_ref()) {
        let Some(name) = &table.traced else { continue };
        // Read some other way than was meant, it would seem to have faults that it has not.
        if ["layer", "drawn_in"]
            .iter()
            .any(|key| reader.was_refused(&format!("{}.{key}", table.place.key)))
        {
            continue;
        }
        let reading = Reading {
            layer: table.layer.as_ref().map(|layer| layer.value.clone()),
            unit: table.drawn_in.as_ref().map(|unit| unit.value),
        };
        let outline = open(name).and_then(|bytes| {
            traced(&bytes, &reading).map_err(|error| format!("{}, {error}", name.value))
        });
        reader.keep_traced(&name.place, outline);
    }
}

/// The outline of a table that names a drawing; `None` where the reader has noted why not.
pub(super) fn outline(table: &SightTable, reader: &mut Reader) -> Option<Sided> {
    let name = table.traced.as_ref()?;
    match reader.traced(&name.place)? {
        Ok(outline) => Some(outline),
        Err(why) => {
            let expected = "the name of a text DXF file, from the survey's folder on, in which one \
                            closed outline of lines and arcs is drawn";
            reader.contradict(&name.place, expected.to_owned(), &why);
            None
        }
    }
}

/// What belongs to a drawing is out of place without one.
pub(super) fn refuse_without(table: &SightTable, reader: &mut Reader) {
    let layer = table.layer.as_ref().map(|seen| &seen.place);
    let unit = table.drawn_in.as_ref().map(|seen| &seen.place);
    for place in [layer, unit].into_iter().flatten() {
        let expected = "`traced`, the drawing to which this belongs";
        reader.contradict(place, expected.to_owned(), "");
    }
}
