//! The table of what a straight side is drawn by between two tiles.

use super::looks;
use super::tiles::Tiling;
use crate::drawing::{Item, Scene};
use crate::geometry::{Edge, Side};
use crate::hand::Distances;
use crate::number::NotFinite;
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
    for all in subject.materials.distances.chunk_by(|a, b| a.light == b.light) {
        let mut own: Vec<Row> = Vec::new();
        for line in all {
            let cells = cells(line)?;
            match own.iter_mut().find(|row| row.cells == cells) {
                Some(row) => row.sides.push(line.side),
                None => {
                    own.push(Row {
                        lights: vec![line.light.clone()],
                        sides: vec![line.side],
                        cells,
                    });
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

fn cells(line: &Distances) -> Result<Vec<String>, NotFinite> {
    let or_dash = |at: Option<f64>| at.map_or_else(|| Ok("–".to_owned()), mm);
    let mut cells = vec![mm(line.old)?, min_max(line.unit)?, min_max(line.wall)?];
    if let Some(aperture) = line.aperture {
        cells.extend([min_max(aperture)?, or_dash(line.plate)?]);
    }
    cells.push(or_dash(line.outer)?);
    Ok(cells)
}
