//! From text to a typed tree.
//!
//! A scanner cuts the file into items; each item is one call of pest; a walk over pest's pairs builds the tree. Parsing
//! never fails: what cannot be read is a broken entry and a message.

mod build;
pub mod codes;
mod explain;
mod layout;
mod rebase;
mod scan;
mod tree;
mod words;

pub use layout::{Piece, PieceKind, layout};
pub use rebase::Rebase;
pub use scan::{Comment, CommentKind};
pub use tree::{
    Binary, Declaration, Entry, EntryKind, Expr, ExprKind, Ident, Join, Literal, Param, ParamType, Parsed,
    Path, Property, Step, Text, TypeLimits, Unary, Use, UseFrom, UseName,
};

pub use words::{STATEMENTS, Statement, TOP_KINDS};

use crate::diag::{Diagnostic, Sink};
use crate::limits;
use crate::source::{FileId, Span};

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
    let items = within_limits(file, &scan, sink);
    let mut builder = build::Builder::new(file, &scan.masked, sink);
    let items = items.filter_map(|item| builder.item(item)).collect();
    Parsed { file, items, comments: scan.comments }
}

/// The items of a file without the `use` statements that are too many: nobody means them, and each would be a file.
fn within_limits<'a>(
    file: FileId,
    scan: &'a scan::Scan,
    sink: &mut Sink,
) -> impl Iterator<Item = &'a scan::Item> + use<'a> {
    let is_use = |item: &scan::Item| {
        let text = scan.masked.get(item.start..item.end).unwrap_or("");
        text.strip_prefix("use").is_some_and(|rest| rest.starts_with([' ', '\t', '"']))
    };
    let uses = scan.items.iter().filter(|item| is_use(item));
    if let Some(first) = uses.clone().nth(limits::USES) {
        let count = uses.count();
        sink.push(
            Diagnostic::new(&codes::USES, format!("this file has {count} `use` statements"))
                .at(
                    Span::new(file, first.start, first.end),
                    format!("more than {} from here on", limits::USES),
                )
                .help("one `use` brings all names of a file"),
        );
    }
    let mut left = limits::USES;
    scan.items.iter().filter(move |item| {
        let kept = left > 0 || !is_use(item);
        left = left.saturating_sub(usize::from(is_use(item)));
        kept
    })
}
