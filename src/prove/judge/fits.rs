//! The ordered unit laid into the wood that the programs leave.
//!
//! What the unit needs comes from whoever knows what was ordered ([`Ordered`]); where platform and walls
//! were planned has no part in it, so that a rebate planned too small is seen although it was cut as
//! planned. The unit is laid where it was drawn, pushed by its clearance to each side, and set down where
//! it comes to rest: wherever it then meets wood, it does not go in.
//!
//! Promised: wood over the platform that the unit needs is found where it is thicker than the tolerance
//! along X, along Y and in depth, fillets that are listed for the chisel set aside. Not promised: that
//! a unit larger than ordered goes in; its clearances are what that is taken from.

use super::corner::Fillet;
use super::leftover::{Left, thick_at};
use crate::finding::{Basis, Quantity};
use crate::geometry::{Edge, PerSide, Side};
use crate::language::{Text, text};
use crate::prove::Setup;
use crate::prove::fault::{Faults, NewFault};
use crate::prove::proof::Fits;
use crate::prove::setup::Ordered;
use crate::prove::tolerance::{MOST_BANDS, PARALLEL};
use crate::prove::wood::{Field, Footprint, Row, surface};
use kurbo::Vec2;
use std::f64::consts::{PI, TAU};

/// Outwards, as seen from above.
fn outwards(side: Side) -> Vec2 {
    match side {
        Side::Left => Vec2::new(-1.0, 0.0),
        Side::Right => Vec2::new(1.0, 0.0),
        Side::Bottom => Vec2::new(0.0, -1.0),
        Side::Top => Vec2::new(0.0, 1.0),
    }
}

/// How far a push along `way` may go before an edge has moved outwards by `gap` somewhere.
///
/// An edge that looks outwards along n moves outwards by p·s, where s = n·way; along a line no more. A place of an arc of
/// radius r that bulges outwards comes to √(r² + 2·r·p·s + p²) from its centre, so that r + gap is
/// reached at p = √((r·s)² + 2·r·gap + gap²) − r·s; where s is 1 that is the gap itself.
fn push(edge: &Edge, way: Vec2, gap: f64) -> f64 {
    let share = share(edge, way);
    match edge {
        Edge::Arc(arc) if arc.sweep > 0.0 => {
            let along = arc.radius * share;
            (along * along + gap * (2.0 * arc.radius + gap)).sqrt() - along
        }
        _ if share > PARALLEL => gap / share,
        _ => f64::INFINITY,
    }
}

/// Greatest share of a push along `way` that goes square to the edge, outwards; anticlockwise the outside
/// is to the right.
fn share(edge: &Edge, way: Vec2) -> f64 {
    let at = |t: f64| {
        let along = edge.direction(t);
        Vec2::new(along.y, -along.x).dot(way)
    };
    let ends = at(0.0).max(at(1.0));
    let Edge::Arc(arc) = edge else { return ends };
    // Anticlockwise an arc looks outwards where it lies, clockwise the other way.
    let looks = way.atan2() + if arc.sweep < 0.0 { PI } else { 0.0 };
    let from = if arc.sweep < 0.0 { arc.start + arc.sweep } else { arc.start };
    if (looks - from).rem_euclid(TAU) <= arc.sweep.abs() { 1.0 } else { ends }
}

/// How far the unit may be pushed each way before any of its edges has used up the clearance of its side.
fn pushes(unit: &Ordered) -> PerSide<f64> {
    PerSide::from_fn(|side| {
        let way = outwards(side);
        let mut most = *unit.clearance.get(side);
        for (edge, of) in unit.drawn.edges() {
            most = most.min(push(edge, way, *unit.clearance.get(of)));
        }
        most
    })
}

/// One place of the unit.
struct Laid {
    /// By how much it was pushed to a side, none where it was drawn or comes to rest.
    pushed: Option<(Side, f64)>,
    footprint: Footprint,
    /// Whether it comes to rest there: then its corners must clear what the cutter leaves round.
    rests: bool,
}

impl Laid {
    fn all(unit: &Ordered) -> Vec<Laid> {
        let drawn = unit.drawn.outline();
        let pushes = pushes(unit);
        let pushed = Side::ALL.into_iter().map(|side| {
            let by = *pushes.get(side);
            let footprint = Footprint::new(&drawn.moved(by * outwards(side)));
            Laid { pushed: Some((side, by)), footprint, rests: false }
        });
        let rest = [(drawn, false), (unit.rest.outline(), true)].map(|(outline, rests)| Laid {
            pushed: None,
            footprint: Footprint::new(outline),
            rests,
        });
        // Where it cannot even lie without a push is told first.
        rest.into_iter().chain(pushed).collect()
    }
}

/// The worst place where wood stands in the unit's way.
#[derive(Debug, Clone, Copy)]
struct Way {
    /// Least of its extents along X and Y and its height, mm.
    by: f64,
    /// Z of its top.
    top: f64,
    /// Whether the cutter has been there: then the platform is too high, else a wall stands too near.
    cut: bool,
    at: [f64; 2],
}

/// Lays every unit of `setup` into the wood, and says where it does not go in.
pub(super) fn fits(
    field: &Field,
    fillets: &[Fillet],
    setup: &Setup,
    faults: &mut Faults,
) -> Vec<Fits> {
    setup.units.iter().map(|unit| lay(unit, field, fillets, setup, faults)).collect()
}

fn lay(
    unit: &Ordered,
    field: &Field,
    fillets: &[Fillet],
    setup: &Setup,
    faults: &mut Faults,
) -> Fits {
    let needed = unit.depth();
    let mut fits = Fits { light: unit.light.clone(), goes_in: true, needed, found: None };
    for laid in Laid::all(unit) {
        let aside = |fillet: &&Fillet| fillet.is_chiselled() || !laid.rests;
        let aside: Vec<&Fillet> = fillets.iter().filter(aside).collect();
        let (way, highest) = in_the_way(&laid.footprint, -needed, field, &aside, setup.tolerance);
        if laid.pushed.is_none() {
            fits.found = [fits.found, highest.map(|z| -z)].into_iter().flatten().reduce(f64::min);
        }
        if let Some(way) = way.filter(|_| fits.goes_in) {
            fits.goes_in = false;
            // Wood left over is in the unit's way as well, and told already.
            if !faults.has("prove.leftover") {
                faults.add(fault(unit, laid.pushed, way, setup));
            }
        }
    }
    fits
}

fn fault(
    unit: &Ordered,
    pushed: Option<(Side, f64)>,
    way: Way,
    setup: &Setup,
) -> NewFault<'static> {
    let light = Text::name(&unit.light);
    let (measured, limit, advice) = match pushed {
        _ if way.cut => (
            -way.top,
            unit.depth(),
            text!(
                "prove-unit-bed",
                light,
                needed = format!("{:.1}", unit.depth()),
                left = format!("{:.1}", -way.top),
                short = format!("{:.1}", unit.depth() + way.top)
            ),
        ),
        Some((side, by)) => (
            (by - way.by).max(0.0),
            by,
            text!(
                "prove-unit-gap",
                light,
                gap = format!("{by:.1}"),
                side = Text::name(side.to_string()),
                wood = format!("{:.1}", way.by.min(by))
            ),
        ),
        None => (way.by, 0.0, text!("prove-unit-wood", light, wood = format!("{:.1}", way.by))),
    };
    NewFault {
        at: Some([way.at[0], way.at[1], way.top.min(setup.clear_height)]),
        basis: Basis::Geometry,
        ..NewFault::new("prove.fits", Quantity::mm(measured), Quantity::mm(limit), advice)
    }
}

/// The wood over `platform` under the footprint, at its worst, and Z of the highest wood there that was cut.
fn in_the_way(
    footprint: &Footprint,
    platform: f64,
    field: &Field,
    aside: &[&Fillet],
    tolerance: f64,
) -> (Option<Way>, Option<f64>) {
    let (mut highest, mut clean): (Option<f64>, bool) = (None, true);
    let (mut bands, mut lefts, mut inside) = (Vec::new(), Vec::new(), Vec::new());
    // What stands on the last row, and where it was asked.
    let (mut last, mut standing, mut asked): (Option<&Row>, _, _) = (None, Vec::new(), Vec::new());
    for (row, y, height) in bands_under(footprint, field, tolerance) {
        footprint.on_row(y, &mut inside);
        if !last.replace(row).is_some_and(|last| last.shares(row)) || asked != inside {
            standing.clear();
            for pair in inside.chunks_exact(2) {
                let &[from, to] = pair else { continue };
                on_row(row, (from, to), platform + tolerance, field, &mut standing, &mut highest);
            }
            asked.clone_from(&inside);
        }
        let mut found = standing.clone();
        if !found.is_empty() {
            for fillet in aside.iter().filter(|fillet| fillet.is_near(y, tolerance)) {
                for (a, b) in fillet.on_row(y, tolerance).into_iter().flatten() {
                    found = without(&found, (a, b));
                }
            }
            found.retain(|left| left.to - left.from > tolerance);
            clean &= found.is_empty();
        }
        bands.push((y, height));
        lefts.push(found);
    }
    let worst = if clean { None } else { worst(&bands, &lefts, platform, tolerance) };
    (worst, highest)
}

/// The bands of wood under the footprint, each with a Y and its height there. A row that nothing parts may be
/// tall: where the footprint changes on it, it is looked at in bands as high as the tolerance.
fn bands_under<'a>(
    footprint: &'a Footprint,
    field: &'a Field,
    tolerance: f64,
) -> impl Iterator<Item = (&'a Row, f64, f64)> {
    let bounds = footprint.bounds();
    let ends = |row: &Row| (row.y - row.height / 2.0, row.y + row.height / 2.0);
    let first = field.rows.partition_point(|row| ends(row).1 <= bounds.y0);
    let rows = field.rows.get(first..).unwrap_or_default();
    rows.iter().take_while(move |row| ends(row).0 < bounds.y1).flat_map(move |row| {
        let (low, high) = ends(row);
        let (low, high) = (low.max(bounds.y0), high.min(bounds.y1));
        let tall = !footprint.is_even(low, high);
        let count =
            if tall { ((high - low) / tolerance).ceil().clamp(1.0, MOST_BANDS) } else { 1.0 };
        let height = (high - low) / count;
        let middles = std::iter::successors(Some(0.5), move |n| Some(n + 1.0));
        middles.take_while(move |n| *n < count).map(move |n| (row, low + n * height, height))
    })
}

/// What of a row stands over `limit` between two X.
fn on_row(
    row: &Row,
    (from, to): (f64, f64),
    limit: f64,
    field: &Field,
    found: &mut Vec<Left>,
    highest: &mut Option<f64>,
) {
    for (begin, stretch) in row.from(from) {
        if begin >= to {
            break;
        }
        let cut = stretch.highest(begin);
        let Some(stack) = field.stacks.get(stretch.stack).filter(|stack| !stack.is_empty()) else {
            continue;
        };
        let Some(top) = surface(stack, cut) else { continue };
        if cut.is_finite() {
            *highest = Some(highest.map_or(top, |z: f64| z.max(top)));
        }
        if top > limit {
            let (from, to) = (begin.max(from), stretch.end.min(to));
            let part = usize::from(cut.is_finite());
            match found.last_mut() {
                Some(last) if last.to >= from && last.go == part => {
                    last.to = to;
                    last.height = last.height.max(top - limit);
                }
                _ => found.push(Left { from, to, height: top - limit, go: part }),
            }
        }
    }
}

fn without(lefts: &[Left], (a, b): (f64, f64)) -> Vec<Left> {
    let parts = lefts.iter().flat_map(|left| {
        [Left { to: left.to.min(a), ..*left }, Left { from: left.from.max(b), ..*left }]
    });
    parts.filter(|left| left.from < left.to).collect()
}

/// The place where most stands in the way, measured the way it is least.
fn worst(bands: &[(f64, f64)], lefts: &[Vec<Left>], platform: f64, tolerance: f64) -> Option<Way> {
    let heights: Vec<f64> = bands.iter().map(|(_, height)| *height).collect();
    let mut worst: Option<Way> = None;
    for (index, (y, _)) in bands.iter().enumerate() {
        for left in lefts.get(index).into_iter().flatten() {
            let height = left.height + tolerance;
            let most = (left.to - left.from).min(height);
            if worst.is_some_and(|known| known.by >= most) {
                continue;
            }
            let Some(x) = thick_at(&heights, lefts, index, left, tolerance) else { continue };
            let by = most.min(extent(&heights, lefts, index, x));
            if worst.is_none_or(|known| by > known.by) {
                let (cut, top) = (left.go == 1, platform + height);
                worst = Some(Way { by, top, cut, at: [x, *y] });
            }
        }
    }
    worst
}

/// How far along Y wood stands in the way at `x`, mm.
fn extent(heights: &[f64], lefts: &[Vec<Left>], index: usize, x: f64) -> f64 {
    let stands =
        |(_, lefts): &(&f64, &Vec<Left>)| lefts.iter().any(|left| left.from <= x && x <= left.to);
    let (Some((below, above)), Some((under, over))) =
        (lefts.split_at_checked(index), heights.split_at_checked(index))
    else {
        return 0.0;
    };
    let up = over.iter().zip(above).take_while(stands).map(|(height, _)| height);
    let down = under.iter().rev().zip(below.iter().rev()).take_while(stands);
    up.sum::<f64>() + down.map(|(height, _)| height).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::Point;

    // By hand: of an arc of radius 100 from 60 to 120 degrees the end at (50, 86.6) comes first to a circle of radius
    // 105 round the same centre, where x = √(105² − 86.6²) = 59.37.
    #[test]
    fn an_arc_pushed_along_itself_comes_to_its_wall_sooner_than_its_slope_says() {
        let arc = Arc { centre: Point::ZERO, radius: 100.0, start: PI / 3.0, sweep: PI / 3.0 };
        let by = push(&Edge::Arc(arc), outwards(Side::Right), 5.0);
        assert_relative_eq!(by, 59.372 - 50.0, epsilon = 1e-3);
        let up = push(&Edge::Arc(arc), outwards(Side::Top), 5.0);
        assert_relative_eq!(up, 5.0, epsilon = 1e-9);
        let slanting = Edge::line(Point::new(3.0, 0.0), Point::new(0.0, 4.0));
        assert_relative_eq!(push(&slanting, outwards(Side::Right), 2.0), 2.5, epsilon = 1e-9);
    }
}
