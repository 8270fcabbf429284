//! What a process can make, from `processes.toml`.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::layout::Process;

/// Figures of a process; all "common practice, no source".
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct ProcessRow {
    /// Its word in layouts.
    pub name: String,
    /// Least cap height, mm.
    pub least: f64,
    /// Careful cap height, mm.
    pub careful: f64,
    /// Ground of the figures, as printed.
    pub source: String,
}

#[derive(Debug, Deserialize)]
struct Processes {
    process: Vec<ProcessRow>,
}

static PROCESSES: LazyLock<Processes> = LazyLock::new(|| {
    toml::from_str(include_str!("processes.toml"))
        .expect("the table is part of the program and a test reads it")
});

/// Figures of a process.
#[must_use]
pub fn process_row(process: Process) -> &'static ProcessRow {
    // The rows stand in the order of the processes; a test holds every word to its row.
    &PROCESSES.process[process as usize]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::Named;

    #[test]
    fn every_word_has_its_row_and_says_whose_figure_it_is() {
        for (word, process) in Process::ALL {
            let row = process_row(*process);
            assert_eq!(row.name, *word);
            assert!(row.least > 0.0 && row.least <= row.careful, "{word}");
            assert_eq!(row.source, "common practice, no source");
        }
        assert_eq!(PROCESSES.process.len(), Process::ALL.len());
    }
}
