//! A sash with straight, square sides as a chequer of cells, each of one kind of wood throughout.

use crate::geometry::COINCIDENT;
use crate::sash::{Sash, Stretch};
use crate::survey::Runs;
use kurbo::{Point, Rect};
use std::sync::Arc;

/// A cell, the name of the part it belongs to, and its wood.
pub(super) type Cell = (Rect, Arc<str>, Vec<Stretch>);

/// Every cell that holds wood, with its part and its wood, cut along all old and new boundaries.
pub(super) fn cells(sash: &Sash, walls: &[Rect]) -> Vec<Cell> {
    let old = sash.measured.members.map(|member| member.old.width()).grow(sash.sight);
    let mut rects = vec![sash.outer, sash.sight, old];
    rects.extend(walls);
    let mut xs: Vec<f64> = rects.iter().flat_map(|rect| [rect.x0, rect.x1]).collect();
    let mut ys: Vec<f64> = rects.iter().flat_map(|rect| [rect.y0, rect.y1]).collect();
    for bar in sash.bars.iter().map(|bar| &bar.measured) {
        let across = match bar.runs {
            Runs::Upright => &mut xs,
            Runs::Cross => &mut ys,
        };
        for half in [bar.width / 2.0, bar.web() / 2.0] {
            across.extend([bar.centre - half, bar.centre + half]);
        }
    }
    let (xs, ys) = (sorted(xs), sorted(ys));
    let mut found = Vec::new();
    for y in ys.windows(2) {
        for x in xs.windows(2) {
            let ([x0, x1], [y0, y1]) = (x, y) else { continue };
            let rect = Rect::new(*x0, *y0, *x1, *y1);
            if let Some((part, wood)) = sash.wood_at(rect.center()) {
                found.push((rect, sash.part_name(part).into(), wood));
            }
        }
    }
    found
}

fn sorted(mut values: Vec<f64>) -> Vec<f64> {
    values.sort_by(f64::total_cmp);
    values.dedup_by(|b, a| (*b - *a).abs() <= COINCIDENT);
    values
}

/// Joins cells of one part and stretch: first along X, then along Y where widths agree.
pub(super) fn merge(pieces: Vec<(Rect, Arc<str>, Stretch)>) -> Vec<(Rect, Arc<str>, Stretch)> {
    let along_x = join(pieces, |a, b| {
        Point::new(a.x1, a.y0) == b.origin() && Point::new(a.x1, a.y1) == Point::new(b.x0, b.y1)
    });
    let mut columns = along_x;
    columns.sort_by(|(a, ..), (b, ..)| a.x0.total_cmp(&b.x0).then(a.y0.total_cmp(&b.y0)));
    join(columns, |a, b| {
        Point::new(a.x0, a.y1) == b.origin() && Point::new(a.x1, a.y1) == Point::new(b.x1, b.y0)
    })
}

/// Joins each piece to the latest earlier one of its kind that it continues.
fn join(
    pieces: Vec<(Rect, Arc<str>, Stretch)>,
    continues: impl Fn(Rect, Rect) -> bool,
) -> Vec<(Rect, Arc<str>, Stretch)> {
    let mut joined: Vec<(Rect, Arc<str>, Stretch)> = Vec::with_capacity(pieces.len());
    for (rect, part, stretch) in pieces {
        let before = joined
            .iter_mut()
            .rev()
            .find(|(last, p, s)| *p == part && *s == stretch && continues(*last, rect));
        match before {
            Some((last, ..)) => *last = last.union(rect),
            None => joined.push((rect, part, stretch)),
        }
    }
    joined
}
