//! Every tolerance of plane geometry, each named once with what it trades.
//!
//! Lengths in mm, angles in radians, shares of one. Each is larger than the ones above it that it is held
//! against: what arithmetic loses, what is one place, what work on edges adds up to.

// Rounding.

/// Directions that lean by less, and values and turns of a search that differ by less, are one: the last digits of
/// an `f64` less a few that a product loses. Larger, a corner would be taken for a straight line.
pub(super) const PARALLEL: f64 = 1e-12;
/// Lengths, angles and shares closer than this differ by rounding only. Larger, a crossing that is none would be
/// found; smaller, one at the end of an edge would be missed.
pub const ROUNDING: f64 = 1e-9;

// One place, one line, one circle.

/// Lengths closer than this are one length, places one place: a thousandth of what a joiner can see, and far
/// above the rounding of `f64` at the size of a house.
pub const COINCIDENT: f64 = 1e-6;
/// Ends of two outlines, and their crossings, closer than this are one node: twice what one outline may leave
/// open at a corner.
pub(super) const NODE: f64 = 2.0 * COINCIDENT;
/// An arc whose ends slide by less to their nodes stays as it is. Larger, loops would not close; smaller, arcs
/// that are the same would get circles of their own.
pub(super) const SLID: f64 = NODE / 10.0;
/// Pieces between the same nodes whose middles are closer than this are one piece: arcs between two nodes
/// are blind to what their ends leave open, by several times that.
pub(super) const ONE_PIECE: f64 = 10.0 * NODE;
/// A place further than this from a boundary is clear of its nodes: which side it lies on is sure.
pub(super) const CLEAR: f64 = 100.0 * NODE;
/// An edge that was moved, or cut, lies within this of where it should: a few roundings on from
/// [`COINCIDENT`].
pub const MOVED: f64 = 10.0 * COINCIDENT;
/// What is cut out of what was moved and joined lies within this of the line or circle that it came from, and
/// of the distance it had to keep. Far less than any two edges that differ lie apart.
pub const REWORKED: f64 = 1000.0 * COINCIDENT;

// What is left out.

/// A part of a region thinner than this on average is left out: no saw or pencil shows it.
pub const THINNEST: f64 = 1e-3;
/// A part of a region with less area than this is left out, mm².
pub const SMALLEST: f64 = 1e-2;

// Corners.

/// The sine of the smallest turn that is a corner to be rounded. Smaller, smooth joints would get arcs without
/// length.
pub const CORNER: f64 = 1e-6;
/// Neighbours that turn by less than this, as a sine, go on smoothly: moved by different distances they would
/// meet far away, or nowhere.
pub(super) const SMOOTH: f64 = 0.1;
/// Neighbours that turn by less than this, as a sine, are joined by a step where they do not meet: any turn
/// short of a square one.
pub(super) const BLUNT: f64 = 1.0;
/// Or where they meet further from their old corner than this many times the longer of their moves: a turn of 30°
/// of which one side stays where it is.
pub(super) const FARTHEST: f64 = 2.0;
/// Curves that touch at a cusp may be found to meet as far from it: they part so slowly there. Larger, a true
/// crossing beside the cusp would be missed.
pub(super) const CUSP: f64 = 0.1;
/// An arc that runs on to within this of a whole turn meets itself.
pub(super) const FULL: f64 = 1e-3;
/// Arcs longer than half a circle less this share are halved before they are cut: two nodes and a middle
/// would not tell them from their other half.
pub(super) const HALF_CIRCLE: f64 = 1e-6;

// Searches.

/// The greatest depth of edges inside an outline is found within this. Smaller takes more halvings, and no
/// cutter tells.
pub(super) const DEPTH: f64 = COINCIDENT;
/// The largest circle inside an outline is found within this: its middle only carries a label.
pub(super) const LARGEST_CIRCLE: f64 = 0.01;
/// Stretches or squares looked at before the best so far is given: far more than any shape has needed.
pub(super) const PATIENCE: usize = 200_000;

// Arcs for other curves.

/// How far arcs may lie off a curve where nothing else is asked for. Smaller takes more arcs, and the eye sees
/// no difference.
pub const FIT_WITHIN: f64 = 0.02;
/// How well the longest stretch that two arcs can follow is found, as a share of it. Smaller takes more
/// tries for arcs hardly longer.
pub(super) const STRETCH_SHARE: f64 = 0.005;
/// An arc whose chord times half its sweep is less is straight: it leaves its chord by a quarter of that, a
/// nanometre.
pub(super) const STRAIGHT: f64 = 4e-6;
/// Heads that rise less than this share of their width are level for every purpose; radii this near to the
/// limit of their kind are beyond it.
pub(super) const FLATTEST: f64 = 1e-3;

// The rectangle around an outline.

/// Areas closer than this are the same, mm²: a sheet of a metre would differ by a millionth of a millimetre.
pub(super) const AREA: f64 = 1e-3;
/// Angles closer than this are tried once: a tenth of [`PARALLEL`], so that none is lost that it tells apart.
pub(super) const ONE_ANGLE: f64 = 1e-13;
/// A step smaller than this counts as none: nobody orders so finely.
pub(super) const FINEST_STEP: f64 = 0.01;

// Least squares.

/// A column this much shorter once the others' share is taken out says nothing of its own. Far above the rounding
/// of `f64`, far below what lengths of a millimetre in ten metres tell apart.
pub(super) const DEPENDENT: f64 = 1e-9;
/// Least share of a column that must be its own before it tells a cup. Points nearly in one place along X
/// tell their cup along it in principle, and in truth only magnify each error of measuring.
pub(super) const OWN_SHARE: f64 = 0.2;
/// A step of the search for a quadrilateral shorter than this ends it.
pub(super) const STILL: f64 = 1e-10;
/// A measure is checked by the others where it leaves them at least this share of its say.
pub(super) const CHECKED: f64 = 1e-6;
/// Misfits within this share of the largest cannot be told apart: rounding, and slight crookedness, make that
/// much of a difference between measures that check each other alone.
pub(super) const ALIKE: f64 = 0.9;
