//! Messages of the syntax: what the scanner and the grammar cannot read.

use crate::diag::{Code, code};

code!(
    Error,
    UNCLOSED,
    "S001",
    "unclosed_bracket",
    "a bracket that is never closed",
    "Every `{`, `(` and `[` needs its `}`, `)` or `]`. The message stands at the opening bracket, since the place where \
     the closing one is missing can only be guessed. A `}` on a line of its own stands at the indentation of the line \
     that it closes.",
    with_example
);
code!(
    Error,
    STRAY,
    "S002",
    "stray_bracket",
    "a closing bracket that closes nothing",
    "There is a `}`, `)` or `]` too many, or its opening bracket was deleted.",
    with_example
);
code!(
    Error,
    TEXT,
    "S003",
    "unclosed_text",
    "a text without its closing quote",
    "A text stands in double quotes on one line. A quote right behind a figure is an inch mark, not the beginning of a \
     text; inside a text, `\\\"` is a quote.",
    with_example
);
code!(
    Error,
    NESTING,
    "S004",
    "nested_too_deep",
    "brackets nested too deep",
    "Brackets may nest 64 deep. A project that needs more is easier to read when the inner blocks are named and stand by \
     themselves.",
    without_example
);
code!(
    Error,
    CONTROL,
    "S005",
    "control_character",
    "a control character in the text",
    "A source file is plain text in UTF-8. A NUL byte or another control character came from a damaged file or a program \
     that writes something else.",
    with_example
);
code!(
    Error,
    UNREADABLE,
    "S006",
    "unreadable",
    "an entry that cannot be read",
    "An entry is `name = value`, `kind name \"text\" { entries }` with name, text and block each optional, or a statement \
     such as `join shelf to side with dado`. It ends at the end of the line, at a comma or at `}`.",
    with_example
);
code!(
    Error,
    HYPHEN,
    "S007",
    "hyphenated_fraction",
    "a hyphen between a whole number and a fraction",
    "`6-1/2\"` can mean six and a half inches or six less half an inch. A mixed number is written with a space, a \
     subtraction with spaces round the sign.",
    with_example
);
code!(
    Error,
    UNIT,
    "S008",
    "unknown_unit",
    "a unit that the language does not have",
    "Lengths: `\"` or `in`, `'` or `ft`, `mm`, `cm`, `m`. Others: `lb`, `kg`, `psf`, `psi`, `GPa`, `lb/ft`, `kg/m`, `lb/ft3`, \
     `kg/m3`, `ft2`, `m2`, `gal`, `L`, `h`, `min`, `days`, `deg`, `%`, and currencies by their three capitals.",
    with_example
);
code!(
    Error,
    NUMBER,
    "S009",
    "bad_number",
    "a number that cannot be read",
    "A fraction has a denominator other than zero, and a number has at most 15 digits: no tape shows more. Decimals stand behind a \
     point, `0.125\"`; between a whole number and a fraction stands a space, `11 13/16\"`.",
    with_example
);
code!(
    Error,
    CASE,
    "S010",
    "name_form",
    "a name that is not in lower case with underscores",
    "Kinds, names and properties are written in small letters, digits and underscores: `top_rail`. So a name is spelled \
     one way only.",
    with_example
);
code!(
    Error,
    LONG,
    "S011",
    "expression_too_long",
    "an expression with too many operands",
    "An expression may have 256 operands, and from the whole down to its innermost part there may be 320 of them. Name \
     parts of it with `let`.",
    without_example
);

code!(
    Error,
    USES,
    "S020",
    "too_many_uses",
    "a file with too many `use` statements",
    "A file may have 1,000 `use` statements; those beyond are not read. One of them brings all names of a file.",
    without_example
);

/// All codes of this room.
pub static ALL: &[&Code] = &[
    &UNCLOSED,
    &STRAY,
    &TEXT,
    &NESTING,
    &CONTROL,
    &UNREADABLE,
    &HYPHEN,
    &UNIT,
    &NUMBER,
    &CASE,
    &LONG,
    &USES,
];
