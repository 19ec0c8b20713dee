//! Sizes that somebody published as the least there should be, and what a plan under them has instead.
//!
//! None stops the work: slim old sashes are glazed with less every day. Where the survey says how water is kept from the
//! edge seal they are judged; else who plans less should know.

use super::{Fit, UnitFit};
use crate::finding::{Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::geometry::COINCIDENT;
use crate::language::{Text, text};
use crate::sash::Sash;
use crate::survey::{Limit, Limits, WaterOut};

/// Least that a unit reaches behind the sight edge, mm. NPR 3577, as VKG 3.5 and VMRG 7.6 give it.
const NET_COVER: f64 = 10.0;

/// Judges what closes the rebate and what keeps water from the edge seal, once that is said: `fit.putty` by what is less
/// of the putty's height and of the rebate's width, `fit.rebate` by its width, `fit.drained` by the gap.
pub(super) fn judge(sash: &Sash, unit: &UnitFit, limits: &Limits) -> Vec<Finding> {
    let finish = &sash.measured.finish;
    let rebate = unit.rebate_width.least();
    let at_least = |rule, value: f64, limit: &Limit, cure: &dyn Fn(f64) -> Text, clear: Text| {
        let bounds = Bounds::caution(limit);
        let (place, quantity) = (unit.light.clone(), Quantity::mm(value));
        Finding::at_least(rule, place, quantity, bounds, |verdict, bound| match verdict {
            Verdict::Clear => clear,
            _ => cure(bound),
        })
    };
    if finish.is_puttied() {
        let low = finish.bead < limits.putty_caution.value;
        let cure = |least: f64| {
            if low {
                text!("fit-putty-high", least = format!("{least:.0}"))
            } else {
                text!("fit-putty-wide", least = format!("{least:.0}"))
            }
        };
        let size = rebate.min(finish.bead);
        let clear = text!("fit-putty-clear");
        return vec![at_least("fit.putty", size, &limits.putty_caution, &cure, clear)];
    }
    let Some(water) = finish.water else { return Vec::new() };
    let mut found = vec![at_least(
        "fit.rebate",
        rebate,
        &limits.rebate_caution,
        &|least| {
            let more = up_to_tenth(least - rebate);
            text!("fit-warranty", least = format!("{least:.0}"), more = format!("{more:.1}"))
        },
        text!("fit-rebate-wide"),
    )];
    if water == WaterOut::Drained {
        let gap = unit.clearance.least();
        found.push(at_least(
            "fit.drained",
            gap,
            &limits.drained_gap_caution,
            &|least| text!("fit-drained", least = format!("{least:.0}")),
            text!("fit-drained-clear"),
        ));
    }
    found
}

/// What of the plan lies under a published least size and is not judged, in one sentence; none where nothing does.
pub fn under_published(sash: &Sash, fit: &Fit, limits: &Limits) -> Option<Text> {
    let least = |of: fn(&UnitFit) -> f64| fit.units.iter().map(of).fold(f64::INFINITY, f64::min);
    let rebate = least(|unit| unit.rebate_width.least());
    let gap = least(|unit| unit.clearance.least());
    let cover = least(|unit| unit.cover.least());
    let cover = cover - sash.measured.unit.tape;
    let finish = &sash.measured.finish;
    // Once it is said how water is dealt with, rebate and gap are judged; a filled gap is not dry.
    let undecided = finish.water.is_none();
    let under = [
        (
            undecided || finish.is_puttied(),
            rebate,
            limits.rebate_caution.value,
            "published-rebate",
            "NHBC",
        ),
        (undecided, gap, limits.drained_gap_caution.value, "published-gap", "NPR 3577"),
        (true, cover, NET_COVER, "published-cover", "NPR 3577"),
    ]
    .into_iter()
    .filter_map(|(told, here, least, key, source)| told.then_some((here, least, key, source)))
    .filter(|(here, published, ..)| *here < published - COINCIDENT)
    .map(|(here, published, key, source)| {
        // Never rounded up to what it is under.
        let here = (here * 10.0 + COINCIDENT).floor() / 10.0;
        text!(key, least = published.to_string(), source, here = here.to_string())
    });
    let under = under.reduce(|one, other| text!("list-then", one, other));
    under.map(|under| text!("published-least", under))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::geometry::PerSide;
    use crate::sash::tests::casement;
    use crate::survey::{self, Workshop};

    fn told(survey: &survey::Sash) -> Option<String> {
        let sash = Sash::new(survey).unwrap();
        let workshop = Workshop::default();
        under_published(&sash, &fit(&sash, &workshop).unwrap(), &workshop.limits)
            .map(|told| told.to_string())
    }

    // NHBC Standards 6.7.7: 15 mm; NPR 3577: 3 mm and 10 mm.
    #[test]
    fn what_is_under_a_published_size_is_told_and_what_is_not_is_not() {
        let mut survey = casement();
        assert_eq!(
            told(&survey).unwrap(),
            "Published least: rebate 15 mm (NHBC), here 14 mm; dry gap 3 mm (NPR 3577), here 2 mm."
        );
        survey.clearance = PerSide { bottom: 4.0, ..PerSide::all(3.0) };
        assert_eq!(told(&survey), None);
        survey.unit.cover = 9.0;
        assert_eq!(
            told(&survey).unwrap(),
            "Published least: rebate 15 mm (NHBC), here 12 mm; cover 10 mm (NPR 3577), here 9 mm."
        );
    }
}
