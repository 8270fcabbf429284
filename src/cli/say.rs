//! The only place that prints. A reader that has gone away is no reason to fail,
//! so errors of printing are let go.

use std::io::{IsTerminal, Write};

/// Prints to standard output as it is.
pub(super) fn out(text: &str) {
    let mut stdout = std::io::stdout().lock();
    let _ = stdout.write_all(text.as_bytes());
    let _ = stdout.flush();
}

/// Prints a mistake to standard error, with a final newline.
pub(super) fn mistake(text: &str) {
    let mut stderr = std::io::stderr().lock();
    let _ = writeln!(stderr, "{}", text.trim_end());
}

/// Whether standard error shows colours.
pub(super) fn colour_on_error() -> bool {
    std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none()
}
