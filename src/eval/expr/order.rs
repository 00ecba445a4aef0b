//! The order of working out: what a value needs comes first, so that a chain of names, however long, takes no stack.

use super::{At, Evaluator, Site};
use crate::resolve::Binding;
use crate::syntax::{Expr, ExprKind, Path, Step};
use std::collections::BTreeSet;

/// A value that waits for others.
struct Waiting {
    at: At,
    needs: Vec<At>,
}

impl Evaluator<'_> {
    /// Works out what a value needs, and what that needs, and so on, before the value itself. Where names lead in a
    /// circle, one of them is left to be found out by working it out.
    pub(super) fn prepare(&mut self, at: At) {
        let mut waits = BTreeSet::from([at]);
        let mut stack = vec![Waiting { at, needs: self.needs(at) }];
        while let Some(top) = stack.last_mut() {
            if let Some(next) = top.needs.pop() {
                if !self.done.contains_key(&next) && waits.insert(next) {
                    stack.push(Waiting { at: next, needs: self.needs(next) });
                }
                continue;
            }
            // Where a path leads through a name, the next name is known only when the first one is.
            let at = top.at;
            let mut further = self.needs(at);
            further.retain(|need| !self.done.contains_key(need) && !waits.contains(need));
            if !further.is_empty() {
                top.needs = further;
                continue;
            }
            stack.pop();
            waits.remove(&at);
            // One that leads in a circle may have been met while another was worked out.
            if !stack.is_empty() && !self.done.contains_key(&at) {
                self.work_out(at);
            }
        }
    }

    /// The values that the right side of a value names, as far as it is known where its paths lead.
    fn needs(&self, (node, index): At) -> Vec<At> {
        let Some(stated) = self.program.node(node).properties.get(index) else { return Vec::new() };
        let place = Site { node: stated.from.unwrap_or(node), name: &stated.name.text };
        let mut needs = Vec::new();
        self.collect(place, &stated.value, &mut needs);
        needs
    }

    fn collect(&self, place: Site<'_>, expr: &Expr, needs: &mut Vec<At>) {
        match &expr.kind {
            ExprKind::Path(path) => self.along(place, path, needs),
            ExprKind::Call(_, members) | ExprKind::List(members) => {
                members.iter().for_each(|member| self.collect(place, member, needs));
            }
            ExprKind::Unary(_, operand) => self.collect(place, operand, needs),
            ExprKind::Binary(_, left, right) => {
                self.collect(place, left, needs);
                self.collect(place, right, needs);
            }
            ExprKind::If(condition, value, other) => {
                for expr in [condition, value, other] {
                    self.collect(place, expr, needs);
                }
            }
            ExprKind::Number(_)
            | ExprKind::Text(_)
            | ExprKind::Truth(_)
            | ExprKind::Rest
            | ExprKind::Unread
            | ExprKind::Date(_)
            | ExprKind::Broken => {}
        }
    }

    /// The values along a path.
    fn along(&self, place: Site<'_>, path: &Path, needs: &mut Vec<At>) {
        let mut steps = path.steps.iter();
        let Some(Step::Name(first)) = steps.next() else { return };
        let mut binding = self.program.lookup(place.node, place.name, &first.text);
        loop {
            let member = match binding {
                Some(Binding::Value(node, index)) => {
                    needs.push((node, index));
                    self.done.get(&(node, index)).and_then(|value| value.member())
                }
                Some(Binding::Member(id)) => Some(id),
                None => None,
            };
            let (Some(id), Some(Step::Name(name))) = (member, steps.next()) else { return };
            let value = self.program.property(id, &name.text).map(|index| Binding::Value(id, index));
            binding = value.or_else(|| self.program.member(id, &name.text).map(Binding::Member));
        }
    }
}
