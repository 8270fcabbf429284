//! The JSON that machines read: format [`FORMAT`], version [`VERSION`].
//!
//! Lengths in mm to 0.0001, in plate coordinates (origin top left, y down).
//! A key that does not apply is `null`; nothing absent is written as 0.

mod agreed;
mod decoration;
mod photos;
mod zones;

use kurbo::PathEl;
use serde::Serialize;
use serde_json::{Value, json};

use crate::checks;
use crate::fit::{FittedLine, Row};
use crate::floors::{self, FloorFrom};
use crate::job::{Job, Judged};
use crate::layout::{Align, Layout, Named, Plate, Shape, Source};
use crate::lettering::{Face, ShapedLine};
use crate::mount::{Bore, Bored, Depth, KELVIN, Movement, SlotWay};
use crate::mount::{Laid, old_holes};
use crate::plate::{Outline, outline};
use crate::remedies::Cures;

pub use agreed::changes_json;

/// Name of the format, in the key `format`.
pub const FORMAT: &str = "ansata-report";
/// Version of the format, in the key `version`.
pub const VERSION: u32 = 1;

/// Tolerance of outlines that are written as points, mm.
const OUTLINE_TOLERANCE_MM: f64 = 0.001;

/// A file that was written beside the report.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SheetFile {
    /// File name in the report's folder.
    pub file: String,
    /// Page from 1, for sheets of several pages.
    pub page: usize,
    /// Page width, mm.
    pub width_mm: f64,
    /// Page height, mm.
    pub height_mm: f64,
    /// Where the plate's top left corner lies on the page, if the plate is drawn there at true size.
    pub plate_x_mm: Option<f64>,
    /// Where the plate's top left corner lies on the page, if the plate is drawn there at true size.
    pub plate_y_mm: Option<f64>,
    /// Where the zero of the file's own coordinates lies on the page, where it has one.
    pub zero_x_mm: Option<f64>,
    /// Where the zero of the file's own coordinates lies on the page, where it has one.
    pub zero_y_mm: Option<f64>,
}

/// The report as pretty JSON with a final newline.
///
/// `source` is the layout's text, for lines and columns of findings; `sheets`
/// and `files` are what was written, empty where nothing was.
#[must_use]
pub fn report(
    job: &Job,
    cures: &[Cures],
    source: &Source,
    sheets: &[SheetFile],
    files: &[String],
) -> String {
    let layout = &job.layout;
    let plate = &layout.plate;
    let fitted = &job.fitted;
    let zones: Vec<Value> = job.zones.iter().map(zones::zone).collect();
    let lines: Vec<Value> = (0..layout.lines.len()).filter_map(|index| line(job, index)).collect();
    let pieces: Vec<Value> = fitted.rows.iter().map(|row| piece(row, &job.lines)).collect();
    let findings: Vec<Value> = job
        .findings
        .iter()
        .enumerate()
        .map(|(index, judged)| {
            finding(job, judged, cures.iter().find(|c| c.finding == index), source)
        })
        .collect();
    let field_rounds = job.field.outline.as_ref().map(rounds).unwrap_or_default();
    let value = json!({
        "format": FORMAT,
        "version": VERSION,
        "ansata": env!("CARGO_PKG_VERSION"),
        "title": layout.title,
        "proof_mark": job.mark,
        "proof_number": layout.proof.number,
        "sign_off": agreed::sign_off(job),
        "plate": {
            "shape": plate.shape.word(),
            "measures": measures(plate),
            "width_mm": mm(plate.width),
            "height_mm": mm(plate.height),
            "thickness_mm": mm(plate.thickness),
            "material": plate.material.word(),
            "finish": plate.finish.word(),
            "coating": plate.coating.map(Named::word),
            "made_of": plate.made_of(),
            "bevel_mm": mm(plate.bevel),
            "quantity": plate.quantity,
            "outline": points(&outline(plate).path()),
        },
        "engraving": {
            "process": layout.engraving.process.word(),
            "from": layout.engraving.from.word(),
            "cut": layout.engraving.cut.word(),
            "fill": layout.engraving.fill.word(),
            "read_from_mm": mm(layout.engraving.reading.distance),
            "strokes_checked": floors::needs(layout).is_some(),
            "cutter": cutter(layout),
        },
        "margin_mm": mm(plate.margin),
        "field": {
            "outline": field_rounds.first(),
            "further_outlines": field_rounds.get(1..).unwrap_or_default(),
            "convex": job.field.convex(),
            "axis_x_mm": mm(job.field.axis_x),
        },
        "clear_zones": zones,
        "mode": fitted.mode.word(),
        "limit_scale": fitted.limit_scale.map(mm),
        "scale_low": mm(fitted.scale_low),
        "scale_high": mm(fitted.scale_high),
        "scale": mm(fitted.scale),
        "ease": mm(fitted.ease),
        "phi": mm(fitted.phi),
        "lines": lines,
        "pieces": pieces,
        "corners": layout.corners.as_ref().map(|corners| decoration::corners(job, corners)),
        "photos": photos::photos(job),
        "holes": holes(job),
        "face": face(job),
        "hole_set": { "set": job.mount.set.told(), "why": job.mount.set.why },
        "movement": job.mount.movement.as_ref().map(movement),
        "findings": findings,
        "cut": agreed::cut(&job.cut),
        "sheets": sheets,
        "files": files,
    });
    let mut text = serde_json::to_string_pretty(&value).unwrap_or_default();
    text.push('\n');
    text
}

/// File names that an earlier report says were written beside it; `None` where
/// the text is no report of ours.
#[must_use]
pub fn files_of(report: &str) -> Option<Vec<String>> {
    let value: Value = serde_json::from_str(report).ok()?;
    (value.get("format")?.as_str()? == FORMAT).then_some(())?;
    let files = value.get("files")?.as_array()?;
    Some(files.iter().filter_map(|file| file.as_str().map(str::to_owned)).collect())
}

/// To 0.0001, never minus zero.
fn mm(value: f64) -> f64 {
    (value * 10_000.0).round() / 10_000.0 + 0.0
}

/// What a shape has beside its size.
fn measures(plate: &Plate) -> Value {
    match &plate.shape {
        Shape::Rectangle | Shape::Oval | Shape::Circle | Shape::Points(_) => json!({}),
        Shape::Rounded { corner } | Shape::Notched { corner } => {
            json!({ "corner_mm": mm(*corner) })
        }
        Shape::Arch { rise } => json!({ "rise_mm": mm(rise.unwrap_or(plate.width / 2.0)) }),
        Shape::Ansate(handles) => {
            let size = handles.on(plate.width, plate.height);
            json!({
                "handle_width_mm": mm(size.width),
                "handle_root_mm": mm(size.root),
                "handle_tip_mm": mm(size.tip),
                "lettering": handles.lettering.word(),
            })
        }
    }
}

/// The rounds of an outline as points, the one of the greatest area first.
fn rounds(outline: &Outline) -> Vec<Vec<[f64; 2]>> {
    let mut paths = outline.paths();
    paths.sort_by(|a, b| kurbo::Shape::area(b).abs().total_cmp(&kurbo::Shape::area(a).abs()));
    paths.iter().map(points).collect()
}

/// A closed path as points, curves within [`OUTLINE_TOLERANCE_MM`].
fn points(path: &kurbo::BezPath) -> Vec<[f64; 2]> {
    let mut points = Vec::new();
    kurbo::flatten(path.elements().iter().copied(), OUTLINE_TOLERANCE_MM, |element| {
        if let PathEl::MoveTo(p) | PathEl::LineTo(p) = element {
            points.push([mm(p.x), mm(p.y)]);
        }
    });
    points
}

fn line(job: &Job, index: usize) -> Option<Value> {
    let asked = job.layout.lines.get(index)?;
    let shaped = job.lines.get(index)?;
    let fitted: &FittedLine = job.fitted.lines.get(index)?;
    let stretches: Vec<Value> = shaped
        .stretches()
        .into_iter()
        .map(|(range, face)| json!({ "range": [range.start, range.end], "lettering": face.name }))
        .collect();
    let words = asked.ornament.is_none();
    let others: Vec<Value> =
        shaped.others.iter().map(|face| font(face, &shaped.features)).collect();
    Some(json!({
        "index": index + 1,
        "text": asked.text,
        "ornament": asked.ornament.as_ref().map(|asked| decoration::in_line(job, index, asked)),
        "engraved": (shaped.text != asked.text).then_some(&shaped.text),
        "language": shaped.language(),
        "lettering": words.then_some(&shaped.face.name),
        "font": words.then(|| font(&shaped.face, &shaped.features)),
        "other_fonts": others,
        "stretches": stretches,
        "narrowed_to_percent": shaped.narrowed,
        "tracking": mm(fitted.tracking),
        "size_ratio": asked.size,
        "cap_height_mm": mm(fitted.cap_height),
        "x_height_mm": fitted.x_height.map(mm),
        "floor_mm": mm(fitted.floor.floor),
        "floor_from": match fitted.floor.floor_from {
            FloorFrom::Process => "process",
            FloorFrom::Stroke => "stroke",
            FloorFrom::Counter => "counter",
            FloorFrom::Gap => "gap",
            FloorFrom::Layout => "layout",
        },
        "strokes": if words { strokes(job, index) } else { None },
        "wish_mm": fitted.floor.wish.map(mm),
        "wish_from": fitted.floor.wish.map(|_| "reading"),
        "ceiling_mm": mm(fitted.ceiling),
        "rise": mm(fitted.rise),
        "depth": mm(fitted.depth),
        "leading": mm(fitted.leading),
        "space": mm(fitted.space),
        "align": match fitted.align {
            Align::Centre => "centre",
            Align::Left => "left",
            Align::Right => "right",
        },
        "breaks": fitted.breaks,
    }))
}

/// The cutter that letters are judged by, and what it asks of them.
fn cutter(layout: &Layout) -> Option<Value> {
    let (cutter, needs) = layout.cutter().zip(floors::needs(layout))?;
    Some(json!({
        "tip_mm": mm(cutter.tip),
        "angle_degrees": cutter.point.map(|point| point.angle),
        "depth_mm": cutter.point.map(|point| mm(point.depth)),
        "cut_width_mm": mm(cutter.width()),
        "from_shop": layout.engraving.cutter.is_none(),
        "least_stroke_mm": mm(needs.stroke.least),
        "least_counter_and_gap_mm": mm(needs.ground.least),
    }))
}

/// What is thin in a line as it stands, where a cutter is told.
fn strokes(job: &Job, index: usize) -> Option<Value> {
    floors::needs(&job.layout)?;
    let thin = checks::thin_line(&job.lines, &job.fitted, index);
    let width = |letters: Option<checks::Letters>| letters.map(|at| mm(at.width));
    Some(json!({
        "thinnest_stroke_mm": job.fitted.cut(index).map(mm).or(width(thin.stroke)),
        "thinnest_join_mm": width(thin.join),
        "narrowest_counter_mm": width(thin.counter),
        "narrowest_gap_mm": width(thin.gap),
        "not_measured": thin.unmeasured,
    }))
}

fn font(face: &Face, features: &[String]) -> Value {
    let axes: serde_json::Map<String, Value> =
        face.axes.iter().map(|(tag, value)| (tag.clone(), json!(mm(f64::from(*value))))).collect();
    json!({
        "name": face.name,
        "file_sha256": face.sha256,
        "index": face.index,
        "axes": axes,
        "features": features,
        "upem": face.upem,
        "cap_units": mm(face.cap_units),
        "x_units": face.x_units.map(mm),
    })
}

fn piece(row: &Row, lines: &[ShapedLine]) -> Value {
    let glyphs: Vec<Value> = row
        .glyphs
        .iter()
        .map(|glyph| json!({ "id": glyph.id, "font": glyph.face, "x_mm": mm(glyph.x), "y_mm": mm(glyph.y) }))
        .collect();
    let lettering = lines.get(row.line).filter(|_| row.drawn.is_none());
    json!({
        "line": row.line + 1,
        "range": [row.range.start, row.range.end],
        "text": row.text,
        "ornament": row.drawn,
        "lettering": lettering.map(|line| line.face.name.clone()),
        "baseline_mm": mm(row.baseline),
        "origin_x_mm": mm(row.origin_x),
        "cap_height_mm": mm(row.cap_height),
        "ink": {
            "x0": mm(row.ink.x0), "y0": mm(row.ink.y0), "x1": mm(row.ink.x1), "y1": mm(row.ink.y1),
        },
        "glyphs": glyphs,
    })
}

fn holes(job: &Job) -> Vec<Value> {
    let fixing = job.mount.fixing.as_ref();
    let thickness = job.layout.plate.thickness;
    let holes = job.mount.holes.iter();
    let bore = |what| fixing.and_then(|f| f.bore(what)).map(|bore| mm(bore.diameter));
    holes
        .map(|hole| {
            json!({
                "x_mm": mm(hole.x),
                "y_mm": mm(hole.y),
                "clearance_diameter_mm": mm(hole.clearance_diameter),
                "head_diameter_mm": mm(hole.head_diameter),
                "slot": hole.slot.map(|slot| json!({
                    "length_mm": mm(slot.length),
                    "runs": runs(slot.way),
                })),
                "clear_zone_radius_mm": mm(hole.clear_zone_radius),
                "shank_bore_mm": bore(Bored::Shank),
                "pilot_mm": bore(Bored::Pilot),
                "depth_mm": fixing.map(|f| mm(f.penetration(thickness))),
                "bores": fixing.map(|f| f.bores.iter().map(bored).collect::<Vec<_>>()),
                "face": hole.face.map(|(x, y)| json!({ "x_mm": mm(x), "y_mm": mm(y) })),
            })
        })
        .collect()
}

fn runs(way: SlotWay) -> &'static str {
    match way {
        SlotWay::Level => "level",
        SlotWay::Upright => "upright",
    }
}

fn movement(movement: &Movement) -> Value {
    let slots: Vec<Value> = movement
        .slots
        .iter()
        .map(|needed| {
            json!({
                "hole": needed.hole + 1,
                "travel_mm": mm(needed.travel),
                "length_mm": mm(needed.slot.length),
                "runs": runs(needed.slot.way),
                "head_needed_mm": mm(needed.head_needed),
            })
        })
        .collect();
    let tight: Vec<usize> = movement.tight.iter().map(|index| index + 1).collect();
    json!({
        "wood": movement.wood,
        "grain": movement.way.word(),
        "cut": movement.sawn.word(),
        "moisture_percent": [mm(movement.moisture.0), mm(movement.moisture.1)],
        "moisture_told": movement.moisture_told,
        "coefficient": movement.coefficient.share,
        "source": movement.coefficient.source,
        "span_mm": mm(movement.span),
        "wood_mm": mm(movement.wood_change),
        "plate_mm": [mm(movement.plate_change.0), mm(movement.plate_change.1)],
        "kelvin": KELVIN,
        "difference_mm": mm(movement.difference),
        "at_outer_hole_mm": mm(movement.at_outer_hole),
        "float_mm": movement.float.map(mm),
        "past_float_mm": mm(movement.past_float()),
        "give_mm": mm(movement.give),
        "tight_holes": tight,
        "slots_needed": slots,
    })
}

/// A bore in the face.
fn bored(bore: &Bore) -> Value {
    json!({
        "for": match bore.what {
            Bored::Shank => "shank",
            Bored::Pilot => "pilot",
            Bored::Insert => "insert",
            Bored::Tap => "tap",
            Bored::Clearance => "clearance",
            Bored::Stud => "stud",
        },
        "diameter_mm": mm(bore.diameter),
        "through": bore.depth == Depth::Through,
        "stop_mm": bore.stop().map(mm),
    })
}

/// The face and the plate's place on it, in face coordinates: from the top left corner of
/// its box, or from the mark where its size is not told.
fn face(job: &Job) -> Option<Value> {
    let plan = job.mount.face.as_ref()?;
    let told = &plan.face;
    let laid = |laid: &Option<Laid>| laid.as_ref().map(|laid| points(&laid.path()));
    let old: Vec<Value> = old_holes(&job.layout, &job.mount)
        .iter()
        .map(|old| {
            json!({
                "x_mm": mm(old.x),
                "y_mm": mm(old.y),
                "diameter_mm": mm(old.diameter),
                "plugged": old.plugged,
                "cover_mm": mm(old.cover),
                "reused_by_hole": old.reused.map(|reused| reused.hole + 1),
                "reused_off_mm": old.reused.map(|reused| mm(reused.off)),
                "too_near_hole": old.beside.map(|beside| beside.hole + 1),
                "wood_between_mm": old.beside.map(|beside| mm(beside.wood)),
            })
        })
        .collect();
    Some(json!({
        "shape": told.edge.as_ref().map(|edge| edge.shape.word()),
        "width_mm": told.edge.as_ref().map(|edge| mm(edge.width)),
        "height_mm": told.edge.as_ref().map(|edge| mm(edge.height)),
        "material": told.material.word(),
        "thickness_mm": told.thickness.map(mm),
        "outline": laid(&plan.edge),
        "trim_outline": laid(&plan.trim),
        "recess_outline": laid(&plan.recess),
        "recess_depth_mm": told.recess.map(|recess| mm(recess.depth)),
        "mark": plan.mark.map(|(x, y)| json!({ "x_mm": mm(x), "y_mm": mm(y) })),
        "plate_x_mm": mm(plan.plate_x),
        "plate_y_mm": mm(plan.plate_y),
        "plate_sized_from_face": job.layout.plate.from_face.is_some(),
        "old_holes": old,
    }))
}

fn finding(job: &Job, judged: &Judged, cures: Option<&Cures>, source: &Source) -> Value {
    let finding = &judged.finding;
    let position = job.layout.keys.span(&finding.place.key).map(|s| source.position(s.start));
    let quantity = |q: Option<crate::finding::Quantity>| {
        q.map(|q| json!({ "value": mm(q.value), "unit": q.unit }))
    };
    let remedies: Vec<Value> = cures
        .map(|cures| cures.remedies.as_slice())
        .unwrap_or_default()
        .iter()
        .map(|remedy| {
            let edits = remedy.edits.iter();
            let edits: Vec<Value> =
                edits.map(|edit| json!({ "key": edit.key, "value": edit.value })).collect();
            json!({ "kind": remedy.kind, "message": remedy.message, "edits": edits })
        })
        .collect();
    json!({
        "code": finding.code,
        "severity": finding.severity.to_string(),
        "scope": finding.scope.to_string(),
        "where": {
            "line": finding.place.line.map(|line| line + 1),
            "hole": finding.place.hole.map(|hole| hole + 1),
            "key": finding.place.key,
            "file_line": position.map(|p| p.line),
            "file_column": position.map(|p| p.column),
        },
        "message": finding.message,
        "measured": quantity(finding.measured),
        "required": quantity(finding.required),
        "rule": finding.rule,
        "source": finding.source,
        "accepted": judged.accepted,
        "remedies": remedies,
    })
}
