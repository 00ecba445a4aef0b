//! The sheets: what the person takes to the saw and the bench. One file each: a typed value, and its document.

mod boards;
mod bought;
mod by_hand;
mod cut_list;
mod cutouts;
mod finish;
mod hardware;
mod layouts;
mod limits;
mod marks;
mod parts;
mod progress;
mod sawing;
mod shopping;
mod together;
mod tree;
mod whole;

pub use boards::{BoardCutRow, BoardGroup, Boards, Stick, TooLarge};
pub(crate) use boards::{boards, cut_table};
pub use bought::BoughtRow;
pub(crate) use cut_list::under_slope;
pub use cut_list::{CutGroup, CutList, CutRow, FitOnSite, ReusedRow, Solid, by_unit};
pub(crate) use cutouts::taken_off;
pub use cutouts::{CutOutRow, Cutouts, RoomRow};
pub(crate) use finish::finishing;
pub use finish::{AreaRow, Finishing, ProductRow, Step as FinishStep};
pub use hardware::{Hardware, HardwareItem, HardwareRow};
pub use layouts::{CutStep, LayoutGroup, Layouts, LeftOver, Pattern, PlacedPart, Spare};
pub(crate) use layouts::{figures, left_words, which};
pub use limits::{LIMITS, LimitRow, Limits};
pub use marks::{Holes, MarkRow, Marking, Routing, UnitMarks};
pub(crate) use marks::{PASSES, holes, routing};
pub use parts::{BlankRow, FaceAreas, FastenerRow, FinishedWidth, JointRow, PartList, PartRow, Position};
pub use progress::{PieceRow, Progress, SheetProgress, StageHours, UnitProgress};
pub(crate) use progress::{Rated, about_hours};
pub use sawing::{ForUnit, FromSheet, Gives, NearSettings, Problem, SawStep, Sawing, SheetAt};
pub(crate) use sawing::{from_words, given_words, in_order, sawing};
pub(crate) use shopping::acclimate;
pub use shopping::{Shopping, ShoppingRow, shopping};
pub use together::{Project, TOGETHER, Together};
pub use tree::{BayNode, Board, LooseNode, OpeningNode, RunNode, Tree, UnitNode};
pub use whole::{PROJECT, WHOLE, Whole, whole};

use crate::breakdown::{BoardWork, Effort, Plans, SheetWork};
use crate::document::{CAUTIONS, Cautioned, Document, Drawing};
use crate::eval::Model;
use crate::parts::{Finding, PartGraph, UnitId, Work};
use crate::quantity::{JsonLength, Length, System};
use serde::Serialize;
use std::any::Any;
use std::fmt;
use std::sync::Arc;

/// What a sheet is made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
    /// Its layouts, as far as they are made.
    pub plans: &'a Plans,
    /// What the checks compared.
    pub findings: &'a [Finding],
    /// How much work is put into layouts.
    pub effort: Effort,
    /// Whether what is driven, glued and painted already is counted too.
    pub work: Work,
    /// The unit that pages by place are for; `None` where they are for all.
    pub only: Option<UnitId>,
}

impl<'a> Subject<'a> {
    /// The work on every sheet good, with the layouts of this effort.
    #[must_use]
    pub fn sheet_works(self) -> &'a [SheetWork] {
        self.plans.sheets(self.model, self.graph, self.effort)
    }

    fn board_works(self) -> &'a [BoardWork] {
        self.plans.solids(self.model, self.graph, self.effort)
    }
}

impl Subject<'_> {
    pub(crate) fn print(self, length: Length) -> String {
        self.model.project.marks.print(length).to_string()
    }

    pub(crate) fn print_both(self, length: Length) -> String {
        self.model.project.marks.print_both(length)
    }

    pub(crate) fn json(self, length: Length) -> JsonLength {
        JsonLength::new(length, self.model.project.marks)
    }

    /// A size that is set by a caliper, a bit or a grid.
    pub(crate) fn fine(self, length: Length) -> JsonLength {
        JsonLength::fine(length, self.model.project.marks)
    }

    /// Whether a page says what is of this unit.
    pub(crate) fn shows(self, unit: UnitId) -> bool {
        self.only.is_none_or(|only| only == unit)
    }

    /// The project and its revision, as every page says them.
    #[must_use]
    pub fn headed(self) -> String {
        self.model.project.headed()
    }

    /// A document with what stands on every sheet: project, revision, how sizes read, cautions.
    fn document(self, title: &str) -> Document {
        let project = &self.model.project;
        let unit = match project.marks.system() {
            System::Inch => "inches",
            System::Metric => "millimetres",
        };
        let step = project.marks.print_fine(project.marks.step());
        let sizes = format!(
            "Sizes in {unit} to the nearest {step}, thickness x width x length, length along the grain. A ~ stands before \
             a size that is rounded."
        );
        let mut facts = vec![self.headed(), sizes];
        facts.extend(self.model.provisional());
        Document {
            title: title.to_owned(),
            facts,
            tables: Vec::new(),
            notes: Vec::new(),
            cautions: CAUTIONS.to_vec(),
        }
    }
}

/// A made sheet: for machines and for people.
#[derive(Clone, Debug)]
pub struct Output {
    /// The typed value as JSON.
    pub json: Json,
    /// The document.
    pub document: Document,
    /// What it has of dates, as iCalendar; `None` where it has none, and without the feature `calendar`.
    pub calendar: Option<String>,
}

impl Output {
    /// A sheet without dates; `estimates` are the members of the value whose figures are estimates, by their path.
    pub(super) fn new(
        value: impl Serialize + Send + Sync + 'static,
        document: Document,
        estimates: &'static [&'static str],
    ) -> Self {
        let cautions = document.cautions.clone();
        Self { json: Json(Arc::new(Said { value, estimates, cautions })), document, calendar: None }
    }
}

/// The typed value of a sheet; JSON is made of it when someone asks, because that takes many times its room.
#[derive(Clone)]
pub struct Json(Arc<dyn Typed + Send + Sync>);

/// A value that can become JSON.
trait Typed {
    fn value(&self) -> serde_json::Value;
    fn text(&self) -> String;
    fn any(&self) -> &dyn Any;
}

/// A value with what programs should know of it.
struct Said<T> {
    value: T,
    estimates: &'static [&'static str],
    cautions: Vec<&'static str>,
}

impl<T> Said<T> {
    fn cautioned(&self) -> Cautioned<'_, T> {
        Cautioned { value: &self.value, estimates: self.estimates, cautions: &self.cautions }
    }
}

impl<T: Serialize + 'static> Typed for Said<T> {
    fn any(&self) -> &dyn Any {
        &self.value
    }

    fn value(&self) -> serde_json::Value {
        serde_json::to_value(self.cautioned()).unwrap_or_default()
    }

    fn text(&self) -> String {
        serde_json::to_string_pretty(&self.cautioned()).unwrap_or_default()
    }
}

impl Json {
    /// The value, to look into.
    #[must_use]
    pub fn value(&self) -> serde_json::Value {
        self.0.value()
    }

    /// The value itself, where it is of this type.
    #[must_use]
    pub fn typed<T: 'static>(&self) -> Option<&T> {
        self.0.any().downcast_ref()
    }

    /// The value as text, with the members in the order of its type.
    #[must_use]
    pub fn text(&self) -> String {
        self.0.text()
    }
}

impl fmt::Debug for Json {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.value())
    }
}

/// A kind of sheet that is printed.
#[derive(Clone, Copy, Debug)]
pub struct SheetSpec {
    /// Its name, as the command line and file names have it.
    pub name: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// Makes it.
    pub make: fn(Subject<'_>) -> Output,
    /// Makes its drawings; `None` where it has none. They take longer than the rest, and few ask.
    pub draw: Option<fn(Subject<'_>) -> Vec<Drawing>>,
    /// Whether it follows from a revision of the text; else it is of what was made and noted until tonight.
    pub of_revision: bool,
}

/// All sheets.
pub static SHEETS: &[SheetSpec] = &[
    cut_list::SHEET,
    shopping::SHEET,
    layouts::SHEET,
    sawing::SHEET,
    boards::SHEET,
    parts::SHEET,
    marks::SHEET,
    hardware::SHEET,
    cutouts::SHEET,
    finish::SHEET,
    tree::SHEET,
    limits::SHEET,
    progress::SHEET,
];

/// The sheet of this name.
#[must_use]
pub fn sheet(name: &str) -> Option<&'static SheetSpec> {
    SHEETS.iter().find(|sheet| sheet.name == name)
}
