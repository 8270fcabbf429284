//! Promises about the mount pattern on paper: tiles, machines, printers that print false.

mod bars;
mod datum;
pub(crate) mod machine;
mod tiles;

use ansata::drawing::Page;
use ansata::job::Job;

use crate::sheets::group;
use crate::sheets::jobs::job_of;

/// A brass plate on a board, screwed at the corners and at the middles of its long sides.
fn board(paper: &str, (width, height): (u32, u32)) -> String {
    let points: Vec<String> = [8, width / 2, width - 8]
        .iter()
        .flat_map(|x| [8, height - 8].map(|y| format!("[\"{x} mm\", \"{y} mm\"]")))
        .collect();
    format!(
        "ansata = 1\ntitle = \"Board of the ringers\"\n[proof]\npaper = \"{paper}\"\n\
         [plate]\nsize = \"{width} x {height} mm\"\nmaterial = \"brass\"\nthickness = \"2 mm\"\n\
         [lettering]\ndefault = \"Cinzel\"\n[[line]]\ntext = \"Marrowby Vale\"\n[mount]\n\
         fixing = {{ kind = \"wood screw\", gauge = 4, head = \"round\", length = \"5/8 in\" }}\n\
         holes = {{ points = [{}] }}\n[face]\nsize = \"{} x {} mm\"\nmaterial = \"mdf\"\n\
         thickness = \"19 mm\"\n",
        points.join(", "),
        width + 20,
        height + 30
    )
}

fn board_job(paper: &str, size: (u32, u32)) -> Job {
    job_of(&board(paper, size))
}

/// What a tile shows, in plate coordinates, and where its plate stands on the page.
fn tile(page: &Page, plate: Option<(f64, f64)>) -> Option<(kurbo::Rect, (f64, f64))> {
    let tile = group(&page.items, "tile")?;
    let on_page = tile.transform.transform_rect_bbox(tile.clip?);
    let (x, y) = plate?;
    Some((on_page - kurbo::Vec2::new(x, y), (x, y)))
}
