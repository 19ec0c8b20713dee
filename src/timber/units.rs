//! Which units bite into which part of the sash.

use crate::fit::{Fit, UnitFit};
use crate::geometry::{COINCIDENT, MinMax, Side};
use crate::sash::{Part, PlacedBar, Sash};
use crate::survey::{Bar, Runs};

/// Whether the edge of a unit on `side` lies in the wood behind the sight edge at `sight_edge`.
fn bears(unit: &UnitFit, side: Side, sight_edge: f64) -> bool {
    (side.of(unit.sight()) - sight_edge).abs() <= COINCIDENT
}

/// The units that bear on the member on `side`.
pub(super) fn on_member<'a>(
    sash: &Sash,
    fit: &'a Fit,
    side: Side,
) -> impl Iterator<Item = &'a UnitFit> {
    let sight_edge = side.of(sash.sight);
    let square = sash.outline.is_rectangle();
    fit.units.iter().filter(move |unit| {
        if square {
            return bears(unit, side, sight_edge);
        }
        // Under a curved or slanting head no light need reach as high as the daylight does.
        let mut edges = unit.outlines.sight.edges();
        edges.any(|(edge, own)| sash.along(edge, own) == Part::Member(side))
    })
}

/// The new rebate in the member on `side`, over all units that bear on it; 0 for none.
pub(super) fn rebate_in_member(sash: &Sash, fit: &Fit, side: Side) -> MinMax {
    let widths = on_member(sash, fit, side).map(|unit| *unit.rebate_width.get(side));
    widths.reduce(MinMax::or).unwrap_or(MinMax::even(0.0))
}

/// The widest new rebate on each side of a bar that carries a unit on either: left then right of an
/// upright bar, below then above a cross bar; 0 for none.
pub(super) fn rebates_in_bar(sash: &Sash, fit: &Fit, bar: &PlacedBar) -> (f64, f64) {
    if bar.is_square() { square_bar(fit, &bar.measured) } else { along_bar(sash, fit, bar) }
}

/// Of a bar that slants or bends: every edge of a unit's daylight that runs along it, to the left of its
/// centre line and to the right.
fn along_bar(sash: &Sash, fit: &Fit, bar: &PlacedBar) -> (f64, f64) {
    let (mut before, mut after) = (0.0_f64, 0.0_f64);
    for unit in &fit.units {
        let edges = unit.outlines.sight.edges();
        for (edge, side) in edges.filter(|(edge, own)| sash.along(edge, *own) == Part::Bar(bar)) {
            let (middle, width) = (edge.at(0.5), unit.rebate_width.get(side).most);
            let t = bar.path.nearest(middle);
            let aside = bar.path.direction(t).cross(middle - bar.path.at(t));
            let widest = if aside > 0.0 { &mut before } else { &mut after };
            *widest = widest.max(width);
        }
    }
    (before, after)
}

fn square_bar(fit: &Fit, bar: &Bar) -> (f64, f64) {
    let (before, after) = match bar.runs {
        Runs::Upright => (Side::Right, Side::Left),
        Runs::Cross => (Side::Top, Side::Bottom),
    };
    let widest = |side, sight_edge| {
        let own = fit.units.iter().filter(|unit| bears(unit, side, sight_edge));
        let widths = own.map(|unit| unit.rebate_width.get(side).most);
        widths.fold(0.0, f64::max)
    };
    (widest(before, bar.centre - bar.width / 2.0), widest(after, bar.centre + bar.width / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::geometry::{Head, Height, arched};
    use crate::sash::tests::casement;
    use crate::survey::{BarsAs, Workshop};

    // Two lights beside a bar in the middle of an arch: neither reaches the crown, both bear on the head.
    #[test]
    fn lights_below_the_crown_bear_on_the_head() {
        let mut survey = casement();
        survey.outline =
            Some(arched(820.0, Height::Springing(800.0), Head::Segmental { rise: 120.0 }).unwrap());
        survey.sight = kurbo::Size::new(820.0, 920.0);
        survey.bars.truncate(1);
        survey.bars[0].centre = 410.0;
        survey.bars[0].width = 40.0;
        survey.bars_as = BarsAs::UnitPerLight;
        let sash = Sash::new(&survey).unwrap();
        let fit = fit::fit(&sash, &Workshop::default()).unwrap();
        assert_eq!(on_member(&sash, &fit, Side::Top).count(), 2);
        assert_eq!(on_member(&sash, &fit, Side::Left).count(), 1);
        assert!(rebate_in_member(&sash, &fit, Side::Top).most > 13.9);
    }
}
