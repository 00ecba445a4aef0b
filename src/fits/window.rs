//! The windows in words, as the reference prints them.

/// One way in which a part is held, with what it allows.
#[derive(Clone, Copy, Debug)]
pub struct WindowRow {
    /// What is held how.
    pub held: &'static str,
    /// The joins that are such.
    pub joins: &'static str,
    /// The least that it may be.
    pub least: &'static str,
    /// The most that it may be.
    pub most: &'static str,
}

/// All windows. The limits are common practice without a source, and those of `fits`.
pub static WINDOWS: &[WindowRow] = &[
    WindowRow {
        held: "length of an end in a dado or rabbet",
        joins: "shelf to side, shelf to divider, divider to shelf, top to side",
        least: "so short that `bearing` is left in each groove",
        most: "as far as the bottoms of the grooves; longer is cut down",
    },
    WindowRow {
        held: "width of a back in rabbets or grooves",
        joins: "back to side",
        least: "so narrow that `bearing` is left on each side",
        most: "as far as the bottoms; wider is cut down",
    },
    WindowRow {
        held: "thickness in a dado or groove",
        joins: "shelf to side, shelf to divider, divider to shelf, back to side",
        least: "`play` less than the groove is wide; to `packed` its end is packed with veneer, thinner and the groove is \
                plugged and cut again",
        most: "as thick as the groove is wide; for a thicker one the groove is made wider",
    },
    WindowRow {
        held: "thickness in a rabbet",
        joins: "top to side, back to side",
        least: "`gap` less than the rabbet is wide; to `packed` it is packed with veneer",
        most: "`gap` more than the rabbet is wide; for a thicker one the rabbet is made wider",
    },
    WindowRow {
        held: "length between two faces",
        joins: "stretcher to side, cleat to side, rib to rail, rail to stile",
        least: "`gap` short",
        most: "as long as there is room; longer is cut down",
    },
    WindowRow {
        held: "length of a loose shelf on its pins",
        joins: "none",
        least: "`slack` shorter than its opening is wide",
        most: "1/16 in (1.6 mm) shorter than its opening is wide; longer is cut down",
    },
    WindowRow {
        held: "what is cut over size and fitted in the room",
        joins: "none, facing to carcass",
        least: "as large as it is when fitted",
        most: "any: what is over comes off when it is fitted",
    },
    WindowRow {
        held: "every other length and width",
        joins: "facing to carcass, counter to side, plinth to carcass, cleat to shelf, cleat to wall, unit to unit",
        least: "`gap` less than the text has it",
        most: "what the text has; more is cut down",
    },
];
