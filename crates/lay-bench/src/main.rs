//! `petitoile-lay-bench DIR --seconds N --seed S`: see [`petitoile_lay_bench::request::USE`].

use std::io::Write as _;
use std::path::Path;
use std::process::ExitCode;

use petitoile_lay::search::{Problem, StripProblem};
use petitoile_lay_bench::clock::Clock;
use petitoile_lay_bench::instance::{self, Instance, items_area, room_area};
use petitoile_lay_bench::measure::{self, RoomsOutcome, median};
use petitoile_lay_bench::request::Request;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(why) => {
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::from(2)
        }
    }
}

fn say(line: &str) -> Result<(), String> {
    let mut out = std::io::stdout();
    writeln!(out, "{line}")
        .and_then(|()| out.flush())
        .map_err(|why| why.to_string())
}

fn run() -> Result<(), String> {
    let request = Request::read(std::env::args().skip(1))?;
    let files = request.files()?;
    say(&format!(
        "{} {} for each instance and seed; seeds {:?}",
        request.seconds,
        Clock::kind(),
        request.seeds
    ))?;
    for file in files {
        let name = file
            .file_stem()
            .map(|name| name.to_string_lossy().into_owned())
            .unwrap_or_default();
        one(&request, &name, &file).or_else(|why| say(&format!("{name:<12} {why}")))?;
    }
    Ok(())
}

fn one(request: &Request, name: &str, file: &Path) -> Result<(), String> {
    match instance::read(file)? {
        Instance::Strip(strip) => strip_line(request, name, &strip),
        Instance::Rooms(problem) => {
            let counts = if request.rooms.is_empty() {
                vec![enough(&problem)]
            } else {
                request.rooms.clone()
            };
            for count in counts {
                let mut fewer = problem.clone();
                fewer.rooms.truncate(count);
                rooms_line(
                    request,
                    &format!("{name}, {} rooms", fewer.rooms.len()),
                    &fewer,
                )?;
            }
            Ok(())
        }
        Instance::Offcuts(problem) => {
            for scale in &request.scales {
                rooms_line(
                    request,
                    &format!("{name} x {scale}"),
                    &instance::scaled(&problem, *scale),
                )?;
            }
            Ok(())
        }
    }
}

/// The fewest rooms, largest first, with 1.9 times the area of the items.
fn enough(problem: &Problem) -> usize {
    let wanted = 1.9 * items_area(&problem.items);
    let mut sum = 0.0;
    let before = problem.rooms.iter().take_while(|room| {
        let enough = sum >= wanted;
        sum += room_area(room);
        !enough
    });
    before.count()
}

fn strip_line(request: &Request, name: &str, strip: &StripProblem) -> Result<(), String> {
    let mut densities = Vec::new();
    let mut steps = 0;
    for seed in &request.seeds {
        let outcome =
            measure::strip(strip, *seed, request.seconds).map_err(|why| why.to_string())?;
        densities.push(outcome.density);
        steps += outcome.steps;
    }
    let each: Vec<String> = densities
        .iter()
        .map(|density| format!("{density:.2}"))
        .collect();
    let steps = steps / request.seeds.len().max(1) as u64;
    say(&format!(
        "{name:<24} density {:.2} %  ({}; {steps} steps)",
        median(&densities),
        each.join(", ")
    ))
}

fn rooms_line(request: &Request, name: &str, problem: &Problem) -> Result<(), String> {
    let mut outcomes: Vec<RoomsOutcome> = Vec::new();
    for seed in &request.seeds {
        outcomes
            .push(measure::rooms(problem, *seed, request.seconds).map_err(|why| why.to_string())?);
    }
    // A search that did not end counts as one that would never end.
    let times: Vec<f64> = outcomes
        .iter()
        .map(|outcome| outcome.complete_after.unwrap_or(f64::INFINITY))
        .collect();
    let each: Vec<String> = outcomes
        .iter()
        .map(|outcome| match outcome.complete_after {
            Some(seconds) => format!("{seconds:.2} s"),
            None => format!("{} of {}", outcome.placed, outcome.of),
        })
        .collect();
    let density = outcomes.first().map_or(0.0, |outcome| outcome.density);
    let median = median(&times);
    let median = if median.is_finite() {
        format!("complete after {median:.2} s")
    } else {
        "not complete".to_owned()
    };
    say(&format!(
        "{name:<24} density {density:.2} %  {median}  ({})",
        each.join(", ")
    ))
}
