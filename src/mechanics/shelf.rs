//! Sag of a housed shelf at its two long edges, with a strip at the front and a cleat at the rear.
//!
//! A shelf that is stiffened along one edge does not sag as one beam: the strip carries the front, the rear hangs
//! on the plate's twist. The rule here is this project's own (no published source): two edge beams, each half the
//! shelf and its stiffener with half the load, tied by the plate's twist over a sine wave of the span; a stiffener
//! works only with the shelf near it and is softened by shear. In its fitted range its worse edge is 1.00 to 1.32
//! times that of a finite-strip model (`tests/reference/shelf_plate.py`): on the safe side. Any consistent units. Estimates of the first day; [`sag`](super::sag) has loads, limits and years.

use super::beam::{second_moment, uniform_sag};
use super::numeric::{larger, smaller};
use super::section::{Rectangle, glued, without_glue};
use super::units::Units;
use crate::real::Real;

/// A shelf on housed (simply supported) ends under a uniform load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shelf {
    /// Clear length between the sides.
    pub span: f64,
    /// Front to rear, without the strip.
    pub depth: f64,
    /// Thickness.
    pub thickness: f64,
    /// Modulus of elasticity along the span.
    pub modulus: f64,
    /// Modulus of the plate in twist.
    pub twist_modulus: f64,
    /// Load per length of span.
    pub line_load: f64,
}

/// A strip or cleat along one edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffener {
    /// Front to rear.
    pub thickness: f64,
    /// Upright side.
    pub height: f64,
    /// Modulus of elasticity along the span.
    pub modulus: f64,
}

/// What carries the rear edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rear {
    /// Nothing but the ends.
    Bare,
    /// A cleat glued under the shelf and not fixed to the wall.
    Cleat(Stiffener),
    /// A cleat screwed to two or more studs or plugs: a support.
    Screwed(Stiffener),
}

impl Rear {
    /// The cleat, if there is one.
    #[must_use]
    pub fn cleat(&self) -> Option<&Stiffener> {
        match self {
            Self::Bare => None,
            Self::Cleat(cleat) | Self::Screwed(cleat) => Some(cleat),
        }
    }
}

/// A shelf with its stiffeners.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffened {
    /// The shelf.
    pub shelf: Shelf,
    /// The strip before its front edge, top flush.
    pub strip: Option<Stiffener>,
    /// What carries its rear edge.
    pub rear: Rear,
}

/// Sag at mid-span of each long edge, positive down.
///
/// The rule is made for the worse edge; it may put the better one up to a tenth under a plate model's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EdgeSag {
    /// Front edge.
    pub front: f64,
    /// Rear edge.
    pub rear: f64,
}

impl EdgeSag {
    /// The worse edge: the one that is judged.
    #[must_use]
    pub fn worse(&self) -> f64 {
        larger(self.front, self.rear)
    }
}

/// A number outside the range in which the rule was fitted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OutsideFit {
    /// Span not 24 to 48 in.
    Span,
    /// Depth not 9 1/4 to 14 in.
    Depth,
    /// Strip not 18 to 22 mm thick or not 1 to 2 1/2 in high. The first model has 3/4 in, the second one supports the rest.
    Strip,
    /// Cleat over 3 in high, or not of the sheet's thickness and modulus.
    Cleat,
    /// Modulus not 0.95 to 1.8 million psi.
    Modulus,
    /// Twist modulus not 0.05 to 0.11 million psi.
    TwistModulus,
}

impl Shelf {
    /// `E b t^3 / 12` of the bare shelf.
    #[must_use]
    pub fn bending_stiffness(&self) -> f64 {
        self.modulus * second_moment(self.depth, self.thickness)
    }

    /// Sag of the bare shelf, both edges alike: `5 w L^4 / (384 D)`.
    #[must_use]
    pub fn bare_sag(&self) -> f64 {
        uniform_sag(self.span, self.line_load, self.bending_stiffness())
    }

    /// Width of shelf that works with a stiffener at its edge: the least of `b/4` and `(L/4) sqrt(G/E)`.
    #[must_use]
    pub fn flange_width(&self) -> f64 {
        smaller(self.depth / 4.0, self.span / 4.0 * (self.twist_modulus / self.modulus).sqrt())
    }

    fn piece(&self, width: f64) -> Rectangle {
        Rectangle {
            modulus: self.modulus,
            width,
            height: self.thickness,
            across: width / 2.0,
            up: self.thickness / 2.0,
        }
    }

    /// `W`: what the twist of the plate ties the edges together with, where stiffeners so high together stand at them.
    fn twist(&self, stiffeners: f64) -> f64 {
        let width = self.depth + stiffeners;
        self.twist_modulus * self.thickness.cubed() * width * (self.span / (6.0 * self.depth)).squared()
            - self.bending_stiffness() / 6.0
    }

    /// `P`: half the load as a uniform one bends a beam of no stiffness but one.
    fn push(&self) -> f64 {
        5.0 * (self.line_load / 2.0) * self.span.squared().squared() / 384.0
    }

    /// `S`: what a stiffener whose middle is `up` above the shelf's underside adds to its edge beam.
    fn gain(&self, stiffener: &Stiffener, up: f64) -> f64 {
        let flange = self.piece(self.flange_width());
        let together = glued(&[flange, stiffener.piece(0.0, up)]).held;
        (together - flange.own_stiffness()) / (1.05 + 32.0 * (stiffener.height / self.span).squared())
    }
}

impl Stiffener {
    fn piece(&self, across: f64, up: f64) -> Rectangle {
        Rectangle { modulus: self.modulus, width: self.thickness, height: self.height, across, up }
    }
}

impl Stiffened {
    /// First-day sag of both edges by the two-edge rule.
    #[must_use]
    pub fn sag(&self) -> EdgeSag {
        let Self { shelf, strip, rear } = self;
        let plate = shelf.bending_stiffness();
        let strip_height = strip.map_or(0.0, |strip| strip.height);
        let cleat_height = rear.cleat().map_or(0.0, |cleat| cleat.height);
        let front_beam = plate / 2.0 + strip.map_or(0.0, |strip| shelf.gain(&strip, self.strip_up(&strip)));
        let rear_beam =
            plate / 2.0 + rear.cleat().map_or(0.0, |cleat| shelf.gain(cleat, -cleat.height / 2.0));
        let (twist, push) = (shelf.twist(strip_height + cleat_height), shelf.push());
        if matches!(rear, Rear::Screwed(_)) {
            return EdgeSag { front: push / (front_beam + twist), rear: 0.0 };
        }
        let both = front_beam * rear_beam + twist * (front_beam + rear_beam);
        EdgeSag {
            front: push * (rear_beam + 2.0 * twist) / both,
            rear: push * (front_beam + 2.0 * twist) / both,
        }
    }

    /// First-day sag where something carries the front edge as a screwed cleat carries the rear one: by the same rule, seen from
    /// the other side. What stands before the edge adds nothing more.
    #[must_use]
    pub fn sag_with_front_carried(&self) -> EdgeSag {
        let Self { shelf, rear, .. } = self;
        if matches!(rear, Rear::Screwed(_)) {
            return EdgeSag { front: 0.0, rear: 0.0 };
        }
        let plate = shelf.bending_stiffness();
        let cleat = rear.cleat();
        let beam = plate / 2.0 + cleat.map_or(0.0, |cleat| shelf.gain(cleat, -cleat.height / 2.0));
        let twist = shelf.twist(cleat.map_or(0.0, |cleat| cleat.height));
        EdgeSag { front: 0.0, rear: shelf.push() / (beam + twist) }
    }

    /// Sag if shelf, strip and cleat were one rigid glued section. A bound only, and on the *unsafe* side.
    #[must_use]
    pub fn rigid_bound(&self) -> f64 {
        uniform_sag(self.shelf.span, self.shelf.line_load, glued(&self.pieces()).held)
    }

    /// Sag if shelf, strip and cleat shared one curvature without glue. A bound only.
    #[must_use]
    pub fn unglued_bound(&self) -> f64 {
        uniform_sag(self.shelf.span, self.shelf.line_load, without_glue(&self.pieces()))
    }

    /// The pieces of the section: heights from the shelf's underside, widths from its rear edge.
    #[must_use]
    pub fn pieces(&self) -> Vec<Rectangle> {
        let shelf = &self.shelf;
        let strip = self.strip.iter();
        let strip = strip.map(|strip| strip.piece(shelf.depth + strip.thickness / 2.0, self.strip_up(strip)));
        let cleat = self.rear.cleat().into_iter();
        let cleat = cleat.map(|cleat| cleat.piece(cleat.thickness / 2.0, -cleat.height / 2.0));
        std::iter::once(shelf.piece(shelf.depth)).chain(strip).chain(cleat).collect()
    }

    /// What lies outside the range in which the rule was fitted, if anything: then the sag must say so.
    #[must_use]
    pub fn outside_fit(&self, units: &Units) -> Vec<OutsideFit> {
        let million_psi = 1e6 * units.psi();
        let within = |value: f64, unit: f64, least: f64, most: f64| {
            let slack = 1e-9 * most;
            (least - slack..=most + slack).contains(&(value / unit))
        };
        let Shelf { span, depth, thickness, modulus, twist_modulus, .. } = self.shelf;
        let strip_fits = self.strip.is_none_or(|strip| {
            within(strip.thickness, units.millimetre(), 18.0, 22.0)
                && within(strip.height, units.inch, 1.0, 2.5)
        });
        let cleat_fits = self.rear.cleat().is_none_or(|cleat| {
            within(cleat.height, units.inch, 0.0, 3.0)
                && within(cleat.thickness, thickness, 1.0, 1.0)
                && within(cleat.modulus, modulus, 1.0, 1.0)
        });
        let judged = [
            (OutsideFit::Span, within(span, units.inch, 24.0, 48.0)),
            (OutsideFit::Depth, within(depth, units.inch, 9.25, 14.0)),
            (OutsideFit::Strip, strip_fits),
            (OutsideFit::Cleat, cleat_fits),
            (OutsideFit::Modulus, within(modulus, million_psi, 0.95, 1.8)),
            (OutsideFit::TwistModulus, within(twist_modulus, million_psi, 0.05, 0.11)),
        ];
        judged.into_iter().filter(|(_, fits)| !fits).map(|(what, _)| what).collect()
    }

    fn strip_up(&self, strip: &Stiffener) -> f64 {
        self.shelf.thickness - strip.height / 2.0
    }
}
