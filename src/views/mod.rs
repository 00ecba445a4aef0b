//! Drawings of the work: plan, elevation, section, a unit by itself, sides as a mirrored pair, a unit taken apart, details. One
//! file each. A view gives exact geometry ([`Picture`]), which becomes paper ([`drawn`]) by a standard scale.

mod apart;
mod chains;
mod corner;
mod detail;
mod elevation;
mod face;
mod fronts;
mod hidden;
mod paper;
mod pick;
mod picture;
mod placing;
mod plan;
mod room;
mod section;
mod side;
mod solid;
mod space;
mod unit;
mod words;

pub use paper::{Ground, Setting, drawn};
pub use pick::{NotThere, Picked};
pub(crate) use picture::plain;
pub use picture::{Edge, Extent, Figure, Filled, Form, Measured, Pane, Picture, Shape, Spot, Stand, Words};
pub use words::document;

use crate::document::Drawing;
use crate::eval::Model;
use crate::parts::PartGraph;
use crate::quantity::{Length, Marks};

/// What a view is made from.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// What is decided.
    pub model: &'a Model,
    /// What follows from it.
    pub graph: &'a PartGraph,
}

impl Subject<'_> {
    fn marks(self) -> Marks {
        self.model.project.marks
    }

    /// A size as drawings have it.
    fn figure(self, length: Length) -> String {
        plain(&self.marks().print(length).to_string())
    }

    /// What stands on every drawing.
    #[must_use]
    pub fn setting(self, ground: Ground) -> Setting {
        let project = &self.model.project;
        let provisional = self.model.provisional();
        Setting {
            paper: project.paper(),
            system: project.marks.system(),
            head: project.headed(),
            provisional,
            ground,
        }
    }
}

/// A kind of view.
#[derive(Clone, Copy, Debug)]
pub struct ViewSpec {
    /// Its name, as the command line and file names have it.
    pub name: &'static str,
    /// What it shows.
    pub about: &'static str,
    /// What a path picks for it.
    pub of: &'static str,
    /// Makes its pictures.
    make: fn(Subject<'_>, &Picked) -> Vec<Picture>,
}

impl ViewSpec {
    /// Its pictures, in exact numbers.
    #[must_use]
    pub fn pictures(&self, subject: Subject<'_>, picked: &Picked) -> Vec<Picture> {
        (self.make)(subject, picked)
    }

    /// Its drawings, each on a sheet of paper of its own.
    #[must_use]
    pub fn drawings(&self, subject: Subject<'_>, picked: &Picked) -> Vec<Drawing> {
        self.on(Ground::Sheet, subject, picked)
    }

    /// Its drawings on what they stand on.
    #[must_use]
    pub fn on(&self, ground: Ground, subject: Subject<'_>, picked: &Picked) -> Vec<Drawing> {
        let setting = subject.setting(ground);
        let pictures = self.pictures(subject, picked);
        let name = |picture: &Picture| format!("{}-{}", self.name, picture.of);
        pictures.iter().flat_map(|picture| drawn(picture, &setting, &name(picture))).collect()
    }
}

/// The elevation.
pub const ELEVATION: ViewSpec = elevation::VIEW;
/// The plan.
pub const PLAN: ViewSpec = plan::VIEW;
/// The sides of a unit.
pub const SIDE: ViewSpec = side::VIEW;
/// A unit taken apart.
pub const APART: ViewSpec = apart::VIEW;

/// All views.
pub static VIEWS: &[ViewSpec] =
    &[elevation::VIEW, plan::VIEW, section::VIEW, unit::VIEW, side::VIEW, apart::VIEW, detail::VIEW];

/// The view of this name.
#[must_use]
pub fn view(name: &str) -> Option<&'static ViewSpec> {
    VIEWS.iter().find(|view| view.name == name)
}
