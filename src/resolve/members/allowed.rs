//! What may stand in a block, and the messages about what may not.

use super::Declarer;
use super::given::Key;
use crate::diag::{Diagnostic, nearest};
use crate::resolve::kinds::place;
use crate::resolve::{FILE, KINDS, KindSpec, MODULE_KIND, Naming, codes, kind};
use crate::source::Span;
use crate::syntax::{Declaration, Entry, EntryKind, Ident, STATEMENTS};

impl Declarer<'_> {
    pub(super) fn child_spec(
        &mut self,
        parent: &KindSpec,
        declaration: &Declaration,
    ) -> Option<&'static KindSpec> {
        let word = &declaration.kind;
        let Some(spec) = kind(&word.text) else {
            self.unknown_kind(parent, declaration);
            return None;
        };
        if !may_stand(spec, parent) {
            self.misplaced(parent, spec, word.span);
            return None;
        }
        if let Some(text) = declaration.text.as_ref().filter(|_| !spec.text) {
            self.say(
                Diagnostic::new(&codes::NAMING, format!("`{}` takes no text", spec.word))
                    .at(text.span, "")
                    .fix(text.span, "", "delete the text"),
            );
        }
        self.naming(spec, declaration).then_some(spec)
    }

    pub(super) fn naming(&mut self, spec: &KindSpec, declaration: &Declaration) -> bool {
        let word = declaration.kind.span;
        let diagnostic = match (spec.naming, &declaration.name) {
            (Naming::Needed, None) => {
                Diagnostic::new(&codes::NAMING, format!("this `{}` has no name", spec.word))
                    .at(word, "")
                    .help(format!("write a name behind it: `{} some_name {{ ... }}`", spec.word))
            }
            (Naming::Alone, Some(name)) => {
                Diagnostic::new(&codes::NAMING, format!("`{}` takes no name", spec.word))
                    .at(name.span, "")
                    .fix(name.span, "", "delete the name")
            }
            (Naming::OneOf(words), name) if !name.as_ref().is_some_and(|n| words.contains(&&*n.text)) => {
                let all: Vec<String> = words.iter().map(|w| format!("`{} {w}`", spec.word)).collect();
                Diagnostic::new(&codes::NAMING, format!("which `{}` is this?", spec.word))
                    .at(name.as_ref().map_or(word, |n| n.span), "")
                    .help(format!("write {}", all.join(" or ")))
            }
            _ => return true,
        };
        self.say(diagnostic);
        false
    }

    fn unknown_kind(&mut self, parent: &KindSpec, declaration: &Declaration) {
        let word = &declaration.kind;
        let mut diagnostic =
            Diagnostic::new(&codes::KIND, format!("unknown kind `{}`", word.text)).at(word.span, "");
        let here = KINDS.iter().filter(|kind| kind.within.contains(&parent.word)).map(|kind| kind.word);
        let statements = STATEMENTS.iter().map(|statement| statement.word);
        let modules = self.modules.in_reach(self.home);
        if parent.property(&word.text).is_some() && parent.open.is_none() {
            let name = declaration.name.as_ref();
            diagnostic = match name.filter(|_| declaration.block.is_none()) {
                Some(name) => {
                    let text = format!("{} = {}", word.text, name.text);
                    diagnostic.fix(word.span.to(name.span), text.clone(), format!("write `{text}`"))
                }
                None => diagnostic.help(format!("`{0}` is a property: `{0} = ...`", word.text)),
            };
        } else if let Some(near) =
            nearest(&word.text, here.clone().chain(statements).chain(modules.keys().map(|name| &**name)))
        {
            diagnostic = diagnostic.fix(word.span, near, format!("did you mean `{near}`?"));
        } else {
            let all: Vec<String> = here.map(|kind| format!("`{kind}`")).collect();
            let place = if parent.word == FILE { "here".to_owned() } else { format!("in `{}`", parent.word) };
            if !all.is_empty() {
                diagnostic = diagnostic.help(format!("allowed {place}: {}", all.join(", ")));
            }
        }
        self.say(diagnostic);
    }

    pub(super) fn misplaced(&mut self, parent: &KindSpec, spec: &KindSpec, span: Span) {
        let here = place(parent.word);
        self.say(
            Diagnostic::new(&codes::PLACE, format!("`{}` cannot stand {here}", spec.word))
                .at(span, "")
                .help(format!("it belongs {}", spec.places())),
        );
    }

    pub(super) fn taken(&mut self, key: &Key, head: Span, first: Span) {
        let (word, name) = key;
        let message = if name.is_empty() {
            format!("a second `{word}` in one block")
        } else {
            format!("the name `{name}` is taken")
        };
        self.say(
            Diagnostic::new(&codes::TAKEN, message)
                .at(head, "here again")
                .and_at(first, "first declared here")
                .help("give one of them another name, or delete one"),
        );
    }

    pub(super) fn top_only(&mut self, word: &str, span: Span) {
        self.say(
            Diagnostic::new(&codes::PLACE, format!("`{word}` stands at the top of a file"))
                .at(span, "")
                .help("move it out of this block"),
        );
    }

    /// An `each` is checked also where no member takes it; equal messages are shown once.
    pub(super) fn each(&mut self, parent: &KindSpec, word: &Ident, block: &[Entry]) {
        match kind(&word.text) {
            Some(spec) if may_stand(spec, parent) => {
                for entry in block {
                    match &entry.kind {
                        EntryKind::Property(property) => _ = self.takes(spec, property),
                        EntryKind::Declaration(declaration) => _ = self.child_spec(spec, declaration),
                        _ => {}
                    }
                }
            }
            Some(spec) => self.misplaced(parent, spec, word.span),
            None if self.module(&word.text).is_some() => self.each_use(word, block),
            None => {
                let here =
                    KINDS.iter().filter(|kind| kind.within.contains(&parent.word)).map(|kind| kind.word);
                let mut diagnostic =
                    Diagnostic::new(&codes::KIND, format!("unknown kind `{}`", word.text)).at(word.span, "");
                if let Some(near) = nearest(&word.text, here) {
                    diagnostic = diagnostic.fix(word.span, near, format!("did you mean `{near}`?"));
                }
                self.say(diagnostic);
            }
        }
    }
}

/// Whether a kind may stand in a block; what may stand in the body of a module is seen where it is used.
pub(super) fn may_stand(spec: &KindSpec, parent: &KindSpec) -> bool {
    parent.word == MODULE_KIND.word || spec.within.contains(&parent.word)
}
