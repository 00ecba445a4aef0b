//! Which part of the old project is which of the new one: by its path of names, then, for what was renamed, by place and role.
//! What is left goes, or comes; one that comes may be as large as one that goes, and is another part all the same.

use super::Side;
use crate::parts::{Face, Part, PartGraph, PartId, Role, RunId, RunPart, StretcherAt, Unit, UnitId};
use crate::quantity::{Length, Marks};
use std::collections::{BTreeMap, BTreeSet, VecDeque};

/// Both projects' parts, side by side.
#[derive(Debug, Default)]
pub(super) struct Pairs {
    /// Old and new, in the order of the new graph.
    pub both: Vec<(PartId, PartId)>,
    /// Of parts that go and come, those that are cut alike.
    pub alike: Vec<(PartId, PartId)>,
    /// Other parts that only the old project has.
    pub gone: Vec<PartId>,
    /// Other parts that only the new project has.
    pub come: Vec<PartId>,
    /// Old paths of parts, units and runs that have another path now, with that.
    pub renamed: BTreeMap<String, String>,
}

impl Pairs {
    /// The path in the new project of something that the old one calls `path`.
    pub fn renamed(&self, path: &str) -> String {
        if self.renamed.is_empty() {
            return path.to_owned();
        }
        let mut known = path;
        loop {
            if let Some(new) = self.renamed.get(known) {
                return format!("{new}{}", path.get(known.len()..).unwrap_or(""));
            }
            match known.rsplit_once('.') {
                Some((shorter, _)) => known = shorter,
                None => return path.to_owned(),
            }
        }
    }
}

/// Where a part stands, and what for: its group, its role and its place, to the mark.
type Stand = (String, Role, [Length; 3]);
/// What a piece is: role, stock, width and length as cut, to the mark.
type AsCut = (Role, String, [Length; 2]);

/// Pairs the parts of two projects.
pub(super) fn pair(old: Side<'_>, new: Side<'_>, marks: Marks) -> Pairs {
    let mut pairs = Pairs::default();
    let groups = groups(old.graph, new.graph, marks);
    let by_path: BTreeMap<&str, PartId> = new.graph.numbered().map(|(id, part)| (&*part.path, id)).collect();
    let mut matched: BTreeMap<PartId, PartId> = BTreeMap::new();
    let mut taken = BTreeSet::new();
    let mut left: Vec<(PartId, &Part)> = Vec::new();
    for (id, part) in old.graph.numbered() {
        let group = group(old.graph, part);
        let own = part.path.strip_prefix(&group).unwrap_or(&part.path);
        let expected = groups.get(&group).map(|new| format!("{new}{own}"));
        let found = expected.and_then(|path| by_path.get(path.as_str()).copied());
        match found.filter(|new_id| new.graph.part(*new_id).is_some_and(|new| new.role == part.role)) {
            Some(new_id) if taken.insert(new_id) => {
                matched.insert(new_id, id);
            }
            _ => left.push((id, part)),
        }
    }
    let stand = |part: &Part, group: String| -> Stand {
        let place = [part.place.x, part.place.y, part.place.z];
        (group, part.role, place.map(|len| marks.nearest(len.value)))
    };
    let piece = |graph: &PartGraph, part: &Part| -> AsCut {
        let cut = part.cut();
        (
            kind(part.role),
            graph.stock_name(part.stock),
            [cut.width, cut.length].map(|len| marks.nearest(len.value)),
        )
    };
    let mut open: BTreeMap<Stand, VecDeque<PartId>> = BTreeMap::new();
    for (id, part) in new.graph.numbered().filter(|(id, _)| !taken.contains(id)) {
        open.entry(stand(part, group(new.graph, part))).or_default().push_back(id);
    }
    left.retain(|(id, part)| {
        let Some(group) = groups.get(&group(old.graph, part)) else { return true };
        let Some(new_id) = open.get_mut(&stand(part, group.clone())).and_then(VecDeque::pop_front) else {
            return true;
        };
        taken.insert(new_id);
        matched.insert(new_id, *id);
        false
    });
    let mut open: BTreeMap<AsCut, VecDeque<PartId>> = BTreeMap::new();
    for (id, part) in new.graph.numbered().filter(|(id, _)| !taken.contains(id)) {
        open.entry(piece(new.graph, part)).or_default().push_back(id);
    }
    for (id, part) in left {
        match open.get_mut(&piece(old.graph, part)).and_then(VecDeque::pop_front) {
            Some(new_id) => {
                taken.insert(new_id);
                pairs.alike.push((id, new_id));
            }
            None => pairs.gone.push(id),
        }
    }
    pairs.come = new.graph.numbered().map(|(id, _)| id).filter(|id| !taken.contains(id)).collect();
    pairs.renamed = groups.into_iter().filter(|(old, new)| old != new).collect();
    for (new_id, id) in &matched {
        let (Some(before), Some(now)) = (old.graph.part(*id), new.graph.part(*new_id)) else { continue };
        if before.path != now.path && pairs.renamed(&before.path) != now.path {
            pairs.renamed.insert(before.path.clone(), now.path.clone());
        }
    }
    pairs.both = matched.into_iter().map(|(new, old)| (old, new)).collect();
    pairs
}

/// The role as far as it tells whether a piece can stand for another.
fn kind(role: Role) -> Role {
    match role {
        Role::Stretcher(..) => Role::Stretcher(StretcherAt::Bottom, Face::Front),
        role => role,
    }
}

/// The unit or run that a part belongs to.
fn group(graph: &PartGraph, part: &Part) -> String {
    match part.unit.and_then(|id| graph.unit(id)) {
        Some(unit) => unit.path.clone(),
        None => part.path.split('.').next().unwrap_or("").to_owned(),
    }
}

/// Whether most of what stands in one place stands alike in another: by role and place.
fn stands_alike<'a>(
    old: impl Iterator<Item = &'a Part>,
    new: impl Iterator<Item = &'a Part>,
    marks: Marks,
) -> bool {
    let stand = |part: &Part| {
        let place = [part.place.x, part.place.y, part.place.z];
        (part.role, place.map(|len| marks.nearest(len.value)))
    };
    let mut there: BTreeMap<(Role, [Length; 3]), usize> = BTreeMap::new();
    for part in new {
        *there.entry(stand(part)).or_default() += 1;
    }
    let (mut all, mut alike) = (0_usize, 0_usize);
    for part in old {
        all += 1;
        if let Some(left) = there.get_mut(&stand(part)).filter(|left| **left > 0) {
            *left -= 1;
            alike += 1;
        }
    }
    2 * alike > all
}

/// All parts of a run, those of its units too.
fn of_run(graph: &PartGraph, id: RunId) -> impl Iterator<Item = &Part> {
    let units = graph.run(id).into_iter().flat_map(RunPart::all);
    graph.parts_of_run(id).chain(units.flat_map(|unit| graph.parts_of(unit)))
}

/// Runs and units of the old project with those of the new one: by path, then by what they are. One that goes and one that comes
/// are one that was renamed where they are as large, and most of what stands in them stands as it did.
fn groups(old: &PartGraph, new: &PartGraph, marks: Marks) -> BTreeMap<String, String> {
    let mut groups = BTreeMap::new();
    let known: BTreeSet<&str> = new.runs.iter().map(|run| &*run.path).collect();
    let was: BTreeSet<&str> = old.runs.iter().map(|run| &*run.path).collect();
    let mut open: Vec<_> = new.numbered_runs().filter(|(_, run)| !was.contains(&*run.path)).collect();
    for (id, run) in old.numbered_runs() {
        if known.contains(&*run.path) {
            groups.insert(run.path.clone(), run.path.clone());
        } else if let Some(at) = open.iter().position(|(other_id, other)| {
            let width = |run: &RunPart| marks.nearest(run.total_width.value);
            other.all().count() == run.all().count()
                && width(other) == width(run)
                && stands_alike(of_run(old, id), of_run(new, *other_id), marks)
        }) {
            groups.insert(run.path.clone(), open.remove(at).1.path.clone());
        }
    }
    let expected = |unit: &Unit| match unit.path.split_once('.') {
        Some((run, own)) => groups.get(run).map_or_else(|| unit.path.clone(), |run| format!("{run}.{own}")),
        None => unit.path.clone(),
    };
    let known: BTreeSet<&str> = new.units.iter().map(|unit| &*unit.path).collect();
    let mut units: Vec<(String, String)> = Vec::new();
    let mut left = Vec::new();
    for (id, unit) in old.numbered_units() {
        let path = expected(unit);
        if known.contains(path.as_str()) {
            units.push((unit.path.clone(), path));
        } else {
            left.push((id, unit));
        }
    }
    let taken: BTreeSet<String> = units.iter().map(|(_, new)| new.clone()).collect();
    let mut open: Vec<_> = new.numbered_units().filter(|(_, unit)| !taken.contains(&unit.path)).collect();
    let look = |unit: &Unit| {
        let size = [unit.width, unit.height, unit.depth].map(|len| marks.nearest(len.value));
        (size, unit.x.map(|x| marks.nearest(x.value)))
    };
    for (id, unit) in left {
        let is_same = |(other_id, other): &(UnitId, &Unit)| {
            look(other) == look(unit) && stands_alike(old.parts_of(id), new.parts_of(*other_id), marks)
        };
        if let Some(at) = open.iter().position(is_same) {
            units.push((unit.path.clone(), open.remove(at).1.path.clone()));
        }
    }
    groups.extend(units);
    groups
}
