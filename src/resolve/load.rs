//! The files of a project: what `use` names is found, kept inside the root, and read once.

use super::codes;
use crate::diag::{Code, Diagnostic, Sink};
use crate::limits;
use crate::manifest::{self, Lock, MANIFEST, Manifest, Named, Root, Shared};
use crate::source::{FileError, FileId, Files, Sources, Span, plain, read};
use crate::syntax::{self, CommentKind, Entry, EntryKind, Parsed, Text, Use, UseFrom, UseName};
use camino::{Utf8Path, Utf8PathBuf};
use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

/// What stands in `///` before an entry, by the file and the first byte of the entry.
pub(super) type Docs = BTreeMap<(FileId, u32), Arc<str>>;

/// A file whose names can be used, or a part of the library.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// What was read; a part of the library may be several texts.
    pub parsed: Vec<Arc<Parsed>>,
    /// What stands in `///` before an entry, by the file and the first byte of the entry.
    pub docs: Docs,
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
        let mut docs = Docs::new();
        for parsed in &parsed {
            document(parsed, sources, &mut docs);
        }
        Self { parsed, docs, uses: Vec::new(), part: None }
    }
}

/// The lines of `///` before each entry.
fn document(parsed: &Parsed, sources: &Sources, docs: &mut Docs) {
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

/// The main file and all files that it uses, the main file first; and those of them that are shared.
///
/// Where a lock stands at their root, it is said what changed since.
pub(crate) fn load(
    files: &dyn Files,
    entry: &Utf8Path,
    main: Parsed,
    parts: &LazyLock<Parts>,
    sources: &mut Sources,
    sink: &mut Sink,
) -> (Vec<Loaded>, Vec<Shared>) {
    let main = Loaded::new(vec![Arc::new(main)], sources);
    let is_use = |item: &Entry| matches!(item.kind, EntryKind::Use(_));
    if !main.parsed.iter().flat_map(|parsed| &parsed.items).any(is_use) {
        return (vec![main], Vec::new());
    }
    let path = files.real(entry).unwrap_or_else(|_| plain(entry));
    let place = Folder { shown: folder(entry), real: folder(&path) };
    let marked = Root::above(files, &place.real, &place.shown);
    let root =
        marked.clone().unwrap_or_else(|| Root { real: place.real.clone(), shown: place.shown.clone() });
    let lock = marked.as_ref().and_then(|root| Lock::read(files, root, sources, sink));
    let is_marked = marked.is_some();
    let manifest = marked.and_then(|root| Manifest::read(files, root, sources, sink));
    let own = manifest.as_ref().zip(path.strip_prefix(&root.real).ok());
    let own = own.is_some_and(|(manifest, path)| manifest.builds(path));
    let modules = match &manifest {
        // What a manifest that cannot be read would name is not known.
        None if is_marked => None,
        manifest => Some(manifest.iter().flat_map(|manifest| manifest.modules.clone()).collect()),
    };
    let mut loader = Loader {
        files,
        root,
        modules,
        lock: lock.as_ref(),
        parts,
        sources,
        sink,
        loaded: vec![main],
        shared: Vec::new(),
        known: BTreeMap::from([(Key::File(path), 0)]),
        open: vec![(0, None)],
    };
    loader.uses(0, &place);
    let Loader { loaded, shared, .. } = loader;
    if let Some(lock) = &lock {
        lock.compare(&shared, own, sources, sink);
    }
    (loaded, shared)
}

fn folder(path: &Utf8Path) -> Utf8PathBuf {
    path.parent().unwrap_or(Utf8Path::new("")).to_owned()
}

/// A folder as messages show it, and as it is.
#[derive(Clone)]
struct Folder {
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
    root: Root,
    /// The folders of shared modules; `None` where they are not known.
    modules: Option<Vec<Named>>,
    lock: Option<&'a Lock>,
    parts: &'a LazyLock<Parts>,
    sources: &'a mut Sources,
    sink: &'a mut Sink,
    loaded: Vec<Loaded>,
    shared: Vec<Shared>,
    known: BTreeMap<Key, usize>,
    /// The files that are being read, with the places of the `use` that leads to each.
    open: Vec<(usize, Option<Span>)>,
}

impl Loader<'_> {
    /// Finds what a file uses.
    fn uses(&mut self, file: usize, place: &Folder) {
        let parsed = self.loaded.get(file).map(|loaded| loaded.parsed.clone()).unwrap_or_default();
        let mut found = Vec::new();
        for item in parsed.iter().flat_map(|parsed| &parsed.items) {
            let EntryKind::Use(Use { from, names }) = &item.kind else { continue };
            let used = match from {
                UseFrom::File(text) => self.file(text, place),
                UseFrom::Library(path) => self.named(path),
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

    fn file(&mut self, text: &Text, place: &Folder) -> Option<usize> {
        let (name, span) = (&*text.text, text.span);
        let relative = Utf8Path::new(name);
        if name.contains('\\') || relative.extension() != Some("scant") {
            let help = "write the path of a file that ends in `.scant`, with `/` between folders";
            self.say(&codes::NO_FILE, span, format!("`{name}` is no file that can be used"), help);
            return None;
        }
        let there = plain(&place.real.join(relative));
        if relative.is_absolute() || !self.root.holds(&there) {
            return self.outside(text);
        }
        let real = match self.files.real(&there) {
            Ok(real) => real,
            Err(error) => return self.unread(&there, text, &error.to_string()),
        };
        if !self.root.holds(&real) {
            return self.outside(text);
        }
        self.bring(&real, &plain(&place.shown.join(relative)), text)
    }

    /// Reads a file inside the root, or takes it as it was read before.
    fn bring(&mut self, real: &Utf8Path, shown: &Utf8Path, text: &Text) -> Option<usize> {
        let span = text.span;
        if let Some(known) = self.known.get(&Key::File(real.to_owned())).copied() {
            return self.again(known, span);
        }
        self.room(span)?;
        let content = match read(self.files, real) {
            Ok(content) => content,
            Err(error) => return self.unread(real, text, &error.why.to_string()),
        };
        let id = self.sources.add(shown, content.clone());
        let parsed = syntax::parse(id, &content, self.sink);
        let index = self.loaded.len();
        self.known.insert(Key::File(real.to_owned()), index);
        let path = real.strip_prefix(&self.root.real).unwrap_or(real).to_owned();
        self.shared.push(Shared { path, file: id, used: span });
        let loaded = Loaded::new(vec![Arc::new(parsed)], self.sources);
        self.loaded.push(loaded);
        self.open.push((index, Some(span)));
        self.uses(index, &Folder { shown: folder(shown), real: folder(real) });
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
            "copy it into the folder, or put an empty `{MANIFEST}` into the folder that holds the project and what it uses"
        );
        self.say(&codes::OUTSIDE, text.span, message, &help);
        None
    }

    fn unread(&mut self, there: &Utf8Path, text: &Text, why: &str) -> Option<usize> {
        let missing = why == FileError::Missing.to_string();
        let message = if missing {
            format!("there is no file `{}`", text.text)
        } else {
            format!("cannot read `{}`: {why}", text.text)
        };
        let mut diagnostic = Diagnostic::new(&codes::NO_FILE, message).at(text.span, "");
        diagnostic = diagnostic.help("a path starts at the folder of the file that uses it");
        let path = there.strip_prefix(&self.root.real).ok().filter(|_| missing);
        if let Some((path, hash)) = path.and_then(|path| Some((path, self.lock?.hash(path)?))) {
            let then =
                format!("it is locked: `git cat-file blob {hash} > {path}` brings it back, where git has it");
            diagnostic = diagnostic.help(then);
        }
        self.sink.push(diagnostic);
        None
    }

    /// `std.shelving`, or `cupboard`: a file in a folder of shared modules
    fn named(&mut self, path: &syntax::Path) -> Option<usize> {
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
            [Some("std"), ..] => "",
            _ => {
                let steps: Option<Vec<&str>> = steps.into_iter().collect();
                return self.module(&steps?.join("/"), path.span);
            }
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

    /// The file of this name in the folders of shared modules.
    fn module(&mut self, name: &str, span: Span) -> Option<usize> {
        let folders = self.modules.clone()?;
        let file = Utf8PathBuf::from(format!("{name}.scant"));
        let mut found: Vec<(&Named, Utf8PathBuf)> = Vec::new();
        for folder in &folders {
            let there = self.root.real.join(&folder.path).join(&file);
            if let Ok(real) = self.files.real(&there)
                && !found.iter().any(|(_, known)| *known == real)
            {
                found.push((folder, real));
            }
        }
        let text = Text { text: file.as_str().into(), span };
        match found.as_slice() {
            [] => {
                let message = format!("there is no file `{file}` in a folder of shared modules");
                let folders: Vec<String> =
                    folders.iter().map(|folder| format!("`{}`", folder.path)).collect();
                let help = match folders.as_slice() {
                    [] => format!(
                        "name the folders in `{MANIFEST}`, as `modules = [\"modules\"]`; a path stands in quotes: \
                         `use \"{file}\"`"
                    ),
                    folders => format!("`{MANIFEST}` names {}; a path stands in quotes", folders.join(", ")),
                };
                self.say(&codes::NO_FILE, span, message, &help);
                None
            }
            [(_, real)] if !self.root.holds(real) => self.outside(&text),
            [(folder, real)] => {
                let shown = self.root.shown.join(&folder.path).join(&file);
                self.bring(real, &plain(&shown), &text)
            }
            [(first, _), others @ ..] => {
                let message = format!("`{file}` stands in {} folders of shared modules", found.len());
                let diagnostic = Diagnostic::new(&manifest::codes::AMBIGUOUS, message).at(span, "");
                let diagnostic =
                    others.iter().fold(diagnostic.and_at(first.span, "in this folder"), |d, (folder, _)| {
                        d.and_at(folder.span, "and in this one")
                    });
                self.sink.push(diagnostic.help("write the path of the one that is meant, in quotes"));
                None
            }
        }
    }
}
