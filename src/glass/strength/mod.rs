//! What the panes of a unit bear: wind, and the weather shut in between them.
//!
//! Every pane is a plate simply supported on all its edges; panes of a sealed unit share a load
//! through the gas ([`sharing`](Sealed)). Promised: the largest stress in the middle of each pane, each
//! case with as much of the others as comes along with it; of a pane that is no rectangle, no less than it is under wind on like panes ([`shaped`]). Not promised:
//! how such a pane gives way to the gas shut in, glass heated by sun and shade (`warmth` judges that),
//! holes, people, hail, damage at the edge; and never the maker's own word on the unit and its guarantee. Where it is large, high or exposed, someone qualified works it out.

mod climate;
mod judge;
mod pane;
mod plate;
mod sharing;
mod winter;

pub use crate::survey::Treatment;
pub use climate::{Air, Climate};
pub use judge::judge;
pub use pane::{Lasts, Pane, Plies};
pub use plate::{Coefficients, coefficients, round, shaped};
pub use sharing::{STIFFNESS, Sealed, unit_factor};
pub use winter::Winter;

use crate::finding::Finding;
use crate::survey::BuildUp;
use kurbo::Size;
use schemars::JsonSchema;
use serde::Serialize;

/// Poisson's ratio of glass. EN 572-1 (published, reproduced).
const POISSON: f64 = 0.2;

/// N/mm² in a pascal.
pub(crate) const PASCAL: f64 = 1e-6;

/// What one pane carries in one case, loads multiplied by their factor.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct PaneLoad {
    /// Counted from the outside, the first is 1.
    pub pane: usize,
    /// Pressure, Pa; towards the room is positive.
    pub pressure: f64,
    /// Largest stress in its middle, N/mm².
    pub stress: f64,
    /// Stress it may bear for so long, N/mm².
    pub permissible: f64,
    /// Deflection in its middle, mm; towards the room is positive. Of a shaped pane that of the
    /// rectangle around it, which a round head passes by up to 6 %.
    pub deflection: f64,
}

impl PaneLoad {
    /// Stress as a share of what it may be.
    pub fn share(&self) -> f64 {
        self.stress / self.permissible
    }

    /// Of every pane that of both loads which brings it nearer to what it may bear, the first of equals.
    fn worst_of_each(one: Vec<PaneLoad>, other: Vec<PaneLoad>) -> Vec<PaneLoad> {
        let worse = |(a, b): (PaneLoad, PaneLoad)| if b.share() > a.share() { b } else { a };
        one.into_iter().zip(other).map(worse).collect()
    }
}

/// One load and what it does to every pane.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Case {
    /// `wind`, `a hot day`, …
    pub name: String,
    /// From the outside in.
    pub panes: Vec<PaneLoad>,
}

impl Case {
    /// The pane that comes nearest to what it may bear.
    pub fn worst(&self) -> Option<&PaneLoad> {
        self.panes.iter().max_by(|a, b| a.share().total_cmp(&b.share()))
    }
}

/// What a unit bears, worked out and judged.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Strength {
    /// Insulating unit factor φ of two panes: near 1 they are too stiff to give way to the gas.
    pub unit_factor: Option<f64>,
    /// The length that its shorter edge is under, mm, where float panes crack more easily from weather.
    pub short_edge: Option<f64>,
    /// Whether the source wants no proof of such a unit.
    pub exempt: bool,
    /// How its cavities close in the cold; none where that was not asked.
    pub winter: Option<Winter>,
    /// Wind first, then each climate; in each every pane under the sum of loads that is worst for it.
    pub cases: Vec<Case>,
    /// Judgements.
    pub findings: Vec<Finding>,
}

/// A unit whose panes are known.
#[derive(Debug, Clone, PartialEq)]
pub struct GlassUnit {
    panes: Vec<Pane>,
    cavities: Vec<f64>,
    size: Size,
    plate: Coefficients,
    /// What its stress is multiplied by: 1 of a rectangle.
    shape: f64,
}

impl GlassUnit {
    /// A unit of `size` mm; `None` for a bare thickness or a size that is none.
    pub fn new(build_up: &BuildUp, treatment: Treatment, size: Size) -> Option<GlassUnit> {
        let BuildUp::Panes { cavities, .. } = build_up else { return None };
        let panes = Pane::all(build_up, treatment)?;
        let real = |length: f64| length > 0.0 && length.is_finite();
        (real(size.width) && real(size.height)).then(|| GlassUnit {
            panes,
            cavities: cavities.clone(),
            size,
            plate: coefficients(size.max_side() / size.min_side(), POISSON),
            shape: 1.0,
        })
    }

    /// The unit as one that is no rectangle, its size that of the upright rectangle around it.
    #[must_use]
    pub fn shaped(self) -> GlassUnit {
        GlassUnit { shape: shaped(POISSON), ..self }
    }

    /// What every pane carries under `outside` Pa on the outermost and `sealed_in` Pa in the cavities
    /// if no pane gave way. Laminated panes are taken with plies loose and plies bonded, and the worse
    /// of both counts.
    fn carry(&self, outside: f64, sealed_in: f64, lasts: Lasts) -> Vec<PaneLoad> {
        let loose = self.carry_as(outside, sealed_in, lasts, Plies::Loose);
        if !self.panes.iter().any(Pane::plied) {
            return loose;
        }
        PaneLoad::worst_of_each(loose, self.carry_as(outside, sealed_in, lasts, Plies::Bonded))
    }

    /// t³ of each pane, mm³, its plies as told.
    fn cubes(&self, plies: Plies) -> Vec<f64> {
        self.panes.iter().map(|pane| pane.stiffness(plies)).collect()
    }

    fn sealed<'a>(&'a self, cubes: &'a [f64]) -> Sealed<'a> {
        let (short, plate) = (self.size.min_side(), self.plate);
        Sealed { cubes, cavities: &self.cavities, short, plate }
    }

    fn carry_as(&self, outside: f64, sealed_in: f64, lasts: Lasts, plies: Plies) -> Vec<PaneLoad> {
        let (cubes, short, plate) = (self.cubes(plies), self.size.min_side(), self.plate);
        let loads = self.sealed(&cubes).loads(outside, sealed_in);
        let panes = self.panes.iter().zip(cubes.iter().zip(loads)).enumerate();
        panes
            .map(|(index, (pane, (cube, pressure)))| {
                let load = pressure * PASCAL;
                PaneLoad {
                    pane: index + 1,
                    pressure,
                    stress: self.shape * plate.stress * load.abs() * short.powi(2)
                        / pane.resistance(plies),
                    permissible: pane.treatment.permissible(lasts),
                    deflection: plate.deflection * load * short.powi(4)
                        / (sharing::STIFFNESS * cube),
                }
            })
            .collect()
    }

    /// The length that an edge is under, mm, where float panes crack more easily from weather: 500 of a double unit,
    /// 700 of a triple one. DIN 18008-2:2010-12, 7.5, note (published, quoted in a trade magazine).
    fn short_edge(&self) -> Option<f64> {
        let float = self.panes.iter().any(|pane| pane.treatment == Treatment::Annealed);
        let under = if self.cavities.len() > 1 { 700.0 } else { 500.0 };
        (float && self.size.min_side() < under).then_some(under)
    }

    /// Whether a unit held along all edges wants no proof under `wind` Pa: two panes of 4 mm or more that differ by 4 at
    /// most, a cavity of 16 at most, 1.6 m² and 800 Pa at most. TRLV 08/2006, kept in DIN 18008-2:2010, 7.5 (published,
    /// quoted in a guide).
    fn exempt(&self, wind: f64) -> bool {
        let [outer, inner] = &*self.panes else { return false };
        let [outer, inner] = [outer, inner].map(Pane::glass);
        let thick = outer.min(inner) >= 4.0 && (outer - inner).abs() <= 4.0;
        let small = self.size.area() <= 1.6e6 && self.cavities.iter().all(|&width| width <= 16.0);
        thick && small && wind <= 800.0
    }

    /// φ with plies bonded, the stiffer way.
    fn unit_factor(&self) -> Option<f64> {
        unit_factor(&self.sealed(&self.cubes(Plies::Bonded)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // TRLV 08/2006 (published): 1.6 m², 4 mm, 4 mm of difference, 16 mm of cavity, 800 Pa; of two panes.
    #[test]
    fn small_double_units_want_no_proof() {
        let exempt = |build_up: &str, size: (f64, f64), wind| {
            let size = Size::new(size.0, size.1);
            GlassUnit::new(&build_up.parse().unwrap(), Treatment::Annealed, size)
                .unwrap()
                .exempt(wind)
        };
        assert!(exempt("4-6-4", (300.0, 400.0), 800.0));
        assert!(exempt("8-16-4", (1000.0, 1600.0), 800.0));
        assert!(!exempt("4-6-4", (300.0, 400.0), 801.0));
        assert!(!exempt("4-6-4", (1000.0, 1601.0), 800.0));
        assert!(!exempt("3-6-4", (300.0, 400.0), 800.0));
        assert!(!exempt("9-6-4", (300.0, 400.0), 800.0));
        assert!(!exempt("4-18-4", (300.0, 400.0), 800.0));
        assert!(!exempt("4-8-4-8-4", (300.0, 400.0), 800.0));
    }
}
