//! The form for continuous integration and code hosting: SARIF 2.1.0 (OASIS Standard).
//!
//! Messages about a project are results. What is not about a project, such as a file that cannot be read, is a
//! notification of the run.

use super::Log;
use super::log::{Change, MarkedPlace, Message, NotChecked, Region};
use super::safe::escaped_json;
use crate::diag::Code;
use camino::Utf8Path;
use serde::Serialize;

const SCHEMA: &str = "https://json.schemastore.org/sarif-2.1.0.json";

/// The document of a run of a program that knows these codes.
#[must_use]
pub fn sarif(log: &Log, codes: impl IntoIterator<Item = &'static Code>) -> String {
    let (about, beside): (Vec<_>, Vec<_>) = log.messages.iter().partition(|message| message.slug.is_some());
    let mut notifications: Vec<Notification> = beside.iter().map(|message| notification(message)).collect();
    if log.left_out > 0 {
        let text = format!("{} more messages were left out", log.left_out);
        notifications.push(Notification { descriptor: None, level: "note", message: Text::new(&text) });
    }
    let asides = log.not_checked.iter().map(NotChecked::words).chain(log.cautions.iter().cloned());
    notifications.extend(asides.map(|text| Notification {
        descriptor: None,
        level: "note",
        message: Text::new(&text),
    }));
    let failed = beside.iter().any(|message| message.severity == "error");
    let driver = Driver {
        name: "scantling",
        version: env!("CARGO_PKG_VERSION"),
        rules: codes.into_iter().map(rule).collect(),
    };
    let run = Run {
        tool: Tool { driver },
        column_kind: "unicodeCodePoints",
        invocations: [Invocation {
            execution_successful: !failed,
            tool_execution_notifications: notifications,
        }],
        results: about.into_iter().map(result).collect(),
    };
    let document = Document { schema: SCHEMA, version: "2.1.0", runs: [run] };
    // These types have text keys and no maps, so they can always be written.
    let text = serde_json::to_string_pretty(&document).unwrap_or_default();
    format!("{}\n", escaped_json(&text))
}

fn rule(code: &'static Code) -> Rule {
    Rule {
        id: code.id,
        name: code.slug,
        short_description: Text::new(code.title),
        full_description: Text::new(code.explanation),
        default_configuration: Configuration { level: code.severity.word() },
    }
}

fn notification(message: &Message) -> Notification {
    Notification {
        descriptor: message.code.clone().map(|id| Descriptor { id }),
        level: message.severity,
        message: Text::new(&whole(message)),
    }
}

fn result(message: &Message) -> Answer {
    // Like all forms, this one says the first primary place first.
    let main = message.labels.iter().position(|label| label.primary);
    let mut places = message.labels.iter().enumerate().map(|(i, place)| (Some(i) == main, place));
    let locations = places.clone().filter(|(is_main, _)| *is_main).map(|(_, place)| location(place, None));
    let related = places.by_ref().filter(|(is_main, _)| !is_main).zip(1..);
    Answer {
        rule_id: message.code.clone(),
        level: message.severity,
        message: Text::new(&whole(message)),
        locations: locations.collect(),
        related_locations: related.map(|((_, place), id)| location(place, Some(id))).collect(),
        fixes: message.fixes.iter().map(fix).collect(),
    }
}

/// The message with its notes and its help, for which SARIF has no fields.
fn whole(message: &Message) -> String {
    let mut text = message.message.clone();
    for note in &message.notes {
        text.push_str(&format!("\n{note}"));
    }
    for help in &message.help {
        text.push_str(&format!("\nhelp: {help}"));
    }
    text
}

fn location(place: &MarkedPlace, id: Option<u32>) -> Location {
    Location {
        id,
        physical_location: PhysicalLocation {
            artifact_location: ArtifactLocation { uri: uri(&place.region.path) },
            region: area(&place.region),
        },
        message: Some(Text::new(&place.text)).filter(|text| !text.text.is_empty()),
    }
}

fn fix(change: &Change) -> Fix {
    let mut files: Vec<(&str, Vec<Replacement>)> = Vec::new();
    for edit in &change.edits {
        let replacement = Replacement {
            deleted_region: area(&edit.region),
            inserted_content: Content { text: edit.replacement.clone() },
        };
        match files.iter_mut().find(|(path, _)| *path == edit.region.path) {
            Some((_, replacements)) => replacements.push(replacement),
            None => files.push((&edit.region.path, vec![replacement])),
        }
    }
    let files = files.into_iter().map(|(path, replacements)| ArtifactChange {
        artifact_location: ArtifactLocation { uri: uri(path) },
        replacements,
    });
    Fix { description: Text::new(&change.title), artifact_changes: files.collect() }
}

fn area(region: &Region) -> Area {
    let ends = region.characters;
    Area {
        start_line: ends.start.line,
        start_column: ends.start.column,
        end_line: ends.end.line,
        end_column: ends.end.column,
    }
}

/// A path as a URI reference (RFC 3986): relative where the path is.
fn uri(path: &str) -> String {
    let path = if std::path::MAIN_SEPARATOR == '\\' { path.replace('\\', "/") } else { path.to_owned() };
    let mut out = String::new();
    if Utf8Path::new(&path).is_absolute() {
        out.push_str(if path.starts_with('/') { "file://" } else { "file:///" });
    }
    for byte in path.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push_str(&format!("%{byte:02X}"));
        }
    }
    out
}

#[derive(Serialize)]
struct Document {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run; 1],
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Run {
    tool: Tool,
    column_kind: &'static str,
    invocations: [Invocation; 1],
    results: Vec<Answer>,
}

#[derive(Serialize)]
struct Tool {
    driver: Driver,
}

#[derive(Serialize)]
struct Driver {
    name: &'static str,
    version: &'static str,
    rules: Vec<Rule>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule {
    id: &'static str,
    name: &'static str,
    short_description: Text,
    full_description: Text,
    default_configuration: Configuration,
}

#[derive(Serialize)]
struct Configuration {
    level: &'static str,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Invocation {
    execution_successful: bool,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    tool_execution_notifications: Vec<Notification>,
}

#[derive(Serialize)]
struct Notification {
    #[serde(skip_serializing_if = "Option::is_none")]
    descriptor: Option<Descriptor>,
    level: &'static str,
    message: Text,
}

#[derive(Serialize)]
struct Descriptor {
    id: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Answer {
    #[serde(skip_serializing_if = "Option::is_none")]
    rule_id: Option<String>,
    level: &'static str,
    message: Text,
    locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    fixes: Vec<Fix>,
}

/// A text of a message; braces are doubled, since a single one begins a placeholder (section 3.11.5).
#[derive(Serialize)]
struct Text {
    text: String,
}

impl Text {
    fn new(text: &str) -> Self {
        Self { text: text.replace('{', "{{").replace('}', "}}") }
    }
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    #[serde(skip_serializing_if = "Option::is_none")]
    id: Option<u32>,
    physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct PhysicalLocation {
    artifact_location: ArtifactLocation,
    region: Area,
}

#[derive(Serialize)]
struct ArtifactLocation {
    uri: String,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Area {
    start_line: u32,
    start_column: u32,
    end_line: u32,
    end_column: u32,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Fix {
    description: Text,
    artifact_changes: Vec<ArtifactChange>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct ArtifactChange {
    artifact_location: ArtifactLocation,
    replacements: Vec<Replacement>,
}

#[derive(Serialize)]
#[serde(rename_all = "camelCase")]
struct Replacement {
    deleted_region: Area,
    inserted_content: Content,
}

#[derive(Serialize)]
struct Content {
    text: String,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_become_uri_references() {
        assert_eq!(uri("examples/a_b.scant"), "examples/a_b.scant");
        assert_eq!(uri("/work/long wall.scant"), "file:///work/long%20wall.scant");
        assert_eq!(uri("c:x#\u{e9}.scant"), "c%3Ax%23%C3%A9.scant");
    }
}
