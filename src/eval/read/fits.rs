//! What is allowed of parts that are made.

use super::Reader;
use crate::eval::Fits;
use crate::resolve::kinds::FITS;

impl Reader<'_> {
    pub(super) fn fits(&mut self) -> Fits {
        let mut fits = Fits::usual(self.system());
        let Some(id) = self.shared("fits").first().copied() else { return fits };
        fits.bearing = self.read(id, FITS.bearing).map(|bearing| bearing.value);
        let [play, packed, gap] = [FITS.play, FITS.packed, FITS.gap].map(|limit| self.usual(id, limit).value);
        Fits { play, packed, gap, slack: self.usual(id, FITS.slack).value, ..fits }
    }
}
