//! Pages as one file for a browser: on the phone and on paper, without a network.

use super::svg;
use crate::document::{Block, Cell, Drawing, Field, Form, Page, Step, Steps, Table, Takes, Weight, typeset};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};

/// The size of the paper, as a style sheet names it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PaperSize {
    /// Width and height in millimetres.
    pub millimetres: [f64; 2],
}

/// What a book says of itself.
#[derive(Clone, Debug)]
pub struct Cover<'a> {
    /// Project and revision.
    pub title: &'a str,
    /// By what ticks are kept apart from those of other projects and revisions.
    pub key: &'a str,
    /// The paper that it is printed on.
    pub paper: PaperSize,
}

const STYLE: &str = include_str!("book.css");
const SCRIPT: &str = include_str!("book.js");

/// Pages as one file.
#[must_use]
pub fn book(cover: &Cover<'_>, pages: &[Page]) -> String {
    let [wide, high] = cover.paper.millimetres;
    let paper = format!("@page {{ size: {wide}mm {high}mm; margin: 12mm 12mm 14mm }}");
    let count = pages.len();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (cover.title) }
                style { (PreEscaped(faces())) (PreEscaped(STYLE)) (PreEscaped(paper)) }
            }
            body data-key=(cover.key) {
                header {
                    h1 { (cover.title) }
                    nav aria-label="Pages" {
                        ol {
                            @for (place, page) in pages.iter().enumerate() {
                                li { a href=(format!("#page-{}", place + 1)) { (typeset(&page.title)) } }
                            }
                        }
                    }
                    p .screen {
                        button type="button" id="take-over" { "Take over what is ticked" }
                        " "
                        button type="button" id="clear" { "Clear all ticks" }
                    }
                    div #ticked hidden {
                        p { "Save this as a file and run " code { "scantling mark --from FILE" } ":" }
                        textarea #lines readonly rows="8" aria-label="Lines for scantling mark" {}
                        p { button type="button" id="save" { "Save as ticks.txt" } }
                    }
                }
                main {
                    @for (place, page) in pages.iter().enumerate() { (leaf(page, place + 1, count)) }
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    page.into_string() + "\n"
}

/// The face of all words, in the file itself.
fn faces() -> String {
    let face = |weight: Weight, number: u32| {
        format!(
            "@font-face{{font-family:Inter;font-weight:{number};src:url(data:font/otf;base64,{}) format('opentype')}}\n",
            STANDARD.encode(weight.data())
        )
    };
    face(Weight::Regular, 400) + &face(Weight::Bold, 700)
}

fn leaf(page: &Page, number: usize, count: usize) -> Markup {
    let shop = if page.far { "leaf shop" } else { "leaf" };
    html! {
        article class=(shop) id=(format!("page-{number}")) aria-labelledby=(format!("title-{number}")) {
            h2 id=(format!("title-{number}")) { (typeset(&page.title)) }
            p .belongs {
                @for fact in &page.facts { (typeset(fact)) br; }
                "page " (number) " of " (count) ", signs " strong .signs { (page.signs) }
            }
            @for (place, block) in page.blocks.iter().enumerate() {
                (self::block(block, &format!("{number}-{place}"), &format!("{}-{place}", page.signs)))
            }
            footer {
                @for caution in &page.cautions { p { (typeset(caution)) } }
            }
        }
    }
}

fn block(block: &Block, id: &str, key: &str) -> Markup {
    match block {
        Block::Heading(says) => html! { h3 { (typeset(says)) } },
        Block::Words(says) => html! { p { (typeset(says)) } },
        Block::Caution(says) => html! { p .caution { strong { "Mind: " } (typeset(says)) } },
        Block::Table(table) => self::table(table),
        Block::Steps(steps) => self::steps(steps, id, key),
        Block::Form(form) => self::form(form, id),
        Block::Drawing(drawing) => figure(drawing, "drawing"),
        Block::TrueScale(drawings) => html! { @for drawing in drawings { (figure(drawing, "true-scale")) } },
    }
}

fn figure(drawing: &Drawing, class: &str) -> Markup {
    html! { figure class=(class) { (PreEscaped(svg(drawing))) figcaption { (typeset(&drawing.title)) } } }
}

fn table(table: &Table) -> Markup {
    let class = |figures: bool| figures.then_some("n");
    html! {
        div .wide tabindex="0" role="region" aria-label=(typeset(&table.caption)) {
            table {
                caption { (typeset(&table.caption)) }
                thead { tr { @for column in &table.columns { th scope="col" class=[class(column.figures)] { (column.title) } } } }
                tbody {
                    @for row in &table.rows {
                        tr {
                            @for (cell, column) in row.iter().zip(&table.columns) {
                                td class=[class(column.figures)] data-head=(column.title) { (lines(cell)) }
                            }
                        }
                    }
                }
            }
        }
        @if let Some(foot) = &table.foot { p .foot { (typeset(foot)) } }
    }
}

fn lines(cell: &Cell) -> Markup {
    let text = cell.typeset("\n");
    html! { @for (place, line) in text.lines().enumerate() { @if place > 0 { br; } (line) } }
}

fn steps(steps: &Steps, id: &str, key: &str) -> Markup {
    html! {
        h3 { (typeset(&steps.caption)) }
        ol .steps {
            @for (place, step) in steps.steps.iter().enumerate() { (self::step(step, &format!("step-{id}-{place}"), &format!("{key}-{place}"))) }
        }
    }
}

fn step(step: &Step, id: &str, key: &str) -> Markup {
    html! {
        li {
            input type="checkbox" id=(id) data-step=(key) data-marks=(step.marks.join("\n"));
            label for=(id) {
                @if !step.set.is_empty() { strong .set { (typeset(&step.set)) } " " }
                span { (typeset(&step.says)) }
                @for more in &step.more { span .more { (typeset(more)) } }
            }
        }
    }
}

fn form(form: &Form, id: &str) -> Markup {
    html! {
        h3 { (typeset(&form.caption)) }
        form .form data-text=(serde_json::to_string(&form.text).unwrap_or_default()) data-unit=(form.unit) {
            @for (place, field) in form.fields.iter().enumerate() {
                @let before = place.checked_sub(1).and_then(|before| form.fields.get(before)).map_or("", |field| field.group);
                @if field.group != before { h4 { (typeset(field.group)) } }
                (self::field(field, &format!("field-{id}-{place}")))
            }
            @if !form.text.is_empty() {
                p .screen { button type="button" class="make-text" { "Make the text of it" } }
                p hidden { textarea readonly rows="12" aria-label="Text for the project" {} }
            }
        }
    }
}

fn field(field: &Field, id: &str) -> Markup {
    html! {
        p {
            label for=(id) { (typeset(&field.asks)) } " "
            @match field.takes {
                Takes::Choice(words) => select id=(id) name=(field.name) data-chosen="" {
                    option value="" { "-" }
                    @for word in words { option value=(word) { (word.replace('_', " ")) } }
                },
                Takes::Count => input type="text" inputmode="numeric" id=(id) name=(field.name) data-chosen="" autocomplete="off";,
                Takes::Words => input type="text" id=(id) name=(field.name) data-chosen="" autocomplete="off";,
                Takes::Length => input type="text" id=(id) name=(field.name) value=[field.known.as_deref()] autocomplete="off";,
            }
            @if field.twice {
                " " input type="text" aria-label=(format!("{}, measured again", field.asks)) data-twice=(field.name) autocomplete="off";
                span .differs hidden { " the two differ: measure once more" }
            }
        }
    }
}
