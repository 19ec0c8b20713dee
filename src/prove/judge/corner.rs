//! Fillets that a round cutter leaves in the inside corners of a pocket.

use crate::geometry::{Arc, COINCIDENT, Edge, Outline};
use crate::prove::motion::{Move, piece};
use crate::prove::proof::Chisel;
use crate::prove::tolerance::{CORNER, PARALLEL};
use crate::prove::wood::disc;
use crate::rebate::{Corner, Pocket, Rebate};
use kurbo::{Point, Vec2};
use std::f64::consts::{PI, TAU};

/// The place of one fillet.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Fillet {
    light: String,
    at: Point,
    needed: bool,
    /// Centre of the cutter that touches both walls.
    centre: Point,
    radius: f64,
    /// Furthest place of the fillet from the sharp corner.
    reach: f64,
    /// Square to the line between the places where the cutter touches, towards the corner: a unit
    /// vector, and the middle of that line.
    outward: Vec2,
    middle: Point,
    area: f64,
}

/// The fillets of every pocket for a cutter of `radius`, mm, or a thinner one that goes into the corner; a corner that the cutter cannot even reach has none, and whatever
/// is left there is wood left over.
pub(super) fn fillets(rebate: &Rebate, radius: f64) -> Vec<Fillet> {
    let of =
        |pocket: &Pocket, corner: &Corner| fillet(pocket, corner, corner.cleaned.unwrap_or(radius));
    rebate.pockets.iter().flat_map(|p| p.corners.iter().filter_map(move |c| of(p, c))).collect()
}

fn fillet(pocket: &Pocket, corner: &Corner, radius: f64) -> Option<Fillet> {
    let edges = pocket.wall.edges();
    let last = edges.last()?;
    let before = std::iter::once(last).chain(edges);
    let (into, out) =
        before.zip(edges).find(|(_, out)| (out.start() - corner.at).hypot() <= CORNER)?;
    // Anticlockwise, the inside is to the left.
    let centres = into.shifted(-radius)?.crossings(&out.shifted(-radius)?);
    let away = |p: &Point| (*p - corner.at).hypot();
    let centre = centres.into_iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let (touch_in, touch_out) = (foot(into, centre)?, foot(out, centre)?);
    let middle = touch_in.0.midpoint(touch_out.0);
    // Square to the line between the places, which unlike walls do not meet at equal angles.
    let across = (touch_out.0 - touch_in.0).turn_90();
    if across.hypot() < COINCIDENT {
        return None;
    }
    let outward = if across.dot(corner.at - middle) < 0.0 { -across } else { across };
    Some(Fillet {
        light: pocket.light.clone(),
        at: corner.at,
        needed: corner.chisel,
        centre,
        radius,
        reach: (touch_in.0 - corner.at).hypot().max((touch_out.0 - corner.at).hypot()),
        outward: outward.normalize(),
        middle,
        area: area(into, out, touch_in, touch_out, centre, radius)?,
    })
}

/// The place of `edge` nearest to `centre`, with its parameter.
fn foot(edge: &Edge, centre: Point) -> Option<(Point, f64)> {
    let t = match edge {
        Edge::Line(line) => {
            let along = line.p1 - line.p0;
            (centre - line.p0).dot(along) / along.hypot2()
        }
        Edge::Arc(arc) => {
            let angle = (centre - arc.centre).atan2();
            let turn = if arc.sweep >= 0.0 { angle - arc.start } else { arc.start - angle };
            turn.rem_euclid(TAU) / arc.sweep.abs()
        }
    };
    (0.0..=1.0).contains(&t).then(|| (edge.at(t), t))
}

/// Area between the two walls and the cutter, exact for straight and round walls.
fn area(
    into: &Edge,
    out: &Edge,
    touch_in: (Point, f64),
    touch_out: (Point, f64),
    centre: Point,
    radius: f64,
) -> Option<f64> {
    let start = (touch_out.0 - centre).atan2();
    let mut sweep = ((touch_in.0 - centre).atan2() - start).rem_euclid(TAU);
    if sweep > PI {
        sweep -= TAU;
    }
    let round = Edge::Arc(Arc { centre, radius, start, sweep });
    let edges = vec![piece(out, 0.0, touch_out.1), round, piece(into, touch_in.1, 1.0)];
    Outline::new(edges).ok().map(|outline| outline.area())
}

impl Fillet {
    /// The stretches of the row `y` that lie in the fillet, widened by `slack` into the pocket.
    pub(super) fn on_row(&self, y: f64, slack: f64) -> [Option<(f64, f64)>; 2] {
        let Some(around) = disc(self.at, self.reach + slack, y) else { return [None; 2] };
        // Beyond the line between the touching places: outward · (p − middle) ≥ −slack.
        let up = self.outward.y * (y - self.middle.y) + slack;
        let x = self.middle.x - up / self.outward.x;
        let side = if self.outward.x.abs() < PARALLEL {
            if up >= 0.0 { around } else { return [None; 2] }
        } else if self.outward.x > 0.0 {
            (around.0.max(x), around.1)
        } else {
            (around.0, around.1.min(x))
        };
        let keep = |a: f64, b: f64| (a < b).then_some((a, b));
        match disc(self.centre, self.radius - slack, y) {
            None => [keep(side.0, side.1), None],
            Some(hole) => [keep(side.0, side.1.min(hole.0)), keep(side.0.max(hole.1), side.1)],
        }
    }

    /// Whether it is listed for the chisel.
    pub(super) fn is_chiselled(&self) -> bool {
        self.needed
    }

    /// Whether the row `y` can meet the fillet.
    pub(super) fn is_near(&self, y: f64, slack: f64) -> bool {
        (y - self.at.y).abs() <= self.reach + slack
    }
}

/// Puts the areas found on the rows beside what must be, and measures the diagonals exactly: from
/// the corner to the nearest path at full depth, less its cutter's radius.
pub(super) fn measure<'m>(
    areas: Vec<f64>,
    fillets: &[Fillet],
    rebate: &Rebate,
    moves: impl Iterator<Item = (&'m Move, f64)>,
    tolerance: f64,
) -> Vec<Chisel> {
    let full = rebate.platform + tolerance;
    let part = |(mv, radius): (&Move, f64)| {
        mv.below(full).map(|(t0, t1)| (piece(&mv.path, t0, t1), radius))
    };
    let deep: Vec<(Edge, f64)> = moves.filter_map(part).collect();
    let diagonal = |at: Point| {
        deep.iter().map(|(path, radius)| path.distance_to(at) - radius).reduce(f64::min)
    };
    let chisel = |(area, fillet): (f64, &Fillet)| Chisel {
        light: fillet.light.clone(),
        at: [fillet.at.x, fillet.at.y],
        needed: fillet.needed,
        area,
        expected_area: fillet.area,
        diagonal: diagonal(fillet.at),
        expected_diagonal: (fillet.centre - fillet.at).hypot() - fillet.radius,
    };
    areas.into_iter().zip(fillets).map(chisel).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::Rect;

    fn rebate(wall: Outline) -> Rebate {
        let corners = wall.corners().map(|at| Corner { at, chisel: true, cleaned: None }).collect();
        let pockets = vec![Pocket { light: "light".into(), wall, corners }];
        Rebate { platform: -27.0, pockets, go: vec![], may_go: vec![], stay: vec![] }
    }

    /// The area of a fillet summed over fine rows, each cut off where `wall` says.
    fn rows_add_up(fillet: &Fillet, wall: impl Fn(f64) -> (f64, f64)) -> f64 {
        const ROW: f64 = 1e-3;
        let on_row = |y: f64| {
            let (least, most) = wall(y);
            let stretches = fillet.on_row(y, 0.0).into_iter().flatten();
            stretches.map(|(a, b)| (b.min(most) - a.max(least)).max(0.0)).sum::<f64>()
        };
        (0..80_000).map(|i| on_row((f64::from(i) + 0.5) * ROW) * ROW).sum()
    }

    // A jamb goes on into a head round a centre below: the two fillets' areas, by their rows, are the exact
    // ones though line and arc are met at unequal distances from the corner.
    #[test]
    fn a_corner_between_line_and_arc_is_whole_on_its_rows() {
        let spring = 4.0 + (27.0_f64 * 27.0 - 25.0 * 25.0).sqrt();
        let [right, left] = [50.0, 0.0].map(|x| Point::new(x, spring));
        let centre = Point::new(25.0, 4.0);
        let start = (right - centre).atan2();
        let head = Arc { centre, radius: 27.0, start, sweep: PI - 2.0 * start };
        let foot = Point::new(50.0, 0.0);
        let wall = vec![
            Edge::line(Point::ZERO, foot),
            Edge::line(foot, right),
            Edge::Arc(head),
            Edge::line(left, Point::ZERO),
        ];
        let fillets = fillets(&rebate(Outline::new(wall).unwrap()), 10.0);
        assert_eq!(fillets.len(), 4);
        for fillet in fillets.iter().filter(|f| f.at.y > 4.0) {
            let sum = rows_add_up(fillet, |y| {
                let half = (27.0 * 27.0 - (y - 4.0) * (y - 4.0)).max(0.0).sqrt();
                ((25.0 - half).max(0.0), (25.0 + half).min(50.0))
            });
            assert_relative_eq!(sum, fillet.area, max_relative = 1e-3);
        }
    }

    // Closed forms: waste R²(1 − π/4), diagonal R(√2 − 1); R 6: 7.7257 mm², 2.4853 mm.
    #[test]
    fn square_corners_have_the_closed_form() {
        let wall = Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap();
        let fillets = fillets(&rebate(wall), 6.0);
        assert_eq!(fillets.len(), 4);
        for fillet in &fillets {
            assert_relative_eq!(fillet.area, 7.7257, epsilon = 1e-4);
            let diagonal = (fillet.centre - fillet.at).hypot() - 6.0;
            assert_relative_eq!(diagonal, 2.4853, epsilon = 1e-4);
            let sum = rows_add_up(fillet, |_| (0.0, 100.0));
            assert_relative_eq!(sum, fillet.area, epsilon = 1e-3);
        }
    }

    // Interior angle θ: R²(cot(θ/2) − (π − θ)/2).
    #[test]
    fn a_sharp_corner_has_the_general_closed_form() {
        let corners = [(0.0, 0.0), (300.0, 0.0), (0.0, 400.0)].map(Point::from);
        let fillets = fillets(&rebate(Outline::polygon(&corners).unwrap()), 6.0);
        let angle = 400.0_f64.atan2(300.0);
        let exact = 36.0 * (1.0 / (angle / 2.0).tan() - (PI - angle) / 2.0);
        let fillet = fillets.iter().find(|f| f.at.x > 299.0).unwrap();
        assert_relative_eq!(fillet.area, exact, epsilon = 1e-9);
    }
}
