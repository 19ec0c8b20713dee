//! What is ordered of the maker of the units: those that are made alike, and what they come to.

use super::{SashReport, UnitLine};
use crate::geometry::COINCIDENT;
use schemars::JsonSchema;
use serde::Serialize;
use std::borrow::Cow;
use std::iter::Sum;
use std::ops::Add;

/// What units to order come to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct OrderTotal {
    /// How many.
    pub pieces: usize,
    /// Area of their glass, m².
    pub area: f64,
    /// Weight, kg; unknown where that of one is.
    pub weight: Option<f64>,
}

impl OrderTotal {
    /// Of so many pieces of a unit.
    pub fn of(pieces: usize, unit: &UnitLine) -> OrderTotal {
        let count = pieces as f64;
        OrderTotal { pieces, area: count * unit.area, weight: unit.weight.map(|kg| count * kg) }
    }

    /// Of units, one piece each.
    pub fn of_all(units: &[UnitLine]) -> OrderTotal {
        units.iter().map(|unit| OrderTotal::of(1, unit)).sum()
    }
}

impl SashReport {
    /// What its units come to; nothing where they may not be ordered.
    pub fn order(&self) -> OrderTotal {
        let units = if self.answers.may_be_ordered() { self.units.as_slice() } else { &[] };
        OrderTotal::of_all(units)
    }
}

impl Add for OrderTotal {
    type Output = OrderTotal;

    fn add(self, other: OrderTotal) -> OrderTotal {
        OrderTotal {
            pieces: self.pieces + other.pieces,
            area: self.area + other.area,
            weight: self.weight.zip(other.weight).map(|(a, b)| a + b),
        }
    }
}

/// Nothing, which weighs nothing.
impl Default for OrderTotal {
    fn default() -> OrderTotal {
        OrderTotal { pieces: 0, area: 0.0, weight: Some(0.0) }
    }
}

impl Sum for OrderTotal {
    fn sum<I: Iterator<Item = OrderTotal>>(all: I) -> OrderTotal {
        all.fold(OrderTotal::default(), OrderTotal::add)
    }
}

/// Units that are made alike, with the labels of all.
pub struct UnitKind<'a> {
    /// One of them.
    pub unit: Cow<'a, UnitLine>,
    /// Sash and light of each.
    pub labels: Vec<String>,
}

impl UnitKind<'_> {
    /// What they come to.
    pub fn total(&self) -> OrderTotal {
        OrderTotal::of(self.labels.len(), &self.unit)
    }
}

/// Units to order, like ones together.
#[derive(Default)]
pub struct UnitKinds<'a>(pub Vec<UnitKind<'a>>);

impl<'a> UnitKinds<'a> {
    /// Adds the units of the sash `id`.
    pub fn add(&mut self, id: &str, units: impl IntoIterator<Item = Cow<'a, UnitLine>>) {
        for unit in units {
            let label = format!("{id} {}", unit.light);
            match self.0.iter_mut().find(|kind| alike(&kind.unit, &unit)) {
                Some(kind) => kind.labels.push(label),
                None => self.0.push(UnitKind { unit, labels: vec![label] }),
            }
        }
    }
}

/// Whether a maker would make both the same.
fn alike(a: &UnitLine, b: &UnitLine) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() <= COINCIDENT;
    a.order == b.order
        && a.shape == b.shape
        && a.sight == b.sight
        && a.build_up == b.build_up
        && a.make == b.make
        && a.unstated == b.unstated
        && a.safety == b.safety
        && same(a.spacer_height, b.spacer_height)
        && same(a.tape, b.tape)
        && same(a.thickest, b.thickest)
        && a.internal_bars == b.internal_bars
}
