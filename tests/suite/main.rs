//! Integration tests.
mod packing;
