//! Beads round each unit: sizes, mitres, pins, labels.

use crate::fit::{Facing, UnitFit};
use crate::geometry::{MinMax, Side};
use crate::passes::steps;
use crate::survey::Finish;
use kurbo::{Point, Vec2};
use schemars::JsonSchema;
use serde::Serialize;

/// Pins of a bead are at most this far apart, mm (UK specification L40, 180).
pub const PIN_PITCH: f64 = 150.0;
/// The first pin is at most this far from a corner, mm (UK specification L40, 180).
pub const PIN_END: f64 = 50.0;
/// Screws of a bead are at most this far apart, mm (UK specification L40, 181).
pub const SCREW_PITCH: f64 = 225.0;
/// The first screw is at most this far from a corner, mm (UK specification L40, 181).
pub const SCREW_END: f64 = 75.0;

/// How a bead is fixed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Fixings {
    /// How many.
    pub count: u32,
    /// From one to the next, mm; none of a single one.
    pub pitch: Option<f64>,
}

/// A bead along one side of a unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Bead {
    /// Its number, as the elevation shows it.
    pub label: String,
    /// Which unit and side.
    pub place: String,
    /// Along the rebate wall, from long point to long point, mm.
    pub long: f64,
    /// Along the sight edge, from short point to short point, mm.
    pub short: f64,
    /// Seen on the face, mm; one that tapers is planed down from its widest place.
    pub width: MinMax,
    /// Square to the glass, mm.
    pub height: f64,
    /// Between its slope and the glass, degrees; of one that tapers where it is widest.
    pub splay: f64,
    /// Left of its width at the top beside the slope, mm; of one that tapers where it is widest.
    pub top: f64,
    /// Angle between the bead's length and its mitre at either end, degrees: lower or left end first.
    pub mitres: [f64; 2],
    /// Pins along its long points: at most [`PIN_PITCH`] apart and [`PIN_END`] from either end.
    pub pins: Fixings,
    /// The sight edge that it lies on, from end to end.
    #[serde(skip)]
    pub edge: [Point; 2],
    /// From that edge into the daylight, unit length.
    #[serde(skip)]
    pub inwards: Vec2,
    /// Of a curved bead, its radius along the wall and along the sight edge, mm.
    pub radii: Option<[f64; 2]>,
}

/// The beads along a rectangle, in the order of the sides.
pub(super) fn square(unit: &UnitFit, finish: &Finish) -> Vec<Bead> {
    Side::ALL.map(|side| bead(unit, side, finish)).to_vec()
}

fn bead(unit: &UnitFit, side: Side, finish: &Finish) -> Bead {
    let (wall, sight) = (unit.wall(), unit.sight());
    let width = *unit.rebate_width.get(side);
    let across = |side| unit.rebate_width.get(side).most;
    let (long, short, ends) = if side.is_upright() {
        (wall.height(), sight.height(), [Side::Bottom, Side::Top])
    } else {
        (wall.width(), sight.width(), [Side::Left, Side::Right])
    };
    let edge = ends.map(|end| side.point_of(sight, end.of(sight)));
    // The mitre runs from the corner of the walls to that of the sight edges.
    let mitres = ends.map(|end| across(side).atan2(across(end)).to_degrees());
    let place = format!("{}, {side}", unit.light);
    let facing = Facing::new(finish, width.most);
    Bead {
        label: String::new(),
        place,
        long,
        short,
        width,
        height: facing.height,
        splay: facing.angle(),
        top: facing.wall - facing.shoulder,
        mitres,
        pins: fixings(long, PIN_PITCH, PIN_END),
        edge,
        inwards: side.inwards(),
        radii: None,
    }
}

/// The fewest fixings along a bead of `length`: the first at most `end` from each corner, the others at most
/// `pitch` apart, all mm.
pub(super) fn fixings(length: f64, pitch: f64, end: f64) -> Fixings {
    let between = length - 2.0 * end;
    if between <= 0.0 {
        return Fixings { count: 1, pitch: None };
    }
    let gaps = steps(between, pitch).max(1);
    Fixings { count: gaps + 1, pitch: Some(between / f64::from(gaps)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::sash::{Sash, tests::casement};
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    // UK specification L40, 180 and 181 (published, FACTS): pins at most 150 apart and 50 from the
    // corners; screws at most 225 and 75.
    #[test]
    fn fixings_keep_to_the_specification() {
        let of = |length, pitch, end| {
            let found = fixings(length, pitch, end);
            (found.count, found.pitch)
        };
        let (count, pitch) = of(862.0, PIN_PITCH, PIN_END);
        assert_eq!(count, 7);
        assert_relative_eq!(pitch.unwrap(), 127.0);
        assert_eq!(of(850.0, PIN_PITCH, PIN_END), (6, Some(150.0)));
        assert_eq!(of(600.0, SCREW_PITCH, SCREW_END), (3, Some(225.0)));
        assert_eq!(of(90.0, PIN_PITCH, PIN_END), (1, None));
    }

    // Closed form: a bead is as wide as the rebate, its long points the corners of the wall, its short points
    // those of the sight. Daylight of 820 by 930, rebates of 14 at the sides and the top and of 16 at the
    // bottom: the mitre of the bottom bead leans by atan(16/14).
    #[test]
    fn beads_of_a_rectangle_run_from_corner_to_corner_of_the_wall() {
        let sash = Sash::new(&casement()).unwrap();
        let fit = fit::fit(&sash, &Workshop::default()).unwrap();
        let found = super::super::beads(&sash, &fit);
        let [left, right, bottom, top] = found.as_slice() else { panic!("four beads") };
        for (bead, long, short, width) in [
            (left, 930.0 + 16.0 + 14.0, 930.0, 14.0),
            (right, 960.0, 930.0, 14.0),
            (bottom, 820.0 + 14.0 + 14.0, 820.0, 16.0),
            (top, 848.0, 820.0, 14.0),
        ] {
            assert_relative_eq!(bead.long, long, epsilon = 1e-9);
            assert_relative_eq!(bead.short, short, epsilon = 1e-9);
            assert_relative_eq!(bead.width.least, width, epsilon = 1e-9);
            assert_relative_eq!(bead.width.most, width, epsilon = 1e-9);
            assert_relative_eq!(bead.height, 10.0);
            // By hand: what lies between the pins at the ends is parted into pieces of 150 at the most.
            let pieces = ((long - 100.0) / 150.0).ceil();
            assert_relative_eq!(f64::from(bead.pins.count), pieces + 1.0);
            assert_relative_eq!(bead.pins.pitch.unwrap(), (long - 100.0) / pieces);
            // Both mitres take off the rest: w / tan a at either end.
            let off = bead.mitres.map(|angle| width / angle.to_radians().tan());
            assert_relative_eq!(long - off[0] - off[1], short, epsilon = 1e-9);
        }
        let lean = (16.0_f64 / 14.0).atan().to_degrees();
        assert_relative_eq!(bottom.mitres[0], lean, epsilon = 1e-9);
        assert_relative_eq!(bottom.mitres[1], lean, epsilon = 1e-9);
        // Lower end first: with the bottom, then with the top.
        assert_relative_eq!(left.mitres[0], 90.0 - lean, epsilon = 1e-9);
        assert_relative_eq!(left.mitres[1], 45.0, epsilon = 1e-9);
        assert_eq!(found.iter().map(|bead| bead.label.as_str()).collect::<String>(), "1234");
    }
}
