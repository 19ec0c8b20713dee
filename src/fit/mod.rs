//! Where the unit sits and the size to order.
//!
//! Promised: sizes, covers and clearances follow from sight size, cover, clearance and blocks alone.
//! Not promised: that the wood allows it; `timber` judges that.

mod plan;

pub use plan::{Fit, InternalBar, UnitFit};
