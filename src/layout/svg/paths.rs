//! From the paths that `usvg` resolved to one outline.

use kurbo::{Affine, BezPath, Cap, Join, PathEl, Point, Rect, Shape, Stroke, StrokeOpts};
use linesweeper::{BinaryOp, FillRule, binary_op_with_eps};
use usvg::tiny_skia_path::PathSegment;

use super::numbers::too_many;
use super::{MOST_CROSSINGS, MOST_CURVES, MOST_SLENDER, MOST_TURNS, Refused};

/// How far united curves may leave the drawing's own, where its longer side is 1: a
/// hundredth of a micrometre on an emblem of 10 mm.
const ACCURACY: f64 = 1e-6;
/// How far the edge of a line may leave the true one, on the same scale.
const EDGE: f64 = 1e-5;
/// How closely chords follow curves where crossings are counted.
const CHORDS: f64 = 1e-3;
/// Grid on which the outline is put, where its height is 1, so that it is the same on
/// every machine.
const STEPS: f64 = 1e7;
/// Most times that the dashes of one line begin again.
const MOST_DASHES: f64 = 1000.0;
/// Colours this light are the paper.
const WHITE: u8 = 250;
/// As good as opaque, and as good as clear.
const OPAQUE: f32 = 0.999;
const CLEAR: f32 = 0.001;

const ONE_COLOUR: &str = "give all that is to be cut one colour; white takes away what lies \
                          beneath it";

/// A shape on the page: filled by a rule.
struct Piece {
    path: BezPath,
    rule: FillRule,
    /// White: what lies beneath it goes.
    takes_away: bool,
}

/// Paths of the drawing in the order in which they are painted.
struct Reader {
    pieces: Vec<Piece>,
    /// The one colour, red, green, blue.
    colour: Option<[u8; 3]>,
    curves: usize,
}

/// The outline of the whole drawing.
pub(super) fn outline(tree: &usvg::Tree) -> Result<BezPath, Refused> {
    let mut reader = Reader { pieces: Vec::new(), colour: None, curves: 0 };
    reader.group(tree.root())?;
    let boxes = reader.pieces.iter().map(|piece| piece.path.bounding_box());
    let Some(all) =
        boxes.reduce(|a, b| a.union(b)).filter(|all| all.width().max(all.height()) > 0.0)
    else {
        return Err(nothing());
    };
    // At unit size the accuracy means the same in every drawing.
    let to_unit = Affine::scale(1.0 / all.width().max(all.height()))
        * Affine::translate(-all.origin().to_vec2());
    for piece in &mut reader.pieces {
        piece.path.apply_affine(to_unit);
    }
    crossings(&reader.pieces)?;
    let mut shape = united(&reader.pieces)?;
    let size = tree.size();
    let page = Rect::new(0.0, 0.0, f64::from(size.width()), f64::from(size.height()));
    let page = to_unit.transform_rect_bbox(page);
    let ink = shape.bounding_box();
    if page.union(ink).area() > page.area() * (1.0 + ACCURACY) {
        shape =
            combined(&shape, &page.to_path(ACCURACY), FillRule::NonZero, BinaryOp::Intersection)?;
    }
    at_height_one(shape)
}

fn nothing() -> Refused {
    Refused::new(None, "the drawing is empty", "draw filled shapes or lines on its page")
}

/// Moved so that its box is 1 high and stands on 0, y up.
fn at_height_one(mut shape: BezPath) -> Result<BezPath, Refused> {
    let ink = shape.bounding_box();
    if shape.elements().is_empty() || shape.area().abs() < ACCURACY {
        return Err(nothing());
    }
    let slender = (ink.width() / ink.height()).max(ink.height() / ink.width());
    if !slender.is_finite() || slender > MOST_SLENDER {
        return Err(Refused::new(
            None,
            format!("the drawing is more than {MOST_SLENDER} times as long as it is wide"),
            "a rule is a divider: divider = \"rule\"",
        ));
    }
    let scale = 1.0 / ink.height();
    shape.apply_affine(Affine::new([scale, 0.0, 0.0, -scale, -ink.x0 * scale, ink.y1 * scale]));
    let on_grid = |at: f64| (at * STEPS).round() / STEPS + 0.0;
    let point = |p: Point| Point::new(on_grid(p.x), on_grid(p.y));
    Ok(shape
        .iter()
        .map(|element| match element {
            PathEl::MoveTo(a) => PathEl::MoveTo(point(a)),
            PathEl::LineTo(a) => PathEl::LineTo(point(a)),
            PathEl::QuadTo(a, b) => PathEl::QuadTo(point(a), point(b)),
            PathEl::CurveTo(a, b, c) => PathEl::CurveTo(point(a), point(b), point(c)),
            PathEl::ClosePath => PathEl::ClosePath,
        })
        .collect())
}

/// All pieces as they lie over each other. Pieces of one kind that follow each other are
/// united at once.
fn united(pieces: &[Piece]) -> Result<BezPath, Refused> {
    let mut shape = BezPath::new();
    let mut turns = 0;
    for run in pieces.chunk_by(|a, b| a.takes_away == b.takes_away) {
        turns += 1;
        if turns > MOST_TURNS {
            return Err(Refused::new(
                None,
                format!("white and dark lie over each other more than {MOST_TURNS} times"),
                "subtract the white shapes from the dark ones in the drawing program",
            ));
        }
        let mut together = BezPath::new();
        for piece in run {
            let own = combined(&piece.path, &BezPath::new(), piece.rule, BinaryOp::Union)?;
            // Turned alike, so that none cancels another.
            together.extend(if own.area() < 0.0 { own.reverse_subpaths() } else { own });
        }
        let takes_away = run.first().is_some_and(|piece| piece.takes_away);
        let operation = if takes_away { BinaryOp::Difference } else { BinaryOp::Union };
        shape = combined(&shape, &together, FillRule::NonZero, operation)?;
    }
    Ok(shape)
}

/// Refuses a drawing whose lines cross so often that uniting them would take for ever.
/// Chords whose boxes overlap are counted, swept from left to right.
fn crossings(pieces: &[Piece]) -> Result<(), Refused> {
    let mut boxes: Vec<Rect> = Vec::new();
    for piece in pieces {
        let mut from = Point::ORIGIN;
        kurbo::flatten(piece.path.iter(), CHORDS, |element| match element {
            PathEl::LineTo(to) => {
                boxes.push(Rect::from_points(from, to));
                from = to;
            }
            element => from = element.end_point().unwrap_or(from),
        });
    }
    boxes.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    let mut count = 0;
    for (at, one) in boxes.iter().enumerate() {
        let beside = boxes.iter().skip(at + 1).take_while(|other| other.x0 < one.x1);
        // Chords that follow each other only touch.
        count += beside.filter(|other| other.y0 < one.y1 && one.y0 < other.y1).count();
        if count > MOST_CROSSINGS {
            return Err(Refused::new(
                None,
                format!("lines of the drawing may cross more than {MOST_CROSSINGS} times"),
                "unite its shapes in the drawing program, and save the outline alone",
            ));
        }
    }
    Ok(())
}

fn combined(
    a: &BezPath,
    b: &BezPath,
    rule: FillRule,
    operation: BinaryOp,
) -> Result<BezPath, Refused> {
    let sound = a.is_finite() && b.is_finite();
    let contours = sound.then(|| binary_op_with_eps(a, b, rule, operation, ACCURACY));
    match contours {
        Some(Ok(contours)) => {
            let path: BezPath = contours.contours().flat_map(|c| c.path.iter()).collect();
            if path.elements().len() > MOST_CURVES { Err(too_many(None)) } else { Ok(path) }
        }
        _ => Err(Refused::new(
            None,
            "the shapes of the drawing cannot be united",
            "unite them in the drawing program, and save the outline alone",
        )),
    }
}

impl Reader {
    fn group(&mut self, group: &usvg::Group) -> Result<(), Refused> {
        let plain = group.opacity().get() >= OPAQUE
            && group.clip_path().is_none()
            && group.mask().is_none()
            && group.filters().is_empty()
            && group.blend_mode() == usvg::BlendMode::Normal;
        if !plain {
            return Err(half_clear());
        }
        for node in group.children() {
            match node {
                usvg::Node::Group(inner) => self.group(inner)?,
                usvg::Node::Path(path) if path.is_visible() => self.path(path)?,
                usvg::Node::Path(_) | usvg::Node::Image(_) | usvg::Node::Text(_) => {}
            }
        }
        Ok(())
    }

    fn path(&mut self, path: &usvg::Path) -> Result<(), Refused> {
        let line = path_of(path.data());
        self.curves += line.elements().len();
        if self.curves > MOST_CURVES {
            return Err(too_many(None));
        }
        let matrix = path.abs_transform();
        let to_page = Affine::new(
            [matrix.sx, matrix.ky, matrix.kx, matrix.sy, matrix.tx, matrix.ty].map(f64::from),
        );
        let mut painted = Vec::new();
        if let Some(fill) = path.fill()
            && let Some(takes_away) = self.paint(fill.paint(), fill.opacity().get())?
        {
            let rule = match fill.rule() {
                usvg::FillRule::NonZero => FillRule::NonZero,
                usvg::FillRule::EvenOdd => FillRule::EvenOdd,
            };
            painted.push(Piece { path: to_page * closed(&line), rule, takes_away });
        }
        if let Some(stroke) = path.stroke()
            && let Some(takes_away) = self.paint(stroke.paint(), stroke.opacity().get())?
        {
            let edge = to_page * stroked(&line, stroke)?;
            self.curves += edge.elements().len();
            painted.push(Piece { path: edge, rule: FillRule::NonZero, takes_away });
        }
        if path.paint_order() == usvg::PaintOrder::StrokeAndFill {
            painted.reverse();
        }
        self.pieces.extend(painted);
        // The edges of dashed lines count too.
        if self.curves > MOST_CURVES { Err(too_many(None)) } else { Ok(()) }
    }

    /// Whether a paint takes away what lies beneath; `None` where it does not show.
    fn paint(&mut self, paint: &usvg::Paint, opacity: f32) -> Result<Option<bool>, Refused> {
        if opacity <= CLEAR {
            return Ok(None);
        }
        if opacity < OPAQUE {
            return Err(half_clear());
        }
        let usvg::Paint::Color(colour) = paint else {
            return Err(Refused::new(
                None,
                "the drawing is filled with a gradient or a pattern",
                ONE_COLOUR,
            ));
        };
        let colour = [colour.red, colour.green, colour.blue];
        if colour.iter().all(|part| *part >= WHITE) {
            return Ok(Some(true));
        }
        match self.colour {
            Some(known) if known != colour => Err(Refused::new(
                None,
                format!(
                    "the drawing has more than one colour, {} and {}: engraved, they would be one",
                    hexadecimal(known),
                    hexadecimal(colour)
                ),
                ONE_COLOUR,
            )),
            _ => {
                self.colour = Some(colour);
                Ok(Some(false))
            }
        }
    }
}

fn half_clear() -> Refused {
    Refused::new(
        None,
        "part of the drawing is half clear, cut off or blended, which no tool can cut",
        ONE_COLOUR,
    )
}

fn hexadecimal([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn path_of(data: &usvg::tiny_skia_path::Path) -> BezPath {
    let at = |p: usvg::tiny_skia_path::Point| Point::new(f64::from(p.x), f64::from(p.y));
    data.segments()
        .map(|segment| match segment {
            PathSegment::MoveTo(a) => PathEl::MoveTo(at(a)),
            PathSegment::LineTo(a) => PathEl::LineTo(at(a)),
            PathSegment::QuadTo(a, b) => PathEl::QuadTo(at(a), at(b)),
            PathSegment::CubicTo(a, b, c) => PathEl::CurveTo(at(a), at(b), at(c)),
            PathSegment::Close => PathEl::ClosePath,
        })
        .collect()
}

/// A filled path is closed whether it says so or not.
fn closed(path: &BezPath) -> BezPath {
    let mut all = BezPath::new();
    let mut open = false;
    for element in path.iter() {
        if matches!(element, PathEl::MoveTo(_)) && open {
            all.close_path();
        }
        open = !matches!(element, PathEl::ClosePath);
        all.push(element);
    }
    if open {
        all.close_path();
    }
    all
}

/// The edge of a line drawn with a pen, dashes and all.
fn stroked(path: &BezPath, stroke: &usvg::Stroke) -> Result<BezPath, Refused> {
    let cap = match stroke.linecap() {
        usvg::LineCap::Butt => Cap::Butt,
        usvg::LineCap::Round => Cap::Round,
        usvg::LineCap::Square => Cap::Square,
    };
    let join = match stroke.linejoin() {
        usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => Join::Miter,
        usvg::LineJoin::Round => Join::Round,
        usvg::LineJoin::Bevel => Join::Bevel,
    };
    let width = f64::from(stroke.width().get());
    let mut pen = Stroke::new(width)
        .with_caps(cap)
        .with_join(join)
        .with_miter_limit(f64::from(stroke.miterlimit().get()));
    let box_ = path.bounding_box();
    let size = box_.width().max(box_.height()) + width;
    if let Some(dashes) = stroke.dasharray() {
        let dashes: Vec<f64> = dashes.iter().map(|dash| f64::from(*dash)).collect();
        let round: f64 = dashes.iter().sum();
        if path.perimeter(size * EDGE) > round * MOST_DASHES {
            return Err(too_many(None));
        }
        pen = pen.with_dashes(f64::from(stroke.dashoffset()), dashes);
    }
    Ok(kurbo::stroke(path.iter(), &pen, &StrokeOpts::default(), size * EDGE))
}
