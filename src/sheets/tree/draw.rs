//! The tree as tables: one a run, one for the units that stand alone, a line for each thing that has a size.

use super::{BayNode, Board, LooseNode, OpeningNode, SpaceNode, Tree, UnitNode};
use crate::document::{Cell, Column, Document, Table, figures, indented, words};

/// A line of the tree with what hangs under it.
struct Node {
    /// What it is.
    label: String,
    /// Width, height, height at the front.
    figures: [String; 3],
    /// Its board: width x length.
    board: String,
    /// What it carries and holds.
    holds: String,
    children: Vec<Node>,
}

/// Adds the tables of the tree, and says how to read them.
pub(super) fn tables(document: &mut Document, tree: &Tree) {
    document.facts.push(
        "Of a unit: width and height over all. Of an opening, which has the name of the shelf that it stands on: the clear \
         width, the clear height behind the front edge and at the front. Boards are width x length. The highest shelf stands \
         first, bays from left to right."
            .to_owned(),
    );
    for run in &tree.runs {
        let width = &run.total_width.print;
        let caption = match run.units.len() {
            1 => format!("{}: 1 unit, {width}", run.run),
            count => format!("{}: {count} units, {width} together", run.run),
        };
        let mut table = table(caption, &format!("{}.", run.run), &run.units, &run.spaces);
        table.foot = run.load.as_ref().map(|load| match &run.loaded_weight {
            Some(all) => format!("{load} on the shelves, {all} with units and facing"),
            None => format!("{load} on the shelves"),
        });
        document.tables.push(table);
    }
    if !tree.alone.is_empty() {
        document.tables.push(table("standing alone".to_owned(), "", &tree.alone, &[]));
    }
}

/// The units of a run, by what their paths have over `within`.
fn table(caption: String, within: &str, units: &[UnitNode], spaces: &[SpaceNode]) -> Table {
    let mut rows = Vec::new();
    for at in 0..=units.len() {
        for space in spaces.iter().filter(|space| space.after == at) {
            space_node(space, within).draw(&mut rows, "", "");
        }
        if let Some(unit) = units.get(at) {
            unit_node(unit, within).draw(&mut rows, "", "");
        }
    }
    Table {
        caption,
        columns: vec![
            indented("part"),
            figures("width"),
            figures("height"),
            figures("at the front"),
            Column { whole: true, ..figures("board") },
            words("holds"),
        ],
        rows,
        foot: None,
    }
}

impl Node {
    fn new(label: String) -> Self {
        let figures = std::array::from_fn(|_| String::new());
        Self { label, figures, board: String::new(), holds: String::new(), children: Vec::new() }
    }

    /// Its line and those under it; `lead` stands before its own, `hang` before those under it.
    fn draw(self, rows: &mut Vec<Vec<Cell>>, lead: &str, hang: &str) {
        let mut row = vec![Cell::Words(format!("{lead}{}", self.label))];
        row.extend(self.figures.into_iter().map(Cell::Figure));
        row.extend([Cell::Figure(self.board), Cell::Words(self.holds)]);
        rows.push(row);
        let last = self.children.len().saturating_sub(1);
        for (index, child) in self.children.into_iter().enumerate() {
            let (own, under) = if index == last { ("`- ", "   ") } else { ("|- ", "|  ") };
            child.draw(rows, &format!("{hang}{own}"), &format!("{hang}{under}"));
        }
    }
}

/// The last step of a path.
fn name(path: &str) -> &str {
    path.rsplit('.').next().unwrap_or(path)
}

fn size(board: &Board) -> String {
    format!("{} x {}", board.width.print, board.length.print)
}

fn space_node(space: &SpaceNode, within: &str) -> Node {
    let name = space.space.strip_prefix(within).unwrap_or(&space.space);
    Node {
        label: format!("{name} (space)"),
        figures: [space.width.print.clone(), String::new(), String::new()],
        board: String::new(),
        holds: space.things.join(", "),
        children: Vec::new(),
    }
}

fn unit_node(unit: &UnitNode, within: &str) -> Node {
    let name = unit.unit.strip_prefix(within).unwrap_or(&unit.unit);
    let mut node = Node::new(format!("{name}, {} deep", unit.depth.print));
    node.figures = [unit.width.print.clone(), unit.height.print.clone(), String::new()];
    node.holds = unit.load.as_ref().map(|load| format!("{load} in all")).unwrap_or_default();
    node.children.extend(unit.top.as_ref().map(|top| board_node("top".to_owned(), top)));
    node.children.extend(unit.openings.iter().rev().map(shelf_node));
    node
}

fn board_node(label: String, board: &Board) -> Node {
    let mut node = Node::new(label);
    node.board = size(board);
    node
}

fn shelf_node(opening: &OpeningNode) -> Node {
    let mut node = opening_node(format!("shelf {}", name(&opening.opening)), opening);
    node.board = opening.shelf.as_ref().map(size).unwrap_or_default();
    node
}

fn opening_node(label: String, opening: &OpeningNode) -> Node {
    let sizes = [&opening.clear_width, &opening.clear_height, &opening.opening_front];
    let mut node = Node::new(label);
    node.figures = sizes.map(|length| length.print.clone());
    let holds = opening.load.iter().chain(&opening.weight).chain(&opening.contents);
    node.holds = holds.map(String::as_str).collect::<Vec<_>>().join(", ");
    for bay in &opening.bays {
        node.children.push(bay_node(bay));
        let divider = bay.divider.as_ref();
        node.children.extend(divider.map(|divider| board_node(format!("divider {}", divider.name), divider)));
    }
    node.children.extend(opening.loose.as_ref().and_then(loose_node));
    node
}

/// A bay without shelves is the opening on its floor; one with shelves has that opening as the lowest.
fn bay_node(bay: &BayNode) -> Node {
    let label = format!("bay {}", name(&bay.bay));
    match bay.openings.as_slice() {
        [floor] => opening_node(label, floor),
        openings => {
            let mut node = Node::new(label);
            node.figures = [bay.clear_width.print.clone(), String::new(), String::new()];
            let floor = openings.first().map(|floor| opening_node("its floor".to_owned(), floor));
            node.children.extend(openings.iter().skip(1).rev().map(shelf_node));
            node.children.extend(floor);
            node
        }
    }
}

fn loose_node(loose: &LooseNode) -> Option<Node> {
    let shelves = match loose.shelves.len() {
        1 => "1 loose shelf".to_owned(),
        count => format!("{count} loose shelves"),
    };
    let mut node = board_node(shelves, loose.shelves.first()?);
    let holes = loose.holes.zip(loose.pitch.as_ref());
    node.holds =
        holes.map(|(holes, pitch)| format!("{holes} holes, {} apart", pitch.print)).unwrap_or_default();
    Some(node)
}
