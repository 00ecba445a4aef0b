//! The survey walk: what is measured at a wall, with what is known, and the `room` that comes of it.

use super::{Leaf, PlaceSpec};
use crate::document::{AT_WORK, Block, Cell, Field, Form, Piece, Step, Table, Takes, figures, words};
use crate::eval::{Len, Profile, ReadingAt, Survey, Wall};
use crate::quantity::{Length, Rational, System};
use crate::resolve::kinds::{BuildOf, ObstacleKind, OpeningKind, StandsOn};
use crate::sheets::Subject;
use serde::Serialize;

/// The place.
pub(super) const PLACE: PlaceSpec = PlaceSpec {
    early: true,
    ..PlaceSpec::new(
        "survey",
        "what is measured at the wall, with what is known, and the `room` that comes of it",
        make,
    )
};

/// Ceiling and floor are read so far apart: 3 ft or 900 mm (common practice, no source).
const APART: ((i128, i128), (i128, i128)) = ((36, 1), (900, 1));

/// At so many places of a wall whose width is not known.
const PLACES: usize = 5;

/// So many studs of a wall are listed.
const STUDS: usize = 12;

/// A blank form has room for so many things that are in the way, doors and windows, doors of the way in, and corners.
const BLANKS: [usize; 4] = [6, 3, 3, 2];

/// A room: what is known of it, and what is still to be read.
#[derive(Debug, Serialize)]
struct SurveyPage {
    room: String,
    known: Vec<ValueRow>,
    studs: Vec<StudRow>,
    asks: Vec<Ask>,
    /// The text of the room as it is; `?` for what is not read.
    text: String,
}

#[derive(Debug, Serialize)]
struct ValueRow {
    of: String,
    what: String,
    value: String,
}

/// The studs of a wall, the first ones of many.
#[derive(Debug, Serialize)]
struct StudRow {
    of: String,
    at: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Ask {
    name: String,
    asks: String,
}

fn make(subject: Subject<'_>) -> Vec<Leaf> {
    let model = subject.model;
    let mut rooms: Vec<&str> = model.walls.iter().map(Wall::room_name).collect();
    rooms.dedup();
    if rooms.is_empty() {
        return vec![leaf(subject, "room", (Vec::new(), Vec::new()), Some(blank(subject)))];
    }
    let page = |room: &&str| {
        let walls = || model.walls.iter().filter(|wall| wall.room_name() == *room);
        let known = walls().flat_map(|wall| known(subject, wall)).collect();
        let studs = walls().filter_map(|wall| studs(subject, wall)).collect();
        let survey = model.surveys.iter().find(|survey| *survey.room == **room);
        leaf(subject, room, (known, studs), survey.map(|survey| missing(subject, survey)))
    };
    rooms.iter().map(page).collect()
}

fn leaf(
    subject: Subject<'_>,
    room: &str,
    (known, studs): (Vec<ValueRow>, Vec<StudRow>),
    form: Option<Form>,
) -> Leaf {
    let asks = form.iter().flat_map(|form| &form.fields);
    let value = SurveyPage {
        room: room.to_owned(),
        known,
        studs,
        asks: asks.map(|field| Ask { name: field.name.clone(), asks: field.asks.clone() }).collect(),
        text: form.as_ref().map(|form| form.filled(|_| None)).unwrap_or_default(),
    };
    let mut leaf = Leaf::new(subject, &PLACE, format!("Survey: {room}"), &value);
    let page = &mut leaf.page;
    page.steps(
        "Before a tape is out",
        [
            "wiring, pipes and heat in the wall: find them before a screw goes in",
            "a house from before 1978: old paint may hold lead; old texture and tile may hold asbestos; do not disturb them untested",
            "strike a level line round the room, through the highest point of the floor that the units will stand on; every height is from it",
            "take every width twice, with the same tape; write what it says, not what it should say",
        ]
        .map(Step::new)
        .into(),
    );
    match form {
        Some(form) => page.push(Block::Form(form)),
        None => page.words("All that the text asks of this room is read."),
    }
    let rows = value.known.iter().map(|row| {
        vec![Cell::Words(row.of.clone()), Cell::Words(row.what.clone()), Cell::Figure(row.value.clone())]
    });
    page.table(Table {
        caption: "What is known".to_owned(),
        columns: vec![words("of"), words("what"), figures("is")],
        rows: rows.collect(),
        foot: None,
    });
    for own in &value.studs {
        page.words(format!("{}, middles of the studs: {}.", own.of, own.at.join(", ")));
    }
    page.steps(
        "And look once more",
        [
            "what is on the wall: outlets, switches, vents, baseboard, casing, windows, lamps and alarms on the ceiling",
            "doors, turns and stairs from the truck to the wall: widths, heights, the tightest turn",
            "what the floor is, what comes onto it, what the units are to stand on",
        ]
        .map(Step::new)
        .into(),
    );
    page.cautions.push(AT_WORK);
    leaf
}

/// All that is read of a wall.
fn known(subject: Subject<'_>, wall: &Wall) -> Vec<ValueRow> {
    let print = |length: Length| subject.print(length);
    let mut rows = Vec::new();
    let mut add = |what: String, value: Option<Length>| {
        rows.extend(value.map(|value| ValueRow { of: wall.name.to_string(), what, value: print(value) }));
    };
    let value = |len: Option<Len>| len.map(|len| len.value);
    for reading in &wall.readings {
        let word = reading.at.word();
        add(format!("{word}: wall to wall, at the back"), value(reading.back));
        add(format!("{word}: wall to wall, where the fronts will be"), value(reading.front));
        for (side, lean) in ["left", "right"].into_iter().zip(reading.lean) {
            add(format!("{word}: the {side} wall back from plumb"), value(lean));
        }
    }
    let profiles =
        [("floor under the level line", &wall.floor.below), ("ceiling over the level line", &wall.ceiling)];
    for (what, profile) in profiles {
        let points = |profile: &Profile| profile.points.clone();
        for (at, value) in points(profile) {
            add(format!("{what} at {}", print(at.value)), Some(value.value));
        }
    }
    add("board or plaster".to_owned(), value(wall.lining));
    for obstacle in &wall.obstacles {
        let own = obstacle.name.rsplit('.').next().unwrap_or_default();
        for (edge, len) in ["left", "right"].into_iter().zip(obstacle.along.into_iter().flatten()) {
            add(format!("{} {own}: {edge} edge", obstacle.word), Some(len.value));
        }
        for (edge, len) in ["lower", "upper"].into_iter().zip(obstacle.up.into_iter().flatten()) {
            add(format!("{} {own}: {edge} edge", obstacle.word), Some(len.value));
        }
    }
    rows
}

fn studs(subject: Subject<'_>, wall: &Wall) -> Option<StudRow> {
    let mut at: Vec<String> = wall.studs.iter().take(STUDS).map(|stud| subject.print(stud.value)).collect();
    at.extend(wall.studs.len().checked_sub(STUDS + 1).map(|more| format!("and {} more", more + 1)));
    (!at.is_empty()).then(|| StudRow { of: wall.name.to_string(), at })
}

fn unit(subject: Subject<'_>) -> String {
    match subject.model.project.marks.system() {
        System::Inch => "\"".to_owned(),
        System::Metric => "mm".to_owned(),
    }
}

/// What is still to be read of a room that is written: its own text, with a field for each `?`.
fn missing(subject: Subject<'_>, survey: &Survey) -> Form {
    let name = |ask: usize| format!("read_{}", ask + 1);
    let fields = survey.asks.iter().enumerate().map(|(place, ask)| Field {
        name: name(place),
        asks: ask.what.clone(),
        twice: true,
        ..Field::default()
    });
    let mut text = Vec::new();
    for (place, piece) in survey.text.iter().enumerate() {
        text.push(Piece::Text(piece.clone()));
        text.extend(survey.between.get(place).map(|ask| Piece::Value(name(*ask))));
    }
    text.push(Piece::Text("\n".to_owned()));
    let caption = "To be read".to_owned();
    Form { caption, fields: fields.collect(), text, unit: unit(subject) }
}

/// A blank form under construction.
#[derive(Default)]
struct Blank {
    group: &'static str,
    fields: Vec<Field>,
    text: Vec<Piece>,
}

impl Blank {
    fn say(&mut self, text: impl Into<String>) {
        self.text.push(Piece::Text(text.into()));
    }

    /// Asks for a value.
    fn ask(&mut self, name: &str, asks: impl Into<String>, twice: bool, takes: Takes) {
        let (name, asks, group) = (name.to_owned(), asks.into(), self.group);
        self.fields.push(Field { name, asks, twice, takes, group, known: None });
    }

    /// A length that is left a `?` until it is read.
    fn length(&mut self, before: &str, name: &str, asks: impl Into<String>, twice: bool) {
        self.say(before);
        self.text.push(Piece::Value(name.to_owned()));
        self.ask(name, asks, twice, Takes::Length);
    }

    /// Properties of a line that stands there if one of them is filled.
    fn line(&mut self, name: &str, [before, after]: [&str; 2], asks: &[(&str, &str, Takes)]) {
        let mut properties = Vec::new();
        for (property, asks, takes) in asks {
            let field = if name.is_empty() { (*property).to_owned() } else { format!("{name}_{property}") };
            self.ask(&field, *asks, false, *takes);
            properties.push(((*property).to_owned(), field));
        }
        self.text.push(Piece::Line(before.to_owned(), properties, after.to_owned()));
    }

    /// A value at each of some places.
    fn profile(&mut self, name: &str, property: &str, asks: &str, [places, printed]: [&[String]; 2]) {
        self.say(format!("at = [{}], {property} = [", places.join(", ")));
        for (number, place) in printed.iter().enumerate() {
            let before = if number == 0 { "" } else { ", " };
            self.length(before, &format!("{name}_{}", number + 1), format!("{asks} at {place}"), false);
        }
        self.say("] }\n");
    }
}

/// A form for a wall of which nothing is known.
fn blank(subject: Subject<'_>) -> Form {
    let marks = subject.model.project.marks;
    let apart = marks.system().length(APART.0, APART.1);
    let at = |place: usize| apart.checked_mul(Rational::from(i128::try_from(place).ok()?));
    let places: Vec<Length> = (0..PLACES).filter_map(at).collect();
    let written: Vec<String> =
        places.iter().map(|at| marks.print_fine(*at).text().replace(" mm", "mm")).collect();
    let printed: Vec<String> = places.iter().map(|at| subject.print(*at)).collect();
    let mut blank = Blank { group: "The house", ..Blank::default() };
    let year = [("year_built", "year in which it was built", Takes::Count)];
    blank.line("", ["// of the project: ", "\n"], &year);
    blank.say("room room {\n");
    blank.group = "Floor and ceiling, from the level line";
    let choices = [
        ("stand_on", "the units stand on", Takes::Choice(StandsOn::WORDS)),
        ("build", "the floor is built of", Takes::Choice(BuildOf::WORDS)),
        ("later", "new floor that will come on it", Takes::Length),
    ];
    blank.say("  floor { ");
    blank.line("floor", ["", ", "], &choices);
    blank.profile("floor", "below", "floor under the line", [&written, &printed]);
    blank.say("  ceiling { ");
    blank.profile("ceiling", "above", "ceiling over the line", [&written, &printed]);
    blank.say("  wall wall {\n");
    blank.group = "Widths, from wall to wall";
    for at in ReadingAt::ALL {
        let word = at.word();
        let asks = |what: &str| format!("{word}: {what}");
        blank.length(
            &format!("    reading {word} {{ back = "),
            &format!("{word}_back"),
            asks("at the back"),
            true,
        );
        blank.length(", front = ", &format!("{word}_front"), asks("where the fronts will be"), true);
        let [left, right] =
            ["left", "right"].map(|side| format!("{word}: the {side} wall back from a plumb line"));
        let leans =
            [("left_back", left.as_str(), Takes::Length), ("right_back", right.as_str(), Takes::Length)];
        blank.line(word, [", ", ""], &leans);
        blank.say(" }\n");
    }
    blank.group = "What holds a screw";
    blank.line("", ["    ", "\n"], &[("lining", "board or plaster, thick", Takes::Length)]);
    blank.length("    studs { first = ", "first_stud", "middle of the first stud from the left corner", true);
    blank.length(", every = ", "stud_to_stud", "from stud to stud", false);
    blank.say(" }\n");
    blank.group = "What is in the way, from the left corner and the level line";
    let [things, openings, doors, corners] = BLANKS;
    for number in 1..=things {
        let asks = [
            ("kind", format!("thing {number}: what it is"), Takes::Choice(ObstacleKind::WORDS)),
            ("left", format!("thing {number}: its left edge"), Takes::Length),
            ("width", format!("thing {number}: wide"), Takes::Length),
            ("bottom", format!("thing {number}: its lower edge, of what hangs on the wall"), Takes::Length),
            ("height", format!("thing {number}: high"), Takes::Length),
            ("projection", format!("thing {number}: how far it stands out"), Takes::Length),
            ("hangs", format!("thing {number}: of what is on the ceiling, how far it hangs"), Takes::Length),
        ];
        blank.numbered("obstacle", "thing", number, "    ", &asks);
    }
    blank.group = "Doors and windows in the wall";
    for number in 1..=openings {
        let asks = [
            ("kind", format!("opening {number}: what it is"), Takes::Choice(OpeningKind::WORDS)),
            ("left", format!("opening {number}: its left edge, casing not counted"), Takes::Length),
            ("width", format!("opening {number}: wide"), Takes::Length),
            ("bottom", format!("opening {number}: its lower edge, of a window"), Takes::Length),
            ("height", format!("opening {number}: high"), Takes::Length),
            ("casing", format!("opening {number}: width of its casing"), Takes::Length),
        ];
        blank.numbered("opening", "opening", number, "    ", &asks);
    }
    blank.say("  }\n");
    let way = blank.text.len();
    blank.group = "The way in";
    for number in 1..=doors {
        let asks = [
            ("width", format!("door {number} of the way: clear width"), Takes::Length),
            ("height", format!("door {number} of the way: clear height"), Takes::Length),
        ];
        blank.numbered("door", "door", number, "    ", &asks);
    }
    for number in 1..=corners {
        let asks = [
            ("entry", format!("corner {number}: width of the hall one comes from"), Takes::Length),
            ("exit", format!("corner {number}: width of the hall one goes on in"), Takes::Length),
            ("ceiling", format!("corner {number}: lowest ceiling or lamp over it"), Takes::Length),
        ];
        blank.numbered("corner", "corner", number, "    ", &asks);
    }
    let stair = [
        ("width", "stair: clear width".to_owned(), Takes::Length),
        ("rise", "stair: rise of a step".to_owned(), Takes::Length),
        ("going", "stair: going of a step".to_owned(), Takes::Length),
        ("headroom", "stair: least headroom".to_owned(), Takes::Length),
    ];
    blank.numbered("stair", "stair", 1, "    ", &stair);
    let legs = blank.text.split_off(way);
    blank.text.push(Piece::Lines("  route way {\n".to_owned(), legs, "  }\n".to_owned()));
    blank.say("}\n");
    let caption = "Readings; what is left open stays a `?` or is left out".to_owned();
    Form { caption, fields: blank.fields, text: blank.text, unit: unit(subject) }
}

impl Blank {
    /// A member that stands there if one of its properties is filled.
    fn numbered(
        &mut self,
        kind: &str,
        name: &str,
        number: usize,
        indent: &str,
        asks: &[(&str, String, Takes)],
    ) {
        let name = format!("{name}_{number}");
        let before = format!("{indent}{kind} {name} {{ ");
        let asks: Vec<(&str, &str, Takes)> =
            asks.iter().map(|(property, asks, takes)| (*property, asks.as_str(), *takes)).collect();
        self.line(&name, [&before, " }\n"], &asks);
    }
}
