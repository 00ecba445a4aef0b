//! Sheet goods.

use crate::eval::Len;
use crate::quantity::{Estimate, Length, Rational};
use crate::source::Span;
use std::sync::Arc;

/// A sheet of [`Model::sheets`](super::Model::sheets), by its position.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetId(pub usize);

/// A sheet good.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Its name.
    pub name: Arc<str>,
    /// Its description.
    pub text: Option<Arc<str>>,
    /// The sheet of which it is a lot, where it is one.
    pub lot_of: Option<Arc<str>>,
    /// Where it is declared; `None` where a caller of the library made it.
    pub head: Option<Span>,
    /// Length along the grain and width, as sold.
    pub size: Option<(Len, Len)>,
    /// The thickness that all joints follow.
    pub thickness: Len,
    /// The thickness by which it is sold, if that is stated.
    pub nominal: Option<Len>,
    /// Whether that thickness was measured, or is the nominal one.
    pub measured: bool,
    /// Whether it has a grain, along its length.
    pub grain: bool,
    /// What the first cut takes off the reference edge.
    pub skim: Option<Len>,
    /// Weight of a volume.
    pub density: Option<Estimate>,
    /// How much smaller than its size it may be sold.
    pub tolerance: Option<Len>,
    /// Modulus of elasticity along the grain.
    pub stiffness: Option<Estimate>,
    /// Shear modulus in its plane.
    pub twist: Option<Estimate>,
    /// What one sheet costs.
    pub price: Option<Rational>,
    /// How many whole sheets are there already.
    pub on_hand: usize,
    /// How many there are in all: of a lot that was counted.
    pub count: Option<usize>,
    /// Other sizes in which it is sold: name, length and width, price.
    pub sold: Vec<Sold>,
    /// What was left of other sheets.
    pub offcuts: Vec<Offcut>,
}

/// A size in which a sheet is sold.
#[derive(Clone, Debug)]
pub struct Sold {
    /// Its name.
    pub name: Arc<str>,
    /// Length along the grain and width.
    pub size: (Len, Len),
    /// What one costs.
    pub price: Option<Rational>,
}

/// What was left of a sheet or a board.
#[derive(Clone, Debug)]
pub struct Offcut {
    /// Its name.
    pub name: Arc<str>,
    /// Length along the grain and width.
    pub size: (Len, Len),
    /// How many there are.
    pub count: usize,
}

impl Sheet {
    /// The name under which it is sold: of a lot that of its sheet.
    #[must_use]
    pub fn sold_as(&self) -> &Arc<str> {
        self.lot_of.as_ref().unwrap_or(&self.name)
    }

    /// Its own name among the lots of its sheet, where it is one.
    #[must_use]
    pub fn lot(&self) -> Option<&str> {
        self.name.strip_prefix(&**self.lot_of.as_ref()?)?.strip_prefix('.')
    }

    /// What it offers of a length or width in which it is sold: the least it may be (PS 1-19; EN 315), less one skim.
    #[must_use]
    pub fn offered(&self, sold: Len) -> Length {
        let taken = [self.tolerance, self.skim].into_iter().flatten();
        taken.fold(sold.value, |left, taken| left.checked_sub(taken.value).unwrap_or_default())
    }

    /// A sheet with grain of which only the thickness is known, by caliper.
    #[must_use]
    pub fn measured(name: &str, thickness: Len) -> Self {
        Self {
            name: name.into(),
            text: None,
            lot_of: None,
            head: None,
            size: None,
            thickness,
            nominal: None,
            measured: true,
            grain: true,
            skim: None,
            density: None,
            tolerance: None,
            stiffness: None,
            twist: None,
            price: None,
            on_hand: 0,
            count: None,
            sold: Vec::new(),
            offcuts: Vec::new(),
        }
    }
}
