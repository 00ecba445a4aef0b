//! From the model to the part graph: one file for each construct.

mod adjustable;
mod back;
mod base;
mod bay;
mod carcass;
pub mod codes;
mod crown;
mod ends;
mod facing;
mod facing_bays;
mod fill;
mod filler;
mod found;
mod frame;
mod front;
mod hardware;
mod join;
mod opening;
mod room;
mod router;
mod run;
mod scribe;
mod shelf;

use crate::diag::{Diagnostic, Sink};
use crate::eval::{Ledger, Len, Model};
use crate::limits;
use crate::parts::{PartGraph, PartId, UnitId};
use crate::quantity::Marks;
use crate::source::Span;

/// The parts of a model, and the ledger that goes with them; messages go to the sink.
#[must_use]
pub fn lower(model: &Model, ledger: Ledger, sink: &mut Sink) -> PartGraph {
    let graph = PartGraph {
        sheets: model.sheets.clone(),
        boards: model.boards.clone(),
        fasteners: model.fasteners.clone(),
        ledger,
        ..PartGraph::default()
    };
    let mut lowering = Lowering { model, graph, sink, cleats: Vec::new(), stiles: Vec::new() };
    for run in &model.runs {
        lowering.run(run);
    }
    for carcass in &model.carcasses {
        let path = carcass.name.as_deref().unwrap_or("carcass").to_owned();
        let width = lowering.stated_width(carcass);
        lowering.carcass(carcass, path, width, None, None);
    }
    if lowering.graph.units.is_empty() && !lowering.sink.has_errors() {
        let diagnostic = Diagnostic::new(&codes::NOTHING, "there is nothing to build");
        let diagnostic = lowering.blame(diagnostic, model.project.head, "", &[]);
        lowering.sink.push(diagnostic.help(
            "state a `run` with units in it, or a `carcass`; `scantling new` writes a project to start from",
        ));
    }
    lowering.joins_that_meet();
    lowering.found();
    lowering.router();
    lowering.overflow();
    lowering.graph
}

/// The work at hand: what is known, and what has come out of it so far.
struct Lowering<'a> {
    model: &'a Model,
    graph: PartGraph,
    sink: &'a mut Sink,
    /// Cleats, and the shelf that each hangs under.
    cleats: Vec<(PartId, PartId)>,
    /// Stiles over seams, and the sides before which each stands: the unit by its position in the run, and the hand.
    stiles: Vec<(String, Vec<(usize, &'static str)>)>,
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
        self.sink.push(diagnostic.help("no building has such sizes; look for a figure too many"));
    }
}
