//! Photographs in the artwork: their pixels, the pieces they are made on, the pockets for
//! those.

use std::sync::Arc;

use crate::drawing::{Image, Item, Pixels, Scaling};
use crate::job::Job;
use crate::layout::Photo;
use crate::photo::{Made, PlacedPhoto, making};
use crate::picture::{Bits, Grey};
use crate::units::digits::fixed;

use super::super::plaque::photo_told;
use super::super::text::BLACK;
use super::operations::{Operation, cut};
use super::side;

/// The pixels of one photograph as its machine takes them, at true size.
#[derive(Debug, Clone)]
pub struct PhotoFile {
    /// Name of the file, without a folder.
    pub name: String,
    /// What is in it.
    pub pixels: PhotoPixels,
    /// Pixels a mm.
    pub per_mm: f64,
}

/// Pixels of a photograph.
#[derive(Debug, Clone)]
pub enum PhotoPixels {
    /// A picture to be printed; it fills its box, and the outline cuts it.
    Printed(Pixels),
    /// Dots to be made; none outside the outline.
    Dots(Bits),
}

/// Photographs that are placed and can be made.
fn each(job: &Job) -> impl Iterator<Item = (&PlacedPhoto, &Photo)> {
    job.photos.iter().filter_map(|placed| Some((placed, job.layout.photos.get(placed.index)?)))
}

/// Pictures and dots in their places; of what is cut by hand the outline alone.
pub(super) fn photos(job: &Job) -> Operation {
    let items = each(job).map(|(placed, photo)| {
        let [x0, y0, x1, y1] = placed.sides;
        let image = |pixels, scaling, clip| {
            let area = kurbo::Rect::new(x0, y0, x1, y1);
            Item::from(Image { area, pixels, scaling, clip, description: photo_told(photo) })
        };
        let outline = || Some(placed.outline.clone());
        match placed.made(&job.layout).as_deref() {
            Some(Made::Colour(picture)) => {
                image(Pixels::Colour(picture.clone()), Scaling::Smooth, outline())
            }
            Some(Made::Grey(grey)) => {
                image(Pixels::Grey(Arc::new(grey.clone())), Scaling::Smooth, outline())
            }
            Some(Made::Marks(bits)) => {
                let bare = Arc::new(ground(bits));
                image(Pixels::Paint { bare, colour: BLACK }, Scaling::Crisp, None)
            }
            None => cut(placed.outline.clone()),
        }
    });
    Operation {
        name: "photo",
        description: "Photographs: pictures to be printed, dots to be made, in their places"
            .to_owned(),
        items: items.collect(),
    }
}

/// Edges of the pieces that photographs are made on.
pub(super) fn pieces(job: &Job) -> Operation {
    let set_in = job.photos.iter().filter(|placed| placed.pocket.is_some());
    Operation {
        name: "photo-piece",
        description: "Edge of the piece that is set in, where it is to lie".to_owned(),
        items: set_in.map(|placed| cut(placed.outline.clone())).collect(),
    }
}

/// Edges of their pockets.
pub(super) fn pockets(job: &Job) -> Operation {
    let edges = job.photos.iter().filter_map(|placed| placed.pocket.clone());
    Operation {
        name: "pocket",
        description: "Edge of the pocket for the piece that is set in".to_owned(),
        items: edges.map(cut).collect(),
    }
}

/// White where nothing is made.
fn ground(bits: &Bits) -> Grey {
    let places = (0..bits.height()).flat_map(|y| (0..bits.width()).map(move |x| (x, y)));
    let levels = places.map(|(x, y)| if bits.made(x, y) { 0 } else { 255 }).collect();
    Grey { width: bits.width(), height: bits.height(), levels }
}

/// The pixels of all photographs, mirrored where the artwork is.
pub(super) fn files(job: &Job) -> Vec<PhotoFile> {
    let files = each(job).filter_map(|(placed, photo)| {
        let made = placed.made(&job.layout)?;
        let step = making(photo, &job.layout).ok()?.step;
        let turned = side::mirrored(job);
        let pixels = match &*made {
            Made::Marks(bits) if turned => {
                let last = bits.width().saturating_sub(1);
                PhotoPixels::Dots(Bits::by(bits.width(), bits.height(), |x, y| {
                    bits.made(last - x, y)
                }))
            }
            Made::Marks(bits) => PhotoPixels::Dots(bits.clone()),
            Made::Colour(picture) => {
                PhotoPixels::Printed(side_of(Pixels::Colour(picture.clone()), turned))
            }
            Made::Grey(grey) => {
                PhotoPixels::Printed(side_of(Pixels::Grey(Arc::new(grey.clone())), turned))
            }
        };
        let name = format!("artwork-photo-{}-mm.png", placed.index + 1);
        Some(PhotoFile { name, pixels, per_mm: 1.0 / step })
    });
    files.collect()
}

/// Pixels as the artwork shows them.
fn side_of(pixels: Pixels, turned: bool) -> Pixels {
    if turned { pixels.mirrored() } else { pixels }
}

/// What the text says of them.
pub(super) fn told(job: &Job) -> Vec<String> {
    let mut all = Vec::new();
    for (placed, photo) in each(job) {
        let Ok(making) = making(photo, &job.layout) else {
            let what = "no pixels are made for its process: the outline alone is given";
            all.push(format!("{}: {what}.", photo.path));
            continue;
        };
        let (width, height) = (placed.width(), placed.height());
        let left = if side::mirrored(job) {
            job.layout.plate.width - placed.sides[2]
        } else {
            placed.sides[0]
        };
        all.push(format!(
            "artwork-photo-{}-mm.png, of {}: {} x {} mm at true size, its top left corner {} mm \
             from the left and {} mm from the top of zero; {}.",
            placed.index + 1,
            photo.path,
            fixed(width, 3),
            fixed(height, 3),
            fixed(left, 3),
            fixed(placed.sides[1], 3),
            making.told()
        ));
        if let Some(inset) = photo.making.inset {
            all.push(format!(
                "It is a piece {} mm thick; its pocket is as deep and {} mm wider all round.",
                fixed(inset.thickness, 2),
                fixed(inset.gap, 2)
            ));
        }
    }
    if !all.is_empty() {
        all.push(
            "A dot is as large as its square: no allowance is made for dots that spread. In \
             pictures of dots black is made; they are cut to the outline. Printed pictures fill \
             their box, so that ink can run over the edge, and are to be cut or masked to the \
             outline. DXF holds no pictures."
                .to_owned(),
        );
    }
    all
}
