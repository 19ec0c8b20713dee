//! Setting blocks under a unit.

use super::UnitFit;
use kurbo::{Point, Rect};

/// Length of each block for a square metre of glass, mm: 0.1 in for each square foot. US trade column
/// 2008; the metric value is worked out from it.
const LENGTH_A_SQUARE_METRE: f64 = 0.1 * 25.4 / (0.3048 * 0.3048);

/// Shortest block, mm: 4 in. US trade column 2008.
const SHORTEST: f64 = 4.0 * 25.4;

/// Length of each of the two blocks under a unit, mm; never more than half the unit.
pub fn block_length(unit: &UnitFit) -> f64 {
    let square_metres = unit.order.area() / 1e6;
    (LENGTH_A_SQUARE_METRE * square_metres).max(SHORTEST).min(unit.order.width / 2.0)
}

/// The two blocks, seen on the glazing face: at the quarter points of the unit's width (US trade
/// column 2008), from the rebate's wall up to the unit's edge.
pub fn blocks(unit: &UnitFit) -> [Rect; 2] {
    let (length, width) = (block_length(unit), unit.unit.width());
    [0.25, 0.75].map(|share| {
        let middle = unit.unit.x0 + share * width;
        Rect::from_points(
            Point::new(middle - length / 2.0, unit.wall.y0),
            Point::new(middle + length / 2.0, unit.unit.y0),
        )
    })
}

#[cfg(test)]
mod tests {
    use super::super::fit;
    use super::*;
    use crate::sash::{Sash, tests::casement};
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    #[test]
    fn blocks_stand_at_the_quarter_points_and_are_at_least_four_inches() {
        assert_relative_eq!(LENGTH_A_SQUARE_METRE, 27.340, epsilon = 1e-3);
        let fit = fit(&Sash::new(&casement()).unwrap(), &Workshop::default()).unwrap();
        let unit = &fit.units[0];
        assert_relative_eq!(block_length(unit), 101.6);
        let [left, right] = blocks(unit);
        assert_relative_eq!(left.center().x - unit.unit.x0, 844.0 / 4.0);
        assert_relative_eq!(unit.unit.x1 - right.center().x, 844.0 / 4.0);
        assert_relative_eq!(left.height(), 4.0);
    }
}
