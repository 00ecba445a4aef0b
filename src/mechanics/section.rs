//! Sections of several pieces with their own stiffness: glued into one, loose, or free to sway.
//!
//! The transformed-section method of any text on the mechanics of materials: plane sections stay plane, each piece
//! counts with its modulus. For a shelf these are bounds only, for they hold the whole width of the shelf to the
//! strip's curvature: see [`shelf`](super::shelf). Any consistent units.

use crate::real::Real;

/// A rectangle of one material in a section, sides level and upright.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rectangle {
    /// Modulus of elasticity along the beam.
    pub modulus: f64,
    /// Level side.
    pub width: f64,
    /// Upright side.
    pub height: f64,
    /// Middle of the piece from some upright line, the same for all pieces.
    pub across: f64,
    /// Middle of the piece above some level line, the same for all pieces.
    pub up: f64,
}

impl Rectangle {
    /// `E A`.
    #[must_use]
    pub fn axial_stiffness(&self) -> f64 {
        self.modulus * self.width * self.height
    }

    /// `E I` about the piece's own level middle line.
    #[must_use]
    pub fn own_stiffness(&self) -> f64 {
        self.axial_stiffness() * self.height.squared() / 12.0
    }
}

/// Pieces glued into one section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Glued {
    /// `E A` of the whole.
    pub axial_stiffness: f64,
    /// Height of the neutral axis above the level line that the pieces are measured from.
    pub neutral_axis: f64,
    /// `E I` about the level axis, the section held from moving sideways.
    pub held: f64,
    /// `E I` when free to sway: `EIyy - EIyz^2 / EIzz`. Less than `held` where the section is not symmetric.
    pub free_to_sway: f64,
}

/// The section of `pieces` glued rigidly together. With no stiffness at all the answer is not a number.
#[must_use]
pub fn glued(pieces: &[Rectangle]) -> Glued {
    let sum = |value: &dyn Fn(&Rectangle) -> f64| pieces.iter().map(value).sum::<f64>();
    let axial_stiffness = sum(&Rectangle::axial_stiffness);
    let neutral_axis = sum(&|piece| piece.axial_stiffness() * piece.up) / axial_stiffness;
    let upright_axis = sum(&|piece| piece.axial_stiffness() * piece.across) / axial_stiffness;
    let held =
        sum(&|piece| piece.own_stiffness() + piece.axial_stiffness() * (piece.up - neutral_axis).squared());
    let sideways = sum(&|piece| {
        let own = piece.width.squared() / 12.0;
        piece.axial_stiffness() * (own + (piece.across - upright_axis).squared())
    });
    let mixed =
        sum(&|piece| piece.axial_stiffness() * (piece.up - neutral_axis) * (piece.across - upright_axis));
    Glued { axial_stiffness, neutral_axis, held, free_to_sway: held - mixed.squared() / sideways }
}

/// `E I` of the pieces without glue: they share one curvature and slide on each other.
#[must_use]
pub fn without_glue(pieces: &[Rectangle]) -> f64 {
    pieces.iter().map(Rectangle::own_stiffness).sum()
}
