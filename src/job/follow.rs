//! A cut as it goes on: what programs do move by move, over a picture of the sash.

use super::error::WorkError;
use super::make::Picture;
use super::proof::{all_placed, setup, to_cut};
use crate::drawing::{SceneError, svg};
use crate::prove::{self, Program, Proof, Step};
use crate::sheets::kit::Voice;
use crate::sheets::{self, SheetError};
use crate::survey::{self, Workshop};

/// Programs followed through a sash.
#[derive(Debug, Clone)]
pub struct Followed {
    /// What is found of them.
    pub proof: Proof,
    /// Their moves; none where they could not be swept through the wood.
    pub steps: Vec<Step>,
    /// The sash seen on the glazing face.
    pub picture: Picture,
}

/// Why programs cannot be followed.
#[derive(Debug)]
pub enum FollowError {
    /// The sash could not be worked out.
    Work(WorkError),
    /// It could not be put on a sheet.
    Sheet(SheetError),
    /// It could not be drawn.
    Scene(SceneError),
}

one_of! { FollowError: Work(WorkError), Sheet(SheetError), Scene(SceneError) }

/// Margin of the picture, mm of the sash: room for a cutter that runs round it.
const MARGIN: f64 = 30.0;
/// The longer side of the picture, mm on the screen.
const LONGEST: f64 = 240.0;

/// Proves any programs against a surveyed sash and follows them through it.
///
/// # Errors
/// Where the sash cannot be worked out or drawn.
pub fn follow(
    measured: &survey::Sash,
    workshop: &Workshop,
    programs: &[Program],
) -> Result<Followed, FollowError> {
    let work = to_cut(measured, workshop)?;
    let programs = all_placed(programs, &work);
    let setup = setup(&work, workshop).map_err(WorkError::from)?;
    let (proof, steps) = rayon::join(
        || prove::prove(&programs, &work.rebate, &setup),
        || prove::steps(&programs, &work.rebate, &setup),
    );
    let steps = steps.filter(|_| proof.swept).unwrap_or_default();
    let scene =
        sheets::outlines(&work.sash, &work.fit, &work.rebate, Voice::of(&workshop.printer))?;
    let bounds = scene.extents().inflate(MARGIN, MARGIN);
    let scale = LONGEST / bounds.width().max(bounds.height());
    let look = svg::Look { scale, margin: MARGIN };
    let picture = Picture::of("outlines.svg".to_owned(), &scene, look)?;
    Ok(Followed { proof, steps, picture })
}
