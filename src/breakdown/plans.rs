//! The plans of one project, each made once.

use super::sheet::works;
use super::{BoardWork, SheetWork, board_works, sheet_works, stick_works};
use crate::cutting::{Effort, Error, Job, plan};
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
    /// Whether any layout was made.
    #[must_use]
    pub fn are_made(&self) -> bool {
        self.sheets.iter().any(|kept| kept.get().is_some())
            || self.solids.iter().any(|kept| kept.get().is_some())
    }

    /// The work on every sheet good and lot of the project, as [`sheet_works`] plans it.
    pub fn sheets(&self, model: &Model, graph: &PartGraph, effort: Effort) -> &[SheetWork] {
        self.kept(effort).get_or_init(|| sheet_works(model, graph, effort))
    }

    fn kept(&self, effort: Effort) -> &OnceLock<Vec<SheetWork>> {
        let [quick, normal, thorough] = &self.sheets;
        match effort {
            Effort::Quick => quick,
            Effort::Normal => normal,
            Effort::Thorough => thorough,
        }
    }

    /// Before a project is compared with another: where both ask the same of all sheets, one layout is both.
    pub fn share(
        &self,
        (model, graph): (&Model, &PartGraph),
        (other, its_graph, plans): (&Model, &PartGraph, &Self),
        effort: Effort,
    ) {
        let jobs = |model: &Model, graph: &PartGraph| {
            works(model, graph, |_| Err(Error::NoStock)).into_iter().map(|work| work.job).collect::<Vec<_>>()
        };
        let kept = self.kept(effort);
        if kept.get().is_some() || jobs(model, graph) != jobs(other, its_graph) {
            return;
        }
        let known = plans.sheets(other, its_graph, effort);
        let found = |job: &Job| known.iter().find(|work| work.job == *job).map(|work| work.plan.clone());
        kept.get_or_init(|| works(model, graph, |job| found(job).unwrap_or_else(|| plan(job, effort))));
    }

    /// The work on every board, then on every moulding, as [`board_works`] and [`stick_works`] plan it.
    pub fn solids(&self, model: &Model, graph: &PartGraph, effort: Effort) -> &[BoardWork] {
        let [quick, normal, thorough] = &self.solids;
        let kept = match effort {
            Effort::Quick => quick,
            Effort::Normal => normal,
            Effort::Thorough => thorough,
        };
        kept.get_or_init(|| {
            let boards = board_works(model, graph, effort);
            boards.into_iter().chain(stick_works(model, graph, effort)).collect()
        })
    }
}
