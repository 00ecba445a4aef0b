//! What the layers of a block give the members in it.

use crate::resolve::{KindSpec, Naming};
use crate::syntax::{Declaration, Entry, EntryKind};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The entries that a member gets: its own block first, then those of the `each` blocks that fit it.
pub(in crate::resolve) type Layers<'a> = Vec<&'a [Entry]>;

/// What the layers of a block have for the members in it, found once for all of them.
pub(super) struct Given<'a> {
    /// The blocks of each declared member, with the layer in which each stands.
    declared: BTreeMap<Key, Vec<(usize, &'a [Entry])>>,
    /// The `each` blocks by their kind, the nearest first.
    each: BTreeMap<&'a str, Vec<&'a [Entry]>>,
}

impl<'a> Given<'a> {
    pub fn new(layers: &Layers<'a>) -> Self {
        let mut given = Self { declared: BTreeMap::new(), each: BTreeMap::new() };
        for (depth, layer) in layers.iter().enumerate() {
            for entry in *layer {
                match &entry.kind {
                    EntryKind::Each { kind, block } => given.each.entry(&kind.text).or_default().push(block),
                    // In the innermost layer a member is itself, so only outer ones are looked up.
                    EntryKind::Declaration(declaration) if depth > 0 => {
                        let block = declaration.block.as_deref().unwrap_or(&[]);
                        given.declared.entry(key(declaration)).or_default().push((depth, block));
                    }
                    _ => {}
                }
            }
        }
        given
    }

    /// The member's own block, the blocks of the same member in outer layers, then every `each` that fits it.
    pub fn layers(&self, declaration: &'a Declaration, spec: &KindSpec, depth: usize) -> Layers<'a> {
        let mut out: Layers<'a> = vec![declaration.block.as_deref().unwrap_or(&[])];
        let counted = spec.naming == Naming::Optional && declaration.name.is_none();
        if !counted && let Some(others) = self.declared.get(&key(declaration)) {
            out.extend(others.iter().filter(|(other, _)| *other > depth).map(|(_, block)| *block));
        }
        out.extend(self.each.get(&*declaration.kind.text).into_iter().flatten());
        out
    }
}

/// Kind and name of a member in a block; the name is empty where there is none.
pub(super) type Key = (Arc<str>, Arc<str>);

pub(super) fn key(declaration: &Declaration) -> Key {
    let name = declaration.name.as_ref().map_or_else(|| Arc::from(""), |name| name.text.clone());
    (declaration.kind.text.clone(), name)
}
