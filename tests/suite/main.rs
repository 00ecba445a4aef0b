//! Integration tests.

mod mechanics;
