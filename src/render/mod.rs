//! Draws any document: as text, as CSV, as a page for a browser.

mod book;
mod csv;
mod html;
mod pdf;
mod svg;
mod text;

pub use self::book::{Cover, book};
pub use self::csv::csv;
pub use self::svg::{stacked, svg};
pub use html::html;
pub use pdf::pdf;
pub use text::{page, text};
