//! From the work to paper: a standard scale, and where the work lies.

use super::Point;
use crate::quantity::{Length, System};
use std::fmt;

/// The scales of ISO 5455 for drawings smaller than the work, with those that inches are drawn in (3 in, 1 1/2 in, 1 in,
/// 3/4 in, 1/2 in, 1/4 in to the foot; common practice, no source).
const STANDARD: [u32; 13] = [1, 2, 4, 5, 8, 10, 12, 16, 20, 24, 48, 50, 100];

/// So many millimetres of the work are one of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(u32);

impl Scale {
    /// The standard scales, the largest first.
    pub fn standard() -> impl Iterator<Item = Self> {
        STANDARD.into_iter().map(Self)
    }

    /// The standard scales of a system, the largest first; beyond them whole hundreds.
    pub fn of(system: System) -> impl Iterator<Item = Self> {
        let standard: &[u32] = match system {
            // 12, 6, 3, 1 1/2, 1, 3/4, 1/2, 3/8 and 1/4 in to the foot (common practice, no source).
            System::Inch => &[1, 2, 4, 8, 12, 16, 24, 32, 48],
            // ISO 5455.
            System::Metric => &[1, 2, 5, 10, 20, 50],
        };
        standard.iter().copied().chain((1..=10_000).map(|hundreds| hundreds * 100)).map(Self)
    }

    /// The largest standard scale by which something fits a place of so many millimetres; beyond them the next whole
    /// hundred. `size` says how wide and high it is on paper by a scale.
    #[must_use]
    pub fn fitting(size: impl Fn(Self) -> [f64; 2], room: [f64; 2]) -> Self {
        let fits = |scale: &Self| size(*scale).iter().zip(room).all(|(size, room)| *size <= room);
        let beyond = || (1..=10_000).map(|hundreds| Self(hundreds * 100));
        Self::standard().chain(beyond()).find(fits).unwrap_or(Self(u32::MAX))
    }

    /// The largest scale by a whole number by which something fits a place, for a drawing that is not measured.
    #[must_use]
    pub fn filling(size: impl Fn(Self) -> [f64; 2], room: [f64; 2]) -> Self {
        let fits = |scale: &Self| size(*scale).iter().zip(room).all(|(size, room)| *size <= room);
        (1..=1_000_000).map(Self).find(fits).unwrap_or(Self(u32::MAX))
    }

    /// Millimetres of paper for a length of the work.
    #[must_use]
    pub fn paper(self, length: Length) -> f64 {
        length.to_mm_f64() / f64::from(self.0)
    }
}

/// `1:10`
impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1:{}", self.0)
    }
}

/// Where the work lies on paper. Of the work, lengths run to the right and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// Where its origin lies, in millimetres of paper.
    pub origin: Point,
    /// How large it is drawn.
    pub scale: Scale,
}

impl View {
    /// A place of the work on paper.
    #[must_use]
    pub fn point(self, [x, y]: [Length; 2]) -> Point {
        [self.origin[0] + self.scale.paper(x), self.origin[1] - self.scale.paper(y)]
    }
}

#[cfg(test)]
mod tests {
    use super::{Scale, View};
    use crate::quantity::{Length, Rational, System};

    fn mm(mm: i128) -> Length {
        Length::from_mm(Rational::from(mm))
    }

    #[test]
    fn the_largest_standard_scale_that_fits_is_taken() {
        let said = |wide, high| {
            Scale::fitting(|scale| [mm(wide), mm(high)].map(|len| scale.paper(len)), [250.0, 150.0])
                .to_string()
        };
        assert_eq!(said(250, 150), "1:1");
        assert_eq!(said(251, 150), "1:2");
        // 2440 / 10 = 244, 1220 / 10 = 122; 1525 / 10 = 152.5 is too high, / 12 = 127.1.
        assert_eq!((said(2440, 1220), said(1525, 1525)), ("1:10".into(), "1:12".into()));
        // 31,000 / 250 = 124.
        assert_eq!(said(31_000, 10), "1:200");
    }

    #[test]
    fn a_drawing_that_is_not_measured_fills_its_room() {
        let said = |wide, high| {
            Scale::filling(|scale| [mm(wide), mm(high)].map(|len| scale.paper(len)), [190.0, 120.0])
                .to_string()
        };
        // 2440 / 12 = 203.3, / 13 = 187.7; 1525 / 12 = 127.1, / 13 = 117.3.
        assert_eq!((said(2440, 1220), said(1525, 1525)), ("1:13".into(), "1:13".into()));
    }

    #[test]
    fn each_system_has_its_scales() {
        let said =
            |system| Scale::of(system).take(11).map(|scale| scale.to_string()).collect::<Vec<_>>().join(" ");
        assert_eq!(said(System::Metric), "1:1 1:2 1:5 1:10 1:20 1:50 1:100 1:200 1:300 1:400 1:500");
        assert_eq!(said(System::Inch), "1:1 1:2 1:4 1:8 1:12 1:16 1:24 1:32 1:48 1:100 1:200");
    }

    #[test]
    fn the_work_stands_upright_on_paper() {
        let view = View { origin: [20.0, 180.0], scale: Scale(10) };
        assert_eq!(format!("{:?}", view.point([mm(500), mm(1000)])), "[70.0, 80.0]");
    }
}
