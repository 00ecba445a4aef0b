//! Reads the model out of the program: each kind's properties, with what must be stated and what is usual.

use super::codes;
use super::expr::Evaluator;
use super::intent;
use super::ledger::Ledger;
use super::model::{Model, Project, Run, SheetId};
use crate::diag::{Diagnostic, Sink};
use crate::quantity::{Marks, MarksError, Paper, System};
use crate::resolve::kinds::{Needed, PROJECT, PaperOf, Property};
use crate::resolve::{NodeId, Program};
use crate::source::Span;
use crate::syntax::{Expr, ExprKind};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

mod bay;
mod carcass;
mod finish;
mod property;
mod room;
mod run;
mod stock;
mod survey;
mod way;

/// The model of a program, and the ledger of its numbers; messages go to the sink.
#[must_use]
pub fn evaluate(program: &Program, sink: &mut Sink) -> (Model, Ledger) {
    let mut ledger = Ledger::default();
    let mut reader = Reader {
        eval: Evaluator::new(program, &mut ledger, sink),
        program,
        sheets: BTreeMap::new(),
        positions: BTreeMap::new(),
        metric: false,
        marks: Marks::THIRTY_SECONDS,
        missing: BTreeSet::new(),
        unstated: BTreeMap::new(),
    };
    let model = reader.model();
    (model, ledger)
}

struct Reader<'a> {
    eval: Evaluator<'a>,
    program: &'a Program,
    sheets: BTreeMap<NodeId, SheetId>,
    /// Where boards, fasteners, glues and walls stand in the lists of the model.
    positions: BTreeMap<NodeId, usize>,
    /// Usual sizes are metric ones.
    metric: bool,
    /// What messages print sizes to.
    marks: Marks,
    /// Properties already said to be missing, by the block in which they are missing.
    missing: BTreeSet<(Option<NodeId>, &'static str)>,
    /// What each member must state and does not, with an example.
    unstated: BTreeMap<NodeId, Vec<(&'static str, &'static str)>>,
}

impl Reader<'_> {
    fn model(&mut self) -> Model {
        let root = self.program.root();
        let project = self.project(root);
        (self.metric, self.marks) = (project.marks.system() == System::Metric, project.marks);
        let (sheets, boards, fasteners, glues) =
            (self.all_sheets(), self.boards(), self.fasteners(), self.glues());
        let shop = self.shop();
        let walls = self.walls();
        let routes = self.routes();
        let finish = self.finish();
        let runs: Vec<Run> = self.by_name(root, "run").into_iter().map(|id| self.run(id)).collect();
        let carcasses = self.by_name(root, "carcass").into_iter().filter_map(|id| self.carcass(id)).collect();
        self.say_missing();
        // Every stated value is worked out, so that a mistake in one that nothing uses is found too.
        for id in self.program.ids() {
            for index in 0..self.program.node(id).properties.len() {
                self.eval.value(id, index);
            }
        }
        let single_joins = self.single_joins();
        let project = Project { currency: self.currency(), ..project };
        let accepts = intent::accepts(self.program);
        let found = intent::found(self.program, &mut self.eval);
        Model {
            project,
            sheets,
            boards,
            fasteners,
            glues,
            walls,
            routes,
            shop,
            finish,
            runs,
            carcasses,
            single_joins,
            accepts,
            found,
        }
    }

    /// The members of a kind of the files and of the library, in the order of their names; those of the main file first where
    /// names are equal.
    fn everywhere(&self, kind: &str) -> Vec<NodeId> {
        let roots = [self.program.root()].into_iter().chain(self.program.used_files());
        let mut ids: Vec<NodeId> = roots.flat_map(|root| self.program.children(root, kind)).collect();
        ids.sort_by_cached_key(|id| self.name(*id));
        ids
    }

    /// The members of a kind in the order of their names, so that the order of the text changes nothing.
    fn by_name(&self, of: NodeId, kind: &str) -> Vec<NodeId> {
        let mut ids: Vec<NodeId> = self.program.children(of, kind).collect();
        ids.sort_by_cached_key(|id| self.name(*id));
        ids
    }

    /// What holds for the whole project: the members of a kind of the main file, or where it has none, of the first file
    /// that has any among those of which it uses all names.
    fn shared(&self, kind: &str) -> Vec<NodeId> {
        let files = self.program.shared().into_iter();
        files.map(|file| self.by_name(file, kind)).find(|found| !found.is_empty()).unwrap_or_default()
    }

    fn name(&self, id: NodeId) -> Option<Arc<str>> {
        self.program.name(id)
    }

    fn text(&self, id: NodeId) -> Option<Arc<str>> {
        self.program.node(id).text.as_ref().map(|text| text.text.clone())
    }

    /// Notes that a property must be stated; members of one block that miss the same one are told of once.
    fn missing<T>(&mut self, id: NodeId, property: Property<T, Needed>) {
        let [inch, metric] = property.without.examples;
        let example = if self.metric { metric } else { inch };
        let node = self.program.node(id);
        if !node.damaged && self.missing.insert((node.parent, property.name)) {
            self.unstated.entry(id).or_default().push((property.name, example));
        }
    }

    /// Says what each member must state and does not: one message for a member.
    fn say_missing(&mut self) {
        for (id, missing) in std::mem::take(&mut self.unstated) {
            let node = self.program.node(id);
            let name = node.name.as_ref().map(|name| format!(" `{}`", name.text)).unwrap_or_default();
            let word = node.kind.word;
            let names: Vec<String> = missing.iter().map(|(name, _)| format!("`{name}`")).collect();
            let names = match names.as_slice() {
                [most @ .., last] if !most.is_empty() => format!("{} and no {last}", most.join(", no ")),
                names => names.concat(),
            };
            let examples: Vec<&str> = missing.iter().map(|(_, example)| *example).collect();
            let place = if word == "unit" { ", here or in an `each unit` of the run" } else { "" };
            self.eval.sink.push(
                Diagnostic::new(&codes::MISSING, format!("{word}{name} states no {names}"))
                    .at(node.head, "")
                    .help(format!("add for instance `{}`{place}", examples.join(", "))),
            );
        }
    }

    fn system(&self) -> System {
        if self.metric { System::Metric } else { System::Inch }
    }

    fn project(&mut self, root: NodeId) -> Project {
        let usual = if self.mostly_metric(root) { Marks::TENTHS } else { Marks::THIRTY_SECONDS };
        let stated = self.program.children(root, "project").next();
        let head = Some(self.program.node(stated.unwrap_or(root)).head);
        let mut project = Project { head, ..Project::new(usual) };
        let Some(id) = stated else { return project };
        project.title = self.text(id);
        project.marks = self.marks(id).unwrap_or(usual);
        project.paper = self.read(id, PROJECT.paper).map(|paper| match paper {
            PaperOf::Letter => Paper::Letter,
            PaperOf::A4 => Paper::A4,
        });
        project.revision = self.read(id, PROJECT.revision);
        project.start = self.read(id, PROJECT.start);
        project.year_built = self.read(id, PROJECT.year_built).and_then(|year| i64::try_from(year).ok());
        project.spares = self.usual(id, PROJECT.spares);
        let day = [PROJECT.day_begins, PROJECT.day_ends].map(|property| {
            let minutes = self.usual(id, property).value.to_integer() / 60;
            i64::try_from(minutes).unwrap_or(i64::MAX)
        });
        if 0 <= day[0] && day[0] < day[1] && day[1] <= 24 * 60 {
            project.day = day;
        } else {
            let ends = self.is_stated(id, PROJECT.day_ends);
            self.eval.sink.push(
                Diagnostic::new(&codes::RANGE, "the working day must begin before it ends, within 24 hours")
                    .at(self.span(id, if ends { PROJECT.day_ends } else { PROJECT.day_begins }), ""),
            );
        }
        project
    }

    /// The one currency of all prices; two of them cannot be added.
    fn currency(&mut self) -> Option<Arc<str>> {
        let mut first: Option<([u8; 3], Span)> = None;
        for id in self.program.ids() {
            for stated in &self.program.node(id).properties {
                let mut found = Vec::new();
                currencies(&stated.value, &mut found);
                for (letters, span) in found {
                    match first {
                        None => first = Some((letters, span)),
                        Some((known, at)) if known != letters => {
                            let [known, other] =
                                [known, letters].map(|word| String::from_utf8_lossy(&word).into_owned());
                            self.eval.sink.push(
                                Diagnostic::new(
                                    &codes::CURRENCIES,
                                    format!("prices stand in {known} and in {other}, which cannot be added"),
                                )
                                .at(span, "")
                                .and_at(at, "the first price")
                                .help(format!("state this price in {known} too")),
                            );
                            return None;
                        }
                        Some(_) => {}
                    }
                }
            }
        }
        first.map(|(letters, _)| String::from_utf8_lossy(&letters).into())
    }

    fn marks(&mut self, id: NodeId) -> Option<Marks> {
        let step = self.read(id, PROJECT.marks)?.length()?;
        let index = self.program.property(id, PROJECT.marks.name)?;
        let expr = self.program.node(id).properties.get(index)?.value.clone();
        let system = if systems(&expr).1 > 0 { System::Metric } else { System::Inch };
        match Marks::new(step, system) {
            Ok(marks) => Some(marks),
            Err(error) => {
                let help = match error {
                    MarksError::Inch => {
                        "inch marks are `1/16\"`, `1/32\"`, `1/64\"` and so on, down to `1/128\"`"
                    }
                    MarksError::Metric => "metric marks are steps such as `1mm`, `0.5mm` or `0.1mm`",
                };
                self.eval.sink.push(
                    Diagnostic::new(&codes::MARKS, "no tape has such marks").at(expr.span, "").help(help),
                );
                None
            }
        }
    }

    /// Whether more of the file's lengths are metric than not: what a project without `marks` is printed in.
    fn mostly_metric(&self, root: NodeId) -> bool {
        let (mut inch, mut metric) = (0_usize, 0_usize);
        let file = self.program.node(root).head.file;
        for id in self.program.ids() {
            // What a module states is its author's way to measure.
            let stated =
                self.program.node(id).properties.iter().filter(|stated| stated.value.span.file == file);
            for stated in stated {
                let (i, m) = systems(&stated.value);
                inch += i;
                metric += m;
            }
        }
        metric > inch
    }
}

/// The currencies of an expression's literals.
fn currencies(expr: &Expr, found: &mut Vec<([u8; 3], Span)>) {
    let mut all = |exprs: &[&Expr]| exprs.iter().for_each(|expr| currencies(expr, found));
    match &expr.kind {
        ExprKind::Number(literal) => {
            found.extend(literal.unit.and_then(|unit| unit.currency).map(|letters| (letters, expr.span)));
        }
        ExprKind::List(members) | ExprKind::Call(_, members) => all(&members.iter().collect::<Vec<_>>()),
        ExprKind::Unary(_, operand) => all(&[operand]),
        ExprKind::Binary(_, left, right) => all(&[left, right]),
        ExprKind::If(condition, value, other) => all(&[condition, value, other]),
        _ => {}
    }
}

/// How many lengths of an expression are written in inches and feet, and how many in metric units.
fn systems(expr: &Expr) -> (usize, usize) {
    let add = |a: (usize, usize), b: (usize, usize)| (a.0 + b.0, a.1 + b.1);
    match &expr.kind {
        ExprKind::Number(literal) => match literal.system {
            Some(System::Inch) => (1, 0),
            Some(System::Metric) => (0, 1),
            None => (0, 0),
        },
        ExprKind::List(members) | ExprKind::Call(_, members) => members.iter().map(systems).fold((0, 0), add),
        ExprKind::Unary(_, operand) => systems(operand),
        ExprKind::Binary(_, left, right) => add(systems(left), systems(right)),
        ExprKind::If(condition, value, other) => add(systems(condition), add(systems(value), systems(other))),
        _ => (0, 0),
    }
}
