//! Every tolerance of the proof, and every bound of what it may take, in one place.
//!
//! Three kinds. *Rounding*: differences that arithmetic makes and no cutter could; far below any
//! tolerance of a cut, far above the last digit of a coordinate. What a *model* may be off, as a share of
//! the cut's own tolerance ([`super::Setup::tolerance`]), so that what is left over is judged with. And
//! *bounds*, so that every proof ends. Lengths of less than [`crate::geometry::COINCIDENT`] count as none here
//! as everywhere.

// Rounding.

/// Depths, heights and lengths nearer than this are the same, mm; parts of a whole number too.
/// Larger, thin films would be lost; smaller, rounding would part what is one.
pub(super) const ROUNDING: f64 = 1e-9;
/// Directions leaning by less than this share, and places across a path nearer than this, mm, are
/// parallel: divided by it, a length of the workshop still has digits left.
pub(super) const PARALLEL: f64 = 1e-12;
/// A value this much of itself above its limit is rounding of a feed in inches.
pub(super) const FEED_ROUNDING: f64 = 1.0 + 1e-6;
/// Wood differing by less is as thin in one place as in the other, mm: the place nearest to the middle
/// is named, not the one that rounding favours.
pub(super) const EVEN: f64 = 1e-6;
/// A corner of a pocket is found in its wall within this, mm.
pub(super) const CORNER: f64 = crate::geometry::REWORKED;
/// Ends of an arc nearer than this, yet apart, leave open whether it is a speck or a whole turn: less
/// than what a program of three or four decimals resolves, mm.
pub(super) const SPECK: f64 = 1e-3;
/// Most that the radii at start and end of an arc may differ, mm (NISTIR 6556 section 3.5.3).
pub(super) const ARC_RADII: f64 = 0.002;

// Shares of the cut's tolerance.

/// By how much a height over a face that is not flat may be taken for the one before it, so that a cut
/// that follows the face is level when laid flat. More leaves less to judge with, less makes more steps.
pub(super) const SNAP: f64 = 1.0 / 4.0;
/// By how much one part of a move divided over such a face may bend. Less makes more parts.
pub(super) const PART: f64 = 1.0 / 16.0;
/// Least that must be left to judge with over such a face.
pub(super) const LEFT_TO_JUDGE: f64 = 1.0 / 5.0;
/// How much a ramp's depth may be off on a row. Less makes more pieces of each row under it.
pub(super) const RAMP_SHARE: f64 = 0.4;
/// How much a piece of a helix may fall. Less makes more pieces.
pub(super) const HELIX_SHARE: f64 = 0.8;
/// Finest and coarsest pitch of the rows, mm: finer, memory would grow without bound; coarser breaks the
/// promise of the room.
pub(super) const PITCH: (f64, f64) = (0.01, 0.05);
/// Slope at which a height goes after the true one over a face that is not flat: about a degree, gentler
/// than any ramp that is forbidden.
pub(super) const GENTLE: f64 = 1.0 / 60.0;
/// Change of Z that the map of heights tells apart on a slope, mm: for a picture only.
pub(super) const MAP_STEP: f64 = 0.05;

// Heights.

/// Least height above the face that a rapid move may come down to over an opening, mm. Less is quicker by next to
/// nothing; more leaves more of the way to the plunging feed.
pub(super) const RAPID_OVER: f64 = 1.0;

// The bite sideways.

/// By how much a bite may be wider than asked for, as a share of the cutter's diameter: the scallops between the ends
/// of neighbouring lanes, and the samples across a slanting path. More lets a wider lane pass; less calls those one.
pub(super) const BITE_SHARE: f64 = 0.1;
/// Along how many cutters a bite may be wider than that: a corner is over within less. Longer wants care.
pub(super) const WIDE_SPOT: f64 = 1.5;
/// Along how many cutters it may be at all.
pub(super) const WIDE_STRETCH: f64 = 3.0;

// Bounds.

/// Most bytes that all programs together may have: beyond, what was read would not fit the room that a
/// proof may take. The programs of a whole sash have some ten thousand.
pub const MOST_BYTES: usize = 4 << 20;
/// Steps that a proof may take; some 50 ns each, so that a joiner waits 5 s at the most. A whole sash behind bars
/// takes about 200 000, a round one of 600 mm with a cutter of 6 and lanes of a fifth of it 15 000 000, one of 250 mm
/// with two bars, a cutter of 3 and lanes of a millimetre 66 000 000.
pub(super) const MOST_STEPS: u64 = 100_000_000;
/// Stretches of wood that may be held at once; 32 bytes each. A whole sash has about 20 000.
pub(super) const MOST_STRETCHES: usize = 1_500_000;
/// Rows that the wood may be cut in.
pub(super) const MOST_ROWS: usize = 200_000;
/// Most level boundaries of moves that part bands exactly; further ones lie within the pitch like
/// all else.
pub(super) const MOST_LEVELS: usize = 4000;
/// Most moves of all programs together over a face that is not flat.
pub(super) const MOST_MOVES: f64 = 200_000.0;
/// Most pieces that a ramp is looked at in under shank and holder; beyond, they only grow coarser, on
/// the safe side.
pub(super) const MOST_TOOL_PIECES: f64 = 2000.0;
/// Most pieces that a helix is cut in: enough for 10 mm at a tolerance of 0.05 mm. Beyond, they only
/// grow coarser, on the safe side.
pub(super) const MOST_HELIX_PIECES: f64 = 256.0;
/// Most pieces that a quarter of the disc on a ramp is parted in; a ramp that would need more is as good
/// as a plunge, and only coarser, on the safe side.
pub(super) const MOST_RAMP_PIECES: u32 = 48;
/// Most level steps that one slope, and all slopes together, are drawn in on the map of heights.
pub(super) const MOST_MAP_STEPS: (f64, f64) = (256.0, 500_000.0);
/// Most bands that a tall row is looked at in under a unit; beyond, they only grow coarser.
pub(super) const MOST_BANDS: f64 = 4000.0;
/// Most orders of the programs that are tried.
pub(super) const MOST_ORDERS: usize = 24;
/// Most refusals that are kept: a file that is no program at all must not fill the computer.
pub(super) const MOST_REFUSALS: usize = 10_000;
/// Places further out than this are outside any workshop, mm; it keeps all arithmetic finite.
pub(super) const FURTHEST: f64 = 1e6;
/// Furthest that a shift of the zero is tried, mm.
pub(super) const MOST_SHIFT: f64 = 50.0;
/// Furthest that a turn about the zero is tried, degrees.
pub(super) const MOST_TURN: f64 = 5.0;
