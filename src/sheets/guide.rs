//! What guides the hand router, in words and numbers, and the template for a guide bush as a drawing.

use super::kit::{Column, Flow, Table, Voice, hundredths, mm, tell};
use super::layers::{APERTURE, BOARDS, HOLES, NEW_REBATE, PLATE, SIGHT, TIMBER, WORDS};
use super::outlines::timber_and_sight;
use super::{SheetError, Subject};
use crate::drawing::{Item, Scene, Text};
use crate::geometry::{Edge, Outline, OutlineError, Sided};
use crate::hand::{Straightedges, Template};
use crate::number::{NotFinite, decimal};
use kurbo::Point;

/// Diameter of a screw hole in a template, mm. Common practice, no source.
const HOLE: f64 = 4.5;
/// Height of words in the drawing, mm.
const HEIGHT: f64 = 7.0;

/// The plate with its apertures and holes, true to size; none where the cutter does not pass the bush.
///
/// # Errors
/// Where an outline has no area, or a number is not finite.
pub fn drawing(subject: &Subject<'_>) -> Result<Option<Scene>, SheetError> {
    let Some(template) = &subject.materials.template else { return Ok(None) };
    let voice = subject.voice();
    let title = tell!(voice, "guide-drawing", sash = subject.id());
    let layers = [PLATE, APERTURE, HOLES, TIMBER, SIGHT, NEW_REBATE, WORDS];
    let mut scene = Scene::new(title, voice.word("seen-from-face"), &layers);
    let edge = template.plate.rect();
    timber_and_sight(subject.sash, &mut scene)?;
    for (aperture, pocket) in template.apertures.iter().zip(&subject.rebate.pockets) {
        scene.add(&APERTURE, Item::Outline(aperture.clone()));
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
    }
    plate(subject, &mut scene)?;
    scene.add_all(&BOARDS, shaped_boards(subject).into_iter().map(Item::Outline));
    let mut y = edge.y0 - 3.0 * HEIGHT;
    for note in notes(subject, template)? {
        let at = Point::new(edge.x0, y);
        scene.add(&WORDS, Item::Text(Text::new(note, at, HEIGHT)));
        y -= 2.0 * HEIGHT;
    }
    scene.add_caption(&WORDS, HEIGHT);
    Ok(Some(scene))
}

/// Draws the edge of the plate and its holes, where there is one.
pub(super) fn plate(subject: &Subject<'_>, scene: &mut Scene) -> Result<(), OutlineError> {
    let Some(template) = &subject.materials.template else { return Ok(()) };
    scene.add(&PLATE, Item::Outline(Outline::rectangle(template.plate.rect())?));
    for &[x, y] in &template.screws {
        scene.add(&HOLES, Item::Edge(Edge::circle(Point::new(x, y), HOLE / 2.0)));
    }
    Ok(())
}

/// Boards that are cut to the shape of a light, where they lie.
fn shaped_boards(subject: &Subject<'_>) -> Vec<Outline> {
    let shaped = |outline: &Outline| !Sided::by_direction(outline.clone()).is_rectangle();
    let all = subject.materials.boards.iter().flat_map(|board| &board.at);
    all.filter(|outline| shaped(outline)).cloned().collect()
}

/// What stands beside the drawing, and on paper.
fn notes(subject: &Subject<'_>, template: &Template) -> Result<Vec<String>, NotFinite> {
    let (router, cutter) = (&subject.workshop.router, &subject.workshop.cutter);
    let voice = subject.voice();
    let mut notes = vec![
        tell!(
            voice,
            "guide-bush",
            bush = hundredths(router.guide_bush)?,
            cutter = hundredths(cutter.diameter)?,
            offset = hundredths(template.offset)?
        ),
        tell!(
            voice,
            "guide-corners",
            radius = hundredths(template.corner_radius)?,
            cutter = hundredths(cutter.radius())?
        ),
        tell!(
            voice,
            "guide-plate",
            width = decimal(template.plate.width, 0)?,
            height = decimal(template.plate.height, 0)?,
            thickness = hundredths(template.plate.thickness)?
        ),
        if template.serves_both {
            voice.word("guide-serves-both")
        } else {
            voice.word("guide-second-template")
        },
        bearing(template, subject.workshop.limits.plate_bearing_caution.value, voice)?,
    ];
    notes.push(match template.screws.len() {
        0 => voice.word("guide-no-screws"),
        count => tell!(voice, "guide-screws", count, diameter = hundredths(HOLE)?),
    });
    Ok(notes)
}

/// `narrow` is the width below which a piece of plate bends under the bush, mm.
fn bearing(template: &Template, narrow: f64, voice: Voice) -> Result<String, NotFinite> {
    let width = mm(template.bearing)?;
    let at = voice.named(&template.bearing_at);
    Ok(if template.bearing <= 0.0 {
        tell!(voice, "guide-apertures-meet", at)
    } else if template.bearing < narrow {
        tell!(voice, "guide-narrow", width, at)
    } else {
        tell!(voice, "guide-bearing", width, at)
    })
}

/// Says in a sheet what guides the router and what carries it.
///
/// # Errors
/// Where a number is not finite.
pub fn tell(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    if let Some(found) = &subject.materials.straightedges {
        return beside_walls(flow, subject, found);
    }
    let voice = flow.voice();
    flow.heading(&voice.word("guide-template"));
    let Some(template) = &subject.materials.template else {
        flow.entry("!", &voice.word("guide-no-template"));
        return Ok(());
    };
    for note in notes(subject, template)? {
        flow.entry("–", &note);
    }
    Ok(())
}

fn beside_walls(
    flow: &mut Flow,
    subject: &Subject<'_>,
    found: &Straightedges,
) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading(&voice.word("guide-straightedges"));
    flow.paragraph(&tell!(
        voice,
        "guide-base",
        base = mm(subject.workshop.router.base_diameter)?,
        cutter = mm(subject.workshop.cutter.diameter)?,
        offset = hundredths(found.offset)?
    ));
    let mut table = Table::new(vec![
        Column::words(&voice.word("guide-light"), 2.0),
        Column::words(&voice.word("workshop-side"), 1.2),
        Column::numbers(&voice.word("guide-distance"), 2.0),
        Column::words(&voice.word("guide-lies-on"), 2.4),
        Column::words(&voice.word("sheet-measured"), 1.4),
    ]);
    for wall in &found.walls {
        let (distance, on) = match wall.place {
            None => (voice.word("guide-curved"), voice.word("guide-on-template")),
            Some(place) => (
                place
                    .from_sight_edge
                    .map_or_else(|| Ok(String::new()), |ends| taper(ends, voice))?,
                voice.word(if place.on_sash { "guide-on-sash" } else { "guide-on-board" }),
            ),
        };
        table.rows.push(vec![
            voice.named(&wall.light),
            voice.named(&wall.side.to_string()),
            distance,
            on,
            String::new(),
        ]);
    }
    table.lay(flow);
    if found.walls.iter().any(|wall| wall.place.is_none()) {
        flow.paragraph(&voice.word("guide-straight-only"));
    }
    Ok(())
}

/// One distance, or both where it changes along the side.
fn taper([from, to]: [f64; 2], voice: Voice) -> Result<String, NotFinite> {
    let (from, to) = (mm(from)?, mm(to)?);
    Ok(if from == to { from } else { tell!(voice, "guide-taper", from, to) })
}
