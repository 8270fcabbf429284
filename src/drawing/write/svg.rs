//! SVG: mm on the root, a viewBox in mm, every glyph an outline.
//!
//! Written for programs that cut as much as for eyes: no `use`, no `text`, no
//! nested transform, no style sheet. Every number in a path is a place on the
//! page in mm, to 0.001 mm.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use kurbo::{Affine, BezPath, Point, Shape as _};

use super::pictures::Pictures;
use super::placed::{self, Shade};
use super::{WriteError, path, pixels, xml};
use crate::drawing::{Circle, Drawing, Ends, Group, Image, Item, Path, Scaling, Stroke, Text};
use crate::units::digits::trimmed;

/// Decimals of sizes and stroke widths in mm: 0.1 micrometre, so that 1/64 in
/// (0.396875 mm) is off by less than a thousandth of itself.
const DECIMALS: usize = 4;

/// Decimals of the factors by which a picture is turned: half of the last is 0.01
/// micrometre at 20 mm, a micrometre at 2 m.
const FACTOR_DECIMALS: usize = 6;

/// Identifiers of the drawing's own title and description.
const TITLE_ID: &str = "drawing-title";
const DESCRIPTION_ID: &str = "drawing-description";

/// The drawing as SVG. Several pages stand one beneath the other, left edges
/// aligned; groups on the second page and later are named `page-2-…`.
///
/// # Errors
/// No page, or a page without area; a length that is not a number or out of
/// all proportion.
pub fn svg(drawing: &Drawing) -> Result<String, WriteError> {
    svg_about(drawing, (0.0, 0.0))
}

/// The drawing as SVG whose user coordinates count from `zero`, a place on the first
/// page in mm: what stands there has the coordinates 0, 0. The page stays as it is.
///
/// # Errors
/// As [`svg`].
pub fn svg_about(drawing: &Drawing, zero: (f64, f64)) -> Result<String, WriteError> {
    written(drawing, zero, f64::INFINITY, &Pictures::default())
}

/// The drawing as SVG for a screen or a raster of `per_mm` pixels to the mm: pictures that are
/// finer are reduced to it, since what draws them there would not. Those that were reduced and
/// packed before are taken as they are.
///
/// # Errors
/// As [`svg`].
pub fn svg_for_screen(
    drawing: &Drawing,
    per_mm: f64,
    pictures: &Pictures,
) -> Result<String, WriteError> {
    written(drawing, (0.0, 0.0), per_mm, pictures)
}

fn written(
    drawing: &Drawing,
    zero: (f64, f64),
    per_mm: f64,
    pictures: &Pictures,
) -> Result<String, WriteError> {
    let (left, top) = (-placed::length(zero.0)?, -placed::length(zero.1)?);
    let pages = placed::pages(drawing)?;
    let mut body = Body::new(per_mm, pictures);
    body.names.extend([TITLE_ID, DESCRIPTION_ID].map(str::to_owned));
    let (mut width, mut height) = (0.0_f64, 0.0_f64);
    for (index, page) in pages.iter().enumerate() {
        if let Some(colour) = drawing.background {
            body.ground((left, top + height), (page.width, page.height), colour);
        }
        let prefix = if index == 0 { String::new() } else { format!("page-{}-", index + 1) };
        body.items(&page.items, Affine::translate((left, top + height)), &prefix)?;
        width = width.max(page.width);
        height += page.height;
    }
    let [width, height, left, top] = [width, height, left, top].map(|v| trimmed(v, DECIMALS));
    let mut out = String::with_capacity(body.text.len() + 1024);
    out.push_str("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
         viewBox=\"{left} {top} {width} {height}\" role=\"img\" \
         aria-labelledby=\"{TITLE_ID} {DESCRIPTION_ID}\">"
    );
    let _ = writeln!(out, "<title id=\"{TITLE_ID}\">{}</title>", xml::escaped(&drawing.title));
    let _ = writeln!(
        out,
        "<desc id=\"{DESCRIPTION_ID}\">{}</desc>",
        xml::escaped(&drawing.description)
    );
    body.write_definitions(&mut out);
    out.push_str(&body.text);
    out.push_str("</svg>\n");
    Ok(out)
}

/// Everything inside the root, as it grows.
struct Body<'p> {
    text: String,
    /// Name and text of each gradient, in order of first use; two that are
    /// alike are written once.
    gradients: Vec<(String, String)>,
    /// Name and outline of each clip.
    clips: Vec<(String, String)>,
    /// Identifiers that are taken.
    names: BTreeSet<String>,
    /// Most pixels of a picture to the mm.
    per_mm: f64,
    /// Pictures that were packed before.
    pictures: &'p Pictures,
}

impl<'p> Body<'p> {
    fn new(per_mm: f64, pictures: &'p Pictures) -> Self {
        let (gradients, clips) = (Vec::new(), Vec::new());
        let (text, names) = (String::new(), BTreeSet::new());
        Self { text, gradients, clips, names, per_mm, pictures }
    }

    fn ground(&mut self, (left, top): (f64, f64), (width, height): (f64, f64), colour: [u8; 3]) {
        let _ = writeln!(
            self.text,
            "<path fill=\"{}\" d=\"M{left} {top}h{width}v{height}H{left}Z\"/>",
            hex(colour),
            left = trimmed(left, DECIMALS),
            top = trimmed(top, DECIMALS),
            width = trimmed(width, DECIMALS),
            height = trimmed(height, DECIMALS),
        );
    }

    fn items(&mut self, items: &[Item], to: Affine, prefix: &str) -> Result<(), WriteError> {
        for item in items {
            match item {
                Item::Path(path) => self.path(path, to)?,
                Item::Circle(circle) => self.circle(circle, to)?,
                Item::Text(text) => self.glyphs(text, to)?,
                Item::Image(image) => self.image(image, to)?,
                Item::Group(group) => self.group(group, to, prefix)?,
            }
        }
        Ok(())
    }

    fn group(&mut self, group: &Group, to: Affine, prefix: &str) -> Result<(), WriteError> {
        if group.name.is_empty() && group.clip.is_none() {
            // A part of the text: here it is outlines like the rest.
            return self.items(&group.items, to * group.transform, prefix);
        }
        let name = self.unused(&xml::name(&format!("{prefix}{}", group.name)));
        let clip = match group.clip {
            None => String::new(),
            Some(shown) => {
                format!(
                    " clip-path=\"url(#{})\"",
                    self.clip(&shown.to_path(0.1), to * group.transform)?
                )
            }
        };
        let _ = writeln!(self.text, "<g id=\"{name}\"{clip}>");
        if !group.description.is_empty() {
            let _ = writeln!(
                self.text,
                "<title>{}</title>\n<desc>{}</desc>",
                xml::escaped(&group.name.replace('-', " ")),
                xml::escaped(&group.description)
            );
        }
        self.items(&group.items, to * group.transform, prefix)?;
        self.text.push_str("</g>\n");
        Ok(())
    }

    /// `name`, or the first of `name-2`, `name-3` … that nothing has yet.
    fn unused(&mut self, name: &str) -> String {
        let mut unused = name.to_owned();
        let mut count = 1_u32;
        while !self.names.insert(unused.clone()) {
            count += 1;
            unused = format!("{name}-{count}");
        }
        unused
    }

    fn path(&mut self, item: &Path, to: Affine) -> Result<(), WriteError> {
        let outline = placed::path(&item.path, to)?;
        if outline.is_empty() {
            return Ok(());
        }
        let shade = item.fill.as_ref().map(|paint| placed::shade(paint, to)).transpose()?;
        let fill = match shade.flatten() {
            None => "none".to_owned(),
            Some(Shade::Solid(colour)) => hex(colour),
            Some(Shade::Linear { from, to, stops }) => {
                format!("url(#{})", self.gradient(from, to, &stops))
            }
        };
        let _ = write!(self.text, "<path fill=\"{fill}\"");
        if let Some(stroke) = &item.stroke {
            self.stroke(stroke, placed::growth(to))?;
        }
        self.text.push_str(" d=\"");
        path::write(&mut self.text, &outline);
        self.text.push_str("\"/>\n");
        Ok(())
    }

    /// A true circle, as a path where it is drawn out of round.
    fn circle(&mut self, item: &Circle, to: Affine) -> Result<(), WriteError> {
        let Some((centre, radius)) = placed::circle(item, to)? else {
            return self.path(&item.path(), to);
        };
        self.text.push_str("<circle fill=\"none\"");
        self.stroke(&item.stroke, placed::growth(to))?;
        let _ = writeln!(
            self.text,
            " cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            trimmed(centre.x, DECIMALS),
            trimmed(centre.y, DECIMALS),
            trimmed(radius, DECIMALS)
        );
        Ok(())
    }

    /// A picture; a transform of its own where it does not stand upright as it is. What
    /// cuts it to a shape stands round it, in places on the page like everything else.
    fn image(&mut self, item: &Image, to: Affine) -> Result<(), WriteError> {
        if !item.shows() {
            return Ok(());
        }
        let area = pixels::checked(item, to)?;
        let [a, b, c, d, e, f] = to.as_coeffs();
        let sides = placed::sides(area, to);
        let (address, reduced) = self.pictures.address(&item.pixels, sides, self.per_mm)?;
        let (area, transform) = if a > 0.0 && d > 0.0 && b == 0.0 && c == 0.0 {
            (to.transform_rect_bbox(area), String::new())
        } else {
            let turn = [a, b, c, d].map(|factor| trimmed(factor, FACTOR_DECIMALS)).join(" ");
            let (e, f) = (trimmed(e, DECIMALS), trimmed(f, DECIMALS));
            (area, format!(" transform=\"matrix({turn} {e} {f})\""))
        };
        let clip = item.clip.as_ref().map(|shown| self.clip(shown, to)).transpose()?;
        if let Some(name) = &clip {
            let _ = writeln!(self.text, "<g clip-path=\"url(#{name})\">");
        }
        let places = [area.x0, area.y0, area.width(), area.height()];
        let [x, y, width, height] = places.map(|place| trimmed(place, DECIMALS));
        let _ = write!(
            self.text,
            "<image x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"{transform} \
             preserveAspectRatio=\"none\" image-rendering=\"{}\" href=\"{}\"",
            // Words of SVG 1.1 that CSS Images 3, section 5.3, keeps: smooth and pixelated.
            match item.scaling {
                Scaling::Smooth => "optimizeQuality",
                Scaling::Crisp if !reduced => "optimizeSpeed",
                Scaling::Crisp => "optimizeQuality",
            },
            address
        );
        if item.description.is_empty() {
            self.text.push_str("/>\n");
        } else {
            let title = xml::escaped(&item.description);
            let _ = writeln!(self.text, "><title>{title}</title></image>");
        }
        if clip.is_some() {
            self.text.push_str("</g>\n");
        }
        Ok(())
    }

    /// Name of a clip that shows what is inside a path.
    fn clip(&mut self, shown: &BezPath, to: Affine) -> Result<String, WriteError> {
        let mut data = String::new();
        path::write(&mut data, &placed::path(shown, to)?);
        let name = self.unused("clip");
        self.clips.push((name.clone(), data));
        Ok(name)
    }

    fn stroke(&mut self, stroke: &Stroke, growth: f64) -> Result<(), WriteError> {
        let Some(width) = placed::line(stroke, growth)? else { return Ok(()) };
        let _ = write!(
            self.text,
            " stroke=\"{}\" stroke-width=\"{}\"",
            hex(stroke.colour),
            trimmed(width, DECIMALS)
        );
        if stroke.ends == Ends::Round {
            self.text.push_str(" stroke-linecap=\"round\" stroke-linejoin=\"round\"");
        }
        let dashes = stroke.line_type.dashes(width);
        if !dashes.is_empty() {
            let dashes: Vec<String> = dashes.iter().map(|dash| trimmed(*dash, DECIMALS)).collect();
            let _ = write!(self.text, " stroke-dasharray=\"{}\"", dashes.join(" "));
        }
        Ok(())
    }

    /// A text as one path with its words as the path's title; nothing for a
    /// text without ink.
    fn glyphs(&mut self, text: &Text, to: Affine) -> Result<(), WriteError> {
        let stand = to * text.stand();
        let mut data = String::new();
        for glyph in &text.glyphs {
            let to = stand * text.glyph_stand(glyph);
            path::write(&mut data, &placed::path(&text.face.outline(glyph.id), to)?);
        }
        if !data.is_empty() {
            let _ = writeln!(
                self.text,
                "<path fill=\"{}\" d=\"{data}\"><title>{}</title></path>",
                hex(text.colour),
                xml::escaped(&text.text)
            );
        }
        Ok(())
    }

    /// Name of a gradient between two places.
    fn gradient(&mut self, from: Point, to: Point, stops: &[(f64, [u8; 3])]) -> String {
        let mut text = format!(
            " gradientUnits=\"userSpaceOnUse\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\">",
            trimmed(from.x, DECIMALS),
            trimmed(from.y, DECIMALS),
            trimmed(to.x, DECIMALS),
            trimmed(to.y, DECIMALS)
        );
        for (offset, colour) in stops {
            let _ = write!(
                text,
                "<stop offset=\"{}\" stop-color=\"{}\"/>",
                trimmed(*offset, DECIMALS),
                hex(*colour)
            );
        }
        if let Some((name, _)) = self.gradients.iter().find(|(_, known)| *known == text) {
            return name.clone();
        }
        let name = self.unused("gradient");
        self.gradients.push((name.clone(), text));
        name
    }

    fn write_definitions(&self, out: &mut String) {
        if self.gradients.is_empty() && self.clips.is_empty() {
            return;
        }
        out.push_str("<defs>\n");
        for (name, text) in &self.gradients {
            let _ = writeln!(out, "<linearGradient id=\"{name}\"{text}</linearGradient>");
        }
        for (name, data) in &self.clips {
            let _ = writeln!(out, "<clipPath id=\"{name}\"><path d=\"{data}\"/></clipPath>");
        }
        out.push_str("</defs>\n");
    }
}

/// A colour as `#rrggbb`.
fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

#[cfg(test)]
mod tests {
    use kurbo::{BezPath, Rect, Shape as _};

    use super::*;
    use crate::drawing::{Ends, LineType, Page, Paint};

    const INK: [u8; 3] = [0x1a, 0x1a, 0x1a];

    fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> BezPath {
        Rect::new(x0, y0, x1, y1).to_path(0.1)
    }

    fn drawing(pages: Vec<Page>) -> Drawing {
        Drawing {
            title: "Ringing chamber & tower".to_owned(),
            description: "In memory of\nthe \"Marrowby\" ringers".to_owned(),
            background: None,
            pages,
        }
    }

    fn page(items: Vec<Item>) -> Page {
        Page { width: 152.4, height: 101.6, items }
    }

    #[test]
    fn the_whole_file_of_a_small_drawing() {
        let plate = Path::filled(rectangle(1.0, 2.0, 11.0, 7.0), INK);
        let text = svg(&drawing(vec![page(vec![
            Group::new("plate-outline", "A plate of 10 x 5 mm", vec![plate.into()]).into(),
        ])]));
        let whole = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
            <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"152.4mm\" height=\"101.6mm\" \
            viewBox=\"0 0 152.4 101.6\" role=\"img\" \
            aria-labelledby=\"drawing-title drawing-description\">\n\
            <title id=\"drawing-title\">Ringing chamber &amp; tower</title>\n\
            <desc id=\"drawing-description\">In memory of\n\
            the &quot;Marrowby&quot; ringers</desc>\n\
            <g id=\"plate-outline\">\n\
            <title>plate outline</title>\n\
            <desc>A plate of 10 x 5 mm</desc>\n\
            <path fill=\"#1a1a1a\" d=\"M1 2h10v5h-10Z\"/>\n\
            </g>\n\
            </svg>\n";
        assert_eq!(text.as_deref(), Ok(whole));
    }

    #[test]
    fn group_transforms_move_places_widths_and_dashes() {
        let line_type = LineType::LongDashedDotted;
        let stroke = Stroke { width: 0.175, line_type, ends: Ends::Square, colour: INK };
        let mut line = BezPath::new();
        line.move_to((0.0, 0.0));
        line.line_to((10.0, 0.0));
        let mut group = Group::new("centres", "", vec![Path::stroked(line, stroke).into()]);
        // Twice as large, a quarter turned, then moved: (10, 0) goes to (5, 6) + (0, 20).
        group.transform = Affine::new([0.0, 2.0, -2.0, 0.0, 5.0, 6.0]);
        let text = svg(&drawing(vec![page(vec![group.into()])])).unwrap();
        // 24, 3, 0.5 and 3 widths of 0.35 mm.
        let expected = "<g id=\"centres\">\n<path fill=\"none\" stroke=\"#1a1a1a\" \
            stroke-width=\"0.35\" stroke-dasharray=\"8.4 1.05 0.175 1.05\" d=\"M5 6v20\"/>\n</g>\n";
        assert!(text.contains(expected), "{text}");
        assert!(!text.contains("transform"));
    }

    #[test]
    fn a_second_page_stands_below_the_first_and_no_name_is_given_twice() {
        let shade = Path {
            path: rectangle(0.0, 0.0, 10.0, 10.0),
            fill: Some(Paint::Linear {
                from: (0.0, 0.0),
                to: (10.0, 0.0),
                stops: vec![(0.0, [255, 255, 255]), (1.0, INK)],
            }),
            stroke: None,
        };
        let items = || {
            vec![
                Group::new("plate", "", vec![shade.clone().into()]).into(),
                Group::new("plate", "", vec![shade.clone().into()]).into(),
                Group::new("gradient", "", vec![]).into(),
                Group::new("drawing-title", "", vec![]).into(),
            ]
        };
        let mut two = drawing(vec![page(items()), page(items())]);
        two.background = Some([255, 255, 255]);
        let text = svg(&two).unwrap();
        assert!(text.contains("width=\"152.4mm\" height=\"203.2mm\" viewBox=\"0 0 152.4 203.2\""));
        let names: Vec<&str> =
            text.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
        let unlike: BTreeSet<&str> = names.iter().copied().collect();
        assert_eq!(names.len(), unlike.len(), "{names:?}");
        for name in ["plate", "plate-2", "page-2-plate", "page-2-plate-2", "drawing-title-2"] {
            assert!(unlike.contains(name), "{name} of {names:?}");
        }
        // The first page's two shades are one gradient; the second's stand 101.6 mm lower.
        assert_eq!(text.matches("<linearGradient").count(), 2);
        assert!(text.contains("y1=\"101.6\" x2=\"10\" y2=\"101.6\""), "{text}");
        for used in text.split("url(#").skip(1).filter_map(|rest| rest.split(')').next()) {
            assert!(unlike.contains(used), "{used}");
        }
        assert!(text.contains("<path fill=\"#ffffff\" d=\"M0 101.6h152.4v101.6H0Z\"/>"));
        assert!(text.contains("d=\"M0 101.6h10v10h-10Z\""));
    }

    #[test]
    fn an_empty_page_or_an_absurd_length_is_refused() {
        assert_eq!(svg(&drawing(vec![])), Err(WriteError("the drawing has no page".to_owned())));
        let flat = Page { width: 10.0, height: 0.0, items: vec![] };
        assert!(svg(&drawing(vec![flat])).is_err());
        let nan = Page { width: f64::NAN, height: 5.0, items: vec![] };
        assert!(svg(&drawing(vec![nan])).is_err());
        let far = Path::filled(rectangle(0.0, 0.0, 1e9, 1.0), INK);
        assert!(svg(&drawing(vec![page(vec![far.into()])])).is_err());
    }

    #[test]
    fn what_has_no_extent_is_left_out() {
        let mut dot = BezPath::new();
        dot.move_to((1.0, 1.0));
        let items = vec![Path::filled(BezPath::new(), INK).into(), Path::filled(dot, INK).into()];
        let text = svg(&drawing(vec![page(items)])).unwrap();
        assert!(!text.contains("<path"), "{text}");
    }
}
