//! Source files: where they come from, and places in them.
//!
//! Nothing here knows the language. Only [`DiskFiles`] touches the disk; everything else reads through [`Files`].

mod files;
mod map;
mod read;

pub use files::{DiskFiles, FileError, Files, MemoryFiles, Overlay, plain};
pub use map::{FileId, LineCol, SourceFile, Sources, Span};
pub use read::{ReadError, Unreadable, read};
