//! A back: a panel in rabbets or grooves of the sides, or planted on their rear edges.

use super::Lowering;
use super::carcass::Between;
use crate::eval::{Back, BackJoint, Carcass, Len};
use crate::parts::{Called, Joint, JointKind, Part, Place, Role, Size, Stock};

/// What a back takes of the depth.
pub(super) struct BackRoom {
    /// Its thickness.
    thickness: Len,
    /// Where the rear edges of the sides stand.
    pub sides: Len,
    /// Where shelves end at the rear.
    pub rear: Len,
    /// How deep shelves are.
    pub deep: Len,
    /// From the wall to the front edges.
    pub depth: Len,
}

impl Lowering<'_> {
    /// The room that a back leaves; `None` where the carcass has none.
    pub(super) fn back_room(&mut self, carcass: &Carcass, zero: Len) -> Option<BackRoom> {
        let back = carcass.back.as_ref()?;
        let thickness = self.model.sheets.get(back.sheet.0)?.thickness;
        let ledger = &mut self.graph.ledger;
        Some(match back.joint {
            BackJoint::Planted => {
                let terms = [(1, carcass.depth), (1, thickness)];
                let depth =
                    ledger.sum("depth over the back", &terms, "the back is planted on the rear edges");
                BackRoom { thickness, sides: thickness, rear: thickness, deep: carcass.depth, depth }
            }
            BackJoint::Rabbet { .. } => {
                let terms = [(1, carcass.depth), (-1, thickness)];
                let deep = ledger.sum("depth of the shelves", &terms, "they end before the back");
                BackRoom { thickness, sides: zero, rear: thickness, deep, depth: carcass.depth }
            }
            BackJoint::Groove { set_in, .. } => {
                let rear = ledger.sum("front of the back", &[(1, set_in), (1, thickness)], "");
                let terms = [(1, carcass.depth), (-1, rear)];
                let deep = ledger.sum("depth of the shelves", &terms, "they end before the back");
                BackRoom { thickness, sides: zero, rear, deep, depth: carcass.depth }
            }
        })
    }

    /// The back itself, from the underside of the lowest shelf to the ends of the sides.
    pub(super) fn back(&mut self, between: &Between<'_>, room: &BackRoom, lowest: Len) {
        let Some(Back { sheet, joint, .. }) = between.carcass.back else { return };
        let thickness = room.thickness;
        let ledger = &mut self.graph.ledger;
        let rule = "from the underside of the lowest shelf to the ends of the sides";
        let length = ledger.sum("length", &[(1, between.carcass.height), (-1, lowest)], rule);
        let length = self.back_under(between, joint, lowest).unwrap_or(length);
        let ledger = &mut self.graph.ledger;
        let (width, x, y, kind) = match joint {
            BackJoint::Planted => {
                let terms = [(1, between.clear), (2, between.thickness)];
                let width = ledger.sum("width", &terms, "over the outer faces of the sides");
                (width, between.zero, between.zero, JointKind::Butt)
            }
            BackJoint::Rabbet { depth } => {
                let (width, x) = housed(ledger, between, depth);
                (width, x, between.zero, JointKind::Rabbet { depth })
            }
            BackJoint::Groove { depth, fit, set_in } => {
                let (width, x) = housed(ledger, between, depth);
                let terms = [(1, thickness), (1, fit)];
                let groove = ledger.sum("groove width", &terms, "the sheet as measured, and the fit");
                (width, x, set_in, JointKind::Groove { depth, width: groove, set_in })
            }
        };
        let (called, stock) = (Called::alone(&between.path, "back"), Stock::Sheet(sheet));
        let (size, place) = (Size { thickness, width, length }, Place { x, y, z: lowest });
        let back = Part::new(called, between.owner(), Role::Back, stock, size, place);
        let Some(id) = self.add(back) else { return };
        for upright in between.sides {
            self.graph.join(Joint { guest: id, host: upright.part, kind, at: lowest });
        }
    }
}

/// Width and left end of a back that reaches into both sides.
fn housed(ledger: &mut crate::eval::Ledger, between: &Between<'_>, depth: Len) -> (Len, Len) {
    let width = ledger.sum("width", &[(1, between.clear), (2, depth)], "the back reaches into both sides");
    let x = ledger.sum("left edge", &[(1, between.inside), (-1, depth)], "it reaches into the side");
    (width, x)
}
