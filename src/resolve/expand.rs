//! A use of a module: its parameters take their values where it stands, its body is declared there as if it were written
//! out, and the names in the body are those of the file that declares it.

use super::codes;
use super::kinds::place;
use super::members::{Declarer, Head, Layers, statement};
use super::modules::{entries, too_many};
use super::{KindSpec, MODULE_KIND, Module, NodeId, Parameter, Stated, kind};
use crate::diag::{Diagnostic, nearest};
use crate::limits;
use crate::source::Span;
use crate::syntax::{Entry, EntryKind, Expr, ExprKind, Ident, Rebase};
use std::collections::BTreeMap;
use std::sync::Arc;

impl Declarer<'_> {
    /// The module that a word declares members of; a kind of the language is none.
    pub fn module(&self, word: &str) -> Option<usize> {
        if kind(word).is_some() { None } else { self.modules.find(self.home, word) }
    }

    /// Reads the use `id` of a module in a block of kind `site`.
    pub fn expand(&mut self, id: NodeId, module: usize, site: &'static KindSpec, layers: &Layers<'_>) {
        let Some(module) = self.modules.all.get(module).cloned() else { return };
        let (arguments, damaged) = self.arguments(&module, layers);
        let statements = layers.iter().flat_map(|layer| layer.iter().filter_map(statement)).collect();
        let Some(head) = self.nodes.get(id.0 as usize).map(|node| node.head) else { return };
        let wanted = module.parameters.iter().filter(|parameter| parameter.default.is_none());
        for parameter in wanted.filter(|_| !damaged) {
            if !arguments.iter().any(|stated| stated.name.text == parameter.name.text) {
                self.missing_argument(&module, parameter, head);
            }
        }
        let file = if self.dry { None } else { self.room(&module, head) };
        let body = file.map(|file| module.block.iter().map(|entry| entry.rebased(file)).collect::<Vec<_>>());
        if let Some(node) = self.node(id) {
            node.module = Some(Arc::new(module.clone()));
            node.statements = statements;
            node.properties = arguments.clone();
            node.damaged = damaged;
        }
        if let Some(body) = body {
            self.body(id, &module, site, arguments, &body);
        }
    }

    /// Declares the body of a module as the members of the use `id`.
    fn body(
        &mut self,
        id: NodeId,
        module: &Module,
        site: &'static KindSpec,
        arguments: Vec<Stated>,
        body: &[Entry],
    ) {
        let scope = self.roots.get(module.file).copied();
        let span = module.name.span;
        let inner =
            self.open(Head { spec: &MODULE_KIND, name: None, text: None, span, parent: Some(id), scope });
        let home = std::mem::replace(&mut self.home, module.file);
        self.inside += 1;
        self.misplaced_members(site, body);
        let layers = vec![body];
        let mut properties = self.properties(&MODULE_KIND, &layers);
        properties.extend(module.parameters.iter().map(|parameter| {
            let stated = arguments.iter().find(|stated| stated.name.text == parameter.name.text);
            match stated {
                Some(stated) => Stated { from: Some(id), ..stated.clone() },
                None => by_default(parameter, body),
            }
        }));
        let children = self.children(id, inner, site, &layers);
        if let Some(node) = self.node(inner) {
            node.statements = body.iter().filter_map(statement).collect();
            node.properties = properties;
            node.children = children.clone();
        }
        if let Some(node) = self.node(id) {
            node.children = children;
        }
        self.inside -= 1;
        self.home = home;
    }

    /// What a use states, and whether something in it could not be taken.
    fn arguments(&mut self, module: &Module, layers: &Layers<'_>) -> (Vec<Stated>, bool) {
        let mut damaged = false;
        let arguments = self.stated(layers, |declarer, entry| {
            let read = match &entry.kind {
                EntryKind::Property(property) => {
                    let parameter = declarer.argument(module, &property.name);
                    parameter.map(|parameter| (property, Some(parameter.takes), Some(parameter)))
                }
                EntryKind::Let(property) => Some((property, None, None)),
                EntryKind::Require { .. } | EntryKind::Accept { .. } | EntryKind::Measured { .. } => {
                    return None;
                }
                EntryKind::Broken => None,
                _ => {
                    declarer.no_member(module, entry.span);
                    None
                }
            };
            damaged |= read.is_none();
            read
        });
        (arguments, damaged)
    }

    fn argument(&mut self, module: &Module, name: &Ident) -> Option<Arc<Parameter>> {
        if let Some(found) = module.parameters.iter().find(|parameter| parameter.name.text == name.text) {
            return Some(found.clone());
        }
        let message = format!("`{}` has no parameter `{}`", module.name.text, name.text);
        let diagnostic = Diagnostic::new(&codes::ARGUMENT, message)
            .at(name.span, "")
            .and_at(module.name.span, "the module is declared here");
        let known: Vec<&str> = module.parameters.iter().map(|parameter| &*parameter.name.text).collect();
        self.say(match nearest(&name.text, known.iter().copied()) {
            Some(near) => diagnostic.fix(name.span, near, format!("did you mean `{near}`?")),
            None if known.is_empty() => diagnostic.help("it has no parameters"),
            None => {
                let known: Vec<String> = known.iter().map(|name| format!("`{name}`")).collect();
                diagnostic.help(format!("it has {}", known.join(", ")))
            }
        });
        None
    }

    fn no_member(&mut self, module: &Module, span: Span) {
        let message = format!("a use of `{}` states its parameters only", module.name.text);
        self.say(
            Diagnostic::new(&codes::ARGUMENT, message)
                .at(span, "")
                .and_at(module.name.span, "the module is declared here")
                .help("declare this beside the use, or in the module"),
        );
    }

    fn missing_argument(&mut self, module: &Module, parameter: &Parameter, head: Span) {
        let (module, name) = (&module.name.text, &parameter.name.text);
        self.say(
            Diagnostic::new(&codes::NO_ARGUMENT, format!("this `{module}` states no `{name}`"))
                .at(head, "")
                .and_at(parameter.span, "it has no default")
                .help(format!("state `{name} = ...` in it, or in an `each {module}` round it")),
        );
    }

    /// An `each` of a module is checked also where no use takes it.
    pub fn each_use(&mut self, word: &Ident, block: &[Entry]) {
        let module = self.module(&word.text).and_then(|module| self.modules.all.get(module).cloned());
        if let Some(module) = module {
            self.arguments(&module, &vec![block]);
        }
    }

    /// The id of a file for the body of a use; `None` where it is not taken.
    fn room(&mut self, module: &Module, head: Span) -> Option<crate::source::FileId> {
        if module.circular {
            return None;
        }
        let (code, message, help) = if module.depth > limits::USE_DEPTH {
            let message = format!("`{}` leads {} modules deep", module.name.text, module.depth);
            (&codes::DEPTH, message, format!("modules may use modules {} deep", limits::USE_DEPTH))
        } else if too_many(
            self.expanded,
            if self.inside == 0 { module.weight } else { entries(&module.block) },
        ) {
            let message = format!("with this `{}` the uses come to too many entries", module.name.text);
            let help = format!("all uses together may come to {} entries", limits::EXPANDED);
            (&codes::EXPANDED, format!("{message}: {} in itself", module.weight), help)
        } else {
            self.expanded = self.expanded.saturating_add(entries(&module.block));
            return Some(self.sources.used(module.name.span.file, head));
        };
        let diagnostic = Diagnostic::new(code, message).at(head, "");
        self.sink.push(diagnostic.and_at(module.name.span, "the module is declared here").help(help));
        None
    }

    /// Says which members of a body cannot stand where the module is used.
    fn misplaced_members(&mut self, site: &KindSpec, body: &[Entry]) {
        for entry in body {
            let (word, span) = match &entry.kind {
                EntryKind::Declaration(declaration) => (&*declaration.kind.text, declaration.kind.span),
                EntryKind::Join(join) => ("join", join.guest.span),
                _ => continue,
            };
            let Some(spec) = kind(word).filter(|spec| !spec.within.contains(&site.word)) else { continue };
            let place = place(site.word);
            self.sink.push(
                Diagnostic::new(&codes::BODY, format!("the `{word}` of this module cannot stand {place}"))
                    .at(span, "")
                    .help(format!("use the module {}", spec.places())),
            );
        }
    }

    /// Says what is wrong with the bodies of a file's modules, once for all their uses.
    pub fn check_bodies(&mut self, file: usize) {
        let modules = self.modules.all.iter().filter(|module| module.file == file);
        let bodies: Vec<(Arc<[Entry]>, Span)> =
            modules.map(|module| (module.block.clone(), module.name.span)).collect();
        self.dry = true;
        for (body, span) in bodies {
            let kept = self.nodes.len();
            let scope = self.roots.get(file).copied();
            let id =
                self.open(Head { spec: &MODULE_KIND, name: None, text: None, span, parent: None, scope });
            let layers = vec![&*body];
            self.properties(&MODULE_KIND, &layers);
            self.children(id, id, &MODULE_KIND, &layers);
            self.lets_and_parameters(&body);
            self.nodes.truncate(kept);
        }
        self.dry = false;
    }

    fn lets_and_parameters(&mut self, body: &[Entry]) {
        let mut parameters: BTreeMap<&str, Span> = BTreeMap::new();
        for entry in body {
            if let EntryKind::Param(param) = &entry.kind {
                parameters.insert(&param.name.text, param.name.span);
            }
        }
        for entry in body {
            let EntryKind::Let(property) = &entry.kind else { continue };
            if let Some(first) = parameters.get(&*property.name.text) {
                self.say(
                    Diagnostic::new(&codes::TWICE, format!("`{}` is stated twice", property.name.text))
                        .at(property.name.span, "the second time")
                        .and_at(*first, "a parameter has this name")
                        .help("give the value another name"),
                );
            }
        }
    }

    /// Notes what a used file would build.
    pub fn not_built(&mut self, root: NodeId) {
        let children = self.nodes.get(root.0 as usize).map(|node| node.children.clone()).unwrap_or_default();
        let built = children.into_iter().filter_map(|id| self.nodes.get(id.0 as usize));
        let built: Vec<(&'static str, Option<Ident>, Span)> = built
            .filter(|node| ["run", "carcass"].contains(&node.kind.word))
            .map(|node| (node.kind.word, node.name.clone(), node.head))
            .collect();
        for (word, name, span) in built {
            let name = name.map(|name| format!(" `{}`", name.text)).unwrap_or_default();
            self.sink.push(
                Diagnostic::new(
                    &codes::NOT_BUILT,
                    format!("the {word}{name} of a used file is not built here"),
                )
                .at(span, "")
                .help("make a module of it and use that, or move it to the main file"),
            );
        }
    }
}

/// A parameter that a use does not state, with its default as the body has it.
fn by_default(parameter: &Arc<Parameter>, body: &[Entry]) -> Stated {
    let value = body.iter().find_map(|entry| match &entry.kind {
        EntryKind::Param(param) if param.name.text == parameter.name.text => param.default.clone(),
        _ => None,
    });
    let broken = || Arc::new(Expr { span: parameter.span, kind: ExprKind::Broken });
    Stated {
        name: parameter.name.clone(),
        value: value.unwrap_or_else(broken),
        takes: Some(parameter.takes),
        parameter: Some(parameter.clone()),
        from: None,
    }
}
