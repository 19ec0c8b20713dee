//! The United States: IRC R308.4, every condition of it, as far as what is known tells.

use super::{Duty, ORDER, SAFE, cleared};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity};
use crate::fit::{Fit, UnitFit};
use crate::language::{Text, text};
use crate::survey::{Nearby, Opening, Place};

const WINDOWS: &str = "IRC R308.4.3 (United States)";

/// Critical where all four hold: a pane over so many m², its bottom below, its top above, and a surface
/// one walks on within, mm. R308.4.3: 9 square feet, 18, 36 and 36 inches.
const AREA: f64 = 0.836;
const BOTTOM: f64 = 457.0;
const TOP: f64 = 914.0;
const WALKWAY: f64 = 914.0;

/// Lower edge below so much over the floor beside a door, a wet place and stairs, and at the foot of stairs, mm: 60 and 36
/// inches. R308.4.2, .5, .6 and .7. Of stairs editions have 60 and less; the more careful counts.
const LOW: f64 = 1524.0;
const LOW_AT_FOOT: f64 = 914.0;

/// One condition and whether it holds; `None` where what is known does not tell.
struct Condition {
    source: &'static str,
    number: &'static str,
    about: &'static str,
    holds: Option<bool>,
    /// What it is held against, where it is not the area: the lower edge has to be at least so high, mm.
    low: Option<f64>,
}

pub(super) fn judge(place: &Place, fit: &Fit, safe: bool, duty: &mut Duty) {
    let mut open: Vec<[Condition; 7]> = Vec::new();
    for unit in &fit.units {
        let all = conditions(place, unit);
        if let Some(critical) = all.iter().find(|one| one.holds == Some(true)) {
            let finding = critical.finding(place, unit);
            duty.findings.push(if safe { cleared(finding, text!(SAFE)) } else { finding });
        } else if all.iter().all(|one| one.holds.is_some()) {
            let none = || text!("duty-not-critical");
            let bounds = Bounds::caution(Bound { value: AREA, basis: Basis::Published(WINDOWS) });
            let (rule, light) = ("safety.glazing", unit.light.as_str());
            let finding = Finding::at_most(rule, light, area(unit), bounds, |_, _| none());
            duty.findings.push(cleared(finding, none()));
        } else {
            open.push(all);
        }
    }
    if !safe && !open.is_empty() {
        duty.notes.push(not_judged(place, &open));
    }
}

/// What can be said, what cannot, and what to write down for it.
fn not_judged(place: &Place, open: &[[Condition; 7]]) -> Text {
    let known =
        |index: usize| open.iter().all(|all| all.get(index).is_some_and(|one| one.holds.is_some()));
    let named = |wanted: bool| {
        let all = open.iter().take(1).flatten().enumerate();
        let all = all.filter(|(index, _)| known(*index) == wanted);
        all.map(|(_, one)| {
            text!("duty-condition", number = one.number, about = Text::name(one.about))
        })
        .reduce(|one, other| text!("list-comma", one, other))
    };
    let (not, others) = (named(true), named(false).unwrap_or_else(|| Text::given("")));
    let keys = [
        (place.opening.is_none(), "opening"),
        (place.floor.is_none(), "floor"),
        // Only the large low windows ask for it.
        (place.walkway.is_none() && !known(2), "walkway"),
        (place.near.is_none(), "near"),
    ];
    let keys = keys.into_iter().filter(|(asked, _)| *asked).map(|(_, key)| match key {
        "near" => text!("duty-near"),
        key => Text::given(key),
    });
    let all: Vec<Text> = keys.collect();
    let keys = Text::listed(&all);
    match not {
        None => text!("duty-states-unknown", others, keys),
        Some(not) => text!("duty-states-open", not, others, keys),
    }
}

fn area(unit: &UnitFit) -> Quantity {
    Quantity { value: unit.sight().area() / 1e6, unit: "m²" }
}

fn conditions(place: &Place, unit: &UnitFit) -> [Condition; 7] {
    let floor = place.floor.map(|floor| floor + unit.sight().y0);
    let below = |limit: f64| floor.map(|floor| floor < limit);
    let near = |what: Nearby| place.near.map(|near| near.has(what));
    let beside_door = match place.opening {
        Some(Opening::BesideDoor) => Some(true),
        Some(_) | None => near(Nearby::Door),
    };
    let of_window = [
        Some(area(unit).value > AREA),
        below(BOTTOM),
        place.floor.map(|floor| floor + unit.sight().y1 > TOP),
        place.walkway.map(|away| away <= WALKWAY),
    ];
    let door = place.opening.map(|opening| opening == Opening::Door);
    let any = |source, number, about, holds| Condition { source, number, about, holds, low: None };
    let under = |low, source, number, about, there| {
        let holds = both([there, below(low)]);
        Condition { source, number, about, holds, low: Some(low) }
    };
    [
        any("IRC R308.4.1 (United States)", ".1", "doors", door),
        under(LOW, "IRC R308.4.2 (United States)", ".2", "beside doors", beside_door),
        any(WINDOWS, ".3", "large low windows", both(of_window)),
        any("IRC R308.4.4 (United States)", ".4", "guards", near(Nearby::Guard)),
        under(LOW, "IRC R308.4.5 (United States)", ".5", "wet places", near(Nearby::Wet)),
        under(LOW, "IRC R308.4.6 (United States)", ".6", "stairs", near(Nearby::Stairs)),
        under(
            LOW_AT_FOOT,
            "IRC R308.4.7 (United States)",
            ".7",
            "the foot of stairs",
            near(Nearby::StairsFoot),
        ),
    ]
}

/// Whether all hold: not, as soon as one is known not to.
fn both<const N: usize>(all: [Option<bool>; N]) -> Option<bool> {
    if all.contains(&Some(false)) {
        return Some(false);
    }
    all.iter().all(Option::is_some).then_some(true)
}

impl Condition {
    /// That it holds.
    fn finding(&self, place: &Place, unit: &UnitFit) -> Finding {
        let place_of = Text::Name(self.about.to_owned());
        let advice = text!("duty-critical-at", order = text!(ORDER), place = place_of);
        let basis = Basis::Published(self.source);
        let (rule, light) = ("safety.glazing", unit.light.as_str());
        let Some((low, floor)) = self.low.zip(place.floor) else {
            // In doors and guards glass of any size counts.
            let value = if self.source == WINDOWS { AREA } else { 0.0 };
            let bounds = Bounds::caution(Bound { value, basis });
            return Finding::at_most(rule, light, area(unit), bounds, |_, _| advice);
        };
        let height = Quantity::mm(floor + unit.sight().y0);
        let bounds = Bounds::caution(Bound { value: low, basis });
        Finding::at_least(rule, light, height, bounds, |_, _| advice)
    }
}
