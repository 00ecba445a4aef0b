//! The compiler for `.scant` files: built-in painted shelving, from what is decided to parts that can be cut.
pub mod cutting;
