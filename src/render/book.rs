//! Pages as one file for a browser: on the phone and on paper, without a network.

use super::svg;
use crate::document::{Block, Cell, Drawing, Field, Form, Page, Step, Steps, Table, Takes, Weight, typeset};
use crate::quantity::{FOOT, MARGIN, Paper};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use sha1::{Digest, Sha1};
use std::collections::BTreeMap;

/// What a book says of itself.
#[derive(Clone, Debug)]
pub struct Cover<'a> {
    /// Project and revision.
    pub title: &'a str,
    /// By what ticks are kept apart from those of other projects and revisions.
    pub key: &'a str,
    /// The paper that it is printed on.
    pub paper: Paper,
    /// Where figures come from, by the paths that pages name.
    pub reasons: &'a BTreeMap<&'a str, String>,
}

const STYLE: &str = include_str!("book.css");
const SCRIPT: &str = include_str!("book.js");

/// Pages as one file.
#[must_use]
pub fn book(cover: &Cover<'_>, pages: &[Page]) -> String {
    let count = pages.len();
    let papers = papers(cover, pages);
    let whys: Whys<'_> = cover.reasons.keys().copied().zip(1..).collect();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (cover.title) }
                style { (PreEscaped(faces())) (PreEscaped(STYLE)) (PreEscaped(papers)) }
            }
            body data-key=(cover.key) {
                header #top {
                    h1 { (cover.title) }
                    (contents(pages))
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
                    @for (place, page) in pages.iter().enumerate() { (leaf(page, place + 1, count, (cover.paper, &whys))) }
                }
                @for (says, number) in cover.reasons.values().zip(1..) {
                    div popover="auto" id=(format!("why-{number}")) .reason { (typeset(says.trim_end())) }
                }
                dialog #large aria-label="Drawing" {
                    p { button type="button" id="close" { "Close" } }
                    div #pan tabindex="0" role="region" aria-label="Drawing, to be moved about" {}
                }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    page.into_string() + "\n"
}

/// The pages by their places.
fn contents(pages: &[Page]) -> Markup {
    let numbered: Vec<(usize, &Page)> = pages.iter().zip(1..).map(|(page, number)| (number, page)).collect();
    let link = |number: usize, says: &str| {
        html! { a href=(format!("#page-{number}")) { span .number { (number) } " " (typeset(says)) } }
    };
    html! {
        nav aria-label="Pages" {
            ul {
                @for place in numbered.chunk_by(|(_, a), (_, b)| a.place == b.place) {
                    @match place {
                        [(number, only)] => li { (link(*number, &only.title)) },
                        several => li {
                            details open {
                                summary { (head(several)) }
                                ul { @for (number, page) in several { li { (link(*number, tail(&page.title))) } } }
                            }
                        },
                    }
                }
            }
        }
    }
}

/// What a page is called beside others of its place.
fn tail(title: &str) -> &str {
    title.split_once(": ").map_or(title, |(_, own)| own)
}

/// What a place with several pages is called in the contents: what their titles begin with, and how many there are.
fn head(pages: &[(usize, &Page)]) -> String {
    let first = pages.first().map(|(_, page)| page.title.as_str()).unwrap_or_default();
    let name = first.split_once(": ").map_or(first, |(name, _)| name);
    format!("{name}, {} pages", pages.len())
}

/// The papers of the printer: what each says at its foot, and which lie.
fn papers(cover: &Cover<'_>, pages: &[Page]) -> String {
    let size = |[wide, high]: [f64; 2]| format!("size:{wide}mm {high}mm");
    let (upright, lying) = (size(cover.paper.upright()), size(cover.paper.lying()));
    let counted = "\"paper \" counter(page) \" of \" counter(pages)";
    let face = "font:8pt Inter,Helvetica,Arial,sans-serif;color:#000";
    let title = quoted(&shortened(cover.title));
    let mut papers = format!(
        "@page{{{upright};margin:{MARGIN}mm {MARGIN}mm {FOOT}mm;@bottom-left{{content:{title};{face}}}\
         @bottom-right{{content:{counted};{face}}}}}\n"
    );
    let is = |wanted: Stands| {
        move |page: &Page| {
            page.drawings().any(|(drawing, true_scale)| stands(drawing, true_scale, cover.paper) == wanted)
        }
    };
    for (place, size, wanted) in [("full", &upright, Stands::Full), ("full-lying", &lying, Stands::FullLying)]
    {
        if pages.iter().any(is(wanted)) {
            papers.push_str(&format!("@page {place}{{{size};margin:0}}\n.{place}{{page:{place}}}\n"));
        }
    }
    for (place, page) in pages.iter().enumerate() {
        let number = place + 1;
        let says =
            format!("{}, page {number} of {}, signs {}; ", shortened(&page.title), pages.len(), page.signs);
        let foot = format!("@bottom-right{{content:{} {counted}}}", quoted(&typeset(&says)));
        papers.push_str(&format!("@page p{number}{{{foot}}}#page-{number}{{page:p{number}}}\n"));
        if is(Stands::Lying)(page) {
            papers.push_str(&format!(
                "@page l{number}{{{lying};{foot}}}#page-{number} .lying{{page:l{number}}}\n"
            ));
        }
    }
    papers
}

/// What stands at the foot of a paper is one line.
fn shortened(says: &str) -> String {
    const MOST: usize = 48;
    if says.chars().count() <= MOST {
        return says.to_owned();
    }
    says.chars().take(MOST - 1).chain(['\u{2026}']).collect()
}

/// Words as a style sheet quotes them, whatever they are.
fn quoted(says: &str) -> String {
    let plain = |letter: char| letter.is_ascii_alphanumeric() || " .,;:-_()".contains(letter);
    let letter = |letter: char| match plain(letter) {
        true => letter.to_string(),
        false => format!("\\{:x} ", u32::from(letter)),
    };
    format!("\"{}\"", says.chars().map(letter).collect::<String>())
}

/// How a drawing stands on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Stands {
    /// Between words.
    Upright,
    /// On a paper that lies, by itself.
    Lying,
    /// It is the whole paper, with the margins that it has.
    Full,
    /// The same where the paper lies.
    FullLying,
}

fn stands(drawing: &Drawing, true_scale: bool, paper: Paper) -> Stands {
    let is = |size: [f64; 2]| size.iter().zip(drawing.size).all(|(a, b)| (a - b).abs() < 0.01);
    if true_scale && is(paper.upright()) {
        Stands::Full
    } else if true_scale && is(paper.lying()) {
        Stands::FullLying
    } else if drawing.size[0] > Paper::within(paper.upright())[0] {
        Stands::Lying
    } else {
        Stands::Upright
    }
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

/// Where a figure comes from stands once in the book, by its path.
type Whys<'a> = BTreeMap<&'a str, usize>;

/// A page in the making: what its parts are called, in the file and in what is kept of it.
struct Named<'a> {
    number: usize,
    page: &'a Page,
    paper: Paper,
    whys: &'a Whys<'a>,
    seen: BTreeMap<String, usize>,
}

impl Named<'_> {
    /// A figure, which opens where it comes from if that is in the book.
    fn figure(&self, print: &str, path: &str, class: &str) -> Markup {
        match self.whys.get(path) {
            Some(number) => html! {
                button type="button" class=(format!("{class} why")) popovertarget=(format!("why-{number}")) { (typeset(print)) }
            },
            None => html! { strong class=(class) { (typeset(print)) } },
        }
    }

    /// By what something is kept that is ticked or filled in: by what it says, so that a change of it is another thing, and of
    /// others is not; alike ones by their order.
    fn key(&mut self, says: &[&str]) -> String {
        let all = [&[self.page.place, &self.page.title], says].concat().join("\n");
        let seen = self.seen.entry(all.clone()).or_default();
        *seen += 1;
        let hash = Sha1::digest(format!("{all}\n{seen}"));
        hash.iter().take(6).map(|byte| format!("{byte:02x}")).collect()
    }
}

fn leaf(page: &Page, number: usize, count: usize, (paper, whys): (Paper, &Whys<'_>)) -> Markup {
    let shop = if page.far { "leaf shop" } else { "leaf" };
    let mut named = Named { number, page, paper, whys, seen: BTreeMap::new() };
    // Papers of true scale that come last have nothing behind them.
    let is_paper = |block: &&Block| matches!(block, Block::TrueScale(_));
    let last = page.blocks.len() - page.blocks.iter().rev().take_while(is_paper).count();
    let mut blocks: Vec<Markup> = Vec::new();
    for (place, block) in page.blocks.iter().enumerate() {
        blocks.push(self::block(block, place, &mut named));
    }
    let papers = blocks.split_off(last);
    html! {
        article class=(shop) id=(format!("page-{number}")) aria-labelledby=(format!("title-{number}")) {
            h2 id=(format!("title-{number}")) { (typeset(&page.title)) }
            p .belongs {
                @for fact in &page.facts { (typeset(fact)) br; }
                "page " (number) " of " (count) ", signs " strong .signs { (page.signs) }
            }
            @for block in &blocks { (block) }
            footer {
                @for caution in &page.cautions { p { (typeset(caution)) } }
                p .screen {
                    a href="#top" { "Contents" }
                    @if number < count { " " a href=(format!("#page-{}", number + 1)) { "Next page" } }
                }
            }
            @for paper in &papers { (paper) }
        }
    }
}

fn block(block: &Block, place: usize, named: &mut Named<'_>) -> Markup {
    match block {
        Block::Heading(says) => html! { h3 { (typeset(says)) } },
        Block::Words(says) => html! { p { (typeset(says)) } },
        Block::Caution(says) => html! { p .caution { strong { "Mind: " } (typeset(says)) } },
        Block::Table(table) => self::table(table, &format!("table-{}-{place}", named.number), named),
        Block::Steps(steps) => self::steps(steps, place, named),
        Block::Form(form) => self::form(form, place, named),
        Block::Drawing(drawing) => figure(drawing, false, named),
        Block::TrueScale(drawings) => {
            html! { @for drawing in drawings { (figure(drawing, true, named)) } }
        }
    }
}

fn figure(drawing: &Drawing, true_scale: bool, Named { page, paper, .. }: &Named<'_>) -> Markup {
    let kind = if true_scale { "true-scale" } else { "drawing" };
    let class = match stands(drawing, true_scale, *paper) {
        Stands::Upright => kind.to_owned(),
        Stands::Lying => format!("{kind} lying"),
        Stands::Full => format!("{kind} full"),
        Stands::FullLying => format!("{kind} full-lying"),
    };
    html! {
        figure class=(class) {
            @if drawing.title != page.title { figcaption { (typeset(&drawing.title)) } }
            (PreEscaped(svg(drawing)))
            @for note in &drawing.notes { p { (typeset(note)) } }
            @if !true_scale { button type="button" class="larger screen" { "Larger" } }
        }
    }
}

fn table(table: &Table, id: &str, named: &Named<'_>) -> Markup {
    let class = |figures: bool| figures.then_some("n");
    // What a browser makes of a table whose rows stand under each other is none for a reader of the screen, unless told.
    html! {
        h3 id=(id) { (typeset(&table.caption)) }
        table role="table" aria-labelledby=(id) {
            thead role="rowgroup" {
                tr role="row" {
                    @for column in &table.columns {
                        th scope="col" role="columnheader" class=[class(column.figures)] { (column.title) }
                    }
                }
            }
            tbody role="rowgroup" {
                @for row in &table.rows {
                    tr role="row" {
                        @for (cell, column) in row.iter().zip(&table.columns) {
                            td role="cell" class=[class(column.figures)] data-head=(column.title) { (lines(cell, named)) }
                        }
                    }
                }
            }
        }
        @if let Some(foot) = &table.foot { p .foot { (typeset(foot)) } }
    }
}

fn lines(cell: &Cell, named: &Named<'_>) -> Markup {
    if let Cell::Reasoned(print, path) = cell
        && named.whys.contains_key(path.as_str())
    {
        return named.figure(print, path, "plain");
    }
    let text = cell.typeset("\n");
    html! { @for (place, line) in text.lines().enumerate() { @if place > 0 { br; } (line) } }
}

fn steps(steps: &Steps, place: usize, named: &mut Named<'_>) -> Markup {
    html! {
        h3 { (typeset(&steps.caption)) }
        ol .steps {
            @for (step, id) in steps.steps.iter().zip(1..) {
                (self::step(step, &steps.caption, &format!("step-{}-{place}-{id}", named.number), named))
            }
        }
    }
}

fn step(step: &Step, caption: &str, id: &str, named: &mut Named<'_>) -> Markup {
    let key = named.key(&[caption, &step.set, &step.says]);
    html! {
        li {
            input type="checkbox" id=(id) data-step=(key) data-marks=[(!step.marks.is_empty()).then(|| step.marks.join("\n"))];
            div .what {
                @if !step.set.is_empty() { (named.figure(&step.set, &step.why, "set")) " " }
                label for=(id) {
                    span { (typeset(&step.says)) }
                    @for more in &step.more { span .more { (typeset(more)) } }
                }
            }
        }
    }
}

fn form(form: &Form, place: usize, named: &mut Named<'_>) -> Markup {
    html! {
        h3 { (typeset(&form.caption)) }
        form .form data-text=(serde_json::to_string(&form.text).unwrap_or_default()) data-unit=(form.unit) {
            @for (field, id) in form.fields.iter().zip(1..) {
                @let before = usize::checked_sub(id, 2).and_then(|before| form.fields.get(before)).map_or("", |field| field.group);
                @if field.group != before { h4 { (typeset(field.group)) } }
                (self::field(field, &form.caption, &format!("field-{}-{place}-{id}", named.number), named))
            }
            @if !form.text.is_empty() {
                p .screen { button type="button" class="make-text" { "Make the text of it" } }
                p hidden { textarea readonly rows="12" aria-label="Text for the project" {} }
            }
        }
    }
}

fn field(field: &Field, caption: &str, id: &str, named: &mut Named<'_>) -> Markup {
    let mut key = || named.key(&[caption, &field.name]);
    html! {
        p .field {
            label for=(id) { (typeset(&field.asks)) } " "
            @match field.takes {
                Takes::Choice(words) => select id=(id) name=(field.name) data-chosen="" data-field=(key()) {
                    option value="" { "-" }
                    @for word in words { option value=(word) { (word.replace('_', " ")) } }
                },
                Takes::Count => input type="text" inputmode="numeric" id=(id) name=(field.name) data-chosen="" data-field=(key()) autocomplete="off";,
                Takes::Words => input type="text" id=(id) name=(field.name) data-chosen="" data-field=(key()) autocomplete="off";,
                Takes::Length => input type="text" id=(id) name=(field.name) value=[field.known.as_deref()] data-field=(key()) autocomplete="off";,
            }
            @if field.twice {
                " " input type="text" aria-label=(format!("{}, measured again", field.asks)) data-twice=(field.name) data-field=(key()) autocomplete="off";
                span .differs hidden { " the two differ: measure once more" }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::quoted;

    /// CSS Syntax 3, 4.3.7: a backslash and the number of a letter in hexadecimal, ended by a space.
    #[test]
    fn words_in_a_style_sheet_end_neither_it_nor_their_quotes() {
        assert_eq!(quoted("Wall, 3/4"), "\"Wall, 3\\2f 4\"");
        assert_eq!(quoted("</style>\"\n\\"), "\"\\3c \\2f style\\3e \\22 \\a \\5c \"");
    }
}
