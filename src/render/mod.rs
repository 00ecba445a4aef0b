//! Draws any document: as text and as CSV.

mod csv;
mod text;

pub use self::csv::csv;
pub use text::text;
