//! How long work takes.

use super::Reader;
use crate::eval::{Rate, Rates};
use crate::resolve::kinds::RATES;
use num_traits::Signed;

impl Reader<'_> {
    pub(super) fn rates(&mut self) -> Rates {
        let mut rates = Rates::default();
        let Some(id) = self.shared("rates").first().copied() else { return rates };
        let Rates { cut, groove, sanding, joint, standing, facing, filling, coat } = &mut rates;
        for (rate, property) in [
            (cut, RATES.cut),
            (groove, RATES.groove),
            (sanding, RATES.sanding),
            (joint, RATES.joint),
            (standing, RATES.standing),
            (facing, RATES.facing),
            (filling, RATES.filling),
            (coat, RATES.coat),
        ] {
            let seconds = self.usual(id, property).value;
            if !seconds.is_positive() {
                self.out_of_range(id, property.name, "be more than zero", None);
                continue;
            }
            *rate = Rate { seconds, stated: self.is_stated(id, property) };
        }
        rates
    }
}
