//! Messages about carcasses that cannot be: parts that do not fit into each other.

use crate::diag::{Code, Example, code};

code!(
    Error,
    OVERFULL,
    "L001",
    "overfull",
    "a run whose units do not fit into it",
    "The stated widths and the gaps together are more than the length of the run. A stated width is never changed: one of \
     them, a gap or the length has to give.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  length = 1000mm\n  each unit { shelves = s, height = 900mm, depth = 300mm }\n  unit a { width = 600mm }\n  unit b { width = 500mm }\n}\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  length = 1200mm\n  each unit { shelves = s, height = 900mm, depth = 300mm }\n  unit a { width = 600mm }\n  unit b { width = 500mm }\n}\n",
    })
);
code!(
    Error,
    NO_LENGTH,
    "L002",
    "rest_of_nothing",
    "a share of a run whose length is not known",
    "`rest` shares what the run has left over, so the run stands `along` a wall whose width is read, or states its `length`.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  unit a { shelves = s, height = 900mm, depth = 300mm, width = rest }\n}\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  length = 1200mm\n  unit a { shelves = s, height = 900mm, depth = 300mm, width = rest }\n}\n",
    })
);
code!(
    Error,
    NO_CLEAR,
    "L003",
    "no_clear_width",
    "a carcass with nothing between its sides",
    "The width over the sides is not more than the two sides together.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 36mm, height = 900mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 360mm, height = 900mm, depth = 300mm }\n",
    })
);
code!(
    Error,
    ABOVE,
    "L004",
    "shelf_above_side",
    "a shelf that stands higher than the side ends",
    "A mark is the underside of a shelf; mark and thickness together may not be more than the height of the side.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 890mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 860mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
    })
);
code!(
    Error,
    CLOSE,
    "L005",
    "shelves_too_close",
    "two shelves with nothing between them",
    "Two marks of a stick lie closer together than the thickness of the sheet, and one carcass uses both.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 90mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 390mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n",
    })
);
code!(
    Error,
    CLEAT,
    "L006",
    "cleat_too_high",
    "a cleat that fills the opening it hangs in",
    "A cleat hangs under the rear edge of a shelf. Here it reaches down to the shelf below.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 150mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, cleat { height = 60mm } }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 390mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, cleat { height = 60mm } }\n",
    })
);
code!(
    Error,
    STRETCHER,
    "L007",
    "stretcher_too_high",
    "a stretcher that is higher than its place",
    "A bottom stretcher stands between the floor and the bottom shelf, a top stretcher between the top shelf and the ends \
     of the sides.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, stretcher bottom { height = 90mm } }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, stretcher bottom }\n",
    })
);
code!(
    Error,
    PARTS,
    "L008",
    "too_many_parts",
    "a project with too many parts",
    "A project may have 100,000 parts.",
    None
);
code!(
    Warning,
    NOTHING,
    "L009",
    "nothing_to_build",
    "a project with nothing to build in it",
    "The file states no run with units and no carcass, so there is nothing to cut.",
    None
);

code!(
    Error,
    TWO_TOPS,
    "L010",
    "two_tops",
    "a carcass with a top and a mark of the same name",
    "A `top` in rabbets is known as `top`, and so are the cleat and the strip that belong to it; a mark of that name would \
     have the same path.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, top = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, top }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, high = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, top }\n",
    })
);

code!(
    Error,
    STILE,
    "L011",
    "stile_does_not_fit",
    "a stile that is narrower than what it covers, or wider than the opening beside it",
    "The stile over a seam covers two sides, so it is at least as wide as both; what it has more laps both openings, and two \
     laps must leave an opening.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 380mm }\nboard ash { thickness = 20mm }\nrun r {\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 30mm, strip = 40mm }\n}\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 380mm }\nboard ash { thickness = 20mm }\nrun r {\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 45mm, strip = 40mm }\n}\n",
    })
);
code!(
    Error,
    STRIP,
    "L012",
    "strip_closes_opening",
    "a strip or rail that closes the opening under it",
    "A strip hangs below its shelf, a rail below the ends of the sides. Here nothing is left of the opening at the front.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 380mm, high = 680mm }\nboard ash { thickness = 20mm }\nrun r {\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 45mm, strip = 310mm }\n}\n",
        good: "sheet ply { thickness = 18mm }\nstick s { floor = 80mm, next = 380mm, high = 680mm }\nboard ash { thickness = 20mm }\nrun r {\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 45mm, strip = 40mm }\n}\n",
    })
);
code!(
    Error,
    CONTRADICTION,
    "L013",
    "stated_against_wall",
    "a run that contradicts its wall",
    "A run that stands along a wall takes its length and what its ends meet from the wall's readings; to state them in the \
     run as well gives two answers to one question.",
    Some(Example {
        bad: "room k { wall w { reading low { back = 1004mm, front = 1010mm } } }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  along = k.w\n  length = 990mm\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n}\n",
        good: "room k { wall w { right = open, reading low { back = 1004mm, front = 1010mm } } }\nsheet ply { thickness = 18mm }\nstick s { floor = 80mm }\nrun r {\n  along = k.w\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n}\n",
    })
);
code!(
    Error,
    FILL,
    "L020",
    "does_not_fill",
    "a list that does not fill its whole",
    "Clear heights and bays fill the room between the boards around them. What is stated is never changed; a member that states nothing, or `rest`, takes an equal share of what the others leave.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low {\n    bay one { width = 500mm }\n    bay two { width = 400mm }\n  }\n  shelf high\n}\n",
        good: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low {\n    bay one { width = 500mm }\n    bay two\n  }\n  shelf high\n}\n",
    })
);
code!(
    Error,
    NO_BASE,
    "L021",
    "no_base",
    "a lowest shelf whose height nothing states",
    "A carcass without a stick has its lowest shelf on the bottom stretcher, so that stretcher states its height.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  stretcher bottom\n  shelf low\n  shelf high\n}\n",
        good: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  stretcher bottom { height = 80mm }\n  shelf low\n  shelf high\n}\n",
    })
);
code!(
    Error,
    OPEN_ABOVE,
    "L022",
    "nothing_above",
    "a divider or a loose shelf with nothing above it",
    "A divider is housed in the shelf under it and in the one over it, and pins are bored between two shelves. Over the topmost shelf of an open carcass there is nothing.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low\n  shelf high { bay one, bay two }\n}\n",
        good: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low { bay one, bay two }\n  shelf high\n}\n",
    })
);
code!(
    Error,
    HOLES,
    "L023",
    "too_few_holes",
    "more loose shelves than holes",
    "All holes lie on one grid from the bottom end of the unit, so that both sides register from the same end; between two shelves lie only so many of them.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low { clear = 200mm, adjustable { count = 5 } }\n  shelf high\n}\n",
        good: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low { clear = 200mm, adjustable { count = 2 } }\n  shelf high\n}\n",
    })
);
code!(
    Error,
    NO_BOARD,
    "L024",
    "no_board_for_strip",
    "a strip on loose shelves without a board",
    "The strip along a loose shelf is cut from the board of the run's facing.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low { adjustable { count = 2, strip = 30mm } }\n  shelf high\n}\n",
        good: "sheet ply { thickness = 18mm }\ncarcass a { width = 900mm, height = 900mm, depth = 300mm\n  shelf low { adjustable { count = 2 } }\n  shelf high\n}\n",
    })
);
code!(
    Error,
    FILLER,
    "L025",
    "filler_strip",
    "a filler strip where there is no gap to close",
    "A filler strip closes the gap between an outer side and a wall, in a run without facing. A stile at the wall closes it \
     already; at an open end there is no wall.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  end left { against = open, filler = ash }\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  length = 650mm\n}\n",
        good: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  end left { filler = ash }\n  unit a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\n  length = 650mm\n}\n",
    })
);
code!(
    Error,
    NO_JOINT,
    "L026",
    "no_such_joint",
    "a join of parts that do not meet",
    "A join may name one part by its path, as in `join hall.left.shelf.files to side with dado`; that part must be there, and \
     be held by what the join names.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { low = 80mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\njoin a.shelf.hihg to side with dado { depth = 8mm }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { low = 80mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm }\njoin a.shelf.next to side with dado { depth = 8mm }\n",
    })
);

code!(
    Error,
    TOE,
    "L027",
    "toe_space",
    "a toe space that does not fit",
    "A toe space is a notch in the sides under the bottom shelf, or the room before a separate base that is set back. It ends \
     under the bottom shelf, something stands behind it, and no rail of the facing closes it.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { low = 80mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, toe { height = 90mm } }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { low = 90mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, toe { height = 90mm } }\n",
    })
);
code!(
    Error,
    STEP,
    "L028",
    "crown_over_a_step",
    "a crown over units that are not equally high and deep",
    "A crown runs along one line: the units under it end at one height and stand equally far from the wall.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nmoulding cove { width = 80mm, spring = 45deg, lengths = [2400mm] }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  length = 1250mm\n  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = rest, height = 900mm, depth = 400mm }\n  facing { stock = ash, stile = 45mm, top_rail = 60mm }\n  crown { stock = cove }\n}\n",
        good: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nmoulding cove { width = 80mm, spring = 45deg, lengths = [2400mm] }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  length = 1250mm\n  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 45mm, top_rail = 60mm }\n  crown { stock = cove }\n}\n",
    })
);

code!(
    Error,
    FRONT,
    "L029",
    "doors_and_counters",
    "a counter or doors that do not fit",
    "Doors lie before the front edges of a carcass, side by side with a reveal at each edge; a facing would stand in their place. \
     A counter reaches from the wall, or the gap behind it, to before the front.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nstick s { low = 80mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, doors { count = 2, reveal = 200mm } }\n",
        good: "sheet ply { thickness = 18mm }\nstick s { low = 80mm, next = 400mm }\ncarcass a { shelves = s, width = 600mm, height = 900mm, depth = 300mm, doors { count = 2, reveal = 3mm } }\n",
    })
);

code!(
    Error,
    FRAME,
    "L030",
    "frame",
    "a frame that does not lie in one plane",
    "A facing with `join rail to stile` is a frame: it is made flat and square on the bench and put on in one piece, so all units \
     behind it are equally deep.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  length = 1250mm\n  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = rest, height = 900mm, depth = 400mm }\n  facing { stock = ash, stile = 45mm, lap = 4mm, top_rail = 60mm }\n  join rail to stile with tenon { depth = 16mm }\n}\n",
        good: "sheet ply { thickness = 18mm }\nboard ash { thickness = 20mm }\nstick s { low = 80mm, next = 400mm }\nrun r {\n  length = 1250mm\n  unit a { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  unit b { shelves = s, width = rest, height = 900mm, depth = 300mm }\n  facing { stock = ash, stile = 45mm, lap = 4mm, top_rail = 60mm }\n  join rail to stile with tenon { depth = 16mm }\n}\n",
    })
);

code!(
    Error,
    TWO_PARTS,
    "L031",
    "two_parts",
    "two parts of one name",
    "A part is known by its path of names: in lists, in `join`, `measured` and `mark`. Two parts may not share one.",
    None
);

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &OVERFULL,
    &NO_LENGTH,
    &NO_CLEAR,
    &ABOVE,
    &CLOSE,
    &CLEAT,
    &STRETCHER,
    &PARTS,
    &NOTHING,
    &TWO_TOPS,
    &STILE,
    &STRIP,
    &CONTRADICTION,
    &FILL,
    &NO_BASE,
    &OPEN_ABOVE,
    &HOLES,
    &NO_BOARD,
    &FILLER,
    &NO_JOINT,
    &TOE,
    &STEP,
    &FRONT,
    &FRAME,
    &TWO_PARTS,
];
