//! Mode `full`: every line as wide as the field.
//!
//! `h = clamp(min(s, W/w), f, c)` with `w` the widest piece of the line by the user's own
//! breaks, and no line taller than one with a greater ratio. For one field width `W`
//! that is a problem of mode `even` in which all ratios are 1 and `W/w`, or the ceiling
//! of a line with a greater ratio, is a ceiling more. A floor comes before the order of
//! sizes, as everywhere.
//!
//! In fields that are no plain rectangle `W` depends on where a line stands. There all
//! lines grow together to the limit; those that could not grow further even alone stay
//! at that height, the others grow on, until none of them can. No line shrinks for
//! another. In a rectangle that comes to the same.

use super::bracket::{self, Bracket};
use super::problem::{LineProblem, Problem};
use super::stack::Site;

/// Growth of the scale, mm, that is worth leaving a line behind for.
const WORTH: f64 = 0.02;

/// The problem of mode `even` that mode `full` comes to. `limit` finds the largest
/// feasible scale of a problem; where there is none the ceilings are left as they were.
pub(super) fn full(site: &Site<'_>, limit: impl Fn(&Site<'_>) -> Option<Bracket>) -> Problem {
    let mut even = site.problem.clone();
    for line in &mut even.lines {
        line.ratio = 1.0;
    }
    if let Some(room) = &site.rectangle {
        for (line, pieces) in even.lines.iter_mut().zip(site.pieces) {
            let widest = pieces.widest_at_every_node();
            if pieces.is_freed(line) {
                // Too wide at its floor unless broken: it stays there.
                line.ceiling = line.low();
            } else if widest > 0.0 {
                lower(line, line.height_of(widest, room.width(line)));
            }
        }
        keep_order(&mut even, site.problem);
        return even;
    }
    for (line, pieces) in even.lines.iter_mut().zip(site.pieces) {
        if pieces.is_freed(line) {
            // Too wide at its floor unless broken: it stays there.
            line.ceiling = line.low();
        }
    }
    keep_order(&mut even, site.problem);
    let mut reached = 0.0;
    while let Some(found) = limit(&Site { problem: &even, ..*site }) {
        let tall = found.low.max(reached);
        let grows = |&at: &usize| {
            let mut alone = even.clone();
            for (_, line) in alone.lines.iter_mut().enumerate().filter(|&(other, _)| other != at) {
                lower(line, tall);
            }
            keep_order(&mut alone, site.problem);
            let more = tall + WORTH;
            let site = Site { problem: &alone, ..*site };
            alone.lines[at].ceiling >= more && bracket::between(&site, more, more).is_some()
        };
        let growing: Vec<usize> = (0..even.lines.len()).filter(grows).collect();
        let stopped = even.lines.iter().enumerate();
        let stopped = stopped.filter(|(at, line)| line.ceiling > tall && !growing.contains(at));
        let stopped: Vec<usize> = stopped.map(|(at, _)| at).collect();
        for &at in &stopped {
            lower(&mut even.lines[at], tall);
        }
        keep_order(&mut even, site.problem);
        reached = tall;
        if growing.is_empty() || stopped.is_empty() {
            break;
        }
    }
    even
}

/// Lowers a line's ceiling, but not below its floor.
fn lower(line: &mut LineProblem, height: f64) {
    line.ceiling = line.ceiling.min(height.max(line.low()));
}

/// Lowers ceilings so that no line is taller than one with a greater ratio. A drawing has
/// no part in that: a hairline would bring the words under it down to its height.
fn keep_order(even: &mut Problem, asked: &Problem) {
    let mut order: Vec<usize> =
        (0..asked.lines.len()).filter(|at| !asked.lines[*at].drawn).collect();
    order.sort_by(|&a, &b| asked.lines[b].ratio.total_cmp(&asked.lines[a].ratio));
    // Least ceiling of the lines with a greater ratio, and of those seen so far.
    let (mut above, mut seen, mut ratio) = (f64::INFINITY, f64::INFINITY, f64::INFINITY);
    for at in order {
        if asked.lines[at].ratio < ratio {
            (above, ratio) = (seen, asked.lines[at].ratio);
        }
        lower(&mut even.lines[at], above);
        seen = seen.min(even.lines[at].ceiling);
    }
}
