//! Promises about what is kept clear round a photograph: the shape and all within the gap
//! of it, no more and no less. shapely, which the project does not use, grows the same
//! shapes.

use ansata::layout::Shape;
use ansata::plate::{ClearZone, Field, Outline, ZoneKind, ZoneShape};
use serde_json::{Value, json};

use crate::fit::Numbers;
use crate::outside::asked;

/// Half of what a chain of straight pieces may fall short of its curve in the script: 40 mm
/// of radius in 2048 or more pieces to the round.
const CHAIN: f64 = 0.0001;

const WIDE: f64 = 400.0;

/// A zone with the shape that it is grown from.
fn any(numbers: &mut Numbers) -> (ZoneShape, Value) {
    let (x, y) = (numbers.between(150.0, 250.0), numbers.between(150.0, 250.0));
    let (across, down) = (numbers.between(4.0, 40.0), numbers.between(4.0, 40.0));
    let gap = numbers.between(0.3, 12.0);
    let (x0, y0, x1, y1) = (x - across, y - down, x + across, y + down);
    match numbers.below(3) {
        0 => (
            ZoneShape::Oval { x, y, across, down, gap },
            json!({ "shape": "oval", "x": x, "y": y, "across": across, "down": down, "gap": gap }),
        ),
        1 => {
            let corner = across.min(down) * [0.0, numbers.between(0.05, 0.9)][numbers.below(2)];
            let radius = corner + gap;
            (
                ZoneShape::Rounded {
                    x0: x0 - gap,
                    y0: y0 - gap,
                    x1: x1 + gap,
                    y1: y1 + gap,
                    radius,
                },
                json!({
                    "shape": "rectangle", "x0": x0, "y0": y0, "x1": x1, "y1": y1,
                    "corner": corner, "gap": gap,
                }),
            )
        }
        _ => {
            let most = across.min(2.0 * down);
            let rise = most * [1.0, numbers.between(0.1, 0.95)][numbers.below(2)];
            (
                ZoneShape::Arch { x0, y0, x1, y1, rise, gap },
                json!({
                    "shape": "arch", "x0": x0, "y0": y0, "x1": x1, "y1": y1, "rise": rise,
                    "gap": gap,
                }),
            )
        }
    }
}

#[test]
fn what_is_kept_clear_is_the_shape_grown_by_its_gap() {
    let mut numbers = Numbers(0x5eed_0008);
    let mut cases = Vec::new();
    let mut ours = Vec::new();
    for _ in 0..60 {
        let (shape, mut case) = any(&mut numbers);
        let [_, first, _, last] = shape.bounds();
        let outline = Some(Outline::new(WIDE, WIDE, &Shape::Rectangle));
        let zones = vec![ClearZone { shape, kind: ZoneKind::Photo(0) }];
        let field = Field { outline, zones, axis_x: WIDE / 2.0 };
        for _ in 0..8 {
            let top = numbers.between(first - 2.0, last);
            let bottom = top + numbers.between(0.5, 8.0);
            // Near the very top and foot, where the width runs from nothing to much within
            // less than a chain of straight pieces is exact, nothing can be compared.
            let near = |at: f64, end: f64| (at - end).abs() < 0.2;
            if near(bottom, first) || near(top, last) {
                continue;
            }
            let free = field.intervals(top, bottom);
            let blocked = match free.as_slice() {
                [_] => None,
                [left, right] => Some((left.right, right.left)),
                _ => panic!("{shape:?} parts the field into {free:?}"),
            };
            ours.push((shape, (top, bottom), blocked));
            let bands = case["bands"].as_array_mut();
            match bands {
                Some(bands) => bands.push(json!([top, bottom])),
                None => case["bands"] = json!([[top, bottom]]),
            }
        }
        cases.push(case);
    }
    cases.retain(|case| case["bands"].is_array());
    let Some(answer) = asked("zones.py", &json!({ "cases": cases })) else { return };
    let theirs: Vec<&Value> = answer["cases"]
        .as_array()
        .unwrap()
        .iter()
        .flat_map(|case| case.as_array().unwrap())
        .collect();
    assert_eq!(theirs.len(), ours.len());
    let mut worst = 0.0_f64;
    for ((shape, band, ours), theirs) in ours.into_iter().zip(theirs) {
        let theirs =
            theirs.as_array().map(|ends| (ends[0].as_f64().unwrap(), ends[1].as_f64().unwrap()));
        assert_eq!(ours.is_some(), theirs.is_some(), "{shape:?}, {band:?}");
        let (Some(ours), Some(theirs)) = (ours, theirs) else { continue };
        let apart = (ours.0 - theirs.0).abs().max((ours.1 - theirs.1).abs());
        worst = worst.max(apart);
        assert!(apart < 10.0 * CHAIN, "{shape:?}, {band:?}: {ours:?} and {theirs:?}");
    }
    println!("the widest difference is {worst} mm");
}
