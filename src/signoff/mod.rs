//! What was signed, and what has changed since. A job in, the facts of one version of a
//! plaque out ([`Version`]), as far as they are needed to say later what changed; a
//! [`Record`] of a version with its signatures as text and back; the differences of two
//! versions; and the finding that comes of them. No files.
//!
//! A record holds all outlines that are cut, each letter once at its size, in whole µm: so
//! it is compared and drawn without the lettering files, the wording file or the program
//! that it was signed with, and its proof mark can be recomputed from it alone.

mod changes;
mod held;
mod pairs;
mod record;
mod version;
mod wording;

pub use changes::{Change, Topic, changes};
pub use held::held;
pub use record::{Record, is_record};
pub use version::{Place, Version, VersionFace, VersionLine, VersionRow};
pub use wording::WordChange;
