//! Narrowing: lines that may be narrowed and miss their height are set narrower, one per
//! cent of their drawn width at a time, until they reach it.
//!
//! It serves only to reach a height: the stated cap height or least height, else the
//! floor, then the reading wish. The widest step that reaches it wins, so a line is never
//! narrowed to grow beyond it. Where several lines miss, they narrow together. What does
//! not reach its floor even at the narrowest is left there, where it comes nearest; what
//! does not reach its wish is not narrowed for it, since narrow letters that are still too
//! small are no easier to read. The feasible scales are not assumed to rise as lines
//! narrow: every step is fitted.

use crate::fit::{self, Plan};
use crate::floors;
use crate::layout::Layout;
use crate::lettering::{Narrower, ShapedLine};
use crate::plate::Field;
use crate::wording::Marks;

/// Heights nearer than this are reached, mm.
const REACHED_MM: f64 = 1e-6;

/// What the lines are fitted with.
pub(super) struct Fitting<'a> {
    pub(super) layout: &'a Layout,
    pub(super) marks: &'a [Marks],
    pub(super) field: &'a Field,
}

/// A height that a line is narrowed for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Goal {
    /// Stated, or the floor.
    Least,
    /// The reading wish of a line without stated height.
    Wish,
}

/// Which lines fall short of their goal in a plan, of those asked about.
struct Fitted {
    short: Vec<bool>,
}

impl Fitting<'_> {
    /// The lines, those narrowed that have to be. `narrowers` runs along them: `None` for
    /// a line that may not be narrowed, or cannot.
    pub(super) fn narrowed(
        &self,
        drawn: Vec<ShapedLine>,
        narrowers: &mut [Option<Narrower<'_>>],
    ) -> Vec<ShapedLine> {
        let mut state = vec![100_u32; drawn.len()];
        let may: Vec<bool> = narrowers.iter().map(Option::is_some).collect();
        self.reach(Goal::Least, &drawn, narrowers, &may, &mut state);
        // Lines that cannot reach their wish leave the field to the others.
        let mut wishing = may;
        loop {
            let mut tried = state.clone();
            let short = self.reach(Goal::Wish, &drawn, narrowers, &wishing, &mut tried).short;
            let vain = |at: usize| short[at] && wishing[at];
            if !(0..drawn.len()).any(vain) {
                state = tried;
                break;
            }
            wishing = (0..drawn.len()).map(|at| wishing[at] && !vain(at)).collect();
        }
        at_steps(&drawn, narrowers, &state)
    }

    /// Narrows the lines that may be until none falls short that could go on; tells those
    /// that still do.
    fn reach(
        &self,
        goal: Goal,
        drawn: &[ShapedLine],
        narrowers: &mut [Option<Narrower<'_>>],
        may: &[bool],
        state: &mut [u32],
    ) -> Fitted {
        loop {
            let fitted = self.fitted(goal, &at_steps(drawn, narrowers, state));
            let mut moved = false;
            for (at, narrower) in narrowers.iter_mut().enumerate() {
                let (Some(narrower), true) = (narrower, fitted.short[at] && may[at]) else {
                    continue;
                };
                if narrower.at(state[at] - 1).is_some() {
                    state[at] -= 1;
                    moved = true;
                }
            }
            if !moved {
                return fitted;
            }
        }
    }

    fn fitted(&self, goal: Goal, lines: &[ShapedLine]) -> Fitted {
        let floors = floors::of(lines, self.layout);
        let problem = fit::problem(self.layout, lines, self.marks, &floors, self.field);
        let Plan { heights, rows, .. } = fit::plan(&problem, self.field);
        let each = self.layout.lines.iter().zip(&floors).zip(&problem.lines).zip(heights);
        let short = each.map(|(((line, floor), bounds), height)| {
            let stated = line.cap_height.or(line.at_least);
            let wanted = match goal {
                Goal::Least => Some(stated.unwrap_or(floor.floor)),
                Goal::Wish => floor.wish.filter(|_| stated.is_none()),
            };
            let within = wanted.map(|wanted| wanted.min(bounds.ceiling));
            rows.is_empty() && goal == Goal::Least
                || within.is_some_and(|wanted| height < wanted - REACHED_MM)
        });
        Fitted { short: short.collect() }
    }
}

/// The lines at their steps.
fn at_steps(
    drawn: &[ShapedLine],
    narrowers: &mut [Option<Narrower<'_>>],
    state: &[u32],
) -> Vec<ShapedLine> {
    let each = drawn.iter().zip(narrowers).zip(state);
    each.map(|((drawn, narrower), per_cent)| {
        let step = narrower.as_mut().and_then(|narrower| narrower.at(*per_cent));
        step.unwrap_or(drawn).clone()
    })
    .collect()
}
