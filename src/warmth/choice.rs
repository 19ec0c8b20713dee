//! The glass that is compared.

use super::Spacer;
use super::model::edge_seal;
use crate::glass::Properties;
use crate::glass::thermal::{GLASS, Glazing, INSIDE, OUTSIDE};
use crate::sash::Sash;

/// Old panes that nobody measured, mm: between 2 and 6 mm the U-value of a single pane hardly differs
/// (EN 673: 5.82 to 5.69), so for warmth alone this is no guess that matters.
const OLD_GLASS: f64 = 3.0;

/// Old and new glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The old panes.
    pub old: Glazing,
    /// Their thickness, mm.
    pub old_thickness: f64,
    /// The unit.
    pub new: Glazing,
    /// What keeps its panes apart; metal where the survey does not say.
    pub spacer: Spacer,
    /// Height of its edge seal, mm.
    pub seal: f64,
    /// Whether one of its faces is coated against heat.
    pub coated: bool,
}

impl Choice {
    /// Old and new glass of a sash; `None` for a bare thickness.
    pub fn of(sash: &Sash) -> Option<Choice> {
        let (unit, around) = (&sash.measured.unit, &sash.measured.around);
        let properties = Properties::of(&unit.make);
        let old_thickness = around.old_glass.unwrap_or(OLD_GLASS);
        Some(Choice {
            old: Glazing::single(old_thickness).ok()?,
            old_thickness,
            new: properties.glazing(unit)?,
            spacer: properties.spacer,
            seal: unit.spacer_height,
            coated: properties.emissivity.is_some(),
        })
    }

    /// Thickness of the new glass with its gaps, mm.
    pub fn thickness(&self) -> f64 {
        self.new.panes().iter().sum::<f64>() + self.new.widths().sum::<f64>()
    }

    /// Ψ of the edge seal if nothing but glass were beside it, W/(m K): the outermost panes are fins, each with its film
    /// and the gap on it, √(λ t (h + 1/R)), and the seal joins them at the sight edge.
    ///
    /// Ψ = (R/Rt)/(1/Gi + 1/Ge + s/(λ h)): what the gaps hold of the whole difference, over what stands in its way.
    /// Closed form of two fins; it tells one unit from another, the section tells how much is lost.
    pub fn fins(&self) -> f64 {
        let metres = |mm: f64| mm / 1000.0;
        let gaps: f64 = self.new.resistances().iter().sum();
        let fin = |pane: Option<&f64>, film: f64| {
            (GLASS * metres(pane.copied().unwrap_or_default()) * (film + 1.0 / gaps)).sqrt()
        };
        let (panes, widths) = (self.new.panes(), self.new.widths());
        let (outer, inner) = (fin(panes.first(), OUTSIDE), fin(panes.last(), INSIDE));
        let seal = edge_seal(self.spacer, self.seal) * metres(self.seal) / metres(widths.sum());
        let across = gaps * self.new.u_value();
        across / (1.0 / inner + 1.0 / outer + 1.0 / seal)
    }
}
