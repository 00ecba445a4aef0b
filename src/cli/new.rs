//! `scantling new DIR`

use super::output::Screen;
use super::write::Target;
use super::{Failure, Verdict};
use camino::Utf8PathBuf;

#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The folder for the project; it is made where it is missing.
    folder: Utf8PathBuf,
    /// Sizes in millimetres.
    #[arg(long)]
    metric: bool,
    /// Along a wall that is still to be read: each reading is a `?`, and the survey page of the book asks for it.
    #[arg(long)]
    survey: bool,
}

/// The name of the project's main file.
const FILE: &str = "project.scant";

pub(super) fn run(arguments: &Arguments, screen: &mut Screen) -> Result<Verdict, Failure> {
    let [text, room] = if arguments.metric {
        [include_str!("new/metric.scant"), include_str!("new/metric_room.scant")]
    } else {
        [include_str!("new/inch.scant"), include_str!("new/inch_room.scant")]
    };
    let (text, then) = if arguments.survey {
        (along(text, room), "book --for survey --out survey.html")
    } else {
        (text.to_owned(), "show cut-list")
    };
    let path = arguments.folder.join(FILE);
    // A project that somebody works on is never replaced.
    let target = Target::making(&path, screen)?;
    if target.exists() {
        return Err(Failure::Exists { path });
    }
    target.replace(&text)?;
    screen.out(&format!("{path}\n\nscantling {then} {path}\n"))?;
    Ok(Verdict::Fine)
}

/// The project along a wall in place of one between two walls of a stated length.
fn along(text: &str, room: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let stated = line.trim_start();
        if stated.starts_with("run ") {
            out.push_str(room);
            out.push('\n');
        }
        if stated.starts_with("length = 72\"") || stated.starts_with("length = 1800mm") {
            out.push_str("  along = house.long\n");
        } else if !stated.starts_with("end ") {
            out.push_str(line);
            out.push('\n');
        }
    }
    out
}
