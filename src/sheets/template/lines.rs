//! Every line of a sash that is traced onto the wood, at true size, seen from the glazing face.

use crate::drawing::{Item, Layer, Scene};
use crate::geometry::{Arc, COINCIDENT, Edge, Outline, Side, fillet};
use crate::hand::straightedge_offset;
use crate::sheets::layers::{APERTURE, CHISEL, METAL, SCREWS, STRAIGHTEDGE};
use crate::sheets::{SheetError, Subject};
use crate::survey::ScrewFrom;
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;

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
    if subject.materials.by_bush {
        let apertures = subject.materials.template.iter().flat_map(|template| &template.apertures);
        for aperture in apertures {
            scene.add(&APERTURE, Item::Outline(aperture.clone()));
        }
        return;
    }
    let (router, cutter) = (&subject.workshop.router, &subject.workshop.cutter);
    let offset = straightedge_offset(router, cutter);
    for unit in &subject.fit.units {
        let wall = &unit.outlines.wall;
        if wall.is_rectangle() {
            let fence = unit.wall().inflate(offset, offset);
            for side in Side::ALL {
                scene.add(&STRAIGHTEDGE, Item::Edge(side_of(fence, side)));
            }
            continue;
        }
        // A base cannot follow a curve by a straightedge.
        let straight = wall.edges().filter(|(edge, _)| matches!(edge, Edge::Line(_)));
        for fence in straight.filter_map(|(edge, _)| edge.shifted(offset)) {
            scene.add(&STRAIGHTEDGE, Item::Edge(fence));
        }
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
                for edge in cross(corner.at, CROSS) {
                    scene.add(&CHISEL, Item::Edge(edge));
                }
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
        let circle = Arc { centre: metal.at, radius: metal.radius, start: 0.0, sweep: TAU };
        // Metal may be told as a bare point.
        if metal.radius > COINCIDENT {
            scene.add(&METAL, Item::Edge(Edge::Arc(circle)));
        }
        // A cross stands for metal that is still there.
        if !metal.cleared {
            for edge in cross(metal.at, metal.radius.max(CROSS)) {
                scene.add(&METAL, Item::Edge(edge));
            }
        }
    }
}

fn screws(subject: &Subject<'_>, scene: &mut Scene) {
    for screw in &subject.sash.measured.screws {
        let Some([from, to]) = subject.sash.screw_axis(screw) else { continue };
        if matches!(screw.from, ScrewFrom::OuterEdge { .. }) {
            scene.add(&SCREWS, Item::Edge(Edge::line(from, to)));
        } else {
            for edge in cross(from, CROSS) {
                scene.add(&SCREWS, Item::Edge(edge));
            }
        }
    }
}

fn cross(at: Point, reach: f64) -> [Edge; 2] {
    [Vec2::new(reach, 0.0), Vec2::new(0.0, reach)].map(|half| Edge::line(at - half, at + half))
}

/// Every edge of the layers that are `wanted`, for asking where it runs.
pub(super) fn edges(scene: &Scene, wanted: impl Fn(&Layer) -> bool) -> Vec<Edge> {
    let items = scene.layers().filter(|(layer, _)| wanted(layer)).flat_map(|(_, items)| items);
    items
        .flat_map(|item| match item {
            Item::Edge(edge) => vec![*edge],
            Item::Outline(outline) => Outline::edges(outline).to_vec(),
            _ => Vec::new(),
        })
        .collect()
}
