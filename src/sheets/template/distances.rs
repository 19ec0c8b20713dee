//! How far each line lies from the sight edge: what a straight side is drawn by between two tiles.

use super::looks;
use super::tiles::Tiling;
use crate::drawing::{Item, Scene};
use crate::fit::UnitFit;
use crate::geometry::{Edge, MinMax, Side};
use crate::number::NotFinite;
use crate::sash::Part;
use crate::sheets::Subject;
use crate::sheets::kit::{Column, Flow, Table, min_max, mm};
use kurbo::Point;

/// Room for the heading, the head of the table and some rows, mm.
const WITH_TABLE: f64 = 45.0;

/// Sides of lights that are alike, in one row.
struct Row {
    lights: Vec<String>,
    sides: Vec<Side>,
    cells: Vec<String>,
}

pub(super) fn table(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    flow.heading_over("Distances from the sight edge", WITH_TABLE);
    let mut columns = vec![
        Column::words("light and side", 2.6),
        Column::numbers("old rebate, mm", 1.0),
        Column::numbers("edge of the unit, mm", 1.0),
        Column::numbers("new rebate, mm", 1.0),
    ];
    if subject.materials.template.is_some() && subject.materials.by_bush {
        columns.push(Column::numbers("cut the plate, mm", 1.0));
        columns.push(Column::numbers("edge of the plate, mm", 1.0));
    }
    columns.push(Column::numbers("outer edge of the sash, mm", 1.2));
    let mut table = Table::new(columns);
    let mut rows: Vec<Row> = Vec::new();
    for unit in &subject.fit.units {
        let mut own: Vec<Row> = Vec::new();
        for side in Side::ALL {
            let cells = cells(subject, unit, side)?;
            match own.iter_mut().find(|row| row.cells == cells) {
                Some(row) => row.sides.push(side),
                None => {
                    own.push(Row { lights: vec![unit.light.clone()], sides: vec![side], cells });
                }
            }
        }
        for row in own {
            match rows.iter_mut().find(|known| known.sides == row.sides && known.cells == row.cells)
            {
                Some(known) => known.lights.extend(row.lights),
                None => rows.push(row),
            }
        }
    }
    for row in rows {
        let sides: Vec<String> = row.sides.iter().map(Side::to_string).collect();
        let mut line = vec![format!("{}: {}", row.lights.join(", "), sides.join(", "))];
        line.extend(row.cells);
        table.rows.push(line);
    }
    table.lay(flow);
    Ok(())
}

/// Holes, metal and screws that no tile shows, by their places.
pub(super) fn points(flow: &mut Flow, scene: &Scene, tiling: &Tiling) -> Result<(), NotFinite> {
    let shown = |at: Point| tiling.tiles.iter().any(|tile| tile.window.contains(at));
    let middle = |item: &Item| match item {
        Item::Edge(Edge::Arc(arc)) => Some(arc.centre),
        Item::Edge(edge) => Some(edge.at(0.5)),
        _ => None,
    };
    for (layer, items) in scene.layers().filter(|(layer, _)| looks::is_points(layer)) {
        let mut places: Vec<String> = Vec::new();
        for at in items.iter().filter_map(middle).filter(|at| !shown(*at)) {
            let place = format!("X {} mm, Y {} mm", mm(at.x)?, mm(at.y)?);
            if !places.contains(&place) {
                places.push(place);
            }
        }
        if !places.is_empty() {
            let words = looks::words(layer);
            flow.paragraph(&format!(
                "On no tile, from the lower left corner of the sight, {words}: {}.",
                places.join("; ")
            ));
        }
    }
    Ok(())
}

fn cells(subject: &Subject<'_>, unit: &UnitFit, side: Side) -> Result<Vec<String>, NotFinite> {
    let (part, old) = subject.sash.neighbour(&unit.outlines.sight, side);
    let wall = *unit.rebate_width.get(side);
    let mut cells = vec![mm(old.width())?, min_max(*unit.cover.get(side))?, min_max(wall)?];
    let member = match part {
        Part::Member(side) => Some(side),
        Part::Bar(_) => None,
    };
    let dash = || Ok("–".to_owned());
    if let Some(template) =
        subject.materials.template.as_ref().filter(|_| subject.materials.by_bush)
    {
        let [least, most] = [wall.least, wall.most].map(|wall| wall + template.offset);
        cells.push(min_max(MinMax { least, most })?);
        let (plate, sight) = (template.plate.rect(), unit.sight());
        let beyond = match side {
            Side::Left => sight.x0 - plate.x0,
            Side::Right => plate.x1 - sight.x1,
            Side::Bottom => sight.y0 - plate.y0,
            Side::Top => plate.y1 - sight.y1,
        };
        cells.push(if member.is_some() { mm(beyond)? } else { dash()? });
    }
    let outer = member.map(|side| mm(subject.sash.measured.members.get(side).width));
    cells.push(outer.unwrap_or_else(dash)?);
    Ok(cells)
}
