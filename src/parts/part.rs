//! A part, with its sizes.

use super::{Called, Hand, PartId, Role, RunId, UnitId};
use crate::eval::{Len, ReadingAt, SheetId};
use std::sync::Arc;

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
    /// Its path as lists have it under the head of a unit or run: without that.
    #[must_use]
    pub fn within(&self, of: &str) -> &str {
        self.path.strip_prefix(of).and_then(|own| own.strip_prefix('.')).unwrap_or(&self.path)
    }

    /// A part that is cut to its finished size; [`PartGraph::add`](super::PartGraph::add) gives it its id.
    #[must_use]
    pub fn new(called: Called, owner: Owner, role: Role, stock: Stock, size: Size, place: Place) -> Self {
        Self {
            id: PartId::at(0),
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
