//! A larger plate: at the same proportion, or by width or height alone.

use crate::job::Job;
use crate::layout::{Layout, Shape};
use crate::units::{digits::trimmed, inch};

use super::prove::has_room;
use super::{Edit, Remedy};

/// Steps of a suggested side: 0.5 mm, or 1/8 in where the layout is in inches.
const STEP_MM: f64 = 0.5;
const STEP_INCH_MM: f64 = 25.4 / 8.0;
/// No plate more than this many times as long on a side is suggested.
const MOST_TIMES: f64 = 4.0;
/// The largest side that a layout may ask for, mm.
const MOST_MM: f64 = 2000.0;

/// How a plate grows.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Growth {
    Both,
    Width,
    Height,
}

/// The smallest plate that cures, if it may grow that way.
pub(super) fn larger(job: &Job, way: Growth) -> Vec<Remedy> {
    let grows = match job.layout.plate.shape {
        // It is as large as its face allows.
        _ if job.layout.plate.from_face.is_some() => false,
        Shape::Circle => way == Growth::Both,
        // Its size is where its points are.
        Shape::Points(_) => false,
        _ => true,
    };
    if grows { smallest(job, way).into_iter().collect() } else { Vec::new() }
}

/// The smallest plate on the grid that cures, by doubling and halving; proved at
/// the size found and at the step below it, whatever lies between.
fn smallest(job: &Job, way: Growth) -> Option<Remedy> {
    let plate = &job.layout.plate;
    let step = if job.layout.inches { STEP_INCH_MM } else { STEP_MM };
    let side = match way {
        Growth::Width => plate.width,
        Growth::Height => plate.height,
        Growth::Both => plate.width.max(plate.height),
    };
    let first = (side / step + 1e-9).floor() + 1.0;
    let most = ((side * MOST_TIMES).min(MOST_MM) / step).floor();
    let cures = |steps: f64| has_room(job, &grown(&job.layout, way, steps * step, step));
    let (mut short, mut reach) = (first - 1.0, 1.0);
    let mut long = loop {
        let candidate = (first - 1.0 + reach).min(most);
        if candidate < first {
            return None;
        }
        if cures(candidate) {
            break candidate;
        }
        if candidate >= most {
            return None;
        }
        short = candidate;
        reach *= 2.0;
    };
    while long - short > 1.5 {
        let middle = ((long + short) / 2.0).floor();
        if cures(middle) {
            long = middle;
        } else {
            short = middle;
        }
    }
    Some(remedy(job, way, grown(&job.layout, way, long * step, step)))
}

/// The plate with its side set to `side` mm; at the same proportion the other
/// side follows, rounded up to the grid.
fn grown(layout: &Layout, way: Growth, side: f64, step: f64) -> Layout {
    let plate = &layout.plate;
    let (width, height) = match way {
        Growth::Width => (side, plate.height),
        Growth::Height => (plate.width, side),
        Growth::Both => {
            let times = side / plate.width.max(plate.height);
            let up = |old: f64| (old * times / step - 1e-9).ceil() * step;
            (up(plate.width), up(plate.height))
        }
    };
    let mut changed = layout.clone();
    changed.resize(width, height);
    changed
}

fn remedy(job: &Job, way: Growth, layout: Layout) -> Remedy {
    let (old, new) = (&job.layout.plate, &layout.plate);
    let size = size_text(new.width, new.height, layout.inches);
    let (kind, what) = match way {
        Growth::Both => ("larger-plate", "at the same proportion"),
        Growth::Width => ("wider-plate", "wider only"),
        Growth::Height => ("taller-plate", "taller only"),
    };
    Remedy {
        kind,
        message: format!(
            "Take a plate of {size} instead of {} ({what}).",
            size_text(old.width, old.height, layout.inches)
        ),
        edits: vec![Edit { key: "plate.size".to_owned(), value: toml_string(&size) }],
        share: new.width * new.height / (old.width * old.height) - 1.0,
        layout,
    }
}

/// `120 x 80 mm`, or in inches.
pub(crate) fn size_text(width: f64, height: f64, inches: bool) -> String {
    if inches {
        let side = |mm: f64| inch::nearest_64th(mm).text.replace(" in", "");
        format!("{} x {} in", side(width), side(height))
    } else {
        format!("{} x {} mm", trimmed(width, 2), trimmed(height, 2))
    }
}

/// A text as TOML writes it.
pub(super) fn toml_string(text: &str) -> String {
    format!("\"{text}\"")
}
