//! How it is painted, and with what.

use super::Amount;
use crate::eval::Len;
use crate::quantity::{Exact, Rational};
use crate::source::Span;
use jiff::civil::DateTime;
use std::sync::Arc;

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
