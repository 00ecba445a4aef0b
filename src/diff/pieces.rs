//! What to do with each part: keep it, cut it down, make it anew; and what pieces that are left over can serve for.

use super::Side;
use super::pair::Pairs;
use crate::parts::{Part, PartGraph, PartId, State};
use crate::quantity::{JsonLength, Length, Marks};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::{BTreeMap, VecDeque};

/// What to do with a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Action {
    /// The old piece is longer or wider than the new one: it can be cut down.
    Recut,
    /// The old piece is too small, or of other stock.
    MakeAnew,
    /// The old project has no such part.
    New,
    /// The new project has no such part.
    Surplus,
    /// The piece stays as it is and goes elsewhere.
    Moved,
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
    /// What to do.
    pub action: Action,
    /// What it is.
    pub role: &'static str,
    /// Its path; of a surplus part, the old one.
    pub path: String,
    /// Its old path, where that is another.
    pub was_path: Option<String>,
    /// As the old project has it.
    pub was: Option<CutSize>,
    /// As the new project has it.
    pub is: Option<CutSize>,
    /// How far the old piece is made; `None` where nothing says so.
    pub state: Option<State>,
    /// The lot that it was cut from, where that is stated.
    pub lot: Option<String>,
    /// The part that the old piece can serve for, by its path in the new project.
    pub serves: Option<String>,
}

/// All parts.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Pieces {
    /// How many stay as they are.
    pub unchanged: usize,
    /// The others.
    pub changes: Vec<PieceChange>,
    /// Whether it is known which parts are made.
    pub states_known: bool,
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

/// The sheet good of a lot: `ply` of `ply.second`.
fn good(stock: &str) -> &str {
    stock.split('.').next().unwrap_or(stock)
}

/// What to do with all parts.
pub(super) fn pieces(old: Side<'_>, new: Side<'_>, pairs: &Pairs, marks: Marks) -> Pieces {
    let mut pieces = Pieces { states_known: !old.graph.made.is_empty(), ..Pieces::default() };
    let change = |action, was: Option<(PartId, &Part)>, is: Option<&Part>| {
        let made = was.and_then(|(id, _)| old.graph.made.get(&id));
        let path = is.or(was.map(|(_, part)| part)).map_or_else(String::new, |part| part.path.clone());
        PieceChange {
            action,
            role: is.or(was.map(|(_, part)| part)).map_or("", |part| part.role.word()),
            was_path: was.map(|(_, part)| part.path.clone()).filter(|was| *was != path),
            path,
            was: was.map(|(_, part)| cut(old.graph, part, marks)),
            is: is.map(|part| cut(new.graph, part, marks)),
            state: made.map(|made| made.state),
            lot: made.and_then(|made| made.facts.lot.as_deref().map(str::to_owned)),
            serves: None,
        }
    };
    // A piece that lies there can serve for another part; where nothing is noted, all may.
    let lies_there = |id: &PartId| match old.graph.made.get(id).map(|made| made.state) {
        Some(State::Cut | State::Grooved) => true,
        Some(State::Bought | State::Glued | State::Fixed | State::Painted) => false,
        None => old.graph.made.is_empty(),
    };
    let mut supply: Vec<(usize, [Length; 2])> = Vec::new();
    let mut demand: Vec<(String, String, [Length; 2])> = Vec::new();
    for (old_id, new_id) in &pairs.both {
        let (Some(was), Some(is)) = (old.graph.part(*old_id), new.graph.part(*new_id)) else { continue };
        let ([w, l], [width, length]) = (size(was, marks), size(is, marks));
        // A sheet that is measured again, or another lot of it, gives pieces that can be cut down; another sheet does not.
        let same_stock = good(&old.graph.stock_name(was.stock)) == good(&new.graph.stock_name(is.stock));
        let action = if same_stock && (w, l) == (width, length) {
            let own = |path: &str| path.rsplit('.').next().map(str::to_owned);
            if was.unit.is_some() && pairs.renamed.contains_key(&was.path) && own(&was.path) == own(&is.path)
            {
                Action::Moved
            } else {
                pieces.unchanged += 1;
                continue;
            }
        } else if same_stock && w >= width && l >= length {
            Action::Recut
        } else {
            if lies_there(old_id) {
                supply.push((pieces.changes.len(), [w, l]));
            }
            demand.push((new.graph.stock_name(is.stock), is.path.clone(), [width, length]));
            Action::MakeAnew
        };
        pieces.changes.push(change(action, Some((*old_id, was)), Some(is)));
    }
    for id in &pairs.come {
        let Some(part) = new.graph.part(*id) else { continue };
        demand.push((new.graph.stock_name(part.stock), part.path.clone(), size(part, marks)));
        pieces.changes.push(change(Action::New, None, Some(part)));
    }
    for id in &pairs.gone {
        let Some(part) = old.graph.part(*id) else { continue };
        if lies_there(id) {
            supply.push((pieces.changes.len(), size(part, marks)));
        }
        pieces.changes.push(change(Action::Surplus, Some((*id, part)), None));
    }
    serve(&mut pieces.changes, supply, demand);
    pieces.changes.sort_by(|a, b| (a.action, a.role).cmp(&(b.action, b.role)));
    pieces
}

/// Gives each piece that is needed the smallest left-over piece that it can be cut from, the largest need first.
fn serve(
    changes: &mut [PieceChange],
    supply: Vec<(usize, [Length; 2])>,
    demand: Vec<(String, String, [Length; 2])>,
) {
    let mut left: BTreeMap<String, BTreeMap<[Length; 2], VecDeque<usize>>> = BTreeMap::new();
    for (index, size) in supply {
        let stock = changes.get(index).and_then(|change| change.was.as_ref()).map(|cut| cut.stock.clone());
        left.entry(stock.unwrap_or_default()).or_default().entry(size).or_default().push_back(index);
    }
    let mut demand = demand;
    demand.sort_by_key(|(_, path, [width, length])| (Reverse(*width), Reverse(*length), path.clone()));
    for (stock, path, [width, length]) in demand {
        let Some(pieces) = left.get_mut(&stock) else { continue };
        let fits = |size: &[Length; 2]| size.iter().zip([width, length]).all(|(has, needs)| *has >= needs);
        let Some(size) = pieces.keys().find(|size| fits(size)).copied() else { continue };
        let Some(queue) = pieces.get_mut(&size) else { continue };
        if let Some(change) = queue.pop_front().and_then(|index| changes.get_mut(index)) {
            change.serves = Some(path);
        }
        if queue.is_empty() {
            pieces.remove(&size);
        }
    }
}
