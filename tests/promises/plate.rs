//! Promises about plate.
