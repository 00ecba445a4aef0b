//! Lines of the text that differ, for what no number explains: parts that come or go.

use super::Side;
use camino::Utf8Path;
use serde::Serialize;
use similar::{ChangeTag, TextDiff};

/// A line that only one side has.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Line {
    /// `path:line`, in the side that has it.
    pub place: String,
    /// Whether the new side has it.
    pub comes: bool,
    /// The line.
    pub text: String,
}

/// The lines that differ, file by file in the order of reading; the library is the same on both sides, and what stands at the
/// root states nothing.
#[must_use]
pub fn lines(old: Side<'_>, new: Side<'_>) -> Vec<Line> {
    let mut lines = Vec::new();
    let own = |path: &Utf8Path| !path.starts_with("library") && path.extension() == Some("scant");
    let of = |side: Side<'_>| {
        let files = side.sources.iter().filter(|file| own(file.path()));
        files.map(|file| (file.path().to_owned(), file.text().to_owned())).collect::<Vec<_>>()
    };
    for ((old_path, old), (new_path, new)) in of(old).into_iter().zip(of(new)) {
        for change in TextDiff::from_lines(&old, &new).iter_all_changes() {
            let (path, index, comes) = match change.tag() {
                ChangeTag::Equal => continue,
                ChangeTag::Delete => (&old_path, change.old_index(), false),
                ChangeTag::Insert => (&new_path, change.new_index(), true),
            };
            let text = change.value().trim().to_owned();
            if !text.is_empty() {
                let place = format!("{path}:{}", index.map_or(0, |index| index + 1));
                lines.push(Line { place, comes, text });
            }
        }
    }
    lines
}
