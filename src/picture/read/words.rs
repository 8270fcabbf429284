//! All that is said of a file that cannot be read.

use super::{Format, MOST_MEMORY, MOST_PIXELS, PictureError};

fn error(message: impl Into<String>, help: impl Into<String>) -> PictureError {
    PictureError { message: message.into(), help: help.into() }
}

/// What all advice ends with: kinds of file that every program for photographs writes.
const SAVE_AS: &str = "Open it in a program for photographs and save it as JPEG, PNG or TIFF.";

pub(super) fn nothing() -> PictureError {
    error("The file is empty.", "Copy or send the photograph again.")
}

pub(super) fn unknown() -> PictureError {
    error(
        "This is not a photograph of a kind that is read: JPEG, PNG, TIFF or WebP.",
        "Check that it is the right file; if a program for photographs opens it, save it from \
         there as JPEG, PNG or TIFF.",
    )
}

/// `what` with its article, as "a GIF picture".
pub(super) fn other_kind(what: &str) -> PictureError {
    error(format!("This is {what}, which is not read."), SAVE_AS)
}

pub(super) fn drawing(what: &str) -> PictureError {
    error(
        format!("This is {what}, not a photograph."),
        "Ask for the photograph itself, or save the page as PNG or TIFF from the program that \
         shows it, at its full size.",
    )
}

pub(super) fn raw() -> PictureError {
    error(
        "This looks like a camera's raw file, whose first picture is only a small preview.",
        "Develop it in the camera maker's program and save it as JPEG or TIFF.",
    )
}

pub(super) fn moving(format: Format) -> PictureError {
    error(
        format!("This {} file holds a moving picture.", format.word()),
        "Save the one frame that is wanted as JPEG, PNG or TIFF.",
    )
}

pub(super) fn empty_picture() -> PictureError {
    error("The picture has no pixels.", "Copy or send the photograph again.")
}

pub(super) fn too_large(width: u32, height: u32) -> PictureError {
    error(
        format!(
            "The picture has {width} x {height} pixels; at most {} million are read.",
            MOST_PIXELS / 1_000_000
        ),
        "Make it smaller in a program for photographs: a plate of 300 x 200 mm at 300 pixels \
         an inch shows 8 million.",
    )
}

pub(super) fn too_much(width: u32, height: u32) -> PictureError {
    error(
        format!(
            "Reading this picture of {width} x {height} pixels as it is stored would take more \
             than {} MB of memory.",
            MOST_MEMORY >> 20
        ),
        "Make it smaller, or save it with 8 bits a channel and without transparency.",
    )
}

pub(super) fn cut_short(format: Format) -> PictureError {
    error(
        format!("The {} file ends before the picture does.", format.word()),
        "It was probably not copied or sent whole: copy or send it again.",
    )
}

/// `what` is the decoder's own word for it, which helps whoever looks into the file.
pub(super) fn damaged(format: Format, what: &str) -> PictureError {
    let what: String = what.chars().filter(|c| !c.is_control()).take(120).collect();
    let what = what.trim().trim_end_matches('.');
    let told = if what.is_empty() { String::new() } else { format!(" ({what})") };
    error(
        format!("The {} file is damaged{told}.", format.word()),
        "Copy or send the photograph again; if a program for photographs still opens it, save \
         it anew from there.",
    )
}

/// `what` as the rest of "This TIFF file holds …".
pub(super) fn unsupported(format: Format, what: &str) -> PictureError {
    error(
        format!("This {} file holds {what}, which is not read.", format.word()),
        "Save it anew in a program for photographs, with 8 or 16 bits a channel, in grey or RGB.",
    )
}
