//! Tables of an input file, each declared once: from the declaration come the struct of what was read,
//! its reader, the JSON Schema, the list of its keys, and every message about a mistake in it.
//!
//! Promised: reading never panics and never touches the disk; a file with mistakes gives every mistake at
//! once, each with line, column, value, expectation and, where it can be guessed, the cure. The tables
//! and what contradicts what are the business of the room that declares them: no trade word stands here.
//!
//! A room declares a table with `table!`, kinds of numbers and lengths with `measures!`, and a choice of
//! words with `choice!`; anything else that can stand behind a key implements [`Entry`]. [`read`] goes
//! from text to what the room makes of its tables, or to [`Diagnostics`].

mod diagnostic;
mod entry;
mod length;
mod nearest;
mod read;
mod reader;
mod scalars;
mod slips;
mod source;
mod table;

pub use diagnostic::{Diagnostic, Diagnostics};
pub use entry::{
    All, DeclaredKey, Entry, Few, Many, Named, OneOrTwo, Pair, pair, part, refuse, spanned,
};
pub use length::{INCH, in_mm, is_bare, unit_at_end};
pub use nearest::nearest;
pub use read::{keys, read, schema, standing_at, utf8};
pub use reader::{FileKind, Node, Optional, Place, Reader, Spanned};
pub use scalars::{Bounds, Flag, Whole, show};
pub(crate) use scalars::{choice, measures};
pub use source::{is_unseen, visible};
pub(crate) use table::table;
pub use table::{Fill, FromLiteral, Key, Open, Presence, list_key, table_schema};
