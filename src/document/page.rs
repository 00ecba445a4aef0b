//! A page for a place: what a person holds in the hand there, as blocks, before anyone draws it.

use super::{Cell, Drawing, Table, typeset};
use crate::quantity::Paper;
use serde::Serialize;

/// A page.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// The place that it is for, as the command line has it.
    pub place: &'static str,
    /// What it is, and of what where a place has several: `Glue-up: wall.left`.
    pub title: String,
    /// What it belongs to: project, revision and its date, how sizes read.
    pub facts: Vec<String>,
    /// Four signs of what stands on it: a page with other signs is another page.
    pub signs: String,
    /// What stands on it, in order.
    pub blocks: Vec<Block>,
    /// Whether it is read at arm's length: at saw, router and bench.
    pub far: bool,
    /// The cautions of the place.
    pub cautions: Vec<&'static str>,
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A head over what follows.
    Heading(String),
    /// A paragraph.
    Words(String),
    /// What must not be overlooked here.
    Caution(String),
    /// A table to look things up in.
    Table(Table),
    /// Steps that are ticked.
    Steps(Steps),
    /// Fields that are filled in.
    Form(Form),
    /// A drawing, as large as the page lets it be.
    Drawing(Box<Drawing>),
    /// Drawings that are true to scale on paper: a sheet each, with nothing but the caution in its [`MARGINS`](super::MARGINS).
    TrueScale(Vec<Drawing>),
}

/// Steps in their order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Steps {
    /// What they have in common.
    pub caption: String,
    /// The steps.
    pub steps: Vec<Step>,
}

/// One step.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Step {
    /// What is set, which is seen first; empty where nothing is.
    pub set: String,
    /// What is done.
    pub says: String,
    /// What belongs to it, a line each.
    pub more: Vec<String>,
    /// The path by which `why` says where what is set comes from; empty where there is none.
    pub why: String,
    /// What `mark --from` reads when it is ticked, a line each: `wall.side.left cut`.
    pub marks: Vec<String>,
}

/// Fields that are filled in, and the text that comes of them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Form {
    /// What they have in common.
    pub caption: String,
    /// The fields.
    pub fields: Vec<Field>,
    /// The text of the language that is made of them; empty where none is.
    pub text: Vec<Piece>,
    /// The unit of a value that is written without one.
    pub unit: String,
}

/// A piece of the text that is made of fields.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Piece {
    /// As it stands.
    Text(String),
    /// The value of the field of this name; `?` where it is empty.
    Value(String),
    /// A line that stands there if any of its fields is filled: what stands before its properties, each property with its field,
    /// and what stands after them.
    Line(String, Vec<(String, String)>, String),
    /// Lines with what stands before and after all of them, if there is one.
    Lines(String, Vec<Piece>, String),
}

impl Form {
    /// The text with these values; what is not given is empty. A bare number has the unit of the form.
    #[must_use]
    pub fn filled<'a>(&self, value: impl Fn(&str) -> Option<&'a str>) -> String {
        let written = |name: &str| {
            let value = value(name).map(str::trim).filter(|value| !value.is_empty())?;
            let chosen = self.fields.iter().any(|field| field.name == name && field.takes != Takes::Length);
            let bare = value.chars().all(|letter| letter.is_ascii_digit() || " ./".contains(letter));
            Some(if bare && !chosen { format!("{value}{}", self.unit) } else { value.to_owned() })
        };
        self.text.iter().map(|piece| piece.filled(&written)).collect()
    }
}

impl Piece {
    fn filled(&self, written: &dyn Fn(&str) -> Option<String>) -> String {
        let around = |before: &str, inner: String, after: &str| {
            if inner.is_empty() { String::new() } else { format!("{before}{inner}{after}") }
        };
        match self {
            Self::Text(text) => text.clone(),
            Self::Value(name) => written(name).unwrap_or_else(|| "?".to_owned()),
            Self::Line(before, properties, after) => {
                let filled = properties
                    .iter()
                    .filter_map(|(property, name)| Some(format!("{property} = {}", written(name)?)));
                around(before, filled.collect::<Vec<_>>().join(", "), after)
            }
            Self::Lines(before, lines, after) => {
                around(before, lines.iter().map(|line| line.filled(written)).collect(), after)
            }
        }
    }
}

/// What a field takes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Takes {
    /// A length, which may be written without its unit.
    #[default]
    Length,
    /// A whole number.
    Count,
    /// Words.
    Words,
    /// One of these words, or nothing.
    Choice(&'static [&'static str]),
}

/// A field.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Field {
    /// Its name in the text.
    pub name: String,
    /// What is asked.
    pub asks: String,
    /// What is known already.
    pub known: Option<String>,
    /// Whether it is read a second time.
    pub twice: bool,
    /// What it takes.
    pub takes: Takes,
    /// What the fields around it have in common; empty where they have nothing.
    pub group: &'static str,
}

impl Step {
    /// A step without a setting.
    #[must_use]
    pub fn new(says: impl Into<String>) -> Self {
        Self { says: says.into(), ..Self::default() }
    }

    /// The same with what is set and the path by which `why` says where that comes from.
    #[must_use]
    pub fn set_why(self, set: impl Into<String>, why: impl Into<String>) -> Self {
        Self { set: set.into(), why: why.into(), ..self }
    }

    /// The same with what is set.
    #[must_use]
    pub fn set(self, set: impl Into<String>) -> Self {
        Self { set: set.into(), ..self }
    }
}

impl Page {
    /// Adds a block.
    pub fn push(&mut self, block: Block) {
        self.blocks.push(block);
    }

    /// Adds a paragraph.
    pub fn words(&mut self, says: impl Into<String>) {
        self.push(Block::Words(says.into()));
    }

    /// Adds a head.
    pub fn heading(&mut self, says: impl Into<String>) {
        self.push(Block::Heading(says.into()));
    }

    /// Adds a table, where it has rows.
    pub fn table(&mut self, table: Table) {
        if !table.rows.is_empty() {
            self.push(Block::Table(table));
        }
    }

    /// Adds steps, where there are any.
    pub fn steps(&mut self, caption: impl Into<String>, steps: Vec<Step>) {
        if !steps.is_empty() {
            self.push(Block::Steps(Steps { caption: caption.into(), steps }));
        }
    }

    /// The paths by which `why` says where its figures come from.
    pub fn reasoned(&self) -> impl Iterator<Item = &str> {
        self.blocks.iter().flat_map(|block| -> Vec<&str> {
            match block {
                Block::Table(table) => {
                    let cells = table.rows.iter().flatten();
                    cells.filter_map(Cell::why).collect()
                }
                Block::Steps(steps) => {
                    let whys = steps.steps.iter().map(|step| step.why.as_str());
                    whys.filter(|why| !why.is_empty()).collect()
                }
                Block::Heading(_)
                | Block::Words(_)
                | Block::Caution(_)
                | Block::Form(_)
                | Block::Drawing(_)
                | Block::TrueScale(_) => Vec::new(),
            }
        })
    }

    /// The drawings on it, each on a sheet of paper of its own; what is true to scale is so already.
    #[must_use]
    pub fn sheets(&self, paper: Paper) -> Vec<Drawing> {
        let project = self.facts.first().map(String::as_str).unwrap_or_default();
        let head = format!("{project}; {}; signs {}", self.title, self.signs);
        let sheet = |(drawing, true_scale): (&Drawing, bool)| match true_scale {
            true => drawing.clone(),
            false => drawing.on_sheet(paper, &head),
        };
        self.drawings().map(sheet).collect()
    }

    /// The drawings on it, each with whether it is true to scale on paper.
    pub fn drawings(&self) -> impl Iterator<Item = (&Drawing, bool)> {
        self.blocks.iter().flat_map(|block| {
            let (drawings, true_scale) = match block {
                Block::Drawing(drawing) => (std::slice::from_ref(&**drawing), false),
                Block::TrueScale(drawings) => (drawings.as_slice(), true),
                Block::Heading(_)
                | Block::Words(_)
                | Block::Caution(_)
                | Block::Table(_)
                | Block::Steps(_)
                | Block::Form(_) => (&[][..], false),
            };
            drawings.iter().map(move |drawing| (drawing, true_scale))
        })
    }
}

impl Cell {
    /// The path by which `why` says where a figure comes from.
    #[must_use]
    pub fn why(&self) -> Option<&str> {
        match self {
            Self::Reasoned(_, path) => Some(path),
            Self::Figure(_) | Self::Words(_) | Self::Lines(_) => None,
        }
    }

    /// The text as the trade writes it, lines joined by `separator`.
    #[must_use]
    pub fn typeset(&self, separator: &str) -> String {
        typeset(&self.text(separator))
    }
}
