//! A photograph as large as the wording allows that leaves the lettering more.
//!
//! What a larger plate or a shorter wording gives, such a photograph takes at once, and leaves
//! lines their floors: only what it is told to keep makes them higher.

use crate::job::Job;
use crate::layout::{Layout, PhotoSize};
use crate::units::MM_PER_INCH;
use crate::units::digits::trimmed;
use crate::units::inch;

use super::prove::has_room;
use super::{Edit, Remedy};

/// Steps of the suggested height: half a mm, or 1/64 in where the layout is in inches.
const STEP_MM: f64 = 0.5;
const STEP_INCH_MM: f64 = MM_PER_INCH / 64.0;

/// Whether a photograph takes all that the wording leaves.
pub(super) fn takes_all(job: &Job) -> bool {
    largest(job).is_some()
}

/// The photograph whose size is worked out, and what it keeps, mm.
fn largest(job: &Job) -> Option<(usize, f64)> {
    let mut all = job.layout.photos.iter().enumerate();
    all.find_map(|(index, photo)| match photo.size {
        PhotoSize::Largest(keeps) => Some((index, keeps.unwrap_or(0.0))),
        _ => None,
    })
}

/// Cures of too little room beside such a photograph: the least height to be kept, on the
/// grid, that cures; where it has none to give, more room with all that lines wish kept.
pub(super) fn remedies(job: &Job, room: impl Fn(&Job) -> Vec<Remedy>) -> Vec<Remedy> {
    let Some((index, kept)) = largest(job) else { return Vec::new() };
    let words = job.layout.lines.iter().zip(&job.fitted.lines);
    let words = words.filter(|(line, _)| line.ornament.is_none());
    let (mut least, mut most, mut ceiling) = (f64::INFINITY, 0.0_f64, f64::INFINITY);
    for (_, line) in words {
        least = least.min(line.cap_height);
        most = most.max(line.floor.wish.unwrap_or(line.floor.floor));
        ceiling = ceiling.min(line.ceiling);
    }
    let step = if job.layout.inches { STEP_INCH_MM } else { STEP_MM };
    let mut steps = (least.max(kept) / step + 1e-9).floor() + 1.0;
    // Higher than every line wishes to be nothing more is cured, and higher than one may be
    // nothing is kept.
    let last = (most / step - 1e-9).ceil().min((ceiling / step + 1e-9).floor());
    // Where not even the smallest photograph leaves the floors, it has nothing to give.
    while job.fitted.phi >= 1.0 && steps <= last {
        let keeping = Keeping::of(job, index, steps * step);
        if has_room(job, &keeping.layout) {
            let message = format!(
                "Let the photograph, which is as large as the wording allows, leave every line a \
                 cap height of {}.",
                keeping.height
            );
            return vec![Remedy {
                kind: "smaller-photograph",
                message,
                edits: vec![keeping.edit()],
                share: steps * step / least - 1.0,
                layout: keeping.layout,
            }];
        }
        steps += 1.0;
    }
    if last * step <= kept {
        // It keeps enough as it is told, or there are no words to keep anything for.
        return room(job);
    }
    let keeping = Keeping::of(job, index, last * step);
    let all = room(&Job { layout: keeping.layout.clone(), ..job.clone() });
    let with = |mut remedy: Remedy| {
        remedy.edits.push(keeping.edit());
        remedy.message.push_str(&format!(
            " And let the photograph leave every line a cap height of {}.",
            keeping.height
        ));
        remedy
    };
    all.into_iter().map(with).collect()
}

/// The layout whose photograph keeps a height.
struct Keeping {
    index: usize,
    height: String,
    layout: Layout,
}

impl Keeping {
    fn of(job: &Job, index: usize, keeps: f64) -> Self {
        let mut layout = job.layout.clone();
        if let Some(photo) = layout.photos.get_mut(index) {
            photo.size = PhotoSize::Largest(Some(keeps));
        }
        let height = if layout.inches {
            inch::nearest_64th(keeps).text
        } else {
            format!("{} mm", trimmed(keeps, 1))
        };
        Self { index, height, layout }
    }

    fn edit(&self) -> Edit {
        let key = format!("photo.{}.keeps", self.index + 1);
        Edit { key, value: format!("\"{}\"", self.height) }
    }
}
