//! Ink against the margin, the border, the rows beside it; and the margin itself.

use kurbo::Rect;

use crate::finding::{Finding, Quantity, Scope, Severity};
use crate::plate::{Outline, border_edge, border_inner_edge, outline};
use crate::units::digits::fixed;

use super::{COMMON, EQUAL_MM, Facts, GEOMETRY, at_key, at_line};

/// Least margin, mm, and as a share of the plate's short side.
const MARGIN_MM: f64 = 3.0;
const MARGIN_SHARE: f64 = 0.05;
/// Least white between a border's inner edge and ink, mm.
const INK_TO_BORDER_MM: f64 = 1.0;

pub(super) fn findings(facts: &Facts<'_>) -> Vec<Finding> {
    let mut found = over_margin(facts);
    found.extend(over_border(facts));
    found.extend(overlapping(facts));
    found.extend(thin_margin(facts));
    found
}

/// Least distance from a row's ink to an edge, mm.
fn depth(edge: &Outline, ink: &Rect) -> f64 {
    edge.depth_of_box([ink.x0, ink.y0, ink.x1, ink.y1])
}

/// The fit keeps ink inside the margin; this measures what it placed, so that a
/// mistake in the fit cannot reach the metal.
fn over_margin(facts: &Facts<'_>) -> Vec<Finding> {
    let plate = &facts.layout.plate;
    let required = plate.bevel + plate.margin;
    let edge = outline(plate);
    let rows = facts.fitted.rows.iter().filter(|row| row.has_ink());
    rows.filter_map(|row| {
        let depth = depth(&edge, &row.ink);
        (depth < required - EQUAL_MM).then(|| Finding {
            code: "ink-over-margin",
            severity: Severity::Stop,
            scope: Scope::Lettering,
            place: at_line(row.line, ""),
            message: format!(
                "\u{201c}{}\u{201d} stands {} mm from the plate's edge; bevel and margin ask for {} mm.",
                row.reads(),
                fixed(depth, 2),
                fixed(required, 2)
            ),
            measured: Some(Quantity::mm(depth)),
            required: Some(Quantity::mm(required)),
            rule: "no ink outside the margin".to_owned(),
            source: GEOMETRY.to_owned(),
        })
    })
    .collect()
}

fn over_border(facts: &Facts<'_>) -> Vec<Finding> {
    let plate = &facts.layout.plate;
    let Some(inner) = border_inner_edge(plate) else { return Vec::new() };
    let edge = border_edge(plate);
    let nearest = facts
        .fitted
        .rows
        .iter()
        .filter(|row| row.has_ink())
        .map(|row| depth(&edge, &row.ink) - plate.bevel - inner)
        .fold(f64::INFINITY, f64::min);
    if nearest >= INK_TO_BORDER_MM - EQUAL_MM {
        return Vec::new();
    }
    let over = nearest < -EQUAL_MM;
    vec![Finding {
        code: if over { "ink-over-border" } else { "ink-near-border" },
        severity: if over { Severity::Stop } else { Severity::Caution },
        scope: Scope::Lettering,
        place: at_key("plate.border"),
        message: format!(
            "The nearest ink stands {} mm inside the border's inner edge; at least {} mm keeps them apart. A margin of {} mm would do.",
            fixed(nearest, 2),
            fixed(INK_TO_BORDER_MM, 1),
            fixed(inner + INK_TO_BORDER_MM, 1)
        ),
        measured: Some(Quantity::mm(nearest)),
        required: Some(Quantity::mm(INK_TO_BORDER_MM)),
        rule: "white between border and lettering".to_owned(),
        source: if over { GEOMETRY.to_owned() } else { COMMON.to_owned() },
    }]
}

fn overlapping(facts: &Facts<'_>) -> Vec<Finding> {
    let pairs = facts.fitted.rows.iter().zip(facts.fitted.rows.iter().skip(1));
    pairs
        .filter(|(above, below)| above.has_ink() && below.has_ink())
        .filter_map(|(above, below)| {
            let gap = below.ink.y0 - above.ink.y1;
            let beside = above.ink.x1 <= below.ink.x0 || below.ink.x1 <= above.ink.x0;
            (gap < -EQUAL_MM && !beside).then(|| Finding {
                code: "rows-overlap",
                severity: Severity::Stop,
                scope: Scope::Lettering,
                place: at_line(below.line, ""),
                message: format!(
                    "The ink of \u{201c}{}\u{201d} reaches {} mm into the row above it.",
                    below.reads(),
                    fixed(-gap, 2)
                ),
                measured: Some(Quantity::mm(gap)),
                required: Some(Quantity::mm(0.0)),
                rule: "rows do not touch".to_owned(),
                source: GEOMETRY.to_owned(),
            })
        })
        .collect()
}

fn thin_margin(facts: &Facts<'_>) -> Vec<Finding> {
    let plate = &facts.layout.plate;
    let required = MARGIN_MM.max(MARGIN_SHARE * plate.width.min(plate.height));
    if plate.margin >= required - EQUAL_MM {
        return Vec::new();
    }
    vec![Finding {
        code: "thin-margin",
        severity: Severity::Caution,
        scope: Scope::Lettering,
        place: at_key("plate.margin"),
        message: format!(
            "A margin of {} mm is thin for this plate; {} mm is usual.",
            fixed(plate.margin, 2),
            fixed(required, 2)
        ),
        measured: Some(Quantity::mm(plate.margin)),
        required: Some(Quantity::mm(required)),
        rule: "margin of at least 3 mm and 5 % of the short side".to_owned(),
        source: COMMON.to_owned(),
    }]
}
