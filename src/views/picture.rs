//! What a view shows, in exact numbers, before any of it is paper: shapes with the parts that they belong to, chains of
//! dimensions, words. A test reads the sizes and places of the work back from it.

use crate::document::Line;
use crate::quantity::{JsonLength, Length, Marks};
use serde::{Serialize, Serializer};

/// A place of a pane: to the right, up.
pub type Spot = [Length; 2];

/// From the lower to the upper end along both directions of a pane.
pub type Extent = [[Length; 2]; 2];

/// What stands on one drawing.
#[derive(Clone, Debug, Serialize)]
pub struct Picture {
    /// The view: `elevation`.
    pub view: &'static str,
    /// The path of what it shows.
    pub of: String,
    /// What it shows, for people.
    pub title: String,
    /// What stands beside each other on it, all in one scale, with their origins on one line.
    pub panes: Vec<Pane>,
    /// What its kinds of lines mean.
    pub legend: Vec<(Line, &'static str)>,
    /// Remarks under it.
    pub notes: Vec<String>,
    /// Whether its panes are drawn in their true size, on as many pages as they take.
    pub true_size: bool,
}

/// One projection, with axes of its own.
#[derive(Clone, Debug, Serialize)]
pub struct Pane {
    /// What it is called, where there are several.
    pub name: String,
    /// What places to the right count from.
    pub right_of: &'static str,
    /// What heights count from.
    pub over: &'static str,
    /// What is seen, from the rear to the front: what stands later hides what stands before.
    pub shapes: Vec<Shape>,
    /// Its chains of dimensions; on each side from the inner to the outer.
    pub chains: Vec<Measured>,
    /// Its words.
    pub words: Vec<Words>,
    /// Remarks under it.
    pub notes: Vec<String>,
}

/// One thing that is seen.
#[derive(Clone, Debug, Serialize)]
pub struct Shape {
    /// The path of the part, or of what else it is.
    pub of: String,
    /// What is seen of it: `side`, `groove`, `floor`.
    pub what: &'static str,
    /// Its form.
    pub form: Form,
    /// How it is drawn.
    pub line: Line,
    /// What it is filled with.
    pub fill: Filled,
}

/// The form of a shape.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Form {
    /// A line through places.
    Line(#[serde(serialize_with = "spots")] Vec<Spot>),
    /// A closed outline through its corners.
    Outline(#[serde(serialize_with = "spots")] Vec<Spot>),
    /// A circle.
    Circle {
        /// Its centre.
        #[serde(serialize_with = "spot")]
        centre: Spot,
        /// Its diameter.
        #[serde(serialize_with = "millimetres")]
        wide: Length,
    },
    /// A quarter of a circle, as the end of a leaf describes it.
    Quarter {
        /// Its centre.
        #[serde(serialize_with = "spot")]
        centre: Spot,
        /// From its centre to its two ends.
        #[serde(serialize_with = "spots")]
        ends: [Spot; 2],
    },
}

/// What a shape is filled with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Filled {
    /// Nothing: what lies behind it is seen.
    Open,
    /// It hides what lies behind it.
    Closed,
    /// Boards, cut: hatched.
    Wood,
    /// A sheet, cut: by its layers, which run to the right.
    LayersAcross,
    /// A sheet, cut: by its layers, which run up.
    LayersUp,
    /// What it stands against, cut: plaster, masonry.
    Wall,
}

/// The side of a pane on which a chain runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Edge {
    /// Over it.
    Above,
    /// Under it.
    Below,
    /// At its left.
    Left,
    /// At its right.
    Right,
}

impl Edge {
    /// Whether its chains run from left to right.
    #[must_use]
    pub fn is_across(self) -> bool {
        matches!(self, Self::Above | Self::Below)
    }
}

/// A chain of dimensions.
#[derive(Clone, Debug, Serialize)]
pub struct Measured {
    /// What is measured, for people: `left faces from the left corner`.
    pub what: String,
    /// On which side of the pane it runs.
    pub edge: Edge,
    /// Whether its figures count from the first place, and not from each to the next.
    pub running: bool,
    /// The places, in rising order.
    #[serde(serialize_with = "lengths")]
    pub places: Vec<Length>,
    /// Whether the names of its figures are left to the text of the view, to leave the work more room.
    pub quiet: bool,
    /// Its figures: one for each place of a running one, else one less.
    pub figures: Vec<Figure>,
}

/// A figure of a chain.
#[derive(Clone, Debug, Serialize)]
pub struct Figure {
    /// What it says, exactly and as it is printed.
    pub length: JsonLength,
    /// What it is of, where that has a name.
    pub name: String,
}

/// Words of a pane.
#[derive(Clone, Debug, Serialize)]
pub struct Words {
    /// Their lines; where they have no room, each next reading is shorter.
    pub readings: Vec<Vec<String>>,
    /// Where they stand.
    #[serde(flatten)]
    pub stand: Stand,
    /// So many of their last lines are figures, which are never shortened.
    pub figures: usize,
}

/// Where words stand.
#[derive(Clone, Copy, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stand {
    /// Anywhere in this room, in its middle where that is free.
    Within(#[serde(serialize_with = "spots")] Extent),
    /// Along this edge, which runs up, at its left or its right.
    Along {
        /// Its lower and upper end.
        #[serde(serialize_with = "spots")]
        ends: [Spot; 2],
        /// Whether at its right.
        right: bool,
    },
    /// Beside this place, with a line to it where they stand farther off.
    Beside(#[serde(serialize_with = "spot")] Spot),
}

impl Picture {
    /// An empty one.
    #[must_use]
    pub fn new(view: &'static str, of: &str, title: String) -> Self {
        let (panes, legend, notes) = (Vec::new(), Vec::new(), Vec::new());
        Self { view, of: of.to_owned(), title, panes, legend, notes, true_size: false }
    }
}

impl Pane {
    /// An empty one.
    #[must_use]
    pub fn new(name: impl Into<String>, right_of: &'static str, over: &'static str) -> Self {
        let (shapes, chains, words, notes) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Self { name: name.into(), right_of, over, shapes, chains, words, notes }
    }

    /// What its shapes cover; `None` of an empty one.
    #[must_use]
    pub fn extent(&self) -> Option<Extent> {
        let mut all: Option<Extent> = None;
        for spot in self.shapes.iter().flat_map(|shape| shape.form.spots()) {
            let mut both = all.unwrap_or([[spot[0]; 2], [spot[1]; 2]]);
            for ([low, high], at) in both.iter_mut().zip(spot) {
                (*low, *high) = ((*low).min(at), (*high).max(at));
            }
            all = Some(both);
        }
        all
    }

    /// Adds a shape.
    pub fn shape(&mut self, of: &str, what: &'static str, form: Form, line: Line, fill: Filled) {
        self.shapes.push(Shape { of: of.to_owned(), what, form, line, fill });
    }

    /// Adds a line.
    pub fn line(&mut self, of: &str, what: &'static str, line: Line, path: Vec<Spot>) {
        self.shape(of, what, Form::Line(path), line, Filled::Open);
    }

    /// Adds a name within a room; where it has no room it is shortened.
    pub fn say(&mut self, within: Extent, name: impl Into<String>) {
        self.words.push(Words {
            readings: vec![vec![name.into()]],
            stand: Stand::Within(within),
            figures: 0,
        });
    }

    /// Adds words along an edge that runs up.
    pub fn along(&mut self, ends: [Spot; 2], right: bool, says: &str) {
        let readings = vec![vec![says.to_owned()]];
        self.words.push(Words { readings, stand: Stand::Along { ends, right }, figures: 1 });
    }

    /// Adds a name with a figure within a room, in one line or in two.
    pub fn say_figure(&mut self, within: Extent, name: &str, figure: String) {
        let readings = vec![vec![format!("{name}  {figure}")], vec![name.to_owned(), figure]];
        self.words.push(Words { readings, stand: Stand::Within(within), figures: 1 });
    }

    /// Adds lines of words beside a place.
    pub fn point(&mut self, at: Spot, lines: Vec<String>) {
        self.words.push(Words { readings: vec![lines], stand: Stand::Beside(at), figures: 0 });
    }

    /// Adds a chain, where there is one.
    pub fn chain(&mut self, chain: Option<Measured>) {
        self.chains.extend(chain);
    }
}

impl Form {
    /// The places that it lies between.
    #[must_use]
    pub fn spots(&self) -> Vec<Spot> {
        match self {
            Self::Line(path) | Self::Outline(path) => path.clone(),
            Self::Circle { centre: [x, y], wide } => {
                let half = wide.checked_div(2.into()).unwrap_or_default();
                let around = |at: &Length| [at.checked_sub(half), at.checked_add(half)];
                let ([Some(left), Some(right)], [Some(low), Some(high)]) = (around(x), around(y)) else {
                    return vec![[*x, *y]];
                };
                vec![[left, low], [right, high]]
            }
            Self::Quarter { centre, ends: [a, b] } => vec![*centre, *a, *b],
        }
    }

    /// A rectangle.
    #[must_use]
    pub fn rect([[left, right], [low, high]]: Extent) -> Self {
        Self::Outline(vec![[left, low], [right, low], [right, high], [left, high]])
    }
}

impl Measured {
    /// A chain from place to place; each stretch may have a name. `None` where there is nothing to measure.
    #[must_use]
    pub fn between(
        what: impl Into<String>,
        edge: Edge,
        mut places: Vec<Length>,
        names: &[(Length, String)],
        marks: Marks,
    ) -> Option<Self> {
        places.sort_unstable();
        places.dedup();
        let figures: Option<Vec<Figure>> = places
            .iter()
            .zip(places.iter().skip(1))
            .map(|(from, to)| {
                let name = names.iter().find(|(at, _)| at == from).map(|(_, name)| name.clone());
                let length = JsonLength::new(to.checked_sub(*from)?, marks);
                Some(Figure { length, name: name.unwrap_or_default() })
            })
            .collect();
        let figures = figures.filter(|figures| !figures.is_empty())?;
        Some(Self { what: what.into(), edge, running: false, places, quiet: false, figures })
    }

    /// The same, without the names of its figures on paper.
    #[must_use]
    pub fn quiet(self) -> Self {
        Self { quiet: true, ..self }
    }

    /// A chain that counts from a datum; each place may have a name.
    #[must_use]
    pub fn running(
        what: impl Into<String>,
        edge: Edge,
        datum: Length,
        mut named: Vec<(Length, String)>,
        marks: Marks,
    ) -> Option<Self> {
        if !named.iter().any(|(at, _)| *at == datum) {
            named.push((datum, String::new()));
        }
        named.sort();
        // Of places that print alike the first one that has a name stands for all.
        let mut kept: Vec<(Length, String)> = Vec::new();
        for (at, name) in named {
            match kept.last_mut().filter(|(last, _)| *last == at) {
                Some((_, known)) if known.is_empty() => *known = name,
                Some(_) => {}
                None => kept.push((at, name)),
            }
        }
        if kept.len() < 2 {
            return None;
        }
        let figures: Option<Vec<Figure>> = kept
            .iter()
            .map(|(at, name)| {
                let length = JsonLength::new(at.checked_sub(datum)?, marks);
                Some(Figure { length, name: name.clone() })
            })
            .collect();
        let places = kept.iter().map(|(at, _)| *at).collect();
        Some(Self { what: what.into(), edge, running: true, places, quiet: false, figures: figures? })
    }
}

/// A figure as drawings have it: without its unit where that is said at the foot.
#[must_use]
pub fn plain(print: &str) -> String {
    print.trim_end_matches(" mm").to_owned()
}

fn exact(length: Length) -> String {
    length.mm().to_string()
}

/// As exact millimetres, a whole number or a fraction: `"2159/80"`.
fn millimetres<S: Serializer>(length: &Length, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(&exact(*length))
}

fn lengths<S: Serializer>(lengths: &[Length], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(lengths.iter().map(|length| exact(*length)))
}

fn spot<S: Serializer>(spot: &Spot, serializer: S) -> Result<S::Ok, S::Error> {
    spot.map(exact).serialize(serializer)
}

fn spots<S: Serializer>(spots: &[Spot], serializer: S) -> Result<S::Ok, S::Error> {
    serializer.collect_seq(spots.iter().map(|spot| spot.map(exact)))
}
