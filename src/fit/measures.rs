//! Judgements of how a sash out of square was measured.

use crate::finding::{Bounds, Finding, Quantity, Verdict as Judged};
use crate::geometry::quadrilateral::{Suspect, Verdict};
use crate::language::{Text, text};
use crate::sash::Sash;
use crate::survey::{Limits, Measures, measure_name};

/// Most measures named as possibly wrong: the list is in order of likelihood.
const MOST_NAMED: usize = 3;

/// Whether the widths, heights and diagonals agree, and whether they can be true at all; nothing for a
/// sash that was measured otherwise.
pub(super) fn judge(sash: &Sash, limits: &Limits) -> Vec<Finding> {
    let Some(measures) = &sash.measured.measures else { return Vec::new() };
    let ratio = |value| Quantity { value, unit: "" };
    let cure = |bound| cure(measures, bound);
    let misfit = limits.misfit_caution.value;
    let agree = Finding::at_most(
        "sash.measures",
        worst(measures),
        ratio(measures.adjusted.worst()),
        Bounds::caution(&limits.misfit_caution),
        |verdict, bound| match verdict {
            Judged::Clear => text!("fit-measures-agree"),
            _ => cure(bound),
        },
    );
    let possible = Finding::at_most(
        "sash.contradiction",
        "sight",
        ratio(measures.adjusted.stretch),
        Bounds::stop(&limits.stretch_stop),
        |verdict, _| match verdict {
            Judged::Clear => text!("fit-measures-possible"),
            _ => text!("fit-measures-impossible", cure = cure(misfit)),
        },
    );
    vec![agree, possible]
}

/// The measure that lies furthest from where the others put it.
fn worst(measures: &Measures) -> &'static str {
    let adjusted = &measures.adjusted;
    let far = |misfit: Option<f64>| misfit.map_or(0.0, f64::abs);
    let pairs = adjusted.measured.iter().zip(&adjusted.residuals);
    let worst = pairs.max_by(|(_, a), (_, b)| far(a.misfit).total_cmp(&far(b.misfit)));
    worst.map_or("sight", |(measured, _)| measure_name(measured.span))
}

/// Which measure to take again.
fn cure(measures: &Measures, misfit: f64) -> Text {
    let named = |suspect: &Suspect| {
        let measured = measures.adjusted.measured.get(suspect.index)?;
        let key = if suspect.error > 0.0 { "fit-too-long" } else { "fit-too-short" };
        let error = format!("{:.1}", suspect.error.abs());
        Some(text!(key, measure = Text::Name(measure_name(measured.span).to_owned()), error))
    };
    match measures.adjusted.verdict(misfit) {
        Verdict::OneWrong(suspects) => {
            let named = suspects.iter().take(MOST_NAMED).filter_map(named);
            let named = named.reduce(|one, other| text!("fit-or-else", one, other));
            named.map_or(text!("fit-measure-again"), |named| text!("fit-measure", named))
        }
        Verdict::SeveralWrong => {
            text!("fit-measure-all")
        }
        Verdict::Agree => text!("fit-measure-again"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::finding::Verdict as Judged;
    use crate::survey::read;

    fn findings(sight: &str) -> Vec<Finding> {
        let survey = format!(
            "house = \"Tern House\"\n[[sash]]\nid = \"a\"\nkind = \"fixed\"\nthickness = 45\n\
             sight = {{ {sight} }}\nstiles = {{ width = 52 }}\nrails = {{ width = 60 }}\n\
             rebate = {{ width = 9, depth = 17 }}\nunit = {{ build_up = \"4-6-4\" }}\n"
        );
        let house = read(&survey, "a").unwrap_or_else(|mistakes| panic!("{mistakes}"));
        judge(&Sash::new(&house.sashes[0]).unwrap(), &Limits::default())
    }

    // √(800² + 900²) = 1204.159.
    #[test]
    fn measures_that_agree_are_clear() {
        let found =
            findings("widths = [800, 800.4], heights = [900, 900], diagonals = [1204, 1204.5]");
        assert!(found.iter().all(|finding| finding.verdict == Judged::Clear), "{found:?}");
        assert!(findings("width = 800, height = 900").is_empty());
    }

    #[test]
    fn the_diagonal_that_disagrees_is_named_with_its_error() {
        let found = findings(
            "widths = [800, 800, 800], heights = [900, 900, 900], diagonals = [1208.16, 1204.16]",
        );
        let [agree, possible] = found.as_slice() else { panic!("{found:?}") };
        assert_eq!((agree.rule, agree.verdict), ("sash.measures", Judged::Caution));
        assert!(
            agree
                .advised()
                .starts_with("Re-measure the diagonal from the lower left, 4.0 mm too long"),
            "{}",
            agree.advised()
        );
        // Six measures off by a little under a millimetre each would explain it.
        assert_eq!(possible.verdict, Judged::Clear);
        let found = findings(
            "widths = [800, 800, 800], heights = [900, 900, 900], diagonals = [1214.16, 1204.16]",
        );
        assert_eq!(found[1].verdict, Judged::Stop);
        assert!(found[1].advised().contains("diagonal from the lower left, 10.0 mm too long"));
    }

    #[test]
    fn two_wrong_measures_ask_for_all() {
        let found = findings(
            "widths = [800, 800, 812], heights = [900, 900, 912], diagonals = [1216, 1190]",
        );
        assert_eq!(found[0].verdict, Judged::Caution);
        assert!(found[0].advised().contains("more than one"), "{}", found[0].advised());
    }
}
