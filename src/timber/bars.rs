//! Glazing bars after the cut.

use super::bending::{self, Bending};
use super::cross::{Gap, Least};
use super::platform::{self, shallower};
use super::section::Section;
use super::uncut::{Piece, Uncut};
use super::units;
use crate::finding::{Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::fit::Fit;
use crate::language::text;
use crate::sash::{PlacedBar, Sash};
use crate::survey::{BarsAs, Limits};
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// What is left of a glazing bar.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct BarLeft {
    /// What a joiner calls it.
    pub name: String,
    /// Least wood between platform and moulding.
    pub under_platform: Option<Least>,
    /// Height after it is cut down to the platform, mm; none where it keeps its web.
    pub height: Option<f64>,
    /// Web between the two rebates, mm, the old ones counted where they are wider; none where the bar
    /// is cut down.
    pub web: Option<f64>,
    /// Section before the cut.
    pub before: Section,
    /// Section after the cut.
    pub after: Section,
    /// Bending under the stated wind.
    pub bending: Bending,
}

/// Measures every bar, in the order of the survey.
pub(super) fn measure(uncut: &Uncut, sash: &Sash, fit: &Fit) -> Vec<BarLeft> {
    let behind_one_unit = sash.measured.bars_as == BarsAs::OneUnit;
    let measure = |(placed, piece): (&PlacedBar, &Arc<Piece>)| {
        let bar = &placed.measured;
        let (low, high) = units::rebates_in_bar(sash, fit, placed);
        let cut = piece.uncut.bar_cut(cuts(sash, fit, placed));
        let (before, after) = (piece.before, piece.after(&cut));
        let web = bar.width - low.max(bar.rebate_width) - high.max(bar.rebate_width);
        BarLeft {
            name: placed.name(),
            under_platform: cut.least(fit.depth, &piece.uncut),
            height: behind_one_unit.then_some(bar.thickness - fit.depth),
            web: (!behind_one_unit).then_some(web),
            before,
            after,
            bending: bending::of_bar(sash, placed, behind_one_unit, &before, &after),
        }
    };
    sash.bars.iter().zip(&uncut.bars).map(measure).collect()
}

/// What the cut takes from the section of a bar: all of it down to the platform, or a rebate on each
/// side.
pub(super) fn cuts(sash: &Sash, fit: &Fit, bar: &PlacedBar) -> Vec<Gap> {
    let width = bar.measured.width;
    if sash.measured.bars_as == BarsAs::OneUnit {
        return vec![Gap::rebate(0.0, width, fit.depth)];
    }
    let (low, high) = units::rebates_in_bar(sash, fit, bar);
    vec![Gap::rebate(0.0, low, fit.depth), Gap::rebate(width - high, width, fit.depth)]
}

/// Judges every bar.
pub(super) fn judge(sash: &Sash, left: &[BarLeft], limits: &Limits) -> Vec<Finding> {
    let mut findings = Vec::new();
    for left in left {
        if let Some(least) = &left.under_platform {
            findings.extend(platform::judge(&left.name, least, &sash.measured, limits));
        }
        if let Some(height) = left.height {
            let bounds = Bounds::new(&limits.bar_stop, &limits.bar_caution);
            let measured = Quantity::mm(height);
            let place = left.name.as_str();
            findings.push(Finding::at_least(
                "timber.bar",
                place,
                measured,
                bounds,
                |verdict, bound| {
                    if verdict == Verdict::Clear {
                        text!("wood-bar-enough")
                    } else {
                        let enough = text!("length-mm", length = format!("{bound:.1}"));
                        shallower(bound - height, enough, &sash.measured, limits)
                    }
                },
            ));
        }
        if let Some(web) = left.web {
            findings.push(judge_web(&left.name, web, limits));
        }
        findings.push(bending::judge_bar(
            left.name.clone(),
            &left.bending,
            &sash.measured.wind,
            limits,
        ));
    }
    findings
}

/// `timber.web`: the feather between two units.
fn judge_web(place: &str, web: f64, limits: &Limits) -> Finding {
    let bounds = Bounds::new(&limits.web_stop, &limits.web_caution);
    Finding::at_least("timber.web", place, Quantity::mm(web), bounds, |verdict, bound| {
        if verdict == Verdict::Clear {
            text!("wood-web-enough")
        } else {
            text!(
                "wood-web-less",
                less = format!("{:.1}", up_to_tenth((bound - web) / 2.0)),
                bound = format!("{bound:.1}")
            )
        }
    })
}
