//! The one convention for units in this room, and the few sizes of units that published numbers need.
//!
//! Functions are algebra in any consistent set of units: all lengths in one unit, all forces in one unit, and
//! every modulus, pressure and stress in that force per that length squared. Answers come in the same set.
//! Where a published formula or limit has units baked in, the function takes the set as [`Units`]; where no set
//! could carry it (temperature, density, the lifting formula) the name says the unit.

/// Newtons in one pound-force: 0.453 592 37 kg by 9.806 65 m/s2, both exact by definition.
pub const NEWTONS_PER_POUND: f64 = 4.448_221_615_260_5;

/// Newtons that one kilogram weighs: standard gravity, exact by definition.
pub const NEWTONS_PER_KILOGRAM: f64 = 9.806_65;

/// A consistent set of units, told by how long an inch and how strong a pound-force is in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Units {
    /// One inch, in the set's unit of length.
    pub inch: f64,
    /// One pound-force, in the set's unit of force.
    pub pound: f64,
}

impl Units {
    /// Inches, pounds-force and pounds per square inch.
    pub const INCH_POUND: Self = Self { inch: 1.0, pound: 1.0 };
    /// Millimetres, newtons and newtons per square millimetre.
    pub const MILLIMETRE_NEWTON: Self = Self { inch: 25.4, pound: NEWTONS_PER_POUND };

    /// One millimetre.
    #[must_use]
    pub fn millimetre(&self) -> f64 {
        self.inch / 25.4
    }

    /// One newton.
    #[must_use]
    pub fn newton(&self) -> f64 {
        self.pound / NEWTONS_PER_POUND
    }

    /// One pound per square inch.
    #[must_use]
    pub fn psi(&self) -> f64 {
        self.pound / (self.inch * self.inch)
    }

    /// One pound per square foot.
    #[must_use]
    pub fn psf(&self) -> f64 {
        self.psi() / 144.0
    }
}
