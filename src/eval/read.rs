//! Reads the model out of the program: each kind's properties, with what must be stated and what is usual.

use super::codes;
use super::expr::Evaluator;
use super::ledger::{Ledger, Len};
use super::model::{Carcass, Dado, End, Mark, Model, Project, Run, Share, Sheet, SheetId, Stretcher, Width};
use super::value::{Number, Value};
use crate::diag::{Diagnostic, Sink, nearest};
use crate::quantity::{Length, Marks, MarksError, Rational, System};
use crate::resolve::{NodeId, Program, codes as name_codes};
use crate::source::Span;
use crate::syntax::{Expr, ExprKind};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The source of usual sizes that no standard gives.
const COMMON: &str = "common practice, no source";

/// The model of a program, and the ledger of its numbers; messages go to the sink.
#[must_use]
pub fn evaluate(program: &Program, sink: &mut Sink) -> (Model, Ledger) {
    let mut ledger = Ledger::default();
    let mut reader = Reader {
        eval: Evaluator::new(program, &mut ledger, sink),
        program,
        sheets: BTreeMap::new(),
        metric: false,
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
    /// Usual sizes are metric ones.
    metric: bool,
    /// Properties already said to be missing, by the block in which they are missing.
    missing: BTreeSet<(Option<NodeId>, &'static str)>,
    /// What each member must state and does not, with an example.
    unstated: BTreeMap<NodeId, Vec<(&'static str, String)>>,
}

/// What kind of length a property may be.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Sign {
    /// More than zero.
    Positive,
    /// Zero or more.
    NotNegative,
}

impl Reader<'_> {
    fn model(&mut self) -> Model {
        let root = self.program.root();
        let project = self.project(root);
        self.metric = project.marks.system() == System::Metric;
        let mut sheets = Vec::new();
        for id in self.by_name(root, "sheet") {
            if let Some(sheet) = self.sheet(id) {
                self.sheets.insert(id, SheetId(sheets.len()));
                sheets.push(sheet);
            }
        }
        let runs: Vec<Run> = self.by_name(root, "run").into_iter().map(|id| self.run(id)).collect();
        let carcasses = self.by_name(root, "carcass").into_iter().filter_map(|id| self.carcass(id)).collect();
        self.say_missing();
        // Every stated value is worked out, so that a mistake in one that nothing uses is found too.
        for id in self.program.ids() {
            for index in 0..self.program.node(id).properties.len() {
                self.eval.value(id, index);
            }
        }
        Model { project, sheets, runs, carcasses }
    }

    /// The members of a kind in the order of their names, so that the order of the text changes nothing.
    fn by_name(&self, of: NodeId, kind: &str) -> Vec<NodeId> {
        let mut ids: Vec<NodeId> = self.program.children(of, kind).collect();
        ids.sort_by_key(|id| self.name(*id));
        ids
    }

    fn name(&self, id: NodeId) -> Option<Arc<str>> {
        self.program.node(id).name.as_ref().map(|name| name.text.clone())
    }

    fn text(&self, id: NodeId) -> Option<Arc<str>> {
        self.program.node(id).text.as_ref().map(|text| text.text.clone())
    }

    fn value(&mut self, id: NodeId, property: &str) -> Option<Value> {
        let index = self.program.property(id, property)?;
        Some(self.eval.value(id, index))
    }

    fn span(&self, id: NodeId, property: &str) -> Span {
        let node = self.program.node(id);
        let stated = self.program.property(id, property).and_then(|index| node.properties.get(index));
        stated.map_or(node.head, |stated| stated.value.span)
    }

    /// A stated length with the sign that it must have; `None` where it is not stated or a message was given.
    fn length(&mut self, id: NodeId, property: &str, sign: Sign) -> Option<Len> {
        let Some(Value::Number(number)) = self.value(id, property) else { return None };
        let len = number.len()?;
        let wrong = len.value.is_negative() || (sign == Sign::Positive && len.value.is_zero());
        if wrong {
            let needed = if sign == Sign::Positive { "more than zero" } else { "zero or more" };
            self.eval.sink.push(
                Diagnostic::new(&codes::RANGE, format!("the {property} must be {needed}"))
                    .at(self.span(id, property), "")
                    .help("state the size as it is measured"),
            );
            return None;
        }
        Some(len)
    }

    fn is_stated(&self, id: NodeId, property: &str) -> bool {
        self.program.property(id, property).is_some()
    }

    /// Notes that a property must be stated; members of one block that miss the same one are told of once.
    fn missing(&mut self, id: NodeId, property: &'static str, example: &str) {
        let node = self.program.node(id);
        if !node.damaged && self.missing.insert((node.parent, property)) {
            self.unstated.entry(id).or_default().push((property, example.to_owned()));
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
            let examples: Vec<&str> = missing.iter().map(|(_, example)| example.as_str()).collect();
            let place = if word == "unit" { ", here or in an `each unit` of the run" } else { "" };
            self.eval.sink.push(
                Diagnostic::new(&codes::MISSING, format!("{word}{name} states no {names}"))
                    .at(node.head, "")
                    .help(format!("add for instance `{}`{place}", examples.join(", "))),
            );
        }
    }

    fn needed_length(&mut self, id: NodeId, property: &'static str, example: &str) -> Option<Len> {
        if !self.is_stated(id, property) {
            self.missing(id, property, example);
        }
        self.length(id, property, Sign::Positive)
    }

    /// A usual length in inches or millimetres, by the project's marks.
    fn usual(
        &mut self,
        label: &'static str,
        inches: (i128, i128),
        mm: (i128, i128),
        source: &'static str,
    ) -> Len {
        let value = if self.metric {
            Length::from_mm(Rational::new(mm.0, mm.1))
        } else {
            Length::from_inches(Rational::new(inches.0, inches.1)).unwrap_or(Length::ZERO)
        };
        self.eval.ledger.usual(label, value, source)
    }

    fn project(&mut self, root: NodeId) -> Project {
        let usual = if self.mostly_metric(root) { Marks::TENTHS } else { Marks::THIRTY_SECONDS };
        let Some(id) = self.program.children(root, "project").next() else {
            let head = Some(self.program.node(root).head);
            return Project { title: None, revision: None, marks: usual, head };
        };
        let revision = match self.value(id, "revision") {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        };
        let head = Some(self.program.node(id).head);
        Project { title: self.text(id), revision, marks: self.marks(id).unwrap_or(usual), head }
    }

    fn marks(&mut self, id: NodeId) -> Option<Marks> {
        let Some(Value::Number(number)) = self.value(id, "marks") else { return None };
        let step = number.len()?;
        let index = self.program.property(id, "marks")?;
        let expr = self.program.node(id).properties.get(index)?.value.clone();
        let system = if systems(&expr).1 > 0 { System::Metric } else { System::Inch };
        match Marks::new(step.value, system) {
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
        for id in self.program.ids().filter(|id| *id != root) {
            for stated in &self.program.node(id).properties {
                let (i, m) = systems(&stated.value);
                inch += i;
                metric += m;
            }
        }
        metric > inch
    }

    fn sheet(&mut self, id: NodeId) -> Option<Sheet> {
        let node = self.program.node(id);
        let nominal = self.length(id, "nominal", Sign::Positive);
        let measured = self.length(id, "thickness", Sign::Positive);
        if !self.is_stated(id, "nominal") && !self.is_stated(id, "thickness") {
            self.missing(
                id,
                "thickness",
                if self.metric { "thickness = 17.6mm" } else { "thickness = 23/32\"" },
            );
        }
        let size = match self.value(id, "size") {
            Some(Value::Size(length, width)) => self.size(id, length, width),
            _ => None,
        };
        let grain = !matches!(self.value(id, "grain"), Some(Value::Word("none")));
        let skim = self.length(id, "skim", Sign::NotNegative);
        let density = match self.value(id, "density") {
            Some(Value::Number(number)) => Some(number.exact.estimate()),
            _ => None,
        };
        Some(Sheet {
            name: self.name(id)?,
            text: self.text(id),
            head: Some(node.head),
            size,
            thickness: measured.or(nominal)?,
            measured: measured.is_some(),
            grain,
            skim,
            density,
        })
    }

    fn size(&mut self, id: NodeId, length: Number, width: Number) -> Option<(Len, Len)> {
        let (length, width) = (length.len()?, width.len()?);
        if length.value.is_positive() && width.value.is_positive() {
            return Some((length, width));
        }
        self.eval.sink.push(
            Diagnostic::new(&codes::RANGE, "a sheet has a length and a width of more than zero")
                .at(self.span(id, "size"), ""),
        );
        None
    }

    fn run(&mut self, id: NodeId) -> Run {
        let length = self.length(id, "length", Sign::Positive);
        let left = self.end(id, "left");
        let right = self.end(id, "right");
        let units: Vec<NodeId> = self.program.children(id, "unit").collect();
        Run {
            name: self.name(id).unwrap_or_else(|| Arc::from("run")),
            text: self.text(id),
            head: Some(self.program.node(id).head),
            length,
            left,
            right,
            units: units.into_iter().filter_map(|unit| self.carcass(unit)).collect(),
        }
    }

    fn end(&mut self, run: NodeId, side: &str) -> End {
        let program = self.program;
        let id = program
            .children(run, "end")
            .find(|id| program.node(*id).name.as_ref().is_some_and(|name| &*name.text == side));
        let wall = !id.is_some_and(|id| matches!(self.value(id, "against"), Some(Value::Word("open"))));
        let stated = id.and_then(|id| self.length(id, "gap", Sign::NotNegative));
        let label = if side == "left" { "gap wanted at the left end" } else { "gap wanted at the right end" };
        let gap = match stated {
            Some(gap) => gap,
            None if wall => {
                self.usual(label, (1, 4), (6, 1), "common practice, no source: body clearance at a wall")
            }
            None => self.usual(label, (0, 1), (0, 1), "an open end has no gap"),
        };
        End { wall, gap }
    }

    fn carcass(&mut self, id: NodeId) -> Option<Carcass> {
        let node = self.program.node(id);
        let sheet = self.stock(id);
        let width = self.width(id);
        let example = if self.metric {
            ["height = 2100mm", "depth = 300mm"]
        } else {
            ["height = 84\"", "depth = 11 1/4\""]
        };
        let height = self.needed_length(id, "height", example[0]);
        let depth = self.needed_length(id, "depth", example[1]);
        let marks = self.shelves(id);
        let cleat = self.program.children(id, "cleat").next();
        let hang = if self.metric { "height = 60mm" } else { "height = 2 1/2\"" };
        let cleat = match cleat {
            Some(cleat) => Some(self.needed_length(cleat, "height", hang)?),
            None => None,
        };
        let bottom_stretcher = self.stretcher(id, "bottom");
        let top_stretcher = self.stretcher(id, "top");
        let dado = self.dado(id);
        Some(Carcass {
            name: self.name(id),
            text: self.text(id),
            head: Some(node.head),
            sheet: sheet?,
            width: width?,
            height: height?,
            depth: depth?,
            marks: marks?,
            cleat,
            bottom_stretcher,
            top_stretcher,
            dado,
        })
    }

    /// The sheet that a carcass names; the only one of the file where it names none.
    fn stock(&mut self, id: NodeId) -> Option<SheetId> {
        match self.value(id, "stock") {
            Some(Value::Member(sheet)) => self.sheets.get(&sheet).copied(),
            Some(_) => None,
            None => {
                let mut all = self.program.children(self.program.root(), "sheet");
                match (all.next(), all.next()) {
                    (Some(only), None) => self.sheets.get(&only).copied(),
                    _ => {
                        self.missing(id, "stock", "stock = ply");
                        None
                    }
                }
            }
        }
    }

    fn width(&mut self, id: NodeId) -> Option<Width> {
        match (self.is_stated(id, "width"), self.is_stated(id, "clear")) {
            (true, true) => {
                let (width, clear) = (self.span(id, "width"), self.span(id, "clear"));
                let first = if width < clear { (width, clear) } else { (clear, width) };
                self.eval.sink.push(
                    Diagnostic::new(&codes::BOTH, "the width is stated in two ways")
                        .at(first.1, "and here once more")
                        .and_at(first.0, "stated here")
                        .help("keep the one that you decide; the other follows from it and the sheet"),
                );
                None
            }
            (false, true) => self.length(id, "clear", Sign::Positive).map(Width::Clear),
            (true, false) => match self.value(id, "width") {
                Some(Value::Share(linear, round, span)) if self.program.node(id).kind.word == "unit" => {
                    Some(Width::Share(Share { linear, round, span: Some(span) }))
                }
                Some(Value::Share(_, _, span)) => {
                    self.eval.sink.push(
                        Diagnostic::new(&codes::REST, "a carcass that stands alone shares nothing")
                            .at(span, "")
                            .help("state its width, or make it a `unit` of a `run`"),
                    );
                    None
                }
                _ => self.length(id, "width", Sign::Positive).map(Width::Over),
            },
            (false, false) => {
                let example = match (self.program.node(id).kind.word, self.metric) {
                    ("unit", _) => "width = rest",
                    (_, true) => "width = 800mm",
                    (_, false) => "width = 32\"",
                };
                self.missing(id, "width", example);
                None
            }
        }
    }

    /// The marks that a carcass uses, from the bottom.
    fn shelves(&mut self, id: NodeId) -> Option<Vec<Mark>> {
        let stick = match self.value(id, "shelves") {
            Some(Value::Member(stick)) => stick,
            Some(_) => return None,
            None => {
                self.missing(id, "shelves", "shelves = lines");
                return None;
            }
        };
        let node = self.program.node(stick);
        let mut marks = Vec::new();
        for (index, stated) in node.properties.iter().enumerate() {
            if stated.takes.is_none() {
                continue;
            }
            let Value::Number(number) = self.eval.value(stick, index) else { return None };
            let height = number.len()?;
            if height.value.is_negative() {
                self.eval.sink.push(
                    Diagnostic::new(
                        &codes::RANGE,
                        format!("the mark `{}` lies below the bottom end", stated.name.text),
                    )
                    .at(stated.value.span, "")
                    .help("marks are heights of undersides above the bottom end of the side"),
                );
                return None;
            }
            marks.push(Mark { name: stated.name.text.clone(), height });
        }
        let skipped = match self.value(id, "skip") {
            Some(Value::Names(names)) => names,
            Some(_) => return None,
            None => Vec::new(),
        };
        for (name, span) in &skipped {
            if !marks.iter().any(|mark| mark.name == *name) {
                self.no_mark(stick, name, *span, &marks);
            }
        }
        marks.retain(|mark| !skipped.iter().any(|(name, _)| *name == mark.name));
        marks.sort_by(|a, b| a.height.value.cmp(&b.height.value).then_with(|| a.name.cmp(&b.name)));
        Some(marks)
    }

    fn no_mark(&mut self, stick: NodeId, name: &str, span: Span, marks: &[Mark]) {
        let node = self.program.node(stick);
        let stick = node.name.as_ref().map_or("", |name| &name.text);
        let diagnostic =
            Diagnostic::new(&name_codes::NAME, format!("the stick `{stick}` has no mark `{name}`"))
                .at(span, "")
                .and_at(node.head, "the stick");
        self.eval.sink.push(match nearest(name, marks.iter().map(|mark| &*mark.name)) {
            Some(near) => diagnostic.fix(span, near, format!("did you mean `{near}`?")),
            None => {
                let all: Vec<String> = marks.iter().map(|mark| format!("`{}`", mark.name)).collect();
                diagnostic.help(format!("it has {}", all.join(", ")))
            }
        });
    }

    fn stretcher(&mut self, carcass: NodeId, place: &'static str) -> Option<Stretcher> {
        let program = self.program;
        let id = program
            .children(carcass, "stretcher")
            .find(|id| program.node(*id).name.as_ref().is_some_and(|name| &*name.text == place))?;
        let height = self.length(id, "height", Sign::Positive);
        if place == "top" && !self.is_stated(id, "height") {
            self.missing(id, "height", if self.metric { "height = 80mm" } else { "height = 3 1/2\"" });
            return None;
        }
        let (front, rear) = match self.value(id, "at") {
            Some(Value::Words(words)) => {
                let has = |word: &str| words.iter().any(|(w, _)| *w == word);
                (has("front"), has("rear"))
            }
            _ => (true, true),
        };
        Some(Stretcher { height, front, rear })
    }

    /// The nearest `join shelf to side`, from the carcass outwards; the usual dado where none is stated.
    fn dado(&mut self, carcass: NodeId) -> Dado {
        let mut join = None;
        let mut at = Some(carcass);
        while let (Some(id), None) = (at, join) {
            join = self.program.children(id, "join").find(|j| {
                self.program
                    .node(*j)
                    .join
                    .as_ref()
                    .is_some_and(|head| &*head.guest == "shelf" && &*head.host == "side")
            });
            at = self.program.node(id).parent;
        }
        let depth = join.and_then(|id| self.length(id, "depth", Sign::Positive));
        let fit = join.and_then(|id| self.length(id, "fit", Sign::NotNegative));
        Dado {
            depth: depth.unwrap_or_else(|| self.usual("dado depth", (1, 4), (6, 1), COMMON)),
            fit: fit.unwrap_or_else(|| self.usual("dado fit", (1, 128), (1, 5), COMMON)),
        }
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
