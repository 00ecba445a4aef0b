//! What a view says in words: its chains of dimensions as lists.

use super::{Figure, Measured, Picture, Subject, ViewSpec};
use crate::document::{CAUTIONS, Cell, Document, Table, words};

/// The document of pictures.
#[must_use]
pub fn document(subject: Subject<'_>, view: &ViewSpec, pictures: &[Picture]) -> Document {
    let project = &subject.model.project;
    let mut title = view.name.to_owned();
    if let Some(first) = title.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    let mut facts = vec![project.headed(), format!("It shows {}.", view.about)];
    facts.extend(subject.model.provisional());
    let mut document = Document { title, facts, cautions: CAUTIONS.to_vec(), ..Document::default() };
    for picture in pictures {
        let mut rows = Vec::new();
        for pane in &picture.panes {
            let whose = |what: &str| match pane.name.as_str() {
                "" => what.to_owned(),
                name => format!("{name}: {what}"),
            };
            rows.extend(pane.chains.iter().map(|chain| row(whose(&chain.what), &figures(chain))));
            // Numbers only lead to the list under the drawing.
            let said = pane.words.iter().filter_map(|words| words.readings.first());
            let said =
                said.filter(|lines| !lines.iter().all(|line| line.chars().all(|sign| sign.is_ascii_digit())));
            let said: Vec<String> =
                said.map(|lines| lines.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")).collect();
            if !said.is_empty() {
                rows.push(row(whose("written on it"), &said));
            }
            rows.extend(pane.notes.iter().map(|note| row(whose("note"), std::slice::from_ref(note))));
        }
        let foot = picture.notes.join(" ");
        document.tables.push(Table {
            caption: picture.title.clone(),
            columns: vec![words("what"), words("figures")],
            rows,
            foot: (!foot.is_empty()).then_some(foot),
        });
    }
    document.notes.push(format!("The drawing: `scantling show {} FILE --format svg`.", view.name));
    document
}

/// What a line of figures takes at most, in letters.
const LINE: usize = 50;

/// A row whose figures stay whole.
fn row(what: String, figures: &[String]) -> Vec<Cell> {
    let mut lines: Vec<String> = Vec::new();
    for (number, figure) in figures.iter().enumerate() {
        let figure = if number + 1 == figures.len() { figure.clone() } else { format!("{figure};") };
        match lines.last_mut() {
            Some(line) if line.chars().count() + figure.chars().count() < LINE => {
                line.push(' ');
                line.push_str(&figure);
            }
            _ => lines.push(figure),
        }
    }
    vec![Cell::Words(what), Cell::Lines(lines)]
}

/// The figures of a chain, each with its name.
fn figures(chain: &Measured) -> Vec<String> {
    let figure = |figure: &Figure| match figure.name.as_str() {
        "" => figure.length.print.clone(),
        name => format!("{name} {}", figure.length.print),
    };
    chain.figures.iter().map(figure).collect()
}
