//! What is bought: boards, mouldings, fasteners, glue, coatings; and the shop's tools.

use super::Offcut;
use crate::eval::{Len, Why};
use crate::quantity::{Estimate, Exact, Rational};
use crate::source::Span;
use jiff::civil::DateTime;
use std::sync::Arc;

/// An exact quantity that is no length, with its reason.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Amount {
    /// The value in base units.
    pub value: Exact,
    /// Where it comes from.
    pub why: Why,
}

/// Solid wood for facing and trim.
#[derive(Clone, Debug)]
pub struct Board {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// As dressed.
    pub thickness: Option<Len>,
    /// Weight of a volume.
    pub density: Option<Estimate>,
    /// Modulus of elasticity along the grain.
    pub stiffness: Option<Estimate>,
    /// Change of a width for each per cent of moisture, as a ratio of the width.
    pub swell: Option<Rational>,
    /// What is bought over blanks and kerfs, as a ratio.
    pub waste: Option<Rational>,
    /// Of the boards as sold; `None` where they are bought as wide as the parts.
    pub width: Option<Len>,
    /// Lengths in which it is sold, the shortest first.
    pub lengths: Vec<Len>,
    /// What a length, a face or a volume costs; its dimension says which.
    pub price: Option<Exact>,
    /// What was left of other boards.
    pub offcuts: Vec<Offcut>,
}

/// A moulded stick.
#[derive(Clone, Debug)]
pub struct Moulding {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Of its face, lying flat.
    pub width: Len,
    /// The angle between its back and the wall, in degrees.
    pub spring: Estimate,
    /// Lengths in which it is sold, the shortest first.
    pub lengths: Vec<Len>,
    /// What a length costs, in money per millimetre.
    pub price: Option<Rational>,
}

/// A nail, brad or screw.
#[derive(Clone, Debug)]
pub struct Fastener {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Its length.
    pub length: Option<Len>,
    /// How many a box holds.
    pub per_box: Option<usize>,
    /// Whether it is a screw.
    pub screw: bool,
    /// For a screw in a plug: how deep it holds past the lining.
    pub plug: Option<Len>,
    /// For a pin: of the pin, and of its hole.
    pub diameter: Option<Len>,
    /// What a box costs.
    pub price: Option<Rational>,
}

/// A glue.
#[derive(Clone, Debug)]
pub struct Glue {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// How long a joint may stay open.
    pub open: Option<Amount>,
    /// Area of glued face for a volume.
    pub spread: Option<Amount>,
    /// Sizes in which it is sold, the smallest first.
    pub bottles: Vec<Can>,
}

/// A primer, paint or varnish.
#[derive(Clone, Debug)]
pub struct Coating {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Area for a volume.
    pub spread: Option<Amount>,
    /// What one coat of the project takes.
    pub work: Option<Amount>,
    /// Before the next coat.
    pub wait: Option<Amount>,
    /// After the last coat, before anything stands on it.
    pub light_load: Option<Amount>,
    /// After the last coat, before it carries all.
    pub full_load: Option<Amount>,
    /// Sizes in which it is sold, the smallest first.
    pub cans: Vec<Can>,
}

/// A size in which a liquid is sold.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Can {
    /// What it holds.
    pub holds: Exact,
    /// What it costs.
    pub price: Option<Rational>,
}

/// A sealant in cartridges.
#[derive(Clone, Debug)]
pub struct Caulk {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// Width and height of the bead.
    pub bead: Option<Len>,
    /// What a cartridge holds.
    pub cartridge: Option<Amount>,
    /// What a cartridge costs.
    pub price: Option<Rational>,
}

/// What fills nail holes.
#[derive(Clone, Debug)]
pub struct Filling {
    /// Its name.
    pub name: Arc<str>,
    /// What a box holds.
    pub holds: Option<Amount>,
}

/// How it is painted.
#[derive(Clone, Debug)]
pub struct Finish {
    /// Coats in their order.
    pub coats: Vec<Coating>,
    /// What stays in tray and brush, as a ratio.
    pub loss: Rational,
    /// Where open faces meet the wall.
    pub caulk: Option<Caulk>,
    /// What fills nail holes.
    pub filler: Option<Filling>,
    /// What the work before and between the coats takes.
    pub work: FinishWork,
    /// The first day on which things are to stand on it, with its place, if that is stated.
    pub loaded: Option<(DateTime, Span)>,
}

/// What the work before and between the coats takes, where it is stated.
#[derive(Clone, Copy, Debug, Default)]
pub struct FinishWork {
    /// Breaking the arrises.
    pub easing: Option<Amount>,
    /// Filling nail holes.
    pub filling: Option<Amount>,
    /// Sanding the bare wood, and dusting.
    pub sanding: Option<Amount>,
    /// Caulking.
    pub caulking: Option<Amount>,
    /// Sanding between two coats.
    pub sanding_between: Option<Amount>,
}

/// The shop's tools and who works in it.
#[derive(Clone, Debug, Default)]
pub struct Shop {
    /// What a cut of the table saw takes; the first saw's.
    pub kerf: Option<Len>,
    /// The widest crosscut of all saws that state one.
    pub reach: Option<Len>,
    /// The widest rip of all saws that state one.
    pub fence: Option<Len>,
    /// Clamps, one entry a kind.
    pub clamps: Vec<Clamps>,
    /// The router.
    pub router: Option<Router>,
    /// What gluing one housed joint takes.
    pub joint: Option<Amount>,
    /// How many people work on it.
    pub people: Option<Amount>,
    /// What one of them carries, if that is stated.
    pub carries: Option<Amount>,
    /// What brings the sheets home.
    pub vehicle: Option<Vehicle>,
}

/// Clamps of one kind.
#[derive(Clone, Copy, Debug)]
pub struct Clamps {
    /// How many there are.
    pub count: Amount,
    /// How wide they open, if that is stated.
    pub opens: Option<Len>,
}

/// What brings the sheets home.
#[derive(Clone, Copy, Debug)]
pub struct Vehicle {
    /// Of the longest piece that lies flat in it.
    pub length: Len,
    /// Of the widest.
    pub width: Len,
}

/// A router.
#[derive(Clone, Copy, Debug)]
pub struct Router {
    /// From the centre of the bit to the edge of the base.
    pub base: Len,
    /// The width of the bit.
    pub bit: Len,
}
