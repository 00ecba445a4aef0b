//! The plans of one project, each made once.

use super::sheet::works;
use super::{BoardWork, SheetWork, board_works, sheet_works, stick_works};
use crate::cutting::{Effort, Error, Job};
use crate::eval::Model;
use crate::parts::PartGraph;
use std::sync::OnceLock;

/// The plans of one project by effort: made when a sheet, a check or a requirement asks, and kept for the next.
#[derive(Clone, Debug, Default)]
pub struct Plans {
    sheets: [OnceLock<Vec<SheetWork>>; 3],
    solids: [OnceLock<Vec<BoardWork>>; 3],
}

impl Plans {
    /// Layouts that were made already with this effort.
    #[must_use]
    pub fn made(sheets: Vec<SheetWork>, solids: Vec<BoardWork>, effort: Effort) -> Self {
        let plans = Self::default();
        kept(&plans.sheets, effort).get_or_init(|| sheets);
        kept(&plans.solids, effort).get_or_init(|| solids);
        plans
    }

    /// Whether any layout was made.
    #[must_use]
    pub fn are_made(&self) -> bool {
        self.sheets.iter().any(|kept| kept.get().is_some())
            || self.solids.iter().any(|kept| kept.get().is_some())
    }

    /// The work on every sheet good and lot of the project, as [`sheet_works`] plans it.
    pub fn sheets(&self, model: &Model, graph: &PartGraph, effort: Effort) -> &[SheetWork] {
        kept(&self.sheets, effort).get_or_init(|| sheet_works(model, graph, effort))
    }

    /// Before a project is compared with another: where both ask the same of all sheets, one layout is both.
    pub fn share(
        &self,
        (model, graph): (&Model, &PartGraph),
        (other, its_graph, plans): (&Model, &PartGraph, &Self),
        effort: Effort,
    ) {
        let kept = kept(&self.sheets, effort);
        if kept.get().is_some() {
            return;
        }
        let unplanned = |_: &Job| Err(Error::NoStock);
        let (mut mine, theirs) = (works(model, graph, unplanned), works(other, its_graph, unplanned));
        if !mine.iter().map(|work| &work.job).eq(theirs.iter().map(|work| &work.job)) {
            return;
        }
        for (work, known) in mine.iter_mut().zip(plans.sheets(other, its_graph, effort)) {
            work.plan.clone_from(&known.plan);
            work.plainer.clone_from(&known.plainer);
        }
        kept.get_or_init(|| mine);
    }

    /// The work on every board, then on every moulding, as [`board_works`] and [`stick_works`] plan it.
    pub fn solids(&self, model: &Model, graph: &PartGraph, effort: Effort) -> &[BoardWork] {
        kept(&self.solids, effort).get_or_init(|| {
            let boards = board_works(model, graph, effort);
            boards.into_iter().chain(stick_works(model, graph, effort)).collect()
        })
    }
}

/// What is kept for an effort.
fn kept<T>(all: &[OnceLock<T>; 3], effort: Effort) -> &OnceLock<T> {
    let [quick, normal, thorough] = all;
    match effort {
        Effort::Quick => quick,
        Effort::Normal => normal,
        Effort::Thorough => thorough,
    }
}
