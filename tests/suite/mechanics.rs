//! The mechanics room against the outside: published tables, handbook examples, plane geometry, general-purpose
//! libraries. Every check says what it is about, its source and how the value became known.

mod beams;
mod fasteners;
mod fixtures;

mod geometry;
mod lifting;
mod moisture;
mod properties;
mod sections;
mod shelves;
mod standards;
mod statics;
mod worked_examples;

/// Read in a copy or transcription of the source.
const SEEN: &str = "seen";
/// Calculated from a formula that was seen, or by standard mechanics and geometry.
const RECOMPUTED: &str = "recomputed";
/// Remembered, not read.
const MEMORY: &str = "memory";

/// A value passes when it differs by no more than `abs + rel * value`; a table value (both nought) must be equal
/// but for the last bits of the computation.
#[track_caller]
fn near(id: &str, how_known: &str, got: f64, want: f64, abs: f64, rel: f64) {
    let tolerance = abs + (rel + 1e-12) * want.abs();
    let off = (got - want).abs();
    assert!(off <= tolerance, "{id} ({how_known}): got {got}, want {want} within {tolerance}, off by {off}");
}

/// A value as a paper prints it, to so many decimals.
#[track_caller]
fn prints(what: &str, got: f64, decimals: usize, want: &str) {
    assert_eq!(format!("{got:.decimals$}"), want, "{what}: {got}");
}
