//! What the part graph is made of.

use crate::eval::{Contents, Len, Load, ReadingAt, Return, SheetId};
use crate::quantity::Estimate;
use crate::source::Span;
use std::fmt;
use std::sync::Arc;

/// A part of one graph.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PartId(pub u32);

impl PartId {
    /// The id of the part at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// A unit of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct UnitId(pub u32);

impl UnitId {
    /// The id of the unit at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// A run of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RunId(pub u32);

impl RunId {
    /// The id of the run at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// An opening of one graph.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct OpeningId(pub u32);

impl OpeningId {
    /// The id of the opening at a position.
    #[must_use]
    pub fn at(position: usize) -> Self {
        Self(u32::try_from(position).unwrap_or(u32::MAX))
    }
}

/// Left or right, as seen from the front.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hand {
    /// At the left.
    Left,
    /// At the right.
    Right,
}

impl Hand {
    /// Both, from left to right.
    pub const BOTH: [Self; 2] = [Self::Left, Self::Right];

    /// The word that paths and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// Where a part that is fitted on site has a width of its own: at a reading of the wall, or at an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fitted {
    /// At the reading of this height.
    Reading(ReadingAt),
    /// At its left or right end.
    End(Hand),
}

impl Fitted {
    /// The word that lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Reading(at) => at.word(),
            Self::End(hand) => hand.word(),
        }
    }

    /// What the width is called among the measures of its part.
    #[must_use]
    pub fn measure(self) -> &'static str {
        match self {
            Self::Reading(ReadingAt::Low) => "width_low",
            Self::Reading(ReadingAt::Middle) => "width_middle",
            Self::Reading(ReadingAt::High) => "width_high",
            Self::End(Hand::Left) => "width_left",
            Self::End(Hand::Right) => "width_right",
        }
    }
}

/// Where a stretcher stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum StretcherAt {
    /// Under the bottom shelf.
    Bottom,
    /// On the top shelf.
    Top,
}

/// What a part is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// A side, which runs through from the bottom to the top.
    Side(Hand),
    /// A shelf, housed in both sides.
    Shelf,
    /// A cleat under the rear edge of a shelf, between the sides.
    Cleat,
    /// A stretcher between the sides.
    Stretcher(StretcherAt, Face),
    /// A shelf in rabbets at the ends of the sides.
    Top,
    /// An upright board between two shelves.
    Divider,
    /// A shelf that lies on pins.
    Loose,
    /// A strip along the front edge of a loose shelf.
    LooseStrip,
    /// A panel behind the shelves.
    Back,
    /// A panel on the ends of the sides.
    Counter,
    /// A door.
    Door,
    /// A rail of a separate base, at its front or at the wall.
    BaseRail(Face),
    /// A piece between the rails of a base.
    Rib,
    /// A strip in the gap between an outer side and a wall, where no facing covers it.
    Filler,
    /// A stile of the facing.
    Stile,
    /// A strip before the edge of a shelf.
    Strip,
    /// A rail of the facing, at the top.
    TopRail,
    /// A rail from the floor to the top of the bottom shelf.
    BottomRail,
    /// A panel on the ceiling.
    CeilingPanel,
}

impl Role {
    /// The word that lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Side(_) => "side",
            Self::Shelf => "shelf",
            Self::Cleat => "cleat",
            Self::Stretcher(..) => "stretcher",
            Self::Top => "top",
            Self::Divider => "divider",
            Self::Loose => "loose shelf",
            Self::LooseStrip => "loose strip",
            Self::Back => "back",
            Self::BaseRail(_) => "plinth rail",
            Self::Rib => "rib",
            Self::Counter => "counter",
            Self::Door => "door",
            Self::Filler => "filler strip",
            Self::Stile => "stile",
            Self::Strip => "strip",
            Self::TopRail => "top rail",
            Self::BottomRail => "bottom rail",
            Self::CeilingPanel => "ceiling panel",
        }
    }

    /// Whether it lies loose: a loose shelf and its strip.
    #[must_use]
    pub fn is_loose(self) -> bool {
        matches!(self, Self::Loose | Self::LooseStrip)
    }

    /// Whether it is carried with the carcass, to which the facing, what lies loose, a plinth, a counter and doors come
    /// afterwards.
    #[must_use]
    pub fn is_carried(self) -> bool {
        let apart = matches!(self, Self::BaseRail(_) | Self::Rib | Self::Counter | Self::Door);
        !apart && !self.is_facing() && !self.is_loose()
    }

    /// Whether it is part of the facing.
    #[must_use]
    pub fn is_facing(self) -> bool {
        matches!(self, Self::Stile | Self::Strip | Self::TopRail | Self::BottomRail | Self::Filler)
    }
}

impl fmt::Display for Role {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

/// The front or the rear of a unit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Face {
    /// Towards the room.
    Front,
    /// Towards the wall.
    Rear,
}

/// Thickness, width and length of a part; its length runs along the grain.
#[derive(Clone, Copy, Debug)]
pub struct Size {
    /// Thickness.
    pub thickness: Len,
    /// Across the grain.
    pub width: Len,
    /// Along the grain.
    pub length: Len,
}

/// Where a part's lower, left, rear corner lies in its unit.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// From the left face of the unit.
    pub x: Len,
    /// From the rear of the unit.
    pub y: Len,
    /// From the bottom end of the unit's sides.
    pub z: Len,
}

/// How a part is called.
#[derive(Clone, Debug)]
pub struct Called {
    /// Its path of names.
    pub path: String,
    /// Its own name.
    pub name: Arc<str>,
    /// The path by which it was called before, which texts may still use.
    pub former: Option<String>,
}

impl Called {
    /// What stands under `within` as the one of a kind of parts that has this name: `one.shelf` and `binders`.
    #[must_use]
    pub fn new(within: &str, kind: &str, name: &str) -> Self {
        Self { path: format!("{within}.{kind}.{name}"), name: name.into(), former: None }
    }

    /// What stands under `within` alone of its kind: `one` and `counter`.
    #[must_use]
    pub fn alone(within: &str, kind: &str) -> Self {
        Self { path: format!("{within}.{kind}"), name: kind.into(), former: None }
    }

    /// What stands between two members that have names of their own: `one.stile.a.b`. Until names were joined by a dot, which
    /// no name may hold, it was called `one.stile.a_b`.
    #[must_use]
    pub fn between(within: &str, kind: &str, [left, right]: [&str; 2]) -> Self {
        let former = format!("{within}.{kind}.{}_{}", left.replace('.', "_"), right.replace('.', "_"));
        Self { former: Some(former), ..Self::new(within, kind, &format!("{left}.{right}")) }
    }

    /// What is only counted: `one` and `door`, the second one.
    #[must_use]
    pub fn counted(within: &str, kind: &str, number: impl fmt::Display) -> Self {
        Self { path: format!("{within}.{kind}[{number}]"), name: kind.into(), former: None }
    }
}

/// Whose a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Owner {
    /// The unit; `None` for what belongs to the run alone.
    pub unit: Option<UnitId>,
    /// The run; `None` of a carcass that stands alone.
    pub run: Option<RunId>,
}

/// A part.
#[derive(Clone, Debug)]
pub struct Part {
    /// Which part it is.
    pub id: PartId,
    /// Its path of names, `sewing.one.shelf.binders`: how it is called, and nothing more.
    pub path: String,
    /// Its own name: the last of its path; of a part that is only counted, its word.
    pub name: Arc<str>,
    /// The path by which it was called before, which texts may still use.
    pub former: Option<String>,
    /// The unit that it belongs to; `None` for a part of the run.
    pub unit: Option<UnitId>,
    /// The run that it belongs to, by itself or with its unit; `None` of a carcass that stands alone.
    pub run: Option<RunId>,
    /// What it is for.
    pub role: Role,
    /// What it is cut from.
    pub stock: Stock,
    /// Its finished size; of a part that is scribed, the mean one.
    pub size: Size,
    /// Its finished widths at the readings, or at both ends, where it is fitted on site.
    pub scribed: Vec<(Fitted, Len)>,
    /// What is cut in the shop, where it is fitted on site.
    pub blank: Option<Blank>,
    /// Where it stands in its unit, or in its run.
    pub place: Place,
    /// Sizes that were measured on the part as it was built.
    pub as_built: Vec<AsBuilt>,
    /// What it is fixed to: of a strip or a cleat its shelf, of a stile the sides or the divider behind it, of a rail what is
    /// behind it, of a filler strip its side.
    pub backing: Vec<PartId>,
    /// Its length from shoulder to shoulder, where its ends are tenons: so much is seen, and its place is that of the shoulder.
    pub shoulders: Option<Len>,
}

/// A size of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sized {
    /// Along the grain.
    Length,
    /// Across the grain.
    Width,
    /// Of its stock.
    Thickness,
}

impl Sized {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Length, Self::Width, Self::Thickness];

    /// The word that the text and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::Width => "width",
            Self::Thickness => "thickness",
        }
    }
}

/// A size that was measured on a part as it was built; the measured one stands in the part's size.
#[derive(Clone, Debug)]
pub struct AsBuilt {
    /// Which size.
    pub size: Sized,
    /// What was derived for it.
    pub derived: Len,
    /// Why it differs.
    pub because: Option<Arc<str>>,
}

impl Part {
    /// A part that is cut to its finished size; [`PartGraph::add`](super::PartGraph::add) gives it its id.
    #[must_use]
    pub fn new(called: Called, owner: Owner, role: Role, stock: Stock, size: Size, place: Place) -> Self {
        Self {
            id: PartId::default(),
            path: called.path,
            name: called.name,
            former: called.former,
            unit: owner.unit,
            run: owner.run,
            role,
            stock,
            size,
            scribed: Vec::new(),
            blank: None,
            place,
            as_built: Vec::new(),
            backing: Vec::new(),
            shoulders: None,
        }
    }

    /// Its length without what stands in other parts.
    #[must_use]
    pub fn seen_length(&self) -> Len {
        self.shoulders.unwrap_or(self.size.length)
    }

    /// What is cut in the shop: width and length.
    #[must_use]
    pub fn cut(&self) -> Blank {
        self.blank.unwrap_or(Blank { width: self.size.width, length: self.size.length })
    }
}

/// What a part is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stock {
    /// A sheet.
    Sheet(SheetId),
    /// A board, by its position in the model.
    Board(usize),
}

/// Width and length that are cut in the shop.
#[derive(Clone, Copy, Debug)]
pub struct Blank {
    /// Across the grain.
    pub width: Len,
    /// Along the grain.
    pub length: Len,
}

/// How one part is held by another.
#[derive(Clone, Copy, Debug)]
pub enum JointKind {
    /// A groove across the host's grain that takes the guest's end.
    Dado {
        /// Its depth.
        depth: Len,
        /// How much wider than the guest it is.
        fit: Len,
        /// Its width: the guest's thickness and the fit.
        width: Len,
    },
    /// A dado at the host's end, which has one wall only.
    Rabbet {
        /// Its depth.
        depth: Len,
    },
    /// A groove along the host's grain that takes the guest's edge.
    Groove {
        /// Its depth.
        depth: Len,
        /// Its width: the guest's thickness and the fit.
        width: Len,
        /// From the host's rear edge to it.
        set_in: Len,
    },
    /// A mortise in the host's edge that takes a tenon of the guest.
    Mortise {
        /// Into the edge.
        depth: Len,
    },
    /// The guest against the host's face.
    Butt,
}

impl JointKind {
    /// What lists call it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Dado { .. } => "dado",
            Self::Rabbet { .. } => "rabbet",
            Self::Groove { .. } => "groove",
            Self::Mortise { .. } => "mortise",
            Self::Butt => "butt",
        }
    }

    /// How deep it is cut into the host; `None` of a butt joint.
    #[must_use]
    pub fn depth(self) -> Option<Len> {
        match self {
            Self::Dado { depth, .. }
            | Self::Rabbet { depth }
            | Self::Groove { depth, .. }
            | Self::Mortise { depth } => Some(depth),
            Self::Butt => None,
        }
    }
}

/// A joint between two parts.
#[derive(Clone, Copy, Debug)]
pub struct Joint {
    /// The part that is held.
    pub guest: PartId,
    /// The part that holds it.
    pub host: PartId,
    /// How.
    pub kind: JointKind,
    /// Where on the host: from its bottom end to the guest's underside.
    pub at: Len,
}

/// The room over a shelf.
#[derive(Clone, Debug)]
pub struct Opening {
    /// The path of its measures: the shelf that it stands on, or its bay.
    pub path: String,
    /// Its own name: that of its shelf or bay.
    pub name: Arc<str>,
    /// The loose shelves in it, from the bottom.
    pub loose: Vec<PartId>,
    /// Whether it lies in a bay, and not between the sides of the carcass.
    pub bay: bool,
    /// Whether it is the lowest one of its bay, which has the bay's name.
    pub lowest: bool,
    /// Whether dividers stand in it: what stands there, stands in its bays.
    pub divided: bool,
    /// Its unit.
    pub unit: UnitId,
    /// The shelf that it stands on, which names it.
    pub on: PartId,
    /// The part above it; `None` over the top shelf.
    pub under: Option<PartId>,
    /// Between the sides.
    pub clear_width: Len,
    /// From the shelf to what is above it.
    pub clear_height: Len,
    /// The clear height at the wall, under the cleat that hangs there; equal to the clear height where there is none.
    pub opening_rear: Len,
    /// The clear height at the front, under the strip or rail that hangs there; equal to the clear height where none does.
    pub opening_front: Len,
    /// From the front of the facing to the wall.
    pub depth: Len,
    /// What it carries, if that is stated.
    pub load: Option<Load>,
    /// What is stated to stand in this very opening.
    pub contents: Vec<Contents>,
}

/// An opening with dividers in it.
#[derive(Clone, Debug)]
pub struct Divided {
    /// Its unit.
    pub unit: UnitId,
    /// The opening.
    pub opening: OpeningId,
    /// The top of the shelf that it stands on, from the bottom end of the unit.
    pub floor: Len,
    /// That shelf.
    pub on: PartId,
    /// Its bays from left to right.
    pub bays: Vec<PartBay>,
}

/// A bay of a divided opening.
#[derive(Clone, Debug)]
pub struct PartBay {
    /// Its path of names.
    pub path: String,
    /// Its own name.
    pub name: Arc<str>,
    /// Where it begins, from the left face of the unit.
    pub x: Len,
    /// Between its uprights.
    pub clear: Len,
    /// Its own shelves, from the bottom.
    pub shelves: Vec<PartId>,
    /// Its openings from the bottom: the first one stands on its floor.
    pub openings: Vec<OpeningId>,
    /// The divider at its right; `None` for the last bay.
    pub divider: Option<PartId>,
}

/// Holes for pins: two rows in each of two uprights, on one grid from the bottom end of the unit.
#[derive(Clone, Debug)]
pub struct Bore {
    /// The opening.
    pub opening: OpeningId,
    /// Its unit.
    pub unit: UnitId,
    /// The left and the right upright.
    pub hosts: [PartId; 2],
    /// From hole to hole.
    pub pitch: Len,
    /// The number of the lowest and of the highest hole: so many pitches from the bottom end.
    pub numbers: [i128; 2],
    /// Their heights from the bottom end of the unit.
    pub ends: [Len; 2],
    /// From the front edge to the front row, and from the rear edge to the rear row.
    pub rows: [Len; 2],
    /// How deep a hole is bored.
    pub depth: Len,
    /// How wide it is: as the pin, where that states its diameter.
    pub wide: Option<Len>,
}

/// A carcass.
#[derive(Clone, Debug)]
pub struct Unit {
    /// Its path of names.
    pub path: String,
    /// The run that it stands in; `None` where it stands alone.
    pub run: Option<RunId>,
    /// Its own name: the last one of its path.
    pub name: Arc<str>,
    /// What it is called in lists: the last step of its path, or its text.
    pub title: String,
    /// Where it is declared.
    pub head: Option<Span>,
    /// What it is cut from.
    pub sheet: SheetId,
    /// Over the outer faces of the sides.
    pub width: Len,
    /// Between the sides.
    pub clear: Len,
    /// From the bottom end of its sides to their top end.
    pub height: Len,
    /// The height of the separate base that its sides stand on; `None` where they stand on the floor.
    pub stands: Option<Len>,
    /// The toe space before it: its height over the level line, and its depth from the front edges.
    pub toe: Option<[Len; 2]>,
    /// From the rear to the front edge.
    pub depth: Len,
    /// From the left corner of the wall to its left face; `None` where it stands alone.
    pub x: Option<Len>,
    /// The first and the last place along the wall where a screw can be driven.
    pub screw_window: Option<[Len; 2]>,
    /// The studs within it.
    pub studs: Vec<Len>,
}

/// A run.
#[derive(Clone, Debug)]
pub struct RunPart {
    /// Its name.
    pub path: String,
    /// From each end to the outer unit, where the run is tightest; `None` where no length is known.
    pub gaps: Option<[Len; 2]>,
    /// All units together.
    pub total_width: Len,
    /// Its ends with their gaps at every reading; empty where no length is known.
    pub ends: Vec<EndPart>,
    /// Its units from left to right.
    pub units: Vec<UnitId>,
    /// The wall that it stands against, by its position in the model.
    pub wall: Option<usize>,
    /// How far a stile reaches over an opening.
    pub lap: Len,
    /// The floor below the level line under each outer face of a unit, from left to right: what is packed there.
    pub floor_at_faces: Vec<Len>,
    /// The crown on it.
    pub crown: Option<Crown>,
    /// The stiles at its left and right end, where it has a facing.
    pub end_stiles: [Option<PartId>; 2],
    /// Its facing, where that is a frame.
    pub frame: Option<FramePart>,
}

/// A facing that is joined on the bench and put on in one piece, as it is carried: with its blanks.
#[derive(Clone, Copy, Debug)]
pub struct FramePart {
    /// Over the stiles of both ends.
    pub width: Len,
    /// Of its longest stile.
    pub height: Len,
    /// Of all its parts.
    pub thickness: Len,
    /// Where its join is stated.
    pub head: Span,
}

/// An end of a run.
#[derive(Clone, Debug)]
pub struct EndPart {
    /// What it meets.
    pub meets: Return,
    /// The gap where the run is tightest.
    pub gap: Len,
    /// The gap at the back at middle height, from which places along the wall count.
    pub corner: Len,
    /// The gap at every reading.
    pub readings: Vec<EndGap>,
}

/// The gap of an end at one reading.
#[derive(Clone, Debug)]
pub struct EndGap {
    /// At which reading.
    pub at: ReadingAt,
    /// The height, if it is stated.
    pub height: Option<Len>,
    /// At the front, where the facing is.
    pub front: Option<Len>,
    /// At the wall.
    pub back: Option<Len>,
}

/// A crown: pieces of moulding on the top rails.
#[derive(Clone, Debug)]
pub struct Crown {
    /// The moulding's name.
    pub moulding: String,
    /// How far it reaches down from the ceiling.
    pub drop: Estimate,
    /// How far it reaches out.
    pub projection: Estimate,
    /// The gap between the ends of the sides and the ceiling, least and greatest.
    pub gap: Option<[Len; 2]>,
    /// Pieces: name, length at the foot, length at the top edge.
    pub pieces: Vec<CrownPiece>,
    /// The width of its face.
    pub width: Len,
    /// The length of stick that all pieces need, with trim and kerfs.
    pub stick: Estimate,
    /// The shortest length sold that gives all pieces, if one does.
    pub buy: Option<Len>,
}

/// Where a piece of a crown runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CrownAt {
    /// Along the facing.
    Front,
    /// From the facing's end back to the wall.
    Return(Hand),
}

impl CrownAt {
    /// The word that paths and lists use.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Return(hand) => hand.word(),
        }
    }
}

/// A piece of a crown.
#[derive(Clone, Debug)]
pub struct CrownPiece {
    /// Which it is.
    pub at: CrownAt,
    /// Its length where it meets the facing.
    pub foot: Len,
    /// Its length at the top edge.
    pub top: Estimate,
}

/// How the router is guided: two passes, the one with spacer 2 first.
#[derive(Clone, Copy, Debug)]
pub struct RouterPart {
    /// From the line to the guide, for the pass next to the line.
    pub spacer_1: Len,
    /// From the line to the guide, for the pass that takes the rest.
    pub spacer_2: Len,
    /// How far the two passes overlap; negative where they do not meet.
    pub overlap: Len,
    /// The lowest line; `None` where the only ones lie at the ends of boards: a rabbet is guided from the other side.
    pub lowest: Option<LowestLine>,
}

/// The lowest line along which a router is guided.
#[derive(Clone, Copy, Debug)]
pub struct LowestLine {
    /// Its mark.
    pub mark: Len,
    /// What is left of the board for the guide below it; negative where it hangs over.
    pub board: Len,
}
