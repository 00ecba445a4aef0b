//! What could not be checked, and the value that is missing for it.

use super::{CutOff, Part, PartGraph, RowKind, RunId, Stock, UnitId};
use crate::diag::Code;
use crate::quantity::to_f64;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::Arc;

/// A value that nobody states.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Need {
    /// The property, or the kind that is not there at all.
    pub property: &'static str,
    /// The member that should state it; `None` for a kind.
    pub of: Option<Arc<str>>,
}

impl Need {
    /// A property that a member does not state.
    #[must_use]
    pub fn of(property: &'static str, member: &Arc<str>) -> Self {
        Self { property, of: Some(member.clone()) }
    }

    /// A kind of which there is no member, or a property that stands in one of which there is only one.
    #[must_use]
    pub fn kind(word: &'static str) -> Self {
        Self { property: word, of: None }
    }
}

/// Something that a check would compare if it knew more.
#[derive(Clone, Debug, PartialEq)]
pub struct Lacking {
    /// The check: what would be told where the limit is not kept.
    pub code: &'static Code,
    /// The member that it is about, by its path.
    pub subject: String,
    /// What several such members are called: `shelves`.
    pub many: &'static str,
    /// What would be compared, in words.
    pub what: &'static str,
    /// The measures of the member that are not known for it.
    pub measures: &'static [&'static str],
    /// What is missing, each once.
    pub needs: Vec<Need>,
    /// Whether the limit could be missed by what such values are published to be. Where it could not, nothing is left
    /// unchecked.
    pub matters: bool,
}

/// Needs in words: `` `density` of `thin` and `ply`, `person` ``.
pub struct Needs<'a>(pub &'a [Need]);

impl fmt::Display for Needs<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut by_property: BTreeMap<(bool, &str), Vec<&str>> = BTreeMap::new();
        for need in self.0 {
            let members = by_property.entry((need.of.is_none(), need.property)).or_default();
            members.extend(need.of.as_deref());
        }
        for (position, ((_, property), mut members)) in by_property.into_iter().enumerate() {
            members.sort_unstable();
            members.dedup();
            f.write_str(if position > 0 { " and of " } else { "" })?;
            write!(f, "`{property}`")?;
            for (position, member) in members.iter().enumerate() {
                let before = match position {
                    0 => " of ",
                    last if last + 1 == members.len() => " and ",
                    _ => ", ",
                };
                write!(f, "{before}`{member}`")?;
            }
        }
        Ok(())
    }
}

/// One line that says all that was left unchecked, each cause once; `None` where nothing was.
///
/// ``not checked for want of `density` of `thin`: carry, tips; of `stiffness` of `ply`: sag of 12 shelves``
#[must_use]
pub fn unchecked(all: &[Lacking]) -> Option<String> {
    // What is missing, and by check one thing that waits for it and how many there are.
    type Waiting<'a> = Vec<(&'a Lacking, usize)>;
    let mut causes: Vec<(&[Need], Waiting<'_>)> = Vec::new();
    for lacking in all.iter().filter(|lacking| lacking.matters) {
        let index = causes.iter().position(|(needs, _)| *needs == lacking.needs).unwrap_or_else(|| {
            causes.push((&lacking.needs, Vec::new()));
            causes.len() - 1
        });
        let Some((_, checks)) = causes.get_mut(index) else { continue };
        match checks.iter_mut().find(|(known, _)| known.code == lacking.code) {
            Some((_, count)) => *count += 1,
            None => checks.push((lacking, 1)),
        }
    }
    let told = causes.iter().map(|(needs, checks)| {
        let checks = checks.iter().map(|(lacking, count)| match count {
            1 => lacking.code.slug.to_owned(),
            count => format!("{} of {count} {}", lacking.code.slug, lacking.many),
        });
        format!("of {}: {}", Needs(needs), checks.collect::<Vec<_>>().join(", "))
    });
    let told: Vec<String> = told.collect();
    (!told.is_empty()).then(|| format!("not checked for want {}", told.join("; ")))
}

impl PartGraph {
    /// One line that says which joints have neither a fastener nor glue, so that what holds them is not on the lists; `None`
    /// where there is none, and where nothing has a fastener yet.
    #[must_use]
    pub fn without_fastener(&self) -> Option<String> {
        let mut bare: BTreeMap<RowKind, usize> = BTreeMap::new();
        for row in self.rows.iter().filter(|row| row.fastener.is_none() && !row.glued) {
            *bare.entry(row.kind).or_default() += 1;
        }
        if bare.is_empty() || self.rows.iter().all(|row| row.fastener.is_none()) {
            return None;
        }
        let told = bare.iter().map(|(kind, count)| format!("{count} x {}", kind.words()));
        Some(format!("no fastener is stated for: {}", told.collect::<Vec<_>>().join(", ")))
    }

    /// What is missing for the weight of some parts: the densities that nobody states.
    fn without_density<'a>(&'a self, parts: impl Iterator<Item = &'a Part>) -> Vec<Need> {
        let mut needs: Vec<Need> = parts.filter_map(|part| self.density_lacks(part.stock)).collect();
        needs.sort();
        needs.dedup();
        needs
    }

    /// What some parts weigh at most, in kilograms: each by its density, or where that is not stated by the one that is given,
    /// in kg/m3.
    #[must_use]
    pub fn heaviest<'a>(
        &'a self,
        parts: impl Iterator<Item = &'a Part>,
        cut_off: &CutOff,
        densest: f64,
    ) -> f64 {
        let weigh = |part: &Part| match self.part_weight(part, cut_off) {
            Some(weight) => weight.value,
            None => {
                let left = self.volume_left(part, cut_off);
                left.map_or(f64::INFINITY, |volume| to_f64(volume) * densest * 1e-9)
            }
        };
        parts.map(weigh).sum()
    }

    fn density_lacks(&self, stock: Stock) -> Option<Need> {
        let (name, density) = match stock {
            Stock::Sheet(sheet) => self.sheet(sheet).map(|sheet| (&sheet.name, sheet.density))?,
            Stock::Board(board) => self.boards.get(board).map(|board| (&board.name, board.density))?,
        };
        density.is_none().then(|| Need::of("density", name))
    }

    /// What is missing for the weight of a unit as it is carried.
    #[must_use]
    pub fn unit_weight_lacks(&self, unit: UnitId) -> Vec<Need> {
        self.without_density(self.parts_of(unit).filter(|part| part.role.is_carried()))
    }

    /// What is missing for the weight of all that stands with a unit, what is not carried with it too.
    #[must_use]
    pub fn standing_weight_lacks(&self, unit: UnitId) -> Vec<Need> {
        self.without_density(self.parts_of(unit).filter(|part| !part.role.is_facing()))
    }

    /// What is missing for the weight of the facing of a run.
    #[must_use]
    pub fn facing_weight_lacks(&self, run: RunId) -> Vec<Need> {
        self.without_density(self.run(run).into_iter().flat_map(|part| self.facing_of(run, part)))
    }

    /// What is missing for a measure of this path; empty where nothing is known to be.
    #[must_use]
    pub fn lacks(&self, path: &str) -> &[Need] {
        let of = |lacking: &&Lacking| {
            path.rsplit_once('.').is_some_and(|(subject, measure)| {
                lacking.subject == subject && lacking.measures.contains(&measure)
            })
        };
        self.lacking.iter().find(of).map_or(&[], |lacking| &lacking.needs)
    }
}
