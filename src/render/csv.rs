//! Documents as CSV (RFC 4180), for a spreadsheet.

use crate::document::{Cell, Column, Document, Table};

/// The tables of the document, with the caption of each in the first column. Tables with the same columns are one; others
/// follow after an empty line.
///
/// Words that a spreadsheet would take for a formula get a `'` before them.
#[must_use]
pub fn csv(document: &Document) -> String {
    let mut blocks: Vec<(&[Column], Vec<&Table>)> = Vec::new();
    for table in &document.tables {
        match blocks.iter_mut().find(|(columns, _)| *columns == table.columns) {
            Some((_, tables)) => tables.push(table),
            None => blocks.push((&table.columns, vec![table])),
        }
    }
    let texts: Vec<String> = blocks.into_iter().map(|(columns, tables)| block(columns, &tables)).collect();
    texts.join("\r\n")
}

fn block(columns: &[Column], tables: &[&Table]) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let head = std::iter::once("group").chain(columns.iter().map(|column| column.title));
    // Writing into memory cannot fail, and every row has as many cells as there are columns.
    let _ = writer.write_record(head);
    for table in tables {
        for row in &table.rows {
            let cells = row.iter().map(|cell| match cell {
                Cell::Figure(text) => text.clone(),
                words => harmless(words.text("; ")),
            });
            let _ = writer.write_record(std::iter::once(harmless(table.caption.clone())).chain(cells));
        }
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

fn harmless(text: String) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::csv;
    use crate::document::{Cell, Document, Table, figures, words};

    #[test]
    fn a_name_never_becomes_a_formula() {
        let table = Table {
            caption: "=1+1".to_owned(),
            columns: vec![words("part"), figures("length")],
            rows: vec![vec![Cell::Words("@SUM(A1)".to_owned()), Cell::Figure("31 5/16\"".to_owned())]],
            foot: None,
        };
        let document = Document { tables: vec![table], ..Document::default() };
        assert_eq!(csv(&document), "group,part,length\r\n'=1+1,'@SUM(A1),\"31 5/16\"\"\"\r\n");
    }
}
