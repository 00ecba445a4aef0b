//! Reads the model out of the program: each kind's properties, with what must be stated and what is usual.

use super::codes;
use super::expr::Evaluator;
use super::intent;
use super::ledger::Ledger;
use super::model::{Model, Project, Run, SheetId, Unread};
use super::uses::Uses;
use super::value::Value;
use crate::diag::{Diagnostic, Sink};
use crate::quantity::{Marks, System};
use crate::resolve::kinds::{Needed, Property};
use crate::resolve::{NodeId, Program};
use crate::source::{Sources, Span};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

mod bay;
mod carcass;
mod doubt;
mod finish;
mod fits;
mod fronts;
mod hung;
mod joins;
mod markers;
mod panels;
mod project;
mod property;
mod rates;
mod room;
mod run;
mod shelves;
mod stock;
mod survey;
mod way;

/// What a program comes to.
#[derive(Clone, Debug)]
pub struct Evaluated {
    /// What is decided.
    pub model: Model,
    /// The reason of every number of it.
    pub ledger: Ledger,
    /// Which names stand for which declarations.
    pub uses: Uses,
}

use doubt::Alike;
pub use doubt::Replaced;

/// Works a program out, with other values in place of some that it states; messages go to the sink.
#[must_use]
pub fn evaluate(program: &Program, sources: &Sources, replaced: &Replaced, sink: &mut Sink) -> Evaluated {
    let mut ledger = Ledger::default();
    let mut reader = Reader {
        eval: Evaluator::new(program, sources, replaced, &mut ledger, sink),
        program,
        sheets: BTreeMap::new(),
        positions: BTreeMap::new(),
        metric: false,
        marks: Marks::THIRTY_SECONDS,
        missing: BTreeSet::new(),
        unstated: BTreeMap::new(),
        currency: None,
        doubted: BTreeSet::new(),
        doubts: Vec::new(),
    };
    let model = reader.model();
    let mut uses = reader.eval.uses;
    uses.follow(program);
    Evaluated { model, ledger, uses }
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
    /// The currency of all prices, if they have one.
    currency: Option<[u8; 3]>,
    /// Where a value is doubted already.
    doubted: BTreeSet<Span>,
    /// The doubts, before those that are alike are told as one.
    doubts: Vec<(Alike, Diagnostic)>,
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
        let fits = self.fits();
        let rates = self.rates();
        let runs = self.by_name(root, "run");
        self.positions.extend(runs.iter().enumerate().map(|(place, id)| (*id, place)));
        let runs: Vec<Run> = runs.into_iter().map(|id| self.run(id)).collect();
        let carcasses = self.by_name(root, "carcass").into_iter().filter_map(|id| self.carcass(id)).collect();
        self.say_missing();
        // Every stated value is worked out, so that a mistake in one that nothing uses is found too.
        let known: BTreeSet<Span> =
            walls.iter().flat_map(|wall| &wall.unread).map(|unread| unread.span).collect();
        let mut unread = false;
        let mut elsewhere: Vec<Unread> = Vec::new();
        for id in self.program.ids() {
            let mut open = Vec::new();
            for (index, stated) in self.program.node(id).properties.iter().enumerate() {
                let name = &stated.name.text;
                match self.eval.value(id, index) {
                    Value::Unread(span) => open.push(Unread { what: format!("the {name}"), span }),
                    Value::Numbers(all) => open.extend(
                        all.into_iter()
                            .filter(|(number, _)| number.is_none())
                            .map(|(_, span)| Unread { what: format!("one of its places in `{name}`"), span }),
                    ),
                    _ => {}
                }
            }
            open.retain(|unread| !known.contains(&unread.span));
            unread |= !open.is_empty();
            if !open.is_empty() {
                let name = self.name(id).unwrap_or_else(|| self.program.node(id).kind.word.into());
                self.not_read(&name, &open);
                let of = |unread: Unread| Unread { what: format!("{} of `{name}`", unread.what), ..unread };
                elsewhere.extend(open.into_iter().map(of));
            }
        }
        unread |= !known.is_empty();
        let surveys = self.surveys(&walls, &elsewhere);
        let single_joins = self.single_joins();
        let project = Project { currency: self.currency(), ..project };
        self.currency = project.currency.as_ref().and_then(|letters| letters.as_bytes().try_into().ok());
        self.doubts();
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
            fits,
            rates,
            runs,
            carcasses,
            single_joins,
            accepts,
            found,
            unread,
            surveys,
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
}
