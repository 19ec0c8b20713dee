//! Setting blocks under a unit.

use super::UnitFit;
use crate::geometry::{COINCIDENT, Edge, Outline, Side};
use kurbo::{Point, Rect};

/// Least length of each block up to so many square metres of glass, m² and mm. VKG 3.6, after NPR 3577.
const LENGTHS: [(f64, f64); 3] = [(2.0, 50.0), (3.25, 75.0), (5.0, 100.0)];

/// Length of each block for a square metre of glass beyond, mm: 0.1 in for each square foot. US trade column
/// 2008; the metric value is worked out from it.
const LENGTH_A_SQUARE_METRE: f64 = 0.1 * 25.4 / (0.3048 * 0.3048);

/// Length of each of the two blocks under a unit, mm; never more than half of what they stand under.
pub fn block_length(unit: &UnitFit) -> f64 {
    let length = length_by_area(unit.glass_area() / 1e6).min(unit.order.width / 2.0);
    if is_level(unit) { length } else { length.min(unit.length_along(Side::Bottom) / 2.0) }
}

fn length_by_area(square_metres: f64) -> f64 {
    let row = LENGTHS.iter().find(|(most, _)| square_metres <= *most);
    row.map_or(LENGTH_A_SQUARE_METRE * square_metres, |(_, length)| *length)
}

/// The two blocks, seen on the glazing face: at the quarter points of the unit's lower edge (US trade
/// column 2008), from the rebate's wall up to the unit's edge. Under a round edge they follow both, at the
/// quarter points of its length (common practice, no source). None where the unit has no lower edge, as one
/// that ends in a point, or no gap under it.
pub fn blocks(unit: &UnitFit) -> Vec<Outline> {
    let length = block_length(unit);
    let shares = [0.25, 0.75].into_iter();
    if is_level(unit) {
        let block = |share| {
            let middle = unit.unit().x0 + share * unit.unit().width();
            Outline::rectangle(Rect::from_points(
                Point::new(middle - length / 2.0, unit.wall().y0),
                Point::new(middle + length / 2.0, unit.unit().y0),
            ))
            .ok()
        };
        return shares.filter_map(block).collect();
    }
    shares.filter_map(|share| under(unit, share, length)).collect()
}

fn is_level(unit: &UnitFit) -> bool {
    unit.outlines.unit.is_rectangle() && unit.outlines.wall.is_rectangle()
}

/// A block under the place at that share of the lower edge.
fn under(unit: &UnitFit, share: f64, length: f64) -> Option<Outline> {
    let mut along = share * unit.length_along(Side::Bottom);
    let edge = unit.outlines.unit.edges_on(Side::Bottom).find(|edge| {
        let here = along <= edge.length();
        if !here {
            along -= edge.length();
        }
        here
    })?;
    let t = |at: f64| (at / edge.length()).clamp(0.0, 1.0);
    let top = edge.part(t(along - length / 2.0), t(along + length / 2.0));
    let wall = unit.outlines.wall.outline();
    let [left, right] = [top.start(), top.end()].map(|at| wall.nearest_on(at).0);
    if (left - top.start()).hypot() <= COINCIDENT || (right - top.end()).hypot() <= COINCIDENT {
        return None;
    }
    let mut edges = wall.between(left, right);
    edges.push(Edge::line(right, top.end()));
    edges.push(top.reversed());
    edges.push(Edge::line(top.start(), left));
    Outline::new(edges).ok()
}

#[cfg(test)]
mod tests {
    use super::super::fit;
    use super::*;
    use crate::geometry::circle;
    use crate::sash::{Sash, tests::casement};
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    #[test]
    fn blocks_stand_at_the_quarter_points_and_are_as_long_as_the_area_asks() {
        // VKG 3.6: 50 mm to 2 m², 75 to 3.25, 100 to 5; the US column's 0.1 in a square foot beyond.
        for (area, length) in [(0.8, 50.0), (2.0, 50.0), (2.01, 75.0), (3.25, 75.0), (5.0, 100.0)] {
            assert_eq!(length_by_area(area), length);
        }
        assert_relative_eq!(length_by_area(6.0), 6.0 * 27.340, epsilon = 6e-3);
        let fit = fit(&Sash::new(&casement()).unwrap(), &Workshop::default()).unwrap();
        let unit = &fit.units[0];
        assert_relative_eq!(block_length(unit), 50.0);
        let [left, right] = [0, 1].map(|index| blocks(unit)[index].bounds());
        assert_relative_eq!(left.center().x - unit.unit().x0, 844.0 / 4.0);
        assert_relative_eq!(unit.unit().x1 - right.center().x, 844.0 / 4.0);
        assert_relative_eq!(left.height(), 4.0);
    }

    // A round unit of 824 mm on 4 mm blocks in a round wall of 832 mm sits about its middle; the area of
    // a block is that of the ring between both circles over its angle.
    #[test]
    fn blocks_under_a_round_unit_follow_it() {
        let mut survey = casement();
        survey.outline = Some(circle(800.0).unwrap());
        survey.unit.shape = crate::survey::UnitShape::Shaped;
        survey.sight = kurbo::Size::new(800.0, 800.0);
        survey.bars.clear();
        survey.clearance = crate::geometry::PerSide::all(4.0);
        let fit = fit(&Sash::new(&survey).unwrap(), &Workshop::default()).unwrap();
        let unit = &fit.units[0];
        let blocks = blocks(unit);
        assert_eq!(blocks.len(), 2);
        let angle = block_length(unit) / 412.0;
        for block in &blocks {
            let ring = angle / 2.0 * (416.0_f64.powi(2) - 412.0_f64.powi(2));
            assert_relative_eq!(block.area(), ring, epsilon = 1e-6);
        }
        assert_relative_eq!(blocks[0].bounds().x0 + blocks[1].bounds().x1, 800.0, epsilon = 1e-6);
    }
}
