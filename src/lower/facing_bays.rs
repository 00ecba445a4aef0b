//! The facing of divided openings: a stile before each divider, strips between the stiles.

use super::Lowering;
use super::facing::Made;
use super::run::Stand;
use crate::eval::{Facing, Len};
use crate::parts::{Called, Divided, Owner, PartBay, PartId, Place, Role, Unit, UnitId};
use crate::quantity::Rational;

impl Lowering<'_> {
    pub(super) fn bay_facing(&mut self, stand: &Stand<'_>, facing: &Facing, (id, unit): (UnitId, &Unit)) {
        let all: Vec<Divided> = self.graph.divided_of(id).cloned().collect();
        for divided in all {
            self.divided_facing(stand, facing, (id, unit), &divided);
        }
    }

    fn divided_facing(
        &mut self,
        stand: &Stand<'_>,
        facing: &Facing,
        (id, unit): (UnitId, &Unit),
        divided: &Divided,
    ) {
        let front = self.graph.opening(divided.opening).map(|opening| opening.opening_front);
        let (Some(front), Some(thickness)) =
            (front, self.graph.sheet(unit.sheet).map(|sheet| sheet.thickness))
        else {
            return;
        };
        let width = match facing.divider {
            Some(width) => width,
            None => {
                let terms = [(1, thickness), (2, unit.lap)];
                self.graph.ledger.sum("stile width", &terms, "over the divider, and both laps")
            }
        };
        let over = self.graph.ledger.sum("both laps over the bays", &[(1, width), (-1, thickness)], "");
        let lap =
            self.graph.ledger.divide("lap of the stile", over, Rational::from(2), "centred on the divider");
        let last = divided.bays.len().saturating_sub(1);
        for (index, bay) in divided.bays.iter().enumerate() {
            let laps =
                [if index == 0 { unit.laps[0] } else { lap }, if index == last { unit.laps[1] } else { lap }];
            let terms = [(1, bay.clear), (-1, laps[0]), (-1, laps[1])];
            let length = self.graph.ledger.sum("length", &terms, "strips stand between stiles");
            let x = self.graph.ledger.sum("left end", &[(1, bay.x), (1, laps[0])], "where the stile ends");
            if let (Some(strip), true) = (facing.strip, length.value.is_positive()) {
                let owner = Owner { unit: Some(id), run: Some(stand.id) };
                for shelf in &bay.shelves {
                    self.bay_strip(facing, (owner, unit), (bay, *shelf), (strip, length, x, thickness));
                }
            }
            let divider = bay.divider.and_then(|divider| self.graph.part(divider)).cloned();
            if let Some((divider, next)) = divider.zip(divided.bays.get(index + 1)) {
                let terms = [(1, divider.place.x), (-1, lap)];
                let x = self.graph.ledger.sum("left edge of the stile", &terms, "centred on the divider");
                let length = self.graph.ledger.sum(
                    "length",
                    &[(1, front)],
                    "from the shelf's top to the strip over it",
                );
                let made = Made::plain(width, length, Place { x, y: unit.depth, z: divided.floor });
                let floor = self.graph.part(divided.on).map_or("", |shelf| shelf.path.as_str());
                // It is called as its divider is: by the two bays beside it.
                let called = Called::between(floor, "stile", [&bay.name, &next.name]);
                let owner = Owner { unit: Some(id), run: Some(stand.id) };
                self.facing_part((called, owner), (Role::Stile, vec![divider.id]), facing, made);
            }
        }
    }

    fn bay_strip(
        &mut self,
        facing: &Facing,
        (owner, unit): (Owner, &Unit),
        (bay, shelf): (&PartBay, PartId),
        (strip, length, x, thickness): (Len, Len, Len, Len),
    ) {
        let Some(shelf) = self.graph.part(shelf).cloned() else { return };
        let terms = [(1, shelf.place.z), (1, thickness), (-1, strip)];
        let z = self.graph.ledger.sum("lower edge", &terms, "its top is flush with the shelf's");
        let made = Made::plain(strip, length, Place { x, y: unit.depth, z });
        let called = Called::new(&bay.path, "strip", &shelf.name);
        self.facing_part((called, owner), (Role::Strip, vec![shelf.id]), facing, made);
    }
}
