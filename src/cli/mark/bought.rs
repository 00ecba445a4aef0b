//! `scantling mark bought COUNT NAME`: what is bought, as the progress file keeps it.

use super::{exact, fail, name};
use crate::cli::Failure;
use crate::compile::Compilation;
use crate::diag::nearest;
use crate::eval::{Model, literal};
use crate::parts::PartGraph;
use crate::quantity::{Dim, Exact, Length, Rational};
use crate::report::printable_line;
use num_traits::Signed;
use std::collections::BTreeSet;

/// Something that is bought.
pub(super) struct Purchase<'a> {
    pub count: usize,
    pub of: &'a str,
    pub lot: Option<&'a str>,
    pub each: Option<&'a str>,
    pub paid: Option<String>,
}

/// The words after `mark bought`, where they say how many of what and no paths.
pub(super) fn counted(paths: &[String]) -> Option<(&str, &str)> {
    match paths {
        [count, of] if count.chars().all(|c| c.is_ascii_digit()) => Some((count, of)),
        _ => None,
    }
}

/// How many: one or more, and no more than anybody carries home.
pub(super) fn count(text: &str) -> Result<usize, Failure> {
    let count = text.parse().ok().filter(|count| (1..=1_000_000).contains(count));
    count.ok_or_else(|| {
        fail(format!("`{text}` cannot be how many are bought"), "write for instance `mark bought 6 ply`")
    })
}

impl Purchase<'_> {
    /// The block that notes it.
    ///
    /// # Errors
    /// [`Failure`] where the project has no such thing, or a value cannot be read.
    pub fn block(&self, compilation: &Compilation) -> Result<String, Failure> {
        let (model, graph) = (&compilation.model, &compilation.graph);
        let known = names(model, graph);
        if !known.contains(self.of) {
            let help = match nearest(self.of, known.iter().map(String::as_str)) {
                Some(near) => format!("did you mean `{near}`?"),
                None => {
                    "name a sheet, board, nail, screw, pin, glue, coating, caulk or filler of the project"
                        .to_owned()
                }
            };
            return Err(fail(format!("the project buys no `{}`", printable_line(self.of)), &help));
        }
        let marks = model.project.marks;
        let mut parts = vec![format!("what = {}", name(self.of))];
        parts.extend(self.lot.map(|lot| format!("lot = {}", name(lot))));
        parts.push(format!("count = {}", self.count));
        if let Some(each) = self.each {
            let print = |length| exact(length, marks);
            let written = size(each)
                .map(|[length, width]| format!("{} x {}", print(length), print(width)))
                .or_else(|| one(each).map(|_| each.trim().to_owned()));
            let help = "write `--each '96\" x 48\"'` of a sheet, `--each '96\"'` of a board, `--each '1 gal'` of a can";
            let written =
                written.ok_or_else(|| fail(format!("`{}` is no size", printable_line(each)), help))?;
            parts.push(format!("each = {written}"));
        }
        if let Some(paid) = &self.paid {
            let sum = literal(paid.trim()).filter(|sum| sum.dim == Dim::MONEY && !sum.value.is_negative());
            let help = "write it with its currency: `--paid '402 USD'`";
            sum.ok_or_else(|| fail(format!("`{}` is no sum of money", printable_line(paid)), help))?;
            parts.push(format!("paid = {}", paid.trim()));
        }
        Ok(format!("bought {{ {} }}\n", parts.join(", ")))
    }
}

/// What a project buys, by name.
fn names(model: &Model, graph: &PartGraph) -> BTreeSet<String> {
    let sheets = graph.sheets.iter().map(|sheet| sheet.sold_as());
    let boards = graph.boards.iter().map(|board| &board.name);
    let crowns = model.runs.iter().filter_map(|run| run.crown.as_ref().map(|moulding| &moulding.name));
    let fasteners = graph.fasteners.iter().map(|fastener| &fastener.name);
    let glues = model.glues.iter().map(|glue| &glue.name);
    let finish = model.finish.iter();
    let coats = finish.clone().flat_map(|finish| finish.coats.iter().map(|coat| &coat.name));
    let seams = finish.clone().filter_map(|finish| finish.caulk.as_ref().map(|caulk| &caulk.name));
    let holes = finish.filter_map(|finish| finish.filler.as_ref().map(|filler| &filler.name));
    let all = sheets
        .chain(boards)
        .chain(crowns)
        .chain(fasteners)
        .chain(glues)
        .chain(coats)
        .chain(seams)
        .chain(holes);
    all.map(|name| name.to_string()).collect()
}

fn size(text: &str) -> Option<[Length; 2]> {
    let (length, width) = text.split_once(" x ")?;
    let length_of = |text: &str| literal(text.trim()).and_then(Exact::length).filter(|l| *l > Length::ZERO);
    Some([length_of(length)?, length_of(width)?])
}

fn one(text: &str) -> Option<Exact> {
    literal(text.trim())
        .filter(|each| [Dim::LENGTH, Dim::VOLUME].contains(&each.dim) && each.value > Rational::from(0))
}
