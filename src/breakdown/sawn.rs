//! What becomes of a sheet: parts, what is left over, what the blade and the skim take. Together they are the sheet.

use crate::cutting::{Axis, Pattern, Placement, Sheet};
use crate::quantity::{Length, Rational};

/// An offcut is worth keeping from this size: 4 x 24 in (common practice, no source).
const KEEP: (i128, i128) = (4, 24);

/// Whether what is left over is worth keeping, by its two sizes.
#[must_use]
pub fn is_kept(size: [Length; 2]) -> bool {
    is_over(size, KEEP)
}

/// Whether a piece is as large as so many inches in width and length, either way round.
#[must_use]
pub fn is_over([one, other]: [Length; 2], (width, length): (i128, i128)) -> bool {
    let inch = |inches: i128| Length::from_inches(Rational::from(inches)).unwrap_or_default();
    one.min(other) >= inch(width) && one.max(other) >= inch(length)
}

/// What becomes of one sheet that is cut by a pattern, in units of the job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sawn {
    /// Area of the parts.
    pub parts: i128,
    /// What is left over: along the sheet's length and along its width, each at least one unit.
    pub left: Vec<(i64, i64)>,
    /// Area that the blade takes.
    pub blade: i128,
    /// Area that is skimmed off the edges, blade included.
    pub skim: i128,
}

impl Sawn {
    /// Saws a sheet by a pattern.
    #[must_use]
    pub fn of(sheet: &Sheet, pattern: &Pattern, kerf: i64) -> Self {
        let (wide, high) = sheet.usable();
        let mut sawn = Self { skim: area(sheet.width, sheet.height) - area(wide, high), ..Self::default() };
        let flat = pattern.first == Axis::Horizontal;
        let (along, across) = sheet.reach(pattern.first);
        let mut rest = across;
        for rip in &pattern.rips {
            rest = sawn.cut(rest, rip.width, along, kerf);
            let mut end = along;
            for cut in &rip.crosscuts {
                end = sawn.cut(end, cut.length, rip.width, kerf);
                for part in &cut.parts {
                    let own = across_of(part, pattern.first);
                    sawn.parts += area(own, cut.length);
                    let beside = sawn.cut(rip.width, own, cut.length, kerf);
                    sawn.keep(cut.length, beside, flat);
                }
            }
            sawn.keep(end, rip.width, flat);
        }
        sawn.keep(along, rest, flat);
        sawn
    }

    /// Cuts so much off a rest; gives what remains of it.
    fn cut(&mut self, rest: i64, off: i64, long: i64, kerf: i64) -> i64 {
        let behind = (rest - off).max(0);
        let blade = behind.min(kerf);
        self.blade += area(blade, long);
        behind - blade
    }

    fn keep(&mut self, along: i64, across: i64, flat: bool) {
        if along > 0 && across > 0 {
            self.left.push(if flat { (along, across) } else { (across, along) });
        }
    }

    /// All of it.
    #[must_use]
    pub fn whole(&self) -> i128 {
        self.left.iter().map(|(a, b)| area(*a, *b)).sum::<i128>() + self.parts + self.blade + self.skim
    }
}

/// The size of a part across the first cuts.
#[must_use]
pub const fn across_of(part: &Placement, first: Axis) -> i64 {
    match first {
        Axis::Horizontal => part.h,
        Axis::Vertical => part.w,
    }
}

fn area(a: i64, b: i64) -> i128 {
    i128::from(a) * i128::from(b)
}
