//! Beads round each unit and face beads over bars that were cut down: sizes, mitres, fixings, labels.

use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::sash::Sash;
use crate::survey::{BarsAs, Runs};
use kurbo::Point;

/// Pins of a bead are at most this far apart, mm (UK specification L40, 180).
pub const PIN_PITCH: f64 = 150.0;
/// The first pin is at most this far from a corner, mm (UK specification L40, 180).
pub const PIN_END: f64 = 50.0;
/// Screws of a bead are at most this far apart, mm (UK specification L40, 181).
pub const SCREW_PITCH: f64 = 225.0;
/// The first screw is at most this far from a corner, mm (UK specification L40, 181).
pub const SCREW_END: f64 = 75.0;

/// A bead along one side of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// Its number, as the elevation shows it.
    pub label: String,
    /// Which unit and side.
    pub place: String,
    /// Along the rebate wall, from long point to long point, mm.
    pub long: f64,
    /// Along the sight edge, from short point to short point, mm.
    pub short: f64,
    /// Seen on the face, mm.
    pub width: f64,
    /// Square to the glass, mm.
    pub height: f64,
    /// Angle between the bead's length and its mitre at either end, degrees: lower or left end first.
    pub mitres: [f64; 2],
    /// Where its number stands on the elevation.
    pub at: Point,
}

/// A flat bead on the outer pane, where a bar was cut down.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceBead {
    /// Its number, as the elevation shows it.
    pub label: String,
    /// Which bar.
    pub place: String,
    /// Square ends, mm.
    pub length: f64,
    /// As wide as the bar, mm.
    pub width: f64,
    /// Where its number stands on the elevation.
    pub at: Point,
}

/// Every bead, unit by unit, in the order of the sides.
pub fn beads(sash: &Sash, fit: &Fit) -> Vec<Bead> {
    let sides = fit.units.iter().flat_map(|unit| Side::ALL.map(|side| (unit, side)));
    let height = sash.measured.finish.bead;
    sides.zip(1..).map(|((unit, side), number)| bead(unit, side, number, height)).collect()
}

fn bead(unit: &UnitFit, side: Side, number: usize, height: f64) -> Bead {
    let (wall, sight) = (unit.wall, unit.sight);
    let width = *unit.rebate_width.get(side);
    let (long, short, ends, at) = if side.is_upright() {
        let x = if side == Side::Left { sight.x0 } else { sight.x1 };
        let ends = [Side::Bottom, Side::Top];
        (wall.height(), sight.height(), ends, Point::new(x, sight.center().y))
    } else {
        let y = if side == Side::Bottom { sight.y0 } else { sight.y1 };
        let ends = [Side::Left, Side::Right];
        (wall.width(), sight.width(), ends, Point::new(sight.center().x, y))
    };
    // The mitre runs from the corner of the walls to that of the sight edges.
    let mitres = ends.map(|end| width.atan2(*unit.rebate_width.get(end)).to_degrees());
    let place = format!("{}, {side}", unit.light);
    Bead { label: number.to_string(), place, long, short, width, height, mitres, at }
}

/// Face beads: uprights run through, cross pieces lie between them.
pub fn face_beads(sash: &Sash) -> Vec<FaceBead> {
    if sash.measured.bars_as != BarsAs::OneUnit {
        return Vec::new();
    }
    let mut found: Vec<FaceBead> = Vec::new();
    let bars = sash.measured.bars.iter().enumerate();
    for (index, bar) in bars {
        let place = sash.part_name(crate::sash::Part::Bar(index));
        let mut add = |length: f64, at: Point| {
            let label = format!("F{}", found.len() + 1);
            found.push(FaceBead { label, place: place.clone(), length, width: bar.width, at });
        };
        match bar.runs {
            Runs::Upright => {
                add(sash.sight.height(), Point::new(bar.centre, 0.62 * sash.sight.height()));
            }
            Runs::Cross => {
                // The lights right under the bar are as wide as the pieces between the uprights.
                let low = bar.centre - bar.width / 2.0;
                for light in sash.lights.iter().filter(|l| (l.sight.y1 - low).abs() < 1e-6) {
                    let middle = light.sight.center().x + 0.25 * light.sight.width();
                    add(light.sight.width(), Point::new(middle, bar.centre));
                }
            }
        }
    }
    found
}

/// How many fixings a bead of `length` needs, and how far apart they then are, mm: the first at most
/// `end` from each corner, the others at most `pitch` apart.
pub fn fixings(length: f64, pitch: f64, end: f64) -> (u32, f64) {
    let between = length - 2.0 * end;
    if between <= 0.0 {
        return (1, 0.0);
    }
    let mut gaps = 1_u32;
    while between / f64::from(gaps) > pitch + 1e-9 {
        gaps += 1;
    }
    (gaps + 1, between / f64::from(gaps))
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // UK specification L40, 180 and 181 (published, FACTS): pins at most 150 apart and 50 from the
    // corners; screws at most 225 and 75.
    #[test]
    fn fixings_keep_to_the_specification() {
        let (count, pitch) = fixings(862.0, PIN_PITCH, PIN_END);
        assert_eq!(count, 7);
        assert_relative_eq!(pitch, 127.0);
        assert_eq!(fixings(850.0, PIN_PITCH, PIN_END), (6, 150.0));
        assert_eq!(fixings(600.0, SCREW_PITCH, SCREW_END), (3, 225.0));
        assert_eq!(fixings(90.0, PIN_PITCH, PIN_END), (1, 0.0));
    }
}
