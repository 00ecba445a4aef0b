//! What the program prints: sheets and answers to standard output, messages to standard error.

use super::{Colour, Failure, MessageFormat};
use crate::compile::Compilation;
use crate::diag::Severity;
use crate::report::{Form, Style, render};
use miette::{GraphicalReportHandler, GraphicalTheme};
use std::io::{self, IsTerminal, Write};

/// The terminal, or what stands in its place.
#[derive(Debug)]
pub(super) struct Screen {
    style: Style,
}

impl Screen {
    pub fn new(format: MessageFormat, colour: Colour) -> Self {
        let terminal = io::stderr().is_terminal();
        let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty());
        let colour = match colour {
            Colour::Always => true,
            Colour::Never => false,
            Colour::Auto => terminal && set("NO_COLOR").is_none(),
        };
        // The first of these that is set decides (POSIX, section 8.2).
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(set).unwrap_or_default();
        let locale = locale.to_string_lossy().to_ascii_lowercase();
        let unicode = terminal && (locale.contains("utf-8") || locale.contains("utf8"));
        let form = match format {
            MessageFormat::Human => Form::Human,
            MessageFormat::Short => Form::Short,
        };
        Self { style: Style { form, colour, unicode } }
    }

    /// Prints to standard output.
    pub fn out(&mut self, text: &str) -> Result<(), Failure> {
        let mut out = io::stdout().lock();
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
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

    /// Prints all messages of a project.
    pub fn messages(&mut self, compilation: &Compilation) {
        self.err(&render(&compilation.diagnostics, &compilation.sources, self.style));
        if compilation.left_out > 0 {
            self.err(&format!("... and {} more\n", compilation.left_out));
        }
    }

    /// How a project stands, in one line: `2 errors, 1 warning`.
    pub fn summary(compilation: &Compilation) -> String {
        let counts = [Severity::Error, Severity::Warning, Severity::Note].map(|severity| {
            let count = compilation.count(severity);
            let plural = if count == 1 { "" } else { "s" };
            (count, format!("{count} {}{plural}", severity.word()))
        });
        let said: Vec<String> =
            counts.into_iter().filter(|(count, _)| *count > 0).map(|(_, text)| text).collect();
        if said.is_empty() { "nothing to mend".to_owned() } else { said.join(", ") }
    }

    /// Prints why a command could not be carried out.
    pub fn failure(&mut self, failure: &Failure) {
        let mut theme = if self.style.unicode { GraphicalTheme::unicode() } else { GraphicalTheme::ascii() };
        if !self.style.colour {
            theme.styles = miette::ThemeStyles::none();
        }
        let mut text = String::new();
        let handler = GraphicalReportHandler::new_themed(theme).with_width(100).with_links(false);
        if handler.render_report(&mut text, failure).is_err() {
            text = format!("{failure}\n");
        }
        self.err(&text);
    }

    /// The style in which messages are drawn.
    pub fn style(&self) -> Style {
        self.style
    }
}
