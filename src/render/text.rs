//! Documents as plain text, for a terminal and for paper.

use crate::document::{Block, Document, Form, Page, Steps, Table, Takes};
use crate::quantity::some;
use comfy_table::{CellAlignment, ColumnConstraint, ContentArrangement, LineStyle, TableStyle};
use std::fmt::Write;

/// The width of a sheet of text.
const WIDTH: u16 = 100;

/// The document as plain text of at most 100 columns.
#[must_use]
pub fn text(document: &Document) -> String {
    let mut out = String::new();
    let rule = "=".repeat(document.title.chars().count());
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{}\n{rule}", document.title);
    for fact in &document.facts {
        wrapped(&mut out, WIDTH, "", fact);
    }
    for table in &document.tables {
        out.push('\n');
        draw(&mut out, WIDTH, table);
    }
    if !document.notes.is_empty() || !document.cautions.is_empty() {
        out.push('\n');
    }
    for note in document.notes.iter().map(String::as_str).chain(document.cautions.iter().copied()) {
        wrapped(&mut out, WIDTH, "* ", note);
    }
    out
}

/// A page as plain text of at most so many columns: a box before each step, what is set before what is done.
#[must_use]
pub fn page(page: &Page, width: u16) -> String {
    let mut out = String::new();
    // Writing into a String cannot fail.
    let _ = writeln!(out, "{}\n{}", page.title, "=".repeat(page.title.chars().count()));
    for fact in &page.facts {
        wrapped(&mut out, width, "", fact);
    }
    let _ = writeln!(out, "signs {}", page.signs);
    for block in &page.blocks {
        out.push('\n');
        match block {
            Block::Heading(says) => {
                let _ = writeln!(out, "{says}\n{}", "-".repeat(says.chars().count()));
            }
            Block::Words(says) => wrapped(&mut out, width, "", says),
            Block::Caution(says) => wrapped(&mut out, width, "! ", says),
            Block::Table(table) => draw(&mut out, width, table),
            Block::Steps(steps) => self::steps(&mut out, width, steps),
            Block::Form(form) => self::form(&mut out, width, form),
            Block::Drawing(drawing) => {
                wrapped(&mut out, width, "", &format!("[drawing: {}]", drawing.title));
            }
            Block::TrueScale(drawings) => {
                let says = format!("[{}, true to scale]", some(drawings.len(), "drawing"));
                wrapped(&mut out, width, "", &says);
            }
        }
    }
    if !page.cautions.is_empty() {
        out.push('\n');
    }
    for caution in &page.cautions {
        wrapped(&mut out, width, "* ", caution);
    }
    out
}

fn steps(out: &mut String, width: u16, steps: &Steps) {
    wrapped(out, width, "", &steps.caption);
    let widest = steps.steps.iter().map(|step| step.set.chars().count()).max().unwrap_or(0);
    for step in &steps.steps {
        let gap = if widest > 0 { "  " } else { "" };
        let lead = format!("[ ] {:>widest$}{gap}", step.set);
        wrapped(out, width, &lead, &step.says);
        let indent = " ".repeat(lead.chars().count());
        for more in &step.more {
            wrapped(out, width, &indent, more);
        }
    }
}

fn form(out: &mut String, width: u16, form: &Form) {
    wrapped(out, width, "", &form.caption);
    let mut group = "";
    for field in &form.fields {
        if field.group != group {
            group = field.group;
            wrapped(out, width, "", group);
        }
        let blank = match field.takes {
            Takes::Choice(words) => format!("({})", words.join(", ")),
            Takes::Length | Takes::Count | Takes::Words => "________".to_owned(),
        };
        let known = field.known.as_deref().unwrap_or(&blank);
        let again = if field.twice { "  again ________" } else { "" };
        wrapped(out, width, "  ", &format!("{}: {known}{again}", field.asks));
    }
}

/// Lines of at most the page's width; those after the first are indented like the text of the first.
fn wrapped(out: &mut String, width: u16, lead: &str, text: &str) {
    let mut line = lead.to_owned();
    let indent = " ".repeat(lead.chars().count());
    let mut empty = true;
    for word in text.split_whitespace() {
        if !empty && line.chars().count() + 1 + word.chars().count() > usize::from(width) {
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

fn draw(out: &mut String, width: u16, table: &Table) {
    let mut drawn = comfy_table::Table::new();
    drawn.load_style(TableStyle::new().header_separator(LineStyle::none().fill('-')));
    drawn.set_content_arrangement(ContentArrangement::Dynamic).set_width(width);
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
    wrapped(out, width, "", &table.caption);
    for line in drawn.to_string().lines() {
        let _ = writeln!(out, "{}", line.trim_end());
    }
    if let Some(foot) = &table.foot {
        wrapped(out, width, "", foot);
    }
}
