//! The `scantling` program.
fn main() {}
