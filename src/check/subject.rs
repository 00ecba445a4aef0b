//! What a check looks at, with the questions that several of them ask.

use crate::breakdown::Plans;
use crate::diag::{Diagnostic, Fix};
use crate::eval::{Amount, Carcass, Len, Model, Step, Wall};
use crate::parts::{
    Bounds, CutOff, Hand, JointKind, Opening, Part, PartGraph, PartId, Role, Row, RowKind, Unit, UnitId,
};
use crate::quantity::{Estimate, Length, Marks, Round, System, decimal, some};
use crate::source::Span;
use std::collections::BTreeMap;

/// What a check looks at.
#[derive(Clone, Debug)]
pub struct Subject<'a> {
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
    /// Its layouts, as far as they are made.
    pub plans: &'a Plans,
    to_wall: BTreeMap<PartId, &'a Row>,
    units: Vec<Standing<'a>>,
    weights: Vec<Option<Estimate>>,
    cut_off: CutOff,
    openings: Vec<Vec<&'a Opening>>,
}

/// A unit and what it stands in.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing<'a> {
    pub id: UnitId,
    pub unit: &'a Unit,
    pub carcass: &'a Carcass,
    pub wall: Option<&'a Wall>,
}

impl<'a> Subject<'a> {
    /// The model and the graph that was made from it.
    #[must_use]
    pub fn new(model: &'a Model, graph: &'a PartGraph, plans: &'a Plans) -> Self {
        let walls = graph.rows.iter().filter(|row| row.kind == RowKind::Wall);
        let to_wall = walls.filter_map(|row| Some((row.guest.part()?, row))).collect();
        let in_runs = model.runs.iter().flat_map(|run| {
            let wall = run.wall.and_then(|wall| model.walls.get(wall));
            run.carcasses().map(move |carcass| (carcass, wall))
        });
        let alone = model.carcasses.iter().map(|carcass| (carcass, None));
        let units = graph.units.iter().zip(in_runs.chain(alone)).enumerate();
        let units = units.map(|(index, (unit, (carcass, wall)))| {
            let id = UnitId(u32::try_from(index).unwrap_or(u32::MAX));
            Standing { id, unit, carcass, wall }
        });
        let units = units.collect();
        let mut openings = vec![Vec::new(); graph.units.len()];
        for opening in &graph.openings {
            if let Some(own) = openings.get_mut(opening.unit.0 as usize) {
                own.push(opening);
            }
        }
        let cut_off = graph.cut_off();
        let weights = graph.unit_weights(&cut_off);
        Self { model, graph, plans, to_wall, units, weights, cut_off, openings }
    }

    pub(super) fn marks(&self) -> Marks {
        self.model.project.marks
    }

    pub(super) fn is_metric(&self) -> bool {
        self.marks().system() == System::Metric
    }

    /// A size, to the nearest mark.
    pub(super) fn print(&self, length: Length) -> String {
        self.marks().print(length).to_string()
    }

    /// The most that is allowed, rounded down.
    pub(super) fn most(&self, length: Length) -> String {
        self.marks().print_rounded(length, Round::Down).text().to_owned()
    }

    /// The least that is needed, rounded up.
    pub(super) fn least(&self, length: Length) -> String {
        self.marks().print_rounded(length, Round::Up).text().to_owned()
    }

    /// A length of the trade: so many inches where the project prints inches, so many millimetres where it prints those.
    pub(super) fn usual(&self, inches: (i128, i128), tenths_of_mm: i128) -> Length {
        self.marks().system().length(inches, (tenths_of_mm, 10))
    }

    /// The step in which a mend is rounded: 1/8 in or 5 mm.
    pub(super) fn step(&self) -> Length {
        self.usual((1, 8), 50)
    }

    /// The box of a unit in the room with `front` before it, its counter and its doors; `None` on overflow.
    pub(super) fn bounds(&self, id: UnitId, front: Length) -> Option<Bounds> {
        let mut all = self.graph.unit(id)?.bounds(front)?;
        for other in self.graph.parts_of(id).filter(|part| matches!(part.role, Role::Counter | Role::Door)) {
            super::helpers::place::union(&mut all, &self.graph.bounds(other)?);
        }
        Some(all)
    }

    /// The loose shelves of an opening.
    pub(super) fn loose_in(&self, opening: &Opening) -> Vec<&'a Part> {
        opening.loose.iter().filter_map(|id| self.graph.part(*id)).collect()
    }

    /// The rows of screws that hold a unit to the wall, from the bottom part to the top one.
    pub(super) fn wall_rows(&self, unit: UnitId) -> impl Iterator<Item = &'a Row> {
        self.graph.parts_of(unit).filter_map(|part| self.to_wall(part.id))
    }

    /// The row of screws that holds a part to the wall.
    pub(super) fn to_wall(&self, part: PartId) -> Option<&'a Row> {
        self.to_wall.get(&part).copied()
    }

    /// All units: those of the runs from left to right, then those that stand alone.
    pub(super) fn units(&self) -> &[Standing<'a>] {
        &self.units
    }

    /// The weight of a unit as it is carried; `None` where its sheet states no density.
    pub(super) fn weight(&self, unit: UnitId) -> Option<Estimate> {
        *self.weights.get(unit.0 as usize)?
    }

    /// What is cut out of all parts.
    pub(super) fn cut_off(&self) -> &CutOff {
        &self.cut_off
    }

    /// How many ends are housed in the left and in the right side of each unit.
    pub(super) fn housed_ends(&self) -> Vec<[usize; 2]> {
        let mut ends = vec![[0, 0]; self.graph.units.len()];
        for joint in &self.graph.joints {
            if !matches!(joint.kind, JointKind::Dado { .. } | JointKind::Rabbet { .. }) {
                continue;
            }
            let Some(host) = self.graph.part(joint.host) else { continue };
            let own = host.unit.and_then(|unit| ends.get_mut(unit.0 as usize));
            if let (Role::Side(hand), Some([left, right])) = (host.role, own) {
                *(if hand == Hand::Left { left } else { right }) += 1;
            }
        }
        ends
    }

    /// The openings of a unit, from the bottom.
    pub(super) fn openings_of(&self, unit: UnitId) -> &[&'a Opening] {
        self.openings.get(unit.0 as usize).map_or(&[], Vec::as_slice)
    }

    /// Marks the places that state a length: the first is where the message belongs.
    pub(super) fn at(&self, diagnostic: Diagnostic, len: Len, text: &str) -> Diagnostic {
        let mut diagnostic = diagnostic;
        for span in self.graph.ledger.spans(len.why) {
            diagnostic = mark(diagnostic, span, text);
        }
        diagnostic
    }

    /// Marks the place of a length that is stated; one that is worked out has none of its own.
    pub(super) fn at_stated(&self, diagnostic: Diagnostic, len: Len, text: &str) -> Diagnostic {
        match self.graph.ledger.entry(len.why).map(|entry| &entry.step) {
            Some(Step::Stated(span)) => mark(diagnostic, *span, text),
            _ => diagnostic,
        }
    }

    /// Marks a member where it is declared.
    pub(super) fn at_head(&self, diagnostic: Diagnostic, head: Option<Span>, text: &str) -> Diagnostic {
        match head {
            Some(span) => mark(diagnostic, span, text),
            None => diagnostic,
        }
    }

    /// Marks where a number is stated.
    pub(super) fn at_amount(&self, diagnostic: Diagnostic, amount: Amount, text: &str) -> Diagnostic {
        self.at_head(diagnostic, self.graph.ledger.span(amount.why), text)
    }

    /// Marks each unit where it is declared: the message is about them.
    pub(super) fn at_units<'u>(
        &self,
        diagnostic: Diagnostic,
        units: impl IntoIterator<Item = &'u Unit>,
    ) -> Diagnostic {
        let each = |told, unit: &Unit| self.at_head(told, unit.head, "").about(unit.path.as_str());
        units.into_iter().fold(diagnostic, each)
    }

    /// A change of the one literal that states a length; `None` where it is worked out or nobody states it.
    pub(super) fn change(&self, len: Len, to: Length, title: &str, safe: bool) -> Option<Fix> {
        let (span, direct) = self.graph.ledger.literal(len.why)?;
        let text = self.write(to);
        Some(Fix::of(title.replace("{}", &text), span, text, safe && direct))
    }

    /// A length as one writes it in a file.
    pub(super) fn write(&self, length: Length) -> String {
        if self.is_metric() {
            format!("{}mm", decimal(length.mm(), 3))
        } else {
            self.marks().print_fine(length).text().to_owned()
        }
    }
}

/// Names in backticks: `` `a` and `b` ``.
pub(super) fn names(all: &[&str]) -> String {
    let quoted: Vec<String> = all.iter().map(|name| format!("`{name}`")).collect();
    match quoted.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// Those of several ways that do, as a help names them: `borrow 2 clamps, or nail the joints`.
pub(super) fn one_of(ways: impl IntoIterator<Item = Option<String>>) -> String {
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    match ways.as_slice() {
        [most @ .., last] if !most.is_empty() => format!("{}, or {last}", most.join(", ")),
        other => other.concat(),
    }
}

/// How a message names the rest of what it is about: ` and 2 other units`; nothing where there is none.
pub(super) fn others(count: usize, noun: &str) -> String {
    match count {
        0 => String::new(),
        count => format!(" and {}", some(count, &format!("other {noun}"))),
    }
}

/// The first place is the one that the message is about; each place is marked once.
fn mark(diagnostic: Diagnostic, span: Span, text: &str) -> Diagnostic {
    if diagnostic.labels.iter().any(|label| label.span == span) {
        diagnostic
    } else if diagnostic.labels.is_empty() {
        diagnostic.at(span, text)
    } else {
        diagnostic.and_at(span, text)
    }
}
