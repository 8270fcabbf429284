//! Which line of one version is which of another.

use super::wording::alike;

/// Least likeness by which a line is taken for the same line with another wording.
const SAME: f64 = 0.4;

/// Most pairs of lines that are looked at one by one; beyond, lines are paired in order.
const LOOKED_AT: usize = 2500;

/// A line of the old version, of the new one, or the same line in both.
pub(super) type Pair = (Option<usize>, Option<usize>);

/// Lines paired in order, so that likeness is greatest in all; lines that are like no other
/// stand alone, those that went before those that came.
pub(super) fn pairs(old: &[&str], new: &[&str]) -> Vec<Pair> {
    let head = old.iter().zip(new).take_while(|(a, b)| a == b).count();
    let (old_rest, new_rest) = (old.get(head..).unwrap_or(&[]), new.get(head..).unwrap_or(&[]));
    let tail = old_rest.iter().rev().zip(new_rest.iter().rev()).take_while(|(a, b)| a == b).count();
    let (rows, columns) = (old_rest.len() - tail, new_rest.len() - tail);
    let middle = if rows * columns > LOOKED_AT {
        in_order(rows, columns)
    } else {
        best(old_rest.get(..rows).unwrap_or(&[]), new_rest.get(..columns).unwrap_or(&[]))
    };
    let shifted = |(a, b): Pair| (a.map(|a| a + head), b.map(|b| b + head));
    let ends = |from: (usize, usize), count: usize| {
        (0..count).map(move |at| (Some(from.0 + at), Some(from.1 + at)))
    };
    ends((0, 0), head)
        .chain(middle.into_iter().map(shifted))
        .chain(ends((head + rows, head + columns), tail))
        .collect()
}

fn in_order(rows: usize, columns: usize) -> Vec<Pair> {
    let within = |at: usize, count: usize| (at < count).then_some(at);
    (0..rows.max(columns)).map(|at| (within(at, rows), within(at, columns))).collect()
}

/// The pairing of the greatest likeness: the usual table of an alignment, walked back.
fn best(old: &[&str], new: &[&str]) -> Vec<Pair> {
    let likeness: Vec<Vec<f64>> =
        old.iter().map(|a| new.iter().map(|b| alike(a, b)).collect()).collect();
    let like = |a: usize, b: usize| likeness.get(a).and_then(|row| row.get(b)).copied();
    let width = new.len() + 1;
    let mut table = vec![0.0; (old.len() + 1) * width];
    let at = |table: &[f64], a: usize, b: usize| table.get(a * width + b).copied().unwrap_or(0.0);
    for a in (0..old.len()).rev() {
        for b in (0..new.len()).rev() {
            let alone = at(&table, a + 1, b).max(at(&table, a, b + 1));
            let paired = like(a, b).filter(|like| *like >= SAME);
            let paired = paired.map_or(0.0, |like| like + at(&table, a + 1, b + 1));
            if let Some(cell) = table.get_mut(a * width + b) {
                *cell = alone.max(paired);
            }
        }
    }
    let (mut a, mut b) = (0, 0);
    let mut pairs = Vec::new();
    while a < old.len() && b < new.len() {
        let here = at(&table, a, b);
        if here > 0.0 && at(&table, a + 1, b) >= here {
            pairs.push((Some(a), None));
            a += 1;
        } else if here > 0.0 && at(&table, a, b + 1) >= here {
            pairs.push((None, Some(b)));
            b += 1;
        } else if here > 0.0 {
            pairs.push((Some(a), Some(b)));
            (a, b) = (a + 1, b + 1);
        } else {
            break;
        }
    }
    pairs.extend((a..old.len()).map(|a| (Some(a), None)));
    pairs.extend((b..new.len()).map(|b| (None, Some(b))));
    pairs
}

#[cfg(test)]
mod tests {
    use super::pairs;

    #[test]
    fn a_line_put_in_between_shifts_the_others_and_changes_none() {
        let old = ["MARROWBY VALE", "The Striking Cup", "1976"];
        let new = ["MARROWBY VALE", "given by the band", "The Striking Cup", "1976"];
        let paired = [(Some(0), Some(0)), (None, Some(1)), (Some(1), Some(2)), (Some(2), Some(3))];
        assert_eq!(pairs(&old, &new), paired);
        let back: Vec<_> = paired.iter().map(|(a, b)| (*b, *a)).collect();
        assert_eq!(pairs(&new, &old), back);
    }

    #[test]
    fn a_line_with_another_word_is_the_same_line() {
        let old = ["in memory of fifty years", "given by her family"];
        let new = ["in memory of sixty years", "1976"];
        assert_eq!(pairs(&old, &new), [(Some(0), Some(0)), (Some(1), None), (None, Some(1))]);
    }

    #[test]
    fn nothing_is_lost_however_many_lines_there_are() {
        let old: Vec<String> = (0..60).map(|n| format!("old {n}")).collect();
        let new: Vec<String> = (0..70).map(|n| format!("{n} new")).collect();
        let refs =
            |all: &[String]| all.iter().map(String::as_str).map(str::to_owned).collect::<Vec<_>>();
        let (old, new) = (refs(&old), refs(&new));
        let (old, new): (Vec<&str>, Vec<&str>) =
            (old.iter().map(String::as_str).collect(), new.iter().map(String::as_str).collect());
        let found = pairs(&old, &new);
        assert_eq!(found.iter().filter(|pair| pair.0.is_some()).count(), 60);
        assert_eq!(found.iter().filter(|pair| pair.1.is_some()).count(), 70);
        assert_eq!(pairs(&[], &[]), []);
        assert_eq!(pairs(&["a"], &[]), [(Some(0), None)]);
    }
}
