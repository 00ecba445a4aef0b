//! Grooves in the sides: those that move, come, go or have another size.

use super::Side;
use super::facts::print_length;
use super::pair::Pairs;
use crate::parts::{JointKind, Part, PartGraph, PartId, Role};
use crate::quantity::Marks;
use serde::Serialize;
use std::collections::BTreeMap;

/// What happens to grooves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Grooving {
    /// The mark is at another height.
    Moved,
    /// A mark more.
    Added,
    /// A mark less.
    Removed,
    /// The groove is wider, narrower, deeper or less deep.
    Resized,
}

/// A mark that changes, with all sides on which it does.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Groove {
    /// What happens.
    pub what: Grooving,
    /// The mark, by the name of its shelf.
    pub mark: String,
    /// Its old height over the bottom end, or the old width and depth.
    pub was: Option<String>,
    /// The new one.
    pub is: Option<String>,
    /// The sides, by their paths in the new project.
    pub sides: Vec<String>,
    /// Whether all of them are sides of units, and none is a divider or a stile of a frame.
    #[serde(skip)]
    pub only_sides: bool,
}

struct GrooveCut {
    mark: String,
    at: String,
    size: String,
}

/// The grooves of every host, by guest.
fn cuts(
    graph: &PartGraph,
    name: impl Fn(&str) -> String,
    marks: Marks,
) -> BTreeMap<PartId, BTreeMap<String, GrooveCut>> {
    let mut all: BTreeMap<PartId, BTreeMap<String, GrooveCut>> = BTreeMap::new();
    for joint in &graph.joints {
        let size = match joint.kind {
            JointKind::Dado { depth, width, .. } => {
                let [width, depth] = [("dado_width", width), ("dado_depth", depth)]
                    .map(|(n, len)| print_length(n, len, marks));
                format!("{width} wide, {depth} deep")
            }
            JointKind::Rabbet { depth } => {
                format!("rabbet {} deep", print_length("dado_depth", depth, marks))
            }
            JointKind::Groove { depth, width, set_in } => {
                let [width, depth, set_in] =
                    [("dado_width", width), ("dado_depth", depth), ("length", set_in)]
                        .map(|(n, len)| print_length(n, len, marks));
                let of_drawer = graph.part(joint.guest).is_some_and(|part| part.role == Role::DrawerBottom);
                let edge = if of_drawer { "lower" } else { "rear" };
                format!("groove {width} wide, {depth} deep, {set_in} from the {edge} edge")
            }
            JointKind::Mortise { depth } => format!("mortise {} deep", print_length("length", depth, marks)),
            JointKind::Butt => continue,
        };
        let Some(guest) = graph.part(joint.guest) else { continue };
        let path = name(&guest.path);
        let mark = guest.name.to_string();
        let at = marks.print(joint.at.value).text().to_owned();
        all.entry(joint.host).or_default().insert(path, GrooveCut { mark, at, size });
    }
    all
}

/// Everything that happens to grooves on sides that both projects have.
pub(super) fn grooves(old: Side<'_>, new: Side<'_>, pairs: &Pairs, marks: Marks) -> Vec<Groove> {
    let was = cuts(old.graph, |path| pairs.renamed(path), marks);
    let is = cuts(new.graph, str::to_owned, marks);
    let mut grooves: Vec<Groove> = Vec::new();
    let mut add = |what, mark: &str, before: Option<String>, now: Option<String>, host: &Part| {
        let at =
            grooves.iter().position(|g| g.what == what && g.mark == mark && g.was == before && g.is == now);
        let new = || Groove {
            what,
            mark: mark.to_owned(),
            was: before,
            is: now,
            sides: Vec::new(),
            only_sides: true,
        };
        let at = at.unwrap_or_else(|| {
            grooves.push(new());
            grooves.len() - 1
        });
        if let Some(groove) = grooves.get_mut(at) {
            groove.sides.push(host.path.clone());
            groove.only_sides &= matches!(host.role, Role::Side(_));
        }
    };
    let none = BTreeMap::new();
    for (old_id, new_id) in &pairs.both {
        let (before, now) = (was.get(old_id).unwrap_or(&none), is.get(new_id).unwrap_or(&none));
        let Some(side) = new.graph.part(*new_id).filter(|_| !before.is_empty() || !now.is_empty()) else {
            continue;
        };
        for (guest, cut) in before {
            match now.get(guest) {
                None => add(Grooving::Removed, &cut.mark, Some(cut.at.clone()), None, side),
                Some(other) => {
                    if other.at != cut.at {
                        let (was, is) = (Some(cut.at.clone()), Some(other.at.clone()));
                        add(Grooving::Moved, &other.mark, was, is, side);
                    }
                    if other.size != cut.size {
                        let (was, is) = (Some(cut.size.clone()), Some(other.size.clone()));
                        add(Grooving::Resized, "", was, is, side);
                    }
                }
            }
        }
        for (_, cut) in now.iter().filter(|(guest, _)| !before.contains_key(*guest)) {
            add(Grooving::Added, &cut.mark, None, Some(cut.at.clone()), side);
        }
    }
    for groove in &mut grooves {
        groove.sides.dedup();
    }
    grooves.sort_by(|a, b| (a.what, &a.mark).cmp(&(b.what, &b.mark)));
    grooves
}
