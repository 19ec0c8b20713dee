//! What is cut across: wood, glass, and what lies between.

use super::{outlines, solids};
use crate::drawing::{Hatch, Item, Layer, Scene};
use crate::geometry::{Edge, Outline, Region};
use crate::section::{Glazing, TOLERANCE};
use crate::sheets::SheetError;
use crate::sheets::layers;
use kurbo::{Point, Rect, Vec2};

/// Wood that stays, hatched, and the edges that are seen.
pub(super) fn wood(scene: &mut Scene, left: &[Outline], edges: &[Outline]) {
    for outline in left {
        let region = Region::solid(outline.clone());
        scene.add(&layers::HATCHING, Item::Hatch(region, Hatch::Timber));
    }
    scene.add_all(&layers::TIMBER, edges.iter().cloned().map(Item::Outline));
}

/// Wood that goes, hatched the other way.
pub(super) fn removed(scene: &mut Scene, outlines: &[Outline]) {
    for outline in outlines {
        filled_with(scene, &layers::NEW_REBATE, Region::solid(outline.clone()), Hatch::Removed);
    }
}

/// The new surfaces, and where the old ones were.
pub(super) fn change(scene: &mut Scene, before: &[Outline], after: &[Outline]) {
    for (own, other, layer) in
        [(after, before, layers::NEW_REBATE), (before, after, layers::OLD_REBATE)]
    {
        let edges = own.iter().flat_map(Outline::edges);
        scene.add_all(&layer, edges.flat_map(|edge| pieces_off(edge, other)).map(Item::Edge));
    }
}

/// The pieces of a straight edge that run along none of the outlines.
fn pieces_off(edge: &Edge, outlines: &[Outline]) -> Vec<Edge> {
    let on = |point: Point| outlines.iter().any(|o| o.distance_to(point) <= TOLERANCE);
    let (from, to) = (edge.start(), edge.end());
    // Where two chords of like outlines part, one of them has a corner or they cross.
    let mut cuts = vec![from, to];
    for outline in outlines {
        cuts.extend(outline.corners().filter(|&corner| edge.distance_to(corner) <= TOLERANCE));
        cuts.extend(outline.edges().iter().flat_map(|other| edge.crossings(other)));
    }
    cuts.sort_by(|a, b| (*a - from).hypot2().total_cmp(&(*b - from).hypot2()));
    cuts.windows(2)
        .filter_map(|pair| match pair {
            &[a, b] if (b - a).hypot() > TOLERANCE && !on(a.midpoint(b)) => Some(Edge::line(a, b)),
            _ => None,
        })
        .collect()
}

fn filled_with(scene: &mut Scene, layer: &Layer, region: Region, hatch: Hatch) {
    scene.add(layer, Item::Hatch(region.clone(), hatch));
    scene.add(layer, Item::Region(region));
}

/// Unit, bed, tape, beads and blocks. `wood` bounds the wood: glass that reaches out of it goes on.
pub(super) fn glazing(
    scene: &mut Scene,
    glazing: &Glazing,
    wood: Rect,
    shift: Vec2,
) -> Result<(), SheetError> {
    for region in solids(&glazing.bed, shift)? {
        filled_with(scene, &layers::BEAD, region, Hatch::Bed);
    }
    for region in solids(&glazing.tape, shift)? {
        filled_with(scene, &layers::BEAD, region, Hatch::Bed);
    }
    for region in solids(&glazing.filled_beside_blocks(), shift)? {
        filled_with(scene, &layers::BEAD, region, Hatch::Bed);
    }
    for outline in outlines(&glazing.putty, shift)? {
        filled_with(scene, &layers::BEAD, Region::solid(outline), Hatch::Putty);
    }
    for outline in outlines(&glazing.beads, shift)? {
        filled_with(scene, &layers::BEAD, Region::solid(outline), Hatch::Bead);
    }
    for region in solids(&glazing.drains, shift)? {
        filled_with(scene, &layers::BEAD, region, Hatch::Open);
    }
    for region in solids(&glazing.blocks, shift)? {
        filled_with(scene, &layers::BLOCKS, region, Hatch::Block);
    }
    for region in solids(&glazing.spacers, shift)? {
        filled_with(scene, &layers::UNIT, region, Hatch::Spacer);
    }
    for region in solids(&glazing.panes, shift)? {
        let pane = region.outline.bounds();
        scene.add(&layers::UNIT, Item::Hatch(region, Hatch::Glass));
        scene.add_all(&layers::UNIT, ends_open(pane, wood).into_iter().map(Item::Edge));
    }
    Ok(())
}

/// The edges of a pane, less the ends beyond the wood.
fn ends_open(pane: Rect, wood: Rect) -> Vec<Edge> {
    let corner = |x: f64, y: f64| Point::new(x, y);
    let mut edges = vec![
        Edge::line(corner(pane.x0, pane.y0), corner(pane.x1, pane.y0)),
        Edge::line(corner(pane.x0, pane.y1), corner(pane.x1, pane.y1)),
    ];
    for x in [pane.x0, pane.x1] {
        if (wood.x0..=wood.x1).contains(&x) {
            edges.push(Edge::line(corner(x, pane.y0), corner(x, pane.y1)));
        }
    }
    edges
}

/// Sight edges, a little longer than the wood is thick.
pub(super) fn sight(scene: &mut Scene, sight: &[f64], wood: Rect, shift: Vec2) {
    for x in sight {
        let x = x + shift.x;
        let edge = Edge::line(Point::new(x, wood.y0 - 3.0), Point::new(x, wood.y1 + 3.0));
        scene.add(&layers::SIGHT_EDGE, Item::Edge(edge));
    }
}
