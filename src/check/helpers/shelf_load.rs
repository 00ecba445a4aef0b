//! What a shelf is asked to carry.

use crate::eval::Load;
use crate::mechanics::sag::{self, LoadClass};
use crate::mechanics::{NEWTONS_PER_KILOGRAM, Units};

/// Kilograms on a millimetre of a shelf `span` wide and `depth` deep behind a strip `strip` thick, in millimetres.
pub(in crate::check) fn line_load(load: Load, span: f64, depth: f64, strip: f64) -> f64 {
    let of_class =
        |class| sag::line_load(class, span, depth, strip, &Units::MILLIMETRE_NEWTON) / NEWTONS_PER_KILOGRAM;
    match load {
        Load::Books => of_class(LoadClass::Books),
        Load::Other => of_class(LoadClass::Other),
        Load::Line(line) => line.value,
    }
}
