//! The router: bit, steps, spacers, then a row a line for each pair of sides.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Block, Step};
use crate::fits::{Cut, cuts};
use crate::parts::{Part, PartId, Role, UnitId};
use crate::quantity::{JsonLength, Length, some};
use crate::sheets::{PASSES, Routing, Subject, routing};
use serde::Serialize;
use std::collections::BTreeMap;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    early: false,
    by_unit: true,
    name: "router",
    about: "bit, steps and spacers, then a row a line for each pair of sides",
    make,
};

#[derive(Debug, Serialize)]
struct RouterPage {
    routing: Option<Routing>,
    pairs: Vec<Pair>,
}

/// Boards that are grooved together: both sides of a unit, edge to edge.
#[derive(Debug, Serialize)]
struct Pair {
    #[serde(skip)]
    id: UnitId,
    unit: String,
    boards: Vec<String>,
    /// Their codes.
    codes: Vec<String>,
    lines: Vec<LineRow>,
}

/// A line, from the bottom end.
#[derive(Debug, Serialize)]
struct LineRow {
    mark: JsonLength,
    width: JsonLength,
    depth: JsonLength,
    shelf: String,
    /// The code of the shelf.
    code: String,
    /// Where `why` says what the mark comes from.
    #[serde(skip)]
    why: String,
    /// Where guide or base has little board under it.
    mind: Option<String>,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let all = subject.graph.codes();
    let pairs: Vec<Pair> = subject
        .graph
        .numbered_units()
        .filter_map(|(id, unit)| {
            let sides: Vec<&Part> =
                subject.graph.parts_of(id).filter(|part| matches!(part.role, Role::Side(_))).collect();
            let lines = lines(subject, sides.first()?, &all);
            let boards = sides.iter().map(|side| side.path.clone()).collect();
            let codes = sides.iter().filter_map(|side| all.get(&side.id)).cloned().collect();
            (!lines.is_empty()).then(|| Pair { id, unit: unit.path.clone(), boards, codes, lines })
        })
        .collect();
    if !pairs.iter().any(|pair| subject.shows(pair.id)) {
        return Vec::new();
    }
    let value = RouterPage { routing: routing(subject), pairs };
    let mut leaf = Leaf::new(subject, &PLACE, "Router".to_owned(), &value);
    let page = &mut leaf.page;
    match &value.routing {
        None => {
            page.push(Block::Caution("no `router` is stated: spacers and passes are not known".to_owned()))
        }
        Some(routing) => {
            let [bit, spacer_2, spacer_1, deepest] = &routing.fine;
            let mut set = vec![
                Step::new("bit, by caliper").set(bit.clone()),
                Step::new("spacer 2, from the line to the guide: this pass first")
                    .set_why(spacer_2.clone(), "router.spacer_2"),
                Step::new("spacer 1, from the line to the guide: this pass second")
                    .set_why(spacer_1.clone(), "router.spacer_1"),
            ];
            let depths = routing.depths.iter().map(|(depth, steps)| {
                let steps = some(usize::try_from(*steps).unwrap_or(0), "step");
                Step::new(format!("deep, in {steps} of at most {deepest}")).set(depth.print.clone())
            });
            set.extend(depths);
            set.push(Step::new(
                "test cut in a scrap of the same sheet, a shelf of the same sheet in it: by hand, no drop",
            ));
            page.steps("Set up once", set);
            page.words(PASSES.join(" "));
            routing.settings.iter().for_each(|says| page.words(says.clone()));
        }
    }
    if let Some((width, depth)) = value.common() {
        page.words(format!("Every groove is {} wide and {} deep.", width.print, depth.print));
    }
    for pair in value.pairs.iter().filter(|pair| subject.shows(pair.id)) {
        drawn(subject, page, "side", Some(&pair.unit));
        page.steps(
            format!(
                "{}: sides {} edge to edge, bottom ends flush, X over each line",
                pair.unit,
                pair.codes.join(" and ")
            ),
            pair.steps(value.common().is_some()),
        );
    }
    page.cautions.push(AT_WORK);
    vec![leaf]
}

fn lines(subject: Subject<'_>, side: &Part, codes: &BTreeMap<PartId, String>) -> Vec<LineRow> {
    let marks = subject.model.project.marks;
    let row = |Cut { at, width, depth }: Cut| {
        let own = subject.graph.joints_in(side.id).find(|joint| marks.nearest(joint.at.value) == at);
        let joint = own.and_then(|own| Some((subject.graph.part(own.guest)?, own.measure())));
        let code = joint.and_then(|(part, _)| codes.get(&part.id));
        LineRow {
            mark: subject.json(at),
            width: subject.fine(width),
            depth: subject.fine(depth),
            shelf: joint.map(|(part, _)| part.name.to_string()).unwrap_or_default(),
            code: code.cloned().unwrap_or_default(),
            why: joint.map(|(part, measure)| format!("{}.{measure}", part.path)).unwrap_or_default(),
            mind: mind(subject, side, [at, width]),
        }
    };
    cuts(subject.graph, side.id, marks).into_iter().rev().map(row).collect()
}

/// A guide wants so much board under it to be clamped on: 4 in or 100 mm (common practice, no source).
const BOARD: ((i128, i128), (i128, i128)) = ((4, 1), (100, 1));

/// Where the guide, which lies on the bottom-end side, or the base at the top end has little board under it.
fn mind(subject: Subject<'_>, side: &Part, [at, width]: [Length; 2]) -> Option<String> {
    let (router, guided) = (subject.model.shop.router?, subject.graph.router?);
    let (far, system) = (guided.spacer_1.value, subject.model.project.marks.system());
    let under = at.checked_sub(far)?;
    if under < system.length(BOARD.0, BOARD.1) {
        let lies = if under.is_positive() {
            format!("{} of board lies under the guide", subject.print(under))
        } else {
            "no board lies under the guide".to_owned()
        };
        return Some(format!("{lies}: lay a piece of the same sheet against the bottom ends"));
    }
    let over = side.size.length.value.checked_sub(at)?.checked_sub(width)?;
    let hangs = router.base.value.checked_sub(over)?;
    hangs
        .is_positive()
        .then(|| "the base runs over the top ends: lay a piece of the same sheet against them".to_owned())
}

impl RouterPage {
    /// The size of all grooves, where they have one.
    fn common(&self) -> Option<(&JsonLength, &JsonLength)> {
        let mut lines = self.pairs.iter().flat_map(|pair| &pair.lines);
        let first = lines.next()?;
        let alike = |line: &LineRow| line.width == first.width && line.depth == first.depth;
        lines.all(alike).then_some((&first.width, &first.depth))
    }
}

impl Pair {
    fn steps(&self, common: bool) -> Vec<Step> {
        let all = self.lines.len();
        let step = |(place, line): (usize, &LineRow)| {
            let name = format!("{} ({})", line.shelf, line.code);
            let says = if common {
                name
            } else {
                format!("{name}: {} wide, {} deep", line.width.print, line.depth.print)
            };
            let passes =
                format!("line {} of {all}; X over the line; with spacer 2, then with spacer 1", place + 1);
            let more = [passes].into_iter().chain(line.mind.clone()).collect();
            Step { more, ..Step::new(says).set_why(line.mark.print.clone(), line.why.clone()) }
        };
        let mut steps: Vec<Step> = self.lines.iter().enumerate().map(step).collect();
        steps.push(Step {
            marks: self.boards.iter().map(|path| format!("{path} grooved")).collect(),
            ..Step::new("all lines of both sides are grooved and cleaned")
        });
        steps
    }
}
