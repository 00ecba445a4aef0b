//! Lines of the text that differ, for what no number explains: parts that come or go.

use super::Side;
use camino::{Utf8Path, Utf8PathBuf};
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
    let of = |side: Side<'_>| -> Vec<(Utf8PathBuf, String)> {
        let files = side.sources.iter().filter(|file| own(file.path()));
        files.map(|file| (file.path().to_owned(), file.text().to_owned())).collect()
    };
    let (old, new) = (of(old), of(new));
    for ((old_path, old), (new_path, new)) in beside(old, new) {
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

type File = (Utf8PathBuf, String);

/// Files of both sides that are one: the project itself, and what has the same path from there. One that the other side does not
/// have stands beside an empty one.
fn beside(old: Vec<File>, new: Vec<File>) -> Vec<(File, File)> {
    let key = |first: Option<&Utf8PathBuf>, path: &Utf8PathBuf| {
        if first == Some(path) {
            return Utf8PathBuf::new();
        }
        let folder = first.and_then(|first| first.parent());
        folder
            .and_then(|folder| path.strip_prefix(folder).ok())
            .map_or_else(|| path.clone(), Utf8Path::to_owned)
    };
    let keyed = |files: Vec<File>| -> Vec<(Utf8PathBuf, File)> {
        let first = files.first().map(|(path, _)| path.clone());
        files.into_iter().map(|file| (key(first.as_ref(), &file.0), file)).collect()
    };
    let mut open = keyed(new);
    let mut both = Vec::new();
    for (name, file) in keyed(old) {
        let other = open.iter().position(|(other, _)| *other == name).map(|at| open.remove(at).1);
        let other = other.unwrap_or_else(|| (file.0.clone(), String::new()));
        both.push((file, other));
    }
    both.extend(open.into_iter().map(|(_, file)| ((file.0.clone(), String::new()), file)));
    both
}
