//! Dimensions: what kind of thing a number measures.

use std::fmt;

/// The dimension of a quantity as exponents of its base kinds.
///
/// Weight stands for mass and for the force of that mass under standard gravity (9.80665 m/s2): a load is a weight.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Dim {
    /// Exponent of length (base unit: millimetre).
    pub length: i8,
    /// Exponent of weight (base unit: kilogram, or the force of one kilogram).
    pub weight: i8,
    /// Exponent of time (base unit: second).
    pub time: i8,
    /// Exponent of money (base unit: one of the project's currency).
    pub money: i8,
    /// Exponent of angle (base unit: degree).
    pub angle: i8,
}

impl Dim {
    /// A count or a ratio.
    pub const NONE: Self = Self { length: 0, weight: 0, time: 0, money: 0, angle: 0 };
    /// A length.
    pub const LENGTH: Self = Self { length: 1, ..Self::NONE };
    /// An area.
    pub const AREA: Self = Self { length: 2, ..Self::NONE };
    /// A volume.
    pub const VOLUME: Self = Self { length: 3, ..Self::NONE };
    /// A weight.
    pub const WEIGHT: Self = Self { weight: 1, ..Self::NONE };
    /// A weight for each unit of length.
    pub const LINE_LOAD: Self = Self { weight: 1, length: -1, ..Self::NONE };
    /// A weight for each unit of area; also a pressure or a stiffness.
    pub const AREA_LOAD: Self = Self { weight: 1, length: -2, ..Self::NONE };
    /// A weight for each unit of volume.
    pub const DENSITY: Self = Self { weight: 1, length: -3, ..Self::NONE };
    /// A time.
    pub const TIME: Self = Self { time: 1, ..Self::NONE };
    /// Money.
    pub const MONEY: Self = Self { money: 1, ..Self::NONE };
    /// Money for each unit of length.
    pub const LINE_PRICE: Self = Self { money: 1, length: -1, ..Self::NONE };
    /// Money for each unit of area.
    pub const AREA_PRICE: Self = Self { money: 1, length: -2, ..Self::NONE };
    /// Money for each unit of volume.
    pub const VOLUME_PRICE: Self = Self { money: 1, length: -3, ..Self::NONE };
    /// An angle.
    pub const ANGLE: Self = Self { angle: 1, ..Self::NONE };
    /// The area that a volume of paint or glue covers.
    pub const SPREAD: Self = Self { length: -1, ..Self::NONE };

    /// The dimension of a product; `None` where an exponent leaves its range.
    #[must_use]
    pub fn times(self, other: Self) -> Option<Self> {
        Some(Self {
            length: self.length.checked_add(other.length)?,
            weight: self.weight.checked_add(other.weight)?,
            time: self.time.checked_add(other.time)?,
            money: self.money.checked_add(other.money)?,
            angle: self.angle.checked_add(other.angle)?,
        })
    }

    /// The dimension of a quotient; `None` where an exponent leaves its range.
    #[must_use]
    pub fn over(self, other: Self) -> Option<Self> {
        Some(Self {
            length: self.length.checked_sub(other.length)?,
            weight: self.weight.checked_sub(other.weight)?,
            time: self.time.checked_sub(other.time)?,
            money: self.money.checked_sub(other.money)?,
            angle: self.angle.checked_sub(other.angle)?,
        })
    }

    /// A literal of this dimension, to show in a message.
    #[must_use]
    pub fn example(self) -> &'static str {
        match self {
            Self::NONE => "4",
            Self::LENGTH => "11 7/8\" or 18mm",
            Self::AREA => "12 ft2",
            Self::VOLUME => "1 gal",
            Self::WEIGHT => "50 lb",
            Self::LINE_LOAD => "35 lb/ft or 40 kg/m",
            Self::AREA_LOAD => "50 psf or 0.95e6 psi",
            Self::DENSITY => "36 lb/ft3 or 680 kg/m3",
            Self::TIME => "4 h",
            Self::MONEY => "68 USD",
            Self::LINE_PRICE => "2.40 USD/ft",
            Self::AREA_PRICE => "6.20 USD/ft2",
            Self::VOLUME_PRICE => "6.20 USD/bdft",
            Self::ANGLE => "38 deg",
            Self::SPREAD => "350 ft2/gal",
            _ => "a product of units",
        }
    }
}

impl Dim {
    /// What a number of this dimension is, with its article.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NONE => "a plain number",
            Self::LENGTH => "a length",
            Self::AREA => "an area",
            Self::VOLUME => "a volume",
            Self::WEIGHT => "a weight",
            Self::LINE_LOAD => "a weight per length",
            Self::AREA_LOAD => "a weight per area",
            Self::DENSITY => "a weight per volume",
            Self::TIME => "a time",
            Self::MONEY => "a sum of money",
            Self::LINE_PRICE => "a price per length",
            Self::AREA_PRICE => "a price per area",
            Self::VOLUME_PRICE => "a price per volume",
            Self::ANGLE => "an angle",
            Self::SPREAD => "an area per volume",
            _ => "a compound quantity",
        }
    }
}

impl fmt::Display for Dim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}
