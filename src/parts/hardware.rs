//! Rows of fasteners: every nail, brad and screw belongs to a row, and every row to the two parts that it joins.

use super::{PartGraph, PartId, UnitId};
use crate::eval::{Len, Wall};
use crate::quantity::Length;
use num_traits::ToPrimitive;
use serde::Serialize;

macro_rules! row_kinds {
    ($($(#[doc = $doc:literal])+ $name:ident: $step:literal, $words:literal;)+) => {
        /// Why a row is there; its words name it in lists.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
        #[serde(rename_all = "snake_case")]
        pub enum RowKind {
            $($(#[doc = $doc])+ $name,)+
        }

        impl RowKind {
            /// All of them.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// The step of a path that leads to their measures: `hardware.NAME.shelf_ends`.
            #[must_use]
            pub fn step(self) -> &'static str {
                match self {
                    $(Self::$name => $step,)+
                }
            }

            /// What the rows of this kind are called in lists.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {
                    $(Self::$name => $words,)+
                }
            }

            /// Where its fasteners go.
            #[must_use]
            pub fn about(self) -> &'static str {
                match self {
                    $(Self::$name => concat!($($doc),+).trim_ascii(),)+
                }
            }
        }
    };
}

row_kinds! {
    /// Through a side into the end of a shelf, as long as the unit is deep.
    ShelfEnd: "shelf_ends", "shelf ends in dados and rabbets";
    /// Through a side into the end of a stretcher, as long as the stretcher is high.
    StretcherEnd: "stretcher_ends", "stretcher ends";
    /// Through a side into the end of a cleat, as long as the cleat is high.
    CleatEnd: "cleat_ends", "cleat ends";
    /// Through a shelf into the cleat under it.
    AlongCleat: "along_cleats", "along cleats";
    /// Through a strip into the edge of its shelf.
    Strip: "strips", "strips";
    /// Through a rail into what is behind it.
    Rail: "rails", "rails";
    /// Through a stile into the edge of a side.
    Stile: "stiles", "stiles";
    /// Through a cleat or the rear stretcher into the wall.
    Wall: "wall", "to the wall";
    /// From unit to unit through both sides of a seam.
    Seam: "seams", "seams from unit to unit";
    /// Through a shelf into the end of a divider.
    DividerEnd: "divider_ends", "divider ends";
    /// Through a rail of a base into the end of a rib.
    RibEnd: "rib_ends", "rib ends in plinths";
    /// From a rail of a base into the carcass on it.
    Base: "plinths", "carcasses on plinths";
    /// From a side into the counter on it.
    Counter: "counters", "counters on sides";
    /// Under the ends of a loose shelf.
    Pins: "pins", "pins under loose shelves";
    /// Through a back into the edge of a side.
    Back: "backs", "along backs";
    /// From the end of a rail of a frame into its stile.
    Frame: "frames", "ends of rails in stiles";
    /// Through a filler strip into the outer face of a side.
    Filler: "fillers", "filler strips";
    /// Through a panel into the ceiling, along its long edges.
    CeilingPanel: "ceiling_panels", "ceiling panels";
    /// From a door to what it hangs on.
    Hinge: "hinges", "hinges of doors";
    /// From the box of a drawer to what it runs in: a pair.
    Slide: "slides", "slides of drawers";
    /// On a door, or on the front of a drawer.
    Pull: "pulls", "pulls";
    /// Through a side of a drawer's box into the end of its front or rear piece.
    BoxCorner: "box_corners", "corners of drawers";
    /// From within a drawer's box into its front.
    DrawerFront: "drawer_fronts", "fronts on drawers";
}

/// How many fasteners a row takes.
#[derive(Clone, Debug)]
pub enum Spacing {
    /// One at each end and the rest between them.
    Pitch {
        /// From each end to the first one.
        ends: Len,
        /// The most from one to the next.
        pitch: Len,
    },
    /// One in each stud, at these places from the left corner of the wall.
    Studs(Vec<Len>),
    /// So many at so many heights.
    Heights {
        /// How many heights.
        heights: usize,
        /// How many at each.
        each: usize,
    },
    /// One under each corner of a shelf.
    Corners,
    /// One, or a pair.
    Single,
}

/// What a row of fasteners joins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Member {
    /// A part.
    Part(PartId),
    /// A unit as a whole.
    Unit(UnitId),
    /// A wall, by its position in the model.
    Wall(usize),
}

impl Member {
    /// The part, if it is one.
    #[must_use]
    pub fn part(self) -> Option<PartId> {
        match self {
            Self::Part(id) => Some(id),
            Self::Unit(_) | Self::Wall(_) => None,
        }
    }
}

impl From<PartId> for Member {
    fn from(id: PartId) -> Self {
        Self::Part(id)
    }
}

/// A row of fasteners.
#[derive(Clone, Debug)]
pub struct Row {
    /// Why it is there.
    pub kind: RowKind,
    /// What is held.
    pub guest: Member,
    /// What holds it.
    pub host: Member,
    /// How long the row is.
    pub length: Len,
    /// The nail or screw, by its position in the model; `None` where none is stated.
    pub fastener: Option<usize>,
    /// Whether the joint is glued.
    pub glued: bool,
    /// How the fasteners stand in it.
    pub spacing: Spacing,
    /// How many there are.
    pub count: usize,
}

impl PartGraph {
    /// How deep the screws of a row hold in what is behind the lining of its wall: their length less the part, what stands behind that,
    /// and the lining. `None` where a length is not stated; below nought where they do not reach.
    #[must_use]
    pub fn grip(&self, row: &Row, wall: &Wall) -> Option<Length> {
        let held = self.part(row.guest.part()?)?;
        let length = self.fasteners.get(row.fastener?)?.length?.value;
        let through = held.place.y.value.checked_add(held.size.thickness.value)?;
        length.checked_sub(through.checked_add(wall.lining?.value)?)
    }
}

/// How many fasteners stand in a row of a length: one at each end, the rest at most a pitch apart, never under two.
#[must_use]
pub fn in_a_row(length: Length, ends: Length, pitch: Length) -> usize {
    let between = ends.checked_add(ends).and_then(|ends| length.checked_sub(ends));
    let spaces = between.and_then(|between| between.ratio(pitch)).map(|ratio| ratio.ceil().to_integer());
    spaces.and_then(|spaces| spaces.checked_add(1)).and_then(|count| count.max(2).to_usize()).unwrap_or(2)
}

/// How many to buy: so many more by a share of one in `share`, up to a whole one.
#[must_use]
pub fn with_spares(count: usize, share: usize) -> usize {
    count.saturating_add(count.div_ceil(share.max(1)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Rational;

    fn inch(n: i128, d: i128) -> Length {
        Length::from_inches(Rational::new(n, d)).unwrap()
    }

    #[test]
    fn nails_in_a_row_of_worked_example_a() {
        // Step 8: dado 3, stretcher end 2, cleat end 2, along a cleat 5, strip or rail 5, stile 12.
        let (ends, close, wide) = (inch(3, 2), inch(9, 2), inch(8, 1));
        assert_eq!(in_a_row(inch(189, 16), ends, close), 3);
        assert_eq!(in_a_row(inch(7, 2), ends, close), 2);
        assert_eq!(in_a_row(inch(5, 2), ends, close), 2);
        assert_eq!(in_a_row(inch(493, 16), ends, wide), 5);
        assert_eq!(in_a_row(inch(61, 2), ends, wide), 5);
        assert_eq!(in_a_row(inch(173, 2), ends, wide), 12);
    }

    #[test]
    fn five_in_a_hundred_more_are_bought() {
        // Step 8 of A: 448 and 236, buy 471 and 248; B: 214 and 125, buy 225 and 132.
        assert_eq!([448, 236, 214, 125].map(|count| with_spares(count, 20)), [471, 248, 225, 132]);
    }
}
