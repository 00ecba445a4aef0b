//! What a part loses to an obstacle that it is cut round.

use super::{Bounds, Face, Part, Role};
use crate::quantity::{Length, Rational};
use serde::Serialize;

/// The shape of a cut-out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum CutOutShape {
    /// Inside the part's face.
    Hole,
    /// At an edge of it.
    Notch,
    /// Across the whole part, which is then in two pieces.
    Split,
    /// Out of its rear face, not through it.
    Rabbet,
}

impl CutOutShape {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Hole => "hole",
            Self::Notch => "notch",
            Self::Split => "split",
            Self::Rabbet => "rabbet",
        }
    }
}

/// A cut-out of one part, as large as the obstacle itself, measured on the part.
#[derive(Clone, Copy, Debug)]
pub struct CutOut {
    /// Its shape.
    pub shape: CutOutShape,
    /// The end that it is measured from along the part: `bottom end` of a side or a back, `rear end` of a rib, `left end` of
    /// other parts.
    pub end: &'static str,
    /// From that end, and its size along the part.
    pub along: [Length; 2],
    /// The edge that it is measured from across the part: `rear edge`, `lower edge`, or `left edge` of a back.
    pub edge: &'static str,
    /// From that edge, and its size across the part.
    pub across: [Length; 2],
    /// How deep it goes into the part's thickness.
    pub depth: Length,
    /// Whether a screw through the middle of the part's width finds no wood there.
    pub bars_screws: bool,
}

impl Role {
    /// The directions in the room along and across a part's face, with the names of their beginnings; `None` of what is cut
    /// round nothing.
    fn face(self) -> Option<([usize; 2], [&'static str; 2])> {
        match self {
            Self::Side(_) | Self::Divider => Some(([2, 1], ["bottom end", "rear edge"])),
            Self::Shelf | Self::Top | Self::Loose | Self::Counter => {
                Some(([0, 1], ["left end", "rear edge"]))
            }
            Self::Cleat | Self::Stretcher(..) | Self::BaseRail(_) => {
                Some(([0, 2], ["left end", "lower edge"]))
            }
            Self::Rib => Some(([1, 2], ["rear end", "lower edge"])),
            Self::Back => Some(([2, 0], ["bottom end", "left edge"])),
            Self::LooseStrip
            | Self::Door
            | Self::DrawerFront
            | Self::DrawerSide(_)
            | Self::DrawerEnd(_)
            | Self::DrawerBottom
            | Self::Filler
            | Self::Stile
            | Self::Strip
            | Self::TopRail
            | Self::BottomRail
            | Self::CeilingPanel => None,
        }
    }
}

impl Part {
    /// The directions in the room along and across its face, with the names of the end and the edge that are measured from;
    /// `None` of what nothing is cut out of. A door is cut round nothing, and bored for its hinges.
    #[must_use]
    pub fn measured_from(&self) -> Option<([usize; 2], [&'static str; 2])> {
        if self.role == Role::Door {
            return Some(([2, 0], ["bottom end", "left edge"]));
        }
        self.role.face()
    }

    /// What a part with these bounds in the room loses to an obstacle in that place. A box in the wall, which is flat in
    /// this frame, goes through all that stands before it at the wall: a back, and a cleat before that.
    #[must_use]
    pub fn cut_round(&self, bounds: &Bounds, place: &Bounds) -> Option<CutOut> {
        let ([along, across], [end, edge]) = self.role.face()?;
        let mut place = *place;
        if place[1][0] == place[1][1] {
            let at_wall = matches!(self.role, Role::Cleat | Role::Back | Role::Stretcher(_, Face::Rear));
            if !at_wall {
                return None;
            }
            place[1] = bounds[1];
        }
        // From the beginning of the part, how long, and whether wood is left at both sides.
        let taken = |axis: usize| -> Option<([Length; 2], bool)> {
            let ([low, high], [from, to]) = (*bounds.get(axis)?, *place.get(axis)?);
            let [start, end] = [from.max(low), to.min(high)];
            let size = end.checked_sub(start)?;
            size.is_positive().then_some(([start.checked_sub(low)?, size], low < from && to < high))
        };
        let (lengthwise, within) = taken(along)?;
        let (crosswise, within_too) = taken(across)?;
        let ([_, deep], _) = taken(3_usize.checked_sub(along)?.checked_sub(across)?)?;
        let thick = self.size.thickness.value;
        let rabbet = deep < thick;
        let [low, high] = *bounds.get(across)?;
        let whole = high.checked_sub(low)?;
        // A cleat is split: what a notch leaves of it holds nothing.
        let split = !rabbet && (self.role == Role::Cleat || crosswise[1] == whole);
        let shape = match (rabbet, split, within && within_too) {
            (true, ..) => CutOutShape::Rabbet,
            (false, true, _) => CutOutShape::Split,
            (false, false, true) => CutOutShape::Hole,
            (false, false, false) => CutOutShape::Notch,
        };
        let middle = whole.checked_div(Rational::from(2))?;
        let to = crosswise[0].checked_add(crosswise[1])?;
        let bars_screws = !rabbet && (split || (crosswise[0] <= middle && middle <= to));
        Some(CutOut {
            shape,
            end,
            along: lengthwise,
            edge,
            across: if split { [Length::ZERO, whole] } else { crosswise },
            depth: if rabbet { deep } else { thick },
            bars_screws,
        })
    }
}
