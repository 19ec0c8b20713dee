//! One survey through the whole house, and the folder written whole or not at all.

pub mod folder;
