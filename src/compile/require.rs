//! Requirements: the derived measures that they ask for, worked out only as far as they are asked for.

use crate::breakdown::{Effort, Plans};
use crate::diag::Sink;
use crate::eval::{self, Derived, Measures, Model};
use crate::parts::{Measure, MeasureValue, PartGraph, Work};
use crate::quantity::{Dim, Exact};
use crate::resolve::Program;
use crate::sheets;
use crate::source::Sources;

/// Tests what the project requires of its derived measures.
pub(super) fn require(
    program: &Program,
    model: &Model,
    graph: &mut PartGraph,
    plans: &Plans,
    sources: &Sources,
    sink: &mut Sink,
) {
    let required = eval::required(program);
    if required.is_empty() {
        return;
    }
    let all = graph.measures().into_iter();
    let known = all.filter_map(|(path, measure)| Some((path, derived(model, measure, Vec::new())?)));
    let path = |name: &str| format!("{}.{name}", sheets::PROJECT);
    let others = sheets::WHOLE.map(path).to_vec();
    let mut measures = Measures { known: known.collect(), others, ..Measures::default() };
    for asked in &required {
        if let Some(known) = measures.known.get(&graph.present(asked)).cloned() {
            measures.known.insert(asked.clone(), known);
        }
    }
    // What takes a layout is worked out only where it is asked for.
    let (effort, work) = (Effort::default(), Work::Left);
    let subject = sheets::Subject { model, graph, plans, findings: &[], effort, work, only: None };
    for name in sheets::WHOLE {
        let path = path(name);
        if !required.contains(&path) || measures.known.contains_key(&path) {
            continue;
        }
        match sheets::whole(subject, name) {
            Some(Ok(whole)) => {
                measures
                    .known
                    .extend(derived(model, whole.measure, whole.without).map(|derived| (path, derived)));
            }
            Some(Err(why)) => _ = measures.unknown.insert(path, why),
            None => {}
        }
    }
    eval::require(program, &mut graph.ledger, &measures, sources, &model.project, sink);
}

/// A measure as a requirement compares it; `None` where it is too large to be compared.
fn derived(model: &Model, measure: Measure, without: Vec<String>) -> Option<Derived> {
    let (value, why, from) = match measure.value {
        MeasureValue::Length(len) => (len.value.into(), Some(len.why), Vec::new()),
        MeasureValue::Estimate(estimate, _) => (estimate.nearest()?, None, Vec::new()),
        MeasureValue::Count(count, from) => {
            let from = from.into_iter().map(|(what, count)| format!("{count} of {what}"));
            (Exact::number(i128::try_from(count).ok()?.into()), None, from.collect())
        }
        MeasureValue::Money(sum, from) => {
            let from = from.into_iter().map(|(what, sum)| format!("{}: {what}", model.project.money(sum)));
            (Exact { value: sum, dim: Dim::MONEY }, None, from.collect())
        }
    };
    Some(Derived { value, why, from, without })
}
