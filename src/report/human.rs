//! The form for people: the lines of the text, with marks under them.

use super::{Style, Trouble, files, printable};
use crate::diag::Diagnostic;
use crate::source::Sources;
use codespan_reporting::term::{Chars, Config, DisplayStyle};
use miette::{GraphicalReportHandler, GraphicalTheme, ThemeStyles};

/// How wide a trouble is set.
const WIDTH: usize = 100;

pub(super) fn messages(diagnostics: &[Diagnostic], sources: &Sources, style: Style) -> String {
    let config = Config {
        display_style: DisplayStyle::Rich,
        chars: if style.unicode { Chars::box_drawing() } else { Chars::ascii() },
        ..Config::default()
    };
    let with_notes = |diagnostic: &Diagnostic| {
        let notes = diagnostic.notes.iter().map(|note| printable(note).into_owned());
        let help = diagnostic.help.iter().map(|help| format!("help: {}", printable(help)));
        files::convert(diagnostic).with_notes(notes.chain(help).collect())
    };
    files::drawn(diagnostics.iter().map(with_notes), sources, &config, style.colour)
}

pub(super) fn trouble(trouble: &Trouble, style: Style) -> String {
    let mut theme = if style.unicode { GraphicalTheme::unicode() } else { GraphicalTheme::ascii() };
    if !style.colour {
        theme.styles = ThemeStyles::none();
    }
    let mut text = String::new();
    let handler = GraphicalReportHandler::new_themed(theme).with_width(WIDTH).with_links(false);
    match handler.render_report(&mut text, &trouble.printable()) {
        Ok(()) => text,
        Err(_) => super::short::trouble(trouble),
    }
}
