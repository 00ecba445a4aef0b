//! Fixed shelves, one over the other, and the cleats under them.

use super::carcass::{Between, Upright};
use super::fill::Whole;
use super::opening::{Above, Floor};
use super::{Lowering, codes};
use crate::diag::Diagnostic;
use crate::eval::{Dado, Len, Level, Mark, Over};
use crate::parts::{Called, Joint, JointKind, OpeningId, Part, PartId, Place, Role, Size, Stock};

/// A shelf before it is made.
pub(super) struct Standing<'a> {
    pub mark: Mark,
    pub over: Option<&'a Over>,
    pub role: Role,
}

/// What is above the last shelf of a stack: where it ends, and the part that closes it, if one does.
pub(super) type End<'a> = (Above<'a>, Option<PartId>);

impl Lowering<'_> {
    /// The shelves of a carcass; gives back the marks of the lowest and the highest one, without a top.
    pub(super) fn shelves(&mut self, between: &Between<'_>) -> Option<[Mark; 2]> {
        let carcass = between.carcass;
        let mut rows: Vec<Standing<'_>> = if carcass.levels.is_empty() {
            let over = |mark: &Mark| carcass.over.get(&mark.name);
            let rows = carcass.marks.iter();
            rows.map(|mark| Standing { mark: mark.clone(), over: over(mark), role: Role::Shelf }).collect()
        } else {
            self.levels(between)?
        };
        rows = self.that_fit(between, rows)?;
        let ends = rows.first().zip(rows.last()).map(|(low, high)| [low.mark.clone(), high.mark.clone()]);
        if carcass.top {
            let mark = self.top_mark(between);
            rows.extend(mark.map(|mark| Standing { mark, over: None, role: Role::Top }));
        }
        let topmost = rows.last().filter(|_| !carcass.top).map(|row| row.mark.height);
        let end = topmost.map(|mark| {
            let (hangs, used) = self.over_topmost(between, mark);
            (Above { height: carcass.height, mark: None, cleat: None, hangs, used }, None)
        });
        self.stack(between, None, &rows, end);
        let marks: Vec<Len> = rows.iter().skip(1).map(|row| row.mark.height).collect();
        self.without_cleats(between, &marks);
        ends
    }

    /// The shelves of a carcass without a stick: the lowest one on the bottom stretcher, or at the ends of the sides.
    fn levels<'a>(&mut self, between: &Between<'a>) -> Option<Vec<Standing<'a>>> {
        let carcass = between.carcass;
        let base = match carcass.bottom_stretcher {
            Some(stretcher) if stretcher.height.is_none() => {
                let message = format!("nothing says how high the lowest shelf of `{}` stands", between.path);
                let diagnostic = self.blame(Diagnostic::new(&codes::NO_BASE, message), carcass.head, "", &[]);
                self.sink.push(diagnostic.help(
                    "it has no stick: state the height of its `stretcher bottom`, on which the lowest shelf lies",
                ));
                return None;
            }
            Some(stretcher) => stretcher.height.unwrap_or(between.zero),
            None => between.zero,
        };
        let (names, clear): (Vec<_>, Vec<_>) = carcass
            .levels
            .iter()
            .map(|level| (level, (format!("over `{}`", level.name), level.clear)))
            .unzip();
        let terms = [(1, carcass.height), (-1, base)];
        let rule = "from the underside of the lowest shelf to the ends of the sides";
        let length = self.graph.ledger.sum("height for shelves and openings", &terms, rule);
        let what = format!("the openings of `{}`", between.path);
        let count = names.len() + usize::from(carcass.top);
        let whole = Whole {
            what: &what,
            head: carcass.head,
            length,
            between: (i128::try_from(count).unwrap_or(i128::MAX), between.thickness),
            label: "clear height",
        };
        let heights = self.fill(&whole, &clear)?;
        let lowest = self.graph.ledger.sum(
            "mark",
            &[(1, base)],
            "on the bottom stretcher, or at the ends of the sides",
        );
        Some(self.standing(between, &names, lowest, &heights))
    }

    /// Shelves over each other: the first underside at `lowest`, each next one a shelf and a clear height higher.
    pub(super) fn standing<'a>(
        &mut self,
        between: &Between<'_>,
        levels: &[&'a Level],
        lowest: Len,
        heights: &[Len],
    ) -> Vec<Standing<'a>> {
        let mut rows = Vec::new();
        let mut height = lowest;
        for (index, level) in levels.iter().enumerate() {
            let (mark, over) = (Mark { name: level.name.clone(), height }, Some(&level.over));
            rows.push(Standing { mark, over, role: Role::Shelf });
            if let Some(clear) = heights.get(index) {
                let terms = [(1, height), (1, between.thickness), (1, *clear)];
                height = self.graph.ledger.sum("mark", &terms, "over the shelf and the opening below");
            }
        }
        rows
    }

    /// Shelves with the openings between them, from a floor that is there already or from the first shelf; gives back the
    /// shelves.
    pub(super) fn stack(
        &mut self,
        between: &Between<'_>,
        floor: Option<Floor<'_>>,
        rows: &[Standing<'_>],
        end: Option<End<'_>>,
    ) -> Vec<PartId> {
        let (mut below, mut made) = (floor, Vec::new());
        for (index, row) in rows.iter().enumerate() {
            let above = Above {
                height: row.mark.height,
                mark: Some(&row.mark),
                cleat: between
                    .carcass
                    .cleat
                    .filter(|_| below.is_some() && self.at_wall(between, row.mark.height)),
                hangs: self.hangs(between, row.mark.height, !between.bay && index + 1 == rows.len()),
                used: true,
            };
            if below.is_some_and(|floor| !self.opening(between, floor, above)) {
                return made;
            }
            let Some(shelf) = self.shelf(between, &row.mark, row.role) else { return made };
            made.push(shelf);
            if let Some(floor) = below {
                self.close(between, floor, above, shelf);
            }
            let stripped = between.facing.is_some_and(|facing| facing.strip.is_some());
            let railed = below.is_none() && between.facing.is_some_and(|facing| facing.bottom_rail);
            let faced = stripped || railed;
            below = Some(Floor { shelf, mark: &row.mark, over: row.over, bay: None, faced });
        }
        if let (Some(floor), Some((above, ceiling))) = (below, end)
            && self.opening(between, floor, above)
        {
            match ceiling {
                Some(ceiling) => self.close(between, floor, above, ceiling),
                None => self.nothing_above(between, floor),
            }
        }
        made
    }

    /// What the part over an opening brings with it: its cleat, and what stands in the opening.
    fn close(&mut self, between: &Between<'_>, floor: Floor<'_>, above: Above<'_>, ceiling: PartId) {
        let index = OpeningId::at(self.graph.openings.len().saturating_sub(1));
        let divided = match self.graph.openings.last_mut() {
            Some(opening) => {
                opening.under = Some(ceiling);
                opening.divided
            }
            None => false,
        };
        // Where dividers stand, each bay has its own piece of the cleat.
        if let (Some(height), Some(mark), false) = (above.cleat, above.mark, divided) {
            self.cleat(between, mark, height, ceiling);
        }
        self.inside(between, floor, above, (index, ceiling));
    }

    fn shelf(&mut self, between: &Between<'_>, mark: &Mark, role: Role) -> Option<PartId> {
        let called = if role == Role::Top {
            Called::alone(&between.path, "top")
        } else {
            Called::new(&between.path, "shelf", &mark.name)
        };
        let sides = between.sides.map(|upright| {
            let usual = if role == Role::Top {
                Dado { depth: between.carcass.rabbet, ..upright.dado }
            } else {
                upright.dado
            };
            Upright { dado: self.dado_at((&called, role), upright.part, usual), ..upright }
        });
        let [left, right] = sides;
        let [rear, deep] = self.deep_at(between, mark.height);
        if !deep.value.is_positive() {
            self.cut_off(between, &called.path, mark.height);
            return None;
        }
        let ledger = &mut self.graph.ledger;
        let rule = "a shelf is housed in a dado in each side";
        let terms = [(1, between.clear), (1, left.dado.depth), (1, right.dado.depth)];
        let length = ledger.sum("length", &terms, rule);
        let terms = [(1, between.inside), (-1, left.dado.depth)];
        let x = ledger.sum("left end of the shelf", &terms, "it reaches into the dado");
        let size = Size { thickness: between.thickness, width: deep, length };
        let shelf = self.part(between, called, role, size, Place { x, y: rear, z: mark.height })?;
        for upright in sides {
            let rule = "the sheet as measured, and the fit";
            let terms = [(1, between.thickness), (1, upright.dado.fit)];
            let depth = upright.dado.depth;
            let kind = if role == Role::Top {
                JointKind::Rabbet { depth }
            } else {
                JointKind::Dado {
                    depth,
                    fit: upright.dado.fit,
                    width: self.graph.ledger.sum("dado width", &terms, rule),
                }
            };
            let at = self.on_host(upright.foot, mark.height);
            self.graph.join(Joint { guest: shelf, host: upright.part, kind, at });
        }
        Some(shelf)
    }

    /// A top in rabbets is flush with the ends of the sides; its underside counts as the highest mark.
    fn top_mark(&mut self, between: &Between<'_>) -> Option<Mark> {
        let carcass = between.carcass;
        let mut names =
            carcass.marks.iter().map(|mark| &mark.name).chain(carcass.levels.iter().map(|l| &l.name));
        if names.any(|name| &**name == "top") {
            let message = format!("`{}` has a `top` and uses a mark of the same name", between.path);
            let diagnostic =
                self.blame(Diagnostic::new(&codes::TWO_TOPS, message), between.carcass.head, "", &[]);
            self.sink.push(diagnostic.help("give the mark another name, or `skip` it"));
            return None;
        }
        let terms = [(1, between.carcass.height), (-1, between.thickness)];
        let height =
            self.graph.ledger.sum("underside of the top", &terms, "flush with the ends of the sides");
        Some(Mark { name: "top".into(), height })
    }

    fn cleat(&mut self, between: &Between<'_>, mark: &Mark, height: Len, shelf: PartId) {
        let ledger = &mut self.graph.ledger;
        let length = ledger.sum("length", &[(1, between.clear)], "a cleat stands between the sides");
        let z = ledger.sum("bottom edge", &[(1, mark.height), (-1, height)], "it hangs under the shelf");
        let size = Size { thickness: between.thickness, width: height, length };
        let place = Place { x: between.inside, y: between.rear, z };
        let called = Called::new(&between.path, "cleat", &mark.name);
        let cleat =
            Part::new(called, between.owner(), Role::Cleat, Stock::Sheet(between.carcass.sheet), size, place);
        if self.cut_away(between.around, &cleat) {
            return;
        }
        let Some(id) = self.add(Part { backing: vec![shelf], ..cleat }) else { return };
        self.between(between, id, JointKind::Butt, z);
    }
}
