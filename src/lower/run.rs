//! Runs: units side by side, the shares of what is left over, and the gaps at the ends.

use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Carcass, Len, Run, Share, Step, Width};
use crate::parts::RunPart;
use crate::quantity::{Rational, Round};
use num_traits::CheckedAdd;

impl Lowering<'_> {
    pub(super) fn run(&mut self, run: &Run) {
        let Some(widths) = self.widths(run) else { return };
        let zero = self.graph.ledger.usual(
            "left end of the run",
            crate::quantity::Length::ZERO,
            "places count from it",
        );
        let mut terms: Vec<(i128, Len)> = widths.iter().map(|width| (1, *width)).collect();
        let total_width =
            self.graph.ledger.sum("width of all units", &terms, "units stand without a gap between them");
        let (gap_left, gap_right) = match run.length {
            Some(length) => match self.gaps(run, length, total_width, &widths) {
                Some(gaps) => (Some(gaps.0), Some(gaps.1)),
                None => return,
            },
            None => (None, None),
        };
        terms.clear();
        terms.push((1, gap_left.unwrap_or(zero)));
        for (index, (unit, width)) in run.units.iter().zip(&widths).enumerate() {
            let step = match &unit.name {
                Some(name) => format!("{}.{name}", run.name),
                None => format!("{}.unit[{}]", run.name, index + 1),
            };
            let x = self.graph.ledger.sum(
                "left face of the unit",
                &terms,
                "after the gap and the units left of it",
            );
            self.carcass(unit, step, *width, Some(x));
            terms.push((1, *width));
        }
        self.graph.runs.push(RunPart { path: run.name.to_string(), gap_left, gap_right, total_width });
    }

    /// The width of each unit; `None` where shares cannot be worked out.
    fn widths(&mut self, run: &Run) -> Option<Vec<Len>> {
        let shares: Vec<&Share> = run
            .units
            .iter()
            .filter_map(|unit| match &unit.width {
                Width::Share(share) => Some(share),
                _ => None,
            })
            .collect();
        if shares.is_empty() {
            return Some(run.units.iter().map(|unit| self.stated_width(unit)).collect());
        }
        let Some(length) = run.length else {
            let mut diagnostic = Diagnostic::new(
                &codes::NO_LENGTH,
                format!("`rest` has nothing to share: the run `{}` states no length", run.name),
            );
            if let Some(span) = shares.first().and_then(|share| share.span) {
                diagnostic = diagnostic.at(span, "");
            }
            if let Some(head) = run.head {
                diagnostic = diagnostic.and_at(head, "add `length = ...` in this run");
            }
            self.sink.push(diagnostic);
            return None;
        };
        let rest = self.rest(run, length, &shares)?;
        // Units whose shares are stated by the same words have one width with one reason.
        let mut known: Vec<(Share, Len)> = Vec::new();
        let mut widths = Vec::new();
        for unit in &run.units {
            widths.push(match &unit.width {
                Width::Share(share) => match known.iter().find(|(same, _)| same == share) {
                    Some((_, width)) => *width,
                    None => {
                        let width = self.share(rest, share);
                        known.push((*share, width));
                        width
                    }
                },
                _ => self.stated_width(unit),
            });
        }
        Some(widths)
    }

    /// What one `rest` is: the length less the gaps wanted and all that is stated, divided by the shares.
    fn rest(&mut self, run: &Run, length: Len, shares: &[&Share]) -> Option<Len> {
        let mut terms = vec![(1, length), (-1, run.left.gap), (-1, run.right.gap)];
        for unit in &run.units {
            if !matches!(unit.width, Width::Share(_)) {
                terms.push((-1, self.stated_width(unit)));
            }
        }
        for share in shares {
            terms.extend(self.plus(share).map(|plus| (-1, plus)));
        }
        terms.retain(|(_, len)| !len.value.is_zero());
        let left =
            self.graph.ledger.sum("left over", &terms, "the run's length less gaps and what is stated");
        let count =
            shares.iter().try_fold(Rational::from(0), |sum, share| sum.checked_add(&share.linear.times))?;
        if count <= Rational::from(0) || !left.value.is_positive() {
            let members = self.members(run, None);
            self.overfull(run, length, &members);
            return None;
        }
        let rule = "equal shares of what is left over";
        Some(self.graph.ledger.divide("rest", left, count, rule))
    }

    fn plus(&mut self, share: &Share) -> Option<Len> {
        let value = share.linear.plus.length().filter(|plus| !plus.is_zero())?;
        let step = share.span.map_or(Step::Given, Step::Stated);
        let why = self.graph.ledger.enter("addition to a share", value.into(), step, "");
        Some(Len { value, why })
    }

    fn share(&mut self, rest: Len, share: &Share) -> Len {
        let plus = self.plus(share);
        let simple = share.linear.times == Rational::from(1) && plus.is_none();
        let exact = if simple {
            rest
        } else {
            self.graph.ledger.share("share of the unit", rest, share.linear.times, plus, "")
        };
        let rule = "what rounding leaves over goes to the end gaps";
        match share.round {
            Some(step) => self.graph.ledger.rounded("unit width", exact, step, Round::Nearest, rule),
            None => self.graph.ledger.sum("unit width", &[(1, exact)], ""),
        }
    }

    /// Over the outer faces of the sides, for a carcass whose width is not a share.
    pub(super) fn stated_width(&mut self, carcass: &Carcass) -> Len {
        match carcass.width {
            Width::Over(width) => width,
            Width::Clear(clear) => match self.model.sheets.get(carcass.sheet.0) {
                Some(sheet) => {
                    let rule = "the sides stand outside the clear width";
                    self.graph.ledger.sum("unit width", &[(1, clear), (2, sheet.thickness)], rule)
                }
                None => clear,
            },
            Width::Share(share) => {
                self.graph.ledger.given("unit width", share.linear.plus.length().unwrap_or_default())
            }
        }
    }

    /// The gaps at both ends: those wanted, and what is left over shared by the ends that stand at a wall.
    fn gaps(&mut self, run: &Run, length: Len, total: Len, widths: &[Len]) -> Option<(Len, Len)> {
        let ledger = &mut self.graph.ledger;
        let terms = [(1, length), (-1, total), (-1, run.left.gap), (-1, run.right.gap)];
        let over = ledger.sum("left over", &terms, "the run's length less units and gaps wanted");
        let walls = i128::from(run.left.wall) + i128::from(run.right.wall);
        let negative_gap = |gap: Len| {
            gap.value.checked_add(over.value.checked_div(Rational::from(walls.max(1))).unwrap_or_default())
        };
        let too_full = over.value.is_negative()
            && [run.left, run.right].iter().any(|end| {
                !end.wall && walls == 0
                    || end.wall && negative_gap(end.gap).is_some_and(|gap| gap.is_negative())
            });
        if too_full {
            let members = self.members(run, Some(widths));
            self.overfull(run, length, &members);
            return None;
        }
        let rule = if walls == 2 {
            "what is left over is halved between the two walls"
        } else {
            "what is left over goes to the wall"
        };
        let part = if walls == 2 {
            self.graph.ledger.divide("half of it", over, Rational::from(2), "")
        } else {
            over
        };
        let mut gap = |end: crate::eval::End, label: &'static str| {
            if end.wall || walls == 0 {
                self.graph.ledger.sum(label, &[(1, end.gap), (1, part)], rule)
            } else {
                self.graph.ledger.sum(
                    label,
                    &[(1, end.gap)],
                    "an open end takes nothing of what is left over",
                )
            }
        };
        Some((gap(run.left, "gap at the left end"), gap(run.right, "gap at the right end")))
    }

    /// Shows the sum, member by member; `members` are all that takes room.
    fn overfull(&mut self, run: &Run, length: Len, members: &[(String, Len)]) {
        let mut needed = crate::quantity::Length::ZERO;
        let mut lines = Vec::new();
        for (name, len) in members {
            needed = needed.checked_add(len.value).unwrap_or(needed);
            lines.push(format!("{:>10}  {name}", self.print(*len)));
        }
        let over = needed.checked_sub(length.value).unwrap_or_default();
        let (sum, has) = (self.marks().print(needed).to_string(), self.print(length));
        lines.push(format!("{sum:>10}  together; the run has {has}"));
        let message = if over.is_positive() {
            let over = self.marks().print_rounded(over, Round::Up);
            format!("the run `{}` is over-full by {}", run.name, over.text())
        } else {
            format!("the run `{}` leaves nothing to share", run.name)
        };
        let mut diagnostic = Diagnostic::new(&codes::OVERFULL, message);
        diagnostic = self.blame(diagnostic, run.head, "this run", &[(length, "its length")]);
        for (name, len) in members {
            diagnostic = self.blame(diagnostic, None, "", &[(*len, name)]);
        }
        self.sink.push(
            diagnostic.note(lines.join("\n")).help(
                "make a width or a gap less, or let a unit take `rest`; a stated width is never changed",
            ),
        );
    }

    /// The gaps and the widths of a run, each with its name; shares count with what is added to them.
    fn members(&mut self, run: &Run, widths: Option<&[Len]>) -> Vec<(String, Len)> {
        let mut members = vec![
            ("gap at the left".to_owned(), run.left.gap),
            ("gap at the right".to_owned(), run.right.gap),
        ];
        for (index, unit) in run.units.iter().enumerate() {
            let name = unit
                .name
                .as_ref()
                .map_or_else(|| format!("unit [{}]", index + 1), |name| format!("unit `{name}`"));
            let width = match (widths.and_then(|widths| widths.get(index)), &unit.width) {
                (Some(width), _) => Some(*width),
                (None, Width::Share(share)) => self.plus(share),
                (None, _) => Some(self.stated_width(unit)),
            };
            members.extend(width.map(|width| (name, width)));
        }
        members.retain(|(_, len)| !len.value.is_zero());
        members
    }
}
