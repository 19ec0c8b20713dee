//! What stands round a sash: its old glass, what carries it, where it is, and what weather it meets.
//! Nothing of this bears on the wood; what is not known stays unknown.

use schemars::JsonSchema;
use serde::Serialize;

/// What is known besides the sash itself.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Around {
    /// Thickness of the old panes, mm.
    pub old_glass: Option<f64>,
    /// Weight boxes of a sliding sash.
    pub weights: Option<WeightBox>,
    /// Hinges of a hung sash.
    pub hinges: Option<Hinges>,
    /// How far a top-hung sash opens, degrees.
    pub opens: Option<f64>,
    /// Where it is.
    pub place: Place,
    /// What it meets.
    pub weather: Weather,
}

/// The box that a weight runs in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeightBox {
    /// Thickest round weight that runs freely, mm.
    pub diameter: f64,
    /// From the pulley down to the bottom of the box, mm.
    pub height: f64,
    /// How far the sash slides, mm.
    pub travel: f64,
    /// What one old weight weighs, kg, where it was put on a scale.
    pub old: Option<f64>,
}

/// The hinges of a sash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hinges {
    /// Between the middles of the outermost two, mm.
    pub apart: f64,
    /// How many there are.
    pub count: u32,
    /// Screws in the sash, each hinge.
    pub screws: u32,
    /// Diameter of a screw, mm.
    pub diameter: f64,
    /// Thread in the wood, mm.
    pub thread: f64,
    /// Whether they are off the sash while it is cut.
    pub cleared: bool,
}

/// Whose rules hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Country {
    /// England.
    England,
    /// The United States.
    UnitedStates,
    /// Anywhere else.
    Other,
}

/// What the sash is part of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Opening {
    /// A window in a wall.
    Window,
    /// A door.
    Door,
    /// A panel beside a door, within 300 mm of it.
    BesideDoor,
}

/// What a rule may ask safety glass for, where it is close.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nearby {
    /// An upright edge of a door, within 610 mm.
    Door,
    /// The glass is part of a guard or a railing.
    Guard,
    /// The wall stands round a bath, shower, pool or sauna, or faces one.
    Wet,
    /// Stairs, a ramp or a landing between flights, within 914 mm along the floor.
    Stairs,
    /// The lowest tread of stairs, within 1524 mm along the floor.
    StairsFoot,
}

/// All that is near, so that what is not in it is known not to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Near(u8);

impl Near {
    /// Whether it is among what is near.
    pub fn has(self, what: Nearby) -> bool {
        self.0 & what.bit() != 0
    }
}

impl Nearby {
    fn bit(self) -> u8 {
        1 << self as u8
    }
}

impl FromIterator<Nearby> for Near {
    fn from_iter<I: IntoIterator<Item = Nearby>>(all: I) -> Near {
        Near(all.into_iter().fold(0, |near, what| near | what.bit()))
    }
}

/// Where a sash is, as far as it was written down.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Place {
    /// Whose rules hold.
    pub country: Option<Country>,
    /// What the sash is part of.
    pub opening: Option<Opening>,
    /// Floor to the lower sight edge, mm.
    pub floor: Option<f64>,
    /// From the glass to the nearest surface one walks on, along the floor, mm.
    pub walkway: Option<f64>,
    /// What is near of all that a rule may ask about.
    pub near: Option<Near>,
    /// From the floor down to the ground outside, mm.
    pub drop: Option<f64>,
    /// Year in which the house was built.
    pub built: Option<u32>,
    /// Whether the house is listed or lies in a conservation area.
    pub listed: Option<bool>,
}

/// What the room and the weather are like.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Conditions {
    /// Room, °C.
    pub inside: f64,
    /// Relative humidity of the room, 0 to 1.
    pub humidity: f64,
    /// Outdoors, °C.
    pub outside: f64,
}

/// The weather that a unit was sealed in and those that it meets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weather {
    /// Room and outdoors for the dew.
    pub room: Conditions,
    /// Degree hours, thousands of kelvin hours a year.
    pub degree_hours: Option<f64>,
    /// Height of the house above the sea, m, where it is known.
    pub altitude: Option<f64>,
    /// Height above the sea where the unit is sealed, m, where it is known.
    pub sealed_altitude: Option<f64>,
    /// Gas in the cavity when it is sealed, °C.
    pub sealed_temperature: f64,
    /// Barometer when it is sealed, reduced to sea level, hPa.
    pub sealed_barometer: f64,
    /// Gas in the cavity at its hottest and at its coldest, °C.
    pub gas: [f64; 2],
    /// Barometer on that hot and on that cold day, reduced to sea level, hPa.
    pub barometer: [f64; 2],
}
