//! Writers: one format each, a [`super::Drawing`] in, bytes out. The same
//! drawing gives the same bytes.

mod pdf;
mod png;
mod svg;

pub use pdf::pdf;
pub use png::png;
pub use svg::svg;

/// Why a drawing could not be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WriteError(pub String);

impl std::fmt::Display for WriteError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for WriteError {}
