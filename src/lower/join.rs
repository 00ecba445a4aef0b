//! Joins that name a part by its path.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Dado, Join, Named, SingleJoin};
use crate::parts::PartId;

impl Lowering<'_> {
    /// How a guest is housed in a host: as a join of these very parts says, else as the roles are.
    pub(super) fn dado_at(&self, guest: (&str, &str), host: PartId, usual: Dado) -> Dado {
        let Some(single) = self.single(guest, host) else { return usual };
        Dado { depth: single.depth.unwrap_or(usual.depth), fit: single.fit.unwrap_or(usual.fit) }
    }

    /// What holds a guest in a host: as a join of these very parts says, else as the roles are.
    pub(super) fn join_at(&self, guest: (&str, &str), host: (&str, &str), usual: Join) -> Join {
        let single = self.model.single_joins.iter().find(|single| single.speaks_of(guest, host));
        single.map_or(usual, |single| single.join.or(usual))
    }

    pub(super) fn single(&self, guest: (&str, &str), host: PartId) -> Option<&SingleJoin> {
        let host = self.graph.part(host)?;
        let host = (host.path.as_str(), host.role.word());
        self.model.single_joins.iter().find(|single| single.speaks_of(guest, host))
    }

    /// Says where a join names a part that is not there, or two that do not meet.
    pub(super) fn joins_that_meet(&mut self) {
        let graph = &self.graph;
        let named = |id: PartId| graph.part(id).map(|part| (part.path.as_str(), part.role.word()));
        let along = graph.rows.iter().filter_map(|row| {
            let part = |path: &str| graph.parts.iter().find(|part| part.path == path);
            Some((
                (row.guest.as_str(), part(&row.guest)?.role.word()),
                (row.host.as_str(), part(&row.host)?.role.word()),
            ))
        });
        if self.model.single_joins.is_empty() {
            return;
        }
        let joints = graph.joints.iter().filter_map(|joint| Some((named(joint.guest)?, named(joint.host)?)));
        let pairs: Vec<_> = joints.chain(along).collect();
        let mut missing = Vec::new();
        for single in &self.model.single_joins {
            if pairs.iter().any(|(guest, host)| single.speaks_of(*guest, *host)) {
                continue;
            }
            let gone = [&single.guest, &single.host].into_iter().find_map(|named| match named {
                Named::Path(path) if !graph.parts.iter().any(|part| part.path == *path) => Some(path),
                _ => None,
            });
            let text = |named: &Named| match named {
                Named::Role(role) => format!("a {role}"),
                Named::Path(path) => format!("`{path}`"),
            };
            let diagnostic = match gone {
                Some(path) => {
                    let near = crate::diag::nearest(path, graph.parts.iter().map(|part| part.path.as_str()));
                    let help = near.map_or_else(
                        || "`scantling show parts` lists all parts with their paths".to_owned(),
                        |near| format!("did you mean `{near}`?"),
                    );
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
