//! The members of the library as they are written.

use scantling::compile::LIBRARY;

/// A declared member, or a named size where the kind is `let`.
pub struct Entry {
    pub kind: &'static str,
    pub name: &'static str,
    pub doc: &'static str,
    pub text: &'static str,
    pub values: Vec<&'static str>,
}

/// The members and named sizes of the library as they are written.
pub fn entries() -> Vec<Entry> {
    let (mut entries, mut doc, mut open) = (Vec::new(), "", false);
    for line in LIBRARY.iter().flat_map(|(_, text)| text.lines()) {
        let words: Vec<&str> = line.split(' ').collect();
        if let Some(text) = line.strip_prefix("/// ") {
            doc = text;
        } else if let Some(stated) = line.strip_prefix("let ") {
            let (name, _) = stated.split_once(" = ").unwrap();
            let value = stated.split_once(" // ").unwrap().0;
            entries.push(Entry { kind: "let", name, doc: "", text: "", values: vec![value] });
        } else if !line.starts_with([' ', '/']) && line.ends_with('{') {
            open = words[0] != "each";
            if open {
                let text = line.split('"').nth(1).unwrap_or("");
                entries.push(Entry { kind: words[0], name: words[1], doc, text, values: Vec::new() });
            }
            doc = "";
        } else if line.starts_with("  ") && open {
            entries.last_mut().unwrap().values.push(line.split_once(" // ").unwrap().0.trim());
        }
    }
    entries
}
