//! Pages by place: all that is needed in one place and nothing else. One file each.

mod boring;
mod breakdown;
mod glue_up;
mod house;
mod labels;
mod paint;
mod room;
mod router;
mod sheet;
mod stick;
mod strips;
mod survey;
mod yard;

pub use labels::{GRIDS, Grid};

use crate::document::{Block, DRAWN, Drawing, ESTIMATED, Page};
use crate::quantity::System;
use crate::sheets::Subject;
use crate::views::{self, Ground, Picked, ViewSpec};
use serde::Serialize;
use sha1::{Digest, Sha1};
use std::sync::Arc;

/// A page and its typed value as JSON.
#[derive(Clone, Debug)]
pub struct Leaf {
    /// The page.
    pub page: Page,
    /// Its value.
    pub json: serde_json::Value,
}

/// A place with its pages.
#[derive(Clone, Copy, Debug)]
pub struct PlaceSpec {
    /// Its name, as the command line has it.
    pub name: &'static str,
    /// What it is for.
    pub about: &'static str,
    /// Whether it is read at arm's length.
    pub far: bool,
    /// Whether it is of use while the project has errors still.
    pub early: bool,
    /// Whether what is done there is done unit by unit, or for all of them first: else it is of no use for one unit.
    pub by_unit: bool,
    /// Of one of true scale: the least paper, width and height in millimetres, that it has room on.
    pub least: Option<fn(System) -> [f64; 2]>,
    /// Makes its drawings for paper from a roll, where it has such.
    pub on_roll: Option<fn(Subject<'_>) -> Vec<Drawing>>,
    /// Makes its drawings for sheets of labels, where it has such.
    pub on_labels: Option<fn(Subject<'_>, &Grid) -> Vec<Drawing>>,
    /// Makes its pages.
    pub make: fn(Subject<'_>) -> Vec<Leaf>,
}

impl PlaceSpec {
    /// A place for a table or a desk, of the whole job, without paper of its own.
    const fn new(name: &'static str, about: &'static str, make: fn(Subject<'_>) -> Vec<Leaf>) -> Self {
        let (least, on_roll, on_labels) = (None, None, None);
        Self { name, about, far: false, early: false, by_unit: false, least, on_roll, on_labels, make }
    }
}

/// All places, in the order in which they are come to.
pub static PLACES: &[PlaceSpec] = &[
    survey::PLACE,
    yard::PLACE,
    breakdown::PLACE,
    labels::PLACE,
    stick::PLACE,
    router::PLACE,
    boring::PLACE,
    glue_up::PLACE,
    room::PLACE,
    paint::PLACE,
    house::PLACE,
];

/// The place of this name.
#[must_use]
pub fn place(name: &str) -> Option<&'static PlaceSpec> {
    PLACES.iter().find(|place| place.name == name)
}

/// The signs that are easy to read and to tell apart.
const SIGNS: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// Four signs of a value: equal values have equal ones, and one in a million others.
fn signs(value: &serde_json::Value) -> String {
    let hash = Sha1::digest(value.to_string());
    let number = hash.iter().take(4).fold(0_u32, |number, byte| number << 8 | u32::from(*byte));
    let sign = |place: u32| {
        let index = usize::try_from(number >> (5 * place) & 31).unwrap_or(0);
        SIGNS.get(index).map_or('0', |sign| char::from(*sign))
    };
    (0..4).rev().map(sign).collect()
}

/// Signs as somebody reads them off a page: letters of either size, O for nought, I and L for one; `None` of anything else.
#[must_use]
pub fn read_signs(text: &str) -> Option<String> {
    let sign = |letter: char| {
        let meant = match letter.to_ascii_uppercase() {
            'O' => '0',
            'I' | 'L' => '1',
            letter => letter,
        };
        u8::try_from(meant).ok().filter(|byte| SIGNS.contains(byte)).map(char::from)
    };
    let signs: Option<String> = text.trim().chars().map(sign).collect();
    signs.filter(|signs| signs.len() == 4)
}

impl Leaf {
    /// A page of a place with its value, which the blocks are still to show.
    fn new(subject: Subject<'_>, place: &PlaceSpec, title: String, value: &impl Serialize) -> Self {
        let json = serde_json::to_value(value).unwrap_or_default();
        let project = &subject.model.project;
        let mut facts = vec![subject.headed()];
        facts.extend(subject.model.provisional());
        let step = project.marks.print_fine(project.marks.step());
        facts.push(format!("sizes to the nearest {step}; ~ before one that is rounded"));
        let page = Page {
            place: place.name,
            title,
            facts,
            signs: signs(&json),
            blocks: Vec::new(),
            far: place.far,
            cautions: Vec::new(),
        };
        Self { page, json }
    }
}

/// What authors say of members, as pages have it.
fn noted<'a, I>(members: I) -> impl Iterator<Item = String> + use<'a, I>
where
    I: IntoIterator<Item = (&'a str, Option<&'a Arc<str>>)>,
{
    members.into_iter().filter_map(|(path, note)| Some(format!("{path}: {}", note?)))
}

/// Adds the drawings of a view.
fn drawn(subject: Subject<'_>, page: &mut Page, view: &ViewSpec, picked: &Picked) {
    let of = views::Subject { model: subject.model, graph: subject.graph };
    let drawings = view.on(Ground::Page, of, picked);
    // What a drawing by itself says at its foot.
    if !drawings.is_empty() && !page.cautions.iter().any(|own| [DRAWN, ESTIMATED].contains(own)) {
        page.cautions.push(DRAWN);
    }
    for drawing in drawings {
        page.push(Block::Drawing(Box::new(drawing)));
    }
}
