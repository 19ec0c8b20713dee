//! The wood that must go, may go and must stay, as solids.

mod plan;

pub use plan::{Corner, Pocket, Rebate};
