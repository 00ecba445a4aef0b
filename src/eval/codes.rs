//! Messages about values: dimensions, choices, what is missing or contradicts itself.

use crate::diag::{Code, code};

code!(
    Error,
    DIMENSION,
    "V001",
    "wrong_dimension",
    "a value of another kind than the property takes",
    "A length carries its unit, `3/4\"` or `18mm`; a bare number is a count or a ratio. A weight is no length, a text is no \
     number.",
    with_example
);
code!(
    Error,
    OPERANDS,
    "V002",
    "operands",
    "operands that do not go together",
    "Lengths are added to lengths, weights to weights. A length times a length is an area; a length may be multiplied and \
     divided by plain numbers.",
    with_example
);
code!(
    Error,
    MISSING,
    "V003",
    "missing_property",
    "a property that must be stated",
    "The compiler derives what follows from decisions, but it does not decide. What it needs to know is stated in the \
     block itself or in an `each` round it.",
    with_example
);
code!(
    Error,
    CIRCLE,
    "V004",
    "circular",
    "values that depend on each other",
    "Each value is worked out from others. Here the chain comes back to where it began, so none of them is known.",
    with_example
);
code!(
    Error,
    RANGE,
    "V005",
    "out_of_range",
    "a value that no such thing can have",
    "Thicknesses, widths, heights and depths are more than zero; gaps and fits are zero or more.",
    with_example
);
code!(
    Error,
    OVERFLOW,
    "V006",
    "too_large",
    "a number too large or too fine to be held exactly",
    "Sizes are exact fractions of two 128-bit integers. Only numbers far beyond any building, or fractions of very odd \
     denominators, leave that range.",
    with_example
);
code!(
    Error,
    CHOICE,
    "V007",
    "not_a_choice",
    "a word that is not among the choices",
    "Some properties take one of a few words. They are written without quotes.",
    with_example
);
code!(
    Error,
    REST,
    "V008",
    "misplaced_rest",
    "`rest` where nothing is left over to share",
    "`rest` is a share of what a whole has left over: it stands in lists that fill a whole, such as the widths of the units \
     of a run. A share is `rest`, `2 * rest`, `rest + 1\"`, and may be rounded: `rest to 1/8\"`.",
    with_example
);
code!(
    Error,
    ZERO,
    "V009",
    "division_by_zero",
    "a division by zero",
    "Nothing can be divided by zero, nor rounded to steps of zero.",
    with_example
);
code!(
    Error,
    BOTH,
    "V010",
    "stated_both_ways",
    "a size stated in two ways",
    "A carcass states its `width` over the sides or its `clear` width between them; the other one follows. The stated one \
     is held when the sheet is measured again.",
    with_example
);
code!(
    Error,
    MARKS,
    "V011",
    "marks",
    "marks that no tape has",
    "Marks are `1/16\"`, `1/32\"`, `1/64\"` and so on (one over a power of two, down to 1/128), or a step in millimetres such \
     as `1mm`, `0.5mm`, `0.1mm`.",
    with_example
);
code!(
    Error,
    MEMBER,
    "V012",
    "not_a_member",
    "a name that stands for something else",
    "The property takes the name of a member of a certain kind, such as a sheet for `stock` or a stick for `shelves`.",
    with_example
);
code!(
    Error,
    FUNCTION,
    "V013",
    "function",
    "a function that is not known, or with the wrong operands",
    "There are `min`, `max` and `sum` of two or more values of one dimension, and `abs` of one.",
    with_example
);
code!(
    Error,
    ALONE,
    "V014",
    "not_a_value",
    "a name that has no value of its own",
    "A member such as a sheet or a run has properties, which have values: `ply.thickness`. By itself it can only stand \
     where a property takes the name of such a member.",
    with_example
);

code!(
    Error,
    DATE,
    "V015",
    "no_such_day",
    "a day that the calendar does not have",
    "A day is written as year, month and day, a time of it as hours and minutes: `2026-03-02 08:00`.",
    with_example
);

code!(
    Error,
    LISTS,
    "V016",
    "lists_differ",
    "two lists that belong together and differ in length",
    "Readings along a wall are two lists: the places, `at`, and what was read there, in the same order.",
    with_example
);
code!(
    Error,
    ORDER,
    "V017",
    "out_of_order",
    "places along a wall that are not in order",
    "Places count from the left corner of the wall and are listed from left to right, each once.",
    with_example
);

code!(
    Error,
    REQUIREMENT,
    "V018",
    "requirement",
    "a requirement that does not hold",
    "`require` states what the design must give, such as a clear height for the things that stand on a shelf. The message \
     shows the value, where it comes from, and the places it depends on.",
    with_example
);
code!(
    Warning,
    NEEDLESS,
    "V019",
    "needless_accept",
    "an `accept` that silences nothing",
    "`accept slug` silences a warning in its block. Where there is no such warning, the design has changed since, and the \
     `accept` would hide the next one.",
    with_example
);
code!(
    Error,
    UNKNOWN_SLUG,
    "V020",
    "unknown_warning",
    "an `accept` of something that is no warning",
    "`accept` silences warnings by their slug, such as `sheet_not_measured`; `scantling explain` lists them. An error cannot be \
     silenced: what cannot be cut, stood, fixed or held stays so.",
    with_example
);
code!(
    Error,
    NO_SUCH_PART,
    "V021",
    "measured_what",
    "a measurement of something that is not there",
    "`measured` takes the path of a part's `length`, `width` or `thickness`, as `scantling show parts` lists it, for a part that \
     was built otherwise than derived.",
    with_example
);
code!(
    Warning,
    NOT_READ,
    "V022",
    "not_read",
    "readings that are not taken yet",
    "A `?` stands for a reading that is still to be taken. What follows from the others is worked out, but it is provisional: \
     sheets say so, and `check` lists what remains in the order in which one walks the room.",
    with_example
);
code!(
    Error,
    DIVIDED,
    "V030",
    "loose_in_divided",
    "loose shelves over a shelf that is divided into bays",
    "Loose shelves lie between two uprights. Where the opening over a shelf is divided into bays, each bay has its own.",
    with_example
);
code!(
    Error,
    SET_IN,
    "V031",
    "back_set_in",
    "a back that is set in and has no groove",
    "In rabbets a back is flush with the rear edges, planted on it stands behind them. Set in from them it stands in grooves.",
    with_example
);

code!(
    Error,
    OUTSIDE,
    "V040",
    "outside_wall",
    "an obstacle or opening that does not lie on its wall",
    "Places count from the left corner of the wall, heights from the level line. What reaches beyond the widest reading of \
     its wall, or above the ceiling, was read or written wrong.",
    with_example
);
code!(
    Error,
    NO_LEGS,
    "V041",
    "route_without_legs",
    "a route that leads nowhere",
    "A route lists what one passes on the way in, in its order: doors, corners of halls, stairs. Without them nothing can be \
     said about what comes in.",
    with_example
);
code!(
    Error,
    DECIDED,
    "V042",
    "cannot_be_decided",
    "a decision that such an obstacle does not allow",
    "Anything may be kept or removed. Trim and boxes may be cut round; the box of an outlet or the duct of a register may be \
     brought out flush with the work. A register is not cut round, a heater not built in.",
    with_example
);
code!(
    Error,
    HINGE,
    "V043",
    "hinge_edge",
    "a hinge on an edge that the door does not have",
    "In a return wall the edges of a door are near this wall and far from it; in this wall and across the room they are left \
     and right, as seen from the room.",
    with_example
);

code!(
    Error,
    LIMIT,
    "V060",
    "argument_limit",
    "an argument beyond the limits of its parameter",
    "A module says which values its parameters may have, since its author made it for those.",
    with_example
);
code!(
    Error,
    PRICES,
    "V050",
    "prices_for_sizes",
    "not one price for each size",
    "Sizes and their prices are two lists in the same order, so they are equally long.",
    with_example
);
code!(
    Error,
    CURRENCIES,
    "V051",
    "two_currencies",
    "prices in two currencies",
    "All prices of a project are added up, so they stand in one currency: any three capital letters.",
    with_example
);
code!(
    Warning,
    WITHOUT_PRICE,
    "V052",
    "without_price",
    "a limit on the cost of what has no price",
    "`project.cost` is the sum of what has a price. A limit on it holds for certain only where all that is bought has one.",
    with_example
);
code!(
    Error,
    UNKNOWN_MEASURE,
    "V053",
    "measure_not_known",
    "a measure that cannot be worked out",
    "`project.sheets` counts the sheets of a layout, and `project.cost` adds up prices; both need what is stated of the stock.",
    with_example
);
code!(
    Warning,
    IDLE,
    "V070",
    "idle_size",
    "a stated size that changes nothing",
    "A butt joint has no `depth`, and only a dado or groove, which has two walls, has a `fit`: a rabbet is as wide as what lies in it. An \
     offcut of a sheet or board has a `size`, one of a moulding a `length`. A floor `covering` is cut out only where the work stands on the \
     subfloor.",
    with_example
);
code!(
    Error,
    THICK,
    "V071",
    "thicker_than_board",
    "a facing that is thicker than the board it is cut from",
    "A facing may be planed thinner than its board as dressed, never thicker.",
    with_example
);

code!(
    Error,
    HANGS,
    "V072",
    "hangs_otherwise",
    "a unit that cannot hang as it is stated",
    "A unit of a run with a `foot` hangs on the wall `over` spaces and units of its run, which give its place and its width. Nothing stands \
     under its sides.",
    with_example
);

code!(
    Error,
    FRONT,
    "V077",
    "front_of_two_kinds",
    "doors or drawers whose place is stated so that it cannot be",
    "An opening lies between two shelves, which are both named. What stands within it lies over nothing and has no `overlay`; doors \
     before the whole front of a unit lie over all of it. The box of a drawer is as thick as its sheet or its board says.",
    with_example
);

code!(
    Warning,
    UNUSUAL,
    "V054",
    "unusual_value",
    "a value that is rarely stated and often mistyped",
    "A point or a key too many, two digits in the wrong order, feet for inches, hours for minutes: such a slip leaves a value that can \
     be, and that nobody has. The table of each kind has what is usual; what is under half of it or over twice as much, or outside of the \
     wider range that stands there, is told before anything else, and what follows from it is only counted (common practice, no \
     source). A reading is compared with its sisters, a mark with its neighbours on the stick and with the ends of the sides.",
    with_example
);

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &LIMIT,
    &DIMENSION,
    &OPERANDS,
    &MISSING,
    &CIRCLE,
    &RANGE,
    &OVERFLOW,
    &CHOICE,
    &REST,
    &ZERO,
    &BOTH,
    &MARKS,
    &MEMBER,
    &FUNCTION,
    &ALONE,
    &DATE,
    &LISTS,
    &ORDER,
    &REQUIREMENT,
    &NEEDLESS,
    &UNKNOWN_SLUG,
    &NO_SUCH_PART,
    &NOT_READ,
    &DIVIDED,
    &OUTSIDE,
    &NO_LEGS,
    &DECIDED,
    &HINGE,
    &SET_IN,
    &PRICES,
    &CURRENCIES,
    &WITHOUT_PRICE,
    &UNKNOWN_MEASURE,
    &UNUSUAL,
    &FRONT,
    &IDLE,
    &THICK,
    &HANGS,
];
