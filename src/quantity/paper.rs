//! The paper in the printer.

use super::System;

/// What stays free at the head and the sides of a page, in millimetres.
pub const MARGIN: f64 = 8.0;

/// What stays free at its foot, where it says its number.
pub const FOOT: f64 = 13.0;

/// A size of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Paper {
    /// 210 x 297 mm (ISO 216).
    A4,
    /// 8 1/2 x 11 in (ANSI/ASME Y14.1, size A).
    Letter,
    /// Of another size: width and height in hundredths of a millimetre.
    Cut([u32; 2]),
}

impl Paper {
    /// Width and height in millimetres, upright; of another size as it is.
    #[must_use]
    pub const fn upright(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::Letter => [215.9, 279.4],
            Self::Cut([wide, high]) => [wide as f64 / 100.0, high as f64 / 100.0],
        }
    }

    /// Width and height in millimetres, lying.
    #[must_use]
    pub const fn lying(self) -> [f64; 2] {
        let [short, long] = self.upright();
        [long, short]
    }

    /// What is printed on of a page of this size: what is within its margins.
    #[must_use]
    pub const fn within([wide, high]: [f64; 2]) -> [f64; 2] {
        [wide - 2.0 * MARGIN, high - MARGIN - FOOT]
    }
}

impl System {
    /// The paper that goes with it where none is stated.
    #[must_use]
    pub const fn paper(self) -> Paper {
        match self {
            Self::Inch => Paper::Letter,
            Self::Metric => Paper::A4,
        }
    }
}
