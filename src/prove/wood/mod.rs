//! The wood and what the cutter has done to it.
//!
//! Two pictures of the same solids. [`PreparedSolid`] holds a solid's outline for exact distances.
//! [`Field`] cuts all solids into rows along X: in a row every boundary is exact, and the rows lie
//! so close (see [`rows`]) that a boundary between them lies within half the pitch.

mod chord;
mod cut;
mod effort;
mod field;
mod layout;
mod level;
mod prepared;
mod probe;
mod ramp;
mod row;
mod rows;
mod shape;

pub(super) use chord::{disc, overlap};
pub(super) use field::{Field, Tallest};
pub(super) use prepared::PreparedSolid;
pub(super) use probe::{Slice, Station};
pub(super) use row::{Layer, Row, Stack, Stretch, surface};
pub(super) use shape::Footprint;

use crate::sash::Solid;

/// What may happen to a piece of wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// It must go; index into [`crate::rebate::Rebate::go`].
    Go(usize),
    /// It may go.
    MayGo,
    /// It must stay.
    Stay,
}

/// A solid with what may happen to it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Piece<'a> {
    /// The wood.
    pub solid: &'a Solid,
    /// What may happen to it.
    pub part: Part,
}

/// How finely the wood is modelled.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Resolution {
    /// Twice the most that a boundary may be displaced along X or Y, mm.
    pub pitch: f64,
    /// How exact depths must be where they slope, mm.
    pub depth: f64,
}
