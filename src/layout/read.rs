//! From the file's text to a [`Layout`], or to all its mistakes.

use super::{Diagnostic, Layout, Shop, Source};

/// Words that only later rooms know, so that the layout can check names and
/// offer the nearest.
#[derive(Debug, Clone, Default)]
pub struct Vocabulary {
    /// Names of shipped lettering.
    pub lettering: Vec<String>,
}

/// Reads a file named in a layout, by the path as written there. The error is
/// a sentence without the path.
pub type Companions<'a> = &'a dyn Fn(&str) -> Result<Vec<u8>, String>;

/// Reads a layout.
///
/// # Errors
/// Every mistake in the file, sorted by place.
pub fn read(
    source: &Source,
    shop: Shop,
    vocabulary: &Vocabulary,
    companions: Companions<'_>,
) -> Result<Layout, Vec<Diagnostic>> {
    let _ = (source, shop, vocabulary, companions);
    todo!()
}
