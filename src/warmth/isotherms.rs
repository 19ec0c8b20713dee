//! Lines of even warmth through a section, to be drawn.

use super::conduction::Field;
use super::conduction::grid::Fineness;
use super::model::Model;
use super::{Choice, Conditions};
use crate::lately::Lately;
use crate::section::Cross;
use kurbo::Point;

/// Fine enough that lines look smooth at true size.
const FINENESS: Fineness = Fineness { beside: 1.2, growth: 1.5 };

/// Between two lines, K.
const STEP: f64 = 2.0;

/// A line of even warmth, in pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct Isotherm {
    /// °C.
    pub temperature: f64,
    /// Its pieces, in no order.
    pub pieces: Vec<[Point; 2]>,
}

/// A section and how warm it is on the stated day. Everything in the frame of the section.
#[derive(Debug, Clone, PartialEq)]
pub struct Warm {
    /// Every second degree.
    pub isotherms: Vec<Isotherm>,
    /// Where it is as warm as the dew point; without a dew point, none.
    pub dew: Option<Isotherm>,
    /// The coldest place on the room side.
    pub coldest: Point,
    /// Corners of the glass.
    pub glass: Vec<Vec<Point>>,
    /// Corners of putty, sealant and tape.
    pub sealant: Vec<Vec<Point>>,
}

/// A section before and after; `None` where one has no answer.
pub fn warm(
    cross: &Cross<'_>,
    choice: &Choice,
    on: &Conditions,
    dew: Option<f64>,
) -> Option<[Warm; 2]> {
    let before = Model::before(cross, choice.old_thickness);
    let after = Model::after(cross, &choice.new, choice.spacer);
    let [before, after] = [before, after].map(|model| {
        let drawn =
            DRAWN.ask((model, *on, dew), |(model, on, dew)| Warm::of(model, on, *dew).ok_or(()));
        drawn.ok()
    });
    Some([before?, after?])
}

/// Sections that were drawn.
static DRAWN: Lately<(Model, Conditions, Option<f64>), Warm> = Lately::new(64);

impl Warm {
    fn of(model: &Model, on: &Conditions, dew: Option<f64>) -> Option<Warm> {
        let body = model.body(FINENESS);
        let field = model.solve(&body)?;
        let ((column, row), _) = field.coldest(0.5)?;
        let coldest = Point::new(*body.xs.get(column)?, *body.ys.get(row)?);
        let whole = on.inside - on.outside;
        let line = |temperature: f64| {
            let mut pieces = pieces(&body.xs, &body.ys, &field, (temperature - on.outside) / whole);
            // A sloping face stands in steps on the grid, a part of which lies before it.
            pieces.retain(|[a, b]| model.conductivity(a.midpoint(*b)) > 0.0);
            Isotherm { temperature, pieces }
        };
        let first = (on.outside.min(on.inside) / STEP).ceil();
        let steps = (0..200_u32).map(|step| STEP * (first + f64::from(step)));
        let within = steps.take_while(|at| *at <= on.inside.max(on.outside));
        let isotherms = within.map(line).filter(|line| !line.pieces.is_empty());
        let [glass, sealant] = model.drawn();
        Some(Warm { isotherms: isotherms.collect(), dew: dew.map(line), coldest, glass, sealant })
    }
}

/// Where a field has `level`: a piece through each triangle, four to a cell, that it crosses.
fn pieces(xs: &[f64], ys: &[f64], field: &Field, level: f64) -> Vec<[Point; 2]> {
    let mut pieces = Vec::new();
    for (column, (x0, x1)) in xs.iter().zip(xs.iter().skip(1)).enumerate() {
        for (row, (y0, y1)) in ys.iter().zip(ys.iter().skip(1)).enumerate() {
            let corners = [(0, 0, x0, y0), (1, 0, x1, y0), (1, 1, x1, y1), (0, 1, x0, y1)];
            let known = corners.map(|(right, up, x, y)| {
                Some((Point::new(*x, *y), field.within((column, row), (column + right, row + up))?))
            });
            let [Some(a), Some(b), Some(c), Some(d)] = known else { continue };
            let middle = a.0.midpoint(c.0);
            let centre = (middle, (a.1 + b.1 + c.1 + d.1) / 4.0);
            for (p, q) in [(a, b), (b, c), (c, d), (d, a)] {
                let sides = [(p, q), (q, centre), (centre, p)];
                let cuts: Vec<Point> =
                    sides.into_iter().filter_map(|(p, q)| cut(p, q, level)).collect();
                pieces.extend(<[Point; 2]>::try_from(cuts).ok());
            }
        }
    }
    pieces
}

/// Where a side of a triangle has `level`, if one of its ends is under it and the other is not.
fn cut((p, low): (Point, f64), (q, high): (Point, f64), level: f64) -> Option<Point> {
    ((low < level) != (high < level)).then(|| p.lerp(q, (level - low) / (high - low)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::warmth::conduction::{Body, Film};
    use approx::assert_relative_eq;

    // Closed form: a wall of one layer, films of 10 and 10 W/(m²K) and 0.1 m of 1 W/(m K): a third of the way lies in each,
    // so that half of the difference is met in its middle.
    #[test]
    fn half_way_is_in_the_middle_of_a_wall() {
        let (xs, ys) = (vec![0.0, 40.0, 100.0], vec![0.0, 30.0, 70.0, 100.0]);
        let body = Body { xs, ys, conductivity: vec![1.0; 6] };
        let field = body.solve(|at, out| match out.y {
            0.0 => None,
            _ => Some(Film { conductance: 10.0, temperature: if at.y < 50.0 { 1.0 } else { 0.0 } }),
        });
        let field = field.unwrap();
        let found = pieces(&body.xs, &body.ys, &field, 0.5);
        let length: f64 = found.iter().map(|[a, b]| (*b - *a).hypot()).sum();
        assert!(found.iter().flatten().all(|at| (at.y - 50.0).abs() < 1e-9));
        assert_relative_eq!(length, 100.0, epsilon = 1e-9);
        assert!(pieces(&body.xs, &body.ys, &field, 0.7).is_empty());
    }
}
