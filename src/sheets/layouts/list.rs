//! The work as a list: signs that the drawing has too, and words in columns.

use super::drawing::{GAP, LARGE, RADIUS};
use super::label::circled;
use crate::document::{Drawing, Line, Rect, Text, Weight, shortened, wrapped};

/// From line to line.
const PITCH: f64 = 6.6;
/// Room for the sign before the words.
const SIGN: f64 = 10.0;
/// No column is narrower.
const NARROWEST: f64 = 60.0;

/// A line of the work.
pub(super) struct Item {
    /// What stands before it.
    pub(super) sign: Sign,
    /// Its words.
    pub(super) says: String,
}

/// What stands before words, as it is drawn on the sheet.
#[derive(Clone, Copy)]
pub(super) enum Sign {
    /// The number of a step.
    Number(usize),
    /// A heavy edge.
    Heavy,
    /// An arrow both ways.
    Arrow,
    /// Paper without hatching.
    Paper,
    /// Hatching.
    Hatch,
}

/// Lines of words under each other.
pub(super) struct Column {
    place: Rect,
    /// Each item with its sign, and its words in lines.
    items: Vec<(Sign, Vec<String>)>,
}

impl Column {
    /// How far down its lines reach from its upper edge.
    pub(super) fn deep(&self) -> f64 {
        PITCH * self.items.iter().map(|(_, lines)| lines.len()).sum::<usize>() as f64
    }
}

/// Items in as many columns, in a place; `None` where it is too small. No item goes over two columns.
pub(super) fn set(items: &[Item], place: Rect, columns: usize) -> Option<Vec<Column>> {
    let count = columns as f64;
    let w = (place.w - GAP * (count - 1.0)) / count;
    if w < NARROWEST {
        return None;
    }
    let broken = broken(items, w);
    let lines: usize = broken.iter().map(|(_, lines)| lines.len()).sum();
    let most = (place.h / PITCH).floor() as usize;
    // Columns that are as even as whole items allow.
    let filled = (lines.div_ceil(columns)..=most).map(|most| filled(&broken, most));
    let filled = filled.into_iter().find(|filled| filled.len() <= columns)?;
    let column = |(number, items)| Column {
        place: Rect { x: place.x + (w + GAP) * number as f64, w, ..place },
        items,
    };
    Some(filled.into_iter().enumerate().map(column).collect())
}

/// Items on as many pages as they take, in two columns each.
pub(super) fn paged(items: &[Item], room: Rect) -> Vec<Vec<Column>> {
    let w = (room.w - GAP) / 2.0;
    let most = (room.h / PITCH).floor() as usize;
    let columns = filled(&broken(items, w), most);
    let page = |columns: &[Vec<(Sign, Vec<String>)>]| {
        let column = |(number, items): (usize, &Vec<(Sign, Vec<String>)>)| Column {
            place: Rect { x: room.x + (w + GAP) * number as f64, w, ..room },
            items: items.clone(),
        };
        columns.iter().enumerate().map(column).collect()
    };
    columns.chunks(2).map(page).collect()
}

fn broken(items: &[Item], wide: f64) -> Vec<(Sign, Vec<String>)> {
    let room = wide - SIGN;
    let lines = |says: &str| {
        let lines = wrapped(says, Weight::Regular, LARGE, room).into_iter();
        lines.map(|line| shortened(&line, Weight::Regular, LARGE, room)).collect()
    };
    items.iter().map(|item| (item.sign, lines(&item.says))).collect()
}

/// Items in columns of at most so many lines; one that is longer by itself has a column of its own.
fn filled(items: &[(Sign, Vec<String>)], most: usize) -> Vec<Vec<(Sign, Vec<String>)>> {
    let mut columns: Vec<Vec<(Sign, Vec<String>)>> = Vec::new();
    let mut left = 0;
    for item in items {
        match columns.last_mut().filter(|_| item.1.len() <= left) {
            Some(column) => column.push(item.clone()),
            None => {
                columns.push(vec![item.clone()]);
                left = most;
            }
        }
        left = left.saturating_sub(item.1.len());
    }
    columns
}

/// Draws columns.
pub(super) fn draw(page: &mut Drawing, columns: &[Column]) {
    for Column { place, items } in columns {
        let mut middle = place.y + PITCH / 2.0;
        for (sign, lines) in items {
            draw_sign(page, *sign, place.x, middle);
            for says in lines {
                page.text(Text::new(says, [place.x + SIGN, middle + LARGE / 2.0], LARGE));
                middle += PITCH;
            }
        }
    }
}

fn draw_sign(page: &mut Drawing, sign: Sign, x: f64, y: f64) {
    let end = x + SIGN - 2.0;
    let ground = Rect { x, y: y - 2.0, w: end - x, h: 4.0 };
    match sign {
        Sign::Number(number) => circled(page, number, [x + RADIUS, y]),
        Sign::Heavy => page.line(Line::Heavy, [[x, y], [end, y]]),
        Sign::Arrow => {
            page.line(Line::Outline, [[x, y], [end, y]]);
            for (tip, back) in [(x, 2.0), (end, -2.0)] {
                page.line(Line::Outline, [[tip + back, y - 1.1], [tip, y], [tip + back, y + 1.1]]);
            }
        }
        Sign::Paper => page.outline(Line::Light, ground.corners()),
        Sign::Hatch => {
            page.hatch(&ground.corners(), 45.0, 1.5);
            page.outline(Line::Light, ground.corners());
        }
    }
}
