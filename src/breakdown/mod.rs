//! The breakdown of the stock: from the part graph to jobs of sheets, boards and sticks, and their plans.
//!
//! One job for each sheet good and lot, so that lots are never mixed; a part is cut from the lot of its unit. A sheet offers
//! its least size less one skim, in both directions. A rip runs the whole length; a piece of a sheet is ripped once more, or a
//! sheet first cut across, only where the saw may do that and it saves money. Boards are ripped and crosscut, no more.

pub mod at_hand;
mod board;
mod followed;
mod near;
mod plans;
mod price;
mod sawn;
mod scale;
mod sheet;
mod substitute;
mod vehicle;

pub use crate::cutting::Effort;
pub use board::{BoardPlan, BoardWork, Sold, board_works, end_trim, stick_works};
pub use followed::PlannedSheet;
pub use near::{NearMiss, Saving};
pub use plans::Plans;
use price::cents;
pub use price::{price_of_length, rough};
pub use sawn::{Sawn, across_of, is_kept, is_over};
pub use scale::Scale;
pub use sheet::{SheetWork, Source, SpareRoom, StockRow, sheet_works};
pub use substitute::{Substitute, substitutes};
pub use vehicle::{Ride, ride};

use crate::cutting::{Error, First, Grain, Part, Rules};
use crate::eval::{Cuts, Model};
use crate::parts as graph;
use crate::quantity::{Length, some};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

/// Equal parts of one stock, in the order of two sizes, the largest first, then by what they are.
type Equal = BTreeMap<(Reverse<Length>, Reverse<Length>, &'static str), Row>;

/// How many more are cut than the work needs of every size of what this part is: of shelves and strips as many as are stated.
#[must_use]
pub fn spares(model: &Model, role: graph::Role) -> usize {
    if matches!(role, graph::Role::Shelf | graph::Role::Strip) { model.project.spares } else { 0 }
}

/// `77 parts, 1 of them a spare`.
#[must_use]
pub fn spared(count: usize, what: &str, spares: usize) -> String {
    let all = some(count, what);
    match spares {
        0 => all,
        1 => format!("{all}, 1 of them a spare"),
        spares => format!("{all}, {spares} of them spares"),
    }
}

/// What is told of a part that no board takes.
pub const TOO_LARGE: &str =
    "is longer or wider than what is sold, less the trim of its ends: make it of two, or buy larger";

/// Adds a part of this length and width to its equals, `sizes` in their order, with the spares of that size.
fn add(
    rows: &mut Equal,
    model: &Model,
    part: &graph::Part,
    [length, width]: [Length; 2],
    sizes: [Length; 2],
) {
    let what = part.role.word();
    let spares = spares(model, part.role);
    let row = rows.entry((Reverse(sizes[0]), Reverse(sizes[1]), what));
    let role = Some(part.role);
    let new = || Row { what, role, length, width, names: Vec::new(), units: BTreeSet::new(), spares };
    let row = row.or_insert_with(new);
    row.names.push(part.path.clone());
    row.units.insert(part.unit);
}

/// Adds a piece that is cut already, by length and width.
fn add_piece(rows: &mut Equal, role: graph::Role, path: &str, [length, width]: [Length; 2]) {
    let what = role.word();
    let row = rows.entry((Reverse(length), Reverse(width), what));
    let (names, units) = (Vec::new(), BTreeSet::new());
    let new = || Row { what, role: Some(role), length, width, names, units, spares: 0 };
    row.or_insert_with(new).names.push(path.to_owned());
}

/// Rips, then crosscuts, and what more may be cut; nothing of that where it saves no money.
fn rules(scale: Scale, kerf: Length, cuts: Cuts) -> Rules {
    let first = if cuts.across { First::Any } else { First::Rip };
    Rules { first, trimming: cuts.trim, plain: true, ..Rules::rip_first(scale.up(kerf)) }
}

/// The cuts that a bound covers, in words.
fn cuts_words(rules: Rules) -> &'static str {
    match (rules.first == First::Any, rules.trimming) {
        (false, false) => "rips and crosscuts",
        (false, true) => "rips, crosscuts and trims",
        (true, false) => "rips and crosscuts in either order",
        (true, true) => "rips and crosscuts in either order, with trims,",
    }
}

/// Equal parts of one stock.
#[derive(Clone, Debug)]
pub struct Row {
    /// What they are, in a word.
    pub what: &'static str,
    /// Their role; `None` of pieces of a moulding.
    pub role: Option<graph::Role>,
    /// Along the grain, as cut in the shop.
    pub length: Length,
    /// Across the grain, as cut in the shop.
    pub width: Length,
    /// Their paths; spares have none.
    pub names: Vec<String>,
    /// The units that they belong to; `None` among them for what belongs to a run.
    pub units: BTreeSet<Option<graph::UnitId>>,
    /// How many are cut beyond those.
    pub spares: usize,
}

impl Row {
    /// How many are cut.
    #[must_use]
    pub fn count(&self) -> usize {
        self.names.len().saturating_add(self.spares)
    }

    /// The parts of a job at this place.
    fn part(&self, place: usize, scale: Scale, grain: Grain) -> Part {
        Part {
            id: place.to_string(),
            width: scale.up(self.length),
            height: scale.up(self.width),
            demand: u64::try_from(self.count()).unwrap_or(u64::MAX),
            grain,
            group: None,
        }
    }

    /// The one unit that all of them belong to, where it is one: parts of a unit are kept together.
    fn group(&self) -> Option<String> {
        match self.units.iter().collect::<Vec<_>>().as_slice() {
            [Some(unit)] => Some(unit.0.to_string()),
            _ => None,
        }
    }
}

/// The row of a part that a plan names.
fn named<'a>(rows: &'a [Row], part: &str) -> Option<&'a Row> {
    rows.get(part.parse::<usize>().ok()?)
}

/// Why there is no plan, in words; `larger` says what a part that has no place is told.
fn problem(rows: &[Row], error: &Error, larger: &str) -> String {
    match error {
        Error::Unplaceable(part) => {
            let name = named(rows, part).and_then(|row| row.names.first()).map_or("a part", String::as_str);
            format!("`{name}` {larger}")
        }
        error => error.to_string(),
    }
}

/// What the blade takes, where the shop states no saw: 1/8 in or 3 mm (common practice, no source).
#[must_use]
pub fn kerf(model: &Model) -> Length {
    model.shop.kerf.map_or_else(|| model.project.marks.system().length((1, 8), (3, 1)), |kerf| kerf.value)
}
