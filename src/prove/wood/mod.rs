//! The wood and what the cutter has done to it.
//!
//! Two pictures of the same solids. [`Keep`] holds a solid's outline for exact distances.
//! [`Field`] cuts all solids into rows along X: in a row every boundary is exact, and the rows lie
//! so close (see [`rows`]) that a boundary between them lies within half the pitch.

mod chord;
mod field;
mod keep;
mod row;
mod rows;
mod shape;

pub(super) use field::{Field, Met, Slice, Sweep};
pub(super) use keep::Keep;
pub(super) use row::{Row, Stack, Stretch, surface};

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
