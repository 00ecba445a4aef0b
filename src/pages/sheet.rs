//! Paper that is true to scale: a head that says what it belongs to, the room under it.

use crate::document::{Drawing, MARGINS, Rect, Text, Weight, abridged};

/// The height of words that are read at arm's length, and the least that is written.
pub(super) const LARGE: f64 = 3.5;
pub(super) const LEAST: f64 = 2.5;
/// From line to line, by the height of the words.
pub(super) const LEAD: f64 = 1.5;
/// What the head takes.
pub(super) const HEAD: f64 = 14.0;

/// What stands at the head of a sheet.
#[derive(Clone, Copy)]
pub(super) struct Head<'a> {
    /// Project and revision.
    pub(super) project: &'a str,
    /// The signs of the page that it is of.
    pub(super) signs: &'a str,
    /// What it is.
    pub(super) title: &'a str,
    /// The name of its file, without a number.
    pub(super) name: &'a str,
}

/// A sheet with its head, the caution in its lower margin, and the room that is left: number so many of all.
pub(super) fn sheet(head: Head<'_>, size: [f64; 2], (number, all): (usize, usize)) -> (Drawing, Rect) {
    let name = if all > 1 { format!("{}-{number}", head.name) } else { head.name.to_owned() };
    let [left, top, right, bottom] = MARGINS;
    let room = size[0] - left - right;
    let of = if all > 1 { format!("{}, sheet {number} of {all}", head.title) } else { head.title.to_owned() };
    let mut page = Drawing::new(name, of.as_str(), size);
    let signs = format!(", signs {}", head.signs);
    let signed = Text::new(&signs, [0.0, 0.0], LARGE).width();
    let project = abridged(head.project, Weight::Regular, LARGE, (room - signed).max(0.0));
    page.text(Text::new(format!("{project}{signs}"), [left, top + 4.0], LARGE));
    let (weight, height) = (Weight::Bold, 4.0);
    let title = abridged(&of, weight, height, room);
    page.text(Text { weight, ..Text::new(title, [left, top + 10.5], height) });
    page.caution(left);
    let y = top + HEAD;
    (page, Rect { x: left, y, w: room, h: size[1] - y - bottom })
}
