//! Common fixings, complete, each with a picture of its head and its hole.

use std::sync::LazyLock;

use serde::Deserialize;
use serde_json::{Value, json};

use crate::desk::wire::{Choice, CureChange, Path};
use crate::job::Job;
use crate::layout::{
    FixingAsked, HolesAsked, Layout, Shape, Shop, Source, Vocabulary, path_of, read,
};
use crate::mount::{self, Verdict, drivable};
use crate::plate::{self, Field, Interval};
use crate::sheets::fixing_sample;

use super::{length, picture};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Table {
    fixing: Vec<Row>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    about: String,
    #[expect(dead_code, reason = "for those who read the table; a test asks for it")]
    ground: String,
    value: toml::Table,
}

/// A fixing that is offered.
struct Known {
    row: Row,
    /// Its value as the page sends it back.
    value: Value,
    /// The same as the layout's reader understands it.
    asked: FixingAsked,
}

static KNOWN: LazyLock<Vec<Known>> = LazyLock::new(|| {
    let table: Table = toml::from_str(include_str!("fixings.toml"))
        .expect("the table is part of the program and a test reads it");
    table.fixing.into_iter().filter_map(known).collect()
});

/// A row with its meaning; every row has one, as a test says.
fn known(row: Row) -> Option<Known> {
    let fixing = toml::Value::Table(row.value.clone());
    let tape = row.value.get("kind").and_then(toml::Value::as_str) == Some("tape");
    let holes = if tape { "" } else { "holes = \"four corners\"" };
    let text = format!(
        "ansata = 1\ntitle = \"a\"\n[plate]\nsize = \"120 x 80 mm\"\nmaterial = \"brass\"\n\
         [engraving]\nprocess = \"rotary\"\n[lettering]\ndefault = \"a\"\n[[line]]\ntext = \"a\"\n\
         [mount]\nfixing = {fixing}\n{holes}\n"
    );
    let source = Source { name: String::new(), text };
    let vocabulary = Vocabulary { lettering: vec!["a".to_owned()] };
    let no_file = |_: &str| Err(String::new());
    let layout = read(&source, Shop::default(), &vocabulary, &no_file).ok()?;
    let value = serde_json::to_value(&row.value).ok()?;
    Some(Known { row, value, asked: layout.mount.fixing? })
}

/// All of them, in the order of the table; what does not suit the face says so.
pub(in crate::desk) fn fixings(job: &Job) -> Vec<Choice> {
    KNOWN.iter().map(|known| choice(&job.layout, known)).collect()
}

fn choice(layout: &Layout, known: &Known) -> Choice {
    let mut with = layout.clone();
    with.mount.fixing = Some(known.asked);
    let mut changes = vec![CureChange::set(path_of("mount.fixing"), known.value.clone())];
    let (holes, remove) = holes(layout, &known.asked);
    let mut about = about(&with, known);
    if known.asked.is_driven()
        && with.mount.holes == HolesAsked::None
        && matches!(with.plate.shape, Shape::Points(_))
    {
        about.push_str(match holes {
            Some(_) => " Two holes come with it, to be moved where they belong.",
            None => " It asks for the places of its holes.",
        });
    }
    changes.extend(holes.map(|holes| CureChange::set(path_of("mount.holes"), holes)));
    Choice {
        name: known.row.name.clone(),
        about,
        picture: fixing_sample(&with).as_ref().map(picture),
        changes,
        remove,
    }
}

/// What has to be said of holes for a fixing, and keys of them that have to go: tape has
/// none, and what is driven has some.
fn holes(layout: &Layout, asked: &FixingAsked) -> (Option<Value>, Vec<Path>) {
    if !asked.is_driven() {
        let keys = ["mount.holes", "mount.inset", "mount.slots", "mount.give"];
        return (None, keys.map(path_of).to_vec());
    }
    match (&layout.mount.holes, &layout.plate.shape) {
        (HolesAsked::None, Shape::Ansate(_)) => (None, vec![path_of("mount.holes")]),
        // No set of holes knows its corners and sides.
        (HolesAsked::None, Shape::Points(_)) => (two_holes(layout), Vec::new()),
        (HolesAsked::None, _) => (Some("auto".into()), Vec::new()),
        _ => (None, Vec::new()),
    }
}

/// Heights that are tried for holes to begin with: sixteenths of the plate's, the middle first.
const LEVELS: [f64; 9] = [8.0, 7.0, 9.0, 6.0, 10.0, 5.0, 11.0, 4.0, 12.0];

/// Two holes side by side, to begin with: as far apart as the usual inset from the edge leaves
/// them, near half height; `None` where the plate is too narrow there.
fn two_holes(layout: &Layout) -> Option<Value> {
    let (plate, inset) = (&layout.plate, layout.mount.inset);
    let within = Field {
        outline: Some(plate::outline(plate).inset(inset)?),
        zones: Vec::new(),
        axis_x: plate.width / 2.0,
    };
    let wide = |stretch: &Interval| stretch.right - stretch.left;
    LEVELS.into_iter().find_map(|sixteenths| {
        let level = plate.height * sixteenths / 16.0;
        let stretches = within.intervals(level, level);
        let widest = stretches.iter().max_by(|a, b| wide(a).total_cmp(&wide(b)))?;
        let hole = |x: f64| json!([length(x, layout.inches), length(level, layout.inches)]);
        (wide(widest) >= 2.0 * inset)
            .then(|| json!({ "points": [hole(widest.left), hole(widest.right)] }))
    })
}

/// What it is for, and what to mind with this plate and this face.
fn about(with: &Layout, known: &Known) -> String {
    let mut parts = vec![known.row.about.clone()];
    let plate = with.plate.thickness;
    let inches = with.inches;
    let fixing = mount::plan(with).fixing;
    if let Some(sunk) = fixing.as_ref().and_then(|fixing| fixing.countersink)
        && sunk.depth > plate
    {
        parts.push(format!(
            "Its cone is {} deep, the plate {} thick.",
            length(sunk.depth, inches),
            length(plate, inches)
        ));
    }
    let Some(face) = &with.face else { return parts.join(" ") };
    match drivable(&known.asked, face.material) {
        Verdict::Yes => {}
        Verdict::Care(why) => parts.push(format!("With care here: {why}.")),
        Verdict::No(why) => parts.push(format!("Not for this face: {why}.")),
    }
    match (&fixing, face.thickness) {
        (Some(fixing), Some(thickness))
            if fixing.behind <= 0.0 && fixing.penetration(plate) > thickness =>
        {
            parts.push("It would come out behind this face.".to_owned());
        }
        (Some(_), None) => parts.push("It asks for the thickness of the face.".to_owned()),
        _ => {}
    }
    parts.join(" ")
}

#[cfg(test)]
mod tests {
    use super::super::testing::accepted;
    use super::*;
    use crate::sheets::testing::{DEDICATION, layout_of, made};

    #[test]
    fn every_row_means_something_and_names_its_ground() {
        let table: toml::Table = toml::from_str(include_str!("fixings.toml")).unwrap();
        let rows = table["fixing"].as_array().unwrap();
        assert_eq!(rows.len(), KNOWN.len());
        for row in rows {
            let ground = row["ground"].as_str().unwrap();
            assert!(ground.contains("common practice, no source"), "{row}");
        }
        for known in KNOWN.iter() {
            assert!(known.row.about.ends_with('.') && !known.row.name.is_empty());
        }
    }

    #[test]
    fn all_six_kinds_and_the_common_sizes_are_there() {
        let kinds = ["wood screw", "machine screw", "pin", "rear stud", "standoff", "tape"];
        for kind in kinds {
            assert!(KNOWN.iter().any(|known| known.value["kind"] == kind), "{kind}");
        }
        for gauge in [2, 3, 4] {
            for head in ["round", "oval", "flat"] {
                let is = |k: &&Known| k.value["gauge"] == gauge && k.value["head"] == head;
                let known = KNOWN.iter().find(is).unwrap();
                // Of a stocked length, where the standard's are known.
                let FixingAsked::WoodScrew { length, .. } = known.asked else { panic!() };
                if let Some((least, most)) = mount::stocked_lengths(gauge) {
                    assert!(least <= length && length <= most, "{}", known.row.name);
                }
            }
        }
    }

    /// What holds the dedication plaque.
    const DRIVEN: &str = "fixing = { kind = \"wood screw\", gauge = 2, head = \"round\", length = \"3/8 in\" }\n\
                          holes  = \"four corners\"\ninset  = \"8 mm\"";

    /// The dedication plaque pointed on its left, with a notch in its upper edge.
    fn by_points() -> String {
        DEDICATION
            .replace(
                "size      = \"120 x 80 mm\"        # width x height\n",
                "points = [[\"0 mm\", \"40 mm\"], [\"20 mm\", \"0 mm\"], [\"40 mm\", \"0 mm\"], \
                 [\"50 mm\", \"50 mm\"], [\"60 mm\", \"0 mm\"], [\"120 mm\", \"0 mm\"], \
                 [\"120 mm\", \"80 mm\"], [\"20 mm\", \"80 mm\"]]\n",
            )
            .replace("shape     = \"rounded\"", "shape     = \"points\"")
            .replace("corner    = \"5 mm\"\n", "")
            .replace(", at_holes = \"step in\"", "")
    }

    #[test]
    fn a_plate_by_points_gets_two_holes_to_begin_with() {
        let text = by_points().replace(DRIVEN, "holes = \"none\"");
        let job = made(&text);
        let screw = fixings(&job).into_iter().find(|choice| choice.name.contains("screw")).unwrap();
        assert!(screw.about.ends_with("Two holes come with it, to be moved where they belong."));
        let after = layout_of(&accepted(&text, &screw)).unwrap();
        // 8 mm from the notch's flank, (50 + t, 50 - 5t) at 40 mm, square to it: 52 mm and
        // 8 / cos(atan(1/5)) = 8.16 mm more; and from the right side.
        assert_eq!(after.mount.holes, HolesAsked::Points(vec![(60.16, 40.0), (112.0, 40.0)]));
    }

    #[test]
    fn holes_to_begin_with_keep_their_inset_from_sloping_edges() {
        let arrow = |points: &str| {
            let text = by_points();
            let (before, after) = text.split_once("points = [[").unwrap();
            let after = after.split_once("]]\n").unwrap().1;
            format!("{before}points = {points}\n{after}").replace(DRIVEN, "holes = \"none\"")
        };
        // Pointed to the left, and waisted: at half height there is no place for two.
        for (points, level) in [
            (r#"[["0 mm", "40 mm"], ["120 mm", "0 mm"], ["120 mm", "80 mm"]]"#, 40.0),
            (
                r#"[["0 mm", "0 mm"], ["120 mm", "0 mm"], ["62 mm", "40 mm"], ["120 mm", "80 mm"], ["0 mm", "80 mm"], ["58 mm", "40 mm"]]"#,
                25.0,
            ),
        ] {
            let text = arrow(points);
            let job = made(&text);
            let edge = plate::outline(&job.layout.plate);
            let all = fixings(&job);
            let screw = all.into_iter().find(|choice| choice.name.contains("screw")).unwrap();
            let after = layout_of(&accepted(&text, &screw)).unwrap();
            let HolesAsked::Points(holes) = after.mount.holes else { panic!() };
            for (x, y) in holes {
                assert!((y - level).abs() < 0.01, "{points} {y}");
                assert!(edge.depth_of(x, y) > 7.98, "{points} {x} {y}");
            }
        }
    }

    #[test]
    fn each_is_accepted_whatever_held_the_plate_before() {
        let own = DRIVEN;
        assert!(DEDICATION.contains(own));
        let ansate = DEDICATION
            .replace("shape     = \"rounded\"", "shape     = \"ansate\"")
            .replace("corner    = \"5 mm\"\n", "")
            .replace("at_holes = \"step in\"", "");
        for text in [
            DEDICATION.to_owned(),
            DEDICATION.replace(own, "fixing = { kind = \"tape\" }\nholes = \"none\""),
            DEDICATION.replace(own, "fixing = { kind = \"tape\" }"),
            DEDICATION.replace("[mount]", "").replace(own, ""),
            DEDICATION.replace(own, &format!("{own}\ngive = \"0.5 mm\"")),
            ansate.replace(own, "holes = \"none\""),
            by_points().replace(own, "holes = \"none\""),
        ] {
            let job = made(&text);
            for choice in fixings(&job) {
                let after = layout_of(&accepted(&text, &choice)).unwrap();
                let known = KNOWN.iter().find(|known| known.row.name == choice.name).unwrap();
                assert_eq!(after.mount.fixing, Some(known.asked), "{}", choice.name);
                assert_eq!(
                    after.mount.holes == HolesAsked::None,
                    !known.asked.is_driven(),
                    "{}",
                    choice.name
                );
                assert!(choice.picture.is_some());
            }
        }
    }

    #[test]
    fn what_does_not_suit_plate_or_face_says_so() {
        let stone = DEDICATION.replace("\"black walnut\"", "\"stone\"");
        let all = fixings(&made(&stone));
        let find = |name: &str| all.iter().find(|choice| choice.name.contains(name)).unwrap();
        assert!(find("round-head screw, No. 2").about.contains("Not for this face: "));
        assert!(!find("Tape").about.contains("Not for"));
        // No. 4: (0.225 − 0.112) in / (2 tan 41°) = 1.65 mm of cone; the plate has 1.5 mm.
        let all = fixings(&made(DEDICATION));
        let find = |name: &str| all.iter().find(|choice| choice.name.contains(name)).unwrap();
        let about = &find("flat-head screw, No. 4").about;
        assert!(about.contains("Its cone is 1.65 mm deep, the plate 1.5 mm thick."), "{about}");
        assert!(!find("flat-head screw, No. 2").about.contains("cone"));
    }
}
