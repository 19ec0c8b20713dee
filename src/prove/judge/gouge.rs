//! The tool against wood that must stay: by exact distances, without sampling.

use crate::geometry::Edge;
use crate::prove::Setup;
use crate::prove::motion::{Move, piece};
use crate::prove::wood::PreparedSolid;
use kurbo::{Point, Rect};

/// Effort of finding the place of a gouge, in steps of a proof.
pub(super) const STEPS_OF_A_PLACE: usize = 200;

/// A part of the tool: round, from a height above the tip upwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct ToolPart {
    /// Half its diameter.
    pub radius: f64,
    /// From the tip up to its lower end.
    pub above_tip: f64,
    /// What it is.
    pub name: &'static str,
    /// The rule it breaks where it meets wood; none for the cutting edges, which are meant to.
    pub rule: Option<&'static str>,
}

/// Cutting edges, shank and holder, from the tip up.
pub(super) fn tool_parts(setup: &Setup) -> Vec<ToolPart> {
    let edges =
        ToolPart { radius: setup.radius(), above_tip: 0.0, name: "tool-cutter", rule: None };
    let shank = ToolPart {
        radius: setup.shank_diameter / 2.0,
        above_tip: setup.cutting_length,
        name: "tool-shank",
        rule: Some("prove.reach"),
    };
    let holder = setup.holder.map(|holder| ToolPart {
        radius: holder.diameter / 2.0,
        above_tip: holder.stick_out,
        name: "tool-holder",
        rule: Some("prove.holder"),
    });
    [edges, shank].into_iter().chain(holder).collect()
}

/// What a move does to a solid that must stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Gouge {
    /// How far the cutter reaches into it, mm: sideways or down, whichever is less.
    pub depth: f64,
    /// Where the axis is.
    pub at: Point,
    /// Z of the tip there.
    pub z: f64,
}

/// The gouge of `mv` in `solid`, where it is deeper than the tolerance both sideways and down.
///
/// Z is linear along the path, so the part of the path below the solid's top is exact, and so is
/// its distance to the solid: a move gouges if and only if that distance is less than the radius.
/// An arc may lie off by its slack, which counts against it.
pub(super) fn gouge(
    mv: &Move,
    around: Rect,
    solid: &PreparedSolid,
    setup: &Setup,
) -> Option<Gouge> {
    let reach = setup.radius() + mv.slack;
    let (path, z) = part_below(mv, solid.solid.top - setup.tolerance)?;
    let distance = solid.distance(&path, around, reach);
    let side = reach - distance;
    if side <= setup.tolerance {
        return None;
    }
    let (at, _) = nearest(&path, solid);
    Some(Gouge { depth: side.min(solid.solid.top - z), at, z })
}

/// Clearance sideways between the cutter's rim and `solid`, where it is less than `best`.
pub(super) fn clearance(
    mv: &Move,
    around: Rect,
    solid: &PreparedSolid,
    setup: &Setup,
    best: f64,
) -> Option<f64> {
    let reach = setup.radius() + mv.slack;
    let (path, _) = part_below(mv, solid.solid.top - setup.tolerance)?;
    let distance = solid.distance(&path, around, reach + best);
    (distance < reach + best).then_some(distance - reach)
}

/// Height of the tip above `solid` where it stands under the cutter, if less than `best`.
pub(super) fn above(
    mv: &Move,
    around: Rect,
    solid: &PreparedSolid,
    setup: &Setup,
    best: f64,
) -> Option<f64> {
    let height = mv.low() - solid.solid.top;
    let inner = setup.radius() - setup.tolerance;
    if height >= best || height < -setup.tolerance {
        return None;
    }
    (solid.distance(&mv.path, around, inner) < inner).then_some(height)
}

/// Where the shank, above the cutting edges, rubs on or reaches into `solid`: how much too short
/// the cutting edges are, mm, and where.
pub(super) fn shank(
    mv: &Move,
    around: Rect,
    solid: &PreparedSolid,
    setup: &Setup,
) -> Option<(f64, Point)> {
    let shank = setup.shank_diameter / 2.0;
    if shank < setup.radius() - setup.tolerance {
        return None;
    }
    reaches_in(mv, around, solid, shank, setup.cutting_length, setup)
}

/// Where a round part of the tool, of `radius` and beginning `above_tip`, rubs on
/// or reaches into `solid`: how far down past its top, mm, and where.
pub(super) fn reaches_in(
    mv: &Move,
    around: Rect,
    solid: &PreparedSolid,
    radius: f64,
    above_tip: f64,
    setup: &Setup,
) -> Option<(f64, Point)> {
    let (path, z) = part_below(mv, solid.solid.top - above_tip - setup.tolerance)?;
    let reach = radius + mv.slack + setup.tolerance;
    if solid.distance(&path, around, reach) >= reach {
        return None;
    }
    Some((solid.solid.top - z - above_tip, nearest(&path, solid).0))
}

/// The part of the path below `limit` and the least Z on it.
fn part_below(mv: &Move, limit: f64) -> Option<(Edge, f64)> {
    let (t0, t1) = mv.below(limit)?;
    Some((piece(&mv.path, t0, t1), mv.z_at(t0).min(mv.z_at(t1))))
}

/// About where `path` comes nearest to `solid`, and how near: for naming the place only.
pub(super) fn nearest(path: &Edge, solid: &PreparedSolid) -> (Point, f64) {
    const STEPS: u32 = 64;
    let at = |t: f64| (path.at(t), solid.distance_to_point(path.at(t)));
    let nearer = |a: (Point, f64), b: (Point, f64)| if b.1 < a.1 { b } else { a };
    (1..=STEPS).map(|i| at(f64::from(i) / f64::from(STEPS))).fold(at(0.0), nearer)
}
