//! A sash before and after.

use super::sections::{PartHeat, Sections, factor_at};
use super::{
    Areas, Choice, Conditions, HeatStress, dew_point, frame_u, humidity, linear, rating, stress,
    whole_window, yearly_heat, yearly_sun,
};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::glass::solar_factor;
use crate::glass::thermal::Glazing;
use crate::language::text;
use crate::sash::Sash;
use schemars::JsonSchema;
use serde::Serialize;

/// Uf is never taken to be less, W/(m²K): nothing that is cut so deep is.
const LEAST_FRAME: f64 = 0.5;

/// Where Uf and Ψ come from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Basis {
    /// A two-dimensional calculation of each section of this sash.
    Sections,
    /// That of another unit in this sash; Ψ as much more or less as panes and spacer let through more or less.
    OtherUnit,
    /// Tables of the trade.
    Tables,
}

/// Uf and Ψ of a sash.
#[derive(Debug, Clone, PartialEq)]
pub enum Losses {
    /// From tables.
    Tables,
    /// From the sections of the sash.
    Sections(Sections),
    /// As with another unit.
    OtherUnit(Known),
}

/// What one unit tells of another in the same sash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known {
    /// Uf before and after, W/(m²K).
    frame_u: [f64; 2],
    /// What Uf changes by for each mm that a unit is thicker.
    thicker: f64,
    /// Thickness of the known unit, mm.
    thickness: f64,
    /// Its Ψ as a share of [`Choice::fins`].
    share: f64,
}

/// The coldest place on the room side along the edges of the glass.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Edge {
    /// The stile, rail or bar it lies on.
    pub part: String,
    /// f_Rsi, 0 to 1: which part of the way from outdoors to the room it is warm.
    pub factor: f64,
    /// How warm it is on the stated day, °C.
    pub temperature: f64,
    /// It stays dry down to this temperature outdoors, °C.
    pub dry_down_to: Option<f64>,
}

/// What would keep the edge dry on the stated day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Cure {
    /// An improved spacer keeps it dry down to this temperature outdoors, °C; none where it has one.
    pub improved_spacer: Option<f64>,
    /// Air in the room no damper than this, 0 to 1.
    pub humidity: f64,
}

/// One side of the comparison: before, or after.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Side {
    /// Ug, W/(m²K).
    pub glass_u: f64,
    /// Uf of stiles, rails and bars, W/(m²K).
    pub frame_u: f64,
    /// Ψ at the edge of the glass, W/(m K).
    pub linear: f64,
    /// Uw of the whole sash, W/(m²K).
    pub whole_u: f64,
    /// Share of the whole heat that passes at the edges of the glass, 0 to 1.
    pub edge_share: f64,
    /// Room side of the glass in its middle, °C.
    pub room_surface: f64,
    /// The edge of the glass; none where no section was reckoned.
    pub edge: Option<Edge>,
    /// g of the glass, 0 to 1: what of the sun comes through.
    pub solar: f64,
    /// British window rating, kWh/m² a year: sun less loss, draughts left out.
    pub rating: f64,
    /// Heat of a year, kWh; none without degree hours.
    pub yearly: Option<f64>,
    /// Sun of a year's heating season, kWh; none without degree hours.
    pub sun: Option<f64>,
}

/// Warmth of a sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Warmth {
    /// Areas, the same before and after.
    pub areas: Areas,
    /// Where Uf and Ψ come from.
    pub basis: Basis,
    /// With the old panes.
    pub before: Side,
    /// With the unit.
    pub after: Side,
    /// Each stile, rail and bar that was reckoned from its section.
    pub parts: Vec<PartHeat>,
    /// Room and weather that temperatures hold for.
    pub conditions: Conditions,
    /// What Uf changes by for each mm that a unit is thicker; nought where no section was reckoned.
    #[serde(skip)]
    pub thicker: f64,
    /// Dew point of the room, °C.
    pub dew_point: Option<f64>,
    /// Whether the spacer was not stated, and is taken as metal.
    pub spacer_assumed: bool,
    /// The pane that sun on its middle and shade on its edge draw most.
    pub heat_stress: Option<HeatStress>,
    /// Uw of the whole sash with the unit by the tables of the trade, W/(m²K).
    pub by_tables: f64,
    /// Where the edge is wet on that day: what would keep it dry.
    pub cure: Option<Cure>,
    /// Sun that a year loses to more panes and their coat, kWh; none without degree hours.
    pub sun_lost: Option<f64>,
    /// Heat that a year saves, kWh, the sun that is lost taken off; none without degree hours.
    pub saved: Option<f64>,
    /// Judgements.
    pub findings: Vec<Finding>,
}

impl Warmth {
    /// What another unit in the same sash is reckoned with; `choice` is what this one was worked out for.
    pub fn losses(&self, choice: &Choice) -> Losses {
        if self.basis == Basis::Tables {
            return Losses::Tables;
        }
        let share = self.after.linear / choice.fins();
        let frame_u = [self.before.frame_u, self.after.frame_u];
        let (thicker, thickness) = (self.thicker, choice.thickness());
        Losses::OtherUnit(Known { frame_u, thicker, thickness, share })
    }
}

fn table(choice: &Choice) -> f64 {
    linear(Some(choice.spacer), choice.coated)
}

fn table_frame_u(sash: &Sash) -> f64 {
    frame_u(&sash.measured.timber, sash.measured.thickness().least)
}

/// Where a place that is warm by `factor` of the way meets the dew point, °C outdoors:
/// θe = (θd − f θi)/(1 − f). EN ISO 13788.
fn dry_down_to(factor: f64, dew: f64, inside: f64) -> Option<f64> {
    (factor < 1.0).then(|| (dew - factor * inside) / (1.0 - factor))
}

/// Down to what temperature outdoors, °C, the edge of another unit in the same sash stays dry: at the part where the
/// unit of `known` is coldest, within half a degree or so. `None` where no section was reckoned.
pub fn edge_dry_down_to(sash: &Sash, fit: &Fit, known: &Warmth) -> Option<f64> {
    let coldest = known.after.edge.as_ref()?;
    let factor = factor_at(sash, fit, &Choice::of(sash)?, &coldest.part)?;
    dry_down_to(factor, known.dew_point?, known.conditions.inside)
}

/// f_Rsi under which dew settles on the stated day; `None` without a dew point, or where it is as cold in the room.
pub fn least_factor(conditions: &Conditions) -> Option<f64> {
    let Conditions { inside, outside, humidity } = *conditions;
    let dew = dew_point(inside, humidity)?;
    (inside > outside).then(|| (dew - outside) / (inside - outside))
}

/// Works out and judges the warmth of `sash`, with `degree_hours` in thousands of kelvin hours a year
/// where the user gives them.
///
/// `warmth.condensation`: the glass of the unit, in its middle, against the dew point of the room.
/// `warmth.whole`: the sash must not lose more than before. `glass.heat-stress`: what sun does to a cold edge.
pub fn warmth(
    sash: &Sash,
    choice: &Choice,
    conditions: &Conditions,
    degree_hours: Option<f64>,
    losses: &Losses,
) -> Warmth {
    let areas = Areas::of(sash);
    let ([frame_before, frame_after], edge_after, basis) = match losses {
        Losses::Sections(found) => {
            ([found.frame_u_before, found.frame_u], found.linear, Basis::Sections)
        }
        Losses::OtherUnit(known) => {
            let ([before, after], more) = (known.frame_u, choice.thickness() - known.thickness);
            let after = (after + known.thicker * more).max(LEAST_FRAME);
            ([before, after], known.share * choice.fins(), Basis::OtherUnit)
        }
        Losses::Tables => ([table_frame_u(sash); 2], table(choice), Basis::Tables),
    };
    let sections = match losses {
        Losses::Sections(found) => Some(found),
        Losses::OtherUnit(_) | Losses::Tables => None,
    };
    let parts = sections.map_or_else(Vec::new, |found| found.parts.clone());
    let dew_point = dew_point(conditions.inside, conditions.humidity);
    let Conditions { inside, outside, .. } = *conditions;
    let dry = |factor: f64| dew_point.and_then(|dew| dry_down_to(factor, dew, inside));
    let edge = |factor: fn(&PartHeat) -> f64| {
        let coldest = parts.iter().min_by(|a, b| factor(a).total_cmp(&factor(b)))?;
        let (part, factor) = (coldest.part.clone(), factor(coldest));
        let temperature = outside + factor * (inside - outside);
        Some(Edge { part, factor, temperature, dry_down_to: dry(factor) })
    };
    let coated = |panes: &Glazing| choice.coated && panes.panes().len() > 1;
    let side = |glazing: &Glazing, frame_u: f64, linear: f64, edge: Option<Edge>| {
        let glass_u = glazing.u_value();
        let whole_u = whole_window(&areas, glass_u, frame_u, linear);
        let solar = solar_factor(glazing.panes().len(), coated(glazing));
        Side {
            solar,
            rating: rating(&areas, solar, whole_u),
            sun: degree_hours.map(|hours| yearly_sun(solar, areas.glass, hours)),
            glass_u,
            frame_u,
            linear,
            whole_u,
            edge_share: areas.perimeter * linear / (whole_u * areas.whole()),
            room_surface: glazing.room_surface(inside, outside),
            edge,
            yearly: degree_hours.map(|hours| yearly_heat(whole_u, areas.whole(), hours)),
        }
    };
    let before = side(&choice.old, frame_before, 0.0, edge(|part| part.factor_before));
    let after = side(&choice.new, frame_after, edge_after, edge(|part| part.factor));
    let wet = after.edge.as_ref().zip(dew_point).filter(|(edge, dew)| edge.temperature < *dew);
    let improved = sections.and_then(|found| found.improved);
    let cure = wet.map(|(edge, _)| Cure {
        improved_spacer: improved.and_then(dry),
        humidity: humidity(edge.temperature, inside),
    });
    let mut findings = vec![whole(&before, &after)];
    findings.extend(dew_point.map(|dew| condensation(&before, &after, dew, conditions)));
    let heat_stress = stress::judge(sash, choice, conditions).map(|(worst, finding)| {
        findings.push(finding);
        worst
    });
    let by_tables = whole_window(&areas, after.glass_u, table_frame_u(sash), table(choice));
    let sun_lost = before.sun.zip(after.sun).map(|(before, after)| before - after);
    let heat = before.yearly.zip(after.yearly).map(|(before, after)| before - after);
    let saved = heat.zip(sun_lost).map(|(heat, sun)| heat - sun);
    let conditions = *conditions;
    Warmth {
        areas,
        basis,
        before,
        after,
        parts,
        conditions,
        thicker: sections.map_or(0.0, |found| found.thicker),
        dew_point,
        spacer_assumed: sash.measured.unit.make.spacer.is_none(),
        heat_stress,
        by_tables,
        cure,
        sun_lost,
        saved,
        findings,
    }
}

fn whole(before: &Side, after: &Side) -> Finding {
    let measured = Quantity { value: after.whole_u, unit: "W/(m²K)" };
    let old = Bound {
        value: before.whole_u,
        basis: crate::finding::Basis::Published("EN ISO 10077-1, the sash as it is"),
    };
    Finding::at_most("warmth.whole", "whole sash", measured, Bounds::caution(old), |verdict, _| {
        match verdict {
            Verdict::Clear => text!(
                "warm-loses",
                share = format!("{:.0}", 100.0 * after.whole_u / before.whole_u)
            ),
            _ => text!("warm-saves-nothing"),
        }
    })
}

fn condensation(before: &Side, after: &Side, dew: f64, conditions: &Conditions) -> Finding {
    let measured = Quantity { value: after.room_surface, unit: "°C" };
    let bound =
        Bound { value: dew, basis: crate::finding::Basis::Published("WMO-No. 8, Magnus' formula") };
    let stated = text!(
        "warm-stated",
        inside = format!("{:.0}", conditions.inside),
        damp = format!("{:.0}", 100.0 * conditions.humidity),
        outside = format!("{:.0}", conditions.outside)
    );
    let bounds = Bounds::caution(bound);
    Finding::at_least(
        "warmth.condensation",
        "middle of the glass",
        measured,
        bounds,
        |verdict, _| match verdict {
            Verdict::Clear => {
                text!("warm-stays-dry", stated, degrees = format!("{:.1}", before.room_surface))
            }
            _ => text!("warm-runs-with-water", stated),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::glass::thermal::{Filling, Gas, UNCOATED, corrected};
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    fn choice(build_up: &str, emissivity: f64) -> Choice {
        let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
        Choice {
            old: Glazing::single(3.0).unwrap(),
            old_thickness: 3.0,
            new: Glazing::of(&build_up.parse().unwrap(), filling, emissivity).unwrap().unwrap(),
            spacer: crate::survey::Spacer::Metal,
            seal: 12.0,
            coated: emissivity < UNCOATED,
        }
    }

    #[test]
    fn a_casement_before_and_after_by_hand() {
        let sash = Sash::new(&casement()).unwrap();
        let coated = choice("4-6-4", corrected(0.03).unwrap());
        let warmth = warmth(&sash, &coated, &Conditions::default(), Some(84.0), &Losses::Tables);
        // Softwood of 45 mm, 5 mm of λ 0.13 less than the table's 2.00: 1/(0.5 − 0.005/0.13) = 2.1667.
        assert_relative_eq!(warmth.after.frame_u, 2.166_67, epsilon = 1e-4);
        let (glass, all, edge) = (0.72168, 0.975_744, 7.132);
        let frame = all - glass;
        // Ug 5.785 (3 mm) and 2.0101 (worked out elsewhere).
        let before = (glass * 5.785 + frame * 2.166_67) / all;
        let after = (glass * 2.0101 + frame * 2.166_67 + edge * 0.08) / all;
        assert_relative_eq!(warmth.before.whole_u, before, epsilon = 1e-3);
        assert_relative_eq!(warmth.after.whole_u, after, epsilon = 1e-3);
        // Sun: 0.9 × 218.6/68.5 kWh for each thousand kelvin hours, m² and g, of which a coated unit has 0.62 for 0.86.
        let sun = 84.0 * 0.9 * 218.6 / 68.5 * glass * (0.86 - 0.62);
        assert_relative_eq!(warmth.sun_lost.unwrap(), sun, epsilon = 0.1);
        assert_relative_eq!(
            warmth.saved.unwrap(),
            84.0 * all * (before - after) - sun,
            epsilon = 0.1
        );
        assert_relative_eq!(warmth.after.edge_share, edge * 0.08 / (after * all), epsilon = 1e-4);
    }

    #[test]
    fn old_glass_runs_with_water_where_the_unit_stays_dry() {
        let sash = Sash::new(&casement()).unwrap();
        let coated = choice("4-6-4", corrected(0.03).unwrap());
        let judged = warmth(&sash, &coated, &Conditions::default(), None, &Losses::Tables);
        let dew = judged.dew_point.unwrap();
        assert!(judged.before.room_surface < dew && judged.after.room_surface > dew);
        assert!(judged.findings.iter().all(|finding| finding.verdict == Verdict::Clear));
        assert_eq!((judged.saved, judged.before.yearly), (None, None));

        let single = Choice { new: coated.old.clone(), ..coated };
        let wet = warmth(&sash, &single, &Conditions::default(), None, &Losses::Tables);
        let of_water = |judged: &Warmth| -> Vec<Verdict> {
            let own = judged.findings.iter().filter(|finding| finding.rule.starts_with("warmth."));
            own.map(|finding| finding.verdict).collect()
        };
        assert_eq!(of_water(&wet), [Verdict::Caution; 2]);
        let unknown = Conditions { humidity: 0.0, ..Conditions::default() };
        let unknown = warmth(&sash, &single, &unknown, None, &Losses::Tables);
        assert_eq!(of_water(&unknown), [Verdict::Caution]);
    }
}
