//! The part graph: parts, the joints between them, the openings they leave, with every size and its reason.
//!
//! Data and queries only; it is made by `lower`. Axes, seen from the front: x from left to right, y from the wall to the
//! front, z up from the unit's bottom end. A part's length runs along its grain.

#![warn(clippy::wildcard_enum_match_arm)]

mod bounds;
mod called;
mod code;
mod crown;
mod cut_out;
mod edged;
mod faces;
mod finding;
mod finish;
mod front;
mod hardware;
mod hole;
mod hours;
mod how;
mod ids;
mod joint;
mod labour;
mod lacking;
mod left;
mod made;
mod measure;
mod old_house;
mod opening;
mod outline;
mod paint;
mod part;
mod role;
mod router;
mod run;
mod unit;
mod weight;

pub use bounds::Bounds;
pub use called::Called;
pub use crown::{Crown, CrownAt, CrownPiece};
pub use cut_out::{CutOut, CutOutShape};
pub use edged::Edged;
pub use faces::{Contact, Faces, Patch, Sloped, Surface};
pub(crate) use finding::duration;
pub use finding::{Figure, Finding, Limit};
pub use finish::{CoatTimes, FinishTimes, Times, finish_times};
pub use front::{Drawer, Hung, MOST_HINGES};
pub use hardware::{Member, Row, RowKind, Spacing, in_a_row, with_spares};
pub use hole::Hole;
pub use hours::minutes;
pub use how::{Given, How, Input};
pub use ids::{OpeningId, PartId, RunId, UnitId};
pub use joint::{Joint, JointKind};
pub use labour::{Stage, Worked};
pub use lacking::{Lacking, Need, Needs, unchecked};
pub use made::{AtHand, Bought, Each, Facts, Followed, Made, Piece, PieceIs, Reused, State, Verdict};
pub use measure::{Measure, MeasureValue, Unknown};
pub use old_house::{FREE_OF_ASBESTOS, FREE_OF_LEAD};
pub use opening::{Bore, Divided, Opening, PartBay};
pub use outline::{Corner, Slant};
pub use paint::{CaulkClass, GlueClass, PaintClass, Surfaces, Work};
pub use part::{AsBuilt, Blank, Fitted, Owner, Part, Place, Size, Sized, Stock};
pub use role::{Face, Hand, Role, StretcherAt};
pub use router::{FromAbove, LowestLine, RouterPart};
pub use run::{EndGap, EndPart, FramePart, HungPart, RoomCorner, RunPart, SpacePart};
pub use unit::Unit;
pub use weight::CutOff;

use crate::eval::{Board, EdgeTape, Fastener, Ledger, Sheet, SheetId};
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

/// All parts of a project.
#[derive(Clone, Debug, Default)]
pub struct PartGraph {
    /// Sheet goods, by name.
    pub sheets: Vec<Sheet>,
    /// Boards, by name.
    pub boards: Vec<Board>,
    /// Runs, by name.
    pub runs: Vec<RunPart>,
    /// Corners in which two runs meet.
    pub corners: Vec<RoomCorner>,
    /// Carcasses: those of the runs from left to right, then those that stand alone.
    pub units: Vec<Unit>,
    /// Parts, unit by unit.
    pub parts: Vec<Part>,
    /// Joints, unit by unit.
    pub joints: Vec<Joint>,
    /// Openings, unit by unit from the bottom.
    pub openings: Vec<Opening>,
    /// Openings with dividers in them.
    pub divided: Vec<Divided>,
    /// Holes for pins.
    pub bores: Vec<Bore>,
    /// Units whose front edges have a strip.
    pub taped: BTreeSet<UnitId>,
    /// Doors and fronts of drawers that have a strip round all edges.
    pub banded: BTreeMap<PartId, EdgeTape>,
    /// Holes for cables and pipes.
    pub holes: Vec<Hole>,
    /// How doors hang, in the order of the parts.
    pub doors: Vec<Hung>,
    /// Drawers, unit by unit from the bottom.
    pub drawers: Vec<Drawer>,
    /// Nails, screws and pins, by name.
    pub fasteners: Vec<Fastener>,
    /// The names of the walls, by their positions in the model.
    pub walls: Vec<Arc<str>>,
    /// How the router is guided, where the shop states one.
    pub router: Option<RouterPart>,
    /// Rows of nails and screws.
    pub rows: Vec<Row>,
    /// How far parts are made, where that is stated; the others are only planned.
    pub made: BTreeMap<PartId, Made>,
    /// What was made and is not built any more, in the order of the paths.
    pub at_hand: Vec<AtHand>,
    /// What is bought.
    pub bought: Vec<Bought>,
    /// Hours that were noted.
    pub worked: Vec<Worked>,
    /// The sheets of the layouts that are followed, in the order of their numbers.
    pub followed: Vec<Followed>,
    /// What the text means for parts that are cut: those that are not here stay as they are.
    pub verdicts: BTreeMap<PartId, Verdict>,
    /// Parts that are cut from made pieces, which are of no use where they were.
    pub reused: BTreeMap<PartId, Reused>,
    /// Estimates that checks make, by the path of what they are of: what `require` and `why` find beside the sizes.
    pub reckoned: Vec<(String, Measure)>,
    /// What checks could not work out, and what is missing for it.
    pub lacking: Vec<Lacking>,
    /// The reason of every number.
    pub ledger: Ledger,
    /// The partition of all faces, once it was asked for: two sheets and both sides of a comparison need it.
    pub cut: OnceLock<Option<Faces>>,
    /// The holes of each part, by their positions.
    bored: BTreeMap<PartId, Vec<usize>>,
    /// All parts by their paths.
    paths: BTreeMap<String, PartId>,
    /// Parts by the paths that they had before; two parts may have shared one.
    former: BTreeMap<String, Vec<PartId>>,
    /// The parts of each unit.
    by_unit: Vec<Vec<PartId>>,
    /// The parts of each run that belong to none of its units.
    by_run: Vec<Vec<PartId>>,
    /// What is fixed to each part.
    fixed: Vec<Vec<PartId>>,
    /// The joints of each part as a guest, by their positions.
    held: Vec<Vec<usize>>,
    /// The joints of each part as a host, by their positions.
    holds: Vec<Vec<usize>>,
    /// The openings of each unit, from the bottom.
    opened: Vec<Vec<OpeningId>>,
}

impl PartGraph {
    /// The sheet of a part.
    #[must_use]
    pub fn sheet(&self, id: SheetId) -> Option<&Sheet> {
        self.sheets.get(id.0)
    }

    /// The name of what a part is cut from.
    #[must_use]
    pub fn stock_name(&self, stock: Stock) -> String {
        match stock {
            Stock::Sheet(id) => self.sheet(id).map(|sheet| sheet.name.to_string()),
            Stock::Board(index) => self.boards.get(index).map(|board| board.name.to_string()),
        }
        .unwrap_or_default()
    }

    /// The name under which that is sold: of a lot that of its sheet.
    #[must_use]
    pub fn sold_as(&self, stock: Stock) -> Arc<str> {
        let name = match stock {
            Stock::Sheet(id) => self.sheet(id).map(|sheet| sheet.sold_as().clone()),
            Stock::Board(index) => self.boards.get(index).map(|board| board.name.clone()),
        };
        name.unwrap_or_default()
    }

    /// The lot that a part is to be cut from, by its own name.
    #[must_use]
    pub fn lot(&self, stock: Stock) -> Option<&str> {
        match stock {
            Stock::Sheet(id) => self.sheet(id)?.lot(),
            Stock::Board(_) => None,
        }
    }

    /// Adds a part, and says which one it is; `None` where another part has its path.
    pub fn add(&mut self, part: Part) -> Option<PartId> {
        let id = PartId::at(self.parts.len());
        match self.paths.entry(part.path.clone()) {
            Entry::Occupied(_) => return None,
            Entry::Vacant(free) => free.insert(id),
        };
        if let Some(former) = &part.former {
            self.former.entry(former.clone()).or_default().push(id);
        }
        match (part.unit, part.run) {
            (Some(unit), _) => entry(&mut self.by_unit, unit.0).push(id),
            (None, Some(run)) => entry(&mut self.by_run, run.0).push(id),
            (None, None) => {}
        }
        for host in &part.backing {
            entry(&mut self.fixed, host.0).push(id);
        }
        self.parts.push(Part { id, ..part });
        Some(id)
    }

    /// Adds a joint.
    pub fn join(&mut self, joint: Joint) {
        entry(&mut self.held, joint.guest.0).push(self.joints.len());
        entry(&mut self.holds, joint.host.0).push(self.joints.len());
        self.joints.push(joint);
    }

    /// Adds an opening, and says which one it is.
    pub fn open(&mut self, opening: Opening) -> OpeningId {
        let id = self.next_opening();
        entry(&mut self.opened, opening.unit.0).push(id);
        self.openings.push(opening);
        id
    }

    /// All parts with their ids.
    pub fn numbered(&self) -> impl Iterator<Item = (PartId, &Part)> + Clone {
        self.parts.iter().enumerate().map(|(position, part)| (PartId::at(position), part))
    }

    /// All units with their ids.
    pub fn numbered_units(&self) -> impl Iterator<Item = (UnitId, &Unit)> + Clone {
        self.units.iter().enumerate().map(|(position, unit)| (UnitId::at(position), unit))
    }

    /// The parts by their paths.
    #[must_use]
    pub fn by_path(&self) -> BTreeMap<&str, PartId> {
        self.paths.iter().map(|(path, id)| (path.as_str(), *id)).collect()
    }

    /// The part that a text calls by a path: the one of this path, or the only one that had it before.
    #[must_use]
    pub fn named(&self, path: &str) -> Option<PartId> {
        let before = || match self.former.get(path)?.as_slice() {
            [only] => Some(*only),
            _ => None,
        };
        self.paths.get(path).copied().or_else(before)
    }

    /// What to say of a path, or of a measure under it, that several parts had before: it calls none of them.
    #[must_use]
    pub fn shared_before(&self, path: &str) -> Option<String> {
        let of_measure = || self.former.get(path.rsplit_once('.')?.0);
        let shared = self.former.get(path).or_else(of_measure).filter(|shared| shared.len() > 1)?;
        let paths = shared.iter().filter_map(|id| self.part(*id));
        let paths: Vec<String> = paths.map(|part| format!("`{}`", part.path)).collect();
        Some(format!("{} all had this name before: write which one is meant", paths.join(" and ")))
    }

    /// The part of this id.
    #[must_use]
    pub fn part(&self, id: PartId) -> Option<&Part> {
        self.parts.get(id.0 as usize)
    }

    /// The unit of this id.
    #[must_use]
    pub fn unit(&self, id: UnitId) -> Option<&Unit> {
        self.units.get(id.0 as usize)
    }

    /// All runs with their ids.
    pub fn numbered_runs(&self) -> impl Iterator<Item = (RunId, &RunPart)> + Clone {
        self.runs.iter().enumerate().map(|(position, run)| (RunId::at(position), run))
    }

    /// The run of this id.
    #[must_use]
    pub fn run(&self, id: RunId) -> Option<&RunPart> {
        self.runs.get(id.0 as usize)
    }

    /// The opening of this id.
    #[must_use]
    pub fn opening(&self, id: OpeningId) -> Option<&Opening> {
        self.openings.get(id.0 as usize)
    }

    /// The parts of a unit.
    pub fn parts_of(&self, unit: UnitId) -> impl Iterator<Item = &Part> {
        listed(&self.by_unit, unit.0).filter_map(|id| self.part(*id))
    }

    /// The parts of a run that belong to none of its units.
    pub fn parts_of_run(&self, run: RunId) -> impl Iterator<Item = &Part> {
        listed(&self.by_run, run.0).filter_map(|id| self.part(*id))
    }

    /// The facing of a run: what belongs to it and to its units. The run is given, since its units are known before it is in the graph.
    pub fn facing_of<'a>(&'a self, id: RunId, run: &'a RunPart) -> impl Iterator<Item = &'a Part> {
        let of_units = run.all().flat_map(move |unit| self.parts_of(unit));
        self.parts_of_run(id).chain(of_units).filter(|part| part.role.is_facing())
    }

    /// The openings of a unit, from the bottom.
    pub fn openings_of(&self, unit: UnitId) -> impl Iterator<Item = &Opening> {
        listed(&self.opened, unit.0).filter_map(|id| self.opening(*id))
    }

    /// The id of the opening that is added next.
    pub(crate) fn next_opening(&self) -> OpeningId {
        OpeningId::at(self.openings.len())
    }

    /// Of the openings of a unit those of a bay, which begin with `first`: over its floor, and over each of its shelves. What is
    /// nested in them stands on other shelves, or is the lowest of a bay of its own.
    pub(crate) fn openings_on(
        &self,
        (unit, first): (UnitId, OpeningId),
        (floor, shelves): (PartId, &[PartId]),
    ) -> Vec<OpeningId> {
        let new = listed(&self.opened, unit.0).copied().filter(|id| *id >= first);
        let mut lowest = true;
        let own = new.filter(|id| {
            self.opening(*id).is_some_and(|opening| match opening.lowest {
                true => opening.on == floor && std::mem::take(&mut lowest),
                false => shelves.contains(&opening.on),
            })
        });
        own.collect()
    }

    /// The openings of a unit with dividers in them.
    pub fn divided_of(&self, unit: UnitId) -> impl Iterator<Item = &Divided> {
        let from = self.divided.partition_point(|divided| divided.unit < unit);
        self.divided.iter().skip(from).take_while(move |divided| divided.unit == unit)
    }

    /// The shelves of a unit that stand in its bays.
    #[must_use]
    pub fn in_bays(&self, unit: UnitId) -> BTreeSet<PartId> {
        self.divided_of(unit)
            .flat_map(|divided| &divided.bays)
            .flat_map(|bay| bay.shelves.iter().copied())
            .collect()
    }

    /// What is fixed to a part and is of a role: the cleat under a shelf, the strip before it.
    #[must_use]
    pub fn fixed_to(&self, part: PartId, role: Role) -> Option<&Part> {
        listed(&self.fixed, part.0).filter_map(|id| self.part(*id)).find(|part| part.role == role)
    }

    /// The joints by which a part is held.
    pub fn joints_of(&self, guest: PartId) -> impl Iterator<Item = &Joint> {
        listed(&self.held, guest.0).filter_map(|position| self.joints.get(*position))
    }

    /// The joints by which a part holds others.
    pub fn joints_in(&self, host: PartId) -> impl Iterator<Item = &Joint> {
        listed(&self.holds, host.0).filter_map(|position| self.joints.get(*position))
    }

    /// What something that fasteners join is called.
    #[must_use]
    pub fn called(&self, member: Member) -> &str {
        match member {
            Member::Part(id) => self.part(id).map(|part| part.path.as_str()),
            Member::Unit(id) => self.unit(id).map(|unit| unit.path.as_str()),
            Member::Wall(position) => self.walls.get(position).map(|wall| &**wall),
        }
        .unwrap_or_default()
    }

    /// The position of each run, and behind them of each carcass that stands alone.
    fn groups(&self) -> BTreeMap<Group, usize> {
        let runs = self.numbered_runs().map(|(id, _)| Group::Run(id));
        let alone = self.numbered_units().filter(|(_, unit)| unit.run.is_none());
        runs.chain(alone.map(|(id, _)| Group::Alone(id))).zip(0..).collect()
    }
}

/// What stands together: the units of a run, or a carcass that stands alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Group {
    Run(RunId),
    Alone(UnitId),
}

impl Group {
    /// What a part belongs to.
    fn of(part: &Part) -> Option<Self> {
        part.run.map(Self::Run).or(part.unit.map(Self::Alone))
    }
}

/// The list at a position, which is made where there is none.
fn entry<T>(lists: &mut Vec<Vec<T>>, at: u32) -> &mut Vec<T> {
    let at = at as usize;
    if lists.len() <= at {
        lists.resize_with(at.saturating_add(1), Vec::new);
    }
    #[allow(clippy::indexing_slicing, reason = "the line before makes room")]
    &mut lists[at]
}

fn listed<T>(lists: &[Vec<T>], at: u32) -> impl Iterator<Item = &T> {
    lists.get(at as usize).map(Vec::as_slice).unwrap_or_default().iter()
}
