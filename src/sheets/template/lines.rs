//! Every line of a sash that is traced onto the wood, at true size, seen from the glazing face.

use crate::drawing::{Item, Layer, Scene};
use crate::geometry::{COINCIDENT, Edge, Side, fillet};
use crate::hand::Straightedges;
use crate::sheets::kit::cross;
use crate::sheets::layers::{APERTURE, CHISEL, METAL, SCREWS, STRAIGHTEDGE};
use crate::sheets::{SheetError, Subject};
use crate::survey::ScrewFrom;
use kurbo::Rect;

/// Half the length of the strokes that mark a point, mm.
const CROSS: f64 = 3.0;

/// The lines as one scene, without a word in it.
///
/// # Errors
/// Where an outline has no area.
pub fn lines(subject: &Subject<'_>) -> Result<Scene, SheetError> {
    let mut scene =
        crate::sheets::outlines(subject.sash, subject.fit, subject.rebate, subject.voice())?;
    guides(subject, &mut scene);
    chisel_corners(subject, &mut scene);
    metal(subject, &mut scene);
    screws(subject, &mut scene);
    Ok(scene)
}

fn guides(subject: &Subject<'_>, scene: &mut Scene) {
    let Some(Straightedges { offset, .. }) = subject.materials.straightedges else {
        let apertures = subject.materials.template.iter().flat_map(|template| &template.apertures);
        scene.add_all(&APERTURE, apertures.cloned().map(Item::Outline));
        return;
    };
    for unit in &subject.fit.units {
        let wall = &unit.outlines.wall;
        if wall.is_rectangle() {
            let fence = unit.wall().inflate(offset, offset);
            let sides = Side::ALL.map(|side| Item::Edge(side_of(fence, side)));
            scene.add_all(&STRAIGHTEDGE, sides);
            continue;
        }
        // A base cannot follow a curve by a straightedge.
        let straight = wall.edges().filter(|(edge, _)| matches!(edge, Edge::Line(_)));
        let fences = straight.filter_map(|(edge, _)| edge.shifted(offset));
        scene.add_all(&STRAIGHTEDGE, fences.map(Item::Edge));
    }
}

fn side_of(rect: Rect, side: Side) -> Edge {
    let [a, b] = match side {
        Side::Left => [(rect.x0, rect.y0), (rect.x0, rect.y1)],
        Side::Right => [(rect.x1, rect.y0), (rect.x1, rect.y1)],
        Side::Bottom => [(rect.x0, rect.y0), (rect.x1, rect.y0)],
        Side::Top => [(rect.x0, rect.y1), (rect.x1, rect.y1)],
    };
    Edge::line(a.into(), b.into())
}

/// The fillet that the cutter leaves in each corner that must be square.
fn chisel_corners(subject: &Subject<'_>, scene: &mut Scene) {
    let radius = subject.workshop.cutter.radius();
    for pocket in &subject.rebate.pockets {
        let edges = pocket.wall.edges();
        for corner in pocket.corners.iter().filter(|corner| corner.chisel) {
            let meets = |out: &&Edge| (out.start() - corner.at).hypot() <= COINCIDENT;
            let out = edges.iter().find(meets);
            let into = edges.iter().find(|edge| (edge.end() - corner.at).hypot() <= COINCIDENT);
            let Some(arc) = into.zip(out).and_then(|(into, out)| fillet(into, out, radius)) else {
                // A cross where the cutter does not touch both walls.
                scene.add_all(&CHISEL, cross(corner.at, CROSS).map(Item::Edge));
                continue;
            };
            scene.add(&CHISEL, Item::Edge(Edge::Arc(arc)));
            let to_arc = arc.centre + radius * (corner.at - arc.centre).normalize();
            scene.add(&CHISEL, Item::Edge(Edge::line(corner.at, to_arc)));
        }
    }
}

fn metal(subject: &Subject<'_>, scene: &mut Scene) {
    for metal in &subject.sash.measured.metal {
        // Metal may be told as a bare point.
        if metal.radius > COINCIDENT {
            scene.add(&METAL, Item::Edge(Edge::circle(metal.at, metal.radius)));
        }
        // A cross stands for metal that is still there.
        if !metal.cleared {
            scene.add_all(&METAL, cross(metal.at, metal.radius.max(CROSS)).map(Item::Edge));
        }
    }
}

fn screws(subject: &Subject<'_>, scene: &mut Scene) {
    for screw in &subject.sash.measured.screws {
        let Some([from, to]) = subject.sash.screw_axis(screw) else { continue };
        if matches!(screw.from, ScrewFrom::OuterEdge { .. }) {
            scene.add(&SCREWS, Item::Edge(Edge::line(from, to)));
        } else {
            scene.add_all(&SCREWS, cross(from, CROSS).map(Item::Edge));
        }
    }
}

/// Every edge of the layers that are `wanted`, for asking where it runs.
pub(super) fn edges(scene: &Scene, wanted: impl Fn(&Layer) -> bool) -> Vec<Edge> {
    scene
        .layers()
        .filter(|(layer, _)| wanted(layer))
        .flat_map(|(_, items)| edges_of(items))
        .collect()
}

/// The edges of lines and outlines.
pub(super) fn edges_of(items: &[Item]) -> impl Iterator<Item = Edge> {
    items.iter().flat_map(|item| match item {
        Item::Edge(edge) => vec![*edge],
        Item::Outline(outline) => outline.edges().to_vec(),
        _ => Vec::new(),
    })
}
