//! Why a command cannot be carried out, as all forms take it.

use super::printable;
use miette::{Diagnostic, Severity};
use std::fmt::Display;

/// Why a command cannot be carried out: no message about a project, so it has no place in one.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Trouble {
    /// Its code, such as `F001`.
    pub code: String,
    /// The fact.
    pub message: String,
    /// What to do.
    pub help: Option<String>,
}

impl Trouble {
    /// The trouble of an error of the program.
    #[must_use]
    pub fn new(error: &dyn Diagnostic) -> Self {
        let code = error.code().map(|code| code.to_string()).unwrap_or_default();
        Self { code, message: error.to_string(), help: error.help().map(|help| help.to_string()) }
    }

    /// The same without what a terminal would obey.
    pub(super) fn printable(&self) -> Self {
        Self {
            code: self.code.clone(),
            message: printable(&self.message).into_owned(),
            help: self.help.as_deref().map(|help| printable(help).into_owned()),
        }
    }
}

impl Diagnostic for Trouble {
    fn code<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        Some(Box::new(&self.code))
    }

    fn severity(&self) -> Option<Severity> {
        Some(Severity::Error)
    }

    fn help<'a>(&'a self) -> Option<Box<dyn Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn Display + 'a>)
    }
}
