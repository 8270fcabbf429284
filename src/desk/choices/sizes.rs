//! Sizes for the plate, by what its face leaves.

use serde_json::Value;

use crate::desk::wire::{Choice, CureChange};
use crate::job::Job;
use crate::layout::{Layout, path_of};
use crate::mount::{Offered, Reveals, Why, offered_sizes};
use crate::remedies::size_text;
use crate::sheets::plate_on_face;

use super::{capital, length, picture};

/// Room of a picture, mm.
const ROOM: (f64, f64) = (50.0, 40.0);
/// Lengths nearer than this are alike, mm.
const SAME: f64 = 0.005;

/// Sizes that the face has room for, each drawn on it; none where no face is told.
pub(in crate::desk) fn sizes(job: &Job) -> Vec<Choice> {
    offered_sizes(&job.layout).iter().map(|offered| choice(&job.layout, offered)).collect()
}

fn choice(now: &Layout, offered: &Offered) -> Choice {
    let plate = &offered.layout.plate;
    let size = size_text(plate.width, plate.height, now.inches);
    let set = |key: &str, text: String| CureChange::set(path_of(key), Value::String(text));
    let left = offered.reveals.map_or_else(String::new, |left| left_over(&left, now.inches));
    let from_face = set("plate.size", "from face".to_owned());
    let (name, why, changes) = match offered.why {
        Why::Largest(reveal) => {
            let reveal = reveal.map(|mm| set("plate.reveal", length(mm, now.inches)));
            let changes = [from_face].into_iter().chain(reveal).collect();
            (
                format!("From the face, {size}"),
                "The largest; it follows the face.".to_owned(),
                changes,
            )
        }
        Why::Proportion(name) => {
            (size.clone(), format!("{}.", capital(name)), vec![set("plate.size", size)])
        }
        Why::Round => (size.clone(), String::new(), vec![set("plate.size", size)]),
    };
    let reveal = path_of("plate.reveal");
    let keeps_it = changes.iter().any(|change| change.path == reveal);
    Choice {
        name: name.replace(" x ", " \u{d7} "),
        about: [why, left].join(" ").trim().to_owned(),
        picture: plate_on_face(&offered.layout, ROOM).as_ref().map(picture),
        changes,
        remove: if keeps_it { Vec::new() } else { vec![reveal] },
    }
}

/// What is left of the face, in a sentence; sides that are alike together.
fn left_over(left: &Reveals, inches: bool) -> String {
    let alike = |a: f64, b: f64| (a - b).abs() < SAME;
    let all = [left.left, left.right, left.top, left.bottom];
    if all.iter().all(|side| alike(*side, left.left)) {
        return format!("Leaves {} all round.", length(left.left, inches));
    }
    let pair = |(a, b): (f64, f64), both: &str, (first, second): (&str, &str)| {
        if alike(a, b) {
            format!("{} {both}", length(a, inches))
        } else {
            format!("{} {first}, {} {second}", length(a, inches), length(b, inches))
        }
    };
    let across = pair((left.left, left.right), "left and right", ("left", "right"));
    let down = pair((left.top, left.bottom), "above and below", ("above", "below"));
    format!("Leaves {across}, {down}.")
}

#[cfg(test)]
mod tests {
    use super::super::testing::accepted;
    use super::*;
    use crate::sheets::testing::{DEDICATION, layout_of, made};

    const FACES: [&str; 5] = [
        "size = \"150 x 110 mm\"\nplace = { from_bottom = \"15 mm\" }",
        "size = \"200 x 260 mm\"\ntrim = { width = \"12 mm\", gap = \"2 mm\" }",
        "shape = \"circle\"\ndiameter = \"180 mm\"",
        "shape = \"trapezium\"\ntop = \"150 mm\"\nfoot = \"220 mm\"\nheight = \"130 mm\"",
        "size = \"200 x 150 mm\"\nrecess = { size = \"122 x 82 mm\", depth = \"1.5 mm\", gap = \"1 mm\" }",
    ];

    fn on(face: &str) -> String {
        let (before, _) = DEDICATION.split_once("[face]").unwrap();
        format!("{before}[face]\n{face}\nmaterial = \"beech\"\nthickness = \"19 mm\"\n")
    }

    #[test]
    fn without_a_face_there_are_none() {
        let (before, _) = DEDICATION.split_once("[face]").unwrap();
        assert!(sizes(&made(before)).is_empty());
    }

    #[test]
    fn each_is_accepted_and_comes_out_as_it_says() {
        for face in FACES {
            let text = on(face);
            let all = sizes(&made(&text));
            assert!(!all.is_empty(), "{face}");
            for choice in all {
                let after = made(&accepted(&text, &choice));
                let plate = &after.layout.plate;
                let size = size_text(plate.width, plate.height, false).replace(" x ", " \u{d7} ");
                assert!(choice.name.ends_with(&size), "{} is {size}", choice.name);
                let plan = after.mount.face.unwrap();
                let left = plan.reveals((plate.width, plate.height)).unwrap();
                assert!(choice.about.ends_with(&left_over(&left, false)), "{}", choice.about);
            }
        }
    }

    #[test]
    fn one_from_the_face_gives_up_its_reveal_for_a_size_of_its_own() {
        let text = on(FACES[0]).replace("\"120 x 80 mm\"", "\"from face\"\nreveal = \"12 mm\"");
        let all = sizes(&made(&text));
        assert!(all[0].changes.iter().any(|change| change.to == "12 mm"));
        let own = accepted(&text, &all[1]);
        assert!(!own.contains("reveal"));
        // A page may still show choices that were worked out before the first was taken.
        let plain = on(FACES[0]);
        let all = sizes(&made(&plain));
        let first = accepted(&plain, &all[0]);
        assert!(first.contains("reveal"));
        assert!(!accepted(&first, &all[1]).contains("reveal"));
    }

    #[test]
    fn inches_stay_inches() {
        let text = on("size = \"8 x 6 in\"")
            .replace("\"120 x 80 mm\"", "\"4 x 3 in\"")
            .replace("\"5 mm\"", "\"1/4 in\"")
            .replace("\"7 mm\"", "\"1/4 in\"")
            .replace("\"3 mm\"", "\"1/8 in\"")
            .replace("\"8 mm\"", "\"3/8 in\"");
        assert!(layout_of(&text).unwrap().inches);
        for choice in sizes(&made(&text)) {
            assert!(choice.name.ends_with(" in"), "{}", choice.name);
            accepted(&text, &choice);
        }
    }
}
