//! Promises about the desk, each asked over bare HTTP, as anything on the machine could.

mod bodies;
mod client;
mod command;
mod edits;
mod files;
mod guard;
pub(crate) mod keys;
mod killed;
mod pages;
mod paths;
mod signing;
mod wording;
