//! Petitoile: window or command line.

fn main() -> std::process::ExitCode {
    petitoile::command_line::run(std::env::args_os())
}
