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
/// Grooves for cords in outer edges.
pub const CORD_GROOVE: Layer =
    Layer::new("cord groove", Colour::Grey, LineKind::Dashed, LineWidth::W025);
/// Walls of the new rebate.
pub const NEW_REBATE: Layer =
    Layer::new("new rebate", Colour::Red, LineKind::Continuous, LineWidth::W050);
/// Units where they rest.
pub const UNIT: Layer = Layer::new("unit", Colour::Blue, LineKind::Continuous, LineWidth::W035);
/// Setting blocks.
pub const BLOCKS: Layer =
    Layer::new("blocks", Colour::Green, LineKind::Continuous, LineWidth::W025);
/// Sight edges where a section is cut across them.
pub const SIGHT_EDGE: Layer = Layer::new("sight", Colour::Grey, LineKind::Chain, LineWidth::W018);
/// Hatching of cut wood.
pub const HATCHING: Layer =
    Layer::new("hatching", Colour::Brown, LineKind::Continuous, LineWidth::W013);
/// Bed and bead.
pub const BEAD: Layer =
    Layer::new("bed and bead", Colour::Magenta, LineKind::Continuous, LineWidth::W025);
/// Dimensions.
pub const DIMENSIONS: Layer =
    Layer::new("dimensions", Colour::Black, LineKind::Continuous, LineWidth::W013);
/// Notes and captions.
pub const WORDS: Layer = Layer::new("words", Colour::Black, LineKind::Continuous, LineWidth::W013);
/// Edge of the aperture that a guide bush runs along.
pub const APERTURE: Layer =
    Layer::new("template aperture", Colour::Magenta, LineKind::Chain, LineWidth::W035);
/// Straightedges that the base runs along.
pub const STRAIGHTEDGE: Layer =
    Layer::new("straightedge", Colour::Magenta, LineKind::Chain, LineWidth::W035);
/// Corners that are left for the chisel.
pub const CHISEL: Layer = Layer::new("chisel", Colour::Red, LineKind::Continuous, LineWidth::W025);
/// Nails, sprigs and other metal.
pub const METAL: Layer = Layer::new("metal", Colour::Blue, LineKind::Continuous, LineWidth::W025);
/// Screws of hardware.
pub const SCREWS: Layer = Layer::new("screws", Colour::Blue, LineKind::Dashed, LineWidth::W025);
/// Marks by which tiles are joined.
pub const MARKS: Layer =
    Layer::new("joining marks", Colour::Black, LineKind::Continuous, LineWidth::W018);
/// The square that proves the size of a print.
pub const CHECK: Layer =
    Layer::new("check square", Colour::Black, LineKind::Continuous, LineWidth::W025);
/// Outer edge of a template's plate.
pub const PLATE: Layer = Layer::new("plate", Colour::Brown, LineKind::Continuous, LineWidth::W035);
/// Holes for the screws that hold a template.
pub const HOLES: Layer = Layer::new("holes", Colour::Green, LineKind::Continuous, LineWidth::W025);
/// Edges of tiles on a map of them.
pub const TILES: Layer = Layer::new("tiles", Colour::Grey, LineKind::Continuous, LineWidth::W018);
/// Boxes to write in.
pub const BOXES: Layer = Layer::new("boxes", Colour::Black, LineKind::Continuous, LineWidth::W018);
/// Squares to trace on.
pub const SQUARES: Layer =
    Layer::new("squares", Colour::Grey, LineKind::Continuous, LineWidth::W013);
/// Where to put the rule.
pub const RULE: Layer = Layer::new("rule", Colour::Red, LineKind::Continuous, LineWidth::W025);
/// What the cutter's centre reaches in a set-up.
pub const TRAVEL: Layer = Layer::new("travel", Colour::Grey, LineKind::Chain, LineWidth::W025);
/// Edge stops on the spoil board.
pub const STOPS: Layer = Layer::new("stops", Colour::Green, LineKind::Continuous, LineWidth::W050);
/// Boards in the openings that are cut to the shape of a light.
pub const BOARDS: Layer = Layer::new("boards", Colour::Grey, LineKind::Dashed, LineWidth::W018);
