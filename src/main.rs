//! The command `ansata`; everything is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    ansata::cli::run()
}
