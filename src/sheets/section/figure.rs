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
    let regions = outlines.iter().cloned().map(Region::solid);
    filled_with(scene, &layers::NEW_REBATE, regions, Hatch::Removed);
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

fn filled_with(
    scene: &mut Scene,
    layer: &Layer,
    regions: impl IntoIterator<Item = Region>,
    hatch: Hatch,
) {
    for region in regions {
        scene.add_all(layer, [Item::Hatch(region.clone(), hatch), Item::Region(region)]);
    }
}

/// Unit, bed, tape, beads and blocks. `wood` bounds the wood: glass that reaches out of it goes on.
pub(super) fn glazing(
    scene: &mut Scene,
    glazing: &Glazing,
    wood: Rect,
    shift: Vec2,
) -> Result<(), SheetError> {
    let filled = glazing.filled_beside_blocks();
    for rects in [&glazing.bed, &glazing.tape, &filled] {
        filled_with(scene, &layers::BEAD, solids(rects, shift)?, Hatch::Bed);
    }
    for (paths, hatch) in [(&glazing.putty, Hatch::Putty), (&glazing.beads, Hatch::Bead)] {
        let regions = outlines(paths, shift)?.into_iter().map(Region::solid);
        filled_with(scene, &layers::BEAD, regions, hatch);
    }
    for (rects, layer, hatch) in [
        (&glazing.drains, layers::BEAD, Hatch::Open),
        (&glazing.blocks, layers::BLOCKS, Hatch::Block),
        (&glazing.spacers, layers::UNIT, Hatch::Spacer),
    ] {
        filled_with(scene, &layer, solids(rects, shift)?, hatch);
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
