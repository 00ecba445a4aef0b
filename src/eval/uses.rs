//! Which names stand for which declarations: for whoever looks a name up, lists where it is used, or gives it another one.

use super::intent::paths;
use crate::resolve::{Binding, NodeId, Program, Statement};
use crate::source::{FileId, Sources, Span};
use crate::syntax::{Path, Step};
use std::collections::BTreeMap;

/// The places where names are used, each with the place where what it stands for gets its name.
///
/// Only names that lead somewhere are here, and of a dotted path each step that is declared, with the marks of a stick that a
/// unit names (`skip`, `on`, the shelf that stands on one): not the words of the language, and not what is derived.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Uses {
    declared: BTreeMap<Span, Span>,
}

impl Uses {
    /// A name stands for what the binding leads to.
    pub(super) fn note(&mut self, program: &Program, name: Span, binding: Binding) {
        let declared = match binding {
            Binding::Value(node, index) => program.node(node).properties.get(index).map(|stated| {
                stated.parameter.as_ref().map_or(stated.name.span, |parameter| parameter.name.span)
            }),
            Binding::Member(id) => program.node(id).name.as_ref().map(|name| name.span),
        };
        if let Some(declared) = declared {
            self.declared.insert(name, declared);
        }
    }

    /// Follows the paths that no value is worked out from: of requirements, measurements and joins of single parts, as far as
    /// they lead along what is declared.
    pub(super) fn follow(&mut self, program: &Program) {
        for id in program.ids() {
            let node = program.node(id);
            for statement in &node.statements {
                match statement {
                    Statement::Require { condition, .. } => {
                        paths(condition, &mut |path| self.along(program, id, path));
                    }
                    Statement::Measured { path, .. } => self.along(program, id, path),
                    Statement::Accept { .. } => {}
                }
            }
            let ends = node.join.iter().flat_map(|join| join.paths.iter().flatten());
            ends.for_each(|path| self.along(program, id, path));
        }
    }

    fn along(&mut self, program: &Program, from: NodeId, path: &Path) {
        let names = path.steps.iter().map_while(|step| match step {
            Step::Name(name) => Some(name),
            Step::Member(..) => None,
        });
        let mut at: Option<Binding> = None;
        for name in names {
            let next = match at {
                None => program.lookup(from, "", &name.text),
                Some(Binding::Member(id)) => {
                    let value = program.property(id, &name.text).map(|index| Binding::Value(id, index));
                    value.or_else(|| program.member(id, &name.text).map(Binding::Member))
                }
                Some(Binding::Value(..)) => None,
            };
            let Some(next) = next else { return };
            self.note(program, name.span, next);
            at = Some(next);
        }
    }

    /// Moves places in the body of a module, which is read anew for each of its uses, to the text of the module.
    pub fn settle(&mut self, sources: &Sources) {
        let settled = |(name, declared): (&Span, &Span)| (sources.settled(*name), sources.settled(*declared));
        self.declared = self.declared.iter().map(settled).collect();
    }

    /// The name at a byte of a file, and the name in the declaration that it stands for.
    #[must_use]
    pub fn at(&self, file: FileId, byte: u32) -> Option<(Span, Span)> {
        let all = self.declared.range(..=Span { file, start: byte, end: u32::MAX });
        let (name, declared) = all.last()?;
        (name.file == file && byte <= name.end).then_some((*name, *declared))
    }

    /// The names in the declarations that are used.
    pub fn declarations(&self) -> impl Iterator<Item = Span> + '_ {
        self.declared.values().copied()
    }

    /// Where what gets its name at a place is used, in the order of the files.
    pub fn of(&self, declared: Span) -> impl Iterator<Item = Span> + '_ {
        self.declared.iter().filter(move |(_, there)| **there == declared).map(|(name, _)| *name)
    }
}
