//! A cutter that follows the wood with a bearing: which one gives which width, and where it can run.

use super::{WITH_TABLE, together};
use crate::hand::bearing::{Face, Faces, SMALLEST};
use crate::language::Text;
use crate::number::NotFinite;
use crate::report::SashReport;
use crate::sheets::Subject;
use crate::sheets::kit::{
    Column, Flow, OfSide, Table, Voice, by_sides, in_a_row, min_max, mm, tell,
};

pub(super) fn table(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<(), NotFinite> {
    let cutter = &subject.workshop.cutter;
    let voice = flow.voice();
    flow.heading_over(&voice.word("workshop-bearing"), WITH_TABLE);
    let how = tell!(voice, "workshop-bearing-how", least = mm(SMALLEST)?);
    let given = match subject.workshop.router.bearing.zip(report.bearing_width) {
        None => String::new(),
        Some((bearing, given)) => tell!(
            voice,
            "workshop-bearing-given",
            diameter = mm(bearing.diameter)?,
            cutter = mm(cutter.diameter)?,
            width = mm(given)?
        ),
    };
    flow.paragraph(&in_a_row([how, given]));
    let mut table = Table::new(vec![
        Column::words(&voice.word("workshop-light-side"), 2.2),
        Column::numbers(&voice.word("workshop-new-width"), 1.1),
        Column::words(&voice.word("workshop-on-sight-edge"), 2.3),
        Column::words(&voice.word("workshop-below-cut"), 2.0),
        Column::words(&voice.word("workshop-on-old-wall"), 2.3),
        Column::numbers(&voice.word("workshop-old-wall"), 1.0),
    ]);
    let lines = report.bearing_faces.iter();
    let lines = lines.map(|faces| Ok((faces.light.as_str(), faces.side, cells(faces, voice)?)));
    let lines = lines.collect::<Result<Vec<OfSide>, NotFinite>>()?;
    table.rows = by_sides(&lines, voice, |lights| together(subject, lights));
    table.lay(flow);
    Ok(())
}

fn cells(faces: &Faces, voice: Voice) -> Result<Vec<String>, NotFinite> {
    let edge = &faces.sight_edge;
    let below = if edge.height > 0.0 { mm(edge.height)? } else { voice.word("workshop-none") };
    let below = match edge.in_the_way.as_slice() {
        [] => below,
        found => tell!(voice, "workshop-in-the-way", below, what = voice.say(&Text::listed(found))),
    };
    let (on_wall, wall) = match &faces.old_wall {
        Some(face) => (which(face, voice)?, mm(face.height)?),
        None => (voice.word("workshop-none-groove"), "–".to_owned()),
    };
    Ok(vec![min_max(faces.width, voice)?, which(edge, voice)?, below, on_wall, wall])
}

/// The bearing for this cutter, or else the cutter that it would take.
fn which(face: &Face, voice: Voice) -> Result<String, NotFinite> {
    if mm(face.behind.least)? != mm(face.behind.most)? {
        return Ok(voice.word("workshop-none-tapers"));
    }
    Ok(match (face.bearing, face.least_cutter) {
        (Some(bearing), _) => tell!(voice, "workshop-bearing-fits", bearing = mm(bearing)?),
        (None, Some(least)) => tell!(voice, "workshop-bearing-wants", cutter = mm(least)?),
        (None, None) => voice.word("workshop-nothing-to-cut"),
    })
}
