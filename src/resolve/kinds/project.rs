//! The project as a whole.

use super::{
    COMMON, FILE, KindSpec, Naming, Optional, Property, PropertySpec, Takes, Usual, Usually, Without, plain,
    read, written,
};
use crate::quantity::Dim;

words! {
    /// The paper in the printer.
    PaperOf { Letter = "letter", A4 = "a4" }
}

words! {
    /// How straight painted shelves must look in years.
    EyeOf { Usual = "usual", Strict = "strict" }
}

kind! {
    /// what the whole file is about; one a file
    PROJECT: Project = "project", Naming::Alone, text: true, within: [FILE];
    /// the marks of the tape: printed sizes are rounded to them, and show their system
    marks: number(LENGTH), follows("1/32\", or 0.1 mm where most lengths of the file are metric");
    /// the paper that drawings are made for
    paper: choice(PaperOf), follows("`letter` where marks are in inches, else `a4`");
    /// the letter or number that every sheet shows
    revision: text, optional;
    /// the day of this revision, as every page shows it
    dated: date, optional;
    /// when the first coat may begin; a day without a time begins with the working day
    start: date, optional;
    /// when the working day begins, in hours after midnight
    day_begins: number(TIME), number((8, 1), "h", COMMON);
    /// when the working day ends; a coat is not begun that would end later
    day_ends: number(TIME), number((20, 1), "h", COMMON);
    /// when the house was built: old paint and texture are tested before they are disturbed
    year_built: whole, optional, usually (Usually::wide_in_both([written(1600, ""), written(2100, "")]).called("year of building"));
    /// how many more of every shelf and every strip are cut; without it, what is left over says how many fit
    spares: count, count(0), usually (Usually::wide_in_both([written(1, ""), written(50, "")]));
    /// how far shelves may sag in years: 1/32 in a foot (span/384), or strictly 0.02 in a foot (span/600)
    sag: choice(EyeOf), word(EyeOf::Usual);
}
