//! Both elevations over each other, from the front: the new one as it is seen, the old one where it differs.

use super::Side;
use crate::document::{Drawing, Line};
use crate::quantity::{Length, Marks};
use crate::views::{ELEVATION, Filled, Form, Ground, Picked, Picture, Shape, Subject, drawn};
use std::collections::{BTreeMap, BTreeSet};

/// The elevations of the new side, with what the old one had elsewhere; then those of which nothing is left.
#[must_use]
pub fn overlaid(old: Side<'_>, new: Side<'_>) -> Vec<Picture> {
    let marks = new.model.project.marks;
    let mut before: BTreeMap<String, Picture> =
        elevations(old).into_iter().map(|picture| (picture.of.clone(), picture)).collect();
    let mut pictures = Vec::new();
    for mut picture in elevations(new) {
        let was = before.remove(&picture.of);
        picture.title = format!("{}, the new over the old", picture.title);
        picture.legend.push((Line::Former, "old, where it differs"));
        for (place, pane) in picture.panes.iter_mut().enumerate() {
            let seen: BTreeSet<Told> = pane.shapes.iter().map(|shape| told(shape, marks)).collect();
            let old = was.iter().filter_map(|was| was.panes.get(place)).flat_map(|pane| &pane.shapes);
            let gone: Vec<Shape> =
                old.filter(|shape| !seen.contains(&told(shape, marks))).map(former).collect();
            pane.shapes.extend(gone);
        }
        pictures.push(picture);
    }
    for mut picture in before.into_values() {
        picture.title = format!("{}, which is no more", picture.title);
        picture.legend = vec![(Line::Former, "old")];
        for pane in &mut picture.panes {
            pane.shapes = pane.shapes.iter().map(former).collect();
        }
        pictures.push(picture);
    }
    pictures
}

/// The same on paper: one drawing for each run and for each unit that stands alone.
#[must_use]
pub fn overlay(old: Side<'_>, new: Side<'_>) -> Vec<Drawing> {
    let setting = Subject { model: new.model, graph: new.graph }.setting(Ground::Sheet);
    let name = |picture: &Picture| format!("{}-{}", ELEVATION.name, picture.of);
    overlaid(old, new).iter().flat_map(|picture| drawn(picture, &setting, &name(picture))).collect()
}

fn elevations(side: Side<'_>) -> Vec<Picture> {
    let subject = Subject { model: side.model, graph: side.graph };
    ELEVATION.pictures(subject, &Picked::default())
}

/// What a shape is of, and where it stands as it is printed: what both sides have alike is drawn once, whatever it is called.
type Told = (&'static str, Vec<[Length; 2]>);

fn told(shape: &Shape, marks: Marks) -> Told {
    (shape.what, shape.form.spots().iter().map(|spot| spot.map(|at| marks.nearest(at))).collect())
}

/// The same as it was: its edges, which hide nothing.
fn former(shape: &Shape) -> Shape {
    let form = match &shape.form {
        Form::Quarter { .. } => Form::Line(shape.form.spots()),
        form => form.clone(),
    };
    Shape { form, line: Line::Former, fill: Filled::Open, ..shape.clone() }
}
