//! Every tolerance of a survey, each named once with what it trades. Lengths in mm.

/// How far overall size and sight size plus members may differ: two readings of a tape. Less would blame
/// a careful joiner, more would hide a slip of the pen.
pub(super) const MEASURING: f64 = 1.0;

/// A light narrower than this is no light; nor is a bar or the side of a bar shorter than it.
pub(super) const LEAST_LIGHT: f64 = 10.0;

/// An end of a bar this close to the edge of the daylight lies on it, as near as a joiner measures. Beside
/// a bar between two places as much less light is let pass, since its ends are off by as much.
pub(super) const ON_FRAME: f64 = 5.0;

/// How far from another bar's centre line an end may lie, as a share of that bar's width. More would join bars that
/// pass each other by, less would refuse an end measured to the bar's face.
pub(super) const ON_BAR: f64 = 0.25;

/// A rise below this is that of a straight bar: no arc so flat can be told from a line by its radius, and no rule
/// measures it.
pub(super) const STRAIGHT: f64 = 0.01;

/// How near to each other the arcs of a head must begin, and be alike, to be those of a pointed head: what
/// working them out of width and height can lose, and no more.
pub(super) const EQUAL_ARCS: f64 = 1e-3;

/// Ends of a traced drawing closer than this are joined: two steps of a drawing saved with two decimals.
pub(super) const JOINS: f64 = 0.02;

/// Heights in a traced drawing that differ by less lie in one plane: the last decimals of a drawing
/// program.
pub(super) const LEVEL: f64 = 1e-6;

/// Parts of one by which a direction, an angle in radians or a drawing unit may be off and still be the same: the
/// last decimals of a drawing program. More would flatten what is tilted without a word.
pub(super) const ROUNDING: f64 = 1e-9;
