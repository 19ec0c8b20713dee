//! How far each line of the template lies from the sight edge: what a straight side is drawn by between two tiles.

use super::Template;
use crate::fit::UnitFit;
use crate::geometry::{MinMax, Side};
use crate::sash::{Part, Sash};
use kurbo::Rect;
use schemars::JsonSchema;
use serde::Serialize;

/// Lines along one side of a light, all from its sight edge outwards, mm.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Distances {
    /// The light.
    pub light: String,
    /// Its side.
    pub side: Side,
    /// Old rebate or groove.
    pub old: f64,
    /// Edge of the unit.
    pub unit: MinMax,
    /// New wall.
    pub wall: MinMax,
    /// Edge of the aperture that the bush follows; none without a template.
    pub aperture: Option<MinMax>,
    /// Edge of the plate; none without a template, and beside a bar.
    pub plate: Option<f64>,
    /// Outer edge of the sash; none beside a bar.
    pub outer: Option<f64>,
}

/// The lines along every side, light by light; those of the template where one is followed.
pub fn distances(sash: &Sash, units: &[UnitFit], template: Option<&Template>) -> Vec<Distances> {
    let sides = units.iter().flat_map(|unit| Side::ALL.map(|side| (unit, side)));
    let found = sides.map(|(unit, side)| {
        let (part, old) = sash.neighbour(&unit.outlines.sight, side);
        let wall = *unit.rebate_width.get(side);
        // The plate reaches past every sight edge.
        let beyond = |plate: Rect| (side.of(plate) - side.of(unit.sight())).abs();
        let outer = match part {
            Part::Member(side) => Some(sash.measured.members.get(side).width),
            Part::Bar(_) => None,
        };
        Distances {
            light: unit.light.clone(),
            side,
            old: old.width(),
            unit: *unit.cover.get(side),
            wall,
            aperture: template.map(|template| wall.map(|wall| wall + template.offset)),
            plate: template
                .filter(|_| outer.is_some())
                .map(|template| beyond(template.plate.rect())),
            outer,
        }
    });
    found.collect()
}
