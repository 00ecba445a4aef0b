//! Why a number is what it is: what a path leads to, and where that comes from, in sentences and for programs.

use crate::breakdown::Effort;
use crate::compile::Compilation;
use crate::document::CAUTIONS;
use crate::eval::{Len, Reason};
use crate::parts::{Given, How, Input, Measure, MeasureValue, Needs, Unknown};
use crate::quantity::{JsonLength, Marks, estimate};
use crate::sheets::{PROJECT, WHOLE, whole};
use std::collections::{BTreeMap, BTreeSet};

/// A path that leads to no number, or to one that is not known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoNumber {
    /// What is wrong with it.
    pub message: String,
    /// What helps.
    pub help: String,
}

/// Where each of these numbers comes from, as `why` says it, by their paths; those that lead to none are left out.
#[must_use]
pub fn reasons<'a>(
    compilation: &Compilation,
    paths: impl IntoIterator<Item = &'a str>,
) -> BTreeMap<&'a str, String> {
    let paths: BTreeSet<&str> = paths.into_iter().collect();
    if paths.is_empty() {
        return BTreeMap::new();
    }
    let measures = compilation.graph.measures();
    let answer = Answer { compilation };
    let reason = |path: &'a str| match measures.get(path) {
        Some(measure) => Some((path, answer.chain(path, measure))),
        None => {
            let found = found(compilation, path).ok()?;
            let (_, measure) = found.iter().find(|(full, _)| full == path)?;
            Some((path, answer.chain(path, measure)))
        }
    };
    paths.into_iter().filter_map(reason).collect()
}

/// What a path leads to: measures of the graph, then those of the whole project.
///
/// # Errors
/// [`NoNumber`] where it leads to none.
pub fn found(compilation: &Compilation, path: &str) -> Result<Vec<(String, Measure)>, NoNumber> {
    let unknown = match compilation.graph.find(path) {
        Ok(found) => return Ok(found),
        Err(unknown) => unknown,
    };
    match compilation.graph.lacks(path) {
        [] => {}
        needs => {
            let help = format!("state {}", Needs(needs));
            return Err(NoNumber { message: format!("`{path}` is not known"), help });
        }
    }
    let subject = compilation.subject(Effort::default());
    let named = |name: &str| match whole(subject, name) {
        Some(Ok(whole)) => Ok(vec![(format!("{PROJECT}.{name}"), whole.measure)]),
        Some(Err(help)) => Err(NoNumber { message: format!("`{PROJECT}.{name}` is not known"), help }),
        None => Err(NoNumber {
            message: format!("`{PROJECT}` has no `{name}`"),
            help: format!("there is {}", WHOLE.join(", ")),
        }),
    };
    match path.strip_prefix(PROJECT) {
        Some("") => Ok(WHOLE.into_iter().filter_map(|name| named(name).ok()).flatten().collect()),
        Some(rest) => rest.strip_prefix('.').map_or_else(|| Err(no_number(&unknown)), named),
        None => Err(no_number(&unknown)),
    }
}

/// Answers from one compilation.
#[derive(Clone, Copy, Debug)]
pub struct Answer<'a> {
    /// The compilation.
    pub compilation: &'a Compilation,
}

impl Answer<'_> {
    fn marks(&self) -> Marks {
        self.compilation.model.project.marks
    }

    /// The number as it is printed.
    #[must_use]
    pub fn print(&self, measure: &Measure) -> String {
        match &measure.value {
            MeasureValue::Length(len) => self.marks().print(len.value).to_string(),
            MeasureValue::Estimate(value, _) => estimate(*value, self.marks().system()),
            MeasureValue::Count(count, _) => count.to_string(),
            MeasureValue::Money(sum, _) => self.compilation.model.project.money(*sum),
        }
    }

    fn reason(&self, len: Len) -> Reason {
        self.compilation.graph.ledger.reason(len.why, &self.compilation.sources, self.marks())
    }

    /// The number and where it comes from, step by step.
    #[must_use]
    pub fn chain(&self, path: &str, measure: &Measure) -> String {
        let head = format!("{path} = {}\n\n", self.print(measure));
        match &measure.value {
            MeasureValue::Length(len) => format!("{head}{}", self.reason(*len)),
            MeasureValue::Estimate(_, how) => {
                let [estimated, at_work] = CAUTIONS;
                format!("{head}an estimate: {}\n{}\n{estimated}\n{at_work}\n", how.rule, self.inputs(how))
            }
            MeasureValue::Count(_, from) => {
                head + &summed(from.iter().map(|(what, count)| (what, count.to_string())))
            }
            MeasureValue::Money(_, from) => {
                let project = &self.compilation.model.project;
                head + &summed(from.iter().map(|(what, sum)| (what, project.money(*sum))))
            }
        }
    }

    /// What goes into an estimate, each with where it comes from; then its source, and what is assumed.
    fn inputs(&self, how: &How) -> String {
        let mut lines: Vec<String> = how
            .from
            .iter()
            .map(|input| {
                let came = self.came(input);
                let came = if came.is_empty() { came } else { format!(" {came}") };
                format!("  {} {}{came}\n", input.name, input.value.print(self.marks()))
            })
            .collect();
        lines.extend((!how.source.is_empty()).then(|| format!("source: {}\n", how.source)));
        lines.extend(how.assumed.iter().map(|assumed| format!("assumed: {assumed}\n")));
        lines.concat()
    }

    /// Where an input comes from: the first step of its reason, or the member that states it.
    fn came(&self, input: &Input) -> String {
        match (&input.value, input.stated) {
            (Given::Length(len), _) => {
                self.reason(*len).steps.into_iter().next().map(|step| step.how).unwrap_or_default()
            }
            (_, Some(span)) => {
                format!("is stated in {}", self.compilation.sources.place(span))
            }
            (_, None) => String::new(),
        }
    }

    /// The same for programs.
    #[must_use]
    pub fn json(&self, path: &str, measure: &Measure) -> serde_json::Value {
        match &measure.value {
            MeasureValue::Length(len) => {
                let value = JsonLength::new(len.value, self.marks());
                serde_json::json!({ "path": path, "value": value, "steps": self.reason(*len).steps })
            }
            MeasureValue::Estimate(_, how) => {
                let value = self.print(measure);
                let from: Vec<_> = how
                    .from
                    .iter()
                    .map(|input| {
                        let (value, came) = (input.value.print(self.marks()), self.came(input));
                        serde_json::json!({ "name": input.name, "value": value, "how": came })
                    })
                    .collect();
                serde_json::json!({
                    "path": path, "estimate": value, "how": how.rule, "from": from, "source": how.source,
                    "assumed": how.assumed, "cautions": CAUTIONS
                })
            }
            MeasureValue::Count(count, from) => {
                let from: Vec<_> = from
                    .iter()
                    .map(|(what, count)| serde_json::json!({ "what": what, "count": count }))
                    .collect();
                serde_json::json!({ "path": path, "count": count, "from": from })
            }
            MeasureValue::Money(sum, from) => {
                let project = &self.compilation.model.project;
                let from: Vec<_> = from
                    .iter()
                    .map(|(what, sum)| serde_json::json!({ "what": what, "sum": project.money(*sum) }))
                    .collect();
                serde_json::json!({ "path": path, "sum": project.money(*sum), "from": from })
            }
        }
    }
}

/// So much of each, a line each.
fn summed<'a>(from: impl Iterator<Item = (&'a String, String)>) -> String {
    let from: Vec<(&String, String)> = from.collect();
    let width = from.iter().map(|(_, much)| much.len()).max().unwrap_or(0);
    from.iter().map(|(what, much)| format!("{much:>width$}  {what}\n")).collect()
}

fn no_number(unknown: &Unknown) -> NoNumber {
    let message = if unknown.known.is_empty() {
        format!("unknown name `{}`", unknown.step)
    } else {
        format!("`{}` has no `{}`", unknown.known, unknown.step)
    };
    let help = match (&unknown.shared, &unknown.near) {
        (Some(shared), _) => shared.clone(),
        (None, Some(near)) => format!("did you mean `{near}`?"),
        (None, None) => format!("there is {}", unknown.next.join(", ")),
    };
    NoNumber { message, help }
}
