//! The router: bit, steps, spacers, then a row a line for each pair of sides.

use super::{Leaf, PlaceSpec, drawn};
use crate::document::{AT_WORK, Block, Step};
use crate::fits::{Cut, cuts};
use crate::parts::{Part, Role};
use crate::quantity::{JsonLength, some};
use crate::sheets::{PASSES, Routing, Subject, routing};
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
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
    unit: String,
    boards: Vec<String>,
    lines: Vec<LineRow>,
}

/// A line, from the bottom end.
#[derive(Debug, Serialize)]
struct LineRow {
    mark: JsonLength,
    width: JsonLength,
    depth: JsonLength,
    shelf: String,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let pairs: Vec<Pair> = subject
        .graph
        .numbered_units()
        .filter_map(|(id, unit)| {
            let sides: Vec<&Part> =
                subject.graph.parts_of(id).filter(|part| matches!(part.role, Role::Side(_))).collect();
            let lines = lines(subject, sides.first()?);
            let boards = sides.iter().map(|side| side.path.clone()).collect();
            (!lines.is_empty()).then(|| Pair { unit: unit.path.clone(), boards, lines })
        })
        .collect();
    if pairs.is_empty() {
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
                Step::new("spacer 2, from the line to the guide: this pass first").set(spacer_2.clone()),
                Step::new("spacer 1, from the line to the guide: this pass second").set(spacer_1.clone()),
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
    for pair in &value.pairs {
        drawn(subject, page, "side", Some(&pair.unit));
        page.steps(
            format!("{}: sides edge to edge, bottom ends flush, X over each line", pair.unit),
            pair.steps(),
        );
    }
    page.cautions.push(AT_WORK);
    vec![leaf]
}

fn lines(subject: Subject<'_>, side: &Part) -> Vec<LineRow> {
    let marks = subject.model.project.marks;
    let shelf = |at| {
        let own = subject.graph.joints_in(side.id).find(|joint| marks.nearest(joint.at.value) == at);
        own.and_then(|joint| subject.graph.part(joint.guest))
            .map(|part| part.name.to_string())
            .unwrap_or_default()
    };
    let row = |Cut { at, width, depth }: Cut| LineRow {
        mark: subject.json(at),
        width: subject.fine(width),
        depth: subject.fine(depth),
        shelf: shelf(at),
    };
    cuts(subject.graph, side.id, marks).into_iter().rev().map(row).collect()
}

impl Pair {
    fn steps(&self) -> Vec<Step> {
        let all = self.lines.len();
        let mut steps: Vec<Step> = self
            .lines
            .iter()
            .enumerate()
            .map(|(place, line)| {
                let says = format!(
                    "{}: {} wide, {} deep, X over the line",
                    line.shelf, line.width.print, line.depth.print
                );
                let more =
                    vec![format!("line {} of {all}; pass with spacer 2, then with spacer 1", place + 1)];
                Step { more, ..Step::new(says).set(line.mark.print.clone()) }
            })
            .collect();
        steps.push(Step {
            marks: self.boards.iter().map(|path| format!("{path} grooved")).collect(),
            ..Step::new("all lines of both sides are grooved and cleaned")
        });
        steps
    }
}
