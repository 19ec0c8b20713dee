//! The template for a guide bush.
//!
//! A bush of diameter B that runs along the edge of an aperture keeps a cutter of diameter C a distance
//! (B − C)/2 inside it. An inside corner of the aperture of up to B/2 lets the bush go right into it,
//! and the cutter leaves its own fillet of C/2: an offset keeps the centre of an arc.
//!
//! Promised: every hole for a screw lies in wood that stays, clear of the wall. Not promised: that the
//! plate lies flat on an old sash; look along it.

use super::template_offset;
use crate::fit::Fit;
use crate::geometry::{Arc, Edge, Outline, OutlineError, PerSide, SAME, Side};
use crate::passes::{Bite, Plan, Stage};
use crate::sash::Sash;
use crate::survey::{Cutter, Router, ScrewFrom};
use kurbo::{Point, Rect};
use std::f64::consts::FRAC_PI_2;

/// Least distance from the axis of a template's screw to the wall, the outer edge and any metal, mm.
/// Common practice, no source.
const CLEAR_OF_SCREW: f64 = 8.0;

/// A template for a guide bush, lying on the glazing face.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// From the new wall out to the edge of the aperture, mm.
    pub offset: f64,
    /// Largest inside corner of the aperture that the bush still fills, mm: half the bush.
    pub corner_radius: f64,
    /// One aperture a pocket.
    pub apertures: Vec<Outline>,
    /// The plate, so large that the whole base bears on it outside the aperture.
    pub plate: Rect,
    /// Smallest width of plate left between two apertures, or between an aperture and the plate's edge,
    /// mm; not positive where apertures run into each other.
    pub bearing: f64,
    /// Where that is.
    pub bearing_at: String,
    /// Where to screw the plate down: in wood that stays.
    pub screws: Vec<Point>,
    /// Whether the same template serves widening and deepening: the walls are the same at both.
    pub serves_both: bool,
    /// Thickness of the plate, mm, by which the depth stop is set deeper.
    pub plate_thickness: f64,
}

/// The template for a sash; none where the cutter does not pass the bush.
///
/// # Errors
/// Where an aperture has no area.
pub fn template(
    sash: &Sash,
    fit: &Fit,
    plan: &Plan,
    router: &Router,
    cutter: &Cutter,
) -> Result<Option<Template>, OutlineError> {
    let Some(offset) = template_offset(router, cutter) else { return Ok(None) };
    let radius = router.guide_bush / 2.0;
    let rects: Vec<Rect> = fit.units.iter().map(|unit| unit.wall.inflate(offset, offset)).collect();
    let apertures = rects.iter().map(|rect| rounded(*rect, radius)).collect::<Result<_, _>>()?;
    let all = rects.iter().copied().reduce(|a, b| a.union(b)).unwrap_or_default();
    // With the bush against the edge the base reaches this far beyond it.
    let reach = (router.base_diameter / 2.0 - radius).max(0.0);
    let plate = all.union(sash.outer).union(all.inflate(reach, reach)).expand();
    let (bearing, bearing_at) = bearing(&rects, fit, plate);
    Ok(Some(Template {
        offset,
        corner_radius: radius,
        apertures,
        plate,
        bearing,
        bearing_at,
        screws: screws(sash, fit, offset),
        serves_both: serves_both(plan),
        plate_thickness: router.plate,
    }))
}

/// `rect` with inside corners of `radius`, at most half its shorter side.
///
/// # Errors
/// Where `rect` has no area.
pub fn rounded(rect: Rect, radius: f64) -> Result<Outline, OutlineError> {
    let r = radius.min(rect.width() / 2.0).min(rect.height() / 2.0);
    if r <= SAME {
        return Outline::rectangle(rect);
    }
    let inner = rect.inflate(-r, -r);
    let corners = [
        (Point::new(inner.x1, inner.y0), -FRAC_PI_2),
        (Point::new(inner.x1, inner.y1), 0.0),
        (Point::new(inner.x0, inner.y1), FRAC_PI_2),
        (Point::new(inner.x0, inner.y0), 2.0 * FRAC_PI_2),
    ];
    let arcs = corners
        .map(|(centre, start)| Edge::Arc(Arc { centre, radius: r, start, sweep: FRAC_PI_2 }));
    let mut edges = Vec::new();
    for (arc, before) in arcs.iter().zip(arcs.iter().cycle().skip(3)) {
        let straight = Edge::line(before.end(), arc.start());
        if straight.length() > SAME {
            edges.push(straight);
        }
        edges.push(*arc);
    }
    Outline::new(edges)
}

/// The narrowest piece of plate that the bush runs along, and where.
fn bearing(apertures: &[Rect], fit: &Fit, plate: Rect) -> (f64, String) {
    let mut least = (f64::INFINITY, String::from("all round"));
    let mut offer = |width: f64, place: String| {
        if width < least.0 {
            least = (width, place);
        }
    };
    for (index, (a, unit)) in apertures.iter().zip(&fit.units).enumerate() {
        let edge = (a.x0 - plate.x0).min(plate.x1 - a.x1).min(a.y0 - plate.y0).min(plate.y1 - a.y1);
        offer(edge, format!("{} to the plate's edge", unit.light));
        for (b, other) in apertures.iter().zip(&fit.units).skip(index + 1) {
            let across = (b.x0 - a.x1).max(a.x0 - b.x1);
            let up = (b.y0 - a.y1).max(a.y0 - b.y1);
            offer(across.max(up), format!("between {} and {}", unit.light, other.light));
        }
    }
    least
}

/// Whether every ring of a unit has the same walls while widening and deepening.
fn serves_both(plan: &Plan) -> bool {
    let rings = |stage: Stage| {
        plan.passes.iter().filter(move |pass| pass.stage == stage).filter_map(|pass| {
            if let Bite::Ring(ring) = &pass.bite { Some((ring.unit, ring.to)) } else { None }
        })
    };
    let same = |a: PerSide<f64>, b: PerSide<f64>| {
        Side::ALL.iter().all(|&side| (a.get(side) - b.get(side)).abs() <= SAME)
    };
    rings(Stage::Widen).all(|(unit, wide)| {
        rings(Stage::Deepen).filter(|(other, _)| *other == unit).all(|(_, deep)| same(wide, deep))
    })
}

/// Two screws a member, in the middle of the wood between aperture and outer edge, moved along where
/// there is metal; none where that wood is too narrow.
fn screws(sash: &Sash, fit: &Fit, offset: f64) -> Vec<Point> {
    let walls = fit.units.iter().map(|unit| unit.wall).reduce(|a, b| a.union(b));
    let Some(walls) = walls else { return Vec::new() };
    let outer = sash.outer;
    let mut found = Vec::new();
    for side in Side::ALL {
        let (wall, edge) = match side {
            Side::Left => (walls.x0, outer.x0),
            Side::Right => (walls.x1, outer.x1),
            Side::Bottom => (walls.y0, outer.y0),
            Side::Top => (walls.y1, outer.y1),
        };
        if (edge - wall).abs() < offset + 2.0 * CLEAR_OF_SCREW {
            continue;
        }
        let aside = f64::midpoint(wall + offset.copysign(edge - wall), edge);
        let (from, to) =
            if side.is_upright() { (walls.y0, walls.y1) } else { (walls.x0, walls.x1) };
        for share in [0.2, 0.8] {
            let place = |step: f64| {
                let along = from + share * (to - from) + step;
                if side.is_upright() { Point::new(aside, along) } else { Point::new(along, aside) }
            };
            let steps = [0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0];
            found.extend(steps.into_iter().map(place).find(|&at| free_of_metal(sash, at)));
        }
    }
    found
}

fn free_of_metal(sash: &Sash, at: Point) -> bool {
    let nails = sash.measured.metal.iter();
    nails.into_iter().all(|metal| (metal.at - at).hypot() > metal.radius + CLEAR_OF_SCREW)
        && sash.measured.screws.iter().all(|screw| {
            let upright = screw.member.is_upright();
            let (along, aside) = if upright { (at.y, at.x) } else { (at.x, at.y) };
            let edge = |rect: Rect| match screw.member {
                Side::Left => rect.x0,
                Side::Right => rect.x1,
                Side::Bottom => rect.y0,
                Side::Top => rect.y1,
            };
            let near = match screw.from {
                ScrewFrom::OuterEdge { .. } => {
                    (edge(sash.outer) - aside).abs() < screw.length + CLEAR_OF_SCREW
                }
                ScrewFrom::RoomFace { from_sight } => {
                    ((edge(sash.sight) - aside).abs() - from_sight).abs() < CLEAR_OF_SCREW
                }
            };
            !near || (along - screw.at).abs() > CLEAR_OF_SCREW
        })
}

/// Along which sides a straightedge for the base lies beyond the wood, so that a board must carry it.
pub fn beyond_the_wood(sash: &Sash, unit_wall: Rect, offset: f64) -> Vec<Side> {
    let fence = unit_wall.inflate(offset, offset);
    let outer = sash.outer;
    let beyond = |side: &Side| match side {
        Side::Left => fence.x0 < outer.x0,
        Side::Right => fence.x1 > outer.x1,
        Side::Bottom => fence.y0 < outer.y0,
        Side::Top => fence.y1 > outer.y1,
    };
    Side::ALL.into_iter().filter(beyond).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Closed form: an offset keeps the centre of an arc, so the corner of the aperture has the
    // cutter's radius plus the offset, C/2 + (B - C)/2 = B/2; and a rounded rectangle lacks
    // (4 - π) r² of its corners.
    #[test]
    fn the_aperture_is_the_wall_offset_with_the_cutters_own_fillets() {
        let (bush, cutter) = (24.0, 12.0);
        let wall = Rect::new(-14.0, -16.0, 634.0, 844.0);
        let offset = (bush - cutter) / 2.0;
        let aperture = rounded(wall.inflate(offset, offset), bush / 2.0).unwrap();
        let fillets = rounded(wall, cutter / 2.0).unwrap();
        for point in aperture.edges().iter().flat_map(|edge| [edge.start(), edge.at(0.3)]) {
            assert_relative_eq!(fillets.distance_to(point), offset, epsilon = 1e-9);
        }
        let lacking = wall.inflate(offset, offset).area() - aperture.area();
        assert_relative_eq!(lacking, (4.0 - std::f64::consts::PI) * 144.0, epsilon = 1e-6);
    }

    #[test]
    fn a_corner_larger_than_the_rectangle_is_cut_down_to_it() {
        let round = rounded(Rect::new(0.0, 0.0, 10.0, 10.0), 12.0).unwrap();
        assert_relative_eq!(round.area(), 25.0 * std::f64::consts::PI, epsilon = 1e-9);
    }
}
