//! Beads round each unit and face beads over bars that were cut down: sizes, mitres, fixings, labels.

mod curved;

use super::shape::is_square;
use crate::fit::{Fit, UnitFit};
use crate::geometry::{Edge, Side};
use crate::number::number;
use crate::sash::Sash;
use crate::survey::{Bar, BarsAs, Runs};
use kurbo::{Point, Vec2};

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
    /// The sight edge that it lies on, from end to end.
    pub edge: [Point; 2],
    /// From that edge into the daylight, unit length.
    pub inwards: Vec2,
    /// Of a curved bead, its radius along the wall and along the sight edge, mm.
    pub radii: Option<[f64; 2]>,
}

impl Bead {
    /// What to say of its curve; nothing for a straight one.
    pub fn curve(&self) -> Option<String> {
        let [wall, sight] = self.radii.map(|radii| radii.map(|radius| number(radius, 1)))?;
        Some(format!(
            "curved: radius {wall} mm along the wall, {sight} mm along the sight edge; lengths along the curve"
        ))
    }
}

/// A flat bead on the outer pane, where a bar was cut down.
#[derive(Debug, Clone, PartialEq)]
pub struct FaceBead {
    /// Its number, as the elevation shows it.
    pub label: String,
    /// Which bar.
    pub place: String,
    /// Square ends, mm; at a head that is not level, to its longest point.
    pub length: f64,
    /// As wide as the bar, mm.
    pub width: f64,
    /// Its middle line on the elevation, from end to end.
    pub line: [Point; 2],
    /// Whether both ends are square.
    pub square: bool,
}

impl FaceBead {
    /// How its ends are cut.
    pub fn ends(&self) -> &'static str {
        if self.square { "square" } else { "cut to the sight edge" }
    }
}

/// Every bead, unit by unit, in the order of the sides.
pub fn beads(sash: &Sash, fit: &Fit) -> Vec<Bead> {
    let height = sash.measured.finish.bead;
    let found = fit.units.iter().flat_map(|unit| {
        if unit.outlines.sight.is_rectangle() && unit.outlines.wall.is_rectangle() {
            Side::ALL.map(|side| bead(unit, side, height)).to_vec()
        } else {
            curved::beads(unit, height)
        }
    });
    found
        .zip(1..)
        .map(|(bead, number): (Bead, usize)| Bead { label: number.to_string(), ..bead })
        .collect()
}

fn bead(unit: &UnitFit, side: Side, height: f64) -> Bead {
    let (wall, sight) = (unit.wall, unit.sight);
    let width = *unit.rebate_width.get(side);
    let (long, short, ends) = if side.is_upright() {
        (wall.height(), sight.height(), [Side::Bottom, Side::Top])
    } else {
        (wall.width(), sight.width(), [Side::Left, Side::Right])
    };
    let corner = |x: f64, y: f64| Point::new(x, y);
    let (edge, inwards) = match side {
        Side::Left => ([corner(sight.x0, sight.y0), corner(sight.x0, sight.y1)], (1.0, 0.0)),
        Side::Right => ([corner(sight.x1, sight.y0), corner(sight.x1, sight.y1)], (-1.0, 0.0)),
        Side::Bottom => ([corner(sight.x0, sight.y0), corner(sight.x1, sight.y0)], (0.0, 1.0)),
        Side::Top => ([corner(sight.x0, sight.y1), corner(sight.x1, sight.y1)], (0.0, -1.0)),
    };
    // The mitre runs from the corner of the walls to that of the sight edges.
    let mitres = ends.map(|end| width.atan2(*unit.rebate_width.get(end)).to_degrees());
    let place = format!("{}, {side}", unit.light);
    Bead {
        label: String::new(),
        place,
        long,
        short,
        width,
        height,
        mitres,
        edge,
        inwards: inwards.into(),
        radii: None,
    }
}

/// Face beads: uprights run through, cross pieces lie between them.
pub fn face_beads(sash: &Sash) -> Vec<FaceBead> {
    if sash.measured.bars_as != BarsAs::OneUnit {
        return Vec::new();
    }
    let mut found: Vec<FaceBead> = Vec::new();
    let bars = sash.measured.bars.iter().enumerate();
    for (index, bar) in bars {
        let name = sash.part_name(crate::sash::Part::Bar(index));
        let place = match sash.bars.get(index).map(|bar| bar.path) {
            Some(Edge::Arc(arc)) => {
                format!("{name}, curved: radius {} mm on its middle line", number(arc.radius, 1))
            }
            _ => name,
        };
        let pieces = if is_square(sash, index) {
            over_square(sash, bar)
        } else {
            curved::over_bar(sash, index)
        };
        for (length, line, square) in pieces {
            let (label, place) = (format!("F{}", found.len() + 1), place.clone());
            found.push(FaceBead { label, place, length, width: bar.width, line, square });
        }
    }
    found
}

/// Length, line and square ends of the face beads over a bar that runs square in a rectangle.
fn over_square(sash: &Sash, bar: &Bar) -> Vec<(f64, [Point; 2], bool)> {
    match bar.runs {
        Runs::Upright => {
            let line = [sash.sight.y0, sash.sight.y1].map(|y| Point::new(bar.centre, y));
            vec![(sash.sight.height(), line, true)]
        }
        Runs::Cross => {
            // The lights right under the bar are as wide as the pieces between the uprights.
            let low = bar.centre - bar.width / 2.0;
            let under = sash.lights.iter().filter(|light| (light.sight.y1 - low).abs() < 1e-6);
            under
                .map(|light| {
                    let ends = [light.sight.x0, light.sight.x1];
                    (light.sight.width(), ends.map(|x| Point::new(x, bar.centre)), true)
                })
                .collect()
        }
    }
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
