//! The form for programs: one document in JSON, a line a message, so that tools that know only lines can search it.

use super::Log;
use super::safe::escaped_json;

/// The document of a run.
#[must_use]
pub fn json(log: &Log) -> String {
    // These types have text keys and no maps, so they can always be written.
    let lines: Vec<String> =
        log.messages.iter().filter_map(|message| serde_json::to_string(message).ok()).collect();
    let messages = if lines.is_empty() { String::new() } else { format!("\n{}\n", lines.join(",\n")) };
    let cautions = match (log.cautions.is_empty(), serde_json::to_string(&log.cautions)) {
        (false, Ok(cautions)) => format!(", \"cautions\": {cautions}"),
        _ => String::new(),
    };
    let not_checked: Vec<String> =
        log.not_checked.iter().filter_map(|lack| serde_json::to_string(lack).ok()).collect();
    let not_checked = if not_checked.is_empty() {
        String::new()
    } else {
        format!(", \"not_checked\": [\n{}\n]", not_checked.join(",\n"))
    };
    let document = format!(
        "{{\"version\": {VERSION}, \"left_out\": {}, \"messages\": [{messages}]{not_checked}{cautions}}}\n",
        log.left_out
    );
    escaped_json(&document).into_owned()
}

/// Grows when a reader of the document could no longer understand it.
const VERSION: u32 = 2;
