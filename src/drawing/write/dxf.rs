//! DXF for machines: AutoCAD Release 12 (`AC1009`), which every program reads.
//!
//! Millimetres, y up. Every named group is a layer, all of one colour. Release 12
//! knows circles and straight lines: circles are circles, other curves are chains of
//! straight lines that leave the curve by no more than [`DXF_TOLERANCE_MM`].

use std::fmt::Write as _;

use kurbo::{Affine, BezPath, PathEl, Point};

use super::{WriteError, placed};
use crate::drawing::{Drawing, Item, Text};
use crate::units::digits::fixed;

/// How far a chain of straight lines may leave its curve, mm.
pub const DXF_TOLERANCE_MM: f64 = 0.01;
/// Decimals of lengths in mm.
const DECIMALS: usize = 4;
/// Half the last decimal: points nearer than this are written alike, mm.
const SAME_MM: f64 = 0.000_05;
/// Longest name of a layer in Release 12.
const LONGEST_NAME: usize = 31;
/// Layer of what stands in no group.
const NO_LAYER: &str = "0";

/// The one page of a drawing as DXF, its coordinates counted from `zero`, a place on
/// the page in mm: what stands there has the coordinates 0, 0; x to the right, y up.
///
/// Filled shapes and letters become outlines; colours, widths and line types are left
/// out, and so are pictures, which no tool can follow. `remark` becomes a comment at the head of the file, which programs skip;
/// characters that are not ASCII become `?`.
///
/// # Errors
/// Not exactly one page, or a page without area; a length that is not a number or out
/// of all proportion; a group of which only a part is shown.
pub fn dxf(drawing: &Drawing, zero: (f64, f64), remark: &str) -> Result<String, WriteError> {
    let [page] = placed::pages(drawing)? else {
        return Err(WriteError("a DXF file holds one page".to_owned()));
    };
    let mut body = Body::default();
    let to = Affine::new([1.0, 0.0, 0.0, -1.0, -placed::length(zero.0)?, placed::length(zero.1)?]);
    body.items(&page.items, to, NO_LAYER)?;
    let mut out = Codes::default();
    for line in remark.lines() {
        out.pair(999, &line.chars().map(ascii).collect::<String>());
    }
    body.header(&mut out);
    body.layers(&mut out);
    out.section("ENTITIES");
    out.0.push_str(&body.entities.0);
    out.pair(0, "ENDSEC");
    out.pair(0, "EOF");
    Ok(out.0)
}

fn ascii(letter: char) -> char {
    if letter.is_ascii() && !letter.is_ascii_control() { letter } else { '?' }
}

/// Group codes with their values, a line each.
#[derive(Default)]
struct Codes(String);

impl Codes {
    fn pair(&mut self, code: u16, value: &str) {
        let _ = writeln!(self.0, "{code}\n{value}");
    }

    fn section(&mut self, name: &str) {
        self.pair(0, "SECTION");
        self.pair(2, name);
    }

    /// A point in the plane.
    fn point(&mut self, at: Point) {
        self.pair(10, &fixed(at.x, DECIMALS));
        self.pair(20, &fixed(at.y, DECIMALS));
        self.pair(30, "0.0");
    }

    fn begin(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }
}

/// Everything drawn, as it grows.
#[derive(Default)]
struct Body {
    entities: Codes,
    /// In order of first use.
    layers: Vec<String>,
    /// Least and greatest place of all, mm.
    extent: Option<(Point, Point)>,
}

impl Body {
    fn items(&mut self, items: &[Item], to: Affine, layer: &str) -> Result<(), WriteError> {
        for item in items {
            match item {
                Item::Path(path) => self.path(&placed::path(&path.path, to)?, layer),
                Item::Circle(circle) => match placed::circle(circle, to)? {
                    Some((centre, radius)) => self.circle(centre, radius, layer),
                    None => self.path(&placed::path(&circle.path().path, to)?, layer),
                },
                Item::Text(text) => self.text(text, to, layer)?,
                Item::Image(_) => {}
                Item::Group(group) if group.clip.is_some() => {
                    return Err(WriteError(format!(
                        "only a part of the group `{}` is shown: DXF cannot hold that",
                        group.name
                    )));
                }
                Item::Group(group) => {
                    self.items(&group.items, to * group.transform, &name(&group.name))?;
                }
            }
        }
        Ok(())
    }

    fn text(&mut self, text: &Text, to: Affine, layer: &str) -> Result<(), WriteError> {
        let stand = to * text.stand();
        for glyph in &text.glyphs {
            let to = stand * text.glyph_stand(glyph);
            self.path(&placed::path(&text.face.outline(glyph.id), to)?, layer);
        }
        Ok(())
    }

    fn on(&mut self, layer: &str) {
        if !self.layers.iter().any(|known| known == layer) {
            self.layers.push(layer.to_owned());
        }
    }

    fn holds(&mut self, at: Point) {
        let (low, high) = self.extent.unwrap_or((at, at));
        self.extent = Some((
            Point::new(low.x.min(at.x), low.y.min(at.y)),
            Point::new(high.x.max(at.x), high.y.max(at.y)),
        ));
    }

    fn circle(&mut self, centre: Point, radius: f64, layer: &str) {
        self.on(layer);
        self.holds(Point::new(centre.x - radius, centre.y - radius));
        self.holds(Point::new(centre.x + radius, centre.y + radius));
        self.entities.begin("CIRCLE", layer);
        self.entities.point(centre);
        self.entities.pair(40, &fixed(radius, DECIMALS));
    }

    /// Each contour as a polyline.
    fn path(&mut self, path: &BezPath, layer: &str) {
        let mut contour: Vec<Point> = Vec::new();
        let mut all: Vec<(Vec<Point>, bool)> = Vec::new();
        kurbo::flatten(path, DXF_TOLERANCE_MM, |element| match element {
            PathEl::MoveTo(at) => {
                all.push((std::mem::take(&mut contour), false));
                contour.push(at);
            }
            PathEl::ClosePath => {
                let start = contour.first().copied();
                all.push((std::mem::take(&mut contour), true));
                contour.extend(start);
            }
            other => contour.extend(other.end_point()),
        });
        all.push((contour, false));
        for (mut points, closed) in all {
            points.dedup_by(|a, b| near(*a, *b));
            let returns = points.len() > 2
                && points.first().zip(points.last()).is_some_and(|(a, b)| near(*a, *b));
            if returns {
                points.pop();
            }
            if points.len() > 1 {
                self.polyline(&points, closed || returns, layer);
            }
        }
    }

    fn polyline(&mut self, points: &[Point], closed: bool, layer: &str) {
        self.on(layer);
        self.entities.begin("POLYLINE", layer);
        self.entities.pair(66, "1");
        self.entities.point(Point::ZERO);
        self.entities.pair(70, if closed { "1" } else { "0" });
        for at in points {
            self.holds(*at);
            self.entities.begin("VERTEX", layer);
            self.entities.point(*at);
        }
        self.entities.begin("SEQEND", layer);
    }

    fn header(&self, out: &mut Codes) {
        out.section("HEADER");
        out.pair(9, "$ACADVER");
        out.pair(1, "AC1009");
        // Millimetres, metric.
        out.pair(9, "$INSUNITS");
        out.pair(70, "4");
        out.pair(9, "$MEASUREMENT");
        out.pair(70, "1");
        let (low, high) = self.extent.unwrap_or_default();
        for (name, at) in [("$EXTMIN", low), ("$EXTMAX", high)] {
            out.pair(9, name);
            out.point(at);
        }
        out.pair(0, "ENDSEC");
    }

    /// The table of layers: all white or black, whichever the ground is not (colour 7).
    fn layers(&self, out: &mut Codes) {
        out.section("TABLES");
        out.pair(0, "TABLE");
        out.pair(2, "LAYER");
        let own = self.layers.iter().map(String::as_str).filter(|layer| *layer != NO_LAYER);
        let all: Vec<&str> = std::iter::once(NO_LAYER).chain(own).collect();
        out.pair(70, &all.len().to_string());
        for layer in all {
            out.pair(0, "LAYER");
            out.pair(2, layer);
            out.pair(70, "0");
            out.pair(62, "7");
            out.pair(6, "CONTINUOUS");
        }
        out.pair(0, "ENDTAB");
        out.pair(0, "ENDSEC");
    }
}

fn near(a: Point, b: Point) -> bool {
    (a.x - b.x).abs() <= SAME_MM && (a.y - b.y).abs() <= SAME_MM
}

/// A group's name as Release 12 writes names: capitals, figures, `$`, `_` and `-`.
fn name(group: &str) -> String {
    let letters = group.chars().map(|letter| match letter.to_ascii_uppercase() {
        letter @ ('A'..='Z' | '0'..='9' | '$' | '_' | '-') => letter,
        _ => '_',
    });
    let name: String = letters.take(LONGEST_NAME).collect();
    if name.is_empty() { NO_LAYER.to_owned() } else { name }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Circle, Ends, Group, LineType, Page, Path, Stroke};

    const LINE: Stroke =
        Stroke { width: 0.1, line_type: LineType::Continuous, ends: Ends::Square, colour: [0; 3] };

    fn one_page(items: Vec<Item>) -> Drawing {
        Drawing {
            title: String::new(),
            description: String::new(),
            background: None,
            pages: vec![Page { width: 100.0, height: 60.0, items }],
        }
    }

    fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> BezPath {
        kurbo::Shape::to_path(&kurbo::Rect::new(x0, y0, x1, y1), 0.1)
    }

    #[test]
    fn the_whole_file_of_a_plate_with_a_hole() {
        let outline = Path::stroked(rectangle(10.0, 20.0, 30.0, 40.0), LINE);
        let hole = Circle { centre: (20.0, 25.5), radius: 1.75, stroke: LINE };
        let drawing = one_page(vec![
            Group::new("plate-outline", "", vec![outline.into()]).into(),
            Group::new("holes", "", vec![hole.into()]).into(),
        ]);
        // Zero in the plate's middle: y runs up from there.
        let text = dxf(&drawing, (20.0, 30.0), "Zero: the m\u{ef}ddle").unwrap();
        let expected = "999 Zero: the m?ddle 0 SECTION 2 HEADER 9 $ACADVER 1 AC1009 9 $INSUNITS 70 4 \
            9 $MEASUREMENT 70 1 9 $EXTMIN 10 -10.0000 20 -10.0000 30 0.0 \
            9 $EXTMAX 10 10.0000 20 10.0000 30 0.0 0 ENDSEC \
            0 SECTION 2 TABLES 0 TABLE 2 LAYER 70 3 0 LAYER 2 0 70 0 62 7 6 CONTINUOUS \
            0 LAYER 2 PLATE-OUTLINE 70 0 62 7 6 CONTINUOUS 0 LAYER 2 HOLES 70 0 62 7 6 CONTINUOUS \
            0 ENDTAB 0 ENDSEC 0 SECTION 2 ENTITIES \
            0 POLYLINE 8 PLATE-OUTLINE 66 1 10 0.0000 20 0.0000 30 0.0 70 1 \
            0 VERTEX 8 PLATE-OUTLINE 10 -10.0000 20 10.0000 30 0.0 \
            0 VERTEX 8 PLATE-OUTLINE 10 10.0000 20 10.0000 30 0.0 \
            0 VERTEX 8 PLATE-OUTLINE 10 10.0000 20 -10.0000 30 0.0 \
            0 VERTEX 8 PLATE-OUTLINE 10 -10.0000 20 -10.0000 30 0.0 0 SEQEND 8 PLATE-OUTLINE \
            0 CIRCLE 8 HOLES 10 0.0000 20 4.5000 30 0.0 40 1.7500 0 ENDSEC 0 EOF";
        let found: Vec<&str> = text.split_whitespace().collect();
        assert_eq!(found.join(" "), expected);
    }

    #[test]
    fn a_curve_is_left_by_no_more_than_the_tolerance() {
        let round = kurbo::Shape::to_path(&kurbo::Circle::new((50.0, 30.0), 20.0), 1e-6);
        let text =
            dxf(&one_page(vec![Path::stroked(round, LINE).into()]), (50.0, 30.0), "").unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let mut points: Vec<Point> = lines
            .windows(7)
            .filter(|w| w[0] == "VERTEX" && w[3] == "10")
            .map(|w| Point::new(w[4].parse().unwrap(), w[6].parse().unwrap()))
            .collect();
        assert!(points.len() > 20 && text.contains("POLYLINE\n8\n0\n66\n1"), "{text}");
        points.push(points[0]);
        for pair in points.windows(2) {
            // The middle of a chord is its farthest place from the circle.
            let middle = pair[0].midpoint(pair[1]).to_vec2().hypot();
            assert!((middle - 20.0).abs() < DXF_TOLERANCE_MM + SAME_MM, "{middle}");
        }
    }

    #[test]
    fn a_line_stays_open_and_what_cannot_be_written_is_refused() {
        let mut line = BezPath::new();
        line.move_to((0.0, 0.0));
        line.line_to((5.0, 0.0));
        let text = dxf(&one_page(vec![Path::stroked(line, LINE).into()]), (0.0, 0.0), "").unwrap();
        assert!(text.contains("30\n0.0\n70\n0\n0\nVERTEX"), "{text}");
        let mut part = Group::new("tile", "", vec![]);
        part.clip = Some(kurbo::Rect::new(0.0, 0.0, 1.0, 1.0));
        assert!(dxf(&one_page(vec![part.into()]), (0.0, 0.0), "").is_err());
        let mut two = one_page(vec![]);
        two.pages.push(two.pages[0].clone());
        assert!(dxf(&two, (0.0, 0.0), "").is_err());
        assert!(dxf(&one_page(vec![]), (f64::NAN, 0.0), "").is_err());
    }

    #[test]
    fn names_of_layers_are_those_of_release_12() {
        assert_eq!(name("old-holes"), "OLD-HOLES");
        assert_eq!(name("a b\u{e9}"), "A_B_");
        assert_eq!(name(""), "0");
        assert_eq!(name(&"x".repeat(40)).len(), 31);
    }
}
