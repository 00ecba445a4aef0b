//! The room as it was measured: floor, ceiling, walls with their readings and studs.

use super::{
    COMMON, FILE, KindSpec, Naming, Needed, Optional, Property, PropertySpec, Source, Takes, Usual,
    UsualLength, Usually, Without, inches, mm, plain, read, written,
};
use crate::quantity::Dim;

words! {
    /// What units stand on.
    StandsOn { Finished = "finished", Subfloor = "subfloor" }
}

words! {
    /// What carries a floor.
    BuildOf { Slab = "slab", Joists = "joists" }
}

words! {
    /// How joists lie.
    JoistsLie { Along = "along", Across = "across" }
}

words! {
    /// What a floor was made for.
    FloorFor { Room = "room", Bedroom = "bedroom" }
}

words! {
    /// What an end of a wall meets.
    Corner { Wall = "wall", Plumb = "plumb", Open = "open" }
}

words! {
    /// What each of two walls without plumb readings may lean.
    Leans { Whole = "whole", Shared = "shared" }
}

words! {
    /// What holds a screw.
    FixingTo { Studs = "studs", Masonry = "masonry" }
}

kind! {
    /// the room as it was measured
    ROOM: Room = "room", Naming::Needed, text: true, within: [FILE];
    /// the moisture of wood that has lain in it for long, a mean over the year
    moisture: number(NONE), optional, usually (Usually::within([written(6, "%"), written(11, "%")], Source::published("USDA FPL-GTR-190 (2010), Figure 13-1, as quoted")));
    /// the least and the greatest relative humidity of its air over the year
    humidity: amounts(NONE), optional;
}

/// Where the one reading of a floor or ceiling is taken.
pub(crate) const LEFT_CORNER: UsualLength =
    UsualLength::new("left corner", (0, 1), (0, 1), Source::rule("places count from the left corner"));

kind! {
    /// the floor, by a level line through its highest point
    FLOOR: Floor = "floor", Naming::Alone, text: false, within: ["room", "wall"];
    /// the units stand on the finished floor, or on the subfloor
    stand_on: choice(StandsOn), optional;
    /// what carries it
    build: choice(BuildOf), optional;
    /// how its joists lie to the wall; with their spacing and span stated what shelves ask of one is compared
    joists: choice(JoistsLie), optional;
    /// from one joist to the next
    spacing: positive, optional, usually (Usually::between([inches(12, 1), inches(24, 1)], [mm(300), mm(600)], COMMON));
    /// from support to support of a joist
    span: positive, optional, usually (Usually::wide([inches(36, 1), inches(360, 1)], [mm(900), mm(9000)]));
    /// what it was made for: 40 lb/ft2 in rooms, 30 lb/ft2 in bedrooms (IRC Table R301.5)
    made_for: choice(FloorFor), word(FloorFor::Room);
    /// thickness of the covering that is cut out where the work stands on the subfloor
    covering: positive, optional, usually (Usually::wide([inches(1, 16), inches(2, 1)], [mm(2), mm(50)]).called("floor covering"));
    /// of the floor that is covered with dust sheets: its sides
    size: size, optional, usually (Usually::wide([inches(36, 1), inches(720, 1)], [mm(900), mm(18_000)]));
    /// how much new floor will come on top of it
    later: not_negative, optional, usually (Usually::wide([inches(1, 16), inches(6, 1)], [mm(1), mm(150)]).called("later floor"));
    /// places along the wall, from its left corner
    at: lengths, follows("one reading holds for the whole wall");
    /// how far it lies below the level line at those places
    below: lengths, optional, usually (Usually::wide([inches(1, 64), inches(6, 1)], [mm(0), mm(150)]).called("fall of the floor"));
}

kind! {
    /// the ceiling
    CEILING: Ceiling = "ceiling", Naming::Alone, text: false, within: ["room", "wall"];
    /// places along the wall, from its left corner
    at: lengths, follows("one reading holds for the whole wall");
    /// how far it lies above the level line at those places
    above: lengths, optional, usually (Usually::at_least(inches(84, 1), mm(2130), Source::published("IRC R305.1")).doubted([inches(36, 1), inches(200, 1)], [mm(900), mm(5000)]).called("ceiling height"));
}

kind! {
    /// the slope of a ceiling towards the room: its readings are then taken at the wall, where the slope begins
    SLOPE: Slope = "slope", Naming::Alone, text: false, within: ["ceiling"];
    /// how far it rises
    rise: positive, needed_where("where no `fall` is", "rise = 9\"", "rise = 225mm"), usually (Usually::wide([inches(1, 8), inches(480, 1)], [mm(3), mm(12000)]));
    /// how far it falls; stated in place of `rise`
    fall: positive, optional, usually (Usually::wide([inches(1, 8), inches(480, 1)], [mm(3), mm(12000)]));
    /// so far away from the wall, level
    over: positive, needed("over = 12\"", "over = 300mm"), usually (Usually::wide([inches(1, 2), inches(480, 1)], [mm(10), mm(12000)]));
    /// from the level line to the level ceiling where it ends
    level: positive, follows("it goes on"), usually (Usually::wide([inches(24, 1), inches(200, 1)], [mm(600), mm(5000)]).called("ceiling height"));
}

kind! {
    /// a wall that a run stands against
    WALL: Wall = "wall", Naming::Needed, text: true, within: ["room"];
    /// what its left end meets: a wall as it is, a plumb one, or nothing
    left: choice(Corner), word(Corner::Wall);
    /// what its right end meets
    right: choice(Corner), word(Corner::Wall);
    /// where both ends meet walls without plumb readings: each may have the whole lean, or they share it
    lean: choice(Leans), word(Leans::Whole);
    /// board or plaster before what holds a screw
    lining: not_negative, optional, usually (Usually::between([inches(1, 2), inches(1, 1)], [mm(12), mm(25)], COMMON).doubted([inches(1, 8), inches(3, 1)], [mm(3), mm(75)]));
    /// what holds a screw
    fixing: choice(FixingTo), word(FixingTo::Studs);
}

kind! {
    /// the width between the ends of a wall at one height
    READING: Reading = "reading", Naming::OneOf(&["low", "middle", "high"]), text: false, within: ["wall"];
    /// at which it is taken
    height: not_negative, follows("at the bottom, the middle and the top of the units"), usually (Usually::wide([inches(1, 8), inches(180, 1)], [mm(3), mm(4500)]).called("height of a reading"));
    /// at the wall
    back: not_negative, optional, usually (Usually::wide([inches(6, 1), inches(600, 1)], [mm(150), mm(15000)]).called("width"));
    /// where the front of the units will be
    front: not_negative, optional, usually (Usually::wide([inches(6, 1), inches(600, 1)], [mm(150), mm(15000)]).called("width"));
    /// how far the left wall stands back there from a plumb line
    left_back: not_negative, optional, usually (Usually::wide([inches(1, 64), inches(4, 1)], [mm(0), mm(100)]).called("lean"));
    /// how far the right wall stands back there from a plumb line
    right_back: not_negative, optional, usually (Usually::wide([inches(1, 64), inches(4, 1)], [mm(0), mm(100)]).called("lean"));
}

kind! {
    /// wood let in between the studs of a wall, behind its lining: a cleat or rear stretcher whose middle lies before it is
    /// screwed to it in a row
    BLOCKING: Blocking = "blocking", Naming::Optional, text: false, within: ["wall"];
    /// from the level line to its lower edge
    bottom: not_negative, needed("bottom = 60\"", "bottom = 1500mm");
    /// of the wood
    height: positive, length("height of the blocking", (7, 2), (90, 1), COMMON);
    /// from the left corner of the wall to its left end
    left: not_negative, follows("along the whole wall");
    /// along the wall
    width: positive, follows("to the right end of the wall");
    /// the board that it is cut from, where it is still to be let in
    stock: member("board"), follows("it is there already");
}

kind! {
    /// the studs behind a wall, by their middles
    STUDS: Studs = "studs", Naming::Alone, text: false, within: ["wall"];
    /// places from the left corner
    at: lengths, optional;
    /// the first one, in place of a list
    first: positive, optional;
    /// from one to the next
    every: positive, optional, usually (Usually::between([inches(16, 1), inches(24, 1)], [mm(400), mm(600)], COMMON).called("stud spacing"));
}
