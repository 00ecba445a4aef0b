//! Lists that fill a whole: stated lengths stay as they are, shares divide what they leave.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Fill, Len, Share, Step};
use crate::quantity::{Length, Rational, Round};
use crate::source::Span;
use num_traits::CheckedAdd;

/// A whole, and what stands in it besides its members.
pub(super) struct Whole<'a> {
    /// What it is called in messages: "the bays over `atlas`".
    pub what: &'a str,
    /// Where it is declared.
    pub head: Option<Span>,
    /// Its length.
    pub length: Len,
    /// What stands between the members: how many times which thickness.
    pub between: (i128, Len),
    /// What one member is called in a reason.
    pub label: &'static str,
}

impl Lowering<'_> {
    /// The lengths of the members; `None` where they do not fill the whole, after a message.
    ///
    /// Where shares are rounded, the last one takes what rounding leaves over.
    pub(super) fn fill(&mut self, whole: &Whole<'_>, members: &[(String, Fill)]) -> Option<Vec<Len>> {
        let shares: Vec<Share> = members
            .iter()
            .filter_map(|(_, fill)| if let Fill::Share(share) = fill { Some(*share) } else { None })
            .collect();
        let mut terms = vec![(1, whole.length), (-whole.between.0, whole.between.1)];
        for (_, fill) in members {
            match fill {
                Fill::Fixed(len) => terms.push((-1, *len)),
                Fill::Share(share) => terms.extend(self.plus(share).map(|plus| (-1, plus))),
            }
        }
        let left = self.graph.ledger.sum("left over", &terms, "the whole less what is stated");
        let count = shares
            .iter()
            .try_fold(Rational::from(0), |sum, share| sum.checked_add(&share.linear.times))
            .unwrap_or_default();
        let fits = if shares.is_empty() {
            left.value.is_zero()
        } else {
            left.value.is_positive() && count > Rational::from(0)
        };
        if !fits {
            self.does_not_fill(whole, members, left.value);
            return None;
        }
        let rest = (!shares.is_empty())
            .then(|| self.graph.ledger.divide("rest", left, count, "equal shares of what is left over"));
        let last = members.iter().rposition(|(_, fill)| matches!(fill, Fill::Share(_)));
        let rounded = shares.iter().any(|share| share.round.is_some());
        let mut lengths: Vec<Option<Len>> = Vec::new();
        for (index, (_, fill)) in members.iter().enumerate() {
            lengths.push(match (fill, rest) {
                (Fill::Fixed(len), _) => Some(*len),
                (Fill::Share(_), _) if rounded && Some(index) == last => None,
                (Fill::Share(share), Some(rest)) => {
                    Some(self.share(whole.label, rest, share, ("to the step that is stated", Round::Nearest)))
                }
                (Fill::Share(_), None) => None,
            });
        }
        let mut terms = vec![(1, whole.length), (-whole.between.0, whole.between.1)];
        terms.extend(lengths.iter().flatten().map(|len| (-1, *len)));
        let rule = "the last share takes what rounding leaves over";
        let lengths: Vec<Len> = lengths
            .into_iter()
            .map(|len| len.unwrap_or_else(|| self.graph.ledger.sum(whole.label, &terms, rule)))
            .collect();
        if lengths.iter().all(|len| len.value.is_positive()) {
            return Some(lengths);
        }
        self.does_not_fill(whole, members, left.value);
        None
    }

    /// One share of what is left over; `rule` says what rounding does.
    pub(super) fn share(
        &mut self,
        label: &'static str,
        rest: Len,
        share: &Share,
        (rule, round): (&'static str, Round),
    ) -> Len {
        let plus = self.plus(share);
        let ledger = &mut self.graph.ledger;
        let simple = share.linear.times == Rational::from(1) && plus.is_none();
        let exact = if simple {
            rest
        } else {
            ledger.share("share of what is left over", rest, share.linear.times, plus, "")
        };
        match share.round {
            Some(step) => ledger.rounded(label, exact, step, round, rule),
            None => ledger.sum(label, &[(1, exact)], ""),
        }
    }

    /// What is added to a share, if anything is.
    pub(super) fn plus(&mut self, share: &Share) -> Option<Len> {
        let value = share.linear.plus.length().filter(|plus| !plus.is_zero())?;
        let step = share.span.map_or(Step::Given, Step::Stated);
        let why = self.graph.ledger.enter("addition to a share", value.into(), step, "");
        Some(Len { value, why })
    }

    /// Shows the sum, member by member.
    fn does_not_fill(&mut self, whole: &Whole<'_>, members: &[(String, Fill)], left: Length) {
        let mut lines = Vec::new();
        let mut diagnostic_spans: Vec<(Len, &str)> = vec![(whole.length, "the whole follows from this")];
        for (name, fill) in members {
            match fill {
                Fill::Fixed(len) => {
                    lines.push(format!("{:>10}  {name}", self.print(*len)));
                    diagnostic_spans.push((*len, name));
                }
                Fill::Share(_) => lines.push(format!("{:>10}  {name}", "a share")),
            }
        }
        let (times, between) = whole.between;
        if times > 0 {
            let what = if times == 1 { "a board".to_owned() } else { format!("each of {times} boards") };
            lines.push(format!("{:>10}  {what} between", self.print(between)));
        }
        lines.push(format!("{:>10}  the whole", self.print(whole.length)));
        let what = whole.what;
        let (message, help) = if left.is_negative() {
            let over = Length::ZERO.checked_sub(left).unwrap_or_default();
            let over = self.marks().print_rounded(over, Round::Up);
            (
                format!("{what} are over-full by {}", over.text()),
                "make one of them less, or let one take `rest`",
            )
        } else if left.is_zero() {
            (
                format!("{what} leave nothing to share"),
                "make a stated one less; it is never changed by itself",
            )
        } else {
            let over = self.marks().print_rounded(left, Round::Down);
            (format!("{what} leave {} over", over.text()), "let one of them take `rest`")
        };
        let diagnostic = Diagnostic::new(&codes::FILL, message);
        let diagnostic = self.blame(diagnostic, whole.head, "here", &diagnostic_spans);
        self.sink.push(diagnostic.note(lines.join("\n")).help(help));
    }
}
