//! Promises: each test's name is a sentence that a user would want to be true.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "a test stops where what it needs is not there and says what it compared; clippy knows only the test functions themselves"
)]

mod artwork;
mod artwork_command;
mod artwork_outside;
mod as_cut;
mod border;
mod checks;
mod commands;
mod compare;
mod decoration;
mod demo;
mod desk;
mod desk_browser;
mod details;
mod face;
mod files;
mod fit;
mod fixings;
mod house;
mod hyphens;
mod images;
mod lettering;
mod lettering_axes;
mod lettering_outside;
mod limits;
mod materials;
mod measured;
mod messages;
mod minima;
mod mount;
mod mount_holes;
mod movement;
mod new;
mod old_holes;
mod outlines;
mod outside;
mod own_lettering;
mod pattern;
mod photos;
mod pictures;
mod pictures_outside;
mod plate;
mod processes;
mod read_aloud;
mod schema;
mod screens;
mod scripts;
mod setting;
mod sheets;
mod signoff;
mod signoff_changes;
mod single_stroke;
mod specimen;
mod strokes;
mod strokes_outside;
mod support;
mod wording;
mod writers;
mod zones;
