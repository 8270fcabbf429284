//! Short lists of a fit, by line and by row. Where a layout is no longer than most, they
//! ask for no memory.

use smallvec::{Array, SmallVec};

/// An entry a line.
pub(super) type ByLine<T> = SmallVec<[T; 4]>;

/// An entry a row.
pub(super) type ByRow<T> = SmallVec<[T; 16]>;

/// So many entries, each by its place. A list that is gathered from an iterator would be the
/// same, but takes several times as long where it is short.
pub(super) fn listed<A: Array>(
    count: usize,
    mut entry: impl FnMut(usize) -> A::Item,
) -> SmallVec<A> {
    let mut list = SmallVec::with_capacity(count);
    for at in 0..count {
        list.push(entry(at));
    }
    list
}

/// An entry for each row of each line.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Rows<T> {
    /// Line after line.
    all: ByRow<T>,
    /// By line, where its entries end.
    ends: ByLine<usize>,
}

impl<T> Rows<T> {
    pub(super) fn new() -> Self {
        Self { all: ByRow::new(), ends: ByLine::new() }
    }

    /// An entry more for the line that is being listed.
    pub(super) fn push(&mut self, entry: T) {
        self.all.push(entry);
    }

    /// That line has no more rows.
    pub(super) fn end_line(&mut self) {
        self.ends.push(self.all.len());
    }

    /// The entries of a line's rows.
    #[inline]
    pub(super) fn of(&self, line: usize) -> &[T] {
        let from = line.checked_sub(1).map_or(0, |above| self.ends[above]);
        &self.all[from..self.ends[line]]
    }

    /// The same, line by line.
    pub(super) fn lines(&self) -> impl Iterator<Item = &[T]> {
        (0..self.ends.len()).map(|line| self.of(line))
    }

    /// How many rows each line has.
    pub(super) fn counts(&self) -> ByLine<usize> {
        listed(self.ends.len(), |line| self.of(line).len())
    }

    /// How many rows there are in all.
    pub(super) fn len(&self) -> usize {
        self.all.len()
    }
}
