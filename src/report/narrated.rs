//! The form for screen readers: no drawings; every place is said with its line and columns.
//!
//! miette narrates one text a report. Places in further files are said in a report of their own, which belongs to the
//! first.

use super::{Trouble, printable, printable_line};
use crate::diag::{Diagnostic, Label, Severity};
use crate::source::{FileId, SourceFile, Sources};
use miette::{LabeledSpan, MietteError, NarratableReportHandler, SourceCode, SourceSpan, SpanContents};
use std::fmt::{self, Display};

pub(super) fn messages(diagnostics: &[Diagnostic], sources: &Sources) -> String {
    diagnostics.iter().map(|diagnostic| narrated(&Report::new(diagnostic, sources)) + "\n").collect()
}

pub(super) fn trouble(trouble: &Trouble) -> String {
    narrated(&trouble.printable())
}

fn narrated(report: &dyn miette::Diagnostic) -> String {
    // A line without context: what is heard cannot be skimmed.
    let handler = NarratableReportHandler::new().with_context_lines(0);
    let mut text = String::new();
    match handler.render_report(&mut text, report) {
        Ok(()) => text,
        Err(fmt::Error) => format!("{report}\n"),
    }
}

/// A message, or the part of it that lies in one file.
#[derive(Debug, thiserror::Error)]
#[error("{message}")]
struct Report {
    message: String,
    severity: miette::Severity,
    code: Option<&'static str>,
    help: Option<String>,
    text: Option<Text>,
    labels: Vec<LabeledSpan>,
    further: Vec<Report>,
}

impl Report {
    fn new(diagnostic: &Diagnostic, sources: &Sources) -> Self {
        // The file that the message is about comes first.
        let mut files: Vec<FileId> = diagnostic.span().map(|span| span.file).into_iter().collect();
        for label in &diagnostic.labels {
            if !files.contains(&label.span.file) {
                files.push(label.span.file);
            }
        }
        let mut parts = files.into_iter().filter_map(|id| Some((id, sources.get(id)?))).map(|(id, file)| {
            let labels = diagnostic.labels.iter().filter(|label| label.span.file == id);
            Self {
                message: format!("further places, in {}", printable_line(file.path().as_str())),
                severity: miette::Severity::Advice,
                code: None,
                help: None,
                text: Some(Text::new(file)),
                labels: labels.map(narrated_label).collect(),
                further: Vec::new(),
            }
        });
        let (text, labels) = match parts.next() {
            Some(first) => (first.text, first.labels),
            None => (None, Vec::new()),
        };
        let mut message = printable(&diagnostic.message).into_owned();
        // What is set in columns for the eye is said line by line.
        for line in diagnostic.notes.iter().flat_map(|note| note.lines()) {
            message.push_str("\nnote: ");
            message.push_str(&printable_line(line.trim()));
        }
        let help = diagnostic.help.iter().map(|help| printable(help)).collect::<Vec<_>>().join("\nor: ");
        Self {
            message,
            severity: match diagnostic.severity {
                Severity::Error => miette::Severity::Error,
                Severity::Warning => miette::Severity::Warning,
                Severity::Note => miette::Severity::Advice,
            },
            code: Some(diagnostic.code.id),
            help: Some(help).filter(|help| !help.is_empty()),
            text,
            labels,
            further: parts.collect(),
        }
    }
}

fn narrated_label(label: &Label) -> LabeledSpan {
    let text = Some(printable(&label.text).into_owned()).filter(|text| !text.is_empty());
    LabeledSpan::new(text, label.span.range().start, label.span.range().len())
}

impl miette::Diagnostic for Report {
    fn code<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        self.code.map(|code| Box::new(code) as Box<dyn Display + 'a>)
    }

    fn severity(&self) -> Option<miette::Severity> {
        Some(self.severity)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn Display + 'a>)
    }

    fn source_code(&self) -> Option<&dyn SourceCode> {
        self.text.as_ref().map(|text| text as &dyn SourceCode)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        Some(Box::new(self.labels.iter().cloned()))
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn miette::Diagnostic> + 'a>> {
        let further = self.further.iter().map(|report| report as &dyn miette::Diagnostic);
        (!self.further.is_empty()).then(|| Box::new(further) as Box<_>)
    }
}

/// A file's text as miette reads it: whole lines.
#[derive(Debug)]
struct Text {
    path: String,
    text: String,
    /// Where each line begins.
    begins: Vec<usize>,
}

impl Text {
    fn new(file: &SourceFile) -> Self {
        let text = printable(file.text()).into_owned();
        let begins = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at.saturating_add(1)));
        Self { path: printable_line(file.path().as_str()).into_owned(), begins: begins.collect(), text }
    }

    /// The line of a byte, counted from zero.
    fn line(&self, byte: usize) -> usize {
        self.begins.partition_point(|begin| *begin <= byte).saturating_sub(1)
    }
}

impl SourceCode for Text {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let last_byte = span.offset().saturating_add(span.len().saturating_sub(1));
        let first = self.line(span.offset()).saturating_sub(before);
        let last = self.line(last_byte).saturating_add(after).min(self.begins.len().saturating_sub(1));
        let start = self.begins.get(first).copied().ok_or(MietteError::OutOfBounds)?;
        let end = self.begins.get(last.saturating_add(1)).copied().unwrap_or(self.text.len());
        let lines = self.text.get(start..end).ok_or(MietteError::OutOfBounds)?;
        // Without its line end, so that miette does not take the last line for the end of the file; but an empty line
        // must not vanish with what is to be said about it.
        let bare = lines.strip_suffix('\n').unwrap_or(lines);
        let bare = bare.strip_suffix('\r').unwrap_or(bare);
        let text = match bare {
            "" => " ",
            _ if bare.ends_with('\n') => lines,
            _ => bare,
        };
        Ok(Box::new(Lines {
            text,
            span: (start, end.saturating_sub(start)).into(),
            path: &self.path,
            line: first,
            count: last.saturating_sub(first).saturating_add(1),
        }))
    }
}

struct Lines<'a> {
    text: &'a str,
    span: SourceSpan,
    path: &'a str,
    line: usize,
    count: usize,
}

impl<'a> SpanContents<'a> for Lines<'a> {
    fn data(&self) -> &'a [u8] {
        self.text.as_bytes()
    }

    fn span(&self) -> &SourceSpan {
        &self.span
    }

    fn name(&self) -> Option<&str> {
        Some(self.path)
    }

    fn line(&self) -> usize {
        self.line
    }

    fn column(&self) -> usize {
        0
    }

    fn line_count(&self) -> usize {
        self.count
    }
}
