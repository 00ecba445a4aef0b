//! Draws messages: one file a form.
//!
//! The forms for people are drawn as the messages come; those for programs are one document a run, drawn from a [`Log`].
//! No form lets a character through that a terminal would obey.

mod files;
mod human;
mod json;
mod log;
mod narrated;
mod safe;
mod sarif;
mod short;
mod trouble;

pub use json::json;
pub use log::{Log, MissingValue, NotChecked};
pub use safe::printable_line;
pub use sarif::sarif;
pub use trouble::Trouble;

use crate::diag::Diagnostic;
use crate::source::Sources;
use safe::printable;

/// A form of messages for people.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// With the lines of the text and marks under them.
    Human,
    /// In sentences without drawings, for screen readers.
    Narrated,
    /// `path:line:col: error[CODE]: message`
    Short,
}

/// How messages are drawn for people.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// The form.
    pub form: Form,
    /// Whether escape codes for colours may be used.
    pub colour: bool,
    /// Whether lines and arrows beyond ASCII may be used.
    pub unicode: bool,
}

/// The messages, drawn one after the other.
#[must_use]
pub fn render(diagnostics: &[Diagnostic], sources: &Sources, style: Style) -> String {
    match style.form {
        Form::Human => human::messages(diagnostics, sources, style),
        Form::Narrated => narrated::messages(diagnostics, sources),
        Form::Short => short::messages(diagnostics, sources, style.colour),
    }
}

/// Why a command could not be carried out, drawn.
#[must_use]
pub fn render_trouble(trouble: &Trouble, style: Style) -> String {
    match style.form {
        Form::Human => human::trouble(trouble, style),
        Form::Narrated => narrated::trouble(trouble),
        Form::Short => short::trouble(trouble),
    }
}
