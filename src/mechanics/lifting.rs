//! How much one person should lift: the revised lifting equation.
//!
//! Applications Manual for the Revised NIOSH Lifting Equation, DHHS (NIOSH) 94-110, rev. 9/2021:
//! `RWL = LC HM VM DM AM FM CM`. The manual prints it twice, in inches and pounds and in centimetres and
//! kilograms, with constants that are rounded apart: say which. One person, two hands, smooth lift; it covers no
//! two-person lift, no carrying, no cramped place. The manual's tables miss its formulas three times; the formulas
//! govern. An estimate, not medical advice.

use super::numeric::larger;

/// Which of the two printed forms.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Inches and pounds.
    InchPound,
    /// Centimetres and kilograms.
    CentimetreKilogram,
}

/// How well the hands hold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coupling {
    /// Handles.
    Good,
    /// Fingers flexed under an edge: a carcass held by a shelf or its bottom edge.
    Fair,
    /// Bulky, slippery, sharp.
    Poor,
}

/// One lift, at its beginning or at its end; lengths in the unit of the form.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// Hands before the ankles, level.
    pub horizontal: f64,
    /// Hands above the floor.
    pub vertical: f64,
    /// How far the hands rise or fall.
    pub travel: f64,
    /// Twist of the body, degrees.
    pub asymmetry_degrees: f64,
    /// How the hands hold.
    pub coupling: Coupling,
    /// Frequency multiplier: 1 for lifts that are rarer than one in five minutes (Table 5).
    pub frequency: f64,
}

impl Form {
    /// Load constant LC: 51 lb or 23 kg.
    #[must_use]
    pub fn load_constant(self) -> f64 {
        match self {
            Self::InchPound => 51.0,
            Self::CentimetreKilogram => 23.0,
        }
    }

    /// `HM = 10 / H` (25 / H): 1 nearer than that, 0 beyond 25 in (63 cm).
    #[must_use]
    pub fn horizontal_multiplier(self, horizontal: f64) -> f64 {
        let (near, far) = match self {
            Self::InchPound => (10.0, 25.0),
            Self::CentimetreKilogram => (25.0, 63.0),
        };
        if horizontal > far { 0.0 } else { near / larger(horizontal, near) }
    }

    /// `VM = 1 - 0.0075 |V - 30|` (1 - 0.003 |V - 75|): 0 above 70 in (175 cm).
    #[must_use]
    pub fn vertical_multiplier(self, vertical: f64) -> f64 {
        let (knuckles, slope, top) = match self {
            Self::InchPound => (30.0, 0.0075, 70.0),
            Self::CentimetreKilogram => (75.0, 0.003, 175.0),
        };
        if vertical > top { 0.0 } else { larger(1.0 - slope * (vertical - knuckles).abs(), 0.0) }
    }

    /// `DM = 0.82 + 1.8 / D` (0.82 + 4.5 / D): 1 under 10 in (25 cm), 0 beyond 70 in (175 cm).
    #[must_use]
    pub fn distance_multiplier(self, travel: f64) -> f64 {
        let (constant, least, most) = match self {
            Self::InchPound => (1.8, 10.0, 70.0),
            Self::CentimetreKilogram => (4.5, 25.0, 175.0),
        };
        let travel = travel.abs();
        if travel > most { 0.0 } else { 0.82 + constant / larger(travel, least) }
    }

    /// `CM` of Table 7: it turns on whether the hands are below 30 in (75 cm).
    #[must_use]
    pub fn coupling_multiplier(self, coupling: Coupling, vertical: f64) -> f64 {
        let knuckles = match self {
            Self::InchPound => 30.0,
            Self::CentimetreKilogram => 75.0,
        };
        match coupling {
            Coupling::Good => 1.0,
            Coupling::Fair if vertical < knuckles => 0.95,
            Coupling::Fair => 1.0,
            Coupling::Poor => 0.90,
        }
    }

    /// Recommended weight limit, in the form's unit of weight.
    #[must_use]
    pub fn recommended_limit(self, lift: &Lift) -> f64 {
        self.load_constant()
            * self.horizontal_multiplier(lift.horizontal)
            * self.vertical_multiplier(lift.vertical)
            * self.distance_multiplier(lift.travel)
            * asymmetry_multiplier(lift.asymmetry_degrees)
            * self.coupling_multiplier(lift.coupling, lift.vertical)
            * lift.frequency
    }
}

/// `AM = 1 - 0.0032 A`: 0 beyond 135 degrees.
#[must_use]
pub fn asymmetry_multiplier(asymmetry_degrees: f64) -> f64 {
    let asymmetry = asymmetry_degrees.abs();
    if asymmetry > 135.0 { 0.0 } else { 1.0 - 0.0032 * asymmetry }
}

/// Lifting index: weight over recommended limit; above 1 some are at risk, above 3 nearly all (the manual's view).
#[must_use]
pub fn lifting_index(weight: f64, recommended_limit: f64) -> f64 {
    weight / recommended_limit
}

/// What one person carries in the trade: 50 lb, 23 kg (common practice, no source).
pub const ONE_PERSON_POUNDS: f64 = 50.0;

/// What two people carry in the trade: 100 lb, 45 kg (common practice, no source).
pub const TWO_PEOPLE_POUNDS: f64 = 100.0;

/// Length over which two people carry, whatever the weight: 7 ft (common practice, no source).
pub const TWO_PEOPLE_LENGTH_FEET: f64 = 7.0;

/// People to carry a unit, by weight and by length, common practice without source: one up to 50 lb, two up to
/// 100 lb and always over 7 ft; `None` above, where it is a job for wheels, straps or more hands.
#[must_use]
pub fn people(weight_pounds: f64, length_feet: f64) -> Option<u32> {
    if weight_pounds <= ONE_PERSON_POUNDS && length_feet <= TWO_PEOPLE_LENGTH_FEET {
        Some(1)
    } else if weight_pounds <= TWO_PEOPLE_POUNDS {
        Some(2)
    } else {
        None
    }
}
