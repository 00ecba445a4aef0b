//! How much work a part is, stage by stage, counted by what a rate is for.

use super::{Part, PartGraph, PartId, State};
use crate::eval::{Rate, Rates};
use crate::quantity::{Rational, System};
use crate::source::Span;
use num_traits::{CheckedAdd, CheckedDiv, CheckedMul};

/// A stage of the work that takes hours.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Cutting to size.
    Saw,
    /// Grooves.
    Router,
    /// Sanding the bare parts.
    Sanding,
    /// Gluing up.
    GlueUp,
    /// Standing up, levelling and screwing to the wall.
    Room,
    /// Facing, doors and counters.
    Facing,
    /// Filling and caulking.
    Filling,
    /// Coats.
    Coats,
}

impl Stage {
    /// All stages, in the order of the work.
    pub const ALL: [Self; 8] = [
        Self::Saw,
        Self::Router,
        Self::Sanding,
        Self::GlueUp,
        Self::Room,
        Self::Facing,
        Self::Filling,
        Self::Coats,
    ];

    /// What lists call it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Saw => "saw",
            Self::Router => "router",
            Self::Sanding => "sanding",
            Self::GlueUp => "glue-up",
            Self::Room => "standing in the room",
            Self::Facing => "facing",
            Self::Filling => "filling and caulking",
            Self::Coats => "coats",
        }
    }

    /// The state that a part has when it is over.
    #[must_use]
    pub fn state(self) -> State {
        match self {
            Self::Saw => State::Cut,
            Self::Router => State::Grooved,
            Self::Sanding | Self::GlueUp => State::Glued,
            Self::Room | Self::Facing => State::Fixed,
            Self::Filling | Self::Coats => State::Painted,
        }
    }

    /// Its rate, for one of what [`PartGraph::amount`] counts.
    #[must_use]
    pub fn rate(self, rates: &Rates) -> Rate {
        match self {
            Self::Saw => rates.cut,
            Self::Router => rates.groove,
            Self::Sanding => rates.sanding,
            Self::GlueUp => rates.joint,
            Self::Room => rates.standing,
            Self::Facing => rates.facing,
            Self::Filling => rates.filling,
            Self::Coats => rates.coat,
        }
    }

    /// Whether faces are counted.
    #[must_use]
    pub fn is_by_area(self) -> bool {
        matches!(self, Self::Sanding | Self::Filling | Self::Coats)
    }

    /// What is counted, one and several of it.
    #[must_use]
    pub fn unit(self, system: System) -> [&'static str; 2] {
        match self {
            Self::Saw => ["part", "parts"],
            Self::Router => ["groove", "grooves"],
            Self::Sanding | Self::Filling | Self::Coats => match system {
                System::Inch => ["sq ft of faces"; 2],
                System::Metric => ["m2 of faces"; 2],
            },
            Self::GlueUp => ["joint", "joints"],
            Self::Room => ["unit", "units"],
            Self::Facing => ["piece", "pieces"],
        }
    }
}

/// Hours that were noted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// How far the parts came in them.
    pub state: State,
    /// The parts that the project has.
    pub parts: Vec<PartId>,
    /// In seconds.
    pub took: Rational,
    /// Where it is stated.
    pub span: Span,
}

impl PartGraph {
    /// How much of a stage a part is: parts, grooves, joints, pieces, its share of a unit, or square metres of its two faces.
    #[must_use]
    pub fn amount(&self, part: &Part, stage: Stage) -> Rational {
        let count = |count: usize| Rational::from(i128::try_from(count).unwrap_or(i128::MAX));
        let is_put_on = part.role.is_put_on();
        match stage {
            Stage::Saw => count(1),
            Stage::Router => {
                count(self.joints_in(part.id).filter(|joint| joint.kind.depth().is_some()).count())
            }
            Stage::GlueUp if part.role.is_carried() => count(self.joints_of(part.id).count()),
            Stage::Room if part.role.is_carried() => {
                let own = part
                    .unit
                    .map_or(0, |unit| self.parts_of(unit).filter(|part| part.role.is_carried()).count());
                count(1).checked_div(&count(own.max(1))).unwrap_or_default()
            }
            Stage::Facing if is_put_on => count(1),
            Stage::GlueUp | Stage::Room | Stage::Facing => count(0),
            Stage::Sanding | Stage::Filling | Stage::Coats => {
                let (width, length) = (part.cut().width.value.mm(), part.cut().length.value.mm());
                let face = width.checked_mul(&length);
                // Both faces, in square metres.
                face.and_then(|face| face.checked_div(&Rational::from(500_000))).unwrap_or_default()
            }
        }
    }

    /// What stages take for parts, in seconds by a rate for each.
    #[must_use]
    pub fn takes<'a>(
        &self,
        parts: impl Iterator<Item = &'a Part> + Clone,
        stages: impl Iterator<Item = (Stage, Rational)>,
    ) -> Rational {
        let all = stages.flat_map(|(stage, rate)| parts.clone().map(move |part| (part, stage, rate)));
        let seconds = all.filter_map(|(part, stage, rate)| self.amount(part, stage).checked_mul(&rate));
        seconds.fold(Rational::from(0), |sum, own| sum.checked_add(&own).unwrap_or(sum))
    }
}
