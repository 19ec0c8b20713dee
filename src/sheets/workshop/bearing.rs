//! A cutter that follows the wood with a bearing: which one gives which width, and where it can run.

use super::{WITH_TABLE, together};
use crate::geometry::Side;
use crate::hand::bearing::{Face, Faces, SMALLEST};
use crate::number::NotFinite;
use crate::report::SashReport;
use crate::sheets::Subject;
use crate::sheets::kit::{Column, Flow, Table, min_max, mm};

/// Sides of lights that are alike, in one row.
struct Row {
    lights: Vec<String>,
    sides: Vec<Side>,
    cells: [String; 5],
}

pub(super) fn table(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<(), NotFinite> {
    let cutter = &subject.workshop.cutter;
    let voice = flow.voice();
    let word = |key: &str| voice.tell(key, []);
    flow.heading_over(&word("workshop-bearing"), WITH_TABLE);
    let mut words = format!(
        "A bearing under the tip keeps the cutter half the difference of their diameters behind the wood it \
         runs on. On the sight edge it gives the whole width at once; on the old wall, below a shallow pass, \
         what is to be widened, but for the height of the bearing at the bottom. A bearing is {} mm at the \
         least, so each width wants a cutter of a certain size. Look and feel along the wood first.",
        mm(SMALLEST)?
    );
    if let Some((bearing, given)) = subject.workshop.router.bearing.zip(report.bearing_width) {
        words = format!(
            "{words} The one in the survey, {} mm under a cutter of {}, gives {} mm.",
            mm(bearing.diameter)?,
            mm(cutter.diameter)?,
            mm(given)?
        );
    }
    flow.paragraph(&words);
    let mut table = Table::new(vec![
        Column::words(&word("workshop-light-side"), 2.2),
        Column::numbers(&word("workshop-new-width"), 1.1),
        Column::words(&word("workshop-on-sight-edge"), 2.3),
        Column::words(&word("workshop-below-cut"), 2.0),
        Column::words(&word("workshop-on-old-wall"), 2.3),
        Column::numbers(&word("workshop-old-wall"), 1.0),
    ]);
    for row in rows(report)? {
        let sides: Vec<String> = row.sides.iter().map(Side::to_string).collect();
        let lights = together(subject, &row.lights);
        let mut cells = vec![format!("{lights}: {}", sides.join(", "))];
        cells.extend(row.cells);
        table.rows.push(cells);
    }
    table.lay(flow);
    Ok(())
}

fn rows(report: &SashReport) -> Result<Vec<Row>, NotFinite> {
    let mut rows: Vec<Row> = Vec::new();
    for faces in &report.bearing_faces {
        let (lights, cells) = (vec![faces.light.clone()], cells(faces)?);
        match rows.iter_mut().find(|row| row.lights == lights && row.cells == cells) {
            Some(row) => row.sides.push(faces.side),
            None => rows.push(Row { lights, sides: vec![faces.side], cells }),
        }
    }
    // Lights whose sides are alike share a row.
    let mut merged: Vec<Row> = Vec::new();
    for row in rows {
        match merged.iter_mut().find(|known| known.sides == row.sides && known.cells == row.cells) {
            Some(known) => known.lights.extend(row.lights),
            None => merged.push(row),
        }
    }
    Ok(merged)
}

fn cells(faces: &Faces) -> Result<[String; 5], NotFinite> {
    let edge = &faces.sight_edge;
    let below = if edge.height > 0.0 { mm(edge.height)? } else { "none".to_owned() };
    let below = match edge.in_the_way.as_slice() {
        [] => below,
        found => format!("{below}, but {} in the way", found.join(", ")),
    };
    let (on_wall, wall) = match &faces.old_wall {
        Some(face) => (which(face)?, mm(face.height)?),
        None => ("none: a groove".to_owned(), "–".to_owned()),
    };
    Ok([min_max(faces.width)?, which(edge)?, below, on_wall, wall])
}

/// The bearing for this cutter, or else the cutter that it would take.
fn which(face: &Face) -> Result<String, NotFinite> {
    if mm(face.behind.least)? != mm(face.behind.most)? {
        return Ok("none: a bearing keeps one width, and this side tapers".into());
    }
    Ok(match (face.bearing, face.least_cutter) {
        (Some(bearing), _) => format!("{} under this cutter", mm(bearing)?),
        (None, Some(least)) => format!("none; wants a cutter of {} or more", mm(least)?),
        (None, None) => "nothing to cut".into(),
    })
}
