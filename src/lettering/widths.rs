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
    Ladder(Arc<Ladder>),
    Table(Arc<[f64]>),
}

/// Where pieces begin and end along a line; both rise, so that a piece is never narrower
/// than its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Ladder {
    /// By stop, where the ink of pieces begins that begin there; the last one's is never asked.
    pub begins: Vec<f64>,
    /// By stop, where the ink of pieces ends that end there; the first one's is never asked.
    pub ends: Vec<f64>,
}

impl Widths {
    /// Widths of a line of so many stops, by [`Self::slot`]. What is missing is 0.
    #[must_use]
    pub fn table(stops: usize, table: Vec<f64>) -> Self {
        Self { stops, held: Held::Table(table.into()) }
    }

    /// Widths of a line for which two numbers a stop say everything.
    pub(super) fn rising(ladder: Ladder) -> Self {
        Self { stops: ladder.begins.len(), held: Held::Ladder(Arc::new(ladder)) }
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
                ladder.ends.get(to).zip(ladder.begins.get(from)).map(|(end, begin)| end - begin)
            }
            Held::Table(table) => table.get(Self::slot(self.stops, from, to)).copied(),
        };
        width.map_or(0.0, |width| width.max(0.0))
    }

    /// Where pieces begin and end, if two numbers a stop say everything.
    #[must_use]
    pub fn ladder(&self) -> Option<&Arc<Ladder>> {
        match &self.held {
            Held::Ladder(ladder) => Some(ladder),
            Held::Table(_) => None,
        }
    }
}
