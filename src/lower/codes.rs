//! Messages about carcasses that cannot be: parts that do not fit into each other.

use crate::diag::{Code, code};

code!(
    Error,
    OVERFULL,
    "L001",
    "overfull",
    "a run whose units do not fit into it",
    "The stated widths and the gaps together are more than the length of the run. A stated width is never changed: one of \
     them, a gap or the length has to give.",
    with_example
);
code!(
    Error,
    NO_LENGTH,
    "L002",
    "rest_of_nothing",
    "a share of a run whose length is not known",
    "`rest` shares what the run has left over, so the run stands `along` a wall whose width is read, or states its `length`.",
    with_example
);
code!(
    Error,
    NO_CLEAR,
    "L003",
    "no_clear_width",
    "a carcass with nothing between its sides",
    "The width over the sides is not more than the two sides together.",
    with_example
);
code!(
    Error,
    ABOVE,
    "L004",
    "shelf_above_side",
    "a shelf that stands higher than the side ends",
    "A mark is the underside of a shelf; mark and thickness together may not be more than the height of the side.",
    with_example
);
code!(
    Error,
    CLOSE,
    "L005",
    "shelves_too_close",
    "two shelves with nothing between them",
    "Two marks of a stick lie closer together than the thickness of the sheet, and one carcass uses both.",
    with_example
);
code!(
    Error,
    CLEAT,
    "L006",
    "cleat_too_high",
    "a cleat that fills the opening it hangs in",
    "A cleat hangs under the rear edge of a shelf. Here it reaches down to the shelf below.",
    with_example
);
code!(
    Error,
    STRETCHER,
    "L007",
    "stretcher_too_high",
    "a stretcher that is higher than its place",
    "A bottom stretcher stands between the floor and the bottom shelf, a top stretcher between the top shelf and the ends \
     of the sides.",
    with_example
);
code!(
    Error,
    PARTS,
    "L008",
    "too_many_parts",
    "a project with too many parts",
    "A project may have 100,000 parts.",
    without_example
);
code!(
    Warning,
    NOTHING,
    "L009",
    "nothing_to_build",
    "a project with nothing to build in it",
    "The file states no run with units and no carcass, so there is nothing to cut.",
    without_example
);

code!(
    Error,
    TWO_TOPS,
    "L010",
    "two_tops",
    "a carcass with a top and a mark of the same name",
    "A `top` in rabbets is known as `top`, and so are the cleat and the strip that belong to it; a mark of that name would \
     have the same path.",
    with_example
);

code!(
    Error,
    STILE,
    "L011",
    "stile_does_not_fit",
    "a stile that is narrower than what it covers, or wider than the opening beside it",
    "The stile over a seam covers two sides, so it is at least as wide as both; what it has more laps both openings, and two \
     laps must leave an opening.",
    with_example
);
code!(
    Error,
    STRIP,
    "L012",
    "strip_closes_opening",
    "a strip or rail that closes the opening under it",
    "A strip hangs below its shelf, a rail below the ends of the sides. Here nothing is left of the opening at the front.",
    with_example
);
code!(
    Error,
    CONTRADICTION,
    "L013",
    "stated_against_wall",
    "a run that contradicts its wall",
    "A run that stands along a wall takes its length and what its ends meet from the wall's readings; to state them in the \
     run as well gives two answers to one question.",
    with_example
);
code!(
    Error,
    FILL,
    "L020",
    "does_not_fill",
    "a list that does not fill its whole",
    "Clear heights and bays fill the room between the boards around them. What is stated is never changed; a member that states nothing, or `rest`, takes an equal share of what the others leave.",
    with_example
);
code!(
    Error,
    NO_BASE,
    "L021",
    "no_base",
    "a lowest shelf whose height nothing states",
    "A carcass without a stick has its lowest shelf on the bottom stretcher, so that stretcher states its height.",
    with_example
);
code!(
    Error,
    OPEN_ABOVE,
    "L022",
    "nothing_above",
    "a divider or a loose shelf with nothing above it",
    "A divider is housed in the shelf under it and in the one over it, and pins are bored between two shelves. Over the topmost shelf of an open carcass there is nothing.",
    with_example
);
code!(
    Error,
    HOLES,
    "L023",
    "too_few_holes",
    "more loose shelves than holes",
    "All holes lie on one grid from the bottom end of the unit, so that both sides register from the same end; between two shelves lie only so many of them.",
    with_example
);
code!(
    Error,
    NO_BOARD,
    "L024",
    "no_board_for_strip",
    "a strip on loose shelves without a board",
    "The strip along a loose shelf is cut from the board of the run's facing.",
    with_example
);
code!(
    Error,
    FILLER,
    "L025",
    "filler_strip",
    "a filler strip where there is no gap to close",
    "A filler strip closes the gap between an outer side and a wall, in a run without facing. A stile at the wall closes it \
     already; at an open end there is no wall.",
    with_example
);
code!(
    Error,
    NO_JOINT,
    "L026",
    "no_such_joint",
    "a join of parts that do not meet",
    "A join may name one part by its path, as in `join hall.left.shelf.files to side with dado`; that part must be there, and \
     be held by what the join names.",
    with_example
);

code!(
    Error,
    TOE,
    "L027",
    "toe_space",
    "a toe space that does not fit",
    "A toe space is a notch in the sides under the bottom shelf, or the room before a separate base that is set back. It ends \
     under the bottom shelf, something stands behind it, and no rail of the facing closes it.",
    with_example
);
code!(
    Error,
    STEP,
    "L028",
    "crown_over_a_step",
    "a crown over units that are not equally high and deep",
    "A crown runs along one line: the units under it end at one height and stand equally far from the wall.",
    with_example
);

code!(
    Error,
    FRONT,
    "L029",
    "doors_and_counters",
    "a counter or doors that do not fit",
    "Doors lie before the front edges of a carcass, side by side with a reveal at each edge; a facing would stand in their place. \
     A counter reaches from the wall, or the gap behind it, to before the front.",
    with_example
);

code!(
    Error,
    FRAME,
    "L030",
    "frame",
    "a frame that does not lie in one plane",
    "A facing with `join rail to stile` is a frame: it is made flat and square on the bench and put on in one piece, so all units \
     behind it are equally deep.",
    with_example
);

code!(
    Error,
    TWO_PARTS,
    "L031",
    "two_parts",
    "two parts of one name",
    "A part is known by its path of names: in lists, in `join`, `measured` and `mark`. Two parts may not share one.",
    without_example
);

code!(
    Error,
    LAP,
    "L040",
    "stile_against_lap",
    "a stile that is not as wide as the laps that are stated with it",
    "The stile over a seam covers two sides and laps two openings, so its width follows from the lap, or the lap from its width. \
     Where both are stated and differ, strips and rails would not meet the stiles between which they stand.",
    with_example
);

code!(
    Warning,
    RAIL,
    "L041",
    "rail_leaves_edge",
    "a top rail that leaves the edge of the topmost shelf seen",
    "A top rail is flush with the ends of the sides and reaches down to the underside of the topmost shelf, or over it: then the \
     shelf has a strip of its own. One that ends before the shelf's edge leaves raw wood in sight, and no room for a strip.",
    with_example
);

code!(
    Note,
    CUT_AWAY,
    "L042",
    "cut_away",
    "a cleat or stretcher of which nothing is left",
    "What stands at the wall is cut round trim and boxes. Where these take the whole of a cleat or of a rear stretcher, there is no such \
     part: it is not cut, and nothing is screwed through it.",
    with_example
);

code!(
    Error,
    END,
    "L043",
    "end_of_run",
    "an end of a run that contradicts its wall, or is stated twice",
    "An end of a run meets what its wall has there, unless it is `open` and the run ends in mid-wall. The stile at a wall is as wide \
     as the gap, the side and the lap, so that the gap or the stile is stated; a run without facing has no stile.",
    with_example
);

code!(
    Error,
    SPACE,
    "L044",
    "space_without_opening",
    "a space that keeps an opening of another wall free",
    "A space over an opening has its place and its width from that, as it was measured along the wall of the run: so the opening is \
     one of that wall, and not of a return wall or across the room.",
    with_example
);

code!(
    Error,
    HOLE,
    "L045",
    "hole_without_place",
    "a hole that says neither through what it goes nor where",
    "A hole in a shelf, a counter or a top has its middle from the left face of the unit and from the wall, one in a side from the wall \
     and from the bottom end, one in a back from the left face and from the bottom end.",
    with_example
);

code!(
    Error,
    EDGE,
    "L046",
    "edge_behind_facing",
    "a strip on front edges that are covered",
    "A raw front edge gets a strip where it is seen. Where a facing stands before it, strips and stiles cover it, and glue holds them \
     on raw wood only.",
    with_example
);

code!(
    Error,
    CORNER,
    "L061",
    "no_corner",
    "an end that stands before a run that is in no corner with it",
    "Where two walls meet, one run goes through to the corner and the other one ends before its front, by its depth and its facing \
     (geometry). Both stand along walls of one room, and what goes through meets the wall there.",
    with_example
);

code!(
    Error,
    CLOSED,
    "L055",
    "opening_to_close",
    "doors or drawers for an opening that is not there, or that leaves nothing of them",
    "An opening begins on one shelf and ends under another one over it, or at the top. What closes it is as large as the opening less \
     its reveals, or and what it lies over; the box of a drawer is as wide as that less its slides, and holds its bottom.",
    with_example
);

code!(
    Error,
    CUTS_OFF,
    "L050",
    "slope_cuts_off",
    "a shelf that a slope cuts off",
    "Under a slope a shelf ends where its upper edge meets that. What a stick has too high for a unit that follows the ceiling is left \
     out, and said; what the unit itself states, or the lowest shelf of it, has to keep some depth.",
    with_example
);

code!(
    Error,
    HUNG,
    "L047",
    "hangs_over_nothing",
    "a unit that hangs over what does not stand side by side in its run",
    "What a unit hangs over are spaces and standing units of its run, next to each other: they give its place along the wall and its width.",
    with_example
);

code!(
    Error,
    UNDER,
    "L051",
    "over_its_ceiling",
    "a unit that does not fit under the ceiling it follows",
    "A unit that follows the ceiling is no higher than that leaves over its front edges, less what stays open; without a `height` it \
     is as high as fits. So the ceiling of its wall is read.",
    with_example
);

code!(
    Error,
    KNEE,
    "L052",
    "knee_too_low",
    "a slope that comes down to the foot of a unit",
    "The sides of a unit under a slope stand on the floor or on a plinth, and their shorter edge ends at the slope: it needs some height \
     there, as a knee wall gives.",
    with_example
);

code!(
    Error,
    NO_ROOM,
    "L053",
    "no_room_under_slope",
    "what a slope leaves no room for",
    "Where a slope takes a corner of the sides, nothing lies level on them: no counter, no crown, no stretcher in that corner. Where it \
     falls to the front, no facing and no doors stand there.",
    with_example
);

code!(
    Note,
    LEFT_OUT,
    "L054",
    "left_out_under_ceiling",
    "what a unit that follows the ceiling has no room for",
    "A stick has the marks of all units. One that follows a lower ceiling has the shelves that fit under it; the last one is said. A shelf \
     that ends before the slope has no wall behind it, and so no cleat.",
    with_example
);

code!(
    Error,
    SLIDE,
    "L056",
    "no_slide_fits",
    "a drawer that is deeper than its unit",
    "A drawer is as deep as its slides are long, which are the longest that there is room for between the front and the wall, the back or \
     a cleat. Where even the shortest is longer than that, the drawer stands out of the front.",
    with_example
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
    &LAP,
    &RAIL,
    &CUT_AWAY,
    &END,
    &SPACE,
    &HOLE,
    &EDGE,
    &CORNER,
    &HUNG,
    &CUTS_OFF,
    &UNDER,
    &KNEE,
    &NO_ROOM,
    &LEFT_OUT,
    &CLOSED,
    &SLIDE,
];
