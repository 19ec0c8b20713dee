//! What guides the hand router, in words and numbers, and the template for a guide bush as a drawing.

use super::kit::{Column, Flow, Table};
use super::layers::{APERTURE, BOARDS, HOLES, NEW_REBATE, PLATE, SIGHT, TIMBER, WORDS};
use super::subject::Subject;
use crate::drawing::{Item, Scene, Text};
use crate::fit::UnitFit;
use crate::geometry::{Arc, Edge, Outline, OutlineError, Side, Sided};
use crate::hand::{Template, beyond_the_wood, straightedge_offset};
use crate::number::number;
use kurbo::{Point, Rect};
use std::f64::consts::TAU;

/// Diameter of a screw hole in a template, mm. Common practice, no source.
const HOLE: f64 = 4.5;
/// Height of words in the drawing, mm.
const HEIGHT: f64 = 7.0;

/// The plate with its apertures and holes, true to size; none where the cutter does not pass the bush.
///
/// # Errors
/// Where an outline has no area.
pub fn drawing(subject: &Subject<'_>) -> Result<Option<Scene>, OutlineError> {
    let Some(template) = &subject.materials.template else { return Ok(None) };
    let title = format!("sash {}, template for a guide bush", subject.id());
    let layers = [PLATE, APERTURE, HOLES, TIMBER, SIGHT, NEW_REBATE, WORDS];
    let mut scene = Scene::new(title, "seen from the glazing face", &layers);
    let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);
    let plate = template.plate.rect();
    scene.add(&PLATE, closed(plate)?);
    let sash = subject.sash;
    scene.add(&TIMBER, Item::Outline(sash.outer_outline.within(sash.outer)?));
    for light in &sash.lights {
        scene.add(&SIGHT, Item::Outline(light.outline.within(light.sight)?));
    }
    for (aperture, pocket) in template.apertures.iter().zip(&subject.rebate.pockets) {
        scene.add(&APERTURE, Item::Outline(aperture.clone()));
        scene.add(&NEW_REBATE, Item::Outline(pocket.wall.clone()));
    }
    for &[x, y] in &template.screws {
        let centre = Point::new(x, y);
        let hole = Arc { centre, radius: HOLE / 2.0, start: 0.0, sweep: TAU };
        scene.add(&HOLES, Item::Edge(Edge::Arc(hole)));
    }
    for board in shaped_boards(subject) {
        scene.add(&BOARDS, Item::Outline(board));
    }
    let mut y = plate.y0 - 3.0 * HEIGHT;
    for note in notes(subject, template) {
        let at = Point::new(plate.x0, y);
        scene.add(&WORDS, Item::Text(Text::new(note, at, HEIGHT)));
        y -= 2.0 * HEIGHT;
    }
    scene.add_caption(&WORDS, HEIGHT);
    Ok(Some(scene))
}

/// Boards that are cut to the shape of a light, where they lie.
fn shaped_boards(subject: &Subject<'_>) -> Vec<Outline> {
    let shaped = |outline: &Outline| !Sided::by_direction(outline.clone()).is_rectangle();
    let all = subject.materials.boards.iter().flat_map(|board| &board.at);
    all.filter(|outline| shaped(outline)).cloned().collect()
}

/// What stands beside the drawing, and on paper.
fn notes(subject: &Subject<'_>, template: &Template) -> Vec<String> {
    let (router, cutter) = (&subject.workshop.router, &subject.workshop.cutter);
    let mm = |value: f64| number(value, 2);
    let mut notes = vec![
        format!(
            "guide bush {} mm, cutter {} mm: the aperture lies {} mm outside the new rebate wall",
            mm(router.guide_bush),
            mm(cutter.diameter),
            mm(template.offset)
        ),
        format!(
            "inside corners of the aperture: radius {} mm at most; the cutter leaves {} mm",
            mm(template.corner_radius),
            mm(cutter.radius())
        ),
        format!(
            "plate {} by {} mm, {} mm thick; set the depth stop {} mm deeper for it",
            number(template.plate.width, 0),
            number(template.plate.height, 0),
            mm(template.plate.thickness),
            mm(template.plate.thickness)
        ),
        if template.serves_both {
            "the same template serves widening and deepening".to_owned()
        } else {
            "deepening has other walls than widening: cut a second template for it".to_owned()
        },
        bearing(template, subject.workshop.limits.plate_bearing_caution.value),
    ];
    notes.push(match template.screws.len() {
        0 => "no wood is wide enough for a screw beside the wall: clamp the plate, or screw it to boards \
              outside the sash"
            .to_owned(),
        count => format!(
            "{count} holes, {} mm, lie in wood that stays, clear of wall, metal and hardware; fill them \
             afterwards, or screw to boards outside the sash instead",
            mm(HOLE)
        ),
    });
    notes
}

/// `narrow` is the width below which a piece of plate bends under the bush, mm.
fn bearing(template: &Template, narrow: f64) -> String {
    let width = number(template.bearing, 1);
    let at = &template.bearing_at;
    if template.bearing <= 0.0 {
        format!(
            "the apertures run into each other {at}: cut and use a template for each light by itself"
        )
    } else if template.bearing < narrow {
        format!("only {width} mm of plate are left {at}: use a template for each light by itself")
    } else {
        format!("smallest width of plate for the bush to bear on: {width} mm, {at}")
    }
}

/// Says in a sheet what guides the router and what carries it.
pub fn tell(flow: &mut Flow, subject: &Subject<'_>) {
    if subject.materials.by_bush {
        flow.heading("Template for the guide bush");
        let found = &subject.materials.template;
        for note in found.iter().flat_map(|template| notes(subject, template)) {
            flow.entry("–", &note);
        }
        if found.is_none() {
            flow.entry(
                "!",
                "no template can run beside this wall: where the bush would go, its curve is tighter than the \
                 bush, or two of its edges meet. Take a smaller bush or cut to the line.",
            );
        }
    } else {
        straightedges(flow, subject);
    }
}

fn straightedges(flow: &mut Flow, subject: &Subject<'_>) {
    let (router, cutter) = (&subject.workshop.router, &subject.workshop.cutter);
    let offset = straightedge_offset(router, cutter);
    flow.heading("Straightedges for the router's base");
    flow.paragraph(&format!(
        "Base {} mm, cutter {} mm: the straightedge lies {} mm outside the new rebate wall. Keep the same \
         point of the base against it, in case the base is not round about the cutter.",
        number(router.base_diameter, 1),
        number(cutter.diameter, 1),
        number(offset, 2)
    ));
    let mut table = Table::new(vec![
        Column::words("light", 2.0),
        Column::words("side", 1.2),
        Column::numbers("sight edge to straightedge, mm", 2.0),
        Column::words("lies on", 2.4),
        Column::words("measured", 1.4),
    ]);
    let mut curved = false;
    for unit in &subject.fit.units {
        if !(unit.outlines.wall.is_rectangle() && unit.outlines.sight.is_rectangle()) {
            curved |= any_side(&mut table, subject, unit, offset);
            continue;
        }
        let beyond = beyond_the_wood(subject.sash, unit.wall, offset);
        for side in Side::ALL {
            let on = if beyond.contains(&side) { "a board outside the sash" } else { "the sash" };
            table.rows.push(vec![
                unit.light.clone(),
                side.to_string(),
                number(unit.rebate_width.get(side) + offset, 1),
                on.to_owned(),
                String::new(),
            ]);
        }
    }
    table.lay(flow);
    if curved {
        flow.paragraph(
            "A straightedge guides straight sides only. Curved sides need a template for the guide bush: set \
             the workshop to be guided by the bush, and template.dxf and the tiles show its aperture.",
        );
    }
}

/// Rows for a wall that is no rectangle, an edge a row; tells whether one of them is curved.
fn any_side(table: &mut Table, subject: &Subject<'_>, unit: &UnitFit, offset: f64) -> bool {
    let mut curved = false;
    let outer = subject.sash.outer_outline.outline();
    let sight = &unit.outlines.sight;
    for (wall, side) in unit.outlines.wall.edges() {
        let fence = wall.shifted(offset).filter(|_| matches!(wall, Edge::Line(_)));
        let (distance, on) = if let Some(fence) = fence {
            let own =
                sight.edges().filter(|(edge, own)| *own == side && matches!(edge, Edge::Line(_)));
            let middle = wall.at(0.5);
            let near = own
                .min_by(|(a, _), (b, _)| a.distance_to(middle).total_cmp(&b.distance_to(middle)));
            let ends = near.map(|(edge, _)| [0.0, 1.0].map(|t| square_to(edge.at(t), &fence)));
            let words = ends.map_or_else(String::new, |[from, to]| taper(from, to));
            let carried = [0.1, 0.5, 0.9].iter().all(|&t| outer.contains(fence.at(t)));
            (words, if carried { "the sash" } else { "a board outside the sash" })
        } else {
            curved = true;
            ("curved".to_owned(), "the template, not a straightedge")
        };
        table.rows.push(vec![
            unit.light.clone(),
            side.to_string(),
            distance,
            on.to_owned(),
            String::new(),
        ]);
    }
    curved
}

/// From a place square to the line of an edge, mm.
fn square_to(place: Point, edge: &Edge) -> f64 {
    edge.direction(0.0).cross(place - edge.start()).abs()
}

/// One distance, or both where it changes along the side.
fn taper(from: f64, to: f64) -> String {
    let (from, to) = (number(from, 1), number(to, 1));
    if from == to { from } else { format!("{from} to {to}, anticlockwise") }
}
