//! Messages about what is made.

use crate::diag::{Code, code};

code!(
    Error,
    ONLY_MADE,
    "D001",
    "only_made",
    "something other than `made`, `bought`, `hours` and `sheet` in a progress file",
    "`NAME.progress.scant` beside `NAME.scant` says how far its parts are, in blocks `made { cut = [..] }`, what is bought, in \
     blocks `bought { what = ply, count = 6 }`, what it took, in blocks `hours { glued = [..], took = 2 h }`, and which sheets of a \
     layout are followed, in blocks `sheet { .. }`. What is decided, such as sizes and sheets, belongs in the project's own file.",
    without_example
);
code!(
    Error,
    NO_STATE,
    "D002",
    "no_state",
    "an unknown state of a part",
    "A part is `bought`, `cut`, `grooved`, `glued`, `fixed` or `painted`, in this order. Besides states a `made` block can have the \
     `stock`, `lot` and `thickness` that were used, and the `size`, `marks` and `grooves` that were made.",
    without_example
);
code!(
    Error,
    NOT_READ,
    "D003",
    "made_not_read",
    "a value in a progress file that cannot be read",
    "States take paths of parts, or texts with `*` for any one step; `size` takes width x length, `marks` a list of lengths, \
     `grooves` width x depth. Nothing is worked out in this file.",
    without_example
);
code!(
    Warning,
    NO_PART,
    "D004",
    "made_no_part",
    "a made part that the project does not have",
    "A path in the progress file leads to no part: it is misspelt, the part was renamed, or it is no longer built. The piece may \
     still serve elsewhere; `scantling diff` says for what.",
    without_example
);
code!(
    Warning,
    CHANGED,
    "D005",
    "changed_after_made",
    "a part that does not go in as it was made",
    "The part is cut, and does not go where the text has it now: the text changed, or its stock turned out otherwise. What is to be \
     done with it is said: cut it down, groove it, pack it, or make it anew. How far off it may be stands in `fits`. Take the \
     change back, or note in the progress file what the part is now.",
    without_example
);
code!(
    Warning,
    OTHER_LOT,
    "D012",
    "other_lot",
    "a part that was cut from another lot than its unit asks for",
    "The unit asks for one lot of a sheet, and the part was cut from another. Whether it fits is told by itself; state the lot that \
     was used, so that the parts which are still to be cut match it.",
    without_example
);
code!(
    Note,
    HOLDS,
    "D013",
    "made_and_holds",
    "a part that is off what the text says now, and holds",
    "The part was made before the text changed or its stock was measured. What is left of its bearing, or the play that it has, is \
     within what `fits` allows: it stays as it is.",
    without_example
);
code!(
    Error,
    NO_PURCHASE,
    "D014",
    "no_purchase",
    "an unknown word about something bought or a sheet",
    "A `sheet` block says `what` it is, its `lot`, `number`, `size`, `rips`, `left`, `offcut` and whether it is cut `across` first. A \
     `bought` block says `what` it is, by its name in the project, its `lot`, the `count`, how large one is (`each`) and what was \
     `paid` for all of it.",
    without_example
);

code!(
    Warning,
    STATED_TWICE,
    "D016",
    "made_stated_twice",
    "a made part that two blocks state otherwise",
    "Two blocks of the progress file give a part another size, other marks or other stock. The last one holds. Delete the one that is \
     not true; `scantling mark STATE PATH --again` forgets what was noted of a part before, where it is made once more.",
    without_example
);

code!(
    Note,
    MANY_PIECES,
    "D015",
    "many_pieces",
    "more made pieces than are given to parts",
    "Pieces that are of no use where they were are given to parts that are still to be cut, of one stock up to 300 pieces to 300 \
     parts, the largest first: more of them are too much work. The others are at hand all the same; cut them down by the cut list \
     yourself, and mark what they became.",
    without_example
);

code!(
    Error,
    WHOSE,
    "D010",
    "whose_progress",
    "a `progress.scant` that may be of several projects",
    "How far the parts of `NAME.scant` are stands in `NAME.progress.scant`. An older `progress.scant` is read where the folder has one \
     project and no such file; else `scantling mark --adopt --file NAME.scant` says whose it is.",
    without_example
);

code!(
    Error,
    NO_PROJECT,
    "D011",
    "progress_no_project",
    "a progress file where a project is asked for",
    "`NAME.progress.scant` says how far the parts of `NAME.scant` are. It is read with that project, and is none itself.",
    without_example
);

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &ONLY_MADE,
    &NO_STATE,
    &NOT_READ,
    &NO_PART,
    &CHANGED,
    &WHOSE,
    &NO_PROJECT,
    &OTHER_LOT,
    &HOLDS,
    &NO_PURCHASE,
    &MANY_PIECES,
    &STATED_TWICE,
];
