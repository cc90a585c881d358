//! Parses the command line, runs, exits.

use clap::Parser as _;
use overwinter::cli::{BAD_INPUT, Cli, OUR_FAULT, Out, run};
use std::io::{IsTerminal as _, Write as _};
use std::process::ExitCode;

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|info| {
        let _ = writeln!(
            std::io::stderr(),
            "overwinter met a fault of its own and stopped: {info}\nPlease report it with the herd file and the command."
        );
    }));
    let cli = Cli::parse();
    let live = std::io::stderr().is_terminal();
    let color = std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty()) && live;
    let worked = std::panic::catch_unwind(|| {
        let mut answer = std::io::BufWriter::new(std::io::stdout().lock());
        // Not locked: a fault on another thread has to be said, too.
        let mut rest = std::io::stderr();
        let code = run(&cli, &mut Out { answer: &mut answer, rest: &mut rest, color, live })?;
        answer.flush()?;
        Ok::<u8, std::io::Error>(code)
    });
    match worked {
        Ok(Ok(code)) => ExitCode::from(code),
        // Nobody reads on (`| head`): that is not a fault.
        Ok(Err(fault)) if fault.kind() == std::io::ErrorKind::BrokenPipe => ExitCode::SUCCESS,
        Ok(Err(fault)) => {
            let _ = writeln!(std::io::stderr(), "error: the answer could not be written: {fault}");
            ExitCode::from(BAD_INPUT)
        }
        Err(_) => ExitCode::from(OUR_FAULT),
    }
}
