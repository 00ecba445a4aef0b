//! The survey walk: what is measured at a wall, with what is known, and the `room` that comes of it.

use super::{Leaf, PlaceSpec};
use crate::document::{AT_WORK, Block, Field, Form, Step};
use crate::eval::{Len, Profile, Reading, ReadingAt, Wall};
use crate::quantity::{Length, System};
use crate::sheets::Subject;
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    far: false,
    name: "survey",
    about: "what is measured at the wall, with what is known, and the `room` that comes of it",
    make,
};

/// Ceiling and floor are read so far apart: 3 ft or 900 mm (common practice, no source).
const APART: ((i128, i128), (i128, i128)) = ((36, 1), (900, 1));

/// At so many places of a wall whose width is not known.
const PLACES: usize = 4;

/// At most at so many places of a wall.
const MOST: usize = 40;

/// A wall and its values as they stand in the text: `?` for what is not read.
#[derive(Debug, Serialize)]
struct SurveyPage {
    wall: String,
    values: Vec<ValueRow>,
}

#[derive(Debug, Serialize)]
struct ValueRow {
    name: String,
    asks: String,
    value: Option<String>,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let walls = &subject.model.walls;
    if walls.is_empty() {
        return vec![leaf(subject, "room.wall", None)];
    }
    walls.iter().map(|wall| leaf(subject, &wall.name, Some(wall))).collect()
}

/// The form of a wall under construction.
struct Walk<'a> {
    subject: Subject<'a>,
    fields: Vec<Field>,
}

impl Walk<'_> {
    /// Asks for a length, and gives the word that stands for it in the text.
    fn length(&mut self, name: &str, asks: String, known: Option<Len>, twice: bool) -> String {
        let marks = self.subject.model.project.marks;
        let known = known.map(|len| marks.print_fine(len.value).text().replace(" mm", "mm"));
        self.fields.push(Field { name: name.to_owned(), asks, known, twice });
        format!("{{{name}}}")
    }

    /// Asks for a value at each of some places, and gives the two lists of the text.
    fn profile(&mut self, name: &str, asks: &str, places: &[Length], known: &Profile) -> [String; 2] {
        let marks = self.subject.model.project.marks;
        let print = |length: Length| marks.print_fine(length).text().replace(" mm", "mm");
        let mut values = Vec::new();
        for (number, place) in places.iter().enumerate() {
            let there = known.points.iter().find(|(at, _)| at.value == *place).map(|(_, value)| *value);
            let asks = format!("{asks} at {}", self.subject.print(*place));
            values.push(self.length(&format!("{name}_{}", number + 1), asks, there, false));
        }
        let at: Vec<String> = places.iter().map(|place| print(*place)).collect();
        [format!("[{}]", at.join(", ")), format!("[{}]", values.join(", "))]
    }
}

fn leaf(subject: Subject<'_>, name: &str, wall: Option<&Wall>) -> Leaf {
    let mut walk = Walk { subject, fields: Vec::new() };
    let (room, own) = name.rsplit_once('.').unwrap_or(("room", name));
    let none = Profile::default();
    let (floor, ceiling) = wall.map_or((&none, &none), |wall| (&wall.floor.below, &wall.ceiling));
    let mut readings = String::new();
    for at in ReadingAt::ALL {
        let reading = wall.and_then(|wall| wall.readings.iter().find(|reading| reading.at == at));
        readings.push_str(&width(&mut walk, at, reading));
    }
    let lining =
        walk.length("lining", "board or plaster, thick".to_owned(), wall.and_then(|wall| wall.lining), false);
    let studs = wall.map_or(&[][..], |wall| &wall.studs);
    let first = walk.length(
        "first_stud",
        "middle of the first stud from the left corner".to_owned(),
        studs.first().copied(),
        true,
    );
    let every = walk.length("stud_to_stud", "from stud to stud".to_owned(), None, false);
    let [floor_at, below] =
        walk.profile("floor", "floor under the level line", &places(subject, wall, floor), floor);
    let [ceiling_at, above] =
        walk.profile("ceiling", "ceiling over the level line", &places(subject, wall, ceiling), ceiling);
    let text = format!(
        "room {room} {{\n  floor {{ at = {floor_at}, below = {below} }}\n  ceiling {{ at = {ceiling_at}, above = {above} }}\n  \
         wall {own} {{\n{readings}    lining = {lining}\n    studs {{ first = {first}, every = {every} }}\n  }}\n}}\n"
    );
    let value = SurveyPage {
        wall: name.to_owned(),
        values: walk
            .fields
            .iter()
            .map(|field| ValueRow {
                name: field.name.clone(),
                asks: field.asks.clone(),
                value: field.known.clone(),
            })
            .collect(),
    };
    let mut leaf = Leaf::new(subject, &PLACE, format!("Survey: {name}"), &value);
    let page = &mut leaf.page;
    for unread in wall.iter().flat_map(|wall| &wall.unread) {
        page.push(Block::Caution(format!("not read yet: {}", unread.what)));
    }
    page.steps(
        "Before a tape is out",
        [
            "wiring, pipes and heat in the wall: find them before a screw goes in",
            "a house from before 1978: old paint may hold lead; old texture and tile may hold asbestos; do not disturb them untested",
            "strike a level line round the room; every height is from it",
            "take every width twice, with the same tape; write what it says, not what it should say",
        ]
        .map(Step::new)
        .into(),
    );
    let unit = match subject.model.project.marks.system() {
        System::Inch => "\"",
        System::Metric => "mm",
    };
    let caption = "Readings".to_owned();
    page.push(Block::Form(Form { caption, fields: walk.fields, text, unit: unit.to_owned() }));
    page.steps(
        "And of the way in",
        [
            "doors, turns and stairs from the truck to the wall: widths, heights, the tightest turn",
            "what is on the wall: outlets, switches, vents, baseboard, casing, windows",
            "what the floor is, what comes onto it, what the units are to stand on",
        ]
        .map(Step::new)
        .into(),
    );
    page.cautions.push(AT_WORK);
    leaf
}

/// The width at one height, at the wall and where the front of the units will be.
fn width(walk: &mut Walk<'_>, at: ReadingAt, reading: Option<&Reading>) -> String {
    let word = at.word();
    let back = walk.length(
        &format!("{word}_back"),
        format!("{word}: wall to wall, at the back"),
        reading.and_then(|own| own.back),
        true,
    );
    let front = walk.length(
        &format!("{word}_front"),
        format!("{word}: wall to wall, where the fronts will be"),
        reading.and_then(|own| own.front),
        true,
    );
    format!("    reading {word} {{ back = {back}, front = {front} }}\n")
}

/// Where floor and ceiling are read: at the places that are stated, else every so far along the wall.
fn places(subject: Subject<'_>, wall: Option<&Wall>, known: &Profile) -> Vec<Length> {
    if known.points.len() > 1 {
        return known.points.iter().map(|(at, _)| at.value).collect();
    }
    let apart = subject.model.project.marks.system().length(APART.0, APART.1);
    let wide = wall.and_then(|wall| {
        wall.readings.iter().filter_map(|reading| reading.back).map(|back| back.value).max()
    });
    let mut places = vec![Length::ZERO];
    while places.len() < wide.map_or(PLACES, |_| MOST) {
        let Some(next) = places.last().and_then(|last| last.checked_add(apart)) else { break };
        if wide.is_some_and(|wide| next > wide) {
            break;
        }
        places.push(next);
    }
    places
}
