//! How a size follows from sizes that are stated: by how much it changes with each of them.

use super::ledger::{Ledger, Len, Step, Why};
use crate::quantity::Rational;
use crate::source::Span;
use num_traits::{CheckedAdd, CheckedMul, Zero};
use std::collections::{BTreeMap, BTreeSet};

/// Where a size is stated; numbers that are stated once and hold for several members have one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place(Span);

/// How a size follows from what is stated.
#[derive(Clone, Debug, Default)]
pub struct Follows {
    /// So many times each stated size is in it.
    pub times: BTreeMap<Place, Rational>,
    /// What it depends on in a way that is no sum of shares.
    pub otherwise: BTreeSet<Place>,
    /// The stated sizes.
    pub stated: BTreeMap<Place, Len>,
}

impl Ledger {
    /// How a size follows from sizes that are stated; `None` where a number is out of range.
    #[must_use]
    pub fn follows(&self, size: Len) -> Option<Follows> {
        let mut follows = Follows::default();
        let mut open: Vec<(Why, Rational)> = vec![(size.why, Rational::from(1))];
        while let Some((why, times)) = open.pop() {
            let entry = self.entry(why)?;
            match &entry.step {
                Step::Stated(span) => {
                    let sum = follows.times.entry(Place(*span)).or_insert_with(Rational::zero);
                    *sum = sum.checked_add(&times)?;
                    let value = entry.value.length()?;
                    follows.stated.insert(Place(*span), Len { value, why });
                }
                Step::Sum(terms) => {
                    for (count, of) in terms {
                        open.push((*of, times.checked_mul(count)?));
                    }
                }
                Step::Share(of, by) if !by.is_zero() => open.push((*of, times.checked_mul(&by.recip())?)),
                // A name alone stands for the number that it names.
                Step::Computed(_, used) => match used.as_slice() {
                    [(_, of)] if self.entry(*of)?.value == entry.value => open.push((*of, times)),
                    _ => follows.otherwise.extend(self.spans(why).into_iter().map(Place)),
                },
                Step::Usual(_) | Step::Given => {}
                Step::Share(..)
                | Step::Scaled(_)
                | Step::Rounded(..)
                | Step::Least(_)
                | Step::Greatest(_) => {
                    follows.otherwise.extend(self.spans(why).into_iter().map(Place));
                }
            }
        }
        Some(follows)
    }
}
