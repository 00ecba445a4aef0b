//! The modules in reach of a project, and those that the library has to offer.

use super::{Compilation, Halt, PARTS, compile};
use crate::resolve::Module;
use crate::source::MemoryFiles;
use serde::Serialize;
use std::collections::BTreeSet;

/// A module as it is listed.
#[derive(Debug, Serialize)]
pub struct ListedModule {
    /// The name that a use has in this file.
    pub name: String,
    /// `path:line` of its declaration.
    pub declared: String,
    /// For a module of the library that the file does not use: the statement that brings it.
    pub bring: Option<String>,
    /// What it is.
    pub about: Option<String>,
    /// What a use states.
    pub parameters: Vec<ListedParameter>,
}

/// A parameter of a module as it is listed.
#[derive(Debug, Serialize)]
pub struct ListedParameter {
    /// Its name.
    pub name: String,
    /// Its type, as it is written.
    pub takes: String,
    /// Its default, as it is written; `None` where a use must state it.
    pub default: Option<String>,
    /// What it means.
    pub about: Option<String>,
}

/// The modules that the project can use, by the names they have in it, then the others of the library.
///
/// # Errors
///
/// As [`compile`], for a part of the library.
pub fn modules(compilation: &Compilation) -> Result<Vec<ListedModule>, Halt> {
    let known = compilation.modules.iter().map(|(name, module)| listed(name, module, compilation, None));
    let mut all: Vec<ListedModule> = known.collect();
    let places: BTreeSet<String> = all.iter().map(|module| module.declared.clone()).collect();
    for (part, _) in PARTS {
        let files = MemoryFiles::single("part.scant", format!("use std.{part}\n"));
        let library = compile(&files, "part.scant".into())?;
        let offered = library.modules.iter().map(|(name, module)| {
            listed(name, module, &library, Some(format!("use std.{part} {{ {name} }}")))
        });
        all.extend(offered.filter(|module| !places.contains(&module.declared)));
    }
    Ok(all)
}

fn listed(name: &str, module: &Module, compilation: &Compilation, bring: Option<String>) -> ListedModule {
    let sources = &compilation.sources;
    let parameters = module.parameters.iter().map(|parameter| ListedParameter {
        name: parameter.name.text.to_string(),
        takes: sources.text(parameter.type_span).to_owned(),
        default: parameter.default.as_ref().map(|value| sources.text(value.span).to_owned()),
        about: parameter.doc.as_deref().map(str::to_owned),
    });
    ListedModule {
        name: name.to_owned(),
        declared: sources.place(module.name.span),
        bring,
        about: module.doc.as_deref().map(str::to_owned),
        parameters: parameters.collect(),
    }
}
