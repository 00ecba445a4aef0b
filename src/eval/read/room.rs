//! Reads the room: walls with their readings, floors, ceilings, studs.

use super::Reader;
use crate::diag::Diagnostic;
use crate::eval::codes;
use crate::eval::ledger::Len;
use crate::eval::model::{
    Air, Blocking, Build, Fixing, Floor, Joists, Profile, Reading, ReadingAt, Return, Slope, StandOn, Survey,
    Unread, Wall,
};
use crate::limits;
use crate::quantity::Rational;
use crate::resolve::NodeId;
use crate::resolve::kinds::read;
use crate::resolve::kinds::{
    BLOCKING, BuildOf, CEILING, Corner, FLOOR, FixingTo, FloorFor, JoistsLie, LEFT_CORNER, Leans, Optional,
    Property, READING, ROOM, SLOPE, STUDS, StandsOn, WALL,
};
use crate::source::Span;
use num_traits::Signed;

impl Reader<'_> {
    /// All walls of all rooms, by room and name.
    pub(super) fn walls(&mut self) -> Vec<Wall> {
        let mut walls = Vec::new();
        for (position, room) in self.everywhere("room").into_iter().enumerate() {
            for id in self.by_name(room, "wall") {
                if let Some(wall) = self.wall((position, room), id) {
                    self.positions.insert(id, walls.len());
                    walls.push(wall);
                }
            }
        }
        walls
    }

    /// The rooms of the main file that are still to be read, each with its text: what is not read of their walls, and elsewhere.
    pub(super) fn surveys(&self, walls: &[Wall], elsewhere: &[Unread]) -> Vec<Survey> {
        let root = self.program.root();
        let mut surveys = Vec::new();
        for room in self.by_name(root, "room") {
            let (Some(name), whole) = (self.name(room), self.program.node(room).whole) else { continue };
            let of_room = walls.iter().filter(|wall| *wall.room_name() == *name);
            let mut asks: Vec<Unread> = Vec::new();
            for unread in of_room.flat_map(|wall| &wall.unread).chain(elsewhere) {
                let inside = whole.file == unread.span.file
                    && whole.start <= unread.span.start
                    && unread.span.end <= whole.end;
                // What the room states is of all its walls, and is asked once.
                if inside && !asks.iter().any(|known| known.span == unread.span) {
                    asks.push(unread.clone());
                }
            }
            if asks.is_empty() {
                continue;
            }
            let mut between: Vec<usize> = (0..asks.len()).collect();
            between.sort_by_key(|ask| asks.get(*ask).map(|unread| unread.span.start));
            let mut from = whole.start;
            let mut text = Vec::new();
            for unread in between.iter().filter_map(|ask| asks.get(*ask)) {
                text.push(
                    self.eval.sources.text(Span { start: from, end: unread.span.start, ..whole }).to_owned(),
                );
                from = unread.span.end;
            }
            text.push(self.eval.sources.text(Span { start: from, ..whole }).to_owned());
            surveys.push(Survey { room: name, asks, text, between });
        }
        surveys
    }

    fn wall(&mut self, (position, room): (usize, NodeId), id: NodeId) -> Option<Wall> {
        let mut unread = Vec::new();
        let returns = [WALL.left, WALL.right].map(|property| match self.usual(id, property) {
            Corner::Wall => Return::Wall,
            Corner::Plumb => Return::Plumb,
            Corner::Open => Return::Open,
        });
        let program = self.program;
        // One walks the room in this order: level line and floor, six widths, ceiling.
        let floor = self.floor(room, id, &mut unread);
        let mut readings = Vec::new();
        for height in ReadingAt::ALL {
            let named = |id: &NodeId| {
                program.node(*id).name.as_ref().is_some_and(|name| &*name.text == height.word())
            };
            if let Some(reading) = program.children(id, "reading").find(named) {
                readings.push(self.reading(height, reading, &mut unread));
            }
        }
        self.heights_ascend(&readings);
        let ceiling = self.nearest(room, id, "ceiling");
        let sloped = ceiling.and_then(|id| program.children(id, "slope").next());
        let slope = sloped.and_then(|id| self.slope(id, &mut unread));
        let places = [CEILING.at, CEILING.above];
        let ceiling =
            ceiling.map(|id| self.profile(id, places, "the ceiling", &mut unread)).unwrap_or_default();
        self.level_beyond(sloped, slope, &ceiling);
        // Before a slope that is not known nothing is known of the ceiling.
        let ceiling = if sloped.is_some() && slope.is_none() { Profile::default() } else { ceiling };
        let fixing = match self.usual(id, WALL.fixing) {
            FixingTo::Masonry => Fixing::Masonry,
            FixingTo::Studs => Fixing::Studs,
        };
        let name = format!("{}.{}", self.name(room)?, self.name(id)?);
        self.not_read(&name, &unread);
        let mut wall = Wall {
            name: name.into(),
            room: position,
            head: program.node(id).head,
            returns,
            shared: self.usual(id, WALL.lean) == Leans::Shared,
            readings,
            lining: self.read(id, WALL.lining),
            fixing,
            studs: self.studs(id),
            blocking: self.blocking(id),
            floor,
            ceiling,
            slope,
            obstacles: Vec::new(),
            openings: Vec::new(),
            unread,
            air: self.air(room),
        };
        self.survey(room, id, &mut wall);
        Some(wall)
    }

    /// Low lies under middle, middle under high.
    fn heights_ascend(&mut self, readings: &[Reading]) {
        let heights: Vec<(&Reading, Len)> =
            readings.iter().filter_map(|reading| reading.height.map(|height| (reading, height))).collect();
        for ((below, low), (above, high)) in heights.iter().zip(heights.iter().skip(1)) {
            let spans = [low, high].map(|len| self.eval.ledger.span(len.why));
            if let (true, [Some(low), Some(high)]) = (low.value >= high.value, spans) {
                let message = format!(
                    "the `{}` reading lies no higher than the `{}` one",
                    above.at.word(),
                    below.at.word()
                );
                self.eval.sink.push(
                    Diagnostic::new(&codes::ORDER, message)
                        .at(high, "")
                        .and_at(low, format!("the `{}` one", below.at.word()))
                        .help("heights count from the level line: low, middle, high"),
                );
            }
        }
    }

    /// Says what is still to be read, in the order in which one walks the room.
    pub(super) fn not_read(&mut self, wall: &str, unread: &[Unread]) {
        let Some(first) = unread.first() else { return };
        let count =
            if unread.len() == 1 { "1 reading".to_owned() } else { format!("{} readings", unread.len()) };
        let verb = if unread.len() == 1 { "is" } else { "are" };
        let mut diagnostic =
            Diagnostic::new(&codes::NOT_READ, format!("{count} of `{wall}` {verb} not taken yet"));
        diagnostic = diagnostic.at(first.span, "to be read");
        for other in unread.iter().skip(1) {
            diagnostic = diagnostic.and_at(other.span, "to be read");
        }
        let list: Vec<String> = unread
            .iter()
            .enumerate()
            .map(|(index, unread)| format!("{}. {}", index + 1, unread.what))
            .collect();
        let help = "what depends on them is provisional; write each in place of its `?`";
        self.eval.sink.push(diagnostic.note(list.join("\n")).about(wall).help(help));
    }

    /// The floor or ceiling of the wall itself, else that of the room.
    fn nearest(&self, room: NodeId, wall: NodeId, kind: &str) -> Option<NodeId> {
        [wall, room].into_iter().find_map(|of| self.program.children(of, kind).next())
    }

    fn reading(&mut self, at: ReadingAt, id: NodeId, unread: &mut Vec<Unread>) -> Reading {
        let name = at.word();
        let mut read = |reader: &mut Self, property: Property<read::NotNegative, Optional>, what: &str| {
            if let Some(span) = reader.unread(id, property) {
                unread.push(Unread { what: format!("the {name} width {what}"), span });
            }
            reader.read(id, property)
        };
        let height = read(self, READING.height, "height");
        let back = read(self, READING.back, "at the back");
        let front = read(self, READING.front, "at the front");
        let lean =
            [READING.left_back, READING.right_back].map(|property| read(self, property, "out of plumb"));
        Reading { at, height, back, front, lean }
    }

    fn floor(&mut self, room: NodeId, wall: NodeId, unread: &mut Vec<Unread>) -> Floor {
        // What the wall's own floor does not state, the room's does.
        let own: Vec<NodeId> =
            [wall, room].into_iter().filter_map(|of| self.program.children(of, "floor").next()).collect();
        let mut floor = Floor {
            stand_on: None,
            build: None,
            joists: None,
            covering: None,
            size: None,
            later: None,
            below: Profile::default(),
        };
        for id in own {
            let stand_on = self.read(id, FLOOR.stand_on).map(|on| match on {
                StandsOn::Finished => StandOn::Finished,
                StandsOn::Subfloor => StandOn::Subfloor,
            });
            floor.stand_on = floor.stand_on.or(stand_on);
            let build = self.read(id, FLOOR.build).map(|build| match build {
                BuildOf::Slab => Build::Slab,
                BuildOf::Joists => Build::Joists,
            });
            floor.build = floor.build.or(build);
            let joists = self.joists(id);
            floor.joists = floor.joists.or(joists);
            let covering = self.read(id, FLOOR.covering);
            floor.covering = floor.covering.or(covering);
            if floor.stand_on != Some(StandOn::Subfloor) {
                let why =
                    "the floor is cut out only where the work stands on the subfloor: `stand_on = subfloor`";
                self.idle(id, FLOOR.covering.name, why);
            }
            let size = self.read(id, FLOOR.size);
            floor.size = floor.size.or(size);
            let later = self.read(id, FLOOR.later);
            floor.later = floor.later.or(later);
            if floor.below.points.is_empty() {
                floor.below = self.profile(id, [FLOOR.at, FLOOR.below], "the floor", unread);
            }
        }
        floor
    }

    /// The joists of a floor, where direction, spacing and span are stated.
    fn joists(&mut self, floor: NodeId) -> Option<Joists> {
        let along = self.read(floor, FLOOR.joists).map(|lie| lie == JoistsLie::Along);
        let [spacing, span] = [FLOOR.spacing, FLOOR.span].map(|property| self.read(floor, property));
        let bedroom = self.usual(floor, FLOOR.made_for) == FloorFor::Bedroom;
        Some(Joists { along: along?, spacing: spacing?, span: span?, bedroom })
    }

    /// What the air of a room does to wood.
    fn air(&mut self, room: NodeId) -> Air {
        let moisture = self.read(room, ROOM.moisture).map(|moisture| moisture.value);
        let stated = self.read(room, ROOM.humidity).unwrap_or_default();
        let shares: Vec<Rational> =
            stated.iter().filter_map(|(number, _)| Some(number.as_ref()?.exact.value)).collect();
        let dry = |share: &Rational| !share.is_negative() && *share < Rational::from(1);
        let humidity = match shares.as_slice() {
            [] if !self.is_stated(room, ROOM.humidity) => None,
            [least, greatest] if least <= greatest && dry(least) && dry(greatest) => {
                Some([*least, *greatest])
            }
            _ => {
                let help = "state the least and the greatest of the year: `humidity = [30 %, 60 %]`";
                self.out_of_range(
                    room,
                    ROOM.humidity.name,
                    "be two shares under 100 %, the least one first",
                    Some(help),
                );
                None
            }
        };
        Air { moisture, humidity }
    }

    /// The stated lengths of a list; `None` for a reading that is not taken.
    pub(super) fn lengths<W>(
        &mut self,
        id: NodeId,
        property: Property<read::Numbers, W>,
    ) -> Vec<Option<Len>> {
        let numbers = self.read(id, property).unwrap_or_default();
        numbers.into_iter().map(|(number, _)| number.and_then(|number| number.len())).collect()
    }

    /// Readings at places: two lists of one length; a place may be left out where there is one reading.
    fn profile(
        &mut self,
        id: NodeId,
        [at, property]: [Property<read::Numbers, Optional>; 2],
        what: &str,
        unread: &mut Vec<Unread>,
    ) -> Profile {
        let numbers = self.read(id, property).unwrap_or_default();
        let (places, values) = (self.lengths(id, at), self.lengths(id, property));
        for (index, (number, span)) in numbers.iter().enumerate() {
            if number.is_none() {
                let place = places.get(index).copied().flatten();
                let place = place.map(|at| format!(" at {}", self.marks.print(at.value))).unwrap_or_default();
                unread.push(Unread { what: format!("{what}{place}"), span: *span });
            }
        }
        let places = match (places.as_slice(), values.len()) {
            ([], 1) => {
                vec![Some(self.usual_length(LEFT_CORNER))]
            }
            _ => places,
        };
        if places.len() != values.len() {
            let message = format!("{} places for {} readings", places.len(), values.len());
            self.eval.sink.push(
                Diagnostic::new(&codes::LISTS, message)
                    .at(self.span(id, property), "the readings")
                    .and_at(self.span(id, at), "the places")
                    .help("write as many places in `at` as there are readings, in the same order"),
            );
            return Profile::default();
        }
        let points: Vec<(Len, Len)> =
            places.into_iter().zip(values).filter_map(|(at, value)| at.zip(value)).collect();
        if !points.iter().zip(points.iter().skip(1)).all(|((a, _), (b, _))| a.value < b.value) {
            self.eval.sink.push(
                Diagnostic::new(&codes::ORDER, "places stand in another order than along the wall")
                    .at(self.span(id, at), "")
                    .help("list them from the left corner to the right, each once"),
            );
            return Profile::default();
        }
        Profile { points }
    }

    /// Says where a slope rises to a level ceiling that is lower than where it begins, or falls to a higher one.
    fn level_beyond(&mut self, id: Option<NodeId>, slope: Option<Slope>, ceiling: &Profile) {
        let Some((id, slope, level)) = id.zip(slope).and_then(|(id, slope)| Some((id, slope, slope.level?)))
        else {
            return;
        };
        let against = |above: &Len| {
            if slope.falls { level.value > above.value } else { level.value < above.value }
        };
        if ceiling.points.iter().any(|(_, above)| against(above)) {
            let be = if slope.falls {
                "lie lower than the ceiling at the wall"
            } else {
                "lie higher than the ceiling at the wall"
            };
            let help =
                "the readings of a ceiling that slopes are those at the wall, from which it rises or falls";
            self.out_of_range(id, SLOPE.level.name, be, Some(help));
        }
    }

    /// The slope of a ceiling.
    fn slope(&mut self, id: NodeId, unread: &mut Vec<Unread>) -> Option<Slope> {
        let asked = [
            (self.unread(id, SLOPE.rise), "how far the ceiling rises towards the room"),
            (self.unread(id, SLOPE.fall), "how far the ceiling falls towards the room"),
            (self.unread(id, SLOPE.over), "over what length away from the wall it does"),
            (self.unread(id, SLOPE.level), "the level ceiling where its slope ends"),
        ];
        let asked =
            asked.into_iter().filter_map(|(span, what)| Some(Unread { what: what.to_owned(), span: span? }));
        unread.extend(asked);
        let over = self.needed(id, SLOPE.over);
        let falls = self.is_stated(id, SLOPE.fall);
        if falls && self.is_stated(id, SLOPE.rise) {
            let told = Diagnostic::new(&codes::BOTH, "a slope rises from the wall, or falls");
            let told = told.at(self.span(id, SLOPE.fall), "it falls");
            let told = told.and_at(self.span(id, SLOPE.rise), "and rises");
            self.eval.sink.push(told.help("keep what it does away from the wall"));
            return None;
        }
        let by = if falls { self.read(id, SLOPE.fall) } else { self.needed(id, SLOPE.rise) };
        let level = self.read(id, SLOPE.level);
        Some(Slope { by: by?, over: over?, falls, level, head: self.program.node(id).head })
    }

    fn blocking(&mut self, wall: NodeId) -> Vec<Blocking> {
        let mut all = Vec::new();
        for id in self.program.children(wall, "blocking") {
            let Some(bottom) = self.needed(id, BLOCKING.bottom) else { continue };
            let height = self.usual(id, BLOCKING.height);
            let top =
                self.eval.ledger.sum("upper edge", &[(1, bottom), (1, height)], "its edge and its size");
            let (left, width) = (self.read(id, BLOCKING.left), self.read(id, BLOCKING.width));
            let stock = self.read(id, BLOCKING.stock);
            let to_do = stock.and_then(|board| self.positions.get(&board).copied());
            all.push(Blocking { left, width, up: [bottom, top], to_do });
        }
        all
    }

    fn studs(&mut self, wall: NodeId) -> Vec<Len> {
        let Some(id) = self.program.children(wall, "studs").next() else { return Vec::new() };
        let mut studs: Vec<Len> = self.lengths(id, STUDS.at).into_iter().flatten().collect();
        if self.is_stated(id, STUDS.at) && self.is_stated(id, STUDS.first) {
            self.eval.sink.push(
                Diagnostic::new(&codes::BOTH, "the studs are stated in two ways")
                    .at(self.span(id, STUDS.first), "counted from a first one")
                    .and_at(self.span(id, STUDS.at), "and listed")
                    .help("keep the list where they were found one by one, else the first and `every`"),
            );
        }
        let [first, every] = [STUDS.first, STUDS.every].map(|property| self.read(id, property));
        if let (Some(first), Some(every)) = (first, every) {
            let longest = self
                .eval
                .ledger
                .given("longest wall", crate::quantity::Length::from_mm(Rational::from(50_000)));
            let mut at = first;
            while at.value < longest.value && studs.len() < limits::LIST {
                studs.push(at);
                at = self.eval.ledger.sum("stud", &[(1, at), (1, every)], "one spacing on");
            }
        }
        studs.sort_by_key(|len| len.value);
        studs
    }
}
