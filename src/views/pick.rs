//! What a path picks: a run, a unit or a part; without a path all of the project.

use super::Subject;
use super::solid::Group;
use crate::diag::nearest;
use crate::parts::{PartGraph, PartId, RunId, RunPart, Unit, UnitId};
use std::collections::BTreeSet;

/// What is to be shown.
#[derive(Clone, Debug, Default)]
pub struct Picked {
    /// The run; `None` where all of the project is meant, or a carcass that stands alone.
    pub run: Option<RunId>,
    /// The unit that is talked about.
    pub unit: Option<UnitId>,
    /// The part that is talked about.
    pub part: Option<PartId>,
}

/// A path that leads to nothing that can be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotThere {
    /// What is wrong with it.
    pub message: String,
    /// What is there.
    pub help: String,
}

impl Picked {
    /// A run.
    #[must_use]
    pub fn run(run: RunId) -> Self {
        Self { run: Some(run), ..Self::default() }
    }

    /// A unit.
    #[must_use]
    pub fn unit(graph: &PartGraph, id: UnitId) -> Self {
        Self { run: graph.unit(id).and_then(|unit| unit.run), unit: Some(id), part: None }
    }

    /// What a path picks.
    ///
    /// # Errors
    /// [`NotThere`] where it picks nothing; it says what was likely meant.
    pub fn by(subject: Subject<'_>, path: &str) -> Result<Self, NotThere> {
        let graph = subject.graph;
        if let Some((id, _)) = graph.numbered_runs().find(|(_, run)| run.path == path) {
            return Ok(Self::run(id));
        }
        if let Some((id, _)) = graph.numbered_units().find(|(_, unit)| unit.path == path) {
            return Ok(Self::unit(graph, id));
        }
        if let Some(part) = graph.named(path).and_then(|id| graph.part(id)) {
            return Ok(Self { run: part.run, unit: part.unit, part: Some(part.id) });
        }
        Err(not_there(subject, path))
    }

    /// What stands together of what is picked.
    pub(super) fn groups<'a>(&self, subject: Subject<'a>) -> Vec<Group<'a>> {
        let graph = subject.graph;
        let of_run = |run: &RunPart, hung: bool| -> Vec<(UnitId, &'a Unit)> {
            run.all()
                .filter_map(|id| Some((id, graph.unit(id)?)))
                .filter(|(_, unit)| unit.hung == hung)
                .collect()
        };
        let runs = graph.numbered_runs().filter(|(id, _)| self.run.is_none_or(|run| run == *id));
        let runs = runs.map(|(id, run)| Group {
            run: Some((id, run)),
            units: of_run(run, false),
            hung: of_run(run, true),
        });
        let alone = graph.numbered_units().filter(|(_, unit)| unit.run.is_none());
        let alone = alone.map(|(id, unit)| Group { run: None, units: vec![(id, unit)], hung: Vec::new() });
        let groups: Vec<Group<'a>> = match (self.run, self.unit) {
            (Some(_), _) => runs.collect(),
            (None, Some(picked)) => {
                alone.filter(|group| group.units.iter().any(|(id, _)| *id == picked)).collect()
            }
            (None, None) => runs.chain(alone).collect(),
        };
        groups.into_iter().filter(|group| !group.units.is_empty()).collect()
    }

    /// Its units, each with what it stands in.
    pub(super) fn units<'a>(&self, subject: Subject<'a>) -> Vec<(Group<'a>, UnitId, &'a Unit)> {
        let mut units = Vec::new();
        for group in self.groups(subject) {
            let picked = group.all().filter(|(id, _)| self.unit.is_none_or(|unit| unit == *id));
            units.extend(picked.map(|(id, unit)| (group.clone(), *id, *unit)));
        }
        units
    }
}

/// Says as far as which step a path leads, and what could follow it.
fn not_there(subject: Subject<'_>, path: &str) -> NotThere {
    let graph = subject.graph;
    if let Some(shared) = graph.shared_before(path) {
        return NotThere { message: format!("`{path}` is the name of several parts"), help: shared };
    }
    let runs = graph.runs.iter().map(|run| run.path.as_str());
    let units = graph.units.iter().map(|unit| unit.path.as_str());
    let all: BTreeSet<&str> =
        runs.chain(units).chain(graph.parts.iter().map(|part| part.path.as_str())).collect();
    let follows = |known: &str| -> BTreeSet<String> {
        let under = if known.is_empty() { String::new() } else { format!("{known}.") };
        let rest = all.iter().filter_map(|full| full.strip_prefix(&under));
        rest.filter_map(|rest| rest.split('.').next()).map(str::to_owned).collect()
    };
    let (mut known, mut step) = (String::new(), "");
    for next in path.split('.') {
        step = next;
        if !follows(&known).contains(next) {
            break;
        }
        known = if known.is_empty() { next.to_owned() } else { format!("{known}.{next}") };
    }
    let next = follows(&known);
    if known == path {
        let help = next.iter().take(12).map(|step| format!("{known}.{step}")).collect::<Vec<_>>().join(", ");
        return NotThere {
            message: format!("`{path}` is no run, unit or part by itself"),
            help: format!("there is {help}"),
        };
    }
    let message = if known.is_empty() {
        format!("unknown name `{step}`")
    } else {
        format!("`{known}` has no `{step}`")
    };
    let near = nearest(step, next.iter().map(String::as_str)).map(|near| {
        let under = if known.is_empty() { String::new() } else { format!("{known}.") };
        let rest = path.strip_prefix(&format!("{under}{step}")).unwrap_or("");
        format!("did you mean `{under}{near}{rest}`?")
    });
    let listed = || {
        let shown: Vec<&str> = next.iter().take(12).map(String::as_str).collect();
        let more = if next.len() > shown.len() { ", .." } else { "" };
        format!("there is {}{more}", shown.join(", "))
    };
    NotThere { message, help: near.unwrap_or_else(listed) }
}
