//! A sash before and after.

use super::{Areas, Conditions, Spacer, dew_point, frame_u, linear, whole_window, yearly_heat};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::glass::thermal::Glazing;
use crate::sash::Sash;
use schemars::JsonSchema;
use serde::Serialize;

/// Old and new glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The old panes.
    pub old: Glazing,
    /// The unit.
    pub new: Glazing,
    /// What keeps its panes apart.
    pub spacer: Spacer,
    /// Whether one of its faces is coated against heat.
    pub coated: bool,
}

/// One side of the comparison: before, or after.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Side {
    /// Ug, W/(m²K).
    pub glass_u: f64,
    /// Ψ at the edge of the glass, W/(m K).
    pub linear: f64,
    /// Uw of the whole sash, W/(m²K).
    pub whole_u: f64,
    /// Share of the whole heat that passes at the edges of the glass, 0 to 1.
    pub edge_share: f64,
    /// Room side of the glass in its middle, °C.
    pub room_surface: f64,
    /// Heat of a year, kWh; none without degree hours.
    pub yearly: Option<f64>,
}

/// Warmth of a sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Warmth {
    /// Areas, the same before and after.
    pub areas: Areas,
    /// Uf of stiles, rails and bars, W/(m²K).
    pub frame_u: f64,
    /// With the old panes.
    pub before: Side,
    /// With the unit.
    pub after: Side,
    /// Room and weather that temperatures hold for.
    pub conditions: Conditions,
    /// Dew point of the room, °C.
    pub dew_point: Option<f64>,
    /// Heat that a year saves, kWh; none without degree hours.
    pub saved: Option<f64>,
    /// Judgements.
    pub findings: Vec<Finding>,
}

/// Works out and judges the warmth of `sash`, with `degree_hours` in thousands of kelvin hours a year
/// where the user gives them.
///
/// `warmth.condensation`: the glass of the unit, in its middle, against the dew point of the room.
/// `warmth.whole`: the sash must not lose more than before.
pub fn warmth(
    sash: &Sash,
    choice: &Choice,
    conditions: &Conditions,
    degree_hours: Option<f64>,
) -> Warmth {
    let areas = Areas::of(sash);
    let members = sash.measured.members.iter().map(|(_, member)| member.thickness);
    let thickness = members.fold(f64::INFINITY, f64::min);
    let frame_u = frame_u(&sash.measured.timber, thickness);
    let side = |glazing: &Glazing, linear: f64| {
        let glass_u = glazing.u_value();
        let whole_u = whole_window(&areas, glass_u, frame_u, linear);
        Side {
            glass_u,
            linear,
            whole_u,
            edge_share: areas.perimeter * linear / (whole_u * areas.whole()),
            room_surface: glazing.room_surface(conditions.inside, conditions.outside),
            yearly: degree_hours.map(|hours| yearly_heat(whole_u, areas.whole(), hours)),
        }
    };
    let before = side(&choice.old, 0.0);
    let after = side(&choice.new, linear(Some(choice.spacer), choice.coated));
    let dew_point = dew_point(conditions.inside, conditions.humidity);
    let mut findings = vec![whole(&before, &after)];
    findings.extend(dew_point.map(|dew| condensation(&before, &after, dew, conditions)));
    let saved = before.yearly.zip(after.yearly).map(|(before, after)| before - after);
    let conditions = *conditions;
    Warmth { areas, frame_u, before, after, conditions, dew_point, saved, findings }
}

fn whole(before: &Side, after: &Side) -> Finding {
    let measured = Quantity { value: after.whole_u, unit: "W/(m²K)" };
    let old = Bound {
        value: before.whole_u,
        basis: Basis::Published("EN ISO 10077-1, the sash as it is"),
    };
    Finding::at_most("warmth.whole", "whole sash", measured, Bounds::caution(old), |verdict, _| {
        match verdict {
            Verdict::Clear => format!(
                "the sash with its unit loses {:.0} % of what it loses now",
                100.0 * after.whole_u / before.whole_u
            ),
            _ => "the unit saves no heat: take a coated one, or one with fewer bars".to_owned(),
        }
    })
}

fn condensation(before: &Side, after: &Side, dew: f64, conditions: &Conditions) -> Finding {
    let measured = Quantity { value: after.room_surface, unit: "°C" };
    let bound = Bound { value: dew, basis: Basis::Published("WMO-No. 8, Magnus' formula") };
    let stated = format!(
        "in a room of {:.0} °C and {:.0} % with {:.0} °C outdoors",
        conditions.inside,
        100.0 * conditions.humidity,
        conditions.outside
    );
    let bounds = Bounds::caution(bound);
    Finding::at_least(
        "warmth.condensation",
        "middle of the glass",
        measured,
        bounds,
        |verdict, _| match verdict {
            Verdict::Clear => format!(
                "stays dry {stated} (the old glass stands at {:.1} °C); its edges are colder",
                before.room_surface
            ),
            _ => format!("runs with water {stated}: air the room, or take a warmer unit"),
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
            new: Glazing::of(&build_up.parse().unwrap(), filling, emissivity).unwrap().unwrap(),
            spacer: Spacer::Metal,
            coated: emissivity < UNCOATED,
        }
    }

    #[test]
    fn a_casement_before_and_after_by_hand() {
        let sash = Sash::new(&casement()).unwrap();
        let coated = choice("4-6-4", corrected(0.03).unwrap());
        let warmth = warmth(&sash, &coated, &Conditions::default(), Some(84.0));
        // Softwood of 45 mm, 5 mm of λ 0.13 less than the table's 2.00: 1/(0.5 − 0.005/0.13) = 2.1667.
        assert_relative_eq!(warmth.frame_u, 2.166_67, epsilon = 1e-4);
        let (glass, all, edge) = (0.72168, 0.975_744, 7.132);
        let frame = all - glass;
        // Ug 5.785 (3 mm) and 2.0101 (worked out elsewhere).
        let before = (glass * 5.785 + frame * 2.166_67) / all;
        let after = (glass * 2.0101 + frame * 2.166_67 + edge * 0.08) / all;
        assert_relative_eq!(warmth.before.whole_u, before, epsilon = 1e-3);
        assert_relative_eq!(warmth.after.whole_u, after, epsilon = 1e-3);
        assert_relative_eq!(warmth.saved.unwrap(), 84.0 * all * (before - after), epsilon = 0.1);
        assert_relative_eq!(warmth.after.edge_share, edge * 0.08 / (after * all), epsilon = 1e-4);
    }

    #[test]
    fn old_glass_runs_with_water_where_the_unit_stays_dry() {
        let sash = Sash::new(&casement()).unwrap();
        let coated = choice("4-6-4", corrected(0.03).unwrap());
        let judged = warmth(&sash, &coated, &Conditions::default(), None);
        let dew = judged.dew_point.unwrap();
        assert!(judged.before.room_surface < dew && judged.after.room_surface > dew);
        assert!(judged.findings.iter().all(|finding| finding.verdict == Verdict::Clear));
        assert_eq!((judged.saved, judged.before.yearly), (None, None));

        let single = Choice { new: coated.old.clone(), ..coated };
        let wet = warmth(&sash, &single, &Conditions::default(), None);
        assert!(wet.findings.iter().all(|finding| finding.verdict == Verdict::Caution));
        let unknown = Conditions { humidity: 0.0, ..Conditions::default() };
        assert_eq!(warmth(&sash, &single, &unknown, None).findings.len(), 1);
    }
}
