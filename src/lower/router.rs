//! How the router is guided across a dado that is wider than its bit: two passes, two spacers.

use super::Lowering;
use crate::eval::Len;
use crate::parts::{JointKind, LowestLine, RouterPart};
use crate::quantity::Rational;

impl Lowering<'_> {
    /// Spacers for the first dado of the project; the guide lies on the bottom-end side of the line.
    pub(super) fn router(&mut self) {
        let Some(router) = self.model.shop.router else { return };
        let dados: Vec<(Len, Len)> = self
            .graph
            .joints
            .iter()
            .filter_map(|joint| match joint.kind {
                JointKind::Dado { width, .. } => Some((width, joint.at)),
                JointKind::Rabbet { .. }
                | JointKind::Groove { .. }
                | JointKind::Mortise { .. }
                | JointKind::Butt => None,
            })
            .collect();
        let Some((dado, _)) = dados.first().copied() else { return };
        // At the very end of a board a dado has one wall only: it is a rabbet, and no guide lies below it.
        let lines = dados.iter().map(|(_, mark)| *mark).filter(|mark| !mark.value.is_zero());
        let lowest = lines.min_by_key(|mark| mark.value);
        let ledger = &mut self.graph.ledger;
        let half = ledger.divide("half the bit", router.bit, Rational::from(2), "");
        let rule = "from the line to the guide: the base reaches past the bit's edge by this";
        let spacer_1 = ledger.sum("spacer 1", &[(1, router.base), (-1, half)], rule);
        let rule = "what the dado is wider than the bit, the second pass stands nearer; it is cut first";
        let spacer_2 = ledger.sum("spacer 2", &[(1, spacer_1), (-1, dado), (1, router.bit)], rule);
        let overlap = ledger.sum("overlap of the passes", &[(2, router.bit), (-1, dado)], "");
        let rule = "what is left of the board below the guide at the lowest line";
        let lowest = lowest.map(|mark| LowestLine {
            mark,
            board: ledger.sum("board left for the guide", &[(1, mark), (-1, spacer_1)], rule),
        });
        self.graph.router = Some(RouterPart { spacer_1, spacer_2, overlap, lowest });
    }
}
