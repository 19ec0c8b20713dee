//! Wood that must stay and is cut: by exact distances, without sampling.

use crate::geometry::Edge;
use crate::prove::Setup;
use crate::prove::motion::{Move, piece};
use crate::prove::wood::Keep;
use kurbo::{Point, Rect};

/// Effort of finding the place of a bite, in steps of a proof.
pub(super) const STEPS_OF_A_PLACE: usize = 200;

/// What a move does to a solid that must stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Bite {
    /// How far the cutter reaches into it, mm: sideways or down, whichever is less.
    pub depth: f64,
    /// Where the axis is.
    pub at: Point,
    /// Z of the tip there.
    pub z: f64,
}

/// The bite of `mv` into `keep`, where it is deeper than the tolerance both sideways and down.
///
/// Z is linear along the path, so the part of the path below the solid's top is exact, and so is
/// its distance to the solid: a move bites if and only if that distance is less than the radius.
/// An arc may lie off by its slack, which counts against it.
pub(super) fn bite(mv: &Move, around: Rect, keep: &Keep, setup: &Setup) -> Option<Bite> {
    let reach = setup.radius() + mv.slack;
    let (path, z) = part_below(mv, keep.solid.top - setup.tolerance)?;
    let distance = keep.distance(&path, around, reach);
    let side = reach - distance;
    if side <= setup.tolerance {
        return None;
    }
    let (at, _) = nearest(&path, keep);
    Some(Bite { depth: side.min(keep.solid.top - z), at, z })
}

/// Clearance sideways between the cutter's rim and `keep`, where it is less than `best`.
pub(super) fn clearance(
    mv: &Move,
    around: Rect,
    keep: &Keep,
    setup: &Setup,
    best: f64,
) -> Option<f64> {
    let reach = setup.radius() + mv.slack;
    let (path, _) = part_below(mv, keep.solid.top - setup.tolerance)?;
    let distance = keep.distance(&path, around, reach + best);
    (distance < reach + best).then_some(distance - reach)
}

/// Height of the tip above `keep` where it stands under the cutter, if less than `best`.
pub(super) fn above(mv: &Move, around: Rect, keep: &Keep, setup: &Setup, best: f64) -> Option<f64> {
    let height = mv.low() - keep.solid.top;
    let inner = setup.radius() - setup.tolerance;
    if height >= best || height < -setup.tolerance {
        return None;
    }
    (keep.distance(&mv.path, around, inner) < inner).then_some(height)
}

/// Where the shank, above the cutting edges, rubs on or reaches into `keep`: how much too short
/// the cutting edges are, mm, and where.
pub(super) fn shank(mv: &Move, around: Rect, keep: &Keep, setup: &Setup) -> Option<(f64, Point)> {
    let shank = setup.shank_diameter / 2.0;
    if shank < setup.radius() - setup.tolerance {
        return None;
    }
    reaches_in(mv, around, keep, shank, setup.cutting_length, setup)
}

/// Where a round part of the tool, `half` its diameter and beginning `from` above the tip, rubs on
/// or reaches into `keep`: how far down past its top, mm, and where.
pub(super) fn reaches_in(
    mv: &Move,
    around: Rect,
    keep: &Keep,
    half: f64,
    from: f64,
    setup: &Setup,
) -> Option<(f64, Point)> {
    let (path, z) = part_below(mv, keep.solid.top - from - setup.tolerance)?;
    let reach = half + mv.slack + setup.tolerance;
    if keep.distance(&path, around, reach) >= reach {
        return None;
    }
    Some((keep.solid.top - z - from, nearest(&path, keep).0))
}

/// The part of the path below `limit` and the least Z on it.
fn part_below(mv: &Move, limit: f64) -> Option<(Edge, f64)> {
    let (t0, t1) = mv.below(limit)?;
    Some((piece(&mv.path, t0, t1), mv.z_at(t0).min(mv.z_at(t1))))
}

/// About where `path` comes nearest to `keep`, and how near: for telling the place only.
pub(super) fn nearest(path: &Edge, keep: &Keep) -> (Point, f64) {
    const STEPS: u32 = 64;
    let at = |t: f64| (path.at(t), keep.distance_to_point(path.at(t)));
    let nearer = |a: (Point, f64), b: (Point, f64)| if b.1 < a.1 { b } else { a };
    (1..=STEPS).map(|i| at(f64::from(i) / f64::from(STEPS))).fold(at(0.0), nearer)
}
