//! The form for editors and continuous integration: one line a message, at its first primary place.

use super::{Trouble, files, printable_line};
use crate::diag::Diagnostic;
use crate::source::Sources;
use codespan_reporting::term::{Config, DisplayStyle};

pub(super) fn messages(diagnostics: &[Diagnostic], sources: &Sources, colour: bool) -> String {
    let config = Config { display_style: DisplayStyle::Short, ..Config::default() };
    let lines = diagnostics.iter().map(|diagnostic| {
        let primary = diagnostic.labels.iter().find(|label| label.primary);
        files::convert(diagnostic, primary).with_message(printable_line(&diagnostic.message).into_owned())
    });
    files::drawn(lines, sources, &config, colour)
}

pub(super) fn trouble(trouble: &Trouble) -> String {
    format!("error[{}]: {}\n", trouble.code, printable_line(&trouble.message))
}
