//! What the program prints: sheets and answers to standard output, messages to standard error.

use super::{Colour, Failure, MessageFormat};
use crate::compile::{Compilation, codes};
use crate::diag::{Diagnostic, Severity, shown};
use crate::parts::Lacking;
use crate::quantity::some;
use crate::report::{
    Form, Log, MissingValue, NotChecked, Style, Trouble, json, printable_line, render, render_trouble, sarif,
};
use crate::source::Sources;
use std::io::{self, IsTerminal, Write};

/// The columns of a page where nobody says how many there are; the least and the most that it takes on a terminal.
const COLUMNS: u16 = 80;
const LEAST_COLUMNS: u16 = 40;
const MOST_COLUMNS: u16 = 120;

/// The terminal, or what stands in its place.
#[derive(Debug)]
pub(super) struct Screen {
    style: Style,
    /// What is told, where it becomes one document.
    document: Option<(Document, Log)>,
}

/// A form of messages that is one document a run.
#[derive(Clone, Copy, Debug)]
enum Document {
    Json,
    Sarif,
}

/// Where a document goes.
#[derive(Clone, Copy, Debug)]
pub(super) enum Stream {
    Out,
    Err,
}

impl Screen {
    pub fn new(format: MessageFormat, colour: Colour) -> Self {
        let terminal = io::stderr().is_terminal();
        let colour = match colour {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => terminal && variable("NO_COLOR").is_none(),
        };
        let (form, document) = match format {
            MessageFormat::Human => (Form::Human, None),
            MessageFormat::Narrated => (Form::Narrated, None),
            MessageFormat::Short => (Form::Short, None),
            MessageFormat::Json => (Form::Human, Some(Document::Json)),
            MessageFormat::Sarif => (Form::Human, Some(Document::Sarif)),
        };
        let style = Style { form, colour, unicode: terminal && is_utf8(variable) };
        Self { style, document: document.map(|document| (document, Log::default())) }
    }

    /// Prints to standard output.
    pub fn out(&mut self, text: &str) -> Result<(), Failure> {
        self.bytes(text.as_bytes())
    }

    /// The columns that a page may take: those of the terminal as far as lines stay readable, 80 where it is none.
    pub fn columns(&self) -> u16 {
        let terminal = terminal_size::terminal_size_of(io::stdout());
        terminal
            .map_or(COLUMNS, |(terminal_size::Width(columns), _)| columns.clamp(LEAST_COLUMNS, MOST_COLUMNS))
    }

    /// Prints what is no text to standard output.
    pub fn bytes(&mut self, bytes: &[u8]) -> Result<(), Failure> {
        let mut out = io::stdout().lock();
        match out.write_all(bytes).and_then(|()| out.flush()) {
            // The reader has seen enough, as `| head` does.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(()),
            Err(error) => Err(Failure::Print(error)),
            Ok(()) => Ok(()),
        }
    }

    /// Prints to standard error; where that is closed there is nobody to tell.
    pub fn err(&mut self, text: &str) {
        let _ = io::stderr().lock().write_all(text.as_bytes());
    }

    /// Whether messages become one document, beside which nothing else may stand.
    pub fn is_document(&self) -> bool {
        self.document.is_some()
    }

    /// Prints to standard error a line that is for people only.
    pub fn aside(&mut self, line: &str) {
        if self.document.is_none() {
            self.err(&format!("{}\n", printable_line(line)));
        }
    }

    /// Says a caution under the messages of a project.
    pub fn caution(&mut self, line: &str) {
        match &mut self.document {
            Some((_, log)) => log.caution(line),
            None => self.aside(line),
        }
    }

    /// Says what could not be checked, where messages become one document; elsewhere one line has it.
    pub fn not_checked(&mut self, file: &str, lacking: &[Lacking]) {
        if let Some((_, log)) = &mut self.document {
            not_checked(file, lacking).into_iter().for_each(|told| log.not_checked(told));
        }
    }

    /// Tells in one line what is good to know.
    pub fn remark(&mut self, line: &str) {
        match &mut self.document {
            Some((_, log)) => log.remark(line),
            None => self.aside(line),
        }
    }

    /// Tells all messages of a project.
    pub fn messages(&mut self, compilation: &Compilation) {
        self.told(&compilation.diagnostics, &compilation.sources);
    }

    /// Tells messages, as many as are shown, and how many more there are.
    pub fn told(&mut self, diagnostics: &[Diagnostic], sources: &Sources) {
        if let Some((_, log)) = &mut self.document {
            log.messages(diagnostics, sources);
            return;
        }
        let (diagnostics, left_out) = shown(diagnostics);
        self.err(&render(&diagnostics, sources, self.style));
        if left_out > 0 {
            self.err(&format!("... and {left_out} more\n"));
        }
    }

    /// How a project stands, in one line: `2 errors, 1 warning`.
    pub fn summary(compilation: &Compilation) -> String {
        Self::counted(|severity| compilation.count(severity), compilation.leaves_unchecked())
    }

    /// How many messages there are of each severity, in one line. Where there is none, that is all well only if all that
    /// matters could be checked.
    pub fn counted(count: impl Fn(Severity) -> usize, unchecked: bool) -> String {
        let counts = [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
            let count = count(severity);
            (count, some(count, severity.word()))
        });
        let said: Vec<String> =
            counts.into_iter().filter(|(count, _)| *count > 0).map(|(_, text)| text).collect();
        match said.as_slice() {
            [] if unchecked => "not all of it could be checked".to_owned(),
            [] => "no problems".to_owned(),
            said => said.join(", "),
        }
    }

    /// Tells why a command could not be carried out.
    pub fn failure(&mut self, failure: &Failure) {
        let trouble = Trouble::new(failure);
        match &mut self.document {
            Some((_, log)) => log.trouble(&trouble),
            None => self.err(&render_trouble(&trouble, self.style)),
        }
    }

    /// Prints the document, where messages become one; it is the last that is printed.
    pub fn document(&mut self, stream: Stream) -> Result<(), Failure> {
        if let (Some(text), Stream::Out) = (self.drawn(), stream) {
            match self.out(&text) {
                Ok(()) => return Ok(()),
                Err(failure) => {
                    self.failure(&failure);
                    self.err(&self.drawn().unwrap_or_default());
                    return Err(failure);
                }
            }
        }
        self.err(&self.drawn().unwrap_or_default());
        Ok(())
    }

    fn drawn(&self) -> Option<String> {
        let (document, log) = self.document.as_ref()?;
        Some(match document {
            Document::Json => json(log),
            Document::Sarif => sarif(log, codes()),
        })
    }

    /// The style of messages that are shown on standard output as part of a page.
    pub fn page_style(&self) -> Style {
        Style { form: Form::Human, colour: false, unicode: io::stdout().is_terminal() && is_utf8(variable) }
    }
}

/// All that was left unchecked and could matter, what waits for the same together.
fn not_checked(file: &str, lacking: &[Lacking]) -> Vec<NotChecked> {
    let mut all: Vec<(&Lacking, NotChecked)> = Vec::new();
    for lack in lacking.iter().filter(|lack| lack.matters) {
        let same = |known: &&mut (&Lacking, NotChecked)| {
            known.0.code == lack.code && known.0.what == lack.what && known.0.needs == lack.needs
        };
        if let Some((_, known)) = all.iter_mut().find(same) {
            known.about.push(lack.subject.clone());
            continue;
        }
        let needs = lack
            .needs
            .iter()
            .map(|need| MissingValue { property: need.property, of: need.of.as_deref().map(str::to_owned) });
        let told = NotChecked {
            file: file.to_owned(),
            code: lack.code.id,
            slug: lack.code.slug,
            what: lack.what,
            about: vec![lack.subject.clone()],
            needs: needs.collect(),
        };
        all.push((lack, told));
    }
    all.into_iter().map(|(_, told)| told).collect()
}

/// A variable of the environment, where it says something.
fn variable(name: &str) -> Option<String> {
    std::env::var_os(name).filter(|value| !value.is_empty()).map(|value| value.to_string_lossy().into_owned())
}

/// Whether text is printed in UTF-8.
fn is_utf8(variable: impl Fn(&str) -> Option<String>) -> bool {
    // The first of these that is set decides (POSIX, section 8.2).
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(variable).unwrap_or_default();
    let locale = locale.to_ascii_lowercase();
    locale.contains("utf-8") || locale.contains("utf8")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_locale_says_whether_lines_beyond_ascii_can_be_drawn() {
        let with = |set: &[(&str, &str)]| {
            is_utf8(|name| set.iter().find(|(key, _)| *key == name).map(|(_, value)| (*value).to_owned()))
        };
        assert!(with(&[("LANG", "en_US.UTF-8")]) && with(&[("LC_CTYPE", "C.utf8"), ("LANG", "C")]));
        assert!(!with(&[("LC_ALL", "C"), ("LANG", "en_US.UTF-8")]));
        assert!(!with(&[("LANG", "de_DE.ISO-8859-1")]) && !with(&[]));
    }
}
