//! Reads how the work is painted.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::model::{Can, Caulk, Coating, Filling, Finish, FinishWork};
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{CAULK, COATING, FILLER, FINISH, Optional, Property};
use num_traits::Signed;

impl Reader<'_> {
    pub(super) fn finish(&mut self) -> Option<Finish> {
        let id = self.shared("finish").first().copied()?;
        let coats = self.needed(id, FINISH.coats)?;
        let coats = coats.into_iter().filter_map(|coat| self.coating(coat)).collect();
        let loss = self.usual(id, FINISH.loss).value;
        let caulk = self.read(id, FINISH.caulk).and_then(|caulk| self.caulk(caulk));
        let filler = self.read(id, FINISH.filler).and_then(|filler| self.filler(filler));
        let [easing, filling, sanding, caulking, sanding_between] =
            [FINISH.easing, FINISH.filling, FINISH.sanding, FINISH.caulking, FINISH.sanding_between]
                .map(|property| self.read(id, property));
        let work = FinishWork { easing, filling, sanding, caulking, sanding_between };
        let loaded = self.read(id, FINISH.loaded).map(|date| (date, self.span(id, FINISH.loaded)));
        Some(Finish { coats, loss, caulk, filler, work, loaded })
    }

    fn filler(&mut self, id: NodeId) -> Option<Filling> {
        Some(Filling { name: self.name(id)?, holds: self.read(id, FILLER.r#box) })
    }

    fn coating(&mut self, id: NodeId) -> Option<Coating> {
        Some(Coating {
            name: self.name(id)?,
            text: self.text(id),
            spread: self.read(id, COATING.spread),
            work: self.read(id, COATING.work),
            wait: self.read(id, COATING.wait),
            light_load: self.read(id, COATING.light_load),
            full_load: self.read(id, COATING.full_load),
            cans: self.cans(id, COATING.cans, COATING.prices),
        })
    }

    /// Sizes in which a liquid is sold, with their prices where those are stated; the smallest first.
    pub(super) fn cans(
        &mut self,
        id: NodeId,
        sizes: Property<read::Numbers, Optional>,
        prices: Property<read::Numbers, Optional>,
    ) -> Vec<Can> {
        let places = [self.span(id, prices), self.span(id, sizes)];
        let word = sizes.name;
        let Some(sizes) = self.read(id, sizes) else { return Vec::new() };
        let prices = self.read(id, prices).unwrap_or_default();
        if !prices.is_empty() && prices.len() != sizes.len() {
            let message = format!("{} prices stand for {} {word}", prices.len(), sizes.len());
            self.eval.sink.push(
                Diagnostic::new(&codes::PRICES, message)
                    .at(places[0], "")
                    .and_at(places[1], "the sizes")
                    .help("state one price for each size, in the same order"),
            );
        }
        let mut cans = Vec::new();
        for (place, (size, _)) in sizes.into_iter().enumerate() {
            let Some(size) = size.filter(|size| size.exact.value.is_positive()) else { continue };
            let price = prices.get(place).and_then(|(price, _)| *price).map(|price| price.exact.value);
            cans.push(Can { holds: size.exact, price });
        }
        cans.sort_by_key(|can| can.holds.value);
        cans
    }

    fn caulk(&mut self, id: NodeId) -> Option<Caulk> {
        Some(Caulk {
            name: self.name(id)?,
            text: self.text(id),
            bead: self.read(id, CAULK.bead),
            cartridge: self.read(id, CAULK.cartridge),
            price: self.read(id, CAULK.price).map(|price| price.value),
        })
    }
}
