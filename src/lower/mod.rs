//! From the model to the part graph: one file for each construct.

#![warn(clippy::wildcard_enum_match_arm)]

mod adjustable;
mod around;
mod as_built;
mod back;
mod base;
mod bay;
mod carcass;
pub mod codes;
mod corner;
mod counter;
mod crown;
mod drawers;
mod ends;
mod facing;
mod facing_bays;
mod fill;
mod filler;
mod frame;
mod front;
mod fronts;
mod hardware;
mod hole;
mod hung;
mod join;
mod opening;
mod room;
mod router;
mod run;
mod scribe;
mod shelf;
mod slope;
mod space;

use self::around::Around;
use crate::diag::{Diagnostic, Sink};
use crate::eval::{Ledger, Len, Model};
use crate::limits;
use crate::parts::{Called, Part, PartGraph, PartId, UnitId};
use crate::quantity::Marks;
use crate::source::Span;
use std::sync::Arc;

/// The parts of a model, and the ledger that goes with them; messages go to the sink.
#[must_use]
pub fn lower(model: &Model, ledger: Ledger, sink: &mut Sink) -> PartGraph {
    let mut graph = PartGraph::default();
    graph.sheets.clone_from(&model.sheets);
    graph.boards.clone_from(&model.boards);
    graph.fasteners.clone_from(&model.fasteners);
    graph.walls = model.walls.iter().map(|wall| wall.name.clone()).collect();
    graph.ledger = ledger;
    let mut lowering = Lowering { model, graph, sink, closings: Vec::new() };
    for run in &model.runs {
        lowering.run(run);
    }
    lowering.corners();
    for carcass in &model.carcasses {
        let name: Arc<str> = carcass.name.clone().unwrap_or_else(|| "carcass".into());
        let width = lowering.stated_width(carcass);
        lowering.carcass(
            carcass,
            (Called { path: name.to_string(), name, former: None }, None),
            width,
            (None, &Around::default()),
            None,
        );
        lowering.close_openings(None);
    }
    // Where a reading is still to be taken, that is what is missing.
    if lowering.graph.units.is_empty() && !lowering.sink.has_errors() && !model.unread {
        let diagnostic = Diagnostic::new(&codes::NOTHING, "there is nothing to build");
        let diagnostic = lowering.blame(diagnostic, model.project.head, "", &[]);
        lowering.sink.push(diagnostic.help(
            "state a `run` with units in it, or a `carcass`; `scantling new` writes a project to start from",
        ));
    }
    lowering.joins_that_meet();
    lowering.as_built();
    lowering.router();
    lowering.overflow();
    lowering.graph
}

/// The work at hand: what is known, and what has come out of it so far.
struct Lowering<'a> {
    model: &'a Model,
    graph: PartGraph,
    sink: &'a mut Sink,
    /// Openings whose doors and drawers wait for the facing.
    closings: Vec<fronts::Closing>,
}

impl Lowering<'_> {
    fn marks(&self) -> Marks {
        self.model.project.marks
    }

    /// A length as the project prints it.
    fn print(&self, len: Len) -> String {
        self.marks().print(len.value).to_string()
    }

    /// Marks every place that states something a length depends on.
    fn blame(
        &self,
        mut diagnostic: Diagnostic,
        head: Option<Span>,
        at: &str,
        blamed: &[(Len, &str)],
    ) -> Diagnostic {
        if let Some(head) = head {
            diagnostic = diagnostic.at(head, at);
        }
        for (len, what) in blamed {
            for span in self.graph.ledger.spans(len.why) {
                if !diagnostic.labels.iter().any(|label| label.span == span) {
                    diagnostic = diagnostic.and_at(span, *what);
                }
            }
        }
        diagnostic
    }

    /// Adds a part; a path that another part has already is an error, and gives none.
    fn add(&mut self, part: Part) -> Option<PartId> {
        let path = part.path.clone();
        let added = self.graph.add(part);
        if added.is_none() {
            let message = format!("two parts are called `{path}`");
            self.sink.push(
                Diagnostic::new(&codes::TWO_PARTS, message)
                    .help("give the members that they are named after other names"),
            );
        }
        added
    }

    fn next_unit(&self) -> UnitId {
        UnitId::at(self.graph.units.len())
    }

    /// Whether there is room for so many more parts; says so once where there is none.
    fn has_room(&mut self, parts: usize) -> bool {
        let room = self.graph.parts.len().saturating_add(parts) <= limits::PARTS;
        if !room {
            self.sink.push(
                Diagnostic::new(&codes::PARTS, format!("the project has more than {} parts", limits::PARTS))
                    .help("divide it into several files"),
            );
        }
        room
    }

    fn overflow(&mut self) {
        let Some(why) = self.graph.ledger.overflow() else { return };
        let label = self.graph.ledger.entry(why).map_or("", |entry| entry.label.text());
        let message = format!("the {label} is too large or too fine to be held exactly");
        let mut diagnostic = Diagnostic::new(&crate::eval::codes::OVERFLOW, message);
        for (i, span) in self.graph.ledger.spans(why).into_iter().enumerate() {
            diagnostic =
                if i == 0 { diagnostic.at(span, "from this") } else { diagnostic.and_at(span, "and this") };
        }
        self.sink.push(diagnostic.help("no building has such sizes; look for a digit too many"));
    }
}
