//! `scantling explain CODE`

use super::output::Screen;
use super::{Failure, Verdict};
use crate::compile::{codes, compile};
use crate::diag::{Code, nearest};
use crate::report::{Style, render};
use crate::source::MemoryFiles;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The code of a message, such as `S001`, or its name, such as `unclosed_bracket`; without it, all are listed.
    code: Option<String>,
}

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let text = match &arguments.code {
        None => codes().map(line).collect(),
        Some(asked) => match find(asked) {
            Some(code) => page(code, screen.page_style()),
            None => return Err(unknown(asked)),
        },
    };
    screen.out(&text)?;
    Ok(Verdict::Fine)
}

/// A line of the index.
fn line(code: &Code) -> String {
    format!("{}  {:<7}  {:<22} {}\n", code.id, code.severity.word(), code.slug, code.title)
}

fn find(asked: &str) -> Option<&'static Code> {
    codes().find(|code| code.id.eq_ignore_ascii_case(asked) || code.slug == asked)
}

fn unknown(asked: &str) -> Failure {
    let known = codes().flat_map(|code| [code.id, code.slug]);
    let help = match nearest(asked, known) {
        Some(near) => format!("did you mean `{near}`? `scantling explain` lists all"),
        None => "`scantling explain` lists all".to_owned(),
    };
    Failure::Code { code: asked.to_owned(), help }
}

/// The page of a code: what it means, and its example with the message that the example gives.
fn page(code: &Code, style: Style) -> String {
    let severity = code.severity.word();
    let mut text =
        format!("{} {} ({severity}): {}\n\n{}\n", code.id, code.slug, code.title, code.explanation);
    let Some(example) = &code.example else { return text };
    let indented = |source: &str| source.lines().map(|line| format!("    {line}\n")).collect::<String>();
    text.push_str(&format!("\nThis gives the message:\n\n{}\n", indented(example.bad)));
    if let Ok(compilation) =
        compile(&MemoryFiles::single("example.scant", example.bad), "example.scant".into())
    {
        text.push_str(&render(&compilation.diagnostics, &compilation.sources, style));
    }
    if !example.good.is_empty() {
        text.push_str(&format!("This does not:\n\n{}", indented(example.good)));
    }
    text
}
