//! Our files as codespan-reporting asks for them, and our messages as it draws them.

use super::{printable, printable_line};
use crate::diag::{Diagnostic, Label, Severity};
use crate::source::{FileId, SourceFile, Sources};
use codespan_reporting::diagnostic::{self as codespan, LabelStyle};
use codespan_reporting::files::{Error, Files};
use codespan_reporting::term::{self, Config};
use std::borrow::Cow;

/// Draws one message after the other; where `config` wants one line, a message is given with one place.
pub(super) fn drawn(
    diagnostics: impl IntoIterator<Item = codespan::Diagnostic<FileId>>,
    sources: &Sources,
    config: &Config,
    colour: bool,
) -> String {
    let texts = sources.iter().map(|file| printable(file.text())).collect();
    let files = SourceFiles { texts, sources };
    let mut drawn = Vec::new();
    for diagnostic in diagnostics {
        // Drawing into memory fails only where a span lies outside its file, which labels never do.
        let _ = if colour {
            let mut writer = term::termcolor::Ansi::new(&mut drawn);
            term::emit_to_write_style(&mut writer, config, &files, &diagnostic)
        } else {
            term::emit_to_io_write(&mut drawn, config, &files, &diagnostic)
        };
    }
    String::from_utf8_lossy(&drawn).into_owned()
}

/// A message with some of its places, without its notes and help.
pub(super) fn convert<'a>(
    diagnostic: &Diagnostic,
    labels: impl IntoIterator<Item = &'a Label>,
) -> codespan::Diagnostic<FileId> {
    let severity = match diagnostic.severity {
        Severity::Error => codespan::Severity::Error,
        Severity::Warning => codespan::Severity::Warning,
        Severity::Note => codespan::Severity::Note,
    };
    let labels = labels.into_iter().map(|label| {
        let style = if label.primary { LabelStyle::Primary } else { LabelStyle::Secondary };
        codespan::Label::new(style, label.span.file, label.span.range()).with_message(printable(&label.text))
    });
    codespan::Diagnostic::new(severity)
        .with_code(diagnostic.code.id)
        .with_message(printable(&diagnostic.message))
        .with_labels(labels.collect())
}

struct SourceFiles<'a> {
    sources: &'a Sources,
    texts: Vec<Cow<'a, str>>,
}

impl SourceFiles<'_> {
    fn file(&self, id: FileId) -> Result<&SourceFile, Error> {
        self.sources.get(id).ok_or(Error::FileMissing)
    }
}

impl<'a> Files<'a> for SourceFiles<'a> {
    type FileId = FileId;
    type Name = Cow<'a, str>;
    type Source = &'a str;

    fn name(&'a self, id: FileId) -> Result<Self::Name, Error> {
        Ok(printable_line(self.file(id)?.path().as_str()))
    }

    fn source(&'a self, id: FileId) -> Result<&'a str, Error> {
        self.texts.get(id.index()).map(|text| &**text).ok_or(Error::FileMissing)
    }

    fn line_index(&'a self, id: FileId, byte: usize) -> Result<usize, Error> {
        Ok(self.file(id)?.position(u32::try_from(byte).unwrap_or(u32::MAX)).line as usize)
    }

    /// Counted in the text as it is, not in what is printed for it.
    fn column_number(&'a self, id: FileId, _line: usize, byte: usize) -> Result<usize, Error> {
        let position = self.file(id)?.position(u32::try_from(byte).unwrap_or(u32::MAX));
        Ok((position.col as usize).saturating_add(1))
    }

    fn line_range(&'a self, id: FileId, line: usize) -> Result<std::ops::Range<usize>, Error> {
        let missing = || Error::LineTooLarge { given: line, max: usize::MAX };
        let file = self.file(id)?;
        u32::try_from(line).ok().and_then(|line| file.line_range(line)).ok_or_else(missing)
    }
}
