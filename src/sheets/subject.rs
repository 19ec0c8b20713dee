//! What a printed sheet is about.

use super::kit::Voice;
use crate::fit::Fit;
use crate::materials::Materials;
use crate::rebate::Rebate;
use crate::sash::Sash;
use crate::survey::Workshop;
use crate::timber::Timber;

/// One sash and what was worked out for it.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// Name of the house.
    pub house: &'a str,
    /// The workshop that cuts it.
    pub workshop: &'a Workshop,
    /// The sash in place.
    pub sash: &'a Sash,
    /// Where its units sit.
    pub fit: &'a Fit,
    /// Its wood, divided.
    pub rebate: &'a Rebate,
    /// What is left of it.
    pub timber: &'a Timber,
    /// What it wants besides glass.
    pub materials: &'a Materials,
}

impl Subject<'_> {
    /// How its sheets speak.
    pub fn voice(&self) -> Voice {
        Voice::of(&self.workshop.printer)
    }

    /// Its id.
    pub fn id(&self) -> &str {
        &self.sash.measured.id
    }
}
