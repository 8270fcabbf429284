//! Ink widths of all pieces of a line.

/// Ink widths in cap heights of every piece from one stop of a line to a later one.
///
/// In nearly all lines a piece's ink begins with that of its first word and ends with
/// that of its last. Then two numbers a stop say everything: where the ink of a piece
/// begins that begins there, and where that of one ends that ends there, both along
/// the line and both rising. Any other line has a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Widths {
    stops: usize,
    begins: Vec<f64>,
    ends: Vec<f64>,
    table: Vec<f64>,
}

impl Widths {
    /// Widths of a line of so many stops, by [`Self::slot`]. What is missing is 0.
    #[must_use]
    pub fn table(stops: usize, table: Vec<f64>) -> Self {
        Self { stops, begins: Vec::new(), ends: Vec::new(), table }
    }

    /// Widths of a line whose ink begins at `begins` from each stop but the last on, and
    /// ends at `ends` up to each stop but the first; both rise.
    pub(super) fn rising(begins: Vec<f64>, ends: Vec<f64>) -> Self {
        Self { stops: begins.len() + 1, begins, ends, table: Vec::new() }
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
        if let Some((begins, ends)) = self.ladder() {
            let ends = ends.get(to - 1).zip(begins.get(from));
            return ends.map_or(0.0, |(end, begin)| (end - begin).max(0.0));
        }
        self.table.get(Self::slot(self.stops, from, to)).map_or(0.0, |width| width.max(0.0))
    }

    /// Where pieces begin, by first stop, and end, by last stop less one, if two numbers a
    /// stop say everything. Both rise, so that a piece is never narrower than its parts.
    #[must_use]
    pub fn ladder(&self) -> Option<(&[f64], &[f64])> {
        (!self.begins.is_empty()).then_some((&self.begins, &self.ends))
    }
}
