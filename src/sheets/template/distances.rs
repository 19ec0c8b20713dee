//! The table of what a straight side is drawn by between two tiles.

use super::looks;
use super::tiles::Tiling;
use crate::drawing::{Item, Scene};
use crate::geometry::Edge;
use crate::hand::Distances;
use crate::number::NotFinite;
use crate::sheets::Subject;
use crate::sheets::kit::{
    Column, Flow, OfSide, Table, Voice, by_sides, min_max, mm, or_dash, tell,
};
use kurbo::Point;

/// Room for the heading, the head of the table and some rows, mm.
const WITH_TABLE: f64 = 45.0;

pub(super) fn table(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("template-distances"), WITH_TABLE);
    let mut columns = vec![
        Column::words(&voice.word("template-light-side"), 2.6),
        Column::numbers(&voice.word("template-old-rebate"), 1.0),
        Column::numbers(&voice.word("template-edge-of-unit"), 1.0),
        Column::numbers(&voice.word("template-new-rebate"), 1.0),
    ];
    if subject.materials.template.is_some() && subject.materials.by_bush {
        columns.push(Column::numbers(&voice.word("template-cut"), 1.0));
        columns.push(Column::numbers(&voice.word("template-edge-of-plate"), 1.0));
    }
    columns.push(Column::numbers(&voice.word("template-outer-edge"), 1.2));
    let mut table = Table::new(columns);
    let lines = subject.materials.distances.iter();
    let lines = lines.map(|line| Ok((line.light.as_str(), line.side, cells(line, voice)?)));
    let lines = lines.collect::<Result<Vec<OfSide>, NotFinite>>()?;
    table.rows = by_sides(&lines, voice, |lights| voice.named(&lights.join(", ")));
    table.lay(flow);
    Ok(())
}

/// Holes, metal and screws that no tile shows, by their places.
pub(super) fn points(flow: &mut Flow, scene: &Scene, tiling: &Tiling) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let shown = |at: Point| tiling.tiles.iter().any(|tile| tile.window.contains(at));
    let middle = |item: &Item| match item {
        Item::Edge(Edge::Arc(arc)) => Some(arc.centre),
        Item::Edge(edge) => Some(edge.at(0.5)),
        _ => None,
    };
    for (layer, items) in scene.layers().filter(|(layer, _)| looks::is_points(layer)) {
        let mut places: Vec<String> = Vec::new();
        for at in items.iter().filter_map(middle).filter(|at| !shown(*at)) {
            let place = tell!(voice, "place-x-y", x = mm(at.x)?, y = mm(at.y)?);
            if !places.contains(&place) {
                places.push(place);
            }
        }
        if !places.is_empty() {
            let words = voice.word(looks::key(layer));
            flow.paragraph(&tell!(voice, "template-on-no-tile", words, places = places.join("; ")));
        }
    }
    Ok(())
}

fn cells(line: &Distances, voice: Voice) -> Result<Vec<String>, NotFinite> {
    let mut cells = vec![mm(line.old)?, min_max(line.unit, voice)?, min_max(line.wall, voice)?];
    if let Some(aperture) = line.aperture {
        cells.extend([min_max(aperture, voice)?, or_dash(line.plate)?]);
    }
    cells.push(or_dash(line.outer)?);
    Ok(cells)
}
