//! How the router is guided across a dado that is wider than its bit: two passes, two spacers.

use super::Lowering;
use crate::eval::Len;
use crate::parts::{FromAbove, JointKind, LowestLine, PartId, RouterPart};
use crate::quantity::Rational;

impl Lowering<'_> {
    /// Spacers for the first dado of the project; the guide lies on the bottom-end side of the line.
    pub(super) fn router(&mut self) {
        let Some(router) = self.model.shop.router else { return };
        let dados: Vec<(Len, Len, PartId)> = self
            .graph
            .joints
            .iter()
            .filter_map(|joint| match joint.kind {
                JointKind::Dado { width, .. } => Some((width, joint.at, joint.host)),
                JointKind::Rabbet { .. }
                | JointKind::Groove { .. }
                | JointKind::Mortise { .. }
                | JointKind::Butt => None,
            })
            .collect();
        let Some((dado, ..)) = dados.first().copied() else { return };
        let ledger = &mut self.graph.ledger;
        let half = ledger.divide("half the bit", router.bit, Rational::from(2), "");
        let rule = "from the line to the guide: the base reaches past the bit's edge by this";
        let spacer_1 = ledger.sum("spacer 1", &[(1, router.base), (-1, half)], rule);
        let rule = "what the dado is wider than the bit, the second pass stands nearer; it is cut first";
        let spacer_2 = ledger.sum("spacer 2", &[(1, spacer_1), (-1, dado), (1, router.bit)], rule);
        let overlap = ledger.sum("overlap of the passes", &[(2, router.bit), (-1, dado)], "");
        // At the very end of a board a dado has one wall only: it is a rabbet, and no guide lies below it.
        let lines = dados.iter().filter(|(_, mark, _)| !mark.value.is_zero());
        let near = |mark: &Len| router.above && mark.value < spacer_1.value;
        let lowest = lines.clone().map(|(_, mark, _)| *mark).filter(|mark| !near(mark));
        let rule = "what is left of the board below the guide at the lowest line";
        let lowest = lowest.min_by_key(|mark| mark.value).map(|mark| LowestLine {
            mark,
            board: ledger.sum("board left for the guide", &[(1, mark), (-1, spacer_1)], rule),
        });
        let over = lines.filter(|(_, mark, _)| near(mark));
        let over = over.filter_map(|(_, mark, host)| Some((*mark, self.graph.part(*host)?.size.length)));
        let worst = over.min_by_key(|(mark, length)| length.value.checked_sub(mark.value));
        let above = worst.map(|(mark, length)| {
            let ledger = &mut self.graph.ledger;
            let rule = "over the line: the base reaches past the bit's other edge by this";
            let board_1 =
                ledger.sum("board from the line to the guide above", &[(1, router.base), (1, half)], rule);
            let rule = "what the dado is wider than the bit, the second pass stands farther off";
            let terms = [(1, board_1), (1, dado), (-1, router.bit)];
            let board_2 = ledger.sum("board of the second pass", &terms, rule);
            let rule = "what is left of the board above the guide";
            let left = ledger.sum("board left above", &[(1, length), (-1, mark), (-1, board_2)], rule);
            FromAbove { board_1, board_2, mark, left }
        });
        self.graph.router = Some(RouterPart { spacer_1, spacer_2, overlap, above, lowest });
    }
}
