//! Every limit on what the compiler takes, in one place; each has a code that says so and a test.

/// The largest source file, in bytes.
pub const FILE_BYTES: usize = 16 * 1024 * 1024;
/// How deep brackets may nest.
pub const NESTING: usize = 64;
/// How many operands one expression may have.
pub const OPERANDS: usize = 256;
/// How many operands there may be from a whole expression down to its innermost one: so deep everything that walks over a
/// tree may have to go.
pub const DEPTH: usize = 320;
/// How many expressions may be worked out one in the other: more than one tree is deep, since only names that lead in a
/// circle go from one tree into the next. An operand may have signs before it, so a tree is at most twice [`DEPTH`] deep.
pub const EVALUATION: usize = 700;
/// How many values may be worked out one in the other, which only those of a circle are: the others have what they need
/// before their turn comes.
pub const CIRCLE: usize = 64;
/// How many members a list may have.
pub const LIST: usize = 10_000;
/// How many pieces of unreadable text are explained in one file; more of them say the same.
pub const BROKEN_REGIONS: usize = 20;
/// How many messages are shown.
pub const DIAGNOSTICS: usize = 100;
/// How many places of one message are drawn for people; the others are counted.
pub const DRAWN: usize = 12;
/// The longest line of a text that is drawn for people, in bytes; of a longer one only the place is told.
pub const DRAWN_LINE: usize = 1_000;
/// How many changes of text are tried in one round, each by working the project out again.
pub const PROBES: usize = 12;
/// How many parts all projects together may have that are worked out to prove changes of text: a project of more is told what
/// helps, and offered no change.
pub const PROBED_PARTS: usize = 12_000;
/// How many mends a message offers.
pub const MENDS: usize = 3;
/// How many made pieces, and how many parts of one stock, are given to each other: more of them are too much work for an
/// assignment, and the largest go first.
pub const REUSED: usize = 300;
/// How many parts a project may have.
pub const PARTS: usize = 100_000;
/// How many parts the check of the sheets lays out; more are left to the layout itself, since a check is never slow.
pub const LAID_OUT: usize = 600;
/// How many `use` statements a file may have, and how many files a project may use.
pub const USES: usize = 1_000;
/// How deep uses may nest: files in files, modules in modules.
pub const USE_DEPTH: usize = 64;
/// How many cans of a size fewer than the most are tried, where at most [`CAN_SIZES`] sizes are sold.
pub const CANS: i128 = 12;
/// Of more sizes than these the larger ones are taken first.
pub const CAN_SIZES: usize = 4;
/// How many entries all uses of modules may come to.
pub const EXPANDED: usize = 200_000;
