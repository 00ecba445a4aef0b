//! Documents as plain text, for a terminal and for paper.

use crate::document::{Document, Table};
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle};
use std::fmt::Write;

/// The width of a page of text.
const WIDTH: u16 = 100;

/// The document as plain text of at most 100 columns.
#[must_use]
pub fn text(document: &Document) -> String {
    let mut out = String::new();
    let rule = "=".repeat(document.title.chars().count());
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{}\n{rule}", document.title);
    for fact in &document.facts {
        wrapped(&mut out, "", fact);
    }
    for table in &document.tables {
        out.push('\n');
        draw(&mut out, table);
    }
    if !document.notes.is_empty() || !document.cautions.is_empty() {
        out.push('\n');
    }
    for note in document.notes.iter().map(String::as_str).chain(document.cautions.iter().copied()) {
        wrapped(&mut out, "* ", note);
    }
    out
}

/// Lines of at most the page's width; those after the first are indented like the text of the first.
fn wrapped(out: &mut String, lead: &str, text: &str) {
    let mut line = lead.to_owned();
    let indent = " ".repeat(lead.len());
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > usize::from(WIDTH) {
            let _ = writeln!(out, "{line}");
            line.clone_from(&indent);
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    let _ = writeln!(out, "{line}");
}

fn draw(out: &mut String, table: &Table) {
    let mut drawn = comfy_table::Table::new();
    drawn.load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')));
    drawn.set_content_arrangement(ContentArrangement::Dynamic).set_width(WIDTH);
    drawn.set_header(table.columns.iter().map(|column| column.title));
    for row in &table.rows {
        drawn.add_row(row.iter().map(|cell| cell.text("\n")));
    }
    for (column, drawn) in table.columns.iter().zip(drawn.column_iter_mut()) {
        drawn.set_padding((0, 2));
        if column.figures {
            drawn.set_cell_alignment(CellAlignment::Right);
        }
        if column.whole {
            drawn.set_constraint(ColumnConstraint::ContentWidth);
        }
    }
    wrapped(out, "", &table.caption);
    for line in drawn.to_string().lines() {
        let _ = writeln!(out, "{}", line.trim_end());
    }
    if let Some(foot) = &table.foot {
        wrapped(out, "", foot);
    }
}
