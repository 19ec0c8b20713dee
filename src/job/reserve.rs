//! What the prover is told of the sash beside its wood: surfaces, seats, clamps and metal, as plain
//! values.

use super::work::Work;
use crate::geometry::{COINCIDENT, Outline, Region, ShapeError, Side};
use crate::prove::{Across, Front, Reserve, Seat};
use crate::sash::{Part, PlacedBar, Profile, Sash, Solid};
use crate::survey::{BarsAs, Limits, Runs};
use kurbo::{PathEl, Rect};

/// How far chords may lie from a moulding, mm.
const CHORD: f64 = 0.001;

/// Surfaces and seats of a sash.
pub fn reserve(work: &Work, limits: &Limits) -> Reserve {
    let sash = &work.sash;
    let members = Side::ALL.into_iter().filter_map(|side| member(sash, side, limits));
    let bars = sash.bars.iter().filter_map(|placed| bar(sash, placed, limits));
    // A shaped or turned unit counts as the rectangle around it, in the rectangle around its wall.
    let seats = work.fit.units.iter().map(|unit| Seat {
        light: unit.light.clone(),
        unit: unit.unit(),
        bed: sash.measured.finish.bed,
    });
    Reserve { fronts: members.chain(bars).collect(), seats: seats.collect() }
}

/// A stile or rail. Where it is crooked or curved, the moulding is taken to run along the innermost place
/// of its sight edge, so that no less wood is left than told.
fn member(sash: &Sash, side: Side, limits: &Limits) -> Option<Front> {
    let part = Part::Member(side);
    let Body { area, sight_edge, straight } = body(sash, side)?;
    let heights = heights(sash, part);
    let surface = match side {
        Side::Left | Side::Bottom => falling(sight_edge, &heights),
        Side::Right | Side::Top => rising(sight_edge, &heights),
    };
    Some(Front {
        name: sash.part_name(part),
        area,
        across: if side.is_upright() { Across::X } else { Across::Y },
        surface,
        least: limits.front_stop.value,
        lowest: None,
        outer: straight.then(|| (side, limits.beside_stop.value + in_the_edge(sash, side))),
    })
}

/// What a groove takes of the wood at the outer edge of a member, mm, however deep in the edge it lies.
fn in_the_edge(sash: &Sash, side: Side) -> f64 {
    sash.cord_groove(side).map_or(0.0, |groove| groove.depth)
}

/// Where a member lies.
struct Body {
    /// From sight edge to outer edge.
    area: Rect,
    /// X or Y of the innermost place of the sight edge.
    sight_edge: f64,
    /// Whether both edges run straight and square.
    straight: bool,
}

/// The place of a member; none where the daylight has no edge on that side. In a rectangle stiles run
/// through the corners, as the tenons do.
fn body(sash: &Sash, side: Side) -> Option<Body> {
    let (near, far) = (sash.outline.bounds_on(side)?, sash.outer_outline.bounds_on(side)?);
    let thin = |bounds: Rect| bounds.width().min(bounds.height()) <= COINCIDENT;
    let straight = thin(near) && thin(far);
    let (outer, sight) = (sash.outer, sash.sight);
    let area = match side {
        _ if !sash.outline.is_rectangle() => near.union(far),
        Side::Left => Rect::new(outer.x0, outer.y0, sight.x0, outer.y1),
        Side::Right => Rect::new(sight.x1, outer.y0, outer.x1, outer.y1),
        Side::Bottom => Rect::new(sight.x0, outer.y0, sight.x1, sight.y0),
        Side::Top => Rect::new(sight.x0, sight.y1, sight.x1, outer.y1),
    };
    let sight_edge = match side {
        Side::Left => near.x1,
        Side::Right => near.x0,
        Side::Bottom => near.y1,
        Side::Top => near.y0,
    };
    Some(Body { area, sight_edge, straight })
}

/// The rectangle around what is seen of a bar.
fn bounds(sash: &Sash, placed: &PlacedBar) -> Option<Rect> {
    let strip = placed.strip(placed.measured.width).ok()?;
    let area = strip.bounds().intersect(sash.sight);
    (area.area() > 0.0).then_some(area)
}

/// A glazing bar, with its moulding on both sides. One that is cut down must keep its height. Where it
/// slants or bends, its room face is taken to lie as high all over the rectangle around it as its moulding
/// is anywhere, so that no less wood is left than told.
fn bar(sash: &Sash, placed: &PlacedBar, limits: &Limits) -> Option<Front> {
    let bar = &placed.measured;
    let part = Part::Bar(placed);
    let cut_down = sash.measured.bars_as == BarsAs::OneUnit;
    let lowest = cut_down.then_some(limits.bar_stop.value - bar.thickness);
    if !placed.is_square() {
        let (area, across) = (bounds(sash, placed)?, Across::X);
        let highest = sash.section_of(part).1.greatest_height(0.0, bar.width / 2.0);
        let surface = [area.x0, area.x1].map(|x| [x, highest - bar.thickness]).to_vec();
        let (name, least) = (sash.part_name(part), limits.front_stop.value);
        return Some(Front { name, area, across, surface, least, lowest, outer: None });
    }
    let (low, high) = (bar.centre - bar.width / 2.0, bar.centre + bar.width / 2.0);
    let (area, across) = match bar.runs {
        Runs::Upright => (Rect::new(low, sash.sight.y0, high, sash.sight.y1), Across::X),
        Runs::Cross => (Rect::new(sash.sight.x0, low, sash.sight.x1, high), Across::Y),
    };
    let heights = heights(sash, part);
    let mut surface = rising(low, &heights);
    surface.extend(falling(high, &heights));
    Some(Front {
        name: sash.part_name(part),
        area,
        across,
        surface,
        least: limits.front_stop.value,
        lowest,
        outer: None,
    })
}

/// The moulding as pairs of distance from the sight edge and Z.
fn heights(sash: &Sash, part: Part) -> Vec<[f64; 2]> {
    let (thickness, profile): (f64, Profile) = sash.section_of(part);
    let mut heights = Vec::new();
    kurbo::flatten(profile.path(), CHORD, |element| {
        if let PathEl::MoveTo(to) | PathEl::LineTo(to) = element {
            heights.push([to.x, to.y - thickness]);
        }
    });
    heights
}

/// Towards larger places from `edge`.
fn rising(edge: f64, heights: &[[f64; 2]]) -> Vec<[f64; 2]> {
    heights.iter().map(|&[from, z]| [edge + from, z]).collect()
}

/// Towards smaller places from `edge`, put in rising order.
fn falling(edge: f64, heights: &[[f64; 2]]) -> Vec<[f64; 2]> {
    heights.iter().rev().map(|&[from, z]| [edge - from, z]).collect()
}

/// Clamps of the bed, and metal and screws that have not been drawn. How far down they reach does not matter.
pub(super) fn obstacles(sash: &Sash) -> Result<Vec<Solid>, ShapeError> {
    let mut solids = Vec::new();
    for clamp in &sash.measured.clamps {
        solids.push(Solid {
            name: clamp.name.text(),
            region: Region::solid(Outline::rectangle(clamp.place())?),
            top: clamp.height,
            bottom: (-sash.measured.thickness().most).min(clamp.height) - 1.0,
        });
    }
    solids.extend(sash.undrawn().cloned());
    Ok(solids)
}
