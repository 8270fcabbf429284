//! Ways to place a photograph: those of the command `placings`, chosen as it does.

use serde_json::Value;

use crate::desk::wire::{Choice, CureChange, Path};
use crate::job::{Job, Placing, chosen_few, job, placings as ways};
use crate::layout::{Layout, path_of};
use crate::sheets::{front_within, placing_merits, placing_told};

use super::picture;

/// Room of a picture, mm.
const ROOM: (f64, f64) = (70.0, 50.0);

/// The best ways to place a photograph, by its index; none where there is no such one, and
/// where no way leaves the wording its floors.
pub(in crate::desk) fn placings(now: &Job, photo: usize) -> Vec<Choice> {
    let layout = &now.layout;
    let Ok(all) = ways(layout, photo) else { return Vec::new() };
    let table = format!("photo.{}", photo + 1);
    let path = |key: &str| -> Path { path_of(&format!("{table}.{key}")) };
    let has = |key: &str| layout.keys.exact(&format!("{table}.{key}")).is_some();
    let choice = |(placing, layout): &(Placing, Layout)| {
        let keys = placing.keys(layout.inches, has)?;
        let way = (*placing, job(layout).ok()?);
        let set = keys.set.into_iter();
        let gone = keys.remove.into_iter();
        Some(Choice {
            name: placing_told(&way),
            about: placing_merits(&way),
            picture: Some(picture(&front_within(&way.1, ROOM))),
            changes: set.map(|(key, text)| CureChange::set(path(key), Value::from(text))).collect(),
            remove: gone.map(path).collect(),
        })
    };
    chosen_few(&all).into_iter().filter_map(choice).collect()
}

#[cfg(test)]
mod tests {
    use super::super::testing::accepted;
    use super::*;
    use crate::sheets::testing::{PHOTOGRAPH, made};

    #[test]
    fn they_are_those_of_the_command_and_come_out_as_they_say() {
        let text = PHOTOGRAPH;
        let now = made(text);
        let all = placings(&now, 0);
        let few = ways(&now.layout, 0).unwrap();
        let few: Vec<&(Placing, Layout)> = chosen_few(&few);
        assert_eq!(all.len(), few.len());
        for (choice, (placing, _)) in all.iter().zip(few) {
            let after = accepted(text, choice);
            assert!(after.contains("# or right, top, bottom"), "a remark stays");
            let after = made(&after);
            let photo = &after.photos[0];
            assert!((photo.width() - placing.stand.width).abs() < 1e-3, "{}", choice.name);
            assert!((photo.height() - placing.stand.height).abs() < 1e-3, "{}", choice.name);
            assert!(!after.stopped() || now.stopped());
            let picture = choice.picture.as_ref().unwrap();
            assert!(picture.width <= ROOM.0 + 1e-9 && picture.height <= ROOM.1 + 1e-9);
        }
    }

    #[test]
    fn there_are_none_of_a_photograph_that_is_not_there() {
        assert!(placings(&made(PHOTOGRAPH), 7).is_empty());
    }
}
