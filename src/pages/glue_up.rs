//! The glue-up of each unit: dry fit, what lies ready, stages with their minutes, nail lines, the diagonal to reach.

use super::{Leaf, PlaceSpec, drawn, noted};
use crate::document::{AT_WORK, Block, Cell, Step, Table, figures, words};
use crate::parts::{Drawer, JointKind, Part, PartGraph, PartId, Role, UnitId, duration};
use crate::quantity::{Estimate, JsonLength, Length, Rational, estimate, some};
use crate::sequence::{GlueUp, glue_ups, in_twos};
use crate::sheets::Subject;
use crate::views::{APART, Picked};
use serde::Serialize;
use std::collections::BTreeMap;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: true,
    by_unit: true,
    ..PlaceSpec::new(
        "glue-up",
        "each unit: dry fit, kit, stages that the glue leaves time for, nail lines, diagonal",
        make,
    )
};

/// A unit up to this height has diagonals alike within 1/16 in (1.6 mm), a higher one within 1/8 in (3.2 mm): 4 ft or 1.2 m (common
/// practice, no source).
const LOW: ((i128, i128), (i128, i128)) = ((48, 1), (1200, 1));

#[derive(Debug, Serialize)]
struct GlueUpPage {
    unit: String,
    stages: Vec<StageRow>,
    open: Option<String>,
    nails: Vec<NailRow>,
    diagonal: String,
    within: String,
    notes: Vec<String>,
    weight: Option<String>,
    in_twos: bool,
    clamps: usize,
    owned: Option<usize>,
    parts: Vec<String>,
    /// The codes of the parts, as they follow each other.
    codes: Vec<String>,
    /// The boxes of its drawers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    drawers: Vec<DrawerRow>,
}

/// The box of a drawer.
#[derive(Debug, Serialize)]
struct DrawerRow {
    drawer: String,
    /// The codes of its sides, its ends and its bottom.
    codes: [String; 3],
    parts: Vec<String>,
    /// Over its sides, from front to rear, and how high.
    size: [JsonLength; 3],
    /// From the lower edge to the groove, its depth and its width.
    groove: [JsonLength; 3],
    diagonal: String,
}

#[derive(Debug, Serialize)]
struct StageRow {
    shelves: Vec<String>,
    joints: usize,
    takes: Option<String>,
}

#[derive(Debug, Serialize)]
struct NailRow {
    code: String,
    shelf: String,
    /// Where `why` says what the mark comes from.
    #[serde(skip)]
    why: String,
    mark: JsonLength,
    line: JsonLength,
    exact: String,
    nails: usize,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let weights = subject.graph.unit_weights(&subject.graph.cut_off());
    let codes = subject.graph.codes();
    let of = |id: UnitId| weights.get(id.0 as usize).copied().flatten();
    let ups = glue_ups(subject.model, subject.graph);
    let shown = ups.iter().filter(|up| subject.shows(up.unit));
    shown.filter_map(|up| unit(subject, up, of(up.unit), &codes)).collect()
}

fn unit(
    subject: Subject<'_>,
    up: &GlueUp,
    weight: Option<Estimate>,
    codes: &BTreeMap<PartId, String>,
) -> Option<Leaf> {
    let (model, graph) = (subject.model, subject.graph);
    let unit = graph.unit(up.unit)?;
    let system = model.project.marks.system();
    let code = |part: &PartId| codes.get(part).cloned().unwrap_or_default();
    let name = |part: &PartId| graph.part(*part).map(|part| part.name.to_string()).unwrap_or_default();
    let time = |seconds: Rational| duration(seconds);
    let is_low = unit.height.value <= system.length(LOW.0, LOW.1);
    let within =
        subject.print(if is_low { system.length((1, 16), (8, 5)) } else { system.length((1, 8), (16, 5)) });
    let carried: Vec<&Part> = graph.parts_of(up.unit).filter(|part| part.role.is_carried()).collect();
    let page = GlueUpPage {
        unit: unit.path.clone(),
        stages: up
            .stages
            .iter()
            .map(|stage| StageRow {
                shelves: stage.shelves.iter().map(name).collect(),
                joints: stage.joints,
                takes: stage.takes.map(time),
            })
            .collect(),
        open: up.open.map(time),
        nails: up
            .nails
            .iter()
            .map(|nail| NailRow {
                code: code(&nail.shelf),
                shelf: name(&nail.shelf),
                why: why(graph, up.unit, nail.shelf),
                mark: subject.json(nail.mark),
                line: subject.json(nail.line),
                exact: model.project.marks.print_fine(nail.line).text().to_owned(),
                nails: nail.nails,
            })
            .collect(),
        diagonal: estimate(up.diagonal, system),
        within,
        notes: noted([(unit.path.as_str(), unit.notes.own.as_ref())])
            .chain(noted(unit.notes.shelves.iter().map(|(shelf, note)| (&**shelf, Some(note)))))
            .collect(),
        weight: weight.map(|weight| estimate(weight, system)),
        in_twos: in_twos(model, unit, weight),
        clamps: up.clamps,
        owned: up.owned,
        parts: carried.iter().map(|part| part.path.clone()).collect(),
        codes: carried.iter().map(|part| code(&part.id)).collect(),
        drawers: drawers(subject, up.unit, codes),
    };
    let mut leaf = Leaf::new(subject, &PLACE, format!("Glue-up: {}", unit.path), &page);
    let out = &mut leaf.page;
    page.notes.iter().for_each(|note| out.words(note.clone()));
    drawn(subject, out, &APART, &Picked::unit(graph, up.unit));
    out.steps("Lay ready", ready(subject, up, &page));
    out.table(parts(subject, &unit.path, &carried, &page.codes));
    if let Some(barred) = up.barred.filter(|_| page.is_late(up)) {
        let says = format!(
            "All {} of a side go in at once, since {barred}: take a glue that stays open longer, or a second person.",
            some(page.stages.first().map_or(0, |stage| stage.joints), "joint")
        );
        out.push(Block::Caution(says));
    }
    out.steps(
        "Dry fit, without glue",
        vec![
            Step::new(
                "lay the right side on the bench, its inside up, front edge towards you: its bottom end is at your left",
            ),
            Step::new("set every shelf into its groove: by hand, none drops out; the other side on top"),
            Step::new(format!("measure both diagonals: they are alike within {}", page.within))
                .set_why(page.diagonal.clone(), format!("{}.diagonal", page.unit)),
        ],
    );
    for (place, (stage, row)) in up.stages.iter().zip(&page.stages).enumerate() {
        out.steps(caption(up, &page, place), steps(&page, stage.joints, row, place));
    }
    out.table(nail_lines(&page));
    let square = vec![
        Step::new(format!("both diagonals alike within {}; pull the longer one with a clamp", page.within))
            .set_why(page.diagonal.clone(), format!("{}.diagonal", page.unit)),
        Step::new(
            "wipe squeezed-out glue with a damp rag, also where a strip will sit; nothing proud at the front edges",
        ),
        Step {
            marks: page.parts.iter().map(|part| format!("{part} glued")).collect(),
            ..Step::new("glued; left in clamps and square as long as the maker says")
        },
    ];
    out.steps("Square", square);
    if carried.iter().any(|part| part.role == Role::Cleat) {
        let cleats = [
            "cleats glued and nailed under their shelves, rear edges flush, before the unit stands",
            "stretchers between the sides, square to them",
        ];
        out.steps("When the glue holds", cleats.map(Step::new).into());
    }
    for drawer in &page.drawers {
        out.steps(format!("The box of {}", drawer.drawer), drawer.steps(&page.within));
    }
    out.cautions.push(AT_WORK);
    Some(leaf)
}

fn drawers(subject: Subject<'_>, unit: UnitId, codes: &BTreeMap<PartId, String>) -> Vec<DrawerRow> {
    let graph = subject.graph;
    let row = |drawer: &Drawer| {
        let [left, end, bottom] = [drawer.sides[0], drawer.ends[0], drawer.bottom].map(|id| graph.part(id));
        let (left, end, bottom) = (left?, end?, bottom?);
        let groove = graph.joints_of(bottom.id).find_map(|joint| match joint.kind {
            JointKind::Groove { depth, width, set_in } => Some([set_in, depth, width]),
            JointKind::Dado { .. }
            | JointKind::Rabbet { .. }
            | JointKind::Mortise { .. }
            | JointKind::Butt => None,
        })?;
        let code = |id: PartId| codes.get(&id).cloned().unwrap_or_default();
        let both = |ids: [PartId; 2]| ids.map(code).join(" and ");
        let thick = left.size.thickness.value;
        let wide = end.size.length.value.checked_add(thick)?.checked_add(thick)?;
        let own = drawer.sides.into_iter().chain(drawer.ends).chain([drawer.bottom]);
        let system = subject.model.project.marks.system();
        Some(DrawerRow {
            drawer: drawer.path.clone(),
            codes: [both(drawer.sides), both(drawer.ends), code(drawer.bottom)],
            parts: own.filter_map(|id| graph.part(id)).map(|part| part.path.clone()).collect(),
            size: [wide, left.size.length.value, left.size.width.value].map(|size| subject.json(size)),
            groove: groove.map(|size| subject.json(size.value)),
            diagonal: estimate(graph.box_diagonal(drawer)?, system),
        })
    };
    graph.drawers.iter().filter(|drawer| drawer.unit == Some(unit)).filter_map(row).collect()
}

impl DrawerRow {
    fn steps(&self, within: &str) -> Vec<Step> {
        let ([sides, ends, bottom], [wide, deep, high]) = (&self.codes, &self.size);
        let [set_in, depth, width] = &self.groove;
        vec![
            Step::new(format!(
                "{sides}, {ends}: a groove along each, {} wide and {} deep, from the lower edge to it",
                width.print, depth.print
            ))
            .set(set_in.print.clone()),
            Step::new(format!(
                "dry: {bottom} slides into the grooves by hand, {ends} stand between {sides}, lower edges flush"
            )),
            Step::new(format!(
                "glue on the ends of {ends} only; the bottom goes in with them and holds the box square; nail or screw the corners"
            )),
            Step::new(format!(
                "{} wide, {} from front to rear, {} high; both diagonals alike within {within}",
                wide.print, deep.print, high.print
            ))
            .set(self.diagonal.clone()),
            Step {
                marks: self.parts.iter().map(|part| format!("{part} glued")).collect(),
                ..Step::new("glued; it stays bare where it runs")
            },
        ]
    }
}

/// The path of the mark of a shelf in the sides of its unit.
fn why(graph: &PartGraph, unit: UnitId, shelf: PartId) -> String {
    let sides = graph.parts_of(unit).filter(|part| matches!(part.role, Role::Side(_)));
    let joint = sides.flat_map(|side| graph.joints_in(side.id)).find(|joint| joint.guest == shelf);
    let measured = joint.zip(graph.part(shelf));
    measured.map(|(joint, part)| format!("{}.{}", part.path, joint.measure())).unwrap_or_default()
}

impl GlueUpPage {
    /// Whether a stage takes longer than the glue stays open.
    fn is_late(&self, up: &GlueUp) -> bool {
        up.open
            .is_some_and(|open| up.stages.iter().any(|stage| stage.takes.is_some_and(|takes| takes > open)))
    }
}

fn ready(subject: Subject<'_>, up: &GlueUp, page: &GlueUpPage) -> Vec<Step> {
    let owned = match up.owned {
        Some(owned) if owned < up.clamps => {
            format!(", and {owned} open wide enough: borrow {}", up.clamps - owned)
        }
        Some(owned) => format!("; {owned} open wide enough"),
        None => String::new(),
    };
    let mut ready = vec![Step::new(format!("clamps{owned}")).set(up.clamps.to_string())];
    let nails: usize = page.nails.iter().map(|row| row.nails.saturating_mul(2)).sum();
    let fastener = up.fastener.and_then(|own| subject.graph.fasteners.get(own));
    if let Some(fastener) = fastener.filter(|_| nails > 0) {
        ready.push(
            Step::new(format!("{} in the nailer, for the ends of shelves", fastener.name))
                .set(nails.to_string()),
        );
    }
    let glue = up.glue.and_then(|glue| subject.model.glues.get(glue));
    let glue = glue.map_or("glue; none is stated".to_owned(), |glue| match &page.open {
        Some(open) => format!("{}, which stays open {open}", glue.name),
        None => format!("{}; how long it stays open is not stated (`open`)", glue.name),
    });
    ready.extend([
        Step::new(glue),
        Step::new("square, tape, damp rag, a brush for the grooves"),
        Step::new("insides sanded, arrises eased but not those that strips and stiles sit on; grooves clean"),
    ]);
    if page.in_twos {
        let weighs = page.weight.as_ref().map(|weight| format!(", it weighs {weight}")).unwrap_or_default();
        ready.push(Step::new(format!("a second person for turning and lifting it{weighs}")));
    }
    ready
}

fn caption(up: &GlueUp, page: &GlueUpPage, place: usize) -> String {
    let count = up.stages.len();
    let takes = page.stages.get(place).and_then(|stage| stage.takes.as_ref());
    let takes = match (takes, &page.open) {
        (Some(takes), Some(open)) => format!(", {takes} a side of {open}"),
        (Some(takes), None) => format!(", {takes} a side"),
        (None, _) => ", time a joint is not stated (`person { joint = .. }`)".to_owned(),
    };
    if count == 1 {
        format!("Glue, one stage{takes}")
    } else {
        format!("Glue, stage {} of {count}{takes}", place + 1)
    }
}

fn steps(page: &GlueUpPage, joints: usize, row: &StageRow, place: usize) -> Vec<Step> {
    let shelves = row.shelves.join(", ");
    let joints = some(joints, "groove");
    let mut steps = if place == 0 {
        vec![
            Step::new("one side on the bench, its inside up"),
            Step::new(format!("glue into {joints}: {shelves}")),
            Step::new("stand the shelves into it, front edges flush"),
            Step::new("glue into the same grooves of the other side, set it on top, clamp, nail"),
        ]
    } else {
        vec![
            Step::new(format!("glue into {joints} of each side, brushed in from the rear: {shelves}")),
            Step::new("slide each shelf in from the rear, front edges flush; clamp, nail"),
        ]
    };
    if place + 1 < page.stages.len() {
        steps.push(
            Step::new(format!("both diagonals alike within {}; let the glue grab", page.within))
                .set_why(page.diagonal.clone(), format!("{}.diagonal", page.unit)),
        );
    }
    steps
}

fn parts(subject: Subject<'_>, unit: &str, carried: &[&Part], codes: &[String]) -> Table {
    let size = |length: Length| subject.print(length);
    let rows = carried.iter().zip(codes).map(|(part, code)| {
        vec![
            Cell::Words(code.clone()),
            Cell::Words(part.within(unit).to_owned()),
            Cell::Figure(format!("{} x {}", size(part.size.width.value), size(part.size.length.value))),
        ]
    });
    Table {
        caption: format!("Parts: {}", carried.len()),
        columns: vec![words("code"), words("part"), figures("width x length")],
        rows: rows.collect(),
        foot: None,
    }
}

fn nail_lines(page: &GlueUpPage) -> Table {
    let rows = page.nails.iter().rev().map(|row| {
        let fine = if row.exact == row.line.print { String::new() } else { row.exact.clone() };
        vec![
            Cell::Words(row.code.clone()),
            Cell::Words(row.shelf.clone()),
            Cell::reasoned(&row.line, row.why.clone()),
            Cell::Figure(fine),
            Cell::Figure(row.nails.to_string()),
        ]
    });
    Table {
        caption: "Nail lines on the outside of both sides, from the bottom end, as they lie from the top"
            .to_owned(),
        columns: vec![
            words("code"),
            words("shelf"),
            figures("line"),
            figures("exactly"),
            figures("nails an end"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}
