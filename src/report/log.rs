//! What a run tells, gathered for the forms that are one document.

use super::Trouble;
use crate::diag::{Diagnostic, Severity, shown};
use crate::source::{LineCol, Sources, Span};
use serde::Serialize;

/// What a run tells.
#[derive(Clone, Debug, Default)]
pub struct Log {
    pub(super) messages: Vec<Message>,
    pub(super) left_out: usize,
    pub(super) cautions: Vec<String>,
    pub(super) not_checked: Vec<NotChecked>,
}

/// What a check would have compared, and the values that are missing for it.
#[derive(Clone, Debug, Serialize)]
pub struct NotChecked {
    /// The project's main file.
    pub file: String,
    /// The code of what would be told.
    pub code: &'static str,
    /// Its readable name.
    pub slug: &'static str,
    /// What would be compared, in words.
    pub what: &'static str,
    /// The paths of the members that it is about.
    pub about: Vec<String>,
    /// What is missing.
    pub needs: Vec<MissingValue>,
}

/// A value that nobody states.
#[derive(Clone, Debug, Serialize)]
pub struct MissingValue {
    /// The property, or the kind that is not there at all.
    pub property: &'static str,
    /// The member that should state it; nothing for a kind.
    pub of: Option<String>,
}

impl NotChecked {
    /// In words, for forms that have no field for it.
    pub(super) fn words(&self) -> String {
        let need = |need: &MissingValue| match &need.of {
            Some(of) => format!("`{}` of `{of}`", need.property),
            None => format!("`{}`", need.property),
        };
        let needs: Vec<String> = self.needs.iter().map(need).collect();
        let about: Vec<String> = self.about.iter().map(|path| format!("`{path}`")).collect();
        let (file, slug, what) = (&self.file, self.slug, self.what);
        format!(
            "{file}: not checked for want of {}: {slug}, {what}, of {}",
            needs.join(" and "),
            about.join(", ")
        )
    }
}

impl Log {
    /// Takes the messages of a project, as many as are shown, and counts the others.
    pub fn messages(&mut self, diagnostics: &[Diagnostic], sources: &Sources) {
        let (diagnostics, left_out) = shown(diagnostics);
        self.messages.extend(diagnostics.iter().map(|diagnostic| Message::new(diagnostic, sources)));
        self.left_out = self.left_out.saturating_add(left_out);
    }

    /// Takes why a command could not be carried out.
    pub fn trouble(&mut self, trouble: &Trouble) {
        self.messages.push(Message {
            code: Some(trouble.code.clone()),
            help: trouble.help.clone().into_iter().collect(),
            ..Message::plain(Severity::Error, &trouble.message)
        });
    }

    /// Takes a caution that belongs to the messages.
    pub fn caution(&mut self, text: &str) {
        self.cautions.push(text.to_owned());
    }

    /// Takes what could not be checked in a project.
    pub fn not_checked(&mut self, not_checked: NotChecked) {
        self.not_checked.push(not_checked);
    }

    /// Takes what is good to know and belongs to no code.
    pub fn remark(&mut self, text: &str) {
        self.messages.push(Message::plain(Severity::Note, text));
    }
}

/// One message as programs read it.
#[derive(Clone, Debug, Serialize)]
pub struct Message {
    /// Its code; none for a remark.
    pub code: Option<String>,
    /// The readable name of the code; none for what is not about a project.
    pub slug: Option<&'static str>,
    /// How much it matters: `error`, `warning` or `note`.
    pub severity: &'static str,
    /// The fact.
    pub message: String,
    /// The paths of the members that it is about.
    pub about: Vec<String>,
    /// The places.
    pub labels: Vec<MarkedPlace>,
    /// Further facts.
    pub notes: Vec<String>,
    /// What to do.
    pub help: Vec<String>,
    /// Changes of text that do it.
    pub fixes: Vec<Change>,
}

/// A marked place.
#[derive(Clone, Debug, Serialize)]
pub struct MarkedPlace {
    /// Whether the message is about it.
    pub primary: bool,
    /// What is to be seen there.
    pub text: String,
    /// Where it is.
    #[serde(flatten)]
    pub region: Region,
}

/// A change of text.
#[derive(Clone, Debug, Serialize)]
pub struct Change {
    /// What it does.
    pub title: String,
    /// Its places; they do not overlap.
    pub edits: Vec<Edit>,
}

/// One place of a change.
#[derive(Clone, Debug, Serialize)]
pub struct Edit {
    /// What to put into the region.
    pub replacement: String,
    /// What to replace.
    #[serde(flatten)]
    pub region: Region,
}

/// A piece of a file; each end is the place after the last character.
#[derive(Clone, Debug, Serialize)]
pub struct Region {
    /// The file.
    pub path: String,
    /// Bytes, counted from zero.
    pub bytes: Ends<usize>,
    /// Lines and columns in characters, counted from one.
    #[serde(flatten)]
    pub characters: Ends<Position>,
    /// Lines and UTF-16 units, counted from zero, as editors' protocols have them.
    pub utf16: Ends<Utf16>,
}

/// A start and an end.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Ends<T> {
    /// The start.
    pub start: T,
    /// The end.
    pub end: T,
}

/// A place for people.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Position {
    /// The line, from one.
    pub line: u32,
    /// The column, from one.
    pub column: u32,
}

/// A place for editors.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Utf16 {
    /// The line, from zero.
    pub line: u32,
    /// The unit in it, from zero.
    pub character: u32,
}

impl Message {
    fn plain(severity: Severity, text: &str) -> Self {
        Self {
            code: None,
            slug: None,
            severity: severity.word(),
            message: text.to_owned(),
            about: Vec::new(),
            labels: Vec::new(),
            notes: Vec::new(),
            help: Vec::new(),
            fixes: Vec::new(),
        }
    }

    fn new(diagnostic: &Diagnostic, sources: &Sources) -> Self {
        let labels = diagnostic.labels.iter().map(|label| MarkedPlace {
            primary: label.primary,
            text: label.text.clone(),
            region: Region::new(label.span, sources),
        });
        let edit = |edit: &crate::diag::Edit| Edit {
            replacement: edit.text.clone(),
            region: Region::new(edit.span, sources),
        };
        let fixes = diagnostic
            .fixes
            .iter()
            .map(|fix| Change { title: fix.title.clone(), edits: fix.edits.iter().map(edit).collect() });
        Self {
            code: Some(diagnostic.code.id.to_owned()),
            slug: Some(diagnostic.code.slug),
            severity: diagnostic.severity.word(),
            message: diagnostic.message.clone(),
            about: diagnostic.about.clone(),
            labels: labels.collect(),
            notes: diagnostic.notes.clone(),
            help: diagnostic.help.clone(),
            fixes: fixes.collect(),
        }
    }
}

impl Region {
    fn new(span: Span, sources: &Sources) -> Self {
        let file = sources.get(span.file);
        let none = LineCol { line: 0, col: 0 };
        let characters = |byte| {
            let LineCol { line, col } = file.map_or(none, |file| file.position(byte));
            Position { line: line.saturating_add(1), column: col.saturating_add(1) }
        };
        let utf16 = |byte| {
            let LineCol { line, col } = file.map_or(none, |file| file.position_utf16(byte));
            Utf16 { line, character: col }
        };
        Self {
            path: file.map(|file| file.path().to_string()).unwrap_or_default(),
            bytes: Ends { start: span.range().start, end: span.range().end },
            characters: Ends { start: characters(span.start), end: characters(span.end) },
            utf16: Ends { start: utf16(span.start), end: utf16(span.end) },
        }
    }
}
