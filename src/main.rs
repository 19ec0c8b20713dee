//! The `fillister` command. All it does is hand over to the library.

fn main() {}
