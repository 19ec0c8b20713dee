//! Sizes that somebody published as the least there should be, and what a plan under them has instead.
//!
//! None stops the work: slim old sashes are glazed with less every day, and the limits of the survey are what is
//! judged by. But who plans less should know.

use super::{Fit, UnitFit};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::COINCIDENT;
use crate::sash::Sash;

/// Least width of a rebate for double glazing in timber windows, mm. NHBC Standards 6.7.7, after BS 644.
const REBATE: f64 = 15.0;

/// Least gap between unit and rebate where it is glazed dry, mm. NPR 3577, as VKG 3.5 and VMRG 7.6 give it.
const DRY_GAP: f64 = 3.0;

/// Least that a unit reaches behind the sight edge, mm. As above.
const NET_COVER: f64 = 10.0;

/// Least height and width of face putty, mm. Building Conservation Directory 2020, p. 12: a putty rebate of 6 by 6 at
/// least.
pub const LEAST_PUTTY: f64 = 6.0;

/// Judges face putty by what is less of its height and of the rebate's width: `fit.putty`.
pub(super) fn putty(sash: &Sash, unit: &UnitFit) -> Option<Finding> {
    let finish = &sash.measured.finish;
    if !finish.is_puttied() {
        return None;
    }
    let width = sides(unit.rebate_width.iter().map(|(_, width)| width.least));
    let basis = Basis::Published("Building Conservation Directory 2020, p. 12");
    let bounds = Bounds::caution(Bound { value: LEAST_PUTTY, basis });
    let size = Quantity::mm(width.min(finish.bead));
    Some(Finding::at_least("fit.putty", unit.light.clone(), size, bounds, |verdict, bound| {
        match verdict {
            Verdict::Clear => "The face putty has room to hold.".into(),
            _ if finish.bead < bound => format!(
                "Face putty at least {bound:.0} mm high holds: cut the rebate deeper, or take a thinner unit"
            ),
            _ => format!(
                "In a rebate at least {bound:.0} mm wide it holds: take a cover or a gap that is wider, or beads"
            ),
        }
    }))
}

/// What of the plan lies under a published least size, in one sentence; none where nothing does.
pub fn under_published(sash: &Sash, fit: &Fit) -> Option<String> {
    let least = |of: fn(&UnitFit) -> f64| fit.units.iter().map(of).fold(f64::INFINITY, f64::min);
    let rebate = least(|unit| sides(unit.rebate_width.iter().map(|(_, width)| width.least)));
    let gap = least(|unit| sides(unit.clearance.iter().map(|(_, gap)| gap.least)));
    let cover = least(|unit| sides(unit.cover.iter().map(|(_, cover)| cover.least)));
    let cover = cover - sash.measured.unit.tape;
    let under = [
        (rebate, REBATE, "rebate", "mm (NHBC)"),
        (gap, DRY_GAP, "dry gap", "(NPR 3577)"),
        (cover, NET_COVER, "cover", "(NPR 3577)"),
    ]
    .into_iter()
    .filter(|(here, published, ..)| *here < published - COINCIDENT)
    .map(|(here, published, name, source)| {
        // Never rounded up to what it is under.
        let here = (here * 10.0 + COINCIDENT).floor() / 10.0;
        format!("{name} {published} {source}, here {here}")
    });
    let under: Vec<String> = under.collect();
    (!under.is_empty()).then(|| format!("Published least: {}.", under.join("; ")))
}

fn sides(values: impl Iterator<Item = f64>) -> f64 {
    values.fold(f64::INFINITY, f64::min)
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
        under_published(&sash, &fit(&sash, &Workshop::default()).unwrap())
    }

    // NHBC Standards 6.7.7: 15 mm; NPR 3577: 3 mm and 10 mm.
    #[test]
    fn what_is_under_a_published_size_is_told_and_what_is_not_is_not() {
        let mut survey = casement();
        assert_eq!(
            told(&survey).unwrap(),
            "Published least: rebate 15 mm (NHBC), here 14; dry gap 3 (NPR 3577), here 2."
        );
        survey.clearance = PerSide { bottom: 4.0, ..PerSide::all(3.0) };
        assert_eq!(told(&survey), None);
        survey.unit.cover = 9.0;
        assert_eq!(
            told(&survey).unwrap(),
            "Published least: rebate 15 mm (NHBC), here 12; cover 10 (NPR 3577), here 9."
        );
    }
}
