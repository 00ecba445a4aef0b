//! What a revision means for the work: two compilations compared, in the shop's terms.
//!
//! Everything is found by path of names and told at the printed rounding; what differs below it does not exist here. The
//! result is one typed value, [`Diff`], of which text, JSON and HTML are views.

mod cause;
mod facts;
mod following;
mod grooves;
mod lines;
mod meant;
mod messages;
mod overlay;
mod page;
mod pair;
mod pieces;
mod sizes;
mod stale;
mod stated;
mod totals;

pub use cause::Cause;
pub use facts::{Change, Facts, apply, facts};
pub use following::following;
pub use grooves::{Groove, Grooving};
pub use lines::{Line, lines};
pub use meant::{Fate, FateRow, Meant, meant};
pub use messages::MessageChange;
pub use overlay::{overlaid, overlay};
pub use page::{document, summary};
pub use pieces::{Action, CutSize, PieceChange, Pieces};
pub use sizes::{Because, SizeChange};
pub use stale::Stale;
pub use totals::{Total, TotalOf};

use crate::beside::beside;
use crate::breakdown::{Effort, Plans};
use crate::diag::Diagnostic;
use crate::eval::Model;
use crate::parts::{Finding, PartGraph, Work};
use crate::quantity::Marks;
use crate::sheets::{Output, SHEETS, Subject};
use crate::source::Sources;
use cause::Causes;
use pair::Pairs;
use serde::Serialize;
use stated::Texts;
use std::collections::BTreeMap;

/// A project as one of the two sides.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// What it is called: a path or a revision.
    pub name: &'a str,
    /// Its files.
    pub sources: &'a Sources,
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
    /// Its layouts, as far as they are made.
    pub plans: &'a Plans,
    /// What the checks compared.
    pub findings: &'a [Finding],
    /// Its messages.
    pub diagnostics: &'a [Diagnostic],
}

/// Projects of more parts than this are laid out with little effort, for a comparison is never slow; smaller ones as their
/// sheets are printed.
const PARTS: usize = 600;

fn effort(old: Side<'_>, new: Side<'_>) -> Effort {
    let parts = old.graph.parts.len().max(new.graph.parts.len());
    if parts > PARTS { Effort::Quick } else { Effort::Normal }
}

impl Side<'_> {
    fn outputs(self, effort: Effort) -> Vec<Output> {
        let Self { model, graph, plans, findings, .. } = self;
        let subject = Subject { model, graph, plans, findings, effort, work: Work::Left, only: None };
        SHEETS.iter().map(|sheet| (sheet.make)(subject)).collect()
    }
}

/// What a revision means.
#[derive(Clone, Debug, Serialize)]
pub struct Diff {
    /// What the old side is called.
    pub old: String,
    /// What the new side is called.
    pub new: String,
    /// Title of the project.
    pub project: Option<String>,
    /// Money, sheets and days first, then quantities.
    pub totals: Vec<Total>,
    /// What it means for what is made; `None` where nothing is, or nobody asked.
    pub made: Option<Meant>,
    /// What becomes of each part, as planned.
    pub pieces: Pieces,
    /// Grooves that come, go or move on sides that both projects have.
    pub grooves: Vec<Groove>,
    /// Sizes by cause.
    pub because: Vec<Because>,
    /// Lines of the text that differ.
    pub lines: Vec<Line>,
    /// Warnings and notes that come or go.
    pub messages: Vec<MessageChange>,
    /// Sheets that must be printed again, with the parts of them that differ.
    pub stale: Vec<Stale>,
    /// Sheets that stay as printed.
    pub valid: Vec<&'static str>,
    /// Old paths that have a new name.
    pub renamed: BTreeMap<String, String>,
    /// Every printed fact that differs.
    pub changes: Vec<Change>,
}

impl Diff {
    /// Whether nothing that is printed differs.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.renamed.is_empty()
            && self.changes.is_empty()
            && self.messages.is_empty()
            && self.stale.is_empty()
    }
}

/// Compares two sound projects as they are planned, whatever of them is made: [`meant()`] says what it means for that. Lengths of
/// both are printed to the marks of the new one.
#[must_use]
pub fn diff(old: Side<'_>, new: Side<'_>) -> Diff {
    let marks = new.model.project.marks;
    let effort = effort(old, new);
    // Each side draws its own sheets, while here the parts and their sizes are compared.
    new.plans.share((new.model, new.graph), (old.model, old.graph, old.plans), effort);
    let (was, (is, ((pairs, changes, because), (pieces, grooves), lines))) = beside(
        || old.outputs(effort),
        || {
            beside(
                || new.outputs(effort),
                || {
                    let lines = lines(old, new);
                    let (pairs, changes, because) = sizes(old, new, &lines, marks);
                    let pieces = pieces::pieces(old, new, &pairs, marks);
                    let grooves = grooves::grooves(old, new, &pairs, marks);
                    ((pairs, changes, because), (pieces, grooves), lines)
                },
            )
        },
    );
    let outputs = [was, is];
    let (stale, valid) = stale::stale(&outputs);
    let totals = totals::totals([old, new], &outputs);
    Diff {
        old: old.name.to_owned(),
        new: new.name.to_owned(),
        project: new.model.project.title.as_deref().map(str::to_owned),
        totals,
        made: None,
        pieces,
        grooves,
        because,
        lines,
        messages: messages::messages(old, new, &pairs),
        stale,
        valid,
        renamed: pairs.renamed,
        changes,
    }
}

/// Which part is which, all printed facts that differ, and the sizes among them by cause.
fn sizes(old: Side<'_>, new: Side<'_>, lines: &[Line], marks: Marks) -> (Pairs, Vec<Change>, Vec<Because>) {
    let pairs = pair::pair(old, new, marks);
    let texts = Texts::new(old, new, lines, &pairs);
    let mut causes = Causes::new(old, new, texts, marks);
    let (was, is) = (old.graph.measures(), new.graph.measures());
    let was = facts::renamed_measures(&was, &pairs);
    let changes = facts::changes([old, new], (&was, &is), &pairs, marks);
    let because = sizes::because(new, &changes, &mut causes, marks);
    (pairs, changes.into_iter().map(|(change, _)| change).collect(), because)
}
