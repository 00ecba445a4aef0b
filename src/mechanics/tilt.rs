//! A loose shelf tilted in between stiles, and any rectangle put through a rectangle.
//!
//! Seen from the front the shelf is a rectangle, as long as the shelf and as high as the shelf with its strip. To
//! pass between stiles closer than its length it is tilted until `L cos q + h sin q` is the opening; it then needs
//! `L sin q + h cos q` of headroom. Plane geometry, solved and not looked up, any one unit of length.

use super::numeric::{smaller, turning_point};
use crate::real::Real;

/// How a shelf goes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TiltIn {
    /// Tilt in radians; nought if it goes in level.
    pub angle: f64,
    /// Least upright room that it needs at that tilt.
    pub headroom: f64,
    /// Width it needs behind the stiles to be laid level again: the diagonal `sqrt(L^2 + h^2)` if it was tilted,
    /// for its corners swing past the level, and its own length if it was not.
    pub levelling_width: f64,
}

/// How a rectangle `length` by `height` goes through an opening `opening` wide. `None` if it is higher than the
/// opening is wide, so that it does not go in at any tilt.
#[must_use]
pub fn tilt_in(length: f64, height: f64, opening: f64) -> Option<TiltIn> {
    if length <= opening {
        return Some(TiltIn { angle: 0.0, headroom: height, levelling_width: length });
    }
    if height.is_nan() || height > opening {
        return None;
    }
    let diagonal = length.hypotenuse(height);
    let angle = height.angle_over(length) + (opening / diagonal).arc_cosine();
    let headroom = length * angle.sine() + height * angle.cosine();
    let upright = headroom > length;
    Some(TiltIn {
        angle: if upright { std::f64::consts::FRAC_PI_2 } else { angle },
        headroom: smaller(headroom, length),
        levelling_width: diagonal,
    })
}

/// The longest rectangle of a height that goes into an opening `width` by `room`, level, upright or tilted.
///
/// `None` if the height is over the room. The inverse of [`tilt_in`]: the longest shelf that can be tilted in
/// where the opening and the room between shelves are given.
#[must_use]
pub fn longest_in(width: f64, room: f64, height: f64) -> Option<f64> {
    if height.is_nan() || height > room {
        return None;
    }
    let fits = |length: f64| tilt_in(length, height, width).is_some_and(|tilt| tilt.headroom <= room);
    Some(turning_point(0.0, width.hypotenuse(room), fits))
}
