//! Documents as CSV (RFC 4180), for a spreadsheet.

use crate::document::{Cell, Column, Document, Table, words};

/// The tables of the document, with the caption of each in the first column. Tables with the same columns are one; others
/// follow after an empty line.
///
/// The cautions are the last rows of the last table, in the group `caution`: at the bottom of the spreadsheet, where they
/// are read, as wide as the rows over them, so that a program still finds a table and leaves the group out by its name.
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
    let alone = [words("caution")];
    if blocks.is_empty() && !document.cautions.is_empty() {
        blocks.push((&alone, Vec::new()));
    }
    let last = blocks.len().saturating_sub(1);
    let texts = blocks.into_iter().enumerate().map(|(place, (columns, tables))| {
        let cautions = if place == last { document.cautions.as_slice() } else { &[] };
        block(columns, &tables, cautions)
    });
    texts.collect::<Vec<_>>().join("\r\n")
}

fn block(columns: &[Column], tables: &[&Table], cautions: &[&str]) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let head = std::iter::once("group").chain(columns.iter().map(|column| column.title));
    // Writing into memory cannot fail, and every row has as many cells as there are columns.
    let _ = writer.write_record(head);
    for table in tables {
        for row in &table.rows {
            let cells = row.iter().map(|cell| match cell {
                Cell::Figure(text) | Cell::Reasoned(text, _) => text.clone(),
                words => harmless(words.text("; ")),
            });
            let _ = writer.write_record(std::iter::once(harmless(table.caption.clone())).chain(cells));
        }
    }
    for caution in cautions {
        let rest = columns.iter().skip(1).map(|_| "");
        let _ = writer.write_record(["caution", *caution].into_iter().chain(rest));
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

    /// All rows of the last table have the same number of cells, and a document without tables has one of cautions.
    #[test]
    fn cautions_are_rows_of_the_last_table() {
        let table = |caption: &str, columns: Vec<_>, row: Vec<&str>| Table {
            caption: caption.to_owned(),
            columns,
            rows: vec![row.into_iter().map(|word| Cell::Words(word.to_owned())).collect()],
            foot: None,
        };
        let first = table("a", vec![words("part"), words("size")], vec!["side", "x"]);
        let last = table("b", vec![words("step"), words("what"), words("how")], vec!["1", "2", "3"]);
        let mut document = Document { cautions: vec!["mind"], ..Document::default() };
        assert_eq!(csv(&document), "group,caution\r\ncaution,mind\r\n");
        document.tables = vec![first, last];
        let text = "group,part,size\r\na,side,x\r\n\r\ngroup,step,what,how\r\nb,1,2,3\r\ncaution,mind,,\r\n";
        assert_eq!(csv(&document), text);
    }
}
