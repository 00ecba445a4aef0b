//! From text to a typed tree.
//!
//! A scanner cuts the file into items; each item is one call of pest; a walk over pest's pairs builds the tree. Parsing
//! never fails: what cannot be read is a broken entry and a message.

mod build;
pub mod codes;
mod explain;
mod layout;
mod scan;
mod tree;

pub use layout::{Piece, PieceKind, layout};
pub use scan::{Comment, CommentKind};
pub use tree::{
    Binary, Declaration, Entry, EntryKind, Expr, ExprKind, Ident, Join, Literal, Parsed, Path, Property,
    Step, Text, Unary,
};

use crate::diag::Sink;
use crate::source::FileId;

use grammar::{Rule, ScantlingParser};

#[allow(missing_docs, reason = "pest's macro makes an item for each rule; the grammar file documents them")]
mod grammar {
    #[derive(pest_derive::Parser)]
    #[grammar = "../grammar/scantling.pest"]
    pub(super) struct ScantlingParser;
}

/// Parses the text of a file; messages go to the sink.
#[must_use]
pub fn parse(file: FileId, text: &str, sink: &mut Sink) -> Parsed {
    let scan = scan::scan(file, text, sink);
    let mut builder = build::Builder::new(file, &scan.masked, sink);
    let items = scan.items.iter().filter_map(|item| builder.item(item)).collect();
    Parsed { file, items, comments: scan.comments }
}
