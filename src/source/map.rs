//! The files of one compilation and places in them.

use camino::{Utf8Path, Utf8PathBuf};
use line_index::{LineIndex, TextSize, WideEncoding};

/// A file of one compilation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(u32);

impl FileId {
    /// Its position in [`Sources::iter`].
    #[must_use]
    pub fn index(self) -> usize {
        self.0 as usize
    }
}

/// A range of bytes in a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// The first byte.
    pub start: u32,
    /// The byte after the last one.
    pub end: u32,
}

impl Span {
    /// The bytes from `start` up to `end` of `file`.
    #[must_use]
    pub fn new(file: FileId, start: usize, end: usize) -> Self {
        let clamp = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { file, start: clamp(start), end: clamp(end.max(start)) }
    }

    /// The range from the start of this span to the end of `last`.
    #[must_use]
    pub fn to(self, last: Self) -> Self {
        Self { end: last.end.max(self.end), ..self }
    }

    /// The range of bytes, for slicing.
    #[must_use]
    pub fn range(self) -> std::ops::Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether the two spans share a byte, or one is empty and touches the other.
    #[must_use]
    pub fn touches(self, other: Self) -> bool {
        self.file == other.file && self.start <= other.end && other.start <= self.end
    }
}

/// A place for people and editors; both figures count from zero.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineCol {
    /// The line.
    pub line: u32,
    /// The column, in the encoding that was asked for.
    pub col: u32,
}

/// One source file with its text.
#[derive(Clone, Debug)]
pub struct SourceFile {
    path: Utf8PathBuf,
    text: String,
    lines: LineIndex,
}

impl SourceFile {
    /// The path by which the file was asked for.
    #[must_use]
    pub fn path(&self) -> &Utf8Path {
        &self.path
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Line and column of a byte, the column in characters (Unicode scalar values).
    #[must_use]
    pub fn position(&self, byte: u32) -> LineCol {
        self.wide_position(byte, WideEncoding::Utf32)
    }

    /// Line and column of a byte, the column in UTF-16 units, as editors count.
    #[must_use]
    pub fn position_utf16(&self, byte: u32) -> LineCol {
        self.wide_position(byte, WideEncoding::Utf16)
    }

    fn wide_position(&self, byte: u32, encoding: WideEncoding) -> LineCol {
        let mut byte = byte.min(u32::try_from(self.text.len()).unwrap_or(u32::MAX));
        while !self.text.is_char_boundary(byte as usize) {
            byte = byte.saturating_sub(1);
        }
        let plain = self.lines.line_col(TextSize::from(byte));
        let wide = self.lines.to_wide(encoding, plain);
        LineCol { line: plain.line, col: wide.map_or(plain.col, |wide| wide.col) }
    }

    /// The byte range of a line, its end-of-line mark included; `None` past the last line.
    #[must_use]
    pub fn line_range(&self, line: u32) -> Option<std::ops::Range<usize>> {
        self.lines.line(line).map(|range| range.start().into()..range.end().into())
    }
}

/// All files of one compilation.
///
/// A text that is taken over at several places, such as the body of a module, gets an id of its own for each of them:
/// its places show the file that they stand in, and know where that text was used.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    files: Vec<SourceFile>,
    uses: Vec<(FileId, Span)>,
}

/// Ids from here on are uses of a file.
const USES: u32 = 1 << 31;

impl Sources {
    /// Adds a file; its id is valid in this map only.
    pub fn add(&mut self, path: impl Into<Utf8PathBuf>, text: String) -> FileId {
        let id = FileId(u32::try_from(self.files.len()).unwrap_or(u32::MAX));
        let lines = LineIndex::new(&text);
        self.files.push(SourceFile { path: path.into(), text, lines });
        id
    }

    /// An id for what `file` says, used at a place.
    pub fn used(&mut self, file: FileId, at: Span) -> FileId {
        let id = FileId(USES.saturating_add(u32::try_from(self.uses.len()).unwrap_or(u32::MAX)));
        self.uses.push((self.file(file), at));
        id
    }

    /// The file that an id stands for, which is another id only where it is a use.
    #[must_use]
    pub fn file(&self, id: FileId) -> FileId {
        self.used_at(id).map_or(id, |(file, _)| file)
    }

    /// The places where the text of a span is used: the nearest use first, the one in a file itself last.
    #[must_use]
    pub fn uses(&self, span: Span) -> Vec<Span> {
        let mut places = Vec::new();
        let mut at = span;
        while let Some((_, used)) = self.used_at(at.file) {
            places.push(used);
            at = used;
        }
        places
    }

    fn used_at(&self, id: FileId) -> Option<(FileId, Span)> {
        self.uses.get(id.0.checked_sub(USES)? as usize).copied()
    }

    /// The span in the file that its text stands in.
    #[must_use]
    pub fn settled(&self, span: Span) -> Span {
        Span { file: self.file(span.file), ..span }
    }

    /// The file of this id.
    #[must_use]
    pub fn get(&self, id: FileId) -> Option<&SourceFile> {
        self.files.get(self.file(id).index())
    }

    /// The text under `span`; empty where the span does not fit the file.
    #[must_use]
    pub fn text(&self, span: Span) -> &str {
        self.get(span.file).and_then(|file| file.text.get(span.range())).unwrap_or("")
    }

    /// `path:line` of a span's start, counted from one, as messages and reasons name a place.
    #[must_use]
    pub fn place(&self, span: Span) -> String {
        match self.get(span.file) {
            Some(file) => format!("{}:{}", file.path, file.position(span.start).line.saturating_add(1)),
            None => String::new(),
        }
    }

    /// The file of this path, as it was asked for.
    #[must_use]
    pub fn find(&self, path: &Utf8Path) -> Option<FileId> {
        let index = self.files.iter().position(|file| file.path == path)?;
        u32::try_from(index).ok().map(FileId)
    }

    /// The files in the order in which they were added.
    pub fn iter(&self) -> impl Iterator<Item = &SourceFile> {
        self.files.iter()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_lines_and_both_kinds_of_column() {
        let mut sources = Sources::default();
        let id = sources.add("a.scant", "one\n\u{1f4d0} = 3\u{2033}\nlast".to_owned());
        let file = sources.get(id).unwrap();
        assert_eq!(file.position(4), LineCol { line: 1, col: 0 });
        assert_eq!(file.position(8), LineCol { line: 1, col: 1 });
        assert_eq!(file.position_utf16(8), LineCol { line: 1, col: 2 });
        assert_eq!(file.position(6), LineCol { line: 1, col: 0 });
        assert_eq!(file.position(999), LineCol { line: 2, col: 4 });
        assert_eq!(file.line_range(0), Some(0..4));
        assert_eq!(file.line_range(3), None);
        assert_eq!(sources.place(Span::new(id, 4, 8)), "a.scant:2");
        assert_eq!(sources.text(Span::new(id, 0, 3)), "one");
        assert_eq!(sources.text(Span::new(id, 5, 6)), "");
    }
}
