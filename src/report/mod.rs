//! Draws messages: for people, and as one line each for editors and continuous integration.

use crate::diag::{Diagnostic, Severity};
use crate::source::{FileId, Sources};
use codespan_reporting::diagnostic as codespan;
use codespan_reporting::files;
use codespan_reporting::term::{self, Chars, Config, DisplayStyle};

/// A form of messages.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// With the lines of the text and marks under them.
    Human,
    /// `path:line:col: error[CODE]: message`
    Short,
}

/// How messages are drawn.
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
    let config = Config {
        display_style: if style.form == Form::Human { DisplayStyle::Rich } else { DisplayStyle::Short },
        chars: if style.unicode { Chars::box_drawing() } else { Chars::ascii() },
        ..Config::default()
    };
    let files = SourceFiles { texts: sources.iter().map(|file| printable(file.text())).collect(), sources };
    let mut drawn = Vec::new();
    for diagnostic in diagnostics {
        let mut diagnostic = convert(diagnostic);
        if style.form == Form::Short {
            // One message is one line, at its first primary place.
            let primary = |label: &codespan::Label<FileId>| label.style == codespan::LabelStyle::Primary;
            diagnostic.labels = diagnostic.labels.into_iter().find(primary).into_iter().collect();
        }
        // Drawing into memory fails only where a span lies outside its file, which labels never do.
        let _ = if style.colour {
            let mut writer = term::termcolor::Ansi::new(&mut drawn);
            term::emit_to_write_style(&mut writer, &config, &files, &diagnostic)
        } else {
            term::emit_to_io_write(&mut drawn, &config, &files, &diagnostic)
        };
    }
    String::from_utf8_lossy(&drawn).into_owned()
}

fn convert(diagnostic: &Diagnostic) -> codespan::Diagnostic<FileId> {
    let severity = match diagnostic.severity {
        Severity::Error => codespan::Severity::Error,
        Severity::Warning => codespan::Severity::Warning,
        Severity::Note => codespan::Severity::Note,
    };
    let labels = diagnostic.labels.iter().map(|label| {
        let style =
            if label.primary { codespan::LabelStyle::Primary } else { codespan::LabelStyle::Secondary };
        codespan::Label::new(style, label.span.file, label.span.range()).with_message(printable(&label.text))
    });
    let help = diagnostic.help.iter().map(|help| format!("help: {}", printable(help)));
    codespan::Diagnostic::new(severity)
        .with_code(diagnostic.code.id)
        .with_message(printable(&diagnostic.message))
        .with_labels(labels.collect())
        .with_notes(diagnostic.notes.iter().map(|note| printable(note)).chain(help).collect())
}

/// A text in which every character that a terminal would obey is a `?` for each of its bytes, so that places hold.
fn printable(text: &str) -> String {
    let obeyed = |c: char| {
        (c.is_control() && !matches!(c, '\n' | '\r' | '\t'))
            || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
    };
    if !text.contains(obeyed) {
        return text.to_owned();
    }
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if obeyed(c) {
            out.extend(std::iter::repeat_n('?', c.len_utf8()));
        } else {
            out.push(c);
        }
    }
    out
}

/// Our files as codespan asks for them.
struct SourceFiles<'a> {
    sources: &'a Sources,
    texts: Vec<String>,
}

impl<'a> files::Files<'a> for SourceFiles<'a> {
    type FileId = FileId;
    type Name = &'a camino::Utf8Path;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<Self::Name, files::Error> {
        self.sources.get(id).map(|file| file.path()).ok_or(files::Error::FileMissing)
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, files::Error> {
        self.texts.get(id.index()).map(String::as_str).ok_or(files::Error::FileMissing)
    }

    fn line_index(&'a self, id: FileId, byte: usize) -> Result<usize, files::Error> {
        let file = self.sources.get(id).ok_or(files::Error::FileMissing)?;
        Ok(file.position(u32::try_from(byte).unwrap_or(u32::MAX)).line as usize)
    }

    fn line_range(&'a self, id: FileId, line: usize) -> Result<std::ops::Range<usize>, files::Error> {
        let file = self.sources.get(id).ok_or(files::Error::FileMissing)?;
        let missing = || files::Error::LineTooLarge { given: line, max: usize::MAX };
        u32::try_from(line).ok().and_then(|line| file.line_range(line)).ok_or_else(missing)
    }
}
