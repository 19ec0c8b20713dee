//! The layers of a sash's drawings, in plain words of the trade.

use crate::drawing::{Colour, Layer, LineKind, LineWidth};

/// Outer edges of stiles and rails.
pub const TIMBER: Layer =
    Layer::new("timber", Colour::Brown, LineKind::Continuous, LineWidth::W035);
/// Glazing bars.
pub const BARS: Layer = Layer::new("bars", Colour::Brown, LineKind::Continuous, LineWidth::W025);
/// Daylight openings.
pub const SIGHT: Layer = Layer::new("sight", Colour::Black, LineKind::Continuous, LineWidth::W025);
/// Walls of the old rebate.
pub const OLD_REBATE: Layer =
    Layer::new("old rebate", Colour::Grey, LineKind::Dashed, LineWidth::W025);
/// Walls of the new rebate.
pub const NEW_REBATE: Layer =
    Layer::new("new rebate", Colour::Red, LineKind::Continuous, LineWidth::W050);
/// Units where they rest.
pub const UNIT: Layer = Layer::new("unit", Colour::Blue, LineKind::Continuous, LineWidth::W035);
/// Setting blocks.
pub const BLOCKS: Layer =
    Layer::new("blocks", Colour::Green, LineKind::Continuous, LineWidth::W025);
