//! Joins that name a part by its path.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Dado, Join, Named, SingleJoin};
use crate::parts::{Called, Part, PartId, Role};
use crate::source::Span;
use std::collections::BTreeSet;

impl Lowering<'_> {
    /// How a guest is housed in a host: as a join of these very parts says, else as the roles are.
    pub(super) fn dado_at(&self, guest: (&Called, Role), host: PartId, usual: Dado) -> Dado {
        let (called, role) = guest;
        let single = self.single(((&called.path, called.former.as_deref()), role), host);
        let Some(single) = single else { return usual };
        Dado { depth: single.depth.unwrap_or(usual.depth), fit: single.fit.unwrap_or(usual.fit) }
    }

    /// What holds a guest in a host: as a join of these very parts says, else as the roles are.
    pub(super) fn join_at(&self, guest: PartId, host: PartId, usual: Join) -> Join {
        let single = self.graph.part(guest).and_then(|guest| self.single_of(guest, host));
        single.map_or(usual, |single| single.join.or(usual))
    }

    /// The join of these very parts.
    pub(super) fn single_of(&self, guest: &Part, host: PartId) -> Option<&SingleJoin> {
        self.single(((&guest.path, guest.former.as_deref()), guest.role), host)
    }

    /// The same, of a guest that may not be made yet: by its path, the path that it had before, and its role.
    fn single(
        &self,
        ((path, former), role): ((&str, Option<&str>), Role),
        host: PartId,
    ) -> Option<&SingleJoin> {
        let host = self.graph.part(host)?;
        let guest = ((path, former), role);
        let host = ((host.path.as_str(), host.former.as_deref()), host.role);
        let is = |named: &Named, ((path, former), role): ((&str, Option<&str>), Role)| match named {
            Named::Role(of) => **of == *role.word(),
            Named::Path(of) => path == of || former == Some(of),
        };
        self.model.single_joins.iter().find(|single| is(&single.guest, guest) && is(&single.host, host))
    }

    /// Says where a join names a part that is not there, or two that do not meet.
    pub(super) fn joins_that_meet(&mut self) {
        if self.model.single_joins.is_empty() {
            return;
        }
        let graph = &self.graph;
        let joints = graph.joints.iter().map(|joint| (joint.guest, joint.host));
        let along = graph.rows.iter().filter_map(|row| row.guest.part().zip(row.host.part()));
        let met = |(guest, host): (PartId, PartId)| self.single_of(graph.part(guest)?, host);
        let met: BTreeSet<Span> = joints.chain(along).filter_map(met).map(|single| single.head).collect();
        let mut missing = Vec::new();
        for single in &self.model.single_joins {
            let gone = [&single.guest, &single.host].into_iter().find_map(|named| match named {
                Named::Path(path) if graph.named(path).is_none() => Some(path),
                Named::Path(_) | Named::Role(_) => None,
            });
            // While parts are made, nobody knows yet that two of them had the name before: such a join is told though they meet.
            if gone.is_none() && met.contains(&single.head) {
                continue;
            }
            let text = |named: &Named| match named {
                Named::Role(role) => format!("a {role}"),
                Named::Path(path) => format!("`{path}`"),
            };
            let diagnostic = match gone {
                Some(path) => {
                    let near = crate::diag::nearest(path, graph.parts.iter().map(|part| part.path.as_str()));
                    let help = graph.shared_before(path).unwrap_or_else(|| match near {
                        Some(near) => format!("did you mean `{near}`?"),
                        None => "`scantling show parts` lists all parts with their paths".to_owned(),
                    });
                    Diagnostic::new(&codes::NO_JOINT, format!("unknown part `{path}`")).help(help)
                }
                None => {
                    let message = format!("{} is not held by {}", text(&single.guest), text(&single.host));
                    Diagnostic::new(&codes::NO_JOINT, message)
                        .help("a shelf is held by its sides or dividers, a cleat by its shelf and the sides")
                }
            };
            missing.push(diagnostic.at(single.head, "this join"));
        }
        for diagnostic in missing {
            self.sink.push(diagnostic);
        }
    }
}
