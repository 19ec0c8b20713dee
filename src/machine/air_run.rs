//! The run before the first cut: spindle off, at clear height, to each corner of the sash and round
//! each new wall, so that the joiner sees where the machine will go.

use super::route::Route;
use crate::fit::Fit;
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::{Point, Rect};

pub(super) fn route(sash: &Sash, fit: &Fit, workshop: &Workshop) -> Route {
    let clear = workshop.machine.clear_height;
    let mut route = Route::default();
    route.remark("to each outer corner of the sash".into());
    for corner in corners(sash.outer) {
        route.rapid_to(corner, clear);
    }
    for unit in &fit.units {
        route.remark(format!("round the new wall, {}", unit.light));
        let [first, rest @ ..] = corners(unit.wall);
        route.rapid_to(first, clear);
        for corner in rest {
            route.line_to(corner);
        }
        route.line_to(first);
    }
    route.up(clear);
    route
}

fn corners(rect: Rect) -> [Point; 4] {
    [
        Point::new(rect.x0, rect.y0),
        Point::new(rect.x1, rect.y0),
        Point::new(rect.x1, rect.y1),
        Point::new(rect.x0, rect.y1),
    ]
}
