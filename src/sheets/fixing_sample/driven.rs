//! Fixings from the side, uncut, as sections show them.
//!
//! Diameters and lengths are those of the mount's tables. What these do not give is drawn by
//! a share of what they do: from memory of the standards' heads, and common practice; no
//! figure is told from it.

use kurbo::BezPath;

use crate::layout::{FixingAsked, Head, Into, MachineHead};
use crate::mount::{Fixing, Front};
use crate::sheets::plaque::SLOT_SHARE;

use super::section::smooth_end;
use super::turned::{both_sides, dome, straight_body, turned};
use super::{Drawn, Things};

/// Heights of heads, as shares of their diameter.
const ROUND_HEAD: f64 = 0.42;
const OVAL_RISE: f64 = 0.17;
const PAN_HEAD: f64 = 0.32;
const DOME_HEAD: f64 = 0.29;
const PIN_HEAD: f64 = 0.35;
const COVER_CAP: f64 = 0.25;
const STANDOFF_CAP: f64 = 0.22;
/// How deep slot and socket go, as a share of the head's height.
const SLOT_DEPTH: f64 = 0.45;
const SOCKET_DEPTH: f64 = 0.55;
/// Pitch of a wood screw, and how long its point is, in shank diameters.
const WOOD_PITCH: f64 = 0.42;
const WOOD_POINT: f64 = 1.4;
/// Point of a pin, in its diameters.
const PIN_POINT: f64 = 0.9;
/// Across a nut and its washer, in thread diameters; the washer's share of both heights.
const NUT: f64 = 1.75;
const WASHER: f64 = 2.1;
const WASHER_HEIGHT: f64 = 0.22;

/// A fixing in its place; the plate's thickness, where the face begins and where it ends,
/// mm from the plate's front.
pub(super) fn driven(
    asked: &FixingAsked,
    fixing: &Fixing,
    (thickness, start, end): (f64, f64, f64),
) -> Things {
    let tip = start + fixing.penetration(thickness);
    let smooth = smooth_end(fixing, (thickness, start));
    let mut things = Vec::new();
    match *asked {
        FixingAsked::WoodScrew { head, cap, .. } => {
            wood_screw(&mut things, fixing, (sunk_depth(fixing), smooth, tip));
            let own = fixing.countersink.map_or(fixing.head_diameter, |sunk| sunk.top);
            if cap.is_none() || head != Head::Round {
                wood_head(&mut things, fixing, (head, own));
            }
            if cap.is_some() {
                let top = -COVER_CAP * fixing.head_diameter;
                things.push((dome(0.0, top, fixing.head_diameter / 2.0), Drawn::Body));
            }
        }
        FixingAsked::MachineScrew { head, into, .. } => {
            machine_screw(&mut things, fixing, (sunk_depth(fixing), tip));
            machine_head(&mut things, fixing, head);
            if into == Into::Nut {
                nut(&mut things, fixing, end);
            }
        }
        FixingAsked::Pin { .. } => {
            let radius = fixing.shank / 2.0;
            let point = (tip - PIN_POINT * fixing.shank).max(0.0);
            let shank = turned(&[(0.0, radius), (point, radius), (tip, 0.0)]);
            things.push((shank, Drawn::Body));
            let top = -PIN_HEAD * fixing.head_diameter;
            things.push((dome(0.0, top, fixing.head_diameter / 2.0), Drawn::Body));
        }
        FixingAsked::Stud { .. } => {
            things.push((straight_body(start, tip, fixing.shank / 2.0), Drawn::Body));
        }
        FixingAsked::Standoff { cap, hole, .. } => {
            wood_screw(&mut things, fixing, (start, smooth, tip));
            let barrel = straight_body(thickness, start, cap / 2.0);
            things.push((straight_body(0.0, thickness, hole / 2.0), Drawn::Body));
            things.push((barrel, Drawn::Body));
            things.push((standoff_cap(cap), Drawn::Body));
        }
        FixingAsked::Tape { .. } => {}
    }
    things
}

/// Where the cone of a countersunk head has become its shank, mm from the plate's front.
fn sunk_depth(fixing: &Fixing) -> f64 {
    fixing.countersink.map_or(0.0, |sunk| sunk.depth)
}

/// Smooth shank and thread: a core with its ridges, up to the point.
fn wood_screw(things: &mut Things, fixing: &Fixing, (from, smooth, tip): (f64, f64, f64)) {
    let (radius, root) = (fixing.shank / 2.0, fixing.root / 2.0);
    let smooth = smooth.clamp(from, tip);
    let point = (tip - WOOD_POINT * fixing.shank).max(smooth);
    let core = [
        (from, radius),
        (smooth, radius),
        ((smooth + radius - root).min(point), root),
        (point, root),
        (tip, 0.0),
    ];
    let pitch = WOOD_PITCH * fixing.shank;
    let mut ridges = BezPath::new();
    let mut at = smooth + pitch;
    while at < tip - 0.5 * pitch {
        let share = ((tip - at) / (tip - point).max(1e-9)).min(1.0);
        let high = radius * share;
        ridges.move_to((at - pitch / 4.0, -high));
        ridges.line_to((at + pitch / 4.0, high));
        at += pitch;
    }
    things.push((turned(&core), Drawn::Body));
    things.push((ridges, Drawn::Edge));
}

fn wood_head(things: &mut Things, fixing: &Fixing, (head, across): (Head, f64)) {
    let radius = across / 2.0;
    let depth = sunk_depth(fixing);
    let cone = turned(&[(0.0, radius), (depth, fixing.shank / 2.0)]);
    let (top, high) = match head {
        Head::Flat => (0.0, depth),
        Head::Oval => (-OVAL_RISE * across, depth + OVAL_RISE * across),
        Head::Round => (-ROUND_HEAD * across, ROUND_HEAD * across),
    };
    if depth > 0.0 {
        things.push((cone, Drawn::Body));
    }
    if top < 0.0 {
        things.push((dome(0.0, top, radius), Drawn::Body));
    }
    slot(things, (top, high), radius);
}

/// The end of a slot in a head.
fn slot(things: &mut Things, (top, high): (f64, f64), radius: f64) {
    let half = radius * SLOT_SHARE / 2.0;
    let foot = top + high * SLOT_DEPTH;
    // A little further out than the head, so that its edge is gone too.
    things.push((straight_body(top - 0.2 * half, foot, half), Drawn::White));
    let mut edge = BezPath::new();
    edge.move_to((top, -half));
    for at in [(foot, -half), (foot, half), (top, half)] {
        edge.line_to(at);
    }
    things.push((edge, Drawn::Edge));
}

/// A shank threaded all along: crests as a body, roots as narrow lines (ISO 6410-1).
fn machine_screw(things: &mut Things, fixing: &Fixing, (from, tip): (f64, f64)) {
    let (radius, root) = (fixing.shank / 2.0, fixing.root / 2.0);
    let chamfer = tip - (radius - root);
    let body = turned(&[(from, radius), (chamfer, radius), (tip, root)]);
    things.push((body, Drawn::Body));
    things.push((both_sides(from, tip, root), Drawn::Narrow));
    let mut end = BezPath::new();
    end.move_to((chamfer, -radius));
    end.line_to((chamfer, radius));
    things.push((end, Drawn::Edge));
}

fn machine_head(things: &mut Things, fixing: &Fixing, head: MachineHead) {
    let across = fixing.head_diameter;
    let radius = across / 2.0;
    match head {
        MachineHead::Countersunk => {
            let depth = sunk_depth(fixing);
            things.push((turned(&[(0.0, radius), (depth, fixing.shank / 2.0)]), Drawn::Body));
            slot(things, (0.0, depth), radius);
        }
        MachineHead::Pan => {
            let high = PAN_HEAD * across;
            // Its rim is rounded.
            let body = turned(&[
                (-high, radius * 0.72),
                (-high * 0.72, radius * 0.94),
                (-high * 0.35, radius),
                (0.0, radius),
            ]);
            things.push((body, Drawn::Body));
            slot(things, (-high, high), radius);
        }
        MachineHead::Dome => {
            let high = DOME_HEAD * across;
            things.push((dome(0.0, -high, radius), Drawn::Body));
            if fixing.front == Front::Socket {
                let foot = -high + high * SOCKET_DEPTH;
                things.push((both_sides(-high, foot, radius * 0.43), Drawn::Hidden));
            }
        }
    }
}

/// Washer and nut behind the face.
fn nut(things: &mut Things, fixing: &Fixing, end: f64) {
    let washer = end + fixing.behind * WASHER_HEIGHT;
    let half = fixing.shank / 2.0;
    things.push((straight_body(end, washer, half * WASHER), Drawn::Body));
    things.push((straight_body(washer, end + fixing.behind, half * NUT), Drawn::Body));
    things.push((both_sides(washer, end + fixing.behind, half * NUT * 0.5), Drawn::Edge));
}

/// The cap of a standoff: a disc with its front edge broken.
fn standoff_cap(across: f64) -> BezPath {
    let (radius, high) = (across / 2.0, STANDOFF_CAP * across);
    let chamfer = 0.12 * radius;
    turned(&[(-high, radius - chamfer), (-high + chamfer, radius), (0.0, radius)])
}
