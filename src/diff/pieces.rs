//! What becomes of each planned part: it stays, has another size, comes, or goes; of those that come, which are as large as one that
//! goes.

use super::Side;
use super::pair::Pairs;
use crate::parts::{Part, PartGraph};
use crate::quantity::{JsonLength, Length, Marks};
use serde::Serialize;

/// What becomes of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// It is smaller than before.
    Smaller,
    /// It is larger than before in one size at least, or of other stock.
    Other,
    /// The old project has no such part.
    New,
    /// The new project has no such part.
    Gone,
    /// The old project has no such part, but another one that is cut alike and goes.
    Alike,
}

/// Width and length as cut in the shop.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutSize {
    /// The stock.
    pub stock: String,
    /// Across the grain.
    pub width: JsonLength,
    /// Along the grain.
    pub length: JsonLength,
}

/// A part that does not simply stay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceChange {
    /// What becomes of it.
    pub action: Action,
    /// What it is.
    pub role: &'static str,
    /// Its path; of one that goes, the old one.
    pub path: String,
    /// Its old path, where that is another; of one that comes, that of the part that goes and is cut alike.
    pub was_path: Option<String>,
    /// As the old project has it.
    pub was: Option<CutSize>,
    /// As the new project has it.
    pub is: Option<CutSize>,
}

/// All parts.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Pieces {
    /// How many stay as they are.
    pub unchanged: usize,
    /// The others.
    pub changes: Vec<PieceChange>,
}

impl Pieces {
    /// How many parts need this.
    #[must_use]
    pub fn count(&self, action: Action) -> usize {
        self.changes.iter().filter(|change| change.action == action).count()
    }
}

fn size(part: &Part, marks: Marks) -> [Length; 2] {
    let cut = part.cut();
    [cut.width, cut.length].map(|len| marks.nearest(len.value))
}

fn cut(graph: &PartGraph, part: &Part, marks: Marks) -> CutSize {
    let blank = part.cut();
    CutSize {
        stock: graph.stock_name(part.stock),
        width: JsonLength::new(blank.width.value, marks),
        length: JsonLength::new(blank.length.value, marks),
    }
}

/// What becomes of all parts.
pub(super) fn pieces(old: Side<'_>, new: Side<'_>, pairs: &Pairs, marks: Marks) -> Pieces {
    let mut pieces = Pieces::default();
    let change = |action, was: Option<&Part>, is: Option<&Part>| {
        let path = is.or(was).map_or_else(String::new, |part| part.path.clone());
        PieceChange {
            action,
            role: is.or(was).map_or("", |part| part.role.word()),
            was_path: was.map(|part| part.path.clone()).filter(|was| *was != path),
            path,
            was: was.map(|part| cut(old.graph, part, marks)),
            is: is.map(|part| cut(new.graph, part, marks)),
        }
    };
    for (old_id, new_id) in &pairs.both {
        let (Some(was), Some(is)) = (old.graph.part(*old_id), new.graph.part(*new_id)) else { continue };
        let ([w, l], [width, length]) = (size(was, marks), size(is, marks));
        // Another lot of a sheet is the same stock.
        let same_stock = old.graph.sold_as(was.stock) == new.graph.sold_as(is.stock);
        let action = if same_stock && (w, l) == (width, length) {
            pieces.unchanged += 1;
            continue;
        } else if same_stock && w >= width && l >= length {
            Action::Smaller
        } else {
            Action::Other
        };
        pieces.changes.push(change(action, Some(was), Some(is)));
    }
    for (old_id, new_id) in &pairs.alike {
        let (was, is) = (old.graph.part(*old_id), new.graph.part(*new_id));
        pieces.changes.push(change(Action::Alike, was, is));
    }
    let come = pairs.come.iter().filter_map(|id| new.graph.part(*id));
    pieces.changes.extend(come.map(|part| change(Action::New, None, Some(part))));
    let gone = pairs.gone.iter().filter_map(|id| old.graph.part(*id));
    pieces.changes.extend(gone.map(|part| change(Action::Gone, Some(part), None)));
    pieces.changes.sort_by(|a, b| (a.action, a.role).cmp(&(b.action, b.role)));
    pieces
}
