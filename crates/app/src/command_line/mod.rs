//! The command line: every job of the window with nobody in between.
//!
//! Exit codes: 0 fine; 1 a finding of the gravity "unusable"; 2 bad input, with one line on standard error that names
//! the file, the place and the remedy. Never here: geometry, files (see [`crate::files`]), wording of outcomes
//! (see [`crate::report`]).

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueEnum};
use petitoile_core::project::Project;

use crate::{demos, files};

mod adapt;
mod bodies;
mod bring_in;
mod check;
mod demo;
mod display;
mod export;
mod fit;
mod lay;
mod measure;
mod order;
mod out;
mod print;
mod redraft;
mod trouble;
mod which;

use trouble::BadInput;

/// A garment made for one body, made wearable on a doll.
#[derive(Debug, Parser)]
#[command(name = "petitoile", version, about, args_conflicts_with_subcommands = true, after_help = EXIT_CODES)]
struct CommandLine {
    #[command(subcommand)]
    job: Option<Job>,
    /// Project to open in the window; without it a demo is opened
    file: Option<PathBuf>,
}

const EXIT_CODES: &str = "\
Exit codes: 0 fine; 1 something cannot be cut, sewn or worn (see the findings); 2 bad input, told in one line.
BODY is the key or name of a body (see `petitoile bodies`), or a body file.";

#[derive(Debug, Subcommand)]
enum Job {
    /// Adapts the demo jacket to a doll, writes PDF, SVG and report, then opens the window
    Demo(demo::Demo),
    /// Makes a garment of drawings, printed sheets or pictures of its pieces
    BringIn(bring_in::BringIn),
    /// Says what fits and what does not
    Check(check::Check),
    /// Measures edges, seams, girths and ease
    Measure(measure::MeasureJob),
    /// Says how it fits: ease, dressing, layers, bulk
    Fit(fit::Fit),
    /// Says in which order it is sewn
    Order(order::OrderJob),
    /// Lays the pieces on the cloth that is there, or says how much to buy
    Lay(lay::LayJob),
    /// Brings a garment to another body
    Adapt(adapt::Adapt),
    /// Prints the pieces at true scale on pages (PDF)
    Print(print::Print),
    /// Writes the pieces as a drawing in real millimetres (SVG, DXF or PNG)
    Export(export::Export),
    /// Lists the bodies that come with Petitoile
    Bodies(bodies::Bodies),
    /// Drafts anew and compares: how well garments are adapted (a benchmark)
    Redraft(redraft::Redraft),
}

/// Which fitting of a file, and how its outcome is reported.
#[derive(Debug, Args)]
struct Asked {
    /// Project file
    file: PathBuf,
    /// Fitting in it; the first one when left out
    #[arg(long, value_name = "NAME")]
    fitting: Option<String>,
    /// Report as JSON, lengths in mm
    #[arg(long)]
    json: bool,
}

/// Paper sizes on the command line.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Paper {
    /// 210 x 297 mm
    A4,
    /// 8 1/2 x 11 in
    Letter,
}

/// What a command found to say.
struct Outcome {
    /// For standard output.
    words: String,
    /// Can everything be cut, sewn and worn?
    usable: bool,
    /// What to show in the window afterwards.
    then_open: Option<(Project, PathBuf)>,
}

impl Outcome {
    fn of(words: String, usable: bool) -> Self {
        Self {
            words,
            usable,
            then_open: None,
        }
    }
}

const BAD_INPUT: u8 = 2;

/// Runs the command line; opens the window where that is what was asked for.
pub fn run(arguments: impl Iterator<Item = OsString>) -> ExitCode {
    let asked = match CommandLine::try_parse_from(arguments) {
        Ok(asked) => asked,
        Err(usage) => {
            // Help and version go to standard output and are fine. That a pipe was closed meanwhile is no trouble.
            let _ = usage.print();
            return if usage.use_stderr() {
                ExitCode::from(BAD_INPUT)
            } else {
                ExitCode::SUCCESS
            };
        }
    };
    let done = match &asked.job {
        None => return opened(asked.file),
        Some(Job::Demo(job)) => job.run(),
        Some(Job::BringIn(job)) => job.run(),
        Some(Job::Check(job)) => job.run(),
        Some(Job::Measure(job)) => job.run(),
        Some(Job::Fit(job)) => job.run(),
        Some(Job::Order(job)) => job.run(),
        Some(Job::Lay(job)) => job.run(),
        Some(Job::Adapt(job)) => job.run(),
        Some(Job::Print(job)) => job.run(),
        Some(Job::Export(job)) => job.run(),
        Some(Job::Bodies(job)) => job.run(),
        Some(Job::Redraft(job)) => job.run(),
    };
    match done.and_then(|outcome| said(&outcome)) {
        Ok(code) => code,
        Err(bad) => refused(&bad),
    }
}

fn refused(bad: &BadInput) -> ExitCode {
    out::complain(&bad.to_string());
    ExitCode::from(BAD_INPUT)
}

fn said(outcome: &Outcome) -> Result<ExitCode, BadInput> {
    out::say(&outcome.words).map_err(|error| {
        BadInput::new(format!(
            "the report cannot be written ({}); check where the output goes",
            files::plain(&error)
        ))
    })?;
    if let Some((project, path)) = &outcome.then_open {
        display::show(
            project.clone(),
            Some(path.clone()),
            "everything is in the folder named above",
        );
    }
    Ok(if outcome.usable {
        ExitCode::SUCCESS
    } else {
        ExitCode::from(1)
    })
}

/// `petitoile [FILE]`: the window and nothing else. A good file without a screen to show it on is no bad input.
fn opened(file: Option<PathBuf>) -> ExitCode {
    let project = match &file {
        Some(path) => files::open(path)
            .map(|opened| opened.project)
            .map_err(BadInput::from),
        None => demos::first().map_err(BadInput::new),
    };
    let project = match project {
        Ok(project) => project,
        Err(bad) => return refused(&bad),
    };
    display::show(
        project,
        file,
        "start it from a desktop, or use a command: `petitoile --help` lists them",
    );
    ExitCode::SUCCESS
}
