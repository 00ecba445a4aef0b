//! The router: bit, steps, spacers, then a row a line for each pair of sides.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Block, Step};
use crate::parts::{Joint, JointKind, Part, PartId, Role, UnitId};
use crate::quantity::{JsonLength, Length, some};
use crate::sheets::{PASSES, Routing, Subject, routing};
use crate::views::{Picked, SIDE};
use serde::Serialize;
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    by_unit: true,
    ..PlaceSpec::new("router", "bit, steps and spacers, then a row a line for each pair of sides", make)
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
    /// What takes the back.
    along: Option<String>,
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
            let along = along(subject, sides.first()?);
            (!lines.is_empty()).then(|| Pair { id, unit: unit.path.clone(), boards, codes, lines, along })
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
        drawn(subject, page, &SIDE, &Picked::unit(subject.graph, pair.id));
        page.steps(
            format!(
                "{}: sides {} edge to edge, bottom ends flush; X over each line; each with spacer 2, then with spacer 1",
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
    let graph = subject.graph;
    let row = |joint: &Joint| {
        let guest = graph.part(joint.guest).filter(|guest| guest.role != Role::Back)?;
        let width = match joint.kind {
            JointKind::Dado { width, .. } => width.value,
            JointKind::Rabbet { .. } => guest.size.thickness.value,
            JointKind::Groove { .. } | JointKind::Mortise { .. } | JointKind::Butt => return None,
        };
        let at = subject.model.project.marks.nearest(joint.at.value);
        let row = LineRow {
            mark: subject.json(at),
            width: subject.fine(width),
            depth: subject.fine(joint.kind.depth()?.value),
            shelf: guest.name.to_string(),
            code: codes.get(&guest.id).cloned().unwrap_or_default(),
            why: format!("{}.{}", guest.path, joint.measure()),
            mind: mind(subject, side, [at, width]),
        };
        Some((at, row))
    };
    let mut rows: Vec<(Length, LineRow)> = graph.joints_in(side.id).filter_map(row).collect();
    rows.sort_by_key(|(at, _)| Reverse(*at));
    rows.into_iter().map(|(_, row)| row).collect()
}

/// What takes the back, along the rear edges of the sides.
fn along(subject: Subject<'_>, side: &Part) -> Option<String> {
    let graph = subject.graph;
    graph.joints_in(side.id).find_map(|joint| {
        let back = graph.part(joint.guest).filter(|guest| guest.role == Role::Back)?;
        let depth = subject.fine(joint.kind.depth()?.value).print;
        let from = subject.print(joint.at.value);
        Some(match joint.kind {
            JointKind::Groove { width, set_in, .. } => format!(
                "groove for the back along the rear edges, {} from them: {} wide, {depth} deep, from {from} up",
                subject.print(set_in.value),
                subject.fine(width.value).print
            ),
            JointKind::Dado { .. } | JointKind::Rabbet { .. } | JointKind::Mortise { .. } | JointKind::Butt => {
                let thick = subject.fine(back.size.thickness.value).print;
                format!(
                    "rabbet for the back along the rear edges: {thick} from the rear edge, {depth} into the face, from {from} up"
                )
            }
        })
    })
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
            let passes = format!("line {} of {all}", place + 1);
            let more = [passes].into_iter().chain(line.mind.clone()).collect();
            Step { more, ..Step::new(says).set_why(line.mark.print.clone(), line.why.clone()) }
        };
        let mut steps: Vec<Step> = self.lines.iter().enumerate().map(step).collect();
        steps.extend(self.along.clone().map(Step::new));
        steps.push(Step {
            marks: self.boards.iter().map(|path| format!("{path} grooved")).collect(),
            ..Step::new("all lines of both sides are grooved and cleaned")
        });
        steps
    }
}
