//! Documents as pages for a browser that stand alone.

use super::svg;
use crate::document::{Document, Drawing, Table};
use std::fmt::Write;

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

/// A page that stands alone: the document with drawings over its tables.
#[must_use]
pub fn html(document: &Document, drawings: &[Drawing]) -> String {
    let mut out = String::from(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width\">\n",
    );
    let title = escaped(&document.title);
    // Writing into a String cannot fail.
    let _ = write!(
        out,
        "<title>{title}</title>\n<style>\n\
         body {{ font: 16px/1.4 sans-serif; margin: 1.5em auto; max-width: 70em; padding: 0 1em; color: #111 }}\n\
         table {{ border-collapse: collapse; margin: 0 0 1.5em; width: 100% }}\n\
         caption {{ text-align: left; font-weight: bold; padding: .3em 0 }}\n\
         th, td {{ border-bottom: 1px solid #bbb; padding: .2em .7em .2em 0; text-align: left; vertical-align: top }}\n\
         .n {{ text-align: right; white-space: nowrap }}\n\
         svg {{ width: 100%; height: auto; max-height: 80vh }}\n\
         footer {{ font-size: 85%; border-top: 1px solid #111 }}\n\
         </style>\n</head>\n<body>\n<h1>{title}</h1>\n"
    );
    for fact in &document.facts {
        let _ = writeln!(out, "<p>{}</p>", escaped(fact));
    }
    out.extend(drawings.iter().map(svg));
    for table in &document.tables {
        html_table(&mut out, table);
    }
    out.push_str("<footer>\n");
    for note in document.notes.iter().map(String::as_str).chain(document.cautions.iter().copied()) {
        let _ = writeln!(out, "<p>{}</p>", escaped(note));
    }
    out.push_str("</footer>\n</body>\n</html>\n");
    out
}

fn html_table(out: &mut String, table: &Table) {
    let class = |figures: bool| if figures { " class=\"n\"" } else { "" };
    let _ = write!(out, "<table>\n<caption>{}</caption>\n<tr>", escaped(&table.caption));
    for column in &table.columns {
        let _ = write!(out, "<th{}>{}</th>", class(column.figures), escaped(column.title));
    }
    out.push_str("</tr>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for (cell, column) in row.iter().zip(&table.columns) {
            let lines: Vec<String> = cell.text("\n").lines().map(escaped).collect();
            let _ = write!(out, "<td{}>{}</td>", class(column.figures), lines.join("<br>"));
        }
        out.push_str("</tr>\n");
    }
    out.push_str("</table>\n");
    if let Some(foot) = &table.foot {
        let _ = writeln!(out, "<p>{}</p>", escaped(foot));
    }
}
