//! Promises about mount.
