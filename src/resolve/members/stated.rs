//! What the layers of a block state of a member: its properties and `let`s.

use super::Declarer;
use super::allowed::may_stand;
use super::given::Layers;
use crate::diag::{Diagnostic, nearest};
use crate::resolve::{FILE, KindSpec, MODULE_KIND, Parameter, Stated, Takes, codes, kind};
use crate::source::Span;
use crate::syntax::{Declaration, Entry, EntryKind, Property};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A stated value, what it takes, and the parameter that it is the value of.
pub(in crate::resolve) type Read<'a> = (&'a Property, Option<Takes>, Option<Arc<Parameter>>);

impl Declarer<'_> {
    /// Properties and `let`s: the first layer that states one wins; twice in one layer is an error.
    pub fn properties(&mut self, spec: &'static KindSpec, layers: &Layers<'_>) -> Vec<Stated> {
        self.stated(layers, |declarer, entry| match &entry.kind {
            EntryKind::Property(property) => Some((property, Some(declarer.takes(spec, property)?), None)),
            EntryKind::Let(property) => Some((property, None, None)),
            _ => None,
        })
    }

    /// What layers state, by `read`: the first layer that states a name wins; twice in one layer is an error.
    pub fn stated<'a>(
        &mut self,
        layers: &Layers<'a>,
        mut read: impl FnMut(&mut Self, &'a Entry) -> Option<Read<'a>>,
    ) -> Vec<Stated> {
        let mut stated: Vec<Stated> = Vec::new();
        let mut seen: BTreeSet<Arc<str>> = BTreeSet::new();
        for layer in layers {
            let mut here: BTreeMap<Arc<str>, Span> = BTreeMap::new();
            for entry in *layer {
                let Some((property, takes, parameter)) = read(self, entry) else { continue };
                let name = &property.name;
                if let Some(first) = here.insert(name.text.clone(), name.span) {
                    self.say(
                        Diagnostic::new(&codes::TWICE, format!("`{}` is stated twice", name.text))
                            .at(name.span, "the second time")
                            .and_at(first, "first stated here")
                            .help("keep the right one"),
                    );
                } else if seen.insert(name.text.clone()) {
                    let (name, value) = (name.clone(), property.value.clone());
                    stated.push(Stated { name, value, takes, parameter, from: None });
                }
            }
        }
        stated
    }

    pub(super) fn takes(&mut self, spec: &'static KindSpec, property: &Property) -> Option<Takes> {
        let name = &property.name;
        let takes = spec.property(&name.text);
        if takes.is_none() {
            let place =
                if spec.word == FILE { "the top of a file".to_owned() } else { format!("`{}`", spec.word) };
            let mut diagnostic =
                Diagnostic::new(&codes::PROPERTY, format!("{place} has no property `{}`", name.text))
                    .at(name.span, "");
            let known = spec.properties.iter().map(|p| p.name);
            if let Some(kind) = kind(&name.text).filter(|kind| kind.within.contains(&spec.word)) {
                diagnostic = diagnostic
                    .help(format!("`{0}` is a member with entries of its own: `{0} {{ ... }}`", kind.word));
            } else if let Some(near) = nearest(&name.text, known) {
                diagnostic = diagnostic.fix(name.span, near, format!("did you mean `{near}`?"));
            } else if spec.word == FILE || spec.word == MODULE_KIND.word {
                diagnostic = diagnostic.help(format!("give a value a name with `let {} = ...`", name.text));
            } else {
                let all: Vec<String> = spec.properties.iter().map(|p| format!("`{}`", p.name)).collect();
                diagnostic = diagnostic.help(format!("it has {}", all.join(", ")));
            }
            self.say(diagnostic);
        }
        takes
    }

    /// Whether an entry of a block could not be read, or states something that its kind does not have.
    pub(super) fn is_damaged(&self, spec: &KindSpec, block: &[Entry]) -> bool {
        block.iter().any(|entry| match &entry.kind {
            EntryKind::Broken => true,
            EntryKind::Property(property) => spec.property(&property.name.text).is_none(),
            EntryKind::Declaration(Declaration { kind: word, .. }) => match kind(&word.text) {
                Some(kind) => !may_stand(kind, spec),
                None => self.module(&word.text).is_none(),
            },
            _ => false,
        })
    }
}
