//! In the room: what is taken off, where each unit stands, what is packed, where its studs are, rows of screws with their holes,
//! stiles as they are scribed, the crown with its angles.

use super::{Leaf, PlaceSpec, drawn, noted};
use crate::document::{AT_WORK, Block, Cell, ESTIMATED, Step, Table, figures, words};
use crate::eval::Len;
use crate::parts::{
    CrownAt, Drawer, Hand, Hung, Member, Part, PartGraph, PartId, Role, RoomCorner, RowKind, RunId, RunPart,
    UnitId,
};
use crate::quantity::{Dim, Estimate, JsonLength, Length, Marks, Round, estimate, some};
use crate::sequence::{Drilled, Standing, drilled, floor_cuts, sheeted, standing};
use crate::sheets::{RoomRow, Subject, taken_off};
use crate::views::{ELEVATION, PLAN, Picked};
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// The codes of the parts.
type Codes = BTreeMap<PartId, String>;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    by_unit: true,
    ..PlaceSpec::new(
        "room",
        "in the room: what is taken off, places of the units, packers, studs from inside each unit, screws, scribed stiles, crown",
        make,
    )
};

#[derive(Debug, Serialize)]
struct RoomPage {
    run: String,
    notes: Vec<String>,
    /// What stands round a corner of the room.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    corners: Vec<String>,
    taken_off: Vec<RoomRow>,
    /// Covering that is cut out of the floor.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    floor: Vec<FloorRow>,
    sheeted: Vec<SheetedRow>,
    /// Whether a side of the floor is stated, for the sheets over it.
    floor_size: bool,
    /// Blocking that is still to be let in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    blocking: Vec<BlockingRow>,
    units: Vec<UnitRow>,
    seams: Vec<SeamRow>,
    holes: Vec<HoleRow>,
    /// What stays free between them.
    spaces: Vec<SpaceRow>,
    scribed: Vec<ScribeRow>,
    facing: Vec<FacingRow>,
    crown: Option<CrownPage>,
    /// Drawers and doors.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    drawers: Vec<DrawerRow>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    doors: Vec<DoorRow>,
}

/// A drawer as it is hung in.
#[derive(Debug, Serialize)]
struct DrawerRow {
    #[serde(skip)]
    id: Option<UnitId>,
    drawer: String,
    parts: Vec<String>,
    slide: JsonLength,
    /// From the bottom end of the unit to the lower edge of the box.
    up: JsonLength,
    /// What is packed out at the left and at the right.
    packing: [Option<JsonLength>; 2],
}

/// A door as it is hung.
#[derive(Debug, Serialize)]
struct DoorRow {
    #[serde(skip)]
    id: Option<UnitId>,
    code: String,
    door: String,
    on: String,
    hand: &'static str,
    /// The middles of its hinges from the bottom end of the unit.
    up: Vec<JsonLength>,
}

#[derive(Debug, Serialize)]
struct UnitRow {
    #[serde(skip)]
    id: UnitId,
    unit: String,
    left: Option<JsonLength>,
    along_floor: Option<JsonLength>,
    packed: [Option<JsonLength>; 2],
    studs: Vec<JsonLength>,
    weight: Option<String>,
    in_twos: bool,
    /// What it needs over the floor to be rolled up, and the lowest ceiling there.
    rolls: [Option<String>; 2],
    /// What is carried in with it.
    parts: Vec<String>,
    screws: Vec<ScrewsRow>,
    /// Of one that hangs: where.
    #[serde(skip_serializing_if = "Option::is_none")]
    hangs: Option<HangsRow>,
}

/// Blocking that is still to be let in between the studs.
#[derive(Debug, Serialize)]
struct BlockingRow {
    board: String,
    bottom: JsonLength,
    top: JsonLength,
    from: JsonLength,
    /// Where it does not reach the right end of the wall.
    to: Option<JsonLength>,
}

/// Where a unit hangs.
#[derive(Debug, Serialize)]
struct HangsRow {
    /// The bottom ends of its sides over the level line.
    foot: JsonLength,
    /// The units between which it goes in from the front.
    between: Vec<String>,
    /// Whether its sides are screwed to theirs.
    to_sides: bool,
}

#[derive(Debug, Serialize)]
struct SpaceRow {
    space: String,
    left: JsonLength,
    width: JsonLength,
    /// What is to stand there, or the opening that is kept free.
    holds: Vec<String>,
}

#[derive(Debug, Serialize)]
struct ScrewsRow {
    code: String,
    part: String,
    /// What it is, and its name.
    name: String,
    height: JsonLength,
    screws: usize,
    with: String,
}

#[derive(Debug, Serialize)]
struct FloorRow {
    from: JsonLength,
    to: JsonLength,
    /// Whether it is cut at its left and right end.
    ends: [bool; 2],
    out: JsonLength,
    deep: JsonLength,
}

#[derive(Debug, Serialize)]
struct SheetedRow {
    what: String,
    sheet: String,
    tape: String,
}

/// What holds two units together.
#[derive(Debug, Serialize)]
struct SeamRow {
    seam: String,
    screws: usize,
    with: String,
}

/// What is bored for a screw.
#[derive(Debug, Serialize)]
struct HoleRow {
    screw: String,
    /// Its number, and whether that is stated.
    number: String,
    through: String,
    pilot: String,
}

/// A part that is cut to its place: its width at each reading or end.
#[derive(Debug, Serialize)]
struct ScribeRow {
    code: String,
    part: String,
    at: &'static str,
    #[serde(skip)]
    measure: &'static str,
    width: JsonLength,
}

/// Parts of the facing that are cut alike.
#[derive(Debug, Serialize)]
struct FacingRow {
    part: &'static str,
    #[serde(skip)]
    role: Role,
    codes: Vec<String>,
    paths: Vec<String>,
    width: JsonLength,
    length: JsonLength,
}

#[derive(Debug, Serialize)]
struct CrownPage {
    /// Where it turns a corner: the angle to the fence and the tilt of the blade, the moulding flat on the table.
    angles: Option<[String; 2]>,
    pieces: Vec<PieceRow>,
    /// The ends at which it meets the crown of the other run of a corner.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    inside: Vec<&'static str>,
    /// How far it reaches below the gap, at each reading of the ceiling.
    laps: Vec<LapRow>,
}

#[derive(Debug, Serialize)]
struct PieceRow {
    piece: &'static str,
    foot: JsonLength,
    top: String,
}

#[derive(Debug, Serialize)]
struct LapRow {
    at: JsonLength,
    lap: String,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    subject.graph.numbered_runs().filter_map(|(id, _)| run(subject, id)).collect()
}

fn run(subject: Subject<'_>, id: RunId) -> Option<Leaf> {
    let graph = subject.graph;
    let run = graph.run(id)?;
    let units = standing(subject.model, graph, id);
    let of_units = run.all().filter_map(|unit| graph.unit(unit));
    let codes = graph.codes();
    let system = subject.model.project.marks.system();
    let value = RoomPage {
        run: run.path.clone(),
        notes: noted([(run.path.as_str(), run.note.as_ref())])
            .chain(noted(of_units.map(|unit| (unit.path.as_str(), unit.notes.own.as_ref()))))
            .collect(),
        corners: corners(subject, id),
        taken_off: taken_off(subject),
        floor: floor_cuts(subject.model, graph, id)
            .into_iter()
            .map(|cut| FloorRow {
                from: subject.json(cut.along[0]),
                to: subject.json(cut.along[1]),
                ends: cut.ends,
                out: subject.json(cut.out),
                deep: subject.json(cut.deep),
            })
            .collect(),
        sheeted: sheeted(subject.model, id.0 as usize)
            .into_iter()
            .map(|sheet| SheetedRow {
                what: sheet.what,
                sheet: system.area(sheet.area),
                tape: system.long(sheet.tape),
            })
            .collect(),
        floor_size: run
            .wall
            .and_then(|wall| subject.model.walls.get(wall))
            .is_some_and(|wall| wall.floor.size.is_some()),
        blocking: blocking(subject, run),
        units: units.iter().filter_map(|own| unit(subject, own, &codes)).collect(),
        seams: seams(graph, run),
        spaces: spaces(subject, id),
        holes: drilled(graph, id).iter().filter_map(|own| hole(subject, own)).collect(),
        scribed: scribed(subject, graph, id, &codes),
        facing: facing(subject, id, &codes),
        crown: crown(subject, run),
        drawers: drawers(subject, run),
        doors: doors(subject, run, &codes),
    };
    let shown: Vec<&UnitRow> = value.units.iter().filter(|unit| subject.shows(unit.id)).collect();
    if shown.is_empty() {
        return None;
    }
    let mut leaf = Leaf::new(subject, &PLACE, format!("In the room: {}", run.path), &value);
    let page = &mut leaf.page;
    page.cautions.extend([AT_WORK, ESTIMATED]);
    page.push(Block::Caution(
        "a unit tips until two screws hold it to the wall: never let it stand free, and stand it up in twos"
            .to_owned(),
    ));
    value.notes.iter().chain(&value.corners).for_each(|note| page.words(note.clone()));
    page.steps("Before anything stands", ready(&value));
    let picked = subject.only.map_or_else(|| Picked::run(id), |unit| Picked::unit(graph, unit));
    drawn(subject, page, &ELEVATION, &picked);
    drawn(subject, page, &PLAN, &picked);
    page.table(places(&shown));
    if !value.spaces.is_empty() {
        page.table(kept_free(&value));
    }
    page.table(carried(&shown));
    page.table(studs(&shown));
    page.table(holes(&value));
    page.table(screws(&shown));
    let hung = shown.iter().filter_map(|unit| Some(unit.hang(unit.hangs.as_ref()?)));
    let hung: Vec<Step> = hung.collect();
    let fixed = shown.iter().filter(|unit| unit.hangs.is_none()).map(|unit| Step {
        marks: unit.parts.iter().map(|part| format!("{part} fixed")).collect(),
        ..Step::new(format!(
            "{}: stand it up, pack it level, plumb its front edges and its left side, two screws, then the rest",
            unit.unit
        ))
    });
    page.steps("From the left", fixed.collect());
    if !hung.is_empty() {
        page.steps("When those stand: what hangs", hung);
    }
    let seams = value.seams.iter().map(|seam| {
        let says = format!("{}, front edges flush; the points must not show: {}", seam.seam, seam.with);
        Step::new(says).set(some(seam.screws, "screw"))
    });
    page.steps("Seams", seams.collect());
    page.table(widths(&value));
    page.table(strips(&value));
    page.steps("Then", facing_steps(&value));
    let here = |id: Option<UnitId>| id.is_some_and(|id| subject.shows(id));
    let steps = value.drawers.iter().filter(|row| here(row.id)).flat_map(DrawerRow::steps);
    page.steps("Drawers, when all stands", steps.collect());
    let steps = value.doors.iter().filter(|row| here(row.id)).map(DoorRow::step);
    page.steps("Doors, last of all", steps.collect());
    if let Some(crown) = &value.crown {
        page.steps(
            "Crown, flat on the saw's table, its ceiling edge against the fence",
            crown.settings(&value.run),
        );
        page.table(crown.pieces());
        page.table(crown.laps());
    }
    Some(leaf)
}

fn drawers(subject: Subject<'_>, run: &RunPart) -> Vec<DrawerRow> {
    let graph = subject.graph;
    let own = graph.drawers.iter().filter(|drawer| drawer.unit.is_some_and(|unit| run.units.contains(&unit)));
    let row = |drawer: &Drawer| DrawerRow {
        id: drawer.unit,
        drawer: drawer.path.clone(),
        parts: drawer.parts().filter_map(|id| graph.part(id)).map(|part| part.path.clone()).collect(),
        slide: subject.json(drawer.slide.value),
        up: subject.json(drawer.up.value),
        packing: drawer
            .packing
            .map(|packing| packing.value.is_positive().then(|| subject.json(packing.value))),
    };
    own.map(row).collect()
}

fn doors(subject: Subject<'_>, run: &RunPart, codes: &Codes) -> Vec<DoorRow> {
    let graph = subject.graph;
    let row = |hung: &Hung| {
        let door = graph.part(hung.door)?;
        let here = door.unit.is_some_and(|unit| run.units.contains(&unit));
        let on = graph.part(hung.on).map(|on| on.path.clone()).unwrap_or_default();
        here.then(|| DoorRow {
            id: door.unit,
            code: codes.get(&door.id).cloned().unwrap_or_default(),
            door: door.path.clone(),
            on,
            hand: hung.hand.word(),
            up: hung.up.iter().map(|up| subject.json(up.value)).collect(),
        })
    };
    graph.doors.iter().filter_map(row).collect()
}

impl DrawerRow {
    fn steps(&self) -> Vec<Step> {
        let packed: Vec<String> = ["left", "right"]
            .into_iter()
            .zip(&self.packing)
            .filter_map(|(hand, packing)| Some(format!("{} at the {hand}", packing.as_ref()?.print)))
            .collect();
        let packed = match packed.as_slice() {
            [] => String::new(),
            packed => format!("; behind them packing, flush with the stiles: {}", packed.join(", ")),
        };
        vec![
            Step::new(format!(
                "{}: slides of {}, level, alike at both sides{packed}; the lower edge of the box over the bottom end of the sides",
                self.drawer, self.slide.print
            ))
            .set(self.up.print.clone()),
            Step {
                marks: self.parts.iter().map(|part| format!("{part} fixed")).collect(),
                ..Step::new(format!(
                    "{}: it runs free; its front set with even gaps, then screwed from within the box",
                    self.drawer
                ))
            },
        ]
    }
}

impl DoorRow {
    fn step(&self) -> Step {
        let up: Vec<String> = self.up.iter().map(|up| up.print.clone()).collect();
        let hinges = match up.as_slice() {
            [] => "hinges as the door has them".to_owned(),
            up => format!(
                "plates of the hinges with their middles {} over the bottom end of the sides",
                up.join(", ")
            ),
        };
        Step {
            marks: vec![format!("{} fixed", self.door)],
            ..Step::new(format!(
                "{}, {}: on {}, at its {} edge; {hinges}; hung, then set to even gaps",
                self.code, self.door, self.on, self.hand
            ))
        }
    }
}

fn unit(subject: Subject<'_>, own: &Standing, codes: &Codes) -> Option<UnitRow> {
    let graph = subject.graph;
    let system = subject.model.project.marks.system();
    let json = |length| subject.json(length);
    let screws = own.rows.iter().filter_map(|row| {
        let part = graph.part(row.part)?;
        Some(ScrewsRow {
            code: codes.get(&row.part).cloned().unwrap_or_default(),
            part: part.path.clone(),
            name: format!("{} {}", part.role.word(), part.name),
            height: json(row.height),
            screws: row.screws,
            with: called(graph, row.fastener),
        })
    });
    Some(UnitRow {
        id: own.unit,
        unit: graph.unit(own.unit)?.path.clone(),
        left: own.left.map(json),
        along_floor: own.along_floor.map(json),
        packed: own.packed.map(|packed| packed.map(json)),
        studs: own.studs.iter().map(|stud| json(*stud)).collect(),
        weight: own.weight.map(|weight| estimate(weight, system)),
        in_twos: own.in_twos,
        rolls: [own.rolls.map(|rolls| estimate(rolls, system)), own.under.map(|under| subject.print(under))],
        parts: graph
            .parts_of(own.unit)
            .filter(|part| part.role.is_carried())
            .map(|part| part.path.clone())
            .collect(),
        screws: screws.collect(),
        hangs: own.foot.map(|foot| hangs(subject, own.unit, foot)),
    })
}

fn hangs(subject: Subject<'_>, id: UnitId, foot: Length) -> HangsRow {
    let graph = subject.graph;
    let hung = graph.unit(id).and_then(|unit| graph.run(unit.run?)?.hangs(id));
    let beside = hung.into_iter().flat_map(|hung| hung.beside).flatten();
    let own = Member::Unit(id);
    HangsRow {
        foot: subject.json(foot),
        between: beside.filter_map(|unit| graph.unit(unit)).map(|unit| unit.path.clone()).collect(),
        to_sides: graph
            .rows
            .iter()
            .any(|row| row.kind == RowKind::Seam && (row.guest == own || row.host == own)),
    }
}

impl UnitRow {
    /// How one that hangs is put up.
    fn hang(&self, hangs: &HangsRow) -> Step {
        let people = if self.in_twos { "one holds it, the other drives" } else { "drive" };
        let from = match hangs.between.as_slice() {
            [] => String::new(),
            beside => format!(" in from the front beside {}", beside.join(" and ")),
        };
        let says = format!(
            "{}: strike its foot {} over the level line, screw a straight strip under the line or set props, lift it{from}; {people} two \
             screws into wood, then the rest",
            self.unit, hangs.foot.print
        );
        let mut more = vec!["nobody stands under it until they hold; the strip comes off last".to_owned()];
        if hangs.to_sides {
            more.push(
                "pack its play beside each screw before its sides are drawn to those of the units beside it"
                    .to_owned(),
            );
        }
        let marks = self.parts.iter().map(|part| format!("{part} fixed")).collect();
        Step { marks, more, ..Step::new(says) }
    }
}

fn blocking(subject: Subject<'_>, run: &RunPart) -> Vec<BlockingRow> {
    let wall = run.wall.and_then(|wall| subject.model.walls.get(wall));
    let row = |wood: &crate::eval::Blocking| {
        let board = subject.graph.boards.get(wood.to_do?)?;
        let from = wood.left.map_or(Length::ZERO, |left| left.value);
        let to = wood.width.and_then(|width| from.checked_add(width.value));
        let [bottom, top] = wood.up.map(|len| subject.json(len.value));
        Some(BlockingRow {
            board: board.name.to_string(),
            bottom,
            top,
            from: subject.json(from),
            to: to.map(|to| subject.json(to)),
        })
    };
    wall.into_iter().flat_map(|wall| &wall.blocking).filter_map(row).collect()
}

fn spaces(subject: Subject<'_>, id: RunId) -> Vec<SpaceRow> {
    let Some(run) = subject.graph.run(id) else { return Vec::new() };
    let stated = subject.model.runs.get(id.0 as usize).map(|run| run.spaces.as_slice()).unwrap_or_default();
    let wall = run.wall.and_then(|wall| subject.model.walls.get(wall));
    let row = |(stated, space): (&crate::eval::Space, &crate::parts::SpacePart)| {
        let opening = space.over.and_then(|over| wall?.openings.get(over));
        let opening = opening.map(|opening| format!("{} `{}`", opening.word, opening.name));
        let things = stated.things.iter().map(|thing| {
            let [width, depth, height] = thing.size.map(|size| subject.json(size.value).print);
            let title = thing.text.as_ref().unwrap_or(&thing.name);
            format!("{title}: {width} wide, {depth} deep, {height} high")
        });
        SpaceRow {
            space: space.path.clone(),
            left: subject.json(space.x.value),
            width: subject.json(space.width.value),
            holds: opening.into_iter().chain(things).collect(),
        }
    };
    stated.iter().zip(&run.spaces).map(row).collect()
}

/// Which run of a corner stands first, and what is measured there.
fn corners(subject: Subject<'_>, id: RunId) -> Vec<String> {
    let name = |run: RunId| subject.graph.run(run).map_or("", |run| run.path.as_str());
    let unit = |unit: UnitId| subject.graph.unit(unit).map_or("", |unit| unit.path.as_str());
    let hand = |end: usize| if end == 0 { Hand::Left } else { Hand::Right };
    let says = |corner: &RoomCorner| {
        let end = hand(corner.end);
        if corner.own == id {
            return Some(format!(
                "{} stands first: it goes through to the corner at the {} end, its front {} from the wall there; measure from that front",
                name(corner.through),
                end.word(),
                subject.print(corner.out.value)
            ));
        }
        (corner.through == id).then(|| {
            format!(
                "{} is put before the {} end afterwards and covers {} from the corner on: of {} a clear width of {} stays open",
                name(corner.own),
                end.other().word(),
                subject.print(corner.covered.value),
                unit(corner.blind),
                subject.print(corner.open.value)
            )
        })
    };
    subject.graph.corners.iter().filter_map(says).collect()
}

fn kept_free(page: &RoomPage) -> Table {
    let rows = page.spaces.iter().map(|space| {
        vec![
            Cell::Words(space.space.clone()),
            Cell::Figure(space.left.print.clone()),
            Cell::Figure(space.width.print.clone()),
            Cell::Lines(space.holds.clone()),
        ]
    });
    Table {
        caption: "Kept free between the units: left edges from the left corner, at the back, half way up"
            .to_owned(),
        columns: vec![words("space"), figures("left edge"), figures("wide"), words("for")],
        rows: rows.collect(),
        foot: None,
    }
}

fn called(graph: &PartGraph, fastener: Option<usize>) -> String {
    fastener.and_then(|own| graph.fasteners.get(own)).map(|own| own.name.to_string()).unwrap_or_default()
}

/// What holds each unit to the next one.
fn seams(graph: &PartGraph, run: &RunPart) -> Vec<SeamRow> {
    let mut seams: BTreeMap<[UnitId; 2], (usize, Option<usize>)> = BTreeMap::new();
    for row in graph.rows.iter().filter(|row| row.kind == RowKind::Seam) {
        let unit = |member: Member| match member {
            Member::Unit(unit) => Some(unit),
            Member::Part(part) => graph.part(part)?.unit,
            Member::Wall(_) => None,
        };
        let Some((left, right)) = unit(row.guest).zip(unit(row.host)) else { continue };
        if !run.all().any(|unit| unit == left) {
            continue;
        }
        let own = seams.entry([left.min(right), left.max(right)]).or_default();
        own.0 = own.0.saturating_add(row.count);
        own.1 = row.fastener.or(own.1);
    }
    let name = |unit| graph.unit(unit).map(|unit| unit.path.clone()).unwrap_or_default();
    let row = |(units, (screws, with)): ([UnitId; 2], (usize, Option<usize>))| SeamRow {
        seam: units.map(name).join(" to "),
        screws,
        with: called(graph, with),
    };
    seams.into_iter().map(row).collect()
}

/// The bits: to the next 64th of an inch, or to the next half millimetre.
fn hole(subject: Subject<'_>, own: &Drilled) -> Option<HoleRow> {
    let system = subject.model.project.marks.system();
    let bits = Marks::new(system.length((1, 64), (1, 2)), system).ok()?;
    let bit = |wide: Length, round| Some(bits.print_fine(bits.round(wide, round)?).text().to_owned());
    Some(HoleRow {
        screw: called(subject.graph, Some(own.fastener)),
        number: match subject.graph.fasteners.get(own.fastener)?.gauge {
            Some(_) => format!("no. {}", own.gauge),
            None => format!("no. {}, as none is stated", own.gauge),
        },
        through: bit(own.through, Round::Up)?,
        pilot: bit(own.pilot, Round::Nearest)?,
    })
}

fn scribed(subject: Subject<'_>, graph: &PartGraph, id: RunId, codes: &Codes) -> Vec<ScribeRow> {
    let parts = graph.parts.iter().filter(|part| part.run == Some(id));
    let rows = parts.flat_map(|part| {
        part.scribed.iter().map(|(at, width)| ScribeRow {
            code: codes.get(&part.id).cloned().unwrap_or_default(),
            part: part.path.clone(),
            at: at.word(),
            measure: at.measure(),
            width: subject.json(width.value),
        })
    });
    rows.collect()
}

/// Alike parts with what they are, by their place in the order and their width and length.
type Alike<'a> = BTreeMap<(usize, [Length; 2]), (Role, Vec<&'a Part>)>;

/// What is cut and put on once the units stand, alike ones together, in the order in which they are put on.
fn facing(subject: Subject<'_>, id: RunId, codes: &Codes) -> Vec<FacingRow> {
    let order = |role: Role| match role {
        Role::Stile => Some(0),
        Role::TopRail => Some(1),
        Role::BottomRail => Some(2),
        Role::Strip => Some(3),
        Role::Filler => Some(4),
        Role::CeilingPanel => Some(5),
        _ => None,
    };
    let mut alike = Alike::new();
    for part in subject.graph.parts.iter().filter(|part| part.run == Some(id)) {
        let Some(place) = order(part.role) else { continue };
        let size = [part.size.width.value, part.size.length.value];
        alike.entry((place, size)).or_insert((part.role, Vec::new())).1.push(part);
    }
    let rows = alike.into_iter().map(|((_, [width, length]), (role, parts))| FacingRow {
        part: role.word(),
        role,
        codes: parts.iter().filter_map(|part| codes.get(&part.id).cloned()).collect(),
        paths: parts.iter().map(|part| part.path.clone()).collect(),
        width: subject.json(width),
        length: subject.json(length),
    });
    rows.collect()
}

fn crown(subject: Subject<'_>, run: &RunPart) -> Option<CrownPage> {
    let crown = run.crown.as_ref()?;
    let system = subject.model.project.marks.system();
    let tops = run.units.iter().filter_map(|unit| subject.graph.unit(*unit)?.top());
    let wall = run.wall.and_then(|wall| subject.model.walls.get(wall));
    let top = tops.max();
    let lap = |(at, above): &(Len, Len)| {
        let gap = above.value.checked_sub(top?)?;
        let lap = Estimate { value: crown.drop.value - gap.to_mm_f64(), dim: Dim::LENGTH };
        Some(LapRow { at: subject.json(at.value), lap: estimate(lap, system) })
    };
    let inside = Hand::BOTH.into_iter().zip(crown.inside).filter(|(_, inside)| *inside);
    Some(CrownPage {
        inside: inside.map(|(hand, _)| hand.word()).collect(),
        angles: crown.turns().then(|| [crown.mitre, crown.bevel].map(|angle| estimate(angle, system))),
        pieces: crown
            .pieces
            .iter()
            .map(|piece| PieceRow {
                piece: match piece.at {
                    CrownAt::Front => "front",
                    CrownAt::Return(Hand::Left) => "left return",
                    CrownAt::Return(Hand::Right) => "right return",
                },
                foot: subject.json(piece.foot.value),
                top: estimate(piece.top, system),
            })
            .collect(),
        laps: wall.into_iter().flat_map(|wall| &wall.ceiling.points).filter_map(lap).collect(),
    })
}

fn ready(page: &RoomPage) -> Vec<Step> {
    let edge = |edge: &Option<JsonLength>| edge.as_ref().map_or("-".to_owned(), |edge| edge.print.clone());
    let taken = page.taken_off.iter().map(|row| {
        let along = match (&row.from, &row.to) {
            (Some(from), Some(to)) => format!("from {} to {} along the wall, ", from.print, to.print),
            _ => String::new(),
        };
        let says = format!(
            "{} {} ({}): {along}{} to {} over the level line",
            row.done,
            row.what,
            row.obstacle,
            edge(&row.bottom),
            edge(&row.top)
        );
        let mut more = vec![match &row.out {
            Some(out) => {
                format!(
                    "it stands {} out: set the blade no deeper, there may be pipes and wires behind",
                    out.print
                )
            }
            None => {
                "score the paint first, cut with the blade no deeper than the casing, and close its cut edge"
                    .to_owned()
            }
        }];
        if let (Some(out), [_, ..]) = (&row.out, row.returned.as_slice()) {
            more.push(format!(
                "mitre what stays at the {} and return it to the wall: a piece {} long over its long edge",
                row.returned.join(" and at the "),
                out.print
            ));
        }
        Step { more, ..Step::new(says) }
    });
    let mut sheets: Vec<String> = page
        .sheeted
        .iter()
        .map(|row| format!("{}: ~{} of sheet, ~{} of tape", row.what, plain(&row.sheet), plain(&row.tape)))
        .collect();
    if !page.floor_size {
        sheets.push("the floor: its `size` is not stated".to_owned());
    }
    let mut steps = vec![Step {
        more: sheets,
        ..Step::new(
            "sheet off doorway, registers and floor before anything is cut or sanded; run a vacuum at the tool",
        )
    }];
    steps.extend(taken);
    steps.extend(page.floor.iter().map(cut_out));
    steps.extend(page.blocking.iter().map(|wood| {
        let to = wood.to.as_ref().map_or("the right end of the wall", |to| &to.print);
        let says = format!(
            "let in blocking of {} between the studs, from {} to {to} along the wall, its edges at {} and {} over the level line",
            wood.board, wood.from.print, wood.bottom.print, wood.top.print
        );
        let more = "before the wall is lined, or into a lining that is opened there: look for wires and pipes first, and close it again so \
                    that the lining is as thick as it is stated";
        Step { more: vec![more.to_owned()], ..Step::new(says) }
    }));
    steps.extend(
        [
            "find wires and pipes behind every row of screws, switch off what is near, and mark the studs on the wall",
            "strike the level line and mark the left face of each unit on the floor and on the wall",
        ]
        .map(Step::new),
    );
    steps
}

/// A figure without the sign of one that is rounded.
fn plain(print: &str) -> &str {
    print.trim_start_matches('~')
}

/// How the covering of a floor is cut out.
fn cut_out(row: &FloorRow) -> Step {
    let ends = match row.ends {
        [true, true] => ", and square to the wall at both ends",
        [true, false] => ", and square to the wall at the left end",
        [false, true] => ", and square to the wall at the right end",
        [false, false] => "",
    };
    let says = format!(
        "cut the floor covering from {} to {} along the wall, {} out from it{ends}, and take it out",
        row.from.print, row.to.print, row.out.print
    );
    let more = [
        format!(
            "set the saw to {}, as thick as the covering is, and no deeper: there are pipes and wires under it",
            row.deep.print
        ),
        "the line is the front of what stands there: never cut before it".to_owned(),
        "the level line is that of the subfloor: strike it again once the covering is out".to_owned(),
    ];
    Step { more: more.to_vec(), ..Step::new(says) }
}

fn figure(length: &Option<JsonLength>) -> Cell {
    Cell::Figure(length.as_ref().map_or("-".to_owned(), |length| length.print.clone()))
}

fn places(units: &[&UnitRow]) -> Table {
    let rows = units.iter().map(|unit| {
        let [left, right] = &unit.packed;
        vec![
            Cell::Words(unit.unit.clone()),
            unit.left
                .as_ref()
                .map_or_else(|| figure(&None), |left| Cell::reasoned(left, format!("{}.x", unit.unit))),
            figure(&unit.along_floor),
            figure(left),
            figure(right),
        ]
    });
    Table {
        caption: "Left faces from the left corner, at the back; packers under the sides".to_owned(),
        columns: vec![
            words("unit"),
            figures("half way up"),
            figures("along the floor"),
            figures("under its left side"),
            figures("under its right side"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}

fn carried(units: &[&UnitRow]) -> Table {
    let rows = units.iter().map(|unit| {
        let [needs, under] =
            unit.rolls.clone().map(|print| Cell::Figure(print.unwrap_or_else(|| "-".to_owned())));
        vec![
            Cell::Words(unit.unit.clone()),
            match &unit.weight {
                Some(weight) => Cell::Reasoned(weight.clone(), format!("{}.weight", unit.unit)),
                None => Cell::Figure("-".to_owned()),
            },
            Cell::Words(if unit.in_twos { "two" } else { "one" }.to_owned()),
            needs,
            under,
        ]
    });
    Table {
        caption: "Carrying and rolling up, estimates".to_owned(),
        columns: vec![
            words("unit"),
            figures("weighs"),
            words("people"),
            figures("rolls up under"),
            figures("lowest ceiling"),
        ],
        rows: rows.collect(),
        foot: None,
    }
}

fn studs(units: &[&UnitRow]) -> Table {
    let with = units.iter().filter(|unit| !unit.studs.is_empty());
    let rows = with.map(|unit| {
        let studs: Vec<String> = unit.studs.iter().map(|stud| stud.print.clone()).collect();
        vec![Cell::Words(unit.unit.clone()), Cell::Figure(studs.join(", "))]
    });
    Table {
        caption: "Middles of the studs, from the inner face of each unit's left side".to_owned(),
        columns: vec![words("unit"), figures("studs")],
        rows: rows.collect(),
        foot: None,
    }
}

fn holes(page: &RoomPage) -> Table {
    let rows = page.holes.iter().map(|row| {
        vec![
            Cell::Words(row.screw.clone()),
            Cell::Words(row.number.clone()),
            Cell::Figure(row.through.clone()),
            Cell::Figure(row.pilot.clone()),
        ]
    });
    Table {
        caption: "Bits for the screws".to_owned(),
        columns: vec![
            words("screw"),
            words("number"),
            figures("through what is fixed"),
            figures("pilot in softwood"),
        ],
        rows: rows.collect(),
        foot: Some(
            "countersink until the head is a hair under the face; in hardwood a pilot a size larger"
                .to_owned(),
        ),
    }
}

/// A row of screws through alike parts of several units is one line.
fn screws(units: &[&UnitRow]) -> Table {
    let mut alike: IndexMap<[&str; 3], (&ScrewsRow, Vec<String>, usize)> = IndexMap::new();
    for unit in units {
        for row in unit.screws.iter().filter(|row| row.screws > 0) {
            let own = alike.entry([&row.name, &row.height.exact, &row.with]).or_insert((row, Vec::new(), 0));
            own.1.push(format!("{} in {}", row.screws, last(&unit.unit)));
            own.2 = own.2.saturating_add(row.screws);
        }
    }
    let mut lines: Vec<(&ScrewsRow, Vec<String>, usize)> = alike.into_values().collect();
    lines.sort_by(|(a, ..), (b, ..)| b.height.mm.total_cmp(&a.height.mm));
    let all: usize = lines.iter().map(|(.., count)| count).sum();
    let rows = lines.into_iter().map(|(row, units, count)| {
        vec![
            Cell::reasoned(&row.height, format!("{}.z", row.part)),
            Cell::Words(row.name.clone()),
            Cell::Figure(count.to_string()),
            Cell::Words(units.join(", ")),
            Cell::Words(row.with.clone()),
        ]
    });
    Table {
        caption: "Screws into the wall: the middle of each row over the bottom ends of the sides".to_owned(),
        columns: vec![
            figures("height"),
            words("through"),
            figures("screws"),
            words("of these"),
            words("with"),
        ],
        rows: rows.collect(),
        foot: Some(some(all, "screw")),
    }
}

fn last(path: &str) -> &str {
    path.rsplit('.').next().unwrap_or(path)
}

fn widths(page: &RoomPage) -> Table {
    let rows = page.scribed.iter().map(|row| {
        vec![
            Cell::Words(row.code.clone()),
            Cell::Words(row.part.clone()),
            Cell::Words(row.at.to_owned()),
            Cell::reasoned(&row.width, format!("{}.{}", row.part, row.measure)),
        ]
    });
    Table {
        caption: "Widths of what is scribed".to_owned(),
        columns: vec![words("code"), words("part"), words("at"), figures("wide")],
        rows: rows.collect(),
        foot: Some("for checking: the wall itself gives the line".to_owned()),
    }
}

fn strips(page: &RoomPage) -> Table {
    let rows = page.facing.iter().map(|row| {
        vec![
            Cell::Figure(row.paths.len().to_string()),
            Cell::Words(row.part.to_owned()),
            sized(&row.width, &row.paths, "width"),
            sized(&row.length, &row.paths, "length"),
            Cell::Words(row.codes.join(", ")),
        ]
    });
    Table {
        caption: "Facing, in the order in which it is put on".to_owned(),
        columns: vec![figures("count"), words("part"), figures("wide"), figures("long"), words("which")],
        rows: rows.collect(),
        foot: None,
    }
}

/// A size of alike parts, with the reason of the first.
fn sized(size: &JsonLength, paths: &[String], measure: &str) -> Cell {
    Cell::reasoned(size, format!("{}.{measure}", paths.first().map_or("", |path| path)))
}

fn facing_steps(page: &RoomPage) -> Vec<Step> {
    let has = |role: Role| page.facing.iter().any(|row| row.role == role);
    let mut steps = Vec::new();
    if page.units.len() > 1 {
        steps.push("seams drawn together, then the packers cut off");
    }
    if has(Role::Stile) {
        steps.push("stiles first, scribed where they meet a wall, by the widths above");
    }
    if has(Role::Strip) {
        steps.push("strips between them, flush with the shelf or a hair under it, never proud; push a shelf that sags up to its strip at mid-span");
    }
    if has(Role::CeilingPanel) {
        steps.push("panel on the ceiling before the crown: adhesive in beads a hand apart, tacked along both edges until that is hard; texture from before about 1985 is tested for asbestos before it is scraped");
    }
    if page.crown.is_some() {
        steps.push(
            "crown last: cut its pieces long, fit the first to the wall, mark the others from what stands",
        );
    }
    steps.into_iter().map(Step::new).collect()
}

impl CrownPage {
    fn settings(&self, run: &str) -> Vec<Step> {
        let Some([mitre, bevel]) = self.angles.clone() else { return Vec::new() };
        vec![
            Step::new("saw to the fence, for a square corner")
                .set_why(mitre, format!("{run}.crown.mitre")),
            Step::new("tilt of its blade").set_why(bevel, format!("{run}.crown.bevel")),
            Step::new("try both on a scrap: the two halves close on a square"),
        ]
        .into_iter()
        .chain((!self.inside.is_empty()).then(|| {
            Step::new(format!(
                "the {} end meets the other crown in an inside corner: the same settings, its foot the long edge; or cope it",
                self.inside.join(" and the ")
            ))
        }))
        .collect()
    }

    fn pieces(&self) -> Table {
        let rows = self.pieces.iter().map(|row| {
            vec![
                Cell::Words(row.piece.to_owned()),
                Cell::Figure(row.foot.print.clone()),
                Cell::Figure(row.top.clone()),
            ]
        });
        Table {
            caption: "Crown".to_owned(),
            columns: vec![words("piece"), figures("at the facing"), figures("at the ceiling")],
            rows: rows.collect(),
            foot: None,
        }
    }

    fn laps(&self) -> Table {
        let rows = self
            .laps
            .iter()
            .map(|row| vec![Cell::Figure(row.at.print.clone()), Cell::Figure(row.lap.clone())]);
        Table {
            caption: "How far the crown reaches below the gap, from the left corner; an estimate".to_owned(),
            columns: vec![figures("at"), figures("lap")],
            rows: rows.collect(),
            foot: None,
        }
    }
}
