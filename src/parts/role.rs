//! What parts are for.

use super::RowKind;
use std::fmt;

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
    /// The front of a drawer, screwed to its box.
    DrawerFront,
    /// A side of a drawer's box, from its front to its rear.
    DrawerSide(Hand),
    /// The front or the rear piece of a drawer's box, between its sides.
    DrawerEnd(Face),
    /// The bottom of a drawer's box.
    DrawerBottom,
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
            Self::DrawerFront => "drawer front",
            Self::DrawerSide(_) => "drawer side",
            Self::DrawerEnd(Face::Front) => "drawer end",
            Self::DrawerEnd(Face::Rear) => "drawer back",
            Self::DrawerBottom => "drawer bottom",
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

    /// Whether it belongs to the box of a drawer, which is put in afterwards and stays bare: paint would rub and stick there (common
    /// practice, no source).
    #[must_use]
    pub fn is_drawer_box(self) -> bool {
        matches!(self, Self::DrawerSide(_) | Self::DrawerEnd(_) | Self::DrawerBottom)
    }

    /// Whether it is a door or the front of a drawer.
    #[must_use]
    pub fn is_front(self) -> bool {
        matches!(self, Self::Door | Self::DrawerFront)
    }

    /// Whether it is carried with the carcass, to which the facing, what lies loose, a plinth, a counter, doors and drawers come
    /// afterwards.
    #[must_use]
    pub fn is_carried(self) -> bool {
        let apart = matches!(self, Self::BaseRail(_) | Self::Rib | Self::Counter);
        !apart && !self.is_front() && !self.is_drawer_box() && !self.is_facing() && !self.is_loose()
    }

    /// Whether it is cut to its place in the room and put on: facing, filler, counter, door, panel.
    #[must_use]
    pub fn is_put_on(self) -> bool {
        self.is_facing() || self.is_front() || matches!(self, Self::Counter | Self::CeilingPanel)
    }

    /// Whether it is part of the facing.
    #[must_use]
    pub fn is_facing(self) -> bool {
        self.facing_row().is_some()
    }

    /// The row of fasteners by which a part of the facing is held; `None` of what is no part of it.
    #[must_use]
    pub fn facing_row(self) -> Option<RowKind> {
        match self {
            Self::Strip => Some(RowKind::Strip),
            Self::Stile => Some(RowKind::Stile),
            Self::Filler => Some(RowKind::Filler),
            Self::TopRail | Self::BottomRail => Some(RowKind::Rail),
            Self::Side(_)
            | Self::Shelf
            | Self::Cleat
            | Self::Stretcher(..)
            | Self::Top
            | Self::Divider
            | Self::Loose
            | Self::LooseStrip
            | Self::Back
            | Self::Counter
            | Self::Door
            | Self::DrawerFront
            | Self::DrawerSide(_)
            | Self::DrawerEnd(_)
            | Self::DrawerBottom
            | Self::BaseRail(_)
            | Self::Rib
            | Self::CeilingPanel => None,
        }
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
