//! `scantling why FILE PATH`

use super::check::{Telling, sound};
use super::output::Screen;
use super::{Failure, Verdict};
use crate::breakdown::Effort;
use crate::compile::Compilation;
use crate::document::CAUTIONS;
use crate::eval::{Len, Reason};
use crate::parts::{Given, How, Input, Measure, MeasureValue, Needs, Unknown};
use crate::quantity::{JsonLength, Marks, estimate};
use crate::sheets::{PROJECT, WHOLE, whole};
use crate::source::DiskFiles;
use camino::Utf8PathBuf;
use clap::ValueEnum;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The project's main file.
    file: Utf8PathBuf,
    /// The path of a number, such as `wall.left.shelf.low.length`; a shorter path lists the numbers under it.
    path: String,
    /// The form to print it in.
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Format {
    /// Sentences.
    Text,
    /// For other programs.
    Json,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let Some(compilation) = sound(&DiskFiles, &arguments.file, Telling::Errors, screen)? else {
        return Ok(Verdict::Errors);
    };
    let path = compilation.graph.present(&arguments.path);
    let found = found(&compilation, &path)?;
    let answer = Answer { compilation: &compilation };
    let text = match (arguments.format, found.as_slice()) {
        (Format::Json, _) => {
            let json: Vec<_> = found.iter().map(|(path, measure)| answer.json(path, measure)).collect();
            format!("{:#}\n", serde_json::Value::Array(json))
        }
        (Format::Text, [(full, measure)]) if *full == path => answer.chain(full, measure),
        (Format::Text, _) => {
            let lines = found.iter().map(|(path, measure)| format!("{path} = {}\n", answer.print(measure)));
            lines.chain(["\nask for one of them to see where it comes from\n".to_owned()]).collect()
        }
    };
    screen.out(&text)?;
    Ok(Verdict::Fine)
}

/// What a path leads to: measures of the graph, then those of the whole project.
fn found(compilation: &Compilation, path: &str) -> Result<Vec<(String, Measure)>, Failure> {
    let unknown = match compilation.graph.find(path) {
        Ok(found) => return Ok(found),
        Err(unknown) => unknown,
    };
    match compilation.graph.lacks(path) {
        [] => {}
        needs => {
            let help = format!("state {}", Needs(needs));
            return Err(Failure::Path { message: format!("`{path}` is not known"), help });
        }
    }
    let subject = compilation.subject(Effort::default());
    let named = |name: &str| match whole(subject, name) {
        Some(Ok(whole)) => Ok(vec![(format!("{PROJECT}.{name}"), whole.measure)]),
        Some(Err(help)) => Err(Failure::Path { message: format!("`{PROJECT}.{name}` is not known"), help }),
        None => Err(Failure::Path {
            message: format!("`{PROJECT}` has no `{name}`"),
            help: format!("there is {}", WHOLE.join(", ")),
        }),
    };
    match path.strip_prefix(PROJECT) {
        Some("") => Ok(WHOLE.into_iter().filter_map(|name| named(name).ok()).flatten().collect()),
        Some(rest) => rest.strip_prefix('.').map_or_else(|| Err(failure(&unknown)), named),
        None => Err(failure(&unknown)),
    }
}

/// Answers from one compilation.
struct Answer<'a> {
    compilation: &'a Compilation,
}

impl Answer<'_> {
    fn marks(&self) -> Marks {
        self.compilation.model.project.marks
    }

    fn print(&self, measure: &Measure) -> String {
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
    fn chain(&self, path: &str, measure: &Measure) -> String {
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

    fn json(&self, path: &str, measure: &Measure) -> serde_json::Value {
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

fn failure(unknown: &Unknown) -> Failure {
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
    Failure::Path { message, help }
}
