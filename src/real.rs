//! Functions of real numbers that give the same bits on every machine: those of the standard library are the system's, and may
//! differ in the last place, which is enough to turn a printed figure or to choose another layout.

/// What estimates and drawings need of `f64`, by the `libm` crate and by multiplication.
pub trait Real {
    /// The sine of an angle in radians.
    #[must_use]
    fn sine(self) -> f64;
    /// The cosine of an angle in radians.
    #[must_use]
    fn cosine(self) -> f64;
    /// Both of them.
    #[must_use]
    fn sine_cosine(self) -> (f64, f64);
    /// The angle in radians of this sine.
    #[must_use]
    fn arc_sine(self) -> f64;
    /// The angle in radians of this cosine.
    #[must_use]
    fn arc_cosine(self) -> f64;
    /// The angle in radians of the point that lies this far up and so far along.
    #[must_use]
    fn angle_over(self, along: f64) -> f64;
    /// The long side of a right triangle with these two short ones.
    #[must_use]
    fn hypotenuse(self, other: f64) -> f64;
    /// e to this power.
    #[must_use]
    fn exponential(self) -> f64;
    /// To any power.
    #[must_use]
    fn to_power(self, exponent: f64) -> f64;
    /// The number that gives it, multiplied by itself twice.
    #[must_use]
    fn cube_root(self) -> f64;
    /// Multiplied by itself.
    #[must_use]
    fn squared(self) -> f64;
    /// Multiplied by itself twice.
    #[must_use]
    fn cubed(self) -> f64;
}

impl Real for f64 {
    fn sine(self) -> f64 {
        libm::sin(self)
    }

    fn cosine(self) -> f64 {
        libm::cos(self)
    }

    fn sine_cosine(self) -> (f64, f64) {
        libm::sincos(self)
    }

    fn arc_sine(self) -> f64 {
        libm::asin(self)
    }

    fn arc_cosine(self) -> f64 {
        libm::acos(self)
    }

    fn angle_over(self, along: f64) -> f64 {
        libm::atan2(self, along)
    }

    fn hypotenuse(self, other: f64) -> f64 {
        libm::hypot(self, other)
    }

    fn exponential(self) -> f64 {
        libm::exp(self)
    }

    fn to_power(self, exponent: f64) -> f64 {
        libm::pow(self, exponent)
    }

    fn cube_root(self) -> f64 {
        libm::cbrt(self)
    }

    fn squared(self) -> f64 {
        self * self
    }

    fn cubed(self) -> f64 {
        self * self * self
    }
}
