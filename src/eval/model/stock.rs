//! What is bought besides sheet goods: boards, mouldings, fasteners, glue.

use super::{Can, Offcut};
use crate::eval::{Len, Why};
use crate::quantity::{Estimate, Exact, Rational};
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
    /// Sticks that were left or taken down: what is of use of each, and how many.
    pub there: Vec<(Len, usize)>,
}

/// A nail, brad or screw; also a pin, a hinge, a pair of slides, a pull: what is counted.
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
    /// Whether it is bought by the piece: a hinge, a pair of slides, a pull. None is lost.
    pub by_piece: bool,
    /// The number of a screw, if that is stated.
    pub gauge: Option<u32>,
    /// For a screw in a plug: how deep it holds past the lining.
    pub plug: Option<Len>,
    /// For a pin: of the pin, and of its hole.
    pub diameter: Option<Len>,
    /// What a box costs.
    pub price: Option<Rational>,
}

impl Fastener {
    /// One of which nothing but its name is known.
    #[must_use]
    pub fn new(name: Arc<str>) -> Self {
        Self {
            name,
            text: None,
            length: None,
            per_box: None,
            screw: false,
            by_piece: false,
            gauge: None,
            plug: None,
            diameter: None,
            price: None,
        }
    }
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
    /// How long a joint stays in clamps.
    pub in_clamps: Option<Amount>,
    /// Area of glued face for a volume.
    pub spread: Option<Amount>,
    /// Sizes in which it is sold, the smallest first.
    pub bottles: Vec<Can>,
}
