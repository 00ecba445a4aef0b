//! What stands at the root of projects that share files: `scantling.toml` names the files to build and the folders of shared
//! modules, `scantling.lock` says which text each shared file had.
//!
//! ```toml
//! build = ["wall.scant", "bench/bench.scant"]
//! modules = ["modules"]
//! ```

pub mod codes;
mod lock;

pub use lock::{Lock, Shared, hash};

use crate::diag::{Code, Diagnostic, Sink, nearest};
use crate::source::{FileError, FileId, Files, ReadError, Sources, Span, Unreadable, plain, read};
use camino::{Utf8Path, Utf8PathBuf};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// The file that marks the root of projects which share files.
pub const MANIFEST: &str = "scantling.toml";

/// The file beside it that keeps what the shared files were.
pub const LOCK: &str = "scantling.lock";

const BUILD: &str = "build";
const MODULES: &str = "modules";

/// A folder that is marked as a root.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Root {
    /// As it is.
    pub real: Utf8PathBuf,
    /// As messages show it.
    pub shown: Utf8PathBuf,
}

impl Root {
    /// The nearest root at or above a folder, which is given as it is and as messages show it.
    #[must_use]
    pub fn above(files: &dyn Files, real: &Utf8Path, shown: &Utf8Path) -> Option<Self> {
        let mut folders = real.ancestors().enumerate();
        let (up, real) = folders.find(|(_, folder)| files.real(&folder.join(MANIFEST)).is_ok())?;
        let shown = (0..up).fold(shown.to_owned(), |shown, _| shown.join(".."));
        Some(Self { real: real.to_owned(), shown: plain(&shown) })
    }

    /// Whether a path lies in this folder.
    #[must_use]
    pub fn holds(&self, path: &Utf8Path) -> bool {
        path.starts_with(&self.real) && !path.starts_with("..")
    }

    /// The text of a file that stands in the root itself; `None` where it is not there. What else is wrong with it is told.
    fn text(
        &self,
        files: &dyn Files,
        name: &str,
        code: &'static Code,
        sources: &mut Sources,
        sink: &mut Sink,
    ) -> Option<(FileId, String)> {
        match read(files, &self.real.join(name)) {
            Ok(text) => Some((sources.add(self.shown.join(name), text.clone()), text)),
            Err(ReadError { why: Unreadable::File(FileError::Missing), .. }) => None,
            Err(ReadError { why, .. }) => {
                let file = sources.add(self.shown.join(name), String::new());
                let message = format!("`{name}` cannot be read: {why}");
                sink.push(Diagnostic::new(code, message).at(Span::new(file, 0, 0), ""));
                None
            }
        }
    }
}

/// A path that the manifest names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// The path from the root.
    pub path: Utf8PathBuf,
    /// Where it stands.
    pub span: Span,
}

/// What `scantling.toml` says.
#[derive(Clone, Debug)]
pub struct Manifest {
    /// The folder that it stands in.
    pub root: Root,
    /// The files to build.
    pub build: Vec<Named>,
    /// The folders of shared modules.
    pub modules: Vec<Named>,
}

impl Manifest {
    /// Reads the manifest of a root; `None` where something in it is wrong, which is told.
    ///
    /// The files to build need not be there: what one of them lacks is no matter of another. [`Self::present`] looks.
    #[must_use]
    pub fn read(files: &dyn Files, root: Root, sources: &mut Sources, sink: &mut Sink) -> Option<Self> {
        let (file, text) = root.text(files, MANIFEST, &codes::NOT_READ, sources, sink)?;
        let table = match DeTable::parse(&text) {
            Ok(table) => table.into_inner(),
            Err(error) => {
                sink.push(not_toml(&codes::NOT_READ, MANIFEST, file, &error).help(EXAMPLE));
                return None;
            }
        };
        let before = sink.taken();
        let mut reader = Reader { root: &root, file, sink };
        let (mut build, mut modules) = (Vec::new(), Vec::new());
        for (key, value) in &table {
            match &**key.get_ref() {
                BUILD => build = reader.paths(BUILD, value),
                MODULES => modules = reader.paths(MODULES, value),
                word => reader.unknown(word, key.span()),
            }
        }
        modules.iter().for_each(|folder| reader.there(files, folder));
        let sound = sink.taken() == before;
        sound.then_some(Self { root, build, modules })
    }

    /// Whether all files to build are there; what is not is told.
    #[must_use]
    pub fn present(&self, files: &dyn Files, sink: &mut Sink) -> bool {
        let before = sink.taken();
        for named in &self.build {
            Reader { root: &self.root, file: named.span.file, sink }.there(files, named);
        }
        sink.taken() == before
    }

    /// The files to build, as messages show them.
    pub fn files(&self) -> impl Iterator<Item = Utf8PathBuf> {
        self.build.iter().map(|named| plain(&self.root.shown.join(&named.path)))
    }

    /// Whether a file, by its path from the root, is to be built.
    #[must_use]
    pub fn builds(&self, path: &Utf8Path) -> bool {
        self.build.iter().any(|named| named.path == path)
    }
}

const EXAMPLE: &str =
    "write `build = [\"wall.scant\"]` and `modules = [\"modules\"]`, each in a line of its own";

/// What TOML says of a text that is none, as a message of ours.
fn not_toml(code: &'static Code, name: &str, file: FileId, error: &toml::de::Error) -> Diagnostic {
    let Range { start, end } = error.span().unwrap_or_default();
    let why = error.message().trim().replace('\n', ", ");
    Diagnostic::new(code, format!("`{name}` cannot be read: {why}")).at(Span::new(file, start, end), "")
}

struct Reader<'a> {
    root: &'a Root,
    file: FileId,
    sink: &'a mut Sink,
}

impl Reader<'_> {
    fn span(&self, range: Range<usize>) -> Span {
        Span::new(self.file, range.start, range.end)
    }

    fn say(&mut self, code: &'static Code, span: Span, message: String, help: &str) {
        self.sink.push(Diagnostic::new(code, message).at(span, "").help(help));
    }

    fn unknown(&mut self, word: &str, range: Range<usize>) {
        let span = self.span(range);
        let diagnostic = Diagnostic::new(&codes::NO_KEY, format!("`{MANIFEST}` has no key `{word}`"));
        let diagnostic = diagnostic.at(span, "");
        self.sink.push(match nearest(word, [BUILD, MODULES]) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => diagnostic.help(format!("it has `{BUILD}` and `{MODULES}`")),
        });
    }

    /// The paths of a list, from the root, without those that cannot be meant.
    fn paths(&mut self, key: &str, value: &Spanned<DeValue<'_>>) -> Vec<Named> {
        let (what, example) = match key {
            BUILD => ("files", "build = [\"wall.scant\"]"),
            _ => ("folders", "modules = [\"modules\"]"),
        };
        let help = format!("write their paths in quotes: `{example}`");
        let Some(values) = value.get_ref().as_array() else {
            let message = format!("`{key}` takes a list of {what}");
            self.say(&codes::VALUE, self.span(value.span()), message, &help);
            return Vec::new();
        };
        let mut all: Vec<Named> = Vec::new();
        for value in values {
            let span = self.span(value.span());
            let Some(text) = value.get_ref().as_str() else {
                self.say(&codes::VALUE, span, format!("`{key}` takes a list of {what}"), &help);
                continue;
            };
            let Some(path) = self.path(key, text, span) else { continue };
            match all.iter().find(|named| named.path == path) {
                Some(first) => {
                    let twice = format!("`{text}` is named twice");
                    let diagnostic = Diagnostic::new(&codes::TWICE, twice).at(span, "");
                    self.sink.push(diagnostic.and_at(first.span, "here first").help("delete one of them"));
                }
                None => all.push(Named { path, span }),
            }
        }
        all
    }

    /// A path from the root.
    fn path(&mut self, key: &str, text: &str, span: Span) -> Option<Utf8PathBuf> {
        let path = Utf8Path::new(text);
        let is_file = path.extension() == Some("scant");
        if text.contains('\\') || is_file != (key == BUILD) {
            let message = format!("`{text}` is no {}", if key == BUILD { "file to build" } else { "folder" });
            let help = match key {
                BUILD => "write the path of a file that ends in `.scant`, with `/` between folders",
                _ => "write the path of a folder with shared files, with `/` between folders",
            };
            self.say(&codes::VALUE, span, message, help);
            return None;
        }
        let from_root = plain(path);
        if path.is_absolute() || from_root.starts_with("..") {
            self.outside(text, span);
            return None;
        }
        Some(from_root)
    }

    fn outside(&mut self, text: &str, span: Span) {
        let message = format!("`{text}` lies outside the folder of `{MANIFEST}`");
        let help = format!("copy it into the folder, or put `{MANIFEST}` into the folder that holds all");
        self.say(&codes::PATH, span, message, &help);
    }

    /// Says so where a path leads nowhere, or outside by a link.
    fn there(&mut self, files: &dyn Files, Named { path, span }: &Named) {
        match files.real(&self.root.real.join(path)) {
            Ok(real) if self.root.holds(&real) => {}
            Ok(_) => self.outside(path.as_str(), *span),
            Err(why) => {
                let message = match why {
                    FileError::Missing => format!("there is no `{path}`"),
                    why => format!("`{path}` cannot be read: {why}"),
                };
                let help =
                    format!("a path starts at the folder of `{MANIFEST}`; delete what is not built any more");
                self.say(&codes::PATH, *span, message, &help);
            }
        }
    }
}
