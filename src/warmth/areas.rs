//! Glass, frame and the line where they meet.

use crate::geometry::Outline;
use crate::sash::Sash;
use schemars::JsonSchema;
use serde::Serialize;

/// Areas of a sash by EN ISO 10077-1, seen square to the glass.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Areas {
    /// Visible glass Ag, m².
    pub glass: f64,
    /// Stiles, rails and bars Af, m².
    pub frame: f64,
    /// Visible perimeter of all lights lg, m.
    pub perimeter: f64,
}

impl Areas {
    /// Areas of `sash` between its outer edges. They are the same before and after: the sight edges
    /// stay, and beads end at them. Bars count as frame and both their edges as perimeter, since
    /// internal bars bridge the cavity behind cut-down bars: that errs on the cold side.
    pub fn of(sash: &Sash) -> Areas {
        let sights = || sash.lights.iter().map(|light| light.outline.outline());
        let glass: f64 = sights().map(Outline::area).sum();
        let perimeter: f64 = sights().map(Outline::perimeter).sum();
        Areas {
            glass: glass / 1e6,
            frame: (sash.outer_outline.outline().area() - glass) / 1e6,
            perimeter: perimeter / 1000.0,
        }
    }

    /// Glass and frame, m².
    pub fn whole(&self) -> f64 {
        self.glass + self.frame
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    #[test]
    fn areas_are_those_of_the_drawing() {
        let areas = Areas::of(&Sash::new(&casement()).unwrap());
        // Lights of 257, 262 and 257 mm by 930 mm in a sash of 924 by 1056 mm.
        assert_relative_eq!(areas.glass, 0.776 * 0.930, epsilon = 1e-12);
        assert_relative_eq!(areas.whole(), 0.924 * 1.056, epsilon = 1e-12);
        assert_relative_eq!(areas.perimeter, 2.0 * (0.776 + 3.0 * 0.930), epsilon = 1e-12);
    }

    // Closed forms for a round sash: glass π r², all of it π R², perimeter 2 π r.
    #[test]
    fn a_round_sash_has_its_own_areas() {
        let mut survey = casement();
        survey.bars.clear();
        survey.outline = Some(crate::geometry::circle(600.0).unwrap());
        survey.sight = kurbo::Size::new(600.0, 600.0);
        survey.members =
            survey.members.map(|member| crate::survey::Member { width: 50.0, ..member.clone() });
        let areas = Areas::of(&Sash::new(&survey).unwrap());
        let pi = std::f64::consts::PI;
        assert_relative_eq!(areas.glass, 0.09 * pi, epsilon = 1e-9);
        assert_relative_eq!(areas.whole(), 0.1225 * pi, epsilon = 1e-9);
        assert_relative_eq!(areas.perimeter, 0.6 * pi, epsilon = 1e-9);
    }
}
