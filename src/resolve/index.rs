//! Where things stand in large blocks, so that a name or a kind is not looked for among thousands of members.

use super::{Node, NodeId};
use std::collections::BTreeMap;
use std::sync::Arc;

/// From so many members or values on a block has an index.
const LARGE: usize = 16;

/// The large blocks of a program.
#[derive(Clone, Debug, Default)]
pub(super) struct Index {
    blocks: BTreeMap<NodeId, Block>,
}

/// What stands in one large block.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    /// Members by the words of their kinds, in the order of the text.
    pub kinds: BTreeMap<&'static str, Vec<NodeId>>,
    /// Whether a module is used in it, whose members count as members of the block.
    pub uses: bool,
    /// The first member of each name, whether its kind gives it that name or the text does.
    pub named: BTreeMap<Arc<str>, Vec<NodeId>>,
    /// The first value of each name.
    pub values: BTreeMap<Arc<str>, usize>,
}

impl Index {
    pub fn new(nodes: &[Node]) -> Self {
        let large = |node: &&Node| node.children.len() >= LARGE || node.properties.len() >= LARGE;
        let ids = (0..u32::try_from(nodes.len()).unwrap_or(u32::MAX)).map(NodeId);
        let blocks =
            ids.zip(nodes).filter(|(_, node)| large(node)).map(|(id, node)| (id, block(nodes, node)));
        Self { blocks: blocks.collect() }
    }

    pub fn block(&self, id: NodeId) -> Option<&Block> {
        self.blocks.get(&id)
    }
}

fn block(nodes: &[Node], node: &Node) -> Block {
    let mut block = Block::default();
    for (position, stated) in node.properties.iter().enumerate() {
        block.values.entry(stated.name.text.clone()).or_insert(position);
    }
    for id in &node.children {
        let Some(child) = nodes.get(id.0 as usize) else { continue };
        block.kinds.entry(child.kind.word).or_default().push(*id);
        block.uses |= child.module.is_some();
        if let Some(name) = &child.name {
            block.named.entry(name.text.clone()).or_default().push(*id);
        }
    }
    block
}
