//! Lines of the inscription as the page shows them: measured heights, and why they are so.

use crate::fit::FittedLine;
use crate::floors::FloorFrom;
use crate::job::Job;
use crate::layout::{Breaks, Line as Asked, Named};
use crate::units::digits::fixed;

use super::wire::Line;

/// Heights nearer than this are the same, mm: what is printed has two decimals.
const SAME: f64 = 0.005;

/// All lines.
pub(super) fn lines(job: &Job) -> Vec<Line> {
    let layout = &job.layout;
    let each = layout.lines.iter().zip(&job.lines).zip(&job.fitted.lines).enumerate();
    each.map(|(index, ((asked, shaped), fitted))| {
        let rows = job.fitted.rows.iter().filter(|row| row.line == index);
        Line {
            text: asked.text.clone(),
            ornament: asked.ornament.as_ref().map(|ornament| ornament.told().to_owned()),
            lettering: shaped.face.name.clone(),
            cap_height: fitted.cap_height,
            x_height: fitted.x_height,
            rows: rows.map(crate::fit::Row::reads).collect(),
            floor: fitted.floor.floor,
            why: why(job, asked, fitted, index),
        }
    })
    .collect()
}

/// What set the height of a line, and where it may not be broken.
fn why(job: &Job, asked: &Asked, fitted: &FittedLine, index: usize) -> Vec<String> {
    if asked.ornament.is_some() {
        return Vec::new();
    }
    let rows = job.fitted.rows.iter().filter(|row| row.line == index).count();
    height(job, asked, fitted).into_iter().chain(breaks(asked, rows)).collect()
}

fn height(job: &Job, asked: &Asked, fitted: &FittedLine) -> Option<String> {
    let (stands, floor) = (fitted.cap_height, fitted.floor.floor);
    let mm = |height: f64| format!("{} mm", fixed(height, 2));
    if job.fitted.phi < 1.0 {
        let share = fixed(job.fitted.phi * 100.0, 1);
        return Some(format!(
            "There is no room for its least height, {}: it stands at {share} % of it.",
            mm(floor)
        ));
    }
    if let Some(stated) = asked.cap_height {
        return Some(format!("Its height is stated: {}.", mm(stated)));
    }
    if (stands - floor).abs() < SAME {
        let process = job.layout.engraving.process.word();
        let ground = match fitted.floor.floor_from {
            FloorFrom::Process if fitted.floor.shop_figure => "your shop's least".to_owned(),
            FloorFrom::Process => format!("the least for {process}"),
            FloorFrom::Stroke => "its thinnest stroke needs it for the cutter".to_owned(),
            FloorFrom::Counter => "its narrowest counter needs it for the cutter".to_owned(),
            FloorFrom::Gap => "the narrowest gap between its letters needs it".to_owned(),
            FloorFrom::Layout => "the least that the layout asks for".to_owned(),
        };
        return Some(format!("Its floor governs, {}: {ground}.", mm(floor)));
    }
    let ceiling = asked.at_most.filter(|most| (stands - most).abs() < SAME);
    ceiling.map(|most| format!("Held at the greatest height that the layout allows, {}.", mm(most)))
}

fn breaks(asked: &Asked, rows: usize) -> Vec<String> {
    let mut all = Vec::new();
    match asked.breaks {
        Breaks::Never => all.push("It may not be broken: the layout says so.".to_owned()),
        Breaks::LastResort if rows == 1 && asked.text.contains(' ') => {
            all.push("Kept in one row: it is broken only as a last resort.".to_owned());
        }
        Breaks::LastResort | Breaks::Free => {}
    }
    let kept: Vec<String> =
        asked.keep.iter().map(|words| format!("\u{201C}{words}\u{201D}")).collect();
    if !kept.is_empty() {
        all.push(format!("Never torn: {}.", kept.join(", ")));
    }
    if asked.text.contains(['\u{A0}', '\u{2007}', '\u{202F}', '\u{2060}']) {
        all.push("No-break spaces in it hold their neighbours together.".to_owned());
    }
    if asked.text.contains('\n') {
        all.push("It is broken where you broke it.".to_owned());
    }
    all
}
