//! The plaque alone, for a page that shows it: no paper round it.

use kurbo::{Affine, Rect};

use crate::drawing::{Drawing, Page};
use crate::job::Job;

use super::plaque::{EDGE, Heads, extent, plaque, plaque_told};
use super::sheet::Sheet;

/// The plaque in its material at true size, heads of its fixings over their holes: one
/// page as large as plate and heads with the lines of their rims, without a ground.
#[must_use]
pub fn front(job: &Job) -> Sheet {
    Sheet::with_plates(scaled(job, shown(job), 1.0))
}

/// The same, smaller where it is larger than a room of width and height, mm: the whole
/// page is then as large as the room holds.
#[must_use]
pub fn front_within(job: &Job, room: (f64, f64)) -> Drawing {
    let all = shown(job);
    let scale = (room.0 / all.width()).min(room.1 / all.height()).min(1.0);
    scaled(job, all, scale)
}

/// Plate and heads, half a line of their rims further, in plate coordinates.
fn shown(job: &Job) -> Rect {
    extent(job).inflate(EDGE / 2.0, EDGE / 2.0)
}

fn scaled(job: &Job, all: Rect, scale: f64) -> Drawing {
    let mut group = plaque(job, Heads::Drawn);
    group.transform = Affine::scale(scale) * Affine::translate((-all.x0, -all.y0));
    Drawing {
        title: job.layout.title.clone(),
        description: plaque_told(job),
        background: None,
        pages: vec![Page {
            width: all.width() * scale,
            height: all.height() * scale,
            items: vec![group.into()],
        }],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::testing::dedication;

    #[test]
    fn the_page_is_the_plate_and_its_rim() {
        // 120 x 80 mm, heads within; half of 0.12 mm of rim on all four sides.
        let sheet = front(&dedication(""));
        let page = &sheet.drawing.pages[0];
        assert!((page.width - 120.12).abs() < 1e-9 && (page.height - 80.12).abs() < 1e-9);
        let (x, y) = sheet.plate_at[0].unwrap();
        assert!((x - 0.06).abs() < 1e-9 && (y - 0.06).abs() < 1e-9);
        assert_eq!(sheet.drawing.background, None);
    }

    #[test]
    fn a_head_that_stands_over_the_edge_is_shown_whole() {
        // Caps of 20 mm, their middles 8 mm in: 2 mm over each edge.
        let fixing = "{ kind = \"standoff\", cap = \"20 mm\", hole = \"10 mm\", off = \"15 mm\", \
                      gauge = 6, length = \"5/8 in\" }";
        let page = &front(&dedication(fixing)).drawing.pages[0];
        assert!((page.width - 124.12).abs() < 0.003 && (page.height - 84.12).abs() < 0.003);
    }

    #[test]
    fn a_small_one_fills_its_room_one_way_and_is_never_larger_than_true() {
        let job = dedication("");
        let page = &front_within(&job, (60.06, 100.0)).pages[0];
        assert!((page.width - 60.06).abs() < 1e-9 && (page.height - 40.06).abs() < 1e-9);
        let page = &front_within(&job, (600.0, 400.0)).pages[0];
        assert!((page.width - 120.12).abs() < 1e-9);
    }
}
