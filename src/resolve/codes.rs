//! Messages about names: kinds, properties, members.

use crate::diag::{Code, Example, code};

code!(
    Error,
    KIND,
    "N001",
    "unknown_kind",
    "a kind that the language does not have",
    "A declaration begins with a kind, such as `sheet`, `stick`, `run` or `unit`. The reference lists all kinds and where \
     they may stand.",
    Some(Example { bad: "sheat ply { thickness = 23/32\" }\n", good: "sheet ply { thickness = 23/32\" }\n" })
);
code!(
    Error,
    PROPERTY,
    "N002",
    "unknown_property",
    "a property that this kind does not have",
    "Each kind has its own properties. Sizes of parts are not among them: they are derived.",
    Some(Example { bad: "sheet ply { thicknes = 23/32\" }\n", good: "sheet ply { thickness = 23/32\" }\n" })
);
code!(
    Error,
    NAME,
    "N003",
    "unknown_name",
    "a name that nothing has",
    "A name is looked for in its own block first, then in the blocks round it, then in the file. It may be used before it \
     is declared.",
    Some(Example { bad: "let t = 23/32\"\nlet two = 2 * tt\n", good: "let t = 23/32\"\nlet two = 2 * t\n" })
);
code!(
    Error,
    TWICE,
    "N004",
    "stated_twice",
    "a property stated twice in one block",
    "A thing is decided once. A property stated in a block wins over the same property in an `each` outside; two \
     statements in one block contradict each other.",
    Some(Example {
        bad: "sheet ply { thickness = 23/32\", thickness = 3/4\" }\n",
        good: "sheet ply { thickness = 23/32\" }\n",
    })
);
code!(
    Error,
    TAKEN,
    "N005",
    "name_taken",
    "two members with one name",
    "Every part is known by the path of names that leads to it, so two members of one block cannot share a name.",
    Some(Example {
        bad: "stick lines { a = 3\" }\nstick lines { a = 4\" }\n",
        good: "stick lines { a = 3\" }\nstick other_lines { a = 4\" }\n",
    })
);
code!(
    Error,
    PLACE,
    "N006",
    "misplaced_kind",
    "a kind that may not stand in this block",
    "A unit stands in a run, a cleat in a unit, a sheet at the top of the file. The reference says where each kind may \
     stand.",
    Some(Example {
        bad: "sheet ply { thickness = 18mm, cleat { height = 60mm } }\n",
        good: "sheet ply { thickness = 18mm }\n",
    })
);
code!(
    Error,
    NAMING,
    "N007",
    "naming",
    "a name that is missing, or that does not belong",
    "Members that others refer to need a name; some kinds are alone in their block and have none; others are named by \
     their place, such as `stretcher top`.",
    Some(Example { bad: "stick { a = 3\" }\n", good: "stick lines { a = 3\" }\n" })
);
code!(
    Error,
    JOIN,
    "N008",
    "unknown_joint",
    "a joint, or parts to join, that are not known",
    "`join shelf to side with dado`: the part that is held, the part that holds it, and the joint.",
    Some(Example {
        bad: "join shelf to side with dadoo { depth = 1/4\" }\n",
        good: "join shelf to side with dado { depth = 1/4\" }\n",
    })
);

/// All codes of this room.
pub static ALL: &[&Code] = &[&KIND, &PROPERTY, &NAME, &TWICE, &TAKEN, &PLACE, &NAMING, &JOIN];
