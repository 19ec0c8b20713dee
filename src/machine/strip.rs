//! Along a bar: in sideways from the open light at one end, the whole length in one direction, and
//! back through the wood already cut for the next bite.

use super::route::Route;
use super::{MARGIN, NoWay};
use crate::passes::{Pass, Stage, Strip, steps};
use crate::sash::Sash;
use crate::survey::{Direction, Runs, Workshop};
use kurbo::{Point, Rect};

/// Adds the runs of one strip pass.
pub(super) fn follow(
    sash: &Sash,
    pass: &Pass,
    strip: &Strip,
    workshop: &Workshop,
    route: &mut Route,
) -> Result<(), NoWay> {
    let radius = workshop.cutter.radius();
    let frame = Frame { runs: strip.runs, direction: workshop.cutting.direction };
    let ((start, low), (end, high)) = frame.flat(strip.area);
    let ((first, _), _) = frame.flat(sash.sight);
    let bar = sash.measured.bars.get(strip.bar);
    let face = bar.map_or(low, |bar| f64::midpoint(low, high) - bar.width / 2.0);
    let enter = first + radius + MARGIN;
    let beside = face - radius - MARGIN;
    let outside = frame.point(enter, beside);
    entry_light(sash, outside, radius)?;

    route.remark(format!("{}: {} to {:.2} mm deep", pass.place, pass.stage, pass.to_depth));
    let clear = workshop.machine.clear_height;
    route.come_down(outside, clear, -pass.to_depth);
    // The last bite runs a little past the far side, so that no feather is left.
    let width = high - low + MARGIN;
    let count = steps(width, workshop.cutting.side_step * workshop.cutter.diameter).max(1);
    for index in 1..=count {
        let across = low + width * f64::from(index) / f64::from(count) - radius;
        for along in [enter, start + radius, end - radius, enter] {
            route.line_to(frame.point(along, across));
        }
    }
    if pass.stage == Stage::LowerBars {
        // No ring clears the ends yet: the scallops between the bites would stand there at their full
        // height when the ring comes by deeper. One round along the ends and edges takes them.
        let [first, last] = [start + radius, end - radius];
        for (along, across) in [(first, high), (last, high), (last, low), (first, low)] {
            route.line_to(frame.point(along, across));
        }
        route.line_to(frame.point(first, high));
        route.line_to(frame.point(enter, high));
    }
    route.line_to(outside);
    route.up(clear);
    Ok(())
}

/// The light that holds a cutter standing at `at`, with room to spare.
fn entry_light(sash: &Sash, at: Point, radius: f64) -> Result<(), NoWay> {
    let Some(light) = sash.lights.iter().find(|light| light.sight.contains(at)) else {
        return Err(NoWay::Entry(0.0));
    };
    let room = radius + MARGIN - 1e-9;
    let held = light.sight.inset(-room).contains(at);
    let narrow = light.sight.width().min(light.sight.height());
    if held { Ok(()) } else { Err(NoWay::Entry(narrow)) }
}

/// The bar laid flat: *along* grows in the direction of the cut, *across* from the open side into the
/// wood. Against the rotation the wood lies to the left of travel.
struct Frame {
    runs: Runs,
    direction: Direction,
}

impl Frame {
    fn point(&self, along: f64, across: f64) -> Point {
        let along = match self.direction {
            Direction::Against => along,
            Direction::With => -along,
        };
        match self.runs {
            Runs::Upright => Point::new(across, -along),
            Runs::Cross => Point::new(along, across),
        }
    }

    /// Least and greatest (along, across) of `rect`.
    fn flat(&self, rect: Rect) -> ((f64, f64), (f64, f64)) {
        let (near, far, low, high) = match self.runs {
            Runs::Upright => (-rect.y1, -rect.y0, rect.x0, rect.x1),
            Runs::Cross => (rect.x0, rect.x1, rect.y0, rect.y1),
        };
        match self.direction {
            Direction::Against => ((near, low), (far, high)),
            Direction::With => ((-far, low), (-near, high)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn flat_and_point_are_inverse() {
        let rect = Rect::new(10.0, -5.0, 32.0, 400.0);
        for runs in [Runs::Upright, Runs::Cross] {
            for direction in [Direction::Against, Direction::With] {
                let frame = Frame { runs, direction };
                let ((a, b), (c, d)) = frame.flat(rect);
                assert!(a < c && b < d);
                let back = Rect::from_points(frame.point(a, b), frame.point(c, d));
                assert_eq!(back, rect);
            }
        }
    }

    #[test]
    fn against_the_rotation_the_wood_lies_to_the_left() {
        for runs in [Runs::Upright, Runs::Cross] {
            let frame = Frame { runs, direction: Direction::Against };
            let travel = frame.point(1.0, 0.0) - frame.point(0.0, 0.0);
            let wood = frame.point(0.0, 1.0) - frame.point(0.0, 0.0);
            assert!(travel.cross(wood) > 0.0);
        }
    }
}
