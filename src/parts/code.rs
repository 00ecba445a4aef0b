//! Short codes of parts, which stand on labels and on every page: `2S3` is the third shelf of the second unit.
//!
//! A unit has its number, a run its letter. Then comes a letter for what the part is, and which of these it is, from below and from
//! the left. What is fixed to one shelf has the number of that shelf. Names decide nothing, and no part changes its code because
//! another kind of part came.

use super::{Hand, Part, PartGraph, PartId, Role};
use crate::quantity::Length;
use std::collections::{BTreeMap, BTreeSet};

impl Role {
    /// The letter that stands for it in a code.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Self::Side(Hand::Left) => 'L',
            Self::Side(Hand::Right) => 'R',
            Self::Shelf => 'S',
            Self::Top => 'T',
            Self::Cleat => 'C',
            Self::Stretcher(..) => 'H',
            Self::Divider => 'D',
            Self::Loose => 'P',
            Self::LooseStrip => 'Q',
            Self::Back => 'B',
            Self::Counter => 'W',
            Self::Door => 'G',
            Self::DrawerFront => 'N',
            Self::DrawerSide(_) => 'X',
            Self::DrawerEnd(_) => 'Z',
            Self::DrawerBottom => 'A',
            Self::BaseRail(_) => 'K',
            Self::Rib => 'J',
            Self::Filler => 'F',
            Self::Stile => 'V',
            Self::Strip => 'E',
            Self::TopRail => 'U',
            Self::BottomRail => 'Y',
            Self::CeilingPanel => 'M',
        }
    }

    /// Whether others are numbered after it.
    const fn counts(self) -> bool {
        matches!(self, Self::Shelf | Self::Top | Self::Loose)
    }
}

impl PartGraph {
    /// The code of every part; no two are alike.
    #[must_use]
    pub fn codes(&self) -> BTreeMap<PartId, String> {
        let place = |part: &Part| [part.place.z, part.place.x, part.place.y].map(|len| len.value);
        // Within a unit or a run, of one letter, from below and from the left. A top counts as a shelf.
        type Group = (Option<u32>, Option<u32>, char);
        let mut groups: BTreeMap<Group, Vec<([Length; 3], PartId)>> = BTreeMap::new();
        for part in &self.parts {
            let letter = if part.role == Role::Top { Role::Shelf.letter() } else { part.role.letter() };
            let run = part.run.filter(|_| part.unit.is_none()).map(|run| run.0);
            let group = (part.unit.map(|unit| unit.0), run, letter);
            groups.entry(group).or_default().push((place(part), part.id));
        }
        let mut numbers: BTreeMap<PartId, usize> = BTreeMap::new();
        let mut order: Vec<PartId> = Vec::with_capacity(self.parts.len());
        for group in groups.values_mut() {
            group.sort_unstable();
            for (number, (_, id)) in group.iter().enumerate() {
                numbers.insert(*id, number + 1);
                order.push(*id);
            }
        }
        let (mut codes, mut taken) = (BTreeMap::new(), BTreeSet::new());
        for part in order.into_iter().filter_map(|id| self.part(id)) {
            let code = self.code(part, &numbers);
            let mut own = code.clone();
            // Two cleats of one shelf, in two bays: the second has a small letter.
            let mut more = 'b'..='z';
            while !taken.insert(own.clone()) {
                own = match more.next() {
                    Some(letter) => format!("{code}{letter}"),
                    None => format!("{code}-{}", part.id.0),
                };
            }
            codes.insert(part.id, own);
        }
        codes
    }

    fn code(&self, part: &Part, numbers: &BTreeMap<PartId, usize>) -> String {
        let of = match (part.unit, part.run) {
            (Some(unit), _) => (unit.0.saturating_add(1)).to_string(),
            (None, Some(run)) => run_letters(run.0),
            (None, None) => String::new(),
        };
        let letter = part.role.letter();
        if matches!(part.role, Role::Side(_)) {
            return format!("{of}{letter}");
        }
        let shelf = match part.backing.as_slice() {
            [only] => self.part(*only).filter(|shelf| shelf.role.counts() && shelf.unit == part.unit),
            _ => None,
        };
        let number = numbers.get(&shelf.map_or(part.id, |shelf| shelf.id)).copied().unwrap_or(0);
        format!("{of}{letter}{number}")
    }
}

/// `A` to `Z`, then `AA`.
fn run_letters(number: u32) -> String {
    let mut letters = String::new();
    let mut rest = number;
    loop {
        letters.insert(0, char::from_u32(u32::from('A') + rest % 26).unwrap_or('A'));
        match (rest / 26).checked_sub(1) {
            Some(left) => rest = left,
            None => return letters,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::run_letters;

    #[test]
    fn runs_have_letters() {
        let letters: Vec<String> = [0, 1, 25, 26, 27, 702].into_iter().map(run_letters).collect();
        assert_eq!(letters, ["A", "B", "Z", "AA", "AB", "AAA"]);
    }
}
