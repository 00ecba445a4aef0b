//! Derived measures as expressions see them, and the paths of members.

use super::ledger::Why;
use crate::quantity::Exact;
use crate::resolve::{NodeId, Program};
use std::collections::BTreeMap;

/// A derived measure, as a requirement asks for it.
#[derive(Clone, Debug)]
pub struct Derived {
    /// The value; of an estimate, the nearest exact number. It goes into a comparison and nowhere else.
    pub value: Exact,
    /// Where it comes from, if it is an exact length.
    pub why: Option<Why>,
    /// What it is the sum of, in words, for what is counted or paid.
    pub from: Vec<String>,
    /// What it leaves out, because the project does not state its price.
    pub without: Vec<String>,
}

/// The derived measures that requirements can ask for.
#[derive(Debug, Default)]
pub struct Measures {
    /// Those that are known, by path.
    pub known: BTreeMap<String, Derived>,
    /// Why others are not, by path.
    pub unknown: BTreeMap<String, String>,
    /// Paths of measures that are worked out only where they are asked for.
    pub others: Vec<String>,
}

/// The path of names that leads to a member: `sewing.one`.
pub(super) fn path_of(program: &Program, id: NodeId) -> String {
    let mut names = Vec::new();
    let mut at = Some(id);
    while let Some(id) = at {
        let node = program.node(id);
        names.extend(node.name.as_ref().map(|name| name.text.to_string()));
        at = node.parent;
    }
    names.reverse();
    names.join(".")
}
