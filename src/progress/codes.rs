//! Messages about what is made.

use crate::diag::{Code, code};

code!(
    Error,
    ONLY_MADE,
    "D001",
    "only_made",
    "something other than `made` in a progress file",
    "`NAME.progress.scant` beside `NAME.scant` says how far its parts are, in blocks `made { cut = [..] }`. What is decided, such as \
     sizes and sheets, belongs in the project's own file.",
    without_example
);
code!(
    Error,
    NO_STATE,
    "D002",
    "no_state",
    "an unknown state of a part",
    "A part is `bought`, `cut`, `grooved`, `glued`, `fixed` or `painted`, in this order. Besides states a `made` block can have the \
     `lot` of the stock, and the `size` and `marks` that were made.",
    without_example
);
code!(
    Error,
    NOT_READ,
    "D003",
    "made_not_read",
    "a value in a progress file that cannot be read",
    "States take paths of parts, or texts with `*` for any one step; `size` takes width x length, `marks` a list of lengths. \
     Nothing is worked out in this file.",
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
    "a part whose text changed after it was made",
    "The part was cut or grooved, and a later change of the text asks for another size or other marks. Re-cut it, make it again, or \
     take the change back; then state in the progress file what it is now.",
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
pub static ALL: &[&Code] = &[&ONLY_MADE, &NO_STATE, &NOT_READ, &NO_PART, &CHANGED, &WHOSE, &NO_PROJECT];
