//! The files of a project: what `use` names is found, kept inside the root, and read once.

use super::codes;
use crate::diag::{Code, Diagnostic, Sink};
use crate::limits;
use crate::source::{FileError, Files, Sources, Span, plain, read};
use crate::syntax::{self, CommentKind, EntryKind, Parsed, Text, Use, UseFrom, UseName};
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The file that marks the root of projects which share files.
pub const ROOT_MARK: &str = "scantling.toml";

/// A file whose names can be used, or a part of the library.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// What was read; a part of the library may be several texts.
    pub parsed: Vec<Arc<Parsed>>,
    /// What stands in `///` before an entry, by the file and the first byte of the entry.
    pub docs: BTreeMap<(crate::source::FileId, u32), Arc<str>>,
    /// What it uses.
    pub uses: Vec<Used>,
    /// A part of the library, by its name.
    pub part: Option<Arc<str>>,
}

/// A `use` that was found.
#[derive(Clone, Debug)]
pub struct Used {
    /// The position of the used file among those that were read.
    pub file: usize,
    /// The names that are wanted; `None` where all are.
    pub names: Option<Vec<UseName>>,
    /// The whole statement.
    pub span: Span,
}

/// The parts of the library that are used by name, such as `shelving`.
pub type Parts = BTreeMap<&'static str, Loaded>;

impl Loaded {
    /// What was read, with its documentation.
    #[must_use]
    pub fn new(parsed: Vec<Arc<Parsed>>, sources: &Sources) -> Self {
        let mut docs = BTreeMap::new();
        for parsed in &parsed {
            if parsed.items.iter().any(|item| matches!(item.kind, EntryKind::Module { .. })) {
                document(parsed, sources, &mut docs);
            }
        }
        Self { parsed, docs, uses: Vec::new(), part: None }
    }
}

/// The lines of `///` before each entry.
fn document(parsed: &Parsed, sources: &Sources, docs: &mut BTreeMap<(crate::source::FileId, u32), Arc<str>>) {
    let Some(text) = sources.get(parsed.file).map(crate::source::SourceFile::text) else { return };
    let mut lines: Vec<&str> = Vec::new();
    let mut comments = parsed.comments.iter().filter(|comment| comment.kind == CommentKind::Doc).peekable();
    while let Some(comment) = comments.next() {
        let line = text.get(comment.span.range()).unwrap_or("");
        lines.push(line.trim_start_matches('/').trim());
        let end = comment.span.end as usize;
        let rest = text.get(end..).unwrap_or("");
        let next = end + rest.find(|c: char| !c.is_whitespace()).unwrap_or(rest.len());
        let further = comments.peek().is_some_and(|comment| comment.span.start as usize == next);
        if !further {
            let start = u32::try_from(next).unwrap_or(u32::MAX);
            docs.insert((parsed.file, start), std::mem::take(&mut lines).join(" ").into());
        }
    }
}

/// The main file and all files that it uses, the main file first.
pub(crate) fn load(
    files: &dyn Files,
    entry: &Utf8Path,
    main: Parsed,
    parts: &Parts,
    sources: &mut Sources,
    sink: &mut Sink,
) -> Vec<Loaded> {
    let uses_files = main.items.iter().any(|item| matches!(item.kind, EntryKind::Use(_)));
    let (path, root) = if uses_files { root(files, entry) } else { (plain(entry), None) };
    let mut loader = Loader {
        files,
        root,
        parts,
        sources,
        sink,
        loaded: Vec::new(),
        known: BTreeMap::new(),
        open: Vec::new(),
    };
    loader.known.insert(Key::File(path.clone()), 0);
    loader.open.push((0, None));
    let place = Place { shown: entry.parent().unwrap_or(Utf8Path::new("")).to_owned(), real: folder(&path) };
    let main = Loaded::new(vec![Arc::new(main)], loader.sources);
    loader.loaded.push(main);
    loader.uses(0, &place);
    loader.loaded
}

/// The real path of the main file, and the root round it.
fn root(files: &dyn Files, entry: &Utf8Path) -> (Utf8PathBuf, Option<Utf8PathBuf>) {
    let path = files.real(entry).unwrap_or_else(|_| plain(entry));
    let own = folder(&path);
    let marked = own.ancestors().find(|folder| files.real(&folder.join(ROOT_MARK)).is_ok());
    let root = marked.unwrap_or(&own).to_owned();
    (path, Some(root))
}

fn folder(path: &Utf8Path) -> Utf8PathBuf {
    path.parent().unwrap_or(Utf8Path::new("")).to_owned()
}

/// A folder as messages show it, and as it is.
#[derive(Clone)]
struct Place {
    shown: Utf8PathBuf,
    real: Utf8PathBuf,
}

#[derive(PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    File(Utf8PathBuf),
    Part(String),
}

struct Loader<'a> {
    files: &'a dyn Files,
    root: Option<Utf8PathBuf>,
    parts: &'a Parts,
    sources: &'a mut Sources,
    sink: &'a mut Sink,
    loaded: Vec<Loaded>,
    known: BTreeMap<Key, usize>,
    /// The files that are being read, with the places of the `use` that leads to each.
    open: Vec<(usize, Option<Span>)>,
}

impl Loader<'_> {
    /// Finds what a file uses.
    fn uses(&mut self, file: usize, place: &Place) {
        let parsed = self.loaded.get(file).map(|loaded| loaded.parsed.clone()).unwrap_or_default();
        let mut found = Vec::new();
        for item in parsed.iter().flat_map(|parsed| &parsed.items) {
            let EntryKind::Use(Use { from, names }) = &item.kind else { continue };
            let used = match from {
                UseFrom::File(text) => self.file(text, place),
                UseFrom::Library(path) => self.part(path),
            };
            if let Some(file) = used {
                found.push(Used { file, names: names.clone(), span: item.span });
            }
        }
        if let Some(loaded) = self.loaded.get_mut(file) {
            loaded.uses = found;
        }
    }

    fn say(&mut self, code: &'static Code, span: Span, message: String, help: &str) {
        self.sink.push(Diagnostic::new(code, message).at(span, "").help(help));
    }

    fn file(&mut self, text: &Text, place: &Place) -> Option<usize> {
        let (name, span) = (&*text.text, text.span);
        let relative = Utf8Path::new(name);
        if name.contains('\\') || relative.extension() != Some("scant") {
            let help = "write the path of a file that ends in `.scant`, with `/` between folders";
            self.say(&codes::NO_FILE, span, format!("`{name}` is no file that can be used"), help);
            return None;
        }
        let root = self.root.clone()?;
        let there = plain(&place.real.join(relative));
        let inside = |path: &Utf8Path| path.starts_with(&root) && !path.starts_with("..");
        if relative.is_absolute() || !inside(&there) {
            return self.outside(text);
        }
        let real = match self.files.real(&there) {
            Ok(real) => real,
            Err(error) => return self.unread(text, &error.to_string()),
        };
        if !inside(&real) {
            return self.outside(text);
        }
        if let Some(known) = self.known.get(&Key::File(real.clone())).copied() {
            return self.again(known, span);
        }
        self.room(span)?;
        let shown = plain(&place.shown.join(relative));
        let content = match read(self.files, &real) {
            Ok(content) => content,
            Err(error) => return self.unread(text, &error.why.to_string()),
        };
        let id = self.sources.add(shown.clone(), content.clone());
        let parsed = syntax::parse(id, &content, self.sink);
        let index = self.loaded.len();
        self.known.insert(Key::File(real.clone()), index);
        let loaded = Loaded::new(vec![Arc::new(parsed)], self.sources);
        self.loaded.push(loaded);
        self.open.push((index, Some(span)));
        self.uses(index, &Place { shown: folder(&shown), real: folder(&real) });
        self.open.pop();
        Some(index)
    }

    /// Whether one more file may be read.
    fn room(&mut self, span: Span) -> Option<()> {
        if self.open.len() > limits::USE_DEPTH {
            let message = format!("files use files more than {} deep", limits::USE_DEPTH);
            self.say(&codes::DEPTH, span, message, "bring the names together in one file");
            return None;
        }
        if self.loaded.len() > limits::USES {
            let message = format!("the project uses more than {} files", limits::USES);
            self.say(&codes::FILES, span, message, "bring the names together in fewer files");
            return None;
        }
        Some(())
    }

    /// A file that was read before; a circle where that is not finished yet.
    fn again(&mut self, known: usize, span: Span) -> Option<usize> {
        let Some(from) = self.open.iter().position(|(open, _)| *open == known) else { return Some(known) };
        let mut diagnostic = Diagnostic::new(&codes::FILE_LOOP, "this file is used by itself").at(span, "");
        for (_, through) in self.open.iter().skip(from + 1) {
            diagnostic = through.iter().fold(diagnostic, |d, span| d.and_at(*span, "by way of this"));
        }
        self.sink.push(diagnostic.help("put what both need into a file that both use"));
        None
    }

    fn outside(&mut self, text: &Text) -> Option<usize> {
        let message = format!("`{}` lies outside the project's folder", text.text);
        let help = format!(
            "copy it into the folder, or put an empty `{ROOT_MARK}` into the folder that holds the project and what it uses"
        );
        self.say(&codes::OUTSIDE, text.span, message, &help);
        None
    }

    fn unread(&mut self, text: &Text, why: &str) -> Option<usize> {
        let missing = why == FileError::Missing.to_string();
        let message = if missing {
            format!("there is no file `{}`", text.text)
        } else {
            format!("cannot read `{}`: {why}", text.text)
        };
        let help = "a path starts at the folder of the file that uses it";
        self.say(&codes::NO_FILE, text.span, message, help);
        None
    }

    /// `std.shelving`
    fn part(&mut self, path: &syntax::Path) -> Option<usize> {
        let steps: Vec<Option<&str>> = path
            .steps
            .iter()
            .map(|step| match step {
                syntax::Step::Name(name) => Some(&*name.text),
                syntax::Step::Member(..) => None,
            })
            .collect();
        let name = match steps.as_slice() {
            [Some("std"), Some(name)] => *name,
            _ => "",
        };
        let Some((name, part)) = self.parts.get_key_value(name) else {
            let known: Vec<String> = self.parts.keys().map(|name| format!("`std.{name}`")).collect();
            let message = "the library has no such part".to_owned();
            let help = format!("it has {}; a file stands in quotes", known.join(", "));
            self.say(&codes::NO_FILE, path.span, message, &help);
            return None;
        };
        let key = Key::Part((*name).to_owned());
        if let Some(known) = self.known.get(&key) {
            return Some(*known);
        }
        let index = self.loaded.len();
        self.known.insert(key, index);
        self.loaded.push(part.clone());
        Some(index)
    }
}
