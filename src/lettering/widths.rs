//! Ink widths of all pieces of a line.

use std::sync::Arc;

/// Ink widths in cap heights of every piece from one stop of a line to a later one.
///
/// In nearly all lines a piece's ink begins with that of its first word and ends with
/// that of its last. Then two numbers a stop say everything: where the ink of a piece
/// begins that begins there, and where that of one ends that ends there, both along
/// the line and both rising. Any other line has a table.
///
/// A copy shares what it holds.
#[derive(Debug, Clone, PartialEq)]
pub struct Widths {
    stops: usize,
    held: Held,
}

#[derive(Debug, Clone, PartialEq)]
enum Held {
    Ladder(Arc<[Rung]>),
    Table(Arc<[f64]>),
}

/// Where pieces begin and end at a stop of a line; both rise from stop to stop, so that a
/// piece is never narrower than its parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rung {
    /// Where the ink of pieces ends that end there; the first stop's is never asked.
    pub end: f64,
    /// Where the ink of pieces begins that begin there; the last stop's is never asked.
    pub begin: f64,
}

impl Widths {
    /// Widths of a line of so many stops, by [`Self::slot`]. What is missing is 0.
    #[must_use]
    pub fn table(stops: usize, table: Vec<f64>) -> Self {
        Self { stops, held: Held::Table(table.into()) }
    }

    /// Widths of a line for which two numbers a stop say everything.
    pub(super) fn rising(ladder: Arc<[Rung]>) -> Self {
        Self { stops: ladder.len(), held: Held::Ladder(ladder) }
    }

    /// Index of the piece between stops `from < to` into a table, for `stops` stops.
    #[must_use]
    pub fn slot(stops: usize, from: usize, to: usize) -> usize {
        let pieces_before = from * (2 * stops - from - 1) / 2;
        pieces_before + (to - from - 1)
    }

    /// Number of stops.
    #[must_use]
    pub fn stops(&self) -> usize {
        self.stops
    }

    /// Width of the piece between two stops; 0 where it has no ink or is none.
    #[must_use]
    pub fn of(&self, from: usize, to: usize) -> f64 {
        if from >= to || to >= self.stops {
            return 0.0;
        }
        let width = match &self.held {
            Held::Ladder(ladder) => {
                ladder.get(to).zip(ladder.get(from)).map(|(to, from)| to.end - from.begin)
            }
            Held::Table(table) => table.get(Self::slot(self.stops, from, to)).copied(),
        };
        width.map_or(0.0, |width| width.max(0.0))
    }

    /// Where pieces begin and end, if two numbers a stop say everything.
    #[must_use]
    pub fn ladder(&self) -> Option<&Arc<[Rung]>> {
        match &self.held {
            Held::Ladder(ladder) => Some(ladder),
            Held::Table(_) => None,
        }
    }
}
