//! Bays: dividers upright between two shelves, and the shelves between them.

use super::carcass::{Between, Upright};
use super::fill::Whole;
use super::opening::{Above, Floor};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Bay, Fill, Len, Level};
use crate::parts::{Called, Divided, Joint, JointKind, OpeningId, PartBay, PartId, Place, Role, Size};

impl Lowering<'_> {
    /// What stands in an opening that is closed above: bays, or loose shelves.
    pub(super) fn inside(
        &mut self,
        between: &Between<'_>,
        floor: Floor<'_>,
        above: Above<'_>,
        (opening, ceiling): (OpeningId, PartId),
    ) {
        let Some(over) = floor.over else { return };
        if !over.bays.is_empty() {
            self.bays(between, floor, above, (opening, ceiling), &over.bays);
        } else if let Some(adjustable) = &over.adjustable {
            self.adjustable(between, floor, above, (opening, adjustable));
        }
    }

    /// Bays and loose shelves need something above them.
    pub(super) fn nothing_above(&mut self, between: &Between<'_>, floor: Floor<'_>) {
        let Some(over) = floor.over else { return };
        let bay = over.bays.first().map(|bay| (bay.head, "a divider", "this bay"));
        let loose = over.adjustable.as_ref().map(|loose| (loose.head, "a loose shelf", "these"));
        if let Some((head, what, here)) = bay.or(loose) {
            let message =
                format!("{what} over `{}` of `{}` has nothing above it", floor.mark.name, between.path);
            let diagnostic = Diagnostic::new(&codes::OPEN_ABOVE, message).at(head, here);
            self.sink
                .push(diagnostic.help("close the carcass with a `top {}`, or with a shelf over this one"));
        }
    }

    fn bays(
        &mut self,
        between: &Between<'_>,
        floor: Floor<'_>,
        above: Above<'_>,
        (opening, ceiling): (OpeningId, PartId),
        bays: &[Bay],
    ) {
        let path = self.graph.part(floor.shelf).map_or_else(String::new, |shelf| shelf.path.clone());
        let clear_height = self.graph.opening(opening).map(|opening| opening.clear_height);
        let (Some(clear_height), true) = (clear_height, self.has_room(3 * bays.len())) else { return };
        let members: Vec<(String, Fill)> =
            bays.iter().map(|bay| (format!("bay `{}`", bay.name), bay.width)).collect();
        let whole = Whole {
            what: &format!("the bays over `{path}`"),
            head: bays.first().map(|bay| bay.head),
            length: between.clear,
            between: (i128::try_from(bays.len() - 1).unwrap_or(i128::MAX), between.thickness),
            label: "bay width",
        };
        let Some(widths) = self.fill(&whole, &members) else { return };
        let ledger = &mut self.graph.ledger;
        let top = ledger.sum("top of the shelf", &[(1, floor.mark.height), (1, between.thickness)], "");
        let spot = Between { path: path.clone(), ..between.clone() };
        let mut done = Divided { unit: between.unit, opening, floor: top, on: floor.shelf, bays: Vec::new() };
        let (mut inside, mut left) = (between.inside, between.sides[0]);
        for (index, (bay, width)) in bays.iter().zip(&widths).enumerate() {
            let mut right = between.sides[1];
            let mut divider = None;
            let face = self.graph.ledger.sum(
                "left face of the divider",
                &[(1, inside), (1, *width)],
                "after the bay",
            );
            if let Some(next) = bays.get(index + 1) {
                let name = [&*bay.name, &*next.name];
                let ends = (floor.shelf, ceiling);
                let made = self.divider(&spot, name, ends, (face, top, clear_height));
                let Some(made) = made else { return };
                right = made;
                divider = Some(made.part);
            }
            let within = Between {
                path: format!("{path}.bay.{}", bay.name),
                clear: *width,
                inside,
                sides: [left, right],
                bay: true,
                ..between.clone()
            };
            let first = (between.unit, self.graph.next_opening());
            let shelves = self.bay(&within, floor, above, ceiling, (bay, top, clear_height));
            let bounds = std::iter::once(floor.shelf).chain(shelves.iter().copied()).chain([ceiling]);
            self.bay_closes(&within, bay, bounds.collect());
            let (path, name) = (within.path, bay.name.clone());
            let openings = self.graph.openings_on(first, (floor.shelf, &shelves));
            done.bays.push(PartBay { path, name, x: inside, clear: *width, shelves, openings, divider });
            inside =
                self.graph.ledger.sum("right face of the divider", &[(1, face), (1, between.thickness)], "");
            left = right;
        }
        self.graph.divided.push(done);
    }

    /// One bay: its shelves between its uprights, up to what closes the opening; gives them back from the bottom.
    fn bay(
        &mut self,
        between: &Between<'_>,
        floor: Floor<'_>,
        above: Above<'_>,
        ceiling: PartId,
        (bay, top, clear_height): (&Bay, Len, Len),
    ) -> Vec<PartId> {
        let members: Vec<(String, Fill)> = std::iter::once(("over its floor".to_owned(), bay.clear))
            .chain(bay.shelves.iter().map(|level| (format!("over `{}`", level.name), level.clear)))
            .collect();
        let whole = Whole {
            what: &format!("the openings of the bay `{}`", between.path),
            head: Some(bay.head),
            length: clear_height,
            between: (i128::try_from(bay.shelves.len()).unwrap_or(i128::MAX), between.thickness),
            label: "clear height",
        };
        let Some(heights) = self.fill(&whole, &members) else { return Vec::new() };
        let Some((lowest, heights)) = heights.split_first() else { return Vec::new() };
        let lowest = self.graph.ledger.sum("mark", &[(1, top), (1, *lowest)], "over the floor of the bay");
        let levels: Vec<&Level> = bay.shelves.iter().collect();
        if !self.has_room(4 * levels.len()) {
            return Vec::new();
        }
        let rows = self.standing(between, &levels, lowest, heights);
        let called = Called { path: between.path.clone(), name: bay.name.clone(), former: None };
        let floor = Floor { over: Some(&bay.over), bay: Some(&called), ..floor };
        self.stack(between, Some(floor), &rows, Some((above, Some(ceiling))))
    }

    /// A divider, housed in the shelf under it and in the one over it.
    fn divider(
        &mut self,
        between: &Between<'_>,
        bays: [&str; 2],
        (under, over): (PartId, PartId),
        (face, top, clear_height): (Len, Len, Len),
    ) -> Option<Upright> {
        let usual = between.carcass.in_shelf;
        let called = Called::between(&between.path, "divider", bays);
        let dados = [under, over].map(|host| self.dado_at((&called, Role::Divider), host, usual));
        let ledger = &mut self.graph.ledger;
        let rule = "a divider is housed in the shelf under it and in the one over it";
        let terms = [(1, clear_height), (1, dados[0].depth), (1, dados[1].depth)];
        let length = ledger.sum("length", &terms, rule);
        let foot = ledger.sum("lower end", &[(1, top), (-1, dados[0].depth)], "it reaches into the dado");
        let (y, width) = self
            .graph
            .part(under)
            .map_or((between.rear, between.deep), |under| (under.place.y, under.size.width));
        let size = Size { thickness: between.thickness, width, length };
        let part = self.part(between, called, Role::Divider, size, Place { x: face, y, z: foot })?;
        for (host, dado) in [under, over].into_iter().zip(dados) {
            let end = self.graph.part(host).map_or(face, |host| host.place.x);
            let rule = "from the left end of the shelf to the left face of the divider";
            let at = self.graph.ledger.sum("mark", &[(1, face), (-1, end)], rule);
            let terms = [(1, between.thickness), (1, dado.fit)];
            let width = self.graph.ledger.sum("dado width", &terms, "the sheet as measured, and the fit");
            let kind = JointKind::Dado { depth: dado.depth, fit: dado.fit, width };
            self.graph.join(Joint { guest: part, host, kind, at });
        }
        Some(Upright { part, dado: between.carcass.in_divider, foot: Some(foot) })
    }
}
