//! From daylight, cover and clearance to the size ordered, the wall, and where the unit rests.

use super::corner::largest_radius_between;
use super::crooked::{Pose, Seated, crooked};
use super::plan::Outlines;
use super::{InternalBar, UnitFit};
use crate::geometry::{COINCIDENT, Even, MinMax, PerSide, ShapeError, Sided};
use crate::glass;
use crate::sash::{Light, PlacedBar, Sash};
use crate::survey::{self, BarsAs, Runs, UnitShape};
use kurbo::{Point, Rect, Size, Vec2};

/// An edge that slopes by less than this, as a sine, is level.
const LEVEL: f64 = 1e-3;

/// Glazing face to platform, mm: bed, unit at its thickest and bead, less what the bead stands proud.
pub fn rebate_depth(measured: &survey::Sash) -> f64 {
    let finish = measured.finish;
    finish.bed + glass::thickest(&measured.unit) + finish.bead - finish.proud
}

/// How far behind the sight edge the unit reaches, tape counted, mm.
pub(super) fn reach(unit: &survey::Unit) -> f64 {
    unit.cover + unit.tape
}

/// Sight edge to the wall, mm, as far as the unit with its gap asks for it; an old rebate may be wider.
pub fn rebate_width(measured: &survey::Sash) -> PerSide<f64> {
    let reach = reach(&measured.unit);
    measured.clearance.map(|gap| reach + gap)
}

/// How a daylight of the sash grows to its new wall.
pub fn wall_growth(sash: &Sash, daylight: &Sided) -> Even {
    // An old rebate that is wider than needed stays as wide as it is.
    let old = PerSide::from_fn(|side| sash.neighbour(daylight, side).1.width());
    // A step in the wall would be neither cut nor filled.
    daylight.even_growth(reach(&sash.measured.unit), &sash.measured.clearance, &old)
}

/// Where every unit of the sash sits as seen from above; thickness, bed and bead have no part in it.
///
/// # Errors
/// Where the rebate or the unit cannot run round a daylight's outline; none for rectangles.
pub fn seats(sash: &Sash) -> Result<Vec<UnitFit>, ShapeError> {
    match sash.measured.bars_as {
        BarsAs::OneUnit => {
            let whole = Light {
                name: "whole sash".into(),
                sight: sash.sight,
                outline: sash.outline.clone(),
            };
            seat_unit(sash, &whole, &sash.bars).map(|unit| vec![unit])
        }
        BarsAs::UnitPerLight => {
            sash.lights.iter().map(|light| seat_unit(sash, light, &[])).collect()
        }
    }
}

fn seat_unit(sash: &Sash, light: &Light, bars: &[PlacedBar]) -> Result<UnitFit, ShapeError> {
    let choice = &sash.measured.unit;
    let sight = light.sight;
    let even = wall_growth(sash, &light.outline);
    let (outlines, order, pose) = if light.outline.is_rectangle() {
        square(sash, sight, &even.by)?
    } else if choice.shape == UnitShape::Square {
        crooked(sash, &light.outline)?
    } else {
        shaped(sash, &light.outline, &even)?
    };
    // On a side without an edge, as of a light that ends in a point, what was asked for holds.
    let nominal = |found: PerSide<MinMax>, asked: &PerSide<f64>| {
        PerSide::from_fn(|side| {
            let found = *found.get(side);
            if found.least.is_finite() { found } else { MinMax::even(*asked.get(side)) }
        })
    };
    // What a maker puts between the panes runs straight from edge to edge.
    let bars = bars.iter().filter(|bar| bar.through).map(|bar| {
        let [low, high] = ends(bar, &light.outline).map(|end| pose.local(end));
        let [low, high] = match bar.measured.runs {
            Runs::Upright => [low.x, high.x],
            Runs::Cross => [low.y, high.y],
        };
        let (from_edge, off) = (f64::midpoint(low, high), (high - low).abs() / 2.0);
        InternalBar { bar: bar.clone(), from_edge, off, width: choice.internal_bar }
    });
    Ok(UnitFit {
        light: light.name.clone(),
        order,
        rebate_width: nominal(outlines.sight.gaps_to(&outlines.wall), &even.by),
        clearance: nominal(outlines.unit.gaps_to(&outlines.wall), &sash.measured.clearance),
        cover: nominal(outlines.sight.gaps_to(&outlines.unit), &PerSide::all(reach(choice))),
        bars: bars.collect(),
        largest_cutter: largest_cutter(&outlines),
        outlines,
    })
}

fn largest_cutter(outlines: &Outlines) -> f64 {
    let glass = outlines.unit.outline();
    let corners = outlines.wall.outline().meetings();
    let radii = corners.map(|(into, out)| largest_radius_between(into, out, glass));
    radii.fold(f64::INFINITY, f64::min)
}

/// Where a bar's centre line meets the daylight's edge.
fn ends(bar: &PlacedBar, daylight: &Sided) -> [Point; 2] {
    let inside = daylight.outline().stretches_inside(&bar.path);
    let (first, last) = (inside.first().unwrap_or(&bar.path), inside.last().unwrap_or(&bar.path));
    [first.start(), last.end()]
}

/// A rectangular unit behind a rectangular daylight: sideways it is centred, downwards it rests on its
/// blocks.
fn square(sash: &Sash, sight: Rect, widths: &PerSide<f64>) -> Result<Seated, ShapeError> {
    let choice = &sash.measured.unit;
    let size = order_size(sight.size(), choice.cover, choice.order_step);
    // Where its drawing means it to be.
    let order = Rect::from_center_size(sight.center(), size);
    let taped = order.inflate(choice.tape, choice.tape);
    let wall = widths.grow(sight);
    let drop = wall.y0 + sash.measured.block_height - taped.y0;
    let outlines = Outlines {
        sight: Sided::rectangle(sight)?,
        wall: Sided::rectangle(wall)?,
        unit: Sided::rectangle(taped + Vec2::new(0.0, drop))?,
        order: Sided::rectangle(order)?,
    };
    Ok((outlines, size, Pose::at(order.origin())))
}

/// A unit that follows the daylight's outline at an even cover. No rounding to a step: its maker works
/// from the outline.
fn shaped(sash: &Sash, sight: &Sided, even: &Even) -> Result<Seated, ShapeError> {
    let choice = &sash.measured.unit;
    let order = sight.grow(&PerSide::all(choice.cover))?;
    let taped = order.grow(&PerSide::all(choice.tape))?;
    let wall = sight.grow(&even.by)?.moved(even.moved);
    let reach = reach(choice);
    let block = sash.measured.block_height;
    let drop = match least_under_tip(sight, &even.by) {
        Some(width) => block - (width - reach),
        None => wall.bounds().y0 + block - taped.bounds().y0,
    };
    let (bounds, unit) = (order.bounds(), taped.moved(Vec2::new(0.0, drop)));
    let outlines = Outlines { sight: sight.clone(), wall, unit, order };
    Ok((outlines, bounds.size(), Pose::at(bounds.origin())))
}

/// Where a light stands on a tip, as between two arcs, the lesser width of the rebates under both its
/// edges. There the walls meet further down than glass at an even cover does: let down as far as a level
/// unit it would run into them.
fn least_under_tip(sight: &Sided, widths: &PerSide<f64>) -> Option<f64> {
    let lowest = sight.bounds().y0;
    let level = |along: Vec2| along.y.abs() <= LEVEL;
    sight.meetings().find_map(|[(into, from), (out, to)]| {
        let tip = (out.start().y - lowest).abs() <= COINCIDENT
            && !level(into.direction(1.0))
            && !level(out.direction(0.0));
        tip.then(|| widths.get(from).min(*widths.get(to)))
    })
}

/// Sight size plus the cover on both sides, rounded down to the order step: a unit a little small
/// goes in, one a little large does not.
fn order_size(sight: Size, cover: f64, step: f64) -> Size {
    // Sight sizes may carry rounding from inches.
    let down = |length: f64| ((length + 2.0 * cover + COINCIDENT) / step).floor() * step;
    Size::new(down(sight.width), down(sight.height))
}

/// How far below its drawn place the unit comes to rest, mm; negative where it sits high.
pub(super) fn sits_low(unit: &UnitFit) -> f64 {
    unit.sight().center().y - unit.unit().center().y
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    #[test]
    fn one_unit_is_sight_plus_cover_and_rests_where_it_was_drawn() {
        let units = seats(&Sash::new(&casement()).unwrap()).unwrap();
        let [unit] = units.as_slice() else { panic!("one unit") };
        assert_eq!(unit.order, Size::new(844.0, 954.0));
        assert_eq!(unit.wall(), Rect::new(-14.0, -16.0, 834.0, 944.0));
        assert_eq!(unit.unit(), Rect::new(-12.0, -12.0, 832.0, 942.0));
        assert_eq!(unit.cover, PerSide::all(MinMax::even(12.0)));
        assert_eq!(sits_low(unit), 0.0);
        assert_relative_eq!(unit.bars[0].from_edge, 280.0);
        assert_relative_eq!(rebate_depth(&casement()), 2.0 + 15.0 + 10.0);
    }

    // Common practice, no source: on one 2 mm strip in a 4 mm gap the unit sits 2 mm low.
    #[test]
    fn a_low_block_lets_the_unit_down() {
        let mut survey = casement();
        survey.block_height = 2.0;
        let units = seats(&Sash::new(&survey).unwrap()).unwrap();
        let unit = &units[0];
        assert_relative_eq!(sits_low(unit), 2.0);
        assert_relative_eq!(unit.cover.top.least, 10.0);
        assert_relative_eq!(unit.cover.bottom.least, 14.0);
        assert_relative_eq!(unit.clearance.top.least, 4.0);
    }

    // 2 mm at the sides and top and 4 at the bottom (common practice, no source). Separate arithmetic: a circle of radius
    // 262 has these gaps to one of radius 265 whose centre lies 1 mm lower.
    #[test]
    fn round_a_round_unit_lies_a_round_wall_with_room_for_blocks() {
        let mut survey = casement();
        survey.outline = Some(crate::geometry::circle(500.0).unwrap());
        survey.unit.shape = UnitShape::Shaped;
        survey.sight = Size::new(500.0, 500.0);
        survey.bars.clear();
        let units = seats(&Sash::new(&survey).unwrap()).unwrap();
        let [unit] = units.as_slice() else { panic!("one unit") };
        let (centre, radius) = (Point::new(250.0, 249.0), 250.0 + 12.0 + 3.0);
        for edge in unit.outlines.wall.outline().edges() {
            let crate::geometry::Edge::Arc(arc) = edge else { panic!("an arc") };
            assert_relative_eq!(arc.radius, radius, epsilon = 1e-9);
            assert_relative_eq!((arc.centre - centre).hypot(), 0.0, epsilon = 1e-9);
        }
        assert_relative_eq!(unit.unit().center().y, 250.0, epsilon = 1e-9);
        assert_relative_eq!(unit.cover.top.least, 12.0, epsilon = 1e-9);
        // From a place on the unit at angle φ to the wall: R − √(r² + 2 r sin φ + 1).
        for eighth in 0..8 {
            let turn = f64::from(eighth) * std::f64::consts::FRAC_PI_4;
            let place = Point::new(250.0, 250.0) + 262.0 * Vec2::from_angle(turn);
            let gap = unit.outlines.wall.outline().distance_to(place);
            let away = (262.0_f64.powi(2) + 2.0 * 262.0 * turn.sin() + 1.0).sqrt();
            assert_relative_eq!(gap, radius - away, epsilon = 1e-9);
        }
        assert_relative_eq!(unit.clearance.top.least, 2.0, epsilon = 1e-9);
        assert_relative_eq!(unit.clearance.bottom.most, 4.0, epsilon = 1e-9);
        for side in [unit.clearance.left, unit.clearance.right] {
            assert!(side.least >= 2.0 && side.most <= 4.0, "{side:?}");
        }
    }

    #[test]
    fn a_wider_old_rebate_and_a_rounded_order_show_in_the_clearance() {
        let mut survey = casement();
        survey.sight.width = 820.6;
        survey.members.left.old = crate::survey::OldGlazing::Rebate { width: 20.0, depth: 17.0 };
        let units = seats(&Sash::new(&survey).unwrap()).unwrap();
        let unit = &units[0];
        assert_relative_eq!(unit.order.width, 844.0);
        assert_relative_eq!(unit.cover.left.least, 11.7, epsilon = 1e-9);
        assert_relative_eq!(unit.clearance.left.least, 8.3, epsilon = 1e-9);
        assert_relative_eq!(unit.clearance.right.least, 2.3, epsilon = 1e-9);
    }

    #[test]
    fn a_unit_in_each_light_has_its_own_wall() {
        let mut survey = casement();
        survey.bars_as = BarsAs::UnitPerLight;
        survey.unit.cover = 5.0;
        let units = seats(&Sash::new(&survey).unwrap()).unwrap();
        assert_eq!(units.len(), 3);
        // The old rebates of 9 mm are wider than 5 + 2, so they stay.
        assert_eq!(units[1].wall(), Rect::new(270.0, -9.0, 550.0, 939.0));
        assert_eq!(units[1].order, Size::new(272.0, 940.0));
    }
}
