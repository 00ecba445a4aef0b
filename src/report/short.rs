//! The form for editors and continuous integration: one line a message, at its first primary place.

use super::{Trouble, files, printable_line};
use crate::diag::Diagnostic;
use crate::source::Sources;
use codespan_reporting::diagnostic::LabelStyle;
use codespan_reporting::term::{Config, DisplayStyle};

pub(super) fn messages(diagnostics: &[Diagnostic], sources: &Sources, colour: bool) -> String {
    let config = Config { display_style: DisplayStyle::Short, ..Config::default() };
    let lines = diagnostics.iter().map(|diagnostic| {
        let mut line =
            files::convert(diagnostic).with_message(printable_line(&diagnostic.message).into_owned());
        let primary = line.labels.into_iter().find(|label| label.style == LabelStyle::Primary);
        line.labels = primary.into_iter().collect();
        line
    });
    files::drawn(lines, sources, &config, colour)
}

pub(super) fn trouble(trouble: &Trouble) -> String {
    format!("error[{}]: {}\n", trouble.code, printable_line(&trouble.message))
}
