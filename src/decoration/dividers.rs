//! Dividers: rules and rows, mm, from the left end of the top edge.

use std::sync::Arc;

use kurbo::BezPath;

use super::known::known;
use super::pen::{all, bar, disc, upright};
use crate::layout::{Divider, DividerWidth};
use crate::lettering::Ornament;
use crate::plate::closed_polygon;

/// Thickness of a swelled rule's ends, as a share of its middle: blunt, so that a cutter
/// makes them.
const END: f64 = 0.25;
/// From one dot's middle to the next, in weights.
const PITCH: f64 = 3.0;
/// Most dots of a row: beyond, they stand farther apart.
const MOST_DOTS: f64 = 200.0;
/// Half the width of a lozenge, and the white from it to the rules, in weights.
const LOZENGE_HALF: f64 = 4.0;
const LOZENGE_WHITE: f64 = 2.5;
/// A divider is measured on one of no more than so many weights: longer ones are nowhere
/// thinner, and a rule of a metre would be looked at in a million places.
const MEASURED: f64 = 60.0;

/// A divider in a field that is so wide, mm; its thickness is its weight.
pub(super) fn divider(
    kind: Divider,
    width: DividerWidth,
    weight: f64,
    room: f64,
) -> Option<Arc<Ornament>> {
    let width = match width {
        DividerWidth::Stated(width) => width,
        DividerWidth::Share(share) => share * room,
    };
    let width = width.max(kind.least_weights() * weight);
    let most = MEASURED * weight;
    known(upright(drawn(kind, width, weight)), |whole| {
        let whole = Ornament::new(whole)?;
        if width <= most {
            return Some(whole);
        }
        Some(whole.measured_as(Ornament::new(&upright(drawn(kind, most, weight)))?))
    })
}

fn drawn(kind: Divider, width: f64, weight: f64) -> BezPath {
    let height = kind.weights() * weight;
    match kind {
        Divider::Rule => bar((0.0, 0.0), (width, weight)),
        Divider::SwelledRule => swelled(width, weight),
        Divider::DoubleRule => {
            all([bar((0.0, 0.0), (width, weight)), bar((0.0, height - weight), (width, height))])
        }
        Divider::LozengeRule => {
            let (middle, top) = (width / 2.0, (height - weight) / 2.0);
            let half = LOZENGE_HALF * weight;
            let end = middle - half - LOZENGE_WHITE * weight;
            all([
                bar((0.0, top), (end, top + weight)),
                bar((width - end, top), (width, top + weight)),
                closed_polygon(&[
                    (middle - half, height / 2.0),
                    (middle, 0.0),
                    (middle + half, height / 2.0),
                    (middle, height),
                ]),
            ])
        }
        Divider::DottedRule => {
            let run = width - weight;
            let gaps = (run / (PITCH * weight)).floor().clamp(1.0, MOST_DOTS - 1.0);
            let (step, radius) = (run / gaps, weight / 2.0);
            let mut middles = Vec::new();
            let mut at = 0.0;
            while at <= gaps {
                middles.push(radius + step * at);
                at += 1.0;
            }
            middles.into_iter().flat_map(|x| disc(x, radius, radius)).collect()
        }
    }
}

/// A rule that swells towards its middle, where it is level.
fn swelled(width: f64, weight: f64) -> BezPath {
    let (middle, end) = (width / 2.0, weight * END);
    let (upper, lower) = ((weight - end) / 2.0, f64::midpoint(weight, end));
    let (near, far) = (0.28 * width, 0.34 * width);
    let mut path = BezPath::new();
    path.move_to((0.0, upper));
    path.curve_to((near, upper), (far, 0.0), (middle, 0.0));
    path.curve_to((width - far, 0.0), (width - near, upper), (width, upper));
    path.line_to((width, lower));
    path.curve_to((width - near, lower), (width - far, weight), (middle, weight));
    path.curve_to((far, weight), (near, lower), (0.0, lower));
    path.close_path();
    path
}
