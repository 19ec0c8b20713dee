//! What follows from a cut and its unit beyond the wood: warmth, strength, weight, gaps, duty.

use crate::duty::{Duty, duty};
use crate::finding::{Finding, Verdict};
use crate::fit::Fit;
use crate::geometry::Side;
use crate::glass::Properties;
use crate::glass::strength::{self, Climate, GlassUnit};
use crate::hanging::{self, Counterweights, Hinges, Hung, Weights};
use crate::language::text;
use crate::movement::{Movement, movement};
use crate::rebate::Rebate;
use crate::report::StrengthLine;
use crate::sash::Sash;
use crate::survey::{Kind, Workshop};
use crate::timber::Timber;
use crate::warmth::{self, Losses, Warmth, warmth};

/// How far a top-hung sash opens where that is not known, degrees: level, which is the worst.
const LEVEL: f64 = 90.0;

/// Weights of a sash and what carries them.
#[derive(Debug, Clone, PartialEq)]
pub struct Hanging {
    /// Timber, glass and beads.
    pub weights: Weights,
    /// Of a sliding sash whose box was measured.
    pub counterweights: Option<Counterweights>,
    /// Of a hung sash whose hinges were measured.
    pub hung: Option<Hung>,
    /// Lifting, and joints and fittings under a heavier sash.
    pub findings: Vec<Finding>,
}

/// Everything that follows.
#[derive(Debug, Clone, PartialEq)]
pub struct BuildingChecks {
    /// Heat and water; none for a bare thickness.
    pub warmth: Option<Warmth>,
    /// By unit; none for a bare thickness.
    pub strength: Vec<StrengthLine>,
    /// Weights; none for a bare thickness.
    pub hanging: Option<Hanging>,
    /// Gaps, by unit.
    pub movement: Vec<Movement>,
    /// Safety and duty.
    pub duty: Duty,
}

impl BuildingChecks {
    /// Works everything out for one sash.
    pub fn new(
        sash: &Sash,
        fit: &Fit,
        rebate: &Rebate,
        timber: &Timber,
        workshop: &Workshop,
        losses: impl FnOnce(&warmth::Choice) -> Losses,
    ) -> BuildingChecks {
        BuildingChecks {
            warmth: warm(sash, losses),
            strength: strong(sash, fit, workshop),
            hanging: hang(sash, fit, rebate, timber, workshop),
            movement: movement(sash, fit, &workshop.allowances, &workshop.limits),
            duty: duty(sash, fit),
        }
    }

    /// Every judgement, in the order of the rooms.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        let warmth = self.warmth.iter().flat_map(|warmth| &warmth.findings);
        let strength = self.strength.iter().flat_map(|unit| &unit.strength.findings);
        let hanging = self.hanging.iter().flat_map(|hanging| {
            let counterweights = hanging.counterweights.iter().flat_map(|found| &found.findings);
            let hung = hanging.hung.iter().map(|hung| &hung.finding);
            hanging.findings.iter().chain(counterweights).chain(hung)
        });
        let movement = self.movement.iter().flat_map(|movement| &movement.findings);
        strength.chain(warmth).chain(hanging).chain(movement).chain(&self.duty.findings)
    }
}

/// Warmth of a sash with its unit; `None` for a bare thickness.
pub(super) fn warm(sash: &Sash, losses: impl FnOnce(&warmth::Choice) -> Losses) -> Option<Warmth> {
    let (choice, weather) = (warmth::Choice::of(sash)?, &sash.measured.around.weather);
    Some(warmth(sash, &choice, &weather.room, weather.degree_hours, &losses(&choice)))
}

fn strong(sash: &Sash, fit: &Fit, workshop: &Workshop) -> Vec<StrengthLine> {
    let measured = &sash.measured;
    let properties = Properties::of(&measured.unit.make);
    let climates = Climate::of(&measured.around.weather);
    let glazing = properties.glazing(&measured.unit);
    let units = fit.units.iter().filter_map(|unit| {
        let sealed = GlassUnit::new(&measured.unit.build_up, properties.glass, unit.order)?;
        let shaped = unit.glass_area() < unit.order.area();
        let sealed = if shaped { sealed.shaped() } else { sealed };
        let mut judged =
            strength::judge(&unit.light, &sealed, &measured.wind, &climates, &workshop.limits);
        judged.winter = glazing.as_ref().and_then(|glazing| sealed.winter(&climates, glazing));
        if shaped {
            judged.findings.iter_mut().for_each(say_how_judged);
        }
        if Climate::heights(&measured.around.weather).is_none() {
            judged.findings.iter_mut().for_each(ask_for_heights);
        }
        Some(StrengthLine { light: unit.light.clone(), strength: judged })
    });
    units.collect()
}

/// Until both heights are known a good deal of difference is reckoned, and to state them costs nothing.
fn ask_for_heights(finding: &mut Finding) {
    if finding.rule == "glass.strength.climate" && finding.verdict != Verdict::Clear {
        finding.advice = finding.advice.clone().and(text!("glass-state-heights"));
    }
}

/// A shaped pane is judged as the rectangle around it, stressed as much more as a round pane is more than
/// its square. Of like panes no shape that was tried is stressed more by wind; a smaller, stiffer one takes
/// less of it through the gas to its neighbour, and is stressed more by what is sealed in.
fn say_how_judged(finding: &mut Finding) {
    let words = match finding.rule {
        "glass.strength.wind" => text!("glass-as-rectangle-wind"),
        "glass.strength.climate" => text!("glass-as-rectangle-climate"),
        _ => return,
    };
    finding.advice = finding.advice.clone().and(words);
}

fn hang(
    sash: &Sash,
    fit: &Fit,
    rebate: &Rebate,
    timber: &Timber,
    workshop: &Workshop,
) -> Option<Hanging> {
    let (measured, limits) = (&sash.measured, &workshop.limits);
    let around = &measured.around;
    let weights = hanging::weigh(sash, fit, rebate, around.old_glass)?;
    let after = weights.after();
    let counterweights = around.weights.as_ref().and_then(|room| {
        hanging::counterweights(measured.kind, (weights.before(), after), room, limits)
    });
    let size = sash.outer.size();
    // A screw holds only in the wood that the cut leaves beside the rebate.
    let beside = |sides: &[Side]| {
        let left = sides.iter().map(|side| timber.members.get(*side).beside.least);
        left.fold(f64::INFINITY, f64::min)
    };
    let held = |hinges: &Hinges, sides: &[Side]| Hinges {
        thread: hinges.thread.min(beside(sides)).max(0.0),
        ..*hinges
    };
    let hung = around.hinges.as_ref().and_then(|hinges| match measured.kind {
        Kind::SideHung => {
            let sides =
                measured.hinge_side.map_or(vec![Side::Left, Side::Right], |side| vec![side]);
            let hinges = held(hinges, &sides);
            let top = &measured.members.top;
            let tenon = (top.tenon.as_ref().map_or(0.0, |tenon| tenon.haunch), top.width);
            let counted = hanging::in_side_grain(&hinges, size.height, tenon);
            Some(hanging::side_hung(after, size, &hinges, counted, &measured.timber, limits))
        }
        Kind::TopHung => {
            let (hinges, angle) = (held(hinges, &[Side::Top]), around.opens.unwrap_or(LEVEL));
            Some(hanging::top_hung(after, size, angle, &hinges, &measured.timber, limits))
        }
        Kind::Fixed | Kind::SlidingUpper | Kind::SlidingLower => None,
    });
    let mut findings = vec![hanging::lifting(&weights, limits)];
    findings.extend(hanging::heavier(measured.kind, &weights, limits));
    Some(Hanging { weights, counterweights, hung, findings })
}
