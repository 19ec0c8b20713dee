//! A rectangular unit behind a daylight that is out of square: the smallest new rebate that hides the
//! spacer all round.

use super::plan::Outlines;
use crate::geometry::enclosing::{Wanted, enclosing};
use crate::geometry::{MinMax, Outline, PerSide, ShapeError, Side, Sided, corners};
use crate::sash::Sash;
use kurbo::{Affine, Point, Rect, Size, Vec2};

/// Furthest that a unit is turned in its sash, degrees: a sash further out of square wants a shaped unit.
const MOST_TURNED: f64 = 3.0;

/// The rectangle's own frame: its lower left corner at zero, its lower edge along +X.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pose(Affine);

/// Outlines, the size to order, and the frame that it is measured in.
pub(super) type Seated = (Outlines, Size, Pose);

impl Pose {
    /// Not turned, with the corner there.
    pub(super) fn at(corner: Point) -> Pose {
        Pose(Affine::translate(corner.to_vec2()))
    }

    /// Where a point of the sash lies in the rectangle's own frame.
    pub(super) fn local(&self, point: Point) -> Point {
        self.0.inverse() * point
    }

    fn sided(&self, rect: Rect) -> Result<Sided, ShapeError> {
        // Turned so little, every edge looks to its own side still.
        let turned = Outline::polygon(&corners(rect).map(|corner| self.0 * corner))?;
        Ok(Sided::by_direction(turned))
    }
}

/// Seats the rectangle with the least wood to remove that covers the daylight everywhere by at least the
/// unit's cover (see [`enclosing`] for the proof that none is better), rounded up to the order step.
pub(super) fn crooked(sash: &Sash, sight: &Sided) -> Result<Seated, ShapeError> {
    let choice = &sash.measured.unit;
    let gaps = sash.measured.clearance.map(|gap| gap + choice.tape);
    let wanted = Wanted {
        margin: PerSide::all(choice.cover),
        step: choice.order_step,
        grown: Size::new(gaps.left + gaps.right, gaps.bottom + gaps.top),
        limit: MOST_TURNED.to_radians(),
    };
    let found = enclosing(sight, &wanted);
    let [corner, ..] = found.corners();
    let pose = Pose(Affine::translate(corner.to_vec2()) * Affine::rotate(found.turn));
    let order = Rect::from_origin_size(Point::ZERO, found.size);
    let taped = order.inflate(choice.tape, choice.tape);
    let wall = sash.measured.clearance.grow(taped);
    let drop = sash.measured.block_height - sash.measured.clearance.bottom;
    let outlines = Outlines {
        sight: sight.clone(),
        wall: pose.sided(wall)?,
        unit: pose.sided(taped + Vec2::new(0.0, drop))?,
        order: pose.sided(order)?,
    };
    Ok((outlines, found.size, pose))
}

/// How much wider the rebate of a rectangular unit is at its widest than that of a unit shaped to the
/// daylight would be, mm, and where.
pub(super) fn wider_than_shaped(widths: &PerSide<MinMax>, shaped: &PerSide<f64>) -> (Side, f64) {
    let extra = PerSide::from_fn(|side| widths.get(side).most - shaped.get(side));
    let most = extra.iter().max_by(|(_, a), (_, b)| a.total_cmp(b));
    most.map_or((Side::Left, 0.0), |(side, extra)| (side, *extra))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::geometry::Outline;
    use crate::sash::tests::casement;
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    // By hand: the right edge leans out by 6 mm over 930; with 12 mm of cover the narrowest rectangle
    // that lies flush with the lower edge is 826 + 24 wide.
    #[test]
    fn a_leaning_stile_makes_the_unit_wider_and_tapers_the_rebate() {
        let mut survey = casement();
        let corners = [(0.0, 0.0), (820.0, 0.0), (826.0, 930.0), (0.0, 930.0)].map(Point::from);
        survey.outline = Some(Sided::by_direction(Outline::polygon(&corners).unwrap()));
        survey.sight = Size::new(826.0, 930.0);
        survey.bars.clear();
        let sash = Sash::new(&survey).unwrap();
        let fit = fit(&sash, &Workshop::default()).unwrap();
        let unit = &fit.units[0];
        assert_relative_eq!(unit.order.width, 850.0, epsilon = 1e-9);
        assert_relative_eq!(unit.order.height, 954.0, epsilon = 1e-9);
        let MinMax { least, most } = unit.cover.right;
        assert_relative_eq!(least, 12.0, epsilon = 1e-6);
        assert_relative_eq!(most, 18.0, epsilon = 1e-4);
        assert_relative_eq!(unit.cover.left.most, 12.0, epsilon = 1e-6);
        assert_relative_eq!(unit.clearance.bottom.least, 4.0, epsilon = 1e-6);
        assert_relative_eq!(unit.clearance.right.least, 2.0, epsilon = 1e-6);
        let taper = fit.findings.iter().find(|finding| finding.rule == "fit.taper").unwrap();
        assert_relative_eq!(taper.measured.value, 6.0, epsilon = 1e-4);
    }
}
