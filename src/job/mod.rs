//! One survey through the whole house, and the folder written whole or not at all.
//!
//! Promised: a machine program is among the files only if the proof of that very text passed, and of
//! every other program of its sash. Not promised: anything about the disk but what [`folder`] says.

mod building;
mod cannot_be_cut;
mod change;
mod choice;
mod compare;
mod differences;
mod done;
mod error;
pub mod folder;
mod follow;
mod house;
mod make;
mod measured;
mod ordered;
mod proof;
mod relative_files;
mod report;
mod reserve;
mod trial;
mod work;

pub use building::{BuildingChecks, Hanging};
pub use compare::compare;
pub use error::WorkError;
pub use follow::{FollowError, Followed, follow};
pub use house::{
    InWords, Made, MakeError, Step, Written, check_in_words, make, make_against, make_in,
};
pub use make::{Look, Picture, look, look_at_warmth};
pub use proof::{prove, prove_work, setup};
pub use relative_files::{read_some, relative_files};
pub use report::{check, check_against, check_apart, check_in_turn};
pub use reserve::reserve;
pub use work::Work;
