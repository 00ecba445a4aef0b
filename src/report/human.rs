//! The form for people: the lines of the text, with marks under them.

use super::{Style, Trouble, files, printable};
use crate::diag::{Diagnostic, Label};
use crate::limits::{DRAWN, DRAWN_LINE};
use crate::quantity::some;
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
        let shown = diagnostic.labels.iter().take(DRAWN);
        let (long, drawn): (Vec<&Label>, Vec<&Label>) = shown.partition(|label| is_long(label, sources));
        let places = long.iter().map(|label| printable(&place(label, sources)).into_owned());
        let rest = diagnostic.labels.len().saturating_sub(DRAWN);
        let rest = (rest > 0).then(|| format!("and {}", some(rest, "more place")));
        let notes = diagnostic.notes.iter().map(|note| printable(note).into_owned());
        let help = diagnostic.help.iter().map(|help| format!("help: {}", printable(help)));
        files::convert(diagnostic, drawn).with_notes(places.chain(rest).chain(notes).chain(help).collect())
    };
    files::drawn(diagnostics.iter().map(with_notes), sources, &config, style.colour)
}

/// A place in words.
fn place(label: &Label, sources: &Sources) -> String {
    let position = sources.get(label.span.file).map(|file| file.position(label.span.start));
    let column = position.map_or(1, |position| position.col.saturating_add(1));
    let words = if label.text.is_empty() { "here" } else { &label.text };
    format!("{}:{column}: {words}", sources.place(label.span))
}

/// Whether the line of a place is too long to be drawn.
fn is_long(label: &Label, sources: &Sources) -> bool {
    sources.get(label.span.file).is_some_and(|file| {
        let line = file.position(label.span.start).line;
        file.line_range(line).is_some_and(|range| range.len() > DRAWN_LINE)
    })
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
