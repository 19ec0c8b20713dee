//! How far makers, rules and routers may be out.

use crate::glass::EXPANSION;
use crate::survey::{Allowances, BuildUp, Pane};
use kurbo::Size;

/// What a pane `length` mm long gains in the sun, mm.
pub(super) fn expands(length: f64, allowances: &Allowances) -> f64 {
    length * EXPANSION * (allowances.glass_hot - allowances.glass_now).max(0.0)
}

/// How far width and height of a unit of `size` mm, and one pane against the other, may be out, mm. EN 1279-1:2018 (from
/// memory): 2 mm for sides to 2 m and panes to 6 mm, 3 mm to 3.5 m and 12 mm, 4 mm to 5 m and 12 mm, 5 mm beyond. A bare
/// thickness counts as panes to 6 mm.
pub fn size_tolerance(build_up: &BuildUp, size: Size) -> f64 {
    let thickest = match build_up {
        BuildUp::Panes { panes, .. } => panes.iter().map(Pane::thickness).fold(0.0, f64::max),
        BuildUp::Bare(_) => 0.0,
    };
    let rows = [(2000.0, 6.0, 2.0), (3500.0, 12.0, 3.0), (5000.0, 12.0, 4.0)];
    let fits = |&&(side, pane, _): &&(f64, f64, f64)| size.max_side() <= side && thickest <= pane;
    rows.iter().find(fits).map_or(5.0, |&(_, _, most)| most)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // EN 1279-1:2018 (from memory).
    #[test]
    fn larger_and_thicker_units_may_be_further_out() {
        for (build_up, side, most) in [
            ("4-6-4", 2000.0, 2.0),
            ("14", 900.0, 2.0),
            ("6.4-6-4", 900.0, 3.0),
            ("4-6-4", 2001.0, 3.0),
            ("4-6-4", 4000.0, 4.0),
            ("16-6-4", 900.0, 5.0),
        ] {
            let tolerance = size_tolerance(&build_up.parse().unwrap(), Size::new(500.0, side));
            assert_eq!(tolerance, most, "{build_up} {side}");
        }
    }

    #[test]
    fn a_metre_of_glass_gains_a_third_of_a_millimetre_in_the_sun() {
        // 1000 × 9e-6 × 40.
        assert_relative_eq!(expands(1000.0, &Allowances::default()), 0.36, epsilon = 1e-12);
        let cold = Allowances { glass_hot: 0.0, ..Allowances::default() };
        assert_eq!(expands(1000.0, &cold), 0.0);
    }
}
