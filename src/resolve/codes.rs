//! Messages about names: kinds, properties, members.

use crate::diag::{Code, code};

code!(
    Error,
    KIND,
    "N001",
    "unknown_kind",
    "a kind that the language does not have",
    "A declaration begins with a kind, such as `sheet`, `stick`, `run` or `unit`. The reference lists all kinds and where \
     they may stand.",
    with_example
);
code!(
    Error,
    PROPERTY,
    "N002",
    "unknown_property",
    "a property that this kind does not have",
    "Each kind has its own properties. Sizes of parts are not among them: they are derived.",
    with_example
);
code!(
    Error,
    NAME,
    "N003",
    "unknown_name",
    "a name that is not declared",
    "A name is looked for in its own block first, then in the blocks round it, then in the file. It may be used before it \
     is declared.",
    with_example
);
code!(
    Error,
    TWICE,
    "N004",
    "stated_twice",
    "a property stated twice in one block",
    "A thing is decided once. A property stated in a block wins over the same property in an `each` outside; two \
     statements in one block contradict each other.",
    with_example
);
code!(
    Error,
    TAKEN,
    "N005",
    "name_taken",
    "two members with one name",
    "Every part is known by the path of names that leads to it, so two members of one block cannot share a name.",
    with_example
);
code!(
    Error,
    PLACE,
    "N006",
    "misplaced_kind",
    "a kind that may not stand in this block",
    "A unit stands in a run, a cleat in a unit, a sheet at the top of the file. The reference says where each kind may \
     stand.",
    with_example
);
code!(
    Error,
    NAMING,
    "N007",
    "naming",
    "a name that is missing, or that does not belong",
    "Members that others refer to need a name; some kinds are alone in their block and have none; others are named by \
     their place, such as `stretcher top`.",
    with_example
);
code!(
    Error,
    JOIN,
    "N008",
    "unknown_joint",
    "a joint, or parts to join, that are not known",
    "`join shelf to side with dado`: the part that is held, the part that holds it, and the joint.",
    with_example
);

code!(
    Error,
    NO_FILE,
    "N020",
    "no_such_file",
    "a used file that cannot be read",
    "`use \"shop.scant\"` looks for the file beside the one that says so; `use std.shelving` takes a part of the embedded \
     library, and `use cupboard` the file `cupboard.scant` in a folder that `scantling.toml` names under `modules`. Only files \
     that end in `.scant` are used.",
    with_example
);
code!(
    Error,
    OUTSIDE,
    "N021",
    "outside_root",
    "a used file outside the project's folder",
    "A project reads files of its own folder and of the folders in it, also where a link leads elsewhere. The root is the \
     folder of the nearest `scantling.toml` above the project's main file; without one it is that file's own folder. So an \
     empty `scantling.toml` lets several projects share a shop file.",
    with_example
);
code!(
    Error,
    FILE_LOOP,
    "N022",
    "use_loop",
    "files that use each other in a circle",
    "A file cannot use itself, nor a file that uses it: neither could be read first.",
    without_example
);
code!(
    Error,
    FILES,
    "N023",
    "too_many_files",
    "a project with too many files",
    "A project may use 1,000 files.",
    without_example
);
code!(
    Error,
    DEPTH,
    "N024",
    "uses_too_deep",
    "uses that nest too deep",
    "Files may use files, and modules may use modules, 64 deep.",
    without_example
);
code!(
    Error,
    MODULE_LOOP,
    "N025",
    "module_loop",
    "a module that uses itself",
    "A module holds what its body declares. If that is the module itself, also by way of others, it would never end.",
    with_example
);
code!(
    Error,
    EXPANDED,
    "N026",
    "too_many_members",
    "uses of modules that come to too many entries",
    "All uses of modules together may come to 200,000 entries. Modules that use each other twice, thirty levels deep, come \
     to more than a thousand million.",
    without_example
);
code!(
    Error,
    TWO_SOURCES,
    "N027",
    "two_sources",
    "a name that two used files bring",
    "Where two files bring the same name, the project says which one it means, by naming what it wants from one of them.",
    without_example
);
code!(
    Error,
    ARGUMENT,
    "N028",
    "unknown_argument",
    "something stated in a use that the module does not take",
    "A use of a module states its parameters, and statements about what it makes: `let`, `require`, `accept`, `measured`.",
    with_example
);
code!(
    Error,
    NO_ARGUMENT,
    "N029",
    "missing_argument",
    "a parameter without a default that a use does not state",
    "A parameter without a default is decided at every use.",
    with_example
);
code!(
    Error,
    BODY,
    "N030",
    "misplaced_member",
    "a module used where its members cannot stand",
    "What a module declares stands where the module is used: carcasses and runs at the top of a file, units in a run, \
     cleats in a unit.",
    with_example
);
code!(
    Error,
    TYPE,
    "N031",
    "unknown_type",
    "an unknown type of a parameter",
    "Types are `length`, `count`, `number`, `text`, `truth`, `weight`, `time`, `angle`, `load`, `share`, `names`, \
     `choice(a, b)`, `list(length)` and the kinds that have names, such as `sheet`, `board` and `stick`. Numbers take \
     limits: `length(>= 9\")`, `count(1..12)`.",
    with_example
);
code!(
    Error,
    RESERVED,
    "N032",
    "module_name",
    "a module with the name of a kind",
    "A module is a kind of yours, so it has a name that the language does not use.",
    with_example
);
code!(
    Note,
    NOT_BUILT,
    "N033",
    "not_built",
    "a carcass or run of a used file, which is not built here",
    "A used file gives its names. What is built stands in the project's main file or in a module that is used.",
    without_example
);

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &KIND,
    &PROPERTY,
    &NAME,
    &TWICE,
    &TAKEN,
    &PLACE,
    &NAMING,
    &JOIN,
    &NO_FILE,
    &OUTSIDE,
    &FILE_LOOP,
    &FILES,
    &DEPTH,
    &MODULE_LOOP,
    &EXPANDED,
    &TWO_SOURCES,
    &ARGUMENT,
    &NO_ARGUMENT,
    &BODY,
    &TYPE,
    &RESERVED,
    &NOT_BUILT,
];
