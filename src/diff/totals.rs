//! What a revision costs: money, sheets and days first, then what else is bought.

use super::Side;
use crate::quantity::{Rational, some, spell};
use crate::sheets::{Boards, CutList, Finishing, Hardware, Layouts, Output, Shopping};
use jiff::civil::DateTime;
use num_traits::{CheckedSub, Signed, Zero};
use serde::Serialize;
use std::collections::BTreeMap;

/// What a total is about, in the order in which it is told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TotalOf {
    /// All that has a price.
    Money,
    /// Sheets to buy, of one sheet good or lot.
    Sheets,
    /// Boards and sticks; areas.
    Stock,
    /// When a step of the finish ends.
    Days,
    /// Nails and screws.
    Hardware,
    /// Paint, glue, caulk.
    Product,
}

/// A total of both projects.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Total {
    /// What it is about.
    pub of: TotalOf,
    /// Of what.
    pub what: String,
    /// In the old project.
    pub was: Option<String>,
    /// In the new project.
    pub is: Option<String>,
    /// By how much it differs, in words, where that is a number: `1 sheet more`.
    pub by: Option<String>,
}

impl Total {
    /// Whether it differs; a sign for what is not proven is no difference.
    #[must_use]
    pub fn differs(&self) -> bool {
        let bare = |side: &Option<String>| side.as_ref().map(|side| side.replace('~', ""));
        bare(&self.was) != bare(&self.is)
    }
}

/// A total of one project: what is printed, and the number behind it, where two of them can be subtracted.
struct Of {
    print: String,
    number: Option<Number>,
}

#[derive(Clone, Copy)]
enum Number {
    Money(Rational),
    Sheets(u64),
    Time(DateTime),
}

/// What a total is of, and where it stands among those of its kind.
type Key = (TotalOf, usize, String);

/// The same total on both sides.
#[derive(Default)]
struct Both {
    place: usize,
    was: Option<Of>,
    is: Option<Of>,
}

/// All totals of both projects: each once, in the order that the new one has.
pub(super) fn totals(sides: [Side<'_>; 2], outputs: &[Vec<Output>; 2]) -> Vec<Total> {
    let [old, new] = sides;
    let [was, is] = outputs;
    let mut both: BTreeMap<(TotalOf, String), Both> = BTreeMap::new();
    for ((of, place, what), value) in read(old, was) {
        both.insert((of, what), Both { place, was: Some(value), is: None });
    }
    for ((of, place, what), value) in read(new, is) {
        let entry = both.entry((of, what)).or_default();
        (entry.place, entry.is) = (place, Some(value));
    }
    let mut all: Vec<((TotalOf, usize, String), Both)> =
        both.into_iter().map(|((of, what), both)| ((of, both.place, what), both)).collect();
    all.sort_by(|(a, _), (b, _)| a.cmp(b));
    let prices = Prices::of(outputs);
    let totals = all.into_iter().map(|((of, _, what), Both { was, is, .. })| {
        let number = |side: &Option<Of>| side.as_ref().and_then(|side| side.number);
        // What one project does not have at all counts as none.
        let by = match (number(&was), number(&is)) {
            _ if of == TotalOf::Money && prices.differ() => Some(prices.words()),
            (Some(was), Some(is)) => by(new, was, is),
            (None, Some(Number::Sheets(is))) if was.is_none() => {
                by(new, Number::Sheets(0), Number::Sheets(is))
            }
            (Some(Number::Sheets(was)), None) if is.is_none() => {
                by(new, Number::Sheets(was), Number::Sheets(0))
            }
            _ => None,
        };
        let what = if of == TotalOf::Money { prices.sum().to_owned() } else { what };
        Total { of, what, was: was.map(|was| was.print), is: is.map(|is| is.print), by }
    });
    totals.collect()
}

/// What has no price on either side.
struct Prices {
    gone: Vec<String>,
    come: Vec<String>,
    all: bool,
}

impl Prices {
    fn of(outputs: &[Vec<Output>; 2]) -> Self {
        let [was, is] = outputs;
        let of = |side: &[Output]| {
            typed::<Shopping>(side)
                .map(|shopping| {
                    (
                        shopping.without_price.clone(),
                        shopping.rows.iter().map(|row| row.what.clone()).collect::<Vec<_>>(),
                    )
                })
                .unwrap_or_default()
        };
        let ((before, bought), (now, buys)) = (of(was), of(is));
        let less = |some: &[String], others: &[String], there: &[String]| -> Vec<String> {
            let own = some.iter().filter(|name| !others.contains(name) && there.contains(name));
            own.cloned().collect()
        };
        Self {
            gone: less(&now, &before, &bought),
            come: less(&before, &now, &buys),
            all: before.is_empty() && now.is_empty(),
        }
    }

    /// Whether something that both buy has a price on one side only: then the sums are of different things.
    fn differ(&self) -> bool {
        !self.gone.is_empty() || !self.come.is_empty()
    }

    fn sum(&self) -> &'static str {
        if self.all { "all that is bought" } else { "what has a price" }
    }

    fn words(&self) -> String {
        let name = |row: &String| row.split(',').next().unwrap_or(row).to_owned();
        let of = |rows: &[String], said: &str| {
            (!rows.is_empty())
                .then(|| format!("{said}: {}", rows.iter().map(name).collect::<Vec<_>>().join(", ")))
        };
        let said = [of(&self.gone, "without a price now"), of(&self.come, "with a price now")];
        said.into_iter().flatten().collect::<Vec<_>>().join("; ")
    }
}

/// What lies between two totals, in words; `None` where it is nothing.
fn by(new: Side<'_>, was: Number, is: Number) -> Option<String> {
    let (much, more, less) = match (was, is) {
        (Number::Money(was), Number::Money(is)) => {
            let by = is.checked_sub(&was).filter(|by| !by.is_zero())?;
            (new.model.project.money(by.abs()), by.is_positive(), "less")
        }
        (Number::Sheets(was), Number::Sheets(is)) if was != is => {
            let by = was.abs_diff(is);
            (some(by, "sheet"), is > was, "fewer")
        }
        (Number::Time(was), Number::Time(is)) if was != is => {
            let minutes = is.duration_since(was).as_mins();
            let word = if minutes > 0 { "later" } else { "earlier" };
            return Some(format!("{} {word}", spell(minutes.unsigned_abs())));
        }
        _ => return None,
    };
    Some(format!("{much} {}", if more { "more" } else { less }))
}

/// The typed value of the sheet that has this type.
fn typed<T: 'static>(outputs: &[Output]) -> Option<&T> {
    outputs.iter().find_map(|output| output.json.typed())
}

fn read(side: Side<'_>, outputs: &[Output]) -> BTreeMap<Key, Of> {
    let mut totals: BTreeMap<Key, Of> = BTreeMap::new();
    let text = |print: String| Of { print, number: None };
    if let Some(shopping) = typed::<Shopping>(outputs)
        && let Some(sum) = shopping.sum
    {
        let of = Of { print: side.model.project.money(sum), number: Some(Number::Money(sum)) };
        totals.insert((TotalOf::Money, 0, String::new()), of);
    }
    if let Some(layouts) = typed::<Layouts>(outputs) {
        for group in layouts.groups.iter().filter(|group| group.problem.is_none()) {
            let about = if group.proven { "" } else { "~" };
            let of = Of { print: format!("{about}{}", group.buy), number: Some(Number::Sheets(group.buy)) };
            totals.insert((TotalOf::Sheets, 0, format!("sheets of {}", group.stock)), of);
        }
    }
    for group in typed::<CutList>(outputs).iter().flat_map(|list| &list.groups) {
        let (what, value) = match &group.solid {
            Some(solid) => (format!("{}, to buy", group.stock), &solid.to_buy),
            None => (format!("{}, area of the parts", group.stock), &group.area_print),
        };
        totals.insert((TotalOf::Stock, 1, what), text(value.clone()));
    }
    if let Some(boards) = typed::<Boards>(outputs) {
        for group in &boards.groups {
            for stick in group.buy.iter().filter(|stick| !stick.on_hand) {
                let what =
                    format!("{}, {} wide, {} long", group.stock, group.width.print, stick.length.print);
                totals.insert((TotalOf::Stock, 0, what), text(stick.count.to_string()));
            }
        }
    }
    for item in typed::<Hardware>(outputs).iter().flat_map(|hardware| &hardware.items) {
        let what = item.name.clone().unwrap_or_else(|| "rows without a fastener".to_owned());
        totals.insert((TotalOf::Hardware, 0, what), text(item.count.to_string()));
    }
    if let Some(finishing) = typed::<Finishing>(outputs) {
        finish(finishing, &mut totals);
    }
    totals
}

fn finish(finishing: &Finishing, totals: &mut BTreeMap<Key, Of>) {
    let mut coats = 0;
    for (index, step) in finishing.steps.iter().enumerate() {
        let (Some(ends), Some(time)) = (&step.ends, step.end()) else { continue };
        let what = if step.name == "coat" {
            coats += 1;
            format!("coat {coats} is on")
        } else {
            step.name.to_owned()
        };
        let of = Of { print: ends.clone(), number: Some(Number::Time(time)) };
        totals.insert((TotalOf::Days, index, what), of);
    }
    let text = |print: String| Of { print, number: None };
    for area in finishing.areas.iter().filter(|row| row.class == "all") {
        totals.insert((TotalOf::Product, 0, format!("paint of {}", area.of)), text(area.size.clone()));
    }
    for product in &finishing.products {
        let buy = format!("{}: {}", product.needed, product.buy);
        totals.insert((TotalOf::Product, 1, product.name.clone()), text(buy));
    }
}
