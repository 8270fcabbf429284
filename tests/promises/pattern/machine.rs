//! Files for people with a machine, read by ezdxf, which the project does not use.

use ansata::drawing::write::{dxf, svg_about};
use ansata::job::Job;
use ansata::mount::{Slot, SlotWay};
use ansata::plate;
use ansata::sheets::{MachineSheet, drilling_for_machines, pattern_for_machines};
use serde_json::{Value, json};

use super::board_job;
use crate::outside::asked;
use crate::sheets::jobs::{Numbers, job_of, random_job};
use crate::support::{Bench, shipped};

/// What ezdxf reads of files; `None`, said loudly, where no Python is named and none is
/// demanded by `ANSATA_OUTSIDE=1`.
pub(crate) fn read(bench: &Bench, files: &[(String, String)]) -> Option<Vec<Value>> {
    let mut paths = Vec::new();
    for (name, text) in files {
        bench.put(name, text);
        paths.push(bench.path(name).display().to_string());
    }
    let answer = asked("dxf.py", &json!({ "files": paths }))?;
    Some(answer["drawings"].as_array().unwrap().clone())
}

fn as_dxf(sheet: &MachineSheet) -> String {
    dxf(&sheet.sheet.drawing, sheet.zero, &sheet.remark).unwrap()
}

/// Circles of a layer as ezdxf read them: x, y, radius.
fn circles(drawing: &Value, layer: &str) -> Vec<[f64; 3]> {
    let all = drawing["circles"].as_array().unwrap().iter();
    all.filter(|circle| circle[0] == layer)
        .map(|circle| [1, 2, 3].map(|part| circle[part].as_f64().unwrap()))
        .collect()
}

/// Nothing to mend, and what it is said to be.
pub(crate) fn assert_clean(drawing: &Value, place: &str) {
    for key in ["errors", "fixes", "others"] {
        assert_eq!(drawing[key], json!([]), "{place}: {key}");
    }
    assert_eq!(drawing["version"], "AC1009", "{place}");
    assert_eq!((&drawing["units"], &drawing["metric"]), (&json!(4), &json!(1)), "{place}");
    for (layer, colour) in drawing["layers"].as_object().unwrap() {
        assert_eq!(colour, 7, "{place}: no operation has a colour of its own, not {layer}");
    }
}

#[test]
fn every_hole_is_read_back_within_a_thousandth_of_a_millimetre() {
    let mut numbers = Numbers(41);
    let mut jobs: Vec<(String, Job)> = (0..25).map(|_| random_job(&mut numbers)).collect();
    jobs.push((String::new(), board_job("A4", (380, 120))));
    jobs.retain(|(_, job)| !job.mount.holes.is_empty());
    assert!(jobs.len() > 10);
    let bench = Bench::new();
    let files: Vec<(String, String)> = jobs
        .iter()
        .enumerate()
        .map(|(case, (_, job))| (format!("{case}.dxf"), as_dxf(&pattern_for_machines(job))))
        .collect();
    let Some(drawings) = read(&bench, &files) else { return };
    for ((layout, job), drawing) in jobs.iter().zip(&drawings) {
        assert_clean(drawing, layout);
        // Studs stand behind the plate and have a layer of their own.
        let layer = if job.mount.holes[0].through { "HOLES" } else { "STUDS" };
        let found = circles(drawing, layer);
        assert_eq!(found.len(), job.mount.holes.len(), "{layout}");
        // Zero is the same for all, so distances from the first hole need no datum.
        let (first, start) = (&job.mount.holes[0], found[0]);
        for (hole, [x, y, radius]) in job.mount.holes.iter().zip(&found) {
            let (dx, dy) = (hole.x - first.x, hole.y - first.y);
            assert!((x - start[0] - dx).abs() < 0.001, "{layout}");
            // y runs up.
            assert!((y - start[1] + dy).abs() < 0.001, "{layout}");
            assert!((radius - hole.clearance_diameter / 2.0).abs() < 0.001, "{layout}");
        }
        // The plate's outline, as many points as it takes, each on the true one.
        let outline = plate::outline(&job.layout.plate);
        let outlines = drawing["outlines"].as_array().unwrap();
        let edge = outlines.iter().find(|outline| outline[0] == "PLATE-OUTLINE").unwrap();
        assert_eq!(edge[1], true, "closed");
        for point in edge[2].as_array().unwrap() {
            let (x, y) = (point[0].as_f64().unwrap(), point[1].as_f64().unwrap());
            let (x, y) = (x - start[0] + first.x, first.y - (y - start[1]));
            assert!(outline.depth_of(x, y).abs() < 0.012, "({x}, {y})\n{layout}");
        }
    }
}

#[test]
fn a_file_for_machines_counts_from_the_datum_of_the_layout() {
    // Dedication: plate 120 x 80 on a face 150 x 110, holes 8 mm in, centred across, 15 mm
    // up from the bottom edge. Worked by hand: 60 - 8 = 52 either side, 23 and 87 up; the
    // hole for a No. 4 is 2.578 mm (ASME B18.2.8 by its reference table: 0.1015 in).
    let job = job_of(include_str!("../../../layouts/dedication.toml"));
    let bench = Bench::new();
    let sheets = [pattern_for_machines(&job), drilling_for_machines(&job)];
    let files: Vec<(String, String)> =
        sheets.iter().enumerate().map(|(n, s)| (format!("{n}.dxf"), as_dxf(s))).collect();
    assert!(files[0].1.contains("zero: across, the face's upright centre line"));
    assert!(files[0].1.lines().all(|line| line.len() < 256 && line.is_ascii()));
    let Some(drawings) = read(&bench, &files) else { return };
    let mut found = circles(&drawings[0], "HOLES");
    found.sort_by(|a, b| a[1].total_cmp(&b[1]).then(a[0].total_cmp(&b[0])));
    let wanted = [(-52.0, 23.0), (52.0, 23.0), (-52.0, 87.0), (52.0, 87.0)];
    for ([x, y, radius], wanted) in found.iter().zip(wanted) {
        assert!((x - wanted.0).abs() < 0.001 && (y - wanted.1).abs() < 0.001, "{found:?}");
        assert!((radius - job.mount.holes[0].clearance_diameter / 2.0).abs() < 0.001);
    }
    // The face: from its bottom edge, half its width to either side.
    let extent = &drawings[0]["extent"];
    assert_eq!(extent, &json!([[-75.0, 0.0, 0.0], [75.0, 110.0, 0.0]]));
    // The plate's own drilling counts from its top left corner.
    let mut own = circles(&drawings[1], "HOLES");
    own.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].total_cmp(&b[0])));
    for ([x, y, _], hole) in own.iter().zip(&job.mount.holes) {
        assert!((x - hole.x).abs() < 0.001 && (y + hole.y).abs() < 0.001, "{own:?}");
    }
}

#[test]
fn slots_and_old_holes_have_layers_of_their_own() {
    let mut job = job_of(
        "ansata = 1\ntitle = \"Replacement\"\n[plate]\nsize = \"110 x 60 mm\"\nmaterial = \"brass\"\n\
         thickness = \"1.5 mm\"\n[lettering]\ndefault = \"Cinzel\"\n[[line]]\ntext = \"Marrowby\"\n\
         [mount]\nfixing = { kind = \"wood screw\", gauge = 4, head = \"round\", length = \"1/2 in\" }\n\
         holes = \"two sides\"\ninset = \"8 mm\"\n[face]\nsize = \"150 x 100 mm\"\n\
         material = \"black walnut\"\nthickness = \"20 mm\"\ntrim = { width = \"8 mm\" }\n\
         place = { from_left = \"20 mm\", from_top = \"18 mm\" }\n\
         old_holes = [ { at = [\"40 mm\", \"30 mm\"], diameter = \"3 mm\" } ]\n",
    );
    job.mount.holes[1].slot = Some(Slot { length: 6.0, way: SlotWay::Level });
    let bench = Bench::new();
    let sheet = pattern_for_machines(&job);
    let Some(drawings) = read(&bench, &[("slot.dxf".to_owned(), as_dxf(&sheet))]) else { return };
    let drawing = &drawings[0];
    assert_clean(drawing, "slot");
    assert_eq!(circles(drawing, "HOLES").len(), 1);
    // Old holes are told from the face's left and top, which here is zero; y runs up.
    assert_eq!(circles(drawing, "OLD-HOLES"), [[40.0, -30.0, 1.5]]);
    let named = |layer: &str| {
        let all = drawing["outlines"].as_array().unwrap().iter();
        all.filter(|outline| outline[0] == layer).cloned().collect::<Vec<Value>>()
    };
    assert_eq!((named("FACE").len(), named("TRIM").len()), (1, 1));
    let slots = named("HOLES");
    let [slot] = slots.as_slice() else { panic!("one slot") };
    assert_eq!(slot[1], true, "closed");
    let across: Vec<f64> =
        slot[2].as_array().unwrap().iter().map(|point| point[0].as_f64().unwrap()).collect();
    let wide = across.iter().copied().fold(f64::MIN, f64::max)
        - across.iter().copied().fold(f64::MAX, f64::min);
    assert!((wide - 6.0).abs() < 0.02, "{wide}");
}

#[test]
fn the_svg_for_machines_has_true_circles_at_the_same_places() {
    let job = board_job("A4", (380, 120));
    let sheet = pattern_for_machines(&job);
    let text = svg_about(&sheet.sheet.drawing, sheet.zero).unwrap();
    assert!(!text.contains("<text") && !text.contains("transform"));
    let holes = text.split("<g id=\"holes\">").nth(1).unwrap().split("</g>").next().unwrap();
    let number = |circle: &str, key: &str| -> f64 {
        let value = circle.split(&format!(" {key}=\"")).nth(1).unwrap();
        value.split('"').next().unwrap().parse().unwrap()
    };
    let circles: Vec<&str> = holes.split("<circle").skip(1).collect();
    assert_eq!(circles.len(), 6);
    // The plate stands in the middle of its face: zero is its own middle.
    for (circle, hole) in circles.iter().zip(&job.mount.holes) {
        assert!((number(circle, "cx") - (hole.x - 190.0)).abs() < 0.001, "{circle}");
        assert!((number(circle, "cy") - (hole.y - 60.0)).abs() < 0.001, "{circle}");
        assert!((number(circle, "r") - hole.clearance_diameter / 2.0).abs() < 0.001);
    }
    assert!(text.contains("viewBox=\"-200 -75 400 150\""), "{text}");
}

#[test]
fn make_writes_the_files_for_machines_and_a_stop_of_the_mount_withholds_them() {
    let bench = Bench::new();
    shipped(&bench);
    assert_eq!(bench.run(&["make", "dedication.toml", "-o", "one", "--dpi", "20"]).status, 0);
    assert_eq!(bench.run(&["make", "dedication.toml", "-o", "two", "--dpi", "20"]).status, 0);
    let report: Value = serde_json::from_slice(&bench.read("one/report.json")).unwrap();
    for name in ["pattern-mm.dxf", "pattern-mm.svg", "drilling-mm.dxf"] {
        assert_eq!(bench.read(&format!("one/{name}")), bench.read(&format!("two/{name}")));
        let sheets = report["sheets"].as_array().unwrap();
        let sheet = sheets.iter().find(|sheet| sheet["file"] == name).expect(name);
        assert!(sheet["zero_x_mm"].is_f64() && sheet["plate_x_mm"].is_f64(), "{sheet}");
    }
    // A hole so near the edge that its head hangs over stops the mount.
    let layout = String::from_utf8(bench.read("dedication.toml")).unwrap();
    let stopped = layout.replace("inset  = \"8 mm\"", "inset  = \"1 mm\"");
    assert_ne!(stopped, layout);
    bench.put("dedication.toml", stopped);
    assert_eq!(bench.run(&["make", "dedication.toml", "-o", "one", "--dpi", "20"]).status, 1);
    let names = bench.names("one");
    assert!(
        names.iter().all(|name| !name.starts_with("pattern") && !name.starts_with("drilling")),
        "{names:?}"
    );
}
