//! Where the screws of a template go: into wood that stays.

use crate::fit::{Fit, UnitFit};
use crate::geometry::{Edge, Outline, Side};
use crate::sash::Sash;
use crate::survey::ScrewFrom;
use kurbo::{Point, Vec2};

/// Least distance from the axis of a template's screw to the wall, the outer edge and any metal, mm.
/// Common practice, no source.
const CLEAR_OF_SCREW: f64 = 8.0;

/// Where along a member its two screws stand, and how far along from there a place clear of metal is looked for, mm.
/// Common practice, no source.
const TWO: [f64; 2] = [0.2, 0.8];
const STEPS: [f64; 7] = [0.0, 15.0, -15.0, 30.0, -30.0, 45.0, -45.0];

/// Two screws a member, in the middle of the wood between aperture and outer edge, moved along where
/// there is metal; none where that wood is too narrow.
pub(super) fn screws(sash: &Sash, fit: &Fit, apertures: &[Outline], offset: f64) -> Vec<Point> {
    if !sash.outline.is_rectangle() {
        return beside_edges(sash, apertures);
    }
    let walls = fit.units.iter().map(UnitFit::wall).reduce(|a, b| a.union(b));
    let Some(walls) = walls else { return Vec::new() };
    let outer = sash.outer;
    let mut found = Vec::new();
    for side in Side::ALL {
        let (wall, edge) = (side.of(walls), side.of(outer));
        if (edge - wall).abs() < offset + 2.0 * CLEAR_OF_SCREW {
            continue;
        }
        let aside = f64::midpoint(wall + offset.copysign(edge - wall), edge);
        let (from, to) =
            if side.is_upright() { (walls.y0, walls.y1) } else { (walls.x0, walls.x1) };
        for share in TWO {
            let place = |step: f64| {
                let along = from + share * (to - from) + step;
                if side.is_upright() { Point::new(aside, along) } else { Point::new(along, aside) }
            };
            found.extend(STEPS.into_iter().map(place).find(|&at| free_of_metal(sash, at)));
        }
    }
    found
}

/// Longest piece of edge that one screw holds down, mm. Common practice, no source.
const PITCH: f64 = 450.0;

/// Where along an edge its screws stand: two, or as many as a long one wants, evenly.
fn shares(length: f64) -> Vec<f64> {
    let count = (length / PITCH).ceil();
    if count <= 2.0 {
        return TWO.to_vec();
    }
    let mut shares = Vec::new();
    let mut index = 0.5;
    while index < count {
        shares.push(index / count);
        index += 1.0;
    }
    shares
}

/// Screws along every outer edge, in the middle of the wood between it and the nearest aperture.
fn beside_edges(sash: &Sash, apertures: &[Outline]) -> Vec<Point> {
    let outer = sash.outer_outline.outline();
    let aperture = |at: Point| {
        apertures.iter().map(|aperture| aperture.distance_to(at)).fold(f64::INFINITY, f64::min)
    };
    let clear = |at: &Point| {
        let cut = apertures.iter().any(|aperture| aperture.contains(*at));
        !cut && outer.contains(*at)
            && outer.distance_to(*at) >= CLEAR_OF_SCREW
            && aperture(*at) >= CLEAR_OF_SCREW
            && free_of_metal(sash, *at)
    };
    let mut found = Vec::new();
    for edge in outer.merged() {
        for share in shares(edge.length()) {
            let place = |step: f64| {
                let t = (share + step / edge.length()).clamp(0.0, 1.0);
                let (at, along) = (edge.at(t), edge.direction(t));
                let inwards = Vec2::new(-along.y, along.x);
                let room = aperture(at);
                room.is_finite().then(|| at + room / 2.0 * inwards)
            };
            found.extend(STEPS.into_iter().filter_map(place).find(clear));
        }
    }
    found
}

fn free_of_metal(sash: &Sash, at: Point) -> bool {
    let nails = sash.measured.metal.iter();
    nails.into_iter().all(|metal| (metal.at - at).hypot() > metal.radius + CLEAR_OF_SCREW)
        && sash.measured.screws.iter().all(|screw| {
            if !sash.outline.is_rectangle() {
                let axis = sash.screw_axis(screw).map(|[from, to]| Edge::line(from, to));
                return axis.is_none_or(|axis| axis.distance_to(at) > CLEAR_OF_SCREW);
            }
            let upright = screw.member.is_upright();
            let (along, aside) = if upright { (at.y, at.x) } else { (at.x, at.y) };
            let near = match screw.from {
                ScrewFrom::OuterEdge { .. } => {
                    (screw.member.of(sash.outer) - aside).abs() < screw.length + CLEAR_OF_SCREW
                }
                ScrewFrom::RoomFace { from_sight } => {
                    ((screw.member.of(sash.sight) - aside).abs() - from_sight).abs()
                        < CLEAR_OF_SCREW
                }
            };
            !near || (along - screw.at).abs() > CLEAR_OF_SCREW
        })
}
