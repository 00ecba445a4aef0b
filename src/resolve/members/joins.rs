//! The two roles and the joint of a `join`.

use super::Declarer;
use super::allowed::may_stand;
use crate::diag::{Diagnostic, nearest};
use crate::resolve::{JOINS, JoinHead, KindSpec, codes, kind};
use crate::source::Span;
use crate::syntax::{Join, Path, Step};
use std::sync::Arc;

impl Declarer<'_> {
    pub(super) fn join(&mut self, parent: &KindSpec, join: &Join) -> Option<(&'static KindSpec, JoinHead)> {
        let spec = kind("join")?;
        if !may_stand(spec, parent) {
            self.misplaced(parent, spec, join.guest.span.to(join.joint.span));
            return None;
        }
        let mut guests: Vec<&str> = JOINS.iter().map(|join| join.guest).collect();
        guests.dedup();
        let guest = self.role(&join.guest, guests.into_iter())?;
        let hosts = JOINS.iter().filter(|join| join.guest == &*guest).map(|join| join.host);
        let host = self.role(&join.host, hosts)?;
        let found = JOINS.iter().find(|join| join.guest == &*guest && join.host == &*host);
        let joints = found.map(|join| join.joints)?;
        if !joints.contains(&&*join.joint.text) {
            self.unknown_joint("joint", &join.joint.text, join.joint.span, joints.iter().copied());
            return None;
        }
        let path = |path: &Path| path.single().is_none().then(|| path.clone());
        let paths = [path(&join.guest), path(&join.host)];
        Some((spec, JoinHead { guest, host, joint: join.joint.text.clone(), paths }))
    }

    fn role(&mut self, path: &Path, known: impl Iterator<Item = &'static str> + Clone) -> Option<Arc<str>> {
        // A path names one part: its role stands before its name, or is its name.
        let names = path.steps.iter().rev().filter_map(|step| match step {
            Step::Name(name) => Some(name),
            Step::Member(..) => None,
        });
        let depth = if path.single().is_some() { 1 } else { 2 };
        match names.take(depth).filter(|name| known.clone().any(|k| k == &*name.text)).last() {
            Some(name) => Some(name.text.clone()),
            None => {
                let text = path.to_string();
                self.unknown_joint("part", &text, path.span, known);
                None
            }
        }
    }

    fn unknown_joint(
        &mut self,
        what: &str,
        text: &str,
        span: Span,
        known: impl Iterator<Item = &'static str> + Clone,
    ) {
        let diagnostic =
            Diagnostic::new(&codes::JOIN, format!("no {what} `{text}` can stand here")).at(span, "");
        self.say(match nearest(text, known.clone()) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => {
                let all: Vec<String> = known.map(|k| format!("`{k}`")).collect();
                diagnostic.help(format!("known here: {}", all.join(", ")))
            }
        });
    }
}
