//! What guides the hand router, in words and numbers, and the template for a guide bush as a drawing.

use super::kit::{Column, Flow, Table, hundredths, mm};
use super::layers::{APERTURE, BOARDS, HOLES, NEW_REBATE, PLATE, SIGHT, TIMBER, WORDS};
use super::outlines::timber;
use super::{SheetError, Subject};
use crate::drawing::{Item, Scene, Text};
use crate::geometry::{Arc, Edge, Outline, OutlineError, Sided};
use crate::hand::{Straightedges, Template};
use crate::number::{NotFinite, decimal};
use kurbo::Point;
use std::f64::consts::TAU;

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
    let title = format!("sash {}, template for a guide bush", subject.id());
    let layers = [PLATE, APERTURE, HOLES, TIMBER, SIGHT, NEW_REBATE, WORDS];
    let mut scene = Scene::new(title, "seen from the glazing face", &layers);
    let edge = template.plate.rect();
    let sash = subject.sash;
    for outline in timber(sash)? {
        scene.add(&TIMBER, Item::Outline(outline));
    }
    for light in &sash.lights {
        scene.add(&SIGHT, Item::Outline(light.outline.within(light.sight)?));
    }
    for (aperture, pocket) in template.apertures.iter().zip(&subject.rebate.pockets) {
        scene.add(&APERTURE, Item::Outline(aperture.clone()));
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
    }
    plate(subject, &mut scene)?;
    for board in shaped_boards(subject) {
        scene.add(&BOARDS, Item::Outline(board));
    }
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
        let centre = Point::new(x, y);
        let hole = Arc { centre, radius: HOLE / 2.0, start: 0.0, sweep: TAU };
        scene.add(&HOLES, Item::Edge(Edge::Arc(hole)));
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
    let mut notes = vec![
        format!(
            "guide bush {} mm, cutter {} mm: the aperture lies {} mm outside the new rebate wall",
            hundredths(router.guide_bush)?,
            hundredths(cutter.diameter)?,
            hundredths(template.offset)?
        ),
        format!(
            "inside corners of the aperture: radius {} mm at most; the cutter leaves {} mm",
            hundredths(template.corner_radius)?,
            hundredths(cutter.radius())?
        ),
        format!(
            "plate {} by {} mm, {} mm thick; set the depth stop {} mm deeper for it",
            decimal(template.plate.width, 0)?,
            decimal(template.plate.height, 0)?,
            hundredths(template.plate.thickness)?,
            hundredths(template.plate.thickness)?
        ),
        if template.serves_both {
            "the same template serves widening and deepening".to_owned()
        } else {
            "deepening has other walls than widening: cut a second template for it".to_owned()
        },
        bearing(template, subject.workshop.limits.plate_bearing_caution.value)?,
    ];
    notes.push(match template.screws.len() {
        0 => "no wood is wide enough for a screw beside the wall: clamp the plate, or screw it to boards \
              outside the sash"
            .to_owned(),
        count => format!(
            "{count} holes, {} mm, lie in wood that stays, clear of wall, metal and hardware; fill them \
             afterwards, or screw to boards outside the sash instead",
            hundredths(HOLE)?
        ),
    });
    Ok(notes)
}

/// `narrow` is the width below which a piece of plate bends under the bush, mm.
fn bearing(template: &Template, narrow: f64) -> Result<String, NotFinite> {
    let width = mm(template.bearing)?;
    let at = &template.bearing_at;
    Ok(if template.bearing <= 0.0 {
        format!(
            "the apertures run into each other {at}: cut and use a template for each light by itself"
        )
    } else if template.bearing < narrow {
        format!("only {width} mm of plate are left {at}: use a template for each light by itself")
    } else {
        format!("smallest width of plate for the bush to bear on: {width} mm, {at}")
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
    flow.heading("Template for the guide bush");
    let Some(template) = &subject.materials.template else {
        flow.entry(
            "!",
            "no template can run beside this wall: where the bush would go, its curve is tighter than the \
             bush, or two of its edges meet. Take a smaller bush or cut to the line.",
        );
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
    flow.heading("Straightedges for the router's base");
    flow.paragraph(&format!(
        "Base {} mm, cutter {} mm: the straightedge lies {} mm outside the new rebate wall. Keep the same \
         point of the base against it, in case the base is not round about the cutter.",
        mm(subject.workshop.router.base_diameter)?,
        mm(subject.workshop.cutter.diameter)?,
        hundredths(found.offset)?
    ));
    let mut table = Table::new(vec![
        Column::words("light", 2.0),
        Column::words("side", 1.2),
        Column::numbers("sight edge to straightedge, mm", 2.0),
        Column::words("lies on", 2.4),
        Column::words("measured", 1.4),
    ]);
    for wall in &found.walls {
        let (distance, on) = match wall.place {
            None => ("curved".to_owned(), "the template, not a straightedge"),
            Some(place) => (
                place.from_sight_edge.map_or_else(|| Ok(String::new()), taper)?,
                if place.on_sash { "the sash" } else { "a board outside the sash" },
            ),
        };
        table.rows.push(vec![
            wall.light.clone(),
            wall.side.to_string(),
            distance,
            on.to_owned(),
            String::new(),
        ]);
    }
    table.lay(flow);
    if found.walls.iter().any(|wall| wall.place.is_none()) {
        flow.paragraph(
            "A straightedge guides straight sides only. Curved sides need a template for the guide bush: set \
             the workshop to be guided by the bush, and template.dxf and the tiles show its aperture.",
        );
    }
    Ok(())
}

/// One distance, or both where it changes along the side.
fn taper([from, to]: [f64; 2]) -> Result<String, NotFinite> {
    let (from, to) = (mm(from)?, mm(to)?);
    Ok(if from == to { from } else { format!("{from} to {to}, anticlockwise") })
}
