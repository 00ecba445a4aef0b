//! Messages to the user: what all phases push, and no phase draws.

mod code;
mod sink;

pub use code::{Code, Example};
pub(crate) use code::{code, example};
pub use sink::{Sink, shown};

use crate::source::Span;

/// How much a message matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Cannot be read, cut, stood, fixed or held as written.
    Error,
    /// You will likely regret it.
    Warning,
    /// Good to know.
    Note,
}

impl Severity {
    /// The word that messages and JSON use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// A marked place in a source file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The place.
    pub span: Span,
    /// What is to be seen there; may be empty.
    pub text: String,
    /// Whether this is the place that the message is about.
    pub primary: bool,
}

/// One place of a [`Fix`].
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// The text to replace.
    pub span: Span,
    /// What to put there.
    pub text: String,
}

/// A change of text that solves the matter and can be applied by a machine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What the change does, as a command: "write `31 5/16\"`".
    pub title: String,
    /// What it changes, perhaps in several files; the edits do not overlap.
    pub edits: Vec<Edit>,
    /// Whether it may be applied without asking: it changes no size that others of the room or of what stands there follow.
    pub safe: bool,
}

/// What may stand in place of stated values that a message doubts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instead {
    /// The literals, with the ones in their place.
    pub edits: Vec<Edit>,
    /// What a person is asked about, `1/8"`; without it the change only serves to see what follows from what is stated.
    pub meant: Option<String>,
}

/// One message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Its code.
    pub code: &'static Code,
    /// How much it matters.
    pub severity: Severity,
    /// The fact, in the trade's words; makes sense alone.
    pub message: String,
    /// The places; the first primary one says where the message belongs.
    pub labels: Vec<Label>,
    /// Further facts, each a line or more.
    pub notes: Vec<String>,
    /// What to do, with the number that works.
    pub help: Vec<String>,
    /// Changes of text that do it.
    pub fixes: Vec<Fix>,
    /// The paths of the members that it is about; an `accept` in all of them takes a warning.
    pub about: Vec<String>,
    /// Where it doubts a stated value: what may stand there, the likeliest first. What is gone with that followed from the
    /// value, and this message counts it.
    pub instead: Vec<Instead>,
}

impl Fix {
    /// A change of one place.
    #[must_use]
    pub fn of(title: impl Into<String>, span: Span, text: impl Into<String>, safe: bool) -> Self {
        Self { title: title.into(), edits: vec![Edit { span, text: text.into() }], safe }
    }
}

impl Diagnostic {
    /// A message of `code` with the severity that the code has by itself.
    #[must_use]
    pub fn new(code: &'static Code, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: code.severity,
            message: message.into(),
            labels: Vec::new(),
            notes: Vec::new(),
            help: Vec::new(),
            fixes: Vec::new(),
            about: Vec::new(),
            instead: Vec::new(),
        }
    }

    /// Marks the place that the message is about.
    #[must_use]
    pub fn at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into(), primary: true });
        self
    }

    /// Marks another place that has a part in it.
    #[must_use]
    pub fn and_at(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into(), primary: false });
        self
    }

    /// Adds a further fact.
    #[must_use]
    pub fn note(mut self, text: impl Into<String>) -> Self {
        self.notes.push(text.into());
        self
    }

    /// Says what to do.
    #[must_use]
    pub fn help(mut self, text: impl Into<String>) -> Self {
        self.help.push(text.into());
        self
    }

    /// Offers a change of text; its title is added to the help.
    #[must_use]
    pub fn fix(mut self, span: Span, text: impl Into<String>, title: impl Into<String>) -> Self {
        let title = title.into();
        self.help.push(title.clone());
        self.fixes.push(Fix::of(title, span, text, true));
        self
    }

    /// Names a member that the message is about.
    #[must_use]
    pub fn about(mut self, path: impl Into<String>) -> Self {
        self.about.push(path.into());
        self
    }

    /// The place that the message is about.
    #[must_use]
    pub fn span(&self) -> Option<Span> {
        self.labels.iter().find(|label| label.primary).map(|label| label.span)
    }
}

/// The name among `known` that a person most likely meant by `word`; `None` where nothing is near.
#[must_use]
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(word, name), name))
        .filter(|(distance, name)| *distance <= (word.len().max(name.len()) / 3).max(1))
        .min()
        .map(|(_, name)| name)
}
