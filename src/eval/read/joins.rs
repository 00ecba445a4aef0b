//! Reads how parts are held by each other.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::Len;
use crate::eval::codes;
use crate::eval::measures::path_of;
use crate::eval::model::{Dado, Join, Named, SingleJoin};
use crate::resolve::NodeId;
use crate::resolve::kinds::{Housing, JOIN, Joined};
use crate::syntax::Path;
use std::sync::Arc;

impl Reader<'_> {
    /// The nearest `join guest to host`, from a member outwards.
    pub(super) fn nearest_join<U>(&self, from: NodeId, parts: Joined<U>) -> Option<NodeId> {
        let fits = |id: &NodeId| {
            let join = self.program.node(*id).join.as_ref();
            join.is_some_and(|head| {
                &*head.guest == parts.guest
                    && &*head.host == parts.host
                    && head.paths.iter().all(Option::is_none)
            })
        };
        let mut around = self.program.around(from).into_iter();
        around.find_map(|id| self.program.joins(id).find(fits))
    }

    /// How a guest is held by a host, besides the shape of the joint.
    pub(super) fn join<U>(&mut self, from: NodeId, parts: Joined<U>) -> Join {
        let Some(id) = self.nearest_join(from, parts) else { return Join::default() };
        self.held(id)
    }

    /// All joins that name a part by its path, in the order of the text.
    pub(super) fn single_joins(&mut self) -> Vec<SingleJoin> {
        let program = self.program;
        let mut all = Vec::new();
        for id in program.ids() {
            let Some(head) = &program.node(id).join else { continue };
            self.sizes_of_housing(id, &head.joint);
            if head.paths.iter().all(Option::is_none) {
                continue;
            }
            let outer = program.node(id).parent.map(|parent| path_of(program, parent)).unwrap_or_default();
            let full = |path: &Option<Path>, role: &Arc<str>| match path {
                Some(path) if outer.is_empty() => Named::Path(path.to_string()),
                Some(path) => Named::Path(format!("{outer}.{path}")),
                None => Named::Role(role.clone()),
            };
            let (guest, host) = (full(&head.paths[0], &head.guest), full(&head.paths[1], &head.host));
            let join = self.held(id);
            let (depth, fit) = (self.read(id, JOIN.depth), self.read(id, JOIN.fit));
            let joint = head.joint.clone();
            all.push(SingleJoin { guest, host, joint, join, depth, fit, head: program.node(id).head });
        }
        all
    }

    /// Says where a join states a size that its joint does not have.
    fn sizes_of_housing(&mut self, id: NodeId, joint: &str) {
        let grooved = matches!(joint, "dado" | "groove");
        let idle = [
            (
                JOIN.depth.name,
                joint == "butt" && self.is_stated(id, JOIN.depth),
                "nothing is cut into the host",
            ),
            (
                JOIN.fit.name,
                !grooved && self.is_stated(id, JOIN.fit),
                "only dados and grooves have two walls",
            ),
        ];
        for (name, _, why) in idle.into_iter().filter(|(_, idle, _)| *idle) {
            let message = format!("the `{name}` of a {joint} changes nothing: {why}");
            let told = Diagnostic::new(&codes::IDLE, message).at(self.place(id, name), "");
            self.eval.sink.push(told.help("delete it"));
        }
    }

    /// What holds the parts of a join.
    pub(super) fn held(&mut self, id: NodeId) -> Join {
        let position = |id: NodeId, reader: &Self| reader.positions.get(&id).copied();
        let [nail, screw, glue] = [JOIN.nail, JOIN.screw, JOIN.glue]
            .map(|property| self.read(id, property).and_then(|member| position(member, self)));
        let [ends, pitch] = [JOIN.ends, JOIN.pitch].map(|property| self.read(id, property));
        Join { fastener: nail.or(screw), glue, ends, pitch }
    }

    /// The depth that the nearest join of two parts states.
    pub(super) fn depth<U>(&mut self, carcass: NodeId, parts: Joined<U>) -> Option<Len> {
        let join = self.nearest_join(carcass, parts)?;
        self.read(join, JOIN.depth)
    }

    /// Depth and fit of the nearest join of two parts; the usual dado where none is stated.
    pub(super) fn dado(&mut self, carcass: NodeId, parts: Joined<Housing>) -> Dado {
        let join = self.nearest_join(carcass, parts);
        let depth = join.and_then(|id| self.read(id, JOIN.depth));
        let fit = join.and_then(|id| self.read(id, JOIN.fit));
        Dado {
            depth: depth.unwrap_or_else(|| self.usual_length(parts.usual.depth)),
            fit: fit.unwrap_or_else(|| self.usual_length(parts.usual.fit)),
        }
    }
}
