//! Will it fit, stand up, hold and last: pure functions, each with its formula and its published source.
//!
//! This room sees no other room of the crate. It works in floating-point *estimates*; none of them may flow back
//! into a size that is cut. Local codes and licensed practice come before anything here.
//!
//! **Units.** One convention: any consistent set. Give all lengths in one unit, all forces in one unit, moduli,
//! pressures and stresses in that force per that length squared, and the answer comes in the same set. Where a
//! published formula has units baked in, the function takes the set as [`Units`]; where that is no help
//! (temperature, density, lifting) the name says the unit. Angles are in radians unless a name says degrees.
//!
//! **Total.** No function panics. Not-a-number and infinity pass through; an `Option` is `None` where there is no
//! answer, and the text says when.
//!
//! | file | answers | source |
//! |---|---|---|
//! | [`beam`] | deflection and moment of one span, shear included | Wood Handbook Eq. 9-2, Table 9-1 |
//! | [`continuous`] | beams over several supports | three-moment equation |
//! | [`section`] | glued, loose and swaying sections | transformed section |
//! | [`shelf`] | sag of both long edges of a shelf | own two-edge rule, against plate models |
//! | [`sag`] | shelf loads, limits, years | Architectural Woodwork Standards, NDS 3.5.2 |
//! | [`fastener`] | nails and screws, out and sideways | Wood Handbook ch. 8 |
//! | [`moisture`] | equilibrium, movement, density | Wood Handbook ch. 4 and 13 |
//! | [`lifting`] | one person's limit | NIOSH 94-110 |
//! | [`standing`] | rolling a box up under a ceiling | plane geometry |
//! | [`corner`] | round a corner | plane geometry |
//! | [`carry`] | doors, ways of carrying, stairs | plane geometry |
//! | [`tilt`] | a loose shelf between stiles | plane geometry |
//! | [`stability`] | tipping over, pull on fixings | statics |
//! | [`floor`] | line load, joists | IRC R301, statics |

pub mod beam;
pub mod carry;
pub mod continuous;
pub mod corner;
pub mod fastener;
pub mod floor;
pub mod lifting;
pub mod moisture;
mod numeric;
pub mod published;
pub mod sag;
pub mod section;
pub mod shelf;
pub mod stability;
pub mod standing;
pub mod tilt;
mod units;

pub use units::{NEWTONS_PER_KILOGRAM, NEWTONS_PER_POUND, Units};
