//! The command line: one file for each command.
//!
//! Exit status: 0 where all is well or there are only warnings, 1 where the project has errors, 2 where the command
//! cannot be carried out: usage, or a file that cannot be read or written.

mod book;
mod build;
mod check;
mod completions;
mod cut;
mod diff;
mod explain;
mod failure;
mod fmt;
mod forms;
mod git;
mod git_setup;
mod lock;
mod man;
mod mark;
mod modules;
mod new;
mod output;
mod pages;
mod paper;
mod projects;
mod show;
mod why;
mod write;

use crate::diag::nearest;
use crate::sheets::SHEETS;
use crate::views::VIEWS;
use clap::error::{ContextKind, ContextValue};
use clap::{CommandFactory, Parser, Subcommand, ValueEnum};
use failure::Failure;
use output::{Screen, Stream};
use std::ffi::OsString;
use std::process::ExitCode;

/// Built-in shelving from a text file: states what is decided, derives every size, prints what is needed to cut it.
#[derive(Debug, Parser)]
#[command(name = "scantling", version, about, max_term_width = 100)]
#[command(after_help = "Figures are for planning; local codes and licensed trades come first.")]
struct Arguments {
    #[command(subcommand)]
    command: Command,
    /// How messages are drawn.
    ///
    /// `json` and `sarif` are one document a run, also where there is nothing to say: `check` prints it to standard
    /// output and leaves its own line out, all other commands print it to standard error.
    #[arg(long, global = true, value_enum, default_value_t = MessageFormat::Human)]
    message_format: MessageFormat,
    /// Whether messages are coloured.
    #[arg(long, global = true, value_enum, default_value_t = Colour::Auto)]
    color: Colour,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum MessageFormat {
    /// With the lines of the text, for people.
    Human,
    /// In sentences without drawings, for screen readers.
    Narrated,
    /// One line each, with path, line and column, for editors.
    Short,
    /// One document in JSON, with places and fixes, for programs.
    Json,
    /// One document in SARIF 2.1.0, for continuous integration.
    Sarif,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Colour {
    /// On a terminal, unless NO_COLOR is set.
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Reads a project, or all that `scantling.toml` names, and says what is wrong.
    Check(check::Arguments),
    /// Writes all sheets of a project into a folder.
    Build(build::Arguments),
    /// Writes the shop book: the pages of every place in one file, for the phone and for paper.
    Book(book::Arguments),
    /// Says which printed pages are still good, by the four signs on each.
    Pages(pages::Arguments),
    /// Prints one sheet of a project.
    Show(show::Arguments),
    /// Says where a number comes from, step by step.
    Why(why::Arguments),
    /// Explains a message by its code, with an example.
    Explain(explain::Arguments),
    /// Rewrites files in the one canonical form.
    Fmt(fmt::Arguments),
    /// Says what a revision means: for stock and days, for parts already made, for printed sheets.
    Diff(diff::Arguments),
    /// Lets git show what a revision means, and look before each commit.
    GitSetup(git_setup::Arguments),
    /// What git calls to compare two files.
    #[command(hide = true)]
    GitDiff(git_setup::DriverArguments),
    /// What git calls to show a file as text.
    #[command(hide = true)]
    GitText(git_setup::TextArguments),
    /// What git calls before a commit.
    #[command(hide = true)]
    GitPreCommit,
    /// Notes in `NAME.progress.scant` how far the parts of `NAME.scant` are made.
    Mark(mark::Arguments),
    /// Takes shared files in as they are now, so that `check` says what a later change of them does.
    Lock(lock::Arguments),
    /// Writes a small project to start from.
    New(new::Arguments),
    /// Prints what a shell needs to complete the words of a command.
    Completions(completions::Arguments),
    /// Prints the manual page, for `man`.
    Man(man::Arguments),
    /// Plans a cutting-stock instance, for benchmarks.
    #[command(hide = true)]
    Cut(cut::Arguments),
}

/// What a command that was carried out found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Verdict {
    /// Nothing, or warnings only.
    Fine,
    /// Errors in the project, or files that are not in canonical form.
    Errors,
}

/// Runs the program; the first argument is its own name.
pub fn main(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            let error = suggested(error);
            // Printing help or usage to a closed pipe is no failure of ours.
            let _ = error.print();
            return if error.use_stderr() { ExitCode::from(2) } else { ExitCode::SUCCESS };
        }
    };
    let mut screen = Screen::new(arguments.message_format, arguments.color);
    write::outlive_limits();
    let done = match &arguments.command {
        Command::Check(arguments) => check::run(arguments, &mut screen),
        Command::Build(arguments) => build::run(arguments, &mut screen),
        Command::Book(arguments) => book::run(arguments, &mut screen),
        Command::Pages(arguments) => pages::run(arguments, &mut screen),
        Command::Show(arguments) => show::run(arguments, &mut screen),
        Command::Why(arguments) => why::run(arguments, &mut screen),
        Command::Explain(arguments) => explain::run(arguments, &mut screen),
        Command::Fmt(arguments) => fmt::run(arguments, &mut screen),
        Command::Diff(arguments) => diff::run(arguments, &mut screen),
        Command::GitSetup(arguments) => git_setup::run(arguments, &mut screen),
        Command::GitDiff(arguments) => git_setup::driver(arguments, &mut screen),
        Command::GitText(arguments) => git_setup::text(arguments, &mut screen),
        Command::GitPreCommit => git_setup::pre_commit(&mut screen),
        Command::Mark(arguments) => mark::run(arguments, &mut screen),
        Command::Lock(arguments) => lock::run(arguments, &mut screen),
        Command::New(arguments) => new::run(arguments, &mut screen),
        Command::Completions(arguments) => completions::run(arguments, &mut screen),
        Command::Man(arguments) => man::run(arguments, &mut screen),
        Command::Cut(arguments) => cut::run(arguments, &mut screen),
    };
    let done = done.inspect_err(|failure| screen.failure(failure));
    let stream = if matches!(arguments.command, Command::Check(_)) { Stream::Out } else { Stream::Err };
    match (done, screen.document(stream)) {
        (Ok(Verdict::Fine), Ok(())) => ExitCode::SUCCESS,
        (Ok(Verdict::Errors), Ok(())) => ExitCode::from(1),
        (Err(_), _) | (_, Err(_)) => ExitCode::from(2),
    }
}

/// What a word may be that is no command: a sheet is shown, and what nobody calls by hand is no proposal.
fn suggested(mut error: clap::Error) -> clap::Error {
    let Some(ContextValue::String(word)) = error.get(ContextKind::InvalidSubcommand).cloned() else {
        return error;
    };
    let near = match error.get(ContextKind::SuggestedSubcommand) {
        Some(ContextValue::Strings(near)) => near.clone(),
        _ => Vec::new(),
    };
    let commands = Arguments::command();
    let hidden = |name: &String| commands.find_subcommand(name).is_some_and(clap::Command::is_hide_set);
    let mut near: Vec<String> = near.into_iter().filter(|name| !hidden(name)).collect();
    let sheet = word.replace('_', "-");
    if let Some(sheet) =
        nearest(&sheet, SHEETS.iter().map(|sheet| sheet.name).chain(VIEWS.iter().map(|view| view.name)))
    {
        near = vec![format!("show {sheet}")];
    }
    error.remove(ContextKind::SuggestedSubcommand);
    if !near.is_empty() {
        error.insert(ContextKind::SuggestedSubcommand, ContextValue::Strings(near));
    }
    error
}

/// Puts a crash into words: what to do about it comes before where it happened.
pub fn crash_hook() {
    std::panic::set_hook(Box::new(|crash| {
        let mut screen = Screen::new(MessageFormat::Human, Colour::Never);
        screen.err(&format!(
            "scantling stopped because of a mistake of its own; no file of yours is half written.\n\
             Please report it with the project file and this line:\n{crash}\n"
        ));
    }));
}
