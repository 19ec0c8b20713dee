//! The ordered cuts, whoever makes them: first a scoring cut against splinters, then bars lowered to
//! the old platform, the rebate widened in shallow steps, deepened to the new platform, its walls
//! finished, its corners chiselled.
//!
//! Promised: every pass is within the step limits, and after each the timber left is stated. Not
//! promised: how the cutter moves inside a pass; `machine` and `hand` see to that.

mod layers;
mod layout;
mod pass;
mod plan;
mod uncut;

pub(crate) use layers::{depths, slot_depth, steps};
pub use layout::Layout;
pub use pass::{Cut, Pass, Plan, Ring, Stage, Strip, TimberLeft};
pub use plan::{judge, plan, plan_laid_out};
