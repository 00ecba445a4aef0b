//! The cautions that outputs carry, each said once here.

use schemars::JsonSchema;
use serde::Serialize;

/// What estimates are worth, and who comes before them.
pub const ESTIMATED: &str = "Estimates are called so; they rest on the values stated in the project. Local codes and licensed \
     trades come first: wiring, gas, load-bearing walls and old paint are not this tool's to approve.";

/// Bodies at the saw, in old rooms, under a unit.
pub const AT_WORK: &str = "Wear eye, ear and dust protection; old paint may hold lead, old texture and tile asbestos: test \
     before you disturb them. Two people for anything over 50 lb (23 kg) or 7 ft (2.1 m). A unit tips until it is fixed to the \
     wall: never let it stand free.";

/// The cautions that every document carries.
pub const CAUTIONS: [&str; 2] = [ESTIMATED, AT_WORK];

/// What the sheet on finishing says besides, and each step of its calendar.
pub const FINISHING: &str = "Ventilate while glue, filler and paint dry, and keep sparks and flames away. The maker's sheet of \
     each product comes before these times and amounts, also for gloves, masks and wet rags. Catch the dust of sanding where it \
     is made: NIOSH advises 1 mg of wood dust in a cubic metre at most, and OSHA allows 15 mg in all, 5 mg respirable.";

/// What stands at the foot of a drawing.
pub const DRAWN: &str =
    "Figures rest on the values stated in the project. Local codes and licensed trades come first.";

/// What `check` says under messages on what hurts: loads carried by people and floors, tipping, old paint, wiring, heat.
pub const HAZARDS: &str = "weights, loads and pulls are estimates; local codes and licensed trades decide on floors, wiring, heat \
     and old paint; never let a unit stand free";

/// A value for programs, and behind its own members what they should know of it.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(rename = "{T}")]
pub struct Cautioned<'a, T> {
    /// The value.
    #[serde(flatten)]
    pub value: &'a T,
    /// The members whose figures are estimates, by their path; what is not listed is exact or printed from what is.
    pub estimates: &'a [&'static str],
    /// The cautions that belong to it.
    pub cautions: &'a [&'static str],
}
