//! Messages about the files at the root, and about what was locked.

use crate::diag::{Code, code};

code!(
    Error,
    NOT_READ,
    "N040",
    "manifest_not_read",
    "a `scantling.toml` that cannot be read",
    "`scantling.toml` marks the folder of projects that share files, and may be empty. What stands in it is TOML: `build` lists the \
     files that `scantling check` looks at, `modules` the folders whose files are used by a bare name.",
    without_example
);
code!(
    Error,
    NO_KEY,
    "N041",
    "manifest_key",
    "an unknown key in `scantling.toml`",
    "`scantling.toml` has the keys `build` and `modules`, and no others.",
    without_example
);
code!(
    Error,
    VALUE,
    "N042",
    "manifest_value",
    "a value of `scantling.toml` that cannot be used",
    "`build` takes a list of files that end in `.scant`, `modules` a list of folders, both as paths in quotes with `/` between \
     folders: `build = [\"wall.scant\", \"bench/bench.scant\"]`.",
    without_example
);
code!(
    Error,
    PATH,
    "N043",
    "manifest_path",
    "a path in `scantling.toml` that leads nowhere, or outside",
    "Paths in `scantling.toml` start at its folder, the root, and stay in it, also where a link leads elsewhere: what is built \
     from one folder can be copied and put under version control as a whole.",
    without_example
);
code!(
    Error,
    TWICE,
    "N044",
    "manifest_twice",
    "a path that `scantling.toml` names twice",
    "A file that is named twice would be counted twice in the sum over all.",
    without_example
);
code!(
    Error,
    AMBIGUOUS,
    "N045",
    "ambiguous_file",
    "a bare name that files in two folders have",
    "`use cupboard` looks for `cupboard.scant` in each folder that `scantling.toml` names under `modules`. Where two of them have \
     one, the path in quotes says which is meant.",
    without_example
);
code!(
    Warning,
    CHANGED,
    "D006",
    "shared_changed",
    "a shared file that changed since it was locked",
    "`scantling.lock` keeps which text each shared file had when `scantling lock` last took it in. A change of a shared file \
     reaches every project that uses it, also one that is half built. Where git has the old text, `scantling check` compiles \
     the project with it once more and says what the change does to the parts, in the line of `scantling diff --summary`. Take \
     the new text in with `scantling lock` once that is right.",
    without_example
);
code!(
    Warning,
    NOT_LOCKED,
    "D007",
    "shared_not_locked",
    "a shared file that the lock does not have",
    "A file of the build list uses a shared file that came after `scantling lock` was last run, so a change of it would not be \
     noticed. `scantling lock` takes it in.",
    without_example
);
code!(
    Warning,
    GONE,
    "D008",
    "locked_gone",
    "a locked file that nothing uses any more",
    "`scantling.lock` has a file that no file of the build list uses any more: it was renamed, deleted, or left out. `scantling \
     lock` takes it out.",
    without_example
);
code!(
    Error,
    LOCK_NOT_READ,
    "D009",
    "lock_not_read",
    "a `scantling.lock` that cannot be read",
    "`scantling.lock` is written by `scantling lock`. Where two branches of git have locked different texts, it may hold the \
     marks of a conflict; written again, it holds what the files are now.",
    without_example
);

/// All codes of this room.
pub static ALL: &[&Code] =
    &[&NOT_READ, &NO_KEY, &VALUE, &PATH, &TWICE, &AMBIGUOUS, &CHANGED, &NOT_LOCKED, &GONE, &LOCK_NOT_READ];
