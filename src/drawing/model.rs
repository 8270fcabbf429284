//! What a drawing is made of. All lengths mm, y down, origin at a page's top left.

use std::sync::Arc;

use kurbo::{Affine, BezPath, Rect, Shape};

use crate::lettering::{Face, Glyph};

use super::{Image, LineType};

/// How an area is coloured.
#[derive(Debug, Clone, PartialEq)]
pub enum Paint {
    /// One colour, sRGB.
    Solid([u8; 3]),
    /// A straight gradient between two points of the item's own coordinates.
    Linear {
        /// Start point, mm.
        from: (f64, f64),
        /// End point, mm.
        to: (f64, f64),
        /// Offsets from 0 to 1 with their colours, rising.
        stops: Vec<(f64, [u8; 3])>,
    },
}

/// How a line ends and turns.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ends {
    /// Cut off square at its end; corners are sharp.
    Square,
    /// With half a disc at its ends and at corners, as a turning tool leaves it.
    Round,
}

/// How a path's line is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stroke {
    /// Width, mm.
    pub width: f64,
    /// ISO 128 line type.
    pub line_type: LineType,
    /// How it ends and turns.
    pub ends: Ends,
    /// Colour, sRGB.
    pub colour: [u8; 3],
}

/// A path, filled by the nonzero rule, stroked, or both.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// The path.
    pub path: BezPath,
    /// Fill.
    pub fill: Option<Paint>,
    /// Line.
    pub stroke: Option<Stroke>,
}

impl Path {
    /// A path filled with one colour.
    #[must_use]
    pub fn filled(path: BezPath, colour: [u8; 3]) -> Self {
        Self { path, fill: Some(Paint::Solid(colour)), stroke: None }
    }

    /// A path drawn as a line.
    #[must_use]
    pub fn stroked(path: BezPath, stroke: Stroke) -> Self {
        Self { path, fill: None, stroke: Some(stroke) }
    }
}

/// A circle drawn as a line, for writers that know circles: machines follow a true
/// circle better than a chain of curves.
#[derive(Debug, Clone, PartialEq)]
pub struct Circle {
    /// Centre, mm.
    pub centre: (f64, f64),
    /// Radius, mm.
    pub radius: f64,
    /// Line.
    pub stroke: Stroke,
}

impl Circle {
    /// The circle as a path, to 0.001 mm.
    #[must_use]
    pub fn path(&self) -> Path {
        let shape = kurbo::Circle::new(self.centre, self.radius);
        Path::stroked(shape.to_path(0.001), self.stroke)
    }
}

/// One glyph of a text.
#[derive(Debug, Clone, PartialEq)]
pub struct TextGlyph {
    /// Glyph index.
    pub id: u16,
    /// Origin from the text's origin, em, x right.
    pub x_em: f64,
    /// Origin above the baseline, em.
    pub y_em: f64,
    /// Bytes of the text it stands for.
    pub range: std::ops::Range<usize>,
}

/// Real text with its glyphs: searchable in PDF, drawn as outlines elsewhere.
#[derive(Debug, Clone)]
pub struct Text {
    /// The characters.
    pub text: String,
    /// Face of the glyphs.
    pub face: Arc<Face>,
    /// Size of the em, mm.
    pub size: f64,
    /// Origin on the baseline, mm.
    pub x: f64,
    /// Baseline, mm.
    pub y: f64,
    /// Turned anticlockwise about the origin, degrees; 0 or 90.
    pub turned: f64,
    /// Colour, sRGB.
    pub colour: [u8; 3],
    /// Glyphs, left to right.
    pub glyphs: Vec<TextGlyph>,
}

impl Text {
    /// From the text's own mm (y down, origin at its start on the baseline) to its
    /// page's or group's.
    pub(crate) fn stand(&self) -> Affine {
        // The usual turns are exact, so that upright labels have no stray decimals.
        let (sin, cos) = if self.turned == 0.0 {
            (0.0, 1.0)
        } else if (self.turned - 90.0).abs() < f64::EPSILON {
            (1.0, 0.0)
        } else {
            libm::sincos(self.turned.to_radians())
        };
        // Anticlockwise as seen, with y running down.
        Affine::new([cos, -sin, sin, cos, self.x, self.y])
    }

    /// From a glyph's em (y up) to the text's own mm (y down).
    pub(crate) fn glyph_stand(&self, glyph: &TextGlyph) -> Affine {
        let size = self.size;
        Affine::new([size, 0.0, 0.0, -size, glyph.x_em * size, -glyph.y_em * size])
    }

    /// The box of the ink in the coordinates that the text stands in, mm; `None` for a
    /// text without ink.
    pub(crate) fn ink(&self) -> Option<Rect> {
        let stand = self.stand();
        let glyphs = self.glyphs.iter().filter_map(|glyph| {
            let outline = self.face.outline(glyph.id);
            let place = stand * self.glyph_stand(glyph);
            (!outline.is_empty()).then(|| place.transform_rect_bbox(outline.bounding_box()))
        });
        glyphs.reduce(|all, next| all.union(next))
    }

    /// A text from the glyphs of a shaper, in visual order.
    ///
    /// `clusters` of the glyphs are byte offsets into `text`; each glyph is
    /// given the bytes from its own cluster to the next greater one, so that
    /// ligatures stand for all their letters. A cluster past the end of the
    /// text, or inside a character, stands for no bytes.
    #[must_use]
    pub fn from_glyphs(text: &str, face: &Arc<Face>, glyphs: &[Glyph], set: Setting) -> Self {
        let mut clusters: Vec<usize> = glyphs.iter().map(|glyph| glyph.cluster).collect();
        clusters.push(text.len());
        clusters.sort_unstable();
        clusters.dedup();
        let range = |cluster: usize| {
            let next = clusters.partition_point(|&other| other <= cluster);
            let end = clusters.get(next).copied().unwrap_or(cluster);
            if text.get(cluster..end).is_some() { cluster..end } else { 0..0 }
        };
        let glyphs = glyphs
            .iter()
            .map(|glyph| TextGlyph {
                id: glyph.id,
                x_em: glyph.x_em,
                y_em: glyph.y_em,
                range: range(glyph.cluster),
            })
            .collect();
        Self {
            text: text.to_owned(),
            face: Arc::clone(face),
            size: set.size,
            x: set.x,
            y: set.y,
            turned: set.turned,
            colour: set.colour,
            glyphs,
        }
    }
}

/// Where and how a text stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// Size of the em, mm.
    pub size: f64,
    /// Origin on the baseline, mm.
    pub x: f64,
    /// Baseline, mm.
    pub y: f64,
    /// Turned anticlockwise about the origin, degrees; 0 or 90.
    pub turned: f64,
    /// Colour, sRGB.
    pub colour: [u8; 3],
}

/// What a group is to people who have a sheet read aloud.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Role {
    /// A figure, told by its description; without one, no more than its items are.
    #[default]
    Plain,
    /// The title of the sheet.
    Title,
    /// The head of a section; its description is its words.
    Heading,
    /// A paragraph.
    Paragraph,
    /// A row of a table; its items are cells.
    Row(RowOf),
    /// A cell that says what its column holds.
    ColumnHead,
    /// A cell that says what its row holds.
    RowHead,
    /// Any other cell.
    Cell,
    /// Told elsewhere already, as footers are: not read.
    Repeated,
}

/// Which table a row is of. Rows of one table follow each other, over pages too.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowOf {
    /// The first of its table.
    NewTable,
    /// The next of the table before.
    SameTable,
    /// The rest of the row before, whose cells it has.
    SameRow,
}

/// A named group: an operation or a part of a sheet.
#[derive(Debug, Clone)]
pub struct Group {
    /// Name, kebab-case, unique on its page but for headings; empty where it is only a part
    /// of the text.
    pub name: String,
    /// What it is, for people who cannot see it; empty for none.
    pub description: String,
    /// What it is to those who have the sheet read aloud.
    pub role: Role,
    /// Moves, turns, mirrors or scales the items within. Where it scales by two
    /// factors, lines take the width of their geometric mean all along.
    pub transform: Affine,
    /// What of the items is shown, in their own coordinates; `None` for all.
    pub clip: Option<Rect>,
    /// Items in the order of drawing.
    pub items: Vec<Item>,
}

impl Group {
    /// A group whose items stand where their own coordinates say.
    #[must_use]
    pub fn new(name: &str, description: &str, items: Vec<Item>) -> Self {
        Self {
            name: name.to_owned(),
            description: description.to_owned(),
            role: Role::Plain,
            transform: Affine::IDENTITY,
            clip: None,
            items,
        }
    }

    /// A part of the text.
    #[must_use]
    pub fn part(role: Role, items: Vec<Item>) -> Self {
        Self { role, ..Self::new("", "", items) }
    }
}

/// One thing drawn.
#[derive(Debug, Clone)]
pub enum Item {
    /// A path.
    Path(Path),
    /// A true circle.
    Circle(Circle),
    /// Real text.
    Text(Text),
    /// A picture.
    Image(Image),
    /// A named group.
    Group(Group),
}

impl From<Path> for Item {
    fn from(path: Path) -> Self {
        Self::Path(path)
    }
}

impl From<Circle> for Item {
    fn from(circle: Circle) -> Self {
        Self::Circle(circle)
    }
}

impl From<Text> for Item {
    fn from(text: Text) -> Self {
        Self::Text(text)
    }
}

impl From<Image> for Item {
    fn from(image: Image) -> Self {
        Self::Image(image)
    }
}

impl From<Group> for Item {
    fn from(group: Group) -> Self {
        Self::Group(group)
    }
}

/// One page.
#[derive(Debug, Clone)]
pub struct Page {
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Items in the order of drawing.
    pub items: Vec<Item>,
}

/// A whole drawing.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Title, for metadata.
    pub title: String,
    /// What it shows, with the exact wording, for people who cannot see it.
    pub description: String,
    /// Colour laid under each whole page, sRGB; `None` leaves the ground clear,
    /// as artwork must.
    pub background: Option<[u8; 3]>,
    /// Pages, at least one.
    pub pages: Vec<Page>,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::layout::LetteringChoice;

    const SET: Setting = Setting { size: 5.0, x: 1.0, y: 2.0, turned: 0.0, colour: [0; 3] };

    fn ranges(text: &str, clusters: &[usize]) -> Vec<std::ops::Range<usize>> {
        let choice = LetteringChoice::shipped("Atkinson Hyperlegible".to_owned());
        let face = Face::open(&choice).unwrap();
        let glyphs: Vec<Glyph> = clusters
            .iter()
            .map(|&cluster| Glyph { id: 1, face: 0, x_em: 0.0, y_em: 0.0, cluster })
            .collect();
        let text = Text::from_glyphs(text, &face, &glyphs, SET);
        text.glyphs.into_iter().map(|glyph| glyph.range).collect()
    }

    #[test]
    fn a_ligature_stands_for_all_its_letters() {
        // o, ffi, c, e
        assert_eq!(ranges("office", &[0, 1, 4, 5]), [0..1, 1..4, 4..5, 5..6]);
    }

    #[test]
    fn right_to_left_glyphs_and_marks_keep_their_own_characters() {
        // Three letters of two bytes, drawn from the last; then a letter with a mark of its own.
        assert_eq!(ranges("שלו", &[4, 2, 0]), [4..6, 2..4, 0..2]);
        assert_eq!(ranges("e\u{323}x", &[0, 0, 3]), [0..3, 0..3, 3..4]);
    }

    #[test]
    fn clusters_that_lie_on_no_character_stand_for_nothing() {
        assert_eq!(ranges("é", &[0, 1]), [0..0, 0..0]);
        assert_eq!(ranges("a", &[7, 8]), [0..0, 0..0]);
        assert_eq!(ranges("", &[]), []);
    }
}
