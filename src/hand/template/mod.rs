//! The template for a guide bush.
//!
//! A bush of diameter B that runs along the edge of an aperture keeps a cutter of diameter C a distance
//! (B − C)/2 inside it. An inside corner of the aperture of up to B/2 lets the bush go right into it,
//! and the cutter leaves its own fillet of C/2: an offset keeps the centre of an arc.
//!
//! Promised: every hole for a screw lies in wood that stays, clear of the wall. Not promised: that the
//! plate lies flat on an old sash; look along it.

mod distances;
mod places;

pub use distances::{Distances, distances};

use super::template_offset;
use crate::fit::{Fit, UnitFit};
use crate::geometry::{
    Arc, COINCIDENT, Edge, Join, MinMax, Outline, OutlineError, PerSide, Side, distance_between,
};
use crate::passes::{Cut, Plan, Stage};
use crate::sash::Sash;
use crate::survey::{Cutter, Router};
use kurbo::{Point, Rect};
use schemars::JsonSchema;
use serde::Serialize;
use std::f64::consts::FRAC_PI_2;

/// The plate that a template is cut from, in the frame of the sash.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Plate {
    /// Along X, mm.
    pub width: f64,
    /// Along Y, mm.
    pub height: f64,
    /// By which the depth stop is set deeper, mm.
    pub thickness: f64,
    /// X and Y of its lower left corner, mm.
    pub lower_left: [f64; 2],
}

impl Plate {
    /// Where it lies.
    pub fn rect(&self) -> Rect {
        Rect::from_origin_size(
            Point::from((self.lower_left[0], self.lower_left[1])),
            (self.width, self.height),
        )
    }
}

/// A template for a guide bush, lying on the glazing face.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Template {
    /// From the new wall out to the edge of the aperture, mm.
    pub offset: f64,
    /// Largest inside corner of the aperture that the bush still fills, mm: half the bush.
    pub corner_radius: f64,
    /// One aperture a pocket.
    #[serde(skip)]
    pub apertures: Vec<Outline>,
    /// The plate, so large that the whole base bears on it outside the aperture.
    pub plate: Plate,
    /// Smallest width of plate left between two apertures, or between an aperture and the plate's edge,
    /// mm; not positive where apertures run into each other.
    pub bearing: f64,
    /// Where that is.
    pub bearing_at: String,
    /// X and Y of the screws that hold the plate down: in wood that stays, mm.
    pub screws: Vec<[f64; 2]>,
    /// Whether the same template serves widening and deepening: the walls are the same at both.
    pub serves_both: bool,
}

/// The template for a sash; none where the cutter does not pass the bush, or a wall cannot be moved out to
/// where the bush would run.
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
    let Some(found) = plate(sash, &fit.units, router, cutter)? else { return Ok(None) };
    let FromAbove { offset, apertures, plate, bearing, bearing_at } = found;
    Ok(Some(Template {
        offset,
        corner_radius: router.guide_bush / 2.0,
        plate: Plate {
            width: plate.width(),
            height: plate.height(),
            thickness: router.plate,
            lower_left: [plate.x0, plate.y0],
        },
        bearing,
        bearing_at,
        screws: places::screws(sash, fit, &apertures, offset)
            .iter()
            .map(|at| [at.x, at.y])
            .collect(),
        apertures,
        serves_both: serves_both(plan),
    }))
}

/// A template as seen from above.
pub(super) struct FromAbove {
    offset: f64,
    apertures: Vec<Outline>,
    plate: Rect,
    pub bearing: f64,
    pub bearing_at: String,
}

/// The plate of a template; none where there is no template.
pub(super) fn plate(
    sash: &Sash,
    units: &[UnitFit],
    router: &Router,
    cutter: &Cutter,
) -> Result<Option<FromAbove>, OutlineError> {
    let Some(offset) = template_offset(router, cutter) else { return Ok(None) };
    let radius = router.guide_bush / 2.0;
    let mut apertures = Vec::with_capacity(units.len());
    for unit in units {
        let Some(aperture) = aperture(unit, offset, radius)? else { return Ok(None) };
        apertures.push(aperture);
    }
    let bounds = apertures.iter().map(Outline::bounds);
    let all = bounds.reduce(|a, b| a.union(b)).unwrap_or_default();
    // With the bush against the edge the base reaches this far beyond it.
    let reach = (router.base_diameter / 2.0 - radius).max(0.0);
    let plate = all.union(sash.outer).union(all.inflate(reach, reach)).expand();
    let (bearing, bearing_at) = bearing(&apertures, units, plate);
    Ok(Some(FromAbove { offset, apertures, plate, bearing, bearing_at }))
}

/// `rect` with inside corners of `radius`, at most half its shorter side.
///
/// # Errors
/// Where `rect` has no area.
pub fn rounded(rect: Rect, radius: f64) -> Result<Outline, OutlineError> {
    let r = radius.min(rect.width() / 2.0).min(rect.height() / 2.0);
    if r <= COINCIDENT {
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
        if straight.length() > COINCIDENT {
            edges.push(straight);
        }
        edges.push(*arc);
    }
    Outline::new(edges)
}

/// A wall moved out by `offset`, its inside corners as round as the bush; none where it cannot be moved out
/// that far.
fn aperture(unit: &UnitFit, offset: f64, radius: f64) -> Result<Option<Outline>, OutlineError> {
    if unit.outlines.wall.is_rectangle() {
        return rounded(unit.wall().inflate(offset, offset), radius).map(Some);
    }
    let moved = unit.outlines.wall.outline().offset(offset, Join::Sharp);
    Ok(moved.ok().map(|wall| wall.filleted(radius)))
}

/// The narrowest piece of plate that the bush runs along, and where.
fn bearing(apertures: &[Outline], units: &[UnitFit], plate: Rect) -> (f64, String) {
    let mut least = (f64::INFINITY, String::from("all round"));
    let mut offer = |width: f64, place: String| {
        if width < least.0 {
            least = (width, place);
        }
    };
    let all = apertures.iter().zip(units).enumerate();
    for (index, (a, unit)) in all {
        let rect = a.bounds();
        let across = (rect.x0 - plate.x0).min(plate.x1 - rect.x1);
        let edge = across.min(rect.y0 - plate.y0).min(plate.y1 - rect.y1);
        offer(edge, format!("{} to the plate's edge", unit.light));
        for (b, other) in apertures.iter().zip(units).skip(index + 1) {
            let square = [unit, other].iter().all(|unit| unit.outlines.wall.is_rectangle());
            let width = if square { between(rect, b.bounds()) } else { apart(a, b) };
            offer(width, format!("between {} and {}", unit.light, other.light));
        }
    }
    least
}

/// Between two rectangles side by side, mm; negative where they overlap.
fn between(a: Rect, b: Rect) -> f64 {
    let across = (b.x0 - a.x1).max(a.x0 - b.x1);
    let up = (b.y0 - a.y1).max(a.y0 - b.y1);
    across.max(up)
}

/// Between two outlines, mm; zero where they meet.
fn apart(a: &Outline, b: &Outline) -> f64 {
    let pairs = a.edges().iter().flat_map(|own| b.edges().iter().map(move |other| (own, other)));
    pairs.map(|(own, other)| distance_between(own, other)).fold(f64::INFINITY, f64::min)
}

/// Whether every ring of a unit has the same walls while widening and deepening.
fn serves_both(plan: &Plan) -> bool {
    let rings = |stage: Stage| {
        plan.passes.iter().filter(move |pass| pass.stage == stage).filter_map(|pass| {
            if let Cut::Ring(ring) = &pass.cut { Some((ring.unit, ring.to)) } else { None }
        })
    };
    let same = |a: PerSide<MinMax>, b: PerSide<MinMax>| {
        Side::ALL.iter().all(|&side| (a.get(side).most - b.get(side).most).abs() <= COINCIDENT)
    };
    rings(Stage::Widen).all(|(unit, wide)| {
        rings(Stage::Deepen).filter(|(other, _)| *other == unit).all(|(_, deep)| same(wide, deep))
    })
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
