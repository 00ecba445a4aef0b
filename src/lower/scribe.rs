//! What is fitted on site: its width at every reading, the mean of them, and one blank over the widest.

use super::Lowering;
use crate::eval::{Len, Scribe};
use crate::parts::{EndPart, Fitted};
use crate::quantity::{Rational, Round};

impl Lowering<'_> {
    /// The finished widths of what closes the gap at an end, at every reading of the front; `beside` is what it covers
    /// besides the gap.
    pub(super) fn scribed(
        &mut self,
        end: &EndPart,
        beside: Option<Len>,
        (label, rule): (&'static str, &'static str),
    ) -> Vec<(Fitted, Len)> {
        let read =
            end.readings.iter().filter_map(|reading| Some((Fitted::Reading(reading.at), reading.front?)));
        read.map(|(at, front)| {
            let terms: Vec<(i128, Len)> =
                std::iter::once((1, front)).chain(beside.map(|len| (1, len))).collect();
            (at, self.graph.ledger.sum(label, &terms, rule))
        })
        .collect()
    }

    /// The mean width of a part that is scribed.
    pub(super) fn mean(&mut self, label: &'static str, scribed: &[(Fitted, Len)]) -> Len {
        let rule = "the mean of a part that is scribed: (low + 2 middle + high) / 4";
        let quarter = |times: i128| Rational::new(times, 4);
        match scribed {
            [(_, low), (_, middle), (_, high)] => {
                let terms = [(quarter(1), *low), (quarter(2), *middle), (quarter(1), *high)];
                self.graph.ledger.weighted(label, &terms, rule)
            }
            widths => {
                let count = Rational::new(1, i128::try_from(widths.len().max(1)).unwrap_or(1));
                let terms: Vec<(Rational, Len)> = widths.iter().map(|(_, width)| (count, *width)).collect();
                self.graph.ledger.weighted(label, &terms, "the mean of the readings there are")
            }
        }
    }

    /// The width of a blank over the widest of what is scribed; `None` of nothing.
    pub(super) fn widest_blank(&mut self, scribed: &[(Fitted, Len)], scribe: Scribe) -> Option<Len> {
        let widths: Vec<Len> = scribed.iter().map(|(_, width)| *width).collect();
        let widest = self.graph.ledger.greatest("widest place", &widths, "")?;
        Some(self.blank("width of the blank", &[(1, widest)], scribe))
    }

    /// A size over the widest place, up to the next step: what is cut in the shop and fitted in the room.
    pub(super) fn blank(&mut self, label: &'static str, terms: &[(i128, Len)], scribe: Scribe) -> Len {
        let mut terms = terms.to_vec();
        terms.push((1, scribe.spare));
        let least = self.graph.ledger.sum(label, &terms, "over the widest place, to be fitted in the room");
        self.graph.ledger.rounded(label, least, scribe.step, Round::Up, "up to the next step")
    }
}
