//! What the survey says of a sash, by the names that a joiner reads.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A measure of the survey.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Measured {
    /// What it is of: `sight width`, `left stile thickness`.
    pub what: String,
    /// How much, or which.
    pub is: Value,
}

/// A number or a word.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(untagged)]
pub enum Value {
    /// mm.
    Length(f64),
    /// Anything else.
    Words(String),
}
